"""Beam lines that share a neighbour's posts: which ends hang, in what seat, what keeps them off, what would help."""

from __future__ import annotations

import pytest

from deckplan.checks.sharing import RULE
from deckplan.draw.connection_view import connection_view
from deckplan.explore.connections import Connection, connect
from deckplan.explore.touching import touching
from deckplan.explore.ways import Manner
from deckplan.layout.hung import RULE as HUNG
from deckplan.layout.model import Kind
from deckplan.layout.share_cures import find_cures
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle


def pair(
    wide: float,
    line: float = 84.0,
    upper: float = 40.0,
    lower: float = 20.0,
    deep: float = 96.0,
    **more: object,
) -> Plan:
    """A level 10 ft wide, and one beside it whose second line is to hang on the first one's post at (117.25, 84)."""
    hi = platform("hi", rectangle(0, 0, 120, deep), upper, beam(12), beam(deep - 12))
    court = platform(
        "court", rectangle(120, 0, 120 + wide, deep), lower, beam(18), beam(line, shares_posts_with="hi", **more)
    )  # fmt: skip
    return make_plan(hi, court)


def on_4x4(plan: Plan) -> Plan:
    return plan.model_copy(update={"materials": plan.materials.model_copy(update={"post": "4x4"})})


def verdicts(study: Study) -> list[Verdict]:
    return [check.verdict for check in study.checks if check.rule == RULE]


# -- lines of several pieces --


def test_a_line_cut_to_stock_hangs_by_the_end_that_meets_a_post() -> None:
    # 30 ft: stock comes to 20 ft (common practice), so that the line is two pieces
    study = Study(pair(360))
    pieces = [m for m in study.layout.of("court", Kind.BEAM) if m.support == 1]
    assert len(pieces) == 2
    assert [(b.at, b.on, b.manner) for b in pieces[0].bearings if b.manner == "hanger"] == [
        (0.0, "A-P6", "hanger")
    ]
    assert not any(b.manner == "hanger" for b in pieces[1].bearings)
    # the splice still stands over one post of its own, with both pieces on it
    assert pieces[0].bearings[-1].on == pieces[1].bearings[0].on
    assert verdicts(study) == [Verdict.OUTSIDE]
    assert [wish.post for wish in study.layout.sharing] == ["A-P6"]
    assert study.loads.lost.full == pytest.approx(0, abs=1e-6)
    apart = Study(pair(360, line=80.0))
    assert len(apart.layout.pads) == len(study.layout.pads) + 1


def test_a_line_in_two_stretches_hangs_at_both_ends_that_meet_posts() -> None:
    # a court round three sides of a landing: its line is cut by the landing, and meets a post on either side of it
    outline = [(0.0, 0.0), (120.0, 0.0), (120.0, 60.0), (240.0, 60.0), (240.0, 0.0), (360.0, 0.0), (360.0, 120.0),
               (0.0, 120.0)]  # fmt: skip
    hi = platform("hi", rectangle(120, 0, 240, 60), 50, beam(6), beam(36, posts=2))
    court = platform("court", outline, 20, beam(36, shares_posts_with="hi"), beam(6), beam(108))
    study = Study(make_plan(hi, court))
    hung = [
        (m.mark, b.at == 0.0)
        for m in study.layout.of("court", Kind.BEAM)
        for b in m.bearings
        if b.manner == "hanger"
    ]
    assert [first for _, first in hung] == [
        False,
        True,
    ]  # by its upper end west of it, by its lower end east of it
    assert verdicts(study) == [Verdict.OUTSIDE, Verdict.OUTSIDE]


def test_a_line_that_meets_nothing_fails_once_and_says_how_far_it_passes() -> None:
    study = Study(pair(840, line=72.0))  # 70 ft: four pieces
    (check,) = [check for check in study.checks if check.rule == RULE]
    assert check.verdict is Verdict.FAIL
    assert "stands 1'-0\" aside of the beam's line: an offset of 7'-0\" would meet it" in check.reason


def test_the_chooser_offers_the_shared_line_to_a_deck_longer_than_stock() -> None:
    hi = platform("hi", rectangle(0, 0, 120, 96), 40, beam(12), beam(84))
    court = platform("court", rectangle(120, 0, 480, 96), 20, beam(12), beam(84))
    study = Study(make_plan(hi, court))
    (touch,) = touching(study.asked, study.levels)
    shared, alone = (connect(study, touch, manner) for manner in (Manner.SHARED, Manner.INDEPENDENT))
    assert isinstance(shared, Connection)
    assert isinstance(alone, Connection)
    assert shared.feasible, shared.reason
    assert shared.holes == alone.holes - 2  # both lines lie in line with a post


# -- the hanger's seat --


def test_a_solid_beam_bears_on_its_hangers_seat_and_not_on_its_own_thickness() -> None:
    # IRC R507.6.1: 1 1/2 in on metal. NDS 3.10.2: southern pine 565 psi (NDS supplement Table 4B) x 0.67 wet
    # (NDS supplement, footnotes of Table 4B) x 3 1/2 in x 1 1/2 in
    plan = pair(168, upper=60.0, lower=36.0, build="4x10", posts=2)
    study = Study(plan)
    hung = next(m for m in study.layout.of("court", Kind.BEAM) if m.support == 1)
    assert [b.length for b in hung.bearings if b.manner == "hanger"] == [1.5]
    bearing = next(check for check in study.checks if check.mark == hung.mark and check.rule == "bearing")
    assert bearing.capacity == pytest.approx(565 * 0.67 * 3.5 * 1.5, rel=1e-3)
    assert 'seat 1 1/2"' in connection_view(study, hung.mark, "A-P6").summary()


# -- what keeps an end off a post, and what would help --


