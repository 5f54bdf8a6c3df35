"""The plan file: what was written is read, a save changes only what changed, a failure changes nothing."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deckplan.errors import InputError
from deckplan.plan import disk
from deckplan.plan.file import PlanFile, parse_plan, read_plan, write_plan
from deckplan.plan.model import BeamLine, ElevationRange, Flight, Ledger, Plan, Platform, SpotElevation
from deckplan.plan.places import edit, edit_together, value_text
from deckplan.plan.saving import changed_text, plan_to_toml
from deckplan.plan.writing import plan_to_data
from deckplan.reference import data_path

DEMOS = sorted(data_path("plans").glob("*.toml"))


@pytest.fixture(params=DEMOS, ids=lambda path: path.stem)
def demo(request: pytest.FixtureRequest, tmp_path: Path) -> PlanFile:
    copy = tmp_path / "plan.toml"
    copy.write_bytes(request.param.read_bytes())
    return PlanFile.read(copy)


def test_demo_plans_say_that_they_are_invented_and_read() -> None:
    assert len(DEMOS) >= 3
    for path in DEMOS:
        assert "Invented for demonstration" in path.read_text(encoding="utf-8")
        assert read_plan(path).platforms


def test_a_plan_written_anew_reads_equal(demo: PlanFile, tmp_path: Path) -> None:
    assert parse_plan(plan_to_toml(demo.plan)) == demo.plan
    assert write_plan(demo.plan, tmp_path / "new.toml").plan == demo.plan
    assert read_plan(tmp_path / "new.toml") == demo.plan


def test_an_equal_plan_saves_to_the_same_bytes(demo: PlanFile) -> None:
    before = demo.path.read_bytes()
    assert demo.save(demo.plan).plan == demo.plan
    assert demo.path.read_bytes() == before


def _comments(text: str) -> list[str]:
    return sorted(line[line.index("#") :].strip() for line in text.splitlines() if "#" in line)


def _changed_lines(before: str, after: str) -> int:
    return len(set(after.splitlines()) - set(before.splitlines()))


@pytest.mark.parametrize("index", [0, -1])
def test_one_change_rewrites_one_line(demo: PlanFile, index: int) -> None:
    name = demo.plan.platforms[index].name
    for place, text in [
        (f"platform.{name}.elevation", "31 1/2 in"),
        (f"platform.{name}.joists.spacing", "10 in"),
        ("site.soil_bearing", "2500 psf"),
        ("materials.decking.gap", "1/4 in"),
        ("name", "another"),
    ]:
        changed = edit(demo.plan, place, text)
        saved = demo.save(changed, demo.path.with_name("changed.toml"))
        assert saved.plan == changed == read_plan(saved.path)
        assert _changed_lines(demo.text, saved.text) == 1
        assert _comments(saved.text) == _comments(demo.text)
        assert demo.path.read_text(encoding="utf-8") == demo.text


def _with(platform: Platform, **changes: object) -> Platform:
    return platform.model_copy(update=changes)


def test_platforms_supports_flights_and_ground_come_and_go(demo: PlanFile) -> None:
    plan = demo.plan
    first, rest = plan.platforms[0], plan.platforms[1:]
    extra = _with(first, name="extra", elevation=ElevationRange(lowest=70.0, highest=80.0))
    beam = BeamLine(kind="beam", offset=60.0, build="3-2x10", posts=(6.0, 54.0))
    flight = Flight(upper="extra", lower="ground", along=(first.outline[0], first.outline[1]))
    spot = SpotElevation(at=(100.0, 123.4), elevation=-3.0625)
    site = plan.site.model_copy(update={"ground": (*plan.site.ground, spot)})
    steps = [
        plan.model_copy(update={"platforms": (*plan.platforms, extra)}),
        plan.model_copy(update={"platforms": (extra, *plan.platforms), "flights": (*plan.flights, flight)}),
        plan.model_copy(update={"platforms": (_with(first, supports=(*first.supports, beam)), *rest)}),
        plan.model_copy(update={"platforms": (_with(first, supports=first.supports[::-1]), *rest)}),
        plan.model_copy(update={"platforms": (_with(first, supports=(beam,)), *rest)}),
        plan.model_copy(update={"flights": plan.flights[1:]}),
        plan.model_copy(update={"flights": ()}),
        plan.model_copy(update={"flights": (), "platforms": plan.platforms[:1]}),
        plan.model_copy(update={"platforms": plan.platforms[::-1]}),
        plan.model_copy(update={"site": site}),
        plan.model_copy(update={"site": site.model_copy(update={"ground": ()})}),
        plan,
    ]
    file = demo
    for step in steps:
        file = file.save(step)
        assert file.plan == step == read_plan(file.path)
    for step in steps:
        assert demo.save(step, demo.path.with_name("other.toml")).plan == step


def test_the_comment_before_a_table_survives_the_table_before_it(tmp_path: Path) -> None:
    text = """
