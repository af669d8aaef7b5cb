"""A pocket calculator: works out a sum from the digits as they are shown, and only from those.

It knows + − × ÷, brackets, squares (²), roots (√), and the sine, cosine and tangent of degrees with
their inverses (atan), with the real minus sign, and counts in decimals. So a shown sum that does
not give the result beside it cannot hide behind digits that are not shown.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from decimal import Decimal

_PART = re.compile(r"\s*(?:[0-9]+(?:\.[0-9]+)?|[+−×÷()²√]|a?(?:sin|cos|tan))")
_DISPLAY = 10  # decimals that are left of a sum with a sine or a root: 2 × sin 30 is 1
_KEYS: dict[str, Callable[[float], float]] = {
    "√": math.sqrt,
    "sin": lambda turn: math.sin(math.radians(turn)),
    "cos": lambda turn: math.cos(math.radians(turn)),
    "tan": lambda turn: math.tan(math.radians(turn)),
    "asin": lambda ratio: math.degrees(math.asin(ratio)),
    "acos": lambda ratio: math.degrees(math.acos(ratio)),
    "atan": lambda ratio: math.degrees(math.atan(ratio)),
}


def worked_out(sums: str) -> Decimal:
    """What a shown sum comes to.

    Errors  ValueError for anything that is not a sum, such as an ASCII hyphen for a minus.

    >>> worked_out("+1.00 + (−1.50) ÷ 2"), worked_out("−(−0.375)"), worked_out("0.02 × 6.625")
    (Decimal('0.25'), Decimal('0.375'), Decimal('0.13250'))
    >>> worked_out("√(3² + 4²)"), worked_out("2 × sin 30"), worked_out("180 − atan(2 ÷ 2)")
    (Decimal('5.0000000000'), Decimal('1.0000000000'), Decimal('135.0000000000'))
    """
    return _Sum(sums).result()


def shown(text: str) -> Decimal:
    """A number as it is shown, without its unit or its ±.

    >>> shown("±0.13 D"), shown("−2.50 D"), shown("080"), shown("7°")
    (Decimal('0.13'), Decimal('-2.50'), Decimal('80'), Decimal('7'))
    """
    match = re.fullmatch(r"±?([+−]?)([0-9]+(?:\.[0-9]+)?)(?: ?(?:D|°|%|Δ|mm|cm))?", text)
    if match is None:
        raise ValueError(f"{text!r} is no shown number")
    return Decimal(match[2]) * (-1 if match[1] == "−" else 1)


def half_a_unit(number: Decimal) -> Decimal:
    """Half a unit in the last place that is shown.

    >>> half_a_unit(Decimal("-2.50")), half_a_unit(Decimal("80"))
    (Decimal('0.005'), Decimal('0.5'))
    """
    return Decimal((0, (5,), int(number.as_tuple().exponent) - 1))


class _Sum:
    """The parts of a sum, taken from the left."""

    def __init__(self, sums: str) -> None:
        self._sums = sums
        self._parts: list[str] = []
        self._rounds = False  # a sine or a root has more digits than any calculator
        at = 0
        while sums[at:].strip():
            match = _PART.match(sums, at)
            if match is None:
                raise ValueError(f"no pocket calculator knows {sums[at:]!r} in {sums!r}")
            self._parts.append(match[0].strip())
            at = match.end()

    def result(self) -> Decimal:
        value = self._sum()
        if self._parts:
            raise ValueError(f"{self._parts[0]!r} was not expected in {self._sums!r}")
        return round(value, _DISPLAY) if self._rounds else value

    def _take(self, allowed: str) -> str:
        if self._parts and self._parts[0] in allowed:
            return self._parts.pop(0)
        return ""

    def _sum(self) -> Decimal:
        value = self._product()
        while sign := self._take("+−"):
            other = self._product()
            value = value + other if sign == "+" else value - other
        return value

    def _product(self) -> Decimal:
        value = self._factor()
        while sign := self._take("×÷"):
            other = self._factor()
            value = value * other if sign == "×" else value / other
        return value

    def _factor(self) -> Decimal:
        if sign := self._take("+−"):
            return self._factor() * (1 if sign == "+" else -1)
        value = self._operand()
        while self._take("²"):
            value *= value
        return value

    def _operand(self) -> Decimal:
        if self._parts and self._parts[0] in _KEYS:
            key = _KEYS[self._parts.pop(0)]
            self._rounds = True
            return Decimal(str(key(float(self._operand()))))
        if self._take("("):
            value = self._sum()
            if not self._take(")"):
                raise ValueError(f"a bracket is open in {self._sums!r}")
            return value
        if not self._parts or not self._parts[0][0].isdigit():
            raise ValueError(f"a number is missing in {self._sums!r}")
        return Decimal(self._parts.pop(0))
