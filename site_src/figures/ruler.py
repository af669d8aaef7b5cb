"""The graduated line that the figures share: values to places, ticks, and labels side by side."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import compress

from lensmath.power import snapped

from .svg import LABEL_GAP, Element, coordinate, line, path, text_width

WHOLE, HALF, REST = 20.0, 13.0, 8.0  # px; the three lengths of a tick
POINTER = 10.0  # px; the height of a pointer
_HATCH = 5.0  # px from one hatching line to the next


@dataclass(frozen=True)
class Ruler:
    """A level line at `y`, from `left` to `right`; `low` and `high` stand `margin` inside (px)."""

    low: float
    high: float
    left: float
    right: float
    y: float
    margin: float = 0.0

    @property
    def unit(self) -> float:
        """Pixels for one unit of the values."""
        return (self.right - self.left - 2 * self.margin) / (self.high - self.low)

    @property
    def ends(self) -> tuple[float, float]:
        """The values at `left` and `right`."""
        beyond = self.margin / self.unit
        return self.low - beyond, self.high + beyond

    def x(self, value: float) -> float:
        """Where `value` stands, in px."""
        return self.left + self.margin + (value - self.low) * self.unit

    def place(self, value: float, text: str) -> float:
        """The middle of a label for `value`: at its place, or as near as the ends allow."""
        half = text_width(text) / 2
        return min(max(self.x(value), self.left + half), self.right - half)

    def line(self, low: float, high: float) -> Element:
        """The line itself, between two values."""
        return line(self.x(low), self.y, self.x(high), self.y, "ink")

    def tick(self, value: float, length: float, class_: str) -> Element:
        """A mark below the line."""
        x = self.x(value)
        return line(x, self.y, x, self.y + length, class_)

    def ticks(self, marks: Iterable[tuple[float, float]], class_: str) -> Element:
        """Many marks in one stroke: the value and the length of each."""
        zero, unit, y = self.x(0), self.unit, coordinate(self.y)
        strokes = [
            f"M {coordinate(zero + at * unit)} {y} v {coordinate(length)}" for at, length in marks
        ]
        return path(class_, *strokes)

    def pointer(self, value: float, class_: str) -> Element:
        """A triangle on the line, its tip at `value`."""
        x, top, half = self.x(value), self.y - POINTER, POINTER / 2
        return path(class_, "M", x, self.y, "L", x - half, top, "L", x + half, top, "Z")

    def arrow(self, value: float, class_: str) -> Element:
        """A triangle at the end beyond which `value` lies, pointing there."""
        past = value > self.high
        tip = self.right if past else self.left
        back = tip + (-POINTER if past else POINTER)
        middle, half = self.y - POINTER / 2 - 1, POINTER / 2
        return path(
            class_, "M", tip, middle, "L", back, middle - half, "L", back, middle + half, "Z"
        )


def is_multiple(value: float, step: float) -> bool:
    """Whether `value` is a whole number of steps."""
    return snapped(value / step) % 1 == 0


def apart(
    ruler: Ruler, low: float, low_text: str, high: float, high_text: str
) -> tuple[float, float]:
    """Places for two labels: under their values if they fit, else moved out from each other."""
    left, right = ruler.place(low, low_text), ruler.place(high, high_text)
    left_half, right_half = text_width(low_text) / 2, text_width(high_text) / 2
    if right - left < left_half + right_half + LABEL_GAP:
        middle = (ruler.x(low) + ruler.x(high)) / 2
        left = min(left, middle - LABEL_GAP / 2 - left_half)
        right = max(right, middle + LABEL_GAP / 2 + right_half)
    return left, right


def hatching(left: float, right: float, top: float, bottom: float) -> Element:
    """Slanting lines that fill a box, drawn one by one and cut at its sides."""
    height = bottom - top
    feet = [
        left - height + (index + 0.5) * _HATCH
        for index in range(math.ceil((right - left + height) / _HATCH - 0.5))
    ]
    is_whole = [left <= foot <= right - height for foot in feet]
    whole = list(compress(feet, is_whole))
    parts = [
        _slanting(foot, left, right, bottom, height)
        for foot, fits in zip(feet, is_whole, strict=True)
        if not fits
    ]
    if whole:  # all alike: each but the first starts from the end of the one before
        rise = coordinate(height)
        stroke, back = f"l {rise} -{rise}", f"m {coordinate(_HATCH - height)} {rise}"
        first = f"M {coordinate(whole[0])} {coordinate(bottom)} {stroke}"
        parts.append(first + f" {back} {stroke}" * (len(whole) - 1))
    return path("hatch", *parts)


def _slanting(foot: float, left: float, right: float, bottom: float, height: float) -> str:
    """The part between `left` and `right` of the line that rises from `foot` on the bottom."""
    start, end = max(foot, left), min(foot + height, right)
    ends = (start, bottom - (start - foot)), (end, bottom - (end - foot))
    (x1, y1), (x2, y2) = [(coordinate(x), coordinate(y)) for x, y in ends]
    return f"M {x1} {y1} L {x2} {y2}"
