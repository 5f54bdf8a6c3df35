"""Braced posts under people who sway in step: 12 psf by published tests, no code states a load; NDS 2018 3.9.2."""

from __future__ import annotations

import pytest
from shapely import Point, Polygon

from deckplan.checks.braced_posts import BRACE_RULE, POST_RULE
from deckplan.engineering.braces import knee_brace, overturning
from deckplan.layout.model import Kind
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import attached, beam, make_plan, platform, rectangle


def tall(height: float) -> Study:
    """16 x 12 ft on two beams of two spans, posts 6x6 of that height [in]: 1 + 9-1/4 + 9-1/4 in lie over them."""
    lines = [beam(at, build="2-2x10", posts=3) for at in (18, 126)]
    joists = {"direction": "y", "size": "2x10"}
    return Study(make_plan(platform("deck", rectangle(0, 0, 192, 144), height + 19.5, *lines, joists=joists)))


def found(study: Study) -> dict[str, Check]:
    return {c.rule: c for c in study.checks if c.rule in (POST_RULE, BRACE_RULE)}


def test_a_braced_post_by_hand() -> None:
    # 12 x 192 sq ft / 4 posts = 576 lb. Braced 24 in below the beam, 60 in high: 576 x 36 = 20,736 lb in on 27.73 in3:
    # 748 psi. Southern pine No. 2 6x6 Fb 850 psi (NDS Supplement 2018 Table 4D), minutes 1.6: 1,360: 0.55; the column's
    # share squared and its amplification add some hundredths.
    study = tall(60.0)
    check = found(study)[POST_RULE]
    assert check.verdict is Verdict.PASS
    assert check.demand is not None
    assert 20736 / 27.729 / 1360 < check.demand < 20736 / 27.729 / 1360 + 0.05
    push, moment = check.steps[0].value, check.steps[1].value
    assert push == pytest.approx(576.0)
    assert moment == pytest.approx(20736.0)
    # the load: half of it comes from the other post's foot: moments about it, posts 108 in apart across the beams
    gravity = study.loads.posts[check.mark]
    assert check.steps[2].value == pytest.approx(gravity.dead + gravity.live_most + 2 * 576 * 60 / 108)


@pytest.mark.parametrize(
    ("height", "verdict"), [(84.0, Verdict.PASS), (85.99, Verdict.PASS), (86.01, Verdict.OUTSIDE)]
)
def test_a_post_that_sway_breaks_is_for_an_engineer(height: float, verdict: Verdict) -> None:
    # By hand at 86 in: 576 x 62 = 35,712 lb in, 1,288 psi; 2,002 lb, 66.2 psi; C_P 0.844, Fc' 709 psi, FcE 1,479 psi:
    # 0.0087 + 1,288 / (1,360 x 0.9553) = 0.0087 + 0.9913 = 1.000. No code states the push, so that there is no FAIL.
    study = tall(height)
    check = found(study)[POST_RULE]
    assert check.verdict is verdict
    assert ("engineer" in check.reason) is (verdict is Verdict.OUTSIDE)
    assert not [c for c in study.checks if c.rule == POST_RULE and c.verdict is Verdict.FAIL]


def test_a_brace_is_fastened_for_what_goes_through_it() -> None:
    # horizontal 576 x 60 / 24 = 1,440 lb; along a brace at 45 degrees 2,036 lb
    check = found(tall(60.0))[BRACE_RULE]
    assert check.demand == pytest.approx(1440 * 2**0.5)
    assert check.reason.startswith("required:")
    assert "2036 lb" in check.reason


def test_equilibrium_of_a_braced_bay() -> None:
    """Two posts, each pushed at its head: the push turns the bay about one foot, the other foot holds it."""
    assert overturning(576.0, 60.0, 108.0) * 108.0 == pytest.approx(2 * 576.0 * 60.0)
    brace = knee_brace(576.0, 60.0, 24.0, 24.0)
    foot_shear = brace.foot_shear
    assert foot_shear * 36.0 == pytest.approx(
        brace.post_moment
    )  # below the brace nothing else acts on the post


def test_decks_without_braces_are_not_asked() -> None:
    assert not found(tall(4.0))
    assert not found(Study(attached(192, 144, 60.0)))


def test_a_level_on_a_level_is_for_an_engineer() -> None:
    upper = platform(
        "upper", rectangle(24, 24, 120, 120), 96.0, beam(12, stands_on="lower", posts=2),
        beam(84, stands_on="lower", posts=2), joists={"direction": "y", "size": "2x8"},
    )  # fmt: skip
    lines = [beam(at, build="3-2x10", posts=3) for at in (18, 72, 126)]
    lower = platform(
        "lower", rectangle(0, 0, 192, 144), 60.0, *lines, joists={"direction": "y", "size": "2x10"}
    )
    study = Study(make_plan(lower, upper))
    assert any(post.stands_on for post in study.layout.posts)
    check = found(study)[POST_RULE]
    assert check.verdict is Verdict.OUTSIDE


def test_braces_lean_towards_the_joist_beside_their_post() -> None:
    """Geometry: the edge that the first joists end at lies close behind the beam, at the other end it lies far off."""
    outline = [(0.0, 0.0), (192.0, 60.0), (192.0, 200.0), (0.0, 120.0)]
    deck = platform("deck", outline, 100.0, beam(70, posts=3), beam(100, posts=3), joists={"direction": "y"})
    study = Study(make_plan(deck))
    over = Polygon(outline).buffer(1.0)
    braces = study.layout.of("deck", Kind.BRACE)
    assert len(braces) == 8
    assert all(over.covers(Point(brace.start)) for brace in braces)


def test_two_beams_with_posts_on_one_spot_are_told_apart_from_a_bay() -> None:
    """Posts in each other fail for standing there; the bay that sways lies between the lines (common practice)."""
    lines = [beam(at, build="2-2x10", posts=3) for at in (18, 126, 126)]
    joists = {"direction": "y", "size": "2x10"}
    study = Study(make_plan(platform("deck", rectangle(0, 0, 192, 144), 84.0, *lines, joists=joists)))
    gravity = study.loads.posts[found(study)[POST_RULE].mark]
    steps = {step.symbol: step.value for step in found(study)[POST_RULE].steps}
    height = next(p.height for p in study.layout.posts if p.mark == found(study)[POST_RULE].mark)
    more = 2 * steps["P"] * height / 108  # from line to line
    assert steps["N"] == pytest.approx(gravity.dead + gravity.live_most + more)
    assert [c for c in study.checks if c.verdict is Verdict.FAIL and "in one another" in c.reason]