def low(court: float, style: str = "drop", own: str = "drop") -> Study:
    """A level 40 in high with its beam 1 1/2 in inside the edge, a court beside it with a line in line with that."""
    hi = platform(
        "hi", rectangle(0, 0, 120, 96), 40, beam(12), beam(94.5, style=style), joists={"size": "2x8"}
    )
    other = platform(
        "court", rectangle(120, 0, 240, 96), court, beam(12), beam(94.5, shares_posts_with="hi", style=own),
        joists={"size": "2x8"},
    )  # fmt: skip
    return Study(make_plan(hi, other))


def test_a_flush_beam_is_a_cure_within_the_joists_depth_and_no_farther() -> None:
    # 2x8 joists are 7 1/4 in deep (PS 20): between them the neighbour's beam, and its post, stand that much higher
    drop = low(30.0)
    top = next(post.top for post in drop.layout.posts if post.mark == "A-P6")
    beams = [m for m in drop.layout.of("court", Kind.BEAM) if m.support == 1]
    meets = 30.0 + top - beams[0].top  # the court's height at which its beam just hangs
    for over, flush in ((0.0, None), (7.25, True), (7.5, False), (33.75, False)):
        wishes = low(meets + over).layout.sharing
        if flush is None:
            assert [bool(wish.post) for wish in wishes] == [True]
        else:
            assert ("flush" in wishes[0].reason) is flush, wishes[0].reason


def test_no_flush_beam_is_advised_where_both_are_flush() -> None:
    (wish,) = low(40.0, style="flush", own="flush").layout.sharing
    assert "flush" not in wish.reason
    assert 'a drop beam of "court"' in wish.reason


@pytest.mark.parametrize(
    "plan",
    [
        pair(120, line=72.0),
        pair(120, lower=38.0),
        on_4x4(pair(120, build="3-2x8")),
        low(46.0).asked,
        low(60.0).asked,
        low(40.0, style="flush", own="flush").asked,
        pair(120, upper=30.0, lower=12.0),
    ],
)  # fmt: skip
def test_every_cure_that_is_told_brings_the_beam_onto_the_post(plan: Plan) -> None:
    study = Study(plan)
    (wish,) = study.layout.sharing
    assert wish.post == ""
    cures = list(find_cures(study.plan, study.layout, wish, lambda changed: Study(changed).layout))
    assert cures
    for cure in cures:
        (now,) = Study(cure.change(study.plan)).layout.sharing
        assert now.post, cure.words


def test_an_end_at_a_splice_is_no_end_that_hangs() -> None:
    # the court's line is spliced at x = 180; a level over it sets a post right beside that
    court = platform(
        "court", rectangle(0, 0, 360, 120), 20, beam(12), beam(60, shares_posts_with="hi"), beam(108)
    )
    hi = platform("hi", rectangle(100, 20, 200, 100), 60, beam(10), beam(40, posts=(5.0, 82.75)), beam(70))
    study = Study(make_plan(hi, court))
    (wish,) = study.layout.sharing
    assert wish.miss is not None
    assert wish.miss.kind == "splice"
    assert "is a splice" in wish.reason


def test_a_post_under_a_splice_is_shared_with_a_word_about_its_cap() -> None:
    hi = platform("hi", rectangle(0, 0, 360, 120), 60, beam(12), beam(117.25))
    court = platform(
        "court", rectangle(100, 120, 260, 260), 30, beam(20), beam(80, shares_posts_with="hi"), beam(140),
        joists={"direction": "x"},
    )  # fmt: skip
    study = Study(make_plan(hi, court))
    post = study.layout.sharing[0].post
    over = [
        m
        for m in study.layout.of("hi", Kind.BEAM)
        if any(b.on == post and b.manner == "splice" for b in m.bearings)
    ]
    assert len(over) == 2
    check = next(check for check in study.checks if check.rule == RULE)
    assert f"{post} carries a splice as well" in check.reason


# -- joists on a neighbour's beam --


def hung_on(build: str, height: float) -> Check:
    """The check of 2x8 joists hung on a flush beam of a build, whose top lies at the joists' of a level 40 in high."""
    upper = platform(
        "upper", rectangle(0, 0, 144, 120), 40, beam(12), beam(118.5, style="flush", build=build),
        joists={"size": "2x6"},
    )  # fmt: skip
    low = platform(
        "low",
        rectangle(0, 120, 144, 220),
        height,
        {"kind": "hung", "on": "upper"},
        beam(88),
        joists={"size": "2x8"},
    )
    study = Study(make_plan(upper, low, site={"ground": [{"at": (0.0, 0.0), "elevation": -40.0}]}))
    return next(check for check in study.checks if check.rule == HUNG)


@pytest.mark.parametrize(
    ("build", "height", "cures"),
    [
        # dressed depths of PS 20: 2x8 7 1/4, 2x10 9 1/4, 2x12 11 1/4
        ("2-2x10", 38.0, None),
        ("2-2x10", 37.0, '"low" 1" higher or a beam 10 1/4" deep would do'),
        ("2-2x12", 36.0, None),
        ("2-2x12", 35.0, '"low" 1" higher would do'),  # no lumber is deeper than 2x12
        ("2-2x10", 41.0, '"low" 1" lower would do'),  # a deeper beam grows downwards
        ("2-2x6", 41.0, 'the beam is shallower than the joists, 7 1/4"'),
    ],
)
def test_hung_joists_are_told_the_height_or_the_beam_that_does(
    build: str, height: float, cures: str | None
) -> None:
    check = hung_on(build, height)
    assert (check.verdict is Verdict.OUTSIDE) is (cures is None)
    if cures is not None:
        assert check.reason.endswith(cures)
