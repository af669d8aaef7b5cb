"""Finds a Chromium for the browser tests, or has one installed."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from site_src.setup import debian
from site_src.setup.steps import SetupError, run, say

# Names the browser to use instead of the one that would be found.
OVERRIDE = "HANDBOOK_CHROMIUM"

_ON_PATH = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "microsoft-edge",
    "msedge",
)
_MACOS_FOLDERS = ("/Applications", "~/Applications")
_MACOS_APPS = ("Chromium", "Google Chrome", "Microsoft Edge")
_WINDOWS_FOLDERS = ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")
_WINDOWS_PROGRAMS = (
    "Chromium/Application/chrome.exe",
    "Google/Chrome/Application/chrome.exe",
    "Microsoft/Edge/Application/msedge.exe",
)
_DEBIANS = Path("/usr/bin/chromium")
# Asked in a program of its own: a test that calls this may have started Playwright already, and it
# starts only once in a program.
_PLAYWRIGHTS_OWN = """
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    print(playwright.chromium.executable_path, end="")
"""
_SECONDS_TO_START = 60


def ensure() -> Path:
    """The program file of a Chromium that starts: named, on the machine, or installed now.

    Errors  SetupError when there is none and none can be installed.
    """
    if named := os.environ.get(OVERRIDE):
        if not starts(Path(named)):
            raise SetupError(f"{OVERRIDE} names {named}, which is no browser that starts.")
        return Path(named)
    return on_machine() or _downloaded() or _from_debian()


def launch_arguments() -> list[str]:
    """What to start the browser with, so that it asks nothing of the network by itself."""
    arguments = [
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-quic",
        "--disable-sync",
        "--no-first-run",
    ]
    # Chromium refuses to start with its sandbox as root.
    as_root = os.name == "posix" and os.geteuid() == 0
    return ["--no-sandbox", *arguments] if as_root else arguments


def on_machine() -> Path | None:
    """The first browser that starts, on PATH or where macOS and Windows keep programs."""
    return next((place for place in _places() if starts(place)), None)


def starts(program: Path) -> bool:
    """Whether the browser is there and all that it needs with it."""
    if os.name == "nt":
        # On Windows --version opens a window and prints nothing.
        return program.is_file()
    try:
        asked = subprocess.run(
            [program, "--version"], capture_output=True, timeout=_SECONDS_TO_START, check=False
        )
    except (OSError, subprocess.TimeoutExpired):
        return False
    return asked.returncode == 0


def _places() -> list[Path]:
    places = [Path(found) for name in _ON_PATH if (found := shutil.which(name))]
    if sys.platform == "darwin":
        places += [
            Path(folder).expanduser() / f"{app}.app/Contents/MacOS/{app}"
            for folder in _MACOS_FOLDERS
            for app in _MACOS_APPS
        ]
    if sys.platform == "win32":
        places += [
            Path(os.environ[folder]) / program
            for folder in _WINDOWS_FOLDERS
            if folder in os.environ
            for program in _WINDOWS_PROGRAMS
        ]
    return places


def _downloaded() -> Path | None:
    """Playwright's own Chromium, downloaded now if it has not been before."""
    program = Path(run([sys.executable, "-c", _PLAYWRIGHTS_OWN], "Playwright does not start:"))
    if not program.exists():
        say("No Chromium was found here. Asking Playwright to download one.")
        try:
            run([sys.executable, "-m", "playwright", "install", "chromium"], "It could not:")
        except SetupError as error:
            say(str(error))
    return program if starts(program) else None


def _from_debian() -> Path:
    if debian.can_install():
        debian.install("chromium", "fonts-dejavu-core")
        if starts(_DEBIANS):
            return _DEBIANS
    raise SetupError(
        "No browser that starts could be found or installed. Install Chromium or Chrome, or name "
        f"one in {OVERRIDE}, or leave out the tests that need one: python -m tests --no-browser"
    )
