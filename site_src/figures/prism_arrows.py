"""Prism as arrows to the base, on the rings of a reticle, seen facing the wearer.

The wearer's right eye is on the viewer's left. Directions are those of `lensmath.prism`: 0 at the
right, counter-clockwise, alike for both eyes; in is where the nose is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from lensmath.eye import Eye
from lensmath.power import rounded_to
from lensmath.prism import NO_PRISM, Prism

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
    path,
)

_HEAD, _HALF_HEAD = 9.0, 4.0  # px; length and half the width of an arrow's head
_MOST_RINGS = 5
_SIDE = 30.0  # px beside the rings, for what stands there
_TOP = 2 * LINE_HEIGHT + 8  # px above the rings


@dataclass(frozen=True)
class View:
    """What stands before one eye: the prism, and the arrows that add up to it, end to end."""

    eye: Eye
    prism: Prism
    parts: tuple[Prism, ...] = ()

    @property
    def farthest(self) -> float:
        """How far from the middle any arrow reaches, in prism dioptres."""
        return max(place.amount for place in (self.prism, *self.ends))

    @property
    def ends(self) -> list[Prism]:
        """Where the parts end, one after the other."""
        ends, here = [], NO_PRISM
        for part in self.parts:
            here += part
            ends.append(here)
        return ends


def by_parts(eye: Eye, prism: Prism) -> View:
    """A prism with its horizontal and its vertical part."""
    return View(eye, prism, (Prism(prism.x, 0.0), Prism(0.0, prism.y)))


def prism_arrows(name: str, title: str, views: Sequence[View], description: str) -> Figure:
    """One ring drawing for each view, side by side: parts dashed, the prism itself solid.

    Views come as they are seen: the right eye first. `description` says what the arrows show; what
    one ring stands for is added to it.
    """
    ring = _ring(max(view.farthest for view in views))
    said = f"{description} One ring is {ring:g}\N{NO-BREAK SPACE}Δ."

    def draw(column: Column) -> Drawing:
        width = column.width / len(views)
        radius = min(78.0 if column is NARROW else 96.0, width / 2 - _SIDE)
        y = _TOP + radius
        parts: list[Element] = []
        for index, view in enumerate(views):
            rings = _Rings((index + 0.5) * width, y, radius, ring, _count(views, ring))
            parts += _view(rings, view, numbered=len(views) == 1)
        return y + radius + LINE_HEIGHT + 8, parts

    return figure(name, title, said, draw)


def _ring(farthest: float) -> float:
    """A round number of prism dioptres a ring, so that a few rings hold the longest arrow."""
    for ten in (0.01, 0.1, 1.0, 10.0, 100.0):
        for times in (1, 2, 5):
            if farthest <= _MOST_RINGS * times * ten:
                return rounded_to(times * ten, 0.01) if farthest else 1.0
    return 1000.0


def _count(views: Sequence[View], ring: float) -> int:
    return max(1, math.ceil(max(view.farthest for view in views) / ring))


@dataclass(frozen=True)
class _Rings:
    """The rings before one eye: their middle and outer radius in px, and what one stands for."""

    x: float
    y: float
    radius: float
    ring: float
    count: int

    def at(self, prism: Prism) -> tuple[float, float]:
        """Where an arrow of this prism ends."""
        unit = self.radius / (self.ring * self.count)
        return self.x + prism.x * unit, self.y - prism.y * unit

    def drawn(self) -> list[Element]:
        steps = [self.radius * (index + 1) / self.count for index in range(self.count)]
        return [
            *(element("circle", cx=self.x, cy=self.y, r=step, class_="hair") for step in steps),
            line(self.x - self.radius, self.y, self.x + self.radius, self.y, "hair"),
            line(self.x, self.y - self.radius, self.x, self.y + self.radius, "hair"),
        ]


def _view(rings: _Rings, view: View, *, numbered: bool) -> list[Element]:
    heading = f"{view.eye.value.capitalize()} eye"
    if numbered:
        heading += ", seen from the front"
    parts = [
        label(rings.x, TEXT, heading, "label strong"),
        *_bases(rings, view.eye, numbered=numbered),
        *rings.drawn(),
    ]
    here = NO_PRISM
    if len([part for part in view.parts if part != NO_PRISM]) > 1:
        for part in view.parts:
            parts += arrow(rings.at(here), rings.at(here + part), "arc dashed")
            here += part
    if view.prism == NO_PRISM:
        return [*parts, element("circle", cx=rings.x, cy=rings.y, r=4, class_="solid")]
    return [*parts, *arrow(rings.at(NO_PRISM), rings.at(view.prism), "arm")]


def _bases(rings: _Rings, eye: Eye, *, numbered: bool) -> list[Element]:
    """Up, down, in and out around the rings, with the full circle where there is room."""
    below = rings.y + rings.radius + TEXT + 2
    right, left = ("in", "out") if eye.inward > 0 else ("out", "in")
    up, down = ("up 90", "down 270") if numbered else ("up", "down")
    texts = [
        label(rings.x, rings.y - rings.radius - 5, up, "label faint"),
        label(rings.x, below, down, "label faint"),
    ]
    for side, anchor, word, degrees in ((1, "start", right, "0"), (-1, "end", left, "180")):
        x = rings.x + side * (rings.radius + 5)
        lines = (word, degrees) if numbered else (word,)
        first = rings.y + TEXT / 3 - (len(lines) - 1) * LINE_HEIGHT / 2
        texts += [
            label(x, first + index * LINE_HEIGHT, text, "label faint", anchor)
            for index, text in enumerate(lines)
        ]
    return texts


def arrow(start: tuple[float, float], end: tuple[float, float], class_: str) -> list[Element]:
    """A line with a head; only the head's tip where there is no room for more."""
    length = math.dist(start, end)
    if length < 1:
        return []
    along = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    head = min(_HEAD, length)
    neck = end[0] - along[0] * head, end[1] - along[1] * head
    wide = along[1] * _HALF_HEAD, -along[0] * _HALF_HEAD
    tip = path(
        "solid", "M", *end, "L", neck[0] + wide[0], neck[1] + wide[1],
        "L", neck[0] - wide[0], neck[1] - wide[1], "Z",
    )  # fmt: skip
    return [line(*start, *neck, class_), tip]
