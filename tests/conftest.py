"""How random cases are drawn: the same ones on every run, unless a search is asked for.

A gate must say the same of the same commit, so cases derive from the test's own text. `--hypothesis-profile=search`
draws new ones each time: to be run for a while after a change of the layout, the loads or the takeoff.

Hypothesis draws constants of the loaded sources, too: all of ours are loaded first, so that the cases do not hang on
which test ran before on the same worker.
"""

from __future__ import annotations

import pkgutil
from importlib import import_module

from hypothesis import settings

import deckplan

for module in pkgutil.walk_packages(deckplan.__path__, "deckplan."):
    if not module.name.endswith("__main__"):
        import_module(module.name)

settings.register_profile("gate", derandomize=True, database=None)
settings.register_profile("search", derandomize=False)
settings.load_profile("gate")
