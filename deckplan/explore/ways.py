"""Five ways to stand two touching levels, each as a changed plan that a study then judges; or why it cannot be.

Nothing is decided here by rule of thumb: what the layout accepts is asked of the layout, by a study of the changed
plan.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from itertools import product

from deckplan.engineering.lumber import read_size
from deckplan.explore.changes import AnySupport, lines_of, nearest_line, with_line, with_supports
from deckplan.explore.touching import Side, Touch
from deckplan.geometry import along, distance, point_to_line
from deckplan.layout.hung import RULE as HUNG_RULE
from deckplan.layout.model import Kind, Member, Post
from deckplan.layout.posts import HANG_GAP
from deckplan.layout.supports import auto_post_count
from deckplan.plan.model import BeamLine, Flight, Hung, Plan
from deckplan.study import Study
from deckplan.units import Units, format_length, format_short
from deckplan.verdict import Verdict

SET_BACK = 24.0
"""How far a post line stands back under an overhang [in]. Source: common practice."""

OWN_LINE = 12.0
"""Where joists that no longer hang get a beam line of their own: in from the edge [in] (common practice)."""

STEP_WIDTH = 48.0
"""Width of a step that the plan does not have yet [in] (common practice)."""

MOST_TRIES = 4
DEEPEST = "3-2x12"
"""The beam tried where the smallest that carries is not deep enough for a hanger on its face."""


class Manner(StrEnum):
    """How two touching levels stand."""

    INDEPENDENT = "independent posts"
    SHARED = "shared post line"
    HUNG = "hung joists"
    STEP = "platform step"
    SET_BACK = "set-back under overhang"


@dataclass(frozen=True, slots=True)
class Built:
    """A changed plan with its study; moves: what was changed, in words, empty where the plan is so already."""

    study: Study
    moves: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a way cannot be, and what would make it possible."""

    reason: str
    remedy: str


Outcome = Built | Refused
Way = Callable[[Study, Touch], Outcome]


def independent(study: Study, touch: Touch) -> Outcome:
    """Stand each level on its own posts."""
    return Built(*_apart(study, touch))


def shared(study: Study, touch: Touch) -> Outcome:
    """Hang the lower level's beam on a post of the upper one, its line moved to the post where it has to."""
    base, moves = _apart(study, touch)
    plan, units = base.asked, study.asked.units
    side = Side.of(plan.platform(touch.lower), touch.edge)
    if not side.along:
        how = "square to" if side.across else "aslant to"
        return Refused(
            f'the joists of "{touch.lower}" run {how} the shared edge: its beams do not end there',
            f'turn the joists of "{touch.lower}" to run along that edge, or let them hang on a beam of "{touch.upper}"',
        )
    first: Refused | None = None
    for _, index, post in _meetings(base, touch, side)[:MOST_TRIES]:
        line = plan.platform(touch.lower).supports[index]
        assert isinstance(line, BeamLine)
        to = side.frame.local(post.at)[1]
        changed = with_line(plan, touch.lower, index, offset=to, build="auto", shares_posts_with=touch.upper)
        tried = Study(changed)
        found = _on(tried, touch)
        if found == "":
            return Built(tried, (*moves, *_moved(line, to, touch.lower, units)))
        if first is None:
            first = Refused(found, _cure(changed, tried, touch, post, found))
    if first is None:
        return Refused(
            f'no post of "{touch.upper}" stands beside the shared edge, or no beam of "{touch.lower}" ends there',
            "a post at the shared edge, and a beam line that ends at it",
        )
    return first


