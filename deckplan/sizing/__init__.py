"""A plan with "auto" in it becomes a plan without: sizes, posts, spacing of fasteners."""
