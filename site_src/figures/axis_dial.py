"""The axis dial: an axis as it was read and as it stands before the wearer, on one circle."""

from __future__ import annotations

from lensmath.notation import write_axis
from lensmath.power import axis_difference

from .dial import GAP, Box, Dial
from .svg import LINE_HEIGHT, NARROW, Column, Drawing, Figure, figure

_STUB = 5.0  # px; the marks of an axis reach so far to either side of the circle
_BESIDE = 30.0  # degrees; axes nearer to the vertical have their labels above and below


def axis_dial(name: str, read: float, worn: float) -> Figure:
    """The axis as read, dashed, and the axis as worn, marked at its ends (degrees, 1-180)."""

    def draw(column: Column) -> Drawing:
        dial = Dial(column.width / 2, 122, 60) if column is NARROW else Dial(300, 126, 80)
        boxes = _labels(dial, read, worn)
        parts = [
            *dial.graduation(boxes),
            dial.spoke(worn, -dial.radius, dial.radius, "arm"),
            *(
                dial.spoke(turn, dial.radius - _STUB, dial.radius + _STUB, "axis-mark")
                for turn in (worn, worn + 180)
            ),
            *(text for box in boxes for text in box.text("label strong")),
        ]
        if read != worn:
            parts.append(dial.spoke(read, -dial.radius, dial.radius, "arm dashed"))
        return dial.y + dial.radius + GAP + 2 * LINE_HEIGHT, parts

    return figure(name, "Axis dial", dial_in_words(read, worn), draw)


def dial_in_words(read: float, worn: float) -> str:
    """The sentence that says what the picture shows.

    >>> dial_in_words(60, 120)
    'The axis was read at 060, dashed. Before the wearer it stands at 120, with marks at its ends.'
    """
    if read == worn:
        return f"The axis stands at {write_axis(worn)}, as it was read."
    return (
        f"The axis was read at {write_axis(read)}, dashed. Before the wearer it stands at "
        f"{write_axis(worn)}, with marks at its ends."
    )


def _labels(dial: Dial, read: float, worn: float) -> list[Box]:
    if read == worn:
        return [dial.outside(worn, (write_axis(worn), "as worn"))]
    below = 180 if axis_difference(worn, 90) < _BESIDE else 0
    return [
        dial.outside(read, (write_axis(read), "as read")),
        dial.outside(worn + below, (write_axis(worn), "as worn")),
    ]
