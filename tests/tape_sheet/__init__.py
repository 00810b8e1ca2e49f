"""Tests of the sheets on which several tapes stand."""
