"""What was changed between two plans, in the words of the trade: supports and flights, what the chooser touches."""

from __future__ import annotations

from collections.abc import Iterator

from deckplan.explore.changes import AnySupport
from deckplan.geometry import distance
from deckplan.plan.model import BeamLine, Flight, Hung, Ledger, Plan, Platform
from deckplan.units import Units, format_length


def differences(before: Plan, after: Plan) -> tuple[str, ...]:
    """Return what stands otherwise in the second plan than in the first: one sentence each, none where all is equal."""
    found = [
        words
        for one in before.platforms
        for words in _supports(one, after.platform(one.name), before.units)
    ]  # fmt: skip
    for index, flight in enumerate(after.flights):
        was = before.flights[index] if index < len(before.flights) else None
        found += _flight(index, was, flight, before.units)
    return tuple(dict.fromkeys(found))


def _supports(before: Platform, after: Platform, units: Units) -> Iterator[str]:
    added = len(after.supports) - len(before.supports)
    for support in after.supports[: max(0, added)]:
        yield _made(before.name, support, units)
    for was, now in zip(before.supports, after.supports[max(0, added) :], strict=True):
        if was == now:
            continue
        if isinstance(was, BeamLine) and isinstance(now, BeamLine):
            yield from _line(before.name, was, now, units)
        else:
            yield f"{_made(before.name, now, units)}, in place of {_called(was)}"


def _line(name: str, was: BeamLine, now: BeamLine, units: Units) -> Iterator[str]:
    if now.offset is None or was.offset is None:
        if (now.offset, now.line) != (was.offset, was.line):
            yield f'give the beam line of "{name}" another place'
    elif by := abs(now.offset - was.offset):
        yield (
            f'move the beam line of "{name}" {format_length(by, units)}, from {format_length(was.offset, units)} '
            f"to {format_length(now.offset, units)}"
        )
    if now.shares_posts_with != was.shares_posts_with:
        if now.shares_posts_with:
            yield f'let the beam of "{name}" hang on a post of "{now.shares_posts_with}"'
        else:
            yield f'give the beam of "{name}" posts of its own'
    if now.stands_on != was.stands_on:
        if now.stands_on:
            yield f'stand the posts of "{name}" on the frame of "{now.stands_on}"'
        else:
            yield f'let the posts of "{name}" go through to the ground'
    if now.seat != was.seat:
        yield f'seat the beam of "{name}" {"in notched posts" if now.seat == "notch" else "on post caps"}'
    if now.style != was.style:
        yield f'make the beam of "{name}" a {now.style} beam'
    if now.posts != was.posts and isinstance(now.posts, tuple):
        places = ", ".join(format_length(at, units) for at in now.posts)
        yield f'set the posts under the beam of "{name}" at {places} along it'
    if now.build not in (was.build, "auto"):
        yield f'build the beam of "{name}" of {now.build}'


def _made(name: str, support: AnySupport, units: Units) -> str:
    if isinstance(support, Hung):
        return f'hang the joists of "{name}" on the beam of "{support.on}"'
    if isinstance(support, BeamLine):
        where = "at an angle" if support.offset is None else f"at {format_length(support.offset, units)}"
        return f'give "{name}" a beam line of its own {where}'
    return f'hang "{name}" on "{support.wall}"'


def _called(support: AnySupport) -> str:
    if isinstance(support, Ledger):
        return "its ledger"
    return "its beam line" if isinstance(support, BeamLine) else "the neighbour's beam"


def _flight(index: int, was: Flight | None, now: Flight, units: Units) -> Iterator[str]:
    if was is None:
        wide = f" {format_length(distance(*now.along), units)} wide" if now.along else ""
        yield f'add a {now.kind} step{wide} from "{now.upper}" to "{now.lower}"'
    elif was.kind != now.kind:
        yield f"make flight S{index + 1} a {now.kind} step"
    else:
        return
