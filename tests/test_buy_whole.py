"""What is drawn is bought, once: members, posts, boards, footings, connectors of every plan there is."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from shapely import Polygon

from deckplan.buy.item import Item
from deckplan.buy.lumber import TO_ORDER
from deckplan.buy.takeoff import cut_lots, take_off
from deckplan.engineering.lumber import read_size
from deckplan.layout.boards_room import band
from deckplan.layout.model import Kind, Member
from deckplan.plan.file import read_plan
from deckplan.plan.model import Plan
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import attached, hung_pair
from tests.test_random_plans import BIG, PHASES, plans

PLANS = [
    *sorted(data_path("plans").glob("*.toml")),
    *sorted((Path(__file__).parent / "plans").glob("*.toml")),
]


def readable() -> Iterator[Path]:
    return (path for path in PLANS if path.stem != "wrong-in-many-ways")


each_plan = pytest.mark.parametrize(
    "path", list(readable()), ids=lambda path: f"{path.parent.name}/{path.stem}"
)


@cache
def study_of(path: Path) -> Study:
    return Study(read_plan(path))


@cache
def bought(path: Path) -> tuple[Item, ...]:
    return take_off(study_of(path))


def count(path: Path, *words: str) -> int:
    return sum(item.count for item in bought(path) if item.item.startswith(words))


def pieces_of(study: Study, *groups: str) -> Counter[str]:
    return Counter(
        piece.mark for lot in cut_lots(study) if lot.group in groups for piece in lot.cutting.pieces
    )  # fmt: skip


def plies(member: Member) -> int:
    return read_size(member.size).plies


@each_plan
def test_every_piece_of_framing_is_cut_once(path: Path) -> None:
    study = study_of(path)
    # two plies are two pieces, and what is longer than 20 ft, the longest stock (common practice), is joined
    wanted = Counter(
        {
            m.mark: plies(m) * math.ceil(m.length / 240)
            for m in study.built.members
            if m.kind not in (Kind.TREAD, Kind.BOARD)
        }
    )
    wanted.update({post.mark: 1 for post in study.layout.posts if post.length > 0})
    wanted.update({post.mark: 1 for post in study.layout.guard_posts})
    assert pieces_of(study, "lumber") == wanted


@each_plan
def test_every_board_and_tread_is_cut_once(path: Path) -> None:
    study = study_of(path)
    boards = [board.mark for board in study.boards.all]
    treads = [m.mark for m in study.layout.members if m.kind is Kind.TREAD]
    cut = pieces_of(study, "boards")
    assert {mark: cut[mark] for mark in (*boards, *treads)} == dict.fromkeys((*boards, *treads), 1)
    # the rest is fascia, which no member stands for
    assert all(", edge " in mark or ", step " in mark for mark in set(cut) - {*boards, *treads})


@each_plan
def test_what_is_bought_is_what_is_cut(path: Path) -> None:
    study = study_of(path)
    sticks = Counter((lot.item, stick.stock) for lot in cut_lots(study) for stick in lot.cutting.sticks)
    assert sticks == {
        (item.item, item.length): item.count for item in bought(path) if item.length is not None
    }
    net = sum(item.net for item in bought(path) if item.length is not None)
    assert net == pytest.approx(sum(lot.cutting.net for lot in cut_lots(study)))
    assert all(item.waste >= -1e-9 for item in bought(path))


@each_plan
def test_no_piece_of_framing_is_cut_shorter_than_it_is_drawn(path: Path) -> None:
    study = study_of(path)
    lengths: dict[str, float] = {}
    for lot in cut_lots(study):
        for piece in lot.cutting.pieces:
            lengths[piece.mark] = lengths.get(piece.mark, 0.0) + piece.length
    for member in study.built.members:
        along = (member.length**2 + member.drop**2) ** 0.5
        times = 1 if member.kind is Kind.TREAD else plies(member)
        assert lengths[member.mark] >= times * along - 1e-6, member.mark


@each_plan
def test_every_hole_is_filled(path: Path) -> None:
    study = study_of(path)
    holes = {pad.mark for pad in (*study.layout.pads, *study.flights.pads)}
    assert {footing.mark for footing in study.footings} == holes
    volumes = [item for item in bought(path) if item.item == "concrete in place"]
    assert len(volumes) == (1 if holes else 0)
    # a round hole 12 in across gives 0.7854 cu ft a foot of depth (trade press: 3.14 at 48 in), others by their square
    feet = sum((f.diameter / 12) ** 2 * (f.top - f.bottom) / 12 for f in study.footings)
    each = 28.3168 if study.plan.units == "metric" else 1.0
    assert sum(item.net for item in volumes) == pytest.approx(0.7854 * feet * each, rel=1e-4)


@each_plan
def test_every_pad_between_a_flights_piers_is_bought(path: Path) -> None:
    study = study_of(path)
    wide = {}
    for frame in study.flights.flights:
        stringers = sum(1 for part in frame.members if part.kind is Kind.STRINGER)
        if frame.pads and stringers > 2:
            wide[f"pad under the inner feet of {frame.mark}"] = study.levels.flights[frame.index].width
    # common practice: 12 in along the flight and 4 in thick, a third of a cubic foot for each foot of width
    each = 28.3168 if study.plan.units == "metric" else 1.0
    found = {item.item: item.net for item in bought(path) if item.item.startswith("pad under")}
    assert found == pytest.approx({item: width / 12 / 3 * each for item, width in wide.items()}, rel=1e-4)


@each_plan
def test_every_bearing_on_metal_has_its_connector(path: Path) -> None:
    study = study_of(path)
    # joists that lie against each other, as a ply beside its joist, hang in one hanger
    hung: dict[str, list[Polygon]] = {}
    for m in study.built.members:
        for bearing in m.bearings:
            if bearing.manner in ("hanger", "ledger"):
                hung.setdefault(bearing.on, []).append(Polygon(band(m.line, m.width)).buffer(0.04))
    hangers = sum(len(shapely.get_parts(shapely.union_all(shapes))) for shapes in hung.values())
    fixings = Counter(fixing.kind for flight in study.flights.flights for fixing in flight.fixings)
    assert count(path, "joist hanger", "hanger for") == hangers
    assert count(path, "post base") == len(study.layout.posts)
    assert count(path, "sloped hanger") == fixings["hanger"]
    assert count(path, "bracket") == fixings["bracket"]
    assert count(path, "angle") == fixings["angle"]
    assert count(path, "structural screw") == fixings["screw"]
    assert count(path, "tension connector") == len(study.layout.guard_posts)
    under = {
        bearing.on
        for m in study.layout.members
        for bearing in m.bearings
        if bearing.manner in ("cap", "splice")
    }
    caps = [post for post in study.layout.posts if post.notch is None and post.mark in under]
    assert count(path, "post cap") >= len(caps)


def test_what_hangs_on_a_ledger_or_on_a_neighbours_beam_has_hangers() -> None:
    # by hand: 16 ft at 16 in are 13 joists (common practice: ceil(L / s) + 1); the upper's hang on the ledger and on
    # its flush beam, the lower's on that beam
    found = take_off(Study(hung_pair()))
    assert sum(item.count for item in found if item.item.startswith("joist hanger")) == 3 * 13


def test_posts_longer_than_all_stock_are_bought_to_order() -> None:
    # a level 23 ft up: whatever its checks say (they fail), its posts cannot be cut from 20 ft, the longest stock
    # (common practice), nor joined in the air; the next even foot is 24
    study = Study(attached(120.0, 120.0, 290.0))
    posts = [post for post in study.layout.posts if 240 < post.length < 288]
    ordered = [item for item in take_off(study) if item.item.endswith(TO_ORDER)]
    assert posts
    assert [(item.length, item.count) for item in ordered] == [(288.0, len(posts))]
    assert any(check.mark == posts[0].mark for check in study.checks if check.verdict is Verdict.FAIL)


def check_bought(plan: Plan) -> None:
    """Every piece of framing and every board of a plan is cut, no stick gives more than it has."""
    study = Study(plan)
    cut = pieces_of(study, "lumber", "boards")
    drawn = {m.mark for m in study.built.members} | {board.mark for board in study.boards.all}
    drawn |= {post.mark for post in study.layout.posts if post.length > 0}
    drawn |= {post.mark for post in study.layout.guard_posts}
    assert {mark for mark in cut if ", edge " not in mark and ", step " not in mark} == drawn
    for lot in cut_lots(study):
        assert lot.cutting.least <= lot.cutting.bought + 1e-3
        assert all(stick.taken <= stick.stock + 0.01 for stick in lot.cutting.sticks)
    assert all(item.count > 0 and item.net > 0 for item in take_off(study))


@settings(max_examples=15, deadline=None, phases=PHASES, suppress_health_check=BIG)
@given(plans())
def test_random_plans_are_bought(plan: Plan) -> None:
    check_bought(plan)


@pytest.mark.slow
@settings(max_examples=200, deadline=None, phases=PHASES, suppress_health_check=BIG)
@given(plans())
def test_two_hundred_random_plans_are_bought(plan: Plan) -> None:
    check_bought(plan)
