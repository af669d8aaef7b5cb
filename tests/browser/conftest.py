"""A browser, the handbook served to it, and pages that are watched."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from threading import Thread

import pytest
from playwright.sync_api import Browser, expect, sync_playwright

from site_src.calculators import CALCULATORS
from site_src.serve import server
from site_src.setup import browser as set_up
from tests.browser.calculator_page import CalculatorPage, hash_of
from tests.browser.watch import Watch

PHONE = {"width": 360, "height": 740}
NARROW = {"width": 320, "height": 568}

# What the script of the page does is the same for every calculator; these few have all that there
# is to it: every kind of field, groups, and fields under "More entries".
MODELS = {
    slug: CALCULATORS[slug]
    for slug in (
        "cylinder-from-two-readings",
        "transposition",
        "verification",
        "decentration-and-blank",
    )
}

PATIENCE = 60_000  # ms; long enough for the runtime to load on a busy machine

expect.set_options(timeout=PATIENCE)


def pytest_itemcollected(item: pytest.Item) -> None:
    """Everything in this folder needs a browser."""
    item.add_marker("browser")


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    program = os.environ.get(set_up.OVERRIDE) or set_up.on_machine()
    assert program, f"There is no browser; name one in {set_up.OVERRIDE}."
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(
            executable_path=program, args=set_up.launch_arguments()
        )
        yield launched
        launched.close()


@contextmanager
def served(site: Path) -> Iterator[str]:
    """The site on a server of its own while the block runs, below a folder as on an intranet."""
    serving = server(site.parent, 0)
    thread = Thread(target=serving.serve_forever, kwargs={"poll_interval": 0.05})
    thread.start()
    try:
        yield f"http://127.0.0.1:{serving.server_port}/{site.name}/"
    finally:
        serving.shutdown()
        thread.join()
        serving.server_close()


@pytest.fixture(scope="session")
def home(site: Path) -> Iterator[str]:
    """The address of the handbook, with the stroke at its end."""
    with served(site) as address:
        yield address


@pytest.fixture(scope="session")
def addresses(site: Path) -> list[str]:
    """Every page of the site, as its address below home."""
    return sorted(file.relative_to(site).as_posix() for file in site.rglob("*.html"))


@pytest.fixture(scope="session")
def places(site: Path, addresses: list[str]) -> dict[str, str]:
    """The page that each calculator stands on, by slug."""
    texts = {address: (site / address).read_text("utf-8") for address in addresses}
    return {  # the last one, where several have it: its own
        slug: place
        for place, text in texts.items()
        for slug in CALCULATORS
        if f'data-calculator="{slug}"' in text
    }


@pytest.fixture(scope="session")
def worker(site: Path) -> str:
    """The script that starts Python, as its address below home."""
    (script,) = (site / "runtime").glob("worker-*.js")
    return script.relative_to(site).as_posix()


Opening = Callable[..., Watch]


def watched(browser: Browser, home: str, **options: object) -> Watch:
    """A fresh context the size of a phone, without animation."""
    wanted = {"viewport": PHONE, "reduced_motion": "reduce", **options}
    context = browser.new_context(**wanted)  # type: ignore[arg-type]
    context.set_default_timeout(PATIENCE)
    return Watch(context, home)


@pytest.fixture
def opening(browser: Browser, home: str) -> Iterator[Opening]:
    """Opens fresh contexts, with the options of Playwright; checks and closes them afterwards."""
    opened: list[Watch] = []

    def open_one(**options: object) -> Watch:
        opened.append(watched(browser, home, **options))
        return opened[-1]

    yield open_one
    for watch in opened:
        watch.context.close()
    for watch in opened:
        watch.check()


Cold = Callable[..., CalculatorPage]


@pytest.fixture
def cold(opening: Opening, home: str, places: dict[str, str]) -> Cold:
    """Opens the page of a calculator as for the first time; `end` is added to its address."""

    def open_one(slug: str, watch: Watch | None = None, end: str = "") -> CalculatorPage:
        page = (watch or opening()).context.new_page()
        page.goto(home + places[slug] + end)
        return CalculatorPage(page, CALCULATORS[slug])

    return open_one


@dataclass(frozen=True)
class Kept:
    """A calculator that stays loaded; `runtime` names the files that it took."""

    bench: CalculatorPage
    watch: Watch
    runtime: tuple[str, ...]


Keeping = Callable[[str], Kept]


@pytest.fixture(scope="session")
def kept(browser: Browser, site: Path, places: dict[str, str]) -> Iterator[Keeping]:
    """Each calculator loaded once, from a server that is shut down as soon as it is ready."""
    pages: dict[str, Kept] = {}
    with ExitStack() as closing:

        def load(slug: str) -> Kept:
            with served(site) as home:
                watch = watched(browser, home)
                closing.callback(watch.context.close)
                bench = CalculatorPage(watch.context.new_page(), CALCULATORS[slug])
                example = hash_of(bench.calculator, bench.calculator.example_texts())
                bench.page.goto(home + places[slug] + example)
                expect(bench.status).not_to_be_empty()  # it says the answer when it has one
            watch.check()
            halves = [url.partition("/runtime/") for url in watch.requests]
            files = tuple(name for _, _, name in halves if name)
            assert not [name for name in files if name.startswith("python-")], "the image failed"
            return Kept(bench, watch, files)

        def get(slug: str) -> Kept:
            if slug not in pages:
                pages[slug] = load(slug)
            return pages[slug]

        yield get


Warm = Callable[[str], CalculatorPage]


@pytest.fixture
def warm(kept: Keeping) -> Iterator[Warm]:
    """A calculator that has loaded, as it came, its server gone. It may ask for nothing more."""
    used: list[Watch] = []

    def ready(slug: str) -> CalculatorPage:
        bench, watch = kept(slug).bench, kept(slug).watch
        watch.forget()
        bench.page.set_viewport_size(PHONE)  # type: ignore[arg-type]
        bench.reset()
        used.append(watch)
        return bench

    yield ready
    for watch in used:
        assert watch.asked_for() == [], "a page that has loaded asked for more"
        watch.check()
