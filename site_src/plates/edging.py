"""Where the block sits on a lens, and what a turned block does to the axis.

The lens is the invented one of `heights`, in a round blank and seen from its front. The three spots
lie on its 180 line, the middle one at the point that stands before the pupil.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from lensmath.blanks import minimum_blank
from lensmath.centration import Decentration, Point
from lensmath.eye import Eye
from lensmath.notation import write_axis
from lensmath.power import standard_axis
from site_src.figures.svg import (
    LINE_HEIGHT,
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

from .heights import DISTANCE_PD, FRAME, lens_shape, outline_path

HEIGHT = 23.0
"""Height of the pupil above the lowest point of the lens, in mm."""

ALLOWANCE = 2.0
"""What the edger needs of the diameter, in mm; a common figure, not that of your edger."""

SLIP = 10.0
"""How far the picture turns the lens under its block, in degrees: more than in life, to be seen."""

BLOCK = 19.0  # mm; the diameter of the drawn block
SPACING = 15.0  # mm from spot to spot
_SCALE = {"narrow": 1.85, "wide": 3.2}  # px for 1 mm
_DOT, _TICK = 3.0, 5.0  # px


def reference() -> Decentration:
    """Where the middle spot stands in the box: mm in and up from the boxed centre."""
    return FRAME.decentration(DISTANCE_PD, HEIGHT)


def blank() -> float:
    """The smallest blank of the invented lens, in mm."""
    return minimum_blank(lens_shape().effective_diameter, reference(), ALLOWANCE)


def axis_after_slip(ordered: float, slip: float) -> float:
    """The axis that a lens ends up with, from the axis as spotted.

    Units   degrees; `slip` is how far the lens turned counter-clockwise under its block, seen from
            the front.

    >>> axis_after_slip(178, 5)
    3.0
    """
    return standard_axis(ordered + slip)


def block_places() -> Figure:
    """The same lens blocked twice: in the middle of the box, and on the middle spot."""
    where = reference().in_words()
    said = (
        "An invented right lens from its front, in its blank. The middle spot lies "
        f"{where} from the boxed centre, the tick. 1: the block is in the middle of the box. "
        "2: it is on the middle spot. The shape lies on the lens in the same place in both."
    )
    spot = reference().before(Eye.RIGHT)

    def draw(column: Column) -> Drawing:
        views = [_View(column, 0, Point(0, 0)), _View(column, 1, spot)]
        parts = [part for view in views for part in _blocked(view)]
        heads = ("1  boxed centre", "2  middle spot")
        return views[0].bottom + 4, [*parts, *_heads(views, heads)]

    return figure("block-places", "Two places for the block", said, draw)


def block_slip() -> Figure:
    """A lens that is blocked level, and one that has turned under its block."""
    axis = write_axis(axis_after_slip(180, SLIP))
    said = (
        "The lens from its front, blocked on the middle spot. 1: the spots lie level with the "
        f"block, and axis 180 stays 180. 2: the lens has turned {SLIP:g} degrees counter-clockwise "
        f"under the block, drawn larger than life. Cut so, it has its axis at {axis}."
    )

    def draw(column: Column) -> Drawing:
        views = [_View(column, 0, None), _View(column, 1, None, SLIP)]
        parts = [part for view in views for part in _blocked(view)]
        heads = ("1  axis 180", f"2  axis {axis}")
        return views[0].bottom + 4, [*parts, *_heads(views, heads)]

    return figure("block-slip", "A turned block is a turned axis", said, draw)


# The plan: millimetres to pixels ------------------------------------------------------------------


@dataclass(frozen=True)
class _View:
    """One lens of a pair of pictures; `block` is about the boxed centre, None on the middle spot.

    `turned` is how far the lens is turned about its middle spot, in degrees.
    """

    column: Column
    index: int
    block: Point | None
    turned: float = 0.0

    @property
    def scale(self) -> float:
        return _SCALE[self.column.name]

    @property
    def radius(self) -> float:
        """Half of the blank, in px."""
        return self.scale * blank() / 2

    @property
    def middle(self) -> tuple[float, float]:
        """The place of the middle spot, in px."""
        x = self.column.width * (0.25 if self.index == 0 else 0.75)
        return round(x, 1), round(LINE_HEIGHT + 8 + self.radius, 1)

    @property
    def bottom(self) -> float:
        return self.middle[1] + self.radius

    @property
    def held(self) -> Point:
        """The middle of the block, about the boxed centre."""
        return reference().before(Eye.RIGHT) if self.block is None else self.block

    def at(self, x: float, y: float) -> tuple[float, float]:
        """A place about the boxed centre, to a tenth of a pixel."""
        spot = reference().before(Eye.RIGHT)
        left, top = self.middle
        return (
            round(left + self.scale * (x - spot.x), 1),
            round(top - self.scale * (y - spot.y), 1),
        )

    def on_line(self, along: float) -> tuple[float, float]:
        """The same for a place on the 180 line of the lens, so many mm from the middle spot."""
        spot, turn = reference().before(Eye.RIGHT), math.radians(self.turned)
        return self.at(spot.x + along * math.cos(turn), spot.y + along * math.sin(turn))


# What is drawn ------------------------------------------------------------------------------------


def _blocked(view: _View) -> list[Element]:
    x, y = view.at(0, 0)
    tick = [] if view.block is None else [path("ink", "M", x, y - _TICK, "V", y + _TICK)]
    return [
        _circle(view.middle, view.radius, "ink dashed"),
        outline_path(view.at, "arm"),
        _block(view),
        *tick,
        _line_180(view),
        *(_circle(view.on_line(way * SPACING), _DOT, "solid") for way in (-1, 0, 1)),
    ]


def _block(view: _View) -> Element:
    """A round block with its two wings, which the edger holds level."""
    x, y = view.at(*view.held)
    r = round(view.scale * BLOCK / 2, 1)
    wing = round(r * 0.7, 1)
    side = f"a {r} {r} 0 0"
    return element(
        "path",
        class_="glass",
        d=f"M {x - r:g} {y:g} {side} 1 {2 * r:g} 0 {side} 1 {-2 * r:g} 0 Z "
        f"M {x - r:g} {y:g} h {-wing:g} M {x + r:g} {y:g} h {wing:g}",
    )


def _line_180(view: _View) -> Element:
    """The 180 line of the lens, through the spots."""
    (x1, y1), (x2, y2) = (view.on_line(way * blank() / 2) for way in (-1, 1))
    return path("hair dashed", "M", x1, y1, "L", x2, y2)


def _circle(at: tuple[float, float], radius: float, class_: str) -> Element:
    return element("circle", cx=at[0], cy=at[1], r=round(radius, 1), class_=class_)


def _heads(views: Iterable[_View], heads: Iterable[str]) -> list[Element]:
    return [
        label(view.middle[0], TEXT, head, "label strong")
        for view, head in zip(views, heads, strict=True)
    ]
