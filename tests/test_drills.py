"""The drills: the same sheets everywhere, right answers, fair marking, and levels kept."""

from __future__ import annotations

import dataclasses
import hashlib
import math
import re
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.centration import Decentration, Frame, write_length
from lensmath.drills import (
    LONGEST_SHEET,
    SKILLS,
    Outcome,
    Problem,
    SplitMix64,
    find_skill,
    mark,
    sheet,
)
from lensmath.drills.answers import (
    POWER_ROUNDING,
    Answer,
    AxisAnswer,
    BaseDirectionAnswer,
    LensAnswer,
    PowerAnswer,
    plain,
)
from lensmath.drills.worded import (
    BaseAnswer,
    CountAnswer,
    DecentrationAnswer,
    PrismAnswer,
    VerdictAnswer,
)
from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.notation import (
    Decimals,
    read_power,
    read_prescription,
    write_axis,
    write_exact,
    write_lens,
    write_power,
)
from lensmath.power import LensPower, axis_difference
from lensmath.prism import Base, HalfCircle
from lensmath.readings import Lines, Readings
from lensmath.scale import HAND_SCALE
from lensmath.tolerances import find_standard
from lensmath.tolerances.model import Quantity, Standard

SEEDS = st.integers(0, 2**64 - 1)
LEVELS = (1, 2, 3)
PLACES = [(skill, level) for skill in SKILLS for level in LEVELS]
COMPUTED = ("prentice", "vertex", "decentration")  # right within a rounding
every_place = pytest.mark.parametrize(("skill", "level"), PLACES)
RIGHT, OTHER_FORM, WRONG = Outcome.RIGHT, Outcome.OTHER_FORM, Outcome.WRONG


def many(skill: str, level: int) -> list[Problem]:
    """Sixty problems, of three seeds."""
    return [problem for seed in (3, 4, 5) for problem in sheet(seed, skill, level, LONGEST_SHEET)]


def powers_in(text: str) -> list[float]:
    """Every signed power in a text, and 0.00, with its eighths."""
    return [read_power(found) for found in re.findall(r"[+−]\d+\.\d+|\b0\.00", text)]


# The same everywhere ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("seed", "numbers"),
    [
        # Source  splitmix64-task-page
        (
            1234567,
            (
                6457827717110365317,
                3203168211198807973,
                9817491932198370423,
                4593380528125082431,
                16408922859458223821,
            ),
        ),
        # Source  splitmix64-second-vector
        (0, (0xE220A8397B1DCDAF, 0x6E789E6AA1B965F4, 0x06C45D188009454F)),
    ],
)
def test_the_generator_gives_the_published_numbers(seed: int, numbers: tuple[int, ...]) -> None:
    draws = SplitMix64(seed)
    assert tuple(draws.next() for _ in numbers) == numbers


def test_the_generator_spreads_choices_evenly() -> None:
    """Printed beside the numbers: how often each fifth comes in 100 000 draws of one seed.

    Source  splitmix64-task-page
    """
    draws = SplitMix64(987654321)
    found = [draws.between(0, 4) for _ in range(100_000)]
    assert [found.count(each) for each in range(5)] == [20027, 19892, 20073, 19978, 20030]


SHORT_SHEETS = {
    1: [
        "Write +1.75 +2.75 × 175 in minus cylinder. +4.50 −2.75 × 085",
        "Write −4.00 +3.12 × 176 in minus cylinder. −0.87 −3.12 × 086",
        "Write +2.25 −2.12 × 008 in plus cylinder. +0.12 +2.12 × 098",
    ],
    2: [
        "Write +1.25 +2.50 × 057 in minus cylinder. +3.75 −2.50 × 147",
        "Write −3.00 −2.75 × 002 in plus cylinder. −5.75 +2.75 × 092",
        "Write +1.75 −0.37 × 005 in plus cylinder. +1.37 +0.37 × 095",
    ],
    2026: [
        "Write +2.00 +3.25 × 035 in minus cylinder. +5.25 −3.25 × 125",
        "Write +7.50 −2.75 × 175 in plus cylinder. +4.75 +2.75 × 085",
        "Write +2.87 −2.12 × 044 in plus cylinder. +0.75 +2.12 × 134",
    ],
}
# Of each skill: five problems of each level and of each seed above, with their answers.
FINGERPRINTS = {
    "count": "a981fd193b550016",
    "cylinder": "4b16534fa709f873",
    "write-power": "7f9d0e4f62b8b125",
    "zero-error": "6d3a7193a013ac48",
    "addition": "290b2743d03c92dc",
    "axis-turned-round": "2991ff87d19a1a40",
    "transposition": "70175ba780e13af8",
    "eighths": "bfc52143c153beb1",
    "verdict": "7d18494a3f993a27",
    "axis-window": "774dd128bdac576c",
    "prism-base": "7acd257d9663790a",
    "prentice": "84d2ce50124d1560",
    "vertex": "98fc8d9f3fff7192",
    "decentration": "3989de68d61a26cd",
}


@pytest.mark.parametrize("seed", SHORT_SHEETS)
def test_a_short_sheet_reads_the_same_on_every_machine(seed: int) -> None:
    problems = sheet(seed, "transposition", 3, 3)
    assert [f"{problem.question} {problem.text}" for problem in problems] == SHORT_SHEETS[seed]


@pytest.mark.parametrize("skill", SKILLS)
def test_every_sheet_is_the_same_on_every_machine(skill: str) -> None:
    """A new fingerprint is a new sheet for everybody: change it only when that is meant."""
    text = "\n".join(
        f"{problem.question} {problem.text}"
        for seed in SHORT_SHEETS
        for level in LEVELS
        for problem in sheet(seed, skill, level, 5)
    )
    assert hashlib.sha256(text.encode()).hexdigest()[:16] == FINGERPRINTS[skill]


@every_place
def test_a_sheet_can_be_made_again_and_begins_with_the_shorter_one(skill: str, level: int) -> None:
    whole = sheet(9, skill, level, LONGEST_SHEET)
    assert len(whole) == LONGEST_SHEET
    assert sheet(9, skill, level, 4) == whole[:4]
    assert sheet(10, skill, level, 4) != whole[:4]


