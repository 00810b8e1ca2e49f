"""The drawn steps from the cross to the first pick: one picture for each, all drawn from one kit."""
