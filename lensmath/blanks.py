"""The smallest round blank from which a lens can be cut.

The point that must stand before the eye (the PRP or optical centre) is taken to be the middle of
the blank. The blank then has to reach from there to the farthest corner of the lens shape. All in
millimetres; places as in `centration`.

Sources print three allowances for the edging, 0, 1 and 2 mm, so here it is always given. They also
use "decentration" for one lens and for both: (A + DBL - PD) is the total, twice that of one lens.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from lensmath.centration import Decentration, Point, checked_length
from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.power import snapped


def minimum_blank(effective_diameter: float, decentration: Decentration, allowance: float) -> float:
    """Effective diameter, plus twice the decentration of this lens, plus the allowance, in mm.

    Exact for a round lens, and enough for every shape of that ED; the shape itself may need less
    (`LensShape.minimum_blank`). Without vertical decentration it is the common rule ED + 2d; with
    it, d is the straight distance from the boxed centre. The allowance counts on the diameter: 1 mm
    all round is 2. With 0 there is nothing to spare for edging.

    Errors  LensError for an effective diameter that is not above zero or an allowance below zero.
    Source  minimum-blank-forum-answer, centration-quick-quiz

    >>> minimum_blank(56, Decentration(5), allowance=1)
    67.0
    >>> minimum_blank(54, Decentration(3, 4), allowance=0)
    64.0
    """
    checked_length("The effective diameter", effective_diameter)
    checked_length("The allowance for edging", allowance, zero=True)
    return snapped(effective_diameter + 2 * math.hypot(*decentration) + allowance)


@dataclass(frozen=True)
class LensShape:
    """The outline of one lens, as corners seen facing the wearer, in mm.

    Shape   Corners about any origin; they are kept about the boxed centre. Between the corners the
            outline is straight, so a curve needs as many of them as its accuracy asks for.
    Errors  LensError for fewer than three corners, a corner that is not a number, and an outline
            without width or depth.

    >>> box = LensShape((Point(0, 0), Point(48, 0), Point(48, 36), Point(0, 36)), Eye.RIGHT)
    >>> box.corners[2], box.effective_diameter
    (Point(x=24.0, y=18.0), 60.0)
    """

    corners: tuple[Point, ...]
    eye: Eye

    def __post_init__(self) -> None:
        _check_corners(self.corners)
        (left, right), (bottom, top) = self._box()
        checked_length("The width of the outline", right - left)
        checked_length("The depth of the outline", top - bottom)
        x, y = (left + right) / 2, (bottom + top) / 2
        about_centre = tuple(Point(at_x - x, at_y - y) for at_x, at_y in self.corners)
        object.__setattr__(self, "corners", about_centre)

    @classmethod
    def from_radii(cls, radii: Sequence[float], eye: Eye) -> LensShape:
        """A traced outline: radii in mm, equally spaced, from 0 degrees counter-clockwise.

        They may start from any point inside the lens; the boxed centre is found here.

        Errors  LensError for fewer than three radii and for one that is not above zero.

        >>> LensShape.from_radii([25] * 360, Eye.LEFT).effective_diameter
        50.0
        """
        turn = math.tau / max(len(radii), 1)
        lengths = [checked_length("A traced radius", radius) for radius in radii]
        corners = (
            Point(length * math.cos(turn * step), length * math.sin(turn * step))
            for step, length in enumerate(lengths)
        )
        return cls(tuple(corners), eye)

    def mirrored(self) -> LensShape:
        """The same shape for the other eye."""
        other = Eye.LEFT if self.eye is Eye.RIGHT else Eye.RIGHT
        return LensShape(tuple(Point(-x, y) for x, y in self.corners), other)

    @property
    def a(self) -> float:
        """Width of the box round the outline, in mm."""
        (left, right), _ = self._box()
        return snapped(right - left)

    @property
    def b(self) -> float:
        """Depth of the box round the outline, in mm."""
        _, (bottom, top) = self._box()
        return snapped(top - bottom)

    @property
    def effective_diameter(self) -> float:
        """Twice the longest radius from the boxed centre, in mm.

        Some texts call the smallest circle round the shape so; that circle need not be centred.

        Source  boxing-system-slides
        """
        return self.minimum_blank(Decentration(0), allowance=0)

    def farthest_corner(self, decentration: Decentration) -> Point:
        """The corner that is farthest from the decentred point, and decides on the blank."""
        middle = decentration.before(self.eye)
        return max(self.corners, key=lambda corner: snapped(math.dist(corner, middle)))

    def minimum_blank(self, decentration: Decentration, allowance: float) -> float:
        """The true minimum: twice the way to the farthest corner, plus the allowance, in mm.

        Errors  LensError for an allowance below zero.
        Source  blank-size-answers-page

        >>> box = LensShape((Point(0, 0), Point(48, 0), Point(48, 36), Point(0, 36)), Eye.RIGHT)
        >>> round(box.minimum_blank(Decentration(5), allowance=2), 1)
        70.3
        >>> minimum_blank(box.effective_diameter, Decentration(5), allowance=2)
        72.0
        """
        checked_length("The allowance for edging", allowance, zero=True)
        reach = math.dist(self.farthest_corner(decentration), decentration.before(self.eye))
        return snapped(2 * reach + allowance)

    def _box(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Left and right, bottom and top."""
        across, upward = zip(*self.corners, strict=True)
        return (min(across), max(across)), (min(upward), max(upward))


def _check_corners(corners: tuple[Point, ...]) -> None:
    if len(corners) < 3:
        raise LensError(f"An outline has at least three corners; {len(corners)} were given.")
    if not all(math.isfinite(value) for corner in corners for value in corner):
        raise LensError("Every corner of an outline has two numbers in mm; one is not a number.")
