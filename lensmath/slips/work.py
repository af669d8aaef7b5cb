"""A reading as it is worked, step by step, from the drum to the written power; and what a slip is.

Powers in dioptres, axes in degrees.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from enum import Enum
from typing import NamedTuple

from lensmath.power import LensPower, snapped, standard_axis
from lensmath.readings import Lines, Readings
from lensmath.scale import HAND_SCALE, GraduatedScale


class Stage(Enum):
    """The part of the work in which a slip is made, in the order of the work."""

    READING = "reading"
    COUNTING = "counting"
    WRITING = "writing"


@dataclass(frozen=True)
class Situation:
    """What a person saw: the readings of one lens, the scale, and perhaps the other eye's lens.

    Without `other_eye` an exchange of the eyes cannot be found.

    Errors  LensError for a reading off the scale.
    """

    readings: Readings
    other_eye: Readings | None = None
    scale: GraduatedScale = HAND_SCALE

    def __post_init__(self) -> None:
        for readings in (self.readings, self.other_eye):
            if readings is not None:
                self.scale.count(*on_drum(readings))


class Work(NamedTuple):
    """The work on one lens so far: what would be written if no more went wrong.

    `readings` are those the person believes in. `axis` is there even while the cylinder is 0, and
    None only where no wheel was read.
    """

    sphere: float
    cylinder: float
    axis: float | None
    readings: Readings
    situation: Situation

    @classmethod
    def on(cls, readings: Readings, situation: Situation) -> Work:
        """The right work on these readings."""
        axis = readings.wheel
        if axis is not None:
            axis = standard_axis(axis + 90 * readings.axis_turned)
        return cls(readings.corrected[0], readings.travel, axis, readings, situation)

    @property
    def power(self) -> LensPower:
        """The lens, spelt as it is written."""
        return LensPower(self.sphere, self.cylinder, self.axis)

    @property
    def spelling(self) -> tuple[float, float, float | None]:
        """Sphere, cylinder and axis, as far as they are written: a sphere has no axis."""
        return self.sphere, self.cylinder, self.axis if self.cylinder else None

    def rewritten(self, sphere: float, cylinder: float) -> Work:
        """The same work with another sphere and cylinder."""
        return self._replace(sphere=snapped(sphere), cylinder=snapped(cylinder))

    def turned_by_90(self) -> Work:
        """The same work with the axis turned by 90."""
        return self if self.axis is None else self._replace(axis=standard_axis(self.axis + 90))

    def transposed(self) -> Work:
        """The same work, rightly written in the other form; a sphere has only one."""
        return self.rewritten(self.sphere + self.cylinder, -self.cylinder).turned_by_90()

    def from_the_second(self) -> Work:
        """The right work from the second reading to the first, which gives the other form."""
        readings = self.readings
        if readings.second is None:
            return self
        lines = Lines.CYLINDER if readings.sharp_first is Lines.SPHERE else Lines.SPHERE
        back = replace(
            readings,
            first=readings.second,
            second=readings.first,
            sharp_first=lines,
            turned=None,
        )
        return Work.on(back, self.situation)


@dataclass(frozen=True)
class Slip:
    """One classical mistake.

    `sentence` tells the learner what went wrong. `made` gives the work as it goes on from the slip,
    once for each way of making it; nothing where the slip cannot be made.
    """

    name: str
    stage: Stage
    sentence: str
    made: Callable[[Work], Iterable[Work]] = field(repr=False, compare=False)

    def changes(self, work: Work) -> Iterator[Work]:
        """The work with this slip, where it makes a difference to what is written."""
        return (after for after in self.made(work) if after.spelling != work.spelling)


def on_drum(readings: Readings) -> tuple[float, float]:
    """Both readings as the drum shows them, zero error included."""
    return readings.first, readings.first if readings.second is None else readings.second
