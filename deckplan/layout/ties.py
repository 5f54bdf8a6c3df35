"""Which platforms hold together: by a post that both stand on, or by a flight fixed to both.

Frost moves a shallow footing up and down by inches; one under the frost stays. Two levels that are fixed to each
other want footings of the same kind.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Levels
from deckplan.plan.model import BeamLine, Hung, Ledger, Plan

TieKind = Literal["post", "beam", "frame", "box", "stringer", "footing"]


@dataclass(frozen=True, slots=True)
class Tie:
    """A rigid connection between two platforms: their names, what makes it, and the mark or name of that."""

    one: str
    other: str
    kind: TieKind
    by: str

    def across(self, platform: str) -> str:
        """Return the platform at the other side."""
        return self.other if platform == self.one else self.one

    @property
    def words(self) -> str:
        """What makes it, in words."""
        return {"box": f"box step {self.by}", "stringer": f"stair {self.by}"}.get(self.kind, self.by)


def find_ties(plan: Plan, levels: Levels) -> tuple[Tie, ...]:
    """Return what ties platforms to each other, as the plan asks: posts, frames and beams, then boxes and stringers.

    A direct riser is two rims side by side: nothing is fixed across it.
    """
    names = {platform.name for platform in plan.platforms}
    found: list[Tie] = []
    for platform in plan.platforms:
        for support in platform.supports:
            if isinstance(support, BeamLine):
                if support.shares_posts_with in names:
                    found.append(Tie(platform.name, support.shares_posts_with, "post", "a shared post"))
                if support.stands_on in names:
                    found.append(Tie(platform.name, support.stands_on, "frame", "posts on its frame"))
                if support.shares_footings_with in names:
                    found.append(
                        Tie(platform.name, support.shares_footings_with, "footing", "a shared footing")
                    )
            elif isinstance(support, Hung) and support.on in names:
                found.append(Tie(platform.name, support.on, "beam", "joists hung on its beam"))
            else:
                continue
    found += [
        Tie(rise.upper, rise.lower, rise.kind, flight_mark(rise.index))
        for rise in levels.flights
        if rise.upper in names and rise.lower in names and rise.kind != "direct"
    ]
    return tuple(dict.fromkeys(found))


def attached_platforms(plan: Plan) -> frozenset[str]:
    """Return the names of the platforms that hang on the house."""
    return frozenset(p.name for p in plan.platforms if any(isinstance(s, Ledger) for s in p.supports))


def groups(names: Iterable[str], pairs: Iterable[tuple[str, str]]) -> tuple[tuple[str, ...], ...]:
    """Return the names in groups that pairs hold together, in the order given."""
    group = {name: name for name in names}

    def head(name: str) -> str:
        while group[name] != name:
            name = group[name]
        return name

    for one, other in pairs:
        if one in group and other in group:
            group[head(other)] = head(one)
    found: dict[str, list[str]] = {}
    for name in group:
        found.setdefault(head(name), []).append(name)
    return tuple(tuple(those) for those in found.values())


def frost_founded(plan: Plan, levels: Levels, untied: frozenset[str] = frozenset()) -> frozenset[str]:
    """Return the names of the platforms whose footings go below the frost: attached ones, and all tied to them.

    untied: two platforms whose ties to each other do not count, to see what these bring about.
    Source: IRC R507.3.2 (exception for free-standing decks); never tie a floating level rigidly to a frost-founded
    one (trade literature).
    """
    attached = attached_platforms(plan)
    pairs = [(t.one, t.other) for t in find_ties(plan, levels) if {t.one, t.other} != untied]
    tied = groups([platform.name for platform in plan.platforms], pairs)
    return frozenset(name for group in tied if attached.intersection(group) for name in group)
