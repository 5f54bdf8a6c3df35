"""Posts at least cost: what the sizing chooses, against studying every number by itself."""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.explore.posts import choose_posts
from deckplan.layout.supports import auto_post_count
from deckplan.plan.model import BeamLine, Plan
from deckplan.sizing.posts import PostCount, cheapest
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import attached, beam, hung_pair, make_plan, platform, rectangle

SOIL: dict[str, Any] = {"ground": [{"at": (0.0, 0.0), "elevation": 0.0}]}


def settled(plan: Plan, number: int = 1, of: int = 0) -> BeamLine:
    line = Study(plan).plan.platforms[of].supports[number]
    assert isinstance(line, BeamLine)
    return line


@pytest.mark.parametrize(
    ("wide", "deep"), [(96, 96), (120, 144), (192, 144), (240, 144), (400, 168), (600, 144)]
)
@pytest.mark.parametrize("site", [SOIL, SOIL | {"soil_bearing": 1000.0}, SOIL | {"snow_load": 60.0}])
def test_auto_is_the_number_that_costs_least(wide: float, deep: float, site: dict[str, Any]) -> None:
    # the whole frame of every number taken off and priced: the cheapest, or within a stick of lumber of it, since
    # offcuts of one piece serve for another there
    plan = attached(wide, deep, site=site)
    choices = {choice.posts: choice for choice in choose_posts(plan, "deck", 2)}
    least = min(choice.cost for choice in choices.values() if choice.passes)
    chosen = choices[settled(plan).posts]
    assert chosen.passes
    assert chosen.cost <= least + 30.0
    assert chosen.build == settled(plan).build


def test_a_given_number_stays() -> None:
    line = beam(120, posts=4)
    plan = make_plan(platform("p", rectangle(0, 0, 144, 144), 40, beam(24), line))
    assert settled(plan).posts == 4
    assert settled(plan, 0).posts == 2


def test_near_another_level_posts_stay_at_8_ft() -> None:
    # 192 in between posts flush with the ends: 3 spans of 62 in would be 2 by cost; 8 ft (common practice) gives 3
    plan = hung_pair()
    assert settled(plan, of=0).posts == 3
    far = make_plan(platform("p", rectangle(0, 0, 144, 96), 40, beam(12), beam(84)))
    assert settled(far).posts == 2
    twin = make_plan(
        platform("p", rectangle(0, 0, 144, 96), 40, beam(12), beam(84)),
        platform("q", rectangle(0, 96, 144, 192), 40, beam(12), beam(84)),
    )
    # p's far line stands 1 ft from q, its near line 7 ft
    assert (settled(twin, 1).posts, settled(twin, 0).posts) == (3, 2)


def test_heavy_snow_takes_more_posts_than_8_ft_spans() -> None:
    # 200 psf of snow: no beam of the program spans 8 ft under it; more posts do
    plan = attached(192, 168, site=SOIL | {"snow_load": 200.0, "soil_bearing": 3000.0})
    tried = Study(plan).post_counts["deck", 2]
    usual = auto_post_count(192, 5.5)
    assert all(choice.verdict is Verdict.FAIL for choice in tried if choice.posts <= usual + 1)
    assert settled(plan).posts > usual + 1
    assert next(choice for choice in tried if choice.posts == settled(plan).posts).verdict is Verdict.PASS


def test_what_was_tried_is_kept_with_its_reasons() -> None:
    tried = Study(attached(240, 144)).post_counts["deck", 2]
    assert [choice.posts for choice in tried] == [5, 4, 3, 2]
    assert tried[-1].verdict is Verdict.FAIL
    assert "bending" in tried[-1].reason
    # more posts, less beam, more holes
    assert [choice.span for choice in tried] == sorted(choice.span for choice in tried)


def test_a_beam_too_deep_for_a_low_level_is_no_choice() -> None:
    # 11 1/4 in of beam, 7 1/4 in of joist and an inch of board leave no post under 20 in
    plan = attached(144, 144, 18.0)
    tried = Study(plan).post_counts.get(("deck", 2), ())
    assert all(choice.verdict is Verdict.FAIL for choice in tried if choice.build == "3-2x12")


def choice(posts: int, cost: float, verdict: Verdict) -> PostCount:
    return PostCount(posts, "2-2x8", 60.0, cost, verdict, "")


def test_price_leads_nobody_out_of_the_rules() -> None:
    dear, cheap = choice(4, 500, Verdict.PASS), choice(3, 400, Verdict.OUTSIDE)
    assert cheapest((dear, cheap), 4) == 4
    assert cheapest((choice(4, 500, Verdict.OUTSIDE), cheap), 4) == 3
    assert cheapest((choice(4, 500, Verdict.FAIL),), 4) == 4
    assert cheapest((choice(4, 400, Verdict.PASS), choice(3, 400, Verdict.PASS)), 4) == 3


def test_of_two_lines_alike_each_is_judged_by_its_own_beam() -> None:
    # one of two beams that are alike speaks for both: the other had no check, and stood on two posts 210 in apart
    study = Study(make_plan(platform("p", rectangle(0, 0, 216, 144), 30, beam(12), beam(132))))
    near, far = study.post_counts["p", 1], study.post_counts["p", 2]
    assert [(c.posts, c.build, c.verdict) for c in near] == [(c.posts, c.build, c.verdict) for c in far]
    assert near[-1].posts == 2
    assert near[-1].verdict is Verdict.FAIL
    assert study.verdict is Verdict.PASS
