"""The ends in their order: counted, lettered, grouped as a hand counts them, compared, and laid out in other sizes."""
