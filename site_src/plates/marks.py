"""Where a progressive lens carries its marks, and where a bifocal is read, to scale.

Lenses are seen facing the wearer, front toward the observer, as they lie with the back on the stop.
Circles on the lens are the opening of the lens stop.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from lensmath.centration import USUAL_INSET, Point
from lensmath.eye import Eye
from lensmath.focimeter import LENS_STOP
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

ENGRAVED_APART = 34.0
"""Between the two engraved marks of a progressive lens, in mm.

Source  bhootra-ophthalmic-lenses
"""

_LENS = 30.0  # mm; radius of the uncut lens in the picture
_MARGIN, _INDENT = 12.0, 50.0  # px above and below the lens, and to the left of it
_SCALE = {"narrow": 3.8, "wide": 4.0}  # px for 1 mm
_DOT, _CROSS = 3.5, 6.0  # px; radius of a dot, half a cross
_NUMBER = 10.0  # px from a mark to its number
_ROW = LINE_HEIGHT + 6


class Marks(NamedTuple):
    """Heights on a progressive lens, in mm from the prism reference point; invented, not a maker's.

    `inset` is how far the near reference point lies toward the nose (Source
    bhootra-ophthalmic-lenses).
    """

    fitting_cross: float = 4.0
    distance: float = 10.0
    near: float = -14.0
    inset: float = USUAL_INSET


class Segment(NamedTuple):
    """A straight-topped segment, in mm from the optical centre; invented."""

    top: float = -5.0
    width: float = 28.0
    depth: float = 19.0
    inset: float = 2.0

    @property
    def middle(self) -> float:
        """The height of the middle of the segment."""
        return self.top - self.depth / 2


MARKS, SEGMENT = Marks(), Segment()


class _Lens:
    """A round lens in a column: where its points lie on the drawing."""

    def __init__(self, column: Column) -> None:
        self.scale = _SCALE[column.name]
        radius = _LENS * self.scale
        self.narrow = column is NARROW
        self.x = column.width / 2 if self.narrow else radius + _INDENT
        self.y = radius + _MARGIN + LINE_HEIGHT

    def at(self, point: Point) -> tuple[float, float]:
        return self.x + point.x * self.scale, self.y - point.y * self.scale

    def circle(self, point: Point, diameter: float, class_: str) -> Element:
        x, y = self.at(point)
        return element("circle", cx=x, cy=y, r=diameter / 2 * self.scale, class_=class_)

    def dot(self, point: Point) -> Element:
        x, y = self.at(point)
        return element("circle", cx=x, cy=y, r=_DOT, class_="solid")

    def cross(self, point: Point) -> list[Element]:
        x, y = self.at(point)
        return [
            line(x - _CROSS, y, x + _CROSS, y, "target"),
            line(x, y - _CROSS, x, y + _CROSS, "target"),
        ]

    def number(self, point: Point, text: str, right: float, down: float = 0.0) -> Element:
        """A number beside a mark; `right` and `down` in px from it."""
        x, y = self.at(point)
        anchor = "start" if right > 0 else "end" if right < 0 else "middle"
        return label(x + right, y + down + TEXT / 3, text, "label strong", anchor)

    def sides(self, eye: Eye) -> list[Element]:
        """The outline, and on which side the nose is."""
        left, right = ("temple", "nose") if eye.inward > 0 else ("nose", "temple")
        edge = _LENS * self.scale
        return [
            self.circle(Point(0, 0), 2 * _LENS, "glass"),
            label(self.x - edge, TEXT, left, "label faint", "start"),
            label(self.x + edge, TEXT, right, "label faint", "end"),
        ]

    def key(self, rows: Sequence[str]) -> tuple[float, list[Element]]:
        """What the numbers stand for, below the lens or beside it, and the height of the whole."""
        bottom = self.y + _LENS * self.scale + _MARGIN
        x, y = 2.0, bottom + LINE_HEIGHT
        if not self.narrow:
            x, y = self.x + _LENS * self.scale + 36, self.y - (len(rows) - 1) / 2 * _ROW
        texts = []
        for number, row in enumerate(rows, 1):
            texts.append(label(x, y, str(number), "label strong", "start"))
            texts.append(label(x + 16, y, row, "label", "start"))
            y += _ROW
        return (y if self.narrow else bottom), texts


def progressive(name: str, eye: Eye = Eye.RIGHT, marks: Marks = MARKS) -> Figure:
    """The marks of a progressive lens, engraved and inked, and what is read at each."""
    half = ENGRAVED_APART / 2
    centre, cross = Point(0, 0), Point(0, marks.fitting_cross)
    far, near = Point(0, marks.distance), Point(marks.inset * eye.inward, marks.near)
    engraved = Point(-half, 0), Point(half, 0)
    addition = Point(-half * eye.inward, -4.0)
    rows = (
        f"engraved marks, {ENGRAVED_APART:g} mm apart",
        "prism reference point: prism",
        "fitting cross: the pupil",
        "distance point: power, axis",
        "near point: the addition",
        "the addition, engraved",
    )

    def draw(column: Column) -> Drawing:
        lens = _Lens(column)
        height, key = lens.key(rows)
        parts = [
            *lens.sides(eye),
            line(*lens.at(Point(-_LENS, 0)), *lens.at(Point(_LENS, 0)), "hair dashed"),
            *(lens.circle(mark, 2.0, "ink") for mark in engraved),
            lens.dot(centre),
            *lens.cross(cross),
            lens.circle(far, LENS_STOP, "arm"),
            lens.circle(near, LENS_STOP, "arm"),
            *(lens.number(mark, "1", 0, -15) for mark in engraved),
            lens.number(centre, "2", _NUMBER, 10),
            lens.number(cross, "3", _NUMBER),
            lens.number(far, "4", LENS_STOP / 2 * lens.scale + 6),
            lens.number(near, "5", LENS_STOP / 2 * lens.scale + 6),
            lens.number(addition, "6", 0, 5),
            *key,
        ]
        return height, parts

    return figure(name, f"Marks of a progressive lens, {eye.value} eye", _marks_said(eye), draw)


def _marks_said(eye: Eye) -> str:
    nose = "right" if eye.inward > 0 else "left"
    return (
        f"A {eye.value} lens seen facing the wearer, the nose to the {nose}. On one level line lie "
        f"two engraved marks, {ENGRAVED_APART:g} mm apart, and half-way between them the prism "
        "reference point. Above it stands the fitting cross, and above that the circle for the "
        "distance power. The circle for near lies below, a little toward the nose. The addition is "
        "engraved below the mark on the temple side. The heights are invented."
    )


def bifocal(name: str, eye: Eye = Eye.RIGHT, segment: Segment = SEGMENT) -> Figure:
    """Where the stop stands on a bifocal with a straight top, for distance and for near."""
    centre, near = Point(0, 0), Point(segment.inset * eye.inward, segment.middle)
    rows = (
        "distance: power, axis, prism",
        "near: middle of the segment",
        "top of the segment",
    )

    def draw(column: Column) -> Drawing:
        lens = _Lens(column)
        height, key = lens.key(rows)
        beside = LENS_STOP / 2 * lens.scale + 6
        corner = Point(near.x + segment.width / 2, segment.top)
        parts = [
            *lens.sides(eye),
            _segment(lens, near.x, segment),
            lens.dot(centre),
            lens.circle(centre, LENS_STOP, "arm"),
            lens.circle(near, LENS_STOP, "arm"),
            lens.number(centre, "1", beside),
            lens.number(near, "2", beside),
            lens.number(corner, "3", 6, -2),
            *key,
        ]
        return height, parts

    nose = "right" if eye.inward > 0 else "left"
    clear = -segment.top - LENS_STOP / 2
    return figure(
        name,
        f"Where to read a bifocal, {eye.value} eye",
        f"A {eye.value} lens seen facing the wearer, the nose to the {nose}, with a segment that "
        f"has a straight top. A circle of {LENS_STOP:g} mm, the lens stop, stands at the optical "
        f"centre, {clear:g} mm clear of the top of the segment. A second one stands in the middle "
        "of the segment.",
        draw,
    )


def _segment(lens: _Lens, middle: float, segment: Segment) -> Element:
    """A straight top and a round lower edge."""
    left, right = middle - segment.width / 2, middle + segment.width / 2
    bottom = segment.top - segment.depth
    start, end = lens.at(Point(left, segment.top)), lens.at(Point(right, segment.top))
    foot = lens.at(Point(middle, bottom))
    corners = lens.at(Point(right, bottom)), lens.at(Point(left, bottom))
    round_edge = ("Q", *corners[0], *foot, "Q", *corners[1], *start)
    return path("ink", "M", *start, "L", *end, *round_edge, "Z")
