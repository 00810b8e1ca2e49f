"""Lengths, widths and weights: what to wind, what comes of it, what it takes."""
