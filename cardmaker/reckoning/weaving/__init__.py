"""Sheds, face, pick-up, shuttle and pace; and what to do when an end breaks."""
