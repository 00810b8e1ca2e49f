"""Files written by the program: new patterns, looms, classes and settings, and patterns of another size."""
