"""Pictures of light through lenses: vergence, line foci, the drum's travel, Prentice's rule.

Lengths along the line of sight are drawn to scale; heights are not, where the picture says so.
"""

from __future__ import annotations

from lensmath.centration import Point
from lensmath.decentration import prism_at
from lensmath.focimeter import Blur, blur_on_screen, circle_of_least_confusion, line_foci, travel
from lensmath.notation import write_axis, write_power
from lensmath.power import LensPower, snapped
from lensmath.vertex import compensated_sphere
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
    path,
)

_LENS_BULGE = 7.0  # px; how far the faces of a drawn lens bow
_TICK = 5.0  # px; the half length of the end marks of a dimension

# Vergence -----------------------------------------------------------------------------------------


def through_lens(name: str, lens: float, distance: float) -> Figure:
    """A point at a distance before a lens (mm), and the point to which the lens (D) brings it.

    Errors  ValueError where the light does not meet behind the lens: the picture has no such side.
    """
    arriving = -1000 / distance
    leaving = arriving + lens
    if leaving <= 0:
        raise ValueError("The light must meet behind the lens.")
    image = 1000 / leaving
    words = (
        f"Light spreads from a point {distance:.0f} mm before a lens of {write_power(lens)} D and "
        f"reaches it with {write_power(arriving)} D. It leaves with {write_power(leaving)} D and "
        f"meets {image:.0f} mm behind the lens."
    )

    def draw(column: Column) -> Drawing:
        half = 64.0 if column is NARROW else 72.0
        ruler = Ruler(-distance, image, 0, column.width, half + 28, margin=8.0)
        level, middle = ruler.y, ruler.x(0)
        ends = (ruler.x(-distance), ruler.x(image))
        floor = level + half + 22
        return floor + 2 * LINE_HEIGHT + 6, [
            line(0, level, column.width, level, "hair"),
            *(
                line(end, level, middle, level + side, "ink")
                for end in ends
                for side in (-half, half)
            ),
            _thin_lens(middle, level, half + 4, lens),
            *(element("circle", cx=end, cy=level, r=3.5, class_="solid") for end in ends),
            label(middle, level - half - 12, f"lens {write_power(lens)} D", "label strong plus"),
            *_dimension(ends[0], middle, floor, f"{distance:.0f} mm", f"{write_power(arriving)} D"),
            *_dimension(middle, ends[1], floor, f"{image:.0f} mm", f"{write_power(leaving)} D"),
        ]

    return figure(name, "Vergence before and behind a lens", words, draw)


def _thin_lens(x: float, y: float, half: float, power: float) -> Element:
    """A lens in section: thick in the middle for plus, thin for minus."""
    bulge, edge = (_LENS_BULGE, 0.0) if power > 0 else (-_LENS_BULGE, _LENS_BULGE)
    return path(
        "glass",
        *("M", x - edge, y - half, "L", x + edge, y - half),
        *("Q", x + edge + bulge, y, x + edge, y + half),
        *("L", x - edge, y + half, "Q", x - edge - bulge, y, x - edge, y - half),
        "Z",
    )


def _dimension(left: float, right: float, y: float, *texts: str) -> list[Element]:
    """A measured length with its words below it, the last of them in bold."""
    middle = (left + right) / 2
    return [
        line(left, y, right, y, "ink"),
        *(line(x, y - _TICK, x, y + _TICK, "ink") for x in (left, right)),
        *(
            label(
                middle,
                y + TEXT + 4 + row * LINE_HEIGHT,
                text,
                "label strong" if row == len(texts) - 1 else "label",
            )
            for row, text in enumerate(texts)
        ),
    ]


# The two line foci --------------------------------------------------------------------------------

_PENCIL = 1.2  # px for 1 mm across the pencil
_STRIP = 76.0  # px; the height of one meridian