@every_place
def test_no_problem_comes_twice(skill: str, level: int) -> None:
    for seed in range(5):
        questions = [problem.question for problem in sheet(seed, skill, level, LONGEST_SHEET)]
        assert len(set(questions)) == LONGEST_SHEET


def test_a_problem_cannot_be_changed() -> None:
    problem: Any = sheet(1, "cylinder", 1, 1)[0]
    with pytest.raises(dataclasses.FrozenInstanceError):
        problem.level = 2
    with pytest.raises(TypeError):
        problem.given["first"] = 0.0
    assert hash(problem) == hash(sheet(1, "cylinder", 1, 1)[0])


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((1, "count", 0, 5), "The level is a whole number from 1 to 3; 0 was given."),
        ((1, "count", 4, 5), "The level is a whole number from 1 to 3; 4 was given."),
        ((1, "count", 1, 0), "The number of problems is a whole number from 1 to 20; 0 was"),
        ((1, "count", 1, 21), "The number of problems is a whole number from 1 to 20; 21 was"),
        ((-1, "count", 1, 1), "The seed is a whole number from 0 to 18446744073709551615; −1 was"),
        ((2**64, "count", 1, 1), "The seed is a whole number from 0 to 18446744073709551615; 184"),
        ((1, "juggling", 1, 1), "No skill “juggling” is drilled; choose one of count, cylinder,"),
    ],
)
def test_a_sheet_that_cannot_be_made_is_refused(
    arguments: tuple[int, str, int, int], words: str
) -> None:
    with pytest.raises(LensError, match=re.escape(words)):
        sheet(*arguments)


def test_every_skill_says_what_its_levels_ask() -> None:
    for key, skill in SKILLS.items():
        assert find_skill(key) is skill
        assert all(sentence.endswith(".") for sentence in skill.levels)
        assert len(set(skill.levels)) == len(LEVELS)


@every_place
def test_a_question_is_a_plain_sentence(skill: str, level: int) -> None:
    for problem in many(skill, level):
        assert not re.search(
            r"(?<![Z0-9.])-\d|[ (]-|None|nan|\d\.\d{4}", problem.question + problem.text
        )
        assert problem.question.endswith((".", "?"))


# Answers ------------------------------------------------------------------------------------------


@given(SEEDS, st.sampled_from(PLACES))
def test_the_answer_of_a_problem_marks_as_right(seed: int, place: tuple[str, int]) -> None:
    for problem in sheet(seed, *place, 2):
        assert mark(problem, problem.text) == (RIGHT, "")
        phone = problem.text.replace("−", "-").replace("×", "x")
        assert mark(problem, f"  {phone.upper()} ") == (RIGHT, "")


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("skill", [skill for skill in SKILLS if skill not in COMPUTED])
def test_the_answer_of_another_problem_marks_as_wrong(skill: str, level: int) -> None:
    """Unless it is the answer of this one as well, or the same travel in other steps."""
    apart = 0
    for one, other in pairwise(many(skill, level)):
        if one.text != other.text:
            apart += 1
            outcome = mark(one, other.text).outcome
            assert outcome is WRONG or (skill == "count" and outcome is OTHER_FORM)
    assert apart >= 10


@pytest.mark.parametrize("skill", SKILLS)
def test_what_cannot_be_read_is_wrong_and_says_why(skill: str) -> None:
    problem = sheet(1, skill, 2, 1)[0]
    for written in ("", "?", "seven", "1" * 201):
        outcome, refusal = mark(problem, written)
        assert outcome is WRONG
        assert refusal.endswith((".", ")."))


@pytest.mark.parametrize("level", LEVELS)
def test_the_sums_of_reading_drills_fit_their_questions(level: int) -> None:
    """Worked again from the text of the question, as a person does."""
    for problem in many("cylinder", level):
        first, second = powers_in(problem.question)
        assert powers_in(problem.text) == [second - first]
    for problem in many("addition", level):
        *_, distance, near = powers_in(problem.question)
        assert powers_in(problem.text) == [near - distance]
    for problem in many("count", level):
        first, second = powers_in(problem.question)[:2]
        assert problem.text == HAND_SCALE.count(first, second).in_words()
    for problem in many("axis-turned-round", level):
        axis = int(re.findall(r"reads (\d{3})", problem.question)[0])
        assert (axis + int(problem.text)) % 180 == 0
    for problem in many("transposition", level):
        given_lens = read_prescription(problem.question[len("Write ") : -len(" in plus cylinder.")])
        answer = read_prescription(problem.text)
        assert given_lens.power == answer.power
        assert given_lens.power.cylinder * answer.power.cylinder < 0
    for problem in many("zero-error", level):
        error, shown, *rest = powers_in(problem.question)
        lens = read_prescription(problem.text).power
        assert lens.sphere == shown - error
        assert lens.cylinder == (rest[0] - shown if rest else 0)


@pytest.mark.parametrize("level", LEVELS)
def test_a_power_is_written_from_the_readings_of_its_question(level: int) -> None:
    for problem in many("write-power", level):
        *error, first, second = powers_in(problem.question)
        wheel = int(re.findall(r"wheel reads (\d{3})", problem.question)[0])
        turned = 90 if "the cylinder lines are sharp first" in problem.question else 0
        zero = error[0] if error else 0.0
        axis = (wheel + turned) % 180
        assert read_prescription(problem.text).power == LensPower(
            first - zero, second - first, axis
        )
        assert ("−" in problem.text.split()[1]) == ("in minus cylinder" in problem.question)


@pytest.mark.parametrize("level", LEVELS)
def test_an_eighth_and_its_two_decimals_differ_by_what_is_cut(level: int) -> None:
    for problem in many("eighths", level):
        asked = float(re.findall(r"[+−]\d+\.\d+", problem.question)[0].replace("−", "-"))
        answer = float(problem.text.replace("−", "-"))
        assert asked * answer > 0
        assert abs(abs(asked) - abs(answer)) == pytest.approx(0.005)
        true, written = sorted((abs(asked), abs(answer)), reverse=True)
        assert (8 * true) % 2 == 1
        assert mark(problem, f"{'+' if asked > 0 else '-'}{true + 0.005:.2f}").outcome is WRONG
        assert mark(problem, re.findall(r"[+−]\d+\.\d+", problem.question)[0]).outcome is WRONG
        assert 0 < written < (12 if level == 3 else 3)


