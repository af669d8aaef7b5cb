"""Vertex distance: the power that does the same work when a lens moves along the line of sight.

The far point of an eye does not move with the lens. So a lens worn further from the eye needs
another power to keep its focus there: less plus, or more minus. Powers in dioptres, distances in
millimetres; `further` is the new vertex distance less the old one, negative when the lens comes
closer to the eye. Thin lenses in air, light from a distant object.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

from lensmath.errors import LensError
from lensmath.power import LensPower, snapped
from lensmath.scale import shown

STANDARD_VERTEX_DISTANCE = 12.0
"""Back of the lens to the cornea when nothing is said, in millimetres.

Source  iso-13666-2019, as a second text tells it
"""


def compensated(lens: LensPower, further: float) -> LensPower:
    """The lens that replaces `lens` when it is worn `further` mm further from the eye.

    Each principal meridian becomes F / (1 + dF), with d in metres. The axis and the form stay; the
    cylinder changes too. As power matrices this is (I + dF)^-1 F.

    Errors  LensError when the move reaches a focus (1 + dF is 0 or less): no lens does it there.
    Source  ocular-refraction-question

    >>> compensated(LensPower(-12.00), further=14 - 10).sphere
    -12.605
    >>> compensated(LensPower(-4.69, -4.16, 30), further=13)
    LensPower(sphere=-4.995, cylinder=-5.006, axis=30.0)
    """
    along = _compensated(lens.sphere, further)
    across = _compensated(lens.sphere + lens.cylinder, further)
    return LensPower(snapped(along), snapped(across - along), lens.axis)


def compensated_sphere(power: float, further: float) -> float:
    """The same for a sphere, or for one meridian: F / (1 + dF), in dioptres.

    Errors  LensError as for `compensated`.
    Source  optometry-cards-magnification

    >>> compensated_sphere(+10.00, further=10)
    9.0909
    """
    return compensated(LensPower(power), further).sphere


def effective_power(lens: LensPower, downstream: float = STANDARD_VERTEX_DISTANCE) -> LensPower:
    """What `lens` does at a plane `downstream` mm behind it: F / (1 - dF) in each meridian.

    At the vertex distance this is the ocular refraction, the power at the cornea.

    Errors  LensError for a plane in front of the lens, or one that a focus reaches.
    Source  lens-effectivity-rule

    >>> effective_power(LensPower(+10.00), downstream=5).sphere
    10.526
    """
    if not downstream >= 0:
        raise LensError(
            "The plane lies 0 mm or more behind the lens; "
            f"{shown(downstream)} mm behind it was given."
        )
    return compensated(lens, -downstream)


class LeastPowers(NamedTuple):
    """The weakest plus and the weakest minus sphere that a move concerns, in dioptres."""

    plus: float
    minus: float


def least_powers(change: float, further: float) -> LeastPowers:
    """The weakest powers that a move of `further` mm changes by as much as `change` dioptres.

    Of F / (1 + dF) - F = +/-change the exact solution: c/2 with the sign of d, plus or minus the
    root of c²/4 + c/|d|. Every stronger power of the same sign changes more.

    Errors  LensError for a change that is not above 0, or no move.
    Source  independent-computation

    >>> least_powers(change=0.25, further=-12)
    LeastPowers(plus=4.441, minus=-4.691)
    """
    if not 0 < change < math.inf:
        raise LensError(f"The change to reach must be above 0 D; {shown(change)} D was given.")
    metres = _metres(further)
    if metres == 0:
        raise LensError("No power changes without a move; give a move other than 0 mm.")
    middle = math.copysign(change / 2, metres)
    reach = math.sqrt(change**2 / 4 + change / abs(metres))
    return LeastPowers(snapped(middle + reach), snapped(middle - reach))


class VertexRow(NamedTuple):
    """A row of a vertex table: a power, and the power that replaces it after each move."""

    power: float
    replaced_by: tuple[float, ...]


def vertex_table(powers: Iterable[float], moves: Iterable[float]) -> tuple[VertexRow, ...]:
    """A row for each power (dioptres), in each row a sphere for each move (mm further).

    Errors  LensError as for `compensated`.

    >>> vertex_table([-8, 8], moves=[-12, 2])[0]
    VertexRow(power=-8, replaced_by=(-7.299, -8.130))
    """
    columns = tuple(moves)
    return tuple(
        VertexRow(power, tuple(compensated_sphere(power, further) for further in columns))
        for power in powers
    )


def _compensated(power: float, further: float) -> float:
    left = 1 + _metres(further) * power
    if snapped(left) <= 0:
        away = "further from" if further > 0 else "closer to"
        raise LensError(
            f"A power of {shown(power, '+')} D has its focus {abs(1000 / power):.1f} mm from the "
            f"lens, and {abs(further):g} mm {away} the eye reaches it; a smaller move is allowed."
        )
    return power / left


def _metres(millimetres: float) -> float:
    if not math.isfinite(millimetres):
        raise LensError(f"A move is a number of millimetres; {shown(millimetres)} was given.")
    return millimetres / 1000
