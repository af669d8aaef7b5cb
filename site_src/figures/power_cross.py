"""The power cross (optical cross): a lens as its two principal meridians.

Directions are those of `lensmath.power`: 0 at the right, counter-clockwise, seen facing the wearer.
"""

from __future__ import annotations

from lensmath.notation import write_axis, write_power
from lensmath.power import LensPower, Meridian, snapped

from .dial import GAP, Dial
from .svg import NARROW, TEXT, Column, Drawing, Element, Figure, figure

_STUB = 5.0  # px; the marks of the axis reach so far to either side of the dial
_SPHERE_ARMS = range(30, 181, 30)  # degrees; any of them shows the one power


def power_cross(name: str, lens: LensPower) -> Figure:
    """Both principal meridians at their true angle, each with its power; the axis is marked.

    A sphere is drawn as a wheel of equal arms with its one power.
    """

    def draw(column: Column) -> Drawing:
        dial = Dial(column.width / 2, 122, 60) if column is NARROW else Dial(300, 126, 80)
        boxes = [
            (dial.outside(direction, lines), ink)
            for direction, lines, ink in _arm_texts(lens, column)
        ]
        parts = [
            *dial.graduation([box for box, _ in boxes]),
            *_arms(dial, lens),
            *(text for box, ink in boxes for text in box.text(f"label strong {ink}")),
        ]
        return dial.y + dial.radius + GAP + TEXT / 2, parts

    return figure(name, "Power cross", cross_in_words(lens), draw)


def cross_in_words(lens: LensPower) -> str:
    """The sentence that says what the picture shows.

    >>> cross_in_words(LensPower(-0.75, -2.50, 112))
    '−0.75 D along meridian 112, the axis; −3.25 D along meridian 022.'
    """
    if lens.axis is None:
        return f"{write_power(lens.sphere)} D in every meridian: a sphere has no axis."
    along, across = lens.principal_meridians
    return (
        f"{write_power(along.power)} D along meridian {write_axis(along.direction)}, the axis; "
        f"{write_power(across.power)} D along meridian {write_axis(across.direction)}."
    )


def _arm_texts(lens: LensPower, column: Column) -> list[tuple[float, tuple[str, ...], str]]:
    """For each label: the direction in which it stands, its lines, and its ink."""
    if lens.axis is None:
        power = write_power(lens.sphere)
        return [(90.0, (power, "in every meridian"), _ink(lens.sphere))]
    return [
        (arm.direction, (*_arm_lines(arm, column), *note), _ink(arm.power))
        for arm, note in zip(lens.principal_meridians, (("axis",), ()), strict=True)
    ]


def _arm_lines(arm: Meridian, column: Column) -> tuple[str, ...]:
    power, direction = write_power(arm.power), f"@ {write_axis(arm.direction)}"
    return (power, direction) if column is NARROW else (f"{power} {direction}",)


def _arms(dial: Dial, lens: LensPower) -> list[Element]:
    radius = dial.radius
    if lens.axis is None:
        ink = _ink(lens.sphere)
        return [dial.spoke(turn, -radius, radius, f"arm {ink}") for turn in _SPHERE_ARMS]
    arms = [
        dial.spoke(arm.direction, -radius, radius, f"arm {_ink(arm.power)}")
        for arm in lens.principal_meridians
    ]
    ends = [
        dial.spoke(turn, radius - _STUB, radius + _STUB, "axis-mark")
        for turn in (lens.axis, lens.axis + 180)
    ]
    return [*arms, *ends]


def _ink(power: float) -> str:
    return "zero" if snapped(power) == 0 else "minus" if power < 0 else "plus"
