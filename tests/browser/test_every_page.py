"""Every page is visited once, and what is measured there is held against what must be.

That it loads without a complaint, and leads only to pages; the rules of axe-core on a phone, in the
light and for contrast in the dark; that nothing jumps while the page loads; that it fits the
screen, also a narrow one, and printed the width of A4 and of Letter.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from time import sleep
from typing import BinaryIO
from urllib.parse import urldefrag
from urllib.request import urlopen

import pytest
from playwright.sync_api import Browser, Page

from site_src.serve import Handler
from site_src.setup import npm_package
from site_src.setup.npm_package import Manifest
from site_src.setup.steps import CACHE
from tests.browser.conftest import NARROW, PHONE, Opening, watched

AXE = Manifest.read(Path(__file__).parent.parent / "axe.toml")
PX_PER_MM = 96 / 25.4
PAPERS = {"A4": 210 - 30, "Letter": 216 - 30}  # mm between margins of 15 mm

RUN = """async (rules) => {
  const wanted = rules.length ? { runOnly: rules } : {};
  const { violations } = await axe.run(document, { resultTypes: ["violations"], ...wanted });
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.target).join()}`);
}"""
SHIFTS = """
self.shifted = 0;
new PerformanceObserver((list) => {
  for (const entry of list.getEntries()) if (!entry.hadRecentInput) self.shifted += entry.value;
}).observe({ type: "layout-shift", buffered: true });
"""
SETTLED = """async () => {
  for (let frame = 0; frame < 3; frame++) await new Promise(requestAnimationFrame);
  await new Promise((done) => setTimeout(done, 50));
}"""
TOO_WIDE = "() => Math.max(0, document.documentElement.scrollWidth - innerWidth)"
LINKS = "() => [...document.querySelectorAll('a[href]')].map((link) => link.href)"
UNPRINTED = "nav, .search, .actions, .nudge, .turn"


@dataclass
class Visit:
    """What was measured on one page; all but the links ought to be empty or zero."""

    links: set[str] = field(default_factory=set)
    refused: int = 0
    broken_rules: list[str] = field(default_factory=list)
    pale_in_the_dark: list[str] = field(default_factory=list)
    jumped: float = 0.0
    too_wide: dict[str, int] = field(default_factory=dict)
    printed_controls: int = 0


@pytest.fixture(scope="module")
def axe() -> str:
    """The script of axe-core."""
    return (npm_package.fetch(CACHE, AXE) / "axe.min.js").read_text("utf-8")


@pytest.fixture(scope="module")
def visits(browser: Browser, home: str, addresses: list[str], axe: str) -> dict[str, Visit]:
    """Every page, visited."""
    watch = watched(browser, home)
    watch.context.add_init_script(SHIFTS)
    page = watch.context.new_page()
    found = {address: visited(page, home + address, axe) for address in addresses}
    watch.context.close()
    watch.check()
    return found


def visited(page: Page, address: str, axe: str) -> Visit:
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    page.emulate_media(media="screen", color_scheme="light")
    answer = page.goto(address)
    page.evaluate(SETTLED)
    visit = Visit(jumped=page.evaluate("() => self.shifted"))
    visit.refused = 0 if answer is not None and answer.ok else 1
    visit.links = {urldefrag(link).url for link in page.evaluate(LINKS)}
    note_width(page, visit, "phone")
    page.evaluate(axe)
    visit.broken_rules = page.evaluate(RUN, [])
    page.set_viewport_size(NARROW)  # type: ignore[arg-type]
    note_width(page, visit, "narrow")
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    page.emulate_media(color_scheme="dark")
    visit.pale_in_the_dark = page.evaluate(RUN, ["color-contrast"])
    page.emulate_media(media="print", color_scheme="light")
    for paper, width in PAPERS.items():
        page.set_viewport_size({"width": int(width * PX_PER_MM), "height": 900})
        note_width(page, visit, paper)
    visit.printed_controls = page.locator(UNPRINTED).locator("visible=true").count()
    return visit


def note_width(page: Page, visit: Visit, name: str) -> None:
    if over := page.evaluate(TOO_WIDE):
        visit.too_wide[name] = over


@pytest.mark.parametrize(
    "measured", [name for name in Visit.__dataclass_fields__ if name != "links"]
)
def test_there_is_nothing_wrong_with_any_page(visits: dict[str, Visit], measured: str) -> None:
    found = {address: getattr(visit, measured) for address, visit in visits.items()}
    assert len(found) > 90
    assert not {address: what for address, what in found.items() if what}


@pytest.mark.parametrize("address", ["mark-up/thickness.html", "check/tolerance-rules.html"])
def test_nothing_jumps_while_a_page_comes_in_pieces(
    opening: Opening, home: str, address: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def copy(_: Handler, source: BinaryIO, sink: BinaryIO) -> None:
        while piece := source.read(500):
            sink.write(piece)
            if source.name.endswith(".html"):
                sleep(0.025)  # s, longer than a frame

    monkeypatch.setattr(Handler, "copyfile", copy)
    context = opening().context
    context.add_init_script(SHIFTS)
    page = context.new_page()
    page.goto(home + address)
    page.evaluate(SETTLED)
    assert page.evaluate("() => self.shifted") == 0


def test_every_page_is_led_to_and_every_link_leads_to_a_page(
    visits: dict[str, Visit], home: str
) -> None:
    assert all(visit.links for visit in visits.values()), "a page that leads nowhere"
    targets = set().union(*(visit.links for visit in visits.values()))
    assert {home + address for address in visits} <= targets, "a page that no page leads to"
    for target in sorted(targets):
        assert target.startswith(home)
        with urlopen(target) as found:
            assert found.status == 200, target


def test_a_visit_sees_what_is_wrong(opening: Opening, home: str, axe: str) -> None:
    context = opening().context
    context.add_init_script(SHIFTS)
    spoil = """addEventListener("load", () => requestAnimationFrame(() => setTimeout(() => {
        const main = document.querySelector("main");
        main.prepend(document.createElement("img"));
        main.firstChild.style.cssText = "display: block; inline-size: 2000px; block-size: 300px";
        document.querySelector("h1").style.color = "#333c44";
        document.querySelector("footer").className = "actions";
    })));"""
    context.add_init_script(spoil)
    visit = visited(context.new_page(), f"{home}read/sphere.html", axe)
    assert [rule.partition(":")[0] for rule in visit.broken_rules] == ["image-alt"]
    assert visit.pale_in_the_dark
    assert visit.jumped > 0
    assert visit.too_wide.keys() == {"phone", "narrow", *PAPERS}
