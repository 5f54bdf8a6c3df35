"""Openings: which leave room for the wood round them; what the reader accepts is framed, or fails with a reason."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from shapely import box
from shapely.geometry.base import BaseGeometry

from deckplan.checks.carried import CARRIED
from deckplan.checks.openings import ON_TWO_TRIMMERS
from deckplan.cli.main import main
from deckplan.layout.frame import DOUBLED, Frame
from deckplan.layout.joist_pieces import SHORTEST_JOIST
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Kind, Member
from deckplan.plan import sense_openings
from deckplan.plan.model import Plan
from deckplan.plan.sense_beams import joist_angle
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import HOUSE, LEDGER, beam, hung_pair, make_plan, platform, rectangle

Corners = list[tuple[float, float]]


def _problems(plan: Plan) -> list[str]:
    return [
        str(problem)
        for each in plan.platforms
        for problem in sense_openings.openings(each, f'platform "{each.name}"', joist_angle(each))
    ]


def _plan(outline: Corners, *holes: Corners, **more: Any) -> Plan:
    openings = [{"kind": "tree", "outline": hole} for hole in holes]
    return make_plan(platform("deck", outline, 30, beam(6), beam(90), beam(138), opening=openings, **more))


DECK = rectangle(0, 0, 192, 144)


def test_the_wood_that_openings_ask_room_for_is_the_wood_they_are_framed_with() -> None:
    assert sense_openings.RIM == JOIST_THICKNESS
    assert sense_openings.FRAME == DOUBLED
    assert sense_openings.SHORTEST == SHORTEST_JOIST


# Two-inch lumber is 1-1/2 in thick (PS 20). Across the joists: end joist 1-1/2 + doubled trimmer 3 = 4-1/2 in.
# Along them: rim 1-1/2 + joist of 6 (common practice) + doubled header 3 = 10-1/2 in.
@pytest.mark.parametrize(
    ("hole", "sound"),
    [
        (rectangle(4.25, 60, 40, 84), False),
        (rectangle(4.5, 60, 40, 84), True),
        (rectangle(4.75, 60, 40, 84), True),
        (rectangle(152, 60, 187.75, 84), False),
        (rectangle(152, 60, 187.5, 84), True),
        (rectangle(60, 10.25, 84, 40), False),
        (rectangle(60, 10.5, 84, 40), True),
        (rectangle(60, 100, 84, 133.75), False),
        (rectangle(60, 100, 84, 133.5), True),
        (rectangle(60, 100, 84, 133.25), True),
    ],
)
def test_an_opening_keeps_room_for_trimmers_and_headers_inside_the_rims(hole: Corners, sound: bool) -> None:
    found = _problems(_plan(DECK, hole))
    assert (not found) is sound, found
    if found:
        assert found[0].startswith(
            'platform "deck", opening 1, outline: a notch of the platform\'s outline, or'
        )
        assert "from the edge (" in found[0]


BESIDE = 'at least 4 1/2" from an edge along the joists (rim 1 1/2", doubled trimmer 3"), measured'
BEFORE = (
    'at least 10 1/2" from an edge across the joists (rim 1 1/2", joist of 6", doubled header 3"), measured'
)


@pytest.mark.parametrize(
    ("hole", "says", "away"),
    [
        (rectangle(4.25, 60, 40, 84), BESIDE, '4 1/4"'),
        (rectangle(60, 10.25, 84, 40), BEFORE, '10 1/4"'),
        (rectangle(4.5, 4.8125, 40, 84), BEFORE, '4 13/16"'),
        (rectangle(4.25, 10.5, 40, 84), BESIDE, '4 1/4"'),
    ],
    ids=["beside", "before", "before, just far enough from the side", "beside, just far enough from the end"],
)
def test_an_opening_is_told_the_one_limit_of_its_edge(hole: Corners, says: str, away: str) -> None:
    (found,) = _problems(_plan(DECK, hole))
    assert says in found
    assert f"not {away} from the edge (" in found
    assert (BESIDE in found) is not (BEFORE in found)


def test_an_opening_by_an_edge_aslant_is_told_both_limits() -> None:
    slanted = [(0.0, 0.0), (192.0, 0.0), (192.0, 144.0), (96.0, 144.0), (0.0, 48.0)]
    (found,) = _problems(_plan(slanted, rectangle(40, 60, 64, 84)))
    assert '4 1/2" across the joists (' in found
    assert '10 1/2" along them (' in found
    assert "from an edge aslant to them" in found


@pytest.mark.parametrize(
    ("hole", "says"),
    [
        (rectangle(180, 60, 204, 84), "not 2 sq ft outside it"),
        (rectangle(300, 60, 324, 84), "not wholly outside it"),
        (rectangle(192, 60, 216, 84), "not wholly outside it"),
        (rectangle(0, 60, 24, 84), 'not 0" from the edge (0\'-0", 12\'-0") to (0\'-0", 0\'-0")'),
        (DECK, 'not 0" from the edge'),
    ],
    ids=["past the edge", "outside", "outside, touching", "at the edge", "all of it"],
)
def test_an_opening_on_or_past_the_outline_is_refused_with_its_place(hole: Corners, says: str) -> None:
    (found,) = _problems(_plan(DECK, hole))
    assert found.startswith('platform "deck", opening 1, outline: ')
    assert says in found


FIRST = rectangle(48, 48, 72, 72)


# Side by side two doubled trimmers of 3 in = 6 in; in line two doubled headers and a joist of 6 in = 12 in.
@pytest.mark.parametrize(
    ("second", "sound"),
    [
        (rectangle(77.75, 48, 96, 72), False),
        (rectangle(78, 48, 96, 72), True),
        (rectangle(78.25, 48, 96, 72), True),
        (rectangle(48, 83.75, 72, 100), False),
        (rectangle(48, 84, 72, 100), True),
        (rectangle(48, 84.25, 72, 100), True),
        # one within the width of the other: its trimmers hang on that one's header
        (rectangle(52, 90, 68, 100), True),
        # half beside it: each would cut a trimmer of the other
        (rectangle(60, 90, 90, 100), False),
        # trimmers that would overlap by an inch
        (rectangle(50, 90, 72, 100), False),
        (rectangle(76, 90, 96, 100), False),
        # a trimmer that both use
        (rectangle(75, 90, 96, 100), True),
        (rectangle(60, 60, 80, 80), False),
        (FIRST, False),
    ],
)
def test_openings_leave_room_for_the_wood_between_them(second: Corners, sound: bool) -> None:
    plan = _plan(DECK, FIRST, second)
    found = _problems(plan)
    assert (not found) is sound, found
    if sound:
        study = Study(plan)
        assert study.loads.lost.full == pytest.approx(0)
        assert all(len(header.bearings) == 2 for header in study.layout.of("deck", Kind.HEADER))
    else:
        assert found[0].startswith(
            'platform "deck", opening 2, outline: one opening for both, or clear of opening 1'
        )


ELL = [(0.0, 0.0), (192.0, 0.0), (192.0, 96.0), (96.0, 96.0), (96.0, 144.0), (0.0, 144.0)]


# the joist inside the inner edge fills 94-1/2 to 96 in; a trimmer stands beside it or takes its place
@pytest.mark.parametrize(
    ("right", "sound"),
    [
        (91.5, True),
        (91.75, False),
        (92.75, False),
        (93.0, True),
        (93.25, False),
        (95.75, False),
        (96.0, True),
    ],
)
def test_a_trimmer_stands_beside_the_joist_at_an_inner_corner_or_takes_its_place(
    right: float, sound: bool
) -> None:
    plan = _plan(ELL, rectangle(60, 24, right, 60))
    found = _problems(plan)
    assert (not found) is sound, found
    if found:
        assert (
            "its trimmers clear of the joist along the edge (8'-0\", 8'-0\") to (8'-0\", 12'-0\")" in found[0]
        )
    else:
        assert Study(plan).loads.lost.full == pytest.approx(0)


def test_joists_at_an_angle_count_the_rectangle_round_the_opening() -> None:
    # a square of 24 in turned by 45 degrees reaches 17 in from its middle (24 / sqrt 2): 28 - 17 = 11 in is enough
    for middle, sound in ((28.0, True), (27.0, False)):
        outline = [(0.0, 0.0), (100.0, 100.0), (0.0, 200.0), (-100.0, 100.0)]
        # on the line at 45 degrees half way up the lower right edge
        x, y = 50.0 - middle / 2**0.5, 50.0 + middle / 2**0.5
        found = _problems(
            _plan(outline, rectangle(x - 12, y - 12, x + 12, y + 12), joists={"direction": 135})
        )
        assert (not found) is sound, found


def test_a_file_with_an_opening_at_the_edge_is_refused_by_place_and_exit_status(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The command line's contract: 2 where the input could not be read, the message on standard error."""
    file = tmp_path / "hatch.toml"
    text = """format = 1
[[platform]]
name = "deck"
outline = [["0 ft", "0 ft"], ["16 ft", "0 ft"], ["16 ft", "12 ft"], ["0 ft", "12 ft"]]
elevation = "30 in"
support = [{ kind = "beam", offset = "6 in" }, { kind = "beam", offset = "11 ft 6 in" }]
[[platform.opening]]
outline = [["X", "5 ft"], ["4 ft", "5 ft"], ["4 ft", "7 ft"], ["X", "7 ft"]]
"""
    for x, status in (("4 7/16 in", 2), ("4 1/2 in", 0), ("1 ft", 0)):
        file.write_text(text.replace("X", x), encoding="utf-8")
        assert main(["study", str(file)]) == status
        err = capsys.readouterr().err
        assert ('platform "deck", opening 1, outline: a notch' in err) is (status == 2)
        assert "Traceback" not in err


