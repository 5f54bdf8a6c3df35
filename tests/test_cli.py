"""The command line as people and programs meet it: status, streams, no traceback, nothing half written."""

from __future__ import annotations

import json
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from deckplan.cli.main import main
from deckplan.reference import data_path

ALDER = data_path("plans", "alder-point.toml")
JOIST = [
    "span",
    "joist",
    "--species",
    "southern pine",
    "--grade",
    "No. 2",
    "--size",
    "2x10",
    "--spacing",
    "16 in",
]


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    status = main(words)
    caught = capsys.readouterr()
    assert "Traceback" not in caught.out + caught.err
    return status, caught.out, caught.err


def asked(capsys: pytest.CaptureFixture[str], *words: str, status: int = 0) -> dict[str, Any]:
    got, out, err = run(capsys, *words, "--json")
    assert (got, err) == (status, "")
    data = json.loads(out)
    assert isinstance(data, dict)
    return data


# -- span --


def test_joists_of_the_published_table_to_the_inch(capsys: pytest.CaptureFixture[str]) -> None:
    # AWC DCA6-2012 Table 2, southern pine No. 2, 40 + 10 psf; also IRC 2018 Table R507.6; printed to the nearest inch
    printed = {
        ("2x6", 12): 119, ("2x6", 16): 108, ("2x6", 24): 91, ("2x8", 12): 157, ("2x8", 16): 142, ("2x8", 24): 116,
        ("2x10", 12): 194, ("2x10", 16): 168, ("2x10", 24): 137,
        ("2x12", 12): 216, ("2x12", 16): 198, ("2x12", 24): 162,
    }  # fmt: skip
    for (size, spacing), inches in printed.items():
        words = ["span", "joist", "--species", "southern pine", "--grade", "No. 2", "--size", size]
        data = asked(capsys, *words, "--spacing", f"{spacing} in")
        assert round(data["span_in"]) == inches
        assert data["governs"] in ("bending", "deflection", "cap")
        assert {"symbol", "words", "formula", "numbers", "value", "unit", "source"} <= set(data["steps"][0])


def test_a_joist_also_tells_its_overhang(capsys: pytest.CaptureFixture[str]) -> None:
    # AWC DCA6-2012 Table 2: southern pine 2x10 at 16 in, overhang 3-5
    assert round(asked(capsys, *JOIST)["overhang_in"]) == 41


def test_a_beam_on_the_tables_own_basis(capsys: pytest.CaptureFixture[str]) -> None:
    # IRC 2015/2018 Table R507.5: southern pine 2-2x10 under 10 ft joists, 8-0
    words = [
        "span",
        "beam",
        "--species",
        "southern pine",
        "--grade",
        "No. 2",
        "--build",
        "2-2x10",
        "--joist-span",
        "10 ft",
    ]
    table = asked(capsys, *words, "--basis", "table")
    assert round(table["span_in"]) == 96
    # strict NDS has no factor for two plies and is never longer
    assert asked(capsys, *words)["span_in"] <= table["span_in"]


def test_a_footing(capsys: pytest.CaptureFixture[str]) -> None:
    # 5 x 10 ft x 50 psf = 2,500 lb on 3,000 psf: 13 in round or 11 in square in a county's handout, own weight left out
    data = asked(capsys, "span", "footing", "--load", "2500", "--soil", "3000")
    # 2500/3000 sq ft is 12.36 in round, 10.95 in square
    assert data["bare_diameter_in"] == 13
    assert data["bare_side_in"] == 11
    assert data["diameter_in"] >= 13
    assert (
        asked(capsys, "span", "footing", "--load", "11.12 kN", "--soil", "143.6 kPa")["bare_diameter_in"]
        == 13
    )


def test_a_post_and_a_ledger(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["span", "post", "--species", "southern pine", "--grade", "No. 2", "--size", "6x6"]
    light = asked(capsys, *words, "--load", "5000")["height_in"]
    assert asked(capsys, *words, "--load", "14000")["height_in"] < light
    # IRC 2018 Table R507.9.1.3(1): 1/2 in lag screws, joists up to 12 ft: 15 in on centre
    ledger = asked(capsys, "span", "ledger", "--fastener", "1/2 lag", "--joist-span", "12 ft")
    assert ledger["spacing_in"] == 15


def test_outside_a_published_table_is_said_and_not_stretched(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["span", "ledger", "--fastener", "1/2 lag", "--joist-span", "30 ft"]
    assert asked(capsys, *words, status=1)["verdict"] == "OUTSIDE"
    status, out, _ = run(capsys, *words)
    assert status == 1
    assert out.startswith("OUTSIDE: ")


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        (["--size", "2x11"], "2x11"),
        (["--species", "southern pyne"], 'species: one of Southern Pine; .*"southern pyne"'),
        (["--grade", "No. 9"], 'grade of Southern Pine: .*"No. 9"'),
        (["--spacing", "30 in"], "--spacing: from 3 in to 24 in, not 30 in"),
        (["--spacing", "0"], "--spacing: from 3 in to 24 in, not 0"),
        (["--spacing", "2.99 in"], "--spacing: from 3 in to 24 in, not 2.99 in"),
        (["--spacing", "wide"], '--spacing: a length such as .* not "wide"'),
        (["--live", "-4"], "--live: from 0 to 10,000,000 psf, not -4"),
        (["--live", "40 ft"], '--live: a number and a unit that converts to psf, not "40 ft"'),
        (["--live", "nan"], "--live: from 0 to 10,000,000 psf, not nan"),
        (["--snow", "1e99"], "--snow: from 0 to 10,000,000 psf, not 1e99"),
        (["--colour", "red"], "unrecognized arguments: --colour red"),
    ],
)
def test_wrong_words_end_with_a_sentence(
    capsys: pytest.CaptureFixture[str], changed: list[str], message: str
) -> None:
    status, out, err = run(capsys, *JOIST, *changed)
    assert (status, out) == (2, "")
    assert re.search(message, err)


