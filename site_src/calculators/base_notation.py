"""The base of a prism in words, on the full circle and on the half circle, each way round."""

from __future__ import annotations

from lensmath.eye import Eye
from lensmath.notation import write_axis
from lensmath.prism import NO_PRISM, Base, Prism
from site_src.calculators import prism_parts
from site_src.calculators.answer import Answer, Datum, Line, Step, Table, say
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import Choice, ChoiceField, FieldError, NumberField, on_field
from site_src.calculators.prism_parts import delta
from site_src.figures.prism_arrows import by_parts, prism_arrows

_WORDS, _CIRCLE, _HALF = "words", "circle", "half"
_LEVEL = (0.0, 180.0)  # degrees of the line on which up and down say nothing


def solve(
    eye: Eye,
    written: str,
    vertical: float | None,
    up_down: Base,
    horizontal: float | None,
    in_out: Base,
    amount: float | None,
    degrees: float | None,
) -> Answer:
    """The same prism in every notation."""
    if written == _WORDS:
        prism = _from_words(eye, vertical, up_down, horizontal, in_out)
    else:
        prism = _from_degrees(eye, written, amount, degrees, up_down, in_out)
    shown = prism_parts.shown_prism(prism)
    return Answer(
        headline=_headline(shown, eye, written),
        also=_also(shown),
        understood=_understood(written, vertical, horizontal, amount, degrees, up_down, in_out),
        tables=_tables(shown, eye),
        steps=_steps(prism, shown, eye, written),
        figures=(
            prism_arrows(
                "base-notation-arrows",
                "The base, seen from the front",
                [by_parts(eye, shown)],
                f"{eye.value.capitalize()} eye: {prism_parts.in_words(shown, eye)}.",
            ),
        ),
        sources=("iso-8429-1986", "durham-tech-prism-base"),
    )


# What was written ---------------------------------------------------------------------------------


def _from_words(
    eye: Eye, vertical: float | None, up_down: Base, horizontal: float | None, in_out: Base
) -> Prism:
    if vertical is None and horizontal is None:
        raise FieldError(
            "vertical",
            "nothing was entered here or as the horizontal part. Enter at least one of the two.",
        )
    return prism_parts.prism_of(eye, vertical, up_down, horizontal, in_out)


def _from_degrees(
    eye: Eye,
    written: str,
    amount: float | None,
    degrees: float | None,
    up_down: Base,
    in_out: Base,
) -> Prism:
    for name, entry, allowed in (
        ("amount", amount, "the prism in Δ"),
        ("degrees", degrees, "its base, 0 to 360" if written == _CIRCLE else "its line, 0 to 180"),
    ):
        if entry is None:
            raise FieldError(name, f"nothing was entered. Enter {allowed}.")
    assert amount is not None
    assert degrees is not None
    if written == _CIRCLE:
        return Prism.from_base(amount, degrees)
    with on_field("degrees"):
        return Prism.from_half_circle(amount, (_word(degrees, up_down, in_out),), degrees, eye)


def _word(degrees: float, up_down: Base, in_out: Base) -> Base:
    """The word that tells the two ends of a line apart: on the level line, in or out."""
    return in_out if degrees in _LEVEL else up_down


def _understood(
    written: str,
    vertical: float | None,
    horizontal: float | None,
    amount: float | None,
    degrees: float | None,
    up_down: Base,
    in_out: Base,
) -> tuple[Line, ...]:
    words, numbers = (vertical, horizontal), (amount, degrees)
    unused = numbers if written == _WORDS else words
    said = []
    if written == _HALF and degrees is not None:
        word = _word(degrees, up_down, in_out)
        said.append(
            say(f"Read as the end of the line {write_axis(degrees)} that lies {word.value}.")
        )
    if any(entry is not None for entry in unused):
        other = "amount and degrees" if written == _WORDS else "vertical and horizontal amounts"
        said.append(say(f"The entries for {other} were not used."))
    return tuple(said)


# What it is ---------------------------------------------------------------------------------------


