"""Lenses in their frame, to scale: boxes, centre line, optical centres, spots, segments, blanks.

Seen facing the wearer, with the front of the lenses toward the observer: the right lens stands on
the observer's left. A lens that lies with its back on the stop of the instrument shows the same
side, so the picture is also that of the lens when it is spotted.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from lensmath.centration import Decentration, Frame, Point, write_length
from lensmath.eye import Eye

from .svg import (
    LABEL_GAP,
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
    text_width,
)

_LARGEST_SCALE = 6.0  # px for 1 mm
_EDGE = 3.0  # px kept free round everything
_CORNERS = 72  # of an outline, enough for a smooth one
_CROSS, _DOT = 6.0, 3.5  # px; half a cross, radius of a spot
_SAMPLE = 26.0  # px; width of a sample in the key
_UNKNOWN_DEPTH = 0.8  # of the width; how high the sides of a box without B are drawn
_HALF_WAY = 0.25  # between an ellipse, 0, and a box, 1/2


@dataclass(frozen=True)
class LaidOut:
    """One lens as it is laid out.

    `reference` is the point that stands before the eye: the optical centre, or the prism reference
    point where `optical_centre` is another. `blank` is a diameter, with its middle there. `segment`
    is the middle of the top of a segment, and its width. `notes` are short lines under the lens.
    """

    eye: Eye
    reference: Decentration
    notes: tuple[str, ...] = ()
    blank: float | None = None
    segment: tuple[Decentration, float] | None = None
    spots: tuple[Point, ...] = ()
    optical_centre: Decentration | None = None


def frame_layout(name: str, frame: Frame, lenses: Sequence[LaidOut]) -> Figure:
    """One lens or both, in the boxes of the frame.

    The outline is one of the many shapes that have this A, B and ED; without B it is left out.
    """
    stand = f"{_title(lenses)}, facing the wearer"

    def draw(column: Column) -> Drawing:
        plan = _Plan.of(frame, lenses, column)
        parts: list[Element] = []
        for lens in lenses:
            parts += _lens(plan, frame, lens)
        if len(lenses) == 2:
            parts.append(_bridge(plan, frame))
        under = _under(plan, lenses)
        height, key = _key(frame, lenses, column, under)
        return height, [*_heads(lenses, column), *parts, *_notes(plan, lenses, column), *key]

    return figure(name, stand, layout_in_words(frame, lenses), draw)


def layout_in_words(frame: Frame, lenses: Sequence[LaidOut]) -> str:
    """The sentences that say what the picture shows.

    >>> print(layout_in_words(Frame(50, 20), [LaidOut(Eye.RIGHT, Decentration(2), blank=58)]))
    To scale, seen facing the wearer, front of the lens toward you. Boxed lens 50 mm wide, bridge \
20 mm. Right lens: optical centre 2 mm in; blank 58 mm across.
    """
    box = f"{write_length(frame.a)} mm wide"
    if frame.b is not None:
        box += f", {write_length(frame.b)} mm deep"
    if frame.effective_diameter is not None:
        box += f", effective diameter {write_length(frame.effective_diameter)} mm"
    said = [
        f"To scale, seen facing the wearer, front of the {_plural('lens', lenses)} toward you.",
        f"Boxed lens {box}, bridge {write_length(frame.dbl)} mm.",
        *(_lens_in_words(lens) for lens in lenses),
    ]
    return " ".join(said)


def outline(frame: Frame) -> tuple[Point, ...]:
    """Corners of a smooth shape with the A, B and ED of the frame, about the boxed centre.

    From an ellipse to the box itself: the shares of the half sizes, to a power, add up to one, and
    the power is such that the longest radius is ED / 2. Without ED it is half-way between the two;
    without B there is none.
    """
    if frame.b is None:
        return ()
    half = frame.a / 2, frame.b / 2
    ed = frame.effective_diameter
    exponent = 1 - 2 * (_HALF_WAY if ed is None else _squareness(*half, ed / 2))
    corners = []
    for step in range(_CORNERS):
        turn = math.tau * step / _CORNERS
        across, up = round(math.cos(turn), 9), round(math.sin(turn), 9)
        corners.append(
            Point(
                math.copysign(half[0] * abs(across) ** exponent, across) if across else 0.0,
                math.copysign(half[1] * abs(up) ** exponent, up) if up else 0.0,
            )
        )
    return tuple(corners)


def _squareness(half_a: float, half_b: float, radius: float) -> float:
    """The t at which (a^(1/t) + b^(1/t))^t is the longest radius: 0 an ellipse, 1/2 the box."""
    longer, shorter = max(half_a, half_b), min(half_a, half_b)
    low, high = 0.0, 0.5
    for _ in range(40):
        middle = (low + high) / 2
        if longer * (1 + (shorter / longer) ** (1 / middle)) ** middle < radius:
            low = middle
        else:
            high = middle
    return high


# The plan: millimetres to pixels ------------------------------------------------------------------


class _Box(NamedTuple):
    """What is drawn of a lens reaches so far, in mm: x to the observer's right, y up."""

    left: float
    right: float
    bottom: float
    top: float