[[platform]]
name = "a"
outline = [["0 ft", "0 ft"], ["6 ft", "0 ft"], ["6 ft", "5 ft"]]
elevation = "14 in"

# the one by the pear tree
[[platform]]
name = "b"
outline = [["10 ft", "0 ft"], ["16 ft", "0 ft"], ["16 ft", "5 ft"]]
elevation = "14 in"   # measured twice
"""
    plan = parse_plan(text)
    left = changed_text(text, plan, plan.model_copy(update={"platforms": plan.platforms[1:]}), "")
    assert "# the one by the pear tree" in left
    assert "# measured twice" in left
    renamed = changed_text(text, plan, edit(plan, "platform.a.name", "landing"), "")
    assert renamed == text.replace('name = "a"', 'name = "landing"')


def test_the_line_ends_of_another_system_are_kept(demo: PlanFile) -> None:
    demo.path.write_bytes(demo.text.replace("\n", "\r\n").encode())
    file = PlanFile.read(demo.path)
    first = file.plan.platforms[0].name
    extra = Flight(upper=first, lower="ground")
    file.save(edit(file.plan, "name", "another").model_copy(update={"flights": (*file.plan.flights, extra)}))
    saved = demo.path.read_bytes()
    assert saved.count(b"\n") == saved.count(b"\r\n")


def test_forms_of_toml_that_people_write() -> None:
    text = """
house.wall = [{ name = "w", line = [["0 ft", "0 ft"], ["9 ft", "0 ft"]] }]   # in one line
site.frost_depth = "3 ft"
platform = [
  # the only one
  { name = "a", outline = [["0 ft", "0 ft"], ["6 ft", "0 ft"], ["6 ft", "5 ft"]], elevation = { from = "14 in", to = "16 in" } },
]
"""  # noqa: E501
    plan = parse_plan(text)
    for place, typed in [
        ("platform.a.elevation", "15 in"),
        ("platform.a.joists.spacing", "12 in"),
        ("site.frost_depth", "30 in"),
        ("wall.w.ledger", "true"),
    ]:
        changed = edit(plan, place, typed)
        after = changed_text(text, plan, changed, "")
        assert parse_plan(after) == changed
        assert "# the only one" in after
        assert "# in one line" in after


def test_a_save_that_fails_changes_nothing(demo: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    before = demo.path.read_bytes()

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(InputError, match="cannot be written: No space left on device"):
        demo.save(edit(demo.plan, "name", "another"))
    assert demo.path.read_bytes() == before
    assert [path.name for path in demo.path.parent.iterdir()] == [demo.path.name]


def test_a_save_leaves_no_stray_file_and_keeps_the_permissions(demo: PlanFile) -> None:
    demo.path.chmod(0o640)
    demo.save(edit(demo.plan, "name", "another"))
    assert [path.name for path in demo.path.parent.iterdir()] == [demo.path.name]
    assert demo.path.stat().st_mode & 0o777 == 0o640


def test_a_linked_file_stays_a_link(demo: PlanFile) -> None:
    link = demo.path.with_name("link.toml")
    link.symlink_to(demo.path)
    PlanFile.read(link).save(edit(demo.plan, "name", "another"))
    assert link.is_symlink()
    assert read_plan(demo.path).name == "another"


def test_what_someone_else_wrote_is_not_overwritten(demo: PlanFile) -> None:
    demo.path.write_text(demo.text + "# my note\n", encoding="utf-8")
    with pytest.raises(
        InputError, match="read it again, or save under another name, not changed by someone else"
    ):
        demo.save(edit(demo.plan, "name", "another"))
    assert "# my note" in demo.path.read_text(encoding="utf-8")


@pytest.mark.parametrize("place", [".", "missing/plan.toml"])
def test_places_that_cannot_be_written(demo: PlanFile, place: str) -> None:
    with pytest.raises(InputError, match="the file: "):
        demo.save(demo.plan, demo.path.parent / place)


def test_a_plan_that_would_not_read_is_not_written(demo: PlanFile) -> None:
    with pytest.raises(InputError, match="at least one"):
        demo.save(demo.plan.model_copy(update={"platforms": (), "flights": ()}))
    assert demo.path.read_text(encoding="utf-8") == demo.text


def test_rules_beside_a_plan_are_found_from_its_new_place(tmp_path: Path) -> None:
    (tmp_path / "town.toml").write_text('name = "town"\nextends = "irc-2021"\n', encoding="utf-8")
    (tmp_path / "sub").mkdir()
    file = tmp_path / "plan.toml"
    file.write_text(
        DEMOS[0].read_text(encoding="utf-8").replace('"irc-2021"', '"town.toml"'), encoding="utf-8"
    )
    here = PlanFile.read(file)
    assert 'rules = "town.toml"' in here.save(edit(here.plan, "name", "another")).text
    assert PlanFile.read(file).save(here.plan, tmp_path / "sub" / "plan.toml").plan == here.plan


LENGTHS = st.one_of(
    st.integers(-3000, 3000).map(lambda n: n / 16), st.floats(-200, 200).map(lambda x: x + 0.0)
)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Any plan that makes sense, in both systems, with every kind of value."""
    count = draw(st.integers(1, 4))
    platforms = []
    for index in range(count):
        left, wide, deep = 400.0 * index, draw(st.floats(60, 300)), draw(st.floats(60, 300))
        right = left + wide
        outline = ((left, 0.0), (right, 0.0), (right, deep), (left, deep))
        offsets = draw(st.lists(st.floats(0, 59), min_size=1, max_size=3, unique=True))
        beams = tuple(
            BeamLine(
                kind="beam",
                offset=offset,
                build=draw(st.sampled_from(["auto", "2-2x10", "4x10"])),
                posts=draw(st.sampled_from(["auto", 3, (1.0, 50.5)])),
            )
            for offset in offsets
        )
        low = draw(LENGTHS)
        elevation = draw(st.sampled_from([low, ElevationRange(lowest=low, highest=low + 7.25)]))
        platforms.append(
            Platform(
                name=f"level {index}.{draw(st.sampled_from(['a', 'ü', 'x y']))}",
                people=draw(st.integers(0, 40)),
                outline=outline,
                elevation=elevation,
                supports=(Ledger(kind="ledger", wall="w"), *beams) if draw(st.booleans()) else beams,
            )
        )
    site = {"snow_load": draw(st.floats(0, 100)), "live_load": draw(st.none() | st.floats(1, 100))}
    wall = {"name": "w", "line": ((0.0, 0.0), (draw(st.floats(1, 4000)), 0.0)), "ledger": True}
    lower = platforms[1].name if count > 1 else "ground"
    return Plan.model_validate(
        {
            "units": draw(st.sampled_from(["us", "metric"])),
            "site": site,
            "house": {"wall": [wall]},
            "platforms": platforms,
            "flights": [Flight(upper=platforms[0].name, lower=lower)],
        }
    )


