"""The rings of the reticle as the eyepiece shows them: the target among them, and the prism.

Seen facing the wearer, as in `lensmath.prism`: x to the right, y up; a ring is one prism dioptre.
"""

from __future__ import annotations

import math

from lensmath.eye import Eye
from lensmath.power import rounded_to
from lensmath.prism import NO_PRISM, Prism

from .dial import GAP, Dial
from .prism_arrows import arrow
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
)

_CROSS = 11.0  # px from the middle of the target to the ends of its lines
_CLEAR, _ROOM = 4.0, 18.0  # px from one ring, and from one numbered ring, to the next
_MIDDLE = 0.275 * TEXT  # px from the middle of a digit down to its baseline
_CORNERS = (45.0, 135.0, 225.0, 315.0)  # degrees; where the numbers of the rings may stand


def prism_rings(name: str, eye: Eye, target: Prism, prism: Prism, rings: int) -> Figure:
    """The target among the rings, and the arrow of the prism from the middle to its base.

    Shape   `target` is where the target stands, in rings; `prism` is that of the lens. They differ
            when a known prism was put in, and the arrow may then reach beyond the rings.
    """

    def draw(column: Column) -> Drawing:
        radius = 90.0 if column is NARROW else 110.0
        dial = Dial(column.width / 2, LINE_HEIGHT + GAP + radius, radius)
        ring = radius / max(rings, prism.amount)
        below = dial.y + radius + GAP + LINE_HEIGHT
        parts = [
            *_sides(dial, eye),
            *_rings(dial, ring, rings, target, _free_corner(target, prism)),
            *arrow(_point(dial, ring, NO_PRISM), _point(dial, ring, prism), "arm"),
            *_target(dial, ring, target),
            named_value(dial.x, below + LINE_HEIGHT + 4, "target", place_in_words(target)),
            named_value(dial.x, below + 2 * LINE_HEIGHT + 4, "prism", _prism_in_words(prism)),
        ]
        return below + 2 * LINE_HEIGHT + 10, parts

    return figure(name, "Target among the rings", rings_in_words(eye, target, prism, rings), draw)


def rings_in_words(eye: Eye, target: Prism, prism: Prism, rings: int) -> str:
    """The sentence that says what the picture shows.

    >>> rings_in_words(Eye.LEFT, Prism(-2, 0), Prism(-2, 0), 5)
    'The nose lies to the left. Of 5 rings, the target stands 2.00 left. The prism is 2.00 Δ ...'
    """
    nose = "right" if eye.inward > 0 else "left"
    return (
        f"The nose lies to the {nose}. Of {rings} ring{'s' if rings > 1 else ''}, the target "
        f"stands {place_in_words(target)}. The prism is {_prism_in_words(prism)}."
    )


def place_in_words(target: Prism) -> str:
    """Where the target stands among the rings: 2.00 right, 1.50 up."""
    ways = ((target.x, "right", "left"), (target.y, "up", "down"))
    said = [
        f"{_hundredths(value)} {more if value > 0 else less}"
        for value, more, less in ways
        if rounded_to(value, 0.01)
    ]
    return ", ".join(said) or "in the middle"


def _prism_in_words(prism: Prism) -> str:
    if prism.base is None:
        return "none"
    base = rounded_to(prism.base, 0.1)
    digits = f"{base:03.0f}" if base == int(base) else f"{base:05.1f}"
    return f"{_hundredths(prism.amount)} Δ base {digits}"


def _hundredths(value: float) -> str:
    return f"{rounded_to(abs(value), 0.01):.2f}"


def _sides(dial: Dial, eye: Eye) -> list[Element]:
    """Which base each side stands for."""
    right, left = ("in", "out") if eye.inward > 0 else ("out", "in")
    names = ((0, right), (90, "up"), (180, left), (270, "down"))
    return [
        text
        for degrees, name in names
        for text in dial.outside(degrees, (name,)).text("label faint")
    ]


def _rings(dial: Dial, ring: float, rings: int, target: Prism, corner: float) -> list[Element]:
    """The rings with their numbers in one corner, and the cross of the reticle."""
    drawn = _every(ring, _CLEAR)
    numbered = _every(ring, _ROOM)
    parts = [dial.spoke(turn, -ring * rings, ring * rings, "hair") for turn in (0, 90)]
    for number in range(1, rings + 1):
        if number % drawn == 0 or number == rings:
            parts.append(element("circle", cx=dial.x, cy=dial.y, r=number * ring, class_="hair"))
        x, y = dial.at(corner, number * ring - _ROOM / 2)
        clear = math.dist((x, y), _point(dial, ring, target)) > 2 * _CROSS
        if number % numbered == 0 and clear:
            parts.append(label(x, y + _MIDDLE, str(number), "label faint"))
    return parts


def _every(ring: float, room: float) -> int:
    return next((step for step in (1, 2, 5, 10) if step * ring >= room), 20)


def _free_corner(*prisms: Prism) -> float:
    """The corner that lies furthest from every arrow."""
    taken = [prism.base for prism in prisms if prism.base is not None]
    return max(
        _CORNERS,
        key=lambda corner: min((_turn(corner, base) for base in taken), default=0.0),
    )


def _turn(one: float, other: float) -> float:
    return abs((one - other + 180) % 360 - 180)


def _point(dial: Dial, ring: float, prism: Prism) -> tuple[float, float]:
    return dial.x + prism.x * ring, dial.y - prism.y * ring


def _target(dial: Dial, ring: float, target: Prism) -> list[Element]:
    """The crossed lines of the target."""
    x, y = _point(dial, ring, target)
    return [
        line(x - _CROSS, y, x + _CROSS, y, "target"),
        line(x, y - _CROSS, x, y + _CROSS, "target"),
    ]