@dataclass(frozen=True)
class _Plan:
    """Where a place of a lens stands in the drawing."""

    scale: float
    x0: float
    y0: float
    bottom: float
    centres: dict[Eye, float]

    @classmethod
    def of(cls, frame: Frame, lenses: Sequence[LaidOut], column: Column) -> _Plan:
        """The largest plan on which everything fits into the column, under a line of text."""
        apart = frame.frame_pd / 2
        centres = (
            {lens.eye: -lens.eye.inward * apart for lens in lenses}
            if len(lenses) == 2
            else {lenses[0].eye: 0.0}
        )
        boxes = [_reach(frame, lens, centres[lens.eye]) for lens in lenses]
        left, right = min(box.left for box in boxes), max(box.right for box in boxes)
        bottom, top = min(box.bottom for box in boxes), max(box.top for box in boxes)
        scale = min(_LARGEST_SCALE, (column.width - 2 * _EDGE) / (right - left))
        return cls(
            scale,
            column.width / 2 - scale * (left + right) / 2,
            LINE_HEIGHT + _EDGE + LABEL_GAP + scale * top,
            LINE_HEIGHT + _EDGE + LABEL_GAP + scale * (top - bottom),
            centres,
        )

    def at(self, eye: Eye, point: Point) -> tuple[float, float]:
        return self.x0 + self.scale * (self.centres[eye] + point.x), self.y0 - self.scale * point.y


def _reach(frame: Frame, lens: LaidOut, centre: float) -> _Box:
    half = frame.a / 2
    depth = (frame.b or frame.a * _UNKNOWN_DEPTH) / 2
    widest = [(Point(0, 0), half, depth), *_circles(frame, lens)]
    widest += [(point, 2.0, 2.0) for point in (*lens.spots, *_centres(lens))]
    return _Box(
        centre + min(at.x - across for at, across, _ in widest),
        centre + max(at.x + across for at, across, _ in widest),
        min(at.y - up for at, _, up in widest),
        max(at.y + up for at, _, up in widest),
    )


def _circles(frame: Frame, lens: LaidOut) -> Iterator[tuple[Point, float, float]]:
    if lens.blank is not None:
        yield lens.reference.before(lens.eye), lens.blank / 2, lens.blank / 2
    if frame.b is None and frame.effective_diameter is not None:
        yield Point(0, 0), frame.effective_diameter / 2, frame.effective_diameter / 2


def _centres(lens: LaidOut) -> Iterator[Point]:
    for place in (lens.reference, lens.optical_centre):
        if place is not None:
            yield place.before(lens.eye)


# What is drawn ------------------------------------------------------------------------------------


def _lens(plan: _Plan, frame: Frame, lens: LaidOut) -> list[Element]:
    """The lens with all that is marked on it; what matters most is drawn last."""
    eye = lens.eye
    parts = _boxed(plan, frame, eye)
    if corners := outline(frame):
        parts.append(_closed(plan, eye, corners, "arm"))
    elif frame.effective_diameter is not None:
        parts.append(_circle(plan, eye, Point(0, 0), frame.effective_diameter, "hair"))
    if lens.blank is not None:
        middle = lens.reference.before(eye)
        parts.append(_circle(plan, eye, middle, lens.blank, "ink dashed"))
    if lens.segment is not None:
        parts.append(_closed(plan, eye, _segment(frame, eye, *lens.segment), "arc"))
    parts += [_dot(*plan.at(eye, spot)) for spot in lens.spots]
    return [*parts, *_marks(plan, lens)]


