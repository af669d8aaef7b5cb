"""Prescriptions as people write them, in and out.

Reading accepts what stands on order forms and what a phone keyboard gives: a comma or a point, any
kind of minus, `x`, `X` or `×`, plus, minus or crossed form, an addition and prism. It never guesses
a sign. Writing keeps one set of conventions: signs always, two decimals, three-digit axis, DS for
a sphere, plano for zero.

Eighths of a dioptre are written cut to two decimals: 0.12, 0.37, 0.62 and 0.87 stand for 0.125,
0.375, 0.625 and 0.875 (Source  nj-virginia-rules). A read-out in steps of 0.01 D means its digits
literally. `Decimals` says which of the two a text is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from lensmath.errors import LensError
from lensmath.power import LensPower, axis_difference, rounded_to, snapped, standard_axis

MINUS = "\N{MINUS SIGN}"
TIMES = "\N{MULTIPLICATION SIGN}"
STRONGEST = 30.0  # D; a larger number is a power written without its decimal point
EXAMPLE = f"{MINUS}2.25 {MINUS}0.75 {TIMES} 105"
LONGEST = 200  # characters; one eye's prescription with addition and prism needs about 60


class Decimals(StrEnum):
    """What two decimals mean: eighths cut short (a hand scale) or the digits themselves."""

    EIGHTHS = "eighths"
    LITERAL = "literal"


class Form(StrEnum):
    """The form in which a power was written."""

    SPHERE = "sphere"
    MINUS_CYLINDER = "minus cylinder"
    PLUS_CYLINDER = "plus cylinder"
    CROSSED = "crossed cylinder"


@dataclass(frozen=True)
class WrittenPrism:
    """Prism as ordered: prism dioptres, and the base as a word or in degrees (0-360)."""

    amount: float
    base: str | float


@dataclass(frozen=True)
class Prescription:
    """One eye's prescription as it was read: the power in the form written, and what followed."""

    power: LensPower
    form: Form
    addition: float | None = None
    prism: tuple[WrittenPrism, ...] = ()


# Reading ----------------------------------------------------------------------------------------


def read_prescription(text: str, decimals: Decimals = Decimals.EIGHTHS) -> Prescription:
    """What a person wrote for one eye, understood.

    Errors  LensError with what was read and what is allowed: empty text, a power without its
            sign, two signs, a cylinder without an axis, an axis outside 0-180, crossed cylinders
            that are not at right angles, anything unknown.

    >>> read_prescription("-1.37/-0.62x5").power
    LensPower(sphere=-1.375, cylinder=-0.625, axis=5.0)
    >>> read_prescription("pl -0,50 X 090, add +2.25").addition
    2.25
    """
    line = _Line(text, decimals)
    power, form = _read_lens(line)
    addition, prism = _read_extras(line)
    return Prescription(power, form, addition, prism)


def read_power(text: str, decimals: Decimals = Decimals.EIGHTHS) -> float:
    """One signed power, in dioptres.

    Errors  LensError for empty text, a missing or doubled sign, more than one number, more than
            30 D.

    >>> read_power("−0,37"), read_power("-0.37", Decimals.LITERAL)
    (-0.375, -0.37)
    """
    line = _Line(text, decimals)
    power = line.power("A power")
    line.take("ds")
    line.end()
    return power


def read_axis(text: str) -> float:
    """An axis in degrees, 1-180; 0 comes back as 180.

    >>> read_axis("005"), read_axis("0")
    (5.0, 180.0)
    """
    line = _Line(text, Decimals.LITERAL)
    line.take("x")
    axis = line.axis()
    line.end()
    return axis


def _read_lens(line: _Line) -> tuple[LensPower, Form]:
    plano = line.take("plano")
    first = 0.0 if plano else line.power("The sphere")
    says_cylinder = not plano and line.take("dc") is not None
    if not plano and line.take("x"):
        return _read_crossed(line, first, says_cylinder)
    line.take("ds")
    if not line.at_power():
        return LensPower(first), Form.SPHERE
    cylinder = line.power("The cylinder")
    line.take("dc")
    if not line.take("x"):
        if cylinder == 0:
            return LensPower(first), Form.SPHERE
        raise LensError(
            f"The cylinder {write_power(cylinder)} has no axis. Write the axis after it, "
            f"for example {write_power(cylinder)} {TIMES} 090."
        )
    power = LensPower(first, cylinder, line.axis())
    return power, _form_of(power)


