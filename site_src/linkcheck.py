"""Checks that every link and every file a built page names exists, anchors included.

Stylesheets and manifests name files too, and those are followed as well.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit

_LINKING = {"a": "href", "link": "href", "script": "src", "img": "src"}
_NAMED_IN = {
    ".css": re.compile(r"""url\(\s*["']?([^"')\s]+)"""),
    ".json": re.compile(r'"(?:src|url|start_url)"\s*:\s*"([^"]*)"'),
}


@dataclass
class _Document(HTMLParser):
    """The anchors and the links of one page."""

    ids: set[str] = field(default_factory=set)
    links: list[str] = field(default_factory=list)
    twice: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        super().__init__()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        if anchor := named.get("id"):
            (self.twice if anchor in self.ids else self.ids).add(anchor)
        target = named.get(_LINKING.get(tag, ""))
        if target is not None:
            self.links.append(target)


def broken_links(folder: Path) -> list[tuple[str, str, str]]:
    """(page or file, target, what is wrong) for each broken link or doubled id under `folder`.

    Links out of the site are wrong too, except to other schemes than files: the handbook works
    without a network.
    """
    documents = {
        file.relative_to(folder).as_posix(): _parsed(file)
        for file in sorted(folder.rglob("*.html"))
    }
    wrong = [
        (page, anchor, f"the id {anchor} stands twice")
        for page, document in documents.items()
        for anchor in sorted(document.twice)
    ]
    links = [(page, target) for page, document in documents.items() for target in document.links]
    for page, target in (*links, *_links_of_files(folder)):
        fault = _fault(folder, documents, page, target)
        if fault:
            wrong.append((page, target, fault))
    return wrong


def _links_of_files(folder: Path) -> Iterator[tuple[str, str]]:
    for file in sorted(folder.rglob("*")):
        if naming := _NAMED_IN.get(file.suffix):
            for target in naming.findall(file.read_text(encoding="utf-8")):
                yield file.relative_to(folder).as_posix(), target


def _parsed(file: Path) -> _Document:
    document = _Document()
    document.feed(file.read_text(encoding="utf-8"))
    return document


def _fault(folder: Path, documents: dict[str, _Document], page: str, target: str) -> str:
    parts = urlsplit(target)
    if parts.scheme or parts.netloc:
        return ""
    path = normpath(join(dirname(page), unquote(parts.path))) if parts.path else page
    if not (folder / path).is_file():
        return f"unknown link {target}: there is no {path}"
    anchor = unquote(parts.fragment).split("?")[0]
    if anchor and path in documents and anchor not in documents[path].ids:
        return f"unknown link {target}: {path} has no anchor {anchor}"
    return ""
