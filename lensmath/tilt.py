"""A tilted lens: what it does before the eye, and what must be ordered in its place.

A lens that is tilted to the line of sight gains power, and most of it across the tilt axis. Two
formulae say how much. Martin's approximation is the one that people work by hand; Coddington's
equations are exact for a thin lens whose optical centre lies on the line of sight. What the
thickness and the front curve add to that is in `lensmath.raytrace`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.power import LensPower, snapped, standard_axis
from lensmath.surfaces import checked_index


@dataclass(frozen=True)
class Tilt:
    """How a lens stands to the line of sight.

    Units   degrees. `angle` is the tilt, 0 to below 90, from the line of sight to the optical axis
            of the lens. `faces` is the direction, 0-360, to which the front of the lens is turned:
            270, down, for a pantoscopic tilt, and the temporal side for a face form. `turn` is how
            far the lens is turned in its own plane, counter-clockwise.
    Errors  LensError for an angle outside 0 to below 90, or a direction that is not finite.

    >>> Tilt(10).axis, Tilt(10, faces=180).axis
    (180.0, 90.0)
    """

    angle: float
    faces: float = 270.0
    turn: float = 0.0

    def __post_init__(self) -> None:
        if not 0 <= self.angle < 90:
            raise LensError(
                f"A tilt lies from 0 to below 90 degrees; {_shown(self.angle)} was given."
            )
        for direction in (self.faces, self.turn):
            if not math.isfinite(direction):
                raise LensError(
                    f"A direction is a number of degrees; {_shown(direction)} was given."
                )

    @classmethod
    def of_frame(cls, pantoscopic: float, face_form: float, eye: Eye) -> Tilt:
        """The one tilt that a frame's pantoscopic tilt and face form make together before an eye.

        The face form is set in the frame, and then the frame is tilted. The cosine of the angle is
        the product of the two cosines. Two tilts also turn the lens a little in its own plane.

        Units   degrees, both between -90 and 90; above zero when the lower edge, or the temporal
                edge, is the nearer to the face.
        Errors  LensError for an angle outside these limits.
        Source  combined-tilt-recipe, the angle; independent-computation, the rest

        >>> Tilt.of_frame(10, 15, Eye.RIGHT)
        Tilt(angle=17.9639, faces=212.9458, turn=-1.3198)
        """
        down = math.radians(_worn("pantoscopic tilt", pantoscopic))
        side = math.radians(_worn("face form", face_form)) * -eye.inward
        # The optical axis of the lens: x to the observer's right, y up, z to the observer.
        x, y = math.sin(side), -math.sin(down) * math.cos(side)
        z = math.cos(down) * math.cos(side)
        turn = 2 * math.atan(math.tan(down / 2) * math.tan(side / 2))
        return cls(
            snapped(math.degrees(math.atan2(math.hypot(x, y), z))),
            snapped(math.degrees(math.atan2(y, x)) % 360),
            snapped(math.degrees(turn)),
        )

    @property
    def axis(self) -> float:
        """The tilt axis, 1-180 degrees: the line about which the lens is tilted."""
        return standard_axis(self.faces + 90)

    @property
    def lens_axis(self) -> float:
        """Where the tilt axis lies on the lens's own scale, 1-180 degrees."""
        return standard_axis(self.axis - self.turn)


Factor = Callable[[float, float], float]
"""The power along the tilt axis of a tilted 1 D lens, from tilt in degrees and index."""


def martin(angle: float, index: float) -> float:
    """Martin's approximation of the power along the tilt axis: 1 + sin²θ / 2n.

    Source  durham-tech-tilt

    >>> martin(10, 1.5)
    1.01005
    """
    return 1 + math.sin(math.radians(angle)) ** 2 / (2 * checked_index(index))


def coddington(angle: float, index: float) -> float:
    """The exact power along the tilt axis: (n cosθ′ - cosθ) / (n - 1), where sinθ = n sinθ′.

    Source  kingslake-1994

    >>> coddington(10, 1.5)
    1.01021
    """
    inside = refracted(angle, index)
    cosine, cosine_inside = (math.cos(math.radians(at)) for at in (angle, inside))
    return (index * cosine_inside - cosine) / (index - 1)


