"""Distance prescription and addition to near and intermediate prescriptions, and the way back."""

from __future__ import annotations

from lensmath.additions import (
    addition_between,
    intermediate_addition,
    intermediate_prescription,
    near_prescription,
)
from lensmath.errors import LensError
from lensmath.notation import MINUS, TIMES, Decimals, Prescription, is_cut, write_lens
from lensmath.power import LensPower, rounded_to, snapped
from site_src.calculators.answer import (
    Answer,
    Line,
    Step,
    cut_eighths,
    power,
    say,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    DECIMALS,
    FieldError,
    NumberField,
    PowerField,
    PrescriptionField,
    on_field,
)
from site_src.calculators.working import digits, number, unsigned
from site_src.figures.addition_rows import Portion, addition_rows
from site_src.figures.power_cross import power_cross
from site_src.figures.svg import Figure

_HALF = 50.0  # percent
_USUAL = (0.75, 3.50)  # D
_SOURCES = ("opt-1156-cards", "encyclopaedia-trifocal", "common-practice")


def solve(
    distance: Prescription,
    addition: float | None,
    near: Prescription | None,
    percent: float | None,
    decimals: Decimals,
) -> Answer:
    """Near and intermediate from the addition, or the addition from near and distance."""
    given = _given_addition(distance, addition)
    understood = _understood(distance, near, addition, decimals)
    share = _HALF if percent is None else percent
    if near is None:
        return _from_addition(distance, given, share, understood)
    try:
        found = addition_between(distance.power, _whole_power(near))
    except LensError:
        return _no_addition(near.power - distance.power, understood)
    return _from_near(distance, found, given, share, understood)


def _from_addition(
    distance: Prescription, addition: float | None, share: float, understood: tuple[Line, ...]
) -> Answer:
    if addition is None:
        raise FieldError(
            "addition",
            "nothing was entered. Enter the addition, or the near prescription to get it from.",
        )
    with on_field("addition"):
        near = near_prescription(distance.power, addition)
    return Answer(
        headline=say("Near {lens}", lens=written_lens(near, "near.")),
        also=_also(distance.power, addition, share),
        understood=understood,
        steps=(
            *_near_steps(distance.power, near, addition),
            *_between_steps(distance.power, addition, share),
        ),
        figures=(_rows(distance.power, near, addition, share),),
        cautions=_cautions(distance, addition, share),
        sources=_SOURCES,
    )


def _from_near(
    distance: Prescription,
    addition: float,
    given: float | None,
    share: float,
    understood: tuple[Line, ...],
) -> Answer:
    near = near_prescription(distance.power, addition)
    return Answer(
        headline=say("Addition {addition} D", addition=power(addition, "addition")),
        also=(
            say("Near: {lens}", lens=written_lens(near, "near.")),
            *_also(distance.power, addition, share),
        ),
        understood=understood,
        steps=(
            *_back_steps(distance.power, near, addition),
            *_between_steps(distance.power, addition, share),
        ),
        figures=(_rows(distance.power, near, addition, share),),
        cautions=(*_two_additions(given, addition), *_cautions(distance, addition, share)),
        sources=_SOURCES,
    )


def _rows(distance: LensPower, near: LensPower, addition: float, share: float) -> Figure:
    return addition_rows(
        "near-and-intermediate-rows",
        Portion("Distance", distance.sphere),
        Portion("Intermediate", intermediate_prescription(distance, addition, share).sphere),
        Portion("Near", near.sphere),
    )


def _given_addition(distance: Prescription, addition: float | None) -> float | None:
    """The addition from its own field, or from the end of the distance prescription."""
    if addition is None:
        return distance.addition
    if distance.addition is not None and distance.addition != addition:
        raise FieldError(
            "addition",
            f"{digits(addition)} D was entered, but the distance prescription ends with an "
            f"addition of {digits(distance.addition)} D. Enter one of them.",
        )
    return addition


def _whole_power(near: Prescription) -> LensPower:
    if near.addition is not None:
        raise FieldError(
            "near",
            "it ends with an addition. Enter the whole power for near, without one.",
        )
    return near.power


def _no_addition(difference: LensPower, understood: tuple[Line, ...]) -> Answer:
    """What is said of two prescriptions that no addition leads from one to the other."""
    why = "near is less plus" if difference.axis is None else "more than the sphere differs"
    return Answer(
        headline=say(f"No addition: {why}"),
        also=(
            say("Near less distance: {lens}", lens=written_lens(difference, "difference.")),
            say(
                "An addition is plus, and changes the sphere alone. Look at the signs, the "
                "cylinders and the axes of both."
            ),
        ),
        understood=understood,
        figures=(power_cross("near-and-intermediate-difference", difference),),
        sources=_SOURCES,
    )


def _also(distance: LensPower, addition: float, share: float) -> tuple[Line, ...]:
    between = intermediate_prescription(distance, addition, share)
    return (
        say(
            f"Intermediate, {unsigned(share)} % of the addition: {{lens}}",
            lens=written_lens(between, "intermediate."),
        ),
        say(
            "Addition {addition} D, intermediate addition {part} D",
            addition=power(addition, "addition"),
            part=power(intermediate_addition(addition, share), "intermediate_addition"),
        ),
    )


