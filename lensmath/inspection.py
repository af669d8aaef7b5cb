"""Ordered against measured: the window that passes, and the verdict on a lens.

Both lenses are written in minus cylinder first, so a verdict does not depend on how either was
spelt. The sphere meridian of one is paired with that of the other, and so are the meridians across
the axis. The limits come from the ordered lens and are taken literally, as printed, and inclusive:
a difference equal to the limit passes. Nothing is allowed here for the error of the instrument.

This is the distance power of one lens, and the shape of a row of any inspection. What else a lens
has is judged in `lens_inspection`, a pair in `pair_inspection`.
"""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass, field, replace
from enum import Enum

from lensmath.eye import Eye
from lensmath.power import SAME_POWER, LensPower, axis_difference, snapped, standard_axis
from lensmath.tolerances.model import (
    Confidence,
    Governing,
    LensType,
    MeridianRule,
    Powers,
    Quantity,
    Row,
    Standard,
    Unit,
)

# One standard prints 0.12 and another 0.13 for the same eighth of a dioptre, so a difference this
# close to a limit (D) hangs on the printing. Common practice, not a rule of a standard.
NEAR_LIMIT = 0.01

# These are sizes: nothing below zero can be measured of them.
_SIZES = (Quantity.PRISM_ERROR, Quantity.PRP_DISPLACEMENT, Quantity.WARPAGE)


class Verdict(Enum):
    """The answer of a row, or of a whole inspection.

    UNDECIDED: what could still decide was not measured. NO_LIMIT: the standard sets none.
    NOT_COMPARABLE: an axis was ordered, none was measured.
    """

    INSIDE = "inside"
    OUTSIDE = "outside"
    UNDECIDED = "undecided"
    NO_LIMIT = "no limit set"
    NOT_COMPARABLE = "not comparable"


@dataclass(frozen=True)
class Window:
    """One quantity as ordered, in minus-cylinder form, and what it may be.

    Units   `ordered`, `limit`, `lowest` and `highest` in the unit of the row behind them
            (`tolerance`); `meridian`, for a meridian power, is its direction in degrees.
    Shape   `ordered` is None for the axis of a sphere; the rest is None where no limit is set.
            `eye` is None for a lens on its own and for what only a pair has.
    """

    quantity: Quantity
    meridian: float | None
    ordered: float | None
    limit: float | None
    tolerance: Row
    eye: Eye | None = field(default=None, kw_only=True)

    @property
    def lowest(self) -> float | None:
        """The lowest value that passes; for an axis, where the window begins on the 1-180 scale."""
        return self._end(-1)

    @property
    def highest(self) -> float | None:
        """The highest value that passes; for an axis, where the window ends.

        A cylinder in minus form is never above zero.
        """
        return self._end(+1)

    @property
    def wraps(self) -> bool:
        """Whether an axis window runs through 180, such as 178 to 4."""
        return self.lowest is not None and self.highest is not None and self.lowest > self.highest

    def _end(self, side: int) -> float | None:
        if self.ordered is None or self.limit is None:
            return None
        end = snapped(self.ordered + side * self.limit)
        if self.quantity is Quantity.AXIS:
            return standard_axis(end)
        if self.quantity in _SIZES:
            return max(end, 0.0)
        return min(end, 0.0) if self.quantity is Quantity.CYLINDER else end