def astigmatic_pencil(name: str, lens: LensPower, aperture: float) -> Figure:
    """The pencil of a distant point behind a plus lens: both meridians, and the pencil end on.

    Units   `aperture` is the diameter of the pencil at the lens, in mm.
    Errors  ValueError for a lens without two plus meridians: it has no line foci to draw.
    """
    along, across = line_foci(lens)
    if lens.axis is None or min(arm.power for arm in lens.principal_meridians) <= 0:
        raise ValueError("The lens must have a cylinder and plus power in both meridians.")
    circle = circle_of_least_confusion(lens, aperture)
    stops = sorted((along.distance, circle.distance, across.distance))
    words = (
        f"The lens has {_arm(lens, 0)} and {_arm(lens, 1)}. Behind it the light makes a line along "
        f"{write_axis(along.line or 180)} at {along.distance:.0f} mm and a line along "
        f"{write_axis(across.line or 180)} at {across.distance:.0f} mm. Between them, at "
        f"{circle.distance:.0f} mm, it is a circle of {circle.diameter:.1f} mm, where the lens "
        f"lets {aperture:g} mm through."
    )

    def draw(column: Column) -> Drawing:
        ruler = Ruler(0, stops[-1] * 1.08, 0, column.width, 0, margin=12.0)
        parts: list[Element] = []
        for row, meridian in enumerate(lens.principal_meridians):
            top = row * (_STRIP + LINE_HEIGHT)
            text = f"along {write_axis(meridian.direction)}: {write_power(meridian.power)} D"
            parts.append(label(ruler.x(0) + 14, top + TEXT, text, anchor="start"))
            parts += _meridian(ruler, top + LINE_HEIGHT + _STRIP / 2, meridian.power, aperture)
        end_on = 2 * (_STRIP + LINE_HEIGHT) + 8 + aperture * _PENCIL / 2
        foot = end_on + aperture * _PENCIL / 2 + 6
        for distance in stops:
            x = ruler.x(distance)
            for top in (LINE_HEIGHT + 6, 2 * LINE_HEIGHT + _STRIP + 6):
                parts.append(line(x, top, x, top + _STRIP - 6, "hair dashed"))
            parts.append(line(x, foot - aperture * _PENCIL - 6, x, foot, "hair dashed"))
            parts.append(_spot(x, end_on, blur_on_screen(lens, distance, aperture)))
            parts.append(label(x, foot + TEXT, f"{distance:.0f}"))
            drum = 1000 / distance
            shown = _signed(snapped(drum)) if column is NARROW else write_power(drum)
            parts.append(label(x, foot + TEXT + LINE_HEIGHT, shown, "label strong"))
        parts.append(label(0, foot + TEXT, "mm", "label faint", "start"))
        parts.append(label(0, foot + TEXT + LINE_HEIGHT, "drum, D", "label faint", "start"))
        parts.append(label(0, end_on + TEXT / 3, "end on", "label faint", "start"))
        return foot + 2 * LINE_HEIGHT + 6, parts

    return figure(name, "The two line foci of a lens with a cylinder", words, draw)


def _arm(lens: LensPower, which: int) -> str:
    meridian = lens.principal_meridians[which]
    return f"{write_power(meridian.power)} D along {write_axis(meridian.direction)}"


def _meridian(ruler: Ruler, y: float, power: float, aperture: float) -> list[Element]:
    """The pencil in one principal meridian, from the lens through its focus to the end."""
    half = aperture * _PENCIL / 2
    start, end = ruler.x(0), ruler.right
    last = half * (1 - ruler.ends[1] * power / 1000)
    return [
        line(start, y, end, y, "hair"),
        *(line(start, y + side * half, end, y + side * last, "ink") for side in (-1, 1)),
        _thin_lens(start, y, half + 3, power),
    ]


def _spot(x: float, y: float, blur: Blur) -> Element:
    """The pencil end on. Its long side stands level or upright in these pictures."""
    upright = blur.direction is not None and abs(blur.direction - 90) < 45
    width, height = (blur.width, blur.length) if upright else (blur.length, blur.width)
    return element(
        "ellipse",
        cx=x,
        cy=y,
        rx=max(width * _PENCIL / 2, 1.25),
        ry=max(height * _PENCIL / 2, 1.25),
        class_="solid",
    )


# The travel of the drum ---------------------------------------------------------------------------


def target_travel(name: str, first: float, second: float, standard_lens: float) -> Figure:
    """Dioptres of the drum over millimetres of the target, with two readings and what is between.

    Units   readings and the standard lens in dioptres.
    """
    places = {power: travel(standard_lens, power) for power in (first, second)}
    gone = abs(places[second] - places[first])
    words = (
        f"With a standard lens of {write_power(standard_lens)} D the target stands "
        f"{abs(places[first]):.3f} mm from its zero place at {write_power(first)} D and "
        f"{abs(places[second]):.3f} mm from it at {write_power(second)} D. Between the two it has "
        f"gone {gone:.2f} mm, which is {write_power(second - first)} D."
    )
    low, high = min(first, second, 0) - 0.75, max(first, second, 0) + 0.75

    def draw(column: Column) -> Drawing:
        ruler = Ruler(low, high, 0, column.width, 78.0, margin=10.0)
        marks = [step / 4 for step in range(-200, 201) if low <= step / 4 <= high]
        millimetre = standard_lens**2 / 1000  # D
        below = [at for at in range(-100, 101) if low <= at * millimetre <= high]
        return ruler.y + 66, [
            label(0, TEXT, "drum, dioptres", "label faint", "start"),
            label(0, ruler.y + 60, "target, mm from its zero", "label faint", "start"),
            ruler.line(*ruler.ends),
            ruler.ticks(((at, -14.0 if at % 1 == 0 else -8.0) for at in marks), "ink"),
            ruler.ticks(((at * millimetre, 14.0 if at % 5 == 0 else 8.0) for at in below), "hair"),
            *(label(ruler.x(at), ruler.y - 18, _signed(at)) for at in marks if at % 1 == 0),
            *(
                label(ruler.x(at * millimetre), ruler.y + 28, _signed(at), "label faint")
                for at in below
                if at % 5 == 0
            ),
            *_gone(ruler, first, second, f"{write_power(second - first)} D = {gone:.2f} mm"),
        ]

    return figure(name, "Travel of the target", words, draw)


