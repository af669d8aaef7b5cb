"""The imbalance of a pair from the prism read before each eye."""

from __future__ import annotations

from lensmath.eye import Eye
from lensmath.imbalance import Pair
from lensmath.prism import Base
from site_src.calculators import pair_prism, prism_parts
from site_src.calculators.answer import Answer
from site_src.calculators.declaration import Calculator, Example


def solve(
    right_vertical: float | None,
    right_up_down: Base,
    right_horizontal: float | None,
    right_in_out: Base,
    left_vertical: float | None,
    left_up_down: Base,
    left_horizontal: float | None,
    left_in_out: Base,
) -> Answer:
    """Both eyes as a single prism, vertically and horizontally."""
    pair = Pair(
        prism_parts.prism_of(
            Eye.RIGHT, right_vertical, right_up_down, right_horizontal, right_in_out
        ),
        prism_parts.prism_of(Eye.LEFT, left_vertical, left_up_down, left_horizontal, left_in_out),
    )
    return Answer(
        headline=pair_prism.headline(pair),
        also=pair_prism.also(pair),
        tables=(pair_prism.table(pair),),
        steps=pair_prism.steps(pair),
        figures=(pair_prism.arrows("prism-imbalance-arrows", pair),),
        sources=("uk-trainee-deck-verification", "opticianry-review-vol-3"),
    )


CALCULATOR = Calculator(
    slug="prism-imbalance",
    title="Prism imbalance",
    purpose="Enter the prism read before each eye; get what the two amount to together.",
    fields=(
        *prism_parts.prism_fields("right_", "Right eye"),
        *prism_parts.prism_fields("left_", "Left eye"),
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "right_vertical": "5",
                "right_up_down": "up",
                "left_vertical": "1",
                "left_up_down": "down",
            },
            prints={"vertical": "6.00", "vertical.base": "up"},
            source="opticianry-review-vol-3",
            note="Printed as a total of 6.",
        ),
        Example(
            given={
                "right_vertical": "0.5",
                "right_up_down": "up",
                "right_horizontal": "1",
                "right_in_out": "in",
                "left_vertical": "0.25",
                "left_up_down": "up",
                "left_horizontal": "0.5",
                "left_in_out": "out",
            },
            prints={"vertical": "0.25", "horizontal": "0.50", "horizontal.base": "in"},
            note="An invented pair: the same vertical base, horizontal bases against each other.",
        ),
    ),
)
