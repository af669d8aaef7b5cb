"""Where a lens stands in its frame: boxed sizes, PDs, decentration, segments and spots.

Everything is in millimetres. A frame is measured by the boxes that just hold its two lens shapes
(ISO 8624): their width A, their depth B and the distance between them, DBL. The boxed centre is the
middle of a box, the horizontal centre line runs through both, and heights count from the bottom.

A decentration counts from the boxed centre, positive toward the nose and up, alike for both eyes.
A `Point` is seen facing the wearer: x to the observer's right, y up. A PD is monocular, from the
middle of the bridge to one pupil, unless it is called binocular. Ordered against measured is a
subtraction: `measured - ordered`, of two `EyePair`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.power import rounded_to, snapped

LONGEST = 200.0  # mm; no size, PD or height of a frame or a blank is larger
FARTHEST = 10_000.0  # mm; beyond this nothing is near

USUAL_VERTEX_DISTANCE = 13.0
"""From the lens to the cornea, where nothing is measured (Source  near-pd-newsgroup)."""

CORNEA_TO_ROTATION = 14.0
"""From the cornea to the centre of rotation of the eye; the two together are the customary 27 mm
from the lens (Source  near-pd-newsgroup; also memory)."""

USUAL_INSET = 2.5
"""How far one eye turns in for reading, measured at the lens (Source  lined-multifocals-lesson)."""

INSET_PER_DIOPTRE = 0.75
"""Inset of one lens for each dioptre of dioptric demand (Source  gerstman-1973; memory)."""


def checked_length(
    what: str, value: float, *, zero: bool = False, longest: float = LONGEST
) -> float:
    """`value` as a float, when it is a length that `what` can have.

    Errors  LensError for a length below zero, beyond `longest` or, unless `zero` allows it, zero.
    """
    if math.isfinite(value) and 0 <= value <= longest and (zero or value > 0):
        return float(value)
    allowed = f"from 0 to {longest:g}" if zero else f"above 0 and at most {longest:g}"
    raise LensError(f"{what} must be {allowed} mm; {_shown(value)} mm was given.")


def write_length(length: float) -> str:
    """A length as it is shown, without its unit: whole, or rounded to 0.1 mm.

    >>> write_length(3), write_length(-2.46)
    ('3', '−2.5')
    """
    return _shown(rounded_to(length, 0.1))


class Point(NamedTuple):
    """A place on the lens, in mm from the boxed centre: x to the observer's right, y up."""

    x: float
    y: float


class Decentration(NamedTuple):
    """How far a point of the lens lies from the boxed centre: mm toward the nose, and mm up.

    Below zero means out, and down.
    """

    inward: float
    up: float = 0.0

    @property
    def distance(self) -> float:
        """The straight distance from the boxed centre, in mm."""
        return snapped(math.hypot(self.inward, self.up))

    def before(self, eye: Eye) -> Point:
        """The place of that point before `eye`.

        >>> Decentration(3, -2).before(Eye.LEFT)
        Point(x=-3.0, y=-2.0)
        """
        return Point(snapped(eye.inward * self.inward), snapped(self.up))

    def in_words(self) -> str:
        """The decentration as it is said.

        >>> [Decentration(*mm).in_words() for mm in ((3.5, -2), (-1,), (0,))]
        ['3.5 mm in and 2 mm down', '1 mm out', 'no decentration']
        """
        directions = ((self.inward, "in", "out"), (self.up, "up", "down"))
        parts = [
            f"{write_length(abs(amount))} mm {positive if amount > 0 else negative}"
            for amount, positive, negative in directions
            if rounded_to(amount, 0.1)
        ]
        return " and ".join(parts) or "no decentration"


@dataclass(frozen=True)
class EyePair:
    """One length in mm for each eye: PDs or heights, as ordered, as measured, or the difference.

    >>> off = EyePair(32.5, 31) - EyePair(32, 32)
    >>> off.right, off.left, off.total
    (0.5, -1.0, -0.5)
    """

    right: float
    left: float

    @classmethod
    def halves(cls, binocular: float) -> EyePair:
        """A binocular PD shared equally."""
        return cls(binocular / 2, binocular / 2)

    def of(self, eye: Eye) -> float:
        """The length for one eye."""
        return self.right if eye is Eye.RIGHT else self.left

    @property
    def total(self) -> float:
        """Both together: the binocular PD, or its difference."""
        return snapped(self.right + self.left)

    @property
    def right_above_left(self) -> float:
        """Right less left: of heights, how far the right lens stands above the left one."""
        return snapped(self.right - self.left)

    def __sub__(self, other: EyePair) -> EyePair:
        """The difference for each eye: positive where this pair is wider, or higher."""
        if not isinstance(other, EyePair):
            return NotImplemented
        return EyePair(snapped(self.right - other.right), snapped(self.left - other.left))