def hung(study: Study, touch: Touch) -> Outcome:
    """Hang the lower level's joists on the upper one's beam, that beam moved to the edge where it has to be."""
    base, moves = _apart(study, touch)
    plan, units = base.asked, study.asked.units
    lower, upper = plan.platform(touch.lower), plan.platform(touch.upper)
    theirs, ours = Side.of(lower, touch.edge), Side.of(upper, touch.edge)
    for side, name, what in (
        (theirs, touch.lower, "no joist ends there"),
        (ours, touch.upper, "no beam can lie along it"),
    ):
        if not side.across:
            how = "along" if side.along else "aslant to"
            reason = f'the joists of "{name}" run {how} the shared edge: {what}'
            return Refused(reason, f'turn the joists of "{name}" square to that edge')
    carrier = nearest_line(upper, ours.at)
    if carrier is None:
        return Refused(
            f'"{touch.upper}" has no beam line', f'a beam line of "{touch.upper}" along the shared edge'
        )
    hanging, said = _let_hang(plan, touch, theirs)
    index, line = carrier
    tries: list[tuple[Study, BeamLine]] = []
    for style, build in product(("flush", "drop"), ("auto", DEEPEST)):
        tried = _with_edge_beam(hanging, touch, ours, index, style, build)
        if tried is None:
            continue
        if not any(c.rule == HUNG_RULE and c.verdict is Verdict.FAIL for c in tried.checks):
            beam = tried.plan.platform(touch.upper).supports[index]
            assert isinstance(beam, BeamLine)
            words = _moved(line, beam.offset, touch.upper, units)
            if line.style != style:
                words += (f"make it a {style} beam",)
            return Built(tried, (*moves, *words, *said))
        made = tried.asked.platform(touch.upper).supports[index]
        assert isinstance(made, BeamLine)
        tries.append((tried, made))
    return _no_hanger(tries, touch)


def platform_step(study: Study, touch: Touch) -> Outcome:
    """Set a box step between two levels that stand each on its own posts."""
    base, moves = _apart(study, touch)
    plan = base.asked
    both = {touch.upper, touch.lower}
    at = next((n for n, f in enumerate(plan.flights) if {f.upper, f.lower} == both), None)
    flights = list(plan.flights)
    if at is None:
        half = min(STEP_WIDTH, touch.length) / touch.length / 2
        stretch = (along(touch.edge, 0.5 - half), along(touch.edge, 0.5 + half))
        at = len(flights)
        flights.append(Flight.model_validate(
            {"from": touch.upper, "to": touch.lower, "along": stretch, "kind": "box"}
        ))  # fmt: skip
        said: tuple[str, ...] = (f"add a box step {format_length(distance(*stretch), plan.units)} wide",)
    elif flights[at].kind != "box":
        said = (f"make flight S{at + 1} a box step",)
        flights[at] = flights[at].model_copy(update={"kind": "box"})
    else:
        said = ()
    tried = Study(plan.model_copy(update={"flights": tuple(flights)}))
    if tried.levels.flights[at].risers == 1:
        most = format_short(tried.profile.riser_max.value, plan.units)
        return Refused(
            f"the surfaces lie {format_short(touch.drop, plan.units)} apart: one riser, no step goes between",
            f"a step goes between where they lie more than {most} apart",
        )
    return Built(tried, (*moves, *said))


def set_back(study: Study, touch: Touch) -> Outcome:
    """Stand the upper level's posts 24 in back from the edge, so that the lower level's stay clear of them."""
    base, moves = _apart(study, touch)
    plan, units = base.asked, study.asked.units
    upper = plan.platform(touch.upper)
    side = Side.of(upper, touch.edge)
    if side.across:
        carrier = nearest_line(upper, side.at)
        if carrier is None:
            return Refused(f'"{touch.upper}" has no beam line', "a beam line near the shared edge")
        index, line = carrier
        to = side.at + side.inward * SET_BACK
        if not 0 < to < side.frame.depth:
            return Refused(f'"{touch.upper}" is no deeper than the overhang', "a deeper platform")
        words = _moved(line, to, touch.upper, units)
        return Built(Study(with_line(plan, touch.upper, index, offset=to, build="auto")), (*moves, *words))
    if not side.along:
        return Refused(
            f'the shared edge runs aslant to the joists of "{touch.upper}": no post line stands along it',
            f'turn the joists of "{touch.upper}" square to that edge',
        )
    width = read_size(plan.materials.post).thickness
    for index, line in lines_of(upper):
        for low, high in side.frame.across_at(line.offset):
            length = high - low
            if min(abs(low - side.at), abs(high - side.at)) > 1.0 or length <= SET_BACK + width:
                continue
            count = auto_post_count(length - SET_BACK + width / 2, width)
            step = (length - SET_BACK - width / 2) / (count - 1)
            first = width / 2 if side.inward < 0 else SET_BACK
            posts = tuple(first + step * number for number in range(count))
            plan = with_line(plan, touch.upper, index, posts=posts, build="auto")
            what = f'set the last post under line {index + 1} of "{touch.upper}" {format_length(SET_BACK, units)} back'
            moves = (*moves, what)
    return Built(Study(plan), moves)


