"""The pinned Pyodide: the Python that runs in the browser."""

from __future__ import annotations

from pathlib import Path

from site_src.setup import npm_package
from site_src.setup.npm_package import Manifest

PYODIDE = Manifest.read(Path(__file__).with_name("pyodide.toml"))


def fetch(cache_dir: Path) -> Path:
    """The folder with Pyodide's files; see `npm_package.fetch`."""
    return npm_package.fetch(cache_dir, PYODIDE)