def _headline(shown: Prism, eye: Eye, written: str) -> Line:
    if shown == NO_PRISM:
        return ("No prism, so no base",)
    if written == _WORDS:
        return prism_parts.round_the_circle(shown)
    return prism_parts.parts(shown, eye)


def _half_circle(shown: Prism, eye: Eye) -> Line:
    half = shown.half_circle(eye)
    return say(
        "{amount} Δ {letters} @ {line}",
        amount=delta(half.amount, "amount"),
        letters=Datum("letters", half.letters, half.letters),
        line=Datum("line", half.degrees or 0.0, write_axis(half.degrees)),
    )


def _also(shown: Prism) -> tuple[Line, ...]:
    if shown == NO_PRISM:
        return ()
    return (
        (
            "It is neutralised by ",
            *prism_parts.round_the_circle(-shown, "neutralised."),
            " before the same eye.",
        ),
    )


def _tables(shown: Prism, eye: Eye) -> tuple[Table, ...]:
    if shown == NO_PRISM:
        return ()
    return (
        Table(
            f"One prism before the {eye.value} eye, in every notation",
            ("Notation", "Written"),
            (
                (("Up, down, in, out",), prism_parts.parts(shown, eye)),
                (("Full circle, 0 to 360",), prism_parts.round_the_circle(shown)),
                (("Half circle, with letters",), _half_circle(shown, eye)),
            ),
        ),
    )


def _steps(prism: Prism, shown: Prism, eye: Eye, written: str) -> tuple[Step, ...]:
    if shown == NO_PRISM:
        return ()
    signs = f"Facing the wearer, to the right and up are plus. {prism_parts.side(eye)}"
    if written == _WORDS:
        return (prism_parts.signed_step(shown, signs), *prism_parts.resultant_steps(shown))
    from_half = (
        Step(
            "The base lies up or down, or on the level line in or out: that tells which end of the "
            "line is meant.",
            result=prism_parts.round_the_circle(shown),
        ),
    )
    return (
        *(from_half if written == _HALF else ()),
        *prism_parts.resolving_steps(prism),
        Step(f"Put the signs into words. {signs}", result=prism_parts.parts(shown, eye)),
    )


CALCULATOR = Calculator(
    slug="base-notation",
    title="Base notation",
    purpose="Enter a prism the way it is written; get it in every other way.",
    fields=(
        prism_parts.EYE,
        ChoiceField(
            "written",
            "The prism is written",
            "a line also needs up or down; the lines 0 and 180 need in or out",
            choices=(
                Choice(_WORDS, "up or down, in or out", _WORDS),
                Choice(_CIRCLE, "in degrees, 0 to 360", _CIRCLE),
                Choice(_HALF, "with a line, 0 to 180", _HALF),
            ),
        ),
        *prism_parts.prism_fields("", "Up, down, in, out"),
        NumberField(
            "amount",
            "Amount",
            optional=True,
            group="With degrees",
            unit="Δ",
            high=prism_parts.MOST_PRISM,
        ),
        NumberField(
            "degrees",
            "Base or line",
            optional=True,
            group="With degrees",
            unit="°",
            high=360.0,
        ),
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "eye": "left",
                "written": "words",
                "vertical": "1.5",
                "up_down": "down",
                "horizontal": "2",
                "in_out": "in",
            },
            prints={"amount": "2.50", "base": "216.9", "letters": "BD&I", "line": "036.9"},
            source="durham-tech-prism-base",
            note="Printed in whole degrees: 2.5 base 217, and BD&I @ 037.",
        ),
        Example(
            given={"eye": "right", "written": "circle", "amount": "2.5", "degrees": "37"},
            prints={"vertical": "1.50", "vertical.base": "up", "horizontal.base": "in"},
            source="durham-tech-prism-base",
        ),
        Example(
            given={
                "eye": "right",
                "written": "half",
                "up_down": "down",
                "amount": "3",
                "degrees": "60",
            },
            prints={"base": "240", "horizontal": "1.50", "horizontal.base": "out"},
            note="An invented order in half-circle notation.",
        ),
    ),
)
