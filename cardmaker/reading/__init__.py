"""From the text of a file to nouns, with the place of every key."""
