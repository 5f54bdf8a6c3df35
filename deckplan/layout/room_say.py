"""What is said of a platform as a room: seats, ways, levels above, guests standing."""

from __future__ import annotations

from shapely import Polygon

from deckplan.layout.room_comfort import Sayings
from deckplan.layout.room_model import Cover, Group, Way
from deckplan.layout.room_sizes import clearance, fire_circle, in_words, standing_area, standing_guests
from deckplan.layout.room_uses import MAKERS, MOST_AT_ONE
from deckplan.plan.model import Platform
from deckplan.rules.profile import Profile
from deckplan.units import Units, format_short
from deckplan.verdict import Source

GUIDANCE = Source("Room to live", "", "trade guidance")


def say_seats(
    say: Sayings,
    use: str,
    platform: Platform,
    groups: tuple[Group, ...],
    seated: int,
    units: Units,
    kept: str,
    missing: tuple[str, ...],
) -> None:
    """Say for how many there are seats, and how good they are.

    kept: what they leave clear, in words; missing: what found no room.
    """
    if use in MAKERS and MOST_AT_ONE[use] and platform.people:
        fits = f"room for {seated} of {platform.people} to sit with the {kept} kept clear"
        cure = "fewer seats, or a larger platform" if seated else "a larger platform"
        say.at_least("seats with their room", seated, platform.people, "people", GUIDANCE,
                     f"{fits}: {cure}")  # fmt: skip
    elif use in MAKERS and not groups and (platform.people or not MOST_AT_ONE[use]):
        say.advise(f"no room for the {' or '.join(missing) or use} with what it needs round it")
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
                     f"no circle of {in_words(fire_circle(), units)} fits: the feature and "
                     f"{in_words(ring.value, units)} on each side")  # fmt: skip


def say_covers(say: Sayings, covers: tuple[Cover, ...], profile: Profile, units: Units) -> None:
    """Say which levels above leave no headroom."""
    for cover in covers:
        if cover.low:
            area = sum(Polygon(part).area for part in cover.outlines) / 144
            there = f"only {format_short(cover.clear, units)} over" if cover.clear > 0 else "in"
            say.advise(f'"{cover.level}" lies {there} {area:.0f} sq ft of it, '
                       f"{format_short(profile.headroom_min.value, units)} is asked where people walk: "
                       "no furniture and no way is put there")  # fmt: skip


def say_ways(say: Sayings, ways: tuple[Way, ...], bare: tuple[float, ...], units: Units) -> None:
    """Say how wide the ways are; bare: how wide each is or, where it is barred, would be without any furniture [in]."""
    least, good = clearance("path"), clearance("good path")
    for way, free in zip(ways, bare, strict=True):
        name, wide = f"way from {way.start} to {way.end}", format_short(least.value, units)
        short = f"no way {wide} wide from {way.start} to {way.end} is left beside the furniture"
        if free < least.value - 1e-6:
            there = f"no more than {format_short(free, units)} wide" if free else "no way through"
            short = (
                f"the platform itself leaves {there} from {way.start} to {way.end}, even without furniture: "
                f"a path is {wide}"
            )
        open_ = say.at_least(name, way.width, least.value, "in", least, short)
        if open_ and way.width < good.value - 1e-6:
            say.advise(f"the {name} is {format_short(way.width, units)} wide or more; "
                       f"{format_short(good.value, units)} lets two pass")  # fmt: skip


def say_people(say: Sayings, platform: Platform, area: float, use: str) -> None:
    """Say how many guests may stand; for a party, hold the people against it."""
    if not platform.people or use in ("tub",):
        return
    need = standing_area(platform.people)
    say.at_least("room to stand", area, need, "sq ft", clearance("standing guest"),
                 f"{platform.people} guests standing take {need:.0f} sq ft, there are {area:.0f}: "
                 f"room for {standing_guests(area)}")  # fmt: skip
