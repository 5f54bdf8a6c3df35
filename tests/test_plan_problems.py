"""A wrong plan: every kind of mistake, each with its place in the user's words, all of a file at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from deckplan.errors import InputError
from deckplan.plan.file import parse_plan, read_plan

PLANS = Path(__file__).parent / "plans"

SOUND = (PLANS / "sound.toml").read_text(encoding="utf-8")

UPPER_OUTLINE = 'outline = [["0 ft", "0 ft"], ["12 ft", "0 ft"], ["12 ft", "10 ft"], ["0 ft", "10 ft"]]'

# what to replace, by what, and parts of the one message expected
MISTAKES = {
    "format number": ("format = 1", "format = 2", ["format: 1, the one that this version reads, not 2"]),
    "unknown key at the top": ('name = "trial"', 'nmae = "trial"', ["nmae: no such key; did you mean name?"]),
    "unknown key in a table": ("frost_depth", "frost_dept", ["site.frost_dept", "did you mean frost_depth?"]),
    "unknown key in a platform": (
        "people = 8",
        "peopel = 8",
        ['platform "upper", peopel', "did you mean people?"],
    ),
    "unknown key in a line table": (
        'spacing = "16 in"',
        'spaceing = "16 in"',
        ['platform "upper", joists.spaceing', "did you mean spacing?"],
    ),
    "unknown key in a support": (
        'build = "2-2x10"',
        'built = "2-2x10"',
        ['platform "upper", support 2, built', "did you mean build?"],
    ),
    "unknown key far from any": ("people = 8", "colour = 8", ["no such key; known here: name, use, people"]),
    "units": ('units = "us"', 'units = "cubits"', ['units: one of "us", "metric", not "cubits"']),
    "rules": ('rules = "irc-2021"', 'rules = "irc-1850"', ["rules: one of", "irc-2021", 'not "irc-1850"']),
    "rules of one's own": (
        'rules = "irc-2021"',
        'rules = "no-such.toml"',
        ["rules: a file that can be read"],
    ),
    "no length": (
        'frost_depth = "42 in"',
        'frost_depth = "deep"',
        ["site.frost_depth: a length such as", '"deep"'],
    ),
    "a length without unit or quotes": (
        '"42 in"',
        "42",
        ["site.frost_depth: a length such as", "in quotes, not 42"],
    ),
    "negative depth": ('"42 in"', '"-42 in"', ["site.frost_depth: from 0 to 1000 ft, not -42 in"]),
    "a slipped unit": (
        'elevation = "30 in"',
        'elevation = "30 km"',
        ['"upper", elevation: a length', "not 30 km"],
    ),
    "too far away": (
        'elevation = "30 in"',
        'elevation = "3000 ft"',
        ["between -1000 ft and 1000 ft, not 3000 ft"],
    ),
    "no bearing": ('"1500 psf"', '"0 psf"', ["site.soil_bearing: over 0 and at most 100000 psf, not 0 psf"]),
    "wrong quantity": (
        '"1500 psf"',
        '"1500 ft"',
        ["site.soil_bearing: a number and a unit that converts to psf"],
    ),
    "not a number": ('"1500 psf"', "nan", ["site.soil_bearing: a number and a unit in quotes", "not nan"]),
    "half a point": (
        'at = ["0 ft", "0 ft"], elevation',
        'at = ["0 ft"], elevation',
        ["site.ground 1, at: two lengths, x and y", 'not ["0 ft"]'],
    ),
    "wrong coordinate": (
        'at = ["0 ft", "0 ft"], elevation',
        'at = ["0 ft", "zero"], elevation',
        ["site.ground 1, at, y: a length", 'not "zero"'],
    ),
    "ground twice": (
        'elevation = "0 in" }]',
        'elevation = "0 in" }, { at = ["0 ft", "0 in"], elevation = "3 in" }]',
        ["site.ground 2: one elevation for one place; ground 1 says another, not 3 in"],
    ),
    "missing key": ('sill = "31 in"', "", ['door "kitchen door", sill: needed, but missing']),
    "missing elevation": ('elevation = "30 in"', "", ['platform "upper", elevation: needed, but missing']),
    "one table for a list": (
        "[[house.door]]",
        "[house.door]",
        ["house.door: a list of tables, each headed [[house.door]]", "not one table"],
    ),
    "a value for a table": (
        "[[house.wall]]\n",
        "[house]\nwall = 3\n[[house.wal]]\n",
        ["house.wall: a list of tables"],
    ),
    "wall without length": (
        'line = [["0 ft", "0 ft"], ["40 ft", "0 ft"]]',
        'line = [["0 ft", "0 ft"], ["0 ft", "0 in"]]',
        ['wall "south wall", line: a line with length everywhere; points 1 and 2 are one place'],
    ),
    "yes or no": ("ledger = true", "ledger = 1", ['wall "south wall", ledger: true or false, not 1']),
    "ledger where none may hang": (
        "ledger = true",
        "ledger = false",
        ['platform "upper", support 1, wall: a wall that may carry a ledger', 'not "south wall"'],
    ),
    "ledger on no wall": (
        'wall = "south wall"',
        'wall = "suoth wall"',
        ['support 1, wall: a wall of the house (did you mean "south wall"?), not "suoth wall"'],
    ),
    "species": (
        '"southern pine"',
        '"southern pne"',
        ["materials.species: one of", "Southern Pine", '"southern pne"'],
    ),
    "grade": ('"No. 2"', '"No. 9"', ["materials.grade: one of", "No. 2", 'not "No. 9"']),
    "post size": ('post = "6x6"', 'post = "5x5"', ["materials.post: one of 4x4", "6x6", "not 5x5"]),
    "joist size": ('size = "2x10"', 'size = "2x11"', ['joists.size: "auto" or one of 2x4', "not 2x11"]),
    "beam build": (
        'build = "2-2x10"',
        'build = "9-2x10"',
        ["support 2, build:", "one to four plies", "not 9-2x10"],
    ),
    "board width": (
        'width = "5 1/2 in"',
        'width = "55 in"',
        ["materials.decking.width: over 0 and at most 12 in, not 55 in"],
    ),
    "board kind": ('kind = "wood"', 'kind = "glass"', ['materials.decking.kind: one of "composite", "wood"']),
    "spacing": (
        'spacing = "16 in"',
        'spacing = "30 in"',
        ['platform "upper", joists.spacing: from 3 in to 24 in, not 30 in'],
    ),
    "direction": (
        'direction = "y"',
        'direction = "z"',
        ['joists.direction: "x", "y" or an angle in degrees, not "z"'],
    ),
    "border boards": ("border = 1", "border = 7", ["boards.border: from 0 to 3 border boards, not 7"]),
    "board angle": ("angle = 0", "angle = 200", ["boards.angle: from -90 to 90 degrees, not 200"]),
    "negative people": (
        "people = 8",
        "people = -8",
        ['platform "upper", people: from 0 to 10000 people, not -8'],
    ),
    "people in words": (
        "people = 8",
        'people = "eight"',
        ['platform "upper", people: a whole number, not "eight"'],
    ),
    "half a person": ("people = 8", "people = 8.5", ["people: a whole number, not 8.5"]),
    "no name": ('name = "upper"', "", ["platform 1, name: needed, but missing"]),
    "empty name": ('name = "upper"', 'name = " "', ["platform 1, name: a name, in quotes"]),
    "two of one name": (
        'name = "lower"',
        'name = "upper"',
        ['platform "upper", name: a name of its own for each platform, not 2 times the same'],
    ),
    "named like the terrain": (
        'name = "lower"',
        'name = "Ground"',
        ['platform "Ground", name: a name other than'],
    ),
    "named like a door": (
        'name = "lower"',
        'name = "kitchen door"',
        ['platform "kitchen door", name: a name that no door has'],
    ),
    "two corners": (
        UPPER_OUTLINE,
        'outline = [["0 ft", "0 ft"], ["12 ft", "0 ft"]]',
        ["outline: three corners or more"],
    ),
    "no area": (
        UPPER_OUTLINE,
        'outline = [["0 ft", "0 ft"], ["6 ft", "0 ft"], ["12 ft", "0 ft"]]',
        ["outline: an outline that encloses an area"],
    ),
    "crossing edges": (
        UPPER_OUTLINE,
        'outline = [["0 ft", "0 ft"], ["12 ft", "10 ft"], ["12 ft", "0 ft"], ["0 ft", "10 ft"]]',
        ["outline: an outline whose edges do not cross or touch; these do near 72 in, 60 in"],
    ),
    "closed outline": (
        UPPER_OUTLINE,
        UPPER_OUTLINE.replace("]]", '], ["0 ft", "0 ft"]]'),
        ["outline: each corner once; corner 5 repeats corner 1"],
    ),
    "corner twice": (
        UPPER_OUTLINE,
        UPPER_OUTLINE.replace('["12 ft", "0 ft"],', '["12 ft", "0 ft"], ["12 ft", "0 in"],'),
        ["outline: each corner once; corner 3 repeats corner 2"],
    ),
    "bad corner": (
        UPPER_OUTLINE,
        UPPER_OUTLINE.replace('["12 ft", "10 ft"]', '["12 ft", "10 fx"]'),
        ['platform "upper", outline, corner 3, y: a length', "not 10 fx"],
    ),
    "range upside down": (
        '{ from = "14 in", to = "20 in" }',
        '{ from = "20 in", to = "14 in" }',
        ['platform "lower", elevation: a range from low to high'],
    ),
    "half a range": (
        '{ from = "14 in", to = "20 in" }',
        '{ from = "14 in" }',
        ['"lower", elevation.to: needed, but missing'],
    ),
    "unknown support": (
        'kind = "ledger"\n  wall = "south wall"',
        'kind = "column"',
        ['platform "upper", support 1, kind: one of "ledger", "beam", "hung", not "column"'],
    ),
    "offset beside the platform": (
        'offset = "9 ft"',
        'offset = "19 ft"',
        ['platform "upper", support 2, offset: on the platform, from 0 to 120 in, not 228 in'],
    ),
    "fasteners too far apart": (
        'wall = "south wall"',
        'wall = "south wall"\n  spacing = "9 ft"',
        ['platform "upper", support 1, spacing: "auto", or over 0 and at most 48 in, not 9 ft'],
    ),
    "beam twice": (
        'offset = "8 ft"',
        'offset = "12 in"',
        ['"lower", support 2, offset: another line than support 1'],
    ),
    "posts out of order": (
        '["1 ft", "11 ft"]',
        '["11 ft", "1 ft"]',
        ["support 2, posts: offsets in rising order"],
    ),
    "posts beside the beam": (
        '["1 ft", "11 ft"]',
        '["1 ft", "13 ft"]',
        ["support 2, posts: offsets on the beam", "156 in"],
    ),
    "no posts": ('["1 ft", "11 ft"]', "0", ["support 2, posts: from 1 to 60 posts, not 0"]),
    "posts in words": (
        '["1 ft", "11 ft"]',
        '"some"',
        ['support 2, posts: "auto", a count, or a list', '"some"'],
    ),
    "shares with nobody": (
        'offset = "8 ft"',
        'offset = "8 ft"\n  shares_posts_with = "uper"',
        ['support 2, shares_posts_with: a platform (did you mean "upper"?), not "uper"'],
    ),
    "shares with itself": (
        'offset = "8 ft"',
        'offset = "8 ft"\n  shares_posts_with = "lower"',
        ["shares_posts_with: another platform, not itself"],
    ),
    "flight to itself": (
        'to = "lower"',
        'to = "upper"',
        ["flight 1, to: another level than the one it comes from"],
    ),
    "flight to nowhere": (
        'to = "lower"',
        'to = "lowr"',
        ['flight 1, to: a platform or "ground" (did you mean "lower"?)'],
    ),
    "flight from nowhere": (
        'from = "upper"',
        'from = "attic"',
        ['flight 1, from: a platform or a door: one of "upper"'],
    ),
    "flight from the ground": ('from = "upper"', 'from = "ground"', ["flight 1, from: the upper level"]),
    "flight into the house": (
        'to = "lower"',
        'to = "kitchen door"',
        ["flight 1, to: the lower level: a platform"],
    ),
    "flight beside its edge": (
        'along = [["12 ft", "2 ft"], ["12 ft", "6 ft"]]',
        'along = [["11 ft", "2 ft"], ["11 ft", "6 ft"]]',
        [
            'flight 1, along: a stretch of one edge of platform "upper"',
            """not (11'-0", 2'-0") to (11'-0", 6'-0")""",
        ],
    ),
    "flight without width": (
        '["12 ft", "6 ft"]]',
        '["12 ft", "2 ft"]]',
        ["flight 1, along: a line with length"],
    ),
    "kind of flight": (
        'tread = "11 in"',
        'kind = "ladder"',
        ['flight 1, kind: one of "auto", "direct", "box", "stringer"'],
    ),
    "tread": (
        'tread = "11 in"',
        'tread = "0 in"',
        ["flight 1, tread: from 4 to 96 in, where a foot finds hold, not 0 in"],
    ),
    "setback": (
        "ground = [",
        'boundary = [{ kind = "river", line = [["0 ft", "0 ft"], ["1 ft", "0 ft"]] }]\nground = [',
        ['site.boundary 1, kind: one of "property", "easement", "septic", "utility", not "river"'],
    ),
}


