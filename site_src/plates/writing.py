"""Pictures of how powers and axes are written: the eighths of a dioptre, and the axis scale."""

from __future__ import annotations

from lensmath.eye import Eye
from lensmath.notation import write_axis, write_exact, write_power
from lensmath.power import standard_axis
from site_src.figures.dial import Dial
from site_src.figures.ruler import HALF, REST, WHOLE, Ruler
from site_src.figures.svg import (
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
    path,
)

EIGHTHS = tuple(count / 8 for count in range(9))
"""Nought to one dioptre, an eighth at a time."""

_LINE = 48.0  # px from the top to the number line
_EVERY = 30  # degrees between two named directions of the axis scale
_TICKS = 10  # degrees between two ticks


def unsigned(text: str) -> str:
    """A written power without its sign: the picture stands for plus and minus alike."""
    return text.lstrip("+")


def eighth_steps() -> Figure:
    """One dioptre in eighths: quarters below the line, eighths above it, true and as written."""
    odd = EIGHTHS[1::2]
    said = (
        "One dioptre in eighths. Below the line the quarters. Above it the odd eighths, as they "
        "are and, in bold, as they are written: "
        + ", ".join(f"{unsigned(write_exact(x))} is {unsigned(write_power(x))}" for x in odd)
        + "."
    )

    def draw(column: Column) -> Drawing:
        ruler = Ruler(0, 1, 2, column.width - 2, _LINE, 18)
        ends = (0.0, 1.0)
        marks = [(x, WHOLE if x in ends else REST if x in odd else HALF) for x in EIGHTHS]
        parts = [ruler.line(0, 1), ruler.ticks(marks, "ink")]
        for x in odd:
            parts += [
                label(ruler.x(x), 12, unsigned(write_exact(x)), "label faint"),
                label(ruler.x(x), 30, unsigned(write_power(x)), "label strong"),
            ]
        under = _LINE + WHOLE + TEXT + 2
        parts += [label(ruler.x(x), under, unsigned(write_power(x))) for x in EIGHTHS[::2]]
        return under + 6, parts

    return figure("eighth-steps", "The eighths of a dioptre", said, draw)


def axis_scale() -> Figure:
    """The axis scale before each eye, seen facing the wearer: the same for both."""
    said = (
        "Facing the wearer: the scale before the right eye and before the left eye. In both the "
        "axis counts from the right, against the clock, over 90 at the top to 180 at the left. "
        "The nose is between them."
    )

    def draw(column: Column) -> Drawing:
        radius = 42.0 if column is NARROW else 84.0
        y = LINE_HEIGHT * 2 + 12 + radius
        parts: list[Element] = []
        for eye in Eye:
            x = column.width / 2 - eye.inward * column.width / 4
            name = f"{eye.value.capitalize()} eye"
            parts += [label(x, TEXT, name, "label strong"), *_half_dial(Dial(x, y, radius))]
        parts.append(label(column.width / 2, y - 3, "nose", "label faint"))
        return y + LINE_HEIGHT + 6, parts

    return figure("axis-scale", "One axis scale for both eyes", said, draw)


def _half_dial(dial: Dial) -> list[Element]:
    """The upper half circle with its ticks, its numbers and the way that they count."""
    (left, y), (right, _) = dial.at(180, dial.radius), dial.at(0, dial.radius)
    r = dial.radius
    parts = [path("ink", "M", right, y, "A", r, r, 0, 0, 0, left, y, "Z"), *_arrow(dial)]
    ticks: list[str | float] = []
    for turn in range(0, 181, _TICKS):
        long = 9 if turn % 90 == 0 else 5
        ends = (*dial.at(turn, r - long), "L", *dial.at(turn, r))
        ticks += ["M", *(end if isinstance(end, str) else round(end, 1) for end in ends)]
    parts.append(path("hair", *ticks))
    return [*parts, *(_named(dial, turn) for turn in range(_EVERY, 181, _EVERY))]


def _named(dial: Dial, turn: int) -> Element:
    x, y = dial.at(turn, dial.radius + 13)
    if turn == 180:
        x, y = dial.at(180, dial.radius)
        return label(x + 2, y + LINE_HEIGHT, write_axis(180))
    return label(round(x, 1), round(y + TEXT / 3, 1), write_axis(standard_axis(turn)))


def _arrow(dial: Dial) -> list[Element]:
    """An arc inside the scale with a tip at its end, against the clock."""
    r = dial.radius * 0.55
    (x1, y1), (x2, y2) = dial.at(20, r), dial.at(155, r)
    tip = [dial.at(150, r + 4), dial.at(150, r - 4), dial.at(168, r)]
    corners = " L ".join(f"{round(x, 1):g} {round(y, 1):g}" for x, y in tip)
    return [
        path(
            "arc", "M", round(x1, 1), round(y1, 1), "A", r, r, 0, 0, 0, round(x2, 1), round(y2, 1)
        ),
        element("path", d=f"M {corners} Z", class_="solid"),
    ]
