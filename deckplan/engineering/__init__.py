"""Timber engineering: pure functions on floats (in, lb, psi, psf), one rule each, with its clause."""
