"""The connection chooser on the bench: computed on asking, applied through the session, taken back by undo."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from deckplan.explore.connections import Connection
from deckplan.panels.meeting import MeetingPanel
from deckplan.panels.session import Session
from deckplan.panels.workbench import open_bench
from deckplan.reference import data_path
from deckplan.verdict import Verdict


def session_of(name: str) -> Session:
    return Session.open(data_path("plans", f"{name}.toml"))


def plain(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html)).replace("&quot;", '"').replace("&#x27;", "'")


def test_nothing_is_computed_before_somebody_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[object] = []

    def counted(*args: object) -> None:
        asked.append(args)
        raise RuntimeError("too early")

    monkeypatch.setattr("deckplan.panels.meeting.connect", counted)
    bench = open_bench(data_path("plans", "frames-apart.toml"))
    bench.levels.type("platform.court.elevation", "16 1/2 in")
    assert asked == []
    with pytest.raises(RuntimeError):
        bench.below.show("Where levels meet")


def test_five_ways_with_holes_concrete_cost_and_what_speaks_against_them() -> None:
    panel = MeetingPanel(session_of("frames-apart"))
    ElementTree.fromstring(f"<div>{panel.html}</div>")
    said = plain(panel.html)
    ways = (
        "independent posts",
        "shared post line",
        "hung joists",
        "platform step",
        "set-back under overhang",
    )
    assert all(way in said for way in ways)
    # the demo plan's own comment: nine footings apart, one less where the court hangs on the terrace's post
    assert re.search(r"independent posts, platform step ✓ stands 9 ", said)
    assert re.search(r"shared post line ◇ stands, an engineer decides 8 ", said)
    assert 'Not possible: the joists of "court" run along the shared edge' in said
    assert "What would help: turn the joists" in said
    assert "Outside the tables: B-B2 hangs on post A-P3" in said
    assert panel.html.count("as drawn") == 1, "apart, with the step that the plan has: one plan, one line"


def test_a_way_is_applied_in_one_change_that_undo_takes_back() -> None:
    session = session_of("frames-apart")
    panel, first, told = MeetingPanel(session), session.plan, list[object]()
    session.listen(told.append)
    panel.use("shared post line")
    assert len(told) == 1
    assert session.can_undo
    assert session.study.verdict is Verdict.OUTSIDE
    assert session.plan.platform("court").supports[1].shares_posts_with == "terrace"
    assert len(session.study.layout.pads) == 8
    assert "Undo takes it back" in panel.html
    assert session.undo()
    assert session.plan == first
    assert "compute again" not in panel.html, "the ways of that plan are known already"
    assert session.redo()
    assert len(session.study.layout.pads) == 8


def test_what_is_out_of_date_says_so_and_cannot_be_applied() -> None:
    session = session_of("frames-apart")
    panel = MeetingPanel(session)
    session.change("platform.court.elevation", "16 1/2 in")
    assert "The plan has changed" in panel.html
    buttons = re.findall(r'<button[^>]*data-pick="use [^>]*>', panel.html)
    assert buttons
    assert all(" disabled" in button for button in buttons)
    panel.value = {"n": 7, "pick": "again"}
    assert "The plan has changed" not in panel.html
    panel.use("shared post line")
    assert session.study.levels.elevation("court") == 16.5, "on top of what was typed in between"


def test_a_way_that_adds_a_line_of_posts_is_saved_and_read_again(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_bytes(data_path("plans", "frames-hung-joists.toml").read_bytes())
    session = Session.open(path)
    MeetingPanel(session).use("independent posts")
    assert session.study.verdict is Verdict.PASS
    session.save()
    assert "# " in path.read_text(encoding="utf-8")
    assert Session.open(path).plan == session.plan


@pytest.mark.parametrize("name", ["frames-apart", "frames-hung-joists", "alder-point", "frames-overlapping"])
def test_every_way_that_can_be_built_can_be_applied_and_saved(name: str, tmp_path: Path) -> None:
    session = session_of(name)
    first = session.plan
    panel = MeetingPanel(session)
    for number, touch in enumerate(panel.pairs()):
        panel.value = {"n": 100 + number, "pick": f"pair {number}"}
        for choice in panel.choices():
            assert (choice.touch.upper, choice.touch.lower) == (touch.upper, touch.lower)
            if isinstance(choice, Connection):
                session.change_to(choice.plan)
                saved = session.save(tmp_path / f"{number}-{choice.manner}.toml")
                assert Session.open(saved).plan == choice.plan
                while session.undo():
                    pass
                assert session.plan == first


def test_levels_that_do_not_meet_have_nothing_to_choose() -> None:
    panel = MeetingPanel(session_of("shape-ell"))
    assert "nothing to choose" in panel.html
    assert panel.choices() == ()
