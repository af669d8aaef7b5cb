"""Prism read off the target: from its place among the rings to amount and base before an eye."""

from __future__ import annotations

import math
from enum import Enum

from lensmath.eye import Eye
from lensmath.prism import NO_PRISM, Prism, prism_on_target
from site_src.calculators import prism_parts
from site_src.calculators.answer import Answer, Line, Step, say, word
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import Choice, ChoiceField, FieldError, NumberField, on_field
from site_src.calculators.sums import summed
from site_src.figures.prism_rings import place_in_words, prism_rings

_RINGS, _MOST_RINGS = 5, 10  # on a usual reticle, and on any (common practice)
_ACROSS, _TURNED = "To the side, and up or down", "Ring and direction"


class How(Enum):
    """How the place of the target is entered."""

    PARTS = "parts"
    RING = "ring"


def solve(
    eye: Eye,
    how: How,
    sideways: float | None,
    right_left: int,
    height: float | None,
    up_down: int,
    ring: float | None,
    direction: float | None,
    known: float | None,
    known_base: float | None,
) -> Answer:
    """The prism of the lens in both notations, from where the target stands."""
    turned = how is How.RING
    if turned:
        target = _by_ring(ring, direction)
    else:
        target = _by_parts(sideways, right_left, height, up_down)
    unused = (sideways, height) if turned else (ring, direction)
    added = _known(known, known_base)
    with on_field("ring" if turned else "height" if sideways is None else "sideways"):
        prism = prism_parts.shown_prism(prism_on_target(target.x, target.y, _MOST_RINGS, added))
    return Answer(
        headline=_headline(prism, eye),
        also=_also(prism, eye),
        understood=_understood(target, added),
        steps=(
            *(prism_parts.resolving_steps(target, "target.") if turned else (_place(target),)),
            *_less_known(target, added, prism),
            *_words(prism, eye),
            *_whole_steps(prism, entered=turned and added == NO_PRISM),
        ),
        figures=(
            prism_rings(
                "prism-from-rings", eye, target, prism, max(_RINGS, math.ceil(target.amount))
            ),
        ),
        cautions=(
            *(() if unused == (None, None) else (_UNUSED[how],)),
            *(() if known or known_base is None else (_NO_PRISM_KNOWN,)),
        ),
        sources=("prism-reading-lesson", "iso-8429-1986", "common-practice"),
    )


_NO_PRISM_KNOWN = "The base of a known prism was entered without the prism. It is not used here."
_UNUSED = {
    How.PARTS: "A ring or a direction was entered too. It is not used here.",
    How.RING: "An amount to the side or up or down was entered too. It is not used here.",
}


# Entries ------------------------------------------------------------------------------------------


def _by_parts(sideways: float | None, right_left: int, height: float | None, up_down: int) -> Prism:
    if sideways is None and height is None:
        raise FieldError(
            "sideways",
            "nothing was entered. Enter how far the target stands to the side, or up or down; 0 "
            "when it stands in the middle.",
        )
    return prism_parts.shown_prism(Prism(right_left * (sideways or 0.0), up_down * (height or 0.0)))


def _by_ring(ring: float | None, direction: float | None) -> Prism:
    if ring is None:
        raise FieldError("ring", "nothing was entered. Enter the ring; 0 is the middle.")
    if direction is None and ring > 0:
        raise FieldError(
            "direction", "nothing was entered, but the ring was. Enter the direction, 0 to 360."
        )
    return prism_parts.shown_prism(Prism.from_base(ring, direction or 0.0))


def _known(known: float | None, base: float | None) -> Prism:
    if not known:
        return NO_PRISM
    if base is None:
        raise FieldError(
            "known_base", "nothing was entered, but a known prism was. Enter its base, 0 to 360."
        )
    return prism_parts.shown_prism(Prism.from_base(known, base))


# What is said -------------------------------------------------------------------------------------


def _headline(prism: Prism, eye: Eye) -> Line:
    if prism == NO_PRISM:
        return say("No prism before the {eye} eye", eye=word(eye.value, "eye"))
    return prism_parts.parts(prism, eye)


def _also(prism: Prism, eye: Eye) -> tuple[Line, ...]:
    if prism == NO_PRISM:
        return ()
    return (
        say(
            "Before the {eye} eye; on the full circle {whole}.",
            eye=word(eye.value, "eye"),
            whole=prism_parts.round_the_circle(prism),
        ),
    )


def _understood(target: Prism, added: Prism) -> tuple[Line, ...]:
    said = say(f"The target stands {place_in_words(target)}, as seen in the eyepiece.")
    if added == NO_PRISM:
        return (said,)
    known = prism_parts.round_the_circle(added, "known.")
    return (said, say("With a known prism of {known}, which is taken off.", known=known))


