"""Beams and posts that would fill the same space, and joists on supports so near that they pry on each other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations, pairwise

from deckplan.geometry import distance, unit
from deckplan.layout.ends import cut_shape
from deckplan.layout.model import Kind, Layout, Member, Post
from deckplan.levels.model import Note
from deckplan.plan.model import Plan
from deckplan.units import format_length, format_short
from deckplan.verdict import Check, Source, at_most

GEOMETRY = Source("Geometry", "two pieces of wood do not fill the same space", "derived")
BEAMS = "beams clear of each other"
POSTS = "posts clear of each other"

SLACK = 0.25
"""Wood that meets by no more than this is planed or shimmed [in]. Source: common practice."""

PRIES = 10.0
"""A span this many times as long as the one beside it pries on that one's far bearing. Source: common practice."""


def check_apart(plan: Plan, layout: Layout) -> list[Check]:
    """Check that no two beams of a platform, and no two posts at all, stand in one place."""
    found: list[Check] = []
    for platform in plan.platforms:
        beams = layout.of(platform.name, Kind.BEAM)
        clashes = [
            (one, other, into) for one, other in combinations(beams, 2) if (into := _into(one, other)) > SLACK
        ]
        found += [_beams(plan, *clash) for clash in clashes]
        if len(beams) > 1 and not clashes:
            found.append(at_most(beams[0].mark, BEAMS, GEOMETRY, 0.0, SLACK, "in"))
    clashes_of_posts = list(_posts_in_one_place(layout))
    found += [_posts(plan, *clash) for clash in clashes_of_posts]
    if len(layout.posts) > 1 and not clashes_of_posts:
        found.append(at_most(layout.posts[0].mark, POSTS, GEOMETRY, 0.0, SLACK, "in"))
    return found


def _into(one: Member, other: Member) -> float:
    """Return how far two beams reach into each other [in], square to the first; nothing where they do not.

    Of beams at an angle to each other it is the side of a square as large as what they share in plan.
    """
    if min(one.top, other.top) - max(one.bottom, other.bottom) <= SLACK or not one.length or not other.length:
        return 0.0
    (x, y), (ux, uy), (vx, vy) = one.start, unit(*one.line), unit(*other.line)
    if abs(ux * vy - uy * vx) > 1e-6:
        from shapely import Polygon

        here, there = (Polygon(cut_shape(each.line, each.width, each.cuts)) for each in (one, other))
        return math.sqrt(here.intersection(there).area)
    places = [((px - x) * ux + (py - y) * uy, (py - y) * ux - (px - x) * uy) for px, py in other.line]
    low, high = sorted(s for s, _ in places)
    if min(one.length, high) - max(0.0, low) <= SLACK:
        return 0.0  # end to end, or past each other
    aside = min(abs(q) for _, q in places) if places[0][1] * places[1][1] > 0 else 0.0
    return max(0.0, (one.width + other.width) / 2 - aside)


def _beams(plan: Plan, one: Member, other: Member, into: float) -> Check:
    apart = (one.width + other.width) / 2
    reason = (
        f'{one.mark} and {other.mark} of platform "{one.platform}" stand {format_short(into, plan.units)} in one '
        f"another: their lines want {format_short(apart, plan.units)} from middle to middle; move one line or leave it "
        f"out (two supports so near pry on each other, so the forces on them are large)"
    )
    return at_most(one.mark, BEAMS, GEOMETRY, into, SLACK, "in", reason=reason)


def _posts_in_one_place(layout: Layout) -> Iterator[tuple[Post, Post, float]]:
    """Yield pairs of posts that stand in one another and how far [in]; one on top of the other does not."""
    widest = max((post.width for post in layout.posts), default=0.0)
    ordered = sorted(layout.posts, key=lambda post: post.at)
    for number, one in enumerate(ordered):
        for other in ordered[number + 1 :]:
            if other.at[0] - one.at[0] >= widest:
                break
            half = (one.width + other.width) / 2
            into = min(half - abs(one.at[0] - other.at[0]), half - abs(one.at[1] - other.at[1]))
            if into > SLACK and min(one.top, other.top) - max(one.bottom, other.bottom) > SLACK:
                yield one, other, into


def _posts(plan: Plan, one: Post, other: Post, into: float) -> Check:
    place = ", ".join(format_length(x, plan.units) for x in other.at)
    apart = format_short(distance(one.at, other.at), plan.units)
    reason = (
        f'{one.mark} of "{one.platform}" and {other.mark} of "{other.platform}" stand '
        f"{format_short(into, plan.units)} in one another at ({place}), {apart} "
        f"from middle to middle: move one along its beam, or let one beam hang on the other's post (shares_posts_with)"
    )
    return at_most(one.mark, POSTS, GEOMETRY, into, SLACK, "in", reason=reason)


def prying_notes(plan: Plan, layout: Layout) -> tuple[Note, ...]:
    """Say where a joist's short span beside a long one makes a lever of it: that is why forces there are large."""
    found: dict[tuple[str, str], str] = {}
    for joist in layout.members:
        if joist.kind is not Kind.JOIST:
            continue
        bearings = sorted(joist.bearings, key=lambda bearing: bearing.at)
        spans = [(b.at - a.at, a.on, b.on) for a, b in pairwise(bearings) if b.at - a.at > 1e-6]
        for (first, one, middle_), (second, _, other) in pairwise(spans):
            short, long = sorted((first, second))
            if long < PRIES * short:
                continue
            pair = (one, middle_) if first < second else (middle_, other)
            found.setdefault(
                pair,
                f"{pair[0]} and {pair[1]} stand {format_short(short, plan.units)} apart beside a span of "
                f"{format_length(long, plan.units)}: the joists pry on them like a lever, so that one is pressed and "
                f"the other lifted many times harder than their shares; set them farther apart or leave one out",
            )
    return tuple(Note("advice", text) for text in found.values())
