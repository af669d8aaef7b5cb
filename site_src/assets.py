"""Static files under names that change with their bytes, so that a browser may keep one for good.

`style.css` becomes `static/style-3f9a0c52d1.css`. Where a stylesheet, a script or a manifest names
another static file between quotes or brackets, it gets that file's new name.
"""

from __future__ import annotations

import hashlib
import re
from functools import cache
from pathlib import Path, PurePosixPath
from posixpath import dirname, join, normpath

FOLDER = "static"
DIGITS = 10  # of the SHA-256, in hexadecimal
_SOURCES = Path(__file__).parent / FOLDER
_REFERRING = (".css", ".js", ".json")
_QUOTED = re.compile(r"""(?<=[("'])[\w./-]+\.\w+(?=[)"'])""")


@cache
def asset(name: str) -> str:
    """The place in the site of a static file, such as "style.css", below the first folder.

    Errors  FileNotFoundError when there is no such file; ValueError for files that name each other
            in a ring, whose hashes have no end.
    """
    return _place(name, ())


def write_assets(folder: Path) -> None:
    """Writes every static file into the site `folder`, under its new name."""
    for name in _names():
        place = folder / asset(name)
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(_content(name, ()))


def _names() -> list[str]:
    files = (file for file in sorted(_SOURCES.rglob("*")) if file.is_file())
    return [file.relative_to(_SOURCES).as_posix() for file in files]


def _place(name: str, naming: tuple[str, ...]) -> str:
    path = PurePosixPath(name)
    digest = hashlib.sha256(_content(name, naming)).hexdigest()[:DIGITS]
    return (FOLDER / path.with_stem(f"{path.stem}-{digest}")).as_posix()


def _content(name: str, naming: tuple[str, ...]) -> bytes:
    """The bytes of a file, with the new names of the files that it names; `naming` led here."""
    if name in naming:
        raise ValueError(f"static files name each other in a ring: {' > '.join((*naming, name))}")
    content = (_SOURCES / name).read_bytes()
    if not name.endswith(_REFERRING):
        return content

    def renamed(found: re.Match[str]) -> str:
        named = normpath(join(dirname(name), found[0]))
        if named not in _names():
            return found[0]
        place = PurePosixPath(_place(named, (*naming, name)))
        return PurePosixPath(found[0]).with_name(place.name).as_posix()

    return _QUOTED.sub(renamed, content.decode("utf-8")).encode("utf-8")
