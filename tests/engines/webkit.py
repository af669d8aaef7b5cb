"""WebKitGTK through its WebDriver, on a screen that nobody sees.

https://www.w3.org/TR/webdriver2/ is where the names of commands come from.
"""

from __future__ import annotations

import json
import re
import shlex
import socket
from base64 import b64decode
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.error import HTTPError, URLError
from urllib.request import Request, urlopen

from tests.engines.engine import PATIENCE, Engine, EngineError, ScriptError
from tests.engines.keys import NAMED, strokes
from tests.engines.process import Program, home_in, started

# What needs a graphics card or rights that a machine for tests may lack is switched off.
_PLAIN = {
    "GDK_BACKEND": "x11",
    "LIBGL_ALWAYS_SOFTWARE": "1",
    "WEBKIT_DISABLE_COMPOSITING_MODE": "1",
    "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1",
}

_MINIBROWSERS = ("lib/*/webkit*/MiniBrowser", "libexec/webkit*/MiniBrowser")  # below /usr

# WebDriver tells nothing of the console, so the page itself is made to keep what is said there. The
# errors of its scripts while it loads are too early for this: those leave a calculator dead.
_LISTEN = """if (!window.complaintsHeard) {
    const heard = window.complaintsHeard = [];
    const say = console.error;
    console.error = (...all) => { heard.push(`console: ${all.join(" ")}`); say(...all); };
    addEventListener("error", (event) => heard.push(`uncaught: ${event.message}`));
    addEventListener("unhandledrejection", (event) => heard.push(`uncaught: ${event.reason}`));
}"""


_PAGE_ERRORS = ("javascript error", "no such frame")  # the second when the page is just left

LEAVING = 10  # s; after that the next page is asked


class WebKit(Engine):
    name = "WebKitGTK"

    def __init__(self, program: Program, driver: str, folder: Path) -> None:
        self.folder = folder
        self._program = program
        self._driver = driver
        options = {"binary": str(_browser(folder, program.log)), "args": ["--automation"]}
        wanted = {"alwaysMatch": {"webkitgtk:browserOptions": options}}
        made = self._ask("POST", "/session", {"capabilities": wanted})
        self._session = f"/session/{made['sessionId']}"

    def open(self, address: str) -> None:
        for place in "about:blank", address:
            self._ask("POST", f"{self._session}/url", {"url": place})
        self._run("'listening'")

    def press(self, key: str) -> None:
        self.type(NAMED[key])

    def type(self, text: str) -> None:
        self._ask("POST", f"{self._session}/actions", {"actions": strokes(text)})

    def complaints(self) -> list[str]:
        heard: list[str] = self.evaluate("() => complaintsHeard")
        return heard

    def screenshot(self, file: Path) -> None:
        # A page that has stood still for long is not always painted again: seen in 2.50.6.
        taken = self._ask("GET", f"{self._session}/screenshot", patience=10)
        file.write_bytes(b64decode(taken))

    def quit(self) -> None:
        self._ask("DELETE", self._session)

    def _run(self, expression: str, patience: float = PATIENCE) -> str:
        script = f"{_LISTEN} return {expression};"
        body = {"script": script, "args": []}
        return str(self._ask("POST", f"{self._session}/execute/sync", body, patience))

    def _attempt(self, function: str, *arguments: object) -> Any:
        """As in any engine; but a page that is just leaving may never answer (seen in 2.50.6)."""
        try:
            return json.loads(self._run(self._expression(function, *arguments), LEAVING))
        except ScriptError as error:
            return str(error)
        except EngineError as error:
            if isinstance(error.__cause__, TimeoutError):
                return str(error)
            raise

    def _ask(self, method: str, path: str, body: object = None, patience: float = PATIENCE) -> Any:
        data = None if body is None else json.dumps(body).encode()
        request = Request(self._driver + path, data, {"Content-Type": "application/json"})
        request.method = method
        try:
            with urlopen(request, timeout=patience) as answer:
                return json.load(answer)["value"]
        except HTTPError as error:
            with error:
                value = json.load(error)["value"]
            kind = ScriptError if value["error"] in _PAGE_ERRORS else EngineError
            raise kind(f"WebKitGTK: {value['error']}: {value['message']}.") from error
        except OSError as error:
            raise self._program.failure(f"WebKitGTK does not answer: {error}.") from error


@contextmanager
def running(driver: Path, xvfb: Path, folder: Path) -> Iterator[Engine]:
    """WebKitGTK while the block runs, with a screen and a home that are its alone."""
    with _screen(xvfb, folder) as screen:
        port = _free_port()
        address = f"http://127.0.0.1:{port}"
        environ = {**_PLAIN, "HOME": str(home_in(folder)), "DISPLAY": screen}
        command = [str(driver), f"--port={port}"]
        with started(command, folder / "webkit.log", environ) as program:
            program.wait_for(lambda: _answers(address))
            engine = WebKit(program, address, folder)
            yield engine
            engine.quit()


@contextmanager
def _screen(xvfb: Path, folder: Path) -> Iterator[str]:
    """The name of a screen that is free, and is there while the block runs."""
    command = [str(xvfb), "-displayfd", "1", "-screen", "0", "1280x1024x24", "-nolisten", "tcp"]
    with started(command, folder / "screen.log") as program:
        number = program.wait_for(lambda: re.search(r"^(\d+)\n", program.printed(), re.MULTILINE))
        yield f":{number[1]}"


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
    return port


def _answers(driver: str) -> bool | None:
    try:
        with urlopen(f"{driver}/status", timeout=PATIENCE):
            return True
    except URLError:
        return None


def _browser(folder: Path, log: Path) -> Path:
    """A program that starts WebKitGTK's browser; the driver alone drops what that prints."""
    places = [place for pattern in _MINIBROWSERS for place in Path("/usr").glob(pattern)]
    if not places:
        raise EngineError("WebKitGTK came without the MiniBrowser that its driver starts.")
    starter = folder / "minibrowser"
    starter.write_text(f'#!/bin/sh\nexec {places[0]} "$@" >>{shlex.quote(str(log))} 2>&1\n')
    starter.chmod(0o700)
    return starter
