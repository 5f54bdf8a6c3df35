"""Footings too near each other: one line a footing for people, every pair in the study. Figures by geometry."""

from __future__ import annotations

from dataclasses import replace

from deckplan.checks.pairs import PAIRWISE, worst_pairs
from deckplan.cli.study import study_to_json
from deckplan.panels.faults import faults_of
from deckplan.study import Study
from deckplan.verdict import Check, Source, Verdict, at_least
from tests.decks import beam, make_plan, platform, rectangle

HERE = Source("Geometry", "", "derived")


def pair(mark: str, other: str, clear: float, rule: str = PAIRWISE[0]) -> Check:
    return at_least(mark, rule, HERE, clear, 0.0, "in", reason=f"{mark} and {other} overlap")


def crowded() -> Study:
    """Posts every 5 in along a beam."""
    posts = [float(at) for at in range(60, 80, 5)]
    return Study(make_plan(platform("deck", rectangle(0, 0, 192, 144), 36, beam(24, posts=posts), beam(120))))


def test_of_a_footings_pairs_the_worst_is_said_with_the_count_of_the_rest() -> None:
    given = [
        pair("A-F1", "A-F2", -1),
        pair("A-F1", "A-F3", -4),
        pair("A-F1", "A-F4", -2),
        pair("A-F2", "A-F3", -3),
    ]
    assert [check.reason for check in worst_pairs(given)] == [
        "A-F1 and A-F3 overlap; and 2 more pairs of A-F1",
        "A-F2 and A-F3 overlap",
    ]
    assert worst_pairs(given[:2])[0].reason == "A-F1 and A-F3 overlap; and 1 more pair of A-F1"
    assert worst_pairs(given[:1]) == given[:1]


def test_other_rules_and_what_passes_stay_as_they_are() -> None:
    other = pair("A-F1", "A-F2", -1, "ledger lies on its wall")
    given = [other, replace(other, reason="second"), pair("A-F1", "A-F2", 1.0), pair("A-F1", "A-F3", 2.0)]
    assert worst_pairs(given) == given
    apart = [pair("A-F1", "A-F2", -1), pair("A-F1", "A-F2", -1, PAIRWISE[1])]
    assert worst_pairs(apart) == apart


def test_the_study_and_its_json_keep_every_pair() -> None:
    study = crowded()
    failing = [check for check in study.checks if check.rule in PAIRWISE and check.verdict is Verdict.FAIL]
    marks = {(check.mark, check.rule) for check in failing}
    assert len(failing) > len(marks) > 1
    kept = [
        check
        for check in study_to_json(study)["checks"]
        if check["rule"] in PAIRWISE and check["verdict"] == "FAIL"
    ]
    assert len(kept) == len(failing)
    said = [check for check, _ in faults_of(study) if check.rule in PAIRWISE]
    assert len(said) <= len(marks)
    shown = [check for check in worst_pairs(study.checks) if check in failing or " more pair" in check.reason]
    assert {(check.mark, check.rule) for check in shown} == marks
