"""What is wrong with the set-out itself: pieces that rest on too little, supports that meet nothing."""

from __future__ import annotations

from collections.abc import Iterator

from deckplan.geometry import Line, Point, point_to_line
from deckplan.layout.beam_ends import SHORTEST_STUB, lies_along
from deckplan.layout.closing import covers_of, without
from deckplan.layout.frame import ON_LINE, Run, angle_to_joists
from deckplan.layout.ledger_words import off_its_wall
from deckplan.layout.line_moves import Moved, loose_ends, stands
from deckplan.layout.model import Kind, Member, OnFrame, Post
from deckplan.layout.platform_frame import SetOut, size_or
from deckplan.layout.supports import run_of
from deckplan.plan.model import BeamLine, Ledger, Plan
from deckplan.plan.sense_beams import LEAST_ANGLE, NEARLY
from deckplan.units import Units, format_length, format_up
from deckplan.verdict import Check, Source, Verdict, at_least, at_most, outside

STAND_OFF = 1.0
"""What a post base needs between concrete and beam at the least [in]. Source: common practice."""

AT_EDGE = 4.0
"""A joist that ends this close to an edge ends at its rim, at any angle down to the flattest [in]."""

STATICS = Source("statics", "a piece stands on two supports", "derived")
ON_TWO = "joists rest on two supports"
"""Names every joist of a platform that rests on less."""

PRACTICE = Source("common practice", "", "common practice")
LEDGER = Source("IRC 2018", "R507.9", "one published copy")
TABLES = Source("AWC DCA6-2015", "scope: single level", "one published copy")


def find_faults(
    plan: Plan,
    platforms: tuple[SetOut, ...],
    posts: tuple[Post, ...],
    on_frame: list[OnFrame],
    moved: Moved,
) -> tuple[Check, ...]:
    """Return a check for everything that the set-out cannot give what the plan asks for."""
    found: list[Check] = []
    for set_out in platforms:
        found += _unsupported(set_out, plan.units, moved)
        found += _missing_supports(plan, set_out)
        found += _beams_on_beams(set_out)
    found += [_room_for(post) for post in posts]
    for set_out in platforms:
        found += _stood(set_out, on_frame)
    return tuple(found)


def _unsupported(set_out: SetOut, units: Units, moved: Moved) -> list[Check]:
    """One check a platform for joists on fewer than two supports, named one by one in the reason."""
    joists = [m for m in set_out.members if m.kind is Kind.JOIST]
    loose = [m for m in joists if not stands(m)]
    if not joists:
        return []
    fewest = min(len(m.bearings) for m in joists)
    named = ", ".join(m.mark for m in loose[:6]) + (" .." if len(loose) > 6 else "")
    if not loose:
        return [at_least(joists[0].mark, ON_TWO, STATICS, fewest, 2, "supports")]
    verb = "rests" if len(loose) == 1 else "rest"
    reason = (
        f'platform "{set_out.platform.name}": {named} {verb} on fewer than two supports; '
        f"{_cure(set_out, loose, units, moved)}"
    )
    return [
        Check(
            loose[0].mark, ON_TWO, STATICS, len(loose[0].bearings), 2, "supports",
            Verdict.FAIL, (), True, "", reason,
        )
    ]  # fmt: skip


def _cure(set_out: SetOut, loose: list[Member], units: Units, moved: Moved) -> str:
    """Say what would carry joists that rest on too little: a move only where it was laid out and holds them all."""
    frame = set_out.frame
    stubs = {joist.mark: line for joist in loose if (line := _behind_edge(set_out, joist))}
    missed: dict[int, list[tuple[Point, float, str]]] = {}
    bare: list[Point] = []
    for joist in loose:
        for at in () if joist.mark in stubs else loose_ends(joist, moved.share):
            end = frame.local(joist.point(at))
            found = _missed(set_out, end)
            if found is None:
                bare.append(end)
            else:
                missed.setdefault(found[0], []).append((end, found[1], joist.mark))
    cures = []
    for support, ends in missed.items():
        mark = next(_marks_of(set_out, beam) for _, beam in set_out.beams if beam.support == support)
        by = max((past for _, past, _ in ends), key=abs)
        if moved.holds(set_out, support, by, {joist for _, _, joist in ends}):
            cures.append(f"move {mark} in by {format_up(abs(by), units)}: they end short of its middle")
        else:
            named = ", ".join(dict.fromkeys(joist for *_, joist in ends))
            cures.append(f"moved in until it holds {named}, {mark} would no longer serve others")
            bare += [end for end, *_ in ends]
    for mark in dict.fromkeys(stubs.values()):
        longest = max(joist.length for joist in loose if stubs.get(joist.mark) == mark)
        cures.append(
            f"nothing holds the far end of what hangs on {mark}, {format_up(longest, units)} at the most: make {mark} "
            f"a drop beam, which the joists run over, or move it out to the edge"
        )
    return "; ".join([*cures, *([f"add {_new_beam(set_out, bare, units)}"] if bare or not cures else [])])


