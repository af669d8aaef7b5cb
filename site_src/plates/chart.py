"""The number line as a chart for the wall, and the directions of a prism base before each eye.

Both are drawn from the package: the marks of the hand scale, and the bases of a prism.
"""

from __future__ import annotations

import math

from lensmath.eye import Eye
from lensmath.notation import MINUS, write_power
from lensmath.prism import Prism
from lensmath.scale import HAND_SCALE, shown
from site_src.figures.ruler import HALF, REST, WHOLE, Ruler, is_multiple
from site_src.figures.svg import (
    LINE_HEIGHT,
    NARROW,
    TEXT,
    WIDE,
    Column,
    Drawing,
    Element,
    Figure,
    element,
    figure,
    label,
    line,
)

_MARKS = 24  # steps in a row of the chart, so that every mark has room for its number
_MARGIN = 24.0  # px at either end of a row: half a number
_ABOVE, _BELOW = 5.0, WHOLE + TEXT + 1  # px from the line to the numbers over and under it
_OVER = 2 * LINE_HEIGHT + _ABOVE  # px over the line: what its steps are worth, and numbers
_ROW = _OVER + _BELOW + 12  # px from one row to the next
_HEAD = LINE_HEIGHT + 4

_RADIUS = 34.0  # px of a lens in the picture of the bases
_AROUND = LINE_HEIGHT * 2 + 8  # px above and below a lens, for two lines of text
_ASIDE = 4.0  # px from the rim to the words


def number_line() -> Figure:
    """The hand scale in four rows, from minus to plus, with a number at every mark."""
    rows = _rows()
    step, beyond = (shown(band.step) for band in HAND_SCALE.bands)
    change, last = HAND_SCALE.bands[0].up_to, rows[-1][1]
    description = (
        f"The power scale from {write_power(-last)} D to {write_power(last)} D in four rows. "
        f"From {write_power(-change)} D to {write_power(change)} D the marks stand {step} D "
        f"apart, further out {beyond} D. Minus lies to the left, plus to the right."
    )

    def draw(column: Column) -> Drawing:
        parts = [*_ways(column)]
        for number, (low, high) in enumerate(rows):
            y = _HEAD + number * _ROW + _OVER
            ruler = Ruler(low, high, 0, column.width, y, _MARGIN)
            side = "minus" if low < 0 else "plus"
            parts.append(element("g", *_row(ruler, numbered=column is WIDE), class_=side))
        return _HEAD + len(rows) * _ROW, parts

    return figure("wall-chart", "The number line", description, draw)


def _rows() -> list[tuple[float, float]]:
    """The ends of the rows: the finer marks to either side of zero, then as many coarser ones."""
    fine, coarse = HAND_SCALE.bands
    end = fine.up_to + _MARKS * coarse.step
    return [(-end, -fine.up_to), (-fine.up_to, 0.0), (0.0, fine.up_to), (fine.up_to, end)]


def _ways(column: Column) -> list[Element]:
    """Which way is minus, and which is plus."""
    right = column.width
    return [
        element("g", label(0, TEXT, "← toward minus", "label strong", "start"), class_="minus"),
        element("g", label(right, TEXT, "toward plus →", "label strong", "end"), class_="plus"),
    ]


def _row(ruler: Ruler, *, numbered: bool) -> list[Element]:
    """One row: what its steps are worth, its marks, and the numbers that have room."""
    marks = HAND_SCALE.marks(ruler.low, ruler.high)
    step = HAND_SCALE.step_at((ruler.low + ruler.high) / 2)
    whole = [(mark, WHOLE) for mark in marks if is_multiple(mark, 1)]
    others = [
        (mark, HALF if is_multiple(mark, 0.5) else REST)
        for mark in marks
        if not is_multiple(mark, 1)
    ]
    caption = f"{shown(step)} D from mark to mark"
    above = ruler.y - _ABOVE - LINE_HEIGHT
    return [
        label(_MARGIN, above - 2, caption, "label faint", "start"),
        ruler.line(ruler.low, ruler.high),
        ruler.ticks(whole, "ink"),
        ruler.ticks(others, "hair"),
        *(_number(ruler, mark, step, numbered=numbered) for mark in _labelled(marks, numbered)),
    ]


def _labelled(marks: tuple[float, ...], numbered: bool) -> list[float]:
    return [mark for mark in marks if numbered or is_multiple(mark, 1)]


def _number(ruler: Ruler, mark: float, step: float, *, numbered: bool) -> Element:
    """The number of a mark: every other one under the line, those between over it."""
    x = ruler.x(mark)
    if not numbered:
        sign = "" if mark == 0 else MINUS if mark < 0 else "+"
        return label(x, ruler.y + _BELOW, f"{sign}{abs(mark):.0f}")
    if not is_multiple(mark, 2 * step):
        return label(x, ruler.y - _ABOVE, write_power(mark))
    ink = "label strong" if is_multiple(mark, 1) else "label"
    return label(x, ruler.y + _BELOW, write_power(mark), ink)


# The bases ---------------------------------------------------------------------------------------


def bases() -> Figure:
    """Both lenses seen facing the wearer: the four directions in degrees, and their words."""
    description = (
        "Both lenses, seen facing the wearer; the right lens is on your left, the nose between. "
        f"{_said(Eye.RIGHT)} {_said(Eye.LEFT)}"
    )

    def draw(column: Column) -> Drawing:
        y = _AROUND + LINE_HEIGHT + _RADIUS
        apart = column.width / 4 if column is NARROW else column.width / 5
        middle = column.width / 2
        height = y + _RADIUS + _AROUND
        return height, [
            *_lens(Eye.RIGHT, middle - apart, y),
            *_lens(Eye.LEFT, middle + apart, y),
            label(middle, height - 4, "nose", "label faint"),
        ]

    return figure("bases-by-eye", "Where the base lies before each eye", description, draw)


def _said(eye: Eye) -> str:
    named = (f"{degrees} is {_word(degrees, eye)}" for degrees in (0, 90, 180, 270))
    return f"{eye.value.capitalize()} lens: {', '.join(named)}."


def _word(degrees: float, eye: Eye) -> str:
    return Prism.from_base(1, degrees).half_circle(eye).bases[0].value


def _lens(eye: Eye, x: float, y: float) -> list[Element]:
    """A round lens with a spoke in each of the four directions, and what the spoke is called."""
    parts = [
        element("circle", cx=x, cy=y, r=_RADIUS, class_="glass"),
        label(x, TEXT, f"{eye.value} lens", "label strong"),
    ]
    for degrees in (0, 90, 180, 270):
        across = math.cos(math.radians(degrees))
        up = math.sin(math.radians(degrees))
        parts.append(line(x, y, x + _RADIUS * across, y - _RADIUS * up, "hair"))
        parts += _named(x, y, across, up, (f"{degrees}", _word(degrees, eye)))
    return parts


def _named(x: float, y: float, across: float, up: float, texts: tuple[str, str]) -> list[Element]:
    """Degrees over word, outside of the rim."""
    anchor = "middle" if abs(up) > abs(across) else "start" if across > 0 else "end"
    reach = _RADIUS + _ASIDE
    left = x if anchor == "middle" else x + math.copysign(reach, across)
    first = y - 2
    if anchor == "middle":
        first = y - reach - LINE_HEIGHT if up > 0 else y + reach + TEXT - 2
    return [
        label(left, first, texts[0], "label", anchor),
        label(left, first + LINE_HEIGHT, texts[1], "label strong", anchor),
    ]
