"""The runtime loads while people type; it may come late, fail, or lose its server."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from urllib.error import URLError
from urllib.request import urlopen

import pytest
from playwright.sync_api import Route, expect

from tests.browser.calculator_page import CalculatorPage, shown_by
from tests.browser.conftest import MODELS, Cold, Keeping, Opening, Warm
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

    watch.context.route("**/image-*.zip", hold)
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


FAILURES = [abort, not_found, cut_short]
Failure = Callable[[Route], None]


@pytest.mark.parametrize("failure", FAILURES)
def test_whichever_file_is_missing_it_is_said_and_can_be_tried_again(
    opening: Opening, cold: Cold, kept: Keeping, failure: Failure
) -> None:
    watch, files = opening(), [file for file in kept(SLUG).runtime if not is_image(file)]
    assert len(files) == 2, "the worker's script and Pyodide"
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


def is_image(file: str) -> bool:
    return file.startswith("image-")


def changed(route: Route) -> None:
    """One bit is another."""
    response = route.fetch()
    content = bytearray(response.body())
    content[len(content) // 2] ^= 1
    route.fulfill(response=response, body=bytes(content))


@pytest.mark.parametrize("failure", [*FAILURES, changed])
def test_without_the_image_python_starts_from_its_byte_code(
    opening: Opening, cold: Cold, failure: Failure
) -> None:
    watch = opening()
    watch.expects_complaints = True
    with missing(watch, "image-*.zip", failure):
        bench = cold(SLUG, watch)
        bench.enter("wheel", "101")
        bench.expect_answer({"axis": "101"})
    expect(bench.button("Try again")).to_be_hidden()
    assert [url for url in watch.requests if "/python-" in url]


_IPHONE = (
    "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15 "
    "(KHTML, like Gecko) Version/18.0 Mobile/15E148 Safari/604.1"
)


def test_the_image_is_restored_where_pyodide_takes_the_way_of_an_iphone(
    opening: Opening, cold: Cold
) -> None:
    watch = opening(user_agent=_IPHONE)
    bench = cold(SLUG, watch)
    bench.enter("wheel", "101")
    bench.expect_answer({"axis": "101"})
    assert [url for url in watch.requests if is_image(url.rpartition("/")[2])]
    assert not [url for url in watch.requests if "/python-" in url]


@pytest.mark.parametrize(
    ("missing_part", "says"),
    [
        ("WebAssembly", "this browser has no WebAssembly"),
        ("DecompressionStream", "this browser is too old"),
    ],
)
def test_a_browser_that_cannot_run_python_is_told_and_keeps_the_page(
    opening: Opening, cold: Cold, missing_part: str, says: str
) -> None:
    watch = opening()
    watch.context.add_init_script(f"delete window.{missing_part}")
    bench = cold(SLUG, watch)
    shown = bench.shown()
    bench.enter("wheel", "101")
    check_said(bench)
    expect(bench.section.locator(".loading-says")).to_contain_text(says)
    assert bench.shown() == shown
    assert not [url for url in watch.requests if "/runtime/" in url]


def test_where_data_is_saved_nothing_loads_before_a_touch(opening: Opening, cold: Cold) -> None:
    watch = opening()
    watch.context.add_init_script(
        "Object.defineProperty(navigator, 'connection', {value: {saveData: true}})"
    )
    bench = cold(SLUG, watch)
    bench.page.wait_for_timeout(500)
    assert not [url for url in watch.requests if "/runtime/" in url]
    bench.enter("wheel", "101")
    bench.expect_answer({"axis": "101"})


def test_the_worker_ends_with_the_page(cold: Cold) -> None:
    bench = cold(SLUG)
    bench.enter("wheel", "101")
    bench.expect_answer({"axis": "101"})
    (worker,) = bench.page.workers
    with worker.expect_event("close"):
        bench.page.evaluate("() => { dispatchEvent(new PageTransitionEvent('pagehide')); }")
    bench.enter("wheel", "102")  # brought back, it starts another
    bench.expect_answer({"axis": "102"})


# With a document it takes itself for a page, and starts nothing.
_STUCK = """if (self.name === "image") {
    postMessage(JSON.stringify({loading: {received: 1, total: 1}}));
    self.document = "none";
}
"""


# Patience is short while these ways of starting are tried.
_HURRY = """const Plain = Worker;
window.Worker = class extends Plain {
    constructor(address, options) {
        super(address, options);
        Runtime.PATIENCE = HURRIED.includes(options.name) ? 100 : 60_000;
    }
};
"""


def test_an_image_that_never_starts_is_given_up(opening: Opening, cold: Cold, worker: str) -> None:
    watch = opening()
    watch.context.add_init_script(_HURRY.replace("HURRIED", "['image']"))
    with rewritten(watch, worker, _STUCK):
        bench = cold(SLUG, watch)
        bench.enter("wheel", "101")
        bench.expect_answer({"axis": "101"})


def hold(route: Route) -> None:
    """Nothing comes, and nothing fails."""


def test_an_image_that_stops_coming_is_given_up(opening: Opening, cold: Cold) -> None:
    watch = opening()
    watch.context.add_init_script(_HURRY.replace("HURRIED", "['image']"))
    with missing(watch, "image-*.zip", hold):
        bench = cold(SLUG, watch)
        bench.enter("wheel", "101")
        bench.expect_answer({"axis": "101"})


@pytest.mark.parametrize("file", ["python-*.zip", "engine-*.zip", "worker-*.js"])
def test_a_plain_start_that_stops_coming_is_told_and_can_be_tried_again(
    opening: Opening, cold: Cold, file: str
) -> None:
    watch = opening()
    watch.context.add_init_script(
        _HURRY.replace("HURRIED", "(window.calm ? [] : ['image', 'plain'])")
    )
    with missing(watch, "image-*.zip", hold), missing(watch, file, hold):
        bench = cold(SLUG, watch)
        bench.enter("wheel", "101")
        check_said(bench)
        expect(bench.section.locator(".loading-says")).to_contain_text("nothing more has come")
    bench.page.evaluate("() => { window.calm = true; }")
    bench.button("Try again").click()
    bench.expect_answer({"axis": "101"})


# A worker whose second answer never comes, because it ends in an error that nobody catches.
_BREAKING = """let count = 0;
Object.defineProperty(self, "onmessage", {
    set(answer) {
        addEventListener("message", (event) => {
            if (WHEN && ++count === 2) throw new Error("broken");
            answer(event);
        });
    },
});
"""


def test_a_worker_that_breaks_is_replaced_and_asked_again(
    opening: Opening, cold: Cold, worker: str
) -> None:
    watch = opening()
    with rewritten(watch, worker, _BREAKING.replace("WHEN", 'self.name === "image"')):
        bench = cold(SLUG, watch)
        for wheel in "101", "102", "103":
            bench.enter("wheel", wheel)
            bench.expect_answer({"axis": wheel})


def test_a_question_that_breaks_two_workers_is_refused_and_the_next_one_answered(
    opening: Opening, cold: Cold, worker: str
) -> None:
    watch = opening()
    always = _BREAKING.replace("WHEN && ++count === 2", 'event.data.includes("101")')
    with rewritten(watch, worker, always):
        bench = cold(SLUG, watch)
        bench.enter("wheel", "102")
        bench.expect_answer({"axis": "102"})
        bench.enter("wheel", "101")
        bench.leave()
        expect(bench.section.locator(".summary")).to_contain_text("broke off at these entries")
        assert bench.entry("wheel") == "101"
        bench.enter("wheel", "103")
        bench.expect_answer({"axis": "103"})


def test_of_the_entries_that_wait_only_the_newest_is_asked(warm: Warm) -> None:
    bench = warm(SLUG)
    bench.page.evaluate(
        """([slug, texts]) => {
        const post = Worker.prototype.postMessage;
        self.posted = 0;
        Worker.prototype.postMessage = function (...given) {
            self.posted++;
            post.apply(this, given);
        };
        const input = document.querySelector(`#${slug} [name=wheel]`);
        for (const text of texts) {
            input.value = text;
            input.dispatchEvent(new Event("input", {bubbles: true}));
        }
    }""",
        [SLUG, [str(wheel) for wheel in range(1, 100)]],
    )
    bench.expect_answer({"axis": "099"})
    assert bench.page.evaluate("() => self.posted") == 2  # the first, and the last


@contextmanager
def rewritten(watch: Watch, worker: str, before: str) -> Iterator[None]:
    """The worker's script with something before it while the block runs."""

    def rewrite(route: Route) -> None:
        response = route.fetch()
        route.fulfill(response=response, body=before + response.text())

    watch.context.route(f"**/{worker}", rewrite)
    yield
    watch.context.unroute(f"**/{worker}")


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


@pytest.mark.parametrize("slug", MODELS)
def test_a_loaded_calculator_needs_no_server(warm: Warm, slug: str) -> None:
    """`warm` checks afterwards that nothing was asked for."""
    bench = warm(slug)
    with pytest.raises(URLError):
        urlopen(bench.page.url)
    given = bench.calculator.examples[-1].given
    bench.go_to(**given)
    bench.expect_answer(shown_by(bench.calculator.answer(given)))
