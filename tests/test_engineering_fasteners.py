"""Fasteners against the printed tables of NDS 2018 (data/reference/fastener_cells.csv)."""

from dataclasses import replace

import pytest

from deckplan.engineering import dowels, fasteners
from deckplan.engineering.dowels import (
    Joint,
    bolt,
    lag_screw,
    lateral_value,
    named_nail,
)
from deckplan.errors import RangeError

# ---- traps ----


def test_small_dowels_have_their_own_reduction():
    """NDS 2018 Table 12.3.1B: K_D = 2.2 up to 0.17 in, 10 D + 0.5 above; from 1/4 in on 4, 3.6, 3.2 K_theta."""
    small = dowels.reduction_terms(named_nail("16d common"), 90.0)
    assert set(small.values()) == {2.2}
    assert list(dowels.reduction_terms(named_nail("20d common"), 90.0).values()) == pytest.approx([2.42] * 4)
    large = dowels.reduction_terms(bolt(0.5), 90.0)
    assert (large["I"], large["II"], large["III"]) == (5.0, 4.5, 4.0)


def test_a_quarter_inch_lag_has_a_thin_root():
    """Nominal 1/4 in, root 0.173: K_D of the root, turned by K_theta (NDS 2018 Table 12.3.1B note)."""
    lag = lag_screw(0.25, 4.0)
    assert dowels.reduction_terms(lag, 90.0)["I"] == pytest.approx((10 * 0.173 + 0.5) * 1.25)
    assert dowels.reduction_terms(lag, 0.0)["I"] == pytest.approx(10 * 0.173 + 0.5)


def test_screws_bend_at_their_root_but_bear_at_their_shank():
    lag = lag_screw(0.5, 5.0)
    assert (lag.diameter, lag.bending_diameter) == (0.5, 0.371)
    assert dowels.bearing_strength(0.5, lag, 90.0) == 3150.0  # Fe by nominal diameter, Table 12.3.3


@pytest.mark.parametrize(
    ("diameter", "strength"), [(0.25, 70000), (0.3125, 60000), (0.375, 45000), (0.75, 45000)]
)
def test_yield_strength_of_lags(diameter, strength):
    assert lag_screw(diameter, 4.0).Fyb == strength  # NDS 2018 Table I1


def test_hankinson_meets_both_ends():
    assert dowels.at_angle(5600.0, 3150.0, 0.0) == 5600.0
    assert dowels.at_angle(5600.0, 3150.0, 90.0) == 3150.0
    middle = dowels.at_angle(5600.0, 3150.0, 45.0)
    assert middle == pytest.approx(5600 * 3150 / (0.5 * 5600 + 0.5 * 3150))


def test_bearing_in_wood_is_rounded_to_50_psi():
    for G in (0.31, 0.36, 0.42, 0.43, 0.46, 0.5, 0.55):
        assert dowels.bearing_strength(G, bolt(0.5), 90.0) % 50 == 0
        assert dowels.bearing_strength(G, named_nail("8d common")) % 50 == 0


def test_sheathing_between_ledger_and_rim_weakens_a_lag():
    values = []
    for gap in (0.0, 0.5, 1.0):
        joint = Joint(1.5, 1.5, 0.5, 0.5, 90.0, 90.0, gap=gap)
        values.append(lateral_value(bolt(0.5), joint).value)
    assert values == sorted(values, reverse=True)
    assert values[2] < 0.85 * values[0]


@pytest.mark.parametrize(
    ("dowel", "joint"),
    [
        (lag_screw(0.5, 3.0), Joint(5.5, 1.5, 0.5, 0.5)),  # 1.5 - 0.3125 < 4D
        (named_nail("8d common"), Joint(5.5, 2.0, 0.5, 0.5)),  # 0.5 < 6D
        (named_nail("8d common"), Joint(5.5, 3.0, 0.5, 0.5)),  # does not reach
    ],
)
def test_too_short_a_fastener_is_refused(dowel, joint):
    with pytest.raises(RangeError):
        lateral_value(dowel, joint)


def test_standard_sizes_only():
    for wrong in (
        lambda: lag_screw(0.4, 3.0),
        lambda: dowels.wood_screw(11, 3.0),
        lambda: named_nail("9d common"),
    ):
        with pytest.raises(RangeError):
            wrong()


