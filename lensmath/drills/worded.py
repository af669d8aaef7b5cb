"""Answers with words in them: a count, a prism, a base, a decentration, a verdict."""

from __future__ import annotations

import re
from dataclasses import dataclass

from lensmath.centration import Decentration
from lensmath.drills.answers import (
    EXACT,
    LENGTH_ROUNDING,
    PRISM_ROUNDING,
    Outcome,
    plain,
    right_if,
    unreadable,
    within,
)
from lensmath.power import rounded_to
from lensmath.prism import Base, HalfCircle
from lensmath.scale import Count
from lensmath.tolerances.model import Quantity

_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_UNITS = {"whole": 8, "quarter": 2, "eighth": 1, "rest": 1}  # in eighths of a dioptre
_SHORT = {"d": "whole", "/4": "quarter", "/8": "eighth"}
_COUNTED = (
    r"(?<![\w.])(?:0?\.125?( ?d)?( read)?( between the marks)?"
    rf"|(?P<number>\d{{1,2}}|an?|{'|'.join(_WORDS)}) ?"
    r"(?:(?P<unit>whole|quarter|eighth)s?|(?P<short>/[48]|d))( ?d)?)(?![\w/.])"
)
_NUMBER = r"(\d+(?:\.\d+)?|\.\d+)"
_BASE = r"(?<![a-z])(?:base[ -]?)?b?(up|down|in|out|[udio])(?![a-z])"
_ROWS = (Quantity.MERIDIAN_POWER, Quantity.CYLINDER, Quantity.AXIS)
_VERDICTS = (
    (r"^yes\b(\W+inside\b)?", "inside"),
    (r"^no\b(\W+outside\b)?", "outside"),
    (r"\bcyl\b", "cylinder"),
)


def _parts(pattern: str, written: str, text: str, example: str) -> list[re.Match[str]]:
    """Every part of the text that has a meaning.

    Errors  LensError that quotes the first that has none.
    """
    unread = [part.strip() for part in re.sub(pattern, ",", text).split(",") if part.strip()]
    found = list(re.finditer(pattern, text))
    if unread or not found:
        raise unreadable(written, example, part=unread[0] if unread else "")
    return found


def _numbers_and_bases(pattern: str, written: str, example: str) -> tuple[list[float], list[str]]:
    """The numbers, and the first letters of the base words in the order of the alphabet."""
    found = _parts(pattern, written, plain(written, example), example)
    bases = sorted(each[2][0] for each in found if each[2])
    return [float(each[1]) for each in found if each[1]], bases


@dataclass(frozen=True)
class CountAnswer:
    """A count along the hand scale: whole dioptres, then the marks as they stand."""

    count: Count

    @property
    def text(self) -> str:
        """The count as it is said aloud."""
        return self.count.in_words()

    def outcome(self, written: str) -> Outcome:
        """RIGHT for the same steps in any order, OTHER_FORM for the same travel in other steps.

        Errors  LensError for anything but numbers of whole dioptres, quarters and eighths.
        """
        mine, theirs = (_counted(text) for text in (self.text, written))
        if mine == theirs:
            return Outcome.RIGHT
        same_travel = _eighths(mine) == _eighths(theirs)
        return Outcome.OTHER_FORM if same_travel else Outcome.WRONG


def _counted(written: str) -> dict[str, int]:
    example = "two whole dioptres, two eighths and one quarter"
    steps = dict.fromkeys(_UNITS, 0)
    for each in _parts(_COUNTED, written, plain(written, example), example):
        number, unit = each["number"], each["unit"] or _SHORT.get(each["short"], "rest")
        word = _WORDS.index(number) + 1 if number in _WORDS else 1  # one, or an eighth
        steps[unit] += int(number) if number and number.isdigit() else word
    return steps


def _eighths(steps: dict[str, int]) -> int:
    return sum(number * _UNITS[unit] for unit, number in steps.items())


@dataclass(frozen=True)
class PrismAnswer:
    """An amount in prism dioptres, right within 0.1, and one base."""

    amount: float
    base: Base

    @property
    def text(self) -> str:
        """Amount and base, such as 2.00 BD."""
        return f"{rounded_to(self.amount, 0.01):.2f} {self.base.letters}"

    def outcome(self, written: str) -> Outcome:
        """RIGHT for the base, and the amount within 0.1.

        Errors  LensError for anything but an amount and a base.
        """
        example = "2.00 BD"
        # A letter alone is no base here: 2 D may be dioptres.
        found = f"{_NUMBER} ?δ?|(?![udio](?![a-z])){_BASE}"
        amounts, bases = _numbers_and_bases(found, written, example)
        if len(amounts) != 1 or len(bases) != 1:
            lack = "no base" if not bases else "a second amount or base" if amounts else "no amount"
            raise unreadable(written, example, f"has {lack}")
        same_base = self.base.value[0] == bases[0]
        return right_if(same_base and within(PRISM_ROUNDING, amounts[0], self.amount))


