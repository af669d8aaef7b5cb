"""The service worker of a built site, with the list of every file that it keeps."""

from __future__ import annotations

import hashlib
import json
from fnmatch import fnmatchcase
from pathlib import Path

import lensmath

WORKER = "sw.js"
# For download, for pages opened as files, and for whoever hosts: a kept copy needs none of them.
LEFT_OUT = ("download/*", "runtime/stick/*", "retire.js")

_SOURCE = Path(__file__).parent / WORKER
_PLACE = "const BUILD = null;"


def write_offline(folder: Path, left_out: tuple[str, ...] = LEFT_OUT) -> None:
    """Writes `sw.js` into the built site, as the last step of a build.

    A browser keeps the files that are there now, without those that match a pattern of `left_out`.
    The build is named by the hash of their list and of the worker's own code.
    """
    source = _SOURCE.read_text(encoding="utf-8")
    files = kept_files(folder, left_out)
    name = hashlib.sha256(json.dumps([source, files]).encode()).hexdigest()[:16]
    build = json.dumps({"name": name, "edition": lensmath.__version__, "files": files})
    before, after = source.split(_PLACE)
    text = f"{before}const BUILD = {build};{after}"
    (folder / WORKER).write_text(text, encoding="utf-8", newline="\n")


def kept_files(folder: Path, left_out: tuple[str, ...] = LEFT_OUT) -> list[tuple[str, int, str]]:
    """(path, bytes, SHA-256) of each file that a copy holds, in the order of paths."""
    paths = sorted(file.relative_to(folder).as_posix() for file in folder.rglob("*"))
    wanted = [
        path
        for path in paths
        if (folder / path).is_file()
        and not any(fnmatchcase(path, pattern) for pattern in (WORKER, *left_out))
    ]
    contents = {path: (folder / path).read_bytes() for path in wanted}
    return [
        (path, len(content), hashlib.sha256(content).hexdigest())
        for path, content in contents.items()
    ]
