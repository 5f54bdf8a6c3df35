"""The order of work and the stake-out."""
