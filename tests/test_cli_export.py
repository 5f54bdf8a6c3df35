"""`deckplan export`: whole files or none; --view draws each drawing by its trade name, or says which there are."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from deckplan.cli.main import main
from deckplan.cli.views import VIEWS
from deckplan.plan.file import read_plan
from deckplan.reference import data_path

PLAN = str(data_path("plans", "frames-shared-post.toml"))
ALDER = data_path("plans", "alder-point.toml")
CHESTNUT = data_path("plans", "chestnut-school.toml")
NEEDED = {"load-path": "A-F3", "flight": "S2", "detail": "B-B2 on A-P3"}


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    status = main(words)
    out, err = capsys.readouterr()
    return status, out, err


def asked(capsys: pytest.CaptureFixture[str], *words: str) -> Any:
    status, out, err = run(capsys, *words, "--json")
    assert (status, err) == (0, "")
    return json.loads(out)


def texts(path: Path) -> str:
    root = ElementTree.fromstring(path.read_text(encoding="utf-8"))
    return " ".join(root.itertext())


@pytest.mark.parametrize("view", VIEWS)
def test_every_view_is_drawn_true_to_scale_with_its_title(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, view: str
) -> None:
    out = tmp_path / "deck.svg"
    words = ["--of", NEEDED[view]] if view in NEEDED else []
    status, said, err = run(capsys, "export", PLAN, str(out), "--view", view, *words)
    assert (status, err) == (0, "")
    assert "written" in said
    root = ElementTree.fromstring(out.read_text(encoding="utf-8"))
    assert root.get("width", "").endswith("in")
    assert "Scale" in texts(out)
    assert "call before you dig" in texts(out).lower(), "the caution stands on every sheet"


def test_without_a_view_the_framing_plan_is_drawn(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    plain, asked = tmp_path / "plain.svg", tmp_path / "asked.svg"
    run(capsys, "export", PLAN, str(plain))
    run(capsys, "export", PLAN, str(asked), "--view", "plan")
    assert plain.read_bytes() == asked.read_bytes()


def test_one_platform_and_one_side(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    out = tmp_path / "deck.svg"
    for view in ("plan", "boards", "furniture", "treatment"):
        assert run(capsys, "export", PLAN, str(out), "--view", view, "--of", "court")[0] == 0
        assert "court" in texts(out)
        assert "+2'-6\"" not in texts(out), "the terrace is not drawn"
    assert run(capsys, "export", PLAN, str(out), "--view", "side", "--of", "left")[0] == 0


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["--view", "roof"], r"invalid choice: 'roof' .*plan.*footings"),
        (["--view", "load-path"], r"--of, a mark: one of A-F1, .*not nothing"),
        (["--view", "load-path", "--of", "Z-F9"], r"one of A-F1, .*not Z-F9"),
        (["--view", "flight", "--of", "S9"], r"a flight: one of S1, S2, S3, not S9"),
        (["--view", "detail", "--of", "A-B1"], r'a bearing: one of "A-B1 on A-P1"'),
        (["--view", "detail"], r"a bearing: one of"),
        (["--view", "boards", "--of", "attic"], r"a platform: one of terrace, court, not attic"),
        (["--view", "side", "--of", "above"], r"one of garden, left, right, not above"),
        (["--view", "guards", "--of", "court"], r"nothing, since the view guards is of the whole deck"),
    ],
)
def test_what_cannot_be_drawn_says_what_can(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, words: list[str], message: str
) -> None:
    status, out, err = run(capsys, "export", PLAN, str(tmp_path / "deck.svg"), *words)
    assert (status, out) == (2, "")
    assert re.search(message, err), err
    assert list(tmp_path.iterdir()) == []


def test_a_view_wants_an_svg(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    status, _, err = run(capsys, "export", PLAN, str(tmp_path / "deck.csv"), "--view", "boards")
    assert status == 2
    assert "a file ending in .svg" in err


def test_help_lists_every_view(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "export", "--help")
    assert all(re.search(rf"^  {name} ", out, re.M) for name in VIEWS)


def test_exports_are_written_whole(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    for ending, start in (
        (".svg", "<svg"),
        (".csv", "\ufeff"),
        (".toml", "# Alder Point: a dining level"),
    ):  # comments are kept
        out = tmp_path / f"deck{ending}"
        data = asked(capsys, "export", str(ALDER), str(out))
        assert data["verdict"] == "PASS"
        for path in data["written"]:
            assert Path(path).stat().st_size > 40
        assert out.read_text(encoding="utf-8").startswith(start)
    assert "auto" not in {
        joist for p in read_plan(tmp_path / "deck.toml").platforms for joist in (p.joists.size,)
    }
    assert not [path for path in tmp_path.iterdir() if path.name.startswith(".")]


@pytest.mark.parametrize(
    ("out", "message"),
    [
        ("deck.pdf", r"one of \.csv, \.svg, \.toml, not \.pdf"),
        ("deck", "not no ending"),
        ("none/deck.svg", "cannot be written"),
    ],
)
def test_exports_that_cannot_be(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, out: str, message: str
) -> None:
    status, said, err = run(capsys, "export", str(ALDER), str(tmp_path / out))
    assert (status, said) == (2, "")
    assert re.search(message, err)
    assert list(tmp_path.iterdir()) == []


def test_an_export_never_overwrites_its_own_plan(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_bytes(ALDER.read_bytes())
    assert run(capsys, "export", str(plan), str(plan))[0] == 2
    assert plan.read_bytes() == ALDER.read_bytes()


def test_a_failing_plan_exports_and_says_so(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    status, out, _ = run(capsys, "export", str(CHESTNUT), str(tmp_path / "deck.svg"))
    assert status == 0
    assert "verdict is FAIL" in out


def test_where_one_table_cannot_be_written_none_is(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    (tmp_path / "deck-checks.csv").mkdir()
    plan = str(data_path("plans", "alder-point.toml"))
    assert main(["export", plan, str(tmp_path / "deck.csv")]) == 2
    assert "deck-checks.csv" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["deck-checks.csv"]
