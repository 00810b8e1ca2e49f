"""From marks to files: fonts, the PDF painter, whole-or-nothing writing."""
