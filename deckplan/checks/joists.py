"""Checks of joists: strength and stiffness by the sum, spacing, overhang and length by the rules."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from deckplan.checks.bending_members import Wood, check_member
from deckplan.checks.load_steps import with_loads
from deckplan.checks.printed_joists import check_printed_overhang, check_printed_span
from deckplan.checks.tip_loads import check_lean, check_person_at_tip
from deckplan.engineering.bending import lateral_support_rule
from deckplan.engineering.deflection import tip_load_deflection
from deckplan.engineering.lumber import design_values, read_size
from deckplan.engineering.prescriptive import decking_spacing
from deckplan.geometry import distance
from deckplan.layout.blocking import BLOCKING_APART
from deckplan.layout.frame import Frame
from deckplan.layout.model import Kind, Layout, Member, Post
from deckplan.loads.model import Demand, Loads
from deckplan.plan.model import Decking, Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.units import Units, format_length, format_short, format_up
from deckplan.verdict import SAME, Check, Source, Step, Verdict, at_most, outside

TIP = Source("AWC Design Aid 6", "overhanging beam, load at the free end", "from memory")
STEADY = Source("NDS 2018", "4.4.1.2", "two published copies")
MAKER = Source("decking", "joist spacing by the boards' maker, as the plan states it", "the plan")

LEFT_OUT = Source("statics", "two plies carry more than one", "derived")

REPETITIVE_SPACING = 24.0
"""Widest spacing at which C_r counts [in]. Source: NDS 2018 4.3.9."""


def bears_post(layout: Layout, loads: Loads, mark: str) -> bool:
    """Tell whether a post of an upper level stands on a joist."""
    return any(isinstance(layout.by_mark[each.upper], Post) for each in loads.onto.get(mark, ()))


def joist_wood(plan: Plan, size: str, spacing: float, alone: bool = False) -> Wood:
    """Return a joist's wood: its top edge is held by the boards all along, and the boards hold it upright.

    A doubled trimmer or header stands alone: C_r is for three members or more. So does a joist under a post (`alone`),
    whose load no neighbour shares.
    """
    made = read_size(size)
    values = design_values(plan.materials.species, plan.materials.grade, made)
    repetitive = spacing <= REPETITIVE_SPACING and made.plies == 1 and not alone
    return Wood(made, values, True, plan.materials.incised, repetitive, 0.0, 0.0, hung_on=made.plies > 1)


def check_joists(
    plan: Plan, profile: Profile, layout: Layout, loads: Loads, proven: Mapping[str, list[Check]]
) -> list[Check]:
    """Check every joist that is not like another, then what holds for a platform's joists together.

    proven: checks that the sizing has made already, by mark.
    """
    found: list[Check] = []
    for platform in plan.platforms:
        joists = layout.of(platform.name, Kind.JOIST)
        left_out = _left_out(plan, platform)
        for joist in layout.of(platform.name, Kind.JOIST, Kind.HEADER):
            demand = loads.demands.get(joist.mark)
            if demand is not None and demand.like == joist.mark:
                own = proven.get(joist.mark) or check_joist(
                    plan, profile, platform, joist, demand, joist.size, bears_post(layout, loads, joist.mark)
                )
                found += with_loads(own, demand, left_out)
        if joists:
            found += _spacing(plan, profile, platform, joists[0])
        found += _leans(plan, profile, platform, layout, loads)
    return found


def _left_out(plan: Plan, platform: Platform) -> tuple[Step, ...]:
    """Say that the further plies under borders and seams are not counted, where the boards ask for any.

    They bear on what the joist bears on and take part of its load; each weighs a small part of what it carries. So a
    joist that passes alone passes with them.
    """
    from deckplan.layout.boards_cuts import stock_of

    longest = max(stock_of(plan.materials.decking.kind, plan.units))
    if platform.boards.border:
        where = "the border"
    elif Frame.of(platform).width > longest + 1e-6:
        where = "the seams of its boards"
    else:
        return ()
    words = (
        f"plies that count: what is added under {where} is left out here, though it carries with the joist"
    )
    return (Step("", words, "", "", 1.0, "ply", LEFT_OUT),)


def _leans(plan: Plan, profile: Profile, platform: Platform, layout: Layout, loads: Loads) -> list[Check]:
    """Check the joists that guard posts stand against under a lean on the rail; of those alike the first."""
    found: list[Check] = []
    said: set[tuple[str, bool]] = set()
    for post in layout.guard_posts:
        joist, demand = layout.by_mark.get(post.against), loads.demands.get(post.against)
        if post.platform != platform.name or not isinstance(joist, Member) or demand is None:
            continue
        which = (demand.like, distance(post.at, joist.start) <= distance(post.at, joist.end))
        if which not in said:
            said.add(which)
            wood = joist_wood(plan, joist.size, platform.joists.spacing)
            found.append(check_lean(plan, profile, joist, demand, wood, post))
    return found


def check_joist(
    plan: Plan,
    profile: Profile,
    platform: Platform,
    joist: Member,
    demand: Demand,
    size: str,
    alone: bool = False,
) -> list[Check]:
    """Check one joist, trimmer or header as if it were of a size: what the sizing asks of every candidate.

    size: of one ply; a doubled piece stays doubled; alone: whether a post stands on it.
    """
    plies = read_size(joist.size).plies
    whole = size if plies == 1 else f"{plies}-{read_size(size).ply}"
    wood = joist_wood(plan, whole, platform.joists.spacing, alone)
    found = check_member(joist, demand, wood, profile.joist_live_deflection, profile.bearing_on_wood)
    found += _overhangs(joist, demand, wood, profile, plan.units)
    found += check_person_at_tip(joist, demand, wood, profile.overhang_tip_load)
    cap = profile.joist_span_cap
    found.append(
        at_most(
            joist.mark,
            "longest joist span of the tables",
            cap.source,
            max(demand.analysis.spans),
            cap.value,
            "in",
        )
    )
    found.append(_steady(joist, wood, demand))
    found.append(check_printed_span(plan, joist, demand, whole, platform.joists.spacing))
    if not alone:  # the printed overhangs carry boards and a person, no post
        found += check_printed_overhang(plan, joist, demand, whole, platform.joists.spacing)
    return found


def overhang_counted(overhang: float, spans: Sequence[float], share: float) -> tuple[float, float]:
    """Return the overhang and the span behind it [in] by which a joist is judged; spans: from that end inwards.

    A joist that passes without a bearing passes with it: where beams at an angle come close to each other, the last
    bearings may be left out, and the overhang counts from the one before. The best of these counts where it is no more
    than the share of its span [1]; where none is, what was drawn.

    >>> overhang_counted(10.0, (12.0, 120.0), 0.25)
    (22.0, 120.0)
    >>> overhang_counted(16.5, (30.0, 96.0), 0.25)
    (16.5, 30.0)
    """
    # without its last bearings the joist overhangs by the spans between them as well
    tried = [(overhang + sum(spans[:number]), spans[number]) for number in range(len(spans))]
    best = min(tried, key=lambda pair: pair[0] / pair[1])
    return best if best[0] <= share * best[1] * (1 + SAME) else tried[0]


def _cure(joist: Member, upper: bool, reach: float, back: float, share: float, units: Units) -> str:
    """Say by how much the last beam moves out, or the joists end sooner, until an overhang is within its share."""
    last = (max if upper else min)(joist.bearings, key=lambda bearing: bearing.at).on
    # moved out by x it leaves reach - x, and the span grows to back + x
    more = reach - share * back
    return (
        f"{joist.mark} reaches {format_short(reach, units)} past {last}, more than {share:g} of the "
        f"{format_length(back, units)} behind it: move {last} out by {format_up(more / (1 + share), units)} along the "
        f"joists, or end the joists there {format_up(more, units)} sooner"
    )


def _overhangs(joist: Member, demand: Demand, wood: Wood, profile: Profile, units: Units) -> list[Check]:
    """Check overhangs: at most a share of their span, and how far a tip sinks under one person's weight.

    Of two overhangs the one that uses more of a rule speaks for both.
    """
    found: list[Check] = []
    analysis = demand.analysis
    values = wood.adjusted(1.0)
    inertia = wood.size.moment_of_inertia
    share, tip, limit = profile.joist_overhang_share, profile.overhang_tip_load, profile.overhang_deflection
    ends = zip(analysis.overhangs, (analysis.spans, analysis.spans[::-1]), (False, True), strict=True)
    for overhang, spans, upper in ends:
        span = spans[0]
        if overhang <= wood.size.thickness * 2:  # no more than the bearing itself
            continue
        reach, back = overhang_counted(overhang, spans, share.value)
        words = "share of the span" if back == span else "share of the span, a bearing near the end left out"
        most = share.value * back
        found.append(
            at_most(
                joist.mark, "overhang within its share of the span", share.source, reach, most, "in",
                (Step("a max", words, f"{share.value:g} L", f"{share.value:g} × {back:.5g}", most, "in",
                      share.source),),
                reason=_cure(joist, upper, reach, back, share.value, units) if reach > most else "",
            )
        )  # fmt: skip
        sinks = tip_load_deflection(tip.value, overhang, span, values.E, inertia)
        steps = (
            values.steps["E"],
            Step("Δ", "tip under one person's weight", "P a² (L + a) / (3 E' I)",
                 f"{tip.value:g} × {overhang:.4g}² × ({span:.4g} + {overhang:.4g}) "
                 f"/ (3 × {values.E:.6g} × {inertia:.5g})",
                 sinks, "in", TIP),
            Step("Δ max", "allowed", f"a / {limit.value:g}", f"{overhang:.4g} / {limit.value:g}",
                 overhang / limit.value, "in", limit.source),
        )  # fmt: skip
        found.append(
            at_most(
                joist.mark,
                "deflection of the overhang's tip",
                limit.source,
                sinks,
                overhang / limit.value,
                "in",
                steps,
            )
        )
    worst: dict[str, Check] = {}
    for check in found:
        known = worst.get(check.rule)
        if known is None or (check.utilisation or 0.0) > (known.utilisation or 0.0):
            worst[check.rule] = check
    return list(worst.values())


def _steady(joist: Member, wood: Wood, demand: Demand) -> Check:
    """Check that the boards and rims keep the joist upright; 2x12 wants bridging every 8 ft as well."""
    ratio = wood.size.nominal_depth / (wood.size.nominal_thickness * wood.size.plies)
    rule = "joist stays upright"
    steps = (
        Step("d/b", "nominal depth over breadth", "",
             f"{wood.size.nominal_depth} / {wood.size.nominal_thickness * wood.size.plies}", ratio, "1", STEADY),
    )  # fmt: skip
    if ratio > 7:
        return outside(
            joist.mark, rule, STEADY, f"{wood.size.name} is over seven times deeper than wide", steps=steps
        )
    if ratio <= 5:
        return at_most(joist.mark, rule, STEADY, ratio, 5.0, "depth/breadth", steps)
    words = lateral_support_rule(wood.size)
    longest = max(demand.analysis.spans)
    return at_most(
        joist.mark, rule, STEADY, min(longest, BLOCKING_APART), BLOCKING_APART, "in between braces",
        (*steps, Step("", f"asks for {words}; blocking rows stand at most this far apart", "", "",
                      min(longest, BLOCKING_APART), "in", STEADY)),
    )  # fmt: skip


def _spacing(plan: Plan, profile: Profile, platform: Platform, first: Member) -> list[Check]:
    """Check the spacing against the rules and against what the boards can span."""
    decking, limit = plan.materials.decking, profile.joist_spacing_max
    diagonal = abs(platform.boards.angle) > 1e-9
    boards = decking.spacing_diagonal if diagonal else decking.spacing
    spacing = platform.joists.spacing
    lay = "boards laid diagonally" if diagonal else "boards laid square"
    across = _as_diagonal(spacing, platform.boards.angle)
    if across > STEEPEST:
        reason = (
            f'platform "{platform.name}": boards run along the joists and bear on nothing: turn one of them'
        )
        alone = Check(
            first.mark, f"joist spacing under {lay}", MAKER, None, None, "", Verdict.FAIL, reason=reason
        )
        return [
            at_most(first.mark, "joist spacing by the rules", limit.source, spacing, limit.value, "in"),
            alone,
        ]
    return [
        *_table_spacing(first.mark, decking, across, diagonal),
        at_most(first.mark, "joist spacing by the rules", limit.source, spacing, limit.value, "in"),
        at_most(
            first.mark, f"joist spacing under {lay}", MAKER, across, boards, "in",
            reason=f'platform "{platform.name}": {decking.kind} {lay} span at most {boards:g} in, '
            f"joists are {across:.4g} in apart" + ("" if across == spacing else " as boards at 45 degrees cross them"),
        ),
    ]  # fmt: skip


STEEPEST = 200.0
"""Boards that cross joists this far apart, or none at all, run along them [in]. Source: geometry."""


def _as_diagonal(spacing: float, angle: float) -> float:
    """Return the spacing [in] that boards at 45 degrees would cross as far apart as these do.

    Limits for boards laid diagonally are for 45 degrees; a steeper angle [degrees] spans more between the same joists.
    """
    steep = math.radians(min(abs(angle), 90.0))
    if steep <= math.pi / 4 + 1e-9:
        return spacing
    cosine = math.cos(steep)
    return spacing * math.cos(math.pi / 4) / cosine if cosine > 1e-9 else math.inf


BOARD_TABLE = Source("IRC 2018", "Table R507.7", "two published copies")

THICK_BOARDS = (("2 in. wood", 1.5), ("1 1/4 in. wood", 1.0))
"""Rows of the decking table with the least dressed thickness of their boards [in]."""


def _table_spacing(mark: str, decking: Decking, spacing: float, diagonal: bool) -> list[Check]:
    """Check wood boards against the decking table; composites go by their maker's value alone."""
    rule = "joist spacing under wood boards by the table"
    if decking.kind != "wood":
        return []
    row = next((name for name, least in THICK_BOARDS if decking.thickness >= least - 1e-9), None)
    if row is None:
        reason = f"boards {decking.thickness:g} in thick: the table begins at 1 in dressed"
        return [outside(mark, rule, BOARD_TABLE, reason, demand=spacing, unit="in")]
    return [at_most(mark, rule, BOARD_TABLE, spacing, decking_spacing(row, diagonal), "in")]