def test_the_sound_plan_reads() -> None:
    assert [platform.name for platform in parse_plan(SOUND).platforms] == ["upper", "lower"]


@pytest.mark.parametrize("mistake", MISTAKES)
def test_each_mistake_is_named_with_its_place(mistake: str) -> None:
    old, new, parts = MISTAKES[mistake]
    assert old in SOUND
    with pytest.raises(InputError) as caught:
        parse_plan(SOUND.replace(old, new, 1), "trial.toml")
    lines = str(caught.value).splitlines()
    assert all(line.startswith("trial.toml: ") for line in lines)
    assert any(all(part in line for part in parts) for line in lines), "\n".join(lines)
    # what follows from one mistake is at most one more message
    assert len(lines) <= 2, "\n".join(lines)


def test_there_are_enough_kinds_of_mistake() -> None:
    assert len(MISTAKES) >= 60


def test_platforms_cannot_fill_one_place() -> None:
    text = SOUND.replace('{ from = "14 in", to = "20 in" }', '"30 in"')
    text = text.replace('[["12 ft", "0 ft"], ["20 ft", "0 ft"]', '[["6 ft", "0 ft"], ["20 ft", "0 ft"]')
    text = text.replace('["12 ft", "10 ft"]]\nelevation = "30', '["6 ft", "10 ft"]]\nelevation = "30')
    with pytest.raises(
        InputError, match=r'platform "lower", outline: beside platform "upper".*over it on 60 sq ft'
    ):
        parse_plan(text)