def _boxed(plan: _Plan, frame: Frame, eye: Eye) -> list[Element]:
    """The box, or its two sides where B is not known, the centre line and the boxed centre."""
    half = frame.a / 2
    depth = (frame.b or frame.a * _UNKNOWN_DEPTH) / 2
    left, top = plan.at(eye, Point(-half, depth))
    right, bottom = plan.at(eye, Point(half, -depth))
    x, y = plan.at(eye, Point(0, 0))
    sides = ("M", left, top, "L", left, bottom, "M", right, top, "L", right, bottom)
    rims = ("M", left, top, "L", right, top, "M", left, bottom, "L", right, bottom)
    return [
        path("hair", *sides, *(rims if frame.b is not None else ())),
        path("hair dashed", "M", left, y, "L", right, y),
        _tick(x, y),
    ]


def _marks(plan: _Plan, lens: LaidOut) -> list[Element]:
    """A cross at the optical centre, unless the middle spot stands there."""
    if lens.optical_centre is not None:
        return [_cross(*plan.at(lens.eye, lens.optical_centre.before(lens.eye)))]
    return [] if lens.spots else [_cross(*plan.at(lens.eye, lens.reference.before(lens.eye)))]


def _tick(x: float, y: float) -> Element:
    return path("hair", "M", x, y - _CROSS, "L", x, y + _CROSS)


def _half_disc(x: float, y: float) -> Element:
    """A segment as it stands in the key."""
    top, r = y - LINE_HEIGHT / 4, LINE_HEIGHT / 2
    return path("arc", "M", x - r, top, "A", r, r, 0, 0, 0, x + r, top, "Z")


def _cross(x: float, y: float) -> Element:
    return path(
        "bracket", "M", x - _CROSS, y, "L", x + _CROSS, y, "M", x, y - _CROSS, "L", x, y + _CROSS
    )


def _dot(x: float, y: float) -> Element:
    return element("circle", cx=x, cy=y, r=_DOT, class_="solid")


def _closed(plan: _Plan, eye: Eye, corners: Sequence[Point], class_: str) -> Element:
    steps: list[str | float] = []
    for corner in corners:
        steps += ["L" if steps else "M", *plan.at(eye, corner)]
    return path(class_, *steps, "Z")


def _circle(plan: _Plan, eye: Eye, at: Point, diameter: float, class_: str) -> Element:
    x, y = plan.at(eye, at)
    return element("circle", cx=x, cy=y, r=plan.scale * diameter / 2, class_=class_)


def _segment(frame: Frame, eye: Eye, top: Decentration, width: float) -> list[Point]:
    """A flat top: a level edge and half a circle below it, no lower than the lens."""
    x, y = top.before(eye)
    lowest = -(frame.b or math.inf) / 2
    turns = (math.pi * step / 36 for step in range(37))
    return [
        Point(x + width / 2 * math.cos(turn), max(y - width / 2 * math.sin(turn), lowest))
        for turn in turns
    ]


def _bridge(plan: _Plan, frame: Frame) -> Element:
    """A line from box to box, so that the two read as one frame."""
    up = 0.1 * frame.a
    x1, y1 = plan.at(Eye.RIGHT, Point(frame.a / 2, up))
    x2, _ = plan.at(Eye.LEFT, Point(-frame.a / 2, up))
    return path("hair", "M", x1, y1, "Q", (x1 + x2) / 2, y1 - 0.6 * plan.scale * frame.dbl, x2, y1)


# What is written ----------------------------------------------------------------------------------


def _title(lenses: Sequence[LaidOut]) -> str:
    return "Both lenses in the frame" if len(lenses) == 2 else f"The {lenses[0].eye.value} lens"


def _plural(noun: str, lenses: Sequence[LaidOut]) -> str:
    return f"{noun}es" if len(lenses) == 2 else noun


def _reference_name(lens: LaidOut) -> str:
    return "optical centre" if lens.optical_centre is None else "prism reference point"


def _lens_in_words(lens: LaidOut) -> str:
    said = [f"{_reference_name(lens)} {_where(lens.reference)}"]
    if lens.optical_centre is not None:
        said.append(f"optical centre {_where(lens.optical_centre)}")
    if lens.spots:
        apart = write_length(lens.spots[1].x - lens.spots[0].x)
        said.append(f"three spots in a level line, {apart} mm apart, the middle one there")
    if lens.segment is not None:
        top, width = lens.segment
        said.append(f"segment {write_length(width)} mm wide, the middle of its top {_where(top)}")
    if lens.blank is not None:
        said.append(f"blank {write_length(lens.blank)} mm across")
    return f"{lens.eye.value.capitalize()} lens: {'; '.join(said)}."


