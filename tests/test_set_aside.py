"""Prescriptive limits give way to a sum only where the profile says so, the sum is complete, and it passes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from deckplan.checks.set_aside import REPLACEMENTS, apply_set_aside
from deckplan.plan.model import Plan
from deckplan.rules import load_profile
from deckplan.rules.profile import REPLACEABLE, Profile
from deckplan.study import Study
from deckplan.verdict import Check, Source, Verdict, at_most, not_applicable, outside, overall
from tests.decks import attached

SOURCE = Source("invented for the test")
CAP, PRINTED = "prescriptive post height", "printed post height"


def allowing(*names: str) -> Profile:
    return load_profile("irc-2021").model_copy(update={"name": "town", "may_set_aside": names})


def capped(height: float = 180.0) -> Check:
    return at_most("A-P1", CAP, SOURCE, height, 168.0, "in", reason=f"{height:g} in high, over 168 in")


def column(used: float = 0.5, mark: str = "A-P1", rule: str = "post as a column") -> Check:
    return at_most(mark, rule, SOURCE, 1000 * used, 1000.0, "lb")


def slender(ratio: float = 32.7, mark: str = "A-P1") -> Check:
    return at_most(mark, "slenderness", SOURCE, ratio, 50.0, "1")


def verdict_of_cap(*checks: Check, names: tuple[str, ...] = ("post_height_caps",)) -> Verdict:
    return next(c for c in apply_set_aside(checks, allowing(*names)) if c.rule == CAP).verdict


def test_every_name_that_a_profile_may_list_has_its_sum() -> None:
    assert set(REPLACEMENTS) == set(REPLACEABLE)


def test_nothing_changes_where_the_profile_lists_nothing() -> None:
    checks = (capped(), slender(), column())
    assert apply_set_aside(checks, load_profile("irc-2021")) == checks
    assert verdict_of_cap(*checks, names=("joist_span_cap", "printed_post_heights")) is Verdict.FAIL


def test_a_cap_gives_way_to_a_column_sum_that_passes_and_says_so() -> None:
    found = apply_set_aside((capped(), slender(), column()), allowing("post_height_caps"))
    first = found[0]
    assert first.verdict is Verdict.NOT_APPLICABLE
    assert first.utilisation is None, "a height over the cap is no use of the wood"
    assert "180 in high, over 168 in" in first.reason
    assert "post as a column, slenderness" in first.reason
    assert "town" in first.reason
    assert "65%" in first.reason  # 32.7 of 50
    assert found[1:] == (slender(), column())
    assert overall(found) is Verdict.PASS


def test_a_post_loaded_at_its_side_counts_as_a_column() -> None:
    sides = column(rule="post as a column, loaded at its side")
    assert verdict_of_cap(capped(), slender(), sides) is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    "others",
    [
        (),
        (slender(),),
        (column(),),
        (slender(), column(1.2)),
        (slender(51.0), column()),
        (slender(), column(mark="A-P2")),
        (slender(), outside("A-P1", "post as a column", SOURCE, "no rule")),
        (slender(), not_applicable("A-P1", "post as a column", SOURCE, "no load")),
        (slender(), column(), column(1.1)),
    ],
    ids=[
        "none", "no column", "no slenderness", "column fails", "too slender", "another post's", "outside",
        "not done", "one of two fails",
    ],
)  # fmt: skip
def test_a_sum_that_is_missing_incomplete_or_fails_replaces_nothing(others: tuple[Check, ...]) -> None:
    checks = (capped(), *others)
    assert apply_set_aside(checks, allowing("post_height_caps")) == checks


def test_outside_the_table_gives_way_too_and_a_pass_stays_a_pass() -> None:
    beyond = outside("A-P1", CAP, SOURCE, "no table height for a 6x8 post", demand=100.0, unit="in")
    assert verdict_of_cap(beyond, slender(), column()) is Verdict.NOT_APPLICABLE
    assert verdict_of_cap(capped(100.0), slender(), column()) is Verdict.PASS


def joist(rule: str, used: float = 0.5) -> Check:
    return at_most("A-J1", rule, SOURCE, used, 1.0, "1")


def test_a_long_joist_needs_its_whole_sum() -> None:
    long = at_most("A-J1", "longest joist span of the tables", SOURCE, 220.0, 216.0, "in")
    whole = [joist(rule) for rule in ("bending in the span", "shear", "bearing", "deflection")]
    profile = allowing("joist_span_cap")
    assert apply_set_aside((long, *whole), profile)[0].verdict is Verdict.NOT_APPLICABLE
    for left_out in whole:
        rest = [each for each in whole if each is not left_out]
        assert apply_set_aside((long, *rest), profile)[0] == long
    for worse in ("bending over a support", "deflection of the overhang's tip", "joist stays upright"):
        assert apply_set_aside((long, *whole, joist(worse, 1.1)), profile)[0] == long
        assert apply_set_aside((long, *whole, joist(worse)), profile)[0].verdict is Verdict.NOT_APPLICABLE


# ---- through a study, with a file of a user's own ----


def studies(plan: Plan, tmp_path: Path, names: str) -> Iterator[Study]:
    for listed in ("", names):
        path = tmp_path / f"town{len(listed)}.toml"
        path.write_text(f'extends = "irc-2021"\nmay_set_aside = [{listed}]\n', encoding="utf-8")
        yield Study(plan.model_copy(update={"rules": str(path)}))


def about(study: Study, *rules: str) -> list[Check]:
    return [check for check in study.checks if check.rule in rules]


def test_a_post_of_15_ft_in_a_study(tmp_path: Path) -> None:
    # IRC 2018 Table R507.4: a 6x6 to 14 ft (from memory); by NDS 3.7.1 the post carries far more than comes
    strict, eased = studies(
        attached(192, 144, elevation=192.0), tmp_path, '"post_height_caps", "printed_post_heights"'
    )
    assert {check.verdict for check in about(strict, CAP)} == {Verdict.FAIL}
    assert {check.verdict for check in about(eased, CAP)} == {Verdict.NOT_APPLICABLE}
    assert Verdict.FAIL not in {check.verdict for check in about(eased, PRINTED)}
    columns = ("post as a column", "slenderness")
    assert about(strict, *columns) == about(eased, *columns)
    assert {check.verdict for check in about(eased, *columns)} == {Verdict.PASS}


def test_a_joist_over_its_groups_printed_span_in_a_study(tmp_path: Path) -> None:
    # AWC DCA6-2012 Table 2: 2x6 at 16 in of the second group 8-4; spruce-pine-fir alone reaches further by the sum
    plan = attached(192, 112, offset=105.5, materials={"species": "spruce-pine-fir", "incised": True})
    deck = plan.platforms[0]
    joists = deck.joists.model_copy(update={"size": "2x6", "spacing": 16.0})
    plan = plan.model_copy(update={"platforms": (deck.model_copy(update={"joists": joists}),)})
    strict, eased = studies(plan, tmp_path, '"printed_joist_spans"')
    assert Verdict.FAIL in {check.verdict for check in about(strict, "printed joist span")}
    assert Verdict.FAIL not in {check.verdict for check in about(eased, "printed joist span")}
    assert Verdict.FAIL not in {check.verdict for check in about(eased, "bending in the span", "deflection")}


def test_a_joist_of_19_ft_in_a_study(tmp_path: Path) -> None:
    plan = attached(192, 234, offset=230.0, materials={"grade": "select structural"})
    deck = plan.platforms[0]
    joists = deck.joists.model_copy(update={"size": "2x12", "spacing": 12.0})
    plan = plan.model_copy(update={"platforms": (deck.model_copy(update={"joists": joists}),)})
    strict, eased = studies(plan, tmp_path, '"joist_span_cap"')
    rule = "longest joist span of the tables"
    assert Verdict.FAIL in {check.verdict for check in about(strict, rule)}
    assert Verdict.FAIL not in {check.verdict for check in about(eased, rule)}
    assert [c for c in strict.checks if c.rule != rule] == [c for c in eased.checks if c.rule != rule]
