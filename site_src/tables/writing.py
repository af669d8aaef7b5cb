"""How numbers are written, and what the calculators make of each way."""

from __future__ import annotations

from lensmath.errors import LensError
from lensmath.notation import MINUS, read_power, write_axis
from lensmath.power import standard_axis
from site_src.calculators.answer import Line, Table, power

REFUSED = "refused"

_MARKS = (
    (f"{MINUS}2.25", "a point"),
    (f"{MINUS}2,25", "a comma: the same power"),
    (f"{MINUS}0,5", "one decimal is enough to read, two are right to write"),
    (f"{MINUS}.25", "the nought before the mark is missing: write it"),
    ("2.25", "no sign: nobody may guess it"),
    (f"{MINUS}225", "no mark at all: an old habit of hand-written orders"),
    (f"{MINUS}1.000,25", "two marks: a power has no thousands"),
)
_AXES = (5.0, 77.5, 90.0, 0.0)


def decimal_marks() -> Table:
    """Ways to type a power, and what the calculators read."""
    return Table(
        "What is typed, and what the calculators read",
        ("Typed", "Read as", "Why"),
        tuple(((typed,), _read(typed), (why,)) for typed, why in _MARKS),
    )


def written_axes() -> Table:
    """Axes as they are found and as they are written."""
    return Table(
        "The same axis, found and written",
        ("Found", "Written"),
        tuple(((f"{found:g}",), (write_axis(standard_axis(found)),)) for found in _AXES),
        kind="grid",
    )


def two_scales() -> Table:
    """An axis on scales that begin at the nose or at the temple of each eye, against the standard.

    Both count upward from their end of the horizontal, so on one side they are the standard scale
    and on the other its mirror image.
    """
    found = 20.0
    mirrored = standard_axis(180 - found)
    scales = (("at the nose", found, mirrored), ("at the temple", mirrored, found))
    return Table(
        f"What {write_axis(found)} on an older scale is on the standard one",
        ("The scale begins", "Right eye", "Left eye"),
        tuple(
            ((begins,), (write_axis(right),), (write_axis(left),)) for begins, right, left in scales
        ),
        kind="grid",
    )


def _read(typed: str) -> Line:
    try:
        return (power(read_power(typed)), " D")
    except LensError:
        return (REFUSED,)
