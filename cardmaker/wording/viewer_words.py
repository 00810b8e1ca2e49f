"""What is said where what was made cannot be shown at once."""

from __future__ import annotations


def no_viewer(file: str) -> str:
    """That the file is made, and how to see it all the same."""
    return f"{file} is made, but this computer names no program to open it with: open it as you open any other PDF."


def too_many_to_open(files: int, folder: str) -> str:
    """That so many windows are not opened at once."""
    return f"{files} files are made, too many to open at once: look into the folder {folder}."
