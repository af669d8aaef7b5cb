"""The graduated circle that figures of directions share: places on it, ticks, and text around it.

Directions are those of `lensmath.power`: 0 at the right, counter-clockwise, seen facing the wearer.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from .svg import LABEL_GAP, LINE_HEIGHT, TEXT, Element, element, label, line, text_width

GAP = 12.0  # px from the circle to what is written around it
_TICK, _LONG_TICK = 4.0, 8.0  # px, every 10 and every 90 degrees


@dataclass(frozen=True)
class Box:
    """Centred lines of text and the room that they take, in px."""

    x: float
    y: float
    lines: tuple[str, ...]

    @property
    def width(self) -> float:
        """The room of the widest line."""
        return max(text_width(text) for text in self.lines)

    @property
    def height(self) -> float:
        """The room of all lines."""
        return LINE_HEIGHT * len(self.lines)

    def meets(self, other: Box) -> bool:
        """Whether the two stand too close to each other."""
        return (
            abs(self.x - other.x) < (self.width + other.width) / 2 + LABEL_GAP
            and abs(self.y - other.y) < (self.height + other.height) / 2 + LABEL_GAP / 2
        )

    def text(self, class_: str) -> list[Element]:
        """The lines of text."""
        first = self.y - self.height / 2 + TEXT
        return [
            label(self.x, first + index * LINE_HEIGHT, text, class_)
            for index, text in enumerate(self.lines)
        ]


@dataclass(frozen=True)
class Dial:
    """A circle, and places on and around it."""

    x: float
    y: float
    radius: float

    def at(self, degrees: float, radius: float) -> tuple[float, float]:
        """The point in this direction, so far from the middle."""
        turn = math.radians(degrees)
        return self.x + radius * math.cos(turn), self.y - radius * math.sin(turn)

    def spoke(self, degrees: float, start: float, end: float, class_: str) -> Element:
        """A line along one direction, between two distances from the middle."""
        return line(*self.at(degrees, start), *self.at(degrees, end), class_)

    def outside(self, degrees: float, lines: tuple[str, ...]) -> Box:
        """Text beside the circle in this direction: its nearest edge or corner, not its middle."""
        x, y = self.at(degrees, self.radius + GAP)
        size = Box(0, 0, lines)
        turn = math.radians(degrees)
        sideways = max(-1.0, min(1.0, math.sqrt(2) * math.cos(turn)))
        upward = max(-1.0, min(1.0, math.sqrt(2) * math.sin(turn)))
        return Box(x + sideways * size.width / 2, y - upward * size.height / 2, lines)

    def graduation(self, taken: Iterable[Box]) -> list[Element]:
        """The circle, its ticks, the horizontal, and 0, 90, 180 where no label is in the way."""
        parts = [
            element("circle", cx=self.x, cy=self.y, r=self.radius, class_="hair"),
            self.spoke(0, -self.radius, self.radius, "hair"),
        ]
        for degrees in range(0, 360, 10):
            length = _TICK if degrees % 90 else _LONG_TICK
            parts.append(self.spoke(degrees, self.radius - length, self.radius, "hair"))
        for degrees in (0, 90, 180):
            box = self.outside(degrees, (str(degrees),))
            if not any(box.meets(other) for other in taken):
                parts += box.text("label faint")
        return parts
