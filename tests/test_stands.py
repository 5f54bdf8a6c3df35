"""Posts of an upper level on a lower level's frame, and posts that come down through one.

Expected forces by statics on simple spans; bearing by NDS 2018 3.10 with its own published values; the rest is
geometry or common practice, said beside each.
"""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.errors import InputError
from deckplan.layout.model import Kind, Post
from deckplan.plan.file import parse_plan, read_plan
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle

RULE = "post stands on a lower frame"


def _two_levels(
    *lines: dict[str, Any], style: str = "drop", low: float = 30.0, high: float = 72.0, build: str = "2-2x10"
) -> Plan:
    """A terrace 192 by 144 in on two beams, joists along y, and a lookout 96 in square over it from (48, 24) on."""
    terrace = platform(
        "terrace", rectangle(0, 0, 192, 144), low, beam(24, style=style, posts=3, build=build),
        beam(96, style=style, posts=3, build=build),
        joists={"direction": "y", "size": "2x8"},
    )  # fmt: skip
    lookout = platform("lookout", rectangle(48, 24, 144, 120), high, *lines, joists={"size": "2x8"})
    return make_plan(terrace, lookout)


ON = {"stands_on": "terrace", "posts": 2}
STACKED = _two_levels(beam(6, **ON), beam(72, **ON))
"""Of the lookout's lines the second lies right over the terrace's second beam (24 + 72 = 96), the first over none."""


def _posts(study: Study, platform: str = "lookout") -> list[Post]:
    return [post for post in study.layout.posts if post.platform == platform]


def _of_rule(study: Study, rule: str) -> list[Check]:
    return [check for check in study.checks if check.rule == rule]


def test_a_post_over_a_beam_stands_on_it_and_has_no_footing() -> None:
    study = Study(STACKED)
    standing = [post for post in _posts(study) if post.at[1] == pytest.approx(96)]
    assert len(standing) == 2
    for post in standing:
        assert (post.stands_on, post.footing) == ("A-B2", "")
        # the terrace's joists end one board, 1 in, under its surface at 30 in
        assert post.bottom == 29.0
    assert {footing.post for footing in study.footings}.isdisjoint(post.mark for post in standing)


def test_its_load_goes_down_through_the_lower_beam_by_statics() -> None:
    """Statics: what the posts below have more than without the lookout is what the posts above bring, to the pound."""
    study = Study(_two_levels(beam(6, posts=2), beam(72, **ON)))
    loads = study.loads
    one, two = (post for post in _posts(study) if post.stands_on == "A-B2")
    lower = study.layout.by_mark["A-B2"]
    onto = {delivery.upper: delivery for delivery in loads.onto["A-B2"]}
    for post in (one, two):
        weight = loads.weights[post.mark]
        assert onto[post.mark].force.full == pytest.approx(loads.posts[post.mark].full + weight, rel=1e-12)
    without = Study(_two_levels(beam(6, posts=2), beam(72, posts=2))).loads
    more = sum(loads.posts[b.on].full - without.posts[b.on].full for b in lower.bearings)  # type: ignore[union-attr]
    above = sum(loads.posts[post.mark].full + loads.weights[post.mark] for post in (one, two))
    assert more == pytest.approx(above, rel=1e-9)
    # statics: everything that was put on arrives on the soil
    ends = study.load_path.arrived()
    assert sum(force.full for force in ends.values()) == pytest.approx(loads.applied.full, rel=1e-9)
    assert max(node.off for node in study.load_path.balance()) < 1e-6


def test_the_posts_own_weight_goes_down_with_its_load() -> None:
    """Southern pine, G 0.55 (NDS Supplement), 25 % moist: 38.3 lb/cu ft; 5 1/2 in square: 8.04 lb a foot of height."""
    study = Study(STACKED)
    for post in _posts(study):
        assert study.loads.weights[post.mark] == pytest.approx(8.04 * post.height / 12, rel=0.01)
    under = study.layout.by_mark["A-B2"].bearings[1].on  # type: ignore[union-attr]
    names = [stands.surface for stands in study.load_path.what_stands_on(under)]
    assert any(name.endswith(" itself") for name in names)


