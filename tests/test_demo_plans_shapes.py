"""The demo plans of shapes and connections: each ends as its own comments say, for the reason they give."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from deckplan.explore.changes import with_line
from deckplan.geometry import area
from deckplan.layout.model import Kind
from deckplan.plan.file import read_plan
from deckplan.plan.places import edit_together
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.verdict import Verdict

EXPECTED = {
    "shape-ell": Verdict.PASS,
    "shape-clipped-corner": Verdict.PASS,
    "shape-tree-bay": Verdict.PASS,
    "shape-joists-aslant": Verdict.PASS,
    "shape-clip-beam": Verdict.PASS,
    "frames-apart": Verdict.PASS,
    "frames-shared-post": Verdict.OUTSIDE,
    "frames-set-back": Verdict.FAIL,
    "frames-hung-joists": Verdict.OUTSIDE,
    "frames-overlapping": Verdict.PASS,
    "frames-stacked": Verdict.OUTSIDE,
    "frames-notched": Verdict.PASS,
    "site-setbacks": Verdict.PASS,
    "six-terraces": Verdict.PASS,
    "every-key": Verdict.OUTSIDE,
}


def path_of(name: str) -> Path:
    return data_path("plans", f"{name}.toml")


@cache
def study(name: str) -> Study:
    return Study(read_plan(path_of(name)))


def stated(name: str) -> str:
    """The comments at the head of a plan, as one line."""
    lines = path_of(name).read_text(encoding="utf-8").splitlines()
    head = lines[: lines.index("format = 1")]
    return " ".join(line.lstrip("# ") for line in head)


def failing(name: str) -> list[str]:
    return [check.reason for check in study(name).checks if check.verdict is Verdict.FAIL]


@pytest.mark.parametrize("name", EXPECTED)
def test_each_plan_ends_as_its_comments_say(name: str) -> None:
    said = stated(name).partition("What to expect: ")[2]
    word = {Verdict.PASS: "everything passes", Verdict.OUTSIDE: "OUTSIDE", Verdict.FAIL: "FAIL"}[
        EXPECTED[name]
    ]
    assert word in said
    assert sum(other in said for other in ("everything passes", "OUTSIDE", "FAIL")) == 1
    assert study(name).verdict is EXPECTED[name]
    assert ("nothing fails" in said) <= (failing(name) == [])


def test_the_ell_has_joists_of_two_lengths_and_a_beam_that_stops_at_the_inner_corner() -> None:
    frame = study("shape-ell").layout
    beams = [m for m in frame.members if m.kind is Kind.BEAM]
    # 24 ft along both legs, spliced or not, 12 ft along one
    lengths = [sum(m.length for m in beams if m.support == support) for support in (1, 2)]
    assert lengths == [pytest.approx(288), pytest.approx(144)]
    runs = [
        sum(j.length for j in frame.members if j.kind is Kind.JOIST and abs(j.start[0] - x) < 1)
        for x in (64, 208)
    ]
    assert runs[0] > runs[1] + 110  # the long leg runs 10 ft farther than the short one


def test_the_clipped_corner_cuts_its_joists_each_to_its_own_length() -> None:
    joists = [m for m in study("shape-clipped-corner").layout.members if m.kind is Kind.JOIST]
    cut = [j for j in joists if max(j.start[0], j.end[0]) > 152]
    assert len({round(j.length, 1) for j in cut}) == len(cut) >= 1
    assert {round(j.length, 1) for j in joists if j.start[0] < 148} == {141.0}  # 12 ft less two rims


def test_the_tree_stands_in_an_opening_that_no_joist_crosses() -> None:
    one = study("shape-tree-bay")
    (hole,) = one.plan.platforms[0].openings
    xs, ys = zip(*hole.outline, strict=True)
    for member in one.layout.members:
        if member.kind is Kind.JOIST and min(xs) < member.start[0] < max(xs):
            low, high = sorted((member.start[1], member.end[1]))
            assert high <= min(ys) or low >= max(ys)
    assert sum(m.kind is Kind.HEADER for m in one.layout.members) >= 2


def test_the_shared_post_carries_two_and_saves_a_hole() -> None:
    apart, shared = study("frames-apart"), study("frames-shared-post")
    assert len(apart.layout.pads) == len(shared.layout.pads) + 1 == 9
    (wish,) = shared.layout.sharing
    post = next(post for post in shared.layout.posts if post.mark == wish.post)
    assert post.carries == ("terrace", "court")
    sizes = [next(f for f in one.footings if f.mark == post.footing) for one in (apart, shared)]
    assert sizes[1].diameter > sizes[0].diameter
    assert sizes[1].load > sizes[0].load


def test_moving_the_line_of_the_plan_apart_gives_the_shared_plan() -> None:
    place = "platform.court.support.2"
    moved = edit_together(
        study("frames-apart").asked, {f"{place}.offset": "8 ft", f"{place}.shares_posts_with": "terrace"}
    )
    assert moved.platforms == study("frames-shared-post").asked.platforms


def test_the_set_back_post_cannot_be_shared_until_its_line_is_moved_out() -> None:
    one = study("frames-set-back")
    (reason,) = failing("frames-set-back")
    # posts 5 1/2 in wide 2 ft back from the edge: 24 in less half a post, arithmetic
    assert "1'-9 1/4\" back" in reason
    cured = Study(with_line(one.asked, "terrace", 1, offset=192.0 - 2.75))
    assert [bool(wish.post) for wish in cured.layout.sharing] == [True]


def test_the_hung_joists_bring_their_load_to_the_landings_posts() -> None:
    one = study("frames-hung-joists")
    beam = one.layout.by_mark["A-B2"]
    under = {bearing.on for bearing in beam.bearings}  # type: ignore[union-attr]
    assert all(post.carries == ("landing", "walk") for post in one.layout.posts if post.mark in under)
    (outside,) = [check for check in one.checks if check.verdict is Verdict.OUTSIDE]
    assert outside.mark == "A-B2"


def test_the_gallery_lies_over_the_terrace() -> None:
    from shapely import Polygon

    gallery, terrace = study("frames-overlapping").plan.platforms
    assert Polygon(gallery.outline).intersection(Polygon(terrace.outline)).area > 0.8 * abs(
        area(gallery.outline)
    )
    # headroom of 6 ft 8 in: IRC R311.7.2, two published copies
    beam = next(m for m in study("frames-overlapping").layout.of("gallery", Kind.BEAM))
    assert beam.bottom - study("frames-overlapping").levels.elevation("terrace") >= 80


def test_the_six_terraces_are_six_and_about_two_thousand_square_feet() -> None:
    one = study("six-terraces")
    assert len(one.plan.platforms) == 6
    total = sum(abs(area(platform.outline)) for platform in one.plan.platforms) / 144
    assert total == pytest.approx(2000, abs=50)
    assert f"{len(one.layout.pads)} footings" in stated("six-terraces")
