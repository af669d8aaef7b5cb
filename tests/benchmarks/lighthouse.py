"""Lighthouse over every page of the handbook: python -m tests.benchmarks.lighthouse [page ...].

It serves `dist/` on this machine and asks nothing else. The bars: accessibility, best practices and
SEO 100, performance at least 99, no layout shift. npm installs Lighthouse into the cache first.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from site_src.setup import browser, node
from site_src.setup.steps import CACHE, ROOT, run, say
from tests.browser.conftest import served

RELEASE = ("lighthouse@13.5.0", "chrome-launcher@1.2.1")
FOLDER = CACHE / "lighthouse"
RUNNER = Path(__file__).with_suffix(".mjs")
FULL = {"accessibility": 100, "best-practices": 100, "seo": 100, "performance": 99}
TRIES = 3  # a busy machine costs a page points; the best of three is the page's own


def main(wanted: Sequence[str]) -> int:
    """Prints the scores of each page; the number of pages below a bar."""
    dist = ROOT / "dist"
    pages = [*wanted] or sorted(file.relative_to(dist).as_posix() for file in dist.rglob("*.html"))
    _install()
    below = pages
    with served(dist) as home:
        for _ in range(TRIES):
            below = [page for page, good in _scored(home, below) if not good]
    say(f"{len(pages) - len(below)} of {len(pages)} pages reach every bar.")
    return len(below)


def _scored(home: str, pages: Sequence[str]) -> Iterator[tuple[str, bool]]:
    given = [str(browser.ensure()), json.dumps(browser.launch_arguments())]
    command = [*node.commands().node, str(FOLDER / RUNNER.name), *given, *(home + p for p in pages)]
    if not pages:
        return
    with subprocess.Popen(command, stdout=subprocess.PIPE, encoding="utf-8") as running:
        assert running.stdout
        for line in running.stdout:
            found = json.loads(line)
            good = not found["shift"] and all(
                found["scores"][name] >= bar for name, bar in FULL.items()
            )
            page = found["address"].removeprefix(home)
            scores = " ".join(f"{found['scores'][name]:3d}" for name in FULL)
            say(f"{scores}  {found['shift']:.3f}  {page}  {'' if good else found['lost']}")
            yield page, good


def _install() -> None:
    FOLDER.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(RUNNER, FOLDER / RUNNER.name)
    if not (FOLDER / "node_modules").is_dir():
        say("Installing Lighthouse with npm.")
        options = ["--prefix", str(FOLDER), "--no-save", "--no-package-lock", "--ignore-scripts"]
        run([*node.commands().npm, "install", *options, *RELEASE], "npm could not install it:")


if __name__ == "__main__":
    sys.exit(min(1, main(sys.argv[1:])))
