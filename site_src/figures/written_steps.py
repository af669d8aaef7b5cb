"""Rounding to the steps that powers are written in: what was found, and the step it goes to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lensmath.notation import write_exact, write_power
from lensmath.power import snapped

from .ruler import HALF, POINTER, WHOLE, Ruler
from .svg import (
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
    named_value,
)

_BETWEEN = 22.0  # px from one power to the next
_NAMES = 110.0  # px in front of the lines, in the wide drawing


@dataclass(frozen=True)
class Rounding:
    """A power as it was found and as it is written, in dioptres, with its name."""

    name: str
    found: float
    written: float

    @property
    def in_words(self) -> str:
        """What the picture shows of it."""
        written = write_power(self.written)
        if self.nothing_lost:
            return f"{self.name}: {written} D is on a step and stays."
        return f"{self.name}: {write_exact(self.found)} D goes to {written} D."

    @property
    def nothing_lost(self) -> bool:
        """Whether the power was on a step already."""
        return snapped(self.found - self.written) == 0


def written_steps(name: str, step: float, powers: Sequence[Rounding]) -> Figure:
    """A line of steps for each power; the heavy stretch is all that is written as its middle."""

    def draw(column: Column) -> Drawing:
        parts: list[Element] = []
        top = 0.0
        for power in powers:
            bottom, drawn = _row(power, step, column, top)
            parts += drawn
            top = bottom + _BETWEEN
        return top - _BETWEEN + 2, parts

    said = " ".join(power.in_words for power in powers)
    return figure(
        name,
        "Steps that powers are written in",
        f"{said} A step takes in all that lies within {step / 2:g} D of it.",
        draw,
    )


def _row(power: Rounding, step: float, column: Column, top: float) -> Drawing:
    """One power; the name stands above its line, or in front where there is room."""
    narrow = column is NARROW
    left, around = (0.0, 1) if narrow else (_NAMES, 2)
    text_line = top + TEXT + (LINE_HEIGHT if narrow else 0)
    reach = (around + 0.5) * step
    y = text_line + 5 + POINTER
    ruler = Ruler(power.written - reach, power.written + reach, left, column.width, y)
    place = ruler.place(power.found, f"found {write_exact(power.found)}")
    parts = [
        label(0, top + TEXT if narrow else y + TEXT / 3, power.name, "label strong", "start"),
        named_value(place, text_line, "found", write_exact(power.found)),
        ruler.line(*ruler.ends),
        line(ruler.x(power.written - step / 2), y, ruler.x(power.written + step / 2), y, "window"),
        ruler.pointer(power.found, "solid"),
    ]
    for count in range(-around, around + 1):
        at, middle = snapped(power.written + count * step), count == 0
        parts.append(ruler.tick(at, WHOLE if middle else HALF, "ordered" if middle else "hair"))
        ink = "label strong" if middle else "label faint"
        parts.append(label(ruler.x(at), y + WHOLE + TEXT + 1, write_power(at), ink))
    return y + WHOLE + TEXT + 4, parts
