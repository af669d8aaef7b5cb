"""Tables of limits and of marks, computed from the same data that the calculators use."""

from __future__ import annotations

import math
from collections.abc import Iterable

from lensmath.tolerances import find_standard, standards_for
from lensmath.tolerances.model import Band, Governing, LensType, Quantity, Row
from site_src.calculators.answer import Table
from site_src.tables.cells import limit_words, limits_table

_STANDARDS = standards_for(LensType.SINGLE_VISION)


def power_limits(key: str) -> Table:
    """The power and cylinder limits of one standard, a row for each band of the ordered power."""
    standard = find_standard(key)
    meridians = _rows(key, Quantity.MERIDIAN_POWER)
    cylinders = _rows(key, Quantity.CYLINDER)
    columns = list(dict.fromkeys(_band_of(row, Governing.CYLINDER) for row in cylinders))
    head = [f"Cyl. {_in_words(band)}" for band in columns]
    rows = [
        [row, *(_cylinder_row(cylinders, row.bands[0], band) for band in columns)]
        for row in meridians
    ]
    return limits_table(
        f"{standard.designation}: limits in dioptres, by the ordered power",
        (_governed_by(meridians[0]), "Power", *head),
        (
            (_in_words(row[0].bands[0]), *(limit_words(each, unit=False) for each in row))
            for row in rows
        ),
    )


def limits_seen() -> Table:
    """How far the figures of the distance power in each standard were really seen."""
    return Table(
        "What was seen of each table",
        ("Standard", "Table", "Seen"),
        tuple(
            ((standard.designation,), (quantity.value.capitalize(),), (_seen(key, quantity),))
            for key, standard in _STANDARDS.items()
            for quantity in (Quantity.MERIDIAN_POWER, Quantity.CYLINDER, Quantity.AXIS)
        ),
    )


def eighths() -> Table:
    """The eighths of a dioptre as they are and as they are written."""
    steps = [count / 8 for count in range(1, 8)]
    return Table(
        "Eighths of a dioptre",
        ("Marks past the whole", "True value", "Written"),
        tuple(
            ((f"{count}",), (f"{step:.3f}",), (f"{math.floor(step * 100) / 100:.2f}",))
            for count, step in enumerate(steps, 1)
        ),
        kind="grid",
    )


def _rows(key: str, quantity: Quantity) -> list[Row]:
    return [
        row
        for row in find_standard(key).rows
        if row.quantity is quantity and LensType.SINGLE_VISION in row.lens_types
    ]


def _cylinder_row(rows: Iterable[Row], power: Band, cylinder: Band) -> Row:
    for row in rows:
        bands = set(row.bands)
        if cylinder in bands and (power in bands or len(bands) == 1):
            return row
    raise LookupError(f"no cylinder limit for {power} and {cylinder}")


def _band_of(row: Row, governing: Governing) -> Band:
    return next(band for band in row.bands if band.of is governing)


def _governed_by(row: Row) -> str:
    return row.bands[0].of.value.capitalize()


def _in_words(band: Band) -> str:
    return _between(band.lower, not band.has_lower, band.upper, band.has_upper)


def _between(lower: float, above_lower: bool, upper: float, with_upper: bool) -> str:
    """A band, such as "over 0.25 to 0.50"; only a band from zero may end below its upper edge."""
    if math.isinf(upper):
        return f"over {lower:.2f}"
    if not with_upper:
        return f"below {upper:.2f}"
    return f"{'over ' if above_lower else ''}{lower:.2f} to {upper:.2f}"


def _seen(key: str, quantity: Quantity) -> str:
    confidences = dict.fromkeys(row.confidence.value for row in _rows(key, quantity))
    return "; ".join(confidences)
