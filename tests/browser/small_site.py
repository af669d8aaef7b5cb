"""Small sites with the real worker and scripts, on a host that can be told to go wrong."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import BaseHTTPRequestHandler
from pathlib import Path
from threading import Event, Thread
from typing import Any

from playwright.sync_api import BrowserContext, Page, expect

from site_src.calculators.render import environment
from site_src.offline.offline import WORKER, kept_files, write_offline
from site_src.serve import Server
from site_src.setup.steps import ROOT

_STATIC = ROOT / "site_src" / "static"
_PAGE = """<!doctype html><html lang="en"><title>{word}</title>
<script defer src="{root}static/offline.js"></script>
<header class="masthead"></header><main id="word">{word}</main>{more}</html>"""
_WORKER = "postMessage(await (await fetch('word.txt')).text());"
_TYPES = {".html": "text/html", ".js": "text/javascript", ".txt": "text/plain"}


def write_site(folder: Path, word: str) -> None:
    """A site in which every file but the scripts says `word`."""
    for name in "offline.js", "keep.js":
        (folder / "static").mkdir(parents=True, exist_ok=True)
        shutil.copyfile(_STATIC / name, folder / "static" / name)
    keep = environment().get_template("keep.html").render(root="", script="static/keep.js")
    for place, more in {"index.html": "", "keep.html": keep, "deep/page.html": ""}.items():
        (folder / place).parent.mkdir(exist_ok=True)
        root = "../" * place.count("/")
        (folder / place).write_text(_PAGE.format(word=word, root=root, more=more), "utf-8")
    (folder / "static/word.txt").write_text(word, "utf-8")
    (folder / "static/worker.js").write_text(_WORKER, "utf-8")
    write_offline(folder)


class Host:
    """Serves one of the builds below /site/, and has everything kept in the browser's HTTP cache.

    `fault` is what happens to the file `faulty`.
    """

    def __init__(self, folders: Path) -> None:
        self.folders = folders
        self.home = ""
        self.word = "first"
        self.up = True
        self.faulty = ""
        self.fault = ""
        self.released = Event()
        self.asked: list[str] = []

    @property
    def folder(self) -> Path:
        return self.folders / self.word

    def files(self) -> list[str]:
        """The places that a copy of the build holds, in the order of fetching."""
        return [path for path, _, _ in kept_files(self.folder)]

    def cache_name(self, word: str) -> str:
        """The name of the cache that holds a build."""
        text = (self.folders / word / WORKER).read_text("utf-8")
        name = text.partition('{"name": "')[2][:16]
        return f"handbook {self.home} {name}"

    def go_wrong(self, path: str, fault: str) -> None:
        self.faulty, self.fault = path, fault
        self.released.clear()
        self.asked.clear()

    def go_right(self) -> None:
        self.faulty = ""
        self.released.set()


class _Handler(BaseHTTPRequestHandler):
    def __init__(self, host: Host, *given: Any) -> None:
        self.host = host
        super().__init__(*given)

    def do_GET(self) -> None:
        path = self.path.partition("?")[0].removeprefix("/site/") or "index.html"
        file = self.host.folder / path
        self.host.asked.append(path)
        fault = self.host.fault if path == self.host.faulty else ""
        if not self.host.up or fault == "refused":
            self.connection.close()
        elif fault == "missing" or not file.is_file():
            self._send(404, b"", ".txt")
        else:
            self._send(200, file.read_bytes(), file.suffix, fault)

    def _send(self, status: int, body: bytes, suffix: str, fault: str = "") -> None:
        if fault == "corrupted":
            body = body[:-1] + bytes([body[-1] ^ 1])
        if fault == "truncated":
            body = body[: len(body) // 2]
        if fault == "held":
            self.host.released.wait()
        self.send_response(status)
        self.send_header("Content-Type", _TYPES.get(suffix, "application/octet-stream"))
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Cache-Control", "max-age=86400")
        self.end_headers()
        self.wfile.write(body[: len(body) // 2] if fault == "broken" else body)

    def log_message(self, *_: object) -> None:
        """Says nothing of single requests."""


@contextmanager
def hosted(folders: Path) -> Iterator[Host]:
    """A host with the builds `first` and `second`, serving the first."""
    for word in "first", "second":
        write_site(folders / word, word)
    host = Host(folders)
    serving = Server(("127.0.0.1", 0), partial(_Handler, host))
    host.home = f"http://127.0.0.1:{serving.server_port}/site/"
    thread = Thread(target=serving.serve_forever, kwargs={"poll_interval": 0.02})
    thread.start()
    try:
        yield host
    finally:
        host.go_right()
        serving.shutdown()
        thread.join()
        serving.server_close()


# A device ------------------------------------------------------------------------------------

_UPDATE = """async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    const found = new Promise((done, fail) => {
        registration.addEventListener(
            "updatefound", () => done(registration.installing), {once: true});
        setTimeout(() => fail(new Error("no update was found")), 20000);
    });
    await registration.update();
    const worker = await found;
    while (!["installed", "activated", "redundant"].includes(worker.state)) {
        await new Promise((done) => worker.addEventListener("statechange", done, {once: true}));
    }
    return worker.state;
}"""

_IN_WORKER = """(address) => new Promise((done) => {
    new Worker(address, {type: "module"}).onmessage = (event) => done(event.data);
})"""

_AN_HOUR_PASSES = """async () => {
    for (const name of (await caches.keys()).filter((each) => each.endsWith(" pages"))) {
        const pages = await caches.open(name);
        for (const key of await pages.keys()) {
            const note = await (await pages.match(key)).json();
            note.seen -= 3600_001;
            await pages.put(key, new Response(JSON.stringify(note)));
        }
    }
}"""


def keep(context: BrowserContext, host: Host) -> Page:
    """Keeps the site as a person does, then opens its first page from the copy."""
    page = context.new_page()
    page.goto(host.home + "keep.html")
    page.get_by_role("button", name="Keep on this device").click()
    expect(page.locator("[data-part=checked]")).to_have_text("verified by reading every entry back")
    page.goto(host.home)
    assert page.evaluate("navigator.serviceWorker.controller.state") == "activated"
    return page


def opened(context: BrowserContext, host: Host, path: str = "index.html") -> Page:
    page = context.new_page()
    page.goto(host.home + path)
    return page


def update(page: Page) -> str:
    """Looks for an update; the state in which its worker ends: installed or redundant."""
    return str(page.evaluate(_UPDATE))


def shown(page: Page) -> str:
    """The build that the page itself is of."""
    return page.locator("#word").inner_text()


def fetched(page: Page, host: Host, path: str = "static/word.txt") -> str:
    """The text that the page gets when it asks for a file."""
    return str(page.evaluate("async (url) => (await fetch(url)).text()", host.home + path))


def fetched_in_worker(page: Page, host: Host) -> str:
    """The build that a worker started by the page is answered from."""
    return str(page.evaluate(_IN_WORKER, host.home + "static/worker.js"))


def comes_true(page: Page, expression: str, given: object = None) -> bool:
    """Whether the expression, awaited, becomes true within some seconds."""
    for _ in range(100):
        if page.evaluate(expression, given):
            return True
        page.wait_for_timeout(100)
    return False


def cache_names(page: Page) -> set[str]:
    return set(page.evaluate("caches.keys()"))


def an_hour_passes(page: Page) -> None:
    """For the worker's notes of when it last saw a page."""
    page.evaluate(_AN_HOUR_PASSES)


def stop_workers(page: Page) -> None:
    """Ends the service workers, as a browser does when they are idle; the next event starts one."""
    session = page.context.new_cdp_session(page)
    session.send("ServiceWorker.enable")
    session.send("ServiceWorker.stopAllWorkers")
    session.detach()


def clear_http_cache(page: Page) -> None:
    """Not the copy: what the browser keeps by itself as the host allows."""
    session = page.context.new_cdp_session(page)
    session.send("Network.clearBrowserCache")
    session.detach()


def change(page: Page) -> None:
    """Presses the button of the notice and waits for the page of the new build."""
    with page.expect_navigation():
        page.get_by_role("button", name="Change to it").click()
