"""What the eyepiece of a manual lensmeter shows: the target, blurred and shifted by the lens.

From vergence to the blur ellipse, with the power matrix F of the lens:

1. With the drum at D the light of the target reaches the lens stop with the vergence -D. The lens
   adds F. The power left over is R = F - D I; the telescope is set for parallel light, R = 0.
2. The ray through the middle of the stop goes on unbent, so a point of the target keeps its place
   at every reading. A ray through another point r of the stop leaves inclined to it by -R r, which
   is Prentice's rule. With r in cm that is in prism dioptres, and a ring of the reticle is one.
3. All r fill the stop, a disc of diameter a. R maps it to an ellipse with the axes a |S - D|
   along the axis A and a |S + C - D| across it. At D = S it is a line across the axis, at
   D = S + C a line along it, each a |C| long; half-way it is a circle of half that size.
4. A line is a row of such ellipses. Across it, along its normal n, it gains a |R n|. That is zero
   when n is a principal meridian and D its power. So sphere lines, sharp at S with the wheel at A,
   run across A, and cylinder lines, sharp at S + C, run along A: the wheel turns them so.
5. With the wheel off by t, |R n|² = (D - P)² + (C/2 sin 2t)², where P is the power along n. No drum
   reading makes that zero: neither set gets sharp. The lines are not turned, for every point keeps
   its place. But each is drawn out aslant: its two edges are shifted along it against each other
   (`shear`), and so are its ends and gaps, which is what looks broken.
6. Prism at the stop inclines all rays alike: the whole target moves, toward the base.

Directions. The lens lies with its back surface on the stop, so the reader sees its front, as when
facing the wearer: x to the right, y up, and axes as on the standard scale. Light that is bent
toward the base is seen toward the base because the telescope turns the picture by half a turn,
which changes no line (derived; common practice agrees).

Left out: diffraction, aberrations, the thickness of the lens, and any edge other than the stop. All
sizes are in prism dioptres as seen from the stop, before the eyepiece magnifies them.

Source  focimeter-principle-2010, how the lens lies
Source  cylinder-form-slides, broken lines
Source  prism-reading-lesson, the target moves toward the base
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from lensmath.errors import LensError
from lensmath.focimeter import LENS_STOP, Blur, blur_ellipse, check_aperture
from lensmath.power import LensPower, snapped, standard_axis
from lensmath.prism import NO_PRISM, SAME_PRISM, Prism
from lensmath.readings import Lines
from lensmath.scale import shown

SHARP = 0.036
"""The widest blur across a line that still looks sharp, in prism dioptres (1.2 minutes of arc).

It is what 0.06 D leave over through a stop of 6 mm, and 0.06 D is the error to be expected of a
reading. That the eye is the cause of that error is common practice, not from the source.

Source  whitney-focimetry, the 0.06 D and the 6 mm
"""

# The targets --------------------------------------------------------------------------------------


class LineSet(NamedTuple):
    """Parallel lines of a target, all sizes in prism dioptres; `spacing` from middle to middle."""

    width: float
    spacing: float
    length: float = 6.0
    lines: int = 3


class CrossedLines(NamedTuple):
    """A target of two sets of lines at right angles, turned by the axis wheel."""

    sphere: LineSet = LineSet(width=0.05, spacing=0.3)
    cylinder: LineSet = LineSet(width=0.12, spacing=0.8)


class DotRing(NamedTuple):
    """A target of dots on a circle, or corona; `radius` and `diameter` in prism dioptres."""

    radius: float = 2.0
    diameter: float = 0.1
    dots: int = 24


CROSSED_LINES = CrossedLines()
"""Three thin sphere lines and three wide cylinder lines. The sizes are only those of our pictures.

