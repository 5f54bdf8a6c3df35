"""The study of a plan: sizes that pass, checks that speak, an inch that changes what follows."""

from __future__ import annotations

import re
import subprocess
import sys
from itertools import pairwise

import pytest

from deckplan.layout.model import Kind
from deckplan.plan.file import read_plan
from deckplan.plan.model import Plan
from deckplan.reference import data_path
from deckplan.sizing.sizes import BEAM_BUILDS, JOIST_SIZES
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import attached, beam, make_plan, platform, rectangle


def _autos(plan: Plan) -> list[object]:
    found: list[object] = []
    for p in plan.platforms:
        found.append(p.joists.size)
        for support in p.supports:
            found += [
                value for key, value in support.model_dump().items() if key in ("build", "posts", "spacing")
            ]
    return found


def test_settled_plan_has_no_auto_and_passes() -> None:
    study = Study(attached(192, 144))
    assert "auto" in _autos(study.asked)
    assert "auto" not in _autos(study.plan)
    assert study.verdict is Verdict.PASS, [
        c.reason for c in study.checks if c.verdict is not Verdict.PASS and c.reason
    ]


def test_sizing_takes_the_smallest_that_passes() -> None:
    # one size smaller must fail: joists, then beams
    study = Study(attached(192, 168))
    settled = study.plan.platforms[0]
    smaller = JOIST_SIZES[JOIST_SIZES.index(settled.joists.size) - 1]
    tried = settled.model_copy(update={"joists": settled.joists.model_copy(update={"size": smaller})})
    again = Study(study.plan.model_copy(update={"platforms": (tried,)}))
    assert any(c.verdict is Verdict.FAIL and c.mark.startswith("A-J") for c in again.checks)
    line = settled.supports[1]
    less = BEAM_BUILDS[BEAM_BUILDS.index(line.build) - 1]  # type: ignore[union-attr]
    tried = settled.model_copy(
        update={"supports": (settled.supports[0], line.model_copy(update={"build": less}))}
    )
    again = Study(study.plan.model_copy(update={"platforms": (tried,)}))
    assert any(c.verdict is Verdict.FAIL and c.mark.startswith("A-B") for c in again.checks)


def test_settling_a_settled_plan_changes_nothing() -> None:
    study = Study(attached(192, 168))
    assert Study(study.plan).plan == study.plan


@pytest.mark.parametrize("spacing", [12.0, 16.0, 24.0])
def test_longest_joist_of_the_printed_table_passes_and_an_inch_more_fails(spacing: float) -> None:
    # AWC DCA6-2012 Table 2, southern pine No. 2 2x8: 13-1, 11-10, 9-8 (clear span)
    longest = {12.0: 157.0, 16.0: 142.0, 24.0: 116.0}[spacing]

    def joist_checks(span: float) -> list[Verdict]:
        # the sum takes the span from the ledger's face to the middle of the beam, without overhang
        deck = platform(
            "deck", rectangle(0, 0, 192, span + 1.5 + 1.5), 48, {"kind": "ledger", "wall": "house"},
            beam(span + 1.5), joists={"size": "2x8", "spacing": spacing},
        )  # fmt: skip
        house = {"wall": [{"name": "house", "line": [(-10.0, 0.0), (400.0, 0.0)], "ledger": True}]}
        materials = {"decking": {"kind": "wood", "thickness": 1.25, "spacing": 24.0}}
        study = Study(make_plan(deck, house=house, materials=materials))
        rules = ("bending in the span", "deflection", "shear")
        return [c.verdict for c in study.checks if c.mark.startswith("A-J") and c.rule in rules]

    assert Verdict.FAIL not in joist_checks(longest - 0.5)
    assert Verdict.FAIL in joist_checks(longest + 2.0)


def test_one_inch_of_elevation_changes_risers_posts_and_checks() -> None:
    plan = read_plan(data_path("plans", "alder-point.toml"))
    lounge = plan.platform("lounge")
    raised = lounge.model_copy(update={"elevation": lounge.elevation + 1.0})  # type: ignore[operator]
    before = Study(plan)
    after = Study(
        plan.model_copy(
            update={"platforms": tuple(raised if p.name == "lounge" else p for p in plan.platforms)}
        )
    )
    was, now = before.levels.flights[1], after.levels.flights[1]
    assert was.rise - now.rise == pytest.approx(1.0)
    assert was.riser != now.riser
    heights = [[p.height for p in s.layout.posts if p.platform == "lounge"] for s in (before, after)]
    assert [b - a for a, b in zip(*heights, strict=True)] == pytest.approx([1.0] * len(heights[0]))
    slender = [
        [c.demand for c in s.checks if c.mark == "B-P1" and c.rule == "slenderness"] for s in (before, after)
    ]
    assert slender[0] != slender[1]


def test_marks_are_unique_and_every_check_speaks_of_one() -> None:
    study = Study(read_plan(data_path("plans", "alder-point.toml")))
    pads = (*study.layout.pads, *study.flights.pads)
    marks = [part.mark for part in (*study.layout.members, *study.layout.posts, *pads)]
    assert len(marks) == len(set(marks))
    marks += [post.mark for post in study.layout.guard_posts]
    flights = {f"S{n + 1}" for n in range(len(study.plan.flights))}
    names = {p.name for p in study.plan.platforms} | {d.name for d in study.plan.house.doors}
    unknown = {c.mark for c in study.checks} - set(marks) - flights - names
    assert unknown == set()


