"""Run the workbooks and store what they show: `python -m deckplan.panels.refresh [WORKBOOK ...]`.

What is stored is the same each time: no timings, no widget state, no names of this machine. Panels keep only what
they show without a kernel, so that a workbook opened anywhere still has its drawings and tables.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

import nbformat
from nbclient import NotebookClient

from deckplan.panels.opening import PLAN_VARIABLE, workbooks_path

IGNORED = "nbval-ignore-output"
"""Tag of cells whose output is not compared: panels and pictures."""

_KEPT = ("image/png", "text/html")
_ABOUT = {
    "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
    "language_info": {"name": "python"},
}


def refresh(path: Path) -> bool:
    """Run one workbook and store its outputs; returns whether the file changed.

    Raises nbclient's CellExecutionError where a cell fails; the file then stays as it was.
    """
    before = path.read_text(encoding="utf-8")
    after = refreshed(before, path.parent)
    if after != before:
        path.write_text(after, encoding="utf-8")
    return after != before


def refreshed(text: str, folder: Path) -> str:
    """Return the text of a workbook with its outputs as running it in a folder gives them."""
    book: Any = nbformat.reads(text, as_version=4)  # type: ignore[no-untyped-call]
    env = {name: value for name, value in os.environ.items() if name != PLAN_VARIABLE}
    client = NotebookClient(
        book,
        timeout=300,
        kernel_name="python3",
        store_widget_state=False,
        record_timing=False,
        resources={"metadata": {"path": str(folder)}},
    )
    client.execute(env=env)
    for cell in book.cells:
        _tidy(cell)
    about = {**_ABOUT, "title": f"deckplan: {_heading(book.cells)}"}
    book.metadata = nbformat.from_dict(about)  # type: ignore[no-untyped-call]
    return str(nbformat.writes(book, version=4)) + "\n"  # type: ignore[no-untyped-call]


def _heading(cells: list[Any]) -> str:
    """Return the first heading of a workbook: what a browser calls the page that is made of it."""
    lines = (line for cell in cells if cell.cell_type == "markdown" for line in cell.source.splitlines())
    return next((line.lstrip("# ").strip() for line in lines if line.startswith("#")), "workbook")


def _tidy(cell: Any) -> None:
    tags = cell.metadata.get("tags", [])
    cell.metadata = nbformat.from_dict({"tags": tags} if tags else {})  # type: ignore[no-untyped-call]
    if cell.cell_type != "code":
        return
    if IGNORED in tags:
        kept = [output for output in cell.outputs if "data" in output]
        for output in kept:
            output.data = nbformat.from_dict(  # type: ignore[no-untyped-call]
                {kind: value for kind, value in output.data.items() if kind in _KEPT}
            )
            output.metadata = nbformat.from_dict({})  # type: ignore[no-untyped-call]
        cell.outputs = [output for output in kept if output.data]
    cell.outputs = _joined(cell.outputs)


def _joined(outputs: list[Any]) -> list[Any]:
    """Join what a cell printed in a row: the kernel sends it in pieces, now one, now two."""
    joined: list[Any] = []
    for output in outputs:
        before = joined[-1] if joined else None
        both = before is not None and output.output_type == before.output_type == "stream"
        if before is not None and both and output.name == before.name:
            before.text += output.text
        else:
            joined.append(output)
    return joined


def main(names: list[str]) -> int:
    """Refresh the workbooks named, or all of them; returns 0."""
    paths = [Path(name) for name in names] or sorted(workbooks_path().glob("*.ipynb"))
    for path in paths:
        changed = refresh(path)
        print(f"{path.name}: {'refreshed' if changed else 'as it was'}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
