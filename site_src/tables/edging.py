"""What a slip of the block costs, and the limits that the edger has to keep."""

from __future__ import annotations

from lensmath.power import LensPower
from lensmath.tolerances import find_standard
from lensmath.tolerances.model import Governing, Quantity
from site_src.calculators.answer import Table
from site_src.tables.cells import limit_words

_CYLINDERS = (0.50, 1.00, 2.00, 4.00)


def left_over(cylinder: float, slip: float) -> float:
    """The cylinder that is left when a lens stands at a wrong axis, as an amount.

    Units   dioptres; `slip` in degrees.
    Source  iacle-module-3

    >>> round(left_over(2.0, 30), 2)
    2.0
    """
    ordered, turned = (LensPower(0.0, cylinder, axis) for axis in (90.0, 90.0 + slip))
    return abs((ordered - turned).cylinder)


def slip_left_over(slip: float, key: str) -> Table:
    """A slip of so many degrees on weak and strong cylinders, and whether the axis still passes."""
    standard = find_standard(key)
    rows = []
    for cylinder in _CYLINDERS:
        row = standard.row_for(Quantity.AXIS, {Governing.CYLINDER: cylinder})
        limit = row.limit_at({}) or 0.0
        rows.append(
            (
                (f"{cylinder:.2f} D",),
                (f"{left_over(cylinder, slip):.2f} D",),
                (limit_words(row),),
                ("inside" if slip <= limit else "outside",),
            )
        )
    return Table(
        f"A slip of {slip:g} degrees, with the limits of {standard.designation}",
        ("Cylinder", "Left over", "Axis limit", "Axis"),
        tuple(rows),
        kind="grid",
    )
