"""Furnish every platform for its use and people, and see what fits, what does not and where one can walk."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise
from types import MappingProxyType

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Line
from deckplan.layout.boards_bearing import lines_of
from deckplan.layout.model import Layout
from deckplan.layout.over import Over, levels_over
from deckplan.layout.platform_frame import letter
from deckplan.layout.room_comfort import Sayings
from deckplan.layout.room_model import Cover, Group, Room, Rooms, Way
from deckplan.layout.room_over import covers_of, held_back, posts_on
from deckplan.layout.room_place import Site, place
from deckplan.layout.room_sets import (
    FurnitureSet,
    cooking_set,
    corner_set,
    dining_set,
    fire_set,
    lounge_set,
    planting_set,
    sun_set,
    tub_set,
)
from deckplan.layout.room_sizes import clearance, fire_circle, room_for, standing_area, standing_guests
from deckplan.layout.room_ways import depth_of, find_gates, find_ways, flights_on
from deckplan.levels.model import Levels
from deckplan.levels.places import outline_of
from deckplan.plan.model import Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.units import Units, format_short
from deckplan.verdict import Source

Maker = Callable[[int, float], FurnitureSet]

GUIDANCE = Source("Room to live", "", "trade guidance")

MOST_AT_ONE = {"dining": 12, "lounge": 8, "sun": 6, "fire": 10, "cooking": 0, "planting": 0, "tub": 0}
"""How many people one set of a use takes; more people get more sets."""

MAKERS: dict[str, tuple[Maker, ...]] = {
    "dining": (dining_set,),
    "lounge": (lounge_set, corner_set),
    "sun": (sun_set,),
    "fire": (fire_set,),
    "cooking": (cooking_set,),
    "planting": (planting_set,),
    "tub": (tub_set,),
}
"""The ways to set out each use, the best first."""

# The clearances that a set is tried with, the best first, by their names in the data.
TIERS: dict[str, tuple[str, ...]] = {
    "dining": ("walk behind a chair", "edge past a chair", "rise behind a chair"),
    "lounge": ("path", "behind a sofa"),
    "sun": ("at a lounger's foot",),
    "fire": ("fire ring",),
    "cooking": ("grill working room",),
    "planting": ("bench working room",),
    "tub": ("tub service room",),
}

WORDS: tuple[tuple[str, str], ...] = (
    ("tub", r"tub|spa"),
    ("fire", r"fire"),
    ("cooking", r"cook|grill|kitchen|barbecue"),
    ("dining", r"dining|dinner|eat|meal|breakfast|lunch"),
    ("lounge", r"lounge|sitting|seats|sofa|reading|conversation"),
    ("sun", r"\bsun(?!day)"),
    ("planting", r"plant|potting|herb"),
)
"""How a use in free words is understood, first match first; any other use gets no furniture, only room to stand."""

SEATED = ("dining", "lounge", "fire")
"""Uses in which people sit on chairs that can slide back."""


def furnish(plan: Plan, profile: Profile, levels: Levels, layout: Layout) -> Rooms:
    """Furnish every platform of a settled plan."""
    overs = levels_over(plan, levels, layout)
    return Rooms(
        MappingProxyType(
            {
                one.name: furnish_platform(plan, profile, levels, layout, one, letter(index), overs)
                for index, one in enumerate(plan.platforms)
            }
        )
    )


def kind_of(use: str) -> str:
    """Return which furniture a use in free words asks for, empty where none is known.

    >>> kind_of("Dining"), kind_of("gas fire"), kind_of("passage")
    ('dining', 'fire', '')
    """
    text = use.lower()
    return next((kind for kind, words in WORDS if re.search(words, text)), "")


def open_edges(plan: Plan, levels: Levels, layout: Layout, platform: str) -> tuple[Line, ...]:
    """Return the edges with a drop that tips a chair and no guard asked for; a higher platform beside closes one."""
    least = room_for("drop that tips a chair")
    here = levels.elevation(platform)
    higher = shapely.union_all(
        [outline_of(one).buffer(1.0) for one in plan.platforms if levels.elevation(one.name) > here + least]
    )
    found: list[Line] = []
    for guard in layout.guards:
        if (
            guard.platform == platform
            and not guard.required
            and guard.drop >= least
            and guard.start != guard.end
        ):
            found += lines_of(LineString((guard.start, guard.end)).difference(higher), 1.5)
    return tuple(found)


def furnish_platform(
    plan: Plan,
    profile: Profile,
    levels: Levels,
    layout: Layout,
    platform: Platform,
    mark: str,
    overs: Sequence[Over],
) -> Room:
    """Furnish one platform; mark: its letter; overs: the plan's levels that lie over each other."""
    covers, posts = covers_of(overs, profile, platform), posts_on(levels, layout, platform)
    holes = shapely.union_all([Polygon(opening.outline) for opening in platform.openings])
    outline = _largest(outline_of(platform).difference(holes).difference(held_back(covers, posts)))
    use, units = kind_of(platform.use), plan.units
    say = Sayings(platform.name)
    gates = find_gates(plan, levels, platform)
    steps = flights_on(levels, platform)
    landing = profile.landing_depth_min.value
    clear = [depth_of(gate.line, gate.inward, landing) for gate in gates if not gate.level]
    edges = open_edges(plan, levels, layout, platform.name)
    back = room_for("back from an open edge")
    strips = [LineString(edge).buffer(back, cap_style="flat") for edge in edges]
    widths = (room_for("good path"), room_for("path"))
    away = _away(plan, platform) if use in ("cooking", "fire") else ()

    room = _largest(outline.difference(shapely.union_all(steps)))
    free = _largest(room.difference(shapely.union_all(clear)))
    held = _largest(outline.difference(shapely.union_all(strips))) if use in SEATED else outline
    site = Site(outline, room, free, held, gates, steps, away)
    groups, missing = _place_all(use, platform.people, site, widths)
    if missing and held is not outline:
        # rather near an edge than not at all; it is said below
        more, fewer = _place_all(use, platform.people, replace(site, held=outline), widths)
        if sum(g.seats for g in more) > sum(g.seats for g in groups):
            groups, missing = more, fewer
    taken = [*steps, *(Polygon(group.taken) for group in groups)]
    ways = find_ways(outline, taken, gates, widths) if len(gates) > 1 else ()
    seated = sum(group.seats for group in groups)
    _say_covers(say, covers, profile, units)
    _say_seats(say, use, platform, groups, seated, units, "landings and the posts" if posts else "landings")
    _say_ways(say, ways, units)
    _say_edges(say, use, groups, edges, units)
    _say_people(say, platform, float(outline.area) / 144, use)
    if use in ("cooking", "fire"):
        _say_distances(say, use, plan, levels, layout, platform, groups)
    return Room(
        platform.name, mark, use, platform.people, seated, groups, missing, gates, ways, edges,
        tuple(say.checks), tuple(say.notes), covers, posts,
    )  # fmt: skip