@dataclass(frozen=True)
class Check(Window):
    """A window with the measured value set against it.

    Shape   Where one of several limits is enough, such as prism or millimetres, the row is the one
            that decided, so `quantity` says which; `others` are those that did not. `mixed`: the
            lenses of a pair fall under different limits.
    """

    measured: float | None
    others: tuple[Check, ...] = field(default=(), kw_only=True)
    mixed: bool = field(default=False, kw_only=True)

    @property
    def difference(self) -> float | None:
        """Measured minus ordered; for an axis the angle between, 0-90. None if one is missing."""
        if self.ordered is None or self.measured is None:
            return None
        if self.quantity is Quantity.AXIS:
            return axis_difference(self.ordered, self.measured)
        return snapped(self.measured - self.ordered)

    @property
    def share(self) -> float | None:
        """How much of the limit is used: 1 is at the limit. None where nothing can be compared."""
        if self.difference is None or self.limit is None:
            return None
        return snapped(abs(self.difference) / self.limit)

    @property
    def verdict(self) -> Verdict:
        """INSIDE up to and at the limit."""
        if self.limit is None:
            return Verdict.NO_LIMIT
        if self.difference is None:
            axis = self.quantity is Quantity.AXIS
            return Verdict.NOT_COMPARABLE if axis else Verdict.UNDECIDED
        if abs(self.difference) <= self.limit:
            return Verdict.INSIDE
        open_still = any(other.verdict is Verdict.UNDECIDED for other in self.others)
        return Verdict.UNDECIDED if open_still else Verdict.OUTSIDE

    @property
    def clause(self) -> str:
        """Where the limit stands in the standard."""
        return self.tolerance.clause

    @property
    def confidence(self) -> Confidence:
        """How far the least sure of what this verdict rests on was seen.

        That one limit is enough for a mixed pair is from memory; it counts when they disagree.
        """
        if self.mixed and any(other.verdict is not self.verdict for other in self.others):
            return Confidence.MEMORY
        others = () if self.verdict is Verdict.INSIDE else self.others
        rests_on = [check.tolerance.confidence for check in (self, *others)]
        return max(rests_on, key=lambda confidence: confidence.doubt)

    @property
    def near_limit(self) -> bool:
        """Whether a power lies within 0.01 D of its limit, on either side."""
        if self.tolerance.unit is not Unit.DIOPTRE or self.difference is None or self.limit is None:
            return False
        return abs(snapped(abs(self.difference) - self.limit)) <= NEAR_LIMIT


@dataclass(frozen=True)
class PassWindow:
    """What a lens may be, in minus-cylinder form, to pass: a window for each quantity."""

    ordered: LensPower
    standard: Standard
    rows: tuple[Window, ...]


@dataclass(frozen=True)
class Report:
    """The verdicts on what was measured of a lens or of a pair.

    Shape   A row for each thing that was measured. `unchecked` was measured too, but the standard
            sets no limit for it, or the order says nothing of it.
    """

    standard: Standard
    rows: tuple[Check, ...]
    unchecked: tuple[Quantity, ...] = field(default=(), kw_only=True)

    @property
    def verdict(self) -> Verdict:
        """OUTSIDE when any row is outside, else UNDECIDED when any row is, else INSIDE."""
        found = {row.verdict for row in self.rows}
        return next(
            (each for each in (Verdict.OUTSIDE, Verdict.UNDECIDED) if each in found), Verdict.INSIDE
        )

    @property
    def worst(self) -> Check:
        """The row that the verdict rests on: it uses the largest share of its limit."""
        return worst_of(self.rows)

    @property
    def remembered(self) -> tuple[Check, ...]:
        """The rows whose limits are quoted from memory; the verdict is no surer than they are."""
        return tuple(row for row in self.rows if row.confidence.remembered)


@dataclass(frozen=True)
class Inspection(Report):
    """The verdict on the power of a measured lens; both lenses are kept in minus-cylinder form."""

    ordered: LensPower
    measured: LensPower


def worst_of(checks: Collection[Check]) -> Check:
    """Outside before undecided before the rest, and then by the largest share of a limit."""
    order = (Verdict.UNDECIDED, Verdict.OUTSIDE)

    def badness(check: Check) -> tuple[int, float]:
        rank = order.index(check.verdict) + 1 if check.verdict in order else 0
        return rank, -1.0 if check.share is None else check.share

    return max(checks, key=badness)


