"""What is seen in the eyepiece of a manual lensmeter: rings, crossed lines, their blur and place.

The optics are those of `lensmath.target`. A field is round, x to the right and y up, and its unit
is the prism dioptre, the step of the rings. Blur is painted as a few washes of thin ink, one inside
the other, so that it needs no filter. The less of a place the lines cover, the thinner the ink, but
not in proportion: the eye would then lose it on paper.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from lensmath.focimeter import LENS_STOP
from lensmath.notation import write_axis, write_lens, write_power
from lensmath.power import LensPower
from lensmath.prism import NO_PRISM, Prism
from lensmath.readings import Lines
from lensmath.target import SHARP, CrossedLines, LineImage, LineSet, View

from .dial import GAP, Dial
from .prism_rings import place_in_words
from .svg import (
    LINE_HEIGHT,
    NARROW,
    Column,
    Drawing,
    Element,
    Figure,
    element,
    figure,
    label,
    named_value,
)

TARGET = CrossedLines(LineSet(width=0.08, spacing=0.45), LineSet(width=0.2, spacing=1.0))
"""The crossed lines of these pictures, in prism dioptres: wide enough for a small field."""

FIELD = 4.5  # prism dioptres from the middle of a field to its rim
RINGS = 4
STUB = 4.0  # px; the marks of the wheel reach so far to either side of the rim

WASHES = (1.0, 0.7, 0.4)  # shares of the blur, the widest first
THINNEST = 0.16  # the least ink of a blurred line, as a share of full ink
FADING = 0.65  # the power of the covered share that is its ink; 1 would be in proportion
_ENDS = 0.3  # the ink of the drawn-out ends of a sharp line


# The figure ---------------------------------------------------------------------------------------


def view(
    name: str,
    lens: LensPower,
    drum: float,
    wheel: float = 180.0,
    prism: Prism = NO_PRISM,
    stop: float = LENS_STOP,
) -> Figure:
    """One field: the target of crossed lines with this lens and these settings.

    Units   `drum` in dioptres, `wheel` in degrees, `stop` in mm; `prism` is that at the stop.
    Errors  LensError as for `lensmath.target.View`.
    """
    seen = View(lens, drum, wheel, prism, stop)
    return seen_field(name, seen, drum, lens_in_words(lens))


def seen_field(name: str, seen: View, reads: float, on_stop: str, *, told: bool = True) -> Figure:
    """One field, with what the drum reads (D, zero error included) and what is said of the lens.

    Unless `told`, nothing but the picture says how the lines look.
    """

    def draw(column: Column) -> Drawing:
        dial = field_dial(column)
        name_of_wheel = dial.outside(seen.wheel, (write_axis(seen.wheel),))
        foot = dial.y + dial.radius + GAP + LINE_HEIGHT
        lines = target_lines(seen, dial.radius / FIELD)
        parts = [
            *clip(name, column, dial.radius),
            field(dial, f"{name}-{column.name}", lines, seen.wheel),
            *name_of_wheel.text("label faint"),
            named_value(dial.x, foot, "drum", write_power(reads)),
        ]
        if told:
            parts.append(label(dial.x, foot + LINE_HEIGHT, short_state(seen)))
        return foot + LINE_HEIGHT + 6, parts

    words = in_words(seen, reads, on_stop) if told else f"{settings(seen, reads, on_stop)}."
    return figure(name, "In the eyepiece", words, draw)


def field_dial(column: Column) -> Dial:
    """The rim of a field that stands alone."""
    radius = 92.0 if column is NARROW else 115.0
    return Dial(column.width / 2, LINE_HEIGHT + GAP + radius, radius)


# What is said of a field --------------------------------------------------------------------------


def state(seen: View, lines: Lines) -> str:
    """One set of lines in a word: sharp; broken when a narrow blur runs aslant; else blurred."""
    if seen.is_sharp(lines):
        return "sharp"
    shear = next(abs(image.shear) for image in seen.line_images() if image.lines is lines)
    narrow = seen.blur.width < seen.blur.length / 4
    aslant = shear > max(SHARP, seen.blur_across(lines) / 2)
    return "broken" if narrow and aslant else "blurred"


def first_seen(seen: View) -> tuple[str, str]:
    """What strikes the eye first: which lines, and how they look.

    >>> first_seen(View(LensPower(-1, -2, 180), drum=-1, wheel=160))
    ('sphere lines', 'broken')
    """
    looks = {each: state(seen, each) for each in (Lines.SPHERE, Lines.CYLINDER)}
    if len(set(looks.values())) == 1:
        return "both sets", looks[Lines.SPHERE]
    telling = "sharp" if "sharp" in looks.values() else "broken"
    lines = next(each for each, look in looks.items() if look == telling)
    return ("sphere lines" if lines is Lines.SPHERE else "cylinder lines"), telling


def short_state(seen: View) -> str:
    """That in a few words.

    >>> short_state(View(LensPower(-1, -2, 180), drum=-1, wheel=180))
    'sphere lines sharp'
    """
    return " ".join(first_seen(seen))


def in_words(seen: View, reads: float, on_stop: str) -> str:
    """The sentence that says what the picture shows.

    >>> in_words(View(LensPower(-1, -2, 180), drum=-1), -1, "a lens on the stop")
    'The drum at −1.00, the wheel at 180, a lens on the stop: the sphere lines are sharp, the ...'
    """
    looks = f"{lines_in_words(seen)}{place_on_rings(seen.prism)}"
    return f"{settings(seen, reads, on_stop)}: {looks}."


def settings(seen: View, reads: float, on_stop: str) -> str:
    """What drum and wheel show, and what lies on the stop, as the start of a sentence."""
    wheel = write_axis(seen.wheel)
    return f"The drum at {write_power(reads)}, the wheel at {wheel}, {on_stop}"


def lines_in_words(seen: View) -> str:
    """How each set of lines looks, as the end of a sentence."""
    sphere, cylinder = (state(seen, lines) for lines in (Lines.SPHERE, Lines.CYLINDER))
    if sphere == cylinder:
        return f"both sets of lines are {sphere}"
    return f"the sphere lines are {sphere}, the cylinder lines {cylinder}"


def lens_in_words(lens: LensPower) -> str:
    """The lens on the stop; one of no power looks as if there were none."""
    return f"the lens {write_lens(lens)}" if lens != LensPower(0) else "no lens on the stop"


def place_on_rings(prism: Prism) -> str:
    """Where prism moves the target, as the end of a sentence."""
    if prism == NO_PRISM:
        return ""
    return f"; the target stands {place_in_words(prism)} among the rings"


# The field ----------------------------------------------------------------------------------------


def clip(name: str, column: Column, radius: float) -> list[Element]:
    """What cuts off the lines at the rim of a field."""
    circle = element("circle", r=radius)
    return [element("clipPath", circle, id=f"{name}-{column.name}-field")]


def field(dial: Dial, name: str, seen: Sequence[Element], wheel: float | None = None) -> Element:
    """Rings, rim and the marks of the wheel, and what is seen among them."""
    unit = dial.radius / FIELD
    rings = [_circle(number * unit, "hair") for number in range(1, RINGS + 1)]
    origin = Dial(0, 0, dial.radius)
    marks = (
        []
        if wheel is None
        else [
            origin.spoke(turn, dial.radius - STUB, dial.radius + STUB, "axis-mark")
            for turn in (wheel, wheel + 180)
        ]
    )
    return element(
        "g",
        *rings,
        element("g", *seen, clip_path=f"url(#{name}-field)"),
        _circle(dial.radius, "ink"),
        *marks,
        transform=f"translate({round(dial.x, 1):g} {round(dial.y, 1):g})",
    )


def _circle(radius: float, class_: str) -> Element:
    return element("circle", r=round(radius, 1), class_=class_)


def target_lines(seen: View, unit: float) -> list[Element]:
    """Both sets of lines as they are seen; `unit` is the px of a prism dioptre."""
    images = seen.line_images(TARGET)
    return [
        _line_set(seen, lines, drawn, [each for each in images if each.lines is lines], unit)
        for lines, drawn in ((Lines.SPHERE, TARGET.sphere), (Lines.CYLINDER, TARGET.cylinder))
    ]


def _line_set(
    seen: View, lines: Lines, drawn: LineSet, images: Sequence[LineImage], unit: float
) -> Element:
    """One set of lines, in a frame of its own that is turned along them."""
    first = images[0]
    along, across = first.length - drawn.length, first.width - drawn.width
    normal = math.radians(first.direction + 90)
    places = [
        (each.x - seen.prism.x) * math.cos(normal) + (each.y - seen.prism.y) * math.sin(normal)
        for each in images
    ]

    def wash(ink: float, length: float, width: float, shear: float) -> Element:
        return inked(ink, [_streak(unit, place, length, width, shear) for place in places])

    if seen.is_sharp(lines):
        washes = [wash(1, drawn.length, drawn.width, 0)]
        if along > SHARP:
            washes.insert(0, wash(_ENDS, first.length, drawn.width, 0))
    else:
        ink = _ink(drawn, across)
        level = along - abs(first.shear)  # what the blur adds to an edge, beside its slant
        washes = [
            wash(
                ink, drawn.length + share * level, drawn.width + share * across, share * first.shear
            )
            for share in WASHES
        ]
    x, y = (round(unit * value, 1) for value in (seen.prism.x, -seen.prism.y))
    moved = f"translate({x:g} {y:g}) " if (x, y) != (0, 0) else ""
    return element("g", *washes, transform=f"{moved}rotate({-first.direction:g})")


def _streak(unit: float, place: float, length: float, width: float, shear: float) -> str:
    """One wash of one line: its left edge is `shear` further along than its right one."""
    x, y = -(length + shear) / 2, -place + width / 2
    run, slant, rise = px(unit * length), px(unit * shear), px(unit * width)
    return f"M{px(unit * x)} {px(unit * y)}h{run}l{slant} -{rise}h-{run}z"


def _ink(drawn: LineSet, blur: float) -> float:
    """The ink of one wash, from the share of its room that a set of lines covers."""
    wide = drawn.width + blur
    room = min(drawn.lines * wide, (drawn.lines - 1) * drawn.spacing + wide)
    return ink_of_each(WASHES, max(THINNEST, (drawn.lines * drawn.width / room) ** FADING))


def ink_of_each(washes: Sequence[float], ink: float) -> float:
    """The ink of each of these washes where all of them together give `ink`."""
    return float(1 - (1 - ink) ** (1 / len(washes)))


def inked(ink: float, shapes: Sequence[str]) -> Element:
    """Shapes in so much of full ink, 0 to 1."""
    strength = {} if ink == 1 else {"fill_opacity": ink}
    return element("path", d="".join(shapes), class_="solid", **strength)


def px(value: float) -> str:
    """A number in the path of a line, to a tenth of a px."""
    return f"{round(value, 1) + 0:g}"
