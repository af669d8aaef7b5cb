"""The scripts of the search page: the library and the index, which works without a network."""

from __future__ import annotations

import hashlib
import json
import tempfile
from collections.abc import Iterable
from pathlib import Path

from site_src.handbook import Page
from site_src.search.documents import documents
from site_src.search.library import SCRIPT
from site_src.setup import node
from site_src.setup.steps import run

HERE = Path(__file__).parent
OPTIONS = HERE.parent / "static" / "search-options.js"


def search_files(library: Path, pages: Iterable[Page]) -> dict[str, bytes]:
    """The scripts that the search page runs before its own, by their names in the site.

    Errors  SetupError when Node cannot make the index.
    """
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        wanted, index = folder / "documents.json", folder / "index.json"
        wanted.write_text(json.dumps(documents(pages)), encoding="utf-8")
        given = (HERE / "index.mjs", library / SCRIPT, OPTIONS, wanted, index)
        command = [*node.commands().node, *map(str, given)]
        run(command, "Node could not make the index of the search page:")
        text = json.dumps(index.read_text("utf-8"), ensure_ascii=False)
    made = {
        "minisearch": (library / SCRIPT).read_bytes(),
        "index": f"var searchIndex = {text};\n".encode(),
    }
    return {_name(name, content): content for name, content in made.items()}


def _name(name: str, content: bytes) -> str:
    return f"search/{name}-{hashlib.sha256(content).hexdigest()[:10]}.js"