def test_an_opening_between_hung_joists_hangs_on_the_neighbours_beam_and_its_own() -> None:
    """Nothing special holds there: trimmers hang where the joists hang, cut joists on header and hanger."""
    plan = hung_pair()
    hole = {"kind": "hatch", "outline": rectangle(60, 154.5, 96, 190)}
    lower = plan.platforms[1].model_dump(by_alias=True) | {"opening": [hole]}
    plan = make_plan(plan.platforms[0].model_dump(by_alias=True), lower, house=HOUSE)
    assert not _problems(plan)
    study = Study(plan)
    headers = study.layout.of("lower", Kind.HEADER)
    assert len(headers) == 2
    for header in headers:
        trimmers = [study.layout.by_mark[b.on] for b in header.bearings]
        for trimmer in trimmers:
            assert isinstance(trimmer, Member)
            assert [b.on for b in trimmer.bearings] == ["A-B1", "B-B1"]
    assert study.loads.lost.full == pytest.approx(0)


def test_two_openings_that_cut_each_others_trimmers_would_carry_each_other() -> None:
    """Why half beside each other is refused: header on trimmer on header, round and round."""
    plan = _plan(DECK, rectangle(48, 30, 72, 54), rectangle(60, 66, 84, 80))
    assert _problems(plan)
    with pytest.raises(RuntimeError, match="bear on each other"):
        _ = Study(plan).loads