def _signed(value: float) -> str:
    """A number with its sign and no more digits than it has, where there is little room."""
    return "0" if value == 0 else f"{value:+g}".replace("-", "\N{MINUS SIGN}")


def _gone(ruler: Ruler, first: float, second: float, text: str) -> list[Element]:
    """The way between two readings, above the scale, with its words over it."""
    y = ruler.y - 40
    start, end = ruler.x(first), ruler.x(second)
    head = 8.0 if end > start else -8.0
    return [
        *(
            line(x, y - 5, x, ruler.y, "bracket minus" if second < first else "bracket plus")
            for x in (start, end)
        ),
        line(start, y, end, y, "arc"),
        path("solid", "M", end, y, "L", end - head, y - 4, "L", end - head, y + 4, "Z"),
        label((start + end) / 2, y - 8, text, "label strong"),
    ]


# Prentice's rule ----------------------------------------------------------------------------------


def prentice(name: str, power: float, height: float) -> Figure:
    """A level ray through a point above the optical centre (mm) of a plus and of a minus lens.

    The focal length is drawn to scale, the height is not.
    """
    focus = 1000 / power
    prism = prism_at(LensPower(power), Point(0, height)).amount
    words = (
        f"A level ray meets a lens of {write_power(power)} D {height:g} mm above its centre and "
        f"goes to the focus, {focus:.0f} mm behind the lens. It is bent down, toward the centre, "
        f"as by a prism of {prism:.2f} Δ base down. A lens of {write_power(-power)} D bends it up "
        "by as much, as if it came from a focus in front of the lens: base up."
    )

    def draw(column: Column) -> Drawing:
        strip = 118.0
        return 2 * strip + 22, [
            *_bent(column, 0, power, height),
            *_bent(column, strip + 22, -power, height),
        ]

    return figure(name, "A ray through a lens beside its centre", words, draw)


def _bent(column: Column, top: float, power: float, height: float) -> list[Element]:
    """One lens: the ray, its way to or from the focus, and the triangle that it makes."""
    half, rise = 40.0, 26.0
    level = top + LINE_HEIGHT + half + 14
    focus = 1000 / power
    # One scale for both lenses: the focal length on one side, the end of the ray on the other.
    ruler = Ruler(-abs(focus), abs(focus), 0, column.width, level, margin=10.0)
    lens, end, far = ruler.x(0), ruler.x(focus), ruler.right
    y = level - rise
    ink = "plus" if power > 0 else "minus"
    to = level if power > 0 else y - rise * (far - lens) / (lens - end)
    words = "base down, to centre" if power > 0 else "base up, from centre"
    return [
        line(0, level, column.width, level, "hair"),
        _thin_lens(lens, level, half, power),
        line(0, y, lens, y, f"arc {ink}"),
        line(lens, y, end if power > 0 else far, to, f"arc {ink}"),
        *([] if power > 0 else [line(end, level, lens, y, "hair dashed")]),
        element("circle", cx=end, cy=level, r=3.5, class_="solid"),
        label(0, top + TEXT, f"{write_power(power)} D: {words}", f"label strong {ink}", "start"),
        label(
            lens - 12 if power > 0 else lens + 12,
            level - 8,
            f"{height:g} mm",
            "label",
            "end" if power > 0 else "start",
        ),
        label((lens + end) / 2, level + TEXT + 5, f"{abs(focus):.0f} mm"),
        label(end, level + TEXT + 5, "F", "label strong", "middle"),
    ]


# A lens that moves --------------------------------------------------------------------------------


def fixed_focus(name: str, power: float, further: float) -> Figure:
    """A minus lens before and after it moves along the line of sight (mm): its focus stays.

    The distances are to scale.
    """
    moved = compensated_sphere(power, further)
    before, after = 1000 / abs(power), 1000 / abs(moved)
    way = "to" if further < 0 else "away from"
    words = (
        f"A lens of {write_power(power)} D has its focus {before:.1f} mm in front of it. Moved "
        f"{abs(further):g} mm {way} the eye, the lens stands {after:.1f} mm behind that place. For "
        f"its focus to stay there its power must be {write_power(moved)} D."
    )

    def draw(column: Column) -> Drawing:
        ruler = Ruler(0, max(before, after), 0, column.width, 44.0, margin=14.0)
        focus, level, half = ruler.x(0), ruler.y, 40.0
        parts = [
            line(0, level, column.width, level, "hair"),
            element("circle", cx=focus, cy=level, r=3.5, class_="solid"),
            label(0, level - 12, "far point", "label faint", "start"),
        ]
        rows = (("found", before, power), ("moved", after, moved))
        for row, (word, distance, lens) in enumerate(rows):
            x, y = ruler.x(distance), level + half + 24 + row * 44
            parts += [
                line(x, level - half, x, y, "bracket minus" if row else "arc dashed minus"),
                *_dimension(focus, x, y, f"{word}: {distance:.1f} mm, {write_power(lens)} D"),
            ]
        return level + half + 24 + 2 * 44 - 10, parts

    return figure(name, "The far point stays where it is", words, draw)
