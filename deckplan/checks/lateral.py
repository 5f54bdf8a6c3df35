"""What holds each part of a deck against a sideways push: hold-downs at the house, or braces where it stands free.

Levels that share a post push and sway together; levels side by side on posts of their own do not help each other.
Hold-downs are named here by place and required capacity; braces stand in the layout.
"""

from __future__ import annotations

from deckplan.layout.model import Kind, Layout, Member
from deckplan.layout.parts import LEAST_LEG, Part, braces_hold, corner_posts, find_parts
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan
from deckplan.rules.profile import Limit, Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, Verdict, at_least, at_most, outside

HOLD_DOWN_END = 24.0
"""Farthest that a hold-down stands from an end of the ledger [in]. Source: IRC R507.9.2 (two published copies)."""

PLACES = Source("IRC 2021", "R507.9.2", "two published copies")
BOTH_WAYS = "braces where a free-standing part is tall"
AT_HOUSE = "hold-downs to the house"


def check_lateral(plan: Plan, profile: Profile, levels: Levels, layout: Layout) -> list[Check]:
    """Check each independent part for what its lateral system asks."""
    return [
        _attached(profile, layout, part) if part.ledgers else _free(plan, profile, layout, part)
        for part in find_parts(plan, levels, layout)
    ]


def hold_downs(profile: Profile, layout: Layout, part: Part) -> tuple[int, Limit]:
    """Return how many hold-downs an attached part takes and what each must hold [lb]: two, or four along the ledger.

    None where nothing pulls at both ends of the ledger and too few joists hang on it for four.
    """
    ends, joists = _pulled(layout, _longest_ledger(part))
    if ends == 2:
        return 2, profile.lateral_two_force
    return (4 if joists >= 4 else 0), profile.lateral_four_force


def _longest_ledger(part: Part) -> Member:
    return max(part.ledgers, key=lambda member: member.length)


def _pulled(layout: Layout, ledger: Member) -> tuple[int, int]:
    """Return at how many ends of a ledger a joist lies near enough to pull on, and how many joists hang on it."""
    joists = [m for m in layout.members if any(b.on == ledger.mark for b in m.bearings)]
    off = [_along(ledger, joist) for joist in joists]
    near = (any(at <= HOLD_DOWN_END for at in off), any(at >= ledger.length - HOLD_DOWN_END for at in off))
    return sum(near), len(joists)


def _attached(profile: Profile, layout: Layout, part: Part) -> Check:
    """Two hold-downs need a joist near each end of the ledger to pull on."""
    ledger = _longest_ledger(part)
    ends, joists = _pulled(layout, ledger)
    two, four = profile.lateral_two_force, profile.lateral_four_force
    steps = (
        Step("F2", f"two hold-downs of {two.value:g} lb, within {HOLD_DOWN_END:g} in of the ends", "2 F",
             f"2 × {two.value:g}", 2 * two.value, "lb", two.source),
        Step("F4", f"or four of {four.value:g} lb, spread along the ledger", "4 F", f"4 × {four.value:g}",
             4 * four.value, "lb", four.source),
    )  # fmt: skip
    reason = (
        f"{part.named}: hold-downs pull on joists within {HOLD_DOWN_END:g} in of both ends of {ledger.mark}: "
        f"hang joists there, or use four along it"
    )
    check = at_least(ledger.mark, AT_HOUSE, PLACES, ends, 2, "ends", steps, reason=reason)
    if check.verdict is Verdict.FAIL and joists >= 4:
        # four along the ledger do as well as two at its ends
        return at_least(ledger.mark, AT_HOUSE, four.source, joists, 4, "joists", steps)
    return check


def _along(ledger: Member, joist: Member) -> float:
    """Return how far along a ledger [in] a joist meets it."""
    bearing = next(b for b in joist.bearings if b.on == ledger.mark)
    (x0, y0), (x1, y1) = ledger.line
    x, y = joist.point(bearing.at)
    return ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / ledger.length


def _free(plan: Plan, profile: Profile, layout: Layout, part: Part) -> Check:
    """A free-standing part stands by itself up to the bracing height; above it braces hold it both ways."""
    limit, mark = profile.bracing_height, part.platforms[0].name
    step = Step(
        "h", "height over the lowest ground at its corners", "", "", max(0.0, part.height), "in", limit.source
    )
    if not part.wants_braces(profile):
        return at_most(mark, BOTH_WAYS, limit.source, max(0.0, part.height), limit.value, "in", (step,))
    names = {platform.name for platform in part.platforms}
    braces = [m for m in layout.members if m.kind is Kind.BRACE and m.platform in names]
    units = plan.units
    verb = "stands" if len(part.platforms) == 1 else "stand"
    high = f"{part.named} {verb} free, {format_short(part.height, units)} over the ground, more than "
    high += format_short(limit.value, units)
    if not braces:
        how = "its posts leave no room for knee braces: post bases that resist turning, or diagonal sheathing below"
        reason = f"required: {high}; {how}; ask the building department"
        return Check(mark, BOTH_WAYS, limit.source, None, None, "", Verdict.PASS, (step,), False, "", reason)
    if not braces_hold(braces):
        ends = {brace.end for brace in braces}
        corners = corner_posts(part, layout)
        held = " and ".join(post.mark for post in corners if post.at in ends)
        short = ", ".join(post.mark for post in corners if post.height < 2 * LEAST_LEG)
        longer = f"posts of {format_short(2 * LEAST_LEG, units)} or more at {short}, " if short else ""
        reason = (
            f"{high}: knee braces fit only at {held}, too few to hold it both ways and against turning, which takes "
            f"two braced lines each way (common practice): {longer}a deck no more than "
            f"{format_short(limit.value, units)} high, or post bases that resist turning or diagonal sheathing below, "
            f"by an engineer"
        )
        return outside(mark, BOTH_WAYS, limit.source, reason, steps=(step,))
    reason = (
        f"required: {high}: knee braces both ways at its corner posts, {braces[0].mark} to {braces[-1].mark}"
    )
    return Check(mark, BOTH_WAYS, limit.source, None, None, "", Verdict.PASS, (step,), False, "", reason)
