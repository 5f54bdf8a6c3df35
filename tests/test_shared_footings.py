"""One footing under posts of two levels: which posts, how wide, what its edge presses on the soil, counted once."""

from __future__ import annotations

import math
from typing import Any

import pytest

from deckplan.build.stake_out import base_line, stake_out
from deckplan.checks.pulled import RULE as PULLED
from deckplan.checks.shared_footings import KERN_RULE, WISH_RULE, Pattern, edge_pressure
from deckplan.draw.footing_view import footing_view
from deckplan.draw.scene import Area, Disc
from deckplan.errors import InputError
from deckplan.loads.areas import post_weight
from deckplan.plan.file import parse_plan
from deckplan.plan.saving import plan_to_toml
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import HOUSE, LEDGER, beam, make_plan, platform, rectangle


def two(
    shared: bool = True,
    gap: float = 0.0,
    deep: float = 96.0,
    first: dict[str, Any] | None = None,
    **more: Any,
) -> Study:
    """Two levels side by side whose posts stand 5 1/2 in and the gap apart, middle to middle, on two lines."""
    hi = platform("hi", rectangle(0, 0, 120, 96), 40, first or beam(12), beam(84))
    key = {"shares_footings_with": "hi"} if shared else {}
    court = platform("court", rectangle(120 + gap, 0, 240 + gap, deep), 34, beam(12, **key), beam(84, **key))
    return Study(make_plan(hi, court, **{"site": {"ground": [], "frost_depth": 0.0}, **more}))


def of_rule(study: Study, rule: str) -> list[Check]:
    return [check for check in study.checks if check.rule == rule]


def test_two_posts_on_one_footing_are_one_hole_for_both_loads() -> None:
    alone, study = two(shared=False), two()
    assert len(alone.footings) - len(study.footings) == 2
    under = {post.mark: post.footing for post in study.layout.posts}
    assert under["A-P3"] == under["B-P1"] == "A-F3"
    footing = next(f for f in study.footings if f.mark == "A-F3")
    assert footing.posts == ("A-P3", "B-P1")
    assert footing.at == pytest.approx((120.0, 12.0), abs=0.1)  # two like loads: half-way
    # every pound put on arrives once
    assert sum(f.load for f in study.footings) == pytest.approx(study.loads.applied.full)
    assert max(node.off for node in study.load_path.balance()) < 1e-6
    assert sum(s.full for s in study.load_path.what_stands_on("A-F3")) == pytest.approx(footing.load)
    goes = study.load_path.where_does_it_go("A-F3")
    assert {(one.support, one.through) for one in goes} == {("A-F3", "A-P3"), ("A-F3", "B-P1")}
    assert of_rule(alone, "footings clear of each other")[0].verdict is Verdict.FAIL
    assert of_rule(study, "footings clear of each other") == []
    assert "shares_footings_with" in of_rule(alone, "footings clear of each other")[0].reason
    # no published table covers two levels on one footing (AWC DCA6: one level)
    assert [check.verdict for check in of_rule(study, WISH_RULE)] == [Verdict.OUTSIDE, Verdict.OUTSIDE]


def test_it_is_drawn_and_staked_out_once_with_both_posts_on_it() -> None:
    study = two()
    scene = footing_view(study)
    assert [shape.mark for shape in scene.shapes if isinstance(shape, Disc)].count("A-F3") == 1
    assert {"A-P3", "B-P1"} <= {shape.mark for shape in scene.shapes if isinstance(shape, Area)}
    line = base_line(study.plan)
    assert line is not None
    assert [one.mark for one in stake_out(line, study.footings)].count("A-F3") == 1


def test_at_the_edge_of_the_kern_the_edge_presses_twice_the_mean() -> None:
    # handbook statics: a circle's kern is D / 8; with the load there the pressure runs from nothing to twice P / A
    area = math.pi * (24 / 24) ** 2  # 24 in across
    assert edge_pressure(Pattern(1000.0, 0.0, ""), 24.0) == pytest.approx(1000 / area)
    assert edge_pressure(Pattern(1000.0, 3.0, ""), 24.0) == pytest.approx(2 * 1000 / area)


def test_the_sums_by_hand_and_no_wider_than_they_ask() -> None:
    study = two(site={"ground": [], "soil_bearing": 1500.0})
    footing = next(f for f in study.footings if f.mark == "A-F3")
    one, other = (study.layout.by_mark[mark] for mark in footing.posts)
    most = [study.loads.posts[p.mark].governing[0] + post_weight(study.plan, p) for p in (one, other)]  # type: ignore[arg-type]
    dead = [study.loads.posts[p.mark].dead + post_weight(study.plan, p) for p in (one, other)]  # type: ignore[arg-type]
    r = 2.75  # two posts of 5 1/2 in, face to face (PS 20)
    # people on one level alone: resultants so far from half-way; the pad lies in the middle of the two
    first = (dead[1] - most[0]) / (most[0] + dead[1]) * r
    second = (most[1] - dead[0]) / (dead[0] + most[1]) * r
    e = (second - first) / 2
    assert footing.at == pytest.approx((120 + (first + second) / 2, 12.0))
    (kern,) = [check for check in of_rule(study, KERN_RULE) if check.mark == "A-F3"]
    assert kern.demand == pytest.approx(e)
    assert kern.capacity == footing.diameter / 8
    # the posts' corners ask for 14 in: 2 (2.75 + 3.89); the kern for 8 e
    assert footing.diameter == max(14, math.ceil(8 * kern.demand))


