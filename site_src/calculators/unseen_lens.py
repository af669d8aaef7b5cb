"""Read a lens you cannot see: the eyepiece for a drum and a wheel, and what is said of a reading.

Nothing in an answer tells the lens before it was read right, or before a reading was written and
the lens then asked for; of an axis a little off it is told by how much.
"""

from __future__ import annotations

from dataclasses import replace

from lensmath.drills.unseen import UnseenLens, is_almost_sharp, unseen_lens
from lensmath.notation import Decimals, Prescription, lens_alone, write_lens
from lensmath.power import LensPower, axis_difference
from lensmath.readings import Lines
from lensmath.scale import HAND_SCALE
from lensmath.slips import Finding, Verdict
from lensmath.target import View
from site_src.calculators import readings, slip_words
from site_src.calculators.answer import (
    Answer,
    Line,
    Table,
    axis,
    cut_eighths,
    degrees,
    plain,
    power,
    rounded_eighths,
    say,
    word,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    AxisField,
    Choice,
    ChoiceField,
    NumberField,
    PowerField,
    PrescriptionField,
    on_field,
)
from site_src.figures.eyepiece import first_seen, seen_field
from site_src.figures.number_line import counted_travel

_NAME = "unseen-lens"
_HIGHEST = 9999


def solve(
    number: float,
    level: int,
    written: Prescription | None,
    wheel: float,
    drum: float,
    own: Prescription | None,
    lens_on: bool,
    show: bool,
    told: bool,
) -> Answer:
    """What the eyepiece shows and a hint; once a reading is written, what is to be said of it."""
    unseen = _lens_of(number, level, own)
    on_stop = unseen if lens_on else UnseenLens(LensPower(0), unseen.zero_error)
    seen = on_stop.view(drum, wheel)
    named = _named(number, level, own, lens_on)
    if written:
        with on_field("written"):
            attempt = lens_alone(written)
        answer = _marked(unseen, attempt, show)
    else:
        answer = _looked_at(seen, lens_on) if told else _silent(drum, wheel)
        answer = replace(answer, also=(*answer.also, *_first_write(show)))
    return replace(
        answer,
        understood=(*_read_as(written), *_cut(written), *_cut(own), *_rounded(written)),
        figures=(seen_field(f"{_NAME}-field", seen, drum, named, told=told), *answer.figures),
        cautions=_left_out(own),
        sources=("cylinder-form-slides", "lensmeter-training-deck", "whitney-focimetry"),
    )


# What lies on the stop ----------------------------------------------------------------------------


def _lens_of(number: float, level: int, own: Prescription | None) -> UnseenLens:
    if own:
        with on_field("own"):
            return UnseenLens(own.power)
    return unseen_lens(int(number), level)


def _named(number: float, level: int, own: Prescription | None, lens_on: bool) -> str:
    if not lens_on:
        return "no lens on the stop"
    return "a lens of your own" if own else f"lens {number:.0f} of level {level}"


# While nothing is written -------------------------------------------------------------------------

# Two lines each on a phone, so that drum, wheel and picture stand on one screen.
_BLURRED = "Nothing is sharp. Come down from the plus side until lines clear."
_ALMOST = "Almost sharp: an eighth more or less. Its step is under More entries."
_BROKEN = "Turn the wheel until these lines run straight; then the drum again."
_SPHERE = "Both at one reading: a sphere. Write it, less any zero error."
_FIRST = "Note drum and wheel. Leave the wheel, turn the drum toward minus."
_LESS_PLUS = "The other set lies toward plus. Go there first, or write plus form."
_SECOND = "The second reading, if the wheel has stood since the first."
_WRONG_SET = "Turn the wheel by 90: the sphere lines are then sharp here."
_ZERO = "The nearest mark is the zero error. Take it from every reading."
_NO_LENS = "No lens is on the stop. Sharp lines will show the zero error."


def _looked_at(seen: View, lens_on: bool) -> Answer:
    lines, look = first_seen(seen)
    looks = word(look, lines.replace(" ", "_"))
    hint = _hint(seen) if lens_on else _zero_hint(look)
    return Answer(headline=say(f"{lines.capitalize()} {{looks}}", looks=looks), also=(say(hint),))


def _silent(drum: float, wheel: float) -> Answer:
    """The settings, and no word of what they show."""
    set_to = say("Drum {drum}, wheel {wheel}", drum=power(drum, "drum"), wheel=axis(wheel, "wheel"))
    return Answer(headline=set_to, also=(say("What is sharp? The picture alone says it."),))


def _first_write(show: bool) -> tuple[Line, ...]:
    return (say("Write what you read first: only then is the lens shown."),) if show else ()


