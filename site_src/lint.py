"""What must not stand in a page: the checks that the build makes of the text itself.

Links, anchors and unknown names are checked elsewhere: `linkcheck.py` and `words.py`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from site_src.calculators import CALCULATORS
from site_src.claims import UNPUBLISHED, sections

if TYPE_CHECKING:
    from site_src.handbook import Page

LONG = 30  # words in a sentence
_SPELLING = Path(__file__).with_name("spelling.toml")
_UNWRITTEN = "TO BE WRITTEN"

# What is not prose: calls, formulae, code, the targets of links, attributes. Line breaks stay.
_NO_PROSE = re.compile(
    r"\{\{.*?\}\}|\{%.*?%\}|\{#.*?#\}|\{:.*?\}|\$\$?(?=\S).+?(?<=\S)\$\$?|`[^`]*`|\]\([^)]*\)",
    re.DOTALL,
)
_UNIT = re.compile(
    r"\d+(?:[.,]\d+)?\s?(?:D|DS|DC|Δ|mm|cm|nm|°|%|degrees?|dioptres?|millimetres?)(?!\w)"
)
_HEADING = re.compile(r"^(#+) ", re.MULTILINE)
_NO_ALT = re.compile(r"!\[\s*\]\(")
_SENTENCE_END = re.compile(r"</\w+>|(?<=[.!?:;|])\s+|\n\s*\n|\n\s*(?:[-*|]|\d+\.|#+)\s")


def faults(page: Page) -> list[tuple[int, str]]:
    """(line, what is wrong) for every fault of a page whose body has been rendered."""
    found = [*text_faults(page.source), *_heading_faults(page.source)]
    found += [(1, message) for _, message in text_faults(f"{page.title}\n{page.rule}")]
    if page.makes_claims:
        found += _section_faults(page)
    return sorted([*found, *_source_faults(page)])


def text_faults(text: str) -> Iterator[tuple[int, str]]:
    """(line, what is wrong) in a text of markdown with calls in it."""
    prose = _prose(text)
    for found in _UNIT.finditer(prose):
        message = f"“{found[0]}” is typed: call for it, or give its source with literal()"
        yield _line(prose, found.start()), message
    for pattern, instead in _unwanted():
        for found in pattern.finditer(prose):
            yield _line(prose, found.start()), f"“{found[0]}”: {instead}"
    for found in _NO_ALT.finditer(text):
        yield _line(text, found.start()), "an image without alternative text"
    if _UNWRITTEN in text:
        yield _line(text, text.index(_UNWRITTEN)), "the page is not written"


def warnings(page: Page) -> list[str]:
    """Sentences of more than `LONG` words."""
    sentences = _SENTENCE_END.split(_prose(page.source, call="x"))
    return [
        f"{len(words)} words in one sentence: {' '.join(words[:8])} ..."
        for words in (sentence.split() for sentence in sentences)
        if len(words) > LONG
    ]


def _prose(text: str, call: str = "") -> str:
    return _NO_PROSE.sub(lambda found: call + "\n" * found[0].count("\n"), text)


def _line(text: str, place: int) -> int:
    return text.count("\n", 0, place) + 1


@cache
def _unwanted() -> list[tuple[re.Pattern[str], str]]:
    lists = tomllib.loads(_SPELLING.read_text("utf-8"))
    return [
        (re.compile(rf"\b{re.escape(word)}\b", re.IGNORECASE), instead)
        for entries in lists.values()
        for word, instead in entries.items()
    ]


def _heading_faults(source: str) -> Iterator[tuple[int, str]]:
    level = 1
    for heading in _HEADING.finditer(source):
        depth = len(heading[1])
        if depth == 1 or depth > level + 1:
            message = f"a heading of level {depth} below one of level {level}"
            yield _line(source, heading.start()), message
        level = depth


def _section_faults(page: Page) -> Iterator[tuple[int, str]]:
    for section in sections(page.body):
        if section.rests_on == "nothing named":
            title = section.title or "the text before the first heading"
            line = page.line_of(section.title) if section.title else 1
            yield line, f"{title}: it does not say where it comes from; add basis(...)"


def _source_faults(page: Page) -> Iterator[tuple[int, str]]:
    listed = set(page.sources)
    for key in sorted(page.cited - listed):
        yield page.line_of(key), f"{key} is cited, but not among the page's sources"
    used = set(page.cited)
    for slug in page.calculators:
        used.update(CALCULATORS[slug].answer(CALCULATORS[slug].example_texts()).sources)
    for key in sorted(listed - used - set(UNPUBLISHED)):
        yield page.line_of(key), f"{key} is among the page's sources, but nothing cites it"
