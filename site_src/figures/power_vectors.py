"""Two lenses and their sum as arrows: the astigmatic parts of the power vectors, J0 and J45.

An arrow is half a cylinder long, and points at twice the axis (in minus cylinder): axis 180 to the
right, 045 up, 090 to the left, 135 down. So arrows add, where axes do not.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lensmath.notation import write_lens
from lensmath.power import LensPower, PowerVector, snapped

from .svg import (
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
    named_value,
    path,
    text_width,
)

_RADIUS = 84.0  # px; the longest reach of an arrow from the middle
_SPILL = 12.0  # px by which the lines through the middle go on
_HEAD = 9.0  # px; the length of an arrow head, and less for a short arrow
_SAMPLE = 22.0  # px of line in front of the words
_ROW = 24.0  # px from one of the words to the next
_SCALE_MARKS = (0.125, 0.25, 0.5, 1.0, 2.5, 5.0, 10.0, 25.0)  # D; arrow lengths that get a circle


@dataclass(frozen=True)
class Arrow:
    """What one arrow stands for: its name and the lens; `taken_off` turns it round."""

    name: str
    lens: LensPower
    taken_off: bool = False

    @property
    def vector(self) -> PowerVector:
        """The power vector of the lens."""
        return self.lens.power_vector


def power_vectors(name: str, first: Arrow, second: Arrow, result: Arrow) -> Figure:
    """The first arrow from the middle, the second from its tip, the result to where they end."""

    def draw(column: Column) -> Drawing:
        side = 2 * (_RADIUS + _SPILL)
        left = text_width("axis 090") + 4 if column is not NARROW else (column.width - side) / 2
        plot = _Plot(left + side / 2, LINE_HEIGHT + 4 + side / 2, _reach(first, result))
        parts = [*_ground(plot, column), *_arrows(plot, first, second, result)]
        bottom = plot.y + side / 2 + LINE_HEIGHT + 4
        words_left, top = (0.0, bottom + 12) if column is NARROW else (left + side + 96, 60.0)
        parts += _words(words_left, top, first, second, result)
        return (top + 3 * _ROW if column is NARROW else bottom), parts

    title = "Cylinders as arrows"
    return figure(name, title, vectors_in_words(first, second, result), draw)


def vectors_in_words(first: Arrow, second: Arrow, result: Arrow) -> str:
    """The sentence that says what the picture shows."""
    end = "in the middle, so no cylinder is left"
    if _length(result.vector):
        end = f"at {result.name}, {_written(result)}"
    return (
        f"First the arrow of {_in_words(first)}, then that of {_in_words(second)}; they end {end}. "
        "An arrow is half a cylinder long; axis 180 points to the right, 045 up, 090 to the left, "
        "135 down."
    )


def _in_words(arrow: Arrow) -> str:
    turned = ", turned round" if arrow.taken_off else ""
    return f"{arrow.name}, {_written(arrow)}{turned if _length(arrow.vector) else ', of no length'}"


def _written(arrow: Arrow) -> str:
    return write_lens(arrow.lens.in_minus_cylinder())


def _length(vector: PowerVector) -> float:
    return snapped(math.hypot(vector.j0, vector.j45))


def _reach(first: Arrow, result: Arrow) -> float:
    """The longest distance from the middle, in dioptres."""
    return max(_length(first.vector), _length(result.vector)) or 1.0


@dataclass(frozen=True)
class _Plot:
    """The plane of J0 (to the right) and J45 (up): its middle, and the dioptres that it reaches."""

    x: float
    y: float
    reach: float

    def at(self, j0: float, j45: float) -> tuple[float, float]:
        unit = _RADIUS / self.reach
        return self.x + j0 * unit, self.y - j45 * unit


def _ground(plot: _Plot, column: Column) -> list[Element]:
    """The two lines through the middle with the axes they stand for, and a circle for the scale."""
    far = _RADIUS + _SPILL
    parts = [
        line(plot.x - far, plot.y, plot.x + far, plot.y, "hair"),
        line(plot.x, plot.y - far, plot.x, plot.y + far, "hair"),
        label(plot.x, plot.y - far - 4, "axis 045", "label faint"),
        label(plot.x, plot.y + far + TEXT + 2, "axis 135", "label faint"),
    ]
    level = plot.y + TEXT / 3
    names = ("090", "180") if column is NARROW else ("axis 090", "axis 180")
    for text, x, anchor in zip(names, (-far - 4, far + 4), ("end", "start"), strict=True):
        parts.append(label(plot.x + x, level, text, "label faint", anchor))
    mark = max((m for m in _SCALE_MARKS if m <= plot.reach), default=0.0)
    if mark:
        radius = _RADIUS * mark / plot.reach
        parts.append(element("circle", cx=plot.x, cy=plot.y, r=radius, class_="hair"))
    return parts


def _arrows(plot: _Plot, first: Arrow, second: Arrow, result: Arrow) -> list[Element]:
    middle = (0.0, 0.0)
    turn = (first.vector.j0, first.vector.j45)
    end = (result.vector.j0, result.vector.j45)
    return [
        *_arrow(plot, middle, end, "window"),
        *_arrow(plot, middle, turn, "arc"),
        *(_arrow(plot, turn, end, "arc dashed") if _length(second.vector) else ()),
        element("circle", cx=plot.x, cy=plot.y, r=3, class_="solid"),
    ]


def _arrow(
    plot: _Plot, start: tuple[float, float], end: tuple[float, float], class_: str
) -> list[Element]:
    (x1, y1), (x2, y2) = plot.at(*start), plot.at(*end)
    length = math.hypot(x2 - x1, y2 - y1)
    if length < 1:
        return []
    along = (x2 - x1) / length, (y2 - y1) / length
    head = min(_HEAD, length / 2)
    back = x2 - along[0] * head, y2 - along[1] * head
    half = head / 2
    return [
        line(x1, y1, *back, class_),
        path(
            "solid",
            *("M", x2, y2),
            *("L", back[0] - along[1] * half, back[1] + along[0] * half),
            *("L", back[0] + along[1] * half, back[1] - along[0] * half),
            "Z",
        ),
    ]


def _words(left: float, top: float, *arrows: Arrow) -> list[Element]:
    """Which line is which lens."""
    parts = []
    for row, (arrow, class_) in enumerate(
        zip(arrows, ("arc", "arc dashed", "window"), strict=True)
    ):
        y = top + row * _ROW
        parts.append(line(left, y, left + _SAMPLE, y, class_))
        words = left + _SAMPLE + 8, y + TEXT / 3
        parts.append(named_value(*words, arrow.name, _written(arrow), "start"))
    return parts
