"""Every pound is carried, or a check says on which member it stays; headers hang on two trimmers."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from deckplan.checks.carried import CARRIED, check_carried
from deckplan.checks.openings import ARE_DOUBLED, CLEAR, ON_TWO_TRIMMERS, check_openings
from deckplan.layout.faults import ON_TWO
from deckplan.layout.model import Kind, Layout, Member
from deckplan.loads.model import Force
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle


def _deck(
    *holes: list[tuple[float, float]],
    beams: tuple[float, ...] = (6, 138),
    more: tuple[dict[str, Any], ...] = (),
) -> Study:
    """A deck of 16 x 12 ft on two beams with openings, not read from a file: so they may lie anywhere."""
    deck = platform(
        "deck", rectangle(0, 0, 192, 144), 30, *(beam(at) for at in beams), *more,
        joists={"size": "2x10"}, opening=[{"kind": "hatch", "outline": hole} for hole in holes],
    )  # fmt: skip
    return Study(make_plan(deck))


def _those(study: Study, rule: str) -> list[Check]:
    return [check for check in study.checks if check.rule == rule]


def _failing(study: Study, rule: str) -> list[Check]:
    return [check for check in _those(study, rule) if check.verdict is Verdict.FAIL]


@pytest.mark.parametrize(
    ("hole", "lost"),
    [(rectangle(0, 60, 24, 84), 406), (rectangle(0, 48, 48, 96), 624), (rectangle(180, 48, 216, 72), 147)],
    ids=["at the edge", "larger at the edge", "past the edge"],
)
def test_a_header_on_one_trimmer_fails_with_its_place(
    hole: list[tuple[float, float]], lost: float
) -> None:  # pounds from a review by hand of the same plans, which passed then
    study = _deck(hole)
    assert study.loads.lost.full == pytest.approx(lost, abs=1)
    failing = _failing(study, ON_TWO_TRIMMERS)
    assert {check.mark for check in failing} == set(study.loads.stuck)
    assert all("no trimmer runs past its end at" in check.reason for check in failing)
    assert study.verdict is Verdict.FAIL
    # said once: the balance names the pounds, and fails nobody a second time
    (said,) = _those(study, CARRIED)
    assert said.verdict is Verdict.NOT_APPLICABLE
    assert f"{study.loads.lost.full:,.0f} lb stay on A-H1, A-H2" in said.reason


# a doubled trimmer is 3 in thick (PS 20: two pieces of 1-1/2 in), and stands within the outline
@pytest.mark.parametrize(("aside", "hangs"), [(2.75, False), (3.0, True), (3.25, True)])
def test_a_header_hangs_on_its_trimmer_where_there_is_room_for_one(aside: float, hangs: bool) -> None:
    study = _deck(rectangle(aside, 60, 40, 84))
    assert (not _failing(study, ON_TWO_TRIMMERS)) is hangs
    assert (study.loads.lost.full < 1) is hangs


def test_each_of_two_openings_side_by_side_hangs_on_its_own_trimmers() -> None:
    study = _deck(rectangle(48, 48, 72, 72), rectangle(78, 48, 102, 72))
    middle = {
        mark: sorted(study.layout.by_mark[b.on].start[0] for b in member.bearings)  # type: ignore[union-attr]
        for mark, member in study.layout.by_mark.items()
        if isinstance(member, Member) and member.kind is Kind.HEADER
    }
    assert middle == {
        "A-H1": [46.5, 73.5],
        "A-H2": [46.5, 73.5],
        "A-H3": [76.5, 103.5],
        "A-H4": [76.5, 103.5],
    }
    assert study.loads.lost.full == pytest.approx(0)
    assert study.verdict is Verdict.PASS


# IRC 2018 R502.10: one ply up to 4 ft of span, header and trimmers doubled beyond (one published copy, in part)
@pytest.mark.parametrize(
    ("span", "plies", "verdict"),
    [(48.0, 1, Verdict.PASS), (48.5, 1, Verdict.FAIL), (48.5, 2, Verdict.PASS)],
)
@pytest.mark.parametrize("thin", [Kind.HEADER, Kind.JOIST])
def test_headers_over_four_feet_and_their_trimmers_are_doubled(
    span: float, plies: int, verdict: Verdict, thin: Kind
) -> None:
    study = _deck(rectangle(60, 48, 60 + span, 96))
    assert all(check.verdict is Verdict.PASS for check in _those(study, ARE_DOUBLED))
    name = "2x10" if plies == 1 else "2-2x10"
    members = tuple(
        replace(m, size=name) if m.kind is thin and m.width > 2 else m for m in study.layout.members
    )
    found = check_openings(study.plan, replace(study.layout, members=members))
    assert {check.verdict for check in found if check.rule == ARE_DOUBLED} == {verdict}


@pytest.mark.parametrize(
    ("style", "offset", "verdict"),
    [
        # the opening runs from 48 to 72 in; a beam of two plies is 3 in thick, a doubled header 3 in (PS 20)
        ("drop", 46.5, Verdict.PASS),
        ("drop", 46.75, Verdict.FAIL),
        ("drop", 60.0, Verdict.FAIL),
        ("drop", 73.5, Verdict.PASS),
        ("flush", 43.5, Verdict.PASS),
        ("flush", 43.75, Verdict.FAIL),
        ("flush", 76.5, Verdict.PASS),
    ],
)
def test_no_beam_runs_through_an_opening(style: str, offset: float, verdict: Verdict) -> None:
    study = _deck(rectangle(60, 48, 84, 72), more=(beam(offset, style=style, build="2-2x10"),))
    (check,) = _those(study, CLEAR)
    assert check.verdict is verdict, check.reason
    assert study.loads.lost.full == pytest.approx(0)
    if verdict is Verdict.FAIL:
        assert check.mark == "A-B3"
        assert 'platform "deck", opening 1: A-B3 runs through it; move' in check.reason


@pytest.mark.parametrize(
    ("start", "verdict"),
    [
        # Geometry: it rises 5 in 12, so that 3 in of beam are 3 x 13/12 = 3-1/4 in along the joists. From 60 to 84 in
        # across its middle rises from start + 25 to start + 35: clear below from 48 - 36-5/8, above from 72 - 23-3/8.
        (11.25, Verdict.PASS),
        (11.375, Verdict.PASS),
        (11.5, Verdict.FAIL),
        (30.0, Verdict.FAIL),
        (48.5, Verdict.FAIL),
        (48.625, Verdict.PASS),
        (48.75, Verdict.PASS),
    ],
)
def test_a_beam_aslant_is_looked_at_where_it_lies_over_the_opening(start: float, verdict: Verdict) -> None:
    line = {"kind": "beam", "line": [(0.0, start), (192.0, start + 80.0)], "build": "2-2x10"}
    (check,) = _those(_deck(rectangle(60, 48, 84, 72), more=(line,)), CLEAR)
    assert check.verdict is verdict, check.reason


@pytest.mark.parametrize(("pounds", "verdict"), [(0.5, "PASS"), (1.0, "PASS"), (1.5, "FAIL")])
def test_a_pound_that_stays_on_a_member_is_named(pounds: float, verdict: str) -> None:
    study = _deck()
    loads = replace(study.loads, stuck={"A-J4": Force(dead=pounds)})
    (check,) = check_carried(study.plan, study.layout, loads, study.checks)
    assert check.verdict == verdict
    if verdict == "FAIL":
        assert check.mark == "A-J4"
        assert check.demand == pounds
        assert check.reason.startswith(
            'A-J4, a joist of platform "deck", rests on A-B1, A-B2: 2 lb stay on it'
        )
        assert "beam line, a ledger or a trimmer" in check.reason


def test_what_a_failing_check_names_already_is_not_failed_twice() -> None:
    study = _deck(beams=(6,))
    (rests,) = _failing(study, ON_TWO)
    assert rests.mark == "A-J1"
    (said,) = _those(study, CARRIED)
    assert said.verdict is Verdict.NOT_APPLICABLE
    assert "A-J1" in said.reason
    # another check of the same member, failing or not, does not hush it
    others = [c for c in study.checks if c.rule != ON_TWO]
    found = check_carried(study.plan, study.layout, study.loads, others)
    assert {c.mark for c in found if c.verdict is Verdict.FAIL} == set(study.loads.stuck)


def test_surface_that_no_joist_takes_is_named_with_its_pounds() -> None:
    study = _deck()
    gone = study.layout.of("deck", Kind.JOIST)[4]
    layout: Layout = replace(study.layout, members=tuple(m for m in study.layout.members if m is not gone))
    (check,) = check_carried(study.plan, layout, study.loads, study.checks)
    # a joist at 16 in on centre takes 16 in x 12 ft = 16 sq ft, at 40 + 10 psf: 800 lb (areas by hand)
    assert check.verdict is Verdict.FAIL
    assert check.demand == pytest.approx(800.0)
    assert "no joist takes 16 sq ft" in check.reason
