"""A pair in its frame against its order: each lens, the prism imbalance, PDs, heights.

The imbalance that counts is the error: that of the pair as measured less that of the pair as
ordered, so thinning prism that is alike in both lenses cancels. The limit that it has goes by the
powers along the meridian concerned, and may be one in millimetres instead. To be judged, prism is
never worked out from a distance, nor a distance from a prism: each is compared as it was measured.
Whether the two go together is asked by `prism_misfits`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from lensmath.centration import Decentration
from lensmath.comparison import Compared, Comparisons, checked_scope, judged, report
from lensmath.decentration import prism_by_decentration
from lensmath.eye import Eye
from lensmath.imbalance import Pair
from lensmath.inspection import Report
from lensmath.job import LensT, MeasuredLens, OrderedLens, Spectacles
from lensmath.lens_inspection import lens_rows, order_of
from lensmath.power import snapped
from lensmath.tolerances.model import LensState, LensType, PairRule, Powers, Quantity, Standard

# Right less left, of values that both lenses have.
_DIFFERENCES = {
    Quantity.PRP_HEIGHT_DIFFERENCE: "prp_height",
    Quantity.SEGMENT_HEIGHT_DIFFERENCE: "segment_height",
    Quantity.SEGMENT_WIDTH_DIFFERENCE: "segment_width",
    Quantity.SEGMENT_DEPTH_DIFFERENCE: "segment_depth",
    Quantity.INTERMEDIATE_DEPTH_DIFFERENCE: "intermediate_depth",
    Quantity.FITTING_POINT_HEIGHT_DIFFERENCE: "fitting_point_height",
}


def inspect_pair(
    ordered: Spectacles[OrderedLens],
    measured: Spectacles[MeasuredLens],
    standard: Standard,
    lens_type: LensType = LensType.SINGLE_VISION,
) -> Report:
    """Both lenses in their frame, judged by whatever was measured of them.

    Shape   The rows of the right lens, of the left lens, of the pair. A difference in height is
            right less left; an imbalance is that before the right eye, positive for base in and up.
    Errors  LensError for a standard that is not for such lenses or not for mounted ones, and when
            it has no limit for anything that was measured.

    >>> from lensmath.power import LensPower
    >>> from lensmath.tolerances import find_standard
    >>> ordered = Spectacles(OrderedLens(LensPower(-7)), OrderedLens(LensPower(-5)))
    >>> measured = Spectacles(MeasuredLens(prp_height=22), MeasuredLens(prp_height=20))
    >>> found = inspect_pair(ordered, measured, find_standard("ansi-z80-1-2015"))
    >>> found.verdict.value, found.worst.quantity.value, found.worst.difference, found.worst.limit
    ('outside', 'height difference of the PRPs', 2.0, 1.0)
    """
    checked_scope(standard, LensState.MOUNTED, lens_type)
    lenses = [
        found
        for eye in Eye
        for found in lens_rows(ordered.of(eye), measured.of(eye), standard, lens_type, eye)
    ]
    pair = judged(
        _comparisons(ordered, measured),
        _orders(ordered, standard.pair_rule),
        standard,
        lens_type,
    )
    return report(standard, (*lenses, *pair))


_READ = 0.25  # prism dioptres, and
_MEASURED = 0.5  # mm: how well prism and a place are read by hand. Common practice.


class Misfit(NamedTuple):
    """An imbalance that does not go with where the lenses stand.

    Units   prism dioptres before the right eye, measured less ordered, positive for base in and
            up: what `follows` from the places, and what was `measured`.
    """

    quantity: Quantity
    follows: float
    measured: float


def prism_misfits(
    ordered: Spectacles[OrderedLens], measured: Spectacles[MeasuredLens]
) -> tuple[Misfit, ...]:
    """Where the prism of both lenses contradicts their PDs or heights by Prentice's rule.

    Prism counts at the place that was ordered. A lens that stands elsewhere has some there, unless
    it was read where the target stood in the middle, which is where every lens has none. A place
    that is not known is taken as ordered, and of a PD alone each lens has half.

    Source  long-1976

    >>> from lensmath.power import LensPower
    >>> from lensmath.prism import Prism
    >>> none, order = MeasuredLens(prism=Prism(0, 0)), OrderedLens(LensPower(-2.5))
    >>> prism_misfits(Spectacles(order, order, pd=64), Spectacles(none, none, pd=74))[0].follows
    2.5
    """
    if measured.right.prism is None or measured.left.prism is None:
        return ()
    got = Pair(measured.right.prism, measured.left.prism).imbalance(Eye.RIGHT)
    got -= Pair(ordered.right.prism, ordered.left.prism).imbalance(Eye.RIGHT)
    outward, unplaced = _outward(ordered, measured)
    up = [_error(ordered.of(eye).prp_height, measured.of(eye).prp_height) for eye in Eye]
    powers = [ordered.of(eye).power for eye in Eye]
    right, left = (
        prism_by_decentration(power, Decentration(-(out or 0.0), high or 0.0).before(eye))
        for eye, power, out, high in zip(Eye, powers, outward, up, strict=True)
    )
    wanted = Pair(right, left).imbalance(Eye.RIGHT)
    found = []
    for quantity, places, along, doubt, follows, read in (
        (Quantity.HORIZONTAL_IMBALANCE, outward, 180, unplaced / 2, wanted.x, got.x),
        (Quantity.VERTICAL_IMBALANCE, up, 90, 0.0, wanted.y, got.y),
    ):
        first, second = (power.power_along(along) for power in powers)
        doubtful = _MEASURED * max(abs(first), abs(second)) + abs(first - second) * abs(doubt)
        if places != [None, None] and snapped(abs(follows - read)) > _READ + doubtful / 10:
            found.append(Misfit(quantity, follows, read))
    return tuple(found)


def _outward(
    ordered: Spectacles[OrderedLens], measured: Spectacles[MeasuredLens]
) -> tuple[list[float | None], float]:
    """How far each PRP is too far out (mm), and what of it may belong to either lens."""
    each = [_error(ordered.of(eye).prp_distance, measured.of(eye).prp_distance) for eye in Eye]
    both = _error(ordered.prp_separation, measured.prp_separation)
    if both is None:
        return each, 0.0
    rest = both - sum(error or 0.0 for error in each)
    unknown = each.count(None)
    share = rest / (unknown or 2)
    spread = [(error or 0.0) + (share if error is None or not unknown else 0.0) for error in each]
    return [*spread], 0.0 if unknown == 1 else rest


def _error(ordered: float | None, measured: float | None) -> float | None:
    return None if ordered is None or measured is None else measured - ordered


def _orders(ordered: Spectacles[OrderedLens], rule: PairRule) -> Sequence[Powers]:
    """What picks the limits of the pair: each lens, or the stronger power of every kind."""
    right, left = order_of(ordered.right), order_of(ordered.left)
    if rule is PairRule.EACH_LENS:
        return right, left
    lenses = right, left
    return ({of: max(each[of] for each in lenses if of in each) for of in {**right, **left}},)


def _comparisons(
    ordered: Spectacles[OrderedLens], measured: Spectacles[MeasuredLens]
) -> Comparisons:
    found = {
        **_imbalances(ordered, measured),
        **_prp_distances(ordered, measured),
        **_differences(ordered, measured),
    }
    if measured.near_pd is not None:
        found[Quantity.SEGMENT_SEPARATION] = (Compared(ordered.near_pd, measured.near_pd),)
    return found


def _imbalances(
    ordered: Spectacles[OrderedLens], measured: Spectacles[MeasuredLens]
) -> Comparisons:
    right, left = measured.right.prism, measured.left.prism
    if right is None and left is None:
        return {}
    wanted = Pair(ordered.right.prism, ordered.left.prism).imbalance(Eye.RIGHT)
    vertical, horizontal = Compared(wanted.y), Compared(wanted.x)
    if right is not None and left is not None:
        got = Pair(right, left).imbalance(Eye.RIGHT)
        vertical, horizontal = Compared(wanted.y, got.y), Compared(wanted.x, got.x)
    return {
        Quantity.VERTICAL_IMBALANCE: (vertical,),
        Quantity.HORIZONTAL_IMBALANCE: (horizontal,),
    }


def _prp_distances(
    ordered: Spectacles[OrderedLens], measured: Spectacles[MeasuredLens]
) -> Comparisons:
    """From eye to eye where that is known, and of both eyes where that of one is known."""
    found: dict[Quantity, Sequence[Compared]] = {}
    if measured.prp_separation is not None:
        separation = Compared(ordered.prp_separation, measured.prp_separation)
        found[Quantity.PRP_SEPARATION] = (separation,)
    each = tuple(
        Compared(ordered.of(eye).prp_distance, measured.of(eye).prp_distance, eye) for eye in Eye
    )
    if any(value.measured is not None for value in each):
        found[Quantity.PRP_DISTANCE] = each
    return found


def _differences(
    ordered: Spectacles[OrderedLens], measured: Spectacles[MeasuredLens]
) -> Comparisons:
    """Right less left, where both were measured; without an order none is wanted."""
    found: dict[Quantity, Sequence[Compared]] = {}
    for quantity, name in _DIFFERENCES.items():
        got = _right_less_left(measured, name)
        if got is not None:
            found[quantity] = (Compared(_right_less_left(ordered, name) or 0.0, got),)
    return found


def _right_less_left(pair: Spectacles[LensT], name: str) -> float | None:
    right, left = (getattr(pair.of(eye), name) for eye in Eye)
    return None if right is None or left is None else snapped(right - left)
