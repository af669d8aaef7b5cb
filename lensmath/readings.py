"""What a manual lensmeter shows, turned into the power of the lens.

The target has two sets of lines at right angles, sphere lines and cylinder lines. The drum is
turned until one set is sharp, then until the other is; the wheel gives the axis. With the wheel at
A, sphere lines sharp at S and cylinder lines sharp at S + C, the lens is S, C, axis A. Readings in
dioptres, the wheel in degrees. Nothing is rounded: a reading may lie between the marks.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from lensmath.errors import LensError
from lensmath.power import LensPower, snapped, standard_axis
from lensmath.scale import Direction, shown

_STRONGEST_READING = 30.0  # dioptres; beyond every hand instrument (common practice)


class Lines(Enum):
    """The lines of the target that are sharp at the first reading."""

    SPHERE = "the sphere lines"
    CYLINDER = "the cylinder lines"
    BOTH = "both sets of lines at once"


class Form(Enum):
    """The form of the power that a pair of readings gives directly."""

    SPHERE = "a sphere"
    MINUS = "minus cylinder"
    PLUS = "plus cylinder"


@dataclass(frozen=True)
class Readings:
    """The readings of one lens, in the order they were taken, and the power they describe.

    The sphere is the first reading. The cylinder is the travel from the first to the second, never
    the second number itself. The axis is the wheel, turned by 90 when the cylinder lines were sharp
    first. Travel toward minus gives the minus form, toward plus the plus form of the same lens.
    No travel is a sphere, which needs no axis.

    Units   `first`, `second` and `zero_error` in dioptres, each within +/-30; `wheel` in degrees,
            0 to 180. `zero_error` is what the drum reads with no lens; each reading loses it.
    Errors  LensError for a number off its scale, a second reading that is missing or one too many,
            a travel without the wheel, or a direction in `turned` that the readings contradict.
    Source  common-practice

    >>> Readings(-0.75, -3.25, wheel=112).power
    LensPower(sphere=-0.75, cylinder=-2.5, axis=112.0)
    >>> Readings(-3.25, -0.75, sharp_first=Lines.CYLINDER, wheel=112).power
    LensPower(sphere=-3.25, cylinder=2.5, axis=22.0)
    """

    first: float
    second: float | None = None
    sharp_first: Lines = Lines.SPHERE
    wheel: float | None = None
    turned: Direction | None = None
    zero_error: float = 0.0

    def __post_init__(self) -> None:
        _check_drum("first reading", self.first)
        _check_drum("zero error", self.zero_error)
        if self.second is not None:
            _check_drum("second reading", self.second)
        if self.wheel is not None and not 0 <= self.wheel <= 180:
            given = f"{self.wheel:g}".replace("-", "\N{MINUS SIGN}")
            raise LensError(
                f"The axis wheel reads from 1 to 180 degrees (0 is 180); {given} was given."
            )
        self._check_sharp_lines()
        if self.travel != 0 and self.wheel is None:
            raise LensError(
                f"The readings differ, so the lens has a cylinder of {shown(self.travel, '+')} D; "
                "give the axis wheel, from 1 to 180 degrees."
            )
        if self.turned is not None and self.turned is not self.direction:
            raise LensError(
                f"The drum was noted as turned {self.turned.value}, but from {self._path()} "
                f"it goes {self.direction.value}; check the sign of both readings."
            )

    def _check_sharp_lines(self) -> None:
        if self.sharp_first is not Lines.BOTH and self.second is None:
            raise LensError(
                f"Only {self.sharp_first.value} were sharp at {shown(self.first, '+')} D; give the "
                "second reading, where the other set is sharp."
            )
        if self.sharp_first is Lines.BOTH and self.travel != 0:
            raise LensError(
                "Both sets of lines were noted as sharp at once, which is one reading, but the "
                f"readings go from {self._path()}; leave the second out, or say which lines "
                "were sharp first."
            )

    def _path(self) -> str:
        second = self.first if self.second is None else self.second
        return f"{shown(self.first, '+')} D to {shown(second, '+')} D"

    @property
    def corrected(self) -> tuple[float, float]:
        """Both readings less the zero error; alike when one reading sharpens both sets."""
        second = self.first if self.second is None else self.second
        return snapped(self.first - self.zero_error), snapped(second - self.zero_error)

    @property
    def travel(self) -> float:
        """Second reading minus first, signed: the cylinder."""
        first, second = self.corrected
        return snapped(second - first)

    @property
    def direction(self) -> Direction:
        """The way the drum went from the first reading to the second."""
        return Direction.of(self.travel)

    @property
    def form(self) -> Form:
        """The form that the readings give directly."""
        if self.travel == 0:
            return Form.SPHERE
        return Form.PLUS if self.travel > 0 else Form.MINUS

    @property
    def axis_turned(self) -> bool:
        """Whether the axis is the wheel turned by 90."""
        return self.sharp_first is Lines.CYLINDER and self.form is not Form.SPHERE

    @property
    def power(self) -> LensPower:
        """The lens as read, in the form that the readings give directly."""
        axis = self.wheel
        if axis is not None and self.axis_turned:
            axis = standard_axis(axis + 90)
        return LensPower(self.corrected[0], self.travel, axis)

    @property
    def minus_form(self) -> LensPower:
        """The lens in minus cylinder, whichever form was read."""
        return self.power.in_minus_cylinder()

    @property
    def plus_form(self) -> LensPower:
        """The lens in plus cylinder, whichever form was read."""
        return self.power.in_plus_cylinder()


def _check_drum(name: str, value: float) -> None:
    if not abs(snapped(value)) <= _STRONGEST_READING:
        raise LensError(
            f"The {name} must lie from {shown(-_STRONGEST_READING)} to "
            f"{shown(_STRONGEST_READING, '+')} D; "
            f"{shown(value, '+')} D was given."
        )
