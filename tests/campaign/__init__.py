"""Every card that can be made, and many that nobody would ask for, held against the laws of a page. Run by hand."""
