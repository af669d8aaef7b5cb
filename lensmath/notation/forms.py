"""What a written prescription is made of."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from lensmath.power import LensPower

MINUS = "\N{MINUS SIGN}"
TIMES = "\N{MULTIPLICATION SIGN}"
STRONGEST = 30.0  # D; a larger number is a power written without its decimal point


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
