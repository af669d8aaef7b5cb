"""The power and addition tables that ISO 21987:2017 and both parts of ISO 8980:2017 share.

Table 1 is for single vision and multifocal lenses, Table 2 for progressive ones. The three were
revised together and have the same figures (Source  rabbetts-revised-standards).

The standards were not read. The tables are from memory; the cells marked `_Seen` were met in a
second-hand text, the others were not confirmed. The structure, A for each principal meridian and B
for the cylinder, was read in an extract of ISO 8980-1:2004 (`iso-8980-1-2004-extract`).
"""

from collections.abc import Iterator
from functools import partial
from typing import NamedTuple

from lensmath.tolerances.model import (
    Band,
    Confidence,
    Governing,
    LensType,
    Quantity,
    Row,
    Unit,
)


class _Seen(NamedTuple):
    limit: float
    source: str


# Articles on the Chinese text of ISO 8980-1:2004: they give limits at 0 D and at 10 D.
_CN = "gb-10810-1-articles"
# It prints 0.25 D above 12 D and for cylinders above 6 D. It has no row of its own above 20 D.
_UK = "uk-trainee-deck-verification"

_STRONGER = Governing.STRONGER_MERIDIAN
_CYLINDER = Governing.CYLINDER

_CYLINDER_BANDS = (
    _CYLINDER.from_to(0.00, 0.75),
    _CYLINDER.above(0.75, up_to=4.00),
    _CYLINDER.above(4.00, up_to=6.00),
    _CYLINDER.above(6.00),
)

_Cell = float | _Seen
# Stronger principal meridian, A (each meridian), B (cylinder, one limit for each band above); D.
_Table = tuple[tuple[Band, _Cell, tuple[_Cell, ...]], ...]
_TABLE_1: _Table = (
    (_STRONGER.from_to(0, 3), _Seen(0.12, _CN), (_Seen(0.09, _CN), 0.12, 0.18, _Seen(0.25, _UK))),
    (_STRONGER.above(3, up_to=6), 0.12, (0.12, 0.12, 0.18, _Seen(0.25, _UK))),
    (_STRONGER.above(6, up_to=9), 0.12, (0.12, 0.18, 0.18, _Seen(0.25, _UK))),
    (
        _STRONGER.above(9, up_to=12),
        _Seen(0.18, _CN),
        (_Seen(0.12, _CN), 0.18, 0.25, _Seen(0.25, _UK)),
    ),
    (_STRONGER.above(12, up_to=20), _Seen(0.25, _UK), (0.18, 0.25, 0.25, _Seen(0.25, _UK))),
    (_STRONGER.above(20), 0.37, (0.25, 0.25, 0.37, 0.37)),
)
_TABLE_2: _Table = (
    (_STRONGER.from_to(0, 6), 0.12, (0.12, 0.18, 0.18, 0.25)),
    (_STRONGER.above(6, up_to=9), 0.18, (0.18, 0.18, 0.18, 0.25)),
    (_STRONGER.above(9, up_to=12), 0.18, (0.18, 0.18, 0.25, 0.25)),
    (_STRONGER.above(12, up_to=20), _Seen(0.25, _UK), (0.18, 0.25, 0.25, 0.25)),
    (_STRONGER.above(20), 0.37, (0.25, 0.25, 0.37, 0.37)),
)


def power_rows(standard: str) -> tuple[Row, ...]:
    """The rows of Table 1, single vision and multifocal, for the standard with this key."""
    types = (LensType.SINGLE_VISION, LensType.MULTIFOCAL)
    return tuple(_rows(standard, _TABLE_1, "Table 1", types))


def progressive_power_rows(standard: str) -> tuple[Row, ...]:
    """The rows of Table 2, progressive, for the standard with this key."""
    return tuple(_rows(standard, _TABLE_2, "Table 2", (LensType.PROGRESSIVE,)))


def addition_rows(standard: str, lens_types: tuple[LensType, ...]) -> tuple[Row, ...]:
    """The limits of the addition, for the standard with this key: from memory, those of ANSI."""
    row = partial(
        Row,
        Quantity.ADDITION,
        unit=Unit.DIOPTRE,
        clause="addition table, number not known",
        confidence=Confidence.MEMORY,
        sources=(standard,),
        lens_types=lens_types,
    )
    return (
        row((Governing.ADDITION.from_to(0.00, 4.00),), 0.12),
        row((Governing.ADDITION.above(4.00),), 0.18),
    )


def _rows(
    standard: str, table: _Table, clause: str, lens_types: tuple[LensType, ...]
) -> Iterator[Row]:
    def row(quantity: Quantity, bands: tuple[Band, ...], cell: _Cell) -> Row:
        of_table = partial(
            Row, quantity, bands, unit=Unit.DIOPTRE, clause=clause, lens_types=lens_types
        )
        if isinstance(cell, _Seen):
            seen = (standard, cell.source)
            return of_table(cell.limit, confidence=Confidence.SPOT_CHECKED, sources=seen)
        return of_table(cell, confidence=Confidence.MEMORY, sources=(standard,))

    yield from (row(Quantity.MERIDIAN_POWER, (power,), a) for power, a, _ in table)
    yield from (
        row(Quantity.CYLINDER, (power, cylinder), b)
        for power, _, limits in table
        for cylinder, b in zip(_CYLINDER_BANDS, limits, strict=True)
    )
