"""Differential prism at near: the imbalance of a pair at the reading level."""

from __future__ import annotations

from lensmath.imbalance import near_prisms
from lensmath.notation import Decimals, Prescription
from site_src.calculators import pair_prism, prentice, reading_level
from site_src.calculators.answer import Answer
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, NumberField


def solve(
    right_lens: Prescription,
    left_lens: Prescription,
    below: float,
    inset: float | None,
    decimals: Decimals,
) -> Answer:
    """The prism of each distance lens at the reading level, and what the pair amounts to."""
    near = near_prisms(right_lens.power, left_lens.power, below, inset or 0.0)
    return Answer(
        headline=pair_prism.headline(near),
        also=pair_prism.also(near),
        understood=prentice.understood(decimals, right_lens, left_lens),
        tables=(pair_prism.table(near, "Prism of each lens at the reading level"),),
        steps=(
            *reading_level.steps(right_lens, left_lens, below, inset or 0.0, across=True),
            *pair_prism.steps(near),
        ),
        figures=(
            reading_level.picture(
                "near-imbalance-level", right_lens.power, left_lens.power, near, below
            ),
        ),
        cautions=prentice.left_out(right_lens, left_lens),
        sources=("mccarthy-anisometropia", "bhootra-ophthalmic-lenses", "long-1976"),
    )


CALCULATOR = Calculator(
    slug="near-imbalance",
    title="Imbalance at the reading level",
    purpose="Enter both lenses and how far below their centres the wearer reads.",
    fields=(
        *reading_level.LENSES,
        reading_level.BELOW,
        NumberField(
            "inset",
            "Each eye looks in by",
            "empty for none; often 2 to 2.5",
            optional=True,
            aside=True,
            unit="mm",
            high=10.0,
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"right_lens": "−3.00 DS", "left_lens": "−6.00 DS", "below": "8"},
            prints={
                "right.vertical": "2.40",
                "left.vertical": "4.80",
                "vertical": "2.40",
                "vertical.left.base": "down",
            },
            source="bhootra-ophthalmic-lenses",
            note="Printed as 2.4 base down left.",
        ),
        Example(
            given={
                "right_lens": "+2.00 −1.75 × 180",
                "left_lens": "+2.75 −1.00 × 135",
                "below": "10",
            },
            prints={"vertical": "2.00", "vertical.left.base": "up"},
            source="mccarthy-anisometropia",
            note="The left axis is printed as 130 in one place and 35 in another; only 135 and 45 "
            "give the printed vertical power.",
        ),
    ),
)
