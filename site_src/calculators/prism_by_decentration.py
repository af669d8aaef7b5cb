"""Prism by decentration: Prentice's rule for any lens, any way, either eye."""

from __future__ import annotations

from lensmath.centration import Decentration
from lensmath.decentration import prism_by_decentration
from lensmath.eye import Eye
from lensmath.notation import Decimals, Prescription
from lensmath.power import LensPower
from lensmath.prism import NO_PRISM, Base, Prism
from site_src.calculators import prentice, prism_parts
from site_src.calculators.answer import Answer, Line, Step, say
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, Choice, ChoiceField, PrescriptionField
from site_src.figures.prism_arrows import by_parts, prism_arrows

_LARGE = 10.0  # Δ; beyond this a thin lens and small angles are a rough picture


def solve(
    eye: Eye,
    lens: Prescription,
    moved: str,
    across: float | None,
    in_out: Base,
    height: float | None,
    up_down: Base,
    decimals: Decimals,
) -> Answer:
    """The prism where the eye looks, in parts and as one arrow."""
    way = prentice.way_of(across, in_out, height, up_down)
    centre = way if moved == "centre" else Decentration(-way.inward, -way.up)
    place = centre.before(eye)
    prism = prism_parts.shown_prism(prism_by_decentration(lens.power, place))
    return Answer(
        headline=_headline(prism, eye),
        also=_also(lens.power, prism, centre),
        understood=(
            say(f"Read as: {_read(moved, way)}"),
            *prentice.understood(decimals, lens),
        ),
        steps=_steps(lens.power, eye, centre, prism),
        figures=(
            prism_arrows(
                "prism-by-decentration-arrows",
                "Prism where the eye looks",
                [by_parts(eye, prism)],
                f"{eye.value.capitalize()} eye: {prism_parts.in_words(prism, eye)}.",
            ),
        ),
        cautions=(*_large(prism), *prentice.left_out(lens)),
        sources=("long-1976", "jalie-2024", "durham-tech-13a"),
    )


def _headline(prism: Prism, eye: Eye) -> Line:
    return ("No prism",) if prism == NO_PRISM else prism_parts.parts(prism, eye)


def _also(lens: LensPower, prism: Prism, way: Decentration) -> tuple[Line, ...]:
    if prism != NO_PRISM:
        return (say("As one prism: {prism}.", prism=prism_parts.round_the_circle(prism)),)
    if lens == LensPower(0.0):
        return (say("A plano lens has no prism by decentration, however far it is moved."),)
    if way.distance == 0:
        return (say("The eye looks through the optical centre, where a lens has no prism."),)
    return (say("The way lies along a meridian without power, or is too short to show as 0.01 Δ."),)


def _read(moved: str, way: Decentration) -> str:
    if moved == "centre":
        return f"the optical centre is moved from where the eye looks, {prentice.exact_words(way)}."
    return f"the eye looks away from the optical centre, {prentice.exact_words(way)}."


def _steps(lens: LensPower, eye: Eye, way: Decentration, prism: Prism) -> tuple[Step, ...]:
    if lens == LensPower(0.0) or way.distance == 0:
        return ()
    place = way.before(eye)
    return (
        prentice.way_step(place),
        *prentice.power_steps(lens),
        *prentice.prism_steps(lens, place),
        Step(
            f"Put the signs into words. {prism_parts.side(eye)}",
            result=prism_parts.parts(prism, eye),
        ),
        *prism_parts.resultant_steps(prism),
    )


def _large(prism: Prism) -> tuple[str, ...]:
    if prism.amount <= _LARGE:
        return ()
    caution = (
        "Prentice's rule is for thin lenses and small angles. A real lens may differ by some per "
        "cent here, so read its prism too."
    )
    return (caution,)


CALCULATOR = Calculator(
    slug="prism-by-decentration",
    title="Prism by decentration",
    purpose="Enter the lens and how far off its centre the eye looks; get the prism there.",
    fields=(
        prism_parts.EYE,
        PrescriptionField("lens", "Lens", "any form, as −3.25 DS or +6.00 −3.00 × 140"),
        ChoiceField(
            "moved",
            "What is moved",
            "the two give opposite bases",
            choices=(
                Choice("centre", "the centre, off the pupil", "centre"),
                Choice("gaze", "the eye, off the centre", "gaze"),
            ),
        ),
        *prentice.way_fields("", "How far"),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "eye": "right",
                "lens": "+6.00 −3.00 × 140",
                "moved": "gaze",
                "across": "2.5",
                "in_out": "in",
                "height": "11",
                "up_down": "down",
            },
            prints={"vertical": "5.03", "vertical.base": "up", "horizontal.base": "out"},
            source="jalie-2024",
            note="The horizontal part is printed as 2.81, cut and not rounded; it is 2.82.",
        ),
        Example(
            given={"eye": "left", "lens": "−3.25 DS", "across": "5", "in_out": "out"},
            prints={"horizontal": "1.63", "horizontal.base": "in"},
            source="durham-tech-13a",
            note="Printed with one decimal, 1.6; 1.625 before rounding.",
        ),
        Example(
            given={
                "eye": "right",
                "lens": "+8.50 DS",
                "moved": "gaze",
                "height": "2",
                "up_down": "down",
            },
            prints={"vertical": "1.70", "vertical.base": "up"},
            source="durham-tech-13a",
            note="Printed as 1.7.",
        ),
    ),
)