def _place(target: Prism) -> Step:
    return prism_parts.signed_step(
        target,
        "A ring is one prism dioptre, and the target moves toward the base. To the right, and up, "
        "is plus.",
        "target.",
    )


def _less_known(target: Prism, added: Prism, prism: Prism) -> tuple[Step, ...]:
    if added == NO_PRISM:
        return ()
    return (
        *prism_parts.resolving_steps(added, "known."),
        *(
            summed(
                f"{name} part of the lens: the target less the known prism.",
                "target − known",
                "{seen} − {added}",
                lambda seen, added: seen - added,
                say("{part} Δ", part=prism_parts.signed(left, letter)),
                seen=seen,
                added=known,
            )
            for name, seen, known, left, letter in (
                ("Horizontal", target.x, added.x, prism.x, "x"),
                ("Vertical", target.y, added.y, prism.y, "y"),
            )
        ),
    )


def _words(prism: Prism, eye: Eye) -> tuple[Step, ...]:
    if prism == NO_PRISM:
        return ()
    side = "right" if eye.inward > 0 else "left"
    why = f"The nose of a {eye.value} eye lies to the {side}, so a base to the {side} is in."
    if prism.x == 0:
        why = "Up and down are the same before either eye."
    return (Step(why, result=prism_parts.parts(prism, eye)),)


def _whole_steps(prism: Prism, *, entered: bool) -> tuple[Step, ...]:
    """Amount and base from the two parts, unless they are what was entered."""
    return () if entered else prism_parts.resultant_steps(prism)


CALCULATOR = Calculator(
    slug="prism-from-rings",
    title="Prism from the rings",
    purpose="Enter where the middle of the target stands; get the prism and its base.",
    fields=(
        prism_parts.EYE,
        ChoiceField(
            "how",
            "Place of the target as",
            "which of the two groups below you fill in",
            choices=(
                Choice("parts", "side, and up or down", How.PARTS),
                Choice("ring", "ring and direction", How.RING),
            ),
        ),
        NumberField(
            "sideways", "To the side", "in rings", optional=True, group=_ACROSS, high=_MOST_RINGS
        ),
        ChoiceField(
            "right_left",
            "Which side",
            "in the eyepiece",
            group=_ACROSS,
            choices=(Choice("right", "right", 1), Choice("left", "left", -1)),
        ),
        NumberField(
            "height", "Up or down", "in rings", optional=True, group=_ACROSS, high=_MOST_RINGS
        ),
        ChoiceField(
            "up_down",
            "Which way",
            "in the eyepiece",
            group=_ACROSS,
            choices=(Choice("up", "up", 1), Choice("down", "down", -1)),
        ),
        NumberField("ring", "Ring", "its number", optional=True, group=_TURNED, high=_MOST_RINGS),
        NumberField(
            "direction",
            "Direction",
            "0 right, 90 up, 180 left, 270 down",
            optional=True,
            group=_TURNED,
            unit="°",
            high=360,
        ),
        NumberField(
            "known",
            "Known prism put in",
            "to bring the target back among the rings",
            optional=True,
            aside=True,
            unit="Δ",
            high=prism_parts.MOST_PRISM,
        ),
        NumberField(
            "known_base",
            "Base of the known prism",
            "0 right, 90 up, 180 left, 270 down",
            optional=True,
            aside=True,
            unit="°",
            high=360,
        ),
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "eye": "right",
                "sideways": "2",
                "right_left": "right",
                "height": "1.5",
                "up_down": "up",
            },
            prints={
                "amount": "2.50",
                "horizontal": "2.00",
                "horizontal.base": "in",
                "vertical": "1.50",
                "vertical.base": "up",
            },
            source="durham-tech-prism-base",
            note="The course gives the two parts; here they are where the target stands.",
        ),
        Example(
            given={"eye": "left", "how": "ring", "ring": "2.5", "direction": "217"},
            prints={
                "horizontal": "2.00",
                "horizontal.base": "in",
                "vertical": "1.50",
                "vertical.base": "down",
                "amount": "2.50",
                "base": "217",
            },
            source="durham-tech-prism-base",
        ),
        Example(
            given={
                "eye": "right",
                "height": "3",
                "up_down": "up",
                "known": "4",
                "known_base": "270",
            },
            prints={"vertical": "7.00", "vertical.base": "up", "base": "090"},
            note="An invented lens, brought back among the rings by a known prism.",
        ),
    ),
)
