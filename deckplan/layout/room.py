"""Furnish every platform for its use and people, and see what fits, what does not and where one can walk."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import MappingProxyType

import shapely
from shapely import Polygon

from deckplan.geometry import Line
from deckplan.layout.model import Layout
from deckplan.layout.over import Over, levels_over
from deckplan.layout.platform_frame import letter
from deckplan.layout.room_comfort import Sayings
from deckplan.layout.room_keep import (
    SEATED,
    keep_outs_of,
    obstacles_of,
    open_edges,
    say_distances,
    say_edges,
    strips_along,
)
from deckplan.layout.room_model import Group, Room, Rooms
from deckplan.layout.room_over import covers_of, held_back, posts_on
from deckplan.layout.room_place import Site, place
from deckplan.layout.room_say import say_covers, say_people, say_seats, say_ways
from deckplan.layout.room_sizes import room_for
from deckplan.layout.room_uses import MAKERS, MOST_AT_ONE, TIERS, Maker, kind_of
from deckplan.layout.room_ways import depth_of, find_gates, find_ways, flights_on, widest
from deckplan.levels.model import Levels
from deckplan.levels.places import outline_of
from deckplan.plan.model import Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.units import Units, format_short, listed


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
    widths = (room_for("good path"), room_for("path"))
    obstacles = obstacles_of(plan, levels, layout, platform, use, covers, posts)

    room = _largest(outline.difference(shapely.union_all(steps)))
    free = _largest(room.difference(shapely.union_all(clear)))
    held = _largest(outline.difference(strips_along(edges))) if use in SEATED else outline
    site = Site(outline, room, free, held, gates, steps, obstacles)
    groups, missing = _place_all(use, platform.people, site, widths)
    taken = [*steps, *(Polygon(group.taken) for group in groups)]
    ways = find_ways(outline, taken, gates, widths) if len(gates) > 1 else ()
    bare = tuple(
        way.width or widest(outline, [*steps], (gates[0], gate), widths[-1])
        for way, gate in zip(ways, gates[1:], strict=False)
    )
    seated = sum(group.seats for group in groups)
    say_covers(say, covers, profile, units)
    say_seats(say, use, platform, groups, seated, units, _kept_clear(use, posts, edges, units), missing)
    say_ways(say, ways, bare, units)
    say_edges(say, use, groups, edges, units)
    say_people(say, platform, float(outline.area) / 144, use)
    say_distances(say, use, obstacles, groups, units)
    keep_outs = keep_outs_of(outline_of(platform).difference(holes), use, obstacles, edges)
    return Room(
        platform.name, mark, use, platform.people, seated, groups, missing, gates, ways, edges,
        tuple(say.checks), tuple(say.notes), covers, posts, keep_outs,
    )  # fmt: skip


def _kept_clear(use: str, posts: Sequence[object], edges: Sequence[Line], units: Units) -> str:
    """Say what seats leave clear."""
    off = f"{format_short(room_for('back from an open edge'), units)} along open edges"
    kept = ["landings", *(["the posts"] if posts else []), *([off] if edges and use in SEATED else [])]
    return listed(kept)


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
