"""How a warp is wound: order or bundles or balls, the walk, the pegs, and the exact length of a thread round them."""
