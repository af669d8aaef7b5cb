"""Writes powers, axes and prescriptions with one set of conventions."""

from __future__ import annotations

from lensmath.notation.forms import MINUS, TIMES, Prescription
from lensmath.power import LensPower, rounded_to, snapped, standard_axis


def write_power(value: float, *, comma: bool = False) -> str:
    """A power with its sign and two decimals; an eighth is cut, not rounded; zero has no sign.

    Anything else is rounded to 0.01 D, half-way away from zero.

    >>> write_power(2.25), write_power(-1.375), write_power(0), write_power(-0.5, comma=True)
    ('+2.25', '−1.37', '0.00', '−0,50')
    """
    size = snapped(abs(value))
    hundredths = int(size * 100) if is_cut(size) else round(rounded_to(size, 0.01) * 100)
    sign = "" if hundredths == 0 else MINUS if value < 0 else "+"
    return _marked(f"{sign}{hundredths // 100}.{hundredths % 100:02d}", comma)


def is_cut(value: float) -> bool:
    """Whether a power is an odd number of eighths, which are written cut to two decimals.

    >>> is_cut(-1.375), is_cut(1.25)
    (True, False)
    """
    return snapped(abs(value) * 8) % 2 == 1


def write_exact(value: float) -> str:
    """A power for a sum that is worked out: the true eighth with three decimals, else two.

    >>> write_exact(-1.375), write_exact(2.5), write_exact(0)
    ('−1.375', '+2.50', '0.00')
    """
    thousandths = rounded_to(abs(value), 0.001)
    sign = "" if thousandths == 0 else MINUS if value < 0 else "+"
    digits = f"{thousandths:.3f}"
    return sign + digits.removesuffix("0")


def write_axis(axis: float | None, *, comma: bool = False) -> str:
    """An axis with three digits, and one decimal only where it is needed; empty without an axis.

    >>> write_axis(5), write_axis(77.5), write_axis(0.04)
    ('005', '077.5', '180')
    """
    if axis is None:
        return ""
    return _degrees(standard_axis(rounded_to(axis, 0.1)), comma)


def write_lens(power: LensPower, *, comma: bool = False) -> str:
    """A lens in the form it has: sphere, cylinder, axis; DS for a sphere; plano for zero.

    >>> [write_lens(LensPower(*lens)) for lens in ((-0.75, -2.50, 112), (-3,), (0,))]
    ['−0.75 −2.50 × 112', '−3.00 DS', 'plano']
    """
    sphere = "plano" if snapped(power.sphere) == 0 else write_power(power.sphere, comma=comma)
    if power.axis is None:
        return sphere if sphere == "plano" else f"{sphere} DS"
    cylinder = write_power(power.cylinder, comma=comma)
    return f"{sphere} {cylinder} {TIMES} {write_axis(power.axis, comma=comma)}"


def write_crossed(power: LensPower, *, comma: bool = False) -> str:
    """A lens in crossed-cylinder form, the cylinder with the power of the sphere first.

    >>> write_crossed(LensPower(-0.75, -2.50, 112))
    '−0.75 DC × 022 / −3.25 DC × 112'
    """
    along, across = power.principal_meridians
    return " / ".join(
        f"{write_power(power, comma=comma)} DC {TIMES} {write_axis(axis, comma=comma)}"
        for power, axis in ((along.power, across.direction), (across.power, along.direction))
    )


def write_prescription(prescription: Prescription, *, comma: bool = False) -> str:
    """The power in minus or plus cylinder as it stands, then the addition, then prism.

    >>> from lensmath.notation import read_prescription
    >>> write_prescription(read_prescription("+1 +0.50 x 10 add +2 1.5 BI"))
    '+1.00 +0.50 × 010 add +2.00 1.50 BI'
    """
    parts = [write_lens(prescription.power, comma=comma)]
    if prescription.addition is not None:
        parts.append(f"add {write_power(prescription.addition, comma=comma)}")
    for prism in prescription.prism:
        amount = _marked(f"{rounded_to(prism.amount, 0.01):.2f}", comma)
        if isinstance(prism.base, str):
            base = f"B{prism.base[0].upper()}"
        else:
            base = f"@ {_degrees(rounded_to(prism.base, 0.1), comma)}"
        parts.append(f"{amount} {base}")
    return " ".join(parts)


def _degrees(value: float, comma: bool) -> str:
    return f"{value:03.0f}" if value == int(value) else _marked(f"{value:05.1f}", comma)


def _marked(number: str, comma: bool) -> str:
    return number.replace(".", ",") if comma else number
