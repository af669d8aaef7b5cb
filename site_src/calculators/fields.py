"""The fields of a calculator: the one place where typed text becomes a value.

Every field says its own range in its own words. An error names the field by its label.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import ClassVar, NamedTuple

from lensmath.errors import LensError
from lensmath.notation import (
    LONGEST,
    STRONGEST,
    Decimals,
    Prescription,
    read_axis,
    read_power,
    read_prescription,
)


class FieldError(Exception):
    """A sentence about one entry, or about the form as a whole when `field` is empty."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field
        self.message = message


@contextmanager
def on_field(name: str) -> Iterator[None]:
    """Whatever `lensmath` refuses in this block is put down to the field `name`."""
    try:
        yield
    except LensError as error:
        raise FieldError(name, str(error)) from error


@dataclass(frozen=True)
class Field:
    """What all fields have: a name for the address, a label and a hint for the person.

    `aside` puts a field that is seldom changed under “More”. An optional field may be empty and
    its value is then None. Fields that follow each other with the same `group` stand together under
    its name; an error about one of them names the group too.
    """

    name: str
    label: str
    hint: str = ""
    optional: bool = False
    aside: bool = False
    group: str = ""

    kind: ClassVar[str] = ""

    @property
    def full_label(self) -> str:
        """The label for where the group's name does not stand above it."""
        return f"{self.group}: {self.label}" if self.group else self.label

    @property
    def when_empty(self) -> str:
        """What to enter, said when nothing was."""
        return _WHEN_EMPTY[self.kind]

    def parse(self, text: str, decimals: Decimals) -> object:
        """The value of a text that is not empty; LensError says what is wrong with it."""
        raise NotImplementedError


@dataclass(frozen=True)
class PowerField(Field):
    """A signed power in dioptres, with its sign key and its steps."""

    kind: ClassVar[str] = "power"

    def parse(self, text: str, decimals: Decimals) -> float:
        # Before a word stands the sign of the key, which nobody typed.
        return read_power(re.sub(r"^[-+\u2212](?=[^-+\u2212\d]+$)", "", text), decimals)


@dataclass(frozen=True)
class AxisField(Field):
    """An axis in degrees, 1-180; with `turns` it has keys that turn it, as a wheel does."""

    turns: bool = False

    kind: ClassVar[str] = "axis"

    def parse(self, text: str, decimals: Decimals) -> float:
        return read_axis(text)


@dataclass(frozen=True)
class PrescriptionField(Field):
    """A lens on one line, in any form that people write."""

    kind: ClassVar[str] = "prescription"

    def parse(self, text: str, decimals: Decimals) -> Prescription:
        return read_prescription(text, decimals)


@dataclass(frozen=True)
class TextField(Field):
    """What somebody says in words of their own; the calculator reads it.

    Half of it means nothing, so the page asks once it is whole: on Enter, or on leaving the field.
    """

    kind: ClassVar[str] = "text"

    def parse(self, text: str, decimals: Decimals) -> str:
        if len(text) > LONGEST:
            raise LensError(
                f"“{text[:40]}…” has {len(text)} characters; up to {LONGEST} are read. "
                f"{self.when_empty}"
            )
        return text


