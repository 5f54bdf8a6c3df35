"""What is no plan at all: other files, cut files, anything whatever. A sentence with a place, never a crash."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from deckplan.errors import InputError
from deckplan.plan.file import parse_plan, read_plan
from deckplan.plan.tables import plan_from_data

SOUND = (Path(__file__).parent / "plans" / "sound.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "the file: a plan, with at least one"),
        ("   \n\n", "an empty file"),
        ('name = "x"\n', "platform: at least one, headed"),
        ('name = "x\n', r"line 1, column \d+: TOML cannot be read here"),
        ("[site]\nfrost_depth = 42 in\n", r"line 2, column 18"),
        ("[site]\n[site]\n", r"line 2, column 6"),
        ('name = "x"\nname = "y"\n', r"line 2, column 11"),
        (SOUND[: len(SOUND) // 2], r"line 31, at the end of the file \(cut off\?\)"),
        ("x = " + "[" * 3000, "nested"),
        ("<html><body>Not found</body></html>", r"line 1, column 1"),
        ("\x00\x01", "line 1, column 1"),
    ],
)
def test_what_is_no_plan_at_all(text: str, message: str) -> None:
    with pytest.raises(InputError, match=message):
        parse_plan(text)


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="there is no such file"):
        read_plan(tmp_path / "none.toml")
    with pytest.raises(InputError, match="a plan file, not a folder"):
        read_plan(tmp_path)
    wrong = tmp_path / "latin.toml"
    wrong.write_bytes(b'format = 1\nname = "caf\xe9"\n')
    with pytest.raises(InputError, match="line 2: text in UTF-8, not the byte 0xe9"):
        read_plan(wrong)
    wrong.write_bytes(SOUND.encode("utf-16"))
    with pytest.raises(InputError, match="line 1: text in UTF-8"):
        read_plan(wrong)
    wrong.write_bytes(b"#" * 5_000_000)
    with pytest.raises(InputError, match="at most 4 MB"):
        read_plan(wrong)
    with pytest.raises(InputError, match="cannot be read"):
        read_plan("a\0b")


def test_a_file_from_another_editor_reads(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_bytes(b"\xef\xbb\xbf" + SOUND.replace("\n", "\r\n").encode())
    assert read_plan(file) == parse_plan(SOUND)


# Anything at all under the keys that mean something: an error is a sentence with a place, never a crash.
LEAVES = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=6), st.dates(),
    st.sampled_from(["1 ft", "auto", "x", "beam", "ledger", "ground", "a", "2x10", "0 in", "1 psf"]),
)  # fmt: skip
KEYS = st.sampled_from([
    "format", "name", "rules", "units", "site", "house", "materials", "platform", "flight", "ground", "boundary",
    "wall", "door", "support", "kind", "offset", "posts", "outline", "elevation", "joists", "boards", "direction",
    "size", "spacing", "from", "to", "along", "tread", "at", "line", "setback", "decking", "species",
    "grade", "post", "width", "people", "use", "build", "style", "soil_bearing", "angle", "border", "nonsense",
])  # fmt: skip
VALUES = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=5),
    max_leaves=20,
)
TABLES = st.dictionaries(KEYS, VALUES, max_size=8)
LIKE_PLANS = st.fixed_dictionaries(
    {"platform": st.lists(TABLES, max_size=3)},
    optional={"flight": st.lists(TABLES, max_size=2), "house": TABLES, "site": TABLES, "materials": TABLES},
)


@settings(suppress_health_check=[HealthCheck.too_slow])
@given(TABLES | LIKE_PLANS, st.sampled_from(["file", "typed", "code"]))
def test_whatever_stands_in_the_tables_an_error_has_a_place(data: dict[str, object], where: str) -> None:
    with pytest.raises(InputError) as caught:  # nothing whole comes about by chance
        plan_from_data(data, "", {where: True})
    assert all(problem.place and problem.expected for problem in caught.value.problems)


@given(st.text())
def test_whatever_stands_in_the_file_an_error_has_a_place(text: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_plan(text)
    assert all(problem.place and problem.expected for problem in caught.value.problems)
