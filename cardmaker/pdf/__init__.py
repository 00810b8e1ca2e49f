"""Marks to a PDF and back. The only user of ReportLab, pypdf and pypdfium2."""
