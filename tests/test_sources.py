"""The bibliography: it loads or says what is wrong, and it fits what the project cites."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from site_src.sources import Source, SourcesError, cite, load_sources
from tests.printed import PUBLISHED, rows

ROOT = Path(__file__).parent.parent
BIBLIOGRAPHY = ROOT / "site_src" / "sources.toml"
SOURCES = load_sources(BIBLIOGRAPHY)

STANDINGS = {"read", "two sources", "memory", "computed"}
TABLES = sorted(path.stem for path in PUBLISHED.glob("*.csv"))

COMPOUND = r"[a-z0-9]+(?:-[a-z0-9]+)+"
# A docstring cites with "Source  key", "Source  key, key" or "Source  key, the place in it".
IN_DOCSTRING = re.compile(rf"\bSource  (?P<first>[^\s,;.)]+)(?P<more>(?:, {COMPOUND})*)")
# A page cites in its front matter, which is TOML, and with source("key") in its text.
FRONT_MATTER = re.compile(r"\A\+\+\+\n(?P<toml>.*?)^\+\+\+$", re.DOTALL | re.MULTILINE)
IN_PAGE_TEXT = re.compile(r"""\bsource\(\s*["'](?P<key>[^"']*)["']\s*\)""")


def files(*patterns: str) -> list[Path]:
    """The files of the project that may cite, without the bibliography and its own code."""
    own = {BIBLIOGRAPHY, ROOT / "site_src" / "sources.py", Path(__file__)}
    found = (path for pattern in patterns for path in ROOT.glob(pattern) if path.is_file())
    return sorted(set(found) - own)


def cited_in_docstrings(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
            for found in IN_DOCSTRING.finditer(ast.get_docstring(node, clean=False) or ""):
                yield found["first"]
                yield from re.findall(COMPOUND, found["more"])


def cited_in_arguments(tree: ast.Module) -> Iterator[str]:
    """Keys given as source= or sources=, written out or by the name of a constant."""
    constants = {
        target.id: node.value
        for node in tree.body
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name)
    }

    def keys(value: ast.expr) -> Iterator[str]:
        if isinstance(value, ast.Constant) and isinstance(value.value, str) and value.value:
            yield value.value
        elif isinstance(value, ast.Tuple | ast.List):
            for part in value.elts:
                yield from keys(part)
        elif isinstance(value, ast.Name) and value.id in constants:
            yield from keys(constants[value.id])

    for node in ast.walk(tree):
        if isinstance(node, ast.keyword) and node.arg in {"source", "sources"}:
            yield from keys(node.value)


def cited_in_page(text: str) -> Iterator[str]:
    if head := FRONT_MATTER.match(text):
        yield from tomllib.loads(head["toml"]).get("sources", [])
    yield from (found["key"] for found in IN_PAGE_TEXT.finditer(text))


def citations() -> Iterator[tuple[str, str]]:
    """Every (place, key) that the project cites."""
    for path in files("lensmath/**/*.py", "site_src/**/*.py", "tests/**/*.py"):
        place, tree = path.relative_to(ROOT).as_posix(), ast.parse(path.read_text("utf-8"))
        yield from ((place, key) for key in cited_in_docstrings(tree))
        if place.startswith(("lensmath/", "site_src/calculators/")):
            yield from ((place, key) for key in cited_in_arguments(tree))
    for path in files("site_src/pages/**/*.md"):
        place = path.relative_to(ROOT).as_posix()
        yield from ((place, key) for key in cited_in_page(path.read_text("utf-8")))
    for table in TABLES:
        for row in rows(table):
            yield f"tests/published/{table}.csv, {row['id']}", row["source"]


def test_every_cited_key_has_an_entry() -> None:
    unknown = sorted({f"{place}: {key!r}" for place, key in citations() if key not in SOURCES})
    assert not unknown, "cited without an entry in site_src/sources.toml:\n" + "\n".join(unknown)


def test_every_entry_is_cited() -> None:
    """A key counts wherever it stands as a word of its own in code, pages or data."""
    word = re.compile(rf"(?<![\w-]){COMPOUND}(?![\w-])")
    words: set[str] = set()
    for path in files("lensmath/**/*", "site_src/**/*", "tests/**/*"):
        if path.suffix in {".py", ".md", ".toml", ".html", ".csv"}:
            words.update(word.findall(path.read_text("utf-8")))
    unused = [key for key in SOURCES if key not in words]
    assert not unused, "in site_src/sources.toml, but cited nowhere:\n" + "\n".join(unused)


def test_citations_are_found_wherever_they_are_written() -> None:
    """The search itself: docstrings, arguments, constants, front matter and the text of a page."""
    code = ast.parse(
        """
KEY = "from-a-name"
def rule():
    '''A rule (Source  one-key, the formula).

    Source  two-keys, and-more; page 3
    '''
