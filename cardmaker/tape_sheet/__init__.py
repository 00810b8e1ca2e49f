"""Several tapes on one page, each in a cell of its own: composed like small cards, and put side by side."""
