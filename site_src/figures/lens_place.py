"""Where the optical centre stands from where the eye looks, on the lens, seen facing the wearer."""

from __future__ import annotations

import math

from lensmath.centration import Decentration, write_length
from lensmath.decentration import AtPoint, OnLine
from lensmath.eye import Eye
from lensmath.notation import write_axis

from .svg import (
    LINE_HEIGHT,
    NARROW,
    TEXT,
    Column,
    Drawing,
    Element,
    Figure,
    element,
    figure,
    label,
    line,
)

_CROSS = 8.0  # px; half an arm of the cross where the eye looks
_SIDE = 34.0  # px beside the lens, for in and out


def lens_place(name: str, eye: Eye, place: AtPoint | OnLine) -> Figure:
    """The optical centre at its place, or the line on which it may stand.

    The cross in the middle is where the eye looks; the marks on it are 5 mm apart, or more where
    the way is long.
    """
    point = place.point if isinstance(place, AtPoint) else place.nearest
    reach, step = _scale(math.hypot(*point))

    def draw(column: Column) -> Drawing:
        radius = 84.0 if column is NARROW else 104.0
        x, y = column.width / 2, 2 * LINE_HEIGHT + 8 + radius
        unit = radius / reach
        heading = f"{eye.value.capitalize()} lens, seen from the front"
        parts = [
            label(x, TEXT, heading, "label strong"),
            *_around(x, y, radius, eye),
            element("circle", cx=x, cy=y, r=radius, class_="hair"),
            *_graduated(x, y, radius, step * unit),
            line(x - _CROSS, y, x + _CROSS, y, "ordered"),
            line(x, y - _CROSS, x, y + _CROSS, "ordered"),
        ]
        centre = x + point.x * unit, y - point.y * unit
        if isinstance(place, OnLine):
            parts.append(_chord(centre, place.direction, x, y, radius))
        parts.append(line(x, y, *centre, "arc dashed"))
        parts.append(element("circle", cx=centre[0], cy=centre[1], r=5, class_="solid"))
        return y + radius + LINE_HEIGHT + 8, parts

    return figure(name, "Where the optical centre goes", _in_words(eye, place, step), draw)


def _scale(way: float) -> tuple[float, float]:
    """What the lens reaches from its middle, and how far its marks stand apart, in mm."""
    for reach, step in ((12.5, 2.5), (30.0, 5.0), (60.0, 10.0)):
        if way <= 0.9 * reach:
            return reach, step
    return way / 0.9, way / 5


def _in_words(eye: Eye, place: AtPoint | OnLine, step: float) -> str:
    before = f"before the {eye.value} eye"
    marks = f"The marks are {write_length(step)} mm apart."
    cross = "The cross is where the eye looks"
    point = place.point if isinstance(place, AtPoint) else place.nearest
    way = Decentration(eye.inward * point.x, point.y).in_words()
    if isinstance(place, AtPoint):
        if way == "no decentration":
            return f"{cross} {before}; the optical centre, the dot, stands there. {marks}"
        return f"{cross} {before}; the optical centre, the dot, stands {way} from it. {marks}"
    along = f"a line along {write_axis(place.direction)}"
    if way == "no decentration":
        return f"{cross} {before}; the optical centre may stand anywhere on {along} there. {marks}"
    return (
        f"{cross} {before}; the optical centre may stand anywhere on {along}. The nearest point, "
        f"the dot, is {way} from it. {marks}"
    )


def _around(x: float, y: float, radius: float, eye: Eye) -> list[Element]:
    right, left = ("in", "out") if eye.inward > 0 else ("out", "in")
    return [
        label(x, y - radius - 5, "up", "label faint"),
        label(x, y + radius + TEXT + 2, "down", "label faint"),
        label(x + radius + 6, y + TEXT / 3, right, "label faint", "start"),
        label(x - radius - 6, y + TEXT / 3, left, "label faint", "end"),
    ]


def _graduated(x: float, y: float, radius: float, step: float) -> list[Element]:
    """The level and the upright line through the middle, with their marks."""
    parts = [line(x - radius, y, x + radius, y, "hair"), line(x, y - radius, x, y + radius, "hair")]
    for index in range(1, math.floor(radius / step) + 1):
        for way in (-index * step, index * step):
            parts.append(line(x + way, y - 3, x + way, y + 3, "hair"))
            parts.append(line(x - 3, y + way, x + 3, y + way, "hair"))
    return parts


def _chord(
    through: tuple[float, float], direction: float, x: float, y: float, radius: float
) -> Element:
    """The part of a line that lies on the lens."""
    turn = math.radians(direction)
    along = math.cos(turn), -math.sin(turn)
    half = math.sqrt(max(0.0, radius**2 - (through[0] - x) ** 2 - (through[1] - y) ** 2))
    return line(
        through[0] - along[0] * half,
        through[1] - along[1] * half,
        through[0] + along[0] * half,
        through[1] + along[1] * half,
        "arm",
    )
