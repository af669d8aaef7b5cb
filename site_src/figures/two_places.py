"""A graduated line with two places on it, the one named above the line and the other below."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from .ruler import HALF, REST, Ruler, is_multiple
from .svg import LINE_HEIGHT, TEXT, Drawing, Element, label, line, text_width

MARGIN = 14.0  # px from the ends of the line to its lowest and highest value
_GAP = 6.0  # px between what stands above the line, the line, and what stands below
_CLEAR = 8.0  # px that a number of the line keeps from the second place's leader
FOOT = HALF + _GAP + 3 * LINE_HEIGHT  # px; what stands below the line

Mark = Callable[[Ruler, float, str], list[Element]]
"""How a place is drawn above the line: the ruler, the value and the class to draw in."""


@dataclass(frozen=True)
class Place:
    """A place on the line: its value, what it is called, and what it means."""

    value: float
    name: str
    text: str


@dataclass(frozen=True)
class Graduation:
    """The line: its range, one tick a `step`, a longer one with its number every `numbered`."""

    low: float
    high: float
    step: float
    numbered: float


def two_places(
    width: float,
    scale: Graduation,
    above: Place,
    below: Place,
    mark: Mark,
    height: float,
    classes: tuple[str, str],
) -> Drawing:
    """The drawing; `mark` draws each place, in its class, `height` px high above the line."""
    y = 2 * LINE_HEIGHT + _GAP + height
    ruler = Ruler(scale.low, scale.high, 0, width, y, margin=MARGIN)
    foot = y + FOOT - 2 * LINE_HEIGHT
    return y + FOOT, [
        ruler.line(*ruler.ends),
        *_graduation(ruler, scale, below.value),
        *mark(ruler, above.value, classes[0]),
        *mark(ruler, below.value, classes[1]),
        *_named(ruler, above, TEXT),
        line(ruler.x(below.value), y, ruler.x(below.value), foot, "hair dashed"),
        *_named(ruler, below, foot + TEXT),
    ]


def _graduation(ruler: Ruler, scale: Graduation, taken: float) -> list[Element]:
    parts: list[Element] = []
    first, last = math.ceil(scale.low / scale.step), math.floor(scale.high / scale.step)
    for number in range(first, last + 1):
        value = number * scale.step
        numbered = is_multiple(value, scale.numbered)
        parts.append(ruler.tick(value, HALF if numbered else REST, "ink" if numbered else "hair"))
        text = f"{value:g}"
        clear = abs(ruler.x(value) - ruler.x(taken)) > text_width(text) / 2 + _CLEAR
        if numbered and clear:
            parts.append(label(ruler.x(value), ruler.y + HALF + TEXT, text, "label faint"))
    return parts


def _named(ruler: Ruler, place: Place, y: float) -> list[Element]:
    longer = max((place.name, place.text), key=text_width)
    x = ruler.place(place.value, longer)
    return [
        label(x, y, place.name, "label faint"),
        label(x, y + LINE_HEIGHT, place.text, "label strong"),
    ]
