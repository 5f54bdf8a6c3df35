"""How random cases are drawn: the same ones on every run, unless a search is asked for.

A gate must say the same of the same commit, so cases derive from the test's own text. `--hypothesis-profile=search`
draws new ones each time: to be run for a while after a change of the layout, the loads or the takeoff.
"""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("gate", derandomize=True, database=None)
settings.register_profile("search", derandomize=False)
settings.load_profile("gate")
