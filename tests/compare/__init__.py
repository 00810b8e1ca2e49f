"""Whether a change of the code changed any mark of a card, and which words. Run by hand."""
