"""What would let a beam share a neighbour's post after all: each change laid out as a whole, kept only if it does."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import islice

from deckplan.engineering.lumber import read_size
from deckplan.layout.frame import Frame
from deckplan.layout.model import Kind, Layout, Member, Miss, Post, Sharing
from deckplan.layout.shared_ends import NEAR
from deckplan.plan.model import BeamLine, Plan
from deckplan.units import Units, format_length, format_short
from deckplan.verdict import Verdict

MOST = 3
"""How many cures are told of a wish."""

WIDER = ("6x6", "8x8")
"""Posts that are tried where the plan's are narrower than the beam."""

Change = Callable[[Plan], Plan]
Stand = Callable[[Plan], Layout]
"""Lays a changed plan out."""


@dataclass(frozen=True, slots=True)
class Cure:
    """A change of a plan, and the words for what it brings."""

    words: str
    change: Change


def find_cures(plan: Plan, layout: Layout, wish: Sharing, stand: Stand) -> Iterator[Cure]:
    """Yield what lets a beam line share a post, or two changes together where no single one does; each was tried.

    One that spoils something else of the frame is no cure.
    layout: of the plan, by the same hand as stand lays out the changed ones.
    """
    before, alone = _faults(layout), False
    half: list[tuple[Cure, Plan, Layout, Sharing]] = []
    for cure in _candidates(plan, layout, wish):
        changed = cure.change(plan)
        tried = stand(changed)
        left = _missed(tried, wish)
        if left is None and _faults(tried) < before:
            alone = True
            yield cure
        elif left is not None and left.miss and wish.miss and left.miss.kind != wish.miss.kind:
            half.append((cure, changed, tried, left))
    for cure, changed, tried, left in () if alone else half:
        for second in _candidates(changed, tried, left):
            whole = stand(second.change(changed))
            if _missed(whole, wish) is None and _faults(whole) < before:
                yield Cure(f"{cure.words} with {second.words}", _both(cure.change, second.change))


def with_cures(plan: Plan, layout: Layout, stand: Stand) -> tuple[Sharing, ...]:
    """Return the wishes of a layout, those that did not come true with what would help added to the reason."""
    return tuple(
        wish if wish.post else replace(wish, reason=f"{wish.reason}: {_told(plan, layout, wish, stand)}")
        for wish in layout.sharing
    )


def _told(plan: Plan, layout: Layout, wish: Sharing, stand: Stand) -> str:
    found = [cure.words for cure in islice(find_cures(plan, layout, wish, stand), MOST)]
    if found:
        return f"{', or '.join(found)} would meet it"
    tried = any(True for _ in _candidates(plan, layout, wish))
    return "no change that was tried would meet it, so posts of its own" if tried else "posts of its own"


def _faults(layout: Layout) -> int:
    """Count what a layout cannot give: failing checks, and wishes that did not come true."""
    failing = sum(check.verdict is Verdict.FAIL for check in layout.checks)
    return failing + sum(not wish.post for wish in layout.sharing)


def _missed(layout: Layout, wish: Sharing) -> Sharing | None:
    """Return what is left of a line's wish in another layout, None where it came true."""
    same = (one for one in layout.sharing if (one.platform, one.support) == (wish.platform, wish.support))
    return next((one for one in same if not one.post), None)


def _both(first: Change, second: Change) -> Change:
    return lambda plan: second(first(plan))


def _candidates(plan: Plan, layout: Layout, wish: Sharing) -> Iterator[Cure]:
    """Yield the changes worth a try, by what keeps the end off the post."""
    miss = wish.miss
    post = layout.by_mark.get(miss.post) if miss else None
    line = plan.platform(wish.platform).supports[wish.support]
    if miss is None or not isinstance(post, Post) or not isinstance(line, BeamLine):
        return
    under = _beam_on(layout, post)
    if miss.kind == "aside":
        yield from _moved_over(plan, wish, line, post)
    elif miss.kind == "back" and under is not None:
        yield from _moved_out(plan, layout, miss, post, under)
    elif miss.kind in ("low", "notched"):
        yield from _lower(plan, layout, wish, line, under, miss)
    elif miss.kind == "ground":
        by = _up(miss.by, plan.units)
        yield _at_level(plan, layout, wish, by, f'"{wish.platform}" {format_short(by, plan.units)} higher')
    elif miss.kind == "wide":
        yield from _narrower(layout, wish, post)
    else:
        return
    if miss.kind in ("aside", "notched") and under is not None and post.notch is not None:
        yield Cure(
            f'post caps in place of notches under the beam of "{wish.neighbour}"', _line(under, seat="cap")
        )


def _moved_over(plan: Plan, wish: Sharing, line: BeamLine, post: Post) -> Iterator[Cure]:
    """Yield the line's own move to the post, where its outline reaches that far."""
    frame = Frame.of(plan.platform(wish.platform))
    to = frame.local(post.at)[1]
    if line.offset is not None and 0 <= to <= frame.depth and abs(to - line.offset) > NEAR:
        change = _support(wish.platform, wish.support, offset=to)
        yield Cure(f"an offset of {format_length(to, plan.units)}", change)


