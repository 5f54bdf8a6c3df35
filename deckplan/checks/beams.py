"""Checks of beams: strength and stiffness by the sum, overhang, plies, splices and bearing by the rules."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from deckplan.checks.bending_members import Wood, check_member
from deckplan.checks.load_steps import with_loads
from deckplan.checks.printed_beams import check_printed_beam, joists_on
from deckplan.checks.seats import check_tongue, is_notched
from deckplan.engineering.lumber import design_values, read_size
from deckplan.geometry import unit
from deckplan.layout.frame import joist_direction
from deckplan.layout.joist_pieces import LONGEST_STOCK
from deckplan.layout.model import Kind, Layout, Member
from deckplan.loads.model import AreaLoad, Demand, Loads
from deckplan.plan.model import BeamLine, Plan
from deckplan.rules.profile import Limit, Profile
from deckplan.verdict import Check, Source, Step, at_least, at_most, not_applicable

TABLE = Source("IRC 2018", "Table R507.5", "derived: the printed spans come out with it")
SPLICE = Source("IRC 2018", "R507.5", "one published copy")
SEAT = Source("IRC 2018", "R507.5.1", "two published copies")

ON_TWO_POSTS = "beam stands on two posts"

LEAST_SINE = 0.2
"""Joists flatter to a beam than by this sine do not bear on it [1]."""

REPETITIVE_PLIES = 3
"""Plies from which C_r counts; two are not repetitive. Source: NDS 2018 4.3.9."""


def beam_wood(
    plan: Plan, size: str, spans: tuple[float, ...], joist_spacing: float, flush: bool = False
) -> Wood:
    """Return a beam's wood: its top edge is held at every joist, its lower edge only at the posts [in].

    flush: joists hang on its side instead of standing on it.
    """
    made = read_size(size)
    values = design_values(plan.materials.species, plan.materials.grade, made)
    repetitive = made.plies >= REPETITIVE_PLIES
    seat = read_size(plan.materials.post).thickness
    return Wood(
        made,
        values,
        True,
        plan.materials.incised,
        repetitive,
        joist_spacing,
        max(spans),
        hung_on=flush,
        seat=seat,
    )


def check_beams(
    plan: Plan, profile: Profile, layout: Layout, loads: Loads, proven: Mapping[str, list[Check]]
) -> list[Check]:
    """Check every beam that is not like another; proven: checks that the sizing has made already, by mark."""
    found: list[Check] = []
    spacing = {platform.name: platform.joists.spacing for platform in plan.platforms}
    for beam in layout.members:
        if beam.kind is not Kind.BEAM:
            continue
        demand = loads.demands.get(beam.mark)
        if demand is None:
            found.append(_unsupported(beam))
        elif demand.like == beam.mark:
            checks = proven.get(beam.mark)
            if checks is None:
                above, area = joists_on(beam, layout, loads), loads.areas[beam.platform]
                checks = check_beam(
                    plan, profile, beam, demand, beam.size, spacing[beam.platform], above, area
                )
            found += with_loads(checks, demand)
    return found


def _unsupported(beam: Member) -> Check:
    source = Source("statics", "a beam stands on two supports", "derived")
    reason = f"{beam.mark} stands on {len(beam.bearings)} post(s): give it two or more"
    return at_least(beam.mark, ON_TWO_POSTS, source, len(beam.bearings), 2, "supports", reason=reason)


def check_beam(
    plan: Plan,
    profile: Profile,
    beam: Member,
    demand: Demand,
    size: str,
    joist_spacing: float,
    joists: tuple[float, float] | None,
    area: AreaLoad,
) -> list[Check]:
    """Check one beam as if it were of a build: what the sizing asks of every candidate.

    joists: span and overhang [in] of what rests on it, None where no table speaks of it; area: what they carry.
    """
    analysis = demand.analysis
    line = plan.platform(beam.platform).supports[beam.support] if beam.support is not None else None
    flush = isinstance(line, BeamLine) and line.style == "flush"
    wood = beam_wood(plan, size, analysis.spans, joist_spacing * _stretched(plan, beam), flush)
    found = check_member(beam, demand, wood, profile.beam_live_deflection, profile.bearing_on_wood)
    found.append(_under_all_loads(beam, demand, wood, profile.beam_live_deflection))
    share = profile.beam_overhang_share
    for overhang, span in zip(analysis.overhangs, (analysis.spans[0], analysis.spans[-1]), strict=True):
        if overhang <= max((b.length for b in beam.bearings), default=0.0):
            continue
        found.append(
            at_most(
                beam.mark, "beam overhang within its share of the span", share.source, overhang, share.value * span,
                "in", (Step("a max", "share of the span", f"{share.value:g} L", f"{share.value:g} × {span:.5g}",
                            share.value * span, "in", share.source),),
            )
        )  # fmt: skip
    found.append(_seat(plan, beam, wood))
    found.append(_splices(plan, profile, beam))
    if is_notched(line):
        found += check_tongue(plan, profile, beam.mark, size)
    found.append(check_printed_beam(plan, beam, demand, size, joists, area))
    return found


def _stretched(plan: Plan, beam: Member) -> float:
    """Return how much farther apart joists stand along a beam than square to themselves [1]: 1 over the sine."""
    along, (bx, by) = joist_direction(plan.platform(beam.platform)), unit(*beam.line)
    return 1.0 / max(abs(along[0] * by - along[1] * bx), LEAST_SINE)


def _under_all_loads(beam: Member, demand: Demand, wood: Wood, limit: Limit) -> Check:
    """Check the sag under dead and live load together with E as tabulated: what the printed beam spans come out with.

    Where bending does not govern, the live load's sag alone would let a beam go a few inches beyond the print.
    """
    inertia, E = wood.size.moment_of_inertia, wood.values.E
    sags = [
        (peak.value / (E * inertia), span)
        for peak, span in zip(demand.bent.spans_total, demand.analysis.spans, strict=True)
    ]
    sag, span = max(sags, key=lambda pair: pair[0] / pair[1])
    allowed = span / limit.value
    steps = (
        Step(
            "E", "modulus of elasticity as tabulated, not reduced", "", f"{E:g}", E, "psi", wood.values.source
        ),
        Step("Δ", "sag under dead and live load together", "statics, E I", "", sag, "in", TABLE),
        Step(
            "Δ max", "allowed", f"L / {limit.value:g}", f"{span:.5g} / {limit.value:g}", allowed, "in", TABLE
        ),
    )
    return at_most(
        beam.mark,
        "deflection under all loads, as the tables",
        TABLE,
        sag,
        allowed,
        "in",
        steps,
        combination="D + L",
    )


def _seat(plan: Plan, beam: Member, wood: Wood) -> Check:
    """A beam bears on its posts in its full width; none of it hangs beside them."""
    post = read_size(plan.materials.post)
    wide = f"{beam.mark} is {wood.size.thickness:g} in wide on posts of {post.thickness:g} in"
    reason = f"{wide}: a wider post or fewer plies"
    return at_least(
        beam.mark, "beam bears on its posts in its full width", SEAT, post.thickness, wood.size.thickness, "in",
        reason=reason,
    )  # fmt: skip


def _splices(plan: Plan, profile: Profile, beam: Member) -> Check:
    """A beam longer than stock is spliced, over a post only, and then on a post that gives both ends a seat."""
    rule = "splices over posts"
    if beam.length > LONGEST_STOCK + 1e-6:
        bounds = [0.0, *(b.at for b in beam.bearings if 0 < b.at < beam.length), beam.length]
        stretch = max(b - a for a, b in pairwise(bounds))
        return at_most(
            beam.mark, rule, SPLICE, max(stretch, beam.length), LONGEST_STOCK, "in",
            reason=f"{beam.mark}: posts stand farther apart than the longest stock",
        )  # fmt: skip
    if not any(b.manner == "splice" for b in beam.bearings):
        return not_applicable(beam.mark, rule, SPLICE, "the beam is one length of stock")
    least = read_size(profile.post_splice_size.value)
    post = read_size(plan.materials.post)
    return at_least(
        beam.mark, rule, profile.post_splice_size.source, post.thickness, least.thickness, "in",
        reason=f"{beam.mark} is spliced over a post: both ends need a seat, on a {least.name} at least",
    )  # fmt: skip
