"""The unwanted prism of a pair whose optical centres are not before the eyes."""

from __future__ import annotations

from lensmath.decentration import prism_by_decentration
from lensmath.eye import Eye
from lensmath.imbalance import Pair
from lensmath.notation import Decimals, Prescription
from lensmath.prism import Base
from site_src.calculators import pair_prism, prentice
from site_src.calculators.answer import Answer, say
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, Field, PrescriptionField


def solve(
    right_lens: Prescription,
    right_across: float | None,
    right_in_out: Base,
    right_height: float | None,
    right_up_down: Base,
    left_lens: Prescription,
    left_across: float | None,
    left_in_out: Base,
    left_height: float | None,
    left_up_down: Base,
    decimals: Decimals,
) -> Answer:
    """The prism before each eye, and what the pair amounts to."""
    right = prentice.way_of(right_across, right_in_out, right_height, right_up_down)
    left = prentice.way_of(left_across, left_in_out, left_height, left_up_down)
    pair = Pair(
        prism_by_decentration(right_lens.power, right.before(Eye.RIGHT)),
        prism_by_decentration(left_lens.power, left.before(Eye.LEFT)),
    )
    return Answer(
        headline=pair_prism.headline(pair),
        also=pair_prism.also(pair),
        understood=(
            say(
                f"The optical centres lie off the pupils: right {prentice.exact_words(right)}, "
                f"left {prentice.exact_words(left)}."
            ),
            *prentice.understood(decimals, right_lens, left_lens),
        ),
        tables=(pair_prism.table(pair),),
        steps=(
            *prentice.eye_steps(right_lens.power, right.before(Eye.RIGHT), Eye.RIGHT),
            *prentice.eye_steps(left_lens.power, left.before(Eye.LEFT), Eye.LEFT),
            *pair_prism.steps(pair),
        ),
        figures=(pair_prism.arrows("centration-prism-arrows", pair),),
        cautions=prentice.left_out(right_lens, left_lens),
        sources=("long-1976", "basic-optical-principles-course", "uk-trainee-deck-verification"),
    )


def _fields(stem: str, group: str) -> tuple[Field, ...]:
    return (
        PrescriptionField(f"{stem}lens", "Lens", "any form", group=group),
        *prentice.way_fields(stem, group),
    )


CALCULATOR = Calculator(
    slug="centration-prism",
    title="Prism from wrong centres",
    purpose="Enter each lens and how far its optical centre lies from the pupil; get the prism.",
    fields=(*_fields("right_", "Right eye"), *_fields("left_", "Left eye"), DECIMALS),
    solve=solve,
    examples=(
        Example(
            given={
                "right_lens": "+3.00 DS",
                "right_across": "2",
                "right_in_out": "in",
                "left_lens": "+3.00 DS",
                "left_across": "2",
                "left_in_out": "in",
            },
            prints={"horizontal": "1.20", "horizontal.base": "in"},
            source="basic-optical-principles-course",
            note="The amount is as printed. The base printed there, out, is that of a minus lens.",
        ),
        Example(
            given={
                "right_lens": "−4.00 −1.00 × 030",
                "right_across": "1.5",
                "right_in_out": "out",
                "right_height": "1",
                "right_up_down": "up",
                "left_lens": "−3.50 DS",
                "left_across": "1",
                "left_in_out": "in",
            },
            prints={"vertical.base": "down", "horizontal.base": "in"},
            note="An invented pair, one optical centre out and high.",
        ),
    ),
)
