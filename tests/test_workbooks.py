"""The workbooks: thin, complete, the same after a second refresh, readable without a kernel."""

from __future__ import annotations

import ast
import re
from pathlib import Path
from typing import Any

import nbformat
import pytest

from deckplan.panels.opening import MAIN, workbooks_path
from deckplan.panels.refresh import IGNORED, refreshed

BOOKS = sorted(workbooks_path().glob("*.ipynb"))
NAMES = [path.name for path in BOOKS]
FORBIDDEN = (
    ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef, ast.Lambda, ast.For, ast.While, ast.comprehension, ast.BinOp,
    ast.AugAssign, ast.Try, ast.With, ast.If, ast.IfExp,
)  # fmt: skip


def cells(path: Path, kind: str = "code") -> list[Any]:
    book: Any = nbformat.read(path, as_version=4)  # type: ignore[no-untyped-call]
    return [cell for cell in book.cells if cell.cell_type == kind]


def ignored(cell: Any) -> bool:
    return IGNORED in cell.metadata.get("tags", [])


def test_the_main_workbook_is_among_them() -> None:
    assert MAIN in NAMES
    assert len(NAMES) >= 3


@pytest.mark.parametrize("path", BOOKS, ids=NAMES)
def test_cells_are_thin(path: Path) -> None:
    for cell in cells(path):
        tree = ast.parse(cell.source)  # magics and shell lines are no Python and stop here
        found = [type(node).__name__ for node in ast.walk(tree) if isinstance(node, FORBIDDEN)]
        assert found == [], cell.source
        assert len(cell.source.splitlines()) <= 10, cell.source


@pytest.mark.parametrize("path", BOOKS, ids=NAMES)
def test_no_magics_and_no_shell(path: Path) -> None:
    for cell in cells(path):
        assert not re.search(r"^\s*[%!?]|get_ipython|os\.system|subprocess", cell.source, re.M), cell.source


@pytest.mark.parametrize("path", BOOKS, ids=NAMES)
def test_each_says_first_that_it_is_an_aid(path: Path) -> None:
    first = cells(path, "markdown")[0].source
    assert (
        "Planning aid: local code, product instructions and licensed practice decide; call before you dig."
        in first
    )


@pytest.mark.parametrize("path", BOOKS, ids=NAMES)
def test_what_shows_something_has_it_stored_so_that_it_is_compared(path: Path) -> None:
    for cell in cells(path):
        last = ast.parse(cell.source).body[-1]
        shows = isinstance(last, ast.Expr)
        assert bool(cell.outputs) == shows, cell.source
        assert all(output.output_type != "error" for output in cell.outputs)


@pytest.mark.parametrize("path", BOOKS, ids=NAMES)
def test_panels_and_pictures_are_not_compared_and_pictures_are_followed_by_their_summary(path: Path) -> None:
    code = cells(path)
    for cell, after in zip(code, [*code[1:], None], strict=True):
        kinds = {kind for output in cell.outputs for kind in output.get("data", {})}
        if "image/png" in kinds:
            assert ignored(cell)
            assert after is not None
            assert ".scene.summary()" in after.source
        if ignored(cell):
            assert kinds <= {"text/html", "image/png"}, "no widget state, no names of objects"
        else:
            assert "image/png" not in kinds


@pytest.mark.parametrize("path", BOOKS, ids=NAMES)
def test_without_a_kernel_there_are_tables_and_a_plan(path: Path) -> None:
    html = "".join(o.data.get("text/html", "") for c in cells(path) for o in c.outputs if "data" in o)
    assert "data:image/svg+xml;base64," in html
    assert html.count("<table") >= 4


@pytest.mark.parametrize("path", BOOKS, ids=NAMES)
def test_nothing_of_this_machine_is_stored(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not re.search(
        r'"/(?:home|root|work|tmp|usr)/|application/vnd\.jupyter\.widget|"execution": \{', text
    )
    assert path.stat().st_size < 600_000


@pytest.mark.slow
@pytest.mark.parametrize("path", BOOKS, ids=NAMES)
def test_a_second_refresh_changes_nothing(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONHASHSEED", "4711")
    text = path.read_text(encoding="utf-8")
    assert refreshed(text, path.parent) == text


@pytest.mark.slow
def test_a_copy_in_a_users_folder_runs_the_same(tmp_path: Path) -> None:
    from deckplan.panels.opening import settle_in

    settle_in(tmp_path)
    path = tmp_path / "02-framing-and-checks.ipynb"
    text = path.read_text(encoding="utf-8")
    assert refreshed(text, tmp_path) == text


def test_the_pictures_of_the_readme_are_light() -> None:
    from deckplan.reference import data_path

    pictures = sorted(data_path("pictures").glob("*.png"))
    assert [picture.name for picture in pictures] == ["section.png", "workbook.png"]
    assert all(picture.stat().st_size < 300_000 for picture in pictures)
