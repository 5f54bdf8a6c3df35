"""Demand on each mark, with the path it took to the soil."""
