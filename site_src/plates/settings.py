"""The settings of a lensmeter before the first lens: its eyepiece and its axis wheel."""

from __future__ import annotations

from collections.abc import Sequence

from lensmath.notation import write_axis
from site_src.figures.dial import GAP, Dial
from site_src.figures.eyepiece import RINGS
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

from .eyepiece import wrapped


def error_of_effort(effort: float, magnification: float) -> float:
    """How far toward plus a drum is set by an eye that accommodates more than the reticle asks.

    The effort is below zero for an eye that accommodates less than the reticle asks: one that
    cannot, with the eyepiece too far in. The drum is then set toward minus.

    The eye wants the vergence -A. A telescope multiplies vergence by the square of its
    magnification m, so the light that it takes in has -A / m², and the drum stands A / m² too high.
    Close to that for a real telescope: the separation of its lenses and the eye is left out.

    Units   `effort` in dioptres; the error in dioptres.
    Source  independent-computation

    >>> round(error_of_effort(1, magnification=3), 3)
    0.111
    """
    return effort / magnification**2


def eyepiece_setting(name: str) -> Figure:
    """The reticle while the eyepiece is turned in: blurred, first sharp, and too far."""
    stages = (("out: blurred", 1.0), ("first sharp: stop", 0.0), ("too far: the eye works", 0.0))

    def draw(column: Column) -> Drawing:
        cell = column.width / len(stages)
        radius = cell / 2 - 6 if column is NARROW else 62.0
        parts: list[Element] = []
        foot = 0.0
        for number, (caption, blur) in enumerate(stages):
            x, y = cell * (number + 0.5), LINE_HEIGHT + 4 + radius
            rows = wrapped(caption, cell)
            parts += [
                label(x, TEXT, f"{number + 1}", "label strong"),
                *_reticle(Dial(x, y, radius), blur),
                *(
                    label(x, y + radius + LINE_HEIGHT * (row + 1) + 2, text)
                    for row, text in enumerate(rows)
                ),
            ]
            foot = max(foot, y + radius + LINE_HEIGHT * len(rows) + 8)
        return foot, parts

    says = (
        "The reticle as the eyepiece is turned in. 1: turned out, the rings are blurred. 2: the "
        "rings are sharp for the first time; stop here. 3: further in they stay sharp only as "
        "far as the eye accommodates; where it cannot, they blur."
    )
    return figure(name, "Setting the eyepiece", says, draw)


def _reticle(dial: Dial, blur: float) -> list[Element]:
    washes: Sequence[tuple[str, dict[str, float]]] = (
        [("window", {"stroke_opacity": 0.15}), ("bracket", {"stroke_opacity": 0.25})]
        if blur
        else [("ink", {})]
    )
    return [
        part
        for class_, ink in washes
        for part in (
            *(
                element(
                    "circle",
                    cx=dial.x,
                    cy=dial.y,
                    r=ring * dial.radius / RINGS,
                    class_=class_,
                    **ink,
                )
                for ring in range(1, RINGS + 1)
            ),
            *(
                element(
                    "line",
                    x1=dial.x - dx,
                    y1=dial.y - dy,
                    x2=dial.x + dx,
                    y2=dial.y + dy,
                    class_=class_,
                    **ink,
                )
                for dx, dy in ((dial.radius, 0), (0, dial.radius))
            ),
        )
    ]


def wheel(name: str, axis: float) -> Figure:
    """The half circle of axes as it is seen facing the wearer, with one axis drawn in.

    Units   `axis` in degrees, 1 to 180.
    """

    def draw(column: Column) -> Drawing:
        radius = 80.0 if column is NARROW else 90.0
        dial = Dial(column.width / 2, radius + LINE_HEIGHT + GAP + 4, radius)
        named = dial.outside(axis, (write_axis(axis),))
        names = [dial.outside(at, (f"{at}",)) for at in range(0, 181, 30)]
        ticks = [
            dial.spoke(at, dial.radius - (8 if at % 30 == 0 else 4), dial.radius, "hair")
            for at in range(0, 181, 10)
        ]
        parts = [
            element("circle", cx=dial.x, cy=dial.y, r=dial.radius, class_="hair"),
            *ticks,
            dial.spoke(axis, -dial.radius, dial.radius, "arm"),
            dial.spoke(0, -dial.radius, dial.radius, "hair"),
            _count(dial),
            *(text for box in names if not box.meets(named) for text in box.text("label faint")),
            *named.text("label strong"),
        ]
        return dial.y + dial.radius + 6, parts

    says = (
        "Axes as they are counted facing the wearer: 0 at your right, then against the clock, "
        f"through 90 at the top, to 180 at your left. A line at {write_axis(axis)} is drawn in; "
        "its lower half needs no other number."
    )
    return figure(name, "The axis wheel", says, draw)


def _count(dial: Dial) -> Element:
    """The arrow along which axes are counted."""
    radius = dial.radius * 0.55
    start, end = dial.at(8, radius), dial.at(64, radius)
    barbs = [dial.at(56, radius - 6), dial.at(54, radius + 4)]
    return path(
        "arc",
        "M",
        *start,
        "A",
        radius,
        radius,
        "0 0 0",
        *end,
        *(step for barb in barbs for step in ("M", *end, "L", *barb)),
    )