def test_connection_duration_stops_at_1_6():
    reference = lateral_value(bolt(0.5), Joint(1.5, 1.5, 0.5, 0.5))
    impact = fasteners.adjust_connection(reference, duration=2.0)
    assert impact.value == pytest.approx(1.6 * reference.value)  # NDS 2018 11.3.2
    everything = fasteners.adjust_connection(
        reference, duration=1.15, wet=0.7, group=0.9, geometry=0.5, end_grain=True
    )
    assert everything.value == pytest.approx(1.15 * 0.7 * 0.9 * 0.5 * 0.67 * reference.value)
    toe = fasteners.adjust_connection(reference, toenailed=True, withdrawal=True)
    assert toe.value == pytest.approx(0.67 * reference.value)


def test_wet_factors_of_connections():
    """NDS 2018 Table 11.3.3."""
    nail, big = named_nail("10d common"), bolt(0.5)
    assert [fasteners.wet_connection_factor(big, when) for when in ("dry", "wet", "drying")] == [
        1.0,
        0.7,
        1.0,
    ]
    assert fasteners.wet_connection_factor(big, "drying", single_row=False) == 0.4
    assert fasteners.wet_connection_factor(nail, "drying") == 0.7
    assert fasteners.wet_withdrawal_factor(nail, changing=True) == 0.25
    assert fasteners.wet_withdrawal_factor(lag_screw(0.5, 4), changing=True) == 0.7


def test_combined_load_between_pure_withdrawal_and_pure_shear():
    for kind in ("screw", "nail"):
        assert fasteners.combined_value(300.0, 200.0, 0.0, kind) == pytest.approx(200.0)
        assert fasteners.combined_value(300.0, 200.0, 90.0, kind) == pytest.approx(300.0)
    middle = fasteners.combined_value(300.0, 200.0, 45.0, "screw")
    assert middle == pytest.approx(300 * 200 / (150 + 100))  # NDS 2018 Equation 12.4-1


def test_no_group_action_for_one_or_thin_fasteners():
    wood = (10.0, 1.4e6)
    assert fasteners.group_factor(1, 4.0, 1.0, wood, wood) == 1.0
    assert fasteners.group_factor(8, 4.0, 0.24, wood, wood) == 1.0
    assert fasteners.group_factor(4, 4.0, 0.75, wood, wood) > fasteners.group_factor(8, 4.0, 0.75, wood, wood)


@pytest.mark.parametrize(
    ("end", "load", "factor", "faults"),
    [
        (3.5, "parallel in tension", 1.0, 0),  # 7D of a 1/2 in bolt in softwood
        (1.75, "parallel in tension", 0.5, 0),  # 3.5D
        (1.74, "parallel in tension", 0.497, 1),
        (2.0, "parallel in compression", 1.0, 0),  # 4D
        (1.0, "parallel in compression", 0.5, 0),  # 2D
    ],
)
def test_end_distances(end, load, factor, faults):
    placement = fasteners.Placement(end, 1.0, 1.0, 2.0, 1.0, load)
    found, reasons = fasteners.geometry_factor(0.5, placement)
    assert found == pytest.approx(factor, abs=1e-3)
    assert len(reasons) == faults


def test_edges_spacing_and_rows():
    good = fasteners.Placement(4.0, 0.75, 2.0, 2.0, 0.75, "perpendicular")
    assert fasteners.geometry_factor(0.5, good) == (1.0, ())
    for change in ({"edge": 0.74}, {"loaded_edge": 1.99}, {"rows": 0.74}, {"spacing": 1.49}):
        bad = replace(good, **change)
        assert len(fasteners.geometry_factor(0.5, bad)[1]) == 1
    close = replace(good, spacing=1.75)  # 3.5D of 4D
    assert fasteners.geometry_factor(0.5, close)[0] == pytest.approx(0.875)
    assert fasteners.geometry_factor(0.2, replace(good, spacing=0.1))[0] == 1.0


def test_withdrawal_counts_thread_without_the_tip():
    lag = lag_screw(0.5, 6.0)
    found = fasteners.withdrawal_value(lag, 0.5, 3.0, threaded=3.0)
    assert found.value == pytest.approx(
        378 * (3.0 - 0.3125), rel=2e-3
    )  # NDS 2018 Table 12.2A, G .50, 1/2 in: 378
    with pytest.raises(RangeError):
        fasteners.withdrawal_value(bolt(0.5), 0.5, 3.0)
    with pytest.raises(RangeError):
        fasteners.withdrawal_value(lag, 0.5, 0.2)


def test_the_steps_name_the_mode():
    steps = lateral_value(bolt(0.5), Joint(1.5, 1.5, 0.5, 0.5)).steps
    assert "mode II" in steps[-1].words
    assert steps[-1].value == pytest.approx(480, abs=5)
