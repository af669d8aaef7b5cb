"""Prentice's rule for any lens: decentration gives prism, and prism is found by decentration.

The prism at a point is the power of the lens times the way from the optical centre. For a cylinder
at any axis the power is the 2x2 power matrix F, and the way is a vector r: P = -F r. Moving the
optical centre by d instead gives P = +F d. Ways are in millimetres, seen facing the wearer: x to
the observer's right, y up. Prism dioptres ask for centimetres, so they are divided by 10.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lensmath.centration import Decentration, Point
from lensmath.eye import Eye
from lensmath.power import SAME_LENS, LensPower, snapped
from lensmath.prism import NO_PRISM, SAME_PRISM, Prism

# Where a prism is found ---------------------------------------------------------------------------


@dataclass(frozen=True)
class AtPoint:
    """At one point only."""

    point: Point


@dataclass(frozen=True)
class OnLine:
    """At every point of a line: `nearest` is its nearest point, `direction` its angle, 1-180.

    A plano-cylinder has such lines, along its axis.
    """

    nearest: Point
    direction: float


@dataclass(frozen=True)
class Nowhere:
    """At no point: the lens has prism along the meridian `only_along` alone, in degrees.

    A plano lens has none along any meridian; `only_along` is None then.
    """

    only_along: float | None


@dataclass(frozen=True)
class Everywhere:
    """At every point: a plano lens has the same prism all over."""


Place = AtPoint | OnLine | Nowhere | Everywhere


# Prism from decentration --------------------------------------------------------------------------


def prism_at(power: LensPower, point: Point, reference: Prism = NO_PRISM) -> Prism:
    """The prism at a point of a lens: P = -F r.

    Units   `point` from the optical centre; or from any point at which the prism is `reference`,
            such as the one where it was measured or ordered.
    Source  long-1976, jalie-2024

    >>> prism = prism_at(LensPower(6, -3, 140), Decentration(2.5, -11).before(Eye.RIGHT))
    >>> prism.vertical, prism.horizontal(Eye.RIGHT)
    (Component(amount=5.03, base=<Base.UP: 'up'>), Component(amount=2.82, base=<Base.OUT: 'out'>))
    """
    (xx, xy), (yx, yy) = power.matrix
    x, y = point.x / 10, point.y / 10
    return reference - Prism(xx * x + xy * y, yx * x + yy * y)


def prism_by_decentration(power: LensPower, moved: Point) -> Prism:
    """The prism where the optical centre was, after it is moved: P = +F d.

    Source  long-1976

    >>> prism_by_decentration(LensPower(5), Point(0, 10))
    Prism(x=0.0, y=5.0)
    """
    return prism_at(power, Point(-moved.x, -moved.y))


def prism_from_pd_error(power: LensPower, eye: Eye, error: float) -> Prism:
    """The unwanted prism before one eye whose lens is centred too wide or too narrow.

    Units   `error` in millimetres: how far the optical centre is from the middle of the bridge,
            less the monocular PD ordered. Where prism was ordered, the prism reference point
            stands for the optical centre.
    Source  basic-optical-principles-course

    >>> prism_from_pd_error(LensPower(-3), Eye.RIGHT, error=-2).horizontal(Eye.RIGHT)
    Component(amount=0.6, base=<Base.OUT: 'out'>)
    """
    return prism_by_decentration(power, Decentration(-error).before(eye))


# Decentration from prism --------------------------------------------------------------------------


def decentration_for(power: LensPower, prism: Prism) -> Place:
    """How far the optical centre must be moved for this prism: d with F d = P.

    It is worked out along the two principal meridians, in each of which the lens is a sphere. A
    meridian without power takes any way along it, but gives no prism.

    Source  long-1976, jalie-2024

    >>> decentration_for(LensPower(4), Prism(-2, 0))
    AtPoint(point=Point(x=-5.0, y=0.0))
    >>> decentration_for(LensPower(0, -2, 180), Prism(1, 0))
    Nowhere(only_along=90.0)
    """
    meridians = power.principal_meridians
    powered = [meridian for meridian in meridians if abs(meridian.power) > SAME_LENS]
    without = [meridian.direction for meridian in meridians if meridian not in powered]
    if any(abs(_along(prism, direction)) > SAME_PRISM for direction in without):
        return Nowhere(powered[0].direction if powered else None)
    if not powered:
        return Everywhere()
    ways = [(10 * _along(prism, direction) / power, direction) for power, direction in powered]
    nearest = Point(
        snapped(sum(way * math.cos(math.radians(direction)) for way, direction in ways)),
        snapped(sum(way * math.sin(math.radians(direction)) for way, direction in ways)),
    )
    return OnLine(nearest, without[0]) if without else AtPoint(nearest)


def find_prism(power: LensPower, wanted: Prism, reference: Prism = NO_PRISM) -> Place:
    """Where in the lens this prism is found: r with P = -F r.

    The place is seen from the optical centre; or from any point at which the prism is `reference`,
    such as the one where it was measured. The prism wanted may be none: that finds the optical
    centre itself.

    Source  long-1976

    >>> find_prism(LensPower(-4), Prism(0, -2))
    AtPoint(point=Point(x=0.0, y=-5.0))
    >>> find_prism(LensPower(5), wanted=NO_PRISM, reference=Prism(1, 0))
    AtPoint(point=Point(x=2.0, y=0.0))
    """
    return decentration_for(power, reference - wanted)


def _along(prism: Prism, direction: float) -> float:
    """The part of a prism along a direction in degrees, signed."""
    turned = math.radians(direction)
    return prism.x * math.cos(turned) + prism.y * math.sin(turned)
