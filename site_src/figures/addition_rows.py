"""Distance, intermediate and near powers under each other on one scale; what is added is solid."""

from __future__ import annotations

import math
from typing import NamedTuple

from lensmath.notation import write_power

from .ruler import HALF, POINTER, REST, Ruler, is_multiple
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
    named_value,
    text_width,
)

_BAND = 7.0  # px; the height of what is added, on the line
_BETWEEN = 14.0  # px from one row to the next
_MARGIN = 24.0  # px at either edge, where the line goes on
_CLEAR = 4.0  # px; marks stand no closer
_NAMES = 190.0  # px in front of the lines, in the wide drawing
_LEAST = 0.5  # D; the line shows so much where next to nothing is added


class Portion(NamedTuple):
    """A portion of a lens by its name, and the power of its sphere, in dioptres."""

    name: str
    power: float


def addition_rows(name: str, distance: Portion, *others: Portion) -> Figure:
    """A row for each portion: its power on the line, and in solid what it has over distance."""

    def draw(column: Column) -> Drawing:
        parts: list[Element] = []
        top = 0.0
        for portion in (distance, *others):
            ruler, words = _row(distance, others, column, top)
            parts.append(
                named_value(*words, portion.name, f"{write_power(portion.power)} D", "start")
            )
            parts += _line(ruler, distance.power, portion.power)
            top = ruler.y + HALF + _BETWEEN
        return top - _BETWEEN + LINE_HEIGHT, [*parts, *_numbers(ruler)]

    return figure(name, "Powers of the portions", rows_in_words(distance, *others), draw)


def rows_in_words(distance: Portion, *others: Portion) -> str:
    """The sentence that says what the picture shows.

    >>> rows_in_words(Portion("Distance", -0.5), Portion("Near", 1.5))
    'Spheres. Distance: −0.50 D. Near: +1.50 D, +2.00 D over distance.'
    """
    said = [f"Spheres. {distance.name}: {write_power(distance.power)} D."]
    for name, power in others:
        over = write_power(power - distance.power)
        said.append(f"{name}: {write_power(power)} D, {over} D over distance.")
    return " ".join(said)


def _row(
    distance: Portion, others: tuple[Portion, ...], column: Column, top: float
) -> tuple[Ruler, tuple[float, float]]:
    """The line of a row, and where its words begin: above it, or in front where there is room."""
    low = distance.power
    high = max(low + _LEAST, *(portion.power for portion in others))
    if column is NARROW:
        y = top + LINE_HEIGHT + POINTER + 2
        return Ruler(low, high, 0, column.width, y, _MARGIN), (0, top + TEXT)
    y = top + POINTER + 4
    return Ruler(low, high, _NAMES, column.width, y, _MARGIN), (0, y + TEXT / 3)


def _line(ruler: Ruler, distance: float, power: float) -> list[Element]:
    """The line with its marks, the solid stretch from distance, and the pointer."""
    low, high = ruler.ends
    step = next((s for s in (0.25, 1.0) if s * ruler.unit >= _CLEAR), 5.0)
    marks = [step * n for n in range(math.ceil(low / step), math.floor(high / step) + 1)]
    parts = [
        ruler.line(low, high),
        ruler.ticks(((m, REST if m % 1 else HALF) for m in marks), "hair"),
    ]
    start, end = ruler.x(distance), ruler.x(power)
    if end > start:
        box = {"x": start, "y": ruler.y - _BAND, "width": end - start, "height": _BAND}
        parts.append(element("rect", **box, class_="tint plus"))
    parts.append(ruler.pointer(power, "solid"))
    return parts


def _numbers(ruler: Ruler) -> list[Element]:
    """The whole dioptres under the last line, as many as have room."""
    low, high = ruler.ends
    whole = range(math.ceil(low), math.floor(high) + 1)
    widest = max((text_width(_whole(n)) for n in whole), default=0.0)
    every = next((e for e in (1, 2, 5, 10) if e * ruler.unit >= widest + LABEL_GAP), 20)
    parts = []
    for n in whole:
        x, half = ruler.x(n), text_width(_whole(n)) / 2
        if is_multiple(n, every) and ruler.left <= x - half and x + half <= ruler.right:
            parts.append(label(x, ruler.y + HALF + TEXT, _whole(n), "label faint"))
    return parts


def _whole(power: int) -> str:
    return write_power(power).split(".")[0]
