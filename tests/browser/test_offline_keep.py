"""The page that keeps a copy: what it does, what it says, and what it says when it cannot."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, Route, expect

from site_src.offline.offline import WORKER
from tests.browser.small_site import Host, cache_names, hosted, keep, opened

_PROMISE = """
    StorageManager.prototype.persist = async () => { sessionStorage.asked = "yes"; return true; };
    StorageManager.prototype.persisted = async () => sessionStorage.asked === "yes";
"""


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


def part(page: Page, name: str) -> Locator:
    return page.locator(f"[data-part={name}]")


def state(page: Page) -> str:
    """The one state of the page that shows."""
    shown = page.locator("[data-state]:visible")
    expect(shown).to_have_count(1)
    return str(shown.get_attribute("data-state"))


def press(page: Page) -> None:
    page.get_by_role("button", name="Keep on this device").click()


def test_it_says_what_is_kept_and_that_every_entry_was_read_back(
    device: BrowserContext, host: Host
) -> None:
    device.add_init_script(_PROMISE)
    page = opened(device, host, "keep.html")
    assert state(page) == "none"
    assert page.evaluate("sessionStorage.asked") is None, "nobody has asked for a copy"
    host.go_wrong(host.files()[-1], "held")
    press(page)
    size = sum((host.folder / path).stat().st_size for path in host.files())
    expect(part(page, "amount")).to_contain_text(f"of {size / 1e6:.1f} MB")
    assert state(page) == "keeping"
    assert 0 < part(page, "progress").evaluate("(bar) => bar.value") < 1
    host.go_right()
    expect(part(page, "checked")).to_have_text("verified by reading every entry back")
    assert state(page) == "kept"
    assert part(page, "size").inner_text() == f"{size / 1e6:.1f} MB in {len(host.files())} files"
    today = page.evaluate("new Date().toLocaleDateString('en-GB', {dateStyle: 'long'})")
    assert part(page, "date").inner_text() == today
    assert f'"edition": "{part(page, "edition").inner_text()}"' in (host.folder / WORKER).read_text(
        "utf-8"
    )
    assert "promised" in part(page, "lasting").inner_text()
    page.evaluate("sessionStorage.clear()")
    page.reload()
    expect(part(page, "lasting")).to_contain_text("may clear it")


def test_a_damaged_entry_is_named(device: BrowserContext, host: Host) -> None:
    page = keep(device, host)
    page.evaluate(
        "async ([name, url]) => (await caches.open(name)).put(url, new Response('other'))",
        [host.cache_name("first"), host.home + "static/word.txt"],
    )
    page.goto(host.home + "keep.html")
    expect(part(page, "checked")).to_contain_text("damaged: 1 of 7 files")
    expect(part(page, "checked")).to_contain_text("static/word.txt")


def test_a_removed_copy_is_gone_and_can_be_kept_again(device: BrowserContext, host: Host) -> None:
    page = keep(device, host)
    another = opened(device, host)  # still under the worker while the copy is removed
    page.evaluate("caches.open('of another site')")
    for _ in range(2):
        page.goto(host.home + "keep.html")
        page.get_by_role("button", name="Remove the copy").click()
        expect(page.get_by_role("button", name="Keep on this device")).to_be_visible()
        expect(part(page, "lost")).to_be_hidden()
        assert cache_names(page) == {"of another site"}
        assert page.evaluate("navigator.serviceWorker.controller") is None
        press(page)
        expect(part(page, "checked")).to_have_text("verified by reading every entry back")
        assert host.cache_name("first") in cache_names(page)
    another.reload()
    assert another.evaluate("navigator.serviceWorker.controller !== null")


def test_it_says_that_a_copy_is_gone_that_was_there(device: BrowserContext, host: Host) -> None:
    page = keep(device, host)
    edition = page.evaluate("JSON.parse(Object.values(localStorage)[0]).edition")
    device.new_cdp_session(page).send(
        "Storage.clearDataForOrigin",
        {
            "origin": "{0.scheme}://{0.netloc}".format(urlsplit(host.home)),
            "storageTypes": "service_workers,cache_storage",
        },
    )
    page.goto(host.home + "keep.html")
    expect(part(page, "lost")).to_be_visible()
    expect(part(page, "lost")).to_contain_text(f"edition {edition}")
    expect(part(page, "lost")).to_contain_text("seven days")
    press(page)
    expect(part(page, "checked")).to_have_text("verified by reading every entry back")


# Where it cannot ------------------------------------------------------------------------------


def test_a_browser_without_room_says_so(device: BrowserContext, host: Host) -> None:
    page = opened(device, host, "keep.html")
    origin = "{0.scheme}://{0.netloc}".format(urlsplit(host.home))
    session = device.new_cdp_session(page)
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 3000})
    press(page)
    expect(page.get_by_role("alert")).to_contain_text("has no room for")
    assert state(page) == "none"
    assert cache_names(page) == set()


def test_a_host_without_the_worker_is_told(device: BrowserContext, host: Host) -> None:
    (host.folder / WORKER).unlink()
    page = opened(device, host, "keep.html")
    press(page)
    expect(page.get_by_role("alert")).to_contain_text("404")
    assert state(page) == "none"


def test_where_storage_is_switched_off_it_says_so(device: BrowserContext, host: Host) -> None:
    device.add_init_script(
        "ServiceWorkerContainer.prototype.getRegistration = async () => { throw new Error(); };"
    )
    assert state(opened(device, host, "keep.html")) == "unable"


def test_opened_as_a_file_the_folder_is_the_copy(device: BrowserContext, host: Host) -> None:
    page = device.new_page()
    page.goto((host.folder / "keep.html").as_uri())
    assert state(page) == "file"
    expect(page.get_by_role("button")).to_have_count(0)


@pytest.mark.parametrize(("scheme", "shows"), [("http", "plain"), ("https", "unable")])
def test_without_service_workers_it_says_what_works_instead(
    device: BrowserContext, host: Host, scheme: str, shows: str
) -> None:
    """Over plain http the browser has none by itself; over https one is made to have none."""

    def answer(route: Route) -> None:
        route.fulfill(path=host.folder / urlsplit(route.request.url).path.lstrip("/"))

    home = f"{scheme}://intranet.test/"
    device.route(f"{home}**", answer)
    if scheme == "https":
        device.add_init_script("delete Navigator.prototype.serviceWorker")
    page = device.new_page()
    page.goto(f"{home}keep.html")
    assert state(page) == shows
    expect(page.get_by_role("button")).to_have_count(0)
