"""A post that all loads together lift is no column: it shows no compression, and its pull is held elsewhere."""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.checks.posts import check_post
from deckplan.layout.model import Post
from deckplan.loads.model import Force
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle


def study(**line: Any) -> Study:
    deck = platform(
        "deck", rectangle(0, 0, 192, 144), 60.0, beam(12), beam(130, **line), joists={"size": "2x10"}
    )
    return Study(make_plan(deck))


def column(force: Force) -> Check:
    built = study()
    post: Post = built.layout.posts[0]
    (check,) = [
        c for c in check_post(built.plan, built.profile, post, force, ()) if c.rule == "post as a column"
    ]
    return check


def force(dead: float, live: float) -> Force:
    return Force(dead, live, 0.0, live, 0.0, dead)


@pytest.mark.parametrize("dead", [-0.1, -100.0, -5000.0])
def test_compression_is_never_under_nothing(dead: float) -> None:
    check = column(force(dead, 0.0))
    assert (check.demand, check.utilisation, check.verdict) == (0.0, 0.0, Verdict.PASS)
    assert ("no column but a tie" in check.reason) is (dead < -5.0)


def test_what_presses_in_one_combination_is_judged_there() -> None:
    check = column(force(-100.0, 400.0))
    # D + L: -100 + 400 lb
    assert check.demand == pytest.approx(300.0)
    assert check.utilisation == pytest.approx(300.0 / (check.capacity or 0.0))


def test_a_lifted_post_has_a_check_of_its_pull() -> None:
    # 18 in between two posts, 13 ft beyond them: the beam pries the first one up
    built = study(posts=[12.0, 30.0], build="2-2x12")
    lifted = [post for post in built.layout.posts if built.loads.posts[post.mark].full < 0]
    assert lifted
    for post in lifted:
        (one,) = [c for c in built.checks_of(post.mark) if c.rule == "post as a column"]
        assert one.demand == 0.0
        assert f"lift {post.mark} by" in one.reason
        (held,) = [c for c in built.checks_of(post.footing) if c.rule == "footing's weight against uplift"]
        assert (held.demand or 0.0) > 0.0
        (soil,) = [c for c in built.checks_of(post.footing) if c.rule == "soil pressure"]
        assert soil.demand is not None
        assert soil.demand >= 0.0


@pytest.mark.parametrize("elevation", [-1000.0, -1.0])
def test_a_level_below_the_ground_has_no_height(elevation: float) -> None:
    deck = platform("deck", rectangle(0, 0, 192, 144), elevation, beam(12), beam(130))
    checks = Study(make_plan(deck)).checks
    (height,) = [c for c in checks if c.rule == "level within the height of the tables"]
    assert height.demand == 0.0
    assert any(c.verdict is Verdict.FAIL for c in checks)
    assert all(c.utilisation is None or c.utilisation >= 0 or c.at_least for c in checks)