Source  lensmeter-training-deck
"""

CORONA = DotRing()
"""A ring of dots (common practice). The sizes are only those of our pictures."""


# What is seen -------------------------------------------------------------------------------------


class LineImage(NamedTuple):
    """One line as it is seen, all sizes in prism dioptres from the centre of the reticle.

    `x` and `y` are its middle, `direction` its own direction, 1-180 degrees. `length` and `width`
    include its blur. `shear` is how far its edge on the left of that direction is shifted along it,
    forward, against the edge on the right.
    """

    lines: Lines
    x: float
    y: float
    direction: float
    length: float
    width: float
    shear: float


class DotImage(NamedTuple):
    """One dot as it is seen, in prism dioptres from the centre of the reticle, with its blur.

    `direction` is that in which it is drawn out, 1-180 degrees; None when it stays round.
    """

    x: float
    y: float
    length: float
    width: float
    direction: float | None


class DrumRange(NamedTuple):
    """Drum readings that look alike, in dioptres."""

    low: float
    high: float


@dataclass(frozen=True)
class View:
    """A lens on the stop, the settings of drum and wheel, and what the eyepiece shows of them.

    Units   `drum` in dioptres; `wheel` in degrees, 0 to 180; `stop` is the diameter of the aperture
            in mm. `prism` is the prism of the lens at the middle of the stop; for a lens that is
            not centred there, `decentration.prism_at` gives it.
    Errors  LensError for a drum that is not a number, a wheel outside 0-180, a stop that is not
            above zero.

    >>> view = View(LensPower(-0.75, -2.50, 112), drum=-0.75, wheel=112)
    >>> view.blur_across(Lines.SPHERE), view.blur_across(Lines.CYLINDER)
    (0.0, 1.5)
    >>> view.blur
    Blur(length=1.5, width=0.0, direction=22.0)
    """

    lens: LensPower
    drum: float
    wheel: float = 180.0
    prism: Prism = NO_PRISM
    stop: float = LENS_STOP

    def __post_init__(self) -> None:
        if not math.isfinite(self.drum):
            raise LensError(
                f"The drum must read a number such as −2.25; {shown(self.drum)} was given."
            )
        if not 0 <= self.wheel <= 180:
            raise LensError(
                "The axis wheel reads from 1 to 180 degrees (0 is 180); "
                f"{shown(self.wheel)} was given."
            )
        check_aperture(self.stop)

    # Blur ----------------------------------------------------------------------------------------

    @property
    def residual(self) -> LensPower:
        """The power left over: that of the lens less the drum reading."""
        return self.lens - LensPower(self.drum)

    @property
    def blur(self) -> Blur:
        """What every point of the target becomes, in prism dioptres."""
        return blur_ellipse(self.residual, self.stop)

    def direction(self, lines: Lines) -> float:
        """Where a set of lines runs, 1-180 degrees: cylinder lines along the wheel, others across.

        Errors  LensError for both sets at once.
        """
        if lines is Lines.BOTH:
            raise LensError(
                "A direction belongs to one set of lines; the sphere lines or the cylinder lines "
                f"are allowed, {lines.value} was given."
            )
        return standard_axis(self.wheel + (90 if lines is Lines.SPHERE else 0))

    def blur_across(self, lines: Lines) -> float:
        """How much wider a set of lines looks than it is, in prism dioptres: a |R n|.

        Of both sets, the wider blur.
        """
        smears = [self._smear(self.direction(one) + 90) for one in _each(lines)]
        return snapped(max(math.hypot(*smear) for smear in smears))

    # Sharpness -----------------------------------------------------------------------------------

    def is_sharp(self, lines: Lines, threshold: float = SHARP) -> bool:
        """Whether the blur across these lines is no wider than `threshold`, in prism dioptres.

        Errors  LensError for a threshold below zero.
        """
        return self.blur_across(lines) <= _checked(threshold)

    def best_drum(self, lines: Lines) -> float:
        """Where the drum, wherever it stands now, blurs these lines least: the power across them.

        Of both sets, where the wider blur is least: the mean sphere.

        >>> View(LensPower(-0.75, -2.50, 112), drum=0, wheel=112).best_drum(Lines.CYLINDER)
        -3.25
        """
        powers = [self.lens.power_along(self.direction(one) + 90) for one in _each(lines)]
        return snapped(math.fsum(powers) / len(powers))

    def sharp_drums(self, lines: Lines, threshold: float = SHARP) -> DrumRange | None:
        """The drum readings at which these lines look sharp with this wheel; None where none does.

        With the wheel right they lie within 10 threshold / stop of the power, either way: the depth
        of focus. With the wheel off the axis they are fewer.

        Units   `threshold` in prism dioptres.
        Errors  LensError for a threshold below zero.
        Source  dictionary-depth-of-focus

        >>> View(LensPower(-3), drum=0).sharp_drums(Lines.BOTH)
        DrumRange(low=-3.06, high=-2.94)
        """
        within = 10 * _checked(threshold) / self.stop
        away = math.radians(2 * (self.wheel - (self.lens.axis or 0.0)))
        left = abs(self.lens.cylinder / 2 * math.sin(away))
        if snapped(within - left) < 0:
            return None
        reach = math.sqrt(snapped(within - left) * (within + left))
        best = [self.best_drum(one) for one in _each(lines)]
        low, high = snapped(max(best) - reach), snapped(min(best) + reach)
        return DrumRange(low, high) if low <= high else None

    def wheel_play(self, threshold: float = SHARP) -> float:
        """How far the wheel may stand off with the lines still sharp at the best drum reading.

        Units   degrees either way, from the axis or from the meridian across it; `threshold` in
                prism dioptres. 45 means any wheel, as for a sphere.
        Errors  LensError for a threshold below zero.

        >>> round(View(LensPower(0, -0.50, 90), drum=0).wheel_play(), 1)
        6.9
        """
        within, most = 10 * _checked(threshold) / self.stop, abs(self.lens.cylinder) / 2
        if snapped(within - most) >= 0:
            return 45.0
        return snapped(math.degrees(math.asin(within / most)) / 2)

    # The picture ---------------------------------------------------------------------------------

    def line_images(self, target: CrossedLines = CROSSED_LINES) -> tuple[LineImage, ...]:
        """Every line of a target of crossed lines as it is seen, sphere lines first."""
        return (
            *self._images(Lines.SPHERE, target.sphere),
            *self._images(Lines.CYLINDER, target.cylinder),
        )

    def dot_images(self, target: DotRing = CORONA) -> tuple[DotImage, ...]:
        """Every dot of a ring as it is seen, counter-clockwise from the right; no wheel turns it.

        At the two readings of a cylinder the dots are drawn out into lines: across the axis at S,
        along the axis at S + C.
        """
        length, width, direction = self.blur
        turns = [2 * math.pi * number / target.dots for number in range(target.dots)]
        return tuple(
            DotImage(
                snapped(self.prism.x + target.radius * math.cos(turn)),
                snapped(self.prism.y + target.radius * math.sin(turn)),
                snapped(target.diameter + length),
                snapped(target.diameter + width),
                direction,
            )
            for turn in turns
        )

    def _images(self, lines: Lines, drawn: LineSet) -> list[LineImage]:
        along = self.direction(lines)
        normal = along + 90
        longer, wider = self._smear(along), self._smear(normal)
        gain = math.hypot(*wider)
        shear = (longer[0] * wider[0] + longer[1] * wider[1]) / gain if gain > SAME_PRISM else 0.0
        middle = (drawn.lines - 1) / 2
        return [
            LineImage(
                lines,
                snapped(self.prism.x + step * math.cos(math.radians(normal))),
                snapped(self.prism.y + step * math.sin(math.radians(normal))),
                along,
                snapped(drawn.length + math.hypot(*longer)),
                snapped(drawn.width + gain),
                snapped(shear),
            )
            for step in (drawn.spacing * (number - middle) for number in range(drawn.lines))
        ]

    def _smear(self, direction: float) -> tuple[float, float]:
        """How differently the rays leave from the two ends of a diameter of the stop: a R u.

        Units   `direction` of the diameter in degrees; x and y in prism dioptres.
        """
        (xx, xy), (yx, yy) = self.residual.matrix
        x = self.stop / 10 * math.cos(math.radians(direction))
        y = self.stop / 10 * math.sin(math.radians(direction))
        return xx * x + xy * y, yx * x + yy * y


def _each(lines: Lines) -> tuple[Lines, ...]:
    return (Lines.SPHERE, Lines.CYLINDER) if lines is Lines.BOTH else (lines,)


def _checked(threshold: float) -> float:
    if not 0 <= threshold < math.inf:
        raise LensError(
            f"The blur that still looks sharp is zero or more; {shown(threshold)} was given."
        )
    return threshold