@given(plans(), plans())
def test_any_plan_survives_writing_and_any_change_survives_saving(one: Plan, other: Plan) -> None:
    text = plan_to_toml(one)
    assert parse_plan(text) == one
    changed = changed_text("# kept\n" + text, one, other, "")
    assert parse_plan(changed) == other
    assert changed.startswith("# kept\n")


@given(plans())
def test_what_a_field_shows_reads_back_as_the_same_plan(plan: Plan) -> None:
    name = plan.platforms[0].name
    last = len(plan.platforms[0].supports)
    for place in [
        "name", "units", "site.soil_bearing", "site.live_load", "site.snow_load", "wall.w.line", "wall.w.ledger",
        f"platform.{name}.name", f"platform.{name}.outline", "platform.1.outline.3.y", f"platform.{name}.elevation",
        f"platform.{name}.people", f"platform.{name}.support.{last}.offset", f"platform.{name}.support.{last}.posts",
        f"platform.{name}.joists.direction", "flight.1.from", "flight.1.tread", "materials.decking.width",
    ]:  # fmt: skip
        assert edit(plan, place, value_text(plan, place)) == plan


@pytest.fixture
def alder() -> Plan:
    return read_plan(data_path("plans", "alder-point.toml"))


def test_edits_read_like_the_file(alder: Plan) -> None:
    assert edit(alder, "platform.dining.elevation", "2'-7\"").platform("dining").elevation == 31.0
    wish = edit(alder, "platform.dining.elevation", "28 in to 31 in").platform("dining").elevation
    assert wish == ElevationRange(lowest=28.0, highest=31.0)
    support = edit(alder, "platform.dining.support.2.posts", "1 ft, 15 ft").platform("dining").supports[1]
    assert isinstance(support, BeamLine)
    assert support.posts == (12.0, 180.0)
    assert edit(alder, "site.live_load", "60 psf").site.live_load == 60.0
    assert edit(edit(alder, "site.live_load", "60 psf"), "site.live_load", "").site.live_load is None
    assert value_text(alder, "platform.dining.outline.3") == "20 ft, 13 ft"


