"""A deck set out by hand for the drawing tests: two platforms, a box step, a door, invented."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.geometry import Line, Point
from deckplan.layout.model import GuardStretch, Kind, Layout, Member, Pad, Post
from deckplan.levels.model import Level, Levels, Rise
from deckplan.plan.model import Plan
from deckplan.rules import load_profile
from deckplan.rules.profile import Profile

FOOT = 12.0


@dataclass(frozen=True)
class Slope:
    """Ground that falls a quarter inch to the foot away from the house."""

    def elevation_at(self, at: Point) -> float:
        return -at[1] / 48

    def slope_at(self, at: Point) -> float:
        return 1 / 48

    def measured_at(self, at: Point) -> bool:
        return True


@dataclass(frozen=True)
class Footing:
    mark: str
    at: Point
    diameter: float
    thickness: float
    top: float
    bottom: float
    design: float


@dataclass(frozen=True)
class Deck:
    """Stands in for a study."""

    plan: Plan
    levels: Levels
    layout: Layout
    profile: Profile
    footings: tuple[Footing, ...]


def plan_of(name: str = "Two terraces", units: str = "us", upper: str = "upper") -> Plan:
    return Plan.model_validate(
        {
            "name": name,
            "units": units,
            "site": {
                "frost_depth": 42.0,
                "boundary": [{"kind": "property", "line": [(-60, 330), (500, 330)], "setback": 24.0}],
            },
            "house": {
                "wall": [{"name": "south wall", "line": [(0, 0), (360, 0)], "ledger": True}],
                "door": [{"name": "garden door", "at": (96, 0), "width": 72.0, "sill": 31.5}],
            },
            "platform": [
                {
                    "name": upper,
                    "outline": [(24, 0), (216, 0), (216, 144), (24, 144)],
                    "elevation": 30.0,
                    "joists": {"direction": "y", "size": "2x8", "spacing": 16.0},
                    "support": [
                        {"kind": "ledger", "wall": "south wall"},
                        {"kind": "beam", "offset": 120.0, "build": "2-2x10", "posts": 3},
                    ],
                },
                {
                    "name": "lower",
                    "outline": [(216, 24), (360, 24), (360, 168), (216, 168)],
                    "elevation": 19.5,
                    "joists": {"direction": "x", "size": "2x8", "spacing": 16.0},
                    "support": [
                        {"kind": "beam", "offset": 18.0, "build": "2-2x8", "style": "flush", "posts": 2},
                        {"kind": "beam", "offset": 126.0, "build": "2-2x8", "style": "flush", "posts": 2},
                    ],
                },
            ],
            "flight": [
                {"from": upper, "to": "lower", "along": [(216, 48), (216, 120)], "kind": "box", "tread": 14.0}
            ],
        }
    )


def member(
    mark: str, platform: str, kind: Kind, size: str, line: Line, top: float, width: float, depth: float
) -> Member:
    return Member(mark, platform, kind, size, *line, top, width, depth)


def deck(name: str = "Two terraces", units: str = "us", upper: str = "upper") -> Deck:
    plan = plan_of(name, units, upper)
    parts: list[Member] = []
    tops = {upper: 29.0, "lower": 18.5}
    for i in range(13):
        x = min(24.75 + 16 * i, 215.25)
        parts.append(member(f"A-J{i + 1}", upper, Kind.JOIST, "2x8", ((x, 1.5), (x, 142.5)), 29.0, 1.5, 7.25))
    for i in range(10):
        y = min(24.75 + 16 * i, 167.25)
        parts.append(
            member(f"B-J{i + 1}", "lower", Kind.JOIST, "2x8", ((217.5, y), (358.5, y)), 18.5, 1.5, 7.25)
        )
    parts += [
        member("A-L1", upper, Kind.LEDGER, "2x8", ((24, 0.75), (216, 0.75)), 29.0, 1.5, 7.25),
        member("A-R1", upper, Kind.RIM, "2x8", ((24, 143.25), (216, 143.25)), 29.0, 1.5, 7.25),
        member("A-B1", upper, Kind.BEAM, "2-2x10", ((24, 120), (216, 120)), 29.0 - 7.25, 3.0, 9.25),
        member("B-R1", "lower", Kind.RIM, "2x8", ((216.75, 24), (216.75, 168)), 18.5, 1.5, 7.25),
        member("B-R2", "lower", Kind.RIM, "2x8", ((359.25, 24), (359.25, 168)), 18.5, 1.5, 7.25),
        member("B-B1", "lower", Kind.BEAM, "2-2x8", ((234, 25.5), (234, 166.5)), 18.5, 3.0, 7.25),
        member("B-B2", "lower", Kind.BEAM, "2-2x8", ((342, 25.5), (342, 166.5)), 18.5, 3.0, 7.25),
    ]
    spots = [("A", upper, (26.75, 120.0)), ("A", upper, (120.0, 120.0)), ("A", upper, (213.25, 120.0))]
    spots += [("B", "lower", (x, y)) for x in (234.0, 342.0) for y in (28.0, 164.0)]
    posts, pads, footings = [], [], []
    count = {"A": 0, "B": 0}
    for lead, platform, at in spots:
        count[lead] += 1
        ground = -at[1] / 48
        under = tops[platform] - (7.25 + 9.25 if lead == "A" else 7.25)
        mark, pad = f"{lead}-P{count[lead]}", f"{lead}-F{count[lead]}"
        posts.append(Post(mark, platform, at, "6x6", 5.5, under, ground, (platform,), pad))
        pads.append(Pad(pad, at, ground, ground - 42))
        size, load = (16.0, 2000.0) if lead == "A" else (14.0, 1500.0)
        footings.append(Footing(pad, at, size, 8.0, ground, ground - 42, load))
    rise = Rise(0, upper, "lower", "box", ((216.0, 48.0), (216.0, 120.0)), (1.0, 0.0), 30.0, 19.5, 2, 14.0)
    levels = Levels((Level(upper, 30.0, False), Level("lower", 19.5, False)), (rise,), Slope(), ())
    guards = (GuardStretch(upper, (24.0, 144.0), (24.0, 0.0), 32.0, True, "drop over 30 in"),)
    frame = Layout(tuple(parts), tuple(posts), tuple(pads), guards)
    return Deck(plan, levels, frame, load_profile(plan.rules), tuple(footings))


def test_the_deck_set_out_by_hand_stands_on_its_posts() -> None:
    made = deck()
    assert len(made.layout.posts) == len(made.footings) == 7
    assert made.layout.by_mark["A-P2"].height == 29.0 - 7.25 - 9.25 + 120 / 48