# IRC R312.1.1: a guard where the drop is over 30 in (two published copies); that a lid closes a hatch: common practice
@pytest.mark.parametrize(("kind", "lid"), [("hatch", True), ("opening", False), ("tree", False)])
@pytest.mark.parametrize(("elevation", "high"), [(30.0, False), (30.1, True)])
def test_a_hole_high_up_is_guarded_or_said_to_have_a_lid_never_both_or_neither(
    kind: str, lid: bool, elevation: float, high: bool
) -> None:
    hole = {"kind": kind, "outline": rectangle(60, 48, 84, 84)}
    study = Study(make_plan(platform("deck", DECK, elevation, beam(6), beam(138), opening=[hole])))
    guarded = [g for g in study.layout.guards if g.opening and g.required]
    assert bool(guarded) is (high and not lid)
    said = [n.text for n in study.notes if "opening 1" in n.text]
    assert [("closed by a lid" in text) for text in said] == [True] * lid


@st.composite
def plans(draw: Any) -> Plan:
    """A sensible platform with one to three openings: rectangles, inner corners, clipped corners, bays, at angles."""
    width, depth = draw(st.sampled_from([120, 150, 192, 240])), draw(st.sampled_from([120, 144, 168]))
    a, b = draw(st.sampled_from([36, 48, 60])), draw(st.sampled_from([36, 48, 60]))
    outline: Corners = draw(
        st.sampled_from(
            [
                rectangle(0, 0, width, depth),
                [(0, 0), (width, 0), (width, depth - b), (width - a, depth - b), (width - a, depth), (0, depth)],
                [(0, 0), (width, 0), (width, depth - b), (width - b, depth), (0, depth)],
                [(0, 0), (width, 0), (width, depth), (width * 0.6, depth), (width * 0.6, depth - b),
                 (width * 0.4, depth - b), (width * 0.4, depth), (0, depth)],
                [(0, 0), (width, 0), (width, depth - b), (width * 0.7, depth - b), (width * 0.7, depth),
                 (width * 0.3, depth), (width * 0.3, depth - b), (0, depth - b)],
            ]
        )
    )  # fmt: skip
    direction = draw(st.sampled_from(["y", "y", "y", "x", 30.0]))
    first, last = 6.0, (width if direction == "x" else depth) - 6.0
    inner = width / 2 if direction == "x" else depth - b - draw(st.sampled_from([8, 20]))
    supports = [beam(at) for at in (first, inner, last)]
    on_house = direction == "y" and draw(st.booleans())
    if on_house:
        supports[0] = LEDGER
    if draw(st.integers(0, 4)) == 0:
        supports[1] = beam(inner, style="flush")
    holes = []
    for _ in range(draw(st.integers(1, 3))):
        # on a grid of 3 in, so that edges, beams and other openings are often just met
        x, y = 3 * draw(st.integers(2, width // 3 - 6)), 3 * draw(st.integers(4, depth // 3 - 6))
        holes.append(rectangle(x, y, x + 3 * draw(st.integers(2, 12)), y + 3 * draw(st.integers(2, 10))))
    shape = platform(
        "deck", outline, draw(st.sampled_from([30, 50])), *supports,
        joists={"direction": direction, "size": draw(st.sampled_from(["auto", "2x10"]))},
        opening=[{"kind": "hatch", "outline": hole} for hole in holes],
    )  # fmt: skip
    return make_plan(shape, house=HOUSE if on_house else {})


def _holds(plan: Plan) -> None:
    """What the reader accepts loses no load unnamed, and headers hang on two trimmers unless a check says why not."""
    assume(not _problems(plan))
    study = Study(plan)
    loads = study.loads
    down = sum(force.full for force in (*loads.posts.values(), *loads.ledgers.values())) + loads.ground.full
    assert down + loads.lost.full == pytest.approx(loads.applied.full, abs=0.5)
    # a pull upwards that nothing takes is lost as well, and the two must not cancel
    if any(abs(force.full) > 1 for force in loads.stuck.values()):
        assert study.verdict is Verdict.FAIL
        assert any(c.rule == CARRIED and c.verdict is not Verdict.PASS for c in study.checks)
    else:
        assert all(c.verdict is Verdict.PASS for c in study.checks if c.rule == CARRIED)
    for header in study.layout.of("deck", Kind.HEADER):
        (check,) = (c for c in study.checks if c.mark == header.mark and c.rule == ON_TWO_TRIMMERS)
        assert (check.verdict is Verdict.PASS) is (len({b.at for b in header.bearings}) == 2)
    _no_wood_in_wood(study)


def _no_wood_in_wood(study: Study) -> None:
    """Joists, trimmers and headers fill no place twice and leave the openings clear."""
    frame = Frame.of(study.plan.platforms[0])
    wood: dict[str, BaseGeometry] = {}
    for member in study.layout.of("deck", Kind.JOIST, Kind.HEADER):
        (u0, v0), (u1, v1) = (frame.local(end) for end in member.line)
        half = member.width / 2
        aside = (half, 0.0) if member.kind is Kind.JOIST else (0.0, half)
        low = (min(u0, u1) - aside[0] + 0.01, min(v0, v1) - aside[1] + 0.01)
        wood[member.mark] = box(*low, max(u0, u1) + aside[0] - 0.01, max(v0, v1) + aside[1] - 0.01)
    for (mark, one), (second, other) in combinations(wood.items(), 2):
        assert not one.intersects(other), (mark, second)
    for hole in frame.holes:
        clear = box(hole.u0, hole.v0, hole.u1, hole.v1)
        for mark, piece in wood.items():
            assert not piece.intersects(clear), mark


PHASES = (Phase.explicit, Phase.reuse, Phase.generate)
BIG = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]


@settings(max_examples=60, deadline=None, phases=PHASES, suppress_health_check=BIG)
@given(plans())
def test_random_openings_lose_nothing_unnamed(plan: Plan) -> None:
    _holds(plan)


@pytest.mark.slow
@settings(max_examples=300, deadline=None, phases=PHASES, suppress_health_check=BIG)
@given(plans())
def test_thousands_of_random_openings_lose_nothing_unnamed(plan: Plan) -> None:
    _holds(plan)