DIRECTIONS = {
    ("right", "BU"): 90,
    ("right", "BD"): 270,
    ("right", "BI"): 0,
    ("right", "BO"): 180,
    ("left", "BU"): 90,
    ("left", "BD"): 270,
    ("left", "BI"): 180,
    ("left", "BO"): 0,
}


@pytest.mark.parametrize("level", LEVELS)
def test_a_base_and_its_direction_belong_together(level: int) -> None:
    """Seen facing the wearer, in goes right for a right eye (Source  iso-8429-1986)."""
    for problem in many("prism-base", level):
        text = f"{problem.question.removesuffix('such as BU or BU&I @ 045.')} {problem.text}"
        eye = re.findall("right|left", text)[0]
        words, line = re.findall(r"(B[UDIO](?:&[IO])?)(?: @ (\d{3}))?(?=\.| |$)", text)[-1]
        to_degrees = problem.text.isdigit()
        degrees = int(problem.text if to_degrees else re.findall(r"at (\d+) degrees", text)[0])
        if not line:
            assert DIRECTIONS[eye, words] == degrees
            continue
        assert degrees % 180 == int(line) % 180
        vertical, horizontal = DIRECTIONS[eye, words[:2]], DIRECTIONS[eye, f"B{words[3]}"]
        assert math.cos(math.radians(degrees - vertical)) > 0
        assert math.cos(math.radians(degrees - horizontal)) > 0


@pytest.mark.parametrize("level", LEVELS)
def test_prism_is_centimetres_times_power_with_plus_bases_toward_the_centre(level: int) -> None:
    """Prentice's rule by hand, in the meridian of the way (Source  jalie-2024)."""
    opposite = {"above": "BD", "below": "BU", "in": "BO", "out": "BI"}
    across = {"BD": "BU", "BU": "BD", "BO": "BI", "BI": "BO"}
    for problem in many("prentice", level):
        lens = read_prescription(re.findall(r"lens is (.*?)\. ", problem.question)[0]).power
        way = re.findall("above|below|in|out", problem.question.split(" mm ")[1])[0]
        meridian = 90 if way in {"above", "below"} else 180
        same = lens.axis is None or lens.axis == meridian
        power = lens.sphere if same else lens.sphere + lens.cylinder
        millimetres = int(re.findall(r"(\d+) mm", problem.question)[0])
        amount, base = problem.text.split()
        # A base at the centre of a plus lens, at the edge of a minus one.
        assert base == (opposite[way] if power > 0 else across[opposite[way]])
        assert float(amount) == pytest.approx(abs(power) * millimetres / 10, abs=0.00501)


@pytest.mark.parametrize("level", LEVELS)
def test_a_lens_moved_keeps_its_focus_in_both_meridians(level: int) -> None:
    """The focal length grows by the move (independent-computation)."""
    for problem in many("vertex", level):
        lens = read_prescription(re.findall(r"lens of (.*?) is worn", problem.question)[0]).power
        old, new = (int(each) for each in re.findall(r"(\d+) mm", problem.question))
        text = problem.text if lens.axis is not None else f"{problem.text} DS"
        answer = read_prescription(text).power
        assert answer.axis == lens.axis
        for meridian, moved in zip(
            lens.principal_meridians, answer.principal_meridians, strict=True
        ):
            expected = 1 / (1 / meridian.power + (new - old) / 1000)
            assert moved.power == pytest.approx(expected, abs=0.0151)


@pytest.mark.parametrize("level", LEVELS)
def test_a_decentration_is_half_the_frame_less_the_pd(level: int) -> None:
    for problem in many("decentration", level):
        number = r"(\d+(?:\.\d)?) mm"
        *boxes, pd = re.findall(rf"(?:A|B|DBL|eye is) {number}", problem.question)
        inward = (float(boxes[0]) + float(boxes[-1])) / 2 - float(pd)
        parts = [f"{abs(inward):g} mm {'in' if inward > 0 else 'out'}"]
        if level == 3:
            height = float(re.findall(rf"height is {number}", problem.question)[0])
            up = height - float(boxes[1]) / 2
            parts.append(f"{abs(up):g} mm {'up' if up > 0 else 'down'}")
        assert problem.text == " and ".join(parts)


@pytest.mark.parametrize("level", LEVELS)
def test_axes_that_pass_reach_as_far_as_the_printed_limit(level: int) -> None:
    """Table 3 once more.

    Source  z80-1-2015-quick-reference, uk-trainee-deck-verification
    """
    limits = {
        "ANSI Z80.1-2015": ((0.50, 7), (0.75, 5), (1.50, 3), (9, 2)),
        "ISO 21987:2017": ((0.50, 9), (0.75, 6), (1.50, 4), (2.50, 3), (9, 2)),
    }
    for problem in many("axis-window", level):
        lens = read_prescription(re.findall(r"Ordered: (.*?)\. ", problem.question)[0]).power
        table = next(rows for name, rows in limits.items() if name in problem.question)
        limit = next(each for up_to, each in table if abs(lens.cylinder) <= up_to)
        axis = lens.in_minus_cylinder().axis
        assert axis is not None
        sign = 1 if "the last" in problem.question else -1
        assert (axis + sign * limit - int(problem.text)) % 180 == 0


def test_verdicts_come_inside_and_outside_by_every_row() -> None:
    texts = {problem.text for level in LEVELS for problem in many("verdict", level)}
    assert {"inside", "outside: axis", "outside: cylinder", "outside: meridian power"} <= texts


