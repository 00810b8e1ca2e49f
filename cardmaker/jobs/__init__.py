"""What the commands do: files looked up, plans made, cards, binders and classes written, over all cores."""
