"""Finds the other two browser engines that the tests run in, or has Debian's installed."""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import NamedTuple

from site_src.setup import debian

# Names the Firefox to use instead of the one that would be found.
FIREFOX_OVERRIDE = "HANDBOOK_FIREFOX"
# Set where a missing engine is a failure; elsewhere the tests that need it are left out.
ALL_NEEDED = "HANDBOOK_EVERY_ENGINE"


class Engine(NamedTuple):
    """An engine: the programs that the tests start, and the packages of Debian that hold them."""

    name: str
    programs: tuple[str, ...]
    packages: tuple[str, ...]

    def on_machine(self) -> list[Path] | None:
        """Its programs, or None when one of them is missing."""
        places = [shutil.which(program) for program in self.programs]
        return [Path(place) for place in places if place] if all(places) else None

    def how_to_get(self) -> str:
        """A sentence for those who miss it."""
        return (
            f"{self.name} is not here ({' and '.join(self.programs)}). On Debian, install it with: "
            f"sudo apt-get install {' '.join(self.packages)}"
        )


def firefox() -> Engine:
    """Firefox ESR, or the Firefox that the environment names."""
    return Engine("Firefox", (os.environ.get(FIREFOX_OVERRIDE, "firefox-esr"),), ("firefox-esr",))


def webkit() -> Engine:
    """WebKitGTK's driver, and the screen that it needs."""
    return Engine("WebKitGTK", ("WebKitWebDriver", "Xvfb"), ("webkit2gtk-driver", "xvfb"))


def ensure() -> None:
    """Have the engines that are missing installed, where Debian's can be without a password.

    Errors  SetupError with what apt-get printed.
    """
    missing = [engine for engine in (firefox(), webkit()) if engine.on_machine() is None]
    if missing and debian.can_install():
        debian.install(*(package for engine in missing for package in engine.packages))
