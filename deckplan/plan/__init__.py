"""The plan: what a person decides, and the file it is kept in."""