def test_an_edit_speaks_the_words_of_the_file(alder: Plan) -> None:
    for place, text, message in [
        ("platform.dining.joists.spacing", "30 in",
         'platform "dining", joists.spacing: from 3 in to 24 in, not 30 in'),
        ("platform.dining.elevation", "", 'platform "dining", elevation: a length such as'),
        ("platform.dining.people", "many", 'platform "dining", people: a whole number, not "many"'),
        ("site.soil_bearing", "1500", "site.soil_bearing: a number and a unit"),
        ("flight.2.kind", "spiral", "flight 2, kind: one of"),
        ("wall.south wall.ledger", "no", 'platform "dining", support 1, wall: a wall that may carry a ledger'),
        ("platform.lounge.elevation", "30 in", ""),
    ]:  # fmt: skip
        if not message:
            edit(alder, place, text)
            continue
        with pytest.raises(InputError) as caught:
            edit(alder, place, text)
        assert str(caught.value).startswith(message)


@pytest.mark.parametrize(
    "place",
    ["", ".", "platform", "platform.dining", "platform.dinning.elevation", "platform.9.elevation", "site.ground",
     "platform.dining.joists", "platform.dining.outline.9.x", "platform.dining.elevation.x", "nothing", "site.",
     "platform.dining.support", "platform.dining.support.0.offset", "flight.-1.tread"],
)  # fmt: skip
def test_places_that_do_not_exist_are_refused(alder: Plan, place: str) -> None:
    with pytest.raises(InputError, match="a place in the plan"):
        edit(alder, place, "1 in")
    with pytest.raises(InputError, match="a place in the plan"):
        value_text(alder, place)


def test_a_new_name_is_followed_everywhere(alder: Plan) -> None:
    plan = edit(alder, "platform.dining.name", "supper")
    assert {flight.upper for flight in plan.flights} >= {"supper", "lounge"}
    assert "dining" not in {name for flight in plan.flights for name in (flight.upper, flight.lower)}
    walls = edit(plan, "wall.south wall.name", "garden front").platforms[0].supports
    assert walls[0] == Ledger(kind="ledger", wall="garden front")
    doors = edit(plan, "door.kitchen door.name", "back door").flights
    assert doors[0].upper == "back door"


def test_changes_that_make_sense_only_together(alder: Plan) -> None:
    moved = {"platform.garden.outline.3.y": "25 ft", "platform.garden.outline.4.y": "25 ft"}
    with pytest.raises(InputError, match="flight 5, along"):
        edit_together(alder, moved)
    plan = edit_together(alder, moved | {"flight.5.along": "22 ft, 25 ft; 30 ft, 25 ft"})
    assert plan.platform("garden").outline[2] == (384.0, 300.0)


def test_data_of_a_plan_names_every_key_when_asked(alder: Plan) -> None:
    data = plan_to_data(alder, everything=True)
    assert data["platform"][0]["joists"] == {
        "direction": "y",
        "size": "auto",
        "spacing": "16 in",
        "start": "auto",
    }
    assert data["materials"]["decking"]["spacing_step"] == "12 in"
    assert "style" not in plan_to_data(alder)["platform"][1]["support"][0]


def test_what_nobody_gave_stays_not_given(tmp_path: Path) -> None:
    text = """
[[platform]]
name = "a"
outline = [["0 ft", "0 ft"], ["6 ft", "0 ft"], ["6 ft", "5 ft"]]
elevation = "14 in"
"""
    plan = edit(parse_plan(text), "site.frost_depth", "30 in")
    again = write_plan(plan, tmp_path / "new.toml").plan
    assert plan.site.model_fields_set == again.site.model_fields_set == {"frost_depth"}
    assert edit(plan, "site.frost_depth", "").site.model_fields_set == set()
    # given, though it is what would be taken anyway
    given = edit(plan, "site.soil_bearing", "1500 psf")
    assert "soil_bearing" in write_plan(given, tmp_path / "given.toml").plan.site.model_fields_set
    assert 'soil_bearing = "1500 psf"' in changed_text(text, parse_plan(text), given, "")


def test_a_file_is_never_half_written(tmp_path: Path) -> None:
    target = tmp_path / "out.csv"
    disk.replace_file(target, b"whole")
    with pytest.raises(InputError, match="cannot be written"):
        disk.replace_file(tmp_path / "none" / "out.csv", "text")
    assert target.read_bytes() == b"whole"
