"""Frozen records that everything else talks about, with problems, units, money and boxes."""
