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
_REST = re.compile(r"0?\.125? ?d?( read)?( between the marks)?$")
_COUNTED = re.compile(rf"(\d{{1,2}}|{'|'.join(_WORDS)}) (whole|quarter|eighth)s?(?: dioptres?)?")
_NUMBER = r"\d+(?:\.\d+)?"


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
    text = plain(written, example)
    steps_text, rests = _REST.subn("", text)
    left_over = re.sub(r"\band\b|[\s,]", "", _COUNTED.sub("", steps_text))
    steps = dict.fromkeys(_UNITS, 0) | {"rest": rests}
    for number, unit in _COUNTED.findall(steps_text):
        steps[unit] += int(number) if number.isdigit() else _WORDS.index(number) + 1
    if left_over or not any(steps.values()):
        raise unreadable(text, example)
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
        text = plain(written, "2.00 BD")
        found = re.fullmatch(rf"({_NUMBER}) ?[Δδ∆]? ?(?:b|base )?(up|down|in|out|[udio])", text)
        if not found:
            raise unreadable(text, "2.00 BD")
        same_base = self.base.value.startswith(found[2][0])
        return right_if(same_base and within(PRISM_ROUNDING, float(found[1]), self.amount))


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
        text = plain(written, self._example)
        bare = re.sub(r"base |\b(up|down|in|out)\b", lambda found: (found[1] or "")[:1], text)
        found = re.fullmatch(r"b?([udio])(?: ?(?:&|and) ?b?([udio]))?(?: ?@ ?(\d{1,3}))?", bare)
        if not found or (len(self.written.bases) > 1) != (found[3] is not None):
            raise unreadable(text, self._example)
        words = {base.value[0] for base in self.written.bases}
        line = found[3] is None or int(found[3]) == self.written.degrees
        return right_if({found[1], found[2]} - {None} == words and line)

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
        part = rf"({_NUMBER}) ?(?:mm)? ?"
        found = re.fullmatch(rf"{part}(in|out)(?:,? ?(?:and)? ?{part}(up|down))?", text)
        if not found:
            raise unreadable(text, example)
        inward = float(found[1]) * (1 if found[2] == "in" else -1)
        up = float(found[3] or 0) * (1 if found[4] == "up" else -1)
        pairs = ((inward, self.decentration.inward), (up, self.decentration.up))
        return right_if(all(within(LENGTH_ROUNDING + EXACT, one, two) for one, two in pairs))


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
        text = plain(written, example)
        rows = (Quantity.MERIDIAN_POWER, Quantity.CYLINDER, Quantity.AXIS)
        names = "|".join(row.value for row in rows)
        if not re.fullmatch(rf"inside|outside:?(?:(?: |, ?| and )(?:{names}))+", text):
            raise unreadable(text, example)
        return right_if({row for row in rows if row.value in text} == self.outside)