def _read_crossed(line: _Line, power: float, says_cylinder: bool) -> tuple[LensPower, Form]:
    axis = line.axis()
    first = LensPower(0.0, power, axis)
    if not line.at_power():
        if says_cylinder:
            return first, _form_of(first)
        raise LensError(
            f"One power with an axis was read: {line.given}. For a cylinder alone write "
            f"plano {write_power(power)} {TIMES} {write_axis(axis)}; for crossed form write "
            "both cylinders, each with its axis."
        )
    second = line.power("The second cylinder")
    line.take("dc")
    if not line.take("x"):
        raise LensError(
            f"The second cylinder {write_power(second)} has no axis. In crossed form both "
            f"cylinders have one, for example {write_power(second)} DC {TIMES} 090."
        )
    second_axis = line.axis()
    if axis_difference(axis, second_axis) != 90:
        raise LensError(
            f"The axes {write_axis(axis)} and {write_axis(second_axis)} in {line.given} are "
            f"{axis_difference(axis, second_axis):g} apart. In crossed form they are 90 apart."
        )
    return first + LensPower(0.0, second, second_axis), Form.CROSSED


def _form_of(power: LensPower) -> Form:
    if power.axis is None:
        return Form.SPHERE
    return Form.MINUS_CYLINDER if power.cylinder < 0 else Form.PLUS_CYLINDER


def _read_extras(line: _Line) -> tuple[float | None, tuple[WrittenPrism, ...]]:
    addition, prism = None, []
    while not line.done():
        if line.take("add"):
            if addition is not None:
                raise LensError(f"Two additions were read in {line.given}; one is allowed.")
            addition = line.power("The addition")
        else:
            prism.append(line.prism())
    return addition, tuple(prism)


_NUMBER = r"[+-]?\ ?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
# A word ends before anything but a letter; x may follow closely, and a point, but not that of .5
_END = r"(?![a-wyz])(?:\.(?![0-9]))?"
_TOKEN = re.compile(
    rf"""
      (?P<number>{_NUMBER})\ ?°?
    | (?P<plano>(?:plano|plan|pln|pl){_END}|∞)
    | (?P<base>base\ (?:up|down|in|out){_END}|b\.?[udio]{_END})
    | (?P<ds>(?:d\.?s|sph|sphere){_END})
    | (?P<dc>(?:d\.?c|cyl|cylinder){_END})
    | (?P<x>x(?![a-z])|(?:axis|ax){_END})
    | (?P<add>add(?:ition)?{_END})
    | (?P<prism>(?:prism|pd){_END}|[Δ∆δ])
    | (?P<at>@|base{_END})
    | (?P<skip>[\s/,;&()]+|(?:and|d){_END})
    | (?P<unknown>\S+)
    """,
    re.VERBOSE,
)
_BASES = {"u": "up", "d": "down", "i": "in", "o": "out"}


@dataclass(frozen=True)
class _Token:
    kind: str
    text: str


