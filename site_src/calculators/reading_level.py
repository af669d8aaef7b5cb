"""What the calculators at the reading level share: their entries, their sums and their picture."""

from __future__ import annotations

from lensmath.centration import Decentration
from lensmath.eye import Eye
from lensmath.imbalance import Pair
from lensmath.notation import Prescription
from lensmath.power import LensPower, rounded_to
from lensmath.prism import Component
from site_src.calculators import pair_prism, prentice, prism_parts
from site_src.calculators.answer import Step
from site_src.calculators.fields import Field, NumberField, PrescriptionField
from site_src.figures.reading_level import Reading, reading_level
from site_src.figures.svg import Figure

LENSES = (
    PrescriptionField("right_lens", "Right lens", "distance power"),
    PrescriptionField("left_lens", "Left lens", "distance power"),
)
BELOW: Field = NumberField(
    "below",
    "Reading level below the optical centres",
    "where both eyes look through when reading; often 8 to 10",
    unit="mm",
    high=30.0,
)


def steps(
    right: Prescription, left: Prescription, below: float, inset: float, *, across: bool
) -> tuple[Step, ...]:
    """The prism of each lens there; the optical centre lies above, and out by the inset."""
    return tuple(
        step
        for eye, lens in ((Eye.RIGHT, right), (Eye.LEFT, left))
        for step in prentice.eye_steps(
            lens.power, Decentration(-inset, below).before(eye), eye, across=across
        )
    )


def picture(name: str, right: LensPower, left: LensPower, near: Pair, below: float) -> Figure:
    """Both lenses with their prism at the level, and what the difference is."""
    shown = [prism_parts.shown_prism(pair_prism.of(near, eye)) for eye in pair_prism.EYES]
    readings = [
        Reading(eye, lens.power_along(90), prism)
        for eye, lens, prism in zip(pair_prism.EYES, (right, left), shown, strict=True)
    ]
    right_part, left_part = (prism.vertical for prism in shown)
    whole = pair_prism.imbalance_of(near).vertical
    imbalance = "No vertical imbalance."
    if whole.base is not None:
        imbalance = f"Imbalance {_said(whole)} before the right eye."
    said = f"Right lens: {_said(right_part)}; left lens: {_said(left_part)}. {imbalance}"
    return reading_level(name, readings, below, said)


def _said(part: Component) -> str:
    if part.base is None:
        return "no vertical prism"
    return f"{rounded_to(part.amount, 0.01):.2f}\N{NO-BREAK SPACE}Δ base {part.base.value}"
