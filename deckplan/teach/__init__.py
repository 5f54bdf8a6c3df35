"""Exercises, marking, lesson figures."""
