"""How far a reading can be trusted: standard, combined and expanded uncertainty.

Each cause of doubt becomes a standard uncertainty (the spread of a normal distribution, or what is
worth as much); they are combined as the root of the sum of squares; the expanded uncertainty
U = k u holds the true value about 95 times in 100. Nothing here depends on the unit: dioptres for
powers, degrees for the axis wheel, prism dioptres, millimetres. All causes of one budget share it.

    a reading     Budget((from_scale(...), from_reader(...), from_instrument(...)))
    a mean of n   the budget of one reading, `.of_mean(n)`
    a cylinder    it is a travel, so `difference(first, second)` of two such budgets
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from statistics import variance
from typing import NamedTuple

from lensmath.errors import LensError
from lensmath.power import snapped
from lensmath.scale import shown
from lensmath.student_t import quantile

COVERAGE = math.erf(math.sqrt(2))
"""The probability that U covers: 95.45 %, for which k is 2 when u is well known."""


class Cause(Enum):
    """Where doubt comes from."""

    SCALE = "the marks of the scale"
    READER = "the spread of the reader"
    INSTRUMENT = "the error of the instrument"
    ZERO = "the zero error"

    @property
    def averages(self) -> bool:
        """Whether the mean of several readings makes it smaller.

        Only what is new at each reading does. The scale's part is not counted on to: a steady
        reader stops at the same mark each time (common practice, on the safe side).
        """
        return self is Cause.READER

    @property
    def cancels(self) -> bool:
        """Whether it is alike in two readings, and so cancels in their difference."""
        return self is Cause.ZERO


class ReadTo(Enum):
    """How finely the scale is read: to a mark, or to a mark or half-way between two."""

    MARK = "the nearest mark"
    HALF_MARK = "the nearest half mark"


@dataclass(frozen=True)
class Component:
    """One cause of doubt as a standard uncertainty, in the unit of the reading.

    `degrees_of_freedom` says how well the figure itself is known: one less than the readings it
    was estimated from, infinite for a bound that is taken as given.

    Errors  LensError for a standard uncertainty below 0, or less than 1 degree of freedom.
    """

    cause: Cause
    standard: float
    degrees_of_freedom: float = math.inf

    def __post_init__(self) -> None:
        _check_size(f"standard uncertainty from {self.cause.value}", self.standard)
        if not self.degrees_of_freedom >= 1:
            raise LensError(
                "A standard uncertainty has at least 1 degree of freedom; "
                f"{shown(self.degrees_of_freedom)} was given."
            )


class Spread(NamedTuple):
    """How much a reader's repeated readings of the same thing scatter."""

    standard_deviation: float
    degrees_of_freedom: int


def spread(*series: Sequence[float]) -> Spread:
    """The spread of repeated readings; several short series of one reader are pooled.

    Each series is of one lens, left and set anew each time. Pooled, the variances are weighted by
    their degrees of freedom, so three readings of each of four lenses tell as much as nine of one.

    Errors  LensError without readings, and for a series of a single one.
    Source  gum-2008, 4.2.2 and 4.2.4

    >>> spread([-2.25, -2.37, -2.25])
    Spread(standard_deviation=0.0693, degrees_of_freedom=2)
    """
    freedoms = [len(readings) - 1 for readings in series]
    if not freedoms or min(freedoms) < 1:
        raise LensError(
            "A spread needs at least two readings of the same lens; "
            f"{'one' if freedoms and min(freedoms) == 0 else 'none'} was given."
        )
    pooled = sum(
        freedom * variance(readings) for freedom, readings in zip(freedoms, series, strict=True)
    )
    total = sum(freedoms)
    return Spread(snapped(math.sqrt(pooled / total)), total)


def rectangular(half_width: float) -> float:
    """The standard uncertainty of a bound within which every value is as likely: a / √3.

    Errors  LensError for a half-width below 0.
    Source  gum-2008, 4.3.7

    >>> rectangular(0.06)
    0.0346
    """
    return snapped(_check_size("half-width", half_width) / math.sqrt(3))


def from_scale(step: float, read_to: ReadTo = ReadTo.MARK) -> Component:
    """What reading between marks leaves open: up to half of what is read to, either way.

    Units   `step` is the distance of the marks where the reading stands.
    Errors  LensError for a step below 0.
    Source  gum-2008, F.2.2.1

    >>> from_scale(0.125).standard, from_scale(0.125, ReadTo.HALF_MARK).standard
    (0.0361, 0.0180)
    """
    read_parts = 1 if read_to is ReadTo.MARK else 2
    width = _check_size("step of the scale", step) / read_parts
    return Component(Cause.SCALE, rectangular(width / 2))


def from_reader(scatter: Spread) -> Component:
    """What the next single reading of this reader leaves open: the spread itself.

    For the mean of n readings, take `Budget.of_mean`.
    """
    return Component(Cause.READER, scatter.standard_deviation, scatter.degrees_of_freedom)