def test_unequal_posts_make_the_pad_wider_than_both_loads_in_its_middle_would() -> None:
    # a heavy post beside a light one: the court is three times as deep behind its line
    study = two(deep=280.0, site={"ground": [], "soil_bearing": 1500.0})
    # the lines at y = 84: 414 lb on the post of "hi", 302 on that of the court; the pad lies nearer to the heavier
    footing = next(f for f in study.footings if f.also and f.at[1] == pytest.approx(84.0))
    one, other = footing.posts
    assert study.loads.posts[one].full - study.loads.posts[other].full > 100
    assert footing.at[0] < 119.9
    for check in of_rule(study, KERN_RULE):
        assert check.verdict is Verdict.PASS
        footing = next(f for f in study.footings if f.mark == check.mark)
        assert footing.diameter >= 8 * (check.demand or 0.0)
    for check in of_rule(study, "soil pressure"):
        assert check.verdict is Verdict.PASS


@pytest.mark.parametrize(("apart", "shares"), [(11.9, True), (12.0, True), (12.1, False)])
def test_posts_farther_apart_than_the_reach_keep_their_own(apart: float, shares: bool) -> None:
    study = two(gap=apart - 5.5)
    assert any(footing.also for footing in study.footings) is shares
    failing = [check for check in of_rule(study, WISH_RULE) if check.verdict is Verdict.FAIL]
    assert bool(failing) is not shares
    if not shares:
        assert 'the nearest stand 12 1/8" apart' in failing[0].reason


def test_its_words_weigh_it_against_one_under_each_post() -> None:
    # geometry: a cylinder's volume
    alone, study = two(shared=False, gap=4.0), two(gap=4.0)
    footing = next(f for f in study.footings if f.mark == "A-F3")
    each = [next(f for f in alone.footings if f.post == mark) for mark in footing.posts]
    there, other = (
        sum(math.pi * (f.diameter / 24) ** 2 * (f.top - f.bottom) / 12 for f in those)
        for those in ([footing], each)
    )
    assert (
        there > other
    )  # the kern makes the pad 26 in across, which takes more concrete than two: it is said
    (words, _) = (check.reason for check in of_rule(study, WISH_RULE))
    assert f'{footing.diameter:g}" across, {there:.1f} cu ft of concrete' in words
    assert f"{other:.1f} cu ft" in words


def soft(gap: float, live: float) -> str:
    """The advice for two footings that overlap in soft soil."""
    study = two(shared=False, gap=gap, site={"ground": [], "soil_bearing": 1500.0, "live_load": live})
    check = of_rule(study, "footings clear of each other")[0]
    assert check.verdict is Verdict.FAIL
    return check.reason


def test_one_footing_is_advised_only_where_it_stays_under_36_in() -> None:
    # our own choice; people on one level alone pull it wide: by the kern about 2.7 times as wide as the posts are apart
    assert "shares_footings_with" in soft(0.0, 40.0)
    assert '" across, ' in soft(0.0, 40.0)
    assert "shares_footings_with" not in soft(6.5, 100.0)  # 12 in apart: 36 in or more
    assert "36 in across or more" in soft(6.5, 100.0)


def test_a_shared_footing_ties_its_levels_and_goes_below_the_frost() -> None:
    # IRC R507.3.2: what hangs on the house stands below the frost; what is tied to it as well (trade literature)
    study = two(first=LEDGER, house=HOUSE, site={"ground": [], "frost_depth": 42.0})
    assert {round(f.top - f.bottom, 6) for f in study.footings} == {42.0}
    (check,) = of_rule(study, PULLED)
    assert 'tied by a shared footing to "hi"' in check.reason


def test_on_a_slope_both_posts_end_at_the_top_of_their_footing() -> None:
    ground = [{"at": (0.0, 0.0), "elevation": 0.0}, {"at": (240.0, 0.0), "elevation": -12.0},
              {"at": (0.0, 96.0), "elevation": 0.0}]  # fmt: skip
    study = two(site={"ground": ground, "frost_depth": 0.0})
    footing = next(f for f in study.footings if f.mark == "A-F3")
    assert footing.top == pytest.approx(-6.0)  # half-way down
    assert {p.bottom for p in study.layout.posts if p.footing == "A-F3"} == {footing.top}


def test_the_key_is_saved_renamed_and_refused_where_it_makes_no_sense() -> None:
    plan = two().asked
    assert parse_plan(plan_to_toml(plan), "x.toml") == plan
    text = plan_to_toml(plan)
    with pytest.raises(InputError, match="another platform"):
        parse_plan(text.replace('shares_footings_with = "hi"', 'shares_footings_with = "court"', 1), "x.toml")
