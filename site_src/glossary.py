"""The glossary: reads glossary.toml into `Term` records."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from importlib.resources.abc import Traversable

from site_src.sources import KEY

FILE = "glossary.toml"


class GlossaryError(ValueError):
    """A glossary that cannot be used; the message names the file and the term."""


@dataclass(frozen=True)
class Synonym:
    """Another word for a term, and where it is used, such as "US"."""

    word: str
    use: str


@dataclass(frozen=True)
class Term:
    """One entry of the glossary; `key` is its anchor on the page.

    Shape   `term` is the standard term, `means` one or two sentences. `page` is the page that
            explains it, such as read/number-line, or empty. `sources` are keys of the bibliography;
            a term without any is common practice.
    """

    key: str
    term: str
    means: str
    synonyms: tuple[Synonym, ...] = ()
    abbreviations: tuple[str, ...] = ()
    page: str = ""
    sources: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """Everything that a reader may look for: the term, its synonyms, its abbreviations."""
        return (self.term, *(synonym.word for synonym in self.synonyms), *self.abbreviations)


def load_glossary(path: Traversable | None = None) -> dict[str, Term]:
    """The terms of this TOML file, or of the handbook's own, by key, in the order of the file.

    Errors  GlossaryError, with the file and the key, for a file that is not TOML, a key that is not
            kebab-case, a field that is missing, unknown or of the wrong shape, and a name that two
            terms have.
    """
    file = path or files("site_src") / FILE
    try:
        tables = tomllib.loads(file.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise GlossaryError(f"{file}: {error}.") from error
    terms = {key: _term(key, table, f"{file}, [{key}]") for key, table in tables.items()}
    for first, second, name in _names_twice(terms.values()):
        raise GlossaryError(f"{file}, [{second}]: “{name}” is also a name of [{first}].")
    return terms


def terms_sorted(terms: Mapping[str, Term]) -> list[Term]:
    """The terms as a reader looks them up: by the letters of the standard term."""
    return sorted(terms.values(), key=lambda each: each.term.casefold())


def _term(key: str, table: object, place: str) -> Term:
    if not KEY.fullmatch(key):
        raise GlossaryError(f"{place}: a key is written in kebab-case, such as lens-clock.")
    if not isinstance(table, dict):
        raise GlossaryError(f"{place}: an entry is a table with a term and what it means.")
    if unknown := sorted(set(table) - set(Term.__dataclass_fields__) | {"key"} & set(table)):
        raise GlossaryError(f"{place}: unknown field {', '.join(unknown)}.")
    for name in ("term", "means"):
        if not _is_text(table.get(name)):
            raise GlossaryError(f"{place}: {name!r} is missing or is not text.")
    if "page" in table and not _is_text(table["page"]):
        raise GlossaryError(f"{place}: 'page' is not text; leave it out when there is none.")
    return Term(
        key,
        table["term"],
        table["means"],
        tuple(_synonyms(table.get("synonyms", []), place)),
        _texts(table, "abbreviations", place),
        table.get("page", ""),
        _texts(table, "sources", place),
    )


def _synonyms(entries: object, place: str) -> Iterator[Synonym]:
    if not isinstance(entries, list):
        raise GlossaryError(f"{place}: 'synonyms' is not a list.")
    for entry in entries:
        whole = isinstance(entry, dict) and set(entry) == {"word", "use"}
        if not whole or not all(_is_text(value) for value in entry.values()):
            raise GlossaryError(f"{place}: a synonym has a word and a use; {entry!r} was given.")
        yield Synonym(**entry)


def _texts(table: Mapping[str, object], name: str, place: str) -> tuple[str, ...]:
    found = table.get(name, [])
    if not isinstance(found, list) or not all(_is_text(each) for each in found):
        raise GlossaryError(f"{place}: {name!r} is not a list of texts.")
    return tuple(found)


def _is_text(value: object) -> bool:
    return isinstance(value, str) and bool(value.strip())


def _names_twice(terms: Iterable[Term]) -> Iterator[tuple[str, str, str]]:
    """(first key, second key, name) for each name that two terms have, or one has twice.

    Words count without their capitals, abbreviations with them: V is no v.
    """
    owner: dict[str, str] = {}
    for term in terms:
        words = [term.term, *(synonym.word for synonym in term.synonyms)]
        for name in (*(word.casefold() for word in words), *term.abbreviations):
            if name in owner:
                yield owner[name], term.key, name
            owner[name] = term.key
