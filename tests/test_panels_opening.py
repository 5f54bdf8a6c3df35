"""Opening the workbooks: copies that never replace a file, settings of our own, the plan that is asked for."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from deckplan.errors import InputError
from deckplan.panels import opening
from deckplan.reference import data_path


def test_an_empty_folder_gets_workbooks_and_plans(tmp_path: Path) -> None:
    copied = opening.settle_in(tmp_path / "deckplan")
    names = {path.relative_to(tmp_path).as_posix() for path in copied}
    assert f"deckplan/{opening.MAIN}" in names
    assert "deckplan/plans/alder-point.toml" in names
    assert opening.settle_in(tmp_path / "deckplan") == (), "a second time there is nothing left to copy"


def test_what_is_there_is_never_replaced(tmp_path: Path) -> None:
    mine = tmp_path / opening.MAIN
    mine.write_text("mine", encoding="utf-8")
    opening.settle_in(tmp_path)
    assert mine.read_text(encoding="utf-8") == "mine"


def test_a_file_where_the_folder_should_be_is_an_input_error(tmp_path: Path) -> None:
    (tmp_path / "deckplan").write_text("", encoding="utf-8")
    with pytest.raises(InputError, match="a folder that can be written"):
        opening.settle_in(tmp_path / "deckplan")


def test_settings_are_our_own_with_the_news_off(tmp_path: Path) -> None:
    env = opening.environment(tmp_path, tmp_path / "my.toml")
    settings = Path(env["JUPYTERLAB_SETTINGS_DIR"])
    assert settings.is_relative_to(tmp_path)
    choices = json.loads(next(settings.rglob("notification*")).read_text(encoding="utf-8"))
    assert choices["fetchNews"] == "false"
    template = Path(env["JUPYTER_PATH"].split(":")[0]) / "voila/templates/deckplan/index.html.j2"
    assert "http" not in template.read_text(encoding="utf-8")
    assert env[opening.PLAN_VARIABLE] == str(tmp_path / "my.toml")


@pytest.mark.parametrize(("app", "module"), [(False, "jupyterlab"), (True, "voila")])
def test_the_main_workbook_is_started_in_the_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, app: bool, module: str
) -> None:
    started = []

    def call(command: list[str], cwd: Path, env: dict[str, str]) -> int:
        started.append((command, cwd))
        return 0

    monkeypatch.setattr(opening.subprocess, "call", call)
    monkeypatch.chdir(tmp_path)
    assert opening.open_workbooks(None, app) == 0
    assert opening.open_workbooks(data_path("plans", "heron-pond.toml"), app) == 0
    for command, cwd in started:
        assert command[1:3] == ["-m", module]
        assert command[3].endswith(opening.MAIN)
        assert cwd == tmp_path, "the user's workbooks lie in the current folder"
    assert (tmp_path / opening.MAIN).is_file()


def test_in_the_source_the_copies_go_where_git_does_not_look(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    started = []
    monkeypatch.setattr(opening.subprocess, "call", lambda command, cwd, env: started.append(cwd) or 0)
    monkeypatch.setattr(opening, "workbooks_path", lambda: tmp_path / "workbooks")
    monkeypatch.chdir(tmp_path)
    assert opening.open_workbooks(None, False) == 0
    assert started == [tmp_path / opening.FOLDER]
    ignored = (Path(__file__).parents[1] / ".gitignore").read_text("utf-8").splitlines()
    assert f"/{opening.FOLDER}/" in ignored


def test_a_plan_that_cannot_be_read_stops_before_anything_is_copied(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "bad.toml").write_text("format = 7", encoding="utf-8")
    with pytest.raises(InputError):
        opening.open_workbooks(tmp_path / "bad.toml", False)
    assert not (tmp_path / opening.MAIN).exists()


def test_the_plan_asked_for_comes_first_then_the_copy_then_the_demo(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv(opening.PLAN_VARIABLE, raising=False)
    assert opening.main_plan() == data_path("plans", "alder-point.toml")
    opening.settle_in(tmp_path)
    assert opening.main_plan() == Path("plans/alder-point.toml")
    monkeypatch.setenv(opening.PLAN_VARIABLE, "/somewhere/mine.toml")
    assert opening.main_plan() == Path("/somewhere/mine.toml")
    assert opening.find_plan("alder-point.toml") == Path("plans/alder-point.toml")


PAINT = """
import hashlib
from deckplan.panels.kit import Session, find_plan, picture_from_above, picture_from_the_side, picture_of_the_section
study = Session.open(find_plan("alder-point.toml")).study
for picture in (picture_from_above(study), picture_of_the_section(study), picture_from_the_side(study)):
    print(hashlib.sha256(picture._repr_svg_().encode()).hexdigest(), hashlib.sha256(picture._repr_png_()).hexdigest())
"""


@pytest.mark.slow
def test_pictures_are_the_same_bytes_whatever_the_process(tmp_path: Path) -> None:
    prints = set()
    for seed in ("1", "2"):
        env = {**opening.os.environ, "PYTHONHASHSEED": seed, "MPLCONFIGDIR": str(tmp_path / seed)}
        done = subprocess.run(
            [sys.executable, "-c", PAINT], env=env, capture_output=True, text=True, check=True
        )
        prints.add(done.stdout)
    assert len(prints) == 1
    assert len(prints.pop().split()) == 6
