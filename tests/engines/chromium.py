"""Chromium through Playwright.

Playwright's sync API starts once in a thread, and the tests in `tests/browser` have started it in
theirs; so this one has a thread of its own, in which everything is done.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import TypeVar

from playwright.sync_api import Browser, Error, Playwright, sync_playwright

from site_src.setup import browser as set_up
from tests.browser.watch import Watch
from tests.engines.engine import PATIENCE, Engine, ScriptError

Given = TypeVar("Given")


class Chromium(Engine):
    name = "Chromium"

    def __init__(self, browser: Browser, thread: ThreadPoolExecutor, folder: Path) -> None:
        self.folder = folder
        self._thread = thread
        context = browser.new_context(reduced_motion="reduce")
        context.set_default_timeout(1000 * PATIENCE)
        self._watch = Watch(context, home="")
        self._page = context.new_page()

    def open(self, address: str) -> None:
        self._do(lambda: self._page.goto("about:blank"))
        self._watch.forget()
        self._do(lambda: self._page.goto(address))

    def press(self, key: str) -> None:
        self._do(lambda: self._page.keyboard.press(key))

    def type(self, text: str) -> None:
        self._do(lambda: self._page.keyboard.type(text))

    def complaints(self) -> list[str]:
        # Playwright hears of events while it waits for something.
        self._run("'heard'")
        return list(self._watch.complaints)

    def screenshot(self, file: Path) -> None:
        self._do(lambda: self._page.screenshot(path=file))

    def _run(self, expression: str) -> str:
        return str(self._do(lambda: self._page.evaluate(expression)))

    def _do(self, step: Callable[[], Given]) -> Given:
        try:
            return self._thread.submit(step).result()
        except Error as error:
            raise ScriptError(f"Chromium: {error}") from error


@contextmanager
def running(program: Path, folder: Path) -> Iterator[Engine]:
    """Chromium while the block runs."""
    with ThreadPoolExecutor(1) as thread:
        manager = sync_playwright()
        playwright: Playwright = thread.submit(manager.start).result()
        try:
            launch = thread.submit(
                playwright.chromium.launch,
                executable_path=program,
                args=set_up.launch_arguments(),
            )
            browser = launch.result()
            yield thread.submit(Chromium, browser, thread, folder).result()
            thread.submit(browser.close).result()
        finally:
            thread.submit(playwright.stop).result()