def _hint(seen: View) -> str:
    """What to do next, where the picture alone may not say it."""
    lines, look = first_seen(seen)
    if look == "broken":
        return _BROKEN
    if look == "blurred":
        return _ALMOST if is_almost_sharp(seen) else _BLURRED
    if lines == "both sets":
        return _SPHERE
    of_sphere = lines == "sphere lines"
    other = seen.best_drum(Lines.CYLINDER if of_sphere else Lines.SPHERE)
    if of_sphere:
        return _FIRST if other < seen.drum else _LESS_PLUS
    return _WRONG_SET if other < seen.drum else _SECOND


def _zero_hint(look: str) -> str:
    return _ZERO if look == "sharp" else _NO_LENS


# When a reading is written ------------------------------------------------------------------------


def _marked(unseen: UnseenLens, attempt: LensPower, show: bool) -> Answer:
    finding = unseen.mark(attempt)
    if finding.verdict is Verdict.RIGHT:
        return _shown(unseen, _right(unseen, attempt))
    wrong = _wrong(unseen, attempt, finding, show)
    if not show:
        return wrong
    lens = unseen.lens.in_minus_cylinder()
    told = (say("The lens is {lens}.", lens=_named_lens(lens)), *_other_form(lens))
    return _shown(unseen, replace(wrong, also=(*wrong.also, *told)))


def _wrong(unseen: UnseenLens, attempt: LensPower, finding: Finding, show: bool) -> Answer:
    if finding.verdict is Verdict.AXIS_OFF:
        also = (say(_AGAIN["axis"]), *_slips(finding, "Or: "))
        return Answer(headline=slip_words.axis_off(finding), also=also)
    if finding.verdict is Verdict.UNEXPLAINED:
        verdict = word(finding.verdict.value, "verdict")
        also = (_agreement(unseen, attempt),)
        return Answer(headline=say("Not right: {verdict}", verdict=verdict), also=also)
    again = () if show else (say("Look again, from the plus side."),)
    return Answer(
        headline=say(
            "Not right. {verdict}", verdict=slip_words.verdict(finding, "Explained by slips")
        ),
        also=(*_slips(finding), *slip_words.worth(finding), *again),
    )


def _right(unseen: UnseenLens, attempt: LensPower) -> Answer:
    """The lens in the form that was written, and whatever else counts as right."""
    in_plus = attempt.cylinder > 0
    lens = unseen.lens.in_plus_cylinder() if in_plus else unseen.lens.in_minus_cylinder()
    return Answer(
        headline=say("Right: {lens}", lens=_named_lens(lens)),
        also=(*_axis_allowed(unseen, lens, attempt), *_other_form(lens)),
    )


def _other_form(lens: LensPower) -> tuple[Line, ...]:
    if lens.axis is None:
        return ()
    form = "minus" if lens.cylinder > 0 else "plus"
    other = _named_lens(lens.transposed())
    return (say(f"The same lens in {form} form: {{lens}}", lens=other),)


def _named_lens(lens: LensPower) -> Line:
    return written_lens(lens, "plus." if lens.cylinder > 0 else "")


def _axis_allowed(unseen: UnseenLens, lens: LensPower, attempt: LensPower) -> tuple[Line, ...]:
    """Says why another axis than that of the lens is right; nothing where it is the same."""
    if lens.axis is None or attempt.axis is None or lens.axis == attempt.axis:
        return ()
    line = say(
        "Your axis is {off}° away. Up to {allowed}° counts as right here.",
        off=degrees(axis_difference(lens.axis, attempt.axis), "axis.off"),
        allowed=degrees(unseen.axis_tolerance, "axis.allowed"),
    )
    return (line,)


def _slips(finding: Finding, first: str = "") -> tuple[Line, ...]:
    """Every explanation in a line of its own."""
    told = [slip_words.sentences(each) for each in finding.explanations]
    return tuple(say(("Or: " if number else first) + text) for number, text in enumerate(told))


_AGAIN = {
    "sphere": "Find the first reading again, from the plus side.",
    "cylinder": "Find the second reading again; leave the wheel as it was at the first.",
    "axis": "Set the wheel from both sides.",
}
_SPHERE_ALONE = "Find the first reading again. A zero error left in moves the sphere alone."


def _agreement(unseen: UnseenLens, attempt: LensPower) -> Line:
    """Which parts are right, and where to look for the first that is not."""
    parts = unseen.agreement(attempt)
    wrong = [part for part, is_right in parts.items() if not is_right]
    advice = _AGAIN[wrong[0]]
    if wrong == ["sphere"] and attempt.cylinder:
        advice = _SPHERE_ALONE
    return say(f"{slip_words.agreement(parts)} {advice}")


def _shown(unseen: UnseenLens, answer: Answer) -> Answer:
    """The answer with the readings of the lens, and the way from them to its power."""
    taken = unseen.readings
    return replace(
        answer,
        tables=(_readings_table(unseen),),
        steps=readings.steps(taken),
        figures=(counted_travel(f"{_NAME}-travel", HAND_SCALE, readings.counted(taken)),),
    )


