"""From plan to elevations: ground, levels, flights and their risers, steps and stairs."""
