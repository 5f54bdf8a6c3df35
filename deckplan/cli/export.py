"""`deckplan export`: a study written to a file, whole or not at all."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from pathlib import Path

from deckplan.cli.views import PLAN, scene_of
from deckplan.errors import InputError, Problem
from deckplan.plan.disk import read_text, replace_file
from deckplan.plan.file import read_plan
from deckplan.plan.saving import changed_text
from deckplan.study import Study


def export(plan: str, out: str, view: str = "", of: str = "") -> tuple[list[str], str]:
    """Study a plan and write what the ending of the name asks for; return the files written and the verdict.

    view: which drawing, see `views.VIEWS`, the framing plan where it is empty; of: what of it, as the view says.
    Raises InputError where the plan cannot be read or the file not be written; nothing is then half there.
    """
    target = Path(out)
    ending = target.suffix.lower()
    if ending != ".svg" and ending not in _WRITERS:
        endings = ", ".join(sorted([".svg", *_WRITERS]))
        came = target.suffix or "no ending"
        raise InputError([Problem("the ending of the file to write", f"one of {endings}", came)], out)
    if target.resolve() == Path(plan).resolve():
        raise InputError([Problem("the file to write", "another file than the plan", "the plan itself")], out)
    if (view or of) and ending != ".svg":
        raise InputError([Problem("--view and --of", "a file ending in .svg to draw in", target.name)], out)
    study = Study(read_plan(plan))
    files = (
        _svg(study, target, view or PLAN, of)
        if ending == ".svg"
        else _WRITERS[ending](study, target, Path(plan))
    )
    # whatever can still go wrong goes wrong before the first file is touched
    verdict = study.verdict.value
    for path in files:
        if path.is_dir():
            raise InputError([Problem("the file", "a name to write to", "a folder")], str(path))
    for path, content in files.items():
        replace_file(path, content)
    return [str(path) for path in files], verdict


def _csv(study: Study, target: Path, _: Path) -> dict[Path, bytes]:
    """The buy list under the name asked for, every other table beside it."""
    from deckplan.packet.tables_file import write_tables

    with tempfile.TemporaryDirectory() as folder:
        written = write_tables(study, Path(folder) / target.name)
        return {target.with_name(path.name): path.read_bytes() for path in written}


def _svg(study: Study, target: Path, view: str, of: str) -> dict[Path, bytes]:
    """One drawing, true to scale on its sheet."""
    from deckplan.draw.paint_svg import paint_svg

    scene = scene_of(study, view, of)
    return {target: paint_svg(scene, study.describe, true_size=True).encode("utf-8")}


def _toml(study: Study, target: Path, source: Path) -> dict[Path, bytes]:
    """The plan file with every "auto" replaced by what was chosen, its comments and order kept."""
    text = changed_text(read_text(source), study.asked, study.plan, str(source))
    return {target: text.encode("utf-8")}


_WRITERS: dict[str, Callable[[Study, Path, Path], dict[Path, bytes]]] = {".csv": _csv, ".toml": _toml}
