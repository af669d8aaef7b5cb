"""What a problem is made of at each level: readings, lenses, axes.

Level 1 keeps to quarters, on one side of zero and of the change of step. In level 2 each pair of
readings has an eighth, crosses zero, or crosses the change of step. Level 3 takes everything: also
travel toward plus, and axes near 180.
"""

from __future__ import annotations

from lensmath.drills.generator import SplitMix64
from lensmath.eye import Eye
from lensmath.power import LensPower, snapped
from lensmath.scale import HAND_SCALE

STRONGEST = 8.0  # dioptres; on most lenses that are read by hand (common practice)
WEAKEST_TRAVEL, LONGEST_TRAVEL = 0.25, 4.0  # dioptres, of a cylinder in a drill
NEAR_180 = 10  # degrees, to either side

_MARKS = HAND_SCALE.marks(-STRONGEST, STRONGEST)
_QUARTERS = tuple(mark for mark in _MARKS if (4 * mark).is_integer())
_CHANGE_OF_STEP = HAND_SCALE.bands[0].up_to

Pair = tuple[float, float]


def reading(draws: SplitMix64, level: int) -> float:
    """A mark of the hand scale up to 8 D; at level 1 a quarter other than zero."""
    if level > 1:
        return draws.one_of(_MARKS)
    return draws.one_of([mark for mark in _QUARTERS if mark])


def readings(draws: SplitMix64, level: int) -> Pair:
    """A first and a second reading of one lens; before level 3 the travel is toward minus."""
    while True:
        first, second = reading(draws, level), reading(draws, level)
        if not WEAKEST_TRAVEL <= abs(second - first) <= LONGEST_TRAVEL:
            continue
        if level == 3 or (second < first and is_plain(first, second) == (level == 1)):
            return first, second


def is_plain(first: float, second: float) -> bool:
    """Whether two readings are quarters, on one side of zero and of the change of step."""
    weaker, stronger = sorted((abs(first), abs(second)))
    quarters = all((4 * each).is_integer() for each in (first, second))
    return quarters and first * second > 0 and not weaker < _CHANGE_OF_STEP < stronger


def axis(draws: SplitMix64, level: int) -> float:
    """A whole axis: in fives at level 1, any at level 2, at level 3 every other one near 180."""
    if level == 1:
        return 5.0 * draws.between(3, 33)
    if level == 2:
        return float(draws.between(NEAR_180 + 1, 180 - NEAR_180 - 1))
    if draws.between(0, 1):
        return float(draws.between(1, 180))
    return float((draws.between(-NEAR_180, NEAR_180) - 1) % 180 + 1)


def lens(draws: SplitMix64, level: int) -> LensPower:
    """A lens whose meridians are two readings; before level 3 in minus cylinder."""
    first, second = readings(draws, level)
    return LensPower(first, snapped(second - first), axis(draws, level))


def zero_error(draws: SplitMix64, level: int) -> float:
    """A zero error of one or two marks: quarters at level 1, eighths from level 2."""
    return draws.one_of((-2, -1, 1, 2)) / (4 if level == 1 else 8)


def eye(draws: SplitMix64) -> Eye:
    """Either eye."""
    return draws.one_of((Eye.RIGHT, Eye.LEFT))