@pytest.mark.parametrize("level", LEVELS)
def test_a_verdict_by_ansi_agrees_with_the_table_worked_by_hand(level: int) -> None:
    """Below 6.50 D and 4.50 D of cylinder (Source  z80-1-2015-quick-reference)."""
    seen = 0
    for problem in many("verdict", level):
        if "ANSI" not in problem.question:
            continue
        found = re.findall(r": (.*?)\. ", problem.question)[:2]
        ordered, measured = (read_prescription(text).power.in_minus_cylinder() for text in found)
        if abs(ordered.sphere) > 6.5:
            continue
        size = abs(ordered.cylinder)
        rows = [
            ("meridian power", abs(measured.sphere - ordered.sphere) > 0.13),
            ("cylinder", abs(measured.cylinder - ordered.cylinder) > (0.13 if size <= 2 else 0.15)),
        ]
        assert ordered.axis is not None
        assert measured.axis is not None
        limit = next(
            each for up_to, each in ((0.5, 7), (0.75, 5), (1.5, 3), (9, 2)) if size <= up_to
        )
        rows.append(("axis", axis_difference(ordered.axis, measured.axis) > limit))
        outside = [name for name, is_outside in rows if is_outside]
        assert problem.text == (f"outside: {', '.join(outside)}" if outside else "inside")
        seen += 1
    assert seen >= 10


# Levels -------------------------------------------------------------------------------------------

PAIRS = ("count", "cylinder", "write-power", "transposition", "addition")


def pair(problem: Problem) -> tuple[float, float]:
    """The two readings, or the powers of the two meridians."""
    found = problem.given
    if isinstance(taken := found.get("readings"), Readings):
        assert taken.second is not None
        return taken.first, taken.second
    if isinstance(lens := found.get("lens"), LensPower):
        first, second = lens.principal_meridians
        return first.power, second.power
    one, two = (
        found[name] for name in (("first", "second") if "first" in found else ("distance", "near"))
    )
    assert isinstance(one, float)
    assert isinstance(two, float)
    return one, two


def traits(first: float, second: float) -> set[str]:
    """What makes a pair harder, found on the scale itself."""
    low, high = sorted((first, second))
    steps = {above - below for below, above in pairwise(HAND_SCALE.marks(low, high))}
    return {
        name
        for name, holds in {
            "eighth": (8 * first) % 2 == 1 or (8 * second) % 2 == 1,
            "zero": low <= 0 <= high,
            "step": len(steps) > 1,
        }.items()
        if holds
    }


@pytest.mark.parametrize("skill", PAIRS)
def test_level_1_is_quarters_without_a_crossing(skill: str) -> None:
    for problem in many(skill, 1):
        assert traits(*pair(problem)) == set()


@pytest.mark.parametrize("skill", PAIRS)
def test_level_2_has_an_eighth_or_a_crossing_and_all_three_come(skill: str) -> None:
    found = [traits(*pair(problem)) for problem in many(skill, 2)]
    assert all(found)
    assert set().union(*found) == {"eighth", "zero", "step"}


@pytest.mark.parametrize("skill", ["count", "cylinder", "write-power", "transposition"])
def test_travel_toward_plus_comes_at_level_3_only(skill: str) -> None:
    def toward_plus(level: int) -> set[bool]:
        return {second > first for first, second in map(pair, many(skill, level))}

    assert toward_plus(1) == toward_plus(2) == {False}
    assert toward_plus(3) == {True, False}


@pytest.mark.parametrize("skill", ["write-power", "transposition"])
def test_axes_near_180_come_at_level_3_only(skill: str) -> None:
    def near(level: int) -> set[bool]:
        found = set()
        for problem in many(skill, level):
            value = problem.given.get("readings", problem.given.get("lens"))
            axis = value.wheel if isinstance(value, Readings) else getattr(value, "axis", None)
            assert axis is not None
            found.add(axis_difference(axis, 180) <= 10)
        return found

    assert near(1) == near(2) == {False}
    assert near(3) == {True, False}


def test_zero_errors_and_cylinder_lines_first_come_at_level_3_only() -> None:
    def readings(level: int) -> list[Readings]:
        found = [problem.given["readings"] for problem in many("write-power", level)]
        return [taken for taken in found if isinstance(taken, Readings)]

    for level in (1, 2):
        assert {(each.zero_error, each.sharp_first) for each in readings(level)} == {
            (0.0, Lines.SPHERE)
        }
    assert {each.zero_error != 0 for each in readings(3)} == {True, False}
    assert {each.sharp_first for each in readings(3)} == {Lines.SPHERE, Lines.CYLINDER}


def test_a_zero_error_at_level_1_is_in_quarters_and_carries_nothing_across_zero() -> None:
    for problem in many("zero-error", 1):
        error, first = powers_in(problem.question)
        assert (4 * error).is_integer()
        assert first * powers_in(problem.text)[0] > 0


def test_a_count_lands_between_the_marks_at_level_3_only() -> None:
    between = {
        level: any("between" in problem.text for problem in many("count", level))
        for level in LEVELS
    }
    assert between == {1: False, 2: False, 3: True}


# Marking ------------------------------------------------------------------------------------------


def found(skill: str, level: int, text: str) -> Problem:
    """A problem of this skill with this answer."""
    return next(
        problem
        for seed in range(3000)
        for problem in sheet(seed, skill, level, LONGEST_SHEET)
        if problem.text == text
    )


