"""What is measured in the place of the lenses of a pair: distances, heights and a tilt.

The pair is invented, and the tilt of its left segment is drawn larger than any limit. The frame,
the distances and the heights are in mm, seen facing the wearer.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from lensmath.centration import Frame
from lensmath.eye import Eye
from lensmath.job import OrderedLens, Spectacles
from lensmath.power import LensPower, snapped
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
    line,
    path,
)

FRAME = Frame(a=48, dbl=20, b=36)
"""The invented frame of the picture, in mm."""

TILT = 6.0
"""How far the left segment is turned in the picture, in degrees."""

_LENS = LensPower(-2.00)
PAIR = Spectacles(
    OrderedLens(_LENS, prp_distance=31.0, prp_height=21.0, segment_height=14.0),
    OrderedLens(_LENS, prp_distance=32.5, prp_height=21.0, segment_height=17.0),
    near_pd=60.0,
)
"""The lenses of the picture."""

_SEGMENT = 12.0  # mm; half the width
_ABOVE, _BELOW = 10.0, 8.0  # mm from the boxes to the brackets of the distances
_CROSS, _BAR = 3.0, 1.5  # mm; half a cross, half the end of a bracket
_CORNER = 10.0  # mm
_APART = -4.0  # mm from the middle of the bridge to the bracket of the two heights


class _Plan(NamedTuple):
    """From mm about the middle of the bridge at the lowest level, y up, to px."""

    scale: float
    middle: float
    bottom: float

    def at(self, x: float, y: float) -> tuple[float, float]:
        return self.middle + x * self.scale, self.bottom - y * self.scale

    def line(self, x1: float, y1: float, x2: float, y2: float, class_: str) -> Element:
        return line(*self.at(x1, y1), *self.at(x2, y2), class_)


def positions() -> Figure:
    """A pair from the front with its distances, heights and tilt, numbered."""
    description = (
        "An invented pair, seen facing the wearer. 1: the distance between the reference points. "
        "2: that of each eye, from the middle of the bridge. 3: the height of a segment or cross, "
        "from one level for both eyes. 4: the difference of the two heights. 5: the tilt of a "
        "segment, drawn too large. 6: the distance between the segments."
    )

    def draw(column: Column) -> Drawing:
        scale = 2.1 if column is NARROW else 4.0
        depth = FRAME.b or FRAME.a
        top = _ABOVE * scale + LINE_HEIGHT
        plan = _Plan(scale, column.width / 2, top + depth * scale)
        height = plan.bottom + _BELOW * scale + LINE_HEIGHT + 4
        return height, [*_frame(plan), *_points(plan), *_segments(plan), *_measures(plan)]

    return figure("positions", "Where the lenses of a pair are", description, draw)


def centre(eye: Eye) -> float:
    """Where the middle of a segment stands, in mm from the middle of the bridge."""
    return -eye.inward * (PAIR.near_pd or 0.0) / 2


def difference() -> float:
    """The difference of the segment heights, right less left, in mm."""
    heights = [PAIR.of(eye).segment_height or 0.0 for eye in Eye]
    return snapped(heights[0] - heights[1])


def _frame(plan: _Plan) -> list[Element]:
    depth = FRAME.b or FRAME.a
    parts = []
    for left in (-FRAME.dbl / 2 - FRAME.a, FRAME.dbl / 2):
        x, y = plan.at(left, depth)
        size = {"width": FRAME.a * plan.scale, "height": depth * plan.scale}
        corner = _CORNER * plan.scale
        parts.append(element("rect", x=x, y=y, **size, rx=corner, class_="ink"))
    half, reach = FRAME.dbl / 2, FRAME.dbl / 2 + FRAME.a
    parts += [
        path("ink", "M", *plan.at(-half, 24), "Q", *plan.at(0, 31), *plan.at(half, 24)),
        plan.line(0, -2, 0, depth + 3, "hair dashed"),
        plan.line(-reach, 0, reach, 0, "hair"),
    ]
    return parts


def _points(plan: _Plan) -> list[Element]:
    parts = []
    for eye in Eye:
        x, y = _reference(eye)
        parts.append(plan.line(x - _CROSS, y, x + _CROSS, y, "ink"))
        parts.append(plan.line(x, y - _CROSS, x, y + _CROSS, "ink"))
    return parts


def _segments(plan: _Plan) -> list[Element]:
    parts = []
    for eye in Eye:
        x, y = centre(eye), PAIR.of(eye).segment_height or 0.0
        turn = math.radians(TILT if eye is Eye.LEFT else 0.0)
        across, up = _SEGMENT * math.cos(turn), _SEGMENT * math.sin(turn)
        radius = _SEGMENT * plan.scale
        start, end = plan.at(x - across, y + up), plan.at(x + across, y - up)
        parts.append(path("ink", "M", *start, "A", radius, radius, "0 0 0", *end, "Z"))
    x, y = centre(Eye.LEFT), PAIR.left.segment_height or 0.0
    parts.append(plan.line(x - _SEGMENT, y, x + _SEGMENT + 3, y, "hair dashed"))
    parts.append(label(*plan.at(x + _SEGMENT + 6, y - 3), "5", "label strong"))
    return parts


def _measures(plan: _Plan) -> list[Element]:
    depth = FRAME.b or FRAME.a
    (right, level), (left, _) = (_reference(eye) for eye in Eye)
    heights = [PAIR.of(eye).segment_height or 0.0 for eye in Eye]
    near = [centre(eye) for eye in Eye]
    return [
        *_across(plan, right, left, depth + _ABOVE - 2, "1"),
        *_across(plan, right, 0, level + 6, "2"),
        *_up(plan, -FRAME.dbl / 2 - FRAME.a + 5, 0, heights[0], "3"),
        *_up(plan, _APART, heights[0], heights[1], "4", over=True),
        plan.line(near[0] + _SEGMENT, heights[0], _APART + 2, heights[0], "hair dashed"),
        plan.line(_APART - 2, heights[1], near[1] - _SEGMENT, heights[1], "hair dashed"),
        *_across(plan, near[0], near[1], -_BELOW + 3, "6"),
    ]


def _reference(eye: Eye) -> tuple[float, float]:
    lens = PAIR.of(eye)
    return -eye.inward * (lens.prp_distance or 0.0), lens.prp_height or 0.0


def _across(plan: _Plan, left: float, right: float, y: float, name: str) -> list[Element]:
    """A level bracket with its number over it, or under it below the lenses."""
    x, over = plan.at((left + right) / 2, y)
    return [
        plan.line(left, y, right, y, "bracket"),
        plan.line(left, y - _BAR, left, y + _BAR, "bracket"),
        plan.line(right, y - _BAR, right, y + _BAR, "bracket"),
        label(x, over - 5 if y > 0 else over + TEXT + 3, name, "label strong"),
    ]


def _up(
    plan: _Plan, x: float, low: float, high: float, name: str, *, over: bool = False
) -> list[Element]:
    """An upright bracket with its number to the right of it, or over it."""
    at, middle = plan.at(x, (low + high) / 2)
    if over:
        number = label(at, plan.at(x, high)[1] - 4, name, "label strong")
    else:
        number = label(at + 7, middle + TEXT / 3, name, "label strong", "start")
    return [
        plan.line(x, low, x, high, "bracket"),
        plan.line(x - _BAR, low, x + _BAR, low, "bracket"),
        plan.line(x - _BAR, high, x + _BAR, high, "bracket"),
        number,
    ]