def _moved_out(plan: Plan, layout: Layout, miss: Miss, post: Post, under: Member) -> Iterator[Cure]:
    """Yield the move of the neighbour's post to the beam's end: with its line, or along its beam."""
    theirs = plan.platform(under.platform)
    line = theirs.supports[under.support or 0]
    assert isinstance(line, BeamLine)
    (x, y), (ox, oy), half = miss.end, miss.outward, post.width / 2
    way = (x + ox * half - post.at[0], y + oy * half - post.at[1])
    along = Frame.of(theirs).along
    by = way[0] * along[0] + way[1] * along[1]
    if line.offset is not None and abs(ox * along[0] + oy * along[1]) > 0.9:
        words = f'the post line of "{under.platform}" {format_length(abs(by), plan.units)} farther out'
        yield Cure(words, _line(under, offset=line.offset + by))
        return
    pieces = [m for m in layout.of(under.platform, Kind.BEAM) if m.support == under.support]
    if len(pieces) > 1:
        return
    ux, uy = ((b - a) / under.length for a, b in zip(under.start, under.end, strict=True))
    by = way[0] * ux + way[1] * uy
    places = tuple(
        sorted(b.at + (by if b.on == post.mark else 0.0) for b in under.bearings if b.manner != "hanger")
    )
    if places[0] >= 0 and places[-1] <= under.length:
        words = f"post {post.mark} {format_length(abs(by), plan.units)} farther out under its beam"
        yield Cure(words, _line(under, posts=places))


def _lower(
    plan: Plan, layout: Layout, wish: Sharing, line: BeamLine, under: Member | None, miss: Miss
) -> Iterator[Cure]:
    """Yield what brings the post's top up to the beam's top, or the beam down to it."""
    their = plan.platform(under.platform).supports[under.support or 0] if under is not None else None
    if under is not None and isinstance(their, BeamLine) and their.style == "drop":
        yield Cure(f'a flush beam of "{under.platform}" there', _line(under, style="flush"))
    if line.style == "flush":
        yield Cure(f'a drop beam of "{wish.platform}"', _support(wish.platform, wish.support, style="drop"))
    by = _up(miss.by, plan.units)
    yield _at_level(plan, layout, wish, -by, f'"{wish.platform}" {format_short(by, plan.units)} lower')


def _narrower(layout: Layout, wish: Sharing, post: Post) -> Iterator[Cure]:
    """Yield beams of fewer plies and wider posts."""
    beam = layout.by_mark[wish.beam]
    assert isinstance(beam, Member)
    size = read_size(beam.size)
    plies = int((post.width + NEAR) // size.ply_thickness)
    if size.plies > plies > 1:
        build = f"{plies}-{size.name.partition('-')[2]}"
        yield Cure(f"a beam of {build}", _support(wish.platform, wish.support, build=build))
    for wider in WIDER:
        if read_size(wider).thickness + NEAR >= size.thickness > post.width:
            yield Cure(f"posts of {wider}", _of_posts(wider))
            return


def _beam_on(layout: Layout, post: Post) -> Member | None:
    """Return the beam of a post's own platform that rests on it."""
    own = (m for m in layout.of(post.platform, Kind.BEAM) if m.support is not None)
    return next((m for m in own if any(b.on == post.mark and b.manner != "hanger" for b in m.bearings)), None)


def _up(by: float, units: Units) -> float:
    """Return a length [in] rounded up to what is written: sixteenths, or millimetres."""
    part = 1 / 25.4 if units == "metric" else 1 / 16
    return math.ceil(by / part - 1e-6) * part


def _line(beam: Member, **changes: object) -> Change:
    return _support(beam.platform, beam.support or 0, **changes)


def _support(name: str, index: int, **changes: object) -> Change:
    """Return the change of some keys of one support."""

    def change(plan: Plan) -> Plan:
        supports = list(plan.platform(name).supports)
        supports[index] = supports[index].model_copy(update=changes)
        return _platform(plan, name, supports=tuple(supports))

    return change


def _at_level(plan: Plan, layout: Layout, wish: Sharing, by: float, words: str) -> Cure:
    """Return the change of a level's height by so much [in], with the words for it."""
    board = plan.materials.decking.thickness
    joist = next(m for m in layout.of(wish.platform, Kind.JOIST))
    if any(wish.platform in (flight.upper, flight.lower) for flight in plan.flights):
        words += " (its flights change with it)"
    return Cure(words, lambda plan: _platform(plan, wish.platform, elevation=joist.top + board + by))


def _of_posts(size: str) -> Change:
    return lambda plan: plan.model_copy(
        update={"materials": plan.materials.model_copy(update={"post": size})}
    )


def _platform(plan: Plan, name: str, **changes: object) -> Plan:
    changed = plan.platform(name).model_copy(update=changes)
    return plan.model_copy(
        update={"platforms": tuple(changed if one.name == name else one for one in plan.platforms)}
    )
