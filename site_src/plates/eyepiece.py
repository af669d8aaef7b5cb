"""What pages show of the eyepiece beside a single field: the steps of a reading, a ring of dots.

A field, its lines and its ink are those of `site_src.figures.eyepiece`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, NamedTuple

from lensmath.notation import write_axis, write_power
from lensmath.power import LensPower
from lensmath.prism import NO_PRISM, Prism
from lensmath.target import SHARP, DotRing, View
from site_src.figures.dial import GAP, Dial
from site_src.figures.eyepiece import (
    FADING,
    FIELD,
    STUB,
    THINNEST,
    WASHES,
    clip,
    field,
    field_dial,
    ink_of_each,
    inked,
    lens_in_words,
    place_on_rings,
    px,
    short_state,
    target_lines,
)
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
    named_value,
    text_width,
)

DOTS = DotRing(radius=2.5, diameter=0.2, dots=18)
"""The ring of dots of these pictures, in prism dioptres."""


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


def corona(name: str, lens: LensPower, drum: float, prism: Prism = NO_PRISM) -> Figure:
    """One field of an instrument with a ring of dots, which no wheel turns.

    Units   `drum` in dioptres; `prism` is that at the stop.
    Errors  LensError as for `lensmath.target.View`.
    """
    seen = View(lens, drum, prism=prism)

    def draw(column: Column) -> Drawing:
        dial = field_dial(column)
        told = wrapped(_state_of_dots(seen), column.width)
        foot = dial.y + dial.radius + GAP + LINE_HEIGHT
        parts = [
            *clip(name, column, dial.radius),
            field(dial, f"{name}-{column.name}", _dots(seen, dial.radius / FIELD)),
            named_value(dial.x, foot, "drum", write_power(drum)),
            *_rows(dial.x, foot + LINE_HEIGHT, told),
        ]
        return foot + LINE_HEIGHT * len(told) + 6, parts

    says = (
        f"A ring of dots in the eyepiece, the drum at {write_power(drum)}, {lens_in_words(lens)}: "
        f"{_state_of_dots(seen)}{place_on_rings(prism)}."
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
        parts, top, foot = clip(name, column, radius), 0.0, 0.0
        for number, (each, seen) in enumerate(zip(told, views, strict=True)):
            if number % across == 0:
                top, foot = foot + (GAP if number else 0), 0.0
            short = across - min(across, len(told) - number // across * across)  # in this row
            x = cell * (number % across + 0.5 + short / 2)
            dial = Dial(x, top + radius + 2 * STUB, radius)
            lines = target_lines(seen, radius / FIELD)
            parts.append(field(dial, f"{name}-{column.name}", lines, each.wheel))
            parts.append(
                label(dial.x - cell / 2 + 2, top + TEXT, f"{number + 1}", "label strong", "start")
            )
            ends, caption = _caption(dial, cell, each, seen)
            parts += caption
            foot = max(foot, ends)
        return foot + 6, parts

    says = " ".join(
        f"{number}: drum {write_power(each.drum)}, wheel {write_axis(each.wheel)}"
        f"{_noted(each, seen)}{place_on_rings(each.prism)}."
        for number, (each, seen) in enumerate(zip(told, views, strict=True), start=1)
    )
    return figure(name, title, f"{title}; {lens_in_words(lens)}. {says}", draw)


def _noted(each: Setting, seen: View) -> str:
    """The note of a step, and what is sharp unless the note says it already."""
    if not each.note:
        return f": {short_state(seen)}"
    told = any(word in each.note for word in ("sharp", "blur", "break", "broken"))
    return f", {each.note}" if told else f", {each.note}: {short_state(seen)}"


def _caption(dial: Dial, cell: float, each: Setting, seen: View) -> tuple[float, list[Element]]:
    """The lines below a field, and the baseline of the last of them."""
    foot = dial.y + dial.radius + STUB + LINE_HEIGHT + 2
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


def _state_of_dots(seen: View) -> str:
    length, width, direction = seen.blur
    if length <= SHARP:
        return "dots sharp"
    if direction is None:
        return "dots blurred and round"
    form = "lines" if width <= SHARP else "ovals"
    return f"dots drawn out to {form} along {write_axis(direction)}"


# A ring of dots ----------------------------------------------------------------------------------


def _dots(seen: View, unit: float) -> list[Element]:
    """The ring of dots, each an ellipse."""
    images = seen.dot_images(DOTS)
    length, width = (value - DOTS.diameter for value in images[0][2:4])
    washes: Sequence[float] = WASHES if length > SHARP else (0.0,)
    covered = DOTS.diameter**2 / ((DOTS.diameter + length) * (DOTS.diameter + width))
    ink = ink_of_each(washes, max(2 * THINNEST, covered ** (FADING / 2)) if length > SHARP else 1.0)

    def wash(share: float) -> Element:
        radii = [unit * (DOTS.diameter + share * blur) / 2 for blur in (length, width)]
        turn = images[0].direction or 0.0
        dots = [_ellipse(unit * dot.x, -unit * dot.y, radii, turn) for dot in images]
        return inked(ink, dots)

    return [wash(share) for share in washes]


def _ellipse(x: float, y: float, radii: Sequence[float], turn: float) -> str:
    longer, shorter = map(px, radii)
    dx, dy = radii[0] * math.cos(math.radians(turn)), -radii[0] * math.sin(math.radians(turn))
    arc = f"a{longer} {shorter} {-turn:g} 1 1"
    half, back = f"{px(2 * dx)} {px(2 * dy)}", f"{px(-2 * dx)} {px(-2 * dy)}"
    return f"M{px(x - dx)} {px(y - dy)}{arc} {half}{arc} {back}z"
