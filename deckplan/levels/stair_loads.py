"""What lies all over a stair: people, snow, or three quarters of each; no increase for how short it lasts is taken."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Source

COMBINED = Source("ASCE 7-16", "2.4.1", "from memory")


@dataclass(frozen=True, slots=True)
class StairLoad:
    """An area load beside the dead load [psf], the combination's name, where it comes from."""

    psf: float
    name: str
    source: Source


def stair_load(plan: Plan, profile: Profile) -> StairLoad:
    """Return the variable load that asks most of a stair.

    Source: IRC Table R301.5, by the profile; ASCE 7-16 2.4.1 (combinations, from memory).
    """
    live, snow = profile.stair_live_load, plan.site.snow_load
    cases = (
        StairLoad(live.value, "D + L", live.source),
        StairLoad(snow, "D + S", COMBINED),
        StairLoad(0.75 * (live.value + snow) if snow > 0 else 0.0, "D + 0.75 L + 0.75 S", COMBINED),
    )
    return max(cases, key=lambda case: case.psf)
