"""A kept copy is whole or absent, a page never sees two builds, and nothing changes by itself."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

from site_src.offline.offline import WORKER
from site_src.setup.steps import ROOT
from tests.browser.small_site import (
    Host,
    an_hour_passes,
    cache_names,
    change,
    clear_http_cache,
    comes_true,
    fetched,
    fetched_in_worker,
    hosted,
    keep,
    opened,
    shown,
    stop_workers,
    update,
)

RETIRE = ROOT / "site_src" / "offline" / "retire.js"
GONE = "async (name) => !(await caches.has(name))"


@pytest.fixture
def host(tmp_path: Path) -> Iterator[Host]:
    with hosted(tmp_path) as found:
        yield found


@pytest.fixture
def device(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context()
    context.set_default_timeout(20_000)
    yield context
    context.close()


@pytest.fixture
def page(device: BrowserContext, host: Host) -> Page:
    """A page of a kept first build, while the host has the second."""
    kept = keep(device, host)
    host.word = "second"
    return kept


def check_whole(page: Page, host: Host, word: str = "first") -> None:
    """Every file of the build comes from the copy as it is, the host being away."""
    host.up = False
    for path in host.files():
        assert fetched(page, host, path) == (host.folders / word / path).read_text("utf-8"), path
    page.reload()
    assert shown(page) == word
    host.up = True


def notice(page: Page) -> Locator:
    return page.get_by_text("A new edition is ready.")


# Keeping and updating ------------------------------------------------------------------------


def test_nothing_is_kept_or_asked_for_without_the_button(
    device: BrowserContext, host: Host
) -> None:
    for path in "index.html", "keep.html", "deep/page.html":
        page = opened(device, host, path)
        page.wait_for_load_state("networkidle")
    assert cache_names(page) == set()
    assert (
        page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0
    )
    assert WORKER not in host.asked


def test_a_build_has_one_cache_named_by_its_hash(page: Page, host: Host) -> None:
    pages = f"handbook {host.home} pages"
    assert cache_names(page) == {host.cache_name("first"), pages}
    assert update(page) == "installed"
    assert cache_names(page) == {host.cache_name("first"), host.cache_name("second"), pages}
    check_whole(page, host)


def test_the_worker_answers_below_its_own_folder_and_is_never_taken_from_a_cache(
    page: Page, host: Host
) -> None:
    registration = "navigator.serviceWorker.getRegistration().then((one) => one."
    assert page.evaluate(f"{registration}scope)") == host.home
    assert page.evaluate(f"{registration}updateViaCache)") == "none"
    host.asked.clear()
    page.evaluate("fetch('/other/').catch(() => {})")
    assert host.asked == ["/other/"]


@pytest.mark.parametrize("fault", ["broken", "refused", "truncated", "corrupted", "missing"])
def test_an_update_that_breaks_leaves_the_old_build_whole(
    page: Page, host: Host, fault: str
) -> None:
    """At every file for a broken connection, else at the first, one between and the last."""
    before = cache_names(page)
    files = host.files()
    for path in files if fault == "broken" else (files[0], files[3], files[-1]):
        host.go_wrong(path, fault)
        assert update(page) == "redundant", path
        assert path in host.asked
        assert cache_names(page) == before, path
        check_whole(page, host)
    host.go_right()
    assert update(page) == "installed"


def test_a_first_copy_that_breaks_is_no_copy(device: BrowserContext, host: Host) -> None:
    page = opened(device, host, "keep.html")
    for path in host.files()[0], host.files()[-1]:
        host.go_wrong(path, "corrupted")
        page.get_by_role("button", name="Keep on this device").click()
        expect(page.get_by_role("alert")).to_contain_text(path)
        assert cache_names(page) == set()
        expect(page.get_by_role("button", name="Keep on this device")).to_be_visible()


# Changing ------------------------------------------------------------------------------------


def test_nothing_changes_before_the_button_is_pressed(
    page: Page, device: BrowserContext, host: Host
) -> None:
    expect(notice(page)).to_have_count(0)
    assert update(page) == "installed"
    expect(notice(page)).to_be_visible()
    page.reload()
    expect(notice(page)).to_be_visible()
    another = opened(device, host, "deep/page.html")
    expect(notice(another)).to_be_visible()
    assert [shown(page), fetched(page, host), shown(another)] == ["first"] * 3
    change(page)
    assert [shown(page), fetched(page, host)] == ["second"] * 2
    expect(notice(page)).to_have_count(0)
    check_whole(page, host, "second")


def test_an_open_page_stays_with_its_build_until_it_is_loaded_again(
    page: Page, device: BrowserContext, host: Host
) -> None:
    other = opened(device, host, "deep/page.html")
    assert update(page) == "installed"
    change(page)
    for _ in "with the worker as it runs", "after it was ended and started again":
        for path in host.files():
            first = (host.folders / "first" / path).read_text("utf-8")
            assert fetched(other, host, path) == first, path
        assert fetched_in_worker(other, host) == "first"
        assert fetched_in_worker(page, host) == fetched(page, host) == "second"
        stop_workers(page)
    assert shown(other) == "first", "it was loaded again by force"
    change(other)
    assert [shown(other), fetched(other, host), fetched_in_worker(other, host)] == ["second"] * 3


def test_a_worker_that_runs_stays_with_the_build_of_its_page(
    page: Page, device: BrowserContext, host: Host
) -> None:
    """What it asks for late, after the change, is of the old build too."""
    other = opened(device, host)
    other.evaluate(
        """(url) => {
            const code = `onmessage = async () =>
                postMessage(await (await fetch("${url}")).text());`;
            window.late = new Worker(URL.createObjectURL(new Blob([code])));
        }""",
        host.home + "static/word.txt",
    )
    ask = """() => new Promise((done) => {
        late.onmessage = (event) => done(event.data);
        late.postMessage("");
    })"""
    assert other.evaluate(ask) == "first"
    assert update(page) == "installed"
    change(page)
    assert other.evaluate(ask) == "first"


# Deleting ------------------------------------------------------------------------------------


def test_an_old_build_goes_when_no_page_uses_it(
    page: Page, device: BrowserContext, host: Host
) -> None:
    other = opened(device, host)
    assert update(page) == "installed"
    change(page)
    an_hour_passes(page)
    page.reload()
    assert host.cache_name("first") in cache_names(page), "a page is still open on it"
    assert fetched(other, host) == "first"
    other.close()
    page.reload()
    assert host.cache_name("first") in cache_names(page), "the page may wait behind a back button"
    an_hour_passes(page)
    page.reload()
    assert comes_true(page, GONE, host.cache_name("first"))
    check_whole(page, host, "second")


def test_when_every_page_was_closed_the_new_build_opens(
    page: Page, device: BrowserContext, host: Host
) -> None:
    assert update(page) == "installed"
    an_hour_passes(page)
    page.close()
    again = opened(device, host)
    assert [shown(again), fetched(again, host)] == ["second"] * 2
    assert comes_true(again, GONE, host.cache_name("first"))


def test_a_build_on_its_way_is_not_deleted_as_unused(page: Page, host: Host) -> None:
    host.go_wrong(host.files()[-1], "held")
    page.evaluate("navigator.serviceWorker.getRegistration().then((one) => one.update())")
    assert comes_true(page, "(name) => caches.has(name)", host.cache_name("second"))
    page.reload()
    page.reload()
    host.go_right()
    expect(notice(page)).to_be_visible()
    page.reload()
    page.reload()
    change(page)
    check_whole(page, host, "second")


def test_a_build_that_comes_back_broken_stays_whole_where_it_is_open(
    page: Page, device: BrowserContext, host: Host
) -> None:
    other = opened(device, host)
    assert update(page) == "installed"
    change(page)
    host.word = "first"
    host.go_wrong(host.files()[2], "corrupted")
    assert update(page) == "redundant"
    for path in host.files():
        first = (host.folders / "first" / path).read_text("utf-8")
        assert fetched(other, host, path) == first, path


# Without a copy --------------------------------------------------------------------------------


def test_a_page_opened_when_the_copy_is_gone_is_the_hosts_wholly(
    page: Page, device: BrowserContext, host: Host
) -> None:
    page.evaluate("(name) => caches.delete(name)", host.cache_name("first"))
    clear_http_cache(page)
    assert fetched(page, host) != "second", "the page is of the first build"
    from_host = opened(device, host)
    assert [shown(from_host), fetched(from_host, host)] == ["second"] * 2


def test_the_retiring_worker_leaves_no_copy_and_reloads_nothing(
    page: Page, device: BrowserContext, host: Host
) -> None:
    clear_http_cache(page)
    page.evaluate("window.stays = caches.open('of another site')")
    (host.folders / "second" / WORKER).write_bytes(RETIRE.read_bytes())
    assert update(page) in ("installed", "activated")
    assert comes_true(
        page, "navigator.serviceWorker.getRegistrations().then((all) => all.length === 0)"
    )
    assert cache_names(page) == {"of another site"}
    assert page.evaluate("window.stays instanceof Promise"), "it was loaded again by force"
    assert shown(opened(device, host)) == "second"
    page.reload()
    assert shown(page) == "second"
    assert page.evaluate("navigator.serviceWorker.controller") is None


def test_names_of_caches_are_the_same_in_both_workers() -> None:
    start = "`handbook ${self.registration.scope} `"
    assert start in RETIRE.read_text("utf-8")
    worker = (RETIRE.parent / WORKER).read_text("utf-8")
    assert "const SCOPE = self.registration.scope;" in worker
    assert "const PREFIX = `handbook ${SCOPE} `;" in worker
