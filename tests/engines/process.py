"""Programs that are started for the tests and never outlive them."""

from __future__ import annotations

import os
import signal
import subprocess
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TypeVar

from tests.engines.engine import EngineError

Found = TypeVar("Found")

_SECONDS_TO_START = 60
_SECONDS_TO_END = 10
_LINES_OF_A_REASON = 12


class Program:
    """A program that runs, and the file that holds what it prints."""

    def __init__(self, process: subprocess.Popen[bytes], log: Path) -> None:
        self.process = process
        self.log = log

    def printed(self) -> str:
        return self.log.read_text("utf-8", errors="replace")

    def failure(self, sentence: str) -> EngineError:
        """The sentence, whether the program still runs, and the last lines that it printed."""
        code = self.process.poll()
        state = "It still runs" if code is None else f"It ended with code {code}"
        last = "\n  ".join(self.printed().splitlines()[-_LINES_OF_A_REASON:])
        return EngineError(f"{sentence} {state}, and printed:\n  {last}")

    def wait_for(self, ready: Callable[[], Found | None]) -> Found:
        """What `ready` finds, as soon as it finds something."""
        deadline = time.monotonic() + _SECONDS_TO_START
        while self.process.poll() is None and time.monotonic() < deadline:
            if (found := ready()) is not None:
                return found
            time.sleep(0.02)
        raise self.failure(f"{self.process.args!r} does not start.")

    def wait(self) -> None:
        """Give it time to end by itself."""
        with suppress(subprocess.TimeoutExpired):
            self.process.wait(_SECONDS_TO_END)


@contextmanager
def started(
    command: Sequence[str], log: Path, environ: Mapping[str, str] = {}
) -> Iterator[Program]:
    """A program of its own process group, which is ended as a whole after the block."""
    with (
        log.open("wb") as output,
        subprocess.Popen(
            command,
            stdin=subprocess.DEVNULL,
            stdout=output,
            stderr=subprocess.STDOUT,
            env={**os.environ, **environ},
            start_new_session=True,
        ) as process,
    ):
        try:
            yield Program(process, log)
        finally:
            _end(process)


def home_in(folder: Path) -> Path:
    """A home for a browser, so that it leaves the one of the person alone."""
    home = folder / "home"
    home.mkdir()
    return home


def _end(process: subprocess.Popen[bytes]) -> None:
    """Asks it to end, and ends it and whatever it started when it does not."""
    process.terminate()
    with suppress(subprocess.TimeoutExpired):
        process.wait(_SECONDS_TO_END)
    if os.name == "posix":
        with suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)
    else:
        process.kill()
