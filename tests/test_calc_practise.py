"""The calculators of the stage Practise: drills by their number, and the slip behind a power."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from urllib.parse import parse_qsl

import pytest

from lensmath.drills import SKILLS, Outcome, Problem, mark, sheet
from lensmath.notation import write_exact, write_lens
from lensmath.power import LensPower
from lensmath.readings import Lines, Readings
from lensmath.slips import CATALOGUE, Situation
from lensmath.tolerances import find_standard
from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, plain
from site_src.calculators.door import reply
from site_src.calculators.drill import LAST
from site_src.calculators.fields import FieldError
from site_src.tables.practice import SHEETS, Part, skills, slips
from tests.printed import Row, lens, published
from tests.test_slips import ALONE, MINUS, TIES, TWO, WITH_ZERO_ERROR, Written

DRILL = CALCULATORS["drill"]
WHICH = CALCULATORS["which-slip"]

LEVELS = (1, 2, 3)
NUMBERS = range(1001, 1041)
each_level = pytest.mark.parametrize(
    ("skill", "level"), [(skill, level) for skill in SKILLS for level in LEVELS]
)


def problem_of(skill: str, level: int, number: int) -> Problem:
    (problem,) = sheet(number, skill, level, 1)
    return problem


def entries(skill: str, level: int, number: int, **more: str) -> dict[str, str]:
    return {"skill": skill, "level": f"{level}", "number": f"{number}", **more}


def drilled(skill: str, level: int, number: int, **more: str) -> Answer:
    return DRILL.answer(entries(skill, level, number, **more))


def shown(answer: Answer, name: str) -> str:
    """What is shown of a value, nothing where there is none."""
    datum = answer.values().get(name)
    return datum.shown if datum else ""


def refusal(entered: dict[str, str]) -> tuple[str, str]:
    """Field and sentence of a refusal, whether of one entry or of entries together."""
    answer = json.loads(reply(json.dumps({"id": 1, "calculator": "drill", "fields": entered})))
    assert answer["ok"] is False
    return answer["field"], answer["message"]


# Asking and marking -------------------------------------------------------------------------------


@each_level
def test_the_right_answer_is_marked_right_and_then_shown(skill: str, level: int) -> None:
    for number in NUMBERS:
        problem = problem_of(skill, level, number)
        answer = drilled(skill, level, number, answer=problem.text)
        assert plain(answer.headline) == f"Right. {problem.question}"
        assert plain(answer.also[0]) == f"The answer: {problem.text}"
        assert answer.values()["outcome"].value == "right"


@each_level
def test_without_an_answer_the_question_stands_alone(skill: str, level: int) -> None:
    for number in NUMBERS:
        answer = drilled(skill, level, number)
        assert plain(answer.headline) == problem_of(skill, level, number).question
        assert set(answer.values()) == {"question"}
        assert [plain(line) for line in answer.also] == [
            f"Level {level}: {SKILLS[skill].levels[level - 1]}"
        ]


@each_level
def test_the_answer_stands_nowhere_before_it_is_right_or_asked_for(skill: str, level: int) -> None:
    for number in NUMBERS:
        problem = problem_of(skill, level, number)
        answer = re.compile(rf"(?<![\d.+−]){re.escape(problem.text)}(?![\d.])")
        for wrong in ("", *wrong_answers(problem)):
            told = everything_told(entries(skill, level, number, answer=wrong))
            for part in (problem.question, wrong, SKILLS[skill].title, *SKILLS[skill].levels):
                told = told.replace(part, "") if part else told
            assert not answer.search(told), (problem.text, told)
        asked = everything_told(entries(skill, level, number, show="yes"))
        assert answer.search(asked.replace(problem.question, ""))


def wrong_answers(problem: Problem) -> Iterator[str]:
    """The answer to another problem of the skill that can be read here, and is wrong."""
    for number in range(1, 20):
        other = problem_of(problem.skill, problem.level, number).text
        if mark(problem, other) == (Outcome.WRONG, ""):
            yield other
            return


def everything_told(entered: dict[str, str]) -> str:
    """All that Python hands to the page: HTML, the text to be copied, what is said, values."""
    answer = json.loads(reply(json.dumps({"id": 1, "calculator": "drill", "fields": entered})))
    assert answer["ok"] is True
    values = map(str, answer["values"].values())
    return "\n".join([answer["html"], answer["text"], answer["says"], *values])


@pytest.mark.parametrize(
    ("skill", "level", "number", "question", "right"),
    [
        (
            "cylinder",
            1,
            7,
            "The first reading is +5.75 D and the second is +4.00 D. What is the cylinder?",
            "−1.75",
        ),
        ("transposition", 1, 1, "Write +3.75 −0.50 × 135 in plus cylinder.", "+3.25 +0.50 × 045"),
        (
            "write-power",
            1,
            7,
            (
                "With a lens the sphere lines are sharp first, at −7.00 D, then the cylinder lines "
                "at −8.00 D. The wheel reads 090. Write the power in minus cylinder."
            ),
            "−7.00 −1.00 × 090",
        ),
    ],
)
def test_a_number_stays_the_same_problem(
    skill: str, level: int, number: int, question: str, right: str
) -> None:
    answer = drilled(skill, level, number, show="yes")
    assert (shown(answer, "question"), shown(answer, "answer")) == (question, right)


@pytest.mark.parametrize(
    ("seed", "part"), [(each.seed, part) for each in SHEETS.values() for part in each.parts]
)
def test_the_seed_of_a_printed_sheet_is_the_number_of_its_first_problem(
    seed: int, part: Part
) -> None:
    printed = next(each for each in SHEETS.values() if each.seed == seed).problems
    first = next(each for each in printed if (each.skill, each.level) == part[:2])
    assert shown(drilled(part.skill, part.level, seed), "question") == first.question


def test_the_right_lens_in_another_form_is_told_apart_and_the_answer_kept_back() -> None:
    answer = drilled("write-power", 1, 7, answer="-8.00 +1.00 x 180")
    assert shown(answer, "outcome") == "Right, but in another form than asked"
    assert shown(answer, "answer") == ""
    assert answer.figures == answer.steps == ()


def test_the_working_of_a_lens_and_the_picture_of_a_travel_come_with_the_answer() -> None:
    known = drilled("write-power", 1, 7, show="yes")
    assert [step.numbers for step in known.steps] == ["", "−8.00 − (−7.00)", "", ""]
    assert known.figures[0].description.startswith("The first reading is −7.00 D, the second −8.00")
    for skill, words in (("cylinder", "first"), ("count", "first"), ("addition", "distance")):
        (figure,) = drilled(skill, 1, 7, show="yes").figures
        assert figure.description.startswith(f"The {words} reading is ")
        assert drilled(skill, 1, 7).figures == ()
    assert drilled("vertex", 1, 7, show="yes").figures == ()


def test_a_verdict_names_the_standard_that_it_goes_by() -> None:
    for number in NUMBERS:
        (key,) = drilled("verdict", 2, number).sources
        assert find_standard(key).designation in problem_of("verdict", 2, number).question
    assert drilled("cylinder", 2, 7).sources == ("common-practice",)


# What cannot be marked ----------------------------------------------------------------------------


@pytest.mark.parametrize("skill", SKILLS)
@pytest.mark.parametrize("level", LEVELS)
def test_what_cannot_be_read_is_said_with_what_was_given_and_an_example(
    skill: str, level: int
) -> None:
    for number in (1, 2, 3, 4):
        field, message = refusal(entries(skill, level, number, answer="a dog's breakfast"))
        assert field == "answer"
        assert message.startswith("Your answer: ")
        assert "dog" in message
        assert re.search(r"\d|inside|BU|two whole", message.replace("dog's", "")), message
        assert message.endswith(".")


@pytest.mark.parametrize(
    ("skill", "answer", "said"),
    [
        ("write-power", "-7.00 -1.00", "Your answer: The cylinder −1.00 has no axis."),
        ("cylinder", "1.75", "Your answer: “1.75” has no sign."),
        ("cylinder", "?" * 500, f"Your answer: “{'?' * 40}…” has 500 characters; up to 200 are"),
        ("axis-turned-round", "270", "Your answer: "),
        ("prism-base", "400", "Your answer: “400” is no number from 0 to 360."),
        ("cylinder", "-1.75 DS", "Your answer: “DS” in “−1.75 DS” says sphere, and no sphere"),
    ],
)
def test_an_answer_that_is_no_answer(skill: str, answer: str, said: str) -> None:
    field, message = refusal(entries(skill, 1, 7, answer=answer))
    assert (field, message[: len(said)]) == ("answer", said)


@pytest.mark.parametrize(
    ("number", "said"),
    [
        ("2.5", "2.5 is not whole. Enter a whole number from 1 to 9999."),
        ("0", "0 was entered; it has to be from 1 to 9999."),
        ("10000", "10000 was entered; it has to be from 1 to 9999."),
        ("", "nothing was entered. Enter a whole number from 1 to 9999."),
        ("seven", "“seven” is not a number. Enter a whole number from 1 to 9999."),
    ],
)
def test_a_problem_has_a_whole_number(number: str, said: str) -> None:
    entered = {**entries("cylinder", 1, 7), "number": number}
    assert refusal(entered) == ("number", f"Problem number: {said}")


# From one problem to the next ---------------------------------------------------------------------


@pytest.mark.parametrize(("number", "after"), [(1, 2), (4888, 4889), (LAST, 1)])
@pytest.mark.parametrize("more", [{}, {"answer": "-1.00 -1.00 x 9"}, {"show": "yes"}])
def test_the_first_link_leads_to_the_next_problem_unanswered(
    number: int, after: int, more: dict[str, str]
) -> None:
    way = drilled("write-power", 2, number, **more).onward[0]
    assert (way.words, way.entry) == (f"Next problem: number {after}", "drill-answer")
    slug, _, query = way.address.removeprefix("#").partition("?")
    assert slug == DRILL.slug
    assert dict(parse_qsl(query)) == entries("write-power", 2, after)
    assert plain(DRILL.answer(dict(parse_qsl(query))).headline) == (
        problem_of("write-power", 2, after).question
    )


def test_the_other_link_shows_the_answer_and_keeps_what_was_written() -> None:
    wrong = drilled("write-power", 1, 7, answer="-7.00 -8.00 x 90")
    entered = dict(parse_qsl(wrong.onward[1].address.partition("?")[2]))
    assert entered == entries("write-power", 1, 7, show="yes", answer="-7.00 -8.00 x 90")
    assert shown(DRILL.answer(entered), "answer") == "−7.00 −1.00 × 090"
    for known in ({"show": "yes"}, {"answer": "-7.00 -1.00 x 90"}):
        assert len(drilled("write-power", 1, 7, **known).onward) == 1


# The slip behind a wrong answer -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("skill", "level", "number", "answer", "named"),
    [
        ("write-power", 1, 7, "-7.00 -8.00 x 90", ["reading for cylinder"]),
        ("write-power", 1, 7, "-7 +1 x 90", ["cylinder sign dropped"]),
        # Published: study-page-optics-traps, as in tests/published/slips.csv.
        ("write-power", 1, 4888, "-1.00 +2.00 x 180", ["sphere kept"]),
        # The form is asked for, so the spelling counts: as a lens in any form it is one lost sign.
        (
            "write-power",
            1,
            7,
            "-6.00 -1.00 x 180",
            [
                "second reading across zero, and then sizes subtracted",
                "axis 90 off, and then sphere a dioptre off",
            ],
        ),
        # The wheel is at 045, where the mirrored axis is the one turned by 90.
        ("write-power", 1, 8, "+4.50 -1.00 x 135", ["read from the front", "axis 90 off"]),
        ("write-power", 1, 7, "-1.12 -4.87 x 3", []),
        ("cylinder", 1, 7, "-4.00", []),
    ],
)
def test_a_wrong_power_gets_its_slip_named(
    skill: str, level: int, number: int, answer: str, named: list[str]
) -> None:
    marked = drilled(skill, level, number, answer=answer)
    assert shown(marked, "outcome") == "Not right"
    values = marked.values()
    assert [values[name].shown for name in sorted(values) if name.startswith("slip.")] == named
    sentences = {slip.name: slip.sentence for slip in CATALOGUE}
    told = " ".join(plain(line) for line in marked.also)
    assert all(sentences[name] in told for each in named for name in each.split(", and then "))
    assert ("The numbers cannot tell which it was" in told) == (len(named) > 1)
    together = any(", and then " in each for each in named)
    assert ("Two slips together would give it: " in told) == together
    assert ("a mistake that is not in the list may be likelier" in told) == together
    assert ("Explained by: " in told) == (named != [] and not together)


def test_in_a_drill_a_near_axis_is_said_to_be_near_before_a_slip() -> None:
    # Problem 2 is +2.625 −2.125 × 147: counted back from 145 the wheel would be at 143.
    near = "Sphere and cylinder are right, the axis is {}° off."
    back = "Or: wheel read backwards. The degrees on the wheel were counted from a mark in the "
    for axis, told in (
        ("143", [near.format(4), f"{back}wrong direction."]),
        ("149", [near.format(2)]),
    ):
        marked = drilled("write-power", 2, 2, answer=f"+2.62 -2.12 x {axis}")
        assert shown(marked, "outcome") == "Not right"
        assert [plain(line) for line in marked.also[:-1]] == told


@pytest.mark.parametrize("after", ["", ".", " D", " dioptres.", " DS"])
def test_the_zero_error_left_in_a_sphere_is_named(after: str) -> None:
    problem = problem_of("zero-error", 1, 7)
    taken = problem.given["readings"]
    assert isinstance(taken, Readings)
    marked = drilled("zero-error", 1, 7, answer=write_exact(taken.first) + after)
    assert shown(marked, "slip.1") == "zero error left in"


def test_plano_is_a_power_that_may_be_wrong() -> None:
    marked = drilled("zero-error", 1, 7, answer="plano")
    assert shown(marked, "outcome") == "Not right"


@pytest.mark.parametrize("written", ["-3.63", "-3,63"])
def test_an_eighth_rounded_up_is_wrong_and_the_reader_is_told_how_it_counts(written: str) -> None:
    # Problem 12 of cylinder, level 2, is -3.625; a prism may be 0.63 and no eighth.
    assert problem_of("cylinder", 2, 12).text == "−3.62"
    told = drilled("cylinder", 2, 12, answer=written)
    assert shown(told, "outcome") == "Not right"
    assert f"Taken as it stands: {written[1:]}." in " ".join(plain(line) for line in told.also)
    for answer, skill in (("-3.62", "cylinder"), ("0.63 BD", "prentice")):
        also = drilled(skill, 2, 12, answer=answer).also
        assert not [line for line in also if "Taken as it stands" in plain(line)]
    noted_power = {
        "first": "-0.62",
        "second": "-1.50",
        "wheel": "90",
        "written": "-0.62 -0.88 x 90",
    }
    understood = WHICH.answer(noted_power).understood
    assert [line for line in understood if "Taken as it stands: 0.88." in plain(line)]
    unseen = CALCULATORS["unseen-lens"]
    looked = {**unseen.example_texts(), "written": "+2.63 -1.50 x 20"}
    assert [line for line in unseen.answer(looked).understood if "2.63" in plain(line)]


MORE = [
    (" add +2.00", "“add +2.00” was written, but the lens has no addition here; leave it out."),
    (" 2 BU", "“2.00 BU” was written, but the lens has no prism here; leave it out."),
    (
        " add +2 1 BI",
        (
            "“add +2.00 1.00 BI” was written, but the lens has no addition and no prism here; "
            "leave it out."
        ),
    ),
]


@pytest.mark.parametrize(("more", "said"), MORE)
@pytest.mark.parametrize("right", ["-7.00 -1.00 x 90", "-7.00 -1.00 x 91"])
def test_an_addition_that_nobody_asked_for_is_refused_by_a_drill(
    right: str, more: str, said: str
) -> None:
    refused = refusal(entries("write-power", 1, 7, answer=right + more))
    assert refused == ("answer", f"Your answer: {said}")


# Which slip ---------------------------------------------------------------------------------------


def noted(situation: Situation, written: Written) -> dict[str, str]:
    """The entries for a situation and a written power."""
    read, other = situation.readings, situation.other_eye
    entered = {
        "first": write_exact(read.first),
        "second": "" if read.second is None else write_exact(read.second),
        "wheel": "" if read.wheel is None else f"{read.wheel:g}",
        "zero": write_exact(read.zero_error),
        "lines": {Lines.SPHERE: "sphere", Lines.CYLINDER: "cylinder"}.get(read.sharp_first, "both"),
        "written": three_decimals(LensPower(*written)),
        "decimals": "literal",
    }
    return entered | ({} if other is None else {"other": write_lens(other.power)})


def three_decimals(lens: LensPower) -> str:
    """A lens with true eighths, and with what is finer."""
    if lens.axis is None:
        return f"{lens.sphere:+.3f} DS"
    return f"{lens.sphere:+.3f} {lens.cylinder:+.3f} x {lens.axis:g}"


def explanations(answer: Answer) -> set[frozenset[str]]:
    """The names of each set of slips that the answer gives."""
    named = re.compile(r"explanation\.\d+$")
    return {
        frozenset(datum.shown.split(", and then "))
        for name, datum in answer.values().items()
        if named.match(name)
    }


def sets(*names: str) -> set[frozenset[str]]:
    return {frozenset(together.split(" + ")) for together in names}


@published("slips")
def test_a_published_slip_is_named(row: Row) -> None:
    """The wrong power was printed, as an answer or as one to choose from."""
    answer = WHICH.answer(
        {
            **{name: row[name] for name in ("first", "second", "wheel")},
            "written": three_decimals(lens(row, "printed_")),
            "form": row["form"] or "either",
        }
    )
    assert explanations(answer) == (sets(row["slip"]) if row["slip"] else set())
    verdict = "explained by slips" if row["slip"] else "no known slip explains it"
    assert answer.values()["verdict"].value == verdict


@pytest.mark.parametrize(("name", "situation", "written"), ALONE)
def test_every_slip_is_found_by_its_own_example(
    name: str, situation: Situation, written: Written
) -> None:
    answer = WHICH.answer(noted(situation, written))
    assert explanations(answer) == sets(name)
    assert plain(answer.headline) == (
        "Sphere and cylinder are right, the axis is 4° off"
        if written == (-0.75, -2.50, 108)
        else f"Explained by: {name}"
    )
    (table,) = answer.tables
    assert plain(table.rows[0][1]) == next(s.sentence for s in CATALOGUE if s.name == name)
    values = answer.values()
    assert values["explanation.1.sphere"].value == written[0]


@pytest.mark.parametrize(("situation", "written", "names"), [*TIES, *TWO])
def test_ties_are_all_shown_as_alternatives(
    situation: Situation, written: Written, names: set[str]
) -> None:
    answer = WHICH.answer(noted(situation, written))
    assert explanations(answer) == sets(*names)
    (table,) = answer.tables
    assert len(table.rows) == len(names)
    together = any(" + " in each for each in names)
    verdict = "Two slips together would give it" if together else "Explained by"
    if len(names) > 2:
        many = f", in {len(names)} ways" if together else f" any of {len(names)}"
        assert plain(answer.headline) == verdict + many
    else:
        assert plain(answer.headline).removeprefix(f"{verdict}: ").split("; or ") == [
            plain(row[0]) for row in table.rows
        ]
    said = " ".join(plain(line) for line in answer.also)
    assert ("The numbers cannot tell which it was" in said) == (len(names) > 1)
    assert ("No single slip of the list gives this power" in said) == together


@pytest.mark.parametrize(
    ("written", "form", "says"),
    [
        ("-0.75 -2.50 x 112", "either", "Right"),
        ("-3.25 +2.50 x 22", "either", "Right"),
        ("-0.75 DC x 22 / -3.25 DC x 112", "either", "Right"),
        ("-3.25 +2.50 x 22", "plus", "Right"),
        ("-3.25 +2.50 x 22", "minus", "Right lens, but in the other form"),
        ("-0.75 -2.50 x 112", "plus", "Right lens, but in the other form"),
        ("-1.10 -2.40 x 99", "either", "Wrong, and no slip of the list explains it"),
    ],
)
def test_what_is_no_slip(written: str, form: str, says: str) -> None:
    read = {"first": "-0.75", "second": "-3.25", "wheel": "112"}
    answer = WHICH.answer({**read, "written": written, "form": form})
    assert plain(answer.headline) == says
    assert answer.tables == ()
    assert plain(answer.also[-1]) == (
        "The readings give −0.75 −2.50 × 112, in the other form −3.25 +2.50 × 022."
    )
    assert bool(answer.cautions) == says.startswith("Wrong")


@pytest.mark.parametrize(("more", "said"), MORE)
def test_an_addition_that_no_reading_is_about_is_refused(more: str, said: str) -> None:
    read = {"first": "-0.75", "second": "-3.25", "wheel": "112"}
    lenses = {"written": "-0.75 -2.50 x 112", "other": "-1.50 -0.75 x 75"}
    for field, label in (
        ("written", "Power that was written"),
        ("other", "Right power of the other lens"),
    ):
        with pytest.raises(FieldError) as refused:
            WHICH.answer({**read, **lenses, field: lenses[field] + more})
        assert (refused.value.field, refused.value.message) == (field, f"{label}: {said}")


@pytest.mark.parametrize(
    ("written", "form", "says"),
    [
        ("-0.75 -2.25 x 112", "either", "The sphere and the axis are right, the cylinder not."),
        ("-3.25 +2.25 x 22", "plus", "The sphere and the axis are right, the cylinder not."),
        ("-1.10 -2.50 x 140", "either", "The cylinder is right, the sphere and the axis not."),
        ("-0.75 -2.50 x 140", "either", "The sphere and the cylinder are right, the axis not."),
        ("-1.10 -2.40 x 99", "minus", "No part of it is right."),
        (
            "-3.25 +2.50 x 24",
            "minus",
            (
                "The sphere and the cylinder are right, the axis not. It is in the other form than "
                "asked for."
            ),
        ),
    ],
)
def test_where_no_slip_fits_it_is_said_which_parts_are_right(
    written: str, form: str, says: str
) -> None:
    read = {"first": "-0.75", "second": "-3.25", "wheel": "112"}
    answer = WHICH.answer({**read, "written": written, "form": form})
    assert plain(answer.headline) == "Wrong, and no slip of the list explains it"
    assert plain(answer.also[0]) == says
    assert len(answer.also) == 2


@pytest.mark.parametrize(
    ("wheel", "written", "off", "named"),
    [
        ("112", "-0.75 -2.50 x 113", "1", set()),
        ("112", "-3.25 +2.50 x 18", "4", sets("wheel read backwards")),
        ("112", "-0.75 -2.50 x 108", "4", sets("wheel read backwards")),
        ("92", "-0.75 -2.50 x 88", "4", sets("wheel read backwards", "read from the front")),
    ],
)
def test_of_a_near_axis_it_is_first_said_how_far_it_is_off(
    wheel: str, written: str, off: str, named: set[frozenset[str]]
) -> None:
    read = {"first": "-0.75", "second": "-3.25", "wheel": wheel}
    answer = WHICH.answer({**read, "written": written})
    assert plain(answer.headline) == f"Sphere and cylinder are right, the axis is {off}° off"
    assert explanations(answer) == named
    assert [len(table.rows) for table in answer.tables] == ([len(named)] if named else [])
    told, right = map(plain, answer.also)
    assert right.startswith("The readings give ")
    assert told.startswith("So little is rather a matter of setting or reading the wheel.")
    assert ("stands in the table" in told) == bool(named)
    assert answer.cautions == ()


def test_an_exchange_of_the_eyes_needs_the_other_lens_and_takes_the_same_zero_error() -> None:
    entered = noted(MINUS, (-1.50, -0.75, 75))
    assert explanations(WHICH.answer(entered)) == sets("other eye")
    assert explanations(WHICH.answer({**entered, "other": ""})) == set()
    with_zero = noted(WITH_ZERO_ERROR, (-1.50, -0.75, 75)) | {"other": "-1.50 -0.75 x 75"}
    assert explanations(WHICH.answer(with_zero)) == sets("other eye")


def test_another_lens_that_no_scale_reads_is_refused() -> None:
    entered = noted(MINUS, (-1.50, -0.75, 75)) | {"other": "-30.00 -2.00 x 75"}
    with pytest.raises(FieldError) as refused:
        WHICH.answer(entered)
    assert refused.value.field == "other"
    assert "−32.00 D was given" in refused.value.message


def test_a_sphere_has_no_other_form() -> None:
    answer = WHICH.answer({"first": "-2.00", "lines": "both", "written": "-3.00 DS"})
    assert plain(answer.also[-1]) == "The readings give −2.00 DS."
    assert explanations(answer) == sets("sphere a dioptre off")


# The tables of the pages --------------------------------------------------------------------------


def test_the_tables_hold_every_skill_and_every_slip_in_order() -> None:
    assert [plain(row[0]) for row in skills().rows] == [skill.title for skill in SKILLS.values()]
    assert [plain(row[3]) for row in skills().rows] == [s.levels[2] for s in SKILLS.values()]
    assert [plain(row[2]) for row in slips().rows] == [slip.sentence for slip in CATALOGUE]
