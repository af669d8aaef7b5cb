"""Where each section of a page comes from, read off the page as it is built.

A section is what stands below a heading of the second level, and what stands before the first. It
rests on a publication when it links to the bibliography or holds a figure taken from it; on common
practice or on memory when it says so; on a computation when it says so, or when it has little text
beside calculators, tables and drawings, all of which are computed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import TYPE_CHECKING

from site_src.calculators.answer import Table

if TYPE_CHECKING:
    from site_src.handbook import Page

COMMON_PRACTICE = "common-practice"
UNPUBLISHED = {
    COMMON_PRACTICE: "common practice",
    "memory": "from memory",
    "independent-computation": "computed for this page",
}
"""What a text may rest on that is no publication, and what the page says of it."""

FEW = 12  # words: a line that leads to a table or a picture claims nothing itself
_BIBLIOGRAPHY = "look-up/sources"
_COMPUTED = ("figure", "table", "section", "nav", "h1", "h2", "h3", "details")
_KINDS = ("a published source", *UNPUBLISHED.values(), "nothing named")


@dataclass
class Section:
    """A section: the words of its prose, and the keys of the bibliography that it names."""

    title: str = ""
    text: str = ""
    keys: set[str] = field(default_factory=set)

    @property
    def rests_on(self) -> str:
        """The best that the section rests on, one of the words of `_KINDS`."""
        if self.keys - set(UNPUBLISHED):
            return _KINDS[0]
        text = " ".join(self.text.lower().split())
        for key, said in UNPUBLISHED.items():
            if key in self.keys or said in text:
                return said
        return UNPUBLISHED["independent-computation"] if len(text.split()) < FEW else _KINDS[-1]


class _Sections(HTMLParser):
    """Splits the body of a page into its sections; the text of computed parts is left out."""

    def __init__(self) -> None:
        super().__init__()
        self.found = [Section()]
        self._inside: list[str] = []  # the computed parts that are open
        self._in_title = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = {name: value or "" for name, value in attrs}
        if tag == "h2" and not self._inside:
            self.found.append(Section())
            self._in_title = True
        if tag in _COMPUTED:
            self._inside.append(tag)
        if _BIBLIOGRAPHY in named.get("href", "") and "section" not in self._inside:
            self.found[-1].keys.add(named["href"].rpartition("#")[2])
        if key := named.get("data-source"):
            self.found[-1].keys.add(key)

    def handle_endtag(self, tag: str) -> None:
        if tag in _COMPUTED and tag in self._inside:
            while self._inside.pop() != tag:
                pass
            self._in_title = False

    def handle_data(self, data: str) -> None:
        if self._in_title:
            self.found[-1].title += data
        elif not self._inside:
            self.found[-1].text += f" {data}"


def sections(body: str) -> list[Section]:
    """The sections of a page's body, in order."""
    parser = _Sections()
    parser.feed(body)
    return parser.found


def claims_table(pages: Iterable[Page]) -> Table:
    """How many sections of `pages` rest on what."""
    counted: Counter[str] = Counter()
    for page in pages:
        if page.makes_claims:
            counted.update(section.rests_on for section in sections(page.body))
    return Table(
        f"What the {counted.total()} sections of the handbook rest on",
        ("Best source named", "Sections"),
        tuple(((kind,), (f"{counted[kind]}",)) for kind in _KINDS),
        kind="grid",
    )
