"""One small interface to a browser, the same for every engine."""

from __future__ import annotations

import json
import time
from abc import ABC, abstractmethod
from pathlib import Path
from typing import Any

PATIENCE = 120.0  # seconds; Firefox with all else at work was seen not to have started after 60
_PAUSE = 0.05


class EngineError(Exception):
    """The browser does not start, has died, or cannot run a script; the sentence says which."""


class ScriptError(EngineError):
    """A script failed, or the page that it ran in was left in the meantime."""


class Engine(ABC):
    """A browser with one page open. It is given a `folder` of its own, which it may fill."""

    name: str
    folder: Path

    @abstractmethod
    def open(self, address: str) -> None:
        """Load a page, even when it is the one that is open, and wait until it has loaded."""

    @abstractmethod
    def press(self, key: str) -> None:
        """Press a key that has a name in `keys.NAMED`."""

    @abstractmethod
    def type(self, text: str) -> None:
        """Press the key of each character, one after the other."""

    @abstractmethod
    def complaints(self) -> list[str]:
        """Errors on the console and errors that nothing caught, since `open`."""

    @abstractmethod
    def screenshot(self, file: Path) -> None:
        """Save what the page looks like as a PNG."""

    @abstractmethod
    def _run(self, expression: str) -> str:
        """The text that a JavaScript expression gives in the page; ScriptError when it throws."""

    def evaluate(self, function: str, *arguments: object) -> Any:
        """What a JavaScript function gives in the page. All goes over and back as JSON."""
        return json.loads(self._run(self._expression(function, *arguments)))

    def _expression(self, function: str, *arguments: object) -> str:
        given = ", ".join(json.dumps(argument) for argument in arguments)
        return f"JSON.stringify(({function})({given}) ?? null)"

    def expect(self, wanted: object, function: str, *arguments: object) -> None:
        """Wait until the function gives what is wanted, on this page or the next."""
        deadline = time.monotonic() + PATIENCE
        while (found := self._attempt(function, *arguments)) != wanted:
            if time.monotonic() > deadline:
                raise AssertionError(f"{found!r} is there, not {wanted!r}. {self._seen()}")
            time.sleep(_PAUSE)

    def _seen(self) -> str:
        """What there is to look at when the page never came to show what was wanted."""
        picture = self.folder / "never.png"
        try:
            self.screenshot(picture)
        except EngineError as error:
            return f"{self.name} complains of {self.complaints()}; no picture of it: {error}"
        return f"{self.name} complains of {self.complaints()}; a picture of it is in {picture}"

    def _attempt(self, function: str, *arguments: object) -> Any:
        try:
            return self.evaluate(function, *arguments)
        except ScriptError as error:
            return str(error)
