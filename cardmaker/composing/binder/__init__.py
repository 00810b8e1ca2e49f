"""The binder: everything round the cards, so that a hundred of them can be found again."""
