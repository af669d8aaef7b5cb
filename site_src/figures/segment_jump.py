"""The top of a segment, its optical centre below, and the prism that sets in at the top."""

from __future__ import annotations

from lensmath.notation import write_power
from lensmath.power import rounded_to

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
    path,
)

_LENS, _DEPTH = 66.0, 92.0  # px; height of lens above the top of the segment, and of the segment
_TALLEST = 48.0  # px; the longest arrow
_MOST = 5.0  # Δ; the jump that it stands for
_FILLS = 20.0  # mm; a way as long as this reaches the foot of the segment
_ROUND = 8.0  # mm; with a centre as deep as this the segment is drawn round


def segment_jump(name: str, addition: float, top_to_centre: float, jump: float) -> Figure:
    """A segment seen from the front: the way from its top to its centre, and the jump as an arrow.

    Units   `addition` in dioptres, `top_to_centre` in mm, `jump` in prism dioptres, base down.
    """
    way = f"{rounded_to(top_to_centre, 0.1):g} mm"
    said = f"{rounded_to(jump, 0.01):.2f} Δ"
    base = "base down" if rounded_to(jump, 0.01) else "no jump"
    is_round = top_to_centre >= _ROUND
    form = "A round segment" if is_round else "A segment"

    def draw(column: Column) -> Drawing:
        x, half = column.width / 2, 88.0 if column is NARROW else 130.0
        top, side = LINE_HEIGHT + _LENS, 0.7 * half
        bottom = top + _DEPTH
        centre = top + _DEPTH * (0.5 if is_round else top_to_centre / _FILLS)
        first = LINE_HEIGHT + 6
        box = {"x": x - half, "y": first, "width": 2 * half, "height": bottom + 10 - first}
        parts = [
            label(x, TEXT, "distance", "label faint"),
            element("rect", **box, rx=14, class_="hair"),
            *_segment(x, side, top, is_round),
            element("circle", cx=x, cy=centre, r=4, class_="solid"),
            line(x, top, x, centre, "arc dashed"),
            label(x, centre + TEXT + 6, way)
            if is_round
            else label(x + 10, (top + centre) / 2 + TEXT / 3, way, "label", "start"),
            label(x - side, top - 5, "top of the segment", "label faint", "start"),
            label(x, bottom + TEXT + 16, f"{said} {base}", "label strong"),
        ]
        if jump:
            start = x - (0.3 * _DEPTH if is_round else 0.45 * half), top
            length = max(10.0, min(_TALLEST, _TALLEST * jump / _MOST))
            parts += arrow(start, (start[0], top + length), "arm")
        return bottom + TEXT + 22, parts

    description = (
        f"{form} with an addition of {write_power(addition)} D has its optical centre, the dot, "
        f"{way} below its top. At the top the prism jumps by {said}, base down."
        if rounded_to(jump, 0.01)
        else f"{form} with an addition of {write_power(addition)} D has its optical centre "
        f"{way} below its top: no jump."
    )
    return figure(name, "Jump at the top of a segment", description, draw)


def _segment(x: float, side: float, top: float, is_round: bool) -> list[Element]:
    """A circle with the level of its top, or a flat top and a round lower edge; not to scale."""
    if is_round:
        circle = element("circle", cx=x, cy=top + _DEPTH / 2, r=_DEPTH / 2, class_="ink")
        return [circle, line(x - side, top, x + side, top, "hair dashed")]
    bottom = top + _DEPTH
    right = ("L", x + side, top, "Q", x + side, bottom, x, bottom)
    left = ("Q", x - side, bottom, x - side, top)
    return [path("ink", "M", x - side, top, *right, *left, "Z")]
