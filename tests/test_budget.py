"""A page to read comes in one round trip: its HTML and its styles, compressed as by a host."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

ONE_ROUND_TRIP = 14_000  # bytes: what a host may send before it has heard from the reader
STYLESHEET = re.compile(r'<link rel="stylesheet" href="([^"]+)"')


def compressed(file: Path) -> int:
    return len(gzip.compress(file.read_bytes(), 9))


def test_every_page_without_a_calculator_comes_in_one_round_trip(site: Path) -> None:
    sizes = {}
    for file in sorted(site.rglob("*.html")):
        text = file.read_text("utf-8")
        if "data-calculator" not in text:
            styles = [(file.parent / name).resolve() for name in STYLESHEET.findall(text)]
            assert styles, file
            sizes[file.relative_to(site).as_posix()] = sum(map(compressed, [file, *styles]))
    assert len(sizes) > 20
    assert max(sizes.values()) <= ONE_ROUND_TRIP, sorted(sizes.items(), key=lambda each: -each[1])