@pytest.mark.parametrize(
    ("skill", "level", "text", "written", "outcome"),
    [
        ("cylinder", 2, "−0.37", "-0,375", RIGHT),
        ("cylinder", 2, "−0.37", "-0.38", WRONG),
        ("cylinder", 2, "−0.37", "+0.37", WRONG),
        ("addition", 1, "+2.00", "+2", RIGHT),
        ("addition", 1, "+2.00", "-2.00", WRONG),
        ("prism-base", 1, "270", "270°", RIGHT),
        ("prism-base", 1, "0", "360", RIGHT),
        ("prism-base", 1, "180", "0", WRONG),
        ("prism-base", 2, "BO", "base out", RIGHT),
        ("prism-base", 2, "BO", "out", RIGHT),
        ("prism-base", 2, "BO", "BI", WRONG),
        ("prism-base", 3, "BU&O @ 040", "bo & bu @ 40", RIGHT),
        ("prism-base", 3, "BU&O @ 040", "BU&O @ 140", WRONG),
        ("prism-base", 3, "BU&O @ 040", "BD&O @ 040", WRONG),
        ("prentice", 1, "2.00 BD", "2.1 base down", RIGHT),
        ("prentice", 1, "2.00 BD", "1.9Δ BD", RIGHT),
        ("prentice", 1, "2.00 BD", "2.11 BD", WRONG),
        ("prentice", 1, "2.00 BD", "2.00 BU", WRONG),
        ("decentration", 1, "3 mm in", "3,1 in", RIGHT),
        ("decentration", 1, "3 mm in", "3.1 in", RIGHT),
        ("decentration", 1, "3 mm in", "3.2 mm in", WRONG),
        ("decentration", 1, "3 mm in", "3 mm out", WRONG),
        ("decentration", 1, "3 mm in", "3 mm in and 1 mm up", WRONG),
        ("decentration", 3, "2 mm in and 2 mm down", "2 in, 2 down", RIGHT),
        ("decentration", 3, "2 mm in and 2 mm down", "2 in 2 up", WRONG),
        ("decentration", 3, "2 mm in and 2 mm down", "2 mm in", WRONG),
        ("verdict", 1, "outside: cylinder, axis", "Outside axis and cylinder", RIGHT),
        ("verdict", 1, "outside: cylinder, axis", "outside: axis", WRONG),
        ("verdict", 1, "outside: cylinder, axis", "inside", WRONG),
        ("verdict", 1, "inside", "outside: axis", WRONG),
        ("axis-turned-round", 3, "180", "0", RIGHT),
        ("axis-turned-round", 3, "180", "179", WRONG),
        ("count", 1, "one whole dioptre and two eighths", "1 whole, 2 eighths", RIGHT),
        ("count", 1, "one whole dioptre and two eighths", "ten eighths", OTHER_FORM),
        ("count", 1, "one whole dioptre and two eighths", "1 whole and one quarter", OTHER_FORM),
        ("count", 1, "one whole dioptre and two eighths", "1 whole and 2 quarters", WRONG),
    ],
)
def test_marks(skill: str, level: int, text: str, written: str, outcome: Outcome) -> None:
    assert mark(found(skill, level, text), written) == (outcome, "")


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("skill", ["transposition", "write-power", "zero-error"])
def test_the_same_lens_in_another_form_is_told_apart(skill: str, level: int) -> None:
    for problem in many(skill, level):
        lens = getattr(problem.answer, "power", None)
        if not isinstance(lens, LensPower):
            continue
        other = lens.transposed()
        assert mark(problem, written(other)).outcome is OTHER_FORM
        along, across = lens.principal_meridians
        crossed = f"{along.power:+} x {across.direction:g} / {across.power:+} x {along.direction:g}"
        assert mark(problem, crossed).outcome is OTHER_FORM
        # Slips of the hand: the axis not turned, the sphere not moved, a sign lost.
        assert lens.axis is not None
        for slip in (
            LensPower(lens.sphere, lens.cylinder, other.axis),
            LensPower(other.sphere, lens.cylinder, lens.axis),
            LensPower(lens.sphere, -lens.cylinder, lens.axis),
            LensPower(lens.sphere, lens.cylinder, lens.axis % 180 + 1),
            LensPower(lens.sphere + 0.125, lens.cylinder, lens.axis),
        ):
            assert mark(problem, written(slip)) == (WRONG, "")
        for more, lacks in (("add +2.00", "addition"), ("1 BU", "prism")):
            outcome, refused = mark(problem, f"{problem.text} {more}")
            assert outcome is WRONG
            assert f"the lens has no {lacks} here" in refused


def written(lens: LensPower) -> str:
    """As typed, with every decimal."""
    return f"{lens.sphere:+} {lens.cylinder:+} x {lens.axis:g}"


def test_a_sphere_has_one_form_and_is_told_apart_from_a_lens_with_cylinder() -> None:
    sphere = LensAnswer(LensPower(-2.00))
    assert sphere.outcome("-2.00 DS") is RIGHT
    assert sphere.outcome("-2.00 -0.50 x 90") is WRONG
    assert LensAnswer(LensPower(-2.00, -0.50, 90)).outcome("-2.00 DS") is WRONG


@pytest.mark.parametrize("level", LEVELS)
def test_a_vertex_answer_is_right_within_a_hundredth(level: int) -> None:
    for problem in many("vertex", level):
        answer: Any = problem.answer
        lens = answer.power if level == 3 else None
        sphere = answer.value if lens is None else lens.sphere
        rest = "" if lens is None else f" {lens.cylinder:+.6f} x {lens.axis:g}"
        for off, outcome in ((0.0099, RIGHT), (-0.0099, RIGHT), (0.0111, WRONG), (-0.0111, WRONG)):
            assert mark(problem, f"{sphere + off:+.6f}{rest}").outcome is outcome


@pytest.mark.parametrize(
    ("skill", "written", "words"),
    [
        ("cylinder", "2.25", "“2.25” has no sign."),
        ("transposition", "-1.00 -0.50", "The cylinder −0.50 has no axis."),
        ("count", "two halves", "“two halves” could not be read. Write the answer such as two"),
        ("count", "and", "“and” could not be read."),
        ("count", "one whole and a bit", "“a bit” in “one whole and a bit” could not be read."),
        ("prism-base", "-90", "“−90” is no number from 0 to 360. Write the answer such as 217."),
        ("prentice", "2.00", "“2.00” has no base. Write the answer such as 2.00 BD."),
        ("decentration", "3", "“3” has a length without its way. Write the answer such as 3.5 mm "),
        ("verdict", "Outside", "“Outside” names no row that is outside. Write the answer such as"),
        ("axis-turned-round", "181", "The axis “181” is not on the scale."),
        ("decentration", "", "Nothing was written. Write the answer such as"),
    ],
)
def test_a_refusal_tells_what_was_read_and_what_can_be(
    skill: str, written: str, words: str
) -> None:
    outcome, refusal = mark(sheet(1, skill, 1, 1)[0], written)
    assert outcome is WRONG
    assert refusal.startswith(words)


EXAMPLES = {
    "count": ("two whole dioptres, two eighths and one quarter.",),
    "prism-base": ("217.", "BU.", "BU&I @ 045."),
    "prentice": ("2.00 BD.",),
    "decentration": ("3.5 mm in, or 3.5 mm in and 2 mm down.",),
    "verdict": (
        "inside, or outside: cylinder, axis (the rows are meridian power, cylinder, axis).",
    ),
}


