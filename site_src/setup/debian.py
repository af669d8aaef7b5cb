"""Installs Debian's packages, where that needs no password."""

from __future__ import annotations

import os
import shutil
import subprocess
from functools import cache

from site_src.setup.steps import run, say


def can_install() -> bool:
    """Whether apt-get is here and may be run: as root, or through sudo without a password."""
    return _apt_get() is not None


def install(*packages: str) -> None:
    """Install Debian's `packages`.

    Errors  SetupError with what apt-get printed.
    """
    apt_get = _apt_get()
    assert apt_get is not None, "ask can_install() first"
    say(f"Installing Debian's {' and '.join(packages)} with apt-get.")
    failure = f"apt-get could not install {' and '.join(packages)}:"
    run([*apt_get, "update"], failure)
    run([*apt_get, "install", "--yes", "--no-install-recommends", *packages], failure)


@cache
def _apt_get() -> tuple[str, ...] | None:
    apt_get, sudo = shutil.which("apt-get"), shutil.which("sudo")
    if apt_get is None:
        return None
    quiet = ("env", "DEBIAN_FRONTEND=noninteractive", apt_get, "--quiet")
    if os.geteuid() == 0:
        return quiet
    if (
        sudo
        and subprocess.run([sudo, "-n", "true"], capture_output=True, check=False).returncode == 0
    ):
        return (sudo, "-n", *quiet)
    return None