def _readings_table(unseen: UnseenLens) -> Table:
    taken = unseen.readings
    first = power(taken.first, "first")
    if taken.second is None or taken.wheel is None:
        rows = [(say("both sets"), say("{first} D", first=first), say("any"))]
    else:
        wheel = say("{wheel}", wheel=axis(taken.wheel, "wheel"))
        second = power(taken.second, "second")
        rows = [
            (say("sphere lines"), say("{first} D", first=first), wheel),
            (say("cylinder lines"), say("{second} D", second=second), wheel),
        ]
    head = ("Sharp", "Drum", "Wheel")
    return Table("Where the lines of this lens are sharp", head, tuple(rows))


# What was understood ------------------------------------------------------------------------------


def _read_as(written: Prescription | None) -> tuple[Line, ...]:
    if written is None or written.power.axis is None:
        return ()
    form = word(written.form.value, "form_written")
    return (say(f"Your reading was taken as {{form}}: {write_lens(written.power)}.", form=form),)


def _cut(lens: Prescription | None) -> tuple[Line, ...]:
    if lens is None:
        return ()
    return cut_eighths(Decimals.EIGHTHS, lens.power.sphere, lens.power.cylinder)


def _rounded(lens: Prescription | None) -> tuple[Line, ...]:
    return rounded_eighths(plain(written_lens(lens.power))) if lens else ()


def _left_out(lens: Prescription | None) -> tuple[str, ...]:
    if lens is None or (lens.addition is None and not lens.prism):
        return ()
    return ("The addition and the prism are left out: the target stays in the middle.",)


CALCULATOR = Calculator(
    slug=_NAME,
    title="Read a lens you cannot see",
    purpose="Turn drum and wheel until the lines are sharp, and write down the lens.",
    fields=(
        NumberField("number", "Number", group="Lens", low=1, high=_HIGHEST, whole=True),
        ChoiceField(
            "level",
            "Level",
            group="Lens",
            choices=(
                Choice("1", "1, spheres", 1),
                Choice("2", "2, quarters", 2),
                Choice("3", "3, eighths", 3),
            ),
        ),
        PrescriptionField(
            "written",
            "What you read",
            "empty while you look; as −0.75 −2.50 × 112",
            optional=True,
        ),
        AxisField("wheel", "Axis wheel", "1 to 180", turns=True),
        PowerField("drum", "Drum", "begin well on the plus side"),
        ChoiceField(
            "lens_on",
            "On the stop",
            "without a lens the drum shows the zero error; only level 3 has one",
            aside=True,
            choices=(Choice("lens", "the lens", True), Choice("nothing", "no lens", False)),
        ),
        ChoiceField(
            "show",
            "Show the lens",
            "once a reading is written",
            aside=True,
            choices=(Choice("right", "when I am right", False), Choice("now", "now", True)),
        ),
        ChoiceField(
            "told",
            "How the lines look",
            "at the instrument nobody says it",
            aside=True,
            choices=(
                Choice("words", "in words and in the picture", True),
                Choice("picture", "in the picture alone", False),
            ),
        ),
        PrescriptionField(
            "own",
            "A lens of your own",
            "takes the place of the numbered lens, to see what a known lens looks like",
            optional=True,
            aside=True,
        ),
    ),
    solve=solve,
    examples=(
        Example(
            given={"number": "8", "level": "2", "wheel": "40", "drum": "+2.75"},
            prints={"sphere_lines": "broken"},
            note="An invented lens.",
        ),
        Example(
            given={
                "number": "1",
                "own": "-1.00 -1.00 x 067",
                "wheel": "67",
                "drum": "-1.00",
            },
            prints={"sphere_lines": "sharp"},
            source="cylinder-form-slides",
            note="Printed is where each set of lines is sharp.",
        ),
        Example(
            given={
                "number": "1",
                "own": "-1.00 -1.00 x 067",
                "wheel": "67",
                "drum": "-2.00",
            },
            prints={"cylinder_lines": "sharp"},
            source="cylinder-form-slides",
            note="Printed is where each set of lines is sharp.",
        ),
        Example(
            given={
                "number": "1",
                "own": "-2.00 +1.00 x 157",
                "wheel": "157",
                "drum": "-2.00",
                "written": "-2.00 +1.00 x 157",
            },
            prints={
                "plus.sphere": "−2.00",
                "plus.cylinder": "+1.00",
                "plus.axis": "157",
                "sphere": "−1.00",
                "cylinder": "−1.00",
                "axis": "067",
            },
            source="cylinder-form-slides",
            note="The same lens, read in plus form.",
        ),
    ),
)
