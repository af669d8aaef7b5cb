"""All that can be measured of one lens against its order: power, addition, prism and form.

Each value is compared as it was measured: no prism is worked out from a displacement.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from lensmath.comparison import Compared, Comparisons, Found, checked_scope, covered, judged, report
from lensmath.eye import Eye
from lensmath.inspection import Report, governing_powers, inspect_lens
from lensmath.job import MeasuredLens, OrderedLens
from lensmath.tolerances.model import (
    Governing,
    LensState,
    LensType,
    Powers,
    Quantity,
    Standard,
)

_ORDERED = {
    Quantity.ADDITION: "addition",
    Quantity.CENTRE_THICKNESS: "centre_thickness",
    Quantity.BASE_CURVE: "base_curve",
    Quantity.SEGMENT_HEIGHT: "segment_height",
    Quantity.SEGMENT_WIDTH: "segment_width",
    Quantity.SEGMENT_DEPTH: "segment_depth",
    Quantity.INTERMEDIATE_DEPTH: "intermediate_depth",
    Quantity.FITTING_POINT_HEIGHT: "fitting_point_height",
    Quantity.FITTING_POINT_DISTANCE: "fitting_point_distance",
}
# Nobody orders these: none is wanted.
_UNWANTED = {
    Quantity.WARPAGE: "warpage",
    Quantity.SEGMENT_TILT: "segment_tilt",
    Quantity.MARKS_TILT: "marks_tilt",
}


def inspect_unmounted(
    ordered: OrderedLens,
    measured: MeasuredLens,
    standard: Standard,
    lens_type: LensType = LensType.SINGLE_VISION,
) -> Report:
    """One lens that is in no frame, judged by whatever was measured of it.

    Errors  LensError for a standard that is not for such a lens or not for unmounted ones, and
            when it has no limit for anything that was measured.

    >>> from lensmath.power import LensPower
    >>> from lensmath.prism import Prism
    >>> from lensmath.tolerances import find_standard
    >>> ordered = OrderedLens(LensPower(0.50, -2.50, 20))
    >>> measured = MeasuredLens(prism=Prism(0.45, 0.40))
    >>> found = inspect_unmounted(ordered, measured, find_standard("iso-8980-1-2017"))
    >>> [(row.quantity.value, row.limit, row.verdict.value) for row in found.rows]
    [('horizontal prism', 0.45, 'inside'), ('vertical prism', 0.35, 'outside')]
    """
    checked_scope(standard, LensState.UNCUT, lens_type)
    comparisons = _prism_comparisons(ordered, measured, standard, lens_type)
    return report(
        standard,
        (
            *lens_rows(ordered, measured, standard, lens_type),
            *judged(comparisons, [order_of(ordered)], standard, lens_type),
        ),
    )


def lens_rows(
    ordered: OrderedLens,
    measured: MeasuredLens,
    standard: Standard,
    lens_type: LensType,
    eye: Eye | None = None,
) -> Iterator[Found]:
    """What a lens has by itself, mounted or not: everything but its prism and its PRP.

    `eye` is only written into the rows.
    """
    if measured.power is not None:
        inspection = inspect_lens(ordered.power, measured.power, standard, lens_type)
        yield from (replace(row, eye=eye) for row in inspection.rows)
    values = {
        quantity: Compared(getattr(ordered, name), getattr(measured, name), eye)
        for quantity, name in _ORDERED.items()
    }
    for quantity, name in _UNWANTED.items():
        values[quantity] = Compared(0.0, getattr(measured, name), eye)
    comparisons = {
        quantity: (value,) for quantity, value in values.items() if value.measured is not None
    }
    yield from judged(comparisons, [order_of(ordered)], standard, lens_type)


def order_of(ordered: OrderedLens) -> Powers:
    """All of an order by which a table may pick its row."""
    powers = {
        **governing_powers(ordered.power),
        Governing.HORIZONTAL_PRISM: abs(ordered.prism.x),
        Governing.VERTICAL_PRISM: abs(ordered.prism.y),
    }
    if ordered.addition is not None:
        powers[Governing.ADDITION] = ordered.addition
    return powers


def _prism_comparisons(
    ordered: OrderedLens, measured: MeasuredLens, standard: Standard, lens_type: LensType
) -> Comparisons:
    """The prism at the PRP as one arrow or in two parts, whichever the standard limits."""
    found: dict[Quantity, Sequence[Compared]] = {}
    if measured.prism is not None:
        error = measured.prism - ordered.prism
        ways = {
            Quantity.PRISM_ERROR: (Compared(0.0, error.amount),),
            Quantity.HORIZONTAL_PRISM: (Compared(ordered.prism.x, measured.prism.x),),
            Quantity.VERTICAL_PRISM: (Compared(ordered.prism.y, measured.prism.y),),
        }
        found.update(covered(ways, standard, lens_type))
    if measured.prp_displacement is not None:
        found[Quantity.PRP_DISPLACEMENT] = (Compared(0.0, measured.prp_displacement),)
    return found
