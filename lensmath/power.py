"""The power of a spectacle lens: one thing with several names.

A lens is a symmetric 2x2 power matrix. Sphere-cylinder-axis (in plus or minus cylinder), crossed
cylinders, the power vector and the matrix are only its names, and `LensPower` turns each into the
others. Two `LensPower` are equal when they are the same lens, however they are spelt or computed.

Conventions: powers in dioptres. Axes and meridians in degrees on the standard scale (ISO 8429):
seen facing the wearer, zero at the observer's right, counter-clockwise, the same for both eyes.
x points to the observer's right and y up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from lensmath.errors import LensError

# Values are cleaned of float noise at this digit; powers that differ by less are the same power.
_DIGITS = 9
SAME_POWER = 1e-9
# Two lenses are the same when their power vectors differ by no more than this, in dioptres: a
# thousand cleanings away, and ten thousand times finer than any instrument reads.
SAME_LENS = 1e-6


class PowerVector(NamedTuple):
    """Mean sphere and the two crossed-cylinder components, all in dioptres.

    Source  thibos-1997
    """

    m: float
    j0: float
    j45: float


class Meridian(NamedTuple):
    """A principal meridian: the power along it, in dioptres, and its direction, 1-180 degrees."""

    power: float
    direction: float


Matrix = tuple[tuple[float, float], tuple[float, float]]


def snapped(value: float) -> float:
    """`value` without float noise (rounded to 1e-9) and without a negative zero.

    >>> snapped(0.1 + 0.2), snapped(-1e-12)
    (0.3, 0.0)
    """
    if value % 0.125 == 0:  # an eighth is exact; most values are some, and rounding is slow
        return value + 0.0
    return round(value, _DIGITS) + 0.0


def standard_axis(degrees: float) -> float:
    """Any direction of a line, in degrees, as the 1-180 scale writes it: above 0, up to 180.

    >>> standard_axis(0), standard_axis(202), standard_axis(-68)
    (180.0, 22.0, 112.0)
    """
    return snapped(degrees % 180) or 180.0


def axis_difference(one: float, other: float) -> float:
    """The angle between two axes, in degrees, 0 to 90: 178 and 2 are 4 degrees apart.

    >>> axis_difference(178, 2)
    4.0
    """
    apart = (one - other) % 180
    return snapped(min(apart, 180 - apart))


@dataclass(frozen=True, eq=False)
class LensPower:
    """The power of a lens as sphere, cylinder and axis.

    Units   sphere and cylinder in dioptres; axis in degrees, 0 to 180, where 0 is kept as 180.
    Shape   A lens without cylinder has no axis: `axis` is None then, whatever was given.
    Errors  LensError for a power that is not a finite number, an axis outside 0-180, or a
            cylinder without an axis.

    >>> LensPower(-0.75, -2.50, 112).in_plus_cylinder()
    LensPower(sphere=-3.25, cylinder=2.5, axis=22.0)
    """

    sphere: float
    cylinder: float = 0.0
    axis: float | None = None

    def __post_init__(self) -> None:
        sphere = _finite("sphere", self.sphere)
        cylinder = _finite("cylinder", self.cylinder)
        axis = None if self.axis is None else _axis_on_scale(self.axis)
        if abs(cylinder) < SAME_POWER:
            cylinder, axis = 0.0, None
        elif axis is None:
            raise LensError(
                f"A cylinder of {_shown(cylinder)} D was given without an axis; "
                "a cylinder needs an axis from 1 to 180."
            )
        object.__setattr__(self, "sphere", sphere)
        object.__setattr__(self, "cylinder", cylinder)
        object.__setattr__(self, "axis", axis)

    # One lens, several names ---------------------------------------------------------------

    def in_minus_cylinder(self) -> LensPower:
        """The same lens with a cylinder of zero or less."""
        return self.transposed() if self.cylinder > 0 else self

    def in_plus_cylinder(self) -> LensPower:
        """The same lens with a cylinder of zero or more."""
        return self.transposed() if self.cylinder < 0 else self

    def transposed(self) -> LensPower:
        """The same lens in its other form: new sphere S + C, cylinder -C, axis turned by 90.

        Source  durham-tech-8

        >>> LensPower(2.50, -1.50, 170).transposed()
        LensPower(sphere=1.0, cylinder=1.5, axis=80.0)
        """
        if self.axis is None:
            return self
        return LensPower(
            snapped(self.sphere + self.cylinder), -self.cylinder, standard_axis(self.axis + 90)
        )

    def crossed_cylinders(self) -> tuple[LensPower, LensPower]:
        """The same lens as two plano-cylinders at right angles, whose sum it is.

        The first has the sphere as its power, the second sphere plus cylinder. A cylinder acts
        across its axis, so the power along the axis of the lens, S, has its own axis at A + 90.
        A sphere is written with axes 90 and 180.

        >>> LensPower(5.25, -3.25, 80).crossed_cylinders()[0]
        LensPower(sphere=0.0, cylinder=5.25, axis=170.0)
        """
        along, across = self.principal_meridians
        return (
            LensPower(0.0, along.power, across.direction),
            LensPower(0.0, across.power, along.direction),
        )

    @property
    def principal_meridians(self) -> tuple[Meridian, Meridian]:
        """The power along the axis (the sphere) and across it (sphere plus cylinder).

        For a sphere, where every meridian is alike, 180 and 90.
        """
        axis = 180.0 if self.axis is None else self.axis
        return (
            Meridian(self.sphere, axis),
            Meridian(snapped(self.sphere + self.cylinder), standard_axis(axis + 90)),
        )

    @property
    def mean_sphere(self) -> float:
        """Mean sphere or spherical equivalent, S + C/2, in dioptres."""
        return self.sphere + self.cylinder / 2

    def power_along(self, meridian: float) -> float:
        """Power along a meridian (degrees), in dioptres: S + C sin²(meridian - axis).

        Source  durham-tech-10

        >>> round(LensPower(8.75, -2.25, 5).power_along(90), 2)
        6.52
        """
        away = math.radians(_finite("meridian", meridian) - (self.axis or 0.0))
        return self.sphere + self.cylinder * math.sin(away) ** 2

    @property
    def power_vector(self) -> PowerVector:
        """M = S + C/2, J0 = -(C/2) cos 2A, J45 = -(C/2) sin 2A, in dioptres.

        Source  thibos-1997
        """
        doubled = math.radians(2 * (self.axis or 0.0))
        half = -self.cylinder / 2
        return PowerVector(self.mean_sphere, half * math.cos(doubled), half * math.sin(doubled))

    @classmethod
    def from_power_vector(cls, m: float, j0: float, j45: float) -> LensPower:
        """The lens with this power vector (dioptres), in minus cylinder.

        Source  thibos-1997

        >>> LensPower.from_power_vector(-0.5, -0.5, 0)
        LensPower(sphere=0.0, cylinder=-1.0, axis=90.0)
        """
        half = math.hypot(_finite("J0", j0), _finite("J45", j45))
        axis = standard_axis(math.degrees(math.atan2(j45, j0)) / 2)
        return cls(snapped(_finite("M", m) + half), snapped(-2 * half), axis)

    @property
    def matrix(self) -> Matrix:
        """The dioptric power matrix, in dioptres, x to the observer's right and y up.

        [[S + C sin²A, -C sinA cosA], [-C sinA cosA, S + C cos²A]]

        Source  long-1976
        """
        m, j0, j45 = self.power_vector
        return ((m + j0, j45), (j45, m - j0))

    @classmethod
    def from_matrix(cls, matrix: Sequence[Sequence[float]]) -> LensPower:
        """The lens with this symmetric 2x2 power matrix (dioptres), in minus cylinder.

        Errors  LensError when the matrix is not 2x2 or not symmetric: no thin lens has it.
        Source  long-1976

        >>> LensPower.from_matrix([[-2, 0], [0, -1]])
        LensPower(sphere=-1.0, cylinder=-1.0, axis=90.0)
        """
        try:
            (xx, xy), (yx, yy) = matrix
        except (TypeError, ValueError):
            raise LensError(
                f"A power matrix has two rows of two numbers; {matrix!r} was given."
            ) from None
        for entry in (xx, xy, yx, yy):
            _finite("power matrix", entry)
        if abs(xy - yx) > SAME_POWER:
            raise LensError(
                f"The power matrix of a lens is symmetric; {_shown(xy)} and {_shown(yx)} were "
                "given off its diagonal."
            )
        return cls.from_power_vector((xx + yy) / 2, (xx - yy) / 2, (xy + yx) / 2)

    # Arithmetic ------------------------------------------------------------------------------

    def __add__(self, other: LensPower) -> LensPower:
        """Two thin lenses in contact, axes at any angle (obliquely crossed cylinders).

        The sum of the power vectors, written in minus cylinder.

        Source  long-1976

        >>> LensPower(1.75, 0.50, 45) + LensPower(-2.25, -1.00, 135)
        LensPower(sphere=0.0, cylinder=-1.5, axis=135.0)
        """
        if not isinstance(other, LensPower):
            return NotImplemented
        mine, theirs = self.power_vector, other.power_vector
        return LensPower.from_power_vector(*(a + b for a, b in zip(mine, theirs, strict=True)))

    def __neg__(self) -> LensPower:
        """The lens that neutralises this one."""
        return LensPower(-self.sphere, -self.cylinder, self.axis)

    def __sub__(self, other: LensPower) -> LensPower:
        """What must be added to `other` to make this lens, in minus cylinder."""
        if not isinstance(other, LensPower):
            return NotImplemented
        return self + -other

    def to_step(self, step: float) -> LensPower:
        """Sphere and cylinder of this form rounded to 0.25 or 0.125 D; the axis stays.

        A power half-way between two steps goes to the stronger one (away from zero). The two
        forms of a lens may round to different lenses, so write the form you need first.

        Errors  LensError for any other step.

        >>> LensPower(-1.70, -0.60, 90).to_step(0.25)
        LensPower(sphere=-1.75, cylinder=-0.5, axis=90.0)
        """
        if step not in (0.25, 0.125):
            raise LensError(f"Powers are written in steps of 0.25 or 0.125 D; {step} was given.")
        return LensPower(rounded_to(self.sphere, step), rounded_to(self.cylinder, step), self.axis)

    # Equality of the lens, not of its spelling -------------------------------------------------

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, LensPower):
            return NotImplemented
        pairs = zip(self.power_vector, other.power_vector, strict=True)
        return all(abs(mine - theirs) <= SAME_LENS for mine, theirs in pairs)

    def __hash__(self) -> int:
        # Equal lenses need one hash, and no rounding gives nearly equal numbers the same one.
        return hash(LensPower)


def rounded_to(value: float, step: float) -> float:
    """`value` at the nearest multiple of `step`; half-way goes away from zero.

    >>> rounded_to(-1.125, 0.25), rounded_to(0.62, 0.125)
    (-1.25, 0.625)
    """
    steps = math.floor(snapped(abs(value) / step) + 0.5)
    return snapped(math.copysign(steps * step, value))


def _shown(value: float) -> str:
    return f"{value:.10g}".replace("-", "\N{MINUS SIGN}")


def _finite(name: str, value: float) -> float:
    if not math.isfinite(value):
        raise LensError(f"The {name} must be a number such as −2.25; {_shown(value)} was given.")
    return float(value) + 0.0


def _axis_on_scale(axis: float) -> float:
    if not 0 <= axis <= 180:
        raise LensError(
            f"An axis lies from 1 to 180 degrees (0 is written 180); {_shown(axis)} was given."
        )
    return standard_axis(axis)
