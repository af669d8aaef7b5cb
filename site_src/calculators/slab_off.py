"""Slab-off: the prism worked on one lens to take away the vertical imbalance at near."""

from __future__ import annotations

from lensmath.imbalance import Pair, Slab, near_prisms, reverse_slab, slab_off
from lensmath.notation import Decimals, Prescription
from lensmath.prism import Prism
from site_src.calculators import pair_prism, prentice, prism_parts, reading_level
from site_src.calculators.answer import Answer, Datum, Line, Step, say, word
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS

_LEAST = 1.5  # Δ; less is seldom ground


def solve(
    right_lens: Prescription, left_lens: Prescription, below: float, decimals: Decimals
) -> Answer:
    """Amount, base and lens of the slab, by both ways of working it."""
    near = _vertical(near_prisms(right_lens.power, left_lens.power, below))
    slab, reverse = slab_off(near), reverse_slab(near)
    return Answer(
        headline=_headline(slab),
        also=_also(slab, reverse),
        understood=prentice.understood(decimals, right_lens, left_lens),
        steps=(
            *reading_level.steps(right_lens, left_lens, below, 0.0, across=False),
            *pair_prism.steps(near),
            *_which(slab),
        ),
        figures=(
            reading_level.picture("slab-off-level", right_lens.power, left_lens.power, near, below),
        ),
        cautions=(*_small(slab), *prentice.left_out(right_lens, left_lens)),
        sources=("durham-tech-13d", "opt-1156-cards", "common-practice"),
    )


def _vertical(near: Pair) -> Pair:
    """A slab takes away vertical prism alone, as far as it shows."""
    return Pair(*(prism_parts.shown_prism(Prism(0.0, prism.y)) for prism in near))


def _headline(slab: Slab | None) -> Line:
    if slab is None or round(slab.amount, 2) == 0:
        return ("No slab-off needed: no vertical imbalance",)
    return _said("Slab-off", slab, "slab")


def _said(what: str, slab: Slab, name: str) -> Line:
    return say(
        f"{what} {{amount}} Δ base {{base}}, {{eye}} lens",
        amount=prism_parts.delta(slab.amount, f"{name}.amount"),
        base=Datum(f"{name}.base", slab.base.value, slab.base.value),
        eye=word(slab.eye.value, f"{name}.eye"),
    )


def _also(slab: Slab | None, reverse: Slab | None) -> tuple[Line, ...]:
    if slab is None or reverse is None:
        return ()
    return (
        (*_said("Or a reverse slab,", reverse, "reverse"), "."),
        say("Either takes the same imbalance away; never work both."),
    )


def _which(slab: Slab | None) -> tuple[Step, ...]:
    if slab is None:
        return ()
    return (
        Step(
            "A slab-off is base up, so it goes on the lens with more base down at the level: most "
            "minus, or least plus, in the vertical meridian.",
            result=(word(slab.eye.value, "slab.eye"), " lens"),
        ),
    )


def _small(slab: Slab | None) -> tuple[str, ...]:
    if slab is None or slab.amount >= _LEAST:
        return ()
    caution = (
        f"A slab of less than {_LEAST:g} Δ is seldom worked (common practice). Ask the laboratory, "
        "and ask whether the wearer is troubled at all."
    )
    return (caution,)


CALCULATOR = Calculator(
    slug="slab-off",
    title="Slab-off",
    purpose="Enter both lenses and the reading level; get the slab and the lens that it goes on.",
    fields=(*reading_level.LENSES, reading_level.BELOW, DECIMALS),
    solve=solve,
    examples=(
        Example(
            given={
                "right_lens": "−3.00 −2.00 × 180",
                "left_lens": "−2.75 −2.50 × 090",
                "below": "8",
            },
            prints={"slab.amount": "1.80", "slab.base": "up", "slab.eye": "right"},
            source="opt-1156-cards",
        ),
        Example(
            given={
                "right_lens": "−4.00 +2.00 × 060",
                "left_lens": "−3.00 +3.00 × 045",
                "below": "9",
            },
            prints={"reverse.amount": "1.80", "reverse.base": "down", "reverse.eye": "left"},
            source="opt-1156-cards",
            note="Printed as a reverse slab.",
        ),
        Example(
            given={"right_lens": "+1.50 DS", "left_lens": "+5.25 DS", "below": "8"},
            prints={"slab.amount": "3.00", "slab.eye": "right"},
            source="certification-answers-upload",
        ),
    ),
)
