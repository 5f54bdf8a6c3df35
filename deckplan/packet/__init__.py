"""Files for others: CSV, SVG, sheets, models."""
