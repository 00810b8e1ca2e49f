"""Whether a change of the code changed any mark of a card, and which words: to be run by hand before and after a move."""
