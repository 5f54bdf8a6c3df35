"""The foot of a post on a lower frame: what bears at the very end of a member, feet beside its middle, lone joists.

Expected values from NDS Supplement 2018 (southern pine No. 2: Fc_perp 565, 2x8 Fb 925; 5x5 and larger Fc 525, Fb 850)
and NDS 2018 (C_M 0.67, C_r 1.15); the rest is geometry and statics, said beside each.
"""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.buy.connectors import count_connectors
from deckplan.checks.posts import NOTCH_RULE, foot_off
from deckplan.checks.printed_joists import OVERHANG
from deckplan.layout.model import Kind, Member, Post
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle

ON = {"stands_on": "terrace"}
FOOT = "wood under the post's foot"


def _study(x0: float, y0: float, y1: float, *lines: dict[str, Any], build: str = "2-2x10") -> Study:
    """A terrace 192 by 144 in on beams at y = 12, 72 and 132, joists along y, and a lookout 96 in wide over it."""
    below = [beam(offset, build=build, posts=4) for offset in (12, 72, 132)]
    terrace = platform("terrace", rectangle(0, 0, 192, 144), 30, *below, joists={"size": "2x8"})
    return Study(make_plan(terrace, platform("lookout", rectangle(x0, y0, x0 + 96, y1), 64, *lines)))


def _check(study: Study, mark: str, rule: str) -> Check:
    return next(check for check in study.checks if (check.mark, check.rule) == (mark, rule))


def _post(study: Study, mark: str) -> Post:
    return next(post for post in study.layout.posts if post.mark == mark)


AT_END = _study(0, 60, 144, beam(12, posts=(0.0, 93.25), **ON), beam(72, posts=(0.0, 93.25), **ON))
"""The lookout's first post stands over the very end of the terrace's second beam."""


def test_only_what_lies_under_a_foot_at_a_beams_end_bears() -> None:
    """Half of 5 1/2 in on 3 in of beam, no C_b at an end: 565 x 0.67 x 3 x 2.75 = 3,123 lb."""
    assert _check(AT_END, "B-P1", FOOT).capacity == pytest.approx(3123, abs=1)
    assert _check(AT_END, "B-P2", FOOT).capacity == pytest.approx(6672, abs=1)


def test_a_foot_at_a_beams_end_bends_its_post() -> None:
    """The middle of what bears, above and below, lies a quarter of 5 1/2 in off the axis."""
    assert foot_off(AT_END.layout, _post(AT_END, "B-P1")) == (0.0, 1.375)
    offs = [step.words for step in _check(AT_END, "B-P1", NOTCH_RULE).steps if step.symbol == "P off"]
    assert len(offs) == 2
    assert all("1.38" in words or "1.375" in words for words in offs)
    assert foot_off(AT_END.layout, _post(AT_END, "B-P2")) == (0.0, 0.0)


def test_a_post_whose_axis_lies_past_a_beams_end_does_not_stand_on_it() -> None:
    """A terrace with its corner cut: its second beam ends at x = 24, the post's axis lies an inch beyond."""
    outline = [(24.0, 0.0), (192.0, 0.0), (192.0, 144.0), (0.0, 144.0), (0.0, 96.0)]
    terrace = platform(
        "terrace", outline, 30, *(beam(at, posts=3) for at in (24, 72, 132)), joists={"size": "2x8"}
    )
    end = next(m for m in Study(make_plan(terrace)).layout.members if m.mark == "A-B2").start[0]
    lookout = platform(
        "lookout", rectangle(0, 60, 96, 144), 64, beam(12, posts=(end - 1.0, 90.0), **ON), beam(72, posts=2)
    )
    study = Study(make_plan(terrace, lookout))
    assert _post(study, "B-P1").stands_on != "A-B2"
    assert _post(study, "B-P2").stands_on == "A-B2"


def test_a_foot_beside_the_middle_of_a_joist_bends_its_post() -> None:
    """A joist at x = 64, posts at 66 and 126: 2 in off. A stub bends by P e: f = P/A 6 e/d, NDS 3.9.2 with little P."""
    study = _study(48, 48, 132, beam(24, posts=2, **ON), beam(56, posts=(18.0, 78.0), **ON))
    post = _post(study, "B-P3")
    joist = study.layout.by_mark[post.stands_on]
    assert isinstance(joist, Member)
    assert (joist.kind, joist.start[0], post.at[0]) == (Kind.JOIST, 64.0, 66.0)
    check = _check(study, "B-P3", NOTCH_RULE)
    load, _ = study.loads.posts["B-P3"].governing
    plain = load / 30.25 * (6 * 2 / 5.5) / 850 + (load / 30.25 / 525) ** 2
    assert check.demand == pytest.approx(plain, rel=0.02)


def test_a_joist_under_a_post_shares_its_load_with_no_neighbour() -> None:
    """925 psi x 13.14 in3 = 12,155 lb in without C_r, 15 % more with it."""
    study = _study(48, 48, 132, beam(24, posts=2, **ON), beam(56, posts=(16.0, 80.0), **ON))
    under = _post(study, "B-P3").stands_on
    assert _check(study, under, "bending in the span").capacity == pytest.approx(12155, abs=2)
    assert _check(study, "A-J2", "bending in the span").capacity == pytest.approx(13978, abs=2)


def test_blocks_under_a_notched_posts_foot_lie_over_the_beam() -> None:
    """The axis of a 6x6 notched for 3 in stands 1 1/4 in off; the blocks keep to the beam below, as wide as it."""
    lines = [beam(at, posts=2, seat="notch", build="2-2x8", **ON) for at in (12, 72)]
    study = _study(48, 60, 144, *lines)
    post = _post(study, "B-P1")
    assert (post.stands_on, post.at[1]) == ("A-B2", 73.25)
    blocks = [m for m in study.layout.of("terrace", Kind.BLOCKING) if abs(m.start[1] - 72) < 6]
    assert {block.start[1] for block in blocks} == {72.0}
    assert any(block.size == "2-2x8" and block.start[0] <= post.at[0] <= block.end[0] for block in blocks)
    # the notch's moment at the head is the foot's as well: counted once
    offs = [step for step in _check(study, "B-P1", NOTCH_RULE).steps if step.symbol == "P off"]
    assert len(offs) == 1
    assert not any(check.verdict is Verdict.FAIL for check in study.checks_of("B-P1"))


def test_a_post_on_wood_is_bought_another_base() -> None:
    """Twelve posts of the terrace on concrete, four of the lookout on its frame: counted apart."""
    items = {item.item: item.count for item in count_connectors(AT_END.layout, AT_END.loads)}
    assert (items["post base, 6x6"], items["post base on wood, 6x6"]) == (12, 4)


def test_no_printed_overhang_speaks_of_a_joist_with_a_post_at_its_tip() -> None:
    """AWC DCA6 Table 2 prints overhangs under area loads, with one person of 220 lb at the tip."""
    study = _study(48, 60, 162, beam(12, posts=2, **ON), beam(82, posts=(16.0, 80.0), **ON), build="3-2x10")
    under = _post(study, "B-P3").stands_on
    assert under == "A-J5"
    assert OVERHANG not in {check.rule for check in study.checks_of(under)}
    assert OVERHANG in {check.rule for check in study.checks_of("A-J1")}
