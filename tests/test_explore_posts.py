"""Posts at least cost: against trying every number by hand."""

from __future__ import annotations

import pytest

from deckplan.buy.prices import Prices, read_prices
from deckplan.explore.posts import choose_posts
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import attached


def test_the_cheapest_that_passes_comes_first() -> None:
    plan = attached(240, 144)
    choices = choose_posts(plan, "deck", 2)
    passing = [c for c in choices if c.passes]
    assert choices[: len(passing)] == tuple(passing)
    assert [c.cost for c in passing] == sorted(c.cost for c in passing)
    assert {c.posts for c in choices} == set(range(2, 8))  # posts at least 3 ft apart: common practice
    for choice in choices:
        line = plan.platforms[0].supports[1].model_copy(update={"posts": choice.posts})
        deck = plan.platforms[0].model_copy(update={"supports": (plan.platforms[0].supports[0], line)})
        study = Study(plan.model_copy(update={"platforms": (deck,)}))
        bad = [
            c for c in study.checks if c.mark.startswith(("A-B", "A-P", "A-F")) and c.verdict is Verdict.FAIL
        ]
        assert choice.passes == (not bad)


def test_dear_holes_mean_fewer_posts() -> None:
    plan = attached(288, 144)
    usual = read_prices()
    dear = Prices("test", usual.each | {"hole": 5000.0})
    cheap = Prices(
        "test", usual.each | {"hole": 0.0, "concrete": 0.0, "post base": 0.0, "post cap": 0.0, "6x6": 0.0}
    )
    assert choose_posts(plan, "deck", 2, dear)[0].posts < choose_posts(plan, "deck", 2, cheap)[0].posts


def test_a_ledger_is_no_beam_line() -> None:
    with pytest.raises(TypeError, match="no beam line"):
        choose_posts(attached(240, 144), "deck", 1)
