"""The bibliography: reads sources.toml into `Source` records.

A rule, table or published figure names its source by key, and only by key.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, fields
from importlib.resources.abc import Traversable

KINDS = ("standard", "textbook", "article", "course", "web page", "computed", "convention")
SEEN = ("read", "two sources", "abstract only", "memory", "not seen", "no text")
KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


class SourcesError(ValueError):
    """A bibliography that cannot be used; the message names the file and the key."""


@dataclass(frozen=True)
class Source:
    """One entry of the bibliography.

    Shape   All text. `by` is the authors or the publisher, `where` the page, clause or issue,
            `kind` one of KINDS, `seen` one of SEEN: how far the text itself was really seen,
            `note` one line on what is taken from it.
    """

    key: str
    title: str
    by: str
    year: str
    where: str
    kind: str
    seen: str
    note: str

    @property
    def page(self) -> str:
        """The page that has the entry: one list of them all would take too long to load."""
        return "sources-courses" if self.kind in ("course", "web page") else "sources"


FIELDS = tuple(field.name for field in fields(Source) if field.name != "key")


def load_sources(path: Traversable) -> dict[str, Source]:
    """The bibliography in this TOML file, by key, in the order of the file.

    Errors  SourcesError, with the file and the key, for a file that is not TOML, a key that is
            not kebab-case, a field that is missing, unknown or empty, and an unknown kind or seen.
    """
    try:
        tables = tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise SourcesError(f"{path}: {error}.") from error
    return {key: _source(key, table, f"{path}, [{key}]") for key, table in tables.items()}


def cite(source: Source) -> str:
    """The entry in one short line: who, what, when.

    >>> cite(Source("long-1976", "A matrix formalism", "W. F. Long", "1976", "53(1), 27-33",
    ...             "article", "abstract only", "The power matrix."))
    'W. F. Long, A matrix formalism (1976)'
    """
    if source.seen == "no text":
        return source.title
    return f"{source.by}, {source.title} ({source.year})"


def _source(key: str, table: object, place: str) -> Source:
    if not isinstance(table, dict):
        raise SourcesError(f"{place}: an entry is a table with the fields {_listed(FIELDS)}.")
    if not KEY.fullmatch(key):
        raise SourcesError(f"{place}: a key is written in kebab-case, such as long-1976.")
    for name in FIELDS:
        if not isinstance(table.get(name), str) or not table[name].strip():
            raise SourcesError(f"{place}: {name!r} is missing or is not text.")
    if unknown := sorted(set(table) - set(FIELDS)):
        raise SourcesError(f"{place}: unknown field {_listed(unknown)}; known: {_listed(FIELDS)}.")
    for name, allowed in (("kind", KINDS), ("seen", SEEN)):
        if table[name] not in allowed:
            raise SourcesError(
                f"{place}: {name} is one of {_listed(allowed)}; {table[name]!r} was given."
            )
    return Source(key, **table)


def _listed(names: tuple[str, ...] | list[str]) -> str:
    return ", ".join(names)
