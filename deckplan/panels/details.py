"""Which details there are to look at: how pieces bear on what carries them, and every flight."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from deckplan.draw.connection_view import bearings_shown, connection_view
from deckplan.draw.flight_view import flight_view
from deckplan.draw.scene import Scene
from deckplan.draw.sheet import Sheet
from deckplan.layout.model import Bearing, Kind, Member, Pad, Post
from deckplan.study import Study
from deckplan.tabulate import flight_mark

MANNERS = {
    "cap": "on a cap on",
    "notch": "in the notched head of",
    "hanger": "in a hanger on",
    "splice": "spliced over",
}
"""How a piece bears, in words; whatever is not here lies on what carries it."""


@dataclass(frozen=True, slots=True)
class Detail:
    """One detail: key, to ask for it by; words, with its marks; group: what it is a detail of."""

    key: str
    words: str
    group: str


def details_of(study: Study, picked: str = "") -> tuple[Detail, ...]:
    """Return the details of a study, of bearings that are alike one.

    picked: a mark; every bearing of it, and on it, then comes first.
    """
    own = own_details(study, picked)
    keys = {one.key for one in own}
    alike: dict[tuple[object, ...], Detail] = {}
    for member, bearing in bearings_shown(study):
        carrier = study.layout.by_mark.get(bearing.on)
        size = getattr(carrier, "size", "")
        kind = (member.platform, member.kind, member.size, bearing.manner, type(carrier), size)
        alike.setdefault(kind, _detail(member, bearing, ""))
    for post in study.layout.posts:
        if post.stands_on:
            below = study.layout.by_mark[post.stands_on]
            made = (getattr(below, "kind", ""), getattr(below, "size", ""))
            alike.setdefault((post.platform, post.size, *made), _foot(post, ""))
    flights = (
        Detail(mark, f"{mark}  {rise.upper} to {rise.lower}", "steps")
        for rise in study.levels.flights
        if (mark := flight_mark(rise)) not in keys
    )
    others = sorted((one for one in alike.values() if one.key not in keys), key=lambda one: one.group)
    return (*own, *others, *flights)


def own_details(study: Study, mark: str) -> tuple[Detail, ...]:
    """Return the details of one mark, none for an empty one: what it bears on, what bears on it, its flight."""
    return tuple(_of_mark(study, mark)) if mark else ()


def detail_scene(study: Study, key: str, sheet: Sheet) -> Scene:
    """Return the drawing of a detail; raises KeyError for one that the study does not have."""
    member, _, on = key.partition("|")
    if on:
        return connection_view(study, member, on, sheet=sheet, titled=False)
    for rise in study.levels.flights:
        if flight_mark(rise) == member:
            return flight_view(study, rise.index, sheet=sheet, titled=False)
    raise KeyError(key)


def _of_mark(study: Study, mark: str) -> Iterator[Detail]:
    """Yield the details of one mark; of a footing those of its post."""
    flight = mark.partition("-")[0]
    for rise in study.levels.flights:
        if flight_mark(rise) == flight:
            yield Detail(flight, f"{flight}  {rise.upper} to {rise.lower}", f"of {mark}")
    if isinstance(study.layout.by_mark.get(mark), Pad):
        post = next((post.mark for post in study.layout.posts if post.footing == mark), mark)
    else:
        post = mark
    for one in study.layout.posts:
        if one.stands_on and mark in (one.mark, one.stands_on):
            yield _foot(one, f"of {mark}")
    for member, bearing in bearings_shown(study):
        if mark in (member.mark, bearing.on) or bearing.on == post:
            yield _detail(member, bearing, f"of {mark}")


def _foot(post: Post, group: str) -> Detail:
    words = f"{post.mark}  post on the frame, on {post.stands_on}"
    return Detail(f"{post.mark}|{post.stands_on}", words, group or "posts")


def _detail(member: Member, bearing: Bearing, group: str) -> Detail:
    if member.kind is Kind.LEDGER:
        words, of = f"{member.mark}  ledger on {bearing.on}", "ledgers"
    else:
        words = f"{member.mark}  {member.kind} {MANNERS.get(bearing.manner, 'on')} {bearing.on}"
        of = "beams" if member.kind is Kind.BEAM else "joists"
    return Detail(f"{member.mark}|{bearing.on}", words, group or of)