def _largest(shape: object) -> Polygon:
    parts = [p for p in getattr(shape, "geoms", [shape]) if p.geom_type == "Polygon"]
    return max(parts, key=lambda p: p.area, default=Polygon())


def _place_all(
    use: str, people: int, site: Site, widths: tuple[float, ...]
) -> tuple[tuple[Group, ...], tuple[str, ...]]:
    """Place sets until all people have a seat or nothing more fits; what is left over is named."""
    if use not in MAKERS:
        return (), ()
    makers, most = MAKERS[use], MOST_AT_ONE[use]
    if not most or (use == "fire" and not people):
        one = _first_fit(makers, (people,), use, site, widths)
        return ((one,), ()) if one else ((), (makers[0](people, room_for(TIERS[use][0])).name,))
    groups: list[Group] = []
    left = people
    while left > 0 and not site.free.is_empty:
        one = _first_fit(makers, range(min(left, most), 0, -1), use, site, widths)
        if one is None:
            break
        groups.append(one)
        left -= one.seats
        body = Polygon(one.taken)
        site = replace(
            site, room=_largest(site.room.difference(body)), free=_largest(site.free.difference(body)),
            taken=(*site.taken, body),
        )  # fmt: skip
    missing = (f"{left} of {people} seats",) if left > 0 else ()
    return tuple(groups), missing


def _first_fit(
    makers: tuple[Maker, ...], sizes: Sequence[int], use: str, site: Site, widths: tuple[float, ...]
) -> Group | None:
    # rather fewer seats than a barred way; a barred way rather than nothing at all
    for barring in (False, True) if not site.taken else (False,):
        for people in sizes:
            for tier in TIERS[use]:
                for maker in makers:
                    made = maker(people, room_for(tier))
                    # a way to set out that knows no group of this size gives another one
                    if made.seats not in (0, people):
                        continue
                    group = place(site, made, widths, barring=barring)
                    if group is not None:
                        return group
    return None


def _away(plan: Plan, platform: Platform) -> tuple[Line, ...]:
    """Return what a fire or a grill is kept far from: doors, and house walls near by."""
    walls = [line for wall in plan.house.walls for line in pairwise(wall.line)]
    near = outline_of(platform).buffer(room_for("fire to house"))
    return tuple(line for line in walls if near.intersects(LineString(line)))


