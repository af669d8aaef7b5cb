"""What the markdown of a page may call: lenses, calculators, figures, tables, links, sources.

Every number in the prose comes through here, so that a page and the calculator beside it cannot
disagree.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, partial
from importlib import import_module, metadata
from types import ModuleType
from typing import TYPE_CHECKING, TypeVar

from markupsafe import Markup

import lensmath
from lensmath import notation
from lensmath.power import LensPower, axis_difference
from lensmath.readings import Readings
from lensmath.scale import HAND_SCALE
from site_src import jobs_page
from site_src.assets import asset
from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, Table
from site_src.calculators.render import answer_as_text, bibliography, environment, macro_html
from site_src.claims import UNPUBLISHED, claims_table
from site_src.figures.number_line import counted_travel, step_change
from site_src.figures.svg import Figure
from site_src.glossary import Term, load_glossary, terms_sorted
from site_src.policy import policy
from site_src.runtime.pyodide_package import PYODIDE
from site_src.search.library import MINISEARCH

if TYPE_CHECKING:
    from site_src.handbook import Page

T = TypeVar("T")
TITLE = "Sphere, Cylinder, Axis"
_PLACE = '<div data-block="{}"></div>'


class Words:
    """The vocabulary of one page.

    A block of HTML, such as a calculator, waits outside while the markdown is converted: the text
    gets a place-holder, which `with_blocks` fills.
    """

    def __init__(self, page: Page, pages: Mapping[str, Page]) -> None:
        self._page = page
        self._pages = pages
        self._blocks: list[str] = []

    def with_blocks(self, html: str) -> str:
        """The converted page with every block in its place."""
        for number, block in enumerate(self._blocks):
            html = html.replace(_PLACE.format(number), block)
        return html

    def as_globals(self) -> dict[str, object]:
        """Every word by the name a page calls it by."""
        own = (
            "calculator",
            "worked",
            "page",
            "term",
            "source",
            "basis",
            "literal",
            "drawing",
            "table",
            "sources_list",
            "calculators_list",
            "glossary_list",
            "stage_pages",
            "claims",
            "search",
            "keep",
            "jobs",
        )
        return {
            **{name: getattr(self, name) for name in own},
            "optics": Modules("lensmath"),
            "tables": Modules("site_src.tables"),
            "plates": Modules("site_src.plates"),
            "figures": Modules("site_src.figures"),
            "lens": lens,
            "site_title": TITLE,
            "version": version,
            "pyodide_source": PYODIDE.source,
            "host_policy": Markup(f"{policy(calculates=True)}; frame-ancestors 'self'"),
            "written": notation.write_lens,
            "crossed": notation.write_crossed,
            "power": notation.write_power,
            "exact": notation.write_exact,
            "axis": notation.write_axis,
            "readings": Readings,
            "count": HAND_SCALE.count,
            "apart": _apart,
            "size": _size,
            "number": number,
            "counted_travel": _counted_travel,
            "step_change": partial(step_change, scale=HAND_SCALE, at=HAND_SCALE.bands[0].up_to),
            "job_columns": jobs_page.columns,
            "job_results": jobs_page.results,
        }

    def calculator(self, slug: str) -> Markup:
        """The calculator with its first example worked."""
        calculator = _known(CALCULATORS, slug, "calculator")
        if wrong := calculator.wrong_examples():
            raise ValueError("; ".join(wrong))
        self._page.calculators.append(slug)
        texts = calculator.example_texts()
        answer = calculator.answer(texts)
        html = (
            environment()
            .get_template("calculator.html")
            .render(
                calculator=calculator,
                texts=texts,
                answer=answer,
                as_text=answer_as_text(calculator, texts, answer),
                root=self._page.root,
            )
        )
        return self._block(html)

    def worked(self, slug: str, name: str = "") -> Markup:
        """From the worked example of a calculator: its headline, or what is shown under a name."""
        answer = _worked(slug)
        if not name:
            return macro_html("line", answer.headline)
        return macro_html("line", (_known(answer.values(), name, f"value of {slug}"),))

    def page(self, place: str, shown: str = "") -> Markup:
        """A link to another page; `place` is such as write/cylinder-forms, or with an anchor.

        It stands under the title of that page, or under the words `shown`.
        """
        name, _, anchor = place.partition("#")
        page = _known(self._pages, f"{name}.html", "page")
        address = f"{page.address}#{anchor}" if anchor else page.address
        return Markup('<a href="{}{}">{}</a>').format(self._page.root, address, shown or page.title)

    def term(self, name: str, shown: str = "") -> Markup:
        """A word with a link to its entry in the glossary; `name` is the standard term."""
        term = _known({each.term: each for each in glossary().values()}, name, "term")
        return Markup('<a class="term" href="{}look-up/glossary.html#{}">{}</a>').format(
            self._page.root, term.key, shown or name
        )

    def source(self, key: str) -> Markup:
        """A link to an entry of the bibliography."""
        self._cite(key)
        return macro_html("citation", key, self._page.root)

    def basis(self, *keys: str) -> Markup:
        """The line that says where a section comes from: publications first, then practice."""
        published = [key for key in keys if key not in UNPUBLISHED]
        said = [UNPUBLISHED[key] for key in keys if key in UNPUBLISHED]
        links = Markup(", ").join(self.source(key) for key in published)
        for key in keys:
            if key in bibliography():
                self._cite(key)
        parts = [Markup("From {}").format(links)] if published else []
        line = Markup("; ").join([*parts, *said])
        return Markup('<p class="basis">{}.</p>').format(line[:1].upper() + line[1:])

    def literal(self, text: str, key: str) -> Markup:
        """A figure that a source gives, as typed text: its unit may stand with it."""
        self._cite(key)
        return Markup('<span data-source="{}">{}</span>').format(key, text)

    def _cite(self, key: str) -> None:
        _known(bibliography(), key, "source")
        self._page.cited.add(key)

    def drawing(self, figure: Figure) -> Markup:
        """A figure with its sentence."""
        return self._block(environment().get_template("figure.html").render(figure=figure))

    def table(self, table: Table) -> Markup:
        """A reference table."""
        html = environment().get_template("table.html").render(table=table)
        return self._block(kept_together(html))

    def sources_list(self) -> Markup:
        """What of the bibliography stands on this page, each entry with its key as its anchor."""
        page = self._page.name.rpartition("/")[2]
        return self._block(environment().get_template("sources.html").render(page=page))

    def calculators_list(self) -> Markup:
        """Every calculator of the registry in the order of the job, and the page that it is on."""
        template = environment().get_template("calculators.html")
        entries = [(each, self._page_of(slug)) for slug, each in CALCULATORS.items()]
        return self._block(template.render(entries=entries, root=self._page.root))

    def glossary_list(self) -> Markup:
        """Every term of the glossary under its anchor."""
        template = environment().get_template("glossary.html")
        terms = terms_sorted(glossary())
        return self._block(template.render(terms=terms, page=self.page))

    def stage_pages(self) -> Markup:
        """The pages of this page's stage with their rules."""
        pages = [
            page
            for page in self._pages.values()
            if page.stage == self._page.stage and not page.is_index
        ]
        template = environment().get_template("stage.html")
        return self._block(template.render(pages=pages, root=self._page.root))

    def claims(self) -> Markup:
        """How many sections of the handbook rest on what."""
        return self.table(claims_table(self._pages.values()))

    def search(self) -> Markup:
        """The place for what the search finds."""
        self._page.searches = True
        template = environment().get_template("search.html")
        return self._block(template.render(root=self._page.root))

    def _page_of(self, slug: str) -> Page:
        """The page that calls for a calculator."""
        call = f'calculator("{slug}")'
        return next(page for page in self._pages.values() if call in page.source)

    def jobs(self) -> Markup:
        """The form that checks a file of lenses, and below it the calculator for one of them."""
        self._page.takes_jobs = True
        return self._block(jobs_page.jobs_html()) + "\n\n" + self.calculator("verification")

    def keep(self) -> Markup:
        """The part of a page that keeps a copy on the reader's device."""
        self._page.keeps = True
        root = self._page.root
        template = environment().get_template("keep.html")
        return self._block(template.render(root=root, script=root + asset("keep.js")))

    def _block(self, html: str) -> Markup:
        self._blocks.append(html)
        return Markup(_PLACE.format(len(self._blocks) - 1))


