"""Check that every pound is carried: what a member cannot hand on is named, with the pounds and what would help."""

from __future__ import annotations

from collections.abc import Sequence

from deckplan.checks.beams import ON_TWO_POSTS
from deckplan.checks.openings import ON_TWO_TRIMMERS
from deckplan.layout.faults import ON_TWO
from deckplan.layout.model import Kind, Layout, Member
from deckplan.loads.model import AreaLoad, Loads
from deckplan.plan.model import Plan, Platform
from deckplan.verdict import Check, Source, Step, Verdict, at_most, not_applicable

CARRIED = "every pound is carried"

BALANCE = Source("statics", "what is put on the boards arrives on the soil", "derived")

LEAST_LOST = 1.0
"""A load under this is no more than rounding [lb]."""

_TWO_NEEDED = (ON_TWO, ON_TWO_POSTS, ON_TWO_TRIMMERS)
"""Rules that name what rests on too little."""


def check_carried(plan: Plan, layout: Layout, loads: Loads, others: Sequence[Check]) -> list[Check]:
    """Check each platform for loads that no member hands on; others: every check made so far.

    A member that another failing check names as resting on too little is not failed twice.
    """
    named = [check for check in others if check.rule in _TWO_NEEDED and check.verdict is Verdict.FAIL]
    found: list[Check] = []
    stuck = {mark: force.full for mark, force in loads.stuck.items() if abs(force.full) > LEAST_LOST}
    for platform in plan.platforms:
        own = {
            mark: pounds
            for mark, pounds in stuck.items()
            if isinstance(part := layout.by_mark.get(mark), Member) and part.platform == platform.name
        }
        silent = {mark: pounds for mark, pounds in own.items() if not _is_said(layout, mark, named)}
        surface = _on_no_joist(layout, loads.areas[platform.name], platform)
        found += [_stuck(layout, mark, pounds) for mark, pounds in silent.items()]
        if surface.verdict is Verdict.FAIL or not own:
            found.append(surface)
        elif not silent:
            pounds = sum(abs(each) for each in own.values())
            words = f'platform "{platform.name}": {pounds:,.0f} lb stay on {_listed(own)}'
            also = f"{words}, as the checks of their supports say"
            found.append(not_applicable(platform.name, CARRIED, BALANCE, also))
        else:
            continue  # what stays on a member has been said
    found += [_stuck(layout, mark, pounds) for mark, pounds in stuck.items() if mark not in layout.by_mark]
    return found


def _is_said(layout: Layout, mark: str, named: Sequence[Check]) -> bool:
    """Tell whether a failing check names a member as resting on too little; one speaks for all joists of a platform."""
    part = layout.by_mark[mark]
    for check in named:
        first = layout.by_mark.get(check.mark)
        same = isinstance(part, Member) and isinstance(first, Member) and first.platform == part.platform
        if check.mark == mark or (
            check.rule == ON_TWO and same and isinstance(part, Member) and part.kind is Kind.JOIST
        ):
            return True
    return False


def _stuck(layout: Layout, mark: str, pounds: float) -> Check:
    part = layout.by_mark.get(mark)
    if isinstance(part, Member):
        rests = ", ".join(bearing.on for bearing in part.bearings) or "nothing"
        what = f'{mark}, a {part.kind} of platform "{part.platform}", rests on {rests}'
    else:
        what = f"{mark} is not there"
    reason = (
        f"{what}: {abs(pounds):,.0f} lb {'stay on' if pounds > 0 else 'lift'} it and reach no footing; "
        f"give it a second support: "
        f"a beam line, a ledger or a trimmer under it"
    )
    return at_most(mark, CARRIED, BALANCE, abs(pounds), LEAST_LOST, "lb", reason=reason)


def _on_no_joist(layout: Layout, load: AreaLoad, platform: Platform) -> Check:
    """Check that the joists take the whole surface between them."""
    joists = layout.of(platform.name, Kind.JOIST)
    taken = sum((strip.end - strip.start) * strip.width for joist in joists for strip in joist.strips) / 144
    each = load.dead + load.live + load.snow
    lost = abs(load.area - taken) * each
    steps = (
        Step("A", "surface of the platform without its openings", "", "", load.area, "sq ft", BALANCE),
        Step("A j", "surface that its joists take", "", "", taken, "sq ft", BALANCE),
        Step("P", "load on what no joist takes", "|A − A j| × w", f"|{load.area:.5g} − {taken:.5g}| × {each:.4g}",
             lost, "lb", BALANCE),
    )  # fmt: skip
    reason = (
        f'platform "{platform.name}": no joist takes {abs(load.area - taken):.3g} sq ft of its surface, '
        f"{lost:,.0f} lb: turn the joists, set them closer or make the outline simpler there"
    )
    return at_most(platform.name, CARRIED, BALANCE, lost, LEAST_LOST, "lb", steps, reason=reason)


def _listed(pounds: dict[str, float]) -> str:
    marks = list(pounds)
    return ", ".join(marks[:6]) + (" .." if len(marks) > 6 else "")
