"""Marks to a PDF and back, from a picture of it too. The only user of ReportLab, pypdf, pypdfium2 and zxing-cpp."""
