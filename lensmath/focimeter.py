"""The optical bench of a focimeter: the travel of the drum, and the pencil of light behind a lens.

The lens stop lies in the focal plane of the standard lens, power Fs. A target that is moved from
the other focal plane by x toward the standard lens sends light to the stop with the vergence
-Fs² x (Newton's relation). A lens on the stop with the back vertex power D makes that light
parallel when Fs² x = D. So the drum is a straight scale, x = D / Fs², and the target keeps its
size in the eyepiece, since the ray through the middle of the stop is the same at every x (Badal).

Light that is not parallel blurs. Through a round aperture it makes an ellipse whose axes are the
aperture times the principal powers of what is left over. On a screen behind a lens what is left
over is the power of the lens less 1 / distance, so the drum of a focimeter and the distance of a
screen show the same pencil. Seen from the aperture, blur has a size in prism dioptres (1 cm at
1 m, 10 mrad, 34.4 minutes of arc): Prentice's rule for the light left over.

Thin lenses and small angles; diffraction and aberrations are left out.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from lensmath.errors import LensError
from lensmath.power import SAME_LENS, SAME_POWER, LensPower, snapped, standard_axis
from lensmath.scale import shown

LENS_STOP = 6.0
"""Diameter of the aperture of a lens stop, in mm; instruments differ.

