"""Search for the best framing, sweeps, comparison of plans."""
