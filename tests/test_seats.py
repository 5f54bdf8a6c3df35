"""Posts notched for their beams: geometry, what is asked, what is summed, bought, said and drawn.

Sources: dressed sizes PS 20; a 6x6 notched for two plies leaves a tongue of 2 1/2 in, held by two 1/2 in bolts: AWC
DCA6 as trade literature gives it; sums: NDS 2018 as cited; the rest is arithmetic.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deckplan.buy.connectors import bolt_length, count_connectors
from deckplan.checks.posts import NOTCH_RULE, SIDE_RULE
from deckplan.checks.seats import BOLTED, FLOOR, MAY_BE, TONGUE
from deckplan.cli.study import study_to_json
from deckplan.engineering.notches import notch_bolts, notch_eccentricity, notch_moment, tongue_left
from deckplan.layout.model import Kind, Member, Post
from deckplan.layout.notches import CLEAR
from deckplan.plan.file import parse_plan, read_plan
from deckplan.plan.model import Plan
from deckplan.plan.places import edit, value_text
from deckplan.plan.saving import changed_text, plan_to_toml
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.verdict import Check, Verdict, overall
from tests.decks import attached, beam, make_plan, platform, rectangle

SEAT = "platform.deck.support.2.seat"


def notched(**more: Any) -> Plan:
    """A deck of 16 ft on a ledger and a beam 10 ft out, its posts notched."""
    wood = {"post": more.pop("post", "6x6")}
    return edit(attached(192, 144, more.pop("elevation", 36.0), 120.0, materials=wood, **more), SEAT, "notch")


@cache
def demo(name: str, *seats: str) -> Study:
    """A demo plan, with the seats at these places notched."""
    plan = read_plan(data_path("plans", f"{name}.toml"))
    for place in seats:
        plan = edit(plan, place, "notch")
    return Study(plan)


def check_of(study: Study, mark: str, rule: str) -> Check:
    return next(check for check in study.checks if (check.mark, check.rule) == (mark, rule))


# Geometry


def test_a_notch_takes_the_beams_width_and_leaves_the_rest_as_a_tongue() -> None:
    # dressed sizes: 5 1/2 in, two plies 3 in (PS 20)
    assert (tongue_left(5.5, 3.0), notch_eccentricity(5.5, 3.0)) == (2.5, 1.25)
    study = Study(notched())
    (bearer,) = [m for m in study.layout.members if m.kind is Kind.BEAM]
    for post in study.layout.posts:
        assert post.notch is not None
        assert (post.notch.depth, post.tongue, post.off_axis) == (3.0, 2.5, 1.25)
        assert post.top == bearer.bottom
        # the tongue rises to the beam's top, the joists pass over it; towards the house
        assert post.length == pytest.approx(bearer.top - post.bottom)
        assert post.notch.way == (0.0, -1.0)
        assert post.at[1] == pytest.approx(120 - 1.25)
    assert {b.manner for b in bearer.bearings} == {"notch"}
    # one face of the post is flush with the beam's outer face
    assert study.layout.posts[0].at[1] + 2.75 == pytest.approx(120 + 1.5)


def test_a_cap_stays_as_it_was() -> None:
    capped, cut = Study(edit(notched(), SEAT, "cap")), Study(notched())
    for one, other in zip(capped.layout.posts, cut.layout.posts, strict=True):
        assert (one.notch, one.tongue, one.length) == (None, 0.0, one.height)
        assert one.at[1] == 120.0
        assert one.height == other.height  # what the beam bears on lies as high
    assert not any(rule in {c.rule for c in capped.checks} for rule in (MAY_BE, TONGUE, FLOOR, NOTCH_RULE))


def test_a_post_under_a_beams_end_is_borne_on_as_far_as_the_beam_reaches() -> None:
    for seat in ("cap", "notch"):
        plan = edit(notched(), SEAT, seat)
        plan = edit(plan, "platform.deck.support.2.posts", "0 in, 8 ft, 191 in")
        (bearer,) = [m for m in Study(plan).layout.members if m.kind is Kind.BEAM]
        # half of 5 1/2 in at the end, 1 in more at the other
        assert [b.length for b in bearer.bearings] == pytest.approx([2.75, 5.5, 3.75])


# What is asked


@pytest.mark.parametrize(
    ("build", "left", "verdict"), [("2-2x10", 2.5, "PASS"), ("4x10", 2.0, "FAIL"), ("3-2x10", 1.0, "FAIL")]
)
def test_the_tongue_at_its_limit_and_under_it(build: str, left: float, verdict: str) -> None:
    study = Study(edit(notched(), "platform.deck.support.2.build", build))
    check = check_of(study, "A-B1", TONGUE)
    assert (check.demand, check.capacity, check.verdict) == (left, 2.5, verdict)
    if verdict == "FAIL":
        for cure in ("2 plies at most", "8x8 posts", "post caps"):
            assert cure in check.reason


def test_wider_posts_take_three_plies() -> None:
    plan = edit(notched(post="8x8"), "platform.deck.support.2.build", "3-2x10")
    assert check_of(Study(plan), "A-B1", TONGUE).verdict is Verdict.PASS


@pytest.mark.parametrize("post", ["4x4", "4x6"])
def test_slender_posts_are_not_notched(post: str) -> None:
    study = Study(notched(post=post))
    check = check_of(study, "A-B1", MAY_BE)
    assert (check.verdict, check.demand, check.capacity) == (Verdict.FAIL, 3.5, 5.5)
    assert "post caps, or 6x6 posts" in check.reason
    assert check_of(study, "A-B1", TONGUE).verdict is Verdict.NOT_APPLICABLE
    assert not any(check.rule == FLOOR for check in study.checks)
    assert Study(edit(notched(post=post), SEAT, "cap")).verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("deep", "capped", "cut", "verdict"),
    [(120, "3-2x8", "2-2x12", "PASS"), (168, "3-2x10", "2-2x12", "FAIL")],
)
def test_sizes_are_chosen_among_builds_that_leave_the_tongue(
    deep: int, capped: str, cut: str, verdict: str
) -> None:
    # three plies would be the least wood; notched, two deep ones do, or nothing does
    plan = edit(attached(110, deep, 40.0, deep - 24.0), "platform.deck.support.2.posts", "2")
    sizes = []
    for seat in ("cap", "notch"):
        study = Study(edit(plan, SEAT, seat))
        sizes.append(next(m.size for m in study.layout.members if m.kind is Kind.BEAM))
        assert overall(study.checks_of("A-B1")) == ("PASS" if seat == "cap" else verdict)
    assert sizes == [capped, cut]


# What is summed


def test_the_load_off_the_axis_bends_the_post_as_a_moment_does() -> None:
    study = Study(notched())
    check = check_of(study, "A-P2", NOTCH_RULE)
    values = {step.symbol: step.value for step in check.steps}
    post = next(post for post in study.layout.posts if post.mark == "A-P2")
    load = study.loads.posts["A-P2"].governing[0]
    assert values["P"] == values["P off"] == pytest.approx(load)
    # NDS 2018 15.4.1 with fb = M / S, M = P e; section of a 6x6: A 30.25 in2, S 27.73 in3 (NDS Supplement Table 1B)
    fc, fb = load / 30.25, notch_moment(load, 1.25) / 27.73
    Fc, Fb = values["P'"] / 30.25, values["Fb'"]
    used = (fc / Fc) ** 2 + fb * (1 + 0.234 * fc / values["FcE"]) / (Fb * (1 - fc / values["FcE"]))
    assert check.demand == pytest.approx(max(used, load / values["P'"]), rel=1e-3)
    plain = check_of(Study(edit(notched(), SEAT, "cap")), "A-P2", "post as a column")
    assert check.utilisation is not None
    assert plain.utilisation is not None
    assert check.utilisation > plain.utilisation
    assert post.off_axis == values["e"] == 1.25


def test_the_end_grain_in_the_notch() -> None:
    check = check_of(Study(notched()), "A-P2", FLOOR)
    # southern pine No. 2, 6x6: Fc 525 psi, tabulated wet (NDS Supplement Table 4D); floor 3 x 5 1/2 in
    assert check.capacity == pytest.approx(525 * 3.0 * 5.5)
    assert (check.verdict, check.reason) == (Verdict.PASS, "")


@pytest.mark.parametrize(("live", "share", "verdict"), [(100.0, 0.85, "PASS"), (150.0, 1.24, "FAIL")])
def test_end_grain_worked_over_three_quarters_wants_a_plate(live: float, share: float, verdict: str) -> None:
    # NDS 2018 3.10.1.3 (from memory); 14 ft of beam on two posts, 17 ft out
    plan = attached(168, 204, 60.0, 180.0, site={"ground": [], "live_load": live})
    plan = edit(edit(plan, SEAT, "notch"), "platform.deck.support.2.posts", "2")
    check = check_of(Study(plan), "A-P1", FLOOR)
    assert check.utilisation == pytest.approx(share, abs=0.005)
    assert check.verdict == verdict
    assert ("required: a metal plate" if verdict == "PASS" else "closer posts") in check.reason


def test_a_splice_bears_with_both_pieces_in_one_notch() -> None:
    study = demo("frames-notched")
    assert study.verdict is Verdict.PASS
    pieces = [(m, b) for m in study.layout.members for b in m.bearings if b.manner == "splice"]
    (on,) = {b.on for _, b in pieces}
    # 1 1/2 in at least for each (IRC R507.5.1); half of a 6x6 each
    assert [b.length for _, b in pieces] == [2.75, 2.75]
    assert all(check_of(study, m.mark, "length of bearing").verdict is Verdict.PASS for m, _ in pieces)
    floor = check_of(study, on, FLOOR)
    assert floor.capacity == pytest.approx(525 * 3.0 * 5.5)
    assert floor.demand == pytest.approx(study.loads.posts[on].governing[0])
    slender = Study(edit(study.asked, "materials.post", "4x6"))
    assert {check_of(slender, "A-B1", rule).verdict for rule in ("splices over posts", MAY_BE)} == {
        Verdict.FAIL
    }


def test_two_bolts_hold_what_the_yield_limit_equation_says() -> None:
    # NDS 2018 Table 12.3.1A mode IV, G 0.55, 1/2 in, across the grain of one member: R_d 4 (Table 12.3.1B)
    Fem, Fes, Fyb = 3650.0, 6150.0, 45000.0
    one = 0.5**2 / 4 * (2 * Fem * Fyb / (3 * (1 + Fem / Fes))) ** 0.5
    held, faults = notch_bolts(0.55, 0.55, 3.0, 9.25, 2.5, 5.5)
    # wet 0.7 (Table 11.3.3); end of the tongue 2 in off, 7 D for the full value (Table 12.5.1A)
    assert held.value == pytest.approx(2 * one * 0.7 * 2.0 / 3.5, rel=1e-6)
    assert faults == ()
    shallow, faults = notch_bolts(0.55, 0.55, 3.0, 5.25, 2.5, 5.5)
    assert "spacing in a row" in faults[0]  # 1 1/4 in apart, 3 D asked
    assert shallow.value > 0


def test_an_overhang_that_lifts_more_than_the_bolts_hold_fails() -> None:
    # posts at 2 and 6 ft under 16 ft of beam: most of it hangs over
    plan = edit(notched(), "platform.deck.support.2.posts", "2 ft, 6 ft")
    found = [check for check in Study(plan).checks if check.rule == BOLTED]
    assert [check.verdict for check in found] == [Verdict.FAIL]
    assert "strap" in found[0].reason
    assert found[0].demand == pytest.approx(Study(plan).loads.out_of["A-B1"][0].force.uplift)


# Neighbours, flush beams


def test_a_neighbour_hangs_on_the_full_section_and_bends_the_post_both_ways() -> None:
    study = demo("frames-shared-post", "platform.terrace.support.2.seat")
    (wish,) = study.layout.sharing
    assert wish.post == "A-P3"
    check = check_of(study, "A-P3", SIDE_RULE)
    offs = [step.words for step in check.steps if step.symbol == "P off"]
    # half a 6x6 and half a hanger's seat out, and 1 1/4 in aside since the post stands beside the beams' line
    assert offs == [
        "of it in the notch, 1.25 in off the middle",
        "of it hung on a face, 1.25 in aside of the axis, 4.75 in off the middle",
    ]
    e = [step for step in check.steps if step.symbol == "e"][-1]
    notch, hung = (step.value for step in check.steps if step.symbol == "P off")
    assert e.value == pytest.approx((notch * 1.25 + hung * 4.75) / (notch + hung))


def test_nothing_hangs_on_a_tongue() -> None:
    upper = platform("upper", rectangle(0, 0, 192, 144), 30, beam(12), beam(120, seat="notch", posts=3))
    lower = platform("lower", rectangle(192, 24, 336, 140), 24, beam(12), beam(96, shares_posts_with="upper"))
    (wish,) = Study(make_plan(upper, lower)).layout.sharing
    assert wish.post == ""
    assert "is notched: its full section ends" in wish.reason
    # caps leave the post as short as notches do: the full section ends at the beam's underside either way
    assert "caps" not in wish.reason
    assert '"lower" 3 1/4" lower would meet it' in wish.reason


def test_a_flush_beams_tongue_needs_room_between_the_joists() -> None:
    deck = platform(
        "deck", rectangle(0, 0, 144, 120), 40, beam(1.5, style="flush", seat="notch", posts=3),
        beam(118.5, style="flush"), joists={"size": "2x6"},
    )  # fmt: skip
    study = Study(make_plan(deck))
    found = {check.mark: check for check in study.checks if check.rule == CLEAR}
    # joists at 16 in on centre, the post in the middle, 72 in along, stands between two; the end ones meet a joist
    assert [found[f"A-P{n}"].verdict.value for n in (1, 2, 3)] == ["FAIL", "PASS", "FAIL"]
    assert "A-J1 hangs there" in found["A-P1"].reason
    drop = Study(notched())
    assert not any(check.rule == CLEAR for check in drop.checks)


def test_a_tongue_beyond_the_edge_is_no_way_out() -> None:
    # two joists so close that the middle post cannot have its tongue inside; outside is the open edge
    deck = platform(
        "deck", rectangle(0, 0, 144, 120), 40, beam(1.5, style="flush", seat="notch", posts=[3.0, 65.0, 141.0]),
        beam(118.5, style="flush"), joists={"size": "2x6"},
    )  # fmt: skip
    study = Study(make_plan(deck))
    check = check_of(study, "A-P2", CLEAR)
    assert check.verdict is Verdict.FAIL
    (post,) = [post for post in study.layout.posts if post.mark == "A-P2"]
    assert post.notch is not None
    assert post.notch.way == (0.0, 1.0)  # the inner side stays, neither is clear


# Bought, written, said


def test_bolts_are_bought_in_place_of_caps_and_posts_as_long_as_their_tongues() -> None:
    study = demo("frames-notched")
    items = {item.item: item.count for item in count_connectors(study.layout, study.loads)}
    # five posts, one with two pieces of beam: six times two; through 5 1/2 in of wood
    assert items["through bolt, 1/2 in x 6 1/2 in, two washers, notched 6x6"] == 12
    assert not any("cap" in name for name in items)
    assert bolt_length(5.5) == 6.5
    data = study_to_json(study)
    lengths = {m["mark"]: m["length_in"] for m in data["members"] if m["kind"] == "post"}
    for post in data["posts"]:
        # 2x8: 7 1/4 in deep (PS 20)
        assert lengths[post["mark"]] == post["length_in"] == pytest.approx(post["height_in"] + 7.25)
        assert post["notch_in"] == 3.0


def test_the_seat_survives_saving_and_is_edited_by_its_place() -> None:
    path = data_path("plans", "frames-notched.toml")
    text, plan = path.read_text(encoding="utf-8"), read_plan(path)
    assert parse_plan(plan_to_toml(plan), "x.toml") == plan
    place = "platform.court.support.2.seat"
    assert value_text(plan, place) == "notch"
    capped = edit(plan, place, "cap")
    assert 'seat = "cap"' in changed_text(text, plan, capped, "x.toml")
    assert Study(capped).verdict is Verdict.PASS


def test_a_study_says_that_a_head_is_notched_and_asks_for_treatment() -> None:
    study = demo("frames-notched")
    assert "its head notched" in study.describe("A-P1")
    assert any("notched posts: treat every cut" in note.text for note in study.notes)


# Whatever the plan


@pytest.mark.parametrize(
    "name",
    ["alder-point", "six-terraces", "heron-pond", "frames-hung-joists", "frames-overlapping", "shape-ell"],
)
def test_every_line_of_a_demo_plan_notched(name: str) -> None:
    plan = read_plan(data_path("plans", f"{name}.toml"))
    places = [
        f"platform.{one.name}.support.{number}.seat"
        for one in plan.platforms
        for number, support in enumerate(one.supports, 1)
        if support.kind == "beam"
    ]
    study = demo(name, *places)
    posts = {post.mark: post for post in study.layout.posts}
    for member in study.layout.members:
        if isinstance(member, Member) and member.kind is Kind.BEAM:
            for bearing in member.bearings:
                post = posts[bearing.on]
                if bearing.manner == "notch":
                    assert isinstance(post, Post)
                    assert post.notch is not None
                    assert post.top == pytest.approx(member.bottom)
    # every pound still arrives: what is put on, and what stands under the posts
    assert study.loads.lost.full == pytest.approx(0.0, abs=1e-6)
    down = sum(force.full for force in study.loads.posts.values())
    down += sum(force.full for force in study.loads.ledgers.values()) + study.loads.ground.full
    assert down == pytest.approx(study.loads.applied.full, rel=1e-3)


@settings(max_examples=15, deadline=None)
@given(
    wide=st.integers(60, 240), deep=st.integers(60, 160), share=st.floats(0.5, 1.0), high=st.integers(20, 90),
    direction=st.sampled_from(["x", "y", 30.0]), style=st.sampled_from(["drop", "flush"]),
)  # fmt: skip
def test_notched_frames_of_any_size_stand_and_balance(
    wide: int, deep: int, share: float, high: int, direction: Any, style: str
) -> None:
    from math import cos, radians, sin

    # the platform's size along its joists
    along = {"x": float(wide), "y": float(deep)}.get(
        direction, wide * cos(radians(30)) + deep * sin(radians(30))
    )
    deck = platform(
        "deck", rectangle(0, 0, wide, deep), high, beam(along * 0.2, seat="notch"),
        beam(along * 0.2 + along * 0.75 * share, seat="notch", style=style),
        joists={"direction": direction},
    )  # fmt: skip
    study = Study(make_plan(deck))
    for post in study.layout.posts:
        assert post.notch is not None
        assert abs(post.notch.way[0] ** 2 + post.notch.way[1] ** 2 - 1) < 1e-9
        bearer = next(
            m
            for m in study.layout.members
            if m.kind is Kind.BEAM and any(b.on == post.mark for b in m.bearings)
        )
        at = next(b.at for b in bearer.bearings if b.on == post.mark)
        x, y = bearer.point(at)
        assert ((post.at[0] - x) ** 2 + (post.at[1] - y) ** 2) ** 0.5 == pytest.approx(post.off_axis)
    put_on = study.loads.applied.full
    down = sum(force.full for force in study.loads.posts.values()) + study.loads.lost.full
    assert down == pytest.approx(put_on, rel=1e-3)
