"""deckplan: plan multi-level decks, with the reason for every number.

The package computes; the workbooks show. Everything starts from a plan (what a person decides) and ends in a
study (what follows from it)::

    from deckplan import read_plan, Study
    study = Study(read_plan("data/plans/alder-point.toml"))

Inside the package lengths are inches, forces pounds-force, stresses psi.
"""

__version__ = "0.1.0"
