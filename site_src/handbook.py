"""The handbook's pages: markdown with front matter, read, rendered and placed by stage.

A page is a jinja2 template of markdown. What it may call stands in `words.py`. Whatever is wrong
with a page stops the build with its file and line.
"""

from __future__ import annotations

import tomllib
import traceback
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import markdown
from jinja2 import Template, TemplateSyntaxError
from markdown.extensions import Extension
from markupsafe import Markup

from lensmath.tolerances import STANDARDS
from site_src.assets import asset
from site_src.calculators.render import bibliography, environment
from site_src.claims import UNPUBLISHED
from site_src.linkcheck import broken_links
from site_src.lint import faults, warnings
from site_src.mathematics import Mathematics
from site_src.policy import policy
from site_src.setup.steps import ROOT, SetupError, say
from site_src.words import TITLE, Words, kept_together, version

FENCE = "+++"
NEEDED = {"title": str, "rule": str}
ALLOWED = {**NEEDED, "order": int, "sources": list, "standards": list, "asks": list, "sheet": bool}
HOUSE = (
    *("about", "calculators", "glossary", "hosting", "keep", "search"),
    *("sources", "sources-courses"),
)
"""Pages of the last stage about the handbook itself, and lists, whose entries have sources."""


class BuildError(SetupError):
    """A mistake in the sources of the site: where it is, and what is wrong."""

    def __init__(self, file: Path, line: int, message: str) -> None:
        place = file.relative_to(ROOT) if file.is_relative_to(ROOT) else file
        super().__init__(f"{place}:{line}: {message}")


@dataclass(frozen=True)
class Stage:
    """A stage of the job: the folder of its pages, its name, and what gets done in it."""

    key: str
    name: str
    task: str


STAGES = (
    Stage("set-up", "Set up", "Focus the eyepiece, check zero, know the scale and the wheel."),
    Stage("read", "Read", "Find the two sharp readings and count between them."),
    Stage("write", "Write", "Put the power down in the right form."),
    Stage("check", "Check", "Decide whether the lens is what was ordered."),
    Stage("mark-up", "Mark up", "Spot, orient and decentre the lens for edging."),
    Stage("understand", "Understand", "Why the rules hold."),
    Stage("practise", "Practise", "Become quick and certain."),
    Stage("look-up", "Look up", "One rule, one number, now."),
)


@dataclass
class Page:
    """One page. `address` is its place in the site, such as read/number-line.html.

    `standards` are the keys of the standards that it touches, `asks` is how people ask for it where
    its own words do not say so, and a `sheet` is made to be printed on one side. `body` is the page
    as HTML between its rule and its sources, and `cited` what it names; both come with rendering.
    """

    file: Path
    address: str
    stage: str
    title: str
    rule: str
    source: str
    order: int = 0
    sources: tuple[str, ...] = ()
    standards: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    sheet: bool = False
    body: str = ""
    cited: set[str] = field(default_factory=set)
    calculators: list[str] = field(default_factory=list)
    takes_jobs: bool = False  # a file of many lenses, beside a calculator for one
    searches: bool = False  # the search page
    keeps: bool = False  # a copy of the handbook on the reader's device, by a service worker

    @property
    def is_home(self) -> bool:
        return self.address == "index.html"

    @property
    def is_index(self) -> bool:
        """Whether it lists the pages of a stage."""
        return self.address.endswith("/index.html")

    @property
    def name(self) -> str:
        """The page as other pages link to it, such as read/number-line."""
        return self.address.removesuffix(".html")

    @property
    def makes_claims(self) -> bool:
        """Whether it is about the work: the home page, indexes and house pages are not."""
        return not (self.is_home or self.is_index or self.name.removeprefix("look-up/") in HOUSE)

    @property
    def root(self) -> str:
        """The way from this page up to the site's first folder."""
        return "../" * self.address.count("/")

    def line_of(self, text: str) -> int:
        """The first line of the file that holds `text`, or 1."""
        lines = self.file.read_text(encoding="utf-8").splitlines()
        return next((number for number, line in enumerate(lines, 1) if text in line), 1)


def load_pages(folder: Path) -> list[Page]:
    """Every page under `folder`, by stage and order.

    Errors  BuildError for front matter that is missing, incomplete or unknown.
    """
    pages = [_load_page(file, folder) for file in sorted(folder.rglob("*.md"))]
    pages += [_stage_page(stage) for stage in STAGES]
    places = [stage.key for stage in STAGES]
    return sorted(
        pages, key=lambda page: (places.index(page.stage) if page.stage else -1, page.order)
    )


def _stage_page(stage: Stage) -> Page:
    return Page(
        file=Path(__file__),
        address=f"{stage.key}/index.html",
        stage=stage.key,
        title=stage.name,
        rule=stage.task,
        source="{{ stage_pages() }}",
    )


