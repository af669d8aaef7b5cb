"""What every step of the set-up is made of: say it, run it, fail in a sentence."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import NoReturn

ROOT = Path(__file__).resolve().parents[2]
CACHE = ROOT / ".cache"

_LINES_OF_A_REASON = 4


class SetupError(Exception):
    """A step of the set-up cannot be done; the sentence says which and why."""


def say(sentence: str) -> None:
    """Tell the person at the terminal, at once, what is being done."""
    print(sentence, flush=True)


def run(command: Sequence[str | Path], failure: str) -> str:
    """Run a program and return what it printed.

    Errors  SetupError: `failure` and the last lines that the program printed.
    """
    try:
        done = subprocess.run(
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
            check=False,
        )
    except OSError as error:
        raise SetupError(f"{failure}\n  {error}") from error
    if done.returncode != 0:
        raise SetupError("\n  ".join([failure, *_last_lines(done.stdout)]))
    return done.stdout


def hand_over(command: Sequence[str | Path], environ: Mapping[str, str] = {}) -> NoReturn:
    """Go on as another program, whose exit code becomes this one's."""
    words = [str(word) for word in command]
    full_environ = {**os.environ, **environ}
    sys.stdout.flush()
    if os.name == "posix":
        os.execve(words[0], words, full_environ)
    # On Windows exec returns to the prompt at once and leaves the new program in the background.
    sys.exit(subprocess.call(words, env=full_environ))


@contextmanager
def plain_failures() -> Iterator[None]:
    """End the program with the sentence of a SetupError and exit code 1, without a traceback."""
    try:
        yield
    except SetupError as error:
        sys.exit(str(error))
    except KeyboardInterrupt:
        sys.exit("Stopped.")


def _last_lines(output: str) -> list[str]:
    """The last lines that a program printed, the call stack of a JavaScript error left out."""
    lines = [line.strip() for line in output.splitlines()]
    told = [line for line in lines if line and not line.startswith(("at ", "}"))]
    return told[-_LINES_OF_A_REASON:]
