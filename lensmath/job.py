"""What was ordered and what was measured: of one lens, and of the pair in its frame.

A measured value may be left out; what is not measured is not judged. Powers and base curves in
dioptres, prism in prism dioptres, tilts in degrees, everything else in millimetres. Heights count
from one level for both eyes, such as the bottom of the lens; a distance of one eye counts from the
middle of the bridge. The PRP is the prism reference point, which without ordered prism is the
optical centre.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from typing import Generic, TypeVar

from lensmath.centration import checked_length
from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.power import LensPower, snapped
from lensmath.prism import NO_PRISM, Prism
from lensmath.scale import shown

# Dioptres and degrees, which have no largest value; all other numbers are lengths.
_NO_LENGTHS = ("addition", "base_curve", "warpage", "segment_tilt", "marks_tilt")


@dataclass(frozen=True, kw_only=True)
class _Lens:
    """What a lens is ordered and measured by, beside its power and prism.

    Errors  LensError for a number that is not finite and for a length outside 0-200 mm.
    """

    addition: float | None = None
    base_curve: float | None = None
    centre_thickness: float | None = None
    prp_height: float | None = None
    prp_distance: float | None = None
    segment_height: float | None = None
    segment_width: float | None = None
    segment_depth: float | None = None
    intermediate_depth: float | None = None
    fitting_point_height: float | None = None
    fitting_point_distance: float | None = None

    def __post_init__(self) -> None:
        for each in fields(self):
            value = getattr(self, each.name)
            if isinstance(value, int | float):
                _check(each.name, value)


@dataclass(frozen=True)
class OrderedLens(_Lens):
    """One lens as ordered. Thinning prism counts as ordered prism.

    Errors  LensError for an addition below zero, and as for every number here.

    >>> OrderedLens(LensPower(-2.00), addition=1.75).prism.amount
    0.0
    """

    power: LensPower
    prism: Prism = NO_PRISM

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.addition is not None and self.addition < 0:
            raise LensError(
                f"An ordered addition is zero or more; {shown(self.addition)} D was given."
            )


@dataclass(frozen=True)
class MeasuredLens(_Lens):
    """One lens as measured.

    Shape   `prism` is that found where the PRP was ordered, by PD and height, and not where the
            lens has it. `prp_displacement`, of an unmounted lens, is how far from the PRP, in any
            direction, the ordered prism is found; its height and distance count in a pair.
            `warpage` is the cylinder that mounting put into the base curve,
            `segment_tilt` and `marks_tilt` are the angles to the horizontal.
    Errors  LensError for a warpage below zero, and as for every number here.
    """

    power: LensPower | None = None
    prism: Prism | None = None
    prp_displacement: float | None = None
    warpage: float | None = None
    segment_tilt: float | None = None
    marks_tilt: float | None = None

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.warpage is not None and self.warpage < 0:
            raise LensError(f"A warpage is zero or more; {shown(self.warpage)} D was given.")


LensT = TypeVar("LensT", OrderedLens, MeasuredLens)


@dataclass(frozen=True)
class Spectacles(Generic[LensT]):
    """Both lenses in their frame, as ordered or as measured.

    Shape   `pd` is the distance between the PRPs and `near_pd` that between the middles of the
            segments, both from eye to eye.
    Errors  LensError for a distance that is not above 0 and at most 200 mm.
    """

    right: LensT
    left: LensT
    pd: float | None = None
    near_pd: float | None = None

    def __post_init__(self) -> None:
        for name, distance in (("PD", self.pd), ("near PD", self.near_pd)):
            if distance is not None:
                checked_length(f"The {name}", distance)

    def of(self, eye: Eye) -> LensT:
        """The lens before one eye."""
        return self.right if eye is Eye.RIGHT else self.left

    @property
    def prp_separation(self) -> float | None:
        """The distance between the PRPs: the PD, or else both monocular distances together.

        >>> lens = OrderedLens(LensPower(-2), prp_distance=31.5)
        >>> Spectacles(lens, lens).prp_separation
        63.0
        """
        right, left = self.right.prp_distance, self.left.prp_distance
        if self.pd is not None or right is None or left is None:
            return self.pd
        return snapped(right + left)


def _check(name: str, value: float) -> None:
    words = name.replace("_", " ").replace("prp", "PRP")
    if name not in _NO_LENGTHS:
        checked_length(f"The {words}", value, zero=True)
    elif not math.isfinite(value):
        raise LensError(f"The {words} must be a number such as 1.75; {shown(value)} was given.")