WAYS: dict[Manner, Way] = {
    Manner.INDEPENDENT: independent,
    Manner.SHARED: shared,
    Manner.HUNG: hung,
    Manner.STEP: platform_step,
    Manner.SET_BACK: set_back,
}
"""Every way, in the order in which it is shown."""


# -- apart --


def _apart(study: Study, touch: Touch) -> tuple[Study, tuple[str, ...]]:
    """Return the study of the plan in which neither level leans on the other, and what had to change for it."""
    plan, words = study.asked, []
    for name, other in ((touch.upper, touch.lower), (touch.lower, touch.upper)):
        platform = plan.platform(name)
        supports: list[AnySupport] = []
        side = Side.of(platform, touch.edge)
        for support in platform.supports:
            if isinstance(support, BeamLine) and support.shares_posts_with == other:
                words.append(f'give the beam of "{name}" posts of its own')
                supports.append(support.model_copy(update={"shares_posts_with": ""}))
            elif isinstance(support, Hung) and support.on == other:
                words.append(f'give "{name}" a beam line of its own')
                supports.append(BeamLine(kind="beam", offset=side.at + side.inward * OWN_LINE))
            else:
                supports.append(support)
        if tuple(supports) != platform.supports:
            plan = with_supports(plan, name, supports)
    return (study, ()) if plan is study.asked else (Study(plan), tuple(words))


def _moved(line: BeamLine, to: float, name: str, units: Units) -> tuple[str, ...]:
    """Say how far a beam line moves along the joists, nothing where it stays."""
    by = abs(to - line.offset)
    if by < 0.01:
        return ()
    return (
        f'move the beam line of "{name}" {format_length(by, units)}, from {format_length(line.offset, units)} '
        f"to {format_length(to, units)}",
    )


# -- shared posts --


def _meetings(study: Study, touch: Touch, side: Side) -> list[tuple[tuple[bool, float], int, Post]]:
    """Return the beam lines of the lower level that end at the edge with the upper one's posts there, best first.

    First the posts that stand at the edge, then those that need the shortest move.
    """
    half = read_size(study.plan.materials.post).thickness / 2
    found = []
    for post in study.layout.posts:
        if post.platform != touch.upper:
            continue
        v = side.frame.local(post.at)[1]
        if not side.reach[0] <= v <= side.reach[1]:
            continue
        back = point_to_line(post.at, touch.edge) - half
        for index, line in lines_of(study.asked.platform(touch.lower)):
            stretches = side.frame.across_at(v)
            if any(min(abs(end - side.at) for end in ends) <= HANG_GAP for ends in stretches):
                found.append(((back > HANG_GAP, abs(line.offset - v)), index, post))
    return sorted(found, key=lambda item: (item[0], item[1], item[2].mark))


def _on(study: Study, touch: Touch) -> str:
    """Return why no beam of the lower level hangs on the upper one's posts, or nothing where one does."""
    wishes = [
        wish for wish in study.layout.sharing
        if wish.platform == touch.lower and wish.neighbour == touch.upper
    ]  # fmt: skip
    if any(wish.post for wish in wishes):
        return ""
    return wishes[0].reason if wishes else f'no beam of "{touch.lower}" is laid out there'


