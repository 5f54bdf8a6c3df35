"""Facts of the trade that no other test file states. [C] code, [T] trade press, [D] arithmetic, [P] common practice."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from pydantic import ValidationError

from deckplan.build.stake_out import base_line, stake_out
from deckplan.engineering.lumber import read_size, size_names
from deckplan.plan.model import Materials
from deckplan.rules import load_profile
from deckplan.study import Study
from deckplan.units import format_length
from tests.decks import beam, make_plan, platform, rectangle


# [D] 12 x 16 ft: 12^2 + 16^2 = 20^2, so both diagonals are 20'-0"; an inch out of square shows on the tape.
@pytest.mark.parametrize(
    ("out_of_square", "tapes"), [(0.0, {"20'-0\""}), (1.0, {"20'-0 5/8\"", "19'-11 3/8\""})]
)
def test_both_diagonals_of_twelve_by_sixteen_feet_are_twenty_feet(
    out_of_square: float, tapes: set[str]
) -> None:
    corners = [(0.0, 0.0), (144.0, 0.0), (144.0 + out_of_square, 192.0), (out_of_square, 192.0)]
    base = base_line(make_plan(platform("deck", corners, 30, beam(6), beam(186))))
    assert base is not None
    ends = {base.first, base.second}
    far = [SimpleNamespace(mark=f"{at}", at=at) for at in corners if at not in ends]
    found = set()
    for staked in stake_out(base, far):
        found.add(format_length(max(staked.from_first, staked.from_second)))
    assert found == tapes


# [C, T] IRC 2018 and 2021 R507.5.1, R507.6.1 (two published copies): 1-1/2 in on wood or metal, 3 in on concrete.
@pytest.mark.parametrize("profile", ["irc-2018", "irc-2021"])
def test_wood_bears_an_inch_and_a_half_on_wood_and_three_inches_on_concrete(profile: str) -> None:
    limits = load_profile(profile)
    assert limits.bearing_on_wood.value == 1.5
    assert limits.bearing_on_concrete.value == 3.0


def test_no_post_that_a_plan_may_name_bears_less_than_three_inches_on_its_footing() -> None:
    """[C, T] 3 in on concrete: posts alone stand on footings, and no plan may name a thinner one."""
    accepted = []
    for name in size_names():
        try:
            accepted.append(read_size(Materials(post=name).post))
        except ValidationError:
            assert min(read_size(name).thickness, read_size(name).depth) < 3 or read_size(name).depth > 7.5
    assert accepted
    assert min(min(size.thickness, size.depth) for size in accepted) >= 3.0
    study = Study(make_plan(platform("deck", rectangle(0, 0, 144, 120), 30, beam(6), beam(114))))
    on_concrete = [post for post in study.layout.posts if post.footing]
    assert on_concrete
    assert all(post.width >= load_profile("irc-2021").bearing_on_concrete.value for post in on_concrete)
