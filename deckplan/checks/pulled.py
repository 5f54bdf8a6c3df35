"""Free-standing levels that a rigid tie to a level on the house brings below the frost: which footings, how much more.

The code lets a free-standing deck off the frost depth. Tied to one that hangs on the house it would be lifted while
the other stays, so that its footings go down as well: holes and concrete that the tie costs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from deckplan.checks.footings import FootingDesign
from deckplan.layout.model import Layout
from deckplan.layout.posts import footing_depth
from deckplan.layout.ties import Tie, attached_platforms, find_ties, frost_founded
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import Units, format_short
from deckplan.verdict import Check, Source, Step, Verdict

RULE = "a tie brings a free-standing level below the frost"
RIGID = Source(
    "Trade literature", "no floating level tied rigidly to a frost-founded one", "trade literature"
)
VOLUME = Source("Geometry", "volume of a round pier", "derived")

CUBIC_FOOT = 1728.0
"""Cubic inches in a cubic foot."""

CUBIC_METRE = 0.3048**3
"""One cubic foot [m3]. Source: international foot of 1959."""


@dataclass(frozen=True, slots=True)
class Pulled:
    """A free-standing level founded below the frost for its ties alone.

    ties: those that lead to a level below the frost; footings: those of its own that go deeper for it; shallow, deep
    [in]: from where to where the shallowest of them goes; more [cu ft]: concrete, piers as wide as they are now.
    """

    platform: str
    ties: tuple[Tie, ...]
    footings: tuple[FootingDesign, ...]
    shallow: float
    deep: float
    more: float

    def went(self, units: Units) -> str:
        """Say which footings go from how deep to how deep, and how much concrete that is."""
        first, last = self.footings[0].mark, self.footings[-1].mark
        named = first if first == last else f"{first} to {last}"
        goes = "goes" if first == last else "go"
        depths = f"from {format_short(self.shallow, units)} to {format_short(self.deep, units)}"
        return f"{named} {goes} {depths} deep, {write_volume(self.more, units)} more concrete"


def write_volume(cubic_feet: float, units: Units) -> str:
    """Write a volume [cu ft] in the units of a plan."""
    return f"{cubic_feet * CUBIC_METRE:.2f} m3" if units == "metric" else f"{cubic_feet:.1f} cu ft"


def find_pulled(
    plan: Plan, profile: Profile, levels: Levels, layout: Layout, footings: tuple[FootingDesign, ...]
) -> tuple[Pulled, ...]:
    """Return the levels that ties bring below the frost; none under rules that ask frost depth of every deck."""
    if not plan.site.frost_depth or not profile.frost_exempt_freestanding.value:
        return ()
    founded = frost_founded(plan, levels)
    ties = find_ties(plan, levels)
    under = {(post.platform, post.footing) for post in layout.posts}
    found = []
    for name in (p.name for p in plan.platforms if p.name in founded - attached_platforms(plan)):
        alone = {f.mark: _alone(plan, profile, f) for f in footings if (name, f.mark) in under}
        deeper = tuple(f for f in footings if f.mark in alone and _depth(f) > alone[f.mark])
        if deeper:
            least = min(deeper, key=_depth)
            more = sum(math.pi * f.diameter**2 / 4 * (_depth(f) - alone[f.mark]) for f in deeper) / CUBIC_FOOT
            own = tuple(tie for tie in ties if name in (tie.one, tie.other) and tie.across(name) in founded)
            found.append(Pulled(name, own, deeper, alone[least.mark], _depth(least), more))
    return tuple(found)


def _depth(footing: FootingDesign) -> float:
    return footing.top - footing.bottom


def _alone(plan: Plan, profile: Profile, footing: FootingDesign) -> float:
    """Return how deep [in] a footing would go under a level tied to nothing."""
    needed = footing_depth(footing.at, plan.house, plan.site.frost_depth, profile, founded=False)
    return max(needed, footing.thickness)


def check_pulled(plan: Plan, profile: Profile, pulled: tuple[Pulled, ...]) -> list[Check]:
    """State for every such level what its ties ask of its footings."""
    return [_stated(plan, profile, each) for each in pulled]


def _stated(plan: Plan, profile: Profile, each: Pulled) -> Check:
    free = profile.frost_exempt_freestanding.source
    steps = (
        Step("d0", "depth if it stood free, frost not asked", "", "", each.shallow, "in", free),
        Step("d1", "depth as tied, below the frost", "", "", each.deep, "in", RIGID),
        Step("V", "more concrete, over all its footings", "Σ π D² / 4 (d1 − d0)", "", each.more, "cu ft", VOLUME),
    )  # fmt: skip
    tied = ", ".join(dict.fromkeys(f'{tie.words} to "{tie.across(each.platform)}"' for tie in each.ties))
    reason = (
        f'required: "{each.platform}" stands below the frost, since it is tied by {tied}: '
        f"{each.went(plan.units)}; standing free it needs no frost depth ({free})"
    )
    return Check(each.platform, RULE, RIGID, None, None, "", Verdict.PASS, steps, False, "", reason)
