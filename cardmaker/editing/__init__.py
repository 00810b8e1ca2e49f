"""Pattern files written by the program: new ones, and those of another size."""
