"""From values as ordered and measured to the rows of a report, by whatever a standard holds.

The quantities of a standard are looked up, so a table with more rows checks more and needs no code.
Where a standard lets one of several limits do, the row is the one that decided.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import chain
from typing import NamedTuple

from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.inspection import Check, Report, either_of, worst_of
from lensmath.tolerances.model import LensState, LensType, Powers, Quantity, Row, Standard


class Compared(NamedTuple):
    """One value as ordered and as measured; None for what is not known."""

    ordered: float | None = None
    measured: float | None = None
    eye: Eye | None = None


Comparisons = Mapping[Quantity, Sequence[Compared]]
"""What is compared of each quantity: one value, or one for each eye."""

Found = Check | Quantity
"""A row, or a quantity that was measured and for which there is no row."""


_Limit = tuple[Quantity, float | None]
"""What is limited, and how far."""


def checked_scope(standard: Standard, state: LensState, lens_type: LensType) -> Standard:
    """The standard, when it is for such a lens in such a state.

    Errors  LensError when it is not.
    """
    if state not in standard.lens_states:
        states = " and ".join(each.value for each in standard.lens_states)
        raise LensError(
            f"{standard.designation} is for {states} lenses; choose a standard for {state.value} "
            "ones."
        )
    if lens_type not in standard.lens_types:
        types = ", ".join(each.value for each in standard.lens_types)
        raise LensError(
            f"{standard.designation} has no limits for {lens_type.value} lenses; its tables are "
            f"for these: {types}."
        )
    return standard


def covered(comparisons: Comparisons, standard: Standard, lens_type: LensType) -> Comparisons:
    """Of several ways to compare the same measurement, those that the standard has limits for.

    All of them when it has none, so that the measurement is not lost.
    """
    held = {
        quantity: values
        for quantity, values in comparisons.items()
        if standard.checks(quantity, lens_type)
    }
    return held or comparisons


def judged(
    comparisons: Comparisons, lenses: Sequence[Powers], standard: Standard, lens_type: LensType
) -> Iterator[Found]:
    """The rows of these comparisons, or the quantities for which there is no row.

    Each of the `lenses` picks limits by its powers. Where several come up, one of them is enough.
    A quantity has no row when the standard has no limit for it or the order no value.
    """
    for group in dict.fromkeys(standard.either_of(quantity) for quantity in comparisons):
        picked = [_limits(group, powers, standard, lens_type) for powers in lenses]
        branches = [
            [
                Check(quantity, None, each.ordered, amount, row, each.measured, eye=each.eye)
                for each in comparisons.get(quantity, (Compared(),))
            ]
            for (quantity, amount), row in _together(picked, group)
        ]
        if not branches or (len(group) == 1 and comparisons[group[0]][0].ordered is None):
            yield from (quantity for quantity in group if quantity in comparisons)
        elif len(branches) == 1:
            yield from branches[0]
        else:
            mixed = any(limits.keys() != picked[0].keys() for limits in picked)
            yield either_of([worst_of(branch) for branch in branches], mixed=mixed)


def report(standard: Standard, found: Iterable[Found]) -> Report:
    """The rows together, and what has none.

    Errors  LensError when there is no row at all.
    """
    found = tuple(found)
    rows = tuple(each for each in found if isinstance(each, Check))
    unchecked = tuple(dict.fromkeys(each for each in found if isinstance(each, Quantity)))
    if not rows:
        given = ", ".join(quantity.value for quantity in unchecked) or "nothing"
        raise LensError(
            f"{standard.designation} can judge none of what was measured ({given}); give a value "
            "that was ordered and that it has a limit for."
        )
    return Report(standard, rows, unchecked=unchecked)


def _limits(
    group: Sequence[Quantity], powers: Powers, standard: Standard, lens_type: LensType
) -> Mapping[_Limit, Row]:
    found = ((quantity, standard.find_row(quantity, powers, lens_type)) for quantity in group)
    return {(quantity, row.limit_at(powers)): row for quantity, row in found if row is not None}


def _together(
    picked: Iterable[Mapping[_Limit, Row]], group: Sequence[Quantity]
) -> Iterable[tuple[_Limit, Row]]:
    """The limits of all lenses, in the order of the standard; of rows alike, the less sure one.

    Which eye has which power is not to decide anything.
    """
    rows = sorted(
        chain(*(limits.items() for limits in picked)), key=lambda each: each[1].confidence.doubt
    )
    return sorted(dict(rows).items(), key=lambda each: group.index(each[0][0]))
