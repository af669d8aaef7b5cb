"""Which slip: what explains the power that was written for these readings."""

from __future__ import annotations

from lensmath.errors import LensError
from lensmath.notation import Decimals, Prescription, lens_alone
from lensmath.power import LensPower, snapped
from lensmath.readings import Form, Lines, Readings
from lensmath.scale import HAND_SCALE, Direction
from lensmath.slips import (
    CATALOGUE,
    Finding,
    Situation,
    Verdict,
    agreement,
    explain,
    has_form,
)
from site_src.calculators import readings, slip_words
from site_src.calculators.answer import (
    Answer,
    Datum,
    Line,
    Table,
    amount,
    cut_eighths,
    plain,
    rounded_eighths,
    say,
    word,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    DECIMALS,
    Choice,
    ChoiceField,
    FieldError,
    PrescriptionField,
    on_field,
)
from site_src.figures.number_line import counted_travel

_MOST = 2
"""Slips that are looked for together. Of 8,000 searches in CPython half took 5 ms, the worst 15."""
_FEW = 2
"""Explanations that are named in the headline; more would fill a small screen."""

_SHOWN = {
    Verdict.RIGHT: "Right",
    Verdict.OTHER_FORM: "Right lens, but in the other form",
    Verdict.UNEXPLAINED: "Wrong, and no slip of the list explains it",
}


def solve(
    first: float,
    second: float | None,
    wheel: float | None,
    zero: float | None,
    lines: Lines,
    turned: Direction | None,
    written: Prescription,
    form: Form | None,
    other: Prescription | None,
    decimals: Decimals,
) -> Answer:
    """The verdict, every smallest set of slips that gives the written power, and the right one."""
    read = readings.taken(first, second, wheel, zero, lines, turned)
    other_eye = None if other is None else _as_readings(other, read.zero_error)
    with on_field("written"):
        attempt = lens_alone(written)
    found = explain(Situation(read, other_eye), attempt, form=form, most=_MOST)
    entries = (first, second, zero, attempt.sphere, attempt.cylinder)
    return Answer(
        headline=_headline(found),
        also=(
            *_agreement(found, read.power, attempt, form),
            *slip_words.worth(found),
            _right(read),
        ),
        understood=(
            *cut_eighths(decimals, *entries),
            *rounded_eighths(plain(written_lens(attempt))),
        ),
        tables=_table(found),
        steps=readings.steps(read),
        figures=(counted_travel("which-slip", HAND_SCALE, readings.counted(read)),),
        cautions=_cautions(found),
        sources=("cook-2005", "study-page-optics-traps", "common-practice"),
    )


def _as_readings(lens: Prescription, zero: float) -> Readings:
    """The readings that give this lens on the same instrument."""
    with on_field("other"):
        power = lens_alone(lens)
    first, second = snapped(power.sphere + zero), snapped(power.sphere + power.cylinder + zero)
    try:
        return Readings(first, second, wheel=power.axis, zero_error=zero)
    except LensError as error:
        raise FieldError("other", f"such a lens cannot be read on the scale. {error}") from error


def _headline(found: Finding) -> Line:
    if found.verdict is Verdict.AXIS_OFF:
        return slip_words.axis_off(found)
    if found.verdict is not Verdict.SLIPS:
        return (Datum("verdict", found.verdict.value, _SHOWN[found.verdict]),)
    verdict, ways = slip_words.verdict(found), len(found.explanations)
    if ways > _FEW:
        alone = len(found.explanations[0].slips) == 1
        many = "{verdict} any of {ways}" if alone else "{verdict}, in {ways} ways"
        return say(many, verdict=verdict, ways=amount(ways, "ways", 0))
    names = [_names(found, number) for number in range(ways)]
    pattern = "; or ".join("{" + name + "}" for name in ("one", "other")[:ways])
    return say(f"{{verdict}}: {pattern}", verdict=verdict, one=names[0], other=names[-1])


