"""Inside or outside a limit, and how surely, when the reading itself is uncertain.

A reading near a limit decides little: at the limit the lens is as likely to be outside as inside.
So there are four answers, not two (Source  ilac-g8-2019, 4.2.3, non-binary statements). Which side
of the limit the reading lies on, the limit included, gives "inside" or "outside"; the answer is
clear when the probability of being on that side is at least 95 %, else "but close".

ILAC-G8 draws the border of "close" at the expanded uncertainty, w = U. By hand that leaves almost
nothing clearly inside, so the probability draws it here; far from the other limit it lies 1.64 u,
or 0.82 U, from the limit (the 95 % is common practice).
"""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from lensmath.errors import LensError
from lensmath.power import snapped
from lensmath.scale import shown
from lensmath.student_t import cumulative, quantile
from lensmath.uncertainty import Budget

CLEAR = 0.95
"""The probability from which an answer is clear."""

MOST_READINGS = 100
"""Nobody reads one lens more often."""


class Zone(Enum):
    """What can be said of a lens, as ILAC-G8 splits it, in plain words."""

    INSIDE = "inside"
    INSIDE_BUT_CLOSE = "inside but close"
    OUTSIDE_BUT_CLOSE = "outside but close"
    OUTSIDE = "outside"

    @property
    def close(self) -> bool:
        """Whether to read again before deciding."""
        return self in (Zone.INSIDE_BUT_CLOSE, Zone.OUTSIDE_BUT_CLOSE)


class ZoneEdges(NamedTuple):
    """Up to `inside` a difference is clearly inside, from `outside` clearly outside; absolute.

    `inside` is None when this reading is too uncertain for the limit: not even a difference of 0
    would be clearly inside.
    """

    inside: float | None
    outside: float


def conformance_probability(
    value: float, lower: float, upper: float, u: float, degrees_of_freedom: float = math.inf
) -> float:
    """The probability that what was measured as `value` lies from `lower` to `upper`.

    Φ((upper - value) / u) - Φ((lower - value) / u), with Student t for Φ when u has few degrees of
    freedom. A limit on one side only has the other at infinity. Nothing but the reading is taken
    to be known of the lens.

    Units   All in the unit of the reading; `u` is its combined standard uncertainty.
    Errors  LensError for a value that is not a number, limits in the wrong order, or `u` not above
            0.
    Source  jcgm-106-2012, 7.3 and 7.4

    >>> conformance_probability(0.10, -0.13, 0.13, 0.05)
    0.726
    """
    _check(value, u)
    if not lower < upper:
        raise LensError(
            f"The lower limit lies below the upper; {shown(lower)} and {shown(upper)} were given."
        )
    below_upper = cumulative((upper - value) / u, degrees_of_freedom)
    return snapped(below_upper - cumulative((lower - value) / u, degrees_of_freedom))


def acceptance_limit(limit: float, expanded: float, r: float = 1.0) -> float:
    """The limit less a guard band of r times the expanded uncertainty: AL = TL - r U.

    Below 0, nothing at all would be accepted.

    Source  ilac-g8-2019, jcgm-106-2012; 4.1 and 8.3.2

    >>> acceptance_limit(0.13, 0.10)
    0.03
    """
    return snapped(limit - r * expanded)


def zone_edges(limit: float, u: float, degrees_of_freedom: float = math.inf) -> ZoneEdges:
    """Where the four answers meet, for a limit of plus or minus `limit`.

    Errors  LensError for a limit or `u` not above 0.

    >>> zone_edges(0.13, 0.05)
    ZoneEdges(inside=0.048, outside=0.212)
    """
    outside = snapped(limit + quantile(CLEAR, degrees_of_freedom) * u)
    if Judgement(0.0, limit, u, degrees_of_freedom).zone is not Zone.INSIDE:
        return ZoneEdges(None, outside)
    inside, beyond = 0.0, limit
    while inside < (middle := (inside + beyond) / 2) < beyond:
        if Judgement(middle, limit, u, degrees_of_freedom).zone is Zone.INSIDE:
            inside = middle
        else:
            beyond = middle
    return ZoneEdges(snapped(inside), outside)


@dataclass(frozen=True)
class Judgement:
    """A difference from the order, set against its limit by a reading of uncertainty `u`.

    Units   `difference` (measured minus ordered), `limit` (plus or minus, above 0) and `u`, the
            combined standard uncertainty of the difference, in one unit.
    Errors  LensError for a limit or `u` not above 0.

    >>> Judgement(0.10, 0.13, 0.05).zone.value
    'inside but close'
    """

    difference: float
    limit: float
    u: float
    degrees_of_freedom: float = math.inf

    def __post_init__(self) -> None:
        _check(self.difference, self.u)
        if not 0 < self.limit < math.inf:
            raise LensError(f"A limit is a number above 0; {shown(self.limit)} was given.")

    @property
    def passes(self) -> bool:
        """Simple acceptance: whether the difference is within the limit, the limit included."""
        return self._excess <= 0

    @property
    def probability(self) -> float:
        """The probability that the lens really is within the limit."""
        return conformance_probability(
            self.difference, -self.limit, self.limit, self.u, self.degrees_of_freedom
        )

    @property
    def zone(self) -> Zone:
        """The answer, in four words.

        Clearly outside means beyond the limit that was passed, with 95 % probability.
        """
        if self.passes:
            return Zone.INSIDE if self.probability >= CLEAR else Zone.INSIDE_BUT_CLOSE
        beyond = snapped(cumulative(self._excess / self.u, self.degrees_of_freedom))
        return Zone.OUTSIDE if beyond >= CLEAR else Zone.OUTSIDE_BUT_CLOSE

    @property
    def risk(self) -> float:
        """The probability that simple acceptance decides wrongly here.

        For a lens that passes, of a false accept (it is outside); for one that does not, of a
        false reject (it is inside).

        Source  jcgm-106-2012, specific consumer's and producer's risk
        """
        return snapped(1 - self.probability) if self.passes else self.probability

    @property
    def capability(self) -> float:
        """Measurement capability index: the width of the tolerance over four u, limit / (2 u).

        Source  jcgm-106-2012, 7.6

        >>> Judgement(0, 0.13, 0.05).capability
        1.3
        """
        return snapped(self.limit / (2 * self.u))

    @property
    def _excess(self) -> float:
        return snapped(abs(self.difference) - self.limit)


def readings_to_settle(difference: float, limit: float, one_reading: Budget) -> int | None:
    """How many readings make the answer clear, if their mean stays at this difference.

    `one_reading` is the budget of a single reading (or, for a cylinder, of a single travel). None
    when not even `MOST_READINGS` do: the difference lies too near the limit for what averaging
    leaves of the uncertainty.

    >>> from lensmath.uncertainty import Spread, from_instrument, from_reader, from_scale
    >>> one = Budget((from_reader(Spread(0.06, 9)), from_scale(0.125), from_instrument(0.06)))
    >>> readings_to_settle(0.02, 0.13, one), readings_to_settle(0.10, 0.13, one)
    (3, None)
    """

    def clear(readings: int) -> bool:
        mean = one_reading.of_mean(readings)
        judged = Judgement(difference, limit, mean.combined, mean.degrees_of_freedom)
        return not judged.zone.close

    if not clear(MOST_READINGS):
        return None
    return 1 + bisect_left(range(1, MOST_READINGS), True, key=clear)


def _check(value: float, u: float) -> None:
    if not math.isfinite(value):
        raise LensError(f"A measured value is a number; {shown(value)} was given.")
    if not 0 < u < math.inf:
        raise LensError(f"A standard uncertainty is a number above 0; {shown(u)} was given.")
