"""Published figures as test cases, with the tolerance that their own digits give.

A check against print is right when the result rounds to the printed string. So a test says
`as_printed("-7.30")` and never chooses a tolerance.
"""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from lensmath.power import SAME_POWER, LensPower

PUBLISHED = Path(__file__).parent / "published"

Row = dict[str, str]


def as_printed(text: str, rounded_to: str = "") -> object:
    """Equal to every number that rounds to `text`: "-7.30" allows 0.005, "120" allows 0.5.

    `rounded_to` is the step of a source that rounds more coarsely than its last digit. It
    allows half that step about the multiple that is meant: "1.12" in eighths means 1.125.
    A number half-way between two prints equals both, since sources differ in how they round it.

    >>> -7.304 == as_printed("-7.30"), -7.306 == as_printed("-7.30")
    (True, False)
    >>> 1.185 == as_printed("1.12", rounded_to="0.125"), 1.06 == as_printed("1.12", "0.125")
    (True, False)
    """
    printed = Decimal(text)
    if rounded_to:
        step = Decimal(rounded_to)
        printed = round(printed / step) * step
    else:
        step = Decimal((0, (1,), int(printed.as_tuple().exponent)))
    return pytest.approx(float(printed), rel=0, abs=float(step) / 2 + SAME_POWER)


def rows(name: str) -> list[Row]:
    """The rows of tests/published/<name>.csv, every cell as text."""
    with (PUBLISHED / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def published(name: str) -> pytest.MarkDecorator:
    """Runs a test once for each of these rows; its id gives row, source and standing."""
    table = rows(name)
    names = [f"{row['id']} {row['source']} ({row['standing']})" for row in table]
    return pytest.mark.parametrize("row", table, ids=names)


def lens(row: Row, prefix: str = "") -> LensPower:
    """The lens in the columns sphere, cylinder and axis, or first_sphere, ... with a prefix."""
    axis = row[f"{prefix}axis"]
    return LensPower(
        float(row[f"{prefix}sphere"]),
        float(row[f"{prefix}cylinder"]),
        float(axis) if axis else None,
    )