def horizontal_decentration(frame_pd: float, pd: float) -> float:
    """How far the pupil stands inward of the boxed centre: frame PD / 2 less monocular PD, in mm.

    Of a binocular PD use its half: the sum is then (A + DBL - PD) / 2 for each lens. A PD wider
    than the frame's gives a decentration below zero, outward.

    Errors  LensError for a PD that is not above zero.
    Source  horizontal-centration-lecture

    >>> horizontal_decentration(70, 33), horizontal_decentration(68, 70 / 2)
    (2.0, -1.0)
    """
    checked_length("The frame PD", frame_pd)
    checked_length("A monocular PD", pd)
    return snapped(frame_pd / 2 - pd)


def vertical_decentration(b: float, height: float) -> float:
    """How far a point stands above the horizontal centre line: its height less B / 2, in mm.

    For the top of a segment it is the raise; a drop comes out below zero.

    Errors  LensError for a B that is not above zero and a height outside the lens, 0 to B.
    Source  opticianry-midterm-game

    >>> vertical_decentration(52, 23)
    -3.0
    """
    checked_length("The lens depth B", b)
    checked_length("A height above the bottom of the lens", height, zero=True, longest=b)
    return snapped(height - b / 2)


@dataclass(frozen=True)
class Frame:
    """A frame by its boxed sizes, in mm. What is marked on it is A and DBL.

    `effective_diameter` (ED) is twice the longest radius of the lens shape from the boxed centre.

    Errors  LensError for a size that is not above zero (DBL may be zero), for one beyond 200 mm,
            and for an ED that no shape in this box has: one below A or B, or above the diagonal.
    Source  iso-8624, boxing-system-slides

    >>> Frame(a=52, dbl=18).decentration(pd=32).in_words()
    '3 mm in'
    """

    a: float
    dbl: float
    b: float | None = None
    effective_diameter: float | None = None

    def __post_init__(self) -> None:
        checked_length("The lens width A", self.a)
        checked_length("The distance between lenses, DBL,", self.dbl, zero=True)
        if self.b is not None:
            checked_length("The lens depth B", self.b)
        if self.effective_diameter is not None:
            self._check_effective_diameter(self.effective_diameter)

    @property
    def frame_pd(self) -> float:
        """A + DBL: the frame PD, or geometric centre distance, from boxed centre to boxed centre.

        Source  horizontal-centration-lecture
        """
        return snapped(self.a + self.dbl)

    def decentration(self, pd: float, height: float | None = None) -> Decentration:
        """Where a point at this monocular PD and height stands: a PRP, a fitting point, a segment.

        Without a height it lies on the horizontal centre line.

        Errors  LensError for a PD that is not above zero, a height outside the lens, 0 to B, and a
                height for a frame without B.

        >>> Frame(a=55, dbl=19, b=38).decentration(pd=32, height=22)
        Decentration(inward=5.0, up=3.0)
        """
        inward = horizontal_decentration(self.frame_pd, pd)
        return Decentration(inward, 0.0 if height is None else self._above_centre_line(height))

    def _above_centre_line(self, height: float) -> float:
        if self.b is None:
            raise LensError(
                f"A height of {_shown(height)} mm was given for a frame without its lens depth; "
                "heights need B."
            )
        return vertical_decentration(self.b, height)

    def _check_effective_diameter(self, given: float) -> None:
        checked_length("The effective diameter", given)
        least = max(self.a, self.b or self.a)
        most = LONGEST if self.b is None else math.hypot(self.a, self.b)
        if not snapped(least) <= snapped(given) <= snapped(most):
            box = f"{_shown(self.a)} mm wide"
            if self.b is not None:
                box += f" and {_shown(self.b)} mm deep"
            raise LensError(
                f"A lens {box} has an effective diameter from {write_length(least)} to "
                f"{write_length(most)} mm; {_shown(given)} mm was given."
            )


class SegmentLayout(NamedTuple):
    """Where the distance centre and the segment of one lens stand.

    `inset` is what the segment stands inward of the distance centre, in mm.
    """

    distance: Decentration
    inset: float
    segment: Decentration

    @property
    def total_inset(self) -> float:
        """From the boxed centre to the middle of the segment, in mm: decentration plus inset."""
        return self.segment.inward

    @property
    def drop(self) -> float:
        """How far the top of the segment lies below the centre line, in mm; a raise is negative."""
        return snapped(-self.segment.up)


