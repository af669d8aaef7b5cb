"""One oblique prism as its horizontal and its vertical part."""

from __future__ import annotations

from lensmath.eye import Eye
from lensmath.prism import NO_PRISM, Prism
from site_src.calculators import prism_parts
from site_src.calculators.answer import Answer, Line, Step, say
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import NumberField
from site_src.figures.prism_arrows import by_parts, prism_arrows


def solve(eye: Eye, amount: float, base: float) -> Answer:
    """The two parts in words, with the sine and the cosine between."""
    whole = Prism.from_base(amount, base)
    shown = prism_parts.shown_prism(whole)
    return Answer(
        headline=("No prism",) if shown == NO_PRISM else prism_parts.parts(shown, eye),
        also=_also(shown, eye),
        steps=_steps(whole, shown, eye),
        figures=(
            prism_arrows(
                "resolving-prism-arrows",
                "The prism and its two parts",
                [by_parts(eye, shown)],
                _said(shown, eye),
            ),
        ),
        sources=("iso-8429-1986", "durham-tech-prism-base"),
    )


def _said(shown: Prism, eye: Eye) -> str:
    together = "" if shown == NO_PRISM else ", together the one solid arrow"
    return f"{eye.value.capitalize()} eye: {prism_parts.in_words(shown, eye)}{together}."


def _also(shown: Prism, eye: Eye) -> tuple[Line, ...]:
    if shown == NO_PRISM:
        return (say("An amount of zero has no base."),)
    other = Eye.LEFT if eye is Eye.RIGHT else Eye.RIGHT
    if shown.x == 0:
        return (say("The base lies on the vertical, so there is no horizontal part."),)
    return (
        (
            f"The same direction before the {other.value} eye: ",
            *prism_parts.parts(shown, other, "other."),
            ".",
        ),
    )


def _steps(whole: Prism, shown: Prism, eye: Eye) -> tuple[Step, ...]:
    if shown == NO_PRISM:
        return ()
    result = prism_parts.parts(shown, eye)
    return (
        *prism_parts.resolving_steps(whole),
        Step(f"Put the signs into words. {prism_parts.side(eye)}", result=result),
    )


CALCULATOR = Calculator(
    slug="resolving-prism",
    title="Resolving a prism",
    purpose="Enter one prism with its base in degrees; get its horizontal and vertical parts.",
    fields=(
        prism_parts.EYE,
        NumberField("amount", "Amount", "of the one prism", unit="Δ", high=prism_parts.MOST_PRISM),
        NumberField("base", "Base", "0 to 360, seen from the front", unit="°", high=360.0),
    ),
    solve=solve,
    examples=(
        Example(
            given={"eye": "right", "amount": "2.5", "base": "37"},
            prints={
                "vertical": "1.50",
                "vertical.base": "up",
                "horizontal": "2.00",
                "horizontal.base": "in",
            },
            source="durham-tech-prism-base",
        ),
        Example(
            given={"eye": "left", "amount": "3", "base": "300"},
            prints={
                "vertical": "2.60",
                "vertical.base": "down",
                "horizontal": "1.50",
                "horizontal.base": "out",
            },
            note="An invented prism before a left eye.",
        ),
    ),
)