def _load_page(file: Path, folder: Path) -> Page:
    head, body = _split_front_matter(file)
    for name in head:
        if not isinstance(head[name], ALLOWED.get(name, ())):
            raise BuildError(file, 1, f"front matter: {name} is unknown or has the wrong type")
    for name in NEEDED:
        if name not in head:
            raise BuildError(file, 1, f"front matter: {name} is missing")
    place = file.relative_to(folder)
    stage = place.parts[0] if len(place.parts) > 1 else ""
    if stage not in ("", *(each.key for each in STAGES)):
        raise BuildError(file, 1, f"{stage} is not a stage of the job")
    return Page(
        file=file,
        address=place.with_suffix(".html").as_posix(),
        stage=stage,
        title=head["title"],
        rule=head["rule"],
        source=body,
        order=head.get("order", 0),
        sources=tuple(head.get("sources", ())),
        standards=tuple(head.get("standards", ())),
        asks=tuple(head.get("asks", ())),
        sheet=head.get("sheet", False),
    )


def _split_front_matter(file: Path) -> tuple[dict[str, Any], str]:
    """The front matter, and the body with blank lines before it so that its line numbers hold."""
    lines = file.read_text(encoding="utf-8").split("\n")
    if lines[0] != FENCE or FENCE not in lines[1:]:
        raise BuildError(file, 1, f"front matter is missing: a page begins with {FENCE}")
    end = lines.index(FENCE, 1)
    try:
        head = tomllib.loads("\n".join(lines[1:end]))
    except tomllib.TOMLDecodeError as error:
        raise BuildError(file, 1, f"front matter: {error}") from error
    return head, "\n" * (end + 1) + "\n".join(lines[end + 1 :])


def write_bodies(pages: list[Page]) -> None:
    """Renders the `body` of every page; the pages that count the others come last.

    Errors  BuildError with the line for unknown names, sources, calculators and pages.
    """
    by_name = {page.address: page for page in pages}
    for page in sorted(pages, key=lambda page: not page.makes_claims):
        write_body(page, by_name)


def write_body(page: Page, by_address: Mapping[str, Page]) -> None:
    """Renders the `body` of one page."""
    for key in page.sources:
        if key not in bibliography():
            raise BuildError(page.file, page.line_of(key), f"unknown source {key}")
    for key in page.standards:
        if key not in STANDARDS:
            raise BuildError(page.file, page.line_of(key), f"unknown standard {key}")
    words = Words(page, by_address)
    extensions: list[str | Extension] = ["tables", "attr_list", "def_list", "toc", Mathematics()]
    converter = markdown.Markdown(extensions=extensions)
    page.body = words.with_blocks(kept_together(converter.convert(_filled(page, words))))


def render_page(page: Page, worker: str, search: Sequence[str] = ()) -> str:
    """The whole page as HTML.

    `worker` is the name of the script that starts Python, `search` the scripts of the search.
    """
    template = "home.html" if page.is_home else "page.html"
    return (
        environment()
        .get_template(template)
        .render(
            page=page,
            root=page.root,
            worker=worker,
            search=search if page.searches else (),
            body=Markup(page.body),
            published=[key for key in page.sources if key not in UNPUBLISHED],
            standards=[STANDARDS[key].designation for key in page.standards],
            asset=lambda name: page.root + asset(name),
            policy=policy(calculates=bool(page.calculators), keeps=page.keeps),
            site={"title": TITLE, "edition": version("lensmath"), "stages": STAGES},
        )
    )


def _filled(page: Page, words: Words) -> str:
    """The page's markdown with every call in it answered."""
    try:
        code = environment().compile(page.source, page.address, str(page.file))
        return Template.from_code(environment(), code, words.as_globals()).render()
    except TemplateSyntaxError as error:
        raise BuildError(page.file, error.lineno, error.message or "template error") from error
    except Exception as error:
        frames = traceback.extract_tb(error.__traceback__)
        lines = [frame.lineno or 1 for frame in frames if frame.filename == str(page.file)]
        raise BuildError(page.file, lines[-1] if lines else 1, str(error)) from error


def check_texts(pages: list[Page]) -> None:
    """Checks the text of every page whose body is rendered, and tells of overlong sentences.

    Errors  BuildError with the file and line of the first fault; the others follow in its message.
    """
    found = [(page.file, line, fault) for page in pages for line, fault in faults(page)]
    for page in pages:
        for warning in warnings(page):
            say(f"{page.file.relative_to(ROOT)}: {warning}")
    if found:
        first, *others = found
        more = [f"{file.relative_to(ROOT)}:{line}: {fault}" for file, line, fault in others]
        raise BuildError(first[0], first[1], "\n".join([first[2], *more]))


def check_links(folder: Path, pages: list[Page]) -> None:
    """Follows every link of the built site.

    Errors  BuildError with the page's file and line for the first broken one; SetupError for one in
            a stylesheet or a manifest.
    """
    by_address = {page.address: page for page in pages}
    for address, target, fault in broken_links(folder):
        if address not in by_address:
            raise SetupError(f"{address}: {fault}")
        page = by_address[address]
        raise BuildError(page.file, page.line_of(target.rpartition("/")[2]), fault)