def segment_inset(distance_pd: float, near_pd: float) -> float:
    """Distance PD less near PD, monocular, in mm; of binocular PDs it is half the difference.

    Errors  LensError for a PD that is not above zero.
    Source  opticianry-midterm-game

    >>> segment_inset(68 / 2, 64 / 2)
    2.0
    """
    checked_length("A distance PD", distance_pd)
    checked_length("A near PD", near_pd)
    return snapped(distance_pd - near_pd)


def segment_layout(
    frame: Frame, distance_pd: float, near_pd: float, segment_height: float
) -> SegmentLayout:
    """Decentration, inset, total inset and drop of one lens with a segment, from monocular PDs.

    The distance centre lies on the horizontal centre line. `segment_height` is that of the top of
    the segment.

    Errors  as those of Frame.decentration.
    Source  opticianry-midterm-game

    >>> layout = segment_layout(Frame(a=52, dbl=18, b=40), 33, 31, 17)
    >>> layout.distance.inward, layout.inset, layout.total_inset, layout.drop
    (2.0, 2.0, 4.0, 3.0)
    """
    return SegmentLayout(
        distance=frame.decentration(distance_pd),
        inset=segment_inset(distance_pd, near_pd),
        segment=frame.decentration(near_pd, segment_height),
    )


def spots(prp: Decentration, eye: Eye, spacing: float) -> tuple[Point, Point, Point]:
    """Where the three dots go on the 180 line, from the observer's left to right.

    The middle one marks the PRP, which is the optical centre when no prism is ordered (common
    practice).

    Units   `spacing` from dot to dot in mm.
    Errors  LensError for a spacing that is not above zero.

    >>> spots(Decentration(3, 2), Eye.RIGHT, 17)[0]
    Point(x=-14.0, y=2.0)
    """
    checked_length("The spacing of the dots", spacing)
    x, y = prp.before(eye)
    return Point(snapped(x - spacing), y), Point(x, y), Point(snapped(x + spacing), y)


def near_pd(
    distance_pd: float,
    working_distance: float,
    vertex_distance: float = USUAL_VERTEX_DISTANCE,
    power: float = 0.0,
) -> float:
    """The near PD at the lens, for looking at a point in the middle: similar triangles.

    near PD = PD - PD / (1 + w (1/s - F/1000)), with w the working distance from the lens, s from
    the lens to the centre of rotation, and F the power along the horizontal meridian, centred for
    distance. It holds for a monocular PD as for a binocular one.

    Units   mm; power in dioptres.
    Errors  LensError for a PD or working distance that is not above zero, and for a plus lens so
            strong that it images the centre of rotation at infinity or beyond.
    Source  near-pd-newsgroup

    >>> round(near_pd(63, 400), 1), round(near_pd(63, 400, power=-9), 1)
    (59.0, 59.8)
    """
    checked_length("A PD", distance_pd)
    checked_length("The working distance", working_distance, longest=FARTHEST)
    checked_length("The vertex distance", vertex_distance, zero=True)
    stop = vertex_distance + CORNEA_TO_ROTATION
    if not (math.isfinite(power) and snapped(power * stop) < 1000):
        raise LensError(
            f"No near PD exists for {_shown(power, '+')} D at a vertex distance of "
            f"{_shown(vertex_distance)} mm; powers below +{1000 / stop:.2f} D are allowed there."
        )
    inset = distance_pd / (1 + working_distance * (1 / stop - power / 1000))
    return snapped(distance_pd - inset)


def near_pd_by_demand(distance_pd: float, working_distance: float) -> float:
    """Near PD, binocular, by the three-quarter rule: each lens 0.75 mm in for each dioptre.

    The dioptric demand is 1000 / working distance.

    Units   mm.
    Errors  LensError for a PD or working distance that is not above zero.
    Source  gerstman-1973; memory

    >>> near_pd_by_demand(63, 400)
    59.25
    """
    checked_length("A PD", distance_pd)
    demand = 1000 / checked_length("The working distance", working_distance, longest=FARTHEST)
    return snapped(distance_pd - 2 * INSET_PER_DIOPTRE * demand)


def near_pd_by_habit(distance_pd: float) -> float:
    """Near PD, binocular, by the plainest rule: 2.5 mm less for each eye, whatever the distance.

    Errors  LensError for a PD that is not above zero.
    Source  lined-multifocals-lesson

    >>> near_pd_by_habit(63)
    58.0
    """
    return snapped(checked_length("A PD", distance_pd) - 2 * USUAL_INSET)


def _shown(value: float, sign: str = "") -> str:
    return f"{value:{sign}.10g}".replace("-", "\N{MINUS SIGN}")
