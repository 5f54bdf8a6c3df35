"""A level so low over another that nobody walks there: said in a note, under 36 in (common practice)."""

from __future__ import annotations

import pytest

from deckplan.checks.overlaps import HEADROOM, low_notes
from deckplan.layout.over import levels_over
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import beam, make_plan, platform, rectangle


def over(elevation: float) -> Study:
    low = platform("low", rectangle(0, 0, 192, 144), 20, beam(18), beam(126))
    up = platform("up", rectangle(48, -48, 144, 192), elevation, beam(12), beam(228), joists={"size": "2x10"})
    return Study(make_plan(low, up))


def clear_at(elevation: float) -> float:
    study = over(elevation)
    (found,) = levels_over(study.plan, study.levels, study.layout)
    return found.clear


@pytest.mark.parametrize(
    ("clear", "said"), [(0.0, True), (34.0, True), (35.9, True), (36.0, False), (37.0, False)]
)
def test_a_level_that_ends_for_a_person_is_noted_under_36_in(clear: float, said: bool) -> None:
    # where a level stands that leaves so much: the frame under its boards stays the same
    study = over(60.0 + clear - clear_at(60.0))
    notes = low_notes(study.plan, study.levels, study.layout)
    assert bool(notes) is said
    verdicts = {check.verdict for check in study.checks if check.rule == HEADROOM}
    assert (verdicts == {Verdict.NOT_APPLICABLE}) is said
    assert set(notes) <= set(study.notes)


def test_the_note_names_both_levels_and_the_height_between() -> None:
    study = over(60.0 + 34.0 - clear_at(60.0))
    (note,) = low_notes(study.plan, study.levels, study.layout)
    assert note.level == "advice"
    assert note.text == (
        '"up" leaves 34" clear over "low", too low to walk under: for a person "low" ends there'
    )


def test_frames_that_run_into_each_other_fail_and_are_not_noted() -> None:
    study = over(60.0 - 1.0 - clear_at(60.0))
    assert not low_notes(study.plan, study.levels, study.layout)
    assert study.verdict is Verdict.FAIL
