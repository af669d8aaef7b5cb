"""The runtime loads while people type; it may come late, fail, or lose its server."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from urllib.error import URLError
from urllib.request import urlopen

import pytest
from playwright.sync_api import Route, expect

from site_src.calculators import CALCULATORS
from tests.browser.calculator_page import CalculatorPage, shown_by
from tests.browser.conftest import Cold, Keeping, Opening, Warm
from tests.browser.watch import Watch

SLUG = "cylinder-from-two-readings"

# Every axis that the page ever shows, in the order of showing.
_REMEMBER_AXES = """(section) => {
    window.axes = [];
    const answer = section.querySelector(".answer");
    const look = () => axes.push(answer.querySelector("[data-name=axis]").textContent);
    new MutationObserver(look).observe(answer, {childList: true});
}"""


def test_what_is_typed_while_loading_is_kept_and_then_answered(
    opening: Opening, cold: Cold
) -> None:
    watch, held = opening(), list[Route]()

    def hold(route: Route) -> None:
        held.append(route)

    watch.context.route("**/*.wasm", hold)
    bench = cold(SLUG, watch)
    bench.section.evaluate(_REMEMBER_AXES)
    for wheel in "100", "1", "101":
        bench.enter("wheel", wheel)

    progress = bench.section.locator("progress")
    expect(progress).to_be_visible()
    expect(bench.section.locator(".loading-says")).to_have_text(
        re.compile(r"[1-9]\d*\.\d of [1-9]\d*\.\d MB|0\.[1-9] of [1-9]\d*\.\d MB")
    )
    assert 0 < progress.evaluate("(progress) => progress.value") < 1
    expect(bench.stale).to_be_hidden()
    assert bench.page.evaluate("axes") == []

    held[0].continue_()
    bench.expect_answer({"axis": "101"})
    assert bench.entry("wheel") == "101"
    assert set(bench.page.evaluate("axes")) == {"101"}, "an older answer was shown on the way"
    expect(progress).to_be_hidden()


def abort(route: Route) -> None:
    route.abort()


def not_found(route: Route) -> None:
    route.fulfill(status=404, body="")


def cut_short(route: Route) -> None:
    response = route.fetch()
    route.fulfill(response=response, body=response.body()[:-100])


@pytest.mark.parametrize("failure", [abort, not_found, cut_short])
def test_whichever_file_is_missing_it_is_said_and_can_be_tried_again(
    opening: Opening, cold: Cold, kept: Keeping, failure: Callable[[Route], None]
) -> None:
    watch, files = opening(), kept(SLUG).runtime
    assert "worker.js" in files
    watch.expects_complaints = True
    with missing(watch, files[0], failure):
        bench = cold(SLUG, watch)
        bench.enter("wheel", "101")
        check_said(bench)
    retry = bench.button("Try again")
    for file in files[1:]:
        with missing(watch, file, failure):
            retry.click()
            check_said(bench)
    retry.click()
    bench.expect_answer({"axis": "101"})
    expect(retry).to_be_hidden()
    assert bench.entry("wheel") == "101"


@contextmanager
def missing(watch: Watch, file: str, failure: Callable[[Route], None]) -> Iterator[None]:
    """The file cannot be had while the block runs."""
    watch.context.route(f"**/runtime/{file}", failure)
    yield
    watch.context.unroute(f"**/runtime/{file}")


def check_said(bench: CalculatorPage) -> None:
    """The page says that it could not load, and keeps what was entered."""
    expect(bench.button("Try again")).to_be_visible()
    expect(bench.section.locator(".loading-says")).to_contain_text("could not be loaded")
    assert bench.entry("wheel") == "101"


@pytest.mark.parametrize("slug", CALCULATORS)
def test_a_loaded_calculator_needs_no_server(warm: Warm, slug: str) -> None:
    """`warm` checks afterwards that nothing was asked for."""
    bench = warm(slug)
    with pytest.raises(URLError):
        urlopen(bench.page.url)
    given = bench.calculator.examples[-1].given
    bench.go_to(**given)
    bench.expect_answer(shown_by(bench.calculator.answer(given)))