Source  whitney-focimetry
"""

# The drum -----------------------------------------------------------------------------------------


def travel(standard_lens: float, drum: float) -> float:
    """How far the target stands from its place at zero: x = f² D = D / Fs².

    Units   `standard_lens` (Fs) and `drum` in dioptres; the travel in mm, above zero toward the
            standard lens.
    Errors  LensError for a standard lens without plus power, and for a drum reading above it: the
            target would have to stand inside the standard lens.
    Source  schwiegerling-visual-optics

    >>> travel(20, 20) - travel(20, -20)
    100.0
    """
    _check_standard_lens(standard_lens)
    if not -math.inf < drum <= standard_lens:
        raise LensError(
            f"A standard lens of {shown(standard_lens)} D reads powers up to its own; "
            f"{shown(drum, '+')} D was given."
        )
    return snapped(1000 * drum / standard_lens**2)


def drum_reading(standard_lens: float, travelled: float) -> float:
    """What the drum reads when the target has gone so far: D = Fs² x.

    Units   `standard_lens` in dioptres; `travelled` in mm from the place at zero, above zero toward
            the standard lens.
    Errors  LensError for a standard lens without plus power, and for a travel beyond that lens.
    Source  schwiegerling-visual-optics

    >>> drum_reading(20, -5)
    -2.0
    """
    _check_standard_lens(standard_lens)
    if not -math.inf < snapped(travelled) <= snapped(1000 / standard_lens):
        raise LensError(
            f"The target meets a standard lens of {shown(standard_lens)} D after "
            f"{shown(1000 / standard_lens)} mm; {shown(travelled)} mm was given."
        )
    return snapped(standard_lens**2 * travelled / 1000)


# The pencil ---------------------------------------------------------------------------------------


class Blur(NamedTuple):
    """What becomes of a point: an ellipse with its two full axes, the longer first.

    `direction` is that of the longer axis, 1-180 degrees; None when the ellipse is a circle or a
    point.
    """

    length: float
    width: float
    direction: float | None


class LineFocus(NamedTuple):
    """A place where the pencil of a distant point closes to a line.

    `distance` in mm behind the lens: below zero before it, infinite for a meridian without power.
    `line` is the direction of the line, 1-180 degrees; None for a sphere, which makes a point.
    """

    distance: float
    line: float | None


class LeastConfusion(NamedTuple):
    """The circle of least confusion: mm behind the lens (below zero before it), and mm across."""

    distance: float
    diameter: float


def blur_ellipse(residual: LensPower, aperture: float) -> Blur:
    """What a point becomes when this power is left over in the light through a round aperture.

    Units   `aperture` is its diameter in mm; the axes of the ellipse in prism dioptres.
    Errors  LensError for an aperture that is not above zero.
    Source  encyclopaedia-defocus, for a sphere

    >>> blur_ellipse(LensPower(0, -1, 30), aperture=6)
    Blur(length=0.6, width=0.0, direction=120.0)
    """
    check_aperture(aperture)
    longer, shorter = sorted(
        residual.principal_meridians, key=lambda meridian: abs(meridian.power), reverse=True
    )
    return Blur(
        snapped(aperture / 10 * abs(longer.power)),
        snapped(aperture / 10 * abs(shorter.power)),
        longer.direction if abs(longer.power) - abs(shorter.power) > SAME_LENS else None,
    )


def blur_on_screen(power: LensPower, distance: float, aperture: float) -> Blur:
    """What a distant point becomes on a screen behind a lens: the aperture times I - zF.

    It is the blur that 1 / distance leaves over, seen at that distance.

    Units   `distance` and `aperture` in mm, and so are the axes; a distance below zero lies before
            the lens, where the light only seems to come from.
    Errors  LensError for a distance of zero and an aperture that is not above zero.
    Source  optometry-cards-blur, for a sphere

    >>> blur_on_screen(LensPower(2, -1, 30), distance=800, aperture=40)
    Blur(length=24.0, width=8.0, direction=30.0)
    """
    if distance == 0 or not math.isfinite(distance):
        raise LensError(
            f"A screen stands behind the lens or before it; {shown(distance)} mm was given."
        )
    seen = blur_ellipse(power - LensPower(1000 / distance), aperture)
    size = abs(distance) / 100
    return Blur(snapped(seen.length * size), snapped(seen.width * size), seen.direction)


def line_foci(power: LensPower) -> tuple[LineFocus, LineFocus]:
    """The two line foci of a distant point: of the meridian along the axis, then across it.

    Each meridian makes the line that lies across it.

    Source  durham-tech-sturm

    >>> line_foci(LensPower(1, 2, 180))
    (LineFocus(distance=1000.0, line=90.0), LineFocus(distance=333.333333333, line=180.0))
    """
    along, across = (
        LineFocus(
            math.inf if abs(meridian.power) < SAME_POWER else snapped(1000 / meridian.power),
            None if power.axis is None else standard_axis(meridian.direction + 90),
        )
        for meridian in power.principal_meridians
    )
    return along, across


def circle_of_least_confusion(power: LensPower, aperture: float) -> LeastConfusion:
    """Where the pencil of a distant point is round: at the focus of the mean sphere.

    With the line powers Fa and Fb its diameter is aperture |Fa - Fb| / |Fa + Fb|.

    Units   `aperture` in mm.
    Errors  LensError for an aperture that is not above zero, and for a lens whose mean sphere is
            zero, which has that circle nowhere.
    Source  meister-least-confusion, for the distance
    Source  optometry-cards-blur, for the diameter

    >>> circle_of_least_confusion(LensPower(2, -1, 180), aperture=40)
    LeastConfusion(distance=666.666666667, diameter=13.333333333)
    """
    if abs(power.mean_sphere) < SAME_POWER:
        raise LensError(
            "A lens has a circle of least confusion when its mean sphere is not zero; "
            f"sphere {shown(power.sphere, '+')} D with cylinder {shown(power.cylinder, '+')} D "
            "was given."
        )
    distance = 1000 / power.mean_sphere
    return LeastConfusion(snapped(distance), blur_on_screen(power, distance, aperture).length)


def check_aperture(diameter: float) -> None:
    """Refuse an aperture that lets no light through, or that has no edge.

    Errors  LensError for a diameter (mm) that is not a number above zero.
    """
    if not 0 < diameter < math.inf:
        raise LensError(
            f"The diameter of an aperture is above zero; {shown(diameter)} mm was given."
        )


def _check_standard_lens(power: float) -> None:
    if not 0 < power < math.inf:
        raise LensError(f"A standard lens has plus power; {shown(power, '+')} D was given.")