row(source="plain-text", sources=(KEY, "in-a-tuple"), other="no-key", title=words("not-this"))
row(source="", sources=found(KEY))
"""
    )
    page = '+++\ntitle = "A"\nsources = ["at-the-head"]\n+++\nSee {{ source("in-the-text") }}.\n'
    assert list(cited_in_docstrings(code)) == ["one-key", "two-keys", "and-more"]
    assert list(cited_in_arguments(code)) == ["plain-text", "from-a-name", "in-a-tuple"]
    assert list(cited_in_page(page)) == ["at-the-head", "in-the-text"]


# Published figures --------------------------------------------------------------------------------


@pytest.mark.parametrize("table", TABLES)
def test_every_published_row_is_complete(table: str) -> None:
    """Each row has an id, a known standing and at least one figure to check."""
    for row in rows(table):
        assert row["id"], row
        assert None not in {*row, *row.values()}, row["id"]
        assert row["standing"] in STANDINGS, row["id"]
        assert any(row[column] for column in row if column.startswith("printed")), row["id"]


def test_published_ids_are_unique() -> None:
    """Within one table; one lens may be in several."""
    for table in TABLES:
        ids = [row["id"] for row in rows(table)]
        assert len(set(ids)) == len(ids), table


def test_what_is_computed_is_never_shown_as_literature() -> None:
    """A row is computed exactly when its source is the project's own computation."""
    mixed = [
        f"{table} {row['id']}"
        for table in TABLES
        for row in rows(table)
        if (row["standing"] == "computed") != (SOURCES[row["source"]].kind == "computed")
    ]
    assert not mixed


def test_every_published_table_is_checked() -> None:
    """Each file of tests/published/ is read by a test."""
    tests = "".join(path.read_text("utf-8") for path in files("tests/test_*.py"))
    assert [name for name in TABLES if f'@published("{name}")' not in tests] == []


# Loading ------------------------------------------------------------------------------------------

ENTRY = {
    "title": "A title",
    "by": "An author",
    "year": "1976",
    "where": "page 1",
    "kind": "article",
    "seen": "read",
    "note": "A rule.",
}


def bibliography(folder: Path, changes: dict[str, str | None], key: str = "long-1976") -> Path:
    """A file with one entry; a field changed to None is left out."""
    entry = {name: value for name, value in {**ENTRY, **changes}.items() if value is not None}
    path = folder / "some.toml"
    path.write_text(
        f"[{key}]\n" + "".join(f'{name} = "{value}"\n' for name, value in entry.items()), "utf-8"
    )
    return path


def test_an_entry_is_loaded_by_its_key(tmp_path: Path) -> None:
    expected = Source(
        "long-1976", "A title", "An author", "1976", "page 1", "article", "read", "A rule."
    )
    assert load_sources(bibliography(tmp_path, {})) == {"long-1976": expected}


@pytest.mark.parametrize("name", list(ENTRY))
def test_a_missing_or_empty_field_is_named_with_file_and_key(tmp_path: Path, name: str) -> None:
    for gap in (None, " "):
        with pytest.raises(
            SourcesError, match=rf"some\.toml, \[long-1976\]: '{name}' is missing or is not text\."
        ):
            load_sources(bibliography(tmp_path, {name: gap}))


@pytest.mark.parametrize(
    ("key", "changes", "words"),
    [
        ("long-1976", {"pages": "3"}, r"\[long-1976\]: unknown field pages; known: title, by, "),
        (
            "long-1976",
            {"kind": "rumour"},
            r"\[long-1976\]: kind is one of standard, .*; 'rumour' was",
        ),
        (
            "long-1976",
            {"seen": "half"},
            r"\[long-1976\]: seen is one of read, .*; 'half' was given",
        ),
        ("Long_1976", {}, r"\[Long_1976\]: a key is written in kebab-case, such as long-1976\."),
    ],
)
def test_a_wrong_entry_is_refused(
    tmp_path: Path, key: str, changes: dict[str, str | None], words: str
) -> None:
    with pytest.raises(SourcesError, match=rf"some\.toml, {words}"):
        load_sources(bibliography(tmp_path, changes, key))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[a\n", r"some\.toml: .*line 1"),
        ('loose = "text"\n', r"some\.toml, \[loose\]: an entry is a table with the fields title,"),
    ],
)
def test_a_file_that_is_no_bibliography_is_refused(tmp_path: Path, text: str, words: str) -> None:
    path = tmp_path / "some.toml"
    path.write_text(text, "utf-8")
    with pytest.raises(SourcesError, match=words):
        load_sources(path)


def test_a_citation_says_who_what_and_when() -> None:
    assert cite(SOURCES["long-1976"]) == (
        "W. F. Long, A matrix formalism for decentration problems (1976)"
    )
    assert cite(SOURCES["common-practice"]) == "Common practice"
