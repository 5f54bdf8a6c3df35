"""A level over another: posts through to the ground or on the frame below, each computed as a whole plan.

Counts and places by geometry; figures are those of the studies themselves, compared with a study made by hand.
"""

from __future__ import annotations

from deckplan.explore.connections import Connection, NoConnection, choose_connections, connect
from deckplan.explore.ways import Manner, pairs, ways_of
from deckplan.explore.ways_over import lying_over
from deckplan.plan.file import read_plan
from deckplan.plan.model import BeamLine
from deckplan.plan.places import edit
from deckplan.reference import data_path
from deckplan.study import Study
from tests.decks import beam, make_plan, platform, rectangle


def _study(name: str) -> Study:
    return Study(read_plan(data_path("plans", f"{name}.toml")))


def _way(study: Study, manner: Manner) -> Connection | NoConnection:
    (over,) = lying_over(study.asked, study.levels)
    return connect(study, over, manner)


def test_a_pair_of_which_one_lies_over_the_other_has_ways_of_its_own() -> None:
    study = _study("frames-overlapping")
    (over,) = lying_over(study.asked, study.levels)
    # gallery at 118 in over terrace at 14 in
    assert (over.upper, over.lower, over.drop, over.over) == ("gallery", "terrace", 104.0, True)
    assert set(ways_of(over)) == {Manner.THROUGH, Manner.ON_FRAME}
    assert over in pairs(study.asked, study.levels)
    apart = _study("frames-apart")
    assert lying_over(apart.asked, apart.levels) == ()


def test_through_to_the_ground_takes_posts_off_the_frame_and_asks_for_holes() -> None:
    study = _study("frames-stacked")
    through, on_frame = _way(study, Manner.THROUGH), _way(study, Manner.ON_FRAME)
    assert isinstance(through, Connection)
    assert isinstance(on_frame, Connection)
    assert on_frame.plan == study.asked
    assert on_frame.moves == ()
    # six posts of the lookout, each with a hole of its own
    assert through.holes == on_frame.holes + 6
    assert 'let the posts of "lookout" go through to the ground' in through.moves
    by_hand = study.asked
    for number in (1, 2):
        by_hand = edit(by_hand, f"platform.lookout.support.{number}.stands_on", "")
    lines = [line for line in through.plan.platform("lookout").supports if isinstance(line, BeamLine)]
    hand = [line for line in by_hand.platform("lookout").supports if isinstance(line, BeamLine)]
    assert [line.stands_on for line in lines] == [line.stands_on for line in hand] == ["", ""]
    # straight over the terrace's own beams they cannot come through
    assert any("comes down through" in check.reason for check in through.failing)


def test_on_the_frame_a_line_moves_over_a_beam_that_is_near() -> None:
    """Lines at y = 24 + 6 and y = 24 + 78, beams below at y = 24 and y = 96: 6 in apart, within reach."""
    terrace = platform("terrace", rectangle(0, 0, 192, 144), 30, beam(24, posts=3), beam(96, posts=3))
    lookout = platform("lookout", rectangle(48, 12, 144, 108), 72, beam(18, posts=2), beam(90, posts=2))
    study = Study(make_plan(terrace, lookout))
    found = _way(study, Manner.ON_FRAME)
    assert isinstance(found, Connection)
    lines = [line for line in found.plan.platform("lookout").supports if isinstance(line, BeamLine)]
    assert [line.offset for line in lines] == [12.0, 84.0]
    assert {post.stands_on for post in found.study.layout.posts if post.platform == "lookout"} == {
        "A-B1",
        "A-B2",
    }


def test_a_level_without_posts_has_nothing_to_stand() -> None:
    house = {"wall": [{"name": "house", "line": [(0.0, 0.0), (192.0, 0.0)], "ledger": True}]}
    terrace = platform("terrace", rectangle(0, 0, 192, 144), 10, beam(24), beam(96))
    shelf = platform("shelf", rectangle(0, 0, 96, 48), 100, {"kind": "ledger", "wall": "house"})
    found = _way(Study(make_plan(terrace, shelf, house=house)), Manner.ON_FRAME)
    assert isinstance(found, NoConnection)
    assert "has no posts" in found.reason


def test_every_choice_of_every_overlapping_demo_is_computed_or_refused_with_words() -> None:
    for name in ("frames-overlapping", "frames-stacked", "every-key"):
        for choice in choose_connections(_study(name)):
            assert isinstance(choice, Connection) or (choice.reason and choice.remedy)
