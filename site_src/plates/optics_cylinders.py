"""Pictures of cylinders: a lens as an arrow, an axis off by a slip, and the limits for such slips.

In the plane of J0 (to the right) and J45 (up) a lens is an arrow. It is half a cylinder long and
points at twice the axis of the minus form.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from lensmath.notation import write_lens
from lensmath.power import LensPower, snapped
from lensmath.tolerances import find_standard
from site_src.figures.dial import Dial
from site_src.figures.ruler import Ruler
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
    line,
    named_value,
    path,
    text_width,
)
from site_src.tables.optics import AxisBand, axis_bands, slip_leaving

_HEAD = 10.0  # px; the length of an arrow head
_POINTS = 24  # of the curve
_STROKES = ("", "dashed")  # of the first and the second standard

# One lens -----------------------------------------------------------------------------------------


def vector(name: str, lens: LensPower) -> Figure:
    """The arrow of one lens with its two parts, J0 and J45."""
    minus = lens.in_minus_cylinder()
    doubled = 2 * (minus.axis or 0.0)
    _, j0, j45 = minus.power_vector
    half = abs(minus.cylinder) / 2
    words = (
        f"{write_lens(minus)} as an arrow. It is {half:.2f} D long, half the cylinder, and points "
        f"at {doubled % 360:g} degrees, twice the axis. Its part to the right is J0, "
        f"{_fine(j0)} D; its part upward is J45, {_fine(j45)} D."
    )

    def draw(column: Column) -> Drawing:
        dial = Dial(column.width / 2, 118, 84)
        tip = dial.at(doubled, dial.radius)
        corner = (tip[0], dial.y)
        named = {0: "axis 180", 90: "axis 045", 180: "axis 090", 270: "axis 135"}
        parts = [
            element("circle", cx=dial.x, cy=dial.y, r=dial.radius, class_="hair"),
            dial.spoke(0, -dial.radius - 8, dial.radius + 8, "hair"),
            dial.spoke(90, -dial.radius - 8, dial.radius + 8, "hair"),
            line(dial.x, dial.y, *corner, "bracket"),
            line(*corner, *tip, "bracket dashed"),
            *_arrow((dial.x, dial.y), tip, "window"),
        ]
        for degrees, text in named.items():
            shown = text[5:] if column is NARROW and degrees % 180 == 0 else text
            parts += dial.outside(degrees, (shown,)).text("label faint")
        foot = dial.y + dial.radius + 52
        middle = column.width / 2
        parts += [
            named_value(middle, foot, "along", f"J0 = {_fine(j0)} D"),
            named_value(middle, foot + LINE_HEIGHT + 4, "up", f"J45 = {_fine(j45)} D"),
        ]
        return foot + LINE_HEIGHT + 14, parts

    return figure(name, "A lens as an arrow", words, draw)


def _fine(value: float) -> str:
    """A signed amount with one decimal more than powers are written with."""
    return f"{snapped(value):+.3f}".replace("-", "\N{MINUS SIGN}")


def _arrow(start: tuple[float, float], end: tuple[float, float], class_: str) -> list[Element]:
    """An arrow with its head at the end."""
    (x1, y1), (x2, y2) = start, end
    length = math.hypot(x2 - x1, y2 - y1)
    along = (x2 - x1) / length, (y2 - y1) / length
    back = x2 - along[0] * _HEAD, y2 - along[1] * _HEAD
    half = _HEAD / 2
    return [
        line(x1, y1, *back, class_),
        path(
            "solid",
            *("M", x2, y2),
            *("L", back[0] - along[1] * half, back[1] + along[0] * half),
            *("L", back[0] + along[1] * half, back[1] - along[0] * half),
            "Z",
        ),
    ]


# A slip of the axis -------------------------------------------------------------------------------


def axis_slip(name: str, ordered: LensPower, slip: float) -> Figure:
    """The arrows of a lens and of the same lens turned (degrees), and what is left between them."""
    ordered = ordered.in_minus_cylinder()
    made = LensPower(ordered.sphere, ordered.cylinder, ((ordered.axis or 0.0) + slip) % 180)
    left = ordered - made
    half = abs(ordered.cylinder) / 2
    words = (
        f"Two arrows, each {half:.2f} D long: {write_lens(ordered)}, and the same lens {slip:g} "
        f"degrees off, with {2 * slip:g} degrees between them. From the tip of the second to that "
        f"of the first are {abs(left.cylinder) / 2:.3f} D, half of the cylinder left over, "
        f"{write_lens(left)}."
    )

    def draw(column: Column) -> Drawing:
        reach = 172.0 if column is NARROW else 250.0
        dial = Dial(
            8.0 if column is NARROW else 70.0, 26 + reach * math.sin(math.radians(2 * slip)), reach
        )
        first, second = dial.at(0, reach), dial.at(2 * slip, reach)
        arc = dial.at(0, reach / 3), dial.at(2 * slip, reach / 3)
        height = dial.y + LINE_HEIGHT + 14
        return height, [
            *_arrow((dial.x, dial.y), first, "arc"),
            *_arrow((dial.x, dial.y), second, "arc dashed"),
            *_arrow(second, first, "window minus"),
            path("hair", "M", *arc[0], "A", reach / 3, reach / 3, 0, 0, 0, *arc[1]),
            label(arc[0][0] + 8, (arc[0][1] + arc[1][1]) / 2 + TEXT / 3, "2t", anchor="start"),
            label(dial.x + reach / 2, dial.y + TEXT + 6, "ordered"),
            label(second[0] - 6, second[1] - 6, f"{slip:g}° off", anchor="end"),
            label(
                first[0] + 8,
                (first[1] + second[1]) / 2 + TEXT / 3,
                "left over",
                "label strong minus",
                "start",
            ),
        ]

    return figure(name, "An axis that is off", words, draw)


# The limits for it --------------------------------------------------------------------------------


def axis_steps(name: str, keys: Sequence[str], left: float, reach: float = 3.0) -> Figure:
    """The axis limits of two standards as steps, over the slip that leaves one cylinder over.

    Units   `left`, the cylinder left over, and `reach`, the strongest one drawn, in dioptres.
    """
    names = [find_standard(key).designation for key in keys]
    bands = [axis_bands(key) for key in keys]
    samples = ", ".join(
        f"{slip_leaving(at, left):.1f}° at {at:.2f} D" for at in (0.25, 0.5, 1.0, 2.0)
    )
    limits = " ".join(
        f"The limits of {designation} go down beside it in steps: "
        f"{', '.join(f'{band.limit:g}' for band in steps)} degrees."
        for designation, steps in zip(names, bands, strict=True)
    )
    words = f"The slip that leaves {left:.3f} D over falls steeply: {samples}. {limits}"

    def draw(column: Column) -> Drawing:
        ruler = Ruler(0, reach, 30, column.width, 190.0, margin=4.0)
        degree = (ruler.y - 16) / max(band.limit for steps in bands for band in steps)

        def y(degrees: float) -> float:
            return ruler.y - degrees * degree

        legend = [f"leaves {left:.3f} D over", *names]
        return ruler.y + 2 * LINE_HEIGHT + 14, [
            *_grid(ruler, y, reach),
            path("window", *_curve(ruler, y, left, ruler.y / degree, reach)),
            *(
                path(f"arc {class_}", *_staircase(ruler, y, steps, reach))
                for steps, class_ in zip(bands, _STROKES, strict=False)
            ),
            *_legend(column, legend),
        ]

    return figure(name, "The axis limits and the cylinder left over", words, draw)


def _grid(ruler: Ruler, y: Callable[[float], float], reach: float) -> list[Element]:
    whole = range(int(reach) + 1)
    levels = (5, 10, 15)
    middle = (ruler.left + ruler.right) / 2
    return [
        ruler.line(0, reach),
        ruler.ticks(
            ((at / 4, 7.0 if at % 4 == 0 else 4.0) for at in range(int(4 * reach) + 1)), "hair"
        ),
        *(label(ruler.place(at, "0"), ruler.y + TEXT + 8, f"{at}") for at in whole),
        label(middle, ruler.y + 2 * LINE_HEIGHT + 8, "ordered cylinder, dioptres", "label faint"),
        *(line(ruler.x(0), y(at), ruler.right, y(at), "hair") for at in levels),
        *(label(ruler.left - 2, y(at) + TEXT / 3, f"{at}°", "label faint", "end") for at in levels),
    ]


def _curve(
    ruler: Ruler, y: Callable[[float], float], left: float, top: float, reach: float
) -> list[str | float]:
    """The slips from the one that reaches the top of the picture to the strongest cylinder."""
    start = left / (2 * math.sin(math.radians(top)))
    cylinders = [start * (reach / start) ** (step / _POINTS) for step in range(_POINTS + 1)]
    steps: list[str | float] = []
    for cylinder in cylinders:
        steps += ["L" if steps else "M", ruler.x(cylinder), y(slip_leaving(cylinder, left))]
    return steps


def _staircase(
    ruler: Ruler, y: Callable[[float], float], bands: Sequence[AxisBand], reach: float
) -> list[str | float]:
    steps: list[str | float] = ["M", ruler.x(bands[0].lower), y(bands[0].limit)]
    for band in bands:
        steps += ["V", y(band.limit), "H", ruler.x(min(band.upper, reach))]
    return steps


def _legend(column: Column, texts: Sequence[str]) -> list[Element]:
    left = column.width - 36 - max(text_width(text) for text in texts)
    parts = []
    for row, (text, class_) in enumerate(
        zip(texts, ("window", *(f"arc {s}" for s in _STROKES)), strict=False)
    ):
        at = 16.0 + row * 22
        parts += [
            line(left, at, left + 24, at, class_),
            label(left + 32, at + TEXT / 3, text, anchor="start"),
        ]
    return parts
