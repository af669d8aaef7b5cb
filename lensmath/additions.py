"""Additions: how one is measured, and the prescriptions for near and intermediate.

An addition changes the sphere alone, so it is the near reading less the distance reading, both with
the same lines of the target sharp and the same surface on the stop. That surface is the one that
carries the segment or the progression. Powers in dioptres, thickness in millimetres.
"""

from __future__ import annotations

import math
from enum import Enum

from lensmath.errors import LensError
from lensmath.notation import write_lens
from lensmath.power import SAME_LENS, LensPower, snapped
from lensmath.scale import shown
from lensmath.surfaces import ThickLens


class Surface(Enum):
    """A surface of a lens: for an addition, the one that carries the segment or progression.

    The surface that carries it goes against the stop, for the distance reading too. A segment on
    the front is read in front vertex power, with the temples toward you.

    Source  ansi-z80-1-2015, the method is from memory
    """

    FRONT = "front"
    BACK = "back"

    @property
    def measured_as(self) -> str:
        """What the instrument reads with this surface on the stop."""
        return f"{self.value} vertex power"

    @property
    def temples(self) -> str:
        """Where the temples point with this surface on the stop."""
        return "toward you" if self is Surface.FRONT else "away from you"

    @property
    def other(self) -> Surface:
        """The surface on the other side of the lens."""
        return Surface.BACK if self is Surface.FRONT else Surface.FRONT


def addition_of_readings(distance_reading: float, near_reading: float) -> float:
    """The near reading less the distance reading, in dioptres.

    Both readings with the same lines sharp and the same surface on the stop.

    Errors  LensError when the near reading is the less plus of the two.
    Source  assistant-addition-card

    >>> addition_of_readings(-2.00, +0.50)
    2.5
    """
    # LensPower refuses what is no number.
    travel = snapped(LensPower(near_reading).sphere - LensPower(distance_reading).sphere)
    if travel < -SAME_LENS:
        raise LensError(
            f"The near power, {shown(near_reading, '+')} D, is less plus than the distance power, "
            f"{shown(distance_reading, '+')} D; an addition is 0 or plus, so check the signs, and "
            "that both belong to the same lines."
        )
    return max(travel, 0.0)


def addition_between(distance: LensPower, near: LensPower) -> float:
    """The addition that turns a distance prescription into a near one, in dioptres.

    The two may be written in different forms, but must have the same cylinder and axis.

    Errors  LensError when the cylinders or axes differ, or near is less plus than distance.

    >>> addition_between(LensPower(-0.50, -0.25, 180), LensPower(1.25, 0.25, 90))
    2.0
    """
    found = addition_of_readings(distance.mean_sphere, near.mean_sphere)
    if near_prescription(distance, found) != near:
        raise LensError(
            f"The distance prescription is {write_lens(distance.in_minus_cylinder())} and the near "
            f"one {write_lens(near.in_minus_cylinder())}; an addition changes the sphere alone, so "
            "both need the same cylinder and axis."
        )
    return found


def near_prescription(distance: LensPower, addition: float) -> LensPower:
    """The distance prescription with the addition on its sphere; cylinder and axis stay.

    Errors  LensError for an addition below 0.
    Source  opt-1156-cards

    >>> near_prescription(LensPower(-0.50, -0.25, 180), +2.00)
    LensPower(sphere=1.5, cylinder=-0.25, axis=180.0)
    """
    return LensPower(snapped(distance.sphere + _plus(addition)), distance.cylinder, distance.axis)


def intermediate_addition(addition: float, percent: float = 50.0) -> float:
    """The part of the addition in the intermediate segment of a trifocal, in dioptres.

    Half of it unless the lens says otherwise. Not rounded.

    Errors  LensError for an addition below 0, or a percentage outside 0-100.
    Source  encyclopaedia-trifocal

    >>> intermediate_addition(2.50), intermediate_addition(2.50, percent=60)
    (1.25, 1.5)
    """
    if not 0 <= percent <= 100:
        raise LensError(
            "The intermediate addition is from 0 to 100 percent of the addition; "
            f"{shown(percent)} percent was given."
        )
    return snapped(_plus(addition) * percent / 100)


def intermediate_prescription(
    distance: LensPower, addition: float, percent: float = 50.0
) -> LensPower:
    """The distance prescription with the intermediate addition on its sphere.

    Errors  LensError as for `intermediate_addition`.
    Source  assistant-trifocal-question

    >>> intermediate_prescription(LensPower(2.00, -1.00, 180), addition=2.50)
    LensPower(sphere=3.25, cylinder=-1.0, axis=180.0)
    """
    return near_prescription(distance, intermediate_addition(addition, percent))


def measured_addition(distance: ThickLens, near: ThickLens, on_stop: Surface) -> float:
    """What an addition reads with this surface on the stop, in dioptres.

    The difference of the vertex powers of the near and the distance portion, each a thick lens;
    the mean of both meridians where a toric surface gives two.

    Source  durham-tech-11

    >>> distance, near = (
    ...     ThickLens(LensPower(front), LensPower(-4.75), 4.1, 1.586) for front in (8.75, 10.50)
    ... )
    >>> [round(measured_addition(distance, near, side), 2) for side in Surface]
    [1.75, 1.84]
    """
    if on_stop is Surface.FRONT:
        difference = near.front_vertex_power - distance.front_vertex_power
    else:
        difference = near.back_vertex_power - distance.back_vertex_power
    return snapped(difference.mean_sphere)


def wrong_side_error(distance: ThickLens, near: ThickLens, carrier: Surface) -> float:
    """How much an addition reads too strong with the other surface on the stop, in dioptres.

    `carrier` carries the segment or progression. From the other side its power is read through
    the thickness of the lens, so the error grows with that power and with the thickness.

    Source  independent-computation

    >>> distance, near = (
    ...     ThickLens(LensPower(front), LensPower(-4.75), 4.1, 1.586) for front in (8.75, 10.50)
    ... )
    >>> round(wrong_side_error(distance, near, carrier=Surface.FRONT), 2)
    0.09
    """
    right = measured_addition(distance, near, carrier)
    return snapped(measured_addition(distance, near, carrier.other) - right)


def _plus(addition: float) -> float:
    if not 0 <= addition < math.inf:
        raise LensError(f"An addition is 0 or plus; {shown(addition)} D was given.")
    return addition
