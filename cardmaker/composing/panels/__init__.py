"""One module per panel: each is named for what it shows."""
