"""Notes: what a study asks a person for."""

from __future__ import annotations

from deckplan.study import Study
from tests.decks import beam, make_plan, platform, rectangle

MEASURED = [(0.0, 0.0), (60.0, 0.0), (0.0, 60.0), (60.0, 60.0)]


def asked(**site: object) -> list[str]:
    deck = platform("deck", rectangle(0, 0, 240, 144), 40.0, beam(24, posts=4), beam(120, posts=4))
    study = Study(make_plan(deck, site=site))
    return [note.text for note in study.notes if note.level == "ask" and "measure" in note.text]


def test_posts_on_ground_that_nobody_measured_are_named() -> None:
    spots = [{"at": at, "elevation": 0.0} for at in MEASURED]
    # four points over 60 x 60 in hold the first post of the near line alone: seven of eight are asked for
    (text,) = asked(ground=spots)
    assert "A-P2, A-P3, A-P4, A-P5, A-P6, A-P7 and 1 more" in text


def test_where_nothing_was_measured_posts_are_not_named_one_by_one() -> None:
    assert not any("A-P" in text for text in asked())