@dataclass(frozen=True)
class BaseAnswer:
    """The words for a base, and the line they stand on where there are two."""

    written: HalfCircle

    @property
    def text(self) -> str:
        """As written in half-circle notation: BI, or BD&I @ 037."""
        line = f" @ {self.written.degrees:03.0f}" if len(self.written.bases) > 1 else ""
        return self.written.letters + line

    def outcome(self, written: str) -> Outcome:
        """RIGHT for these words in any order, on this line.

        Errors  LensError for anything but base words, with a line where two are asked.
        """
        example, two = self._example, len(self.written.bases) > 1
        lines, bases = _numbers_and_bases(f"(?:@ ?)?{_NUMBER} ?°?|{_BASE}", written, example)
        if not bases or len(lines) != two:
            lack = "no base" if not bases else "a number too many" if lines else "no line"
            raise unreadable(written, example, f"has {lack}")
        same = bases == sorted(base.value[0] for base in self.written.bases)
        return right_if(same and lines in ([], [self.written.degrees]))

    @property
    def _example(self) -> str:
        return "BU&I @ 045" if len(self.written.bases) > 1 else "BU"


@dataclass(frozen=True)
class DecentrationAnswer:
    """Millimetres in or out, and up or down, each right within 0.1."""

    decentration: Decentration

    @property
    def text(self) -> str:
        """The decentration as it is said, such as 3.5 mm in and 2 mm down."""
        return self.decentration.in_words()

    def outcome(self, written: str) -> Outcome:
        """RIGHT within 0.1 mm each way; a way that is not named is none.

        Errors  LensError for anything but one or two lengths, each with its way.
        """
        example = "3.5 mm in, or 3.5 mm in and 2 mm down"
        text = plain(written, example)
        way, length = "(?P<way>in|out|up|down)(?![a-z])", f"(?P<length>{_NUMBER}) ?(?:mm)?"
        pattern = f"{way} ?{length}" if text[0].isalpha() else f"{length} ?(?:{way})?"
        moves: dict[bool, float] = {}
        for each in _parts(pattern, written, text, example):
            side = each["way"]
            if not side:
                raise unreadable(written, example, "has a length without its way")
            across = side in {"in", "out"}
            if across in moves:
                line = "in or out" if across else "up or down"
                raise unreadable(written, example, f"has two lengths {line}")
            moves[across] = float(each["length"]) * (1 if side in {"in", "up"} else -1)
        pairs = ((True, self.decentration.inward), (False, self.decentration.up))
        return right_if(
            all(within(LENGTH_ROUNDING + EXACT, moves.get(way, 0), mm) for way, mm in pairs)
        )


@dataclass(frozen=True)
class VerdictAnswer:
    """Inside, or the quantities that are outside: meridian power, cylinder, axis."""

    outside: frozenset[Quantity]

    @property
    def text(self) -> str:
        """Inside, or outside with its rows in the order of the tables."""
        rows = [each.value for each in Quantity if each in self.outside]
        return f"outside: {', '.join(rows)}" if rows else "inside"

    def outcome(self, written: str) -> Outcome:
        """RIGHT for the verdict and every row that is outside, in any order.

        Errors  LensError for anything else, and for an outside without its row.
        """
        example = "inside, or outside: cylinder, axis (the rows are meridian power, cylinder, axis)"
        text = plain(written, example).replace("meridian power", "power").replace(":", ",")
        for spelling, ours in _VERDICTS:
            text = re.sub(spelling, ours, text)
        words = r"^(?:inside|outside)\b|\b(?:power|cylinder|axis)\b"
        said = {found[0] for found in _parts(words, written, text, example)}
        rows = {row for row in _ROWS if row.value.split()[-1] in said}
        if not said & {"inside", "outside"}:
            raise unreadable(written, example, "says neither inside nor outside")
        if ("inside" in said) == bool(rows):
            fault = "says inside and names a row" if rows else "names no row that is outside"
            raise unreadable(written, example, fault)
        return right_if(rows == self.outside)
