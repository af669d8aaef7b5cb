"""A lens on the stop of a lensmeter: as it should lie, tilted and turned over, to scale."""

from __future__ import annotations

import math
from typing import NamedTuple

from lensmath.focimeter import LENS_STOP
from lensmath.notation import write_lens
from lensmath.power import LensPower
from lensmath.raytrace import LensForm
from lensmath.surfaces import ThickLens, back_surface, radius_of_curvature
from lensmath.thickness import sagitta
from lensmath.tilt import Tilt
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

LENS = ThickLens(LensPower(9.0), back_surface(LensPower(6.0), LensPower(9.0), 6.0, 1.5), 6.0, 1.5)
"""An invented plus lens of +6.00 D, 6 mm thick, of index 1.5, with a front of +9.00 D."""

HALF = 25.0  # mm from its middle to its edge
TILT = 15.0  # degrees
_RING = 4.0  # mm from the middle of the stop to where a lens rests on it
_MM = 3.0  # px


class _Lying(NamedTuple):
    """A way in which a lens lies on the stop, and what is then read."""

    title: str
    turned_over: bool
    tilt: float
    read: str


def lyings() -> tuple[_Lying, ...]:
    """The right way and two wrong ones, with the reading of `LENS` in each."""
    power = LENS.back_vertex_power
    form = LensForm(LENS.front.sphere, LENS.centre_thickness, LENS.index)
    aslant = form.tilted(power, Tilt(TILT))
    return (
        _Lying("right: back on the stop", False, 0, write_lens(power)),
        _Lying("wrong: tilted", False, TILT, write_lens(aslant)),
        _Lying("wrong: front on the stop", True, 0, write_lens(LENS.front_vertex_power)),
    )


def on_stop(name: str) -> Figure:
    """One lens on the stop as it should lie, tilted, and turned over, with what is read."""
    ways = lyings()

    def draw(column: Column) -> Drawing:
        across = 1 if column is NARROW else len(ways)
        cell, tall = column.width / across, 140.0 if column is NARROW else 122.0
        parts = [
            part
            for number, way in enumerate(ways)
            for part in _lying(way, (number % across + 0.5) * cell, number // across * tall)
        ]
        return tall * (len(ways) // across - 1) + 120, parts

    right, aslant, over = ways
    says = (
        f"A lens in section on the lens stop, light from below. With its back flat on the stop it "
        f"reads {right.read}. Tilted by {TILT:g} degrees it reads {aslant.read}. With its front "
        f"on the stop it reads {over.read}."
    )
    return figure(name, "A lens on the stop", says, draw)


def _lying(way: _Lying, x: float, top: float) -> list[Element]:
    """One panel, its middle at `x`."""
    seat = top + 78.0
    edge, reach = LENS_STOP / 2 * _MM, 5 * _MM
    return [
        label(x, top + TEXT, way.title, "label faint"),
        line(x, top + LINE_HEIGHT + 6, x, seat + 14, "hair dashed"),
        _outline(way, x, seat),
        *(
            path(
                "bracket",
                "M",
                x + side * edge,
                seat + 16,
                "L",
                x + side * edge,
                seat,
                "L",
                x + side * reach,
                seat,
                "L",
                x + side * reach,
                seat + 16,
            )
            for side in (1, -1)
        ),
        label(x, seat + 20 + LINE_HEIGHT, f"reads {way.read}", "label strong"),
    ]


def _outline(way: _Lying, x: float, seat: float) -> Element:
    """The lens in section, its upper side last; turned about its left rest when it is tilted."""
    front, back = (
        abs(radius_of_curvature(side.sphere, LENS.index)) * _MM for side in (LENS.front, LENS.back)
    )
    rise = LENS.centre_thickness
    front_edge = rise - sagitta(LENS.front.sphere, HALF, LENS.index)
    back_edge = sagitta(LENS.back.sphere, HALF, LENS.index)
    turn = math.radians(way.tilt)

    def at(across: float, up: float) -> tuple[float, float]:
        """A place on the lens, in mm from the vertex of its back surface."""
        if way.turned_over:
            up = rise - up
        from_rest = across + _RING
        right = from_rest * math.cos(turn) - up * math.sin(turn) - _RING
        above = from_rest * math.sin(turn) + up * math.cos(turn)
        return x + _MM * right, seat - _MM * above - 1.5

    bow, back_bow = ("1", "0") if not way.turned_over else ("0", "1")
    return path(
        "glass",
        "M",
        *at(-HALF, front_edge),
        "A",
        front,
        front,
        "0 0",
        bow,
        *at(HALF, front_edge),
        "L",
        *at(HALF, back_edge),
        "A",
        back,
        back,
        "0 0",
        back_bow,
        *at(-HALF, back_edge),
        "Z",
    )
