"""Sound but extreme files, drawn, and what is drawn looked at: ``python -m tests.fuzz.drawn --count 1000 --seed 7``.

What ``check`` passes must be printed. Every page is held against the laws of a page by its marks, and of some inputs
the PDF is made and read back.
"""
