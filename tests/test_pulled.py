"""Free-standing levels that a tie to a level on the house brings below the frost: where it is said, what it costs."""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.buy.concrete import pier_volume
from deckplan.checks.pulled import RULE, find_pulled
from deckplan.checks.sharing import RULE as SHARING
from deckplan.explore.connections import Connection, connect
from deckplan.explore.connections_table import connections_sheet
from deckplan.explore.touching import touching
from deckplan.explore.ways import Manner
from deckplan.layout.ties import find_ties, frost_founded
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import HOUSE, LEDGER, beam, hung_pair, make_plan, platform, rectangle


def terraces(frost: float = 42.0, shares: bool = True, third: bool = False, **more: Any) -> Study:
    """A level on the house, one beside it whose beam hangs on its post, a third beside that in the same way."""
    hi = platform("hi", rectangle(0, 0, 120, 96), 40, LEDGER, beam(84))
    wish = {"shares_posts_with": "hi"} if shares else {}
    court = platform("court", rectangle(120, 60, 240, 156), 24, beam(24, **wish), beam(84))
    low = platform("low", rectangle(240, 84, 360, 180), 20, beam(60, shares_posts_with="court"), beam(12))
    decks = (hi, court, low) if third else (hi, court)
    return Study(make_plan(*decks, house=HOUSE, site={"ground": [], "frost_depth": frost}, **more))


def pulled(study: Study) -> list[Check]:
    return [check for check in study.checks if check.rule == RULE]


def test_the_check_of_the_wish_names_the_other_frost_class_and_what_it_costs() -> None:
    # IRC R507.3.2 exception 2: a free-standing deck needs no frost depth; 12 in all the same (R403.1.4)
    study = terraces()
    assert frost_founded(terraces(shares=False).plan, study.levels) == {"hi"}
    (check,) = pulled(study)
    own = [f for f in study.footings if f.mark.startswith("B-")]
    more = sum(pier_volume(f.diameter, 42.0) - pier_volume(f.diameter, 12.0) for f in own)
    said = f'{own[0].mark} to {own[-1].mark} go from 12" to 42" deep, {more:.1f} cu ft more concrete'
    assert check.mark == "court"
    assert check.verdict is Verdict.PASS
    assert said in check.reason
    assert 'tied by a shared post to "hi"' in check.reason
    assert [step.value for step in check.steps] == pytest.approx([12.0, 42.0, more])
    (wish,) = [check for check in study.checks if check.rule == SHARING]
    assert wish.verdict is Verdict.OUTSIDE
    assert "Other frost class" in wish.reason
    assert said in wish.reason
    assert any(said in note.text and note.level == "advice" for note in study.notes)


@pytest.mark.parametrize(("frost", "deeper"), [(0.0, False), (12.0, False), (12.5, True)])
def test_frost_no_deeper_than_the_least_depth_pulls_nothing(frost: float, deeper: bool) -> None:
    # IRC R403.1.4: 12 in below the ground at least
    study = terraces(frost)
    assert bool(pulled(study)) is deeper
    assert any("Other frost class" in check.reason for check in study.checks) is deeper


def test_rules_that_let_nobody_off_the_frost_see_no_other_class() -> None:
    # Wisconsin SPS 321.225 (from memory, read cautiously): every deck below the frost, tied or not
    assert pulled(terraces(rules="wisconsin")) == []


def test_a_wish_speaks_for_every_level_that_hangs_on_by_it() -> None:
    study = terraces(third=True)
    assert [check.mark for check in pulled(study)] == ["court", "low"]
    first, second = (check.reason for check in study.checks if check.rule == SHARING)
    # court's tie brings both down; the third one's own tie brings itself alone
    assert 'brings "court"' in first
    assert 'brings "low"' in first
    assert 'brings "court"' not in second
    assert 'brings "low"' in second


def test_joists_hung_and_boxes_screwed_on_are_ties_as_well() -> None:
    (check,) = pulled(Study(hung_pair(frost_depth=42.0)))
    assert 'joists hung on its beam to "upper"' in check.reason
    step = {"from": "hi", "to": "court", "along": [(120, 66), (120, 90)], "kind": "box"}
    (check,) = pulled(terraces(shares=False, flight=[step]))
    assert 'box step S1 to "hi"' in check.reason


def test_a_line_that_shares_posts_and_stands_on_a_frame_is_tied_twice() -> None:
    over = platform(
        "over", rectangle(0, 0, 120, 96), 60, beam(12, stands_on="low", shares_posts_with="side"), beam(84)
    )
    low = platform("low", rectangle(0, 0, 120, 96), 20, beam(12), beam(84))
    side = platform("side", rectangle(120, 0, 240, 96), 70, beam(12), beam(84))
    study = Study(make_plan(over, low, side))
    assert {(tie.other, tie.kind) for tie in find_ties(study.plan, study.levels)} == {
        ("low", "frame"),
        ("side", "post"),
    }


def test_the_choosers_table_has_the_frost_in_its_row() -> None:
    study = terraces(shares=False)
    (touch,) = touching(study.asked, study.levels)
    shared, alone = (connect(study, touch, manner) for manner in (Manner.SHARED, Manner.INDEPENDENT))
    assert isinstance(shared, Connection)
    assert isinstance(alone, Connection)
    assert alone.deeper == ()
    (words,) = shared.deeper
    assert words.startswith('"court": B-F1 to B-F')
    (each,) = find_pulled(
        shared.study.plan,
        shared.study.profile,
        shared.study.levels,
        shared.study.layout,
        shared.study.footings,
    )
    # what is left of the difference is the shared footing, grown for two
    assert shared.concrete - alone.concrete == pytest.approx(each.more, abs=1.5)
    assert each.more > 1.5
    sheet = connections_sheet(study)
    row = next(row for row in sheet.rows if row[2] == "shared post line")
    assert row[sheet.columns.index("below the frost")] == words
