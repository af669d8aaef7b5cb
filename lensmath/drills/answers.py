"""Answers that are numbers: a power, a lens, a direction; and what an answer is.

An answer holds the right value, writes it as a person does, and judges what a person wrote. A drill
of reading is exact: the text must mean the very value. A computed answer may be rounded, so it is
right within the tolerance that is named here, inclusive.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from lensmath.errors import LensError
from lensmath.notation import (
    LONGEST,
    MINUS,
    Decimals,
    Form,
    Part,
    lens_alone,
    read_axis,
    read_power,
    read_prescription,
    write_axis,
    write_exact,
    write_lens,
    write_power,
)
from lensmath.power import SAME_LENS, LensPower, axis_difference, rounded_to, snapped

EXACT = SAME_LENS
POWER_ROUNDING = 0.01  # dioptres
PRISM_ROUNDING = 0.1  # prism dioptres
LENGTH_ROUNDING = 0.1  # millimetres


class Outcome(Enum):
    """How an answer is marked. OTHER_FORM: the right value, in another form than asked."""

    RIGHT = "right"
    OTHER_FORM = "right, but in another form than asked"
    WRONG = "wrong"


class Answer(Protocol):
    """The right answer to a problem."""

    @property
    def text(self) -> str:
        """The answer as a person writes it."""

    def outcome(self, written: str) -> Outcome:
        """How what was written is marked.

        Errors  LensError when it cannot be read.
        """


def right_if(right: bool) -> Outcome:
    """RIGHT or WRONG."""
    return Outcome.RIGHT if right else Outcome.WRONG


def within(tolerance: float, one: float, other: float) -> bool:
    """Whether two values differ by no more than the tolerance."""
    return snapped(abs(one - other)) <= tolerance


_ONE_SPELLING = (
    ("[\N{MINUS SIGN}\u2010-\u2015]", "-"),
    (r"(?<=\d),(?=\d)", "."),  # a decimal comma
    (r"\.(?!\d)", ""),  # full stops, those of B.U. too
    (r"&|;|\band\b", ","),
    (r" ?deg(?:ree)?s?\b", "°"),
    ("millimet(?:re|er)s?", "mm"),
    ("diopt(?:re|er)s?", "d"),
    (r"prism(?: d)?\b|pd\b|∆", "δ"),
    (r"(in|out|up|down)wards?", r"\1"),
    (r"nasal(?:ly)?", "in"),
    (r"temporal(?:ly)?", "out"),
)


def plain(written: str, example: str) -> str:
    """What was written in small letters and one spelling, without full stops, with single spaces.

    Errors  LensError for nothing, and for more than 200 characters.
    """
    text = " ".join(written.lower().split())
    for spelling, ours in _ONE_SPELLING:
        text = re.sub(spelling, ours, text)
    if not text or len(text) > LONGEST:
        raise unreadable(written, example)
    return text


def unreadable(
    written: str, example: str, fault: str = "could not be read", part: str = ""
) -> LensError:
    """The refusal of an answer: its fault, in which part, and an example of what can be read."""
    shown = " ".join(written.split())[:60]
    given = f"“{part}” in “{shown}” {fault}." if part and part != shown.lower() else ""
    given = given or (f"“{shown}” {fault}." if shown else "Nothing was written.")
    return LensError(f"{given.replace('-', MINUS)} Write the answer such as {example}.")


@dataclass(frozen=True)
class PowerAnswer:
    """One signed power in dioptres; `part` says which it is of a lens, where that was asked.

    `decimals` LITERAL takes the digits as they stand: in a computed answer, and where the digits
    themselves were asked for.
    """

    value: float
    decimals: Decimals = Decimals.EIGHTHS
    tolerance: float = EXACT
    part: Part | None = None

    @property
    def text(self) -> str:
        """The power as a person writes it."""
        if self.decimals is Decimals.EIGHTHS:
            return write_power(self.value)
        return write_exact(rounded_to(self.value, max(self.tolerance, 0.001)))

    def outcome(self, written: str) -> Outcome:
        """RIGHT within the tolerance."""
        power = read_power(written, self.decimals, self.part)
        return right_if(within(self.tolerance, power, self.value))


@dataclass(frozen=True)
class LensAnswer:
    """A lens in the form that was asked for; axes are exact."""

    power: LensPower
    decimals: Decimals = Decimals.EIGHTHS
    tolerance: float = EXACT

    @property
    def text(self) -> str:
        """The lens as a person writes it."""
        if self.decimals is Decimals.EIGHTHS:
            return write_lens(self.power)
        sphere, cylinder = (
            rounded_to(each, self.tolerance) for each in (self.power.sphere, self.power.cylinder)
        )
        return write_lens(LensPower(sphere, cylinder, self.power.axis))

    def outcome(self, written: str) -> Outcome:
        """RIGHT for this lens in this form, OTHER_FORM for the same lens in another.

        Errors  LensError for an addition or prism: the lens has none.
        """
        read = read_prescription(written, self.decimals)
        if not self._is(lens_alone(read)):
            return Outcome.WRONG
        same_sign = read.power.cylinder * self.power.cylinder > 0
        asked = same_sign or self.power.axis is None
        return Outcome.RIGHT if asked and read.form is not Form.CROSSED else Outcome.OTHER_FORM

    def _is(self, lens: LensPower) -> bool:
        mine, other = self.power.in_minus_cylinder(), lens.in_minus_cylinder()
        if mine.axis is None or other.axis is None:
            axes = mine.axis is other.axis
        else:
            axes = within(EXACT, axis_difference(mine.axis, other.axis), 0.0)
        return axes and all(
            within(self.tolerance, one.power, two.power)
            for one, two in zip(mine.principal_meridians, other.principal_meridians, strict=True)
        )


@dataclass(frozen=True)
class AxisAnswer:
    """An axis, 1-180 degrees; 0 is taken for 180."""

    degrees: float

    @property
    def text(self) -> str:
        """The axis with three digits."""
        return write_axis(self.degrees)

    def outcome(self, written: str) -> Outcome:
        """RIGHT for this very axis."""
        return right_if(within(EXACT, read_axis(written), self.degrees))


@dataclass(frozen=True)
class BaseDirectionAnswer:
    """A base in degrees on the full circle, 0 up to but not 360; 360 is taken for 0."""

    degrees: float

    @property
    def text(self) -> str:
        """The direction as a whole number."""
        return f"{self.degrees:.0f}"

    def outcome(self, written: str) -> Outcome:
        """RIGHT for this very direction.

        Errors  LensError for anything but a number from 0 to 360.
        """
        found = re.fullmatch(r"(?:@ ?)?(\d+(?:\.\d+)?) ?°?", plain(written, "217"))
        if not found or float(found[1]) > 360:
            raise unreadable(written, "217", "is no number from 0 to 360")
        return right_if(within(EXACT, float(found[1]) % 360, self.degrees))
