"""What the search page can find: pages and their sections, calculators, words of the glossary."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass
from html.parser import HTMLParser

from site_src.calculators import CALCULATORS
from site_src.calculators.declaration import Calculator
from site_src.glossary import Term, load_glossary
from site_src.handbook import STAGES, Page

SHOWN = 180  # characters of a text that stand below a result
CALCULATOR = "calculator"
GLOSSARY = "look-up/glossary.html"
_STAGES = {stage.key: stage.name for stage in STAGES}
_HEADINGS = ("h2", "h3")
_BLOCKS = ("p", "li", "td", "th", "dt", "dd", "figcaption", "caption", "h2", "h3")


@dataclass(frozen=True)
class Document:
    """One thing to find. `asks` are other words for it, `shown` stands below its title."""

    title: str
    heading: str
    stage: str
    place: str
    shown: str
    text: str
    asks: str = ""


def documents(pages: Iterable[Page]) -> list[dict[str, object]]:
    """Every document with a number for its id, ready for index.mjs."""
    found: list[Document] = []
    for page in pages:
        if not (page.is_home or page.is_index or page.name == "look-up/search"):
            found += _of_page(page)
    found += [_of_term(term) for term in load_glossary().values()]
    return [{"id": number, **asdict(document)} for number, document in enumerate(found)]


def _of_page(page: Page) -> Iterator[Document]:
    stage = _STAGES[page.stage]
    whole, *parts = _parts(page.body) if page.makes_claims else [_Part()]
    text, asks = f"{page.rule} {whole.text}", " ".join(page.asks)
    yield Document(page.title, "", stage, page.address, page.rule, text, asks)
    for part in parts:
        place = f"{page.address}#{part.anchor}"
        yield Document(page.title, part.heading, stage, place, _cut(part.text), part.text)
    for slug in page.calculators:
        yield _of_calculator(CALCULATORS[slug], stage, f"{page.address}#{slug}")


def _of_calculator(calculator: Calculator, stage: str, place: str) -> Document:
    labels = " ".join(field.full_label for field in calculator.fields)
    text = f"{calculator.purpose} {labels}"
    return Document(calculator.title, CALCULATOR, stage, place, calculator.purpose, text)


def _of_term(term: Term) -> Document:
    other = (*(synonym.word for synonym in term.synonyms), *term.abbreviations)
    also = f"Also {', '.join(other)}. " if other else ""
    return Document(
        term.term,
        "",
        "Glossary",
        f"{GLOSSARY}#{term.key}",
        f"{also}{term.means}",
        term.means,
        " ".join(other),
    )


def _cut(text: str) -> str:
    return text if len(text) <= SHOWN else f"{text[:SHOWN].rpartition(' ')[0]} …"


class _Part:
    """A heading with the text below it."""

    def __init__(self, anchor: str = "") -> None:
        self.anchor = anchor
        self.heading = ""
        self._text: list[str] = []

    @property
    def text(self) -> str:
        return " ".join("".join(self._text).split())

    def add(self, text: str) -> None:
        self._text.append(text)


class _Parts(HTMLParser):
    """Splits the body of a page at its headings; calculators and drawings are left out."""

    def __init__(self) -> None:
        super().__init__()
        self.found = [_Part()]
        self._skipped: list[str] = []
        self._in_heading = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = {name: value or "" for name, value in attrs}
        if tag == "svg" or (tag == "section" and "calculator" in named.get("class", "")):
            self._skipped.append(tag)
        elif tag in _HEADINGS and not self._skipped and "id" in named:
            self.found.append(_Part(named["id"]))
            self._in_heading = True

    def handle_endtag(self, tag: str) -> None:
        if self._skipped and tag == self._skipped[-1]:
            self._skipped.pop()
        elif tag in _HEADINGS:
            self._in_heading = False
        elif tag in _BLOCKS:
            self.found[-1].add(" ")

    def handle_data(self, data: str) -> None:
        if self._skipped:
            return
        if self._in_heading:
            self.found[-1].heading += data
        else:
            self.found[-1].add(data)


def _parts(body: str) -> list[_Part]:
    parser = _Parts()
    parser.feed(body)
    return parser.found