def _behind_edge(set_out: SetOut, joist: Member) -> str:
    """Return the flush beam of its platform that a short joist hangs on alone, between it and the edge; else ""."""
    if len(joist.bearings) != 1 or joist.length > SHORTEST_STUB or joist.bearings[0].manner != "hanger":
        return ""
    return next(
        (_marks_of(set_out, beam) for _, beam in set_out.beams if beam.mark == joist.bearings[0].on), ""
    )


def _marks_of(set_out: SetOut, beam: Member) -> str:
    """Name every piece of the line that a beam is of."""
    return " and ".join(other.mark for _, other in set_out.beams if other.support == beam.support)


def _missed(set_out: SetOut, end: Point) -> tuple[int, float] | None:
    """Return the line of the drop beam past a joist's end, under its rim, and the way from that to the end [in]."""
    u, v = end
    for stretch, beam in set_out.beams:
        back = v - stretch.run.at(u)
        under = stretch.reach[0] <= u <= stretch.reach[1] and abs(back) <= AT_EDGE
        if stretch.line.style == "drop" and under and beam.support is not None:
            return beam.support, back
    return None


def _new_beam(set_out: SetOut, ends: list[Point], units: Units) -> str:
    """Name the edges where joists end loose: a beam along each would carry them."""
    frame = set_out.frame
    ended = [
        edge
        for edge in frame.edges
        if abs(edge[0][0] - edge[1][0]) > ON_LINE and any(point_to_line(end, edge) <= AT_EDGE for end in ends)
    ]
    turned = _turned([angle_to_joists(*edge) for edge in ended if Run.through(*edge) is None])
    named = [
        " to ".join(f"({', '.join(format_length(x, units) for x in frame.site(*corner))})" for corner in part)
        for edge in ended
        for part in _bare_parts(set_out, edge, ends)
    ]
    if not named:
        return f"a beam line or a ledger under them{turned}"
    where = f"the edge from {named[0]}" if len(named) == 1 else f"the edges from {', from '.join(named)}"
    return f"a beam, flush or set back, along {where}, where they end{turned}"


def _bare_parts(set_out: SetOut, edge: Line, loose: list[Point]) -> list[Line]:
    """Return the parts of an edge that no ledger and no flush beam closes and along which joists end loose."""
    run = Run.through(*edge)
    if run is None:
        return []
    covers = covers_of(set_out.frame, set_out.ledgers, set_out.beams)
    parts = [((low, run.at(low)), (high, run.at(high))) for low, high in without(covers, *edge)]
    parts = [part for part in parts if any(point_to_line(end, part) <= AT_EDGE for end in loose)]
    return parts if edge[0][0] < edge[1][0] else [part[::-1] for part in reversed(parts)]


def _turned(flat: list[float]) -> str:
    """Say that edges too flat to the joists [degrees] carry none of them, where there are any."""
    if not flat:
        return ""
    return (
        f", or turn the joists: an edge lies at {min(flat):.0f} degrees to them, and under {LEAST_ANGLE:g} nothing "
        f"along it carries them"
    )


def _missing_supports(plan: Plan, set_out: SetOut) -> list[Check]:
    """A ledger whose wall no edge meets, a beam line that crosses nothing."""
    found: list[Check] = []
    platform = set_out.platform
    for index, support in enumerate(platform.supports):
        place = f'platform "{platform.name}", support {index + 1}'
        if isinstance(support, Ledger):
            if any(line.support == index for line in set_out.ledgers):
                continue
            reason = f"{place}: {off_its_wall(platform, set_out.frame, plan.house, support, plan.units)}"
            found.append(_fault(f"{set_out.letter}-L", "ledger lies on its wall", LEDGER, reason))
        elif isinstance(support, BeamLine):
            if any(stretch.support == index for stretch, _ in set_out.beams):
                continue
            reason = f"{place}: {_no_line(set_out, support)}"
            found.append(_fault(f"{set_out.letter}-B", "beam line crosses its platform", PRACTICE, reason))
        else:
            continue  # hung joists speak for themselves
    return found


