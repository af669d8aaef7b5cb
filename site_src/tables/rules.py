"""Single limits, and how the two standards differ in what they judge."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from typing import NamedTuple

from lensmath.decentration import prism_from_pd_error
from lensmath.eye import Eye
from lensmath.inspection import Check, governing_powers, inspect_lens
from lensmath.job import MeasuredLens, OrderedLens, Spectacles
from lensmath.lens_inspection import order_of
from lensmath.notation import write_lens
from lensmath.pair_inspection import inspect_pair
from lensmath.power import LensPower
from lensmath.tolerances import find_standard
from lensmath.tolerances.model import Governing, LensType, Powers, Quantity, Row
from site_src.calculators.answer import Table, axis, power
from site_src.tables.cells import NONE, amount_words, limit_words, limits_table
from site_src.tables.standards import ANSI, MOUNTED, UNCUT, capital

_BOTH = (ANSI, MOUNTED)
_SINGLE = LensType.SINGLE_VISION
_INVENTED_PD = 63.0  # mm


class PdError(NamedTuple):
    """What a wrong PD makes in a pair, in prism dioptres, and what each standard says of it."""

    prism: float
    ansi: str
    iso: str


class Parts(NamedTuple):
    """A limit for each part of a prism, in words."""

    horizontal: str
    vertical: str


def judged_row(
    key: str, quantity: Quantity, ordered: LensPower, lens_type: LensType = _SINGLE
) -> tuple[Row, Powers]:
    """The row of one standard for a quantity of this lens, and the powers that picked it."""
    powers = governing_powers(ordered)
    return find_standard(key).row_for(quantity, powers, lens_type), powers


def limit(key: str, quantity: str, lens_type: str = _SINGLE.value) -> str:
    """A limit of one standard that hangs on nothing, such as 1.0 mm; the others in words."""
    return limit_words(find_standard(key).row_for(Quantity(quantity), {}, LensType(lens_type)))


def axis_limit(key: str, cylinder: float) -> str:
    """The axis limit of one standard for a cylinder, such as ±5°."""
    row = find_standard(key).row_for(Quantity.AXIS, {Governing.CYLINDER: abs(cylinder)})
    return limit_words(row)


def power_limit(key: str, meridian: float) -> str:
    """The limit of one standard for a power along the meridian that picks it, such as ±0.13 D."""
    powers = dict.fromkeys((Governing.SPHERE_MERIDIAN, Governing.STRONGER_MERIDIAN), abs(meridian))
    return amount_words(find_standard(key).row_for(Quantity.MERIDIAN_POWER, powers), powers)


def uncut_prism(ordered: LensPower) -> Parts:
    """The prism limits of an uncut lens by ISO 8980-1, no prism ordered."""
    powers = order_of(OrderedLens(ordered))
    parts = (Quantity.HORIZONTAL_PRISM, Quantity.VERTICAL_PRISM)
    return Parts(
        *(amount_words(find_standard(UNCUT).row_for(part, powers), powers) for part in parts)
    )


def pd_error(ordered: LensPower, error: float) -> PdError:
    """A pair of two such lenses whose PD is so many millimetres too wide, half on each side."""
    order = OrderedLens(ordered)
    prisms = [prism_from_pd_error(ordered, eye, error / 2) for eye in Eye]
    right, left = (MeasuredLens(prism=each, prp_height=0.0) for each in prisms)
    measured = Spectacles(right, left, pd=_INVENTED_PD + error)
    verdicts = (
        inspect_pair(Spectacles(order, order, pd=_INVENTED_PD), measured, find_standard(key))
        for key in _BOTH
    )
    total = sum(prism.amount for prism in prisms)
    return PdError(total, *(found.verdict.value for found in verdicts))


def meridians_judged(*ordered: LensPower) -> Table:
    """Which power of each lens picks the limit, and the limit it picks, under each rule."""

    def cells(lens: LensPower) -> Iterator[str]:
        for key, by in zip(
            _BOTH, (Governing.SPHERE_MERIDIAN, Governing.STRONGER_MERIDIAN), strict=True
        ):
            row, powers = judged_row(key, Quantity.MERIDIAN_POWER, lens)
            yield f"{powers[by]:.2f} D: {amount_words(row, powers)}"

    return limits_table(
        "The power that picks the limit, and the limit",
        ("Ordered", *(find_standard(key).designation for key in _BOTH)),
        ((write_lens(lens), *cells(lens)) for lens in ordered),
    )


def both_verdicts(ordered: LensPower, measured: LensPower) -> Table:
    """One single vision lens judged by both standards, row by row."""
    reports = [inspect_lens(ordered, measured, find_standard(key)) for key in _BOTH]
    judged = [{_label(row): row for row in report.rows} for report in reports]

    def cells(name: str) -> Iterator[str]:
        checks = [found.get(name) for found in judged]
        known = next(check for check in checks if check is not None)
        yield from (_value(known, known.ordered), _value(known, known.measured))
        yield from (_verdict(check) for check in checks)

    return limits_table(
        "One lens, two standards",
        ("Judged", "Ordered", "Read", *(find_standard(key).designation for key in _BOTH)),
        ((name, *cells(name)) for name in dict.fromkeys(chain(*reversed(judged)))),
        kind="rows",
    )


def _label(check: Check) -> str:
    if check.meridian is None:
        return capital(check.quantity)
    return f"Power along {axis(check.meridian).shown}"


def _value(check: Check, value: float | None) -> str:
    if value is None:
        return NONE
    return axis(value).shown if check.quantity is Quantity.AXIS else power(value, exact=True).shown


def _verdict(check: Check | None) -> str:
    if check is None:
        return "not judged"
    return f"{limit_words(check.tolerance)}: {check.verdict.value}"
