"""Student's t distribution: what a normal distribution becomes when its spread is only estimated.

An uncertainty that rests on few readings is itself uncertain, and t is wider than the normal
distribution for it; with infinite degrees of freedom the two are one. Degrees of freedom need not
be whole numbers.
"""

from __future__ import annotations

import math
from itertools import count
from statistics import NormalDist

from lensmath.errors import LensError

_NORMAL = NormalDist()
_NORMAL_FROM = 1e6  # degrees of freedom; from here t and normal differ by less than 1e-5 in k
_NEGLIGIBLE = 1e-15  # relative change at which a continued fraction has settled


def cumulative(t: float, degrees_of_freedom: float = math.inf) -> float:
    """The probability of a value up to `t`, in standard uncertainties.

    Errors  LensError for a `t` that is not a number, or degrees of freedom of zero or less.

    >>> cumulative(1, 1)
    0.75
    >>> cumulative(1.959964)
    0.9750000
    """
    tail = _beyond(t, degrees_of_freedom) / 2
    return tail if t < 0 else 1 - tail


def quantile(probability: float, degrees_of_freedom: float = math.inf) -> float:
    """The value, in standard uncertainties, that is not exceeded with this probability.

    Errors  LensError for a probability that is not between 0 and 1, or degrees of freedom of zero
            or less.

    >>> quantile(0.995, 16)
    2.92
    """
    if not 0 < probability < 1:
        raise LensError(f"A probability lies between 0 and 1; {probability:g} was given.")
    if probability < 0.5:
        return -quantile(1 - probability, degrees_of_freedom)
    beyond = 2 * (1 - probability)
    low, high = 0.0, 1.0
    while _beyond(high, degrees_of_freedom) > beyond:
        low, high = high, 2 * high
    while low < (middle := (low + high) / 2) < high:
        if _beyond(middle, degrees_of_freedom) > beyond:
            low = middle
        else:
            high = middle
    return high


def _beyond(t: float, degrees_of_freedom: float) -> float:
    """The probability of a value further from 0 than `t`, on either side.

    The regularised incomplete beta function I_x(n/2, 1/2) with x = n / (n + t²).

    Source  abramowitz-stegun, nist-dlmf; 26.7.1 and 8.17.22
    """
    if math.isnan(t) or not degrees_of_freedom > 0:
        given = f"{t:g} with {degrees_of_freedom:g}".replace("-", "\N{MINUS SIGN}")
        raise LensError(
            "Student's t is a number, with more than 0 degrees of freedom; "
            f"{given} degrees of freedom was given."
        )
    if degrees_of_freedom >= _NORMAL_FROM:
        return 2 * _NORMAL.cdf(-abs(t))
    ratio = t * t / degrees_of_freedom
    if math.isinf(ratio):
        return 0.0
    x, rest = 1 / (1 + ratio), ratio / (1 + ratio)
    if rest == 0:
        return 1.0
    a, b = degrees_of_freedom / 2, 0.5
    front = math.exp(
        math.lgamma(a + b)
        - math.lgamma(a)
        - math.lgamma(b)
        - a * math.log1p(ratio)
        + b * math.log(rest)
    )
    if x < (a + 1) / (a + b + 2):
        return front * _continued_fraction(x, a, b) / a
    return 1 - front * _continued_fraction(rest, b, a) / b


def _continued_fraction(x: float, a: float, b: float) -> float:
    """1 / (1 + d1 / (1 + d2 / (1 + ...))) of the incomplete beta function, by Lentz's method."""
    value = upper = 1.0
    lower = 0.0
    for index in count(1):
        m = index // 2
        if index % 2:
            d = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        else:
            d = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        lower = 1 / (1 + d * lower)
        upper = 1 + d / upper
        value *= upper * lower
        if abs(upper * lower - 1) < _NEGLIGIBLE:
            break
    return 1 / value
