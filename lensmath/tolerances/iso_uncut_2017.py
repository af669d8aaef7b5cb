"""What both parts of ISO 8980:2017 share beside the power: axis, prism and thickness, uncut.

The standards were not read. Axis and prism are wholly from memory, and so are no more than a draft;
the axis figures are those of ANSI. A student deck prints the constants 0.25, 0.37 and 0.50 with
their breaks at 2 and 10 prism dioptres (`verification-deck-limits`, under another standard's name).
Each part of the ordered prism is taken to pick its own row. Thinning prism counts as ordered.
"""

from functools import partial

from lensmath.tolerances.model import (
    Confidence,
    Governing,
    LensType,
    Linear,
    Quantity,
    Row,
    Unit,
)

_DECK = "verification-deck-limits"
_CYLINDER = Governing.CYLINDER
_STRONGER = Governing.STRONGER_MERIDIAN


def axis_rows(standard: str, lens_types: tuple[LensType, ...]) -> tuple[Row, ...]:
    """The limits of the axis of an uncut lens, for the standard with this key."""
    axis = partial(
        Row,
        Quantity.AXIS,
        unit=Unit.DEGREE,
        clause="axis table, number not known",
        confidence=Confidence.MEMORY,
        sources=(standard,),
        lens_types=lens_types,
    )
    return (
        axis((_CYLINDER.below(0.12),), None),
        axis((_CYLINDER.from_to(0.12, 0.25),), 14),
        axis((_CYLINDER.above(0.25, up_to=0.50),), 7),
        axis((_CYLINDER.above(0.50, up_to=0.75),), 5),
        axis((_CYLINDER.above(0.75, up_to=1.50),), 3),
        axis((_CYLINDER.above(1.50),), 2),
    )


def prism_rows(standard: str, lens_types: tuple[LensType, ...]) -> tuple[Row, ...]:
    """The limits of the prism of an uncut lens at its PRP, for the standard with this key."""
    prism = partial(
        Row,
        unit=Unit.PRISM_DIOPTRE,
        clause="prism table, number not known",
        confidence=Confidence.SPOT_CHECKED,
        sources=(standard, _DECK),
        lens_types=lens_types,
    )
    return tuple(
        prism(quantity, (band,), Linear(fixed, per_dioptre, _STRONGER))
        for quantity, ordered, per_dioptre in (
            (Quantity.HORIZONTAL_PRISM, Governing.HORIZONTAL_PRISM, 0.1),
            (Quantity.VERTICAL_PRISM, Governing.VERTICAL_PRISM, 0.05),
        )
        for band, fixed in (
            (ordered.from_to(0, 2), 0.25),
            (ordered.above(2, up_to=10), 0.37),
            (ordered.above(10), 0.50),
        )
    )