def _say_seats(
    say: Sayings,
    use: str,
    platform: Platform,
    groups: tuple[Group, ...],
    seated: int,
    units: Units,
    kept: str,
) -> None:
    if use in MAKERS and MOST_AT_ONE[use] and platform.people:
        fits = f"room for {seated} of {platform.people} to sit"
        say.at_least("seats with their room", seated, platform.people, "people", GUIDANCE,
                     f"{fits} with the {kept} kept clear: fewer seats, or a larger platform")  # fmt: skip
    elif use in MAKERS and not groups and (platform.people or not MOST_AT_ONE[use]):
        say.advise(f"no room for the {use} with what it needs round it")
    if use == "dining" and groups:
        tier = min(group.clearance for group in groups)
        good = clearance("edge past a chair")
        say.at_least("room behind the chairs", tier, good.value, "in", good,
                     f"{format_short(tier, units)} behind the chairs is enough to rise, not for a person to edge past "
                     f"({format_short(good.value, units)})")  # fmt: skip
    if use == "fire":
        ring = clearance("fire ring")
        there = fire_circle() if groups else 0.0
        say.at_least("circle round the fire", there, fire_circle(), "in", ring,
                     f"no circle of {format_short(fire_circle(), units)} fits: the feature and "
                     f"{format_short(ring.value, units)} on each side")  # fmt: skip


def _say_covers(say: Sayings, covers: tuple[Cover, ...], profile: Profile, units: Units) -> None:
    for cover in covers:
        if cover.low:
            area = sum(Polygon(part).area for part in cover.outlines) / 144
            there = f"only {format_short(cover.clear, units)} over" if cover.clear > 0 else "in"
            say.advise(f'"{cover.level}" lies {there} {area:.0f} sq ft of it, '
                       f"{format_short(profile.headroom_min.value, units)} is asked where people walk: "
                       "no furniture and no way is put there")  # fmt: skip


def _say_ways(say: Sayings, ways: tuple[Way, ...], units: Units) -> None:
    least, good = clearance("path"), clearance("good path")
    for way in ways:
        name = f"way from {way.start} to {way.end}"
        open_ = say.at_least(name, way.width, least.value, "in", least,
                             f"no way {format_short(least.value, units)} wide from {way.start} to {way.end} "
                             "is left beside the furniture")  # fmt: skip
        if open_ and way.width < good.value - 1e-6:
            say.advise(f"the {name} is {format_short(way.width, units)} wide or more; "
                       f"{format_short(good.value, units)} lets two pass")  # fmt: skip


def _say_edges(
    say: Sayings, use: str, groups: tuple[Group, ...], edges: tuple[Line, ...], units: Units
) -> None:
    if use not in SEATED or not groups or not edges:
        return
    back = clearance("back from an open edge")
    gap = min(Polygon(group.swing).distance(LineString(edge)) for group in groups for edge in edges)
    say.at_least("chairs off edges without a guard", gap, back.value, "in", back,
                 f"chairs pushed back come within {format_short(gap, units)} of an edge with a drop and no guard: "
                 "a curb, a planter, a bench or a guard there keeps them on")  # fmt: skip


def _say_people(say: Sayings, platform: Platform, area: float, use: str) -> None:
    """Say how many guests may stand; for a party, hold the people against it."""
    if not platform.people or use in ("tub",):
        return
    need = standing_area(platform.people)
    say.at_least("room to stand", area, need, "sq ft", clearance("standing guest"),
                 f"{platform.people} guests standing take {need:.0f} sq ft, there are {area:.0f}: "
                 f"room for {standing_guests(area)}")  # fmt: skip


def _say_distances(
    say: Sayings,
    use: str,
    plan: Plan,
    levels: Levels,
    layout: Layout,
    platform: Platform,
    groups: tuple[Group, ...],
) -> None:
    """Hold the fire or the grill against house, openings, rails and the levels above."""
    hot = [p.outline for g in groups for p in g.pieces if p.name in ("fire feature", "grill")]
    if not hot:
        return
    shape, here = Polygon(hot[0]), levels.elevation(platform.name)
    what = "fire" if use == "fire" else "grill"
    far = clearance("fire to house" if use == "fire" else "grill to openings")
    spots: list[tuple[str, BaseGeometry]] = []
    spots += [(wall.name, LineString(wall.line)) for wall in plan.house.walls] if use == "fire" else []
    spots += [(door.name, shapely.Point(door.at).buffer(door.width / 2)) for door in plan.house.doors]
    spots += [
        (f"the level above, {other.name}", outline_of(other))
        for other in plan.platforms
        if other.name != platform.name and levels.elevation(other.name) > here + 36.0
    ]
    for name, other in spots:
        gap = float(shape.distance(other))
        say.at_least(f"{what} to {name}", gap, far.value, "in", far,
                     f"the {what} stands {format_short(gap, plan.units)} from {name}, under "
                     f"{format_short(far.value, plan.units)}: {far.note}")  # fmt: skip
    rails = [
        LineString((g.start, g.end)) for g in layout.guards if g.platform == platform.name and g.required
    ]
    if rails and use == "cooking":
        least = clearance("grill to rails")
        gap = float(min(shape.distance(rail) for rail in rails))
        say.at_least("grill to the rails", gap, least.value, "in", least,
                     f"the grill stands {format_short(gap, plan.units)} from a rail: {least.note}")  # fmt: skip
