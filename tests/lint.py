"""Checks the style and the types of the code: python -m tests.lint."""

from __future__ import annotations

import subprocess
import sys

from site_src.setup import environment
from site_src.setup.steps import ROOT

CHECKS = ("ruff check", "ruff format --check", "mypy")


def main() -> None:
    environment.run_inside("check")
    results = [
        subprocess.run([sys.executable, "-m", *check.split()], cwd=ROOT, check=False).returncode
        for check in CHECKS
    ]
    sys.exit(int(any(results)))


if __name__ == "__main__":
    main()