def test_what_stands_on_a_footing_below_names_the_upper_level() -> None:
    study = Study(STACKED)
    under = study.layout.by_mark["A-B2"].bearings[1].on  # type: ignore[union-attr]
    post = study.layout.by_mark[under]
    assert isinstance(post, Post)
    assert post.carries == ("terrace", "lookout")
    found = study.load_path.what_stands_on(post.footing)
    names = {stands.name: stands for stands in found}
    assert names["lookout"].full > 0
    total = sum(stands.full for stands in found)
    assert total == pytest.approx(study.loads.posts[post.mark].full, rel=1e-6)
    ends = study.load_path.where_does_it_go(_posts(study)[-1].mark)
    assert sum(goes.share for goes in ends) == pytest.approx(1.0)
    assert {goes.support for goes in ends} <= {pad.mark for pad in study.layout.pads}


def test_blocks_as_wide_as_a_drop_beam_stand_under_the_foot() -> None:
    """Common practice: solid blocks between the joists carry a post down to the beam."""
    study = Study(STACKED)
    beam_below = study.layout.by_mark["A-B2"]
    plies = beam_below.size.split("-")[0]  # type: ignore[union-attr]
    blocks = [
        m for m in study.layout.of("terrace", Kind.BLOCKING) if m.start[1] == pytest.approx(96) and "-" in m.size
    ]  # fmt: skip
    assert {block.size for block in blocks} == {f"{plies}-2x8"}
    for post in _posts(study):
        if post.stands_on == "A-B2":
            assert any(b.start[0] < post.at[0] + 2.75 and b.end[0] > post.at[0] - 2.75 for b in blocks)


def test_a_flush_beam_takes_the_foot_on_its_own_top() -> None:
    study = Study(_two_levels(beam(6, posts=2), beam(72, **ON), style="flush"))
    assert [post.stands_on for post in _posts(study)][-2:] == ["A-B2", "A-B2"]
    assert not [m for m in study.layout.of("terrace", Kind.BLOCKING) if m.size.startswith(("2-", "3-"))]


def test_away_from_a_beam_a_joist_carries_it_with_blocks_beside() -> None:
    # joists on centre at 16 in: places 16 and 80 along a beam that begins at x = 48 lie over joists at 64 and 128
    study = Study(_two_levels(beam(6, stands_on="terrace", posts=(16.0, 80.0)), beam(72, **ON)))
    first = [post for post in _posts(study) if post.at[1] == pytest.approx(30)]
    carriers = [study.layout.by_mark[post.stands_on] for post in first]
    assert [(c.kind, c.start[0]) for c in carriers] == [(Kind.JOIST, 64.0), (Kind.JOIST, 128.0)]  # type: ignore[union-attr]
    beside = [m for m in study.layout.of("terrace", Kind.BLOCKING) if m.start[1] == pytest.approx(30)]
    assert len(beside) == 4
    # the joist bends under it: its demand is more than its neighbour's
    loads = study.loads
    moment = {
        m.mark: loads.demands[m.mark].analysis.moment_max.value
        for m in study.layout.of("terrace", Kind.JOIST)
    }
    assert moment[first[0].stands_on] > 1.5 * moment["A-J3"]


def test_counted_posts_move_to_a_joist_but_typed_offsets_stay() -> None:
    moved = Study(_two_levels(beam(6, **ON), beam(72, **ON)))
    assert all(post.stands_on for post in _posts(moved))
    typed = Study(_two_levels(beam(6, stands_on="terrace", posts=(24.0, 72.0)), beam(72, **ON)))
    first = [post for post in _posts(typed) if post.at[1] == pytest.approx(30)]
    assert [(post.at[0], post.stands_on) for post in first] == [(72.0, ""), (120.0, "")]
    failed = [c for c in _of_rule(typed, RULE) if c.verdict is Verdict.FAIL]
    assert [c.mark for c in failed] == [post.mark for post in first]
    # the line at y = 30 runs 6 in beside the beam at y = 24, nearer than the joists 8 in beside
    assert all('6" beside the middle of beam A-B1' in c.reason for c in failed)


def test_no_table_covers_it_and_the_check_says_so() -> None:
    study = Study(STACKED)
    said = [c for c in _of_rule(study, RULE) if c.verdict is Verdict.OUTSIDE]
    assert len(said) == sum(bool(post.stands_on) for post in _posts(study))
    assert all("computed" in check.reason for check in said)
    assert study.verdict in (Verdict.OUTSIDE, Verdict.FAIL)


def test_a_post_beside_the_lower_platform_goes_to_the_ground() -> None:
    study = Study(_two_levels(beam(6, posts=2), beam(72, **ON)))
    aside = make_plan(
        *(p.model_dump(by_alias=True) for p in STACKED.platforms[:1]),
        platform("lookout", rectangle(250, 24, 346, 120), 72, beam(6, posts=2), beam(72, **ON)),
    )
    assert all(post.footing for post in _posts(Study(aside)))
    (failed,) = _of_rule(Study(aside), RULE)
    assert failed.verdict is Verdict.FAIL
    assert "none of its posts lies over" in failed.reason
    assert [bool(post.footing) for post in _posts(study)] == [True, True, False, False]


