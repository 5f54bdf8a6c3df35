"""Refreshing a workbook: what a cell prints is stored the same however the kernel sends it."""

from __future__ import annotations

import nbformat

from deckplan.panels.refresh import _joined


def _printed(text: str, name: str = "stdout") -> nbformat.NotebookNode:
    return nbformat.v4.new_output("stream", name=name, text=text)


def test_pieces_of_one_print_are_joined() -> None:
    table = nbformat.v4.new_output("display_data", data={"text/plain": "table"})
    found = _joined(
        [
            _printed("one\n"),
            _printed("two"),
            _printed("\n"),
            table,
            _printed("three"),
            _printed("x", "stderr"),
        ]
    )
    assert [(o.get("name"), o.get("text")) for o in found] == [
        ("stdout", "one\ntwo\n"), (None, None), ("stdout", "three"), ("stderr", "x"),
    ]  # fmt: skip
