"""The columns of a file of jobs: their names, what may stand in them, and a row as typed values.

A column is a field of a form whose name and label are the column's name, so the sentences about
mistakes are those of the calculators.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.job import MeasuredLens, OrderedLens
from lensmath.notation import Decimals, Prescription, WrittenPrism, read_power
from lensmath.notation.line import Line
from lensmath.power import LensPower
from lensmath.prism import NO_PRISM, Base, Prism
from lensmath.tolerances import standards_for
from lensmath.tolerances.model import LensType, Standard
from site_src.calculators.fields import (
    DECIMALS,
    AxisField,
    Field,
    FieldError,
    PowerField,
    PrescriptionField,
    on_field,
    read_form,
)

STANDARDS = standards_for(LensType.SINGLE_VISION)
_EYES = dict.fromkeys(("right", "r", "re", "od"), Eye.RIGHT)
_EYES |= dict.fromkeys(("left", "l", "le", "os"), Eye.LEFT)


def is_unsigned(text: str) -> bool:
    """Whether a power stands without a sign, as a spreadsheet saves +1.25; zero needs none."""
    return re.match(r"[\d.,]", text) is not None and re.search(r"[1-9]", text) is not None


@dataclass(frozen=True)
class SavedPowerField(PowerField):
    """A power as a spreadsheet saves it: the plus sign of a number is lost, its minus never is."""

    def parse(self, text: str, decimals: Decimals) -> float:
        return read_power(f"+{text}" if is_unsigned(text) else text, decimals)


@dataclass(frozen=True)
class PrismField(Field):
    """Prism with its base or bases, such as 2 BU or 1.5 BI 2 BU; 0 for none."""

    kind: ClassVar[str] = "prism"

    def parse(self, text: str, decimals: Decimals) -> tuple[WrittenPrism, ...]:
        if re.fullmatch(r"0+(?:[.,]0*)?", text):
            return ()
        line, found = Line(text, decimals), []
        while not line.done():
            found.append(line.prism())
        return tuple(found)


@dataclass(frozen=True)
class EyeField(Field):
    """The eye by one of its usual names."""

    kind: ClassVar[str] = "eye"

    def parse(self, text: str, decimals: Decimals) -> Eye:
        if eye := _EYES.get(text.casefold().replace(".", "")):
            return eye
        raise LensError(f"“{text[:60]}” is not an eye. Write right or left, R or L, OD or OS.")


@dataclass(frozen=True)
class StandardField(Field):
    """A standard by its key or its designation."""

    kind: ClassVar[str] = "standard"

    def parse(self, text: str, decimals: Decimals) -> Standard:
        for key, standard in STANDARDS.items():
            if text.casefold() in (key, standard.designation.casefold()):
                return standard
        allowed = ", ".join(standard.designation for standard in STANDARDS.values())
        raise LensError(f"“{text[:60]}” is not a standard that is held; there are {allowed}.")


@dataclass(frozen=True)
class JobField(Field):
    """Whatever the job is called."""

    kind: ClassVar[str] = "job"

    def parse(self, text: str, decimals: Decimals) -> str:
        return text


def _lens_columns(side: str, when: str) -> tuple[Field, ...]:
    return (
        PrescriptionField(side, side, f"the lens on one line, as {when}", optional=True),
        SavedPowerField(f"{side} sphere", f"{side} sphere", "or the lens in three", optional=True),
        SavedPowerField(
            f"{side} cylinder", f"{side} cylinder", "empty for a sphere", optional=True
        ),
        AxisField(f"{side} axis", f"{side} axis", "1 to 180", optional=True),
        SavedPowerField(f"{side} addition", f"{side} addition", "may be left out", optional=True),
        PrismField(f"{side} prism", f"{side} prism", "such as 2 BU, or 1.5 BI 2 BU", optional=True),
    )


COLUMNS: tuple[Field, ...] = (
    JobField("job", "job", "any text, to find the lens again", optional=True),
    EyeField("eye", "eye", "right or left, R or L, OD or OS", optional=True),
    *_lens_columns("ordered", "it stands on the order: −2.00 −0.75 × 005"),
    *_lens_columns("measured", "it was measured: −2.12 −0.75 × 002"),
    StandardField("standard", "standard", "empty for the one chosen on the page", optional=True),
)
NAMES = tuple(field.name for field in COLUMNS)
UNSIGNED = tuple(field.name for field in COLUMNS if isinstance(field, SavedPowerField))


@dataclass(frozen=True)
class Job:
    """One lens of the file, with the standard that judges it."""

    name: str
    eye: Eye | None
    ordered: OrderedLens
    measured: MeasuredLens
    standard: Standard


def read_job(cells: Mapping[str, str], decimals: Decimals, standard: Standard) -> Job:
    """The job in the cells of a row, by the names of their columns.

    `standard` judges it when the row names none.

    Errors  ExceptionGroup of FieldError for wrong cells; FieldError when they do not go together.
    """
    values = read_form((*COLUMNS, DECIMALS), {**cells, "decimals": decimals.value})
    eye = values["eye"]
    assert eye is None or isinstance(eye, Eye)
    ordered, measured = _Side("ordered", values), _Side("measured", values)
    with on_field("ordered addition"):
        order = OrderedLens(
            ordered.power(), ordered.prism(eye) or NO_PRISM, addition=ordered.addition()
        )
    found = MeasuredLens(measured.power(), measured.prism(eye), addition=measured.addition())
    chosen = values["standard"] or standard
    assert isinstance(chosen, Standard)
    return Job(str(values["job"] or ""), eye, order, found, chosen)


class _Side:
    """The ordered or the measured lens of a row: written on one line, or in cells of its own."""

    def __init__(self, side: str, values: Mapping[str, object]) -> None:
        self._side = side
        self._values = values
        written = values[side]
        assert written is None or isinstance(written, Prescription)
        self._written = written

    def power(self) -> LensPower:
        sphere, cylinder, axis = (self._number(part) for part in ("sphere", "cylinder", "axis"))
        if self._written is not None:
            for part in ("sphere", "cylinder", "axis"):
                self._only_once(part, self._written.power)
            return self._written.power
        if sphere is None:
            alone = cylinder is None and axis is None
            raise FieldError(
                f"{self._side} sphere",
                f"nothing was entered. Fill it, or “{self._side}”."
                if alone
                else "nothing was entered, but the cylinder or the axis was.",
            )
        if cylinder is None and axis is not None:
            raise FieldError(
                f"{self._side} cylinder",
                "nothing was entered, but the axis was. Enter the cylinder, or for a sphere no "
                "axis.",
            )
        with on_field(f"{self._side} axis"):
            return LensPower(sphere, cylinder or 0.0, axis)

    def addition(self) -> float | None:
        written = self._written.addition if self._written else None
        self._only_once("addition", written)
        return self._number("addition") if written is None else written

    def prism(self, eye: Eye | None) -> Prism | None:
        """As one arrow; None where none was written, so that it is not compared."""
        written = (self._written.prism if self._written else None) or None
        self._only_once("prism", written)
        alone = self._values[f"{self._side} prism"]
        parts = alone if written is None else written
        if parts is None:
            return None
        assert isinstance(parts, tuple)
        return sum((_arrow(part, eye) for part in parts), start=NO_PRISM)

    def _number(self, part: str) -> float | None:
        value = self._values[f"{self._side} {part}"]
        assert value is None or isinstance(value, float)
        return value

    def _only_once(self, part: str, written: object) -> None:
        column = f"{self._side} {part}"
        if written is not None and self._values[column] is not None:
            raise FieldError(column, f"“{self._side}” says it too. Fill one of the two.")


def _arrow(prism: WrittenPrism, eye: Eye | None) -> Prism:
    if not isinstance(prism.base, str):
        return Prism.from_base(prism.amount, prism.base)
    base = Base(prism.base)
    if eye is None and base in (Base.IN, Base.OUT):
        raise FieldError("eye", f"nothing was entered, and base {base.value} depends on it.")
    return Prism.from_word(prism.amount, base, eye or Eye.RIGHT)
