"""Firefox through WebDriver BiDi, which it speaks itself over a websocket.

https://www.w3.org/TR/webdriver-bidi/ is where the names of commands and events come from.
"""

from __future__ import annotations

import json
import re
from base64 import b64decode
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from websockets.exceptions import ConnectionClosed
from websockets.sync.client import ClientConnection, connect

from tests.engines.engine import PATIENCE, Engine, EngineError, ScriptError
from tests.engines.keys import NAMED, strokes
from tests.engines.process import Program, home_in, started


class Firefox(Engine):
    name = "Firefox"

    def __init__(self, program: Program, socket: ClientConnection, folder: Path) -> None:
        self.folder = folder
        self._program = program
        self._socket = socket
        self._asked = 0
        self._complaints: list[str] = []
        self._ask("session.new", capabilities={})
        self._ask("session.subscribe", events=["log.entryAdded"])
        self._tab = self._ask("browsingContext.create", type="tab")["context"]

    def open(self, address: str) -> None:
        self._go("about:blank")
        self._complaints.clear()
        self._go(address)

    def press(self, key: str) -> None:
        self.type(NAMED[key])

    def type(self, text: str) -> None:
        self._ask("input.performActions", context=self._tab, actions=strokes(text))

    def complaints(self) -> list[str]:
        self._ask("session.status")  # what happened before is heard of before the answer
        return list(self._complaints)

    def screenshot(self, file: Path) -> None:
        taken = self._ask("browsingContext.captureScreenshot", context=self._tab)
        file.write_bytes(b64decode(taken["data"]))

    def quit(self) -> None:
        self._ask("browser.close")
        self._program.wait()

    def _go(self, address: str) -> None:
        self._ask("browsingContext.navigate", context=self._tab, url=address, wait="complete")

    def _run(self, expression: str) -> str:
        given = self._ask(
            "script.evaluate",
            expression=expression,
            target={"context": self._tab},
            awaitPromise=False,
        )
        if given["type"] == "exception":
            raise ScriptError(f"Firefox: {given['exceptionDetails']['text']}")
        return str(given["result"]["value"])

    def _ask(self, method: str, **params: object) -> dict[str, Any]:
        """The result of a command; the events that come before it are heard."""
        self._asked += 1
        command = {"id": self._asked, "method": method, "params": params}
        try:
            self._socket.send(json.dumps(command))
            while (message := json.loads(self._socket.recv(PATIENCE))).get("id") != self._asked:
                self._hear(message)
        except (ConnectionClosed, TimeoutError) as error:
            raise self._program.failure(f"Firefox does not answer {method}.") from error
        if message["type"] == "error":
            raise EngineError(f"Firefox refuses {method}: {message['message']}")
        result: dict[str, Any] = message["result"]
        return result

    def _hear(self, event: dict[str, Any]) -> None:
        if event.get("method") == "log.entryAdded" and event["params"]["level"] == "error":
            self._complaints.append(f"{event['params']['type']}: {event['params']['text']}")


@contextmanager
def running(program: Path, folder: Path) -> Iterator[Engine]:
    """Firefox while the block runs, with a profile that is its alone."""
    profile = home_in(folder) / "profile"
    profile.mkdir()
    command = [str(program), "--headless", "--remote-debugging-port=0", "--profile", str(profile)]
    with started(command, folder / "firefox.log", {"HOME": str(profile.parent)}) as firefox:
        found = firefox.wait_for(lambda: re.search(r"ws://\S+", firefox.printed()))
        with connect(f"{found[0]}/session", max_size=None) as socket:
            engine = Firefox(firefox, socket, folder)
            yield engine
            engine.quit()
