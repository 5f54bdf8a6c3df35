"""The house rules that a machine can see: what lies at the top, how long files are, what no file may say."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "workbooks", "deckplan", "tests", "data"}


def _tracked() -> list[Path]:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode != 0 or not listed.stdout:
        pytest.skip("not a git checkout")
    return [ROOT / name for name in listed.stdout.splitlines() if (ROOT / name).is_file()]


def test_the_top_level_holds_what_was_agreed_and_nothing_else() -> None:
    top = {path.relative_to(ROOT).parts[0] for path in _tracked()}
    assert {name for name in top if not name.startswith(".")} <= TOP
    assert {"README.md", "DEVELOPERS.md", "pyproject.toml"} <= top


def test_no_source_file_is_over_four_hundred_lines() -> None:
    long = {
        str(path.relative_to(ROOT)): lines
        for path in _tracked()
        if path.suffix in (".py", ".js", ".css")
        and (lines := len(path.read_text("utf-8").splitlines())) > 400
    }
    assert long == {}


def test_no_file_names_a_registry_a_host_or_a_machine() -> None:
    banned = re.compile(r"/work/|/root/|pypi\.org|files\.pythonhosted|registry\.npmjs|scribd", re.IGNORECASE)
    found = [
        str(path.relative_to(ROOT))
        for path in _tracked()
        if path.suffix in (".py", ".toml", ".md", ".json", ".csv", ".ipynb", ".js", ".css", "")
        and path != Path(__file__)
        and banned.search(path.read_text("utf-8", errors="ignore"))
    ]
    assert found == []


def test_readme_opens_with_the_job_and_gives_two_commands() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    first = text.split("\n\n")[1]
    assert "deck" in first
    assert not first.startswith("#")
    commands = re.findall(r"```sh\n(python3 -m venv[^\n]*)\n```", text)
    assert len(commands) == 2
    assert commands[0].endswith("deckplan open")
    assert re.search(r"bin/pytest( -n auto)?$", commands[1])  # on one core or on all


def test_ci_runs_the_readmes_test_command() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    script = (ROOT / ".ci" / "run").read_text("utf-8")
    command = re.findall(r"```sh\n(python3 -m venv[^\n]*)\n```", readme)[1]
    assert command in script


def test_pictures_of_the_readme_are_small() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    pictures = re.findall(r"!\[[^\]]*\]\(([^)]+)\)", text)
    assert pictures
    for name in pictures:
        assert (ROOT / name).stat().st_size < 300_000