# -- risers --


@pytest.mark.parametrize(
    ("words", "risers", "riser", "status"),
    [
        (["102 1/2 in"], 14, 7.3214, 0),  # a trade magazine's example: 14 risers of 7-5/16
        (["10 1/2 in", "--board", "1 in"], 2, 5.25, 0),  # common practice: one box, 2 x 5-1/4
        (["16 in"], 3, 5.3333, 0),  # arithmetic: two of 8 in are over 7 3/4
        (
            ["7 7/8 in", "--rules", "local-example"],
            2,
            3.9375,
            1,
        ),  # arithmetic: no legal split under a 4 in minimum
    ],
)
def test_risers(
    capsys: pytest.CaptureFixture[str], words: list[str], risers: int, riser: float, status: int
) -> None:
    data = asked(capsys, "risers", *words, status=status)
    assert (data["risers"], round(data["riser_in"], 4)) == (risers, riser)
    assert len(data["marks_in"]) == risers
    assert data["verdict"] == ("FAIL" if status else "PASS")
    assert data["reason"]
    got, out, _ = run(capsys, "risers", *words)
    assert got == status
    assert data["reason"].split(":")[0].replace("\n", " ") in " ".join(out.split())


def test_a_box_frame_is_a_board_lower_than_its_riser(capsys: pytest.CaptureFixture[str]) -> None:
    # common practice: 5-1/4 riser under 1 in boards, frame 4-1/4
    assert asked(capsys, "risers", "10 1/2 in", "--board", "1 in")["frame_in"] == 4.25
    assert "frame_in" not in asked(capsys, "risers", "10 1/2 in")  # no boards named: no frame under them


@pytest.mark.parametrize(
    "words",
    [["tall"], ["16 in", "--rules", "irc-1850"], ["16 in", "--board", "9 in"], [], [""], ["nan"], ["inf"]],
)
def test_risers_that_cannot_be_read(capsys: pytest.CaptureFixture[str], words: list[str]) -> None:
    status, out, err = run(capsys, "risers", *words)
    assert (status, out) == (2, "")
    assert err


@pytest.mark.parametrize("rise", ["-5", "-5in", "-27 1/2 in", "0", "-0", "0 ft", "101 ft", "99999 ft"])
def test_a_rise_goes_up_and_not_sky_high(capsys: pytest.CaptureFixture[str], rise: str) -> None:
    status, out, err = run(capsys, "risers", rise)
    assert (status, out) == (2, "")
    assert (
        f"RISE: over 0 and at most 100 ft, from the lower finished surface up to the upper one, not {rise}"
        in err
    )


