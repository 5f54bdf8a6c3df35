"""Guards round holes in a platform: IRC R312.1.1 (over 30 in down) and R312.1.3 (a sphere of 4 in), two copies."""

from __future__ import annotations

from typing import Any

import pytest
from shapely import LineString, Point, Polygon, box

from deckplan.buy.guards import count_guards
from deckplan.cli.study import study_to_json
from deckplan.draw.guard_view import guard_view
from deckplan.draw.scene import Area, Role, box_of
from deckplan.geometry import distance
from deckplan.layout.edges import find_guards
from deckplan.layout.guard_posts import POST
from deckplan.layout.holes import holes_of
from deckplan.layout.model import GuardStretch, Kind
from deckplan.levels.raise_levels import raise_levels
from deckplan.plan.model import Plan
from deckplan.rules import load_profile
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import Corner, beam, make_plan, platform, rectangle

WELL = rectangle(70, 50, 100, 80)
AROUND = 120.0  # four sides of 30 in


def holed(
    elevation: float = 60.0, outline: list[Corner] = WELL, kind: str = "opening", **more: Any
) -> dict[str, Any]:
    opening = [{"kind": kind, "outline": outline}]
    return platform(
        "deck", rectangle(0, 0, 192, 144), elevation, beam(12), beam(132), opening=opening,
        joists={"size": "2x10"}, **more,
    )  # fmt: skip


def round_hole(plan: Plan, rules: str = "irc-2021") -> list[GuardStretch]:
    profile = load_profile(rules)
    return [g for g in find_guards(plan, raise_levels(plan, profile), profile) if g.opening]


def length(stretches: list[GuardStretch]) -> float:
    return sum(distance(g.start, g.end) for g in stretches if g.required)


@pytest.mark.parametrize(("drop", "wanted"), [(29.9375, False), (30.0, False), (30.0625, True)])
def test_a_guard_where_a_person_falls_over_30_in_through_a_hole(drop: float, wanted: bool) -> None:
    found = round_hole(make_plan(holed(drop)))
    assert length(found) == pytest.approx(AROUND if wanted else 0.0)
    assert len(found) == 4
    assert all(g.drop == pytest.approx(drop) for g in found)
    assert all(g.reason.startswith("opening 1: ") for g in found)


@pytest.mark.parametrize(("wide", "wanted"), [(3.9, False), (4.0, False), (4.1, True)])
def test_a_hole_is_what_a_sphere_of_4_in_passes(wide: float, wanted: bool) -> None:
    found = round_hole(make_plan(holed(outline=rectangle(70, 50, 70 + wide, 110))))
    assert length(found) == pytest.approx(2 * (60 + wide) if wanted else 0.0)


def test_other_places_have_another_sphere_and_another_drop() -> None:
    # National Building Code of Canada 9.8.8.5: 100 mm, 3.94 in; 9.8.8.1: 600 mm, both from memory
    slot = make_plan(holed(60, rectangle(70, 50, 73.97, 110)))
    assert length(round_hole(slot, "canada")) > 0
    assert not round_hole(slot)
    assert length(round_hole(make_plan(holed(24.0)), "canada")) == pytest.approx(AROUND)


def test_a_hatch_has_a_lid_and_a_tree_is_taken_as_not_there() -> None:
    assert not round_hole(make_plan(holed(kind="hatch")))
    assert not holes_of(make_plan(holed(kind="cellar hatch")).platforms[0])
    said = [
        note.text for note in Study(make_plan(holed(kind="hatch"))).notes if "a lid that carries" in note.text
    ]
    assert said
    assert said[0].startswith('opening 1 of "deck" is a hatch')
    assert not [note for note in Study(make_plan(holed())).notes if "a lid that carries" in note.text]
    found = round_hole(make_plan(holed(kind="tree")))
    assert length(found) == pytest.approx(AROUND)
    assert all("no trunk is counted" in g.reason and '"tree"' in g.reason for g in found)
    assert not any("trunk" in g.reason for g in round_hole(make_plan(holed())))