def test_all_mistakes_of_a_file_come_at_once() -> None:
    chosen = [
        "format number", "unknown key in a table", "wrong quantity", "yes or no", "species", "spacing",
        "joist size", "people in words", "posts out of order", "half a range", "flight to nowhere", "tread", "rules",
    ]  # fmt: skip
    text = SOUND
    for mistake in chosen:
        old, new, _ = MISTAKES[mistake]
        text = text.replace(old, new, 1)
    with pytest.raises(InputError) as caught:
        parse_plan(text)
    for mistake in chosen:
        _, _, parts = MISTAKES[mistake]
        assert any(all(part in str(problem) for part in parts) for problem in caught.value.problems), mistake


def test_spellings_of_sizes_and_numbers_come_to_one() -> None:
    text = SOUND.replace('"2-2x10"', '"(2) 2×10"').replace('size = "2x10"', 'size = "2 X 10"')
    text = text.replace("people = 8", 'people = "8"').replace('direction = "y"', 'direction = "Y"')
    text = text.replace('"southern pine"', '"Southern Pine"')
    plan = parse_plan(text)
    support = plan.platforms[0].supports[1]
    assert (support.build, plan.platforms[0].joists.size) == ("2-2x10", "2x10")  # type: ignore[union-attr]
    assert plan.platforms[0] == parse_plan(SOUND).platforms[0]


def test_rules_of_ones_own_lie_beside_the_plan(tmp_path: Path) -> None:
    (tmp_path / "town.toml").write_text('name = "town"\nextends = "irc-2021"\n', encoding="utf-8")
    file = tmp_path / "plan.toml"
    file.write_text(SOUND.replace('"irc-2021"', '"town.toml"'), encoding="utf-8")
    assert Path(read_plan(file).rules) == (tmp_path / "town.toml").resolve()


def test_a_file_wrong_in_many_ways_says_all_of_it() -> None:
    with pytest.raises(InputError) as caught:
        read_plan(PLANS / "wrong-in-many-ways.toml")
    problems = caught.value.problems
    assert len(problems) >= 30
    assert len(set(problems)) == len(problems)
    text = str(caught.value)
    for part in (
        'platform 2 "upper", support 1, wall: a wall that may carry a ledger',
        'platform 2 "upper", support 2, wall: a wall of the house: one of "brick wall", not "stone wall"',
        'platform 2 "upper", support 4, kind',
        'flight 2, from: a platform or a door (did you mean "upper"?), not "uper"',
        'flight 2, to: the lower level: a platform or "ground", not the door "door"',
    ):
        assert part in text