def _beams_on_beams(set_out: SetOut) -> Iterator[Check]:
    """A beam that ends on another's face hangs there in its whole depth."""
    by_mark = {beam.mark: beam for _, beam in set_out.beams}
    for stretch, beam in set_out.beams:
        for mark in filter(None, stretch.hung_on):
            carrier = by_mark[mark]
            reason = (
                f"{beam.mark} hangs on {mark} and reaches {beam.depth - carrier.depth:.4g} in below it: "
                f"a deeper {mark}, or more plies of less depth for {beam.mark}"
            )
            yield at_most(
                beam.mark, f"beam hangs on {mark} in its whole depth", PRACTICE, beam.depth, carrier.depth, "in",
                reason=reason,
            )  # fmt: skip


def _no_line(set_out: SetOut, line: BeamLine) -> str:
    """Say why a beam line gives no beam."""
    run, width = run_of(set_out.frame, line), size_or(line.build, "beam").thickness
    if run is not None and any(lies_along(run, width, ledger) for ledger in set_out.ledgers):
        return "the beam line lies along a ledger, which carries the joists there: leave the line out, or move it"
    if line.line is not None:
        angle = angle_to_joists(*(set_out.frame.local(end) for end in line.line))
        if angle < LEAST_ANGLE - NEARLY:
            return (
                f"the beam line runs at {angle:.3g} degrees to the joists, {LEAST_ANGLE:g} are the least: "
                f"turn the line or the joists"
            )
        return "the beam line does not cross the platform, or only beyond another beam that it meets"
    if line.offset is None:
        return "neither an offset nor a line says where the beam lies"
    return "the beam line does not cross the platform; its offset lies outside the outline"


def _room_for(post: Post) -> Check:
    """A beam needs room above the ground for at least its post base."""
    if post.stands_on:
        reason = (
            f"{post.mark}: only {post.height:.2f} in between its beam and {post.stands_on}: raise the level"
        )
        return at_least(
            post.mark, "beam clear of the frame below", PRACTICE, post.height, STAND_OFF, "in", reason=reason
        )
    reason = (
        f"{post.mark}: the underside of the beam lies {-post.height:.2f} in below the ground there: "
        f"raise the level, use a flush beam, or dig and retain"
    )
    if post.height >= 0:
        room = f"{post.mark}: only {post.height:.2f} in between beam and ground"
        reason = f"{room}, a post base stands off {STAND_OFF:g} in"
    return at_least(
        post.mark, "beam clear of the ground", PRACTICE, post.height, STAND_OFF, "in", reason=reason
    )


def _stood(set_out: SetOut, on_frame: list[OnFrame]) -> list[Check]:
    """One check a post that was to stand on a lower frame, and one for a line of which no post lies over it."""
    rule = "post stands on a lower frame"
    found: list[Check] = []
    own = [one for one in on_frame if one.platform == set_out.platform.name]
    for one in own:
        if one.on:
            reason = (
                f'{one.post} stands on {one.on} of "{one.lower}": the published tables cover one level, so no table '
                f"covers the frame below; its loads, posts and footings are computed"
            )
            found.append(outside(one.post, rule, TABLES, reason))
        else:
            reason = f'{one.post} cannot stand on the frame of "{one.lower}": {one.reason}'
            found.append(_fault(one.post, rule, PRACTICE, reason))
    for index, support in enumerate(set_out.platform.supports):
        if not isinstance(support, BeamLine) or not support.stands_on:
            continue
        beams = [beam.mark for stretch, beam in set_out.beams if stretch.support == index]
        if beams and not any(one.beam in beams for one in own):
            reason = (
                f'platform "{set_out.platform.name}", support {index + 1}: none of its posts lies over '
                f'"{support.stands_on}", so all of them go to the ground'
            )
            found.append(_fault(beams[0], rule, PRACTICE, reason))
    return found


def _fault(mark: str, rule: str, source: Source, reason: str) -> Check:
    return Check(mark, rule, source, None, None, "", Verdict.FAIL, (), False, "", reason)
