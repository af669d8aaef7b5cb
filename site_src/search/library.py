"""The pinned MiniSearch: the engine of the search page."""

from __future__ import annotations

from pathlib import Path

from site_src.setup import npm_package
from site_src.setup.npm_package import Manifest

MINISEARCH = Manifest.read(Path(__file__).with_name("minisearch.toml"))
SCRIPT = "dist/umd/index.js"


def fetch(cache_dir: Path) -> Path:
    """The folder with the library's files; see `npm_package.fetch`."""
    return npm_package.fetch(cache_dir, MINISEARCH)
