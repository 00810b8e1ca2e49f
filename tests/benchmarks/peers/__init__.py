"""One card made by us, and drawn by other ways of making a PDF: ``python -m tests.benchmarks.peers``."""