def _cure(plan: Plan, tried: Study, touch: Touch, post: Post, reason: str) -> str:
    """Say what would let the beam hang there, and what a study of that plan finds."""
    units = plan.units
    side = Side.of(plan.platform(touch.upper), touch.edge)
    under = next(
        (m for m in tried.layout.of(touch.upper, Kind.BEAM) if any(b.on == post.mark for b in m.bearings)),
        None,
    )
    if under is None or under.support is None or not side.across:
        return reason.rpartition(": ")[2]
    line = plan.platform(touch.upper).supports[under.support]
    assert isinstance(line, BeamLine)
    if "back from" in reason:
        to = side.at + side.inward * post.width / 2
        better = with_line(plan, touch.upper, under.support, offset=to, build="auto")
        words = f'move the post line of "{touch.upper}" {format_length(abs(to - line.offset), units)} out to the edge'
    else:
        better = with_line(plan, touch.upper, under.support, style="flush", build="auto")
        words = f'make the beam of "{touch.upper}" flush'
    left = _on(Study(better), touch)
    return f"{words}: computed, the beam then hangs there" if left == "" else f"{words}; even so, {left}"


# -- hung joists --


def _let_hang(plan: Plan, touch: Touch, side: Side) -> tuple[Plan, tuple[str, ...]]:
    """Let the lower level's joists hang at the edge in place of the beam line nearest to it, if that is near."""
    lower = plan.platform(touch.lower)
    supports = list(lower.supports)
    near = nearest_line(lower, side.at)
    if near is not None and abs(near[1].offset - side.at) < side.frame.depth / 3:
        supports[near[0]] = Hung(kind="hung", on=touch.upper)
        words = f'hang the joists of "{touch.lower}" there, in place of its beam line'
    else:
        supports.insert(0, Hung(kind="hung", on=touch.upper))
        words = f'hang the joists of "{touch.lower}" there as well'
    return with_supports(plan, touch.lower, supports), (words,)


def _with_edge_beam(plan: Plan, touch: Touch, side: Side, index: int, style: str, build: str) -> Study | None:
    """Return the study with the upper level's beam at the edge, its face on it; None where it meets no line there.

    The beam's thickness follows from its load, so that its line is set out once more when that is known.
    """
    back = 2.25
    study = None
    for _ in range(2):
        tried = with_line(
            plan, touch.upper, index, offset=side.at + side.inward * back, style=style, build=build
        )
        study = Study(tried)
        beams: list[Member] = [m for m in study.layout.of(touch.upper, Kind.BEAM) if m.support == index]
        if not beams or beams[0].width / 2 == back:
            break
        back = beams[0].width / 2
    return study


def _no_hanger(tries: list[tuple[Study, BeamLine]], touch: Touch) -> Refused:
    """Say why no beam at the edge takes the hangers, and within which drop one of the deepest would."""
    study, _ = tries[0]
    units = study.plan.units
    reason = next(c.reason for c in study.checks if c.rule == HUNG_RULE and c.verdict is Verdict.FAIL)
    below = study.layout.of(touch.lower, Kind.JOIST)
    above = study.layout.of(touch.upper, Kind.JOIST)
    if not below or not above:
        return Refused(reason, "joists on both sides")
    deep = read_size(DEEPEST).depth
    flush = max(0.0, deep - below[0].depth)
    low, high = above[0].depth, above[0].depth + flush
    return Refused(
        reason,
        f"a beam {format_short(deep, units)} deep takes joists of {format_short(below[0].depth, units)} where the "
        f"surfaces lie up to {format_short(flush, units)} apart (flush beam), or {format_short(low, units)} to "
        f"{format_short(high, units)} (drop beam); here it is {format_short(touch.drop, units)}",
    )
