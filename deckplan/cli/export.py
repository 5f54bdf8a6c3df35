"""`deckplan export`: a study written to a file, whole or not at all."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from pathlib import Path

from deckplan.errors import InputError, Problem
from deckplan.plan.disk import read_text, replace_file
from deckplan.plan.file import read_plan
from deckplan.plan.saving import changed_text
from deckplan.study import Study


def export(plan: str, out: str) -> tuple[list[str], str]:
    """Study a plan and write what the ending of the name asks for; return the files written and the verdict.

    Raises InputError where the plan cannot be read or the file not be written; nothing is then half there.
    """
    target = Path(out)
    write = _WRITERS.get(target.suffix.lower())
    if write is None:
        endings = ", ".join(_WRITERS)
        came = target.suffix or "no ending"
        raise InputError([Problem("the ending of the file to write", f"one of {endings}", came)], out)
    if target.resolve() == Path(plan).resolve():
        raise InputError([Problem("the file to write", "another file than the plan", "the plan itself")], out)
    study = Study(read_plan(plan))
    files = write(study, target, Path(plan))
    for path, content in files.items():
        replace_file(path, content)
    return [str(path) for path in files], study.verdict.value


def _csv(study: Study, target: Path, _: Path) -> dict[Path, bytes]:
    """The buy list under the name asked for, every other table beside it."""
    from deckplan.packet.tables_file import write_tables

    with tempfile.TemporaryDirectory() as folder:
        written = write_tables(study, Path(folder) / target.name)
        return {target.with_name(path.name): path.read_bytes() for path in written}


def _svg(study: Study, target: Path, _: Path) -> dict[Path, bytes]:
    """The framing plan, true to scale on its sheet."""
    from deckplan.draw.paint_svg import paint_svg
    from deckplan.draw.plan_view import plan_view

    return {target: paint_svg(plan_view(study), study.describe, true_size=True).encode("utf-8")}


def _toml(study: Study, target: Path, source: Path) -> dict[Path, bytes]:
    """The plan file with every "auto" replaced by what was chosen, its comments and order kept."""
    text = changed_text(read_text(source), study.asked, study.plan, str(source))
    return {target: text.encode("utf-8")}


_WRITERS: dict[str, Callable[[Study, Path, Path], dict[Path, bytes]]] = {
    ".csv": _csv,
    ".svg": _svg,
    ".toml": _toml,
}
