"""The addition from two readings, the side that goes to the stop, and a trifocal's intermediate."""

from __future__ import annotations

from lensmath.additions import Surface, addition_of_readings, intermediate_addition
from lensmath.notation import MINUS, TIMES, Decimals, write_exact
from lensmath.power import snapped
from lensmath.scale import HAND_SCALE
from site_src.calculators.answer import (
    Answer,
    Line,
    Step,
    amount,
    cut_eighths,
    power,
    say,
    word,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    DECIMALS,
    Choice,
    ChoiceField,
    FieldError,
    NumberField,
    PowerField,
    on_field,
)
from site_src.figures.number_line import counted_travel

_HALF = 50.0  # percent of the addition in an intermediate when nothing else is said


def solve(
    distance: float,
    near: float,
    carrier: Surface,
    stop: Surface | None,
    intermediate: float | None,
    percent: float | None,
    decimals: Decimals,
) -> Answer:
    """The addition, and how it has to be read; of a trifocal the intermediate as well."""
    with on_field("near"):
        addition = addition_of_readings(distance, near)
    return Answer(
        headline=_headline(addition),
        also=(
            _side(carrier),
            *_expected(distance, addition, _HALF if percent is None else percent),
            *_found(distance, addition, intermediate),
        ),
        understood=cut_eighths(decimals, distance, near, intermediate),
        steps=(
            Step(
                "The addition is the near reading less the distance reading, with the same lines "
                "sharp.",
                f"near {MINUS} distance",
                _less(near, distance),
                say("{power} D", power=power(addition, "addition", exact=True)),
            ),
            *_intermediate_steps(addition, _HALF if percent is None else percent),
            *_found_steps(distance, addition, intermediate),
        ),
        figures=(
            counted_travel(
                "addition-from-readings",
                HAND_SCALE,
                HAND_SCALE.count(distance, near),
                ("distance", "near"),
            ),
        ),
        cautions=_cautions(carrier, carrier if stop is None else stop),
        sources=("assistant-addition-card", "encyclopaedia-trifocal", "common-practice"),
    )


def _headline(addition: float) -> Line:
    if addition == 0:
        return say("No addition: both portions read alike")
    return say("Add {power} D", power=power(addition, "addition"))


def _side(carrier: Surface) -> Line:
    return say(
        f"Read it as {{measured}}: the {{side}} surface on the stop for both readings, temples "
        f"{carrier.temples}.",
        measured=word(carrier.measured_as, "measured_as"),
        side=word(carrier.value, "stop"),
    )


def _expected(distance: float, addition: float, percent: float) -> tuple[Line, ...]:
    """What a trifocal with this addition has in its intermediate."""
    if addition == 0:
        return ()
    part = intermediate_addition(addition, percent)
    share = "half" if percent == _HALF else f"{_written(percent)} % of the addition"
    return (
        say(
            f"A trifocal with {share} in its intermediate has {{part}} D there, and reads "
            "{reading} D through it.",
            part=power(part, "intermediate.addition"),
            reading=power(snapped(distance + part), "intermediate.reading"),
        ),
    )


def _found(distance: float, addition: float, intermediate: float | None) -> tuple[Line, ...]:
    if intermediate is None:
        return ()
    part = _checked_part(distance, addition, intermediate)
    return (
        say(
            "Yours has {part} D in its intermediate, {share} % of the addition.",
            part=power(part, "intermediate.found"),
            share=amount(100 * part / addition, "intermediate.share", 0),
        ),
    )


def _checked_part(distance: float, addition: float, intermediate: float) -> float:
    """The addition of an intermediate, which lies between distance and near."""
    if addition == 0:
        raise FieldError(
            "intermediate",
            "the distance and the near portion read alike, so there is no addition to have a part "
            "of. Leave the intermediate empty, or check the near reading.",
        )
    if not distance <= intermediate <= snapped(distance + addition):
        raise FieldError(
            "intermediate",
            f"{write_exact(intermediate)} D was entered. An intermediate reads between the "
            f"distance, {write_exact(distance)} D, and the near portion, "
            f"{write_exact(snapped(distance + addition))} D.",
        )
    return addition_of_readings(distance, intermediate)


