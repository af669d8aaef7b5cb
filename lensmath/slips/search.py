"""The search for the fewest slips that explain what was written."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from lensmath.errors import LensError
from lensmath.power import LensPower, axis_difference, snapped
from lensmath.readings import Form
from lensmath.scale import shown
from lensmath.slips.catalogue import CATALOGUE
from lensmath.slips.work import Situation, Slip, Stage, Work

_Chain = tuple[Slip, ...]
_Works = tuple[Work, ...]

NEAR_AXIS = 5.0
"""Degrees up to which an axis off is rather set or read inexactly than a slip (common practice)."""


class Verdict(Enum):
    """What is to be said of a written power."""

    RIGHT = "right"
    OTHER_FORM = "right lens, other form"
    SLIPS = "explained by slips"
    AXIS_OFF = "sphere and cylinder right, axis a little off"
    UNEXPLAINED = "no known slip explains it"


class Explanation(NamedTuple):
    """The slips, in the order of the work, and the power that they give, in the form written."""

    slips: tuple[Slip, ...]
    written: LensPower


@dataclass(frozen=True)
class Finding:
    """The verdict, and every smallest set of slips where there is one.

    An axis a little off, by `axis_off` degrees, needs no slip: with it stand only single slips.
    """

    verdict: Verdict
    explanations: tuple[Explanation, ...] = ()
    axis_off: float = 0.0


def explain(
    situation: Situation,
    attempt: LensPower,
    *,
    form: Form | None = None,
    most: int = 2,
    power_tolerance: float = 0.0,
    axis_tolerance: float = 0.0,
) -> Finding:
    """Why this power was written for this reading: the fewest slips that give it, all ties.

    Without `form` either form of a lens is as good as the other; but an explanation that needs the
    lens transposed once more, and rightly, after the last slip counts only where no other of its
    size does without. With `form` spellings are compared: the right lens in the other form is told
    apart, and nothing is transposed after the last slip.

    Units   `power_tolerance` in dioptres, for the sphere and the cylinder each, for an attempt
            that was rounded; `axis_tolerance` in degrees. Both are inclusive. `most` is the largest
            number of slips that is looked for.
    Errors  LensError for a form other than plus or minus cylinder and for a negative tolerance.
    """
    sought = _Sought.of(attempt, form, power_tolerance, axis_tolerance)
    as_asked = has_form(attempt, form)
    if _explanations(sought, situation, 0):
        return Finding(Verdict.RIGHT if as_asked else Verdict.OTHER_FORM)
    nearly = _explanations(sought._replace(axis_tolerance=NEAR_AXIS), situation, 0)
    if nearly and as_asked:
        off = axis_difference(nearly[0].written.axis or 0, attempt.axis or 0)
        single = _explanations(sought, situation, 1) if most else ()
        return Finding(Verdict.AXIS_OFF, single, off)
    for size in range(1, most + 1):
        if explanations := _explanations(sought, situation, size):
            return Finding(Verdict.SLIPS, explanations)
    return Finding(Verdict.UNEXPLAINED)


def agreement(lens: LensPower, attempt: LensPower, axis_tolerance: float = 0.0) -> dict[str, bool]:
    """Whether sphere, cylinder and axis are right, each for itself, in the form of the attempt.

    The axis is left out where the lens or the attempt has none.

    >>> agreement(LensPower(-1, -2, 40), LensPower(-3, 2, 45))
    {'sphere': True, 'cylinder': True, 'axis': False}
    """
    lens = lens.in_plus_cylinder() if attempt.cylinder > 0 else lens.in_minus_cylinder()
    parts = {
        "sphere": lens.sphere == attempt.sphere,
        "cylinder": lens.cylinder == attempt.cylinder,
    }
    if lens.axis is not None and attempt.axis is not None:
        parts["axis"] = axis_difference(lens.axis, attempt.axis) <= axis_tolerance
    return parts


def has_form(power: LensPower, form: Form | None) -> bool:
    """Whether a power is in the form that was asked for; a sphere is in either."""
    return form is None or power.cylinder == 0 or (power.cylinder > 0) == (form is Form.PLUS)


def written_with(situation: Situation, slips: Sequence[Slip]) -> tuple[LensPower, ...]:
    """Everything that a person who makes exactly these slips may write, in either form.

    The slips are made in the order of the work. None where they cannot be made on this reading, or
    make no difference.

    >>> from lensmath.readings import Readings
    >>> from lensmath.slips.catalogue import CYLINDER_SIGN_DROPPED
    >>> written_with(Situation(Readings(-1.00, -2.00, wheel=67)), [CYLINDER_SIGN_DROPPED])
    (LensPower(sphere=-1.0, cylinder=1.0, axis=67.0),)
    """
    ordered = tuple(slip for slip in CATALOGUE if slip in slips)
    return tuple(
        work.power for _, works in _chains(ordered, situation, len(ordered)) for work in works
    )


def _explanations(sought: _Sought, situation: Situation, size: int) -> tuple[Explanation, ...]:
    """Every set of `size` slips that gives what is sought, as it is spelt if any does."""
    fits = [
        (found.transposed, Explanation(chain, found.written))
        for chain, works in _chains(CATALOGUE, situation, size)
        if (found := sought.found_in(works)) is not None
    ]
    must_transpose = all(transposed for transposed, _ in fits)
    return tuple(fit for transposed, fit in fits if transposed == must_transpose)


def _chains(catalogue: _Chain, situation: Situation, size: int) -> Iterator[tuple[_Chain, _Works]]:
    """Every set of `size` slips that can be made, with all that it may lead to.

    Between the stages stand the choices that are no slips: to start from either reading, and to
    transpose what was counted.
    """
    reading, counting, writing = (
        tuple(slip for slip in catalogue if slip.stage is stage) for stage in Stage
    )
    start = (Work.on(situation.readings, situation),)
    for read, misread in _worked(reading, start, size):
        either_way = _distinct(*misread, *(work.from_the_second() for work in misread))
        for counted, miscounted in _worked(counting, either_way, size - len(read)):
            either_form = _distinct(*miscounted, *(work.transposed() for work in miscounted))
            left = size - len(read) - len(counted)
            for written, miswritten in _worked(writing, either_form, left):
                if len(written) == left:
                    yield read + counted + written, _distinct(*miswritten)


def _worked(slips: _Chain, works: _Works, most: int) -> Iterator[tuple[_Chain, _Works]]:
    """Every way through one stage with at most so many slips, and what comes of it."""
    yield (), works
    if most == 0:
        return
    for position, slip in enumerate(slips, start=1):
        after = tuple(changed for work in works for changed in slip.changes(work))
        if after:
            for more, results in _worked(slips[position:], after, most - 1):
                yield (slip, *more), results


def _distinct(*works: Work) -> _Works:
    """One work for each spelling."""
    return tuple({work.spelling: work for work in works}.values())


class _Found(NamedTuple):
    """The work that was sought, in the form of the attempt, and whether it had to be transposed."""

    written: LensPower
    transposed: bool


class _Sought(NamedTuple):
    """What was written, as it counts: one spelling, or both forms of it."""

    spellings: tuple[LensPower, ...]
    power_tolerance: float
    axis_tolerance: float

    @classmethod
    def of(
        cls, attempt: LensPower, form: Form | None, power_tolerance: float, axis_tolerance: float
    ) -> _Sought:
        if form is Form.SPHERE:
            raise LensError("A power is asked for in minus cylinder or in plus cylinder.")
        for tolerance in (power_tolerance, axis_tolerance):
            if not tolerance >= 0:
                raise LensError(f"A tolerance is zero or more; {shown(tolerance)} was given.")
        other_form = () if form is not None else (attempt.transposed(),)
        return cls((attempt, *other_form), power_tolerance, axis_tolerance)

    def found_in(self, works: _Works) -> _Found | None:
        """The first of these works that was written, and rather as it was spelt."""
        for transposed, spelling in enumerate(self.spellings):
            for work in works:
                if self._near(work, spelling):
                    written = work.transposed() if transposed else work
                    return _Found(written.power, transposed > 0)
        return None

    def _near(self, work: Work, spelling: LensPower) -> bool:
        sphere, cylinder, axis = work.spelling
        if snapped(abs(sphere - spelling.sphere)) > self.power_tolerance:
            return False
        if snapped(abs(cylinder - spelling.cylinder)) > self.power_tolerance:
            return False
        if axis is None or spelling.axis is None:
            return True
        return axis_difference(axis, spelling.axis) <= self.axis_tolerance