def test_a_frame_that_is_not_lower_carries_nothing() -> None:
    study = Study(_two_levels(beam(6, posts=2), beam(72, **ON), low=80.0, high=72.0))
    assert all(post.footing for post in _posts(study))
    failed = [c for c in _of_rule(study, RULE) if c.verdict is Verdict.FAIL]
    assert len(failed) == 2
    assert "no higher than the frame" in failed[0].reason


def test_two_levels_that_lean_on_each_other_are_told_so_instead_of_a_ring() -> None:
    """Statics: the terrace's joists hang on the lookout's beam, so the lookout cannot stand on the terrace."""
    terrace = platform("terrace", rectangle(0, 0, 96, 96), 40, beam(12), {"kind": "hung", "on": "lookout"})
    lookout = platform(
        "lookout", rectangle(0, 94, 96, 190), 48, beam(1.5, style="flush", stands_on="terrace"), beam(72)
    )
    study = Study(make_plan(terrace, lookout))
    assert all(post.footing for post in _posts(study))
    assert any("must stand first" in check.reason for check in _of_rule(study, RULE))


def test_the_wood_under_a_foot_is_checked_for_crushing() -> None:
    """NDS Supplement 2018: Fc_perp of southern pine 565 psi; NDS 2018: C_M 0.67, C_b = (lb + 3/8) / lb for lb < 6 in.

    565 x 0.67 = 378.55 psi; C_b = 5.875 / 5.5 = 1.06818; on 3 in by 5.5 in: 6,672 lb.
    """
    study = Study(_two_levels(beam(6, posts=2), beam(72, **ON)))
    checks = _of_rule(study, "wood under the post's foot")
    assert [check.capacity for check in checks] == [pytest.approx(6672, abs=1)] * 2
    loads = study.loads
    asked = {post: force.governing[0] + loads.weights.get(post, 0.0) for post, force in loads.posts.items()}
    assert all(check.demand == pytest.approx(asked[check.mark]) for check in checks)
    held = _of_rule(study, "post's foot held on the frame")
    assert [check.mark for check in held] == [check.mark for check in checks]
    assert all(check.reason.startswith("required:") for check in held)


# -- coming down through a frame --


@pytest.mark.parametrize(
    ("at", "clear"), [(16.0, False), (24.0, True), (12.5, True), (12.6, False), (19.4, False)]
)
def test_a_post_through_a_frame_must_miss_its_joists(at: float, clear: bool) -> None:
    """Joists at 48 and 64 in, post 5 1/2 in: clear from 51 1/2 to 60 1/2 in, the beam starts at x = 48."""
    study = Study(_two_levels(beam(6, posts=(at, 87.5)), beam(72, posts=2)))
    through = {c.mark: c for c in _of_rule(study, "post comes down clear of a lower frame")}
    mark = next(post.mark for post in _posts(study) if post.at[0] == pytest.approx(48 + at))
    assert (through[mark].verdict is Verdict.PASS) is clear
    if not clear:
        assert "meets joist" in through[mark].reason
        assert "stands_on" in through[mark].reason


def test_levels_side_by_side_have_no_post_through_a_frame() -> None:
    study = Study(read_plan("data/plans/alder-point.toml"))
    assert not _of_rule(study, "post comes down clear of a lower frame")


# -- the file --


def test_the_demo_stands_and_nothing_fails() -> None:
    study = Study(read_plan("data/plans/frames-stacked.toml"))
    assert study.verdict is Verdict.OUTSIDE
    assert all(post.stands_on for post in _posts(study))


@pytest.mark.parametrize(
    ("name", "words"), [("terrace", "another platform"), ("terace", 'did you mean "terrace"')]
)
def test_a_name_that_means_nothing_is_told(name: str, words: str) -> None:
    text = f"""
[[platform]]
name = "terrace"
outline = [["0 ft", "0 ft"], ["9 ft", "0 ft"], ["9 ft", "9 ft"], ["0 ft", "9 ft"]]
elevation = "20 in"
[[platform.support]]
kind = "beam"
offset = "4 ft"
stands_on = "{name}"
"""
    with pytest.raises(InputError) as error:
        parse_plan(text)
    (problem,) = error.value.problems
    assert problem.place == 'platform "terrace", support 1, stands_on'
    assert words in problem.expected
