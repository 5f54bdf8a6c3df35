"""The session: the only writer; equal plans are no news; bad texts stay beside their fields."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deckplan.errors import InputError
from deckplan.panels.session import Session
from deckplan.reference import data_path
from deckplan.study import Study

DINING = "platform.dining.elevation"


@pytest.fixture
def session() -> Session:
    return Session.open(data_path("plans", "alder-point.toml"))


def test_a_change_makes_a_new_study_and_tells_everyone(session: Session) -> None:
    before, heard = session.study, list[Study]()
    session.listen(heard.append)
    assert session.change(DINING, "2'-7\"")
    assert heard == [session.study]
    assert session.study is not before
    assert session.study.levels.elevation("dining") == 31
    assert before.levels.elevation("dining") == 30, "an old study stays as it was"


def test_an_equal_plan_is_no_news(session: Session) -> None:
    heard = list[Study]()
    session.listen(heard.append)
    assert session.change(DINING, "2 ft 6 in")
    assert heard == []
    assert not session.can_undo
    assert session.text(DINING) == "2 ft 6 in", "the user's spelling stays"


def test_a_text_that_cannot_be_read_stays_with_its_reason(session: Session) -> None:
    before, heard = session.study, list[Study]()
    session.listen(heard.append)
    assert not session.change(DINING, "30 bananas")
    assert session.study is before
    assert heard == []
    assert session.text(DINING) == "30 bananas"
    assert "a length" in session.refused[DINING].reason
    assert session.change(DINING, "30 in")
    assert session.refused == {}


def test_what_makes_no_sense_in_the_plan_is_refused_in_its_words(session: Session) -> None:
    before = session.plan
    assert not session.change("flight.2.from", "attic")
    assert "attic" in session.refused["flight.2.from"].reason
    assert session.plan == before


def test_undo_and_redo(session: Session) -> None:
    first = session.plan
    session.change(DINING, "31 in")
    second = session.plan
    session.change("platform.lounge.joists.spacing", "12 in")
    third = session.plan
    assert session.undo()
    assert session.plan == second
    assert session.undo()
    assert session.plan == first
    assert not session.undo()
    assert session.redo()
    assert session.redo()
    assert session.plan == third
    assert not session.redo()


def test_one_pull_of_a_slider_is_undone_at_once(session: Session) -> None:
    first = session.plan
    for text in ("30 1/4 in", "30 1/2 in", "31 in"):
        session.change(DINING, text, gesture="pull 1")
    session.change(DINING, "31 1/4 in", gesture="pull 2")
    session.undo()
    assert session.study.levels.elevation("dining") == 31
    session.undo()
    assert session.plan == first


def test_trouble_in_a_listener_is_shown_raised_and_keeps_no_news_from_others(session: Session) -> None:
    heard, shown = list[Study](), list[str]()

    def stumble(study: Study) -> None:
        raise RuntimeError("the pencil broke")

    session.listen(stumble)
    session.listen(heard.append)
    session.watch(lambda: shown.append(session.trouble))
    with pytest.raises(RuntimeError, match="the pencil broke"):
        session.change(DINING, "31 in")
    assert len(heard) == 1
    assert "the pencil broke" in shown[-1]


def test_who_stops_listening_hears_nothing(session: Session) -> None:
    heard = list[Study]()
    stop = session.listen(heard.append)
    stop()
    session.change(DINING, "31 in")
    assert heard == []


def test_saving_keeps_comments_and_opens_the_same(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_bytes(data_path("plans", "alder-point.toml").read_bytes())
    session = Session.open(path)
    session.change(DINING, "31 in")
    assert not session.saved
    assert session.save() == path
    assert session.saved
    text = path.read_text(encoding="utf-8")
    assert "# Alder Point:" in text
    assert '"31 in"' in text
    assert Session.open(path).plan == session.plan


def test_a_plan_without_a_file_asks_for_a_path(tmp_path: Path, session: Session) -> None:
    loose = Session(session.plan)
    with pytest.raises(InputError, match="no file yet"):
        loose.save()
    assert Session.open(loose.save(tmp_path / "new.toml")).plan == loose.plan


@settings(max_examples=15, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(["dining", "lounge", "garden"]), st.integers(40, 640)), max_size=5))
def test_undoing_everything_gives_the_first_plan_back(changes: list[tuple[str, int]]) -> None:
    session = Session.open(data_path("plans", "alder-point.toml"))
    first = session.plan
    for platform, sixteenths in changes:
        session.change(f"platform.{platform}.elevation", f"{sixteenths}/16 in")
    last = session.plan
    while session.undo():
        pass
    assert session.plan == first
    while session.redo():
        pass
    assert session.plan == last
