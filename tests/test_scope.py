"""What leaves the rules: uses, height, soil, people; what holds a part sideways; which wood stands near the ground."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon

from deckplan.checks.braced_posts import POST_RULE
from deckplan.checks.ground_contact import check_ground_contact, elevations, treatments
from deckplan.checks.lateral import AT_HOUSE, BOTH_WAYS, check_lateral
from deckplan.checks.scope_notes import scope_notes
from deckplan.checks.uses import check_uses, pressure
from deckplan.layout.model import Kind
from deckplan.layout.parts import find_parts
from deckplan.levels.ground import lay_ground
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import attached, beam, make_plan, platform, rectangle

CORNERS = [(0, 0), (192, 0), (192, 144), (0, 144)]


def alone(elevation: float = 20.0, **more: Any) -> Study:
    site = {"ground": [{"at": (0.0, 0.0), "elevation": 0.0}], **more.pop("site", {})}
    deck = platform("deck", rectangle(0, 0, 192, 144), elevation, beam(18), beam(126), **more)
    return Study(make_plan(deck, site=site))


def uses(study: Study) -> dict[str, Check]:
    return {c.rule: c for c in check_uses(study.plan, study.profile, study.levels, study.loads)}


def notes(study: Study) -> str:
    found = scope_notes(study.plan, study.profile, study.levels, study.layout)
    return "\n".join(f"{note.level}: {note.text}" for note in found)


def lateral(study: Study) -> list[Check]:
    return check_lateral(study.plan, study.profile, study.levels, study.layout)


# Uses


def test_a_tub_of_6500_lb_on_8_by_8_ft_is_102_psf_and_outside() -> None:
    # 6,500 lb / 64 sq ft: arithmetic
    assert pressure(6500, 96, 96) == pytest.approx(102, abs=0.5)
    check = uses(alone(use="hot tub"))["tub on the deck"]
    assert check.verdict is Verdict.OUTSIDE
    assert check.demand == pytest.approx(101.5625)
    assert check.capacity == 40
    assert check.steps
    assert uses(alone(use="hot tub", site={"live_load": 150.0}))["tub on the deck"].verdict is Verdict.OUTSIDE


@pytest.mark.parametrize(
    ("use", "rule", "verdict"),
    [
        ("tub", "tub on the deck", Verdict.OUTSIDE),
        ("lounge under a pergola", "roof on the deck", Verdict.OUTSIDE),
        ("screened porch", "roof on the deck", Verdict.OUTSIDE),
        ("raised beds", "planters", Verdict.OUTSIDE),
        ("planting", "planters", Verdict.OUTSIDE),
        ("retaining a bank", "earth held back", Verdict.OUTSIDE),
        ("fire", "fire on a combustible deck", Verdict.OUTSIDE),
        ("wood fire", "fire on a combustible deck", Verdict.FAIL),
        ("gas fire table", "fire on a combustible deck", Verdict.NOT_APPLICABLE),
    ],
)
def test_uses_that_leave_the_rules(use: str, rule: str, verdict: Verdict) -> None:
    check = uses(alone(use=use))[rule]
    assert check.verdict is verdict
    assert '"deck"' in check.reason


@pytest.mark.parametrize(
    "use", ["dining", "cooking", "lounge", "sun", "passage", "", "tubular chairs, spacious"]
)
def test_ordinary_uses_ask_nothing_special(use: str) -> None:
    assert set(uses(alone(use=use))) == {"level within the height of the tables"}


def test_planters_pass_on_a_level_designed_for_a_foot_of_wet_soil() -> None:
    # 120 lb/cu ft, common practice: a foot of it is 120 psf
    assert uses(alone(use="planting", site={"live_load": 119.0}))["planters"].verdict is Verdict.OUTSIDE
    assert uses(alone(use="planting", site={"live_load": 120.0}))["planters"].verdict is Verdict.PASS


@pytest.mark.parametrize(("elevation", "verdict"), [(167, "PASS"), (168, "PASS"), (169, "OUTSIDE")])
def test_levels_over_the_tallest_post_of_the_tables_are_outside(elevation: float, verdict: str) -> None:
    # 14 ft: IRC 2018 Table R507.4 for 6x6 (from memory)
    assert uses(alone(elevation))["level within the height of the tables"].verdict == verdict


@pytest.mark.parametrize(("people", "verdict"), [(38, "PASS"), (39, "FAIL")])
def test_people_as_an_area_load(people: int, verdict: str) -> None:
    # 200 lb each on 16 x 12 ft = 192 sq ft for 40 psf: 38.4 of them; arithmetic
    assert uses(alone(people=people))["people as an area load"].verdict == verdict


@pytest.mark.parametrize(("soil", "outside"), [(1499.0, True), (1500.0, False)])
def test_soil_weaker_than_the_table_is_outside(soil: float, outside: bool) -> None:
    # IRC Table R401.4.1: the least presumptive bearing is 1,500 psf
    assert ("soil bearing" in uses(alone(site={"soil_bearing": soil}))) is outside


# What holds a part sideways


def test_attached_deck_asks_two_hold_downs_of_1500_or_four_of_750() -> None:
    # IRC R507.9.2 (two published copies)
    (check,) = lateral(Study(attached(192, 144)))
    assert (check.rule, check.verdict, check.mark) == (AT_HOUSE, Verdict.PASS, "A-L1")
    assert [step.value for step in check.steps] == [3000, 3000]
    assert "1500" in check.steps[0].words
    assert "750" in check.steps[1].words
    assert "2 hold-downs of 1500 lb or 4 of 750 lb" in notes(Study(attached(192, 144)))


@pytest.mark.parametrize(("elevation", "braced"), [(23.0, False), (24.0, False), (25.0, True)])
def test_free_standing_deck_over_24_in_asks_for_braces(elevation: float, braced: bool) -> None:
    # AWC DCA6: knee braces where the deck is more than 24 in over the ground (two published copies)
    study = alone(elevation)
    (check,) = lateral(study)
    assert (check.rule, check.verdict) == (BOTH_WAYS, Verdict.PASS)
    assert bool(check.reason) is braced
    assert ("stands free" in notes(study)) is braced


def test_tall_free_standing_deck_gets_knee_braces_both_ways_at_its_corner_posts() -> None:
    # AWC DCA6: 2 ft legs at 45 degrees, both ways (from memory); its publisher's answers: at corner posts only
    study = alone(72.0)
    braces = [m for m in study.layout.members if m.kind is Kind.BRACE]
    xs, ys = ({post.at[way] for post in study.layout.posts} for way in (0, 1))
    assert len(study.layout.posts) == 6
    assert {brace.end for brace in braces} == {(x, y) for x in (min(xs), max(xs)) for y in ys}
    assert len(braces) == 2 * 4
    for brace in braces:
        assert brace.length == pytest.approx(24)
        assert brace.drop == pytest.approx(24)
        assert Polygon(study.plan.platforms[0].outline).covers(Point(brace.start))
    (check,) = lateral(study)
    assert (check.verdict, braces[0].mark in check.reason) == (Verdict.PASS, True)


@pytest.mark.parametrize(
    ("low", "braced", "verdict"),
    [
        ([], 0, Verdict.PASS),  # no post leaves room: asked of the building department, as before
        ([(0, 0)], 1, Verdict.OUTSIDE),
        ([(0, 0), (192, 0)], 2, Verdict.OUTSIDE),  # both ends of one beam: one line along it
        ([(0, 0), (0, 144)], 2, Verdict.OUTSIDE),
        ([(0, 0), (192, 144)], 2, Verdict.PASS),  # across the corners: two lines each way
        ([(0, 0), (192, 0), (192, 144)], 3, Verdict.PASS),
        ([(0, 0), (192, 0), (192, 144), (0, 144)], 4, Verdict.PASS),
    ],
)
def test_braces_hold_a_part_where_two_lines_stand_each_way(
    low: list[tuple[float, float]], braced: int, verdict: Verdict
) -> None:
    # statics: forces in two lines through one point hold no couple; two braced lines each way is common practice.
    # Posts of 9-3/4 in, and 16 in where the ground lies lower: a brace takes half of a post, 6 in at the least
    ground = [{"at": at, "elevation": -6.25 if at in low else 0.0} for at in CORNERS]
    lines = [
        beam(2.75, build="2-2x10", posts=(2.75, 96, 189.25)),
        beam(141.25, build="2-2x10", posts=(2.75, 96, 189.25)),
    ]
    deck = platform(
        "deck", rectangle(0, 0, 192, 144), 29.25, *lines, joists={"direction": "y", "size": "2x10"}
    )
    study = Study(make_plan(deck, site={"ground": ground}))
    braces = study.layout.of("deck", Kind.BRACE)
    assert len({brace.end for brace in braces}) == braced
    (check,) = lateral(study)
    assert check.verdict is verdict
    if verdict is Verdict.OUTSIDE:
        assert "both ways and against turning" in check.reason
        assert 'posts of 12" or more at' in check.reason
    # a sum that shares the push among braces is made only where they hold
    assert bool([c for c in study.checks if c.rule == POST_RULE]) is (braced > 0 and verdict is Verdict.PASS)


def test_levels_on_shared_posts_are_one_part_and_levels_on_their_own_are_two() -> None:
    upper = platform("upper", rectangle(0, 0, 192, 121.5), 60, beam(20, build="3-2x12"),
                     beam(100, posts=(2.75, 189.25), build="3-2x12"), joists={"size": "2x10"})  # fmt: skip
    lower = platform(
        "lower",
        rectangle(192, 0, 384, 121.5),
        30,
        beam(20),
        beam(100, posts=2, build="3-2x12"),
        joists={"size": "2x8"},
    )
    apart = Study(make_plan(upper, lower))
    assert [
        [p.name for p in part.platforms] for part in find_parts(apart.plan, apart.levels, apart.layout)
    ] == [["upper"], ["lower"]]
    lower["support"][1]["shares_posts_with"] = "upper"
    joined = Study(make_plan(upper, lower))
    assert any(wish.post for wish in joined.layout.sharing)
    assert [
        [p.name for p in part.platforms] for part in find_parts(joined.plan, joined.levels, joined.layout)
    ] == [["upper", "lower"]]
    assert len(lateral(joined)) == 1


# Wood near the ground


@pytest.mark.parametrize(
    ("clear", "treatment"), [(5.9, "ground contact"), (6.0, "above ground"), (6.1, "above ground")]
)
def test_wood_within_6_in_of_the_ground_wants_ground_contact_treatment(clear: float, treatment: str) -> None:
    # 6 in: trade literature. Underside of the joists: boards 1 in, 2x8 joists 7-1/4 in (PS 20)
    study = alone(1 + 7.25 + clear, joists={"size": "2x8"})
    found = treatments(study.profile, study.levels, study.layout)
    assert found["A-J3"] == treatment
    assert found["A-P1"] == "ground contact"


def test_a_frame_in_the_ground_fails() -> None:
    study = alone(8.0, joists={"size": "2x8"})
    (check,) = check_ground_contact(study.plan, study.profile, study.levels, study.layout)
    assert check.verdict is Verdict.FAIL
    assert "in the ground" in check.reason
    # at 30 in the braces of its short posts end within 6 in of the ground, at 40 in nothing does
    study = alone(30.0, joists={"size": "2x8"})
    (check,) = check_ground_contact(study.plan, study.profile, study.levels, study.layout)
    assert check.verdict is Verdict.PASS
    assert "ground-contact treatment for A-X1" in check.reason
    study = alone(40.0, joists={"size": "2x8"})
    (check,) = check_ground_contact(study.plan, study.profile, study.levels, study.layout)
    assert check.verdict is Verdict.PASS
    assert not check.reason


@settings(max_examples=50)
@given(st.lists(st.tuples(st.floats(-200, 700), st.floats(-200, 700)), min_size=1, max_size=20))
def test_many_ground_heights_at_once_are_those_one_by_one(places: list[tuple[float, float]]) -> None:
    spots = [
        ((0.0, 0.0), 0.0),
        ((480.0, 0.0), -2.0),
        ((0.0, 360.0), -90.0),
        ((480.0, 300.0), -40.0),
        ((200.0, 150.0), 5.0),
    ]
    ground = lay_ground(spots)
    assert elevations(ground, places) == pytest.approx(
        [ground.elevation_at(place) for place in places], abs=1e-2
    )


# Notes


def test_notes_say_where_the_published_guide_ends() -> None:
    assert "single level" not in notes(alone())
    two = make_plan(
        platform("one", rectangle(0, 0, 192, 144), 20, beam(18), beam(126)),
        platform("two", rectangle(192, 0, 384, 144), 12, beam(18), beam(126)),
    )
    assert "single level" in notes(Study(two))
    # AWC DCA6: length not over width (two published copies)
    assert "not over width" not in notes(Study(attached(144, 144)))
    assert "not over width" in notes(Study(attached(132, 144)))


def test_notes_ask_for_what_the_plan_leaves_open() -> None:
    assert "60 psf" in notes(alone())
    assert "60 psf" not in notes(alone(site={"live_load": 60.0}))
    # a post within 60 in of a wall whose own footing nobody gave
    near = attached(192, 72, offset=40.0)
    assert "how deep is the house's own footing" in notes(Study(near))
    assert "how deep is the house's own footing" not in notes(Study(attached(192, 144)))


def test_fire_is_cautioned_and_names_that_hint_at_a_load_are_asked_about() -> None:
    # 10 to 25 ft from structures by town: code text of some places
    assert "10 to 25 ft" in notes(alone(use="fire"))
    assert "10 to 25 ft" not in notes(alone(use="lounge"))
    deck = platform("pool deck", rectangle(0, 0, 192, 144), 20, beam(18), beam(126))
    assert "does it carry a pool?" in notes(Study(make_plan(deck)))
    assert "does it carry" not in notes(alone())
