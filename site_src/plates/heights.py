"""Where a height counts from: one lens in its box, the centre line, the pupil and a segment.

The lens is invented: a shape whose lowest point does not lie below the pupil, which is where a
ruler goes wrong. Its box, its decentrations and its heights are those of `lensmath`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from lensmath.blanks import LensShape
from lensmath.centration import Frame, Point, SegmentLayout, segment_layout, write_length
from lensmath.eye import Eye
from site_src.figures.svg import (
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
    path,
)

FRAME = Frame(a=50, dbl=18, b=38)
"""The invented frame of the picture, in mm."""

DISTANCE_PD, NEAR_PD = 31.0, 29.0
"""Monocular PDs of the invented wearer, in mm."""

FITTING_HEIGHT, SEGMENT_HEIGHT = 22.0, 16.0
"""Heights of the pupil and of the top of a segment above the lowest point, in mm."""

SEGMENT_WIDTH = 28.0  # mm

_ANCHORS = ((-24, 8), (-14, 17), (6, 18), (23, 14), (24, 1), (13, -13), (-7, -20), (-20, -12))
_STEPS = 12  # sampled places from one anchor to the next
_SCALE = {"narrow": 3.5, "wide": 5.0}  # px for 1 mm
_TOP = LINE_HEIGHT + 12.0  # px over the box, for the words there
_CROSS, _BAR = 7.0, 4.0  # px; half a cross, half the end of a measure


class Curve(NamedTuple):
    """One piece of the outline: a cubic with its two control points, in mm."""

    start: Point
    first: Point
    second: Point
    end: Point

    def at(self, share: float) -> Point:
        """The place at a share, 0 to 1, of the way."""
        rest = 1 - share
        weights = (rest**3, 3 * rest**2 * share, 3 * rest * share**2, share**3)
        return Point(
            sum(weight * point.x for weight, point in zip(weights, self, strict=True)),
            sum(weight * point.y for weight, point in zip(weights, self, strict=True)),
        )


def outline(frame: Frame = FRAME) -> tuple[Curve, ...]:
    """The outline of a right lens that fills the box of `frame`, about the boxed centre."""
    curves = _smooth([Point(x, y) for x, y in _ANCHORS])
    corners = _corners(curves)
    left, right = min(at.x for at in corners), max(at.x for at in corners)
    low, high = min(at.y for at in corners), max(at.y for at in corners)
    across, up = frame.a / (right - left), (frame.b or frame.a) / (high - low)

    def boxed(at: Point) -> Point:
        return Point((at.x - (left + right) / 2) * across, (at.y - (low + high) / 2) * up)

    return tuple(Curve(*(boxed(point) for point in curve)) for curve in curves)


def lens_shape(frame: Frame = FRAME) -> LensShape:
    """The same outline as corners."""
    return LensShape(tuple(_corners(outline(frame))), Eye.RIGHT)


def rim_below(x: float, frame: Frame = FRAME) -> float:
    """How high the lower rim stands above the lowest point, straight below `x`, in mm."""
    corners = lens_shape(frame).corners
    heights = [
        one.y + (other.y - one.y) * (x - one.x) / (other.x - one.x)
        for one, other in pairwise((*corners, corners[0]))
        if one.x != other.x and min(one.x, other.x) <= x <= max(one.x, other.x)
    ]
    return min(heights) - min(corner.y for corner in corners)


@dataclass(frozen=True)
class Heights:
    """The heights of the picture, in mm; `from_rim` is what the wrong ruler shows."""

    layout: SegmentLayout
    fitting: float
    segment: float
    from_rim: float

    @property
    def short(self) -> float:
        """How much too little the wrong ruler shows."""
        return self.fitting - self.from_rim


def heights() -> Heights:
    """The heights of the invented lens, right and wrong."""
    layout = segment_layout(FRAME, DISTANCE_PD, NEAR_PD, SEGMENT_HEIGHT)
    pupil = FRAME.decentration(DISTANCE_PD, FITTING_HEIGHT).before(Eye.RIGHT)
    from_rim = FITTING_HEIGHT - rim_below(pupil.x)
    return Heights(layout, FITTING_HEIGHT, SEGMENT_HEIGHT, from_rim)


def fitting_heights() -> Figure:
    """A right lens with both its heights, and the height that is counted wrongly."""

    def draw(column: Column) -> Drawing:
        plan = _Plan(_SCALE[column.name], column is NARROW)
        height, key = _key(plan)
        return height, [*_box(plan), *_lens(plan), *_measures(plan), *key]

    return figure("fitting-heights", "Where a height counts from", _in_words(heights()), draw)


def _in_words(found: Heights) -> str:
    return (
        "An invented right lens, seen facing the wearer, in its box. "
        f"1: from the lowest point of the lens up to the pupil, {write_length(found.fitting)} mm. "
        f"2: up to the top of the segment, {write_length(found.segment)} mm. "
        f"3, dashed, is wrong: from the rim below the pupil, {write_length(found.from_rim)} mm."
    )


# The plan: millimetres to pixels ------------------------------------------------------------------


@dataclass(frozen=True)
class _Plan:
    scale: float
    narrow: bool

    def at(self, x: float, y: float) -> tuple[float, float]:
        """A place about the boxed centre, to a tenth of a pixel."""
        right = 1.0 + self.scale * (x + FRAME.a / 2)
        return round(right, 1), round(_TOP + self.scale * ((FRAME.b or 0) / 2 - y), 1)

    @property
    def right(self) -> float:
        """The right side of the box."""
        return self.at(FRAME.a / 2, 0)[0]

    @property
    def bottom(self) -> float:
        """The bottom of the box."""
        return self.at(0, -(FRAME.b or 0) / 2)[1]


# What is drawn ------------------------------------------------------------------------------------


def _box(plan: _Plan) -> list[Element]:
    (left, middle), (_, top) = plan.at(-FRAME.a / 2, 0), plan.at(0, (FRAME.b or 0) / 2)
    sides = ("M", left, plan.bottom, "L", left, top, "L", plan.right, top, "L")
    beside = plan.right + 78
    return [
        path("hair", *sides, plan.right, plan.bottom),
        line(left, plan.bottom, beside, plan.bottom, "ink"),
        line(left, middle, plan.right, middle, "hair dashed"),
        label(left, TEXT, "Right lens", "label strong", "start"),
        label(plan.right, TEXT, "nose →", "label faint", "end"),
    ]


def _lens(plan: _Plan) -> list[Element]:
    """The outline, the top of the segment and a cross at the pupil."""
    pupil = FRAME.decentration(DISTANCE_PD, FITTING_HEIGHT).before(Eye.RIGHT)
    x, y = plan.at(*pupil)
    middle = heights().layout.segment.before(Eye.RIGHT)
    (left, top), (right, _) = (
        plan.at(middle.x + side * SEGMENT_WIDTH / 2, middle.y) for side in (-1, 1)
    )
    return [
        outline_path(plan.at, "arm"),
        line(left, top, right, top, "arc"),
        path("bracket", "M", x - _CROSS, y, "H", x + _CROSS, "M", x, y - _CROSS, "V", y + _CROSS),
    ]


def outline_path(at: Callable[[float, float], tuple[float, float]], class_: str) -> Element:
    """The outline as one path; `at` puts millimetres into the drawing."""
    curves = outline()
    steps: list[str | float] = ["M", *at(*curves[0].start)]
    for curve in curves:
        steps += ["C", *at(*curve.first), *at(*curve.second), *at(*curve.end)]
    return path(class_, *steps, "Z")


def _measures(plan: _Plan) -> list[Element]:
    """The two right measures beside the box, and the wrong one inside the lens."""
    found = heights()
    pupil = FRAME.decentration(DISTANCE_PD, FITTING_HEIGHT).before(Eye.RIGHT)
    x, y = plan.at(*pupil)
    _, top = plan.at(0, found.layout.segment.up)
    _, rim = plan.at(0, pupil.y - found.from_rim)
    end, _ = plan.at(found.layout.segment.before(Eye.RIGHT).x + SEGMENT_WIDTH / 2, 0)
    first, second = plan.right + 22, plan.right + 62
    return [
        line(x + 12, y, first + _BAR, y, "hair"),
        line(end, top, second + _BAR, top, "hair"),
        _measure(first, plan.bottom, y, "ink"),
        _measure(second, plan.bottom, top, "ink"),
        _measure(x, rim, y, "ink dashed"),
        label(first + 4, (plan.bottom + y) / 2 + 4, "1", "label strong", "start"),
        label(second + 4, (plan.bottom + top) / 2 + 4, "2", "label strong", "start"),
        label(x - 6, (rim + top) / 2 + 4, "3", "label strong", "end"),
    ]


def _measure(x: float, low: float, high: float, class_: str) -> Element:
    ends = ("M", x - _BAR, high, "H", x + _BAR, "M", x - _BAR, low, "H", x + _BAR)
    return path(class_, "M", x, low, "V", high, *ends)


def _key(plan: _Plan) -> tuple[float, list[Element]]:
    """What the numbers and lines stand for: below the lens, or beside it where there is room."""
    found = heights()
    rows = (
        ("1", f"to the pupil, {write_length(found.fitting)} mm"),
        ("2", f"to the segment, {write_length(found.segment)} mm"),
        ("3", f"from the rim, {write_length(found.from_rim)} mm: wrong"),
        ("- -", "centre line (datum)"),
    )
    x, y = (1.0, plan.bottom + 26) if plan.narrow else (plan.right + 100, _TOP + 60)
    parts = []
    for index, (mark, words) in enumerate(rows):
        at = y + index * (LINE_HEIGHT + 4)
        sample = (
            line(x, at - 4, x + 18, at - 4, "hair dashed")
            if mark == "- -"
            else label(x, at, mark, "label strong", "start")
        )
        parts += [sample, label(x + 24, at, words, "label", "start")]
    below = y + len(rows) * (LINE_HEIGHT + 4)
    return max(below, plan.bottom + 8), parts


# The outline --------------------------------------------------------------------------------------


def _smooth(anchors: Sequence[Point]) -> list[Curve]:
    """A closed curve through every anchor: each leaves in the direction between its neighbours."""
    count = len(anchors)
    curves = []
    for index, start in enumerate(anchors):
        before, end, after = (anchors[(index + step) % count] for step in (-1, 1, 2))
        first = Point(start.x + (end.x - before.x) / 6, start.y + (end.y - before.y) / 6)
        second = Point(end.x - (after.x - start.x) / 6, end.y - (after.y - start.y) / 6)
        curves.append(Curve(start, first, second, end))
    return curves


def _corners(curves: Sequence[Curve]) -> list[Point]:
    return [curve.at(step / _STEPS) for curve in curves for step in range(_STEPS)]
