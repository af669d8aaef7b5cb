"""Two prisms before one eye as a single one."""

from __future__ import annotations

from lensmath.eye import Eye
from lensmath.prism import NO_PRISM, Base, Prism, compounded
from site_src.calculators import prism_parts
from site_src.calculators.answer import Answer, Line, Step, say
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import Choice, ChoiceField, Field, FieldError, NumberField
from site_src.calculators.prism_parts import signed
from site_src.calculators.sums import summed
from site_src.figures.prism_arrows import View, prism_arrows

_BASES = (
    *prism_parts.UP_OR_DOWN,
    *prism_parts.IN_OR_OUT,
    Choice("degrees", "in degrees", None),
)


def solve(
    eye: Eye,
    first: float,
    first_base: Base | None,
    first_degrees: float | None,
    second: float,
    second_base: Base | None,
    second_degrees: float | None,
) -> Answer:
    """Their horizontal parts added, their vertical parts added, and one arrow made of the sums."""
    one = _prism(eye, first, first_base, first_degrees, "first")
    two = _prism(eye, second, second_base, second_degrees, "second")
    whole = compounded((one, two))
    shown = prism_parts.shown_prism(whole)
    return Answer(
        headline=_headline(shown),
        also=_also(shown, eye),
        understood=(
            *_unused("first", first_base, first_degrees),
            *_unused("second", second_base, second_degrees),
        ),
        steps=_steps(one, two, whole, shown, eye),
        figures=(
            prism_arrows(
                "compounding-prisms-arrows",
                "Two prisms end to end, and the one that they make",
                [View(eye, shown, (one, two))],
                f"{eye.value.capitalize()} eye: {_said(one, eye)}, then {_said(two, eye)}, make "
                f"{_said(shown, eye)}.",
            ),
        ),
        sources=("durham-tech-prism-base", "meister-prism-question"),
    )


def _prism(eye: Eye, amount: float, base: Base | None, degrees: float | None, which: str) -> Prism:
    if base is not None:
        return Prism.from_word(amount, base, eye)
    if degrees is None:
        raise FieldError(
            f"{which}_degrees",
            "nothing was entered, but the base was to be in degrees. Enter 0 to 360, or choose "
            "up, down, in or out.",
        )
    return Prism.from_base(amount, degrees)


def _unused(which: str, base: Base | None, degrees: float | None) -> tuple[Line, ...]:
    if base is None or degrees is None:
        return ()
    return (
        say(f"The {which} base was read as {base.value}; its {degrees:g} degrees were not used."),
    )


def _headline(shown: Prism) -> Line:
    if shown == NO_PRISM:
        return ("No prism: the two cancel",)
    return prism_parts.round_the_circle(shown)


def _also(shown: Prism, eye: Eye) -> tuple[Line, ...]:
    if shown == NO_PRISM:
        return ()
    return (("In parts: ", *prism_parts.parts(shown, eye), "."),)


def _said(prism: Prism, eye: Eye) -> str:
    return prism_parts.in_words(prism_parts.shown_prism(prism), eye)


def _steps(one: Prism, two: Prism, whole: Prism, shown: Prism, eye: Eye) -> tuple[Step, ...]:
    return (
        *_signs("first", one, eye),
        *_signs("second", two, eye),
        _sum("Horizontal parts together.", "H", one.x, two.x, whole.x, "x"),
        _sum("Vertical parts together.", "V", one.y, two.y, whole.y, "y"),
        *prism_parts.resultant_steps(shown),
    )


def _signs(which: str, prism: Prism, eye: Eye) -> tuple[Step, ...]:
    if prism.x and prism.y:
        return prism_parts.resolving_steps(prism, f"{which}.")
    signs = f"Facing the wearer, to the right and up are plus. {prism_parts.side(eye)}"
    what = f"The {which} prism in its signs. {signs if which == 'first' else ''}".rstrip()
    return (prism_parts.signed_step(prism, what, f"{which}."),)


def _sum(what: str, letter: str, one: float, two: float, whole: float, name: str) -> Step:
    return summed(
        what,
        f"{letter}₁ + {letter}₂",
        "{a} + {b}",
        lambda a, b: a + b,
        say("{sum} Δ", sum=signed(whole, name)),
        a=one,
        b=two,
    )


def _fields(which: str) -> tuple[Field, ...]:
    group = f"{which.capitalize()} prism"
    return (
        NumberField(which, "Amount", group=group, unit="Δ", high=prism_parts.MOST_PRISM),
        ChoiceField(f"{which}_base", "Base", group=group, choices=_BASES),
        NumberField(
            f"{which}_degrees",
            "Degrees",
            "if chosen",
            optional=True,
            group=group,
            unit="°",
            high=360.0,
        ),
    )


CALCULATOR = Calculator(
    slug="compounding-prisms",
    title="Compounding prisms",
    purpose="Enter two prisms before one eye; get the single prism that does the same.",
    fields=(prism_parts.EYE, *_fields("first"), *_fields("second")),
    solve=solve,
    examples=(
        Example(
            given={
                "eye": "right",
                "first": "1.5",
                "first_base": "up",
                "second": "2",
                "second_base": "in",
            },
            prints={"amount": "2.50", "base": "036.9"},
            source="durham-tech-prism-base",
            note="Printed as 2.5 base 37, in whole degrees.",
        ),
        Example(
            given={
                "eye": "right",
                "first": "2.5",
                "first_base": "degrees",
                "first_degrees": "35",
                "second": "2",
                "second_base": "in",
            },
            prints={"amount": "4.29", "base": "019.5"},
            note="An invented check on a question of durham-tech-prism-base, whose answer was not "
            "seen.",
        ),
    ),
)
