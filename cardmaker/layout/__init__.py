"""What cards and sheets are both set with: ink, type, paragraphs, pages, the woven face, and moving marks about."""
