"""Pass windows: for each checked quantity, what was ordered, what is allowed, what was measured."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from lensmath.errors import LensError
from lensmath.notation import MINUS, write_axis, write_exact, write_power
from lensmath.power import rounded_to, snapped

from .ruler import HALF, POINTER, REST, Ruler, apart
from .svg import (
    LABEL_GAP,
    LINE_HEIGHT,
    NARROW,
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

_TURN = 180.0  # degrees after which an axis comes back to itself
_BRACKET, _FOOT = 16.0, 5.0  # px; height of a bracket, and length of its foot
_TICKS_APART = 6.0  # px, at least
_MARGIN = 1.5  # of half the window, shown to either side of it: a quarter beside an eighth fits
_INSET = POINTER / 2 + 1  # px; room for half a pointer at the ends of the line
_BETWEEN = 24.0  # px from one gauge to the next


@dataclass(frozen=True)
class Gauge:
    """One checked quantity.

    `low` and `high` are the limits, both included, or None where nothing limits the quantity.
    `unit` is D, Δ, mm or °. Degrees are an axis, whose window may lie across 180: 178 to 004.
    `measured` is None in a picture of the window alone, `inside` where nothing has been decided.
    `remembered` marks a verdict whose limit is quoted from memory. `marks` are those of a scale, in
    the window and near it, rising.

    Errors  LensError for one limit without the other, or an ordered value outside its limits.
    """

    label: str
    unit: str
    low: float | None
    ordered: float
    high: float | None
    measured: float | None = None
    inside: bool | None = None
    remembered: bool = False
    marks: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        if (self.low is None) != (self.high is None):
            raise LensError(
                f"The window of {self.label} was given one limit. Give both limits, or none."
            )
        if self.low is not None and self.high is not None:
            low, high = self.place(self.low), self.place(self.high)
            if not snapped(low) <= snapped(self.ordered) <= snapped(high):
                raise LensError(
                    f"{self.label} was ordered {self.written(self.ordered)}, outside its limits "
                    f"{self.edge(self.low)} to {self.edge(self.high)}."
                )

    @property
    def is_axis(self) -> bool:
        """Whether the quantity is an axis, which comes back to itself after 180 degrees."""
        return self.unit == "°"

    def written(self, value: float) -> str:
        """A value of this quantity, as people write it, without its unit.

        >>> Gauge("Axis", "°", 178, 1, 4).written(4)
        '004'
        """
        if self.is_axis:
            return write_axis(value % _TURN)
        if self.unit == "D":
            return write_exact(value)
        rounded = rounded_to(value, 0.01)
        return f"{MINUS if rounded < 0 else ''}{abs(rounded):.2f}"

    def edge(self, value: float) -> str:
        """A limit: a power that is no eighth has three decimals, lest it be taken for a mark.

        >>> [Gauge("Addition", "D", 1.88, 2, 2.125).edge(limit) for limit in (1.88, 2.125)]
        ['+1.880', '+2.125']
        """
        written = self.written(value)
        cut = self.unit == "D" and written[-3] == "." and snapped(value * 8) % 1
        return f"{written}0" if cut else written

    @property
    def last_marks(self) -> str:
        """The first and the last mark in the window, as people write them.

        >>> Gauge("Addition", "D", 1.87, 2, 2.13, marks=(1.75, 1.875, 2, 2.125)).last_marks
        '+1.87 to +2.12'
        """
        low, high = self.low or 0.0, self.high or 0.0
        inside = [write_power(mark) for mark in self.marks if low <= mark <= high]
        if len(inside) < 2:
            return f"{inside[0]} alone" if inside else "no mark"
        return f"{inside[0]} to {inside[-1]}"

    def with_unit(self, value: float) -> str:
        """A value with its unit; an axis is written without one, for ° is easily read as a 0."""
        return self.written(value) if self.is_axis else f"{self.written(value)} {self.unit}"

    def place(self, value: float) -> float:
        """The value on a line without a seam: an axis is taken within 90 degrees of the ordered."""
        if not self.is_axis:
            return value
        return self.ordered + (value - self.ordered + _TURN / 2) % _TURN - _TURN / 2

    @property
    def verdict(self) -> str:
        """What is said of the measured value."""
        if self.low is None:
            return "no limit"
        if self.inside is None:
            return ""
        return ("inside" if self.inside else "outside") + (" *" if self.remembered else "")


def pass_window(name: str, gauges: Sequence[Gauge]) -> Figure:
    """One gauge under the other; each window fills two fifths of its line."""
    names_width = (
        max(text_width(text) for gauge in gauges for text in _names(gauge)) + 2 * LABEL_GAP
    )

    def draw(column: Column) -> Drawing:
        parts: list[Element] = []
        top = 0.0
        for gauge in gauges:
            left = 0.0 if column is NARROW else names_width
            height, drawn = _gauge(gauge, column, left, top)
            parts += drawn
            top += height + _BETWEEN
        return top - _BETWEEN, parts

    return figure(name, "Pass window", " ".join(map(gauge_in_words, gauges)), draw)


def gauge_in_words(gauge: Gauge) -> str:
    """The sentence that says what the picture of a gauge shows.

    >>> gauge_in_words(Gauge("Cylinder", "D", -2.62, -2.50, -2.38, -2.75, False))
    'Cylinder: ordered −2.50 D, allowed −2.620 to −2.380 D, measured −2.75 D, outside.'
    """
    parts = [f"ordered {gauge.with_unit(gauge.ordered)}"]
    if gauge.low is not None and gauge.high is not None:
        unit = "" if gauge.is_axis else f" {gauge.unit}"
        parts.append(f"allowed {gauge.edge(gauge.low)} to {gauge.edge(gauge.high)}{unit}")
    if gauge.marks:
        parts.append(f"on a hand scale {gauge.last_marks}")
    if gauge.measured is not None:
        parts.append(f"measured {gauge.with_unit(gauge.measured)}")
    if gauge.verdict:
        parts.append(gauge.verdict.replace(" *", " * (limit from memory)"))
    return f"{gauge.label}: {', '.join(parts)}."


def _gauge(gauge: Gauge, column: Column, left: float, top: float) -> Drawing:
    """The names of a gauge above its line, or before it where there is room at the `left`."""
    names, names_height = _written_names(gauge, column, top)
    text_line = top + TEXT + (0 if left else names_height)
    if gauge.low is None or gauge.high is None:
        height = max(names_height, text_line + 4 - top)
        return height, [*names, named_value(left, text_line, *_said(gauge), "start")]
    low, high = gauge.place(gauge.low), gauge.place(gauge.high)
    margin = _MARGIN * (high - low) / 2 or 1.0
    y = text_line + 4 + POINTER
    ruler = Ruler(low - margin, high + margin, left, column.width, y, _INSET)
    parts = [*names, *_window(gauge, ruler, low, high)]
    if gauge.measured is not None:
        parts += _measured(gauge, ruler, gauge.place(gauge.measured), text_line)
    elif gauge.marks:
        near = (mark for mark in gauge.marks if ruler.low <= mark <= ruler.high)
        parts.append(ruler.ticks(((mark, -REST) for mark in near), "ink"))
        text = f"marks: {gauge.last_marks}"
        place = ruler.place(gauge.ordered, text)
        parts.append(label(place, text_line, text))
    return y + _BRACKET + LINE_HEIGHT + 2 - top, parts


def _names(gauge: Gauge) -> tuple[str, str]:
    return gauge.label, f"ordered {gauge.with_unit(gauge.ordered)}"


def _written_names(gauge: Gauge, column: Column, top: float) -> tuple[list[Element], float]:
    """The quantity and what was ordered, in one line of a narrow column if they fit; the height."""
    name, ordered = _names(gauge)
    first = label(0, top + TEXT, name, "label strong", "start")
    fit = text_width(name) + LABEL_GAP + text_width(ordered) <= column.width
    if column is NARROW and fit:
        beside = label(column.width, top + TEXT, ordered, "label faint", "end")
        return [first, beside], LINE_HEIGHT + 4
    below = label(0, top + TEXT + LINE_HEIGHT, ordered, "label faint", "start")
    return [first, below], 2 * LINE_HEIGHT + 4


def _window(gauge: Gauge, ruler: Ruler, low: float, high: float) -> list[Element]:
    """The graduated line, the window on it between brackets, its limits, and the ordered value."""
    parts = [ruler.line(*ruler.ends), _ticks(ruler)]
    parts.append(line(ruler.x(low), ruler.y, ruler.x(high), ruler.y, "window"))
    bottom = ruler.y + _BRACKET
    for limit, foot in ((low, _FOOT), (high, -_FOOT)):
        x = ruler.x(limit)
        parts.append(path("bracket", "M", x, ruler.y, "L", x, bottom, "L", x + foot, bottom))
    parts.append(ruler.tick(gauge.ordered, HALF, "ordered"))
    texts = gauge.edge(low), gauge.edge(high)
    places = apart(ruler, low, texts[0], high, texts[1])
    parts += map(label, places, [bottom + TEXT + 2] * 2, texts)
    return parts


def _ticks(ruler: Ruler) -> Element:
    """Ticks at 1, 2 or 5 times a power of ten, as close as they stay legible; each fifth longer."""
    least = _TICKS_APART / ruler.unit
    ten = 10.0 ** math.floor(math.log10(least))
    step = next(times * ten for times in (1, 2, 5, 10) if snapped(times * ten) >= snapped(least))
    marks = range(math.ceil(ruler.low / step), math.floor(ruler.high / step) + 1)
    return ruler.ticks(((at * step, REST if at % 5 else HALF) for at in marks), "hair")


def _measured(gauge: Gauge, ruler: Ruler, value: float, text_line: float) -> list[Element]:
    """The measured value at its place; beyond the line, an arrow at the end that it lies past."""
    class_ = "hollow" if gauge.inside is False else "solid"
    if ruler.low <= value <= ruler.high:
        pointer = ruler.pointer(value, class_)
    else:
        pointer = ruler.arrow(value, class_)
    name, said = _said(gauge)
    place = ruler.place(value, f"{name} {said}")
    return [pointer, named_value(place, text_line, name, said)]


def _said(gauge: Gauge) -> tuple[str, str]:
    """What stands over the line: a name, and what is said."""
    if gauge.measured is None:
        return "", gauge.verdict
    measured = gauge.written(gauge.measured)
    return "measured", f"{measured}, {gauge.verdict}" if gauge.verdict else measured
