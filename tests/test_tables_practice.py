"""The practice sheets: the same problems in every build, each with an answer that marks right."""

from __future__ import annotations

import pytest

from lensmath.drills import SKILLS, Outcome, Problem, mark, sheet
from site_src.tables.practice import SHEETS, Sheet, key_text

EACH_SHEET = pytest.mark.parametrize("printed", SHEETS.values(), ids=list(SHEETS))
PROBLEMS = [problem for printed in SHEETS.values() for problem in printed.problems]


@EACH_SHEET
def test_a_sheet_fills_one_side(printed: Sheet) -> None:
    """With a line to write on for each problem: tried out on A4 and on Letter."""
    assert 12 <= len(printed.problems) <= 14
    assert sum(len(problem.question) for problem in printed.problems) < 2000


@EACH_SHEET
def test_a_sheet_comes_from_its_seed(printed: Sheet) -> None:
    """Part by part, as a person makes it again who has the seed."""
    again = [
        problem.question
        for part in printed.parts
        for problem in sheet(printed.seed, part.skill, part.level, part.number)
    ]
    assert [problem.question for problem in printed.problems] == again


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.question[:40])
def test_the_key_is_right(problem: Problem) -> None:
    """By the marking of the drills, which reads the answer as a person writes it."""
    assert mark(problem, problem.text).outcome is Outcome.RIGHT


def test_where_the_form_is_open_the_key_has_both() -> None:
    """And nowhere else: the one such problem is of a zero error with a cylinder."""
    both = [problem for problem in PROBLEMS if ", or " in key_text(problem)]
    assert [problem.skill for problem in both] == ["zero-error"]
    assert key_text(both[0]) == "+2.12 −1.12 × 094, or +1.00 +1.12 × 004"
    assert "form that the readings give" in both[0].question


def test_the_first_problems_need_no_cylinder() -> None:
    """What the first days set: numbers 1 to 5 of sheet 1, and 1 to 6 of sheet 2."""
    for name, last in (("first-readings", 5), ("eighths-and-zero", 6)):
        for number, problem in enumerate(SHEETS[name].problems, 1):
            cylinder = problem.skill in ("cylinder", "write-power")
            assert cylinder == (number > last)


def test_no_problem_is_asked_twice() -> None:
    """On whichever sheet."""
    questions = [problem.question for problem in PROBLEMS]
    assert len(set(questions)) == len(questions)


def test_seeds_and_titles_are_each_their_own() -> None:
    """A seed stands for one sheet."""
    assert len({printed.seed for printed in SHEETS.values()}) == len(SHEETS)
    assert len({printed.title for printed in SHEETS.values()}) == len(SHEETS)


def test_nearly_every_skill_is_on_a_sheet() -> None:
    """Only the axis window is not: it needs the table of one standard for every problem."""
    asked = {problem.skill for problem in PROBLEMS}
    assert set(SKILLS) - asked == {"axis-window"}


def test_bases_and_verdicts_differ() -> None:
    """So that the answer cannot be guessed from the one before."""
    for skill, least in (("prism-base", 4), ("verdict", 2)):
        answers = {problem.text for problem in PROBLEMS if problem.skill == skill}
        assert len(answers) >= least


def test_the_first_sheet_is_the_one_that_was_worked_by_hand() -> None:
    """Worked out from the questions, one by one."""
    by_hand = [
        "three quarters",
        "one whole dioptre and two eighths",
        "four eighths",
        "+5.00",
        "−7.00",
        "−0.75",
        "−0.75",
        "−0.50",
        "−0.25",
        "+7.50 −3.25 × 095",
        "+7.25 −4.00 × 055",
        "−6.25 −0.50 × 015",
        "+4.75 −0.25 × 130",
    ]
    assert [problem.text for problem in SHEETS["first-readings"].problems] == by_hand
