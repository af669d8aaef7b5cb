"""A close call: the limit, the reading, and the spread of what it may really be, to scale."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from lensmath.conformity import Judgement
from lensmath.notation import MINUS
from lensmath.student_t import cumulative

from .ruler import HALF, Ruler
from .svg import (
    LABEL_GAP,
    LINE_HEIGHT,
    TEXT,
    Column,
    Drawing,
    Element,
    Figure,
    figure,
    label,
    line,
    named_value,
    path,
    text_width,
)

_REACH = 3.2  # standard uncertainties to either side that the curve is drawn for
_SLICES = 48
_HIGH = 60.0  # px; the top of the curve
_BRACKET, _FOOT = 16.0, 5.0  # px
_BAR = 10.0  # px; the ends of the bar of the expanded uncertainty
_MARGIN = 12.0  # px


@dataclass(frozen=True)
class CloseCall:
    """A judged difference with its expanded uncertainty; texts are shown as they come.

    `chance` is the probability of being inside, in per cent, and `unit` stands after a number.
    """

    judged: Judgement
    expanded: float
    difference: str
    limit: str
    uncertainty: str
    chance: str
    unit: str

    @property
    def in_words(self) -> str:
        """The sentence that says what the picture shows."""
        return (
            f"The limit is ±{self.limit}{self.unit}. The difference was read as {self.difference} "
            f"± {self.uncertainty}{self.unit}. The shaded part of the curve lies inside the limit: "
            f"{self.chance} %. Answer: {self.judged.zone.value}."
        )


def close_call(name: str, call: CloseCall) -> Figure:
    """The window with the curve of the reading over it; the part of it inside is shaded."""
    judged = call.judged
    reach = _REACH * judged.u
    low = min(-judged.limit, judged.difference - reach)
    high = max(judged.limit, judged.difference + reach)
    curve = _curve(judged)

    def draw(column: Column) -> Drawing:
        y = 2 * LINE_HEIGHT + _HIGH + 8
        ruler = Ruler(low, high, 0, column.width, y, _MARGIN)
        parts = [
            *_texts(call, ruler),
            *_areas(judged, ruler, curve),
            *_window(call, ruler),
            *_bar(call, ruler),
        ]
        return y + _BRACKET + 3 * LINE_HEIGHT + 16, parts

    return figure(name, "The reading against the limit", call.in_words, draw)


def _curve(judged: Judgement) -> list[tuple[float, float]]:
    """Values and heights from 0 to 1: how likely each value is, slice by slice."""
    edges = [_REACH * (2 * index / _SLICES - 1) for index in range(_SLICES + 1)]
    sums = [cumulative(edge, judged.degrees_of_freedom) for edge in edges]
    slices = [after - before for before, after in pairwise(sums)]
    tallest = max(slices)
    return [
        (judged.difference + judged.u * (one + other) / 2, size / tallest)
        for (one, other), size in zip(pairwise(edges), slices, strict=True)
    ]


def _texts(call: CloseCall, ruler: Ruler) -> list[Element]:
    said = f"{call.difference}{call.unit}, {call.judged.zone.value}"
    inside = f"{call.chance} %"
    value = call.judged.difference
    return [
        named_value(ruler.place(value, f"read {said}"), TEXT, "read", said),
        named_value(ruler.place(value, f"inside {inside}"), TEXT + LINE_HEIGHT, "inside", inside),
    ]


def _areas(judged: Judgement, ruler: Ruler, curve: list[tuple[float, float]]) -> list[Element]:
    """The curve, and under it the part inside the limits."""
    steps: list[str | float] = []
    for value, height in curve:
        steps += ["L" if steps else "M", ruler.x(value), ruler.y - _HIGH * height]
    low, high = curve[0][0], curve[-1][0]
    parts = [path("arc", *steps)]
    left, right = max(-judged.limit, low), min(judged.limit, high)
    if left < right:
        inside = [point for point in curve if left < point[0] < right]
        inside = [(left, _height(curve, left)), *inside, (right, _height(curve, right))]
        shape: list[str | float] = ["M", ruler.x(left), ruler.y]
        for value, height in inside:
            shape += ["L", ruler.x(value), ruler.y - _HIGH * height]
        parts.append(path("tint", *shape, "L", ruler.x(right), ruler.y, "Z"))
    return parts


def _height(curve: list[tuple[float, float]], value: float) -> float:
    """The height of the curve at any value between its ends."""
    for (before, low), (after, high) in pairwise(curve):
        if before <= value <= after:
            return low + (high - low) * (value - before) / (after - before)
    return 0.0


def _window(call: CloseCall, ruler: Ruler) -> list[Element]:
    """The line with the window on it, its limits between brackets, and zero, where it is right."""
    limit = call.judged.limit
    parts = [
        ruler.line(*ruler.ends),
        line(ruler.x(-limit), ruler.y, ruler.x(limit), ruler.y, "window"),
        ruler.tick(0, HALF, "ordered"),
    ]
    bottom = ruler.y + _BRACKET
    for end, foot in ((-limit, _FOOT), (limit, -_FOOT)):
        x = ruler.x(end)
        parts.append(path("bracket", "M", x, ruler.y, "L", x, bottom, "L", x + foot, bottom))
    texts = f"{MINUS}{call.limit}", f"+{call.limit}"
    room = sum(map(text_width, texts)) / 2 + LABEL_GAP
    if 2 * limit * ruler.unit < room:
        both = f"±{call.limit}"
        parts.append(label(ruler.place(0, both), bottom + TEXT + 2, both))
    else:
        places = (ruler.place(end, text) for end, text in zip((-limit, limit), texts, strict=True))
        parts += map(label, places, [bottom + TEXT + 2] * 2, texts)
    parts.append(ruler.pointer(call.judged.difference, "solid" if call.judged.passes else "hollow"))
    return parts


def _bar(call: CloseCall, ruler: Ruler) -> list[Element]:
    """The reading with its expanded uncertainty to either side."""
    y = ruler.y + _BRACKET + LINE_HEIGHT + 14
    value = call.judged.difference
    left, right = (
        min(max(ruler.x(value + side * call.expanded), ruler.left), ruler.right) for side in (-1, 1)
    )
    said = f"{call.difference} ± {call.uncertainty}{call.unit}"
    return [
        line(left, y, right, y, "ink"),
        *(line(x, y - _BAR / 2, x, y + _BAR / 2, "ink") for x in (left, right)),
        named_value(ruler.place(value, said), y + LINE_HEIGHT + 4, "", said),
    ]
