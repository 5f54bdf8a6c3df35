"""Demand against capacity, each a record with its sum and its source."""