@pytest.mark.parametrize("skill", EXAMPLES)
def test_an_empty_answer_is_refused_with_an_example_of_what_is_asked(skill: str) -> None:
    said = set()
    for problem in many(skill, 3):
        start, _, example = mark(problem, "").refusal.partition(" Write the answer such as ")
        assert start == "Nothing was written."
        said.add(example)
        if isinstance(problem.answer, BaseAnswer):
            assert ("@" in example) == ("@" in problem.text)
            assert mark(problem, "sideways").refusal.endswith(f"such as {example}")
    assert said == set(EXAMPLES[skill])


COUNT = CountAnswer(HAND_SCALE.count(-0.375, -3.25))  # two whole dioptres, five eighths, a quarter
INSIDE = VerdictAnswer(frozenset())
CYLINDER = VerdictAnswer(frozenset({Quantity.CYLINDER}))
ALL_ROWS = VerdictAnswer(frozenset({Quantity.MERIDIAN_POWER, Quantity.CYLINDER, Quantity.AXIS}))
IN_AND_DOWN = DecentrationAnswer(Decentration(1.5, -0.5))
OBLIQUE = BaseAnswer(HalfCircle(2, (Base.DOWN, Base.OUT), 80))
OUT = BaseAnswer(HalfCircle(2, (Base.OUT,), 180))
UP, DOWN = PrismAnswer(5.23, Base.UP), PrismAnswer(5.23, Base.DOWN)
SPHERE = PowerAnswer(-2.25, part="sphere")
A_CYLINDER = PowerAnswer(-0.25, part="cylinder")
ADDITION = PowerAnswer(3.0, part="addition")

FAIR: list[tuple[Answer, str]] = [
    (PowerAnswer(0.0, part="sphere"), "plano|PL|Plano.|pl DS|0.00|0.00."),
    (SPHERE, "-2.25 DS|-2.25 sph|-2.25 D|-2.25 dioptres|−2,25 diopters.|-2.25."),
    (A_CYLINDER, "-0.25 DC|-0.25 cyl|-.25D|-0.25 Cylinder.|-0.25 diopter|-0.25 dioptres"),
    (ADDITION, "Add +3.00|+3.00 add|3.00|add: 3|3,00 D|addition 3.00|+3.00 DS"),
    (AxisAnswer(8), "8 degrees|8 deg.|008°|axis 8.|8°"),
    (BaseDirectionAnswer(270), "270 deg|270 degrees.|@ 270°|270."),
    (INSIDE, "yes|Yes.|Inside.|yes, inside"),
    (CYLINDER, "no, cylinder|No. Cyl.|outside: cyl|outside; cylinder|no: outside, cylinder"),
    (ALL_ROWS, "outside: meridian power, cylinder, and axis|outside: power, cyl & axis"),
    (COUNT, "2 whole diopters, 5 eighths, 1 quarter|two dioptres, five eighths, and a quarter."),
    (COUNT, "2 D, 5/8 & 1/4|1/4 D; 5/8 D; 2 D|Two whole. Five eighths. One quarter."),
    (IN_AND_DOWN, "0.5 mm down and 1.5 mm in|.5 mm down & 1.5 mm in.|1.5 inwards, .5 downward"),
    (IN_AND_DOWN, "1,5 mm nasal; 0,5 mm down|in 1.5 mm and down 0.5 mm|1.5 millimeters in .5 down"),
    (DecentrationAnswer(Decentration(-3.0)), "3 mm out.|3 mm outwards|3 temporally|out 3"),
    (UP, "base up 5.23|5.23 BU.|5.23 B.U.|5.23 prism dioptres base up|BU 5.23|5.23Δ base-up"),
    (UP, "5.23 prism diopters BU|5.23 p.d. BU|5.23 prism, base u|upwards 5.23"),
    (OBLIQUE, "BD&O @ 080°|BD&O 80|B.D. & B.O. @ 80 deg.|base-down and base-out, 80|O & D @ 80"),
    (OUT, "base-out.|B.O.|o|outward|Base BO"),
]


@pytest.mark.parametrize(
    ("answer", "written"), [(answer, each) for answer, texts in FAIR for each in texts.split("|")]
)
def test_an_answer_is_read_as_a_fair_teacher_reads_it(answer: Answer, written: str) -> None:
    assert answer.outcome(written) is RIGHT


WRONG_STILL: list[tuple[Answer, str]] = [
    (PowerAnswer(0.0, part="sphere"), "-0.25|+0.12"),
    (SPHERE, "plano|+2.25|+2.25 DS|-2.50 D"),
    (A_CYLINDER, "plano|+0.25 DC|-0.50 cyl"),
    (ADDITION, "-3.00|Add -3.00|2.75|+2.75 add|plano"),
    (AxisAnswer(8), "9 degrees|172°|80 deg"),
    (BaseDirectionAnswer(270), "90 deg|27 degrees"),
    (INSIDE, "no, axis|outside: axis"),
    (CYLINDER, "yes|inside.|no, axis|outside: power|outside: cyl, axis"),
    (ALL_ROWS, "outside: cylinder, and axis|no, power"),
    (COUNT, "2 D, 5/8|5/8, 1/4|2 D, 5/4, 1/8|2 D, 1/8, 1/4|one dioptre, 5/8, 1/4"),
    (IN_AND_DOWN, "0.5 mm in and 1.5 mm down|1.5 temporal, .5 down|1.5 in, 0.5 up|1.5 in|.5 down"),
    (UP, "base down 5.23|5.23 B.D.|5.23 B.I.|0.523 BU|5.4 BU"),
    (OBLIQUE, "BU&O @ 80|BD&I @ 80|BD&O @ 100°|BD&O 260|BD 80|BD&BD&O 80|BD&O 80.5"),
    (OUT, "B.I.|inwards|BO & BU|BO & BO"),
]


@pytest.mark.parametrize(
    ("answer", "written"),
    [(answer, each) for answer, texts in WRONG_STILL for each in texts.split("|")],
)
def test_what_is_near_the_answer_and_wrong_is_read_and_wrong(answer: Answer, written: str) -> None:
    assert answer.outcome(written) is WRONG