def kept_together(html: str) -> str:
    """A number and its unit, and an axis and its ×, never parted at the end of a line."""
    return re.sub(r"(?<=\d) (?=(?:D|DS|DC)\b)|(?<=×) (?=\d)", "\N{NO-BREAK SPACE}", html)


class Modules:
    """The modules of a package by their names: `optics.vertex` is `lensmath.vertex`."""

    def __init__(self, package: str) -> None:
        self._package = package

    def __getattr__(self, name: str) -> ModuleType:
        try:
            return import_module(f"{self._package}.{name}")
        except ModuleNotFoundError as error:
            raise AttributeError(f"{self._package} has no module {name}") from error


@cache
def glossary() -> Mapping[str, Term]:
    """Every term by its key."""
    return load_glossary()


def number(value: float, decimals: int = 0) -> str:
    """A number with its decimals, and a real minus."""
    return f"{round(value, decimals) + 0.0:.{decimals}f}".replace("-", notation.MINUS)


def lens(text: str) -> LensPower:
    """A lens as a person writes it, for use in a page."""
    return notation.read_prescription(text).power


def _size(value: float) -> str:
    """An amount of dioptres without a sign."""
    return notation.write_exact(abs(value)).lstrip("+")


def _apart(one: float, other: float) -> str:
    return f"{axis_difference(one, other):g}"


def _counted_travel(name: str, first: float, second: float) -> Figure:
    return counted_travel(name, HAND_SCALE, HAND_SCALE.count(first, second))


def version(package: str) -> str:
    """The version of a package that the site carries."""
    for manifest in (PYODIDE, MINISEARCH):
        if package == manifest.name:
            return manifest.version
    return lensmath.__version__ if package == "lensmath" else metadata.version(package)


def _worked(slug: str) -> Answer:
    calculator = _known(CALCULATORS, slug, "calculator")
    return calculator.answer(calculator.example_texts())


def _known(known: Mapping[str, T], key: str, what: str) -> T:
    if key not in known:
        raise LookupError(f"unknown {what} {key}; there are {', '.join(sorted(known))}")
    return known[key]
