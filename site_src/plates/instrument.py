"""The lensmeter in section: its light from the lamp to the eye.

A drawing of the principle and of no maker's instrument. The light is drawn to the optics of
`lensmath`; across the line of sight everything is drawn wider than along it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from lensmath.focimeter import LENS_STOP, travel
from lensmath.notation import write_power
from site_src.figures.svg import (
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
    path,
)

STANDARD_LENS = 20.0  # D
ON_STOP = -5.0  # D, the invented spectacle lens of the drawing
FOCUS = 1000 / STANDARD_LENS  # mm from the standard lens to the stop, and to the target at zero
OBJECTIVE, OBJECTIVE_FOCUS, EYEPIECE_FOCUS = 80.0, 60.0, 20.0  # mm from the standard lens; focal
LAMP, PUPIL = -92.0, 183.0  # mm from the standard lens
RETICLE = OBJECTIVE + OBJECTIVE_FOCUS
EYEPIECE = RETICLE + EYEPIECE_FOCUS

_ACROSS = 7.0  # px for a mm across the line of sight
_EYE = 12.0  # px, the radius of the eye


class _Part(NamedTuple):
    """A part and where it stands, in mm; where its name stands there in either column."""

    name: str
    at: float
    narrow: float
    wide: float
    above: bool
    half: float  # mm from the line of sight to its edge


def target_at() -> float:
    """Where the target stands for the lens on the stop, in mm from the standard lens."""
    return travel(STANDARD_LENS, ON_STOP) - FOCUS


_PARTS = (
    _Part("lamp", LAMP, LAMP, LAMP + 4, True, 1.5),
    _Part("target", target_at(), target_at(), target_at(), False, 3.2),
    _Part("standard lens", 0, 0, 0, True, 5),
    _Part("lens stop", FOCUS, FOCUS - 7, FOCUS - 9, False, 4.5),
    _Part("spectacle lens", FOCUS + 2, FOCUS + 7, FOCUS + 9, True, 6.5),
    _Part("objective", OBJECTIVE, OBJECTIVE, OBJECTIVE + 2, False, 4.4),
    _Part("reticle", RETICLE, RETICLE, RETICLE, True, 3),
    _Part("eyepiece", EYEPIECE, EYEPIECE, EYEPIECE - 4, False, 3),
    _Part("eye", PUPIL, PUPIL + 3, PUPIL + 1, True, 1.9),
)


class _Side(NamedTuple):
    """Where the surface of a lens has its edge and its middle along the line of sight, in mm."""

    edge: float
    middle: float


@dataclass(frozen=True)
class _Sight:
    """The line of sight in one column: to the right in the wide one, upward in the narrow one."""

    wide: bool
    origin: tuple[float, float]  # px, of the standard lens
    along: float  # px for a mm

    def at(self, along: float, across: float) -> tuple[float, float]:
        """The place of a point so many mm behind the standard lens and off the line of sight."""
        x, y = self.origin
        if self.wide:
            return x + self.along * along, y - _ACROSS * across
        return x - _ACROSS * across, y - self.along * along

    def line(self, start: tuple[float, float], end: tuple[float, float], class_: str) -> Element:
        return line(*self.at(*start), *self.at(*end), class_)

    def glass(self, half: float, one: _Side, other: _Side) -> Element:
        """A lens of so many mm to its edge."""
        bow, back = (2 * side.middle - side.edge for side in (one, other))
        return path(
            "glass",
            *("M", *self.at(one.edge, half), "Q", *self.at(bow, 0), *self.at(one.edge, -half)),
            *("L", *self.at(other.edge, -half), "Q", *self.at(back, 0)),
            *(*self.at(other.edge, half), "Z"),
        )

    def convex(self, at: float, half: float) -> Element:
        """A lens that bulges to both sides."""
        return self.glass(half, _Side(at, at - 3), _Side(at, at + 3))


def section(name: str) -> Figure:
    """The light from lamp to eye, with a minus lens on the stop and the drum at its power."""

    def draw(column: Column) -> Drawing:
        if column is NARROW:
            sight = _Sight(False, (62.0, 350.0), 1.75)
            return 530.0, [*_light(sight), *_bench(sight), *_named_beside(sight)]
        sight = _Sight(True, (208.0, 82.0), 2.05)
        return 172.0, [*_light(sight), *_bench(sight), *_named_around(sight)]

    says = (
        "In the order of the light: lamp; target, moved by the drum; standard lens; lens stop; the "
        "spectacle lens, its back surface on the stop; then the telescope of objective, reticle "
        f"and eyepiece; eye. The lens has {write_power(ON_STOP)} D and the drum stands there: "
        "between lens and objective the light runs parallel."
    )
    return figure(name, "The lensmeter in section", says, draw)


def edge_ray() -> tuple[tuple[float, float], ...]:
    """The ray through the edge of the stop, from the target to the eye: mm along and across."""
    edge = LENS_STOP / 2
    # What reaches the stop goes on with the vergence -D, so the ray comes from this far out.
    before = edge * (1 - ON_STOP * FOCUS / 1000)
    small = edge * EYEPIECE_FOCUS / OBJECTIVE_FOCUS
    return (
        (target_at(), 0.0),
        (0.0, before),
        (FOCUS, edge),
        (OBJECTIVE, edge),
        (EYEPIECE, -small),
        (PUPIL, -small),
    )


def _light(sight: _Sight) -> list[Element]:
    rays = [
        path("hair", "M", *(step for at, off in edge_ray() for step in sight.at(at, side * off)))
        for side in (1, -1)
    ]
    return [sight.line((LAMP, 0), (PUPIL, 0), "hair dashed"), *rays]


def _bench(sight: _Sight) -> list[Element]:
    """Everything that the light meets, and the way of the target."""
    x, y = sight.at(LAMP, 0)
    eye_x, eye_y = sight.at(PUPIL + _EYE / sight.along, 0)
    pupil_x, pupil_y = sight.at(PUPIL, 0)
    stops = [sight.line((FOCUS, side * 3), (FOCUS, side * 4.5), "window") for side in (1, -1)]
    return [
        element("circle", cx=x, cy=y, r=9, class_="hollow"),
        sight.line((target_at(), -3.2), (target_at(), 3.2), "window"),
        sight.convex(0, 5),
        *stops,
        sight.glass(6.5, _Side(FOCUS - 0.2, FOCUS + 2.6), _Side(FOCUS + 3, FOCUS + 4.2)),
        sight.convex(OBJECTIVE, 4.4),
        sight.line((RETICLE, -3), (RETICLE, 3), "bracket dashed"),
        sight.convex(EYEPIECE, 3),
        element("circle", cx=eye_x, cy=eye_y, r=_EYE, class_="ink"),
        element("circle", cx=pupil_x, cy=pupil_y, r=3, class_="solid"),
        *_slide(sight),
    ]


def _slide(sight: _Sight) -> list[Element]:
    """The way of the target, its ends with the signs of the drum."""
    off = -5.4 if sight.wide else 5.4
    low, high = target_at() - 11, target_at() + 11
    parts = [sight.line((low, off), (high, off), "arc")]
    for end, inward, sign, ink in ((low, 3, "−", "minus"), (high, -3, "+", "plus")):
        parts += [
            sight.line((end, off), (end + inward, off + side * 0.5), "arc") for side in (1, -1)
        ]
        beyond = sight.at(end - 2.6 * inward / 3 * 2, off)
        parts.append(label(beyond[0], beyond[1] + TEXT / 3, sign, f"label strong {ink}"))
    return parts


def _named_beside(sight: _Sight) -> list[Element]:
    """The names at the right of an upright line of sight."""
    parts = []
    for part in _PARTS:
        x, y = 116.0, sight.at(part.narrow, 0)[1]
        edge_x, edge_y = sight.at(part.at, -part.half)
        parts += [
            line(edge_x + 3, edge_y, x - 4, y, "hair"),
            label(x, y + TEXT / 3, part.name, anchor="start"),
        ]
        if part.name == "target":
            note = y + TEXT / 3 + LINE_HEIGHT
            parts.append(label(x, note, "moved by the drum", "label faint", "start"))
    return parts


def _named_around(sight: _Sight) -> list[Element]:
    """The names above and below a level line of sight."""
    parts = []
    for part in _PARTS:
        x, y = sight.at(part.wide, 0)[0], TEXT if part.above else 148.0
        side = 1 if part.above else -1
        start = sight.at(part.at, side * (part.half + 0.5))
        end = y + 5 if part.above else y - TEXT
        if part.name == "target":
            start = (start[0], sight.at(0, -6.2)[1])
            parts.append(label(x, y + LINE_HEIGHT, "moved by the drum", "label faint"))
        parts += [line(*start, x, end, "hair"), label(x, y, part.name)]
    return parts