@dataclass(frozen=True)
class NumberField(Field):
    """A number without a sign, from `low` to `high`, in `unit` ("mm", "Δ", "°", "cm", "%" or "").

    Halves, quarters and eighths may be fractions. A `whole` one names something, such as a problem.
    """

    unit: str = ""
    low: float = 0.0
    high: float = 100.0
    whole: bool = False

    kind: ClassVar[str] = "number"

    @property
    def when_empty(self) -> str:
        return f"Enter a {'whole number' if self.whole else 'number'} from {self._range}."

    @property
    def _range(self) -> str:
        unit = self.unit if self.unit == "°" else f" {self.unit}".rstrip()
        return f"{self.low:g} to {self.high:g}{unit}"

    def parse(self, text: str, decimals: Decimals) -> float:
        if re.match(r"[-+\u2212\u2013]", text):
            raise LensError(f"“{text[:60]}” has a sign, and none is wanted here. {self.when_empty}")
        digits = text.removesuffix(self.unit).rstrip().replace(",", ".")
        if not re.fullmatch(r"\d+\.?\d*|\.\d+|[1-9]/[248]", digits, re.ASCII):
            raise LensError(f"“{text[:60]}” is not a number. {self.when_empty}")
        top, _, bottom = digits.partition("/")
        value = float(top) / float(bottom or 1)
        if not self.low <= value <= self.high:
            raise LensError(f"{text[:60]} was entered; it has to be from {self._range}.")
        if self.whole and not value.is_integer():
            raise LensError(f"{text[:60]} is not whole. {self.when_empty}")
        return value


class Choice(NamedTuple):
    """One of a few: its text in the form and the address, what it says, and its value."""

    text: str
    words: str
    value: object


@dataclass(frozen=True)
class ChoiceField(Field):
    """One of a few choices; the first is the usual one."""

    choices: tuple[Choice, ...] = ()

    kind: ClassVar[str] = "choice"

    def parse(self, text: str, decimals: Decimals) -> object:
        for choice in self.choices:
            if choice.text == text:
                return choice.value
        allowed = ", ".join(choice.text for choice in self.choices)
        raise LensError(f"“{text[:60]}” is not one of the choices: {allowed}.")

    def words(self, text: str) -> str:
        """What the choice with this text says; the usual one for an empty text."""
        said = {choice.text: choice.words for choice in self.choices}
        return said.get(text or self.choices[0].text, text)


DECIMALS = ChoiceField(
    "decimals",
    "An entry of 0.12 means",
    "a hand scale has eighths; a display has hundredths",
    aside=True,
    choices=(
        Choice("eighths", "one eighth, 0.125 D (hand scale)", Decimals.EIGHTHS),
        Choice("literal", "0.12 D exactly (display)", Decimals.LITERAL),
    ),
)


def read_form(fields: tuple[Field, ...], texts: Mapping[str, str]) -> dict[str, object]:
    """Every entry of a form as a typed value, by field name.

    Errors  ExceptionGroup of FieldError, one for each wrong entry: nobody mends a form one
            mistake at a time. An entry for a field that does not exist is one of them.
    """
    values: dict[str, object] = {}
    wrong: list[FieldError] = []
    decimals = Decimals.LITERAL if texts.get("decimals") == Decimals.LITERAL else Decimals.EIGHTHS
    for field in fields:
        text = texts.get(field.name, "").strip()
        try:
            values[field.name] = _read_entry(field, text, decimals)
        except LensError as error:
            wrong.append(FieldError(field.name, f"{field.full_label}: {error}"))
    known = {field.name for field in fields}
    allowed = ", ".join(sorted(known))
    wrong.extend(
        FieldError("", f"There is no field “{name[:40]}” here; the fields are {allowed}.")
        for name in texts
        if name not in known
    )
    if wrong:
        raise ExceptionGroup("wrong entries", wrong)
    return values


def _read_entry(field: Field, text: str, decimals: Decimals) -> object:
    sign_alone = field.kind == "power" and text in ("+", "-", "\N{MINUS SIGN}")
    if text == "" or sign_alone:
        if isinstance(field, ChoiceField):
            return field.choices[0].value
        if field.optional:
            return None
        raise LensError(f"nothing was entered. {field.when_empty}")
    return field.parse(text, decimals)


_WHEN_EMPTY = {
    "power": f"Enter a power from −{STRONGEST:.0f} to +{STRONGEST:.0f} D.",
    "axis": "Enter an axis from 1 to 180.",
    "prescription": "Enter a lens such as −2.25 −0.75 × 105.",
    "text": "Enter a few words or figures.",
}
