"""Tests of what is printed for an event."""
