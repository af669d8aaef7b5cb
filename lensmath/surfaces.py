"""The two surfaces of a spectacle lens, and the power they make across its thickness.

Conventions: surface powers in dioptres and radii in millimetres, plus where a surface is convex and
minus where it is concave, on the front and on the back alike. So the back surface of a meniscus is
minus. A toric surface is a `LensPower`, its meridians named as for a lens: facing the wearer.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from lensmath.errors import LensError
from lensmath.power import SAME_POWER, LensPower, Meridian, snapped, standard_axis
from lensmath.scale import shown

TOOL_INDEX = 1.530
"""The index of surfacing tools, and of many lens clocks (Source  meister-lens-clock-question)."""

CROWN_INDEX = 1.523
"""The index of crown glass, and of other lens clocks (Source  lens-clock-encyclopedia)."""


# One surface -------------------------------------------------------------------------------------


def surface_power(radius: float, index: float) -> float:
    """The power of a surface, in dioptres, from its radius in mm: 1000 (n - 1) / r.

    Errors  LensError for a radius of 0. A plano surface has the radius `math.inf`.
    Source  durham-tech-6

    >>> surface_power(80, 1.5), surface_power(-222.2, 1.5)
    (6.25, -2.25)
    """
    if not abs(radius) > 0:
        raise LensError(
            "A radius is in millimetres, plus for convex and minus for concave; "
            f"{shown(radius)} was given."
        )
    return snapped(1000 * (checked_index(index) - 1) / radius)


def radius_of_curvature(power: float, index: float) -> float:
    """The radius of a surface, in mm, from its power in dioptres: 1000 (n - 1) / F.

    A plano surface has the radius `math.inf`.

    Source  durham-tech-6

    >>> radius_of_curvature(-3, CROWN_INDEX)
    -174.33
    """
    if snapped(checked_power("surface power", power)) == 0:
        return math.inf
    return snapped(1000 * (checked_index(index) - 1) / power)


def true_power(reading: float, index: float, *, clock_index: float) -> float:
    """The power of a surface, in dioptres, from the reading of a lens clock.

    F = reading (n - 1) / (n of the clock - 1). A clock feels a curve and shows the power of that
    curve in the index it was made for: `TOOL_INDEX`, `CROWN_INDEX` or another. It has no default,
    because the clocks in use differ. With the two indices exchanged, a power gives its reading.

    Source  lens-clock-encyclopedia

    >>> true_power(6.00, 1.66, clock_index=TOOL_INDEX)
    7.47
    """
    dial = checked_power("reading of the lens clock", reading)
    return snapped(dial * (checked_index(index) - 1) / (checked_index(clock_index) - 1))


def clocked_surface(
    along: float, across: float, meridian: float, index: float, *, clock_index: float
) -> LensPower:
    """The toric surface that a lens clock feels along a meridian and at right angles to it.

    Units   readings in dioptres; `meridian`, 0 to 180 degrees, is where the feet of the clock
            stand for the reading `along`. Both must be principal meridians.

    >>> clocked_surface(-5.30, -7.42, 20, 1.60, clock_index=TOOL_INDEX)
    LensPower(sphere=-6.0, cylinder=-2.4, axis=20.0)
    """
    first, second = (true_power(dial, index, clock_index=clock_index) for dial in (along, across))
    return LensPower(first, snapped(second - first), meridian)


# Toric forms -------------------------------------------------------------------------------------


def base_and_cross_curve(surface: LensPower) -> tuple[Meridian, Meridian]:
    """The weaker and the stronger principal curve of a toric surface, front or back.

    Source  mrcophth-station-3

    >>> base_and_cross_curve(LensPower(-7.50, 1.50, 90))
    (Meridian(power=-6.0, direction=180.0), Meridian(power=-7.5, direction=90.0))
    """
    one, other = surface.principal_meridians
    weaker_first = abs(one.power) <= abs(other.power) + SAME_POWER
    return (one, other) if weaker_first else (other, one)


class ToricForm(NamedTuple):
    """A lens as a sphere on one side and two crossed cylinders, its toric surface, on the other.

    `base_curve` and `cross_curve` are plano-cylinders; a cylinder acts across its axis.
    """

    sphere: float
    base_curve: LensPower
    cross_curve: LensPower

    @property
    def surface(self) -> LensPower:
        """The toric surface."""
        return self.base_curve + self.cross_curve


def toric_transposition(lens: LensPower, base_curve: float) -> ToricForm:
    """A thin lens in toric form on a base curve: plus for a front toric, minus for a back toric.

    In the form whose cylinder has the sign of the base curve B: the other side is S - B, the base
    curve is B with its axis at A + 90, and the cross curve is B + C with its axis at A.

    Errors  LensError for a lens without cylinder, or a base curve of 0.
    Source  mrcophth-station-3

    >>> form = toric_transposition(LensPower(3, -1, 180), 6)
    >>> form.sphere, form.base_curve.axis, form.cross_curve
    (-4.0, 180.0, LensPower(sphere=0.0, cylinder=7.0, axis=90.0))
    """
    base = snapped(checked_power("base curve", base_curve))
    if lens.axis is None or base == 0:
        raise LensError(
            "A toric form needs a lens with a cylinder and a base curve such as +6.00 D or −6.00 D;"
            f" a cylinder of {shown(lens.cylinder)} D and a base curve of {shown(base, '+')} D "
            "were given."
        )
    same_sign = lens.in_plus_cylinder() if base > 0 else lens.in_minus_cylinder()
    axis = standard_axis(same_sign.axis or 0)
    return ToricForm(
        snapped(same_sign.sphere - base),
        LensPower(0.0, base, standard_axis(axis + 90)),
        LensPower(0.0, snapped(base + same_sign.cylinder), axis),
    )


# The thick lens ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class ThickLens:
    """A front and a back surface, the thickness between them on the axis, and the index.

    Units   surfaces in dioptres; `centre_thickness` in mm, where 0 is a thin lens. Answers in
            dioptres, in minus cylinder. A spherical surface is a `LensPower` without cylinder.
    Errors  LensError for an index or a thickness that no lens has.

    >>> lens = ThickLens(LensPower(16), LensPower(-1.75), 8, 1.50)
    >>> round(lens.back_vertex_power.sphere, 2), round(lens.approximate_back_vertex_power.sphere, 2)
    (15.74, 15.62)
    """

    front: LensPower
    back: LensPower
    centre_thickness: float
    index: float

    def __post_init__(self) -> None:
        checked_length("centre thickness", self.centre_thickness)
        checked_index(self.index)

    @property
    def nominal_power(self) -> LensPower:
        """F1 + F2, the power without regard to the thickness.

        Source  durham-tech-6
        """
        return self.front + self.back

    @property
    def back_vertex_power(self) -> LensPower:
        """F1 / (1 - (t/n) F1) + F2: what a lensmeter reads with the back surface on its stop.

        Source  durham-tech-11
        """
        return self._through(self.front) + self.back

    @property
    def front_vertex_power(self) -> LensPower:
        """F2 / (1 - (t/n) F2) + F1: what a lensmeter reads with the front surface on its stop.

        Its axis is named as for the lens in use. A lens turned round shows it mirrored, at 180 - A.

        Source  durham-tech-11
        """
        return self._through(self.back) + self.front

    @property
    def approximate_back_vertex_power(self) -> LensPower:
        """F1 + F2 + (t/n) F1², the short rule; it falls short when F1 or t is large.

        Source  meister-thick-lens
        """
        return _in_each_meridian(self.front, lambda f: f + self._reduced * f * f) + self.back

    @property
    def equivalent_power(self) -> LensPower:
        """F1 + F2 - (t/n) F1 F2, the power of the thin lens that makes an image of the same size.

        Errors  LensError for two toric surfaces whose axes cross obliquely: no thin lens does it.
        Source  common-practice
        """
        one, other = self.front.power_vector, self.back.power_vector
        if self._reduced * abs(one.j0 * other.j45 - one.j45 * other.j0) > SAME_POWER:
            raise LensError(
                "Two toric surfaces in a thick lens have an equivalent power only with their axes "
                f"along or across each other; {shown(self.front.axis or 0)} and "
                f"{shown(self.back.axis or 0)} degrees were given."
            )
        product = (
            one.m * other.m + one.j0 * other.j0 + one.j45 * other.j45,
            one.m * other.j0 + one.j0 * other.m,
            one.m * other.j45 + one.j45 * other.m,
        )
        mixed = LensPower.from_power_vector(*(self._reduced * part for part in product))
        return self.nominal_power - mixed

    @property
    def _reduced(self) -> float:
        """The reduced thickness t/n in metres."""
        return self.centre_thickness / 1000 / self.index

    def _through(self, surface: LensPower) -> LensPower:
        """The power of one surface as it arrives at the other."""
        return _arriving(surface, self.centre_thickness, self.index)


def back_surface(
    back_vertex_power: LensPower, front: LensPower, centre_thickness: float, index: float
) -> LensPower:
    """The back surface that gives an ordered back vertex power with this base curve.

    F2 = BVP - F1 / (1 - (t/n) F1), in dioptres and minus cylinder. A thickness of 0 gives the
    nominal back curve.

    Source  durham-tech-11

    >>> round(back_surface(LensPower(5), LensPower(8), 6.0, 1.498).sphere, 4)
    -3.2648
    """
    return back_vertex_power - _arriving(front, centre_thickness, index)


def _arriving(surface: LensPower, thickness: float, index: float) -> LensPower:
    """F / (1 - (t/n) F): the vergence behind a surface once it has crossed the thickness."""
    reduced = checked_length("centre thickness", thickness) / 1000 / checked_index(index)
    strongest = max(meridian.power for meridian in surface.principal_meridians)
    if snapped(reduced * strongest) >= 1:
        raise LensError(
            f"A surface of {shown(strongest, '+')} D focuses inside a lens {shown(thickness)} mm "
            f"thick; it must be weaker than {shown(round(1 / reduced, 2), '+')} D."
        )
    return _in_each_meridian(surface, lambda f: f / (1 - reduced * f))


def _in_each_meridian(surface: LensPower, formula: Callable[[float], float]) -> LensPower:
    """A formula of one surface, worked along its two principal meridians, which stay its own."""
    along = snapped(formula(surface.sphere))
    across = snapped(formula(surface.sphere + surface.cylinder))
    return LensPower(along, snapped(across - along), surface.axis)


# What a value may be -----------------------------------------------------------------------------


def checked_index(index: float) -> float:
    """A refractive index that a lens can have: above 1, up to 2."""
    if not 1 < index <= 2:
        raise LensError(
            f"A refractive index lies above 1 and up to 2, such as 1.498; {index:g} was given."
        )
    return index


def checked_length(name: str, millimetres: float) -> float:
    """A length of 0 mm or more."""
    if not 0 <= millimetres < math.inf:
        raise LensError(f"The {name} is 0 mm or more; {shown(millimetres)} was given.")
    return millimetres


def checked_power(name: str, dioptres: float) -> float:
    """A power that is a number."""
    if not math.isfinite(dioptres):
        raise LensError(f"The {name} must be a number such as −2.25; {shown(dioptres)} was given.")
    return dioptres
