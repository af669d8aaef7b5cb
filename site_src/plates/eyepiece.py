"""What is seen in the eyepiece of a manual lensmeter: rings, lines, their blur and their place.

The optics are those of `lensmath.target`. A field is round, x to the right and y up, and its unit
is the prism dioptre, the step of the rings. Blur is painted as a few washes of thin ink, one inside
the other, so that it needs no filter. The less of a place the lines cover, the thinner the ink, but
not in proportion: the eye would then lose it on paper.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, NamedTuple

from lensmath.focimeter import LENS_STOP
from lensmath.notation import write_axis, write_lens, write_power
from lensmath.power import LensPower
from lensmath.prism import NO_PRISM, Prism
from lensmath.readings import Lines
from lensmath.target import SHARP, CrossedLines, DotRing, LineImage, LineSet, View
from site_src.figures.dial import GAP, Dial
from site_src.figures.prism_rings import place_in_words
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
    named_value,
    text_width,
)

TARGET = CrossedLines(LineSet(width=0.08, spacing=0.45), LineSet(width=0.2, spacing=1.0))
"""The crossed lines of these pictures, in prism dioptres: wide enough for a small field."""

DOTS = DotRing(radius=2.5, diameter=0.2, dots=18)
"""The ring of dots of these pictures, in prism dioptres."""

FIELD = 4.5  # prism dioptres from the middle of a field to its rim
RINGS = 4

_WASHES = (1.0, 0.7, 0.4)  # shares of the blur, the widest first
_THINNEST = 0.16  # the least ink of a blurred line, as a share of full ink
_FADING = 0.65  # the power of the covered share that is its ink; 1 would be in proportion
_ENDS = 0.3  # the ink of the drawn-out ends of a sharp line
_STUB = 4.0  # px; the marks of the wheel reach so far to either side of the rim


class Setting(NamedTuple):
    """One step of a procedure: where drum (D) and wheel (degrees) stand, and what is said of it.

    `prism` is that at the stop; `lens` takes the place of the lens of all steps, for another part
    of a multifocal.
    """

    drum: float
    wheel: float
    note: str = ""
    prism: Prism = NO_PRISM
    lens: LensPower | None = None


# The figures --------------------------------------------------------------------------------------


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

    def draw(column: Column) -> Drawing:
        dial = _dial(column)
        name_of_wheel = dial.outside(wheel, (write_axis(wheel),))
        foot = dial.y + dial.radius + GAP + LINE_HEIGHT
        parts = [
            *_clip(name, column, dial.radius),
            _field(dial, f"{name}-{column.name}", _lines(seen, dial.radius / FIELD), wheel),
            *name_of_wheel.text("label faint"),
            named_value(dial.x, foot, "drum", write_power(drum)),
            label(dial.x, foot + LINE_HEIGHT, short_state(seen)),
        ]
        return foot + LINE_HEIGHT + 6, parts

    return figure(name, "In the eyepiece", in_words(seen), draw)


def corona(name: str, lens: LensPower, drum: float, prism: Prism = NO_PRISM) -> Figure:
    """One field of an instrument with a ring of dots, which no wheel turns.

    Units   `drum` in dioptres; `prism` is that at the stop.
    Errors  LensError as for `lensmath.target.View`.
    """
    seen = View(lens, drum, prism=prism)

    def draw(column: Column) -> Drawing:
        dial = _dial(column)
        told = wrapped(_state_of_dots(seen), column.width)
        foot = dial.y + dial.radius + GAP + LINE_HEIGHT
        parts = [
            *_clip(name, column, dial.radius),
            _field(dial, f"{name}-{column.name}", _dots(seen, dial.radius / FIELD)),
            named_value(dial.x, foot, "drum", write_power(drum)),
            *_rows(dial.x, foot + LINE_HEIGHT, told),
        ]
        return foot + LINE_HEIGHT * len(told) + 6, parts

    says = (
        f"A ring of dots in the eyepiece, the drum at {write_power(drum)}, {_lens(lens)}: "
        f"{_state_of_dots(seen)}{_place(prism)}."
    )
    return figure(name, "In the eyepiece", says, draw)


def steps(name: str, title: str, lens: LensPower, settings: Sequence[Sequence[Any]]) -> Figure:
    """Two to four fields side by side, numbered, with drum, wheel and a note below each.

    Shape   `settings` are drum, wheel and perhaps a note and more, each as `Setting`. Without a
            note the picture says what is sharp. In the narrow column two stand side by side.
    Errors  LensError as for `lensmath.target.View`.
    """
    told = [Setting(*setting) for setting in settings]
    views = [View(each.lens or lens, each.drum, each.wheel, each.prism) for each in told]

    def draw(column: Column) -> Drawing:
        across = 2 if column is NARROW else len(told)
        cell = column.width / across
        radius = 58.0 if column is NARROW else min(80.0, cell / 2 - 9)
        parts, top, foot = _clip(name, column, radius), 0.0, 0.0
        for number, (each, seen) in enumerate(zip(told, views, strict=True)):
            if number % across == 0:
                top, foot = foot + (GAP if number else 0), 0.0
            short = across - min(across, len(told) - number // across * across)  # in this row
            x = cell * (number % across + 0.5 + short / 2)
            dial = Dial(x, top + radius + 2 * _STUB, radius)
            lines = _lines(seen, radius / FIELD)
            parts.append(_field(dial, f"{name}-{column.name}", lines, each.wheel))
            parts.append(
                label(dial.x - cell / 2 + 2, top + TEXT, f"{number + 1}", "label strong", "start")
            )
            ends, caption = _caption(dial, cell, each, seen)
            parts += caption
            foot = max(foot, ends)
        return foot + 6, parts

    says = " ".join(
        f"{number}: drum {write_power(each.drum)}, wheel {write_axis(each.wheel)}"
        f"{_noted(each, seen)}{_place(each.prism)}."
        for number, (each, seen) in enumerate(zip(told, views, strict=True), start=1)
    )
    return figure(name, title, f"{title}; {_lens(lens)}. {says}", draw)


def _noted(each: Setting, seen: View) -> str:
    """The note of a step, and what is sharp unless the note says it already."""
    if not each.note:
        return f": {short_state(seen)}"
    told = any(word in each.note for word in ("sharp", "blur", "break", "broken"))
    return f", {each.note}" if told else f", {each.note}: {short_state(seen)}"


def _dial(column: Column) -> Dial:
    radius = 92.0 if column is NARROW else 115.0
    return Dial(column.width / 2, LINE_HEIGHT + GAP + radius, radius)


def _caption(dial: Dial, cell: float, each: Setting, seen: View) -> tuple[float, list[Element]]:
    """The lines below a field, and the baseline of the last of them."""
    foot = dial.y + dial.radius + _STUB + LINE_HEIGHT + 2
    note = wrapped(each.note or short_state(seen), cell)
    return foot + LINE_HEIGHT * (1 + len(note)), [
        named_value(dial.x, foot, "drum", write_power(each.drum)),
        named_value(dial.x, foot + LINE_HEIGHT, "wheel", write_axis(each.wheel)),
        *_rows(dial.x, foot + 2 * LINE_HEIGHT, note),
    ]


def _rows(x: float, y: float, texts: Sequence[str]) -> list[Element]:
    return [label(x, y + LINE_HEIGHT * row, text) for row, text in enumerate(texts)]


def wrapped(text: str, width: float) -> list[str]:
    """The text in lines that have room in `width` px."""
    rows = [""]
    for word in text.split():
        longer = f"{rows[-1]} {word}".strip()
        if rows[-1] and text_width(longer) > width:
            rows.append(word)
        else:
            rows[-1] = longer
    return rows


# What is said of a field --------------------------------------------------------------------------


def state(seen: View, lines: Lines) -> str:
    """One set of lines in a word: sharp; broken when a narrow blur runs aslant; else blurred."""
    if seen.is_sharp(lines):
        return "sharp"
    shear = next(abs(image.shear) for image in seen.line_images() if image.lines is lines)
    narrow = seen.blur.width < seen.blur.length / 4
    aslant = shear > max(SHARP, seen.blur_across(lines) / 2)
    return "broken" if narrow and aslant else "blurred"


def short_state(seen: View) -> str:
    """Both sets in a few words.

    >>> short_state(View(LensPower(-1, -2, 180), drum=-1, wheel=180))
    'sphere lines sharp'
    >>> short_state(View(LensPower(-1, -2, 180), drum=-1, wheel=160))
    'sphere lines broken'
    """
    sphere, cylinder = (state(seen, lines) for lines in (Lines.SPHERE, Lines.CYLINDER))
    if sphere == cylinder:
        return f"both sets {sphere}"
    if "sharp" in (sphere, cylinder):
        return "sphere lines sharp" if sphere == "sharp" else "cylinder lines sharp"
    return "sphere lines broken" if sphere == "broken" else "cylinder lines broken"


def in_words(seen: View) -> str:
    """The sentence that says what the picture shows.

    >>> in_words(View(LensPower(-1, -2, 180), drum=-1))
    'The drum at −1.00, the wheel at 180, the lens ...: the sphere lines are sharp, the ...'
    """
    sphere, cylinder = (state(seen, lines) for lines in (Lines.SPHERE, Lines.CYLINDER))
    lines = (
        f"both sets of lines are {sphere}"
        if sphere == cylinder
        else f"the sphere lines are {sphere}, the cylinder lines {cylinder}"
    )
    return (
        f"The drum at {write_power(seen.drum)}, the wheel at {write_axis(seen.wheel)}, "
        f"{_lens(seen.lens)}: {lines}{_place(seen.prism)}."
    )


def _lens(lens: LensPower) -> str:
    """The lens on the stop; one of no power looks as if there were none."""
    return f"the lens {write_lens(lens)}" if lens != LensPower(0) else "no lens on the stop"


def _place(prism: Prism) -> str:
    if prism == NO_PRISM:
        return ""
    return f"; the target stands {place_in_words(prism)} among the rings"


def _state_of_dots(seen: View) -> str:
    length, width, direction = seen.blur
    if length <= SHARP:
        return "dots sharp"
    if direction is None:
        return "dots blurred and round"
    form = "lines" if width <= SHARP else "ovals"
    return f"dots drawn out to {form} along {write_axis(direction)}"


# The field ----------------------------------------------------------------------------------------


def _clip(name: str, column: Column, radius: float) -> list[Element]:
    circle = element("circle", r=radius)
    return [element("clipPath", circle, id=f"{name}-{column.name}-field")]


def _field(dial: Dial, name: str, seen: Sequence[Element], wheel: float | None = None) -> Element:
    """Rings, rim and the marks of the wheel, and what is seen among them."""
    unit = dial.radius / FIELD
    rings = [_circle(number * unit, "hair") for number in range(1, RINGS + 1)]
    origin = Dial(0, 0, dial.radius)
    marks = (
        []
        if wheel is None
        else [
            origin.spoke(turn, dial.radius - _STUB, dial.radius + _STUB, "axis-mark")
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


def _lines(seen: View, unit: float) -> list[Element]:
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
        return _wash(ink, [_streak(unit, place, length, width, shear) for place in places])

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
            for share in _WASHES
        ]
    x, y = (round(unit * value, 1) for value in (seen.prism.x, -seen.prism.y))
    moved = f"translate({x:g} {y:g}) " if (x, y) != (0, 0) else ""
    return element("g", *washes, transform=f"{moved}rotate({-first.direction:g})")


def _streak(unit: float, place: float, length: float, width: float, shear: float) -> str:
    """One wash of one line: its left edge is `shear` further along than its right one."""
    x, y = -(length + shear) / 2, -place + width / 2
    run, slant, rise = _px(unit * length), _px(unit * shear), _px(unit * width)
    return f"M{_px(unit * x)} {_px(unit * y)}h{run}l{slant} -{rise}h-{run}z"


def _ink(drawn: LineSet, blur: float) -> float:
    """The ink of one wash, from the share of its room that a set of lines covers."""
    wide = drawn.width + blur
    room = min(drawn.lines * wide, (drawn.lines - 1) * drawn.spacing + wide)
    return _one_of(_WASHES, max(_THINNEST, (drawn.lines * drawn.width / room) ** _FADING))


def _one_of(washes: Sequence[float], ink: float) -> float:
    """The ink of each of these washes where all of them together give `ink`."""
    return float(1 - (1 - ink) ** (1 / len(washes)))


def _dots(seen: View, unit: float) -> list[Element]:
    """The ring of dots, each an ellipse."""
    images = seen.dot_images(DOTS)
    length, width = (value - DOTS.diameter for value in images[0][2:4])
    washes: Sequence[float] = _WASHES if length > SHARP else (0.0,)
    covered = DOTS.diameter**2 / ((DOTS.diameter + length) * (DOTS.diameter + width))
    ink = _one_of(washes, max(2 * _THINNEST, covered ** (_FADING / 2)) if length > SHARP else 1.0)

    def wash(share: float) -> Element:
        radii = [unit * (DOTS.diameter + share * blur) / 2 for blur in (length, width)]
        turn = images[0].direction or 0.0
        dots = [_ellipse(unit * dot.x, -unit * dot.y, radii, turn) for dot in images]
        return _wash(ink, dots)

    return [wash(share) for share in washes]


def _ellipse(x: float, y: float, radii: Sequence[float], turn: float) -> str:
    longer, shorter = map(_px, radii)
    dx, dy = radii[0] * math.cos(math.radians(turn)), -radii[0] * math.sin(math.radians(turn))
    arc = f"a{longer} {shorter} {-turn:g} 1 1"
    half, back = f"{_px(2 * dx)} {_px(2 * dy)}", f"{_px(-2 * dx)} {_px(-2 * dy)}"
    return f"M{_px(x - dx)} {_px(y - dy)}{arc} {half}{arc} {back}z"


def _wash(ink: float, shapes: Sequence[str]) -> Element:
    strength = {} if ink == 1 else {"fill_opacity": ink}
    return element("path", d="".join(shapes), class_="solid", **strength)


def _px(value: float) -> str:
    return f"{round(value, 1) + 0:g}"
