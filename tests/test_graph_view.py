"""The load path as a drawing: what is on it stands out, each support says its share."""

from __future__ import annotations

import pytest

from deckplan.draw.path_view import path_view
from deckplan.draw.scene import Role
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.units import to_unit


@pytest.fixture(scope="module")
def study() -> Study:
    return Study(read_plan(data_path("plans/alder-point.toml")))


def test_a_footings_path_shows_its_joists_beam_and_post_and_no_other_level(study: Study) -> None:
    scene = path_view(study, study.load_path, "A-F2")
    on = scene.of(Role.BLOCKING, Role.JOIST, Role.BEAM, Role.BEAM_BELOW, Role.POST, Role.CONCRETE)
    lit = {p.mark for p in on}  # type: ignore[union-attr]
    ends = {
        m.mark: sum(g.share for g in study.load_path.where_does_it_go(m.mark) if g.support == "A-F2")
        for m in study.layout.of("dining")
        if m.kind == "joist"
    }
    # a piece of which less than a fiftieth comes this way is as pale as the rest; the shares stand on the others
    some = {mark for mark, share in ends.items() if abs(share) >= 0.02}
    assert len(some) > 5
    assert lit == some | {"A-B1", "A-P2", "A-F2"}
    written = {label.mark: label.text.replace("\u2212", "-") for label in scene.labels if label.mark in some}
    assert written
    assert all(
        float(text.rstrip("%")) / 100 == pytest.approx(ends[mark], abs=0.0051)
        for mark, text in written.items()
    )
    dark = {p.mark for p in scene.of(Role.BLOCKING)}  # type: ignore[union-attr]
    assert dark == {mark for mark in some if ends[mark] >= 0.15}
    pale = {p.mark for p in scene.of(Role.EDGE_BEYOND)}  # type: ignore[union-attr]
    assert {"A-F1", "B-F1", "B-J1"} <= pale
    assert len(scene.of(Role.FLAG)) == 1
    assert scene.of(Role.FLAG)[0].mark == "A-F2"  # type: ignore[union-attr]


def test_shares_written_at_the_supports_sum_to_the_whole(study: Study) -> None:
    scene = path_view(study, study.load_path, "C")
    texts = [label.text for label in scene.labels if label.mark.startswith("C-F")]
    assert len(texts) == 6
    assert sum(int(text.split("\n")[1].split("%")[0]) for text in texts) == pytest.approx(100, abs=3)


def test_what_stands_on_a_mark_is_said_below(study: Study) -> None:
    texts = path_view(study, study.load_path, "A-F1")
    said = "\n".join(
        label.text for label in texts.labels if label.role is Role.TITLE or "sq ft" in label.text
    )
    stands = study.load_path.what_stands_on("A-F1")
    assert f"dining, {stands[0].area:.1f} sq ft: {stands[0].full:,.0f} lb" in said
    flight = path_view(study, study.load_path, "S4")
    shares = [label.text.split("\n")[1] for label in flight.labels if label.mark.startswith("S4-F")]
    assert [share.split(",")[0] for share in shares] == ["25%", "25%"], (
        "half of a stringer flight at its foot"
    )


def test_metric_plans_speak_kilonewtons_and_unknown_marks_are_refused(study: Study) -> None:
    metric = Study(read_plan(data_path("plans/heron-pond.toml")))
    scene = path_view(metric, metric.load_path, "A-F2")
    load = metric.load_path.what_stands_on("A-F2")[0]
    assert any(f"{to_unit(load.full, 'lbf', 'kN'):.2f} kN" in label.text for label in scene.labels)
    with pytest.raises(KeyError):
        path_view(study, study.load_path, "Z-F1")


def test_a_piece_that_carries_nothing_lights_up_alone_and_a_piece_of_a_flight_shows_the_flight(
    study: Study,
) -> None:
    alone = path_view(study, study.load_path, "A-R1")
    assert "Nothing of the deck's load stands on A-R1." in [label.text for label in alone.labels]
    assert {p.mark for p in alone.of(Role.RIM, Role.FLAG)} == {"A-R1"}  # type: ignore[union-attr]
    stringer = path_view(study, study.load_path, "S4-S1")
    said = [label.text for label in stringer.labels]
    assert "S4-S1 is a piece of S4, whose load is shown." in said
    assert {"S4-F1", "S4-F2"} <= {p.mark for p in stringer.of(Role.CONCRETE)}  # type: ignore[union-attr]


def test_a_flights_own_footing_bears_its_flight(study: Study) -> None:
    scene = path_view(study, study.load_path, "S5-F1")
    assert {p.mark for p in scene.of(Role.CONCRETE)} == {"S5-F1"}  # type: ignore[union-attr]
    stands = study.load_path.what_stands_on("S5-F1")
    assert f"garden to ground: {stands[0].full:,.0f} lb" in [label.text for label in scene.labels]
