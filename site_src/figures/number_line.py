"""The graduated scale as a number line: a counted travel, and where the step changes.

Minus lies to the left, plus to the right. Travel toward minus is hatched, toward plus it is solid.
"""

from __future__ import annotations

import math

from lensmath.notation import MINUS, TIMES, write_exact, write_power
from lensmath.power import snapped
from lensmath.scale import Count, Direction, GraduatedScale, shown

from .ruler import HALF, POINTER, REST, WHOLE, Ruler, apart, hatching, is_multiple
from .svg import (
    LABEL_GAP,
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

FRACTIONS = {
    0.125: "⅛",
    0.25: "¼",
    0.375: "⅜",
    0.5: "½",
    0.625: "⅝",
    0.75: "¾",
    0.875: "⅞",
}

_BAND = 7.0  # px; the height of the travel on the line
_CLEAR = 4.0  # px; ticks stand no closer, or finer ones are left out
_HIGHEST_ARC = 44.0  # px
_LOWEST_ARC = 5.0  # px
_ROUNDNESS = 0.42  # height of an arc for its width, where there is room
_UNDER_TICKS = WHOLE + TEXT + 2  # px from the line to the baseline of the numbers
_MARGIN = 36.0  # px at either edge, where the line goes on; room for a label of what is left
_READINGS = _UNDER_TICKS + 23  # px from the line to the baseline of the readings


FIRST_SECOND = ("first", "second")


def counted_travel(
    name: str,
    scale: GraduatedScale,
    count: Count,
    names: tuple[str, str] = FIRST_SECOND,
    whose: str = "",
) -> Figure:
    """Two readings on the scale, and the count between them: whole dioptres, then what is left.

    `names` says what the two readings are, and `whose` of which lens, where a page has two.

    Shape   The narrow drawing shows the travel and a little more, the wide one its surroundings.
            The height is the same for every count, so that a page does not jump while one types.
    """

    def draw(column: Column) -> Drawing:
        ruler = _ruler(count, column)
        parts = [
            *_graduation(scale, ruler, (count.first, count.second)),
            *_band(count, ruler),
            *_arcs(count, ruler),
            *_readings(count, ruler, names),
        ]
        return ruler.y + _READINGS + 6, parts

    title, said = "Travel on the power scale", travel_in_words(count, names)
    if whose:
        title, said = f"{title}, {whose}", f"{whose.capitalize()}. {said}"
    return figure(name, title, said, draw)


def travel_in_words(count: Count, names: tuple[str, str] = FIRST_SECOND) -> str:
    """The sentence that says what the picture of a count shows.

    >>> from lensmath.scale import HAND_SCALE
    >>> travel_in_words(HAND_SCALE.count(-4, -5))
    'The first reading is −4.00 D, the second −5.00 D. The travel is −1.00 D, toward minus: one ...'
    """
    first, second = write_power(count.first), write_power(count.second)
    if count.direction is Direction.NONE:
        return f"Both readings are {first} D. There is no travel."
    return (
        f"The {names[0]} reading is {first} D, the {names[1]} {second} D. "
        f"The travel is {_travel(count)}: {count.in_words()}."
    )


def _ruler(count: Count, column: Column) -> Ruler:
    """A window on the scale with the travel in its middle."""
    around, least = (0.0, 1.75) if column is NARROW else (1.0, 3.0)
    middle = (count.first + count.second) / 2
    half = max(abs(count.travel) + 2 * around, least) / 2
    y = 2 * LINE_HEIGHT + _HIGHEST_ARC + POINTER
    return Ruler(middle - half, middle + half, 0, column.width, y, _MARGIN)


def _graduation(
    scale: GraduatedScale, ruler: Ruler, readings: tuple[float, float]
) -> list[Element]:
    """The line, its marks, and numbers at whole dioptres where no reading stands in the way."""
    strongest = scale.bands[-1].up_to
    low, high = max(ruler.ends[0], -strongest), min(ruler.ends[1], strongest)
    leaders = [ruler.x(reading) for reading in readings]
    between = _numbered_every(ruler)
    finest = {band.step: _finest(band.step, ruler) for band in scale.bands}
    marks = scale.marks(low, high)
    if any(wider > step for step, wider in finest.items()):
        marks = tuple(m for m in marks if is_multiple(m, finest[scale.step_at(m)]))
    whole = [mark for mark in marks if mark % 1 == 0]
    parts = [
        ruler.line(low, high),
        ruler.ticks(((mark, _length(mark)) for mark in whole), "ink"),
        ruler.ticks(((mark, _length(mark)) for mark in marks if mark % 1), "hair"),
    ]
    for mark in whole:
        x, number = ruler.x(mark), _whole(mark)
        room = min(abs(x - other) for other in (*leaders, ruler.left, ruler.right))
        if is_multiple(mark, between) and room >= text_width(number) / 2 + _CLEAR:
            parts.append(label(x, ruler.y + _UNDER_TICKS, number))
    return parts


def _finest(step: float, ruler: Ruler) -> float:
    """The step of the marks that are drawn: the scale's own, or a coarser one where it is dense."""
    coarser = [wider for wider in (0.25, 0.5, 1.0) if wider > step and is_multiple(wider, step)]
    return next((wide for wide in (step, *coarser) if wide * ruler.unit >= _CLEAR), 5.0)


def _numbered_every(ruler: Ruler) -> int:
    widest = max(text_width(_whole(round(end))) for end in ruler.ends)
    return next((every for every in (1, 2, 5) if every * ruler.unit >= widest + LABEL_GAP), 10)


def _length(mark: float) -> float:
    return REST if mark % 0.5 else HALF if mark % 1 else WHOLE


def _whole(mark: float) -> str:
    """A whole dioptre as the scale numbers it: −4, 0, +1."""
    sign = "" if mark == 0 else MINUS if mark < 0 else "+"
    return f"{sign}{abs(mark):.0f}"


def _ink(count: Count) -> str:
    return "minus" if count.direction is Direction.MINUS else "plus"


def _travel(count: Count) -> str:
    return f"{write_power(count.travel)} D, {count.direction.value}"


def _band(count: Count, ruler: Ruler) -> list[Element]:
    """The travel as a band on the line."""
    if not count.legs:
        return []
    left, right = sorted((ruler.x(count.first), ruler.x(count.second)))
    top = ruler.y - _BAND
    if count.direction is Direction.PLUS:
        box = element("rect", x=left, y=top, width=right - left, height=_BAND, class_="tint plus")
        return [box]
    return [element("g", hatching(left, right, top, ruler.y), class_="minus")]


def _arcs(count: Count, ruler: Ruler) -> list[Element]:
    """An arc for each whole dioptre, a dashed one for what is left, and the travel above them."""
    foot, rise = ruler.y - POINTER, min(_HIGHEST_ARC, _ROUNDNESS * ruler.unit)
    middle = (ruler.left + ruler.right) / 2
    if not count.legs:
        return [label(middle, foot - 6, "no travel", "label strong")]
    parts = [_arc(ruler.x(hop.start), ruler.x(hop.end), rise, foot, "arc") for hop in count.hops]
    parts += _hop_labels(count, ruler, foot - rise - 4)
    if left_over := _left_over(count):
        landing = ruler.x(count.hops[-1].end if count.hops else count.first)
        low_rise = max(_LOWEST_ARC, rise * left_over)
        parts += _last_arc(landing, ruler.x(count.second), low_rise, foot, _fraction(left_over))
    highest = rise if count.hops else low_rise
    parts.append(
        label(middle, foot - highest - 4 - LINE_HEIGHT, f"travel {_travel(count)}", "label strong")
    )
    return [element("g", *parts, class_=_ink(count))]


def _hop_labels(count: Count, ruler: Ruler, baseline: float) -> list[Element]:
    """A 1 over each whole dioptre, or their number where these would not fit side by side."""
    if ruler.unit >= text_width("1") + LABEL_GAP:
        places = [ruler.x((hop.start + hop.end) / 2) for hop in count.hops]
        return [label(x, baseline, "1", "label strong") for x in places]
    if not count.hops:
        return []
    middle = ruler.x((count.hops[0].start + count.hops[-1].end) / 2)
    return [label(middle, baseline, f"{len(count.hops)} {TIMES} 1", "label strong")]


def _arc(start: float, end: float, rise: float, foot: float, class_: str) -> Element:
    left, right = sorted((start, end))
    return path(class_, "M", left, foot, "A", (right - left) / 2, rise, "0 0 1", right, foot)


def _last_arc(landing: float, end: float, rise: float, foot: float, text: str) -> list[Element]:
    """The dashed arc; a label wider than it moves past its end, never back over the whole ones."""
    reach = max(abs(end - landing), text_width(text))
    middle = landing + (reach / 2 if end > landing else -reach / 2)
    return [
        _arc(landing, end, rise, foot, "arc dashed"),
        label(middle, foot - rise - 4, text, "label strong"),
    ]


def _left_over(count: Count) -> float:
    return snapped(abs(count.travel) - len(count.hops))


def _fraction(size: float) -> str:
    return FRACTIONS.get(size, shown(size))


def _readings(count: Count, ruler: Ruler, names: tuple[str, str]) -> list[Element]:
    """Pointers on the line, and below it each reading with its name at the foot of a leader."""
    if count.direction is Direction.NONE:
        return _reading(ruler, count.first, "both readings", ruler.x(count.first))
    low, high = sorted(zip((count.first, count.second), names, strict=True))
    texts = [f"{name} {write_power(value)}" for value, name in (low, high)]
    left, right = apart(ruler, low[0], texts[0], high[0], texts[1])
    return [*_reading(ruler, *low, left), *_reading(ruler, *high, right)]


def _reading(ruler: Ruler, value: float, name: str, place: float) -> list[Element]:
    x, baseline = ruler.x(value), ruler.y + _READINGS
    return [
        ruler.pointer(value, "solid"),
        line(x, ruler.y, x, baseline - TEXT, "ink"),
        named_value(place, baseline, name, write_power(value)),
    ]


def step_change(name: str, scale: GraduatedScale, at: float) -> Figure:
    """The scale near the power `at` (dioptres), where its step changes; every mark is numbered."""
    below, above = scale.step_at(scale.before(at)), scale.step_at(scale.after(at))
    description = _steps_in_words(at, below, above)

    def draw(column: Column) -> Drawing:
        half = 0.6 if column is NARROW else 1.1
        ruler = Ruler(at - half, at + half, 0, column.width, 3 * LINE_HEIGHT)
        parts = [
            ruler.line(ruler.low, ruler.high),
            line(ruler.x(at), 0, ruler.x(at), ruler.y, "hair"),
            label(ruler.x(at) / 2, TEXT, f"{shown(below)} D apart", "label faint"),
            label((ruler.x(at) + ruler.right) / 2, TEXT, f"{shown(above)} D apart", "label faint"),
        ]
        for mark in scale.marks(ruler.low, ruler.high):
            parts += _numbered_mark(ruler, mark, max(below, above))
        return ruler.y + _UNDER_TICKS + 6, parts

    return figure(name, "Where the step of the scale changes", description, draw)


def _mark(ruler: Ruler, mark: float) -> Element:
    return ruler.tick(mark, _length(mark), "hair" if mark % 1 else "ink")


def _numbered_mark(ruler: Ruler, mark: float, coarser: float) -> list[Element]:
    """A mark and its number; numbers of the finer step stand above the line."""
    x, number = ruler.x(mark), write_power(mark)
    if min(x, ruler.right - x) < text_width(number) / 2:
        return [_mark(ruler, mark)]
    if is_multiple(mark, coarser):
        return [_mark(ruler, mark), label(x, ruler.y + _UNDER_TICKS, number)]
    return [_mark(ruler, mark), label(x, ruler.y - 6, number, "label faint")]


def _steps_in_words(at: float, below: float, above: float) -> str:
    steps = (
        f"From {write_power(at)} D toward minus the marks stand {shown(below)} D apart, "
        f"toward plus {shown(above)} D."
    )
    if min(below, above) != 0.125:
        return steps
    eighth = at - math.copysign(0.375, at)
    return (
        f"{steps} An eighth is written with two decimals: {write_power(eighth)} D stands for "
        f"{write_exact(eighth)} D."
    )
