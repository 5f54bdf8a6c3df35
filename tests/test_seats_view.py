"""Notched posts in sections and side views: the beam stands in the post, the tongue rises beside it."""

from __future__ import annotations

from functools import cache

import pytest

from deckplan.draw.cut import Cut
from deckplan.draw.post_shape import post_outline, tongue_outline, tongue_place
from deckplan.draw.scene import Area, Role, Scene
from deckplan.draw.section_view import section_view
from deckplan.draw.side_view import side_view
from deckplan.layout.model import Member, Notch, Post
from deckplan.panels.framing import FramingPanel
from deckplan.panels.session import Session
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study
from tests.decks import beam, make_plan, platform, rectangle

POST = Post(
    "A-P1", "deck", (10.0, 20.0), "6x6", 5.5, 30.0, 0.0, ("deck",), "A-F1", notch=Notch(3.0, 9.25, (0.0, -1.0))
)  # fmt: skip


@cache
def study() -> Study:
    return Study(read_plan(data_path("plans", "frames-notched.toml")))


def areas(scene: Scene, mark: str) -> list[Area]:
    return [piece for piece in scene.shapes if isinstance(piece, Area) and piece.mark == mark]


def test_the_outline_of_a_notched_head_from_its_side() -> None:
    # a 6x6 is 5 1/2 in wide, two plies take 3 in of it (PS 20); the tongue stands towards lower y
    right = post_outline(POST, 20.0, (0.0, 1.0))
    assert right == ((22.75, 0.0), (17.25, 0.0), (17.25, 39.25), (19.75, 39.25), (19.75, 30.0), (22.75, 30.0))
    mirrored = post_outline(POST, -20.0, (0.0, -1.0))
    assert sorted(mirrored) == sorted((-x, z) for x, z in right)


def test_from_its_front_the_tongue_is_a_piece_of_its_own() -> None:
    assert len(post_outline(POST, 10.0, (1.0, 0.0))) == 4
    assert tongue_outline(POST, 10.0, (1.0, 0.0)) == (
        (7.25, 30.0),
        (12.75, 30.0),
        (12.75, 39.25),
        (7.25, 39.25),
    )
    assert tongue_outline(POST, 20.0, (0.0, 1.0)) == ()
    assert tongue_place(POST) == (10.0, 18.5)  # 2 3/4 in to its face, half of 2 1/2 in back


def test_a_section_across_the_beam_shows_it_in_the_post() -> None:
    scene = section_view(study(), cut=Cut(0, 100.0))
    (post,) = areas(scene, "A-P2")
    beam = study().layout.by_mark["A-B1"]
    assert isinstance(beam, Member)
    (cut,) = areas(scene, "A-B1")
    assert len(post.points) == 6
    # the cut beam fills the notch: from the post's outer face to its tongue, from the floor to the tongue's tip
    outer = max(x for x, _ in post.points)
    assert {x for x, _ in cut.points} == {outer, outer - 3.0}
    assert {z for _, z in cut.points} == {beam.bottom, beam.top}
    assert max(z for _, z in post.points) == pytest.approx(beam.top)


def test_a_section_along_the_beam_shows_a_tongue_before_it_and_hides_one_behind() -> None:
    deck = platform(
        "deck", rectangle(0, 0, 144, 144), 40, beam(24, seat="notch"), beam(120, seat="notch"),
    )  # fmt: skip
    free = Study(make_plan(deck))
    # looked at along y; the tongues stand towards the middle: behind the beam at 24 in, before the one at 120 in
    hidden, shown = (section_view(free, cut=Cut(1, at)) for at in (1.0, 72.0))
    order = list(Role)
    (behind,) = [a for a in areas(hidden, "A-P1") if min(z for _, z in a.points) > 1.0]
    assert order.index(behind.role) < order.index(Role.BEAM_BEYOND)
    (before,) = [a for a in areas(shown, "A-P4") if a.role is Role.TONGUE]
    assert order.index(before.role) > order.index(Role.BEAM_BEYOND)
    assert min(z for _, z in before.points) == 0.0  # the whole face of the post, from the ground to the tip


def test_from_the_garden_the_beam_hides_the_tongues_and_from_the_house_end_they_show() -> None:
    scene = side_view(study(), side="garden")
    order = [piece.mark for piece in scene.shapes if isinstance(piece, Area)]
    tongues = [index for index, mark in enumerate(order) if mark == "A-P2"]
    assert len(tongues) == 2
    assert (
        min(tongues) < order.index("A-B1") < max(tongues)
    )  # tongue, beam over it, then the post below in front
    for side in ("left", "right"):
        (post,) = areas(side_view(study(), side=side), "A-P1")  # type: ignore[arg-type]
        assert len(post.points) == 6


def test_the_framing_panel_offers_the_seat_and_says_what_is_left() -> None:
    session = Session(study().asked)
    place = "platform.court.support.2.seat"
    fields = {field.place: field for field in FramingPanel(session).fields_of(session.study)}
    assert [value for value, _ in fields[place].choices] == ["cap", "notch"]
    assert 'a tongue of 2 1/2" is left' in fields[place].follows
    assert session.change(place, "cap")
    assert all(post.notch is None for post in session.study.layout.posts)
    fields = {field.place: field for field in FramingPanel(session).fields_of(session.study)}
    assert fields[place].follows == ""