def test_a_platform_below_the_hole_catches_who_falls() -> None:
    under = platform("under", rectangle(60, 40, 120, 100), 30.0, beam(12), beam(48))
    assert length(round_hole(make_plan(holed(60.0), under))) == 0.0
    assert length(round_hole(make_plan(holed(60.0625), under))) == pytest.approx(AROUND)
    # where it ends short of the hole's far side a strip of the drop stays
    short = platform("under", rectangle(60, 40, 120, 79), 30.0, beam(6), beam(30))
    assert length(round_hole(make_plan(holed(60.0), short))) == pytest.approx(AROUND)


def test_a_hole_in_a_lower_platform_is_no_floor_for_the_edge_above() -> None:
    def edge_drop(at: float) -> float:
        upper = platform("deck", rectangle(0, 0, 192, 144), 50.0, beam(12), beam(132))
        hole = [{"outline": rectangle(80, at, 110, at + 30)}]
        lower = platform("low", rectangle(0, 144, 192, 300), 25.0, beam(12), beam(140), opening=hole)
        plan = make_plan(upper, lower)
        profile = load_profile("irc-2021")
        stretches = find_guards(plan, raise_levels(plan, profile), profile)
        (before,) = [
            g
            for g in stretches
            if g.start[1] == g.end[1] == 144
            and g.platform == "deck"
            and (g.start[0] - 95) * (g.end[0] - 95) < 0
        ]
        return before.drop

    # 36 in from the edge at y = 144
    assert edge_drop(144 + 35) == pytest.approx(50.0)
    assert edge_drop(144 + 37) == pytest.approx(25.0)


def test_its_posts_stand_on_the_floor_clear_of_the_doubled_wood() -> None:
    study = Study(make_plan(holed()))
    hole = Polygon(WELL)
    near = [post for post in study.layout.guard_posts if hole.distance(Point(post.at)) < 12]
    assert len(near) == 8  # two a side; in the corners of a hole posts of both sides stand apart
    for post in near:
        assert hole.distance(Point(post.at)) >= 3.0 + POST / 2 - 1e-6
        assert post.blocking or post.against
    assert not [
        c for c in study.checks if c.rule == "guard posts land on framing" and c.verdict is Verdict.FAIL
    ]
    assert all(m.length >= 1.0 for m in study.layout.of("deck", Kind.BLOCKING))


@pytest.mark.parametrize("start", range(60, 76))
def test_no_guard_post_stands_in_a_joist_wherever_the_hole_lies(start: int) -> None:
    # joists every 16 in: the hole's trimmers come near to them, against them and between them
    study = Study(make_plan(holed(outline=rectangle(start, 50, start + 30, 80))))
    wood = [
        LineString(member.line).buffer(member.width / 2, cap_style="flat")
        for member in study.layout.of("deck", Kind.JOIST, Kind.HEADER, Kind.RIM)
    ]
    for post in study.layout.guard_posts:
        (x, y), half = post.at, POST / 2
        body = box(x - half, y - half, x + half, y + half)
        assert max(body.intersection(member).area for member in wood) < 0.01


def test_they_are_in_the_json_and_bought() -> None:
    low, high = Study(make_plan(holed(28.0))), Study(make_plan(holed(60.0)))
    listed = [g for g in study_to_json(high)["guards"] if g["opening"] == 1]
    assert len(listed) == 4
    assert all(g["required"] and g["drop_in"] == 60.0 for g in listed)
    (item,) = count_guards(high.plan, high.profile, high.layout)
    # 192 x 144 in outside, 56 ft, and 10 ft round the hole
    assert item.net == pytest.approx(66.0)
    assert "4 of them round openings" in item.basis
    assert not count_guards(low.plan, low.profile, low.layout)


def test_the_guards_view_draws_the_hole_and_what_guards_it() -> None:
    scene = guard_view(Study(make_plan(holed())))
    guards = [shape for shape in scene.shapes if shape.role is Role.GUARD_NEEDED]
    assert len(guards) == 8
    holes = [shape for shape in scene.shapes if isinstance(shape, Area) and shape.role is Role.EDGE_BEYOND]
    assert [hole.box for hole in holes] == [box_of(tuple(WELL))]
    assert any('30" x 30"' in label.text for label in scene.labels)