def test_every_failing_check_says_why() -> None:
    study = Study(
        make_plan(platform("p", rectangle(0, 0, 400, 300), 10, beam(40, build="2-2x6", posts=2), beam(260)))
    )
    failing = [c for c in study.checks if c.verdict in (Verdict.FAIL, Verdict.OUTSIDE)]
    assert len(failing) > 3
    assert all(c.reason for c in failing)


def test_members_alike_share_their_checks() -> None:
    study = Study(attached(192, 144))
    joists = study.layout.of("deck", Kind.JOIST)
    inner = joists[4]
    assert study.utilisation(inner.mark) == study.utilisation(study.loads.demands[inner.mark].like)
    assert inner.mark in study.describe(inner.mark)
    assert "used" in study.describe(inner.mark)


def test_importing_the_package_is_quick_and_light() -> None:
    code = (
        "import sys, deckplan; from deckplan.study import Study; "
        "print([n for n in ('matplotlib', 'pandas', 'ipywidgets') if n in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


@pytest.mark.parametrize(
    "outline", [rectangle(0, 0, 1, 1), rectangle(0, 0, 3, 400), rectangle(0, 0, 4000, 2000)]
)
def test_odd_sizes_are_studied_without_a_crash(outline: list[tuple[float, float]]) -> None:
    study = Study(make_plan(platform("p", outline, 36, beam(0.5), beam(0.75))))
    assert study.verdict in (Verdict.FAIL, Verdict.OUTSIDE, Verdict.PASS)
    assert study.notes


STEEP = [(0, Verdict.PASS), (45, Verdict.PASS), (60, Verdict.FAIL), (90, Verdict.FAIL)]


@pytest.mark.parametrize(("angle", "verdict"), STEEP)
def test_boards_must_cross_the_joists(angle: float, verdict: Verdict) -> None:
    # 12 in is what boards at 45 degrees may span here; steeper ones span more, and along the joists bear on nothing
    lay = {"joists": {"spacing": 12.0}, "boards": {"angle": angle}}
    deck = platform("p", rectangle(0, 0, 144, 120), 36, beam(12), beam(108), **lay)
    found = [
        c.verdict for c in Study(make_plan(deck)).checks if c.rule.startswith("joist spacing under boards")
    ]
    assert found == [verdict]


def test_a_live_load_under_the_codes_fails() -> None:
    # IRC Table R301.5: 40 psf for decks
    checks = Study(attached(192, 144, site={"live_load": 10.0})).checks
    assert [c.verdict for c in checks if c.rule == "live load of the rules"] == [Verdict.FAIL]


def test_auto_joists_on_a_ledger_are_as_deep_as_a_ledger_must_be() -> None:
    # IRC R507.9.1.1: ledger 2x8 at least; short joists alone would do with 2x6
    study = Study(attached(168, 96, offset=84))
    assert study.plan.platforms[0].joists.size == "2x8"
    assert study.verdict is Verdict.PASS


def test_a_flight_through_the_house_wall_fails() -> None:
    from deckplan.plan.model import Flight

    plan = attached(168, 120)
    flight = Flight.model_validate({"from": "deck", "to": "ground", "along": [(48.0, 0.0), (96.0, 0.0)]})
    study = Study(plan.model_copy(update={"flights": (flight,)}))
    assert [c.verdict for c in study.checks if c.rule == "flight clear of the house"] == [Verdict.FAIL]


def test_what_is_said_of_a_mark_in_a_metric_plan_has_metric_figures() -> None:
    frail = platform("p", rectangle(0, 0, 400, 300), 10, beam(40, build="2-2x6", posts=2), beam(260))
    study = Study(make_plan(frail, units="metric"))
    bending = next(c for c in study.checks if c.mark == "A-B1" and "bending" in c.rule)
    assert bending.demand is not None
    # 1 lb in = 0.1129848 N m (NIST SP 811 appendix B.8)
    assert f"{bending.demand * 0.1129848e-3:.4g} kN m is over" in study.describe("A-B1")
    said = [study.describe(mark) for mark in (*study.layout.by_mark, "A", "S1")]
    assert len([one for one in said if "FAIL" in one]) > 3
    american = re.compile(r"\d\"|\d'|\d (?:in|ft|lb|psi|psf|plf)\b")
    assert [one for one in said if american.search(one)] == []
    assert study.describe("A") == "A: p, at 254 mm above the benchmark"


def test_automatic_posts_stand_within_eight_feet_on_a_beam_line_longer_than_stock() -> None:
    # 60 ft in bays of at most 8 ft (common practice) is 8 bays at the least, so 9 posts; no piece is longer than stock.
    study = Study(make_plan(platform("p", rectangle(0, 0, 720, 240), 40, beam(24), beam(216))))
    for line in ("A-B1", "A-B2"):
        assert line in study.layout.by_mark
    across = sorted(post.at[0] for post in study.layout.posts if post.at[1] < 120)
    assert len(across) == 9
    assert max(b - a for a, b in pairwise(across)) <= 96.0
