"""Limits and bands in words, and the bands of several standards laid over each other."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from types import MappingProxyType
from typing import NamedTuple

from lensmath.tolerances.model import (
    Governing,
    LensType,
    Linear,
    Percent,
    Powers,
    Quantity,
    Row,
    Standard,
    Unit,
)
from site_src.calculators.answer import Table

REMEMBERED = "*"
"""Stands after a limit that is quoted from memory."""

ELSEWHERE = "†"
"""Stands after a limit whose texts are of another edition, or do not name one."""

NONE = "–"
"""Stands where a standard has no row."""

_DECIMALS = {
    Unit.DIOPTRE: ".2f",
    Unit.PRISM_DIOPTRE: ".2f",
    Unit.MILLIMETRE: ".1f",
    Unit.DEGREE: "g",
}

# Texts on the edition of 1999, on a law, or without an edition.
_OTHER_TEXTS = frozenset(
    {
        "z80-1-1999-laboratory-page",
        "nj-virginia-rules",
        "verification-deck-limits",
        "verification-deck-segments",
        "progressive-fitting-page",
    }
)

# What a limit of a pair in millimetres is of.
_OF_WHAT = {
    Quantity.PRP_HEIGHT_DIFFERENCE: "in height",
    Quantity.PRP_SEPARATION: "of PD",
    Quantity.PRP_DISTANCE: "of PD, each eye",
}

_MARKS = {
    REMEMBERED: "from memory",
    ELSEWHERE: "from other editions or undated texts",
}

# What nobody orders: the limit is a size, and has no plus or minus.
_UNWANTED = (
    Quantity.PRISM_ERROR,
    Quantity.PRP_DISPLACEMENT,
    Quantity.VERTICAL_IMBALANCE,
    Quantity.HORIZONTAL_IMBALANCE,
    Quantity.PRP_HEIGHT_DIFFERENCE,
    Quantity.SEGMENT_HEIGHT_DIFFERENCE,
    Quantity.SEGMENT_TILT,
    Quantity.SEGMENT_WIDTH_DIFFERENCE,
    Quantity.SEGMENT_DEPTH_DIFFERENCE,
    Quantity.INTERMEDIATE_DEPTH_DIFFERENCE,
    Quantity.FITTING_POINT_HEIGHT_DIFFERENCE,
    Quantity.MARKS_TILT,
    Quantity.WARPAGE,
)


class Column(NamedTuple):
    """What a column of a table asks: one standard, one quantity, and what is the same in all rows.

    Of several quantities the first with a row is taken: prism, or else millimetres.
    """

    standard: Standard
    quantities: tuple[Quantity, ...]
    lens_type: LensType
    fixed: Powers = MappingProxyType({})

    def row(self, powers: Powers) -> Row | None:
        """The row for these ordered powers and those that are the same in all rows."""
        everything = {**self.fixed, **powers}
        rows = (
            self.standard.find_row(quantity, everything, self.lens_type)
            for quantity in self.quantities
        )
        return next((row for row in rows if row is not None), None)

    def edges(self, by: Sequence[Governing]) -> set[float]:
        """Where one of these powers passes from one band to the next."""
        return {
            band.upper
            for row in self.standard.rows
            if row.quantity in self.quantities and self.lens_type in row.lens_types
            for band in row.bands
            if band.of in by
        }


class Stretch(NamedTuple):
    """A range of ordered values in which no standard changes its limit.

    Above `lower`, up to and including `upper`; `rows` has one row a standard, or None.
    """

    lower: float
    upper: float
    rows: tuple[Row | None, ...]

    @property
    def words(self) -> str:
        """The range, such as "over 3.00 to 6.00"; from zero it has no "over".

        >>> Stretch(3, 6, ()).words, Stretch(0, 0.75, ()).words, Stretch(20, math.inf, ()).words
        ('over 3.00 to 6.00', '0.00 to 0.75', 'over 20.00')
        """
        if math.isinf(self.upper):
            return f"over {shown(self.lower)}"
        return f"{'over ' if self.lower else ''}{shown(self.lower)} to {shown(self.upper)}"

    @property
    def short(self) -> str:
        """The range under one that ends where it begins, such as "to 6.00"."""
        return self.words if math.isinf(self.upper) else f"to {shown(self.upper)}"


def shown(power: float) -> str:
    """An edge of a band in dioptres: two decimals, or three where it needs them.

    >>> shown(6.5), shown(3.375)
    ('6.50', '3.375')
    """
    return f"{power:.3f}".removesuffix("0")


def limit_words(row: Row | None, *, unit: bool = True) -> str:
    """The limit of a row, with its unit, and with a mark where it is quoted from memory.

    >>> from lensmath.tolerances import find_standard
    >>> ansi = find_standard("ansi-z80-1-2015")
    >>> limit_words(ansi.row_for(Quantity.AXIS, {Governing.CYLINDER: 0.75}))
    '±5°'
    """
    if row is None:
        return NONE
    if row.limit is None:
        return f"no limit{mark_of(row)}"
    return f"{_sign(row)}{_limit(row, unit=unit)}{mark_of(row)}"


def mark_of(row: Row) -> str:
    """The mark after a limit that was not seen in a text on its own edition, or nothing.

    >>> from lensmath.tolerances import find_standard
    >>> ansi = find_standard("ansi-z80-1-2015")
    >>> mark_of(ansi.row_for(Quantity.WARPAGE, {}))
    '†'
    """
    if row.confidence.remembered:
        return REMEMBERED
    return ELSEWHERE if _OTHER_TEXTS.issuperset(row.sources) else ""


def pair_words(row: Row | None) -> str:
    r"""The limit of a row of a mounted pair, and of what it is where it counts millimetres.

    >>> from lensmath.tolerances import find_standard
    >>> ansi = find_standard("ansi-z80-1-2015")
    >>> pair_words(ansi.row_for(Quantity.PRP_SEPARATION, {Governing.HORIZONTAL_MERIDIAN: 5}))
    '±2.5\xa0mm of PD'
    """
    words = limit_words(row)
    if row is None or row.quantity not in _OF_WHAT:
        return words
    mark = mark_of(row)
    return f"{words.removesuffix(mark)} {_OF_WHAT[row.quantity]}{mark}"


def amount_words(row: Row | None, powers: Powers) -> str:
    """The limit of a row as it comes out for these ordered powers: no percentage is left."""
    return limit_words(row) if row is None else written_limit(row, row.limit_at(powers))


def written_limit(row: Row, amount: float | None) -> str:
    """A limit that was found in a row, such as ±0.13 D, with its mark; None where none is set."""
    if amount is None:
        return limit_words(row)
    return f"{_sign(row)}{_with_unit(amount, row.unit)}{mark_of(row)}"


def stretches(columns: Sequence[Column], by: Sequence[Governing]) -> list[Stretch]:
    """How the limits of these columns change with the ordered power, laid over each other.

    `by` are the powers that count as one here, such as the sphere meridian and the stronger
    meridian of a lens without cylinder.
    """
    edges = set().union(*(column.edges(by) for column in columns))
    found: list[Stretch] = []
    for lower, upper in pairwise(sorted({0.0, math.inf, *edges})):
        inside = lower + 1 if math.isinf(upper) else (lower + upper) / 2
        powers = dict.fromkeys(by, inside)
        rows = tuple(column.row(powers) for column in columns)
        if found and _in_words(rows) == _in_words(found[-1].rows):
            found[-1] = found[-1]._replace(upper=upper)
        else:
            found.append(Stretch(lower, upper, rows))
    return found


def limits_table(
    caption: str,
    head: Sequence[str],
    rows: Iterable[Sequence[str]],
    kind: str = "grid",
    *,
    explain: bool = True,
) -> Table:
    """A table of words whose first column names the row; the caption explains the marks.

    `explain` is off where the marks are explained beside the table.
    Where every limit is quoted from memory, the caption says it once and the marks are left out.
    """
    cells = [tuple(row) for row in rows]
    limits = [cell for row in cells for cell in row[1:] if cell != NONE]
    if all(REMEMBERED in cell for cell in limits):
        cells = [tuple(cell.replace(REMEMBERED, "") for cell in row) for row in cells]
        caption += ": all from memory"
    elif explain:
        seen = [
            f"{mark} {words}"
            for mark, words in _MARKS.items()
            if any(mark in cell for cell in limits)
        ]
        caption += f" ({'; '.join(seen)})" if seen else ""
    return Table(caption, tuple(head), tuple(tuple((cell,) for cell in row) for row in cells), kind)


def _in_words(rows: Iterable[Row | None]) -> list[str]:
    return [limit_words(row) for row in rows]


def _sign(row: Row) -> str:
    return "" if row.quantity in _UNWANTED else "±"


def _limit(row: Row, *, unit: bool) -> str:
    if isinstance(row.limit, Percent):
        return f"{row.limit.value:g} %"
    if isinstance(row.limit, Linear):
        shift = f"prism of {row.limit.per_dioptre * 10:.1f} mm"
        fixed = _with_unit(row.limit.fixed, row.unit)
        return f"{fixed} + {shift}" if row.limit.fixed else shift
    limit = row.limit or 0.0
    return _with_unit(limit, row.unit) if unit else format(limit, _DECIMALS[row.unit])


def _with_unit(amount: float, unit: Unit) -> str:
    gap = "" if unit is Unit.DEGREE else "\N{NO-BREAK SPACE}"
    return f"{amount:{_DECIMALS[unit]}}{gap}{unit.value}"