def _where(place: Decentration) -> str:
    words = place.in_words()
    return "at the boxed centre" if words == "no decentration" else words


def _heads(lenses: Sequence[LaidOut], column: Column) -> list[Element]:
    """Which lens it is; of a lens alone, also where the nose lies."""
    if len(lenses) == 2:
        return [
            label(
                _middle(lens, column), TEXT, f"{lens.eye.value.capitalize()} lens", "label strong"
            )
            for lens in lenses
        ]
    (lens,) = lenses
    name = f"{lens.eye.value.capitalize()} lens"
    sides = [(0.0, name, "label strong", "start"), (column.width, "nose →", "label faint", "end")]
    if lens.eye is Eye.LEFT:
        sides = [
            (column.width, name, "label strong", "end"),
            (0.0, "← nose", "label faint", "start"),
        ]
    return [label(x, TEXT, text, class_, anchor) for x, text, class_, anchor in sides]


def _middle(lens: LaidOut, column: Column) -> float:
    """The middle of the half of the column in which a lens stands; alone, of the whole column."""
    return column.width / 2 - lens.eye.inward * column.width / 4


def _notes(plan: _Plan, lenses: Sequence[LaidOut], column: Column) -> list[Element]:
    written = []
    for lens in lenses:
        x = _middle(lens, column) if len(lenses) == 2 else column.width / 2
        for index, note in enumerate(lens.notes):
            y = plan.bottom + LABEL_GAP + TEXT + index * LINE_HEIGHT
            written.append(label(x, y, note, "label strong"))
    return written


def _under(plan: _Plan, lenses: Sequence[LaidOut]) -> float:
    """Where the key begins: below the notes."""
    rows = max(len(lens.notes) for lens in lenses)
    return plan.bottom + LABEL_GAP + rows * LINE_HEIGHT + LABEL_GAP


def _key(
    frame: Frame, lenses: Sequence[LaidOut], column: Column, top: float
) -> tuple[float, list[Element]]:
    """What each kind of line stands for, in one column or in as many as fit; the height too."""
    entries = list(_key_entries(frame, lenses))
    room = max(_SAMPLE + text_width(words) for words, _ in entries) + 2 * LABEL_GAP
    columns = 1 if column is NARROW else max(1, int(column.width // room))
    parts: list[Element] = []
    for index, (words, sample) in enumerate(entries):
        x = (index % columns) * room
        y = top + (index // columns) * LINE_HEIGHT + LINE_HEIGHT / 2
        parts += [sample(x, y), label(x + _SAMPLE + LABEL_GAP, y + TEXT / 3, words, "", "start")]
    rows = math.ceil(len(entries) / columns)
    return top + rows * LINE_HEIGHT + _EDGE, parts


def _key_entries(
    frame: Frame, lenses: Sequence[LaidOut]
) -> Iterator[tuple[str, Callable[[float, float], Element]]]:
    def stroke(class_: str) -> Callable[[float, float], Element]:
        return lambda x, y: line(x, y, x + _SAMPLE, y, class_)

    first = lenses[0]
    yield "the box: A and B" if frame.b is not None else "the sides of the box: A", stroke("hair")
    yield "centre line (datum)", stroke("hair dashed")
    yield "boxed centre", lambda x, y: _tick(x + _SAMPLE / 2, y)
    if frame.b is not None:
        known = frame.effective_diameter is not None
        yield "a shape of that ED" if known else "a shape in the box", stroke("arm")
    elif frame.effective_diameter is not None:
        yield "circle of the ED", stroke("hair")
    if any(lens.blank is not None for lens in lenses):
        yield "edge of the blank", stroke("ink dashed")
    if first.spots:
        yield "spots", lambda x, y: _dot(x + _SAMPLE / 2, y)
    if not first.spots or first.optical_centre is not None:
        yield "optical centre", lambda x, y: _cross(x + _SAMPLE / 2, y)
    if first.segment is not None:
        yield "segment", lambda x, y: _half_disc(x + _SAMPLE / 2, y)
