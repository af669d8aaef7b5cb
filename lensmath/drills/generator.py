"""Numbers that look random and are the same everywhere: SplitMix64, in integers only.

The methods of Python's own `random` may change between versions, so they are not used here.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

_64_BITS = (1 << 64) - 1
_T = TypeVar("_T")


class SplitMix64:
    """A stream of 64-bit numbers from a seed, of which the lowest 64 bits count.

    Source  steele-2014

    >>> SplitMix64(1234567).next()
    6457827717110365317
    """

    def __init__(self, seed: int) -> None:
        self._state = seed & _64_BITS

    def next(self) -> int:
        """The next number, 0 up to but not 2**64."""
        self._state = (self._state + 0x9E3779B97F4A7C15) & _64_BITS
        mixed = self._state
        mixed = ((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9) & _64_BITS
        mixed = ((mixed ^ (mixed >> 27)) * 0x94D049BB133111EB) & _64_BITS
        return mixed ^ (mixed >> 31)

    def between(self, low: int, high: int) -> int:
        """A whole number from `low` to `high`, both included.

        >>> draws = SplitMix64(0)
        >>> [draws.between(1, 6) for _ in range(5)]
        [6, 3, 1, 6, 1]
        """
        return low + (self.next() * (high - low + 1) >> 64)

    def one_of(self, choices: Sequence[_T]) -> _T:
        """One of them, each as likely as the others."""
        return choices[self.between(0, len(choices) - 1)]


def seeded(seed: int, name: str) -> SplitMix64:
    """A stream of its own for each name under one seed."""
    for byte in name.encode():
        seed = SplitMix64(seed ^ byte).next()
    return SplitMix64(seed)
