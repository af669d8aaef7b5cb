"""Cylinder from two readings: the drum, read twice and counted, turned into the power."""

from __future__ import annotations

from lensmath.notation import Decimals
from lensmath.readings import Form, Lines, Readings
from lensmath.scale import HAND_SCALE, Direction
from site_src.calculators import readings
from site_src.calculators.answer import (
    Answer,
    Line,
    cut_eighths,
    say,
    written_crossed,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS
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
    read = readings.taken(first, second, wheel, zero, lines, turned)
    return Answer(
        headline=written_lens(read.power),
        also=_other_forms(read),
        understood=cut_eighths(decimals, first, second, zero),
        steps=readings.steps(read),
        figures=(counted_travel("cylinder-from-two-readings", HAND_SCALE, readings.counted(read)),),
        sources=("cylinder-form-slides", "common-practice"),
    )


def _other_forms(read: Readings) -> tuple[Line, ...]:
    if read.form is Form.SPHERE:
        return (say("A sphere: both sets of lines are sharp at one reading, so it has no axis."),)
    if read.form is Form.MINUS:
        other = say("Same lens in plus form: {lens}", lens=written_lens(read.plus_form, "plus."))
    else:
        other = say(
            "The readings gave the plus form. Same lens in minus form: {lens}",
            lens=written_lens(read.minus_form, "minus."),
        )
    return (other, say("Crossed form: {lens}", lens=written_crossed(read.power)))


CALCULATOR = Calculator(
    slug="cylinder-from-two-readings",
    title="Cylinder from two readings",
    purpose="Enter what the drum and the wheel show; get the power in every form.",
    fields=(
        *readings.ENTRIES,
        *readings.ENTRIES_ASIDE,
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
