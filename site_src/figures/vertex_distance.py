"""A lens at two distances from the eye, to scale along the line of sight."""

from __future__ import annotations

import math

from .ruler import Ruler
from .svg import TEXT, Column, Drawing, Element, Figure, figure, label, path
from .two_places import FOOT, MARGIN, Graduation, Place, two_places

_BAND = 74.0  # px; the height of a lens
_BULGE = 7.0  # px; how far a lens and the cornea are drawn curved
_ROOM = 2.0  # mm beyond the further lens
_CLASSES = ("arc dashed", "bracket")
_LEAST = 14.0  # mm; the line reaches at least so far


def vertex_distance(
    name: str, found: float, found_lens: str, worn: float, worn_lens: str
) -> Figure:
    """The eye at the left; the lens where it was found, dashed, and where it is worn.

    Units   millimetres from the cornea to the back of the lens.
    """
    reach = math.ceil(max(found, worn, _LEAST)) + _ROOM
    scale = Graduation(0.0, reach, 1.0, 5.0 if reach <= 25 else 10.0)
    above = Place(found, f"found at {found:g} mm", found_lens)
    below = Place(worn, f"worn at {worn:g} mm", worn_lens)

    def draw(column: Column) -> Drawing:
        height, parts = two_places(column.width, scale, above, below, _lens, _BAND, _CLASSES)
        return height, [*parts, *_cornea(column, height)]

    def _cornea(column: Column, height: float) -> list[Element]:
        ruler = Ruler(scale.low, scale.high, 0, column.width, 0, margin=MARGIN)
        x, foot = ruler.x(0), height - FOOT
        return [
            path("ink", "M", x - 10, foot - _BAND, "Q", x + 10, foot - _BAND / 2, x - 10, foot),
            label(x + 8, foot - _BAND / 2 + TEXT / 3, "cornea", "label faint", anchor="start"),
        ]

    return figure(name, "Two vertex distances", _in_words(found, found_lens, worn, worn_lens), draw)


def _in_words(found: float, found_lens: str, worn: float, worn_lens: str) -> str:
    if found == worn:
        return f"{found_lens} at {found:g} mm from the eye, found and worn at one distance."
    way = "further from" if worn > found else "closer to"
    return (
        f"{found_lens} at {found:g} mm from the eye does the same as {worn_lens} at {worn:g} mm, "
        f"{abs(worn - found):g} mm {way} it."
    )


def _lens(ruler: Ruler, value: float, class_: str) -> list[Element]:
    """The back of the lens stands at the value, its hollow side to the eye."""
    x, top, foot = ruler.x(value), ruler.y - _BAND, ruler.y
    bow = path(class_, "M", x - _BULGE, top, "Q", x + _BULGE, (top + foot) / 2, x - _BULGE, foot)
    return [bow]
