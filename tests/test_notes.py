"""Notes: what a study asks a person for."""

from __future__ import annotations

from deckplan.plan.file import read_plan
from deckplan.plan.places import edit
from deckplan.reference import data_path
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


def test_a_check_that_cites_another_edition_has_its_reason() -> None:
    study = Study(read_plan(data_path("plans", "alder-point.toml")))
    cited = {
        check.source.document[:8] for check in study.checks if check.source.document.startswith("IRC 20")
    }
    assert cited == {"IRC 2018", "IRC 2021"}, "both are cited, so that the note has something to say"
    (note,) = [one for one in study.notes if "in that edition alone" in one.text]
    older = sum(check.source.document.startswith("IRC 2018") for check in study.checks)
    assert f"rules are of 2021; {older} of {len(study.checks)} checks cite the IRC of 2018" in note.text
    # under the rules of 2018 the same rows need no reason, those of 2021 do
    other = Study(edit(read_plan(data_path("plans", "alder-point.toml")), "rules", "irc-2018"))
    assert all("cite the IRC of 2018" not in one.text for one in other.notes)
