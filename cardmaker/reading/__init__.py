"""From the text of a file to records, with the place of every key."""
