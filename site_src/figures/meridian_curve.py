"""The power of a lens along every meridian, as a curve, with one meridian marked on it."""

from __future__ import annotations

from lensmath.notation import write_axis, write_power
from lensmath.power import LensPower, snapped, standard_axis

from .svg import (
    LABEL_GAP,
    LINE_HEIGHT,
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
    text_width,
)

_HEIGHTS = {"narrow": 112.0, "wide": 136.0}  # px, from the lowest power to the highest
_TOP = LINE_HEIGHT + 12  # px, for what is said of the marked meridian
_RIGHT = 16.0  # px; room for half of “180”
_TICK = 6.0  # px
_FINE = 3  # degrees from one point of the curve to the next
_DOT = 5.0  # px


class _Plot:
    """Where meridians and powers stand, in px."""

    def __init__(self, lens: LensPower, column: Column) -> None:
        powers = sorted(meridian.power for meridian in lens.principal_meridians)
        self.low, self.high = powers
        self.left = max(text_width(write_power(power)) for power in powers) + LABEL_GAP
        self.right = column.width - _RIGHT
        self.top = _TOP
        self.bottom = _TOP + _HEIGHTS[column.name]

    def x(self, meridian: float) -> float:
        return self.left + (self.right - self.left) * meridian / 180

    def y(self, power: float) -> float:
        if snapped(self.high - self.low) == 0:
            return (self.top + self.bottom) / 2
        share = (power - self.low) / (self.high - self.low)
        return self.bottom - share * (self.bottom - self.top)

    def clamped(self, meridian: float, text: str, width: float) -> float:
        """The middle of a label under or over a meridian, kept inside the drawing."""
        half = text_width(text) / 2
        return min(max(self.x(meridian), half), width - half)


def meridian_curve(name: str, lens: LensPower, meridian: float) -> Figure:
    """Power against meridian from 0 to 180; the marked meridian is a dot with its power."""

    def draw(column: Column) -> Drawing:
        plot = _Plot(lens, column)
        parts = [
            *_levels(plot),
            *_scale(plot, lens, column),
            *_curve(plot, lens),
            *_marked(plot, lens, meridian, column),
        ]
        rows = 1 if lens.axis is None else 2
        return plot.bottom + 2 * _TICK + rows * LINE_HEIGHT + 4, parts

    return figure(name, "Power along every meridian", curve_in_words(lens, meridian), draw)


def curve_in_words(lens: LensPower, meridian: float) -> str:
    """The sentence that says what the picture shows.

    >>> curve_in_words(LensPower(8.75, -2.25, 5), 90)
    'Along meridian 090: +6.52 D. The highest is +8.75 D along 005, the lowest +6.50 D along 095.'
    """
    marked = f"Along meridian {write_axis(meridian)}: {write_power(lens.power_along(meridian))} D."
    if lens.axis is None:
        return f"{marked} A sphere has this power along every meridian."
    low, high = sorted(lens.principal_meridians)
    return (
        f"{marked} The highest is {write_power(high.power)} D along {write_axis(high.direction)}, "
        f"the lowest {write_power(low.power)} D along {write_axis(low.direction)}."
    )


def _levels(plot: _Plot) -> list[Element]:
    """Level lines at the highest and the lowest power, and at zero where there is room."""
    levels = sorted({plot.low, plot.high})
    if plot.low < 0 < plot.high and all(abs(plot.y(0) - plot.y(p)) > LINE_HEIGHT for p in levels):
        levels.append(0.0)
    parts = []
    for power in levels:
        y = plot.y(power)
        parts.append(line(plot.left, y, plot.right, y, "hair"))
        text = "0" if power == 0 else write_power(power)
        parts.append(label(plot.left - LABEL_GAP / 2, y + TEXT / 3, text, anchor="end"))
    return parts


def _scale(plot: _Plot, lens: LensPower, column: Column) -> list[Element]:
    """The meridians under the curve, and the axis of the lens as a heavy mark with its name."""
    level = plot.bottom + _TICK
    parts = [line(plot.left, level, plot.right, level, "ink")]
    for meridian in range(0, 181, 15):
        length = _TICK if meridian % 45 == 0 else _TICK / 2
        x = plot.x(meridian)
        parts.append(line(x, level, x, level + length, "hair"))
        if meridian % 45 == 0:
            parts.append(label(x, level + _TICK + TEXT, str(meridian), "label faint"))
    if lens.axis is not None:
        x, text = plot.x(lens.axis), f"axis {write_axis(lens.axis)}"
        parts.append(line(x, level - _TICK, x, level, "axis-mark"))
        place = plot.clamped(lens.axis, text, column.width)
        parts.append(label(place, level + _TICK + TEXT + LINE_HEIGHT, text))
    return parts


def _curve(plot: _Plot, lens: LensPower) -> list[Element]:
    steps: list[str | float] = []
    for meridian in range(0, 181, _FINE):
        steps += ["L" if steps else "M", plot.x(meridian), plot.y(lens.power_along(meridian))]
    return [path("arc", *steps)]


def _marked(plot: _Plot, lens: LensPower, meridian: float, column: Column) -> list[Element]:
    power, direction = lens.power_along(meridian), standard_axis(meridian)
    shown = write_power(power)
    ink = {"+": "plus", "0": "zero"}.get(shown[0], "minus")
    x, y = plot.x(direction), plot.y(power)
    text = f"{shown} D along {write_axis(meridian)}"
    place = plot.clamped(direction, text, column.width)
    return [
        line(x, plot.top - _TICK, x, plot.bottom + _TICK, f"arc dashed {ink}"),
        element("circle", cx=x, cy=y, r=_DOT, class_=f"solid {ink}"),
        label(place, TEXT, text, f"label strong {ink}"),
    ]
