"""Tables of the pages that explain: what an axis slip leaves over, and one power moved about."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from lensmath.inspection import pass_window
from lensmath.notation import write_power
from lensmath.power import LensPower
from lensmath.tolerances import find_standard
from lensmath.tolerances.model import LensType, Quantity
from lensmath.vertex import compensated_sphere
from site_src.calculators.answer import Table
from site_src.tables import edging

_OPEN_END = 4.00  # D; where a band without an upper edge is looked at


class AxisBand(NamedTuple):
    """One band of ordered cylinders and its axis limit: dioptres, and degrees either way."""

    lower: float
    upper: float
    limit: float


class LeftOver(NamedTuple):
    """What the whole axis limit leaves over of a cylinder, beside the limits: dioptres, degrees."""

    cylinder: float
    axis_limit: float
    left: float
    cylinder_limit: float
    remembered: bool = False  # whether the cylinder limit is from memory


def axis_bands(key: str) -> tuple[AxisBand, ...]:
    """The bands of a standard that have an axis limit, the weakest cylinders first.

    Errors  LensError for an unknown standard.
    """
    rows = (
        row
        for row in find_standard(key).rows
        if row.quantity is Quantity.AXIS and LensType.SINGLE_VISION in row.lens_types
    )
    return tuple(
        AxisBand(row.bands[0].lower, row.bands[0].upper, float(row.limit))
        for row in rows
        if isinstance(row.limit, int | float)
    )


def left_over(key: str, cylinder: float) -> LeftOver:
    """A lens of this cylinder with its axis off by the whole limit, as crossed cylinders.

    The lens has no power along its axis, so its cylinder limit is that of the weakest lenses.

    Errors  LensError for a cylinder that has no axis limit, and for an unknown standard.
    """
    ordered = LensPower(0.0, -abs(cylinder), 90.0)
    *_, cylinder_row, axis_row = pass_window(ordered, find_standard(key)).rows
    turned = axis_row.limit or 0.0
    left = edging.left_over(ordered.cylinder, turned)
    limit, remembered = cylinder_row.limit or 0.0, cylinder_row.tolerance.confidence.remembered
    return LeftOver(abs(cylinder), turned, left, limit, remembered)


def slip_leaving(cylinder: float, left: float) -> float:
    """How far the axis may be off, in degrees, to leave so much over: sin t = left / 2C.

    Units   both cylinders in dioptres, without their signs.

    >>> round(slip_leaving(1.00, left=0.125), 1)
    3.6
    """
    return math.degrees(math.asin(left / (2 * cylinder)))


def sine(degrees: float) -> float:
    """The sine of an angle in degrees, as a pocket calculator gives it."""
    return math.sin(math.radians(degrees))


def cosine(degrees: float) -> float:
    """The cosine of an angle in degrees, as a pocket calculator gives it."""
    return math.cos(math.radians(degrees))


def left_over_by_band(key: str) -> Table:
    """For the strongest cylinder of each band: the axis limit, and what is left over at it."""
    uppers = (_OPEN_END if math.isinf(band.upper) else band.upper for band in axis_bands(key))
    rows = [left_over(key, upper) for upper in uppers]
    starred = "; * from memory" if any(row.remembered for row in rows) else ""
    return Table(
        f"{find_standard(key).designation}: the strongest cylinder of each band, its axis off by "
        f"the whole limit; of the open band {_OPEN_END:.2f} D{starred}",
        ("Cylinder", "Axis limit", "Left over", "Cylinder limit"),
        tuple(
            (
                (f"{row.cylinder:.2f}",),
                (f"±{row.axis_limit:g}°",),
                (f"{row.left:.2f}",),
                (f"±{row.cylinder_limit:.2f}{'*' if row.remembered else ''}",),
            )
            for row in rows
        ),
        kind="grid",
    )


def one_power_moved(power: float, distance: float, others: Sequence[float]) -> Table:
    """A sphere made for one vertex distance, and what replaces it at other ones.

    Units   `power` in dioptres; the distances in millimetres from the lens to the cornea.
    Errors  LensError where a focus is reached.
    """
    return Table(
        f"{write_power(power)} D found at {distance:g} mm",
        ("Worn at", "Power needed", "Change"),
        tuple(
            (
                ("the cornea" if other == 0 else f"{other:g} mm",),
                (write_power(new),),
                (write_power(new - power),),
            )
            for other in others
            for new in (compensated_sphere(power, other - distance),)
        ),
        kind="grid",
    )
