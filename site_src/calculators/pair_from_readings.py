"""The power of a mounted pair: each lens read at drum and wheel, with the one zero error."""

from __future__ import annotations

from lensmath.notation import Decimals
from lensmath.power import LensPower
from lensmath.readings import Form, Lines, Readings
from lensmath.scale import HAND_SCALE
from site_src.calculators import readings
from site_src.calculators.answer import Answer, Line, cut_eighths, say, written_lens
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, AxisField, ChoiceField, Field, PowerField
from site_src.figures.number_line import counted_travel
from site_src.figures.svg import Figure


def solve(
    right_first: float,
    right_second: float | None,
    right_wheel: float | None,
    left_first: float,
    left_second: float | None,
    left_wheel: float | None,
    zero: float | None,
    right_lines: Lines,
    left_lines: Lines,
    decimals: Decimals,
) -> Answer:
    """Both lenses in minus and in plus form, with the sums of each."""
    right = readings.taken(
        right_first, right_second, right_wheel, zero, right_lines, prefix="right_"
    )
    left = readings.taken(left_first, left_second, left_wheel, zero, left_lines, prefix="left_")
    entries = right_first, right_second, left_first, left_second, zero
    return Answer(
        headline=_pair(
            "R\N{NO-BREAK SPACE}{right}, L\N{NO-BREAK SPACE}{left}",
            right.minus_form,
            left.minus_form,
            "minus.",
        ),
        also=_plus_forms(right, left),
        understood=(*_forms_read(right, left), *cut_eighths(decimals, *entries)),
        steps=(
            *readings.steps(right, prefix="right.", whose="Right lens. "),
            *readings.steps(left, prefix="left.", whose="Left lens. "),
        ),
        figures=(_travel(right, "right"), _travel(left, "left")),
        sources=("cylinder-form-slides", "common-practice"),
    )


def _pair(said: str, right: LensPower, left: LensPower, form: str) -> Line:
    return say(
        said,
        right=_unbroken(written_lens(right, f"right.{form}")),
        left=_unbroken(written_lens(left, f"left.{form}")),
    )


def _unbroken(lens: Line) -> Line:
    """The lens of one eye stays on one line."""
    gap = "\N{NO-BREAK SPACE}"
    return tuple(part.replace(" ", gap) if isinstance(part, str) else part for part in lens)


def _plus_forms(right: Readings, left: Readings) -> tuple[Line, ...]:
    if right.form is left.form is Form.SPHERE:
        return (say("Two spheres: neither lens has an axis, and there is no other form."),)
    said = "In plus form: R\N{NO-BREAK SPACE}{right}, L\N{NO-BREAK SPACE}{left}"
    return (_pair(said, right.plus_form, left.plus_form, "plus."),)


def _forms_read(right: Readings, left: Readings) -> tuple[Line, ...]:
    """Says which lens was read in plus form, for the headline has another one."""
    plus = [name for name, read in (("right", right), ("left", left)) if read.form is Form.PLUS]
    if not plus:
        return ()
    lenses = "both lenses" if len(plus) == 2 else f"the {plus[0]} lens"
    return (say(f"The readings of {lenses} gave plus form; the pair is written in minus form."),)


def _travel(read: Readings, eye: str) -> Figure:
    name, count = f"pair-from-readings-{eye}", readings.counted(read)
    return counted_travel(name, HAND_SCALE, count, whose=f"{eye} lens")


def _fields_of(eye: str) -> tuple[Field, ...]:
    group = f"{eye.capitalize()} eye"
    return (
        PowerField(f"{eye}_first", "First sharp reading", group=group),
        PowerField(
            f"{eye}_second",
            "Second sharp reading",
            "for a sphere, the same reading again",
            optional=True,
            group=group,
        ),
        AxisField(f"{eye}_wheel", "Axis wheel", "a sphere needs none", optional=True, group=group),
    )


def _lines_of(eye: str) -> Field:
    return ChoiceField(
        f"{eye}_lines",
        f"{eye.capitalize()} eye, sharp at the first reading",
        "the sphere lines, when the lens is read in the usual order",
        aside=True,
        choices=readings.LINES,
    )


CALCULATOR = Calculator(
    slug="pair-from-readings",
    title="Pair from readings",
    purpose="Enter the drum and the wheel for each eye; get both lenses in minus and plus form.",
    fields=(
        *_fields_of("right"),
        *_fields_of("left"),
        PowerField(
            "zero",
            "Scale reads with no lens",
            "the zero error, one for both eyes; 0.00 if the scale is right",
            optional=True,
        ),
        _lines_of("right"),
        _lines_of("left"),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "right_first": "-2.00",
                "right_second": "-2.75",
                "right_wheel": "105",
                "left_first": "-1.75",
                "left_second": "-2.25",
                "left_wheel": "80",
                "zero": "+0.25",
            },
            prints={
                "right.minus.sphere": "−2.25",
                "right.minus.cylinder": "−0.75",
                "right.minus.axis": "105",
                "left.minus.sphere": "−2.00",
                "left.minus.cylinder": "−0.50",
                "left.minus.axis": "080",
            },
            note="An invented pair.",
        ),
        Example(
            given={
                "right_first": "-1.00",
                "right_second": "-2.00",
                "right_wheel": "67",
                "left_first": "-2.00",
                "left_second": "-1.00",
                "left_wheel": "157",
            },
            prints={
                "right.minus.sphere": "−1.00",
                "right.minus.cylinder": "−1.00",
                "right.minus.axis": "067",
                "left.plus.sphere": "−2.00",
                "left.plus.cylinder": "+1.00",
                "left.plus.axis": "157",
                "left.minus.sphere": "−1.00",
                "left.minus.cylinder": "−1.00",
                "left.minus.axis": "067",
            },
            source="cylinder-form-slides",
            note="The slides read one lens both ways; here each way stands for an eye.",
        ),
    ),
)