def _names(found: Finding, number: int) -> Datum:
    return word(slip_words.names(found.explanations[number]), f"explanation.{number + 1}")


def _agreement(
    found: Finding, lens: LensPower, attempt: LensPower, form: Form | None
) -> tuple[Line, ...]:
    """Which parts are right, where no slip tells more."""
    if found.verdict is Verdict.AXIS_OFF:
        slip = " What slip would give it too stands in the table." if found.explanations else ""
        return (say("So little is rather a matter of setting or reading the wheel." + slip),)
    if found.verdict is not Verdict.UNEXPLAINED:
        return ()
    other = "" if has_form(attempt, form) else " It is in the other form than asked for."
    return (say(slip_words.agreement(agreement(lens, attempt)) + other),)


def _right(read: Readings) -> Line:
    if read.form is Form.SPHERE:
        return say("The readings give {lens}.", lens=written_lens(read.power, "right."))
    return say(
        "The readings give {lens}, in the other form {other}.",
        lens=written_lens(read.power, "right."),
        other=written_lens(read.power.transposed(), "other_form."),
    )


def _table(found: Finding) -> tuple[Table, ...]:
    rows = tuple(
        (
            (_names(found, number),),
            (slip_words.sentences(explanation),),
            written_lens(explanation.written, f"explanation.{number + 1}."),
        )
        for number, explanation in enumerate(found.explanations)
    )
    head = ("Slip", "What went wrong", "It gives")
    return (Table("What would give the written power", head, rows),) if rows else ()


def _cautions(found: Finding) -> tuple[str, ...]:
    if found.verdict is not Verdict.UNEXPLAINED:
        return ()
    said = (
        f"Looked for were the {len(CATALOGUE)} slips of the list, alone and two together. "
        "Some other mistake was made, or more than two, or the readings entered here are not "
        "those that the power was written from."
    )
    return (said,)


CALCULATOR = Calculator(
    slug="which-slip",
    title="Which slip was it?",
    purpose="Enter the readings and the power that was written; get the slip that explains it.",
    fields=(
        *readings.ENTRIES,
        PrescriptionField("written", "Power that was written", "in any form, as −0.75 −3.25 × 112"),
        ChoiceField(
            "form",
            "Form that was asked for",
            "with a form asked for, the right lens in the other one is told apart",
            choices=(
                Choice("either", "either", None),
                Choice("minus", "minus cylinder", Form.MINUS),
                Choice("plus", "plus cylinder", Form.PLUS),
            ),
        ),
        *readings.ENTRIES_ASIDE,
        PrescriptionField(
            "other",
            "Right power of the other lens",
            "only with it can an exchange of the eyes be found",
            optional=True,
            aside=True,
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "first": "-0.75",
                "second": "-3.25",
                "wheel": "112",
                "zero": "0.00",
                "written": "−0.75 −3.25 × 112",
            },
            prints={
                "explanation.1": "reading for cylinder",
                "right.sphere": "−0.75",
                "right.cylinder": "−2.50",
                "right.axis": "112",
            },
            note="An invented lens.",
        ),
        Example(
            given={
                "first": "-2.00",
                "second": "+2.50",
                "wheel": "45",
                "written": "+2.50 -2.00 x 135",
                "form": "minus",
            },
            prints={
                "explanation.1": "reading for cylinder",
                "explanation.1.sphere": "+2.50",
                "explanation.1.cylinder": "−2.00",
                "explanation.1.axis": "135",
            },
            source="optometry-cards-lens-power",
            note="The card takes the slip for the answer; right is +2.50 −4.50 × 135.",
        ),
        Example(
            given={
                "first": "-1.00",
                "second": "-3.00",
                "wheel": "90",
                "written": "-1.00 +2.00 x 180",
                "form": "plus",
            },
            prints={"explanation.1": "sphere kept"},
            source="study-page-optics-traps",
            note="The readings are those of the lens that is printed there.",
        ),
    ),
)
