"""Numbers as a sum shows them: an entry with all its digits, and what comes out on the way."""

from __future__ import annotations

from lensmath.notation import MINUS
from lensmath.power import Meridian, rounded_to, snapped
from site_src.calculators.answer import Datum, Line, axis, power, say

_FINEST = 9  # decimals; `snapped` keeps no more


def signed(value: float, decimals: int) -> str:
    """A number with its sign and so many decimals; zero has no sign.

    >>> signed(-1.41421, 4), signed(0.00001, 4)
    ('−1.4142', '0.0000')
    """
    digits = f"{rounded_to(abs(value), 10.0**-decimals):.{decimals}f}"
    return _sign(digits, value) + digits


def digits(value: float, at_least: int = 2) -> str:
    """A number with its sign and all its decimals: what a sum works with is what was entered.

    >>> digits(-2.3125), digits(2.5), digits(-9, at_least=0), digits(0)
    ('−2.3125', '+2.50', '−9', '0.00')
    """
    found = unsigned(abs(value), at_least)
    return _sign(found, value) + found


def unsigned(value: float, at_least: int = 0) -> str:
    """A number without a sign and with all its decimals, such as an angle in a sum.

    >>> unsigned(77.5), unsigned(180), unsigned(0.25, 2)
    ('77.5', '180', '0.25')
    """
    whole, _, decimals = f"{snapped(value):.{_FINEST}f}".partition(".")
    decimals = decimals.rstrip("0").ljust(at_least, "0")
    return f"{whole}.{decimals}" if decimals else whole


def number(name: str, value: float, shown: str) -> Datum:
    """A signed number of the working, with the ink of its sign."""
    sign = "minus" if shown.startswith(MINUS) else "plus" if shown.startswith("+") else ""
    return Datum(name, snapped(value), shown, sign)


def curve(meridian: Meridian, name: str) -> Line:
    """A principal curve of a surface, named `<name>.power` and `<name>.along`."""
    return say(
        "{power} D along {along}",
        power=power(meridian.power, f"{name}.power"),
        along=axis(meridian.direction, f"{name}.along"),
    )


def noted(value: float, decimals: int = 4) -> float:
    """A number as it is noted down on the way, so that the next sum begins with what is shown.

    >>> noted(-7.299270073)
    -7.2993
    """
    return rounded_to(value, 10.0**-decimals)


def _sign(digits: str, value: float) -> str:
    if not digits.strip("0."):
        return ""
    return MINUS if value < 0 else "+"