def either_of(checks: Collection[Check], *, mixed: bool = False) -> Check:
    """One row out of several of which one inside is enough: the one that is deepest inside."""
    decides = min(checks, key=lambda check: math.inf if check.share is None else check.share)
    others = tuple(check for check in checks if check is not decides)
    return replace(decides, others=others, mixed=mixed)


def pass_window(
    ordered: LensPower, standard: Standard, lens_type: LensType = LensType.SINGLE_VISION
) -> PassWindow:
    """What a measured lens may be to pass as the ordered one.

    Shape   Rows for the meridians that the standard judges, the cylinder and the axis.

    >>> from lensmath.tolerances import find_standard
    >>> window = pass_window(LensPower(-3.00, -1.25, 1), find_standard("ansi-z80-1-2015"))
    >>> [(row.lowest, row.highest) for row in window.rows]
    [(-3.13, -2.87), (-1.38, -1.12), (178.0, 4.0)]
    """
    ordered = ordered.in_minus_cylinder()
    powers = governing_powers(ordered)

    def window(quantity: Quantity, meridian: float | None, value: float | None) -> Window:
        row = standard.row_for(quantity, powers, lens_type)
        return Window(quantity, meridian, value, row.limit_at(powers), row)

    meridians = [
        ordered.principal_meridians[which] for which in _judged(standard.meridian_rule, ordered)
    ]
    rows = (
        *(window(Quantity.MERIDIAN_POWER, each.direction, each.power) for each in meridians),
        window(Quantity.CYLINDER, None, ordered.cylinder),
        window(Quantity.AXIS, None, ordered.axis),
    )
    return PassWindow(ordered, standard, rows)


def inspect_lens(
    ordered: LensPower,
    measured: LensPower,
    standard: Standard,
    lens_type: LensType = LensType.SINGLE_VISION,
) -> Inspection:
    """The measured lens judged against the ordered one.

    >>> from lensmath.tolerances import find_standard
    >>> ansi = find_standard("ansi-z80-1-2015")
    >>> inspect_lens(LensPower(-3, -1.25, 178), LensPower(-3.12, -1.25, 2), ansi).worst.difference
    4.0
    """
    window = pass_window(ordered, standard, lens_type)
    measured = measured.in_minus_cylinder()
    judged = _judged(standard.meridian_rule, window.ordered)
    values = (
        *(measured.principal_meridians[which].power for which in judged),
        measured.cylinder,
        measured.axis,
    )
    rows = tuple(
        Check(row.quantity, row.meridian, row.ordered, row.limit, row.tolerance, value)
        for row, value in zip(window.rows, values, strict=True)
    )
    return Inspection(standard, rows, window.ordered, measured)


def governing_powers(ordered: LensPower) -> Powers:
    """The powers of a lens by which a table picks its row: absolute values in dioptres.

    >>> governing_powers(LensPower(-8.00, 2.00, 90))[Governing.SPHERE_MERIDIAN]
    6.0
    """
    ordered = ordered.in_minus_cylinder()
    along, across = (abs(meridian.power) for meridian in ordered.principal_meridians)
    return {
        Governing.SPHERE_MERIDIAN: along,
        Governing.STRONGER_MERIDIAN: max(along, across),
        Governing.CYLINDER: abs(ordered.cylinder),
        Governing.HORIZONTAL_MERIDIAN: snapped(abs(ordered.power_along(180))),
        Governing.VERTICAL_MERIDIAN: snapped(abs(ordered.power_along(90))),
    }


def _judged(rule: MeridianRule, ordered: LensPower) -> tuple[int, ...]:
    """Which of the two principal meridians count: 0 along the axis, 1 across it."""
    if rule is MeridianRule.EACH_MERIDIAN:
        return (0, 1)
    if rule is MeridianRule.SPHERE_MERIDIAN:
        return (0,)
    along, across = (abs(meridian.power) for meridian in ordered.principal_meridians)
    return (1,) if across > along + SAME_POWER else (0,)