DS_OR_DC = " is asked for. A sphere is written DS, a cylinder DC."
UNREAD: list[tuple[Answer, str, str]] = [
    (SPHERE, "-2.25 DC", f"“DC” in “−2.25 DC” says cylinder, and no cylinder{DS_OR_DC}"),
    (SPHERE, "-2.25 cyl", f"“CYL” in “−2.25 cyl” says cylinder, and no cylinder{DS_OR_DC}"),
    (A_CYLINDER, "-0.25 DS", f"“DS” in “−0.25 DS” says sphere, and no sphere{DS_OR_DC}"),
    (A_CYLINDER, "-0.25 DC DS", f"“DS” in “−0.25 DC DS” says sphere, and no sphere{DS_OR_DC}"),
    (ADDITION, "+3.00 DC", f"“DC” in “+3.00 DC” says cylinder, and no cylinder{DS_OR_DC}"),
    (SPHERE, "zero", "A power is missing in “zero”: “zero” was read in its place. Write −2.25, "),
    (SPHERE, "2.25", "“2.25” has no sign."),
    (A_CYLINDER, "0.25 DC", "“0.25” has no sign."),
    (A_CYLINDER, "-0.25°", "“−0.25” in “−0.25°” is in degrees; a power is not."),
    (A_CYLINDER, "-0.25 mm", "“mm” in “−0.25 mm” was not expected"),
    (A_CYLINDER, "add -0.25", "A power is missing in “add −0.25”"),
    (ADDITION, "add", "The addition is missing in “add”: the text ends. Write +2.25."),
    (ADDITION, "3.00 mm", "“mm” in “3.00 mm” was not expected"),
    (AxisAnswer(8), "8 mm", "“mm” in “8 mm” was not expected"),
    (AxisAnswer(8), "188 degrees", "The axis “188” is not on the scale."),
    (BaseDirectionAnswer(270), "270 mm", "“270 mm” is no number from 0 to 360."),
    (BaseDirectionAnswer(270), "BD", "“BD” is no number from 0 to 360."),
    (CYLINDER, "no", "“no” names no row that is outside."),
    (CYLINDER, "cylinder", "“cylinder” says neither inside nor outside."),
    (CYLINDER, "No, sphere", "“sphere” in “No, sphere” could not be read."),
    (CYLINDER, "outside: no cylinder", "“no” in “outside: no cylinder” could not be read."),
    (CYLINDER, "not inside: cylinder", "“not inside” in “not inside: cylinder” could not be read."),
    (CYLINDER, "yes, outside: cylinder", "“outside” in “yes, outside: cylinder” could not be read"),
    (CYLINDER, "inside: cylinder", "“inside: cylinder” says inside and names a row."),
    (INSIDE, "no, inside", "“inside” in “no, inside” could not be read."),
    (INSIDE, "foo, inside, bar", "“foo” in “foo, inside, bar” could not be read."),
    (INSIDE, "yes, axis", "“yes, axis” says inside and names a row."),
    (COUNT, "2 5/8 1/4", "“2” in “2 5/8 1/4” could not be read."),
    (COUNT, "2 D, 10/16, 1/4", "“10/16” in “2 D, 10/16, 1/4” could not be read."),
    (COUNT, "-2 D, 5/8, 1/4", "“−” in “−2 D, 5/8, 1/4” could not be read."),
    (COUNT, "2 mm, 5/8, 1/4", "“2 mm” in “2 mm, 5/8, 1/4” could not be read."),
    (COUNT, "2 ds, 5/8, 1/4", "“2 ds” in “2 ds, 5/8, 1/4” could not be read."),
    (COUNT, "12.5 whole", "“12.5 whole” could not be read."),
    (IN_AND_DOWN, "1.5 cm in, 0.5 down", "“cm in” in “1.5 cm in, 0.5 down” could not be read."),
    (IN_AND_DOWN, "1.5 inches", "“inches” in “1.5 inches” could not be read."),
    (IN_AND_DOWN, "-1.5 in, .5 down", "“−” in “−1.5 in, .5 down” could not be read."),
    (IN_AND_DOWN, "1.5, .5 down", "“1.5, .5 down” has a length without its way."),
    (IN_AND_DOWN, "in", "“in” could not be read."),
    (IN_AND_DOWN, "1.5 in, 2 out", "“1.5 in, 2 out” has two lengths in or out."),
    (IN_AND_DOWN, ".5 down 1 up", "“.5 down 1 up” has two lengths up or down."),
    (UP, "BU", "“BU” has no amount."),
    (UP, "5.23 mm BU", "“mm” in “5.23 mm BU” could not be read."),
    (UP, "-5.23 BU", "“−” in “−5.23 BU” could not be read."),
    (UP, "5.23° BU", "“°” in “5.23° BU” could not be read."),
    (UP, "5.23 BU BI", "“5.23 BU BI” has a second amount or base."),
    (UP, "5.23 BU 1", "“5.23 BU 1” has a second amount or base."),
    (DOWN, "5.23 D", "“d” in “5.23 D” could not be read."),
    (DOWN, "D 5.23", "“d” in “D 5.23” could not be read."),
    (DOWN, "5.23 D BD", "“d” in “5.23 D BD” could not be read."),
    (OBLIQUE, "BD&O", "“BD&O” has no line."),
    (OBLIQUE, "@ 80", "“@ 80” has no base."),
    (OBLIQUE, "BDO @ 80", "“bdo” in “BDO @ 80” could not be read."),
    (OBLIQUE, "BD&O @ -80", "“@ −” in “BD&O @ −80” could not be read."),
    (OBLIQUE, "2 BD&O @ 80", "“2 BD&O @ 80” has a number too many."),
    (OUT, "BO @ 180", "“BO @ 180” has a number too many."),
    (OUT, "base", "“base” could not be read."),
    (OUT, ".", "“.” could not be read."),
]


@pytest.mark.parametrize(("answer", "written", "says"), UNREAD)
def test_a_refusal_says_what_was_wrong_with_the_answer(
    answer: Answer, written: str, says: str
) -> None:
    with pytest.raises(LensError) as refused:
        answer.outcome(written)
    assert str(refused.value).startswith(says)
    assert "None" not in str(refused.value)


def test_every_problem_of_one_power_says_which_power_it_asks() -> None:
    asked = {
        (skill, problem.answer.part)
        for skill in SKILLS
        for problem in sheet(1, skill, 1, 5)
        if isinstance(problem.answer, PowerAnswer)
    }
    assert asked == {
        ("cylinder", "cylinder"),
        ("zero-error", "sphere"),
        ("addition", "addition"),
        ("vertex", "sphere"),
        ("eighths", None),
    }


