"""Posts too short for their connectors, hangers low on a post, and holes so near that the soil between falls in."""

from __future__ import annotations

from dataclasses import replace

import pytest

from deckplan.checks.footings import FootingDesign
from deckplan.checks.footings_apart import close_hole_notes
from deckplan.checks.short_posts import RULE, check_short_posts
from deckplan.draw.connection_view import connection_view
from deckplan.layout.model import Kind
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import attached

SHARED = Study(read_plan(data_path("plans", "frames-shared-post.toml")))


def low_deck(height: float, **more: object) -> Study:
    """A deck whose posts are that high [in]: the boards and the frame over them stay the same."""
    over = 36.0 - Study(attached(144, 120, 36.0, **more)).layout.posts[0].height
    return Study(attached(144, 120, over + height, **more))


@pytest.mark.parametrize(("height", "advised"), [(1.0, True), (5.45, True), (5.5, False), (5.55, False)])
def test_a_post_wants_room_for_base_and_cap(height: float, advised: bool) -> None:
    # common practice, from memory: 3 in of straps below, 2 1/2 in of plates above
    study = low_deck(height)
    assert study.layout.posts[0].height == pytest.approx(height)
    said = [note for note in study.notes if "too short for the straps" in note.text]
    assert [note.level for note in said] == ["advice"] * advised
    assert all("bracket cast into the pier" in note.text and "A-P1, A-P2" in note.text for note in said)
    beam, post = study.layout.of("deck", Kind.BEAM)[0], study.layout.posts[0]
    texts = "\n".join(label.text for label in connection_view(study, beam.mark, post.mark).labels)
    assert ("Bracket on the pier" in texts) is advised, "the detail says it too"


def test_a_beam_hung_low_turns_the_base() -> None:
    (check,) = [check for check in SHARED.checks if check.rule == RULE]
    assert check.mark == "A-P3"
    assert check.verdict is Verdict.PASS
    assert "other two faces" in check.reason
    assert "base turned" in "\n".join(label.text for label in connection_view(SHARED, "B-B2", "A-P3").labels)


@pytest.mark.parametrize(
    ("over", "found"),
    [(2.95, [Verdict.FAIL]), (3.0, []), (3.05, [])],
)
def test_beams_hung_low_on_faces_at_right_angles_leave_no_face_for_the_base(
    over: float, found: list[Verdict]
) -> None:
    # common practice, from memory: a base's straps reach 3 in up two faces
    post, hung = SHARED.layout.by_mark["A-P3"], SHARED.layout.by_mark["B-B2"]
    low = replace(hung, top=post.bottom + over + hung.depth)
    (x, y), (x1, y1) = low.start, low.end
    turned = replace(low, mark="B-B9", start=(x, y), end=(x - (y1 - y), y + (x1 - x)))
    assert turned.bottom == pytest.approx(post.bottom + over)
    others = [member for member in SHARED.layout.members if member.mark != hung.mark]
    layout = replace(SHARED.layout, members=(*others, low, turned))
    checks = check_short_posts(SHARED.plan, layout)
    assert [check.verdict for check in checks] == found
    assert all("dig the pier's top down" in check.reason for check in checks)


def footing(mark: str, x: float) -> FootingDesign:
    return FootingDesign(mark, mark.replace("F", "P"), (x, 0.0), 16.0, 6.0, 0.0, -42.0, 1000.0, 1000.0)


@pytest.mark.parametrize(
    ("clear", "warned"), [(-0.1, False), (0.0, True), (4.9, True), (11.9, True), (12.0, False), (12.1, False)]
)
def test_holes_near_each_other_are_named_with_a_remedy(clear: float, warned: bool) -> None:
    # common practice, from memory: 12 in of soil stands between two open holes; holes that overlap fail a check
    notes = close_hole_notes(SHARED.plan, (footing("A-F1", 0.0), footing("B-F2", 16.0 + clear)))
    assert [note.level for note in notes] == ["caution"] * warned
    assert all("A-F1 and B-F2" in note.text and "dig them as one" in note.text for note in notes)


def test_the_demo_names_its_nearest_holes_first() -> None:
    study = Study(read_plan(data_path("plans", "alder-point.toml")))
    (text,) = [note.text for note in study.notes if note.text.startswith("holes less than")]
    sizes = {one.mark: one for one in study.footings}
    one, other = sizes["B-F5"], sizes["C-F2"]
    apart = ((one.at[0] - other.at[0]) ** 2 + (one.at[1] - other.at[1]) ** 2) ** 0.5
    assert 4.8 < apart - (one.diameter + other.diameter) / 2 < 5.0
    assert 'B-F5 and C-F2 (4 7/8")' in text.partition(": ")[2].partition("), ")[0] + ")"
