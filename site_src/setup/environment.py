"""The Python environment in `.venv`: made, filled with pinned packages, and moved into.

`.venv/installed.txt` is the stamp: the Python that made it, then one pin a line. It is away while
anything is being changed, so an environment that was left half-made has none and is made anew.
"""

from __future__ import annotations

import os
import platform
import sys
import tomllib
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

from site_src.setup import debian, node
from site_src.setup.steps import ROOT, SetupError, hand_over, plain_failures, run, say

PYPROJECT = ROOT / "pyproject.toml"
VENV = ROOT / ".venv"

Groups = dict[str, list[str | dict[str, str]]]


@plain_failures()
def run_inside(group: str) -> None:
    """Return only inside `.venv`, with the packages of a group of pyproject.toml installed.

    Called first thing. Where the program was started by another Python, it is started again, with
    the same command line, by the one in `.venv`. What cannot be done ends the program with a
    sentence and exit code 1.
    """
    groups = read_groups(PYPROJECT)
    needed = pins(groups, group)
    if node.on_machine() is None:
        needed += pins(groups, "node")
    every_pin = {pin for name in groups for pin in pins(groups, name)}
    fill(VENV, needed, every_pin)
    if Path(sys.prefix).resolve() != VENV.resolve():
        hand_over([_python(VENV), *sys.orig_argv[1:]])


def read_groups(pyproject: Path) -> Groups:
    """The `[dependency-groups]` of a pyproject.toml, as they are written there."""
    groups: Groups = tomllib.loads(pyproject.read_text("utf-8"))["dependency-groups"]
    return groups


def pins(groups: Groups, name: str) -> list[str]:
    """The pins of a group, those of the groups that it includes among them."""
    found: list[str] = []
    for entry in groups[name]:
        found += [entry] if isinstance(entry, str) else pins(groups, entry["include-group"])
    return found


def fill(venv: Path, needed: Sequence[str], every_pin: set[str]) -> None:
    """See to it that `venv` exists and holds the pins that are `needed`.

    An environment of another Python, or with a pin that is not in `every_pin` any more, is made
    anew; one that only lacks pins is added to.
    """
    installed = read_stamp(venv)
    if installed is None or not every_pin.issuperset(installed):
        installed = []
        _make(venv)
    missing = [pin for pin in needed if pin not in installed]
    if missing:
        _install(venv, missing, installed)


def read_stamp(venv: Path) -> list[str] | None:
    """The pins that `venv` holds, or None when there is no sound one of this Python."""
    stamp = _stamp(venv)
    if not stamp.exists() or not _python(venv).exists():
        return None
    lines = stamp.read_text("utf-8").splitlines()
    return lines[1:] if lines[:1] == [_this_python()] else None


def _make(venv: Path) -> None:
    _provide_venv_module()
    say(f"Making a Python environment in {venv.name} ({_this_python()}).")
    # The Python that `.venv` was made by, if this is already the one inside it.
    python = getattr(sys, "_base_executable", sys.executable)
    run([python, "-m", "venv", "--clear", venv], f"The environment {venv.name} could not be made:")
    _write_stamp(venv, [])


def _provide_venv_module() -> None:
    """Debian ships Python without ensurepip, which `venv` needs."""
    if find_spec("venv") and find_spec("ensurepip"):
        return
    package = f"python{sys.version_info.major}.{sys.version_info.minor}-venv"
    if not debian.can_install():
        raise SetupError(
            "This Python came without its modules venv and ensurepip. Install them, on Debian and "
            f"Ubuntu with: sudo apt-get install {package}"
        )
    debian.install(package)


def _install(venv: Path, missing: Sequence[str], installed: Sequence[str]) -> None:
    named = ", ".join(pin.partition(";")[0].replace("==", " ") for pin in missing)
    say(f"Asking pip for {named}.")
    _stamp(venv).unlink()
    pip = [str(_python(venv)), "-m", "pip", "install", "--no-input", "--disable-pip-version-check"]
    try:
        run([*pip, *missing], f"pip could not install {named}:")
    except SetupError:
        # pip has everything in hand before it changes anything, so what was there still is.
        _write_stamp(venv, installed)
        raise
    _write_stamp(venv, [*installed, *missing])


def _write_stamp(venv: Path, installed: Sequence[str]) -> None:
    _stamp(venv).write_text("\n".join([_this_python(), *installed]) + "\n", "utf-8")


def _stamp(venv: Path) -> Path:
    return venv / "installed.txt"


def _python(venv: Path) -> Path:
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def _this_python() -> str:
    return f"{platform.python_implementation()} {platform.python_version()}"