def test_a_direction_beyond_the_circle_is_refused() -> None:
    assert "from 0 to 360" in mark(sheet(1, "prism-base", 1, 1)[0], "361").refusal


def test_what_is_given_is_the_value_itself() -> None:
    problem = sheet(1, "verdict", 1, 1)[0]
    assert problem.given["standard"] is find_standard("ansi-z80-1-2015")


GIVEN = {
    "count": ["first second"],
    "cylinder": ["first second"],
    "write-power": ["readings form"],
    "zero-error": ["readings"],
    "addition": ["distance near zero_error"],
    "axis-turned-round": ["axis"],
    "transposition": ["lens"],
    "eighths": ["value", "written"],
    "verdict": ["ordered measured standard"],
    "axis-window": ["ordered standard end"],
    "prism-base": ["amount eye base"],
    "prentice": ["lens eye distance way"],
    "vertex": ["lens old_distance new_distance"],
    "decentration": ["frame eye pd", "frame eye pd height"],
}
WAYS = {Base.UP: "above", Base.DOWN: "below", Base.IN: "in from", Base.OUT: "out from"}


def as_asked(value: object) -> set[str]:
    """How a value may stand in a question."""
    if isinstance(value, float):
        numbers = {write_power(value), write_exact(value), write_length(value)}
        return numbers | {write_axis(value) if value else "0", f"{value:.0f}", f"{value:.2f}"}
    words = {
        LensPower: write_lens,
        Readings: lambda readings: f"at {write_power(readings.first)} D",
        Frame: lambda frame: f"A {frame.a:.0f} mm",
        Standard: lambda standard: standard.designation,
        HalfCircle: lambda base: base.letters,
        Base: WAYS.get,
        Eye: lambda eye: eye.value,
        str: str,
    }
    return {words[type(value)](value)}


@every_place
def test_what_is_given_has_its_name_and_stands_in_the_question(skill: str, level: int) -> None:
    for problem in many(skill, level):
        assert " ".join(problem.given) in GIVEN[skill]
        assert (problem.skill, problem.level) == (skill, level)
        for name, value in problem.given.items():
            if (name, value) != ("zero_error", 0):
                assert any(words in problem.question for words in as_asked(value)), (name, value)


def test_a_frame_has_its_depth_and_a_base_its_amount_where_they_are_asked() -> None:
    for level in LEVELS:
        for problem in many("decentration", level):
            frame = problem.given["frame"]
            assert isinstance(frame, Frame)
            assert (frame.b is not None) == ("height" in problem.given) == (level == 3)
        for problem in many("prism-base", level):
            base = problem.given["base"]
            if isinstance(base, HalfCircle):
                assert base.amount == problem.given["amount"]


def test_the_least_prism_that_is_read_by_hand_is_asked() -> None:
    asked = [problem.text for seed in range(40) for problem in sheet(seed, "prentice", 2, 20)]
    assert min(float(text.split()[0]) for text in asked) == 0.25


def test_a_zero_error_may_carry_a_sphere_across_zero_from_level_2_on() -> None:
    def across(level: int) -> bool:
        problems = [p for seed in range(30) for p in sheet(seed, "zero-error", level, 20)]
        readings = [problem.given["readings"] for problem in problems]
        return any(r.first * r.corrected[0] <= 0 for r in readings if isinstance(r, Readings))

    assert [across(level) for level in LEVELS] == [False, True, True]


# Answers on their own -----------------------------------------------------------------------------


def test_two_decimals_are_a_cut_eighth_or_the_digits_as_was_asked() -> None:
    # 3.11 lies within 0.01 of 3.12, not of 3.125; 3.125 to two decimals is 3.13.
    literal = LensAnswer(LensPower(-3.11, -1.00, 90), Decimals.LITERAL, POWER_ROUNDING)
    assert literal.outcome("-3.12 -1.00 x 90") is RIGHT
    eighth = LensPower(-3.125, -1.00, 90)
    assert LensAnswer(eighth).text == "−3.12 −1.00 × 090"
    assert LensAnswer(eighth, Decimals.LITERAL, POWER_ROUNDING).text == "−3.13 −1.00 × 090"
    assert PowerAnswer(-0.375).outcome("-0.37") is RIGHT
    assert PowerAnswer(-0.375, Decimals.LITERAL).outcome("-0.37") is WRONG


def test_a_count_may_be_written_in_other_steps() -> None:
    # From -0.80: two whole dioptres, 0.075 and an eighth to -3.00, a quarter, and 0.05.
    answer = CountAnswer(HAND_SCALE.count(-0.80, -3.30))
    assert answer.text.endswith("one eighth, one quarter and 0.125 D read between the marks")
    assert answer.outcome(answer.text) is RIGHT
    assert answer.outcome("two whole, two eighths and one quarter") is OTHER_FORM
    assert answer.outcome("two whole, one eighth and one quarter") is WRONG
    assert answer.outcome("one whole, one whole, one eighth, one quarter, .125 D") is RIGHT


def test_a_decentration_is_right_on_its_side_only() -> None:
    answer = DecentrationAnswer(Decentration(-2.0, 3.0))
    assert answer.outcome("2 mm out and 3 mm up") is RIGHT
    for wrong in ("1 mm out and 3 mm up", "2 mm out and 1.5 mm up", "2 mm in and 3 mm up"):
        assert answer.outcome(wrong) is WRONG


def test_an_answer_is_read_up_to_200_characters() -> None:
    assert plain("1" * 200, "2 mm") == "1" * 200
    for bad, said in (("1" * 201, "“" + "1" * 60 + "” could not"), (" ", "Nothing was written")):
        with pytest.raises(LensError, match=rf"^{said}.*such as 2 mm\.$"):
            plain(bad, "2 mm")


@pytest.mark.parametrize("dash", ["-", "\N{MINUS SIGN}", "\N{EN DASH}", "\N{NON-BREAKING HYPHEN}"])
def test_any_dash_is_a_minus_and_a_decimal_comma_is_a_point(dash: str) -> None:
    assert plain(f" {dash}3,5  MM ", "2 mm") == "-3.5 mm"
