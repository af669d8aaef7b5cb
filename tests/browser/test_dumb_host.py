"""On a host that knows nothing newer than 2010, at a plain http address, everything works."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, Response, expect

from site_src.calculators import CALCULATORS
from site_src.setup import browser as set_up
from tests.browser.calculator_page import CalculatorPage, shown_by
from tests.browser.conftest import MODELS, PATIENCE, PHONE
from tests.dumb_host import PLACE, dumb_host
from tests.test_policy import DECORATION

NAME = "intranet.example"


@pytest.fixture(scope="module")
def plain_browser(browser: Browser) -> Iterator[Browser]:
    """A browser for which the name of a machine that is not this one leads here."""
    named = browser.browser_type.launch(
        executable_path=os.environ.get(set_up.OVERRIDE) or set_up.on_machine(),
        args=[*set_up.launch_arguments(), f"--host-resolver-rules=MAP {NAME} 127.0.0.1"],
    )
    yield named
    named.close()


@pytest.fixture(scope="module")
def plain_home(site: Path) -> Iterator[str]:
    """The address of the handbook on that host."""
    with dumb_host(site) as port:
        yield f"http://{NAME}:{port}/{quote(PLACE)}"


class Plain:
    """A page in the plain browser, and every file that the host would not serve."""

    def __init__(self, browser: Browser) -> None:
        context = browser.new_context(viewport=PHONE, reduced_motion="reduce")  # type: ignore[arg-type]
        context.set_default_timeout(PATIENCE)
        self.missed: set[str] = set()
        self.complaints: list[str] = []
        self.page = context.new_page()
        context.on("response", self._came)
        context.on("weberror", lambda error: self.complaints.append(str(error.error)))

    def _came(self, answer: Response) -> None:
        if not answer.ok:
            self.missed.add(answer.url)

    def check(self) -> None:
        """Only what is decoration was missed, and no script went wrong."""
        assert [url for url in self.missed if not url.endswith(DECORATION)] == []
        assert self.complaints == []


@pytest.fixture
def plain(plain_browser: Browser) -> Iterator[Plain]:
    opened = Plain(plain_browser)
    yield opened
    opened.page.context.close()
    opened.check()


_STYLED = """() => {
    const sheets = [...document.querySelectorAll("link[rel=stylesheet]")];
    return sheets.length > 0 && sheets.every((link) => link.sheet?.cssRules.length > 0)
        && document.querySelectorAll("h1").length === 1;
}"""


def test_every_page_comes_with_its_style(
    plain: Plain, plain_home: str, addresses: list[str]
) -> None:
    for address in addresses:
        answer = plain.page.goto(plain_home + address)
        assert answer is not None
        assert answer.ok, address
        assert plain.page.evaluate("() => isSecureContext") is False
        assert plain.page.evaluate(_STYLED), address


def test_capitals_in_an_address_do_not_matter(plain: Plain, plain_home: str) -> None:
    """As in an address that was typed from paper, on a host that takes it."""
    plain.page.goto(plain_home + "INDEX.HTML")
    assert plain.page.evaluate(_STYLED)
    plain.page.locator("nav a").first.click()
    expect(plain.page.locator("h1")).to_have_count(1)


@pytest.mark.parametrize("slug", MODELS)
def test_a_calculator_works_there(
    plain: Plain, plain_home: str, places: dict[str, str], slug: str
) -> None:
    bench = CalculatorPage(plain.page, CALCULATORS[slug])
    plain.page.goto(plain_home + places[slug])
    bench.button("Clear entries").click()
    expect(bench.stale).to_be_visible()
    entries = bench.calculator.example_texts()
    bench.go_to(**{name: text for name, text in entries.items() if text})
    bench.expect_answer(shown_by(bench.calculator.answer(entries)))
