"""Sets everything up and runs every test: python -m tests [--no-browser] [pytest's arguments]."""

from __future__ import annotations

import sys
from pathlib import Path

from site_src.runtime import pyodide_package
from site_src.search import library
from site_src.setup import browser, engines, environment, npm_package
from site_src.setup.steps import CACHE, SetupError, hand_over, plain_failures, say

NO_BROWSER = "--no-browser"
# A file of tests stays with one worker, which keeps what the file has loaded; the files with
# browsers come first, the many short ones fill the end.
IN_WORKERS = ["-n", "auto", "--maxprocesses", "4", "--dist", "loadfile", "--no-loadscope-reorder"]


@plain_failures()
def main(arguments: list[str]) -> None:
    environment.run_inside("test")
    pyodide_package.fetch(CACHE)
    library.fetch(CACHE)
    npm_package.fetch(CACHE, npm_package.Manifest.read(Path(__file__).with_name("axe.toml")))
    without = NO_BROWSER in arguments
    chosen = ["-m", "not browser"] if without else []
    passed_on = [argument for argument in arguments if argument != NO_BROWSER]
    spread = [] if passed_on else IN_WORKERS  # who asks for a test does not wait for workers
    command = [sys.executable, "-m", "pytest", *spread, *chosen, *passed_on]
    hand_over(command, {} if without else _browsers())


def _browsers() -> dict[str, str]:
    """Chromium's place, for the tests; the tests whose browser cannot be had say so themselves."""
    found: dict[str, str] = {}
    try:
        found[browser.OVERRIDE] = str(browser.ensure())
    except SetupError as error:
        say(str(error))
    try:
        engines.ensure()
    except SetupError as error:
        say(str(error))
    return found


if __name__ == "__main__":
    main(sys.argv[1:])
