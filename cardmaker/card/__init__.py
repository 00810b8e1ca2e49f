"""A card composed: the viewpoint, its panels, and how they are fitted onto the paper."""
