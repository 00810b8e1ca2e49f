"""The sheets of a class, with their sentences."""
