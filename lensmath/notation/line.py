"""A written prescription as tokens, taken from the left; every refusal quotes what was read."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from lensmath.errors import LensError
from lensmath.notation.forms import MINUS, STRONGEST, TIMES, Decimals, WrittenPrism
from lensmath.power import snapped, standard_axis

EXAMPLE = f"{MINUS}2.25 {MINUS}0.75 {TIMES} 105"
LONGEST = 200  # characters; one eye's prescription with addition and prism needs about 60

_NUMBER = r"[+-]?\ ?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
# A word ends before anything but a letter; x may follow closely, and a point, but not that of .5
_END = r"(?![a-wyz])(?:[.:](?![0-9]))?"
_UNIT = rf"(?:°|deg(?:ree)?s?{_END}|d(?:iopt(?:re|er)s?)?(?!\.?[a-wyz])(?:\.(?![0-9]))?)?"
_TOKEN = re.compile(
    rf"""
      (?P<odd>{_NUMBER}e[+-]?[0-9]+|\A[+-]?\ ?[0-9]+/[0-9]+\Z)
    | (?P<number>{_NUMBER})\ ?{_UNIT}
    | (?P<plano>(?:plano|plan|pln|pl){_END}|∞)
    | (?P<base>(?:base\ )?(?:up|down|in|out){_END}|b\.?[udio]{_END})
    | (?P<ds>(?:d\.?s|sph|sphere|s){_END})
    | (?P<dc>(?:d\.?c|cyl|cylinder|c){_END})
    | (?P<x>x(?![a-z])|(?:axis|ax){_END}|a:?(?=\ ?[0-9]+(?![.0-9])))
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
    unit: str | None  # of a number