def test_an_empty_name_is_no_file(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (["study", ""], ["open", ""], ["export", "", "o.svg"], ["export", str(ALDER), " "]):
        status, out, err = run(capsys, *words)
        assert (status, out) == (2, "")
        assert "the name of a file, not an empty text" in err


def test_figures_are_written_out(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (["footing", "--load", "1e7", "--soil", "1e7"], ["post", "--species", "hem-fir", "--size", "6x6",
                  "--load", "12000"]):  # fmt: skip
        _, out, _ = run(capsys, "span", *words)
        assert not re.search(r"\de\+\d", out), out


# -- errors, streams, failures --


def test_a_wrong_plan_gives_all_its_errors_and_status_2(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    text = ALDER.read_text(encoding="utf-8")
    for old, new in [
        ('units = "us"', 'units = "ells"'),
        ('frost_depth = "42 in"', 'frost_depht = "42 in"'),
        ('spacing = "16 in" }', 'spacing = "30 in" }'),
        ('wall = "south wall"', 'wall = "north wall"'),
        ('to = "lounge"', 'to = "lounje"'),
    ]:
        assert old in text
        text = text.replace(old, new, 1)
    wrong = tmp_path / "wrong.toml"
    wrong.write_text(text, encoding="utf-8")
    for words in (
        ["study", str(wrong)],
        ["study", str(wrong), "--json"],
        ["export", str(wrong), str(tmp_path / "o.svg")],
    ):
        status, out, err = run(capsys, *words)
        assert (status, out) == (2, "")
        for part in ("units", "frost_depth?", "spacing: from 3 in", "north wall", 'did you mean "lounge"?'):
            assert part in err
        assert all(line.startswith(str(wrong)) for line in err.splitlines())
    assert [path.name for path in tmp_path.iterdir()] == ["wrong.toml"]


@pytest.mark.parametrize(
    "words", [["bogus"], ["span"], ["span", "roof"], ["study"], ["cut", "a.csv"], ["--json"]]
)
def test_unknown_commands(capsys: pytest.CaptureFixture[str], words: list[str]) -> None:
    status, out, err = run(capsys, *words)
    assert (status, out) == (2, "")
    assert "--help" in err


def test_help_and_version(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (
        ["--help"],
        ["study", "--help"],
        ["span", "beam", "--help"],
        ["export", "--help"],
        ["--version"],
    ):
        status, out, err = run(capsys, *words)
        assert (status, err) == (0, "")
        assert "deckplan" in out


def test_a_fault_of_the_program_is_a_sentence_too(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    import deckplan.study

    def break_down(*_: object) -> None:
        raise KeyError("a thing nobody foresaw")

    monkeypatch.delenv("DECKPLAN_TRACE", raising=False)
    monkeypatch.setattr(deckplan.study, "Study", break_down)
    status, out, err = run(capsys, "study", str(ALDER))
    assert (status, out) == (2, "")
    assert "a fault of the program" in err
    monkeypatch.setenv("DECKPLAN_TRACE", "1")
    with pytest.raises(KeyError):
        main(["study", str(ALDER)])


def test_open_hands_the_plan_on(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    import deckplan.panels.opening as opening

    calls: list[tuple[Path | None, bool]] = []

    def record(plan: Path | None, app: bool = False) -> int:
        calls.append((plan, app))
        return 0

    monkeypatch.setattr(opening, "open_workbooks", record)
    assert run(capsys)[0] == 0
    assert run(capsys, "open", "my.toml", "--app")[0] == 0
    assert calls == [(None, False), (Path("my.toml"), True)]


def _process(*words: str, **more: Any) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-m", "deckplan.cli.main", *words], stderr=subprocess.PIPE, **more
    )


def test_a_reader_that_leaves_early_is_no_fault() -> None:
    process = _process("study", str(ALDER), "--json", stdout=subprocess.PIPE)
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.read(20)
    process.stdout.close()
    assert process.stderr.read() == b""
    assert process.wait(60) == 0


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no device that is always full")
def test_a_full_disk_is_a_sentence() -> None:
    with open("/dev/full", "wb") as full:
        process = _process("study", str(ALDER), stdout=full)
        _, err = process.communicate(timeout=60)
    assert process.returncode == 2
    assert b"Traceback" not in err
    assert b"No space left" in err


def test_a_terminal_of_few_letters_still_gets_its_text() -> None:
    process = _process(
        "risers", "10 1/2 in", stdout=subprocess.PIPE, env=os.environ | {"PYTHONIOENCODING": "ascii"}
    )
    out, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (0, b"")
    assert b"2 equal risers" in out


def test_starting_up_loads_nothing_heavy() -> None:
    code = "import sys, deckplan.cli.main; print(*[m for m in sys.modules if m in sys.argv[1:]])"
    heavy = ["pint", "pandas", "numpy", "matplotlib", "shapely", "scipy", "pydantic", "tomlkit", "ipywidgets"]
    done = subprocess.run([sys.executable, "-c", code, *heavy], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""


def test_a_study_on_the_command_line_needs_no_pandas_or_matplotlib() -> None:
    code = "import sys; from deckplan.cli.main import main; main(sys.argv[1:3]); "
    code += "print([m for m in sys.modules if m in sys.argv[3:]])"
    done = subprocess.run(
        [sys.executable, "-c", code, "study", str(ALDER), "pandas", "matplotlib", "ipywidgets", "tomlkit"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stdout.strip().endswith("[]")


def test_a_beam_may_carry_joists_that_end_on_it(capsys: pytest.CaptureFixture[str]) -> None:
    # statics: joists that end on the beam bring it half their span, w = q L / 2; with the usual quarter beyond it is
    # w = q (L + L/4)^2 / (2 L): the span by bending is sqrt(1.5625) = 1.25 times as long. 60 psf: no printed row.
    words = (
        'span beam --species "southern pine" --grade "No. 2" --build 2-2x10 --live 60 --joist-span "10 ft"'
    )
    beam = shlex.split(words)
    flush, usual = asked(capsys, *beam, "--overhang", "0 in"), asked(capsys, *beam)
    assert flush["limits_in"]["bending"] / usual["limits_in"]["bending"] == pytest.approx(1.25, abs=1e-6)
