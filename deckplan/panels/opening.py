"""Opening the workbooks: copies of them in the user's folder, then JupyterLab or a page without code."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from deckplan.errors import InputError, Problem
from deckplan.plan.file import read_plan
from deckplan.reference import data_path

FOLDER = "my-decks"
"""The folder for the user's workbooks and plans where the program is started in its own source: git ignores it."""

MAIN = "01-start-here.ipynb"
PLAN_VARIABLE = "DECKPLAN_PLAN"
"""Where a workbook looks first for the plan that it opens."""

_NEWS = "@jupyterlab/apputils-extension/notification.jupyterlab-settings"


def workbooks_path() -> Path:
    """Return the folder of the workbooks as they come: inside the package once installed, else of the checkout."""
    package = Path(__file__).resolve().parents[1]
    installed = package / "workbooks"
    return installed if installed.is_dir() else package.parent / "workbooks"


def find_plan(name: str) -> Path:
    """Return the plan file that a workbook opens.

    name: of a demo plan, e.g. "alder-point.toml". The plan that `deckplan open` was given comes first where the
    workbook is the main one's (see `PLAN_VARIABLE`); then the user's copy beside the workbook, then the demo plan
    that comes with the package. Raises InputError where there is none.
    """
    wanted = os.environ.get(PLAN_VARIABLE, "")
    if wanted and Path(wanted).name == name:
        return Path(wanted)
    copy = Path("plans") / name
    return copy if copy.is_file() else data_path("plans", name)


def main_plan() -> Path:
    """Return the plan of the main workbook: the one that `deckplan open` was given, else the demo plan."""
    wanted = os.environ.get(PLAN_VARIABLE, "")
    return Path(wanted) if wanted else find_plan("alder-point.toml")


def settle_in(folder: Path) -> tuple[Path, ...]:
    """Copy workbooks and demo plans into a folder; what is there already stays as it is.

    Returns what was copied. Raises InputError where the folder cannot be written.
    """
    copied = []
    try:
        for source, target in _pairs(folder):
            if target.exists():
                continue
            target.parent.mkdir(parents=True, exist_ok=True)
            with source.open("rb") as original, target.open("xb") as copy:
                shutil.copyfileobj(original, copy)
            copied.append(target)
    except OSError as error:
        raise InputError(
            [Problem(str(folder), "a folder that can be written", error.strerror or str(error))]
        ) from None
    return tuple(copied)


def _pairs(folder: Path) -> Iterator[tuple[Path, Path]]:
    for workbook in sorted(workbooks_path().glob("*.ipynb")):
        yield workbook, folder / workbook.name
    for plan in sorted(data_path("plans").glob("*.toml")):
        yield plan, folder / "plans" / plan.name


def environment(folder: Path, plan: Path | None) -> dict[str, str]:
    """Return the environment for Jupyter: settings of our own with the news prompt off, our page template."""
    settings = folder / ".deckplan" / "settings"
    news = settings / _NEWS
    if not news.exists():
        news.parent.mkdir(parents=True, exist_ok=True)
        choices = {"fetchNews": "false", "checkForUpdates": False}
        news.write_text(json.dumps(choices, indent=2), encoding="utf-8")
    here = str(Path(__file__).resolve().parent / "jupyter")
    paths = [here, *filter(None, [os.environ.get("JUPYTER_PATH", "")])]
    found = {**os.environ, "JUPYTERLAB_SETTINGS_DIR": str(settings), "JUPYTER_PATH": os.pathsep.join(paths)}
    if plan is not None:
        found[PLAN_VARIABLE] = str(plan)
    return found


def command(app: bool, *more: str) -> list[str]:
    """Return the command that shows the main workbook: in JupyterLab, or as a page without code."""
    if app:
        return [sys.executable, "-m", "voila", MAIN, "--template=deckplan", *more]
    # JupyterLab refuses root, which is who people are inside a container; it listens on this machine only.
    root = ["--allow-root"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    # As the default address, the workbook is also where the address leads that is printed for another browser.
    return [sys.executable, "-m", "jupyterlab", f"--LabApp.default_url=/lab/tree/{MAIN}", *root, *more]


def open_workbooks(plan: Path | None, app: bool) -> int:
    """Open the main workbook; returns the exit status of Jupyter.

    plan: the plan that it shows, the demo plan where it is None; app: as a page without code. Workbooks and demo
    plans are copied into the current folder, in a checkout of the source into `my-decks/` there, never over a file.
    Raises InputError where the plan cannot be read or the folder cannot be written.
    """
    if plan is not None:
        read_plan(plan)
        plan = plan.resolve()
    here = Path.cwd()
    folder = here / FOLDER if here == workbooks_path().parent else here
    copied = settle_in(folder)
    if copied:
        said = f"Workbooks and plans are in {folder}: {len(copied)} files copied, none replaced."
        print(said, file=sys.stderr, flush=True)
    signal.signal(signal.SIGTERM, _end)
    try:
        return subprocess.call(command(app), cwd=folder, env=environment(folder, plan))
    except KeyboardInterrupt:
        return 0


def _end(*_: object) -> None:
    """Take a request to end like Ctrl+C, so that Jupyter ends as well and is not left behind."""
    raise KeyboardInterrupt