class Line:
    """The text as tokens, taken from the left; `example` is what may be written."""

    def __init__(
        self, text: str, decimals: Decimals, example: str = f"a power such as {EXAMPLE}"
    ) -> None:
        if len(text) > LONGEST:
            raise LensError(f"More than {LONGEST} characters were written. Write {example}.")
        self.given = _quoted(" ".join(text.split())[:60])
        self._decimals = decimals
        plain = _plain(text)
        if not plain:
            raise LensError(f"Nothing was written. Write {example}.")
        _refuse_two_signs(self.given, plain)
        self._tokens = list(_tokens(plain))
        self._next = 0

    def _peek(self, ahead: int = 0) -> _Token | None:
        place = self._next + ahead
        return self._tokens[place] if place < len(self._tokens) else None

    def done(self) -> bool:
        """Whether everything has been taken."""
        return self._peek() is None

    def at_power(self) -> bool:
        """Whether a power comes next, rather than prism, which is a number without a sign."""
        token = self._peek()
        if token is None or token.kind != "number":
            return False
        following = self._peek(1)
        kind = following.kind if following else None
        return kind not in ("base", "prism") and (kind != "at" or token.text[0] in "+-")

    def unsigned(self) -> str:
        """The number without a sign that comes next and is no prism; else nothing."""
        token = self._peek()
        return token.text if token and self.at_power() and token.text[0] not in "+-" else ""

    def take_times(self) -> bool:
        """Whether an axis comes next: × before it is taken; three figures can be nothing else."""
        bare = re.fullmatch("0[0-9]{2}|1[0-7][0-9]|180", self.unsigned())
        return self.take("x") is not None or bare is not None

    def take(self, kind: str) -> _Token | None:
        """The next token, taken, if it is of this kind."""
        token = self._peek()
        if token is None or token.kind != kind:
            return None
        self._next += 1
        return token

    def end(self) -> None:
        """Refuses whatever is left."""
        token = self._peek()
        if token is not None:
            raise LensError(
                f"{_quoted(token.text)} in {self.given} was not expected: one value is allowed."
            )

    def _number(self, what: str, example: str, wrong_unit: str) -> str:
        token = self.take("number")
        if token is None:
            found = self._peek()
            instead = f"{_quoted(found.text)} was read in its place" if found else "the text ends"
            raise LensError(f"{what} is missing in {self.given}: {instead}. Write {example}.")
        if token.unit == wrong_unit:
            raise LensError(
                f"{_quoted(token.text)} in {self.given} is in {wrong_unit}; {what.lower()} is not. "
                f"Write {example}."
            )
        return token.text.replace(" ", "")

    def power(self, what: str) -> float:
        """The power that must come next, in dioptres; an addition needs no sign."""
        adds = what == "The addition"
        example = "+2.25" if adds else f"{MINUS}2.25, 0.00 or +2.25"
        digits = self._number(what, example, "degrees")
        value = float(digits)
        if abs(value) > STRONGEST:
            sign = "+" if adds or digits[0] == "+" else MINUS
            pointless = re.fullmatch("[+-]?[0-9]{3,}", digits)
            mend = f" Write the decimal point: {sign}3.25, not {sign}325." if pointless else ""
            raise LensError(
                f"{_quoted(digits)} was read in {self.given}; powers up to {STRONGEST:.0f} D are "
                f"allowed.{mend}"
            )
        if digits[0] not in "+-" and value != 0 and not adds:
            raise LensError(
                f"“{digits}” has no sign. Write +{digits} or {MINUS}{digits}: a power always has "
                "its sign."
            )
        cut = re.search(r"\.(?:12|37|62|87)$", digits)
        if cut and self._decimals is Decimals.EIGHTHS:
            value = math.copysign(abs(value) + 0.005, value)
        return snapped(value)

    def axis(self) -> float:
        """The axis that must come next, in degrees."""
        digits = self._number("The axis", "a number from 1 to 180", "dioptres")
        # Below 1 only as it is written here: .5 may be a power in the wrong place.
        least = 0 if float(digits) == 0 or digits.startswith("000.") else 1
        if digits[0] in "+-" or not least <= float(digits) <= 180:
            raise LensError(
                f"The axis {_quoted(digits)} is not on the scale. An axis is a number from 1 to "
                "180 without a sign (0 is written 180)."
            )
        return standard_axis(float(digits))

    def prism(self) -> WrittenPrism:
        """The prism that must come next: amount, then base."""
        self.take("prism")
        if not self._tokens[self._next :] or self._tokens[self._next].kind != "number":
            found = self._peek()
            raise LensError(
                f"{_quoted(found.text if found else 'prism')} in {self.given} could not be read. "
                f"Write one lens such as {EXAMPLE}; after it, add +2.25 and prism as 2 BU are "
                "allowed."
            )
        digits = self._number("The prism", "2 BU", "degrees")
        self.take("prism")
        if digits[0] in "+-":
            raise LensError(
                f"{_quoted(digits)} in {self.given} stands after a complete power. One lens is "
                "allowed; prism is written without a sign and with its base, as 2 BU."
            )
        if base := self.take("base"):
            side = base.text.removeprefix("base ").lstrip("b.")[0]
            return WrittenPrism(float(digits), _BASES[side])
        if self.take("at"):
            angle = self._number("The base direction", "an angle from 0 to 360", "dioptres")
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
    text = re.sub(r"^\s*(?:od|os|re|le|r|l)\b[.:]?", "", text)  # the eye, as an order names it
    mixed = re.search(r"[0-9]+[.,][0-9]*[.,][0-9]+", text)
    if mixed:
        raise LensError(
            f"“{mixed[0]}” has two decimal marks. Write one comma or one point, such as 2.25 or "
            "2,25."
        )
    decimal_comma = r"(?<=[0-9]),(?=[0-9])|(?<![^\s+-]),(?=[0-9])"
    text = " ".join(re.sub(decimal_comma, ".", text).split())
    return re.sub(r"(?<=[0-9])\.$", "", text)  # the full stop of a sentence


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
        kind = str(match.lastgroup)
        if kind != "skip":
            yield _Token(
                kind, match[kind].strip(), _unit(match[0].removeprefix(match[kind]).strip())
            )


def _unit(word: str) -> str | None:
    """What stands behind a number, in full."""
    if not word:
        return None
    return "degrees" if word.startswith(("°", "deg")) else "dioptres"
