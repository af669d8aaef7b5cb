"""A lens on the stop that a learner cannot see: drawn from its number, looked at, and marked.

Powers in dioptres, wheel and axes in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass

from lensmath.drills import choices
from lensmath.drills.generator import SplitMix64, seeded
from lensmath.power import LensPower, snapped
from lensmath.readings import Lines, Readings
from lensmath.slips import Finding, Situation, agreement, explain
from lensmath.target import View

_FINEST_AXIS = 1.0  # degrees; the wheel has no finer marks (common practice)


@dataclass(frozen=True)
class UnseenLens:
    """A lens, and what the drum reads with no lens on the stop.

    Errors  LensError for a reading beyond the drum.

    >>> unseen = UnseenLens(LensPower(-3.25, 2.50, 22), zero_error=0.25)
    >>> unseen.readings.first, unseen.readings.second, unseen.readings.wheel
    (-0.5, -3.0, 112.0)
    """

    lens: LensPower
    zero_error: float = 0.0

    def __post_init__(self) -> None:
        Situation(self.readings)  # which refuses what lies off the scale

    @property
    def readings(self) -> Readings:
        """As they are usually taken: the sphere lines first, then on toward minus."""
        lens = self.lens.in_minus_cylinder()
        first = snapped(lens.sphere + self.zero_error)
        if lens.axis is None:
            return Readings(first, sharp_first=Lines.BOTH, zero_error=self.zero_error)
        second = snapped(first + lens.cylinder)
        return Readings(first, second, wheel=lens.axis, zero_error=self.zero_error)

    def view(self, drum: float, wheel: float) -> View:
        """What is seen with the drum reading `drum`, zero error included.

        Errors  LensError as for `View`.
        """
        return View(self.lens, snapped(drum - self.zero_error), wheel)

    @property
    def axis_tolerance(self) -> float:
        """How far an axis may be off and still be right, in degrees either way.

        Within the play of the wheel the lines stay sharp, so no reader can say more; nor is the
        wheel read more finely than to a degree.
        """
        return max(_FINEST_AXIS, self.view(0, 180).wheel_play())

    def mark(self, attempt: LensPower) -> Finding:
        """What is to be said of a power that was written for this lens, in either form.

        Sphere and cylinder have to agree exactly, for the readings lie on marks; the axis within
        `axis_tolerance`.
        """
        return explain(Situation(self.readings), attempt, axis_tolerance=self.axis_tolerance)

    def agreement(self, attempt: LensPower) -> dict[str, bool]:
        """Which parts are right, the axis within `axis_tolerance`."""
        return agreement(self.lens, attempt, self.axis_tolerance)


def unseen_lens(number: int, level: int) -> UnseenLens:
    """The lens with this number, the same on every machine.

    Level 1 has spheres in quarters; level 2 cylinders in quarters, the axis in tens; level 3
    eighths, any axis and often a zero error. At every level the readings lie on marks of the drum.

    >>> unseen_lens(1, level=2).lens
    LensPower(sphere=-1.5, cylinder=-0.75, axis=120.0)
    """
    draws = seeded(number, f"unseen lens, level {level}")
    if level == 1:
        return UnseenLens(LensPower(choices.reading(draws, level)))
    if level == 2:
        return _with_cylinder(choices.readings(draws, 1), 10.0 * draws.between(1, 18))
    pair, axis = choices.readings(draws, level), choices.axis(draws, level)
    return _with_cylinder(pair, axis, _zero_error(draws, level))


def is_almost_sharp(seen: View) -> bool:
    """Whether lines are blurred no wider than by an eighth on the drum, and none is sharp.

    >>> unseen = UnseenLens(LensPower(-1.125))
    >>> [is_almost_sharp(unseen.view(drum, 180)) for drum in (-0.75, -1, -1.125, -1.25)]
    [False, True, False, True]
    """
    an_eighth = snapped(seen.stop / 10 * 0.125)
    each = (Lines.SPHERE, Lines.CYLINDER)
    near = any(seen.is_sharp(lines, an_eighth) for lines in each)
    return near and not any(seen.is_sharp(lines) for lines in each)


def _with_cylinder(drum: choices.Pair, axis: float, zero_error: float = 0.0) -> UnseenLens:
    low, high = sorted(drum)
    return UnseenLens(LensPower(snapped(high - zero_error), low - high, axis), zero_error)


def _zero_error(draws: SplitMix64, level: int) -> float:
    return draws.one_of((0.0, choices.zero_error(draws, level)))
