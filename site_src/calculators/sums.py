"""Shown sums: as many decimals as a pocket calculator needs to come to the shown result."""

from __future__ import annotations

from collections.abc import Callable

from lensmath.notation import MINUS
from lensmath.power import rounded_to, snapped
from site_src.calculators.answer import Datum, Line, Step

_MOST = 9  # decimals; all that `snapped` leaves
_FEWEST = 4  # decimals of a number in `summed` that has so many
_NOISE = 1e-11  # what a float may be off at a tie, where a pocket calculator is not


def enough_decimals(
    worked: Callable[..., float], *values: float, decimals: int, least: int
) -> tuple[str, ...]:
    """The values with as few decimals as give `worked(*values)` to so many decimals.

    Shape   `least` decimals at least; all values get the same number.

    >>> enough_decimals(lambda k, u: k * u, 2.0, 0.06249, decimals=3, least=3)
    ('2.0000', '0.0625')
    """
    result = round(snapped(worked(*values)), decimals)  # a tie goes as in what is shown
    for digits in range(least, _MOST):
        cut = [round(value, digits) for value in values]
        if abs(worked(*cut) - result) < 0.5 * 10**-decimals:
            return tuple(f"{value:.{digits}f}" for value in cut)
    return tuple(f"{value:.{_MOST}f}" for value in values)


def summed(
    what: str,
    formula: str,
    pattern: str,
    work: Callable[..., float],
    result: Line,
    **operands: float,
) -> Step:
    """A step whose sum is `pattern`, such as "{s} + {c}", with the operands put in.

    A number that does not end is cut at four decimals, or later where the digits that are left
    out would change the last digit of the result. `work` is the same sum on numbers.

    >>> step = summed("Multiply.", "a × b", "{a} × {b}", lambda a, b: a * b,
    ...               (Datum("p", -2 / 3, "−0.67"), " Δ"), a=1 / 3, b=-2)
    >>> step.numbers
    '0.3333 × (−2)'
    """
    said = next(piece.shown for piece in result if isinstance(piece, Datum))
    wanted, unit = float(said.replace(MINUS, "-")), 10.0 ** -len(said.partition(".")[2])
    for decimals in range(_FEWEST, _MOST + 1):
        kept = {name: rounded_to(value, 10.0**-decimals) for name, value in operands.items()}
        if abs(work(**kept) - wanted) <= unit / 2 + _NOISE:
            break
    written = {name: _operand(value, decimals) for name, value in kept.items()}
    return Step(what, formula, pattern.format(**written), result)


def _operand(value: float, decimals: int) -> str:
    """A number as it stands in a sum: no idle zeros, and a minus in brackets."""
    digits = f"{abs(value):.{decimals}f}".rstrip("0").rstrip(".")
    return f"({MINUS}{digits})" if value < 0 else digits
