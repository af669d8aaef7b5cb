"""The lens material in a form: one of the usual ones, or an index that is entered."""

from __future__ import annotations

from dataclasses import dataclass

from site_src.calculators.answer import Line, say
from site_src.calculators.fields import Choice, ChoiceField, NumberField
from site_src.calculators.working import unsigned


@dataclass(frozen=True)
class Material:
    """A generic lens material: its index on the d line and its usual Abbe number.

    Source  common-practice, the indices; abbe-number-table, lens-materials-page, the Abbe numbers
    """

    name: str
    index: float
    abbe: float


MATERIALS = (
    Material("hard resin", 1.498, 58),
    Material("crown glass", 1.523, 59),
    Material("tough resin", 1.53, 43),
    Material("polycarbonate", 1.586, 30),
    Material("high-index resin", 1.6, 36),
    Material("high-index resin", 1.67, 32),
    Material("high-index resin", 1.74, 33),
)

MATERIAL = ChoiceField(
    "material",
    "Material",
    "its index is what counts",
    choices=tuple(
        Choice(unsigned(each.index, 2), f"{unsigned(each.index, 2)} {each.name}", each)
        for each in MATERIALS
    ),
)
INDEX = NumberField(
    "index",
    "Another index",
    "counts instead of the material, 1.4 to 2",
    optional=True,
    aside=True,
    low=1.4,
    high=2.0,
)


def index_of(material: Material, entered: float | None) -> float:
    """The index that counts: the entered one, or that of the material."""
    return material.index if entered is None else entered


def entered_index(entered: float | None) -> tuple[Line, ...]:
    """Says that an entered index took the place of the material's; no line when none did."""
    if entered is None:
        return ()
    return (say(f"The index that was entered counts: {unsigned(entered, 2)}."),)
