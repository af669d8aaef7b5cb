"""A prescribed prism divided between the eyes, its effect kept."""

from __future__ import annotations

from lensmath.eye import Eye
from lensmath.imbalance import Pair, split
from lensmath.notation import TIMES
from lensmath.prism import NO_PRISM, Base
from site_src.calculators import pair_prism, prism_parts
from site_src.calculators.answer import Answer, Line, Step, say
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import NumberField
from site_src.calculators.sums import summed

_HALF = 50.0  # per cent


def solve(
    right_vertical: float | None,
    right_up_down: Base,
    right_horizontal: float | None,
    right_in_out: Base,
    left_vertical: float | None,
    left_up_down: Base,
    left_horizontal: float | None,
    left_in_out: Base,
    share: float | None,
) -> Answer:
    """The total of what was prescribed, and the part of each eye."""
    ordered = Pair(
        prism_parts.prism_of(
            Eye.RIGHT, right_vertical, right_up_down, right_horizontal, right_in_out
        ),
        prism_parts.prism_of(Eye.LEFT, left_vertical, left_up_down, left_horizontal, left_in_out),
    )
    percent = _HALF if share is None else share
    divided = split(ordered.imbalance(Eye.RIGHT), Eye.RIGHT, percent / 100)
    return Answer(
        headline=_headline(divided),
        also=_also(divided),
        tables=(pair_prism.table(divided, "After the split"),),
        steps=(*pair_prism.steps(ordered), *_steps(divided, percent)),
        figures=(pair_prism.arrows("splitting-prism-arrows", divided),),
        cautions=_agree(ordered),
        sources=("durham-tech-prism-base", "opticianry-review-vol-3"),
    )


def _headline(divided: Pair) -> Line:
    if pair_prism.imbalance_of(divided) == NO_PRISM:
        return ("Nothing to split: the two prisms cancel",)
    right, left = (
        prism_parts.parts(
            prism_parts.shown_prism(pair_prism.of(divided, eye)), eye, f"{eye.value}."
        )
        for eye in pair_prism.EYES
    )
    return ("Right ", *right, "; left ", *left)


def _also(divided: Pair) -> tuple[Line, ...]:
    if pair_prism.imbalance_of(divided) == NO_PRISM:
        return ()
    return (
        say(
            "Between two eyes the same horizontal base adds, and opposite vertical bases add; so "
            "the pair does what was prescribed."
        ),
    )


def _steps(divided: Pair, percent: float) -> tuple[Step, ...]:
    total = divided.imbalance(Eye.RIGHT)
    return tuple(
        summed(
            f"{name}, {eye.value} eye: its share of the total.",
            f"total {TIMES} share",
            f"{{t}} {TIMES} {{s}} ÷ 100",
            lambda t, s: t * s / 100,
            say("{part} Δ", part=prism_parts.delta(whole * share / 100, f"{eye.value}.{kind}")),
            t=whole,
            s=share,
        )
        for name, kind, whole in (
            ("Vertical", "vertical", abs(total.y)),
            ("Horizontal", "horizontal", abs(total.x)),
        )
        if whole
        for eye, share in ((Eye.RIGHT, percent), (Eye.LEFT, 100 - percent))
    )


def _agree(ordered: Pair) -> tuple[str, ...]:
    if pair_prism.imbalance_of(ordered) == NO_PRISM:
        return ()
    return ("Split a prism only where the prescriber agrees: one eye may have it for a reason.",)


CALCULATOR = Calculator(
    slug="splitting-prism",
    title="Splitting prism",
    purpose="Enter the prism prescribed before one eye or both; get it shared between them.",
    fields=(
        *prism_parts.prism_fields("right_", "Right eye, prescribed"),
        *prism_parts.prism_fields("left_", "Left eye, prescribed"),
        NumberField(
            "share",
            "Share of the right eye",
            "empty for one half",
            optional=True,
            aside=True,
            unit="%",
        ),
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "right_vertical": "3",
                "right_up_down": "up",
                "left_horizontal": "4",
                "left_in_out": "in",
            },
            prints={
                "right.vertical": "1.50",
                "right.vertical.base": "up",
                "left.vertical.base": "down",
                "right.horizontal": "2.00",
                "left.horizontal.base": "in",
            },
            source="durham-tech-prism-base",
        ),
        Example(
            given={
                "right_vertical": "5",
                "right_up_down": "up",
                "left_vertical": "1",
                "left_up_down": "down",
            },
            prints={"vertical": "6.00", "right.vertical": "3.00", "left.vertical": "3.00"},
            source="opticianry-review-vol-3",
        ),
    ),
)