class _Line:
    """The text as tokens, taken from the left."""

    def __init__(self, text: str, decimals: Decimals) -> None:
        if len(text) > LONGEST:
            raise LensError(
                f"{len(text)} characters were written; up to {LONGEST} are allowed. Write a power "
                f"such as {EXAMPLE}."
            )
        self.given = _quoted(" ".join(text.split())[:60])
        self._decimals = decimals
        plain = _plain(text)
        if not plain:
            raise LensError(f"Nothing was written. Write a power such as {EXAMPLE}.")
        _refuse_two_signs(self.given, plain)
        self._tokens = list(_tokens(plain))
        self._next = 0

    def _peek(self) -> _Token | None:
        return self._tokens[self._next] if self._next < len(self._tokens) else None

    def done(self) -> bool:
        return self._peek() is None

    def at_power(self) -> bool:
        """Whether a power comes next, rather than prism, which is a number without a sign."""
        token = self._peek()
        if token is None or token.kind != "number":
            return False
        following = self._tokens[self._next + 1 : self._next + 2]
        return not (following and following[0].kind in ("base", "prism", "at"))

    def take(self, kind: str) -> _Token | None:
        token = self._peek()
        if token is None or token.kind != kind:
            return None
        self._next += 1
        return token

    def end(self) -> None:
        token = self._peek()
        if token is not None:
            raise LensError(
                f"{_quoted(token.text)} in {self.given} was not expected: one value is allowed."
            )

    def _number(self, what: str, example: str) -> str:
        token = self.take("number")
        if token is None:
            found = self._peek()
            instead = f"{_quoted(found.text)} was read in its place" if found else "the text ends"
            raise LensError(f"{what} is missing in {self.given}: {instead}. Write {example}.")
        return token.text.replace(" ", "")

    def power(self, what: str) -> float:
        digits = self._number(what, f"{MINUS}2.25 or +2.25")
        value = float(digits)
        if digits[0] not in "+-" and value != 0:
            raise LensError(
                f"“{digits}” has no sign. Write +{digits} or {MINUS}{digits}: a power always has "
                "its sign."
            )
        if abs(value) > STRONGEST:
            sign = digits[0].replace("-", MINUS)
            raise LensError(
                f"{_quoted(digits)} was read in {self.given}; powers up to {STRONGEST:.0f} D are "
                f"allowed. Write the decimal point: {sign}3.25, not {sign}325."
            )
        cut = re.search(r"\.(?:12|37|62|87)$", digits)
        if cut and self._decimals is Decimals.EIGHTHS:
            value = (abs(value) + 0.005) * (-1 if digits[0] == "-" else 1)
        return snapped(value)

    def axis(self) -> float:
        digits = self._number("The axis", "a number from 1 to 180")
        if digits[0] in "+-" or not 0 <= float(digits) <= 180:
            raise LensError(
                f"The axis {_quoted(digits)} is not on the scale. An axis is a number from 1 to "
                "180 without a sign (0 is written 180)."
            )
        return standard_axis(float(digits))

    def prism(self) -> WrittenPrism:
        self.take("prism")
        if not self._tokens[self._next :] or self._tokens[self._next].kind != "number":
            found = self._peek()
            raise LensError(
                f"{_quoted(found.text if found else 'prism')} in {self.given} could not be read. "
                f"Write a power such as {EXAMPLE}; after it, add +2.25 and prism as 2 BU are "
                "allowed."
            )
        digits = self._number("The prism", "2 BU")
        self.take("prism")
        if digits[0] in "+-":
            raise LensError(
                f"{_quoted(digits)} in {self.given} stands after a complete power. Prism is "
                "written without a sign and with its base, as 2 BU."
            )
        if base := self.take("base"):
            side = base.text.removeprefix("base ").lstrip("b.")[0]
            return WrittenPrism(float(digits), _BASES[side])
        if self.take("at"):
            angle = self._number("The base direction", "an angle from 0 to 360")
            if angle[0] in "+-" or not 0 <= float(angle) <= 360:
                raise LensError(
                    f"The base direction {_quoted(angle)} is not on the circle. It is a number "
                    "from 0 to 360 without a sign."
                )
            return WrittenPrism(float(digits), float(angle))
        raise LensError(
            f"The prism {digits} in {self.given} has no base. Write BU, BD, BI or BO after it, "
            "or @ and an angle."
        )


# The full-width signs, digits and letters of East Asian keyboards.
_WIDE = {code: code - 0xFEE0 for code in range(0xFF01, 0xFF5F)}


def _plain(text: str) -> str:
    """Lower case, one kind of minus and of times, a point for a decimal comma, single spaces."""
    text = re.sub("[\N{MINUS SIGN}\N{SMALL HYPHEN-MINUS}\u2010-\u2015]", "-", text.translate(_WIDE))
    text = re.sub("[×✕✖*]", "x", text.lower())
    mixed = re.search(r"[0-9]+[.,][0-9]*[.,][0-9]+", text)
    if mixed:
        raise LensError(
            f"“{mixed[0]}” has two decimal marks. Write one comma or one point, such as 2.25 or "
            "2,25."
        )
    decimal_comma = r"(?<=[0-9]),(?=[0-9])|(?<![^\s+-]),(?=[0-9])"
    return " ".join(re.sub(decimal_comma, ".", text).split())


def _quoted(text: str) -> str:
    """What was read, as a sentence shows it."""
    return f"“{text.replace('-', MINUS)}”"


def _refuse_two_signs(given: str, plain: str) -> None:
    clash = re.search(r"[+-] ?[+-]", plain)
    if clash:
        raise LensError(
            f"Two signs together, {_quoted(clash[0])}, were read in {given}. Write + or {MINUS}, "
            "one only."
        )


def _tokens(plain: str) -> Iterator[_Token]:
    for match in _TOKEN.finditer(plain):
        kind = match.lastgroup or "unknown"
        if kind != "skip":
            yield _Token(kind, match[kind])


# Writing ----------------------------------------------------------------------------------------


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
