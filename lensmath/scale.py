"""Graduated power scales: where the marks stand, and how a reader counts between two readings.

A scale is a number line, symmetrical about 0, whose marks may stand further apart at the stronger
powers. Everything here is in dioptres.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from dataclasses import dataclass, field
from enum import Enum
from itertools import groupby, pairwise
from typing import Literal, NamedTuple

from lensmath.errors import LensError
from lensmath.power import snapped

_FINEST_STEP = 0.01  # dioptres; no drum is read more finely

# Steps with a name, by how many make a dioptre. "Halves" is never said: two are a whole dioptre.
_PART = {2.0: "half", 4.0: "quarter", 5.0: "fifth", 8.0: "eighth", 10.0: "tenth", 20.0: "twentieth"}
_NUMBER = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def shown(power: float, sign: str = "") -> str:
    """A power with two decimals, or with more when it has more; `sign` "+" also signs a plus.

    >>> shown(-2.5), shown(2.125, "+")
    ('−2.50', '+2.125')
    """
    two_decimals = snapped(round(power, 2)) == snapped(power)
    written = f"{power:{sign}{'.2f' if two_decimals else 'g'}}"
    return written.replace("-", "\N{MINUS SIGN}")


class Direction(Enum):
    """Which way a reading moves along the scale."""

    PLUS = "toward plus"
    MINUS = "toward minus"
    NONE = "neither way"

    @classmethod
    def of(cls, travel: float) -> Direction:
        """The direction of a signed travel."""
        if travel == 0:
            return cls.NONE
        return cls.PLUS if travel > 0 else cls.MINUS


class Leg(NamedTuple):
    """One stretch of a count: a whole dioptre, a step between marks, or the rest of a step."""

    start: float
    end: float
    kind: Literal["whole", "step", "rest"]

    @property
    def size(self) -> float:
        """Its length, never negative."""
        return snapped(abs(self.end - self.start))


@dataclass(frozen=True)
class Count:
    """The way from one reading to another, as `GraduatedScale.count` finds it.

    `legs` join `first` to `second` without a gap: whole dioptres, then steps from mark to mark,
    with a rest before or after the steps where a reading lies between marks. `passed` holds every
    mark after `first` up to and including `second`, in the order of travel.
    """

    first: float
    second: float
    legs: tuple[Leg, ...]
    passed: tuple[float, ...]

    @property
    def travel(self) -> float:
        """Second reading minus first, signed."""
        return snapped(self.second - self.first)

    @property
    def direction(self) -> Direction:
        """Which way the travel goes."""
        return Direction.of(self.travel)

    @property
    def hops(self) -> tuple[Leg, ...]:
        """The whole dioptres, counted from the first reading."""
        return tuple(leg for leg in self.legs if leg.kind == "whole")

    @property
    def steps(self) -> tuple[tuple[int, float], ...]:
        """The steps from mark to mark after the last hop: how many of which size, in order."""
        sizes = [leg.size for leg in self.legs if leg.kind == "step"]
        return tuple((len(list(same)), size) for size, same in groupby(sizes))

    @property
    def rest(self) -> float:
        """What no mark shows, never negative; 0 when the count ends on marks."""
        return snapped(sum(leg.size for leg in self.legs if leg.kind == "rest"))

    def in_words(self) -> str:
        """The count as it is said aloud, without its direction.

        >>> HAND_SCALE.count(+1.00, -2.25).in_words()
        'three whole dioptres and two eighths'
        """
        parts = [_counted(len(self.hops), "whole dioptre")] if self.hops else []
        for number, size in self.steps:
            name = _PART.get(snapped(1 / size))
            words = _counted(number, name or "step")
            parts.append(words if name else f"{words} of {shown(size)} D")
        if self.rest:
            parts.append(f"{shown(self.rest)} D read between the marks")
        if not parts:
            return "no travel"
        *head, last = parts
        return f"{', '.join(head)} and {last}" if head else last


class Band(NamedTuple):
    """Marks `step` apart up to and including an absolute power of `up_to`."""

    up_to: float
    step: float


@dataclass(frozen=True)
class GraduatedScale:
    """A power scale, symmetrical about 0, from its bands of marks, weakest powers first.

    Errors  LensError for bands that do not rise, a step below 0.01 D or one that does not fit a
            whole number of times into its band. Every method raises it for a power off the scale.

    >>> GraduatedScale((Band(1, 0.5), Band(3, 1))).marks(-2, 2)
    (-2.0, -1.0, -0.5, 0.0, 0.5, 1.0, 2.0)
    """

    bands: tuple[Band, ...]
    _marks: tuple[float, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        plus = _marks_above_zero(self.bands)
        object.__setattr__(self, "_marks", (*(-mark for mark in reversed(plus)), 0.0, *plus))

    def marks(self, low: float, high: float) -> tuple[float, ...]:
        """All marks from `low` to `high`, both included, ascending."""
        start = bisect_left(self._marks, self._on_scale(low))
        return self._marks[start : bisect_right(self._marks, self._on_scale(high))]

    def is_mark(self, value: float) -> bool:
        """Whether a mark stands at `value`."""
        return bool(self.marks(value, value))

    def step_at(self, value: float) -> float:
        """The step of the band that holds `value`; the end of a band belongs to it."""
        size = abs(self._on_scale(value))
        return next(band.step for band in self.bands if size <= snapped(band.up_to))

    def before(self, value: float) -> float:
        """The mark next below `value`, on the minus side of it."""
        below = self._marks[: bisect_left(self._marks, self._on_scale(value))]
        if not below:
            raise LensError(f"The scale ends at {shown(value)} D; no mark lies below it.")
        return below[-1]

    def after(self, value: float) -> float:
        """The mark next above `value`, on the plus side of it."""
        above = self._marks[bisect_right(self._marks, self._on_scale(value)) :]
        if not above:
            raise LensError(f"The scale ends at {shown(value, '+')} D; no mark lies above it.")
        return above[0]

    def nearest(self, value: float) -> tuple[float, ...]:
        """The nearest mark; both, the lower first, when `value` is exactly half-way.

        >>> HAND_SCALE.nearest(-3.10), HAND_SCALE.nearest(4.125)
        ((-3.0,), (4.0, 4.25))
        """
        if self.is_mark(value):
            return (snapped(value),)
        neighbours = (self.before(value), self.after(value))
        least = min(snapped(abs(mark - value)) for mark in neighbours)
        return tuple(mark for mark in neighbours if snapped(abs(mark - value)) == least)

    def count(self, first: float, second: float) -> Count:
        """Count from the first reading to the second: whole dioptres, marks, then any rest.

        The hops are whole dioptres from the first reading itself. From where the last one lands,
        the marks are taken as they stand, so the count shows a change of step.

        >>> HAND_SCALE.count(-0.75, -3.25).in_words()
        'two whole dioptres, two eighths and one quarter'
        >>> HAND_SCALE.count(-0.80, -3.30).in_words()
        'two whole dioptres, one eighth, one quarter and 0.125 D read between the marks'
        """
        first, second = self._on_scale(first), self._on_scale(second)
        travel = snapped(second - first)
        hops = range(math.floor(abs(travel)) + 1)
        landings = [snapped(first + math.copysign(hop, travel)) for hop in hops]
        stops = [landings[-1], *self._passed(landings[-1], second)]
        if stops[-1] != second:
            stops.append(second)
        legs = [Leg(start, end, "whole") for start, end in pairwise(landings)]
        for start, end in pairwise(stops):
            on_marks = self.is_mark(start) and self.is_mark(end)
            legs.append(Leg(start, end, "step" if on_marks else "rest"))
        return Count(first, second, tuple(legs), self._passed(first, second))

    def _passed(self, first: float, second: float) -> tuple[float, ...]:
        """The marks after `first` up to and including `second`, in the order of travel."""
        between = self.marks(min(first, second), max(first, second))
        in_order = between if first <= second else between[::-1]
        return in_order[1:] if self.is_mark(first) else in_order

    def _on_scale(self, value: float) -> float:
        low, high = self._marks[0], self._marks[-1]
        if not low <= snapped(value) <= high:
            raise LensError(
                f"The scale runs from {shown(low)} D to {shown(high, '+')} D; "
                f"{shown(value, '+')} D was given."
            )
        return snapped(value)


def _marks_above_zero(bands: tuple[Band, ...]) -> list[float]:
    if not bands:
        raise LensError("A scale needs at least one band of marks; none was given.")
    marks: list[float] = []
    start = 0.0
    for up_to, step in bands:
        possible = start < up_to < math.inf and step >= _FINEST_STEP
        number = round((up_to - start) / step) if possible else 0
        band = [snapped(start + index * snapped(step)) for index in range(1, number + 1)]
        if not band or band[-1] != snapped(up_to):
            raise LensError(
                "A band of marks rises from the end of the one before it in whole steps of at "
                f"least {_FINEST_STEP} D; from {start:g} D to {up_to:g} D in steps of {step:g} D "
                "was given."
            )
        marks += band
        start = band[-1]
    return marks


def _counted(number: int, name: str) -> str:
    word = _NUMBER[number - 1] if number <= len(_NUMBER) else str(number)
    return f"{word} {name}" if number == 1 else f"{word} {name}s"


HAND_SCALE = GraduatedScale((Band(3, 0.125), Band(30, 0.25)))
"""The drum of a manual lensmeter: marks 0.125 D apart between 0 and +/-3 D, 0.25 D beyond, up to
+/-30 D (common practice; the divisions differ by instrument)."""
