"""The policy lets a page do its work: opened as a file, and when a host sends it as a header."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from threading import Thread

from playwright.sync_api import Browser, Page

from site_src.calculators import CALCULATORS
from site_src.policy import policy
from site_src.serve import Handler, Server
from tests.browser.calculator_page import CalculatorPage, hash_of, shown_by
from tests.browser.conftest import watched

FIRST = next(iter(CALCULATORS.values()))

_VIOLATIONS = """window.violations = [];
document.addEventListener("securitypolicyviolation",
    (event) => violations.push(`${event.violatedDirective} ${event.blockedURI}`));"""


class WithPolicy(Handler):
    """Sends the policy that the page on hosting gives as an example, with every file."""

    def end_headers(self) -> None:
        text = f"{policy(calculates=True)}; frame-ancestors 'self'"
        self.send_header("Content-Security-Policy", text)
        super().end_headers()


@contextmanager
def host(folder: Path) -> Iterator[str]:
    serving = Server(("127.0.0.1", 0), partial(WithPolicy, directory=str(folder)))
    thread = Thread(target=serving.serve_forever, kwargs={"poll_interval": 0.05})
    thread.start()
    try:
        yield f"http://127.0.0.1:{serving.server_port}/"
    finally:
        serving.shutdown()
        thread.join()
        serving.server_close()


@contextmanager
def quiet_page(browser: Browser, home: str) -> Iterator[Page]:
    """A page of the handbook at `home`, which must not complain, nor its policy stop anything."""
    watch = watched(browser, home)
    watch.context.add_init_script(_VIOLATIONS)
    page = watch.context.new_page()
    yield page
    assert page.evaluate("() => violations") == []
    watch.context.close()
    assert watch.complaints == []
    asked = [url.removeprefix("blob:") for url in watch.requests]
    assert [url for url in asked if not url.startswith((home, "null/"))] == []


def check_works(page: Page, place: str) -> None:
    entries = FIRST.examples[-1].given
    page.goto(place + hash_of(FIRST, entries))
    CalculatorPage(page, FIRST).expect_answer(shown_by(FIRST.answer(entries)))


def test_a_calculator_works_under_the_policy_as_a_header(
    browser: Browser, site: Path, places: dict[str, str]
) -> None:
    with host(site) as home, quiet_page(browser, home) as page:
        check_works(page, home + places[FIRST.slug])


def test_a_calculator_works_under_the_policy_as_a_file(
    browser: Browser, site: Path, places: dict[str, str]
) -> None:
    with quiet_page(browser, site.as_uri()) as page:
        check_works(page, (site / places[FIRST.slug]).as_uri())


def test_every_page_as_a_file_is_refused_nothing(
    browser: Browser, site: Path, addresses: list[str]
) -> None:
    with quiet_page(browser, site.as_uri()) as page:
        for address in addresses:
            page.goto((site / address).as_uri())
            assert page.evaluate("() => document.styleSheets.length") > 0, address
            assert page.evaluate("() => violations") == [], address