def _intermediate_steps(addition: float, percent: float) -> tuple[Step, ...]:
    if addition == 0:
        return ()
    part = intermediate_addition(addition, percent)
    return (
        Step(
            "The intermediate of a trifocal has its share of the addition, half unless the lens "
            "says otherwise.",
            f"addition {TIMES} percent ÷ 100",
            f"{write_exact(addition)} {TIMES} {_written(percent)} ÷ 100",
            say("{part} D", part=power(part, "intermediate.addition", exact=True)),
        ),
    )


def _found_steps(distance: float, addition: float, intermediate: float | None) -> tuple[Step, ...]:
    if intermediate is None:
        return ()
    part = _checked_part(distance, addition, intermediate)
    return (
        Step(
            "Yours is the intermediate reading less the distance reading.",
            f"intermediate {MINUS} distance",
            _less(intermediate, distance),
            say("{part} D", part=power(part, "intermediate.found", exact=True)),
        ),
        Step(
            "Its share of the addition.",
            f"intermediate addition ÷ addition {TIMES} 100",
            f"{write_exact(part)} ÷ {write_exact(addition)} {TIMES} 100",
            say("{share} %", share=amount(100 * part / addition, "intermediate.share", 0)),
        ),
    )


def _less(one: float, other: float) -> str:
    return f"{write_exact(one)} {MINUS} ({write_exact(other)})"


def _written(percent: float) -> str:
    """A percentage with all its digits and no more."""
    return f"{snapped(percent):.9f}".rstrip("0").rstrip(".")


def _cautions(carrier: Surface, stop: Surface) -> tuple[str, ...]:
    if stop is carrier:
        return ()
    wrong_side = (
        f"The {stop.value} surface was on the stop, but the {carrier.value} one carries the "
        "addition, so its power was read through the thickness of the lens. That is wrong by more, "
        "the thicker the lens and the steeper the surface. Turn the spectacles round and read "
        "both again."
    )
    return (wrong_side,)


CALCULATOR = Calculator(
    slug="addition-from-readings",
    title="Addition from readings",
    purpose="Enter the distance and the near reading of the same lines; get the addition.",
    fields=(
        PowerField(
            "distance",
            "Distance reading",
            "one set of lines, the more upright, through the distance",
        ),
        PowerField("near", "Near reading", "the same lines, through the segment or near portion"),
        ChoiceField(
            "carrier",
            "The addition is on",
            "run a finger over both sides for the edge of a segment",
            choices=(
                Choice("front", "the front", Surface.FRONT),
                Choice("back", "the back", Surface.BACK),
            ),
        ),
        ChoiceField(
            "stop",
            "On the stop when you read",
            "the same for both readings",
            choices=(
                Choice("carrier", "the surface that carries it", None),
                Choice("front", "the front", Surface.FRONT),
                Choice("back", "the back", Surface.BACK),
            ),
        ),
        PowerField(
            "intermediate",
            "Intermediate reading",
            "of a trifocal, with the same lines sharp",
            optional=True,
            aside=True,
        ),
        NumberField(
            "percent",
            "Share in the intermediate",
            "50 unless the maker of the lens says otherwise",
            optional=True,
            aside=True,
            unit="%",
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"distance": "+1.50", "near": "+3.75", "carrier": "front", "stop": "carrier"},
            prints={"addition": "+2.25", "measured_as": "front vertex power"},
            source="study-page-addition",
        ),
        Example(
            given={"distance": "-2.00", "near": "+0.50"},
            prints={"addition": "+2.50"},
            source="assistant-addition-card",
        ),
        Example(
            given={"distance": "-4.00", "near": "-1.00", "intermediate": "-2.50"},
            prints={
                "addition": "+3.00",
                "intermediate.addition": "+1.50",
                "intermediate.reading": "−2.50",
                "intermediate.share": "50",
            },
            source="encyclopaedia-trifocal",
        ),
        Example(
            given={"distance": "-1.25", "near": "+0.50", "carrier": "back", "stop": "front"},
            prints={"addition": "+1.75", "measured_as": "back vertex power", "stop": "back"},
            note="An invented lens, read from the wrong side.",
        ),
    ),
)
