"""Hostile files by the hundred thousand, from one seed: ``python -m tests.fuzz --inputs 200000 --seed 7 --jobs 2``.

Every input must end in success or in problems with a place; never in a traceback, never late, never large, and nothing
may be read or written that was not asked for.
"""
