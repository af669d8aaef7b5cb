"""Cylinder from two readings: the drum, read twice and counted, turned into the power."""

from __future__ import annotations

from lensmath.notation import MINUS, Decimals, write_axis, write_exact
from lensmath.readings import Form, Lines, Readings
from lensmath.scale import HAND_SCALE, Count, Direction
from site_src.calculators.answer import (
    Answer,
    Datum,
    Line,
    Step,
    axis,
    cut_eighths,
    power,
    say,
    written_crossed,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    DECIMALS,
    AxisField,
    Choice,
    ChoiceField,
    PowerField,
    on_field,
)
from site_src.figures.number_line import counted_travel


def solve(
    first: float,
    second: float | None,
    wheel: float | None,
    zero: float | None,
    lines: Lines,
    turned: Direction | None,
    decimals: Decimals,
) -> Answer:
    """The lens, the count between the readings, and why the form is what it is."""
    with on_field(_field_at_fault(first, second, wheel, lines, turned)):
        readings = Readings(first, second, lines, wheel, turned, zero or 0.0)
    count = HAND_SCALE.count(first, first if second is None else second)
    return Answer(
        headline=written_lens(readings.power),
        also=_other_forms(readings),
        understood=cut_eighths(decimals, first, second, zero),
        steps=_steps(readings, count),
        figures=(counted_travel("cylinder-from-two-readings", HAND_SCALE, count),),
        sources=("cylinder-form-slides", "common-practice"),
    )


def _field_at_fault(
    first: float,
    second: float | None,
    wheel: float | None,
    lines: Lines,
    turned: Direction | None,
) -> str:
    """Which entry a refusal by `Readings` is about."""
    if second is None and lines is not Lines.BOTH:
        return "second"
    if lines is Lines.BOTH and second is not None and second != first:
        return "lines"
    if wheel is None and second is not None and second != first:
        return "wheel"
    return "turned" if turned else "first"


def _other_forms(readings: Readings) -> tuple[Line, ...]:
    if readings.form is Form.SPHERE:
        return (say("A sphere: both sets of lines are sharp at one reading, so it has no axis."),)
    if readings.form is Form.MINUS:
        other = say(
            "Same lens in plus form: {lens}", lens=written_lens(readings.plus_form, "plus.")
        )
    else:
        other = say(
            "The readings gave the plus form. Same lens in minus form: {lens}",
            lens=written_lens(readings.minus_form, "minus."),
        )
    return (other, say("Crossed form: {lens}", lens=written_crossed(readings.power)))


def _steps(readings: Readings, count: Count) -> tuple[Step, ...]:
    first, second = readings.corrected
    sphere = Step(
        "The sphere is the first reading.",
        result=say("{power} D", power=power(first, "sphere")),
    )
    if readings.form is Form.SPHERE:
        return (*_zero_steps(readings), sphere)
    form = readings.form.value
    return (
        *_zero_steps(readings),
        sphere,
        Step(
            "The cylinder is the travel, never the second reading itself.",
            f"second {MINUS} first",
            f"{write_exact(second)} {MINUS} ({write_exact(first)})",
            say("{power} D", power=power(readings.travel, "travel", exact=True)),
        ),
        Step(
            f"Counted on the scale: {count.in_words()}, {readings.direction.value}."
            + (" The zero error moves both readings alike." if readings.zero_error else ""),
            result=say("{form} form", form=Datum("form", form, form.capitalize())),
        ),
        _axis_step(readings),
    )


def _zero_steps(readings: Readings) -> tuple[Step, ...]:
    if readings.zero_error == 0:
        return ()
    raw = [("First", readings.first, readings.corrected[0])]
    if readings.second is not None:
        raw.append(("Second", readings.second, readings.corrected[1]))
    return tuple(
        Step(
            f"{name} reading, less what the scale reads with no lens.",
            f"{name.lower()} {MINUS} zero error",
            f"{write_exact(read)} {MINUS} ({write_exact(readings.zero_error)})",
            say("{power} D", power=power(corrected, f"{name.lower()}.corrected", exact=True)),
        )
        for name, read, corrected in raw
    )


def _axis_step(readings: Readings) -> Step:
    assert readings.wheel is not None
    assert readings.power.axis is not None
    if not readings.axis_turned:
        return Step(
            "The sphere lines were sharp first, so the wheel gives the axis.",
            result=say("{axis}", axis=axis(readings.power.axis)),
        )
    turn = "+ 90" if readings.wheel <= 90 else f"{MINUS} 90"
    return Step(
        "The cylinder lines were sharp first, so the axis is the wheel turned by 90.",
        f"wheel {turn}",
        f"{write_axis(readings.wheel)} {turn}",
        say("{axis}", axis=axis(readings.power.axis)),
    )


CALCULATOR = Calculator(
    slug="cylinder-from-two-readings",
    title="Cylinder from two readings",
    purpose="Enter what the drum and the wheel show; get the power in every form.",
    fields=(
        PowerField("first", "First sharp reading", "where the first set of lines closes up"),
        PowerField(
            "second",
            "Second sharp reading",
            "where the other set closes up; for a sphere, the same reading again",
            optional=True,
        ),
        AxisField("wheel", "Axis wheel", "1 to 180; a sphere needs none", optional=True),
        PowerField(
            "zero",
            "Scale reads with no lens",
            "the zero error; 0.00 if the scale is right",
            optional=True,
        ),
        ChoiceField(
            "lines",
            "Sharp at the first reading",
            "the sphere lines, when the lens is read in the usual order",
            aside=True,
            choices=(
                Choice("sphere", "the sphere lines", Lines.SPHERE),
                Choice("cylinder", "the cylinder lines", Lines.CYLINDER),
                Choice("both", "both sets at once (a sphere)", Lines.BOTH),
            ),
        ),
        ChoiceField(
            "turned",
            "Drum turned, as you noted it",
            "checks the signs of the two readings",
            aside=True,
            choices=(
                Choice("unnoted", "not noted", None),
                Choice("minus", "toward minus", Direction.MINUS),
                Choice("plus", "toward plus", Direction.PLUS),
            ),
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"first": "-0.75", "second": "-3.25", "wheel": "112", "zero": "0.00"},
            prints={
                "sphere": "−0.75",
                "cylinder": "−2.50",
                "axis": "112",
                "plus.sphere": "−3.25",
                "plus.cylinder": "+2.50",
                "plus.axis": "022",
            },
            note="An invented lens.",
        ),
        Example(
            given={"first": "-1.00", "second": "-2.00", "wheel": "67"},
            prints={"sphere": "−1.00", "cylinder": "−1.00", "axis": "067"},
            source="cylinder-form-slides",
        ),
        Example(
            given={"first": "-2.00", "second": "-1.00", "wheel": "157"},
            prints={
                "sphere": "−2.00",
                "cylinder": "+1.00",
                "axis": "157",
                "minus.sphere": "−1.00",
                "minus.cylinder": "−1.00",
                "minus.axis": "067",
            },
            source="cylinder-form-slides",
        ),
    ),
)
