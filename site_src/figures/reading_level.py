"""A pair of lenses with the reading level: the prism of each there, seen facing the wearer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lensmath.eye import Eye
from lensmath.notation import write_power
from lensmath.power import rounded_to
from lensmath.prism import Prism

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
)

_LONGEST = 46.0  # px; the arrow of the larger prism


@dataclass(frozen=True)
class Reading:
    """One lens: its power in the vertical meridian (dioptres), and its prism at the level."""

    eye: Eye
    vertical_power: float
    prism: Prism


def reading_level(name: str, readings: Sequence[Reading], below: float, said: str) -> Figure:
    """Both lenses with their optical centres, the level, and an arrow to each vertical base.

    `said` tells the prisms and their imbalance; where the level is drawn is added to it.
    """
    description = (
        f"{said} The dots are the optical centres, the dashed line is the reading level "
        f"{rounded_to(below, 0.1):g} mm below them."
    )
    strongest = max(abs(reading.prism.y) for reading in readings) or 1.0

    def draw(column: Column) -> Drawing:
        wide = 58.0 if column is NARROW else 96.0
        high = 44.0 if column is NARROW else 56.0
        top = 2 * LINE_HEIGHT + 6
        y = top + high
        level = y + 20 if column is NARROW else y + 26
        parts: list[Element] = []
        for index, reading in enumerate(readings):
            x = column.width * (0.25 + 0.5 * index)
            parts += _lens(x, y, wide, high, reading)
            length = _LONGEST * abs(reading.prism.y) / strongest
            tip = level - length if reading.prism.y > 0 else level + length
            parts += arrow((x, level), (x, tip), "arm")
            parts.append(label(x, level + _LONGEST + TEXT + 6, _amount(reading), "label strong"))
        parts.append(line(0, level, column.width, level, "hair dashed"))
        return level + _LONGEST + TEXT + 12, parts

    return figure(name, "The pair at the reading level", description, draw)


def _lens(x: float, y: float, wide: float, high: float, reading: Reading) -> list[Element]:
    power = f"{write_power(reading.vertical_power)} D @ 090"
    box = {"x": x - wide, "y": y - high, "width": 2 * wide, "height": 2 * high, "rx": 0.7 * high}
    return [
        label(x, TEXT, f"{reading.eye.value.capitalize()} lens", "label strong"),
        label(x, TEXT + LINE_HEIGHT, power, "label faint"),
        element("rect", **box, class_="hair"),
        element("circle", cx=x, cy=y, r=3.5, class_="solid"),
    ]


def _amount(reading: Reading) -> str:
    vertical = reading.prism.vertical
    if vertical.base is None:
        return "none"
    return f"{rounded_to(vertical.amount, 0.01):.2f} Δ {vertical.base.value}"
