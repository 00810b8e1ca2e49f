"""The warp on its loom: beam, packing, pull, and all that the bench is asked."""
