"""The three engines, and the handbook opened in them."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import AbstractContextManager
from pathlib import Path

import pytest

from site_src.calculators import CALCULATORS
from site_src.setup import browser, engines
from tests.browser.conftest import served
from tests.engines import chromium, firefox, webkit
from tests.engines.engine import Engine

# How the handbook is opened; "file" is from a folder, without any server.
BASES = ("http", "file")


def pytest_itemcollected(item: pytest.Item) -> None:
    """Everything in this folder needs a browser."""
    item.add_marker("browser")


def _chromium(folder: Path) -> AbstractContextManager[Engine]:
    program = os.environ.get(browser.OVERRIDE) or browser.on_machine()
    assert program, f"There is no browser; name one in {browser.OVERRIDE}."
    return chromium.running(Path(program), folder)


def _firefox(folder: Path) -> AbstractContextManager[Engine]:
    (program,) = programs_of(engines.firefox())
    return firefox.running(program, folder)


def _webkit(folder: Path) -> AbstractContextManager[Engine]:
    driver, screen = programs_of(engines.webkit())
    return webkit.running(driver, screen, folder)


def programs_of(engine: engines.Engine) -> list[Path]:
    """The engine's programs; without them its tests are left out, or fail where all must run."""
    programs = engine.on_machine()
    if programs is None:
        leave = pytest.fail if os.environ.get(engines.ALL_NEEDED) else pytest.skip
        leave(engine.how_to_get())
    return programs


START = {"chromium": _chromium, "firefox": _firefox, "webkit": _webkit}


@pytest.fixture(scope="session", params=START)
def running(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Engine]:
    """Each engine, started once. What it printed stays for a look, its home does not."""
    folder = tmp_path_factory.mktemp(request.param)
    with START[request.param](folder) as engine:
        yield engine
    shutil.rmtree(folder / "home", ignore_errors=True)


@pytest.fixture
def engine(running: Engine) -> Iterator[Engine]:
    """An engine with an empty page, which may not complain before the test is over."""
    running.open("about:blank")
    yield running
    assert running.complaints() == []


@pytest.fixture(scope="session", params=BASES)
def home(request: pytest.FixtureRequest, site: Path) -> Iterator[str]:
    """The address of the handbook, with the stroke at its end."""
    if request.param == "file":
        yield f"{site.as_uri()}/"
        return
    with served(site) as address:
        yield address


@pytest.fixture(scope="session")
def places(site: Path) -> dict[str, str]:
    """The page that each calculator stands on, by slug."""
    texts = {
        file.relative_to(site).as_posix(): file.read_text("utf-8")
        for file in sorted(site.rglob("*.html"))
    }
    return {  # the last one, where several have it: its own
        slug: place
        for place, text in texts.items()
        for slug in CALCULATORS
        if f'data-calculator="{slug}"' in text
    }
