"""What stands on it, where does it go: both questions asked of every mark of every demonstration plan."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from deckplan.draw.labels import overlaps
from deckplan.draw.path_view import path_view
from deckplan.layout.model import Kind, Member
from deckplan.loads.graph import ENDS, NOWHERE
from deckplan.plan.file import read_plan
from deckplan.plan.model import Flight
from deckplan.reference import data_path
from deckplan.study import Study
from tests.decks import beam, make_plan, platform

PLANS = sorted(data_path("plans").glob("*.toml"))
CARRIERS = (Kind.JOIST, Kind.BEAM, Kind.LEDGER)


@cache
def study_of(path: Path) -> Study:
    return Study(read_plan(path))


def marks_of(study: Study) -> list[str]:
    """Every mark that a drawing or a table of the study names."""
    layout = study.layout
    found = [*layout.by_mark, *(f.mark for f in study.footings), *(g.mark for g in layout.guard_posts)]
    found += [flight.mark for flight in study.flights.flights]
    found += [one.name for one in study.plan.platforms] + list(study.load_path.portions.letters.values())
    return list(dict.fromkeys(found))


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_both_questions_are_answered_for_every_mark(path: Path) -> None:
    study = study_of(path)
    for mark in marks_of(study):
        stands, goes = study.load_path.what_stands_on(mark), study.load_path.where_does_it_go(mark)
        lit = study.load_path.marks_on_path(mark)
        assert lit, mark
        assert not lit & set(ENDS), mark
        if goes and abs(sum(one.force for one in goes)) > 1e-6:
            assert sum(one.share for one in goes) == pytest.approx(1.0), mark
        part = study.layout.by_mark.get(mark)
        if isinstance(part, Member) and part.kind in CARRIERS:
            # what comes onto a carrier leaves it again
            assert sum(s.full for s in stands) == pytest.approx(sum(g.force for g in goes), abs=0.5), mark


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_every_footing_bears_what_its_size_was_found_for(path: Path) -> None:
    study = study_of(path)
    for footing in study.footings:
        stands = study.load_path.what_stands_on(footing.mark)
        assert sum(one.full for one in stands) == pytest.approx(footing.load, abs=0.5), footing.mark


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_all_surfaces_together_are_what_is_put_on_the_deck(path: Path) -> None:
    study = study_of(path)
    surfaces = [*study.load_path.portions.letters.values(), *(f.mark for f in study.flights.flights)]
    whole = sum(one.full for mark in surfaces for one in study.load_path.what_stands_on(mark))
    ends = [one for mark in surfaces for one in study.load_path.where_does_it_go(mark)]
    posts = sum(study.loads.weights.values())  # posts on a lower frame weigh on it themselves
    assert whole + posts == pytest.approx(study.loads.applied.full, rel=1e-6)
    assert sum(one.force for one in ends) == pytest.approx(whole, rel=1e-3)
    assert NOWHERE not in {one.support for one in ends}


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_the_path_of_every_kind_of_mark_is_drawn(path: Path) -> None:
    study = study_of(path)
    kinds: dict[tuple[str, str], str] = {}
    for mark in marks_of(study):
        part = study.layout.by_mark.get(mark)
        kind = part.kind if isinstance(part, Member) else type(part).__name__
        kinds.setdefault((mark[0], f"{kind} {mark.partition('-')[2][:1]}"), mark)
    for mark in kinds.values():
        scene = path_view(study, study.load_path, mark)
        assert overlaps(scene.text_boxes) == [], mark


def test_a_piece_that_carries_nothing_says_so_and_a_stranger_is_refused() -> None:
    study = study_of(data_path("plans", "alder-point.toml"))
    path = study.load_path
    assert path.what_stands_on("A-R1") == path.where_does_it_go("A-R1") == ()
    assert path.where_does_it_go("S4-S1") == path.where_does_it_go("S4"), "a stringer answers for its flight"
    assert path.where_does_it_go("dining") == path.where_does_it_go("A")
    for stranger in ("Z-F1", "kitchen door", "soil", ""):
        with pytest.raises(KeyError):
            path.what_stands_on(stranger)


def test_a_flight_at_the_tip_of_joists_cut_aslant_is_taken_apart() -> None:
    deck = platform(
        "p", ((0, 0), (288, 0), (288, 120), (144, 120), (144, 240), (0, 240)), 28.0,
        beam(24.0), beam(108.0), beam(192.0), beam(264.0),
        joists={"direction": 30.0, "size": "2x10", "spacing": 16.0},
    )  # fmt: skip
    flight = Flight.model_validate(
        {"from": "p", "to": "ground", "along": [(144, 144), (144, 192)], "kind": "stringer", "tread": 11.0}
    )
    study = Study(make_plan(deck, site={"ground": []}).model_copy(update={"flights": (flight,)}))
    goes = study.load_path.where_does_it_go("S1")
    assert sum(one.share for one in goes) == pytest.approx(1.0)