def from_instrument(permitted_error: float) -> Component:
    """What the instrument leaves open when it errs by no more than it may.

    The permitted error holds its zero error too. It is kept the same in a mean, and in a
    difference it counts twice, since nothing says that the errors at two powers are alike.
    """
    return Component(Cause.INSTRUMENT, rectangular(_check_size("permitted error", permitted_error)))


def from_zero(bound: float) -> Component:
    """What a zero error of at most this leaves open; for a drum that is otherwise right."""
    return Component(Cause.ZERO, rectangular(_check_size("bound of the zero error", bound)))


@dataclass(frozen=True)
class Budget:
    """The causes of doubt about one result, each independent of the others, and their sum.

    Errors  LensError without a component.

    >>> reading = Budget((from_scale(0.125), from_instrument(0.06)))
    >>> reading.combined, reading.coverage_factor, reading.expanded
    (0.050, 2.0, 0.100)
    """

    components: tuple[Component, ...]

    def __post_init__(self) -> None:
        if not self.components:
            raise LensError("An uncertainty has at least one cause; none was given.")

    @property
    def combined(self) -> float:
        """Combined standard uncertainty u: the root of the sum of squares.

        Source  gum-2008, 5.1.2
        """
        return snapped(self._whole)

    @property
    def degrees_of_freedom(self) -> float:
        """Effective degrees of freedom of u (Welch-Satterthwaite): u⁴ / Σ(uᵢ⁴ / νᵢ).

        Source  gum-2008, G.4.1
        """
        doubt = sum(each.standard**4 / each.degrees_of_freedom for each in self.components)
        return snapped(self._whole**4 / doubt) if doubt else math.inf

    @property
    def coverage_factor(self) -> float:
        """k: two-sided Student t for `COVERAGE`, the degrees of freedom cut to a whole number.

        Source  gum-2008, G.4.1

        >>> Budget((from_reader(Spread(0.07, 2)), from_scale(0.125))).coverage_factor
        3.31
        """
        freedom = self.degrees_of_freedom
        whole = freedom if math.isinf(freedom) else math.floor(freedom)
        return snapped(quantile((1 + COVERAGE) / 2, whole))

    @property
    def expanded(self) -> float:
        """Expanded uncertainty U = k u.

        Source  gum-2008, 6.2.1
        """
        return snapped(self.coverage_factor * self.combined)

    @property
    def lasting(self) -> float:
        """The standard uncertainty that no number of readings removes."""
        kept = (each.standard for each in self.components if not each.cause.averages)
        return snapped(math.hypot(*kept))

    def share(self, cause: Cause) -> float:
        """How much of the variance u² has this cause, from 0 to 1."""
        part = math.hypot(*(each.standard for each in self.components if each.cause is cause))
        return snapped((part / self._whole) ** 2) if part else 0.0

    def of_mean(self, readings: int) -> Budget:
        """The budget of the mean of so many readings, if this is the budget of one.

        The reader's part becomes s / √n; the others stay.

        Errors  LensError for less than one reading.
        Source  gum-2008, 4.2.3

        >>> one = Budget((from_reader(Spread(0.08, 9)), from_scale(0.125), from_instrument(0.06)))
        >>> [one.of_mean(n).combined for n in (1, 4, 16)], one.lasting
        ([0.094, 0.064, 0.054], 0.050)
        """
        if readings < 1:
            given = f"{readings:g}".replace("-", "\N{MINUS SIGN}")
            raise LensError(f"A mean is of one reading or more; {given} was given.")
        return Budget(tuple(_averaged(each, readings) for each in self.components))

    @property
    def _whole(self) -> float:
        return math.hypot(*(each.standard for each in self.components))


def difference(first: Budget, second: Budget) -> Budget:
    """The budget of the difference of two readings: a cylinder, or a power less its zero reading.

    A zero error cancels. Every other cause enters once for each reading, so that two like readings
    give √2 times as much. The reader's spread is one estimate used twice, so its degrees of freedom
    do not grow; of two estimates the smaller count is kept.

    Errors  LensError when nothing is left: two readings without any other cause than zero error.
    Source  gum-2008, 5.1.2

    >>> reading = Budget((from_scale(0.125), from_zero(0.03)))
    >>> reading.combined, difference(reading, reading).combined
    (0.040, 0.051)
    """
    both = first.components + second.components
    causes = dict.fromkeys(each.cause for each in both if not each.cause.cancels)
    return Budget(
        tuple(_together(cause, [each for each in both if each.cause is cause]) for cause in causes)
    )


def _averaged(one: Component, readings: int) -> Component:
    if not one.cause.averages:
        return one
    return replace(one, standard=snapped(one.standard / math.sqrt(readings)))


def _together(cause: Cause, parts: list[Component]) -> Component:
    return Component(
        cause,
        snapped(math.hypot(*(part.standard for part in parts))),
        min(part.degrees_of_freedom for part in parts),
    )


def _check_size(name: str, value: float) -> float:
    if not 0 <= value < math.inf:
        raise LensError(f"The {name} is a number of 0 or more; {shown(value)} was given.")
    return value
