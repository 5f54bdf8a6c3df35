"""Frost: attached levels stand below it, free-standing ones need not, and tied levels stand alike."""

from __future__ import annotations

from deckplan.checks.footings import FootingDesign
from deckplan.layout.model import Layout
from deckplan.layout.ties import Tie, attached_platforms, find_ties, frost_founded
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, at_least, not_applicable

FROST = Source("IRC 2021", "R507.3.2", "one published copy")
RIGID = Source(
    "Trade literature", "no floating level tied rigidly to a frost-founded one", "trade literature"
)
RULE = "footings below the frost"


def check_frost(
    plan: Plan, profile: Profile, levels: Levels, layout: Layout, footings: tuple[FootingDesign, ...]
) -> list[Check]:
    """Check each platform's footings against its frost class: attached, tied to an attached one, or free."""
    attached, founded = attached_platforms(plan), frost_founded(plan, levels)
    ties = find_ties(plan, levels)
    under = {(post.platform, post.footing) for post in layout.posts}
    found: list[Check] = []
    for platform in plan.platforms:
        own = [f for f in footings if (platform.name, f.mark) in under]
        mark = platform.name
        if not own or not plan.site.frost_depth:
            why = "it has no footings of its own" if not own else "no frost depth is given"
            found.append(not_applicable(mark, RULE, FROST, f'"{platform.name}": {why}'))
        elif platform.name in attached:
            found.append(_deep_enough(plan, mark, own, FROST, f'"{platform.name}" hangs on the house'))
        elif platform.name in founded:
            tie = _way_in(platform.name, ties, founded)
            found.append(_deep_enough(plan, mark, own, RIGID, _tied(platform.name, tie)))
        elif not profile.frost_exempt_freestanding.value:
            source = profile.frost_exempt_freestanding.source
            why = f'"{platform.name}" stands free, which these rules do not exempt'
            found.append(_deep_enough(plan, mark, own, source, why))
        else:
            source = profile.frost_exempt_freestanding.source
            why = f'"{platform.name}" stands free and is tied to nothing that hangs on the house'
            found.append(not_applicable(mark, RULE, source, why))
    return found


def _way_in(name: str, ties: tuple[Tie, ...], founded: frozenset[str]) -> Tie:
    return next(tie for tie in ties if name in (tie.one, tie.other) and tie.across(name) in founded)


def _tied(name: str, tie: Tie) -> str:
    other = tie.across(name)
    return f'"{name}" is tied by {tie.words} to "{other}", which stands below the frost or is tied to one that does'


def _deep_enough(plan: Plan, mark: str, own: list[FootingDesign], source: Source, why: str) -> Check:
    shallow = min(own, key=lambda f: f.top - f.bottom)
    depth, frost = shallow.top - shallow.bottom, plan.site.frost_depth
    step = Step(
        "d", f"depth of {shallow.mark}, the shallowest", "top − bottom", f"{shallow.top:.5g} − ({shallow.bottom:.5g})",
        depth, "in", source,
    )  # fmt: skip
    units = plan.units
    reason = (
        f"{why}; {shallow.mark} is {format_short(depth, units)} deep, the frost reaches "
        f"{format_short(frost, units)}: dig all its footings that deep, or leave the levels apart"
    )
    return at_least(mark, RULE, source, depth, frost, "in", (step,), reason=reason)
