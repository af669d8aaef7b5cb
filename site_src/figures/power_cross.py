"""The power cross (optical cross): a lens as its two principal meridians.

Directions are those of `lensmath.power`: 0 at the right, counter-clockwise, seen facing the wearer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lensmath.notation import write_axis, write_power
from lensmath.power import LensPower, Meridian, snapped

from .svg import (
    LABEL_GAP,
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
    text_width,
)

_GAP = 12.0  # px from the circle to what is written around it
_STUB = 5.0  # px; the marks of the axis reach so far to either side of the circle
_TICK, _LONG_TICK = 4.0, 8.0  # px, every 10 and every 90 degrees
_SPHERE_ARMS = range(30, 181, 30)  # degrees; any of them shows the one power


@dataclass(frozen=True)
class _Box:
    """Centred lines of text and the room that they take, in px."""

    x: float
    y: float
    lines: tuple[str, ...]

    @property
    def width(self) -> float:
        return max(text_width(text) for text in self.lines)

    @property
    def height(self) -> float:
        return LINE_HEIGHT * len(self.lines)

    def meets(self, other: _Box) -> bool:
        """Whether the two stand too close to each other."""
        return (
            abs(self.x - other.x) < (self.width + other.width) / 2 + LABEL_GAP
            and abs(self.y - other.y) < (self.height + other.height) / 2 + LABEL_GAP / 2
        )

    def text(self, class_: str) -> list[Element]:
        first = self.y - self.height / 2 + TEXT
        return [
            label(self.x, first + index * LINE_HEIGHT, text, class_)
            for index, text in enumerate(self.lines)
        ]


@dataclass(frozen=True)
class _Circle:
    """The circle that the arms cross, and places on and around it."""

    x: float
    y: float
    radius: float

    def at(self, degrees: float, radius: float) -> tuple[float, float]:
        turn = math.radians(degrees)
        return self.x + radius * math.cos(turn), self.y - radius * math.sin(turn)

    def spoke(self, degrees: float, start: float, end: float, class_: str) -> Element:
        """A line along one direction, between two distances from the middle."""
        return line(*self.at(degrees, start), *self.at(degrees, end), class_)

    def outside(self, degrees: float, lines: tuple[str, ...]) -> _Box:
        """Text beside the circle in this direction: its nearest edge or corner, not its middle."""
        x, y = self.at(degrees, self.radius + _GAP)
        size = _Box(0, 0, lines)
        turn = math.radians(degrees)
        sideways = max(-1.0, min(1.0, math.sqrt(2) * math.cos(turn)))
        upward = max(-1.0, min(1.0, math.sqrt(2) * math.sin(turn)))
        return _Box(x + sideways * size.width / 2, y - upward * size.height / 2, lines)


def power_cross(name: str, lens: LensPower) -> Figure:
    """Both principal meridians at their true angle, each with its power; the axis is marked.

    A sphere is drawn as a wheel of equal arms with its one power.
    """

    def draw(column: Column) -> Drawing:
        circle = _Circle(column.width / 2, 122, 60) if column is NARROW else _Circle(300, 126, 80)
        boxes = [
            (circle.outside(direction, lines), ink)
            for direction, lines, ink in _arm_texts(lens, column)
        ]
        parts = [
            *_graduation(circle, [box for box, _ in boxes]),
            *_arms(circle, lens),
            *(text for box, ink in boxes for text in box.text(f"label strong {ink}")),
        ]
        return circle.y + circle.radius + _GAP + TEXT / 2, parts

    return figure(name, "Power cross", cross_in_words(lens), draw)


def cross_in_words(lens: LensPower) -> str:
    """The sentence that says what the picture shows.

    >>> cross_in_words(LensPower(-0.75, -2.50, 112))
    '−0.75 D along meridian 112, the axis; −3.25 D along meridian 022.'
    """
    if lens.axis is None:
        return f"{write_power(lens.sphere)} D in every meridian: a sphere has no axis."
    along, across = lens.principal_meridians
    return (
        f"{write_power(along.power)} D along meridian {write_axis(along.direction)}, the axis; "
        f"{write_power(across.power)} D along meridian {write_axis(across.direction)}."
    )


def _arm_texts(lens: LensPower, column: Column) -> list[tuple[float, tuple[str, ...], str]]:
    """For each label: the direction in which it stands, its lines, and its ink."""
    if lens.axis is None:
        power = write_power(lens.sphere)
        return [(90.0, (power, "in every meridian"), _ink(lens.sphere))]
    return [
        (arm.direction, (*_arm_lines(arm, column), *note), _ink(arm.power))
        for arm, note in zip(lens.principal_meridians, (("axis",), ()), strict=True)
    ]


def _arm_lines(arm: Meridian, column: Column) -> tuple[str, ...]:
    power, direction = write_power(arm.power), f"@ {write_axis(arm.direction)}"
    return (power, direction) if column is NARROW else (f"{power} {direction}",)


def _graduation(circle: _Circle, taken: list[_Box]) -> list[Element]:
    """The circle with its ticks, the horizontal, and 0, 90, 180 where no label of an arm stands."""
    parts = [
        element("circle", cx=circle.x, cy=circle.y, r=circle.radius, class_="hair"),
        circle.spoke(0, -circle.radius, circle.radius, "hair"),
    ]
    for degrees in range(0, 360, 10):
        length = _TICK if degrees % 90 else _LONG_TICK
        parts.append(circle.spoke(degrees, circle.radius - length, circle.radius, "hair"))
    for degrees in (0, 90, 180):
        box = circle.outside(degrees, (str(degrees),))
        if not any(box.meets(other) for other in taken):
            parts += box.text("label faint")
    return parts


def _arms(circle: _Circle, lens: LensPower) -> list[Element]:
    radius = circle.radius
    if lens.axis is None:
        ink = _ink(lens.sphere)
        return [circle.spoke(turn, -radius, radius, f"arm {ink}") for turn in _SPHERE_ARMS]
    arms = [
        circle.spoke(arm.direction, -radius, radius, f"arm {_ink(arm.power)}")
        for arm in lens.principal_meridians
    ]
    ends = [
        circle.spoke(turn, radius - _STUB, radius + _STUB, "axis-mark")
        for turn in (lens.axis, lens.axis + 180)
    ]
    return [*arms, *ends]


def _ink(power: float) -> str:
    return "zero" if snapped(power) == 0 else "minus" if power < 0 else "plus"