def refracted(angle: float, index: float) -> float:
    """The angle to the normal inside the lens, for one outside it, both in degrees: Snell's law.

    >>> refracted(30, 1.5)
    19.4712
    """
    return math.degrees(math.asin(math.sin(math.radians(angle)) / checked_index(index)))


def tilted(power: LensPower, tilt: Tilt, index: float, factor: Factor = coddington) -> LensPower:
    """What a thin lens does before the eye when it is tilted, by `coddington` or `martin`.

    Along the tilt axis the power is multiplied by the factor, across it by the factor over cos²θ,
    and the torsion between by the factor over cosθ. So a sphere S becomes S′ = S times the factor
    with the cylinder C′ = S′ tan²θ, its axis the tilt axis. Martin's formula is for spheres; for
    other lenses his factor is put in the place of the exact one.

    Some texts take C = S tan²θ, from the power before the tilt (Source  schwartz-tilt). Here it
    is S′, as in Martin's formula and in the exact equations.

    Shape   in plus or minus cylinder as `power` is; a sphere's cylinder takes the sphere's sign.
    Errors  LensError for an index that no lens has.
    Source  durham-tech-tilt, harris-2002

    >>> tilted(LensPower(+15.00), Tilt(10), 1.5, martin)
    LensPower(sphere=15.1508, cylinder=0.4711, axis=180.0)
    >>> tilted(LensPower(+15.00), Tilt(10), 1.5)
    LensPower(sphere=15.1532, cylinder=0.4711, axis=180.0)
    """
    lengthened = 1 / math.cos(math.radians(tilt.angle))
    on_axis = _turned(power, -tilt.lens_axis)
    seen = _stretched(on_axis, factor(tilt.angle, index), lengthened)
    return in_form_of(power, _turned(seen, tilt.axis))


def compensated(
    wanted: LensPower, tilt: Tilt, index: float, factor: Factor = coddington
) -> LensPower:
    """The thin lens to order, which does what is wanted when it is tilted: `tilted` undone.

    Shape   in plus or minus cylinder, as for `tilted`.
    Errors  LensError for an index that no lens has.
    Source  independent-computation

    >>> compensated(LensPower(-8.00), Tilt(15), 1.586)
    LensPower(sphere=-7.3044, cylinder=-0.5244, axis=90.0)
    """
    shortened = math.cos(math.radians(tilt.angle))
    on_axis = _turned(wanted, -tilt.axis)
    ordered = _stretched(on_axis, 1 / factor(tilt.angle, index), shortened)
    return in_form_of(wanted, _turned(ordered, tilt.lens_axis))


def in_form_of(given: LensPower, result: LensPower) -> LensPower:
    """`result` in plus or minus cylinder as `given` has it; without a cylinder, as its sphere."""
    sign = given.cylinder or given.sphere
    return result.in_plus_cylinder() if sign > 0 else result.in_minus_cylinder()


def _turned(power: LensPower, degrees: float) -> LensPower:
    """The lens turned counter-clockwise in its own plane."""
    if power.axis is None:
        return power
    return LensPower(power.sphere, power.cylinder, standard_axis(power.axis + degrees))


def _stretched(power: LensPower, factor: float, across: float) -> LensPower:
    """F times a factor, then TFT with T = diag(1, across): `across` acts at right angles to 180."""
    (xx, xy), (_, yy) = power.matrix
    torsion = factor * xy * across
    return LensPower.from_matrix(((factor * xx, torsion), (torsion, factor * yy * across**2)))


def _worn(name: str, angle: float) -> float:
    if not -90 < angle < 90:
        raise LensError(
            f"The {name} lies between \N{MINUS SIGN}90 and 90 degrees; {_shown(angle)} was given."
        )
    return angle


def _shown(value: float) -> str:
    return f"{value:.10g}".replace("-", "\N{MINUS SIGN}")
