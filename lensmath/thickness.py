"""How thick a lens is: the depth of its curves, its centre and its edge.

Lengths in millimetres, surface powers in dioptres, plus where a surface is convex and minus where
it is concave, front and back alike. A depth (sagitta) has the sign of its power, so everywhere on a
lens: thickness = centre thickness - front depth - back depth. Directions in degrees, 0 to 360,
counter-clockwise from the observer's right. Rims are round; surfaces are spheres or torics.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from lensmath.centration import Point
from lensmath.errors import LensError
from lensmath.power import LensPower, snapped
from lensmath.prism import NO_PRISM, Prism
from lensmath.scale import shown
from lensmath.surfaces import (
    ThickLens,
    back_surface,
    checked_index,
    checked_length,
    checked_power,
    radius_of_curvature,
)

_MIDDLE = Point(0.0, 0.0)
_SAME_THICKNESS = 1e-8  # millimetres; edges that differ by less are equally thick
_HALVINGS = 60  # a bisection then ends below the noise of a float
_ROUNDS = 40  # a thickness and a back surface that need more do not fit each other


# The depth of a curve ----------------------------------------------------------------------------


def sagitta(power: float, semi_diameter: float, index: float) -> float:
    """The depth of a surface, exactly: r - sqrt(r² - y²), in mm, with the sign of its power.

    Errors  LensError when the semi-diameter exceeds the radius.
    Source  meister-1997

    >>> round(sagitta(6, 25, 1.523), 4), round(sagitta(-6, 25, 1.523), 4)
    (3.662, -3.662)
    """
    curvature = checked_power("surface power", power) / 1000 / (checked_index(index) - 1)
    steepness = curvature * checked_length("semi-diameter", semi_diameter)
    if snapped(abs(steepness)) > 1:
        raise LensError(
            f"A surface of {shown(power, '+')} D in index {index:g} has a radius of "
            f"{shown(round(abs(radius_of_curvature(power, index)), 2))} mm; a semi-diameter of "
            f"{shown(semi_diameter)} mm was given, and it cannot exceed the radius."
        )
    # r - sqrt(r² - y²) without the difference of two large numbers, and for plano as well.
    return snapped(steepness * semi_diameter / (1 + math.sqrt(max(0.0, 1 - steepness**2))))


def approximate_sagitta(power: float, semi_diameter: float, index: float) -> float:
    """The depth of a surface by the short rule y² F / (2000 (n - 1)), in mm.

    It makes every curve a little too shallow, and deep ones more so.

    Source  meister-1997

    >>> round(approximate_sagitta(6, 25, 1.523), 4)
    3.5851
    """
    chord = checked_length("semi-diameter", semi_diameter)
    surface = checked_power("surface power", power)
    return snapped(chord**2 * surface / (2000 * (checked_index(index) - 1)))


def power_from_sagitta(depth: float, semi_diameter: float, index: float) -> float:
    """The power of a surface, in dioptres, from its depth: 2000 (n - 1) s / (y² + s²).

    Errors  LensError for a semi-diameter of 0, or a depth beyond that of a half sphere.
    Source  meister-1997

    >>> round(power_from_sagitta(3.6620, 25, 1.523), 2)
    6.0
    """
    chord = checked_length("semi-diameter", semi_diameter)
    if not (chord > 0 and abs(depth) <= chord):
        raise LensError(
            "The depth of a surface is at most its semi-diameter, which is above 0 mm; a depth of "
            f"{shown(depth)} mm and a semi-diameter of {shown(chord)} mm were given."
        )
    return snapped(2000 * (checked_index(index) - 1) * depth / (chord**2 + depth**2))


# Centre and edge ---------------------------------------------------------------------------------


def prism_thickness_difference(prism: float, distance: float, index: float) -> float:
    """How much thicker a prism is, in mm, at the base end of a distance: P d / (100 (n - 1)).

    Units   `prism` in prism dioptres, `distance` in mm from apex to base. The rule takes the angles
            as small.
    Source  common-practice

    >>> round(prism_thickness_difference(3, 50, 1.5), 2)
    3.0
    """
    product = checked_power("prism", prism) * checked_length("distance", distance)
    return snapped(product / (100 * (checked_index(index) - 1)))


def thickness_at(
    lens: ThickLens, distance: float, direction: float = 0.0, prism: Prism = NO_PRISM
) -> float:
    """The thickness, in mm, at a distance from the optical centre: t - s1 - s2.

    On a round lens that is not decentred, the edge lies half the diameter away. A ground prism
    adds its wedge, which is 0 at the optical centre.

    Each depth is that of a circle with the power along this direction: exact for spheres and in
    the principal meridians of a toric surface. Between them the depth depends on which curve was
    swept along which; at 30 mm a circle is then off by less than 0.04 mm for 6 and 8 D in 1.5.

    Errors  LensError where the surfaces have met before that distance.
    Source  harris-sagitta

    >>> lens = ThickLens(LensPower(4), LensPower(-8, -2, 180), 2.0, 1.6)
    >>> thickness_at(lens, 30, 0), thickness_at(lens, 30, 90)
    (5.23, 7.01)
    """
    loss = _loss(lens.front, lens.back, lens.index, distance, direction, prism)
    thickness = snapped(lens.centre_thickness - loss)
    if thickness < 0:
        raise LensError(
            f"The surfaces meet before {shown(round(distance, 2))} mm from the optical centre; the "
            f"centre needs a thickness of at least {_rounded_up(loss)} mm, "
            f"{shown(lens.centre_thickness)} mm was given."
        )
    return thickness


def centre_thickness(
    front: LensPower,
    back: LensPower,
    index: float,
    edge: float,
    distance: float,
    direction: float = 0.0,
) -> float:
    """The centre thickness, in mm, that leaves `edge` mm at a distance from the optical centre.

    An edge of 0 is a knife edge.

    Errors  LensError when the centre would have to be thinner than 0 mm.
    Source  harris-sagitta

    >>> round(centre_thickness(LensPower(8), LensPower(-3.2648), 1.498, 1.2734, 30), 3)
    6.0
    """
    loss = _loss(front, back, index, distance, direction)
    centre = snapped(checked_length("edge thickness", edge) + loss)
    if centre < 0:
        raise LensError(
            f"These surfaces add thickness from the centre to that edge, so it is at least "
            f"{_rounded_up(-loss)} mm; {shown(edge)} mm was given."
        )
    return centre


def knife_edge_distance(lens: ThickLens, direction: float = 0.0) -> float | None:
    """How far from the optical centre the surfaces meet, in mm; None when they never do.

    >>> knife_edge_distance(ThickLens(LensPower(8), LensPower(-3), 6.0, 1.498), 90)
    32.6
    """
    surfaces = (lens.front, lens.back)
    radii = [radius_of_curvature(side.power_along(direction), lens.index) for side in surfaces]
    near, far = 0.0, min(abs(radius) for radius in radii)

    def met(distance: float) -> bool:
        loss = _loss(lens.front, lens.back, lens.index, distance, direction)
        return loss >= lens.centre_thickness

    if far == math.inf or not met(far):
        return None
    for _ in range(_HALVINGS):
        middle = (near + far) / 2
        near, far = (near, middle) if met(middle) else (middle, far)
    return snapped(far)


def _loss(
    front: LensPower,
    back: LensPower,
    index: float,
    distance: float,
    direction: float,
    prism: Prism = NO_PRISM,
) -> float:
    """How much thinner than at its optical centre a lens is there, in mm; minus when thicker."""
    depths = [sagitta(side.power_along(direction), distance, index) for side in (front, back)]
    turn = math.radians(direction)
    along = prism.x * math.cos(turn) + prism.y * math.sin(turn)
    return sum(depths) - prism_thickness_difference(along, distance, index)


def _rounded_up(millimetres: float) -> str:
    return shown(math.ceil(snapped(100 * millimetres)) / 100)


# The whole edge ----------------------------------------------------------------------------------


class Edge(NamedTuple):
    """One point of an edge.

    `direction` is seen from the middle of the round lens, in degrees; `distance` is that from the
    optical centre and `thickness` is the thickness there, both in mm.
    """

    direction: float
    distance: float
    thickness: float


@dataclass(frozen=True)
class UncutLens:
    """A round lens before it is edged, its optical centre decentred, with or without prism.

    Units   `diameter` in mm; `optical_centre` in mm from the middle of the round lens.
    Errors  LensError for a diameter of 0 or less, or where the surfaces have met before the edge.

    >>> lens = ThickLens(LensPower(4), LensPower(-8), 2.0, 1.6)
    >>> UncutLens(lens, 60, Point(3, 0)).thickest
    Edge(direction=180.0, distance=33.0, thickness=5.98)
    """

    lens: ThickLens
    diameter: float
    optical_centre: Point = _MIDDLE
    prism: Prism = NO_PRISM

    def __post_init__(self) -> None:
        if not 0 < self.diameter < math.inf:
            raise LensError(
                f"The diameter of a lens is above 0 mm; {shown(self.diameter)} was given."
            )

    def edge(self, direction: float) -> Edge:
        """The edge in a direction, seen from the middle of the round lens."""
        distance, angle = self._from_optical_centre(direction)
        thickness = thickness_at(self.lens, distance, angle, self.prism)
        return Edge(snapped(direction % 360), snapped(distance), thickness)

    @property
    def thickest(self) -> Edge:
        """The thickest edge, to a whole degree; of several, the first counter-clockwise from 0."""
        edges = self._edges()
        most = max(edge.thickness for edge in edges)
        return next(edge for edge in edges if edge.thickness >= most - _SAME_THICKNESS)

    @property
    def thinnest(self) -> Edge:
        """The thinnest edge, to a whole degree; of several, the first counter-clockwise from 0."""
        edges = self._edges()
        least = min(edge.thickness for edge in edges)
        return next(edge for edge in edges if edge.thickness <= least + _SAME_THICKNESS)

    def centre_for_edge(self, edge: float) -> float:
        """The centre thickness, in mm, with which the thinnest edge is `edge` mm; 0 at the least.

        It does not depend on the centre thickness that the lens has.
        """
        surfaces = (self.lens.front, self.lens.back, self.lens.index)
        places = (self._from_optical_centre(direction) for direction in range(360))
        loss = max(_loss(*surfaces, *place, self.prism) for place in places)
        return snapped(max(0.0, checked_length("edge thickness", edge) + loss))

    def _edges(self) -> list[Edge]:
        return [self.edge(direction) for direction in range(360)]

    def _from_optical_centre(self, direction: float) -> tuple[float, float]:
        """Distance and direction of an edge from the optical centre."""
        turn = math.radians(direction % 360)
        x = self.diameter / 2 * math.cos(turn) - self.optical_centre.x
        y = self.diameter / 2 * math.sin(turn) - self.optical_centre.y
        return math.hypot(x, y), math.degrees(math.atan2(y, x))


def thinnest_lens(
    back_vertex_power: LensPower,
    front: LensPower,
    index: float,
    diameter: float,
    *,
    minimum_centre: float,
    minimum_edge: float,
    optical_centre: Point = _MIDDLE,
    prism: Prism = NO_PRISM,
) -> UncutLens:
    """The thinnest lens of an ordered power whose centre and edge are nowhere below a minimum.

    A plus lens is held by its edge and a minus lens by its centre. The back surface depends on the
    thickness and the thickness on the back surface, so both are worked out in turn until they stay.

    Units   as for `UncutLens`.
    Errors  LensError when the surfaces are too steep for the diameter.
    Source  common-practice

    >>> order, front = LensPower(5), LensPower(8)
    >>> lens = thinnest_lens(order, front, 1.498, 60, minimum_centre=1.5, minimum_edge=1.0).lens
    >>> round(lens.centre_thickness, 3), round(lens.back.sphere, 3)
    (5.738, -3.253)
    """
    centre = checked_length("minimum centre thickness", minimum_centre)
    for _ in range(_ROUNDS):
        back = back_surface(back_vertex_power, front, centre, index)
        lens = ThickLens(front, back, centre, index)
        uncut = UncutLens(lens, diameter, optical_centre, prism)
        needed = max(minimum_centre, uncut.centre_for_edge(minimum_edge))
        if abs(needed - centre) <= _SAME_THICKNESS:
            return uncut
        centre = needed
    raise LensError(
        f"These surfaces are too steep for a diameter of {shown(diameter)} mm: no thickness was "
        "found that fits. Take a flatter base curve or a smaller diameter."
    )
