"""Tables as CSV files that spreadsheets open right: UTF-8 with its mark at the start."""

from __future__ import annotations

from pathlib import Path

from deckplan.study import Study
from deckplan.tabulate import SHEETS, frame


def write_tables(study: Study, path: str | Path) -> tuple[Path, ...]:
    """Write a study's tables: the buy list to `path`, each further table beside it, e.g. `deck-checks.csv`.

    Returns the paths written, the buy list's first. Raises OSError where a file cannot be written.
    """
    target = Path(path)
    written = []
    for name in ("buy", *(name for name in SHEETS if name != "buy")):
        file = target if name == "buy" else target.with_name(f"{target.stem}-{name}{target.suffix or '.csv'}")
        frame(SHEETS[name](study)).to_csv(file, index=False, encoding="utf-8-sig")
        written.append(file)
    return tuple(written)
