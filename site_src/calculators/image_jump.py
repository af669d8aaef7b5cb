"""Image jump: the prism that sets in at the top of a segment."""

from __future__ import annotations

from lensmath.imbalance import image_jump
from lensmath.notation import TIMES, Decimals
from lensmath.prism import NO_PRISM, Prism
from site_src.calculators import prism_parts
from site_src.calculators.answer import Answer, Line, cut_eighths, say
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, NumberField, PowerField, on_field
from site_src.calculators.sums import summed
from site_src.figures.segment_jump import segment_jump


def solve(addition: float, top_to_centre: float, decimals: Decimals) -> Answer:
    """The jump: addition times the way from the top of the segment to its centre."""
    with on_field("addition"):
        jump = image_jump(addition, top_to_centre)
    shown = prism_parts.shown_prism(jump)
    return Answer(
        headline=_headline(shown),
        also=(
            say("The distance power has no part in it: only the addition and its centre count."),
        ),
        understood=cut_eighths(decimals, addition),
        steps=(
            summed(
                "Addition times the way in centimetres.",
                f"A {TIMES} t ÷ 10",
                f"{{a}} {TIMES} {{t}} ÷ 10",
                lambda a, t: a * t / 10,
                say("{jump} Δ", jump=prism_parts.delta(jump.amount, "jump")),
                a=addition,
                t=top_to_centre,
            ),
        ),
        figures=(segment_jump("image-jump-segment", addition, top_to_centre, shown.amount),),
        sources=("durham-tech-13b", "bhootra-ophthalmic-lenses"),
    )


def _headline(shown: Prism) -> Line:
    if shown == NO_PRISM:
        return ("No image jump",)
    return say("{jump} Δ base down", jump=prism_parts.delta(shown.amount, "jump"))


CALCULATOR = Calculator(
    slug="image-jump",
    title="Image jump",
    purpose="Enter the addition and where the segment has its centre; get the jump at its top.",
    fields=(
        PowerField("addition", "Addition", "zero or more"),
        NumberField(
            "top_to_centre",
            "Segment top to its optical centre",
            "half the width of a round segment; often 5 for a flat top",
            unit="mm",
            high=30.0,
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"addition": "+2.00", "top_to_centre": "11"},
            prints={"jump": "2.20"},
            source="durham-tech-13b",
            note="A round segment of 22 mm.",
        ),
        Example(
            given={"addition": "+2.00", "top_to_centre": "5"},
            prints={"jump": "1.00"},
            source="bhootra-ophthalmic-lenses",
            note="A flat-top segment 28 mm wide and 19 mm deep.",
        ),
    ),
)
