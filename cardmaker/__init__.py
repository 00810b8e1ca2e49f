"""One-page pattern cards for narrow warp-faced tape, reckoned from a short text file."""

__version__ = "0.1.0"
