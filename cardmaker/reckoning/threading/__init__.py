"""Which space each end lies in, counted from the middle of this loom's heddle, seen from either side."""