def _understood(
    distance: Prescription,
    near: Prescription | None,
    addition: float | None,
    decimals: Decimals,
) -> tuple[Line, ...]:
    said = [f"Distance read as {distance.form.value}: {write_lens(distance.power)}."]
    entries = [distance.power.sphere, distance.power.cylinder, distance.addition, addition]
    if near is not None:
        said.append(f"Near read as {near.form.value}: {write_lens(near.power)}.")
        entries += [near.power.sphere, near.power.cylinder]
    elif addition is None:
        said.append("The addition was taken from the end of the distance prescription.")
    return (*((line,) for line in said), *cut_eighths(decimals, *entries))


def _near_steps(distance: LensPower, near: LensPower, addition: float) -> tuple[Step, ...]:
    return (
        Step(
            "Near: the addition goes on the sphere. Cylinder and axis stay.",
            "S + addition",
            f"{digits(distance.sphere)} + ({digits(addition)})",
            _sphere("near.sphere", near),
        ),
    )


def _back_steps(distance: LensPower, near: LensPower, addition: float) -> tuple[Step, ...]:
    return (
        Step(
            "Write both prescriptions in one form. Cylinder and axis must be the same.",
            result=say(
                "{distance} and {near}",
                distance=written_lens(distance, "distance."),
                near=written_lens(near, "near."),
            ),
        ),
        Step(
            "Addition: the near sphere less the distance sphere.",
            f"near S {MINUS} distance S",
            f"{digits(near.sphere)} {MINUS} ({digits(distance.sphere)})",
            say("{addition} D", addition=number("addition", addition, digits(addition))),
        ),
    )


def _between_steps(distance: LensPower, addition: float, share: float) -> tuple[Step, ...]:
    between = intermediate_prescription(distance, addition, share)
    part = snapped(intermediate_addition(addition, share))
    return (
        Step(
            f"Intermediate: {unsigned(share)} % of the addition.",
            f"addition {TIMES} {unsigned(share)} ÷ 100",
            f"{digits(addition)} {TIMES} {unsigned(share)} ÷ 100",
            say("{part} D", part=number("intermediate_addition", part, digits(part))),
        ),
        Step(
            "It goes on the distance sphere.",
            "S + intermediate addition",
            f"{digits(distance.sphere)} + ({digits(part)})",
            _sphere("intermediate.sphere", between),
        ),
    )


def _sphere(name: str, lens: LensPower) -> Line:
    return say("{sphere} D", sphere=number(name, lens.sphere, digits(lens.sphere)))


def _two_additions(given: float | None, addition: float) -> tuple[str, ...]:
    if given is None or given == addition:
        return ()
    told = (
        f"An addition of {digits(given)} D was entered as well, which is not the one between the "
        f"two prescriptions, {digits(addition)} D."
    )
    return (told,)


def _cautions(distance: Prescription, addition: float, share: float) -> tuple[str, ...]:
    said = []
    between = intermediate_prescription(distance.power, addition, share)
    low, high = _USUAL
    if addition != 0 and not low <= addition <= high:
        said.append(
            f"Most additions lie from {digits(low)} to {digits(high)} D (common practice). Look "
            "at the signs and at the decimal point once more."
        )
    if rounded_to(between.sphere, 0.25) != between.sphere and not is_cut(between.sphere):
        said.append(
            "The intermediate power lies between the steps that powers are ordered in. The lens "
            "has the power that its maker gives it; order the addition, not this figure."
        )
    if distance.prism:
        said.append("Prism is not changed by an addition. Write it again for near.")
    return tuple(said)


CALCULATOR = Calculator(
    slug="near-and-intermediate",
    title="Near and intermediate",
    purpose="Enter distance and addition to get near and intermediate, or distance and near to "
    "get the addition.",
    fields=(
        PrescriptionField("distance", "Distance prescription", "as −0.50 −0.25 × 180"),
        PowerField("addition", "Addition", "empty to get it from the near one", optional=True),
        PrescriptionField(
            "near", "Near prescription", "empty to work it out; the whole power", optional=True
        ),
        NumberField(
            "percent",
            "Intermediate, share of the addition",
            "half unless the lens says otherwise",
            optional=True,
            aside=True,
            unit="%",
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"distance": "-0.50 -0.25 x 180", "addition": "+2.00"},
            prints={"near.sphere": "+1.50", "near.cylinder": "−0.25", "near.axis": "180"},
            source="opt-1156-cards",
        ),
        Example(
            given={"distance": "-4.00 DS", "addition": "+3.00"},
            prints={"near.sphere": "−1.00", "intermediate.sphere": "−2.50"},
            source="encyclopaedia-trifocal",
        ),
        Example(
            given={"distance": "+2.00 -1.00 x 180 add +2.50"},
            prints={"intermediate.sphere": "+3.25", "intermediate.cylinder": "−1.00"},
            source="assistant-trifocal-question",
        ),
        Example(
            given={"distance": "-3.00 DS", "near": "-1.00 DS"},
            prints={"addition": "+2.00"},
            source="study-page-addition",
        ),
    ),
)
