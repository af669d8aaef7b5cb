"""Drills: a problem by its number, asked and marked."""

from __future__ import annotations

from collections.abc import Iterator

from lensmath.drills import SKILLS, Outcome, Problem, Skill, mark, sheet
from lensmath.notation import read_prescription
from lensmath.readings import Form, Readings
from lensmath.scale import HAND_SCALE
from lensmath.slips import Explanation, Situation, Verdict, explain
from lensmath.tolerances.model import Standard
from site_src.calculators import readings, slip_words
from site_src.calculators.answer import Answer, Datum, Line, Onward, rounded_eighths, say, word
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import Choice, ChoiceField, FieldError, NumberField, TextField
from site_src.figures.number_line import FIRST_SECOND, counted_travel
from site_src.figures.svg import Figure

SLUG = "drill"
LAST = 9999
"""The last number of a problem; 1 follows it."""

_SAID = {
    Outcome.RIGHT: "Right",
    Outcome.OTHER_FORM: "Right, but in another form than asked",
    Outcome.WRONG: "Not right",
}
_FORMS = {"minus": Form.MINUS, "plus": Form.PLUS}
_TRAVELS = (FIRST_SECOND, ("distance", "near"))
"""The two readings that a problem may give by these names."""


def solve(skill: Skill, level: int, number: float, show: bool, answer: str | None) -> Answer:
    """The question; with an answer its mark, and the right answer to whoever has it or asks."""
    problem = _problem(skill, level, number)
    taken = _taken(problem)
    outcome = None if answer is None else _marked(problem, answer)
    known = show or outcome is Outcome.RIGHT
    slips = _slips(problem, answer) if answer and outcome is Outcome.WRONG else ()
    return Answer(
        headline=_headline(problem, outcome),
        also=(
            *((say("The answer: {answer}", answer=word(problem.text, "answer")),) if known else ()),
            *slips,
            *(_rounded(problem, answer) if answer and outcome is Outcome.WRONG else ()),
            say(f"Level {level}: {skill.levels[level - 1]}"),
        ),
        onward=tuple(_onward(skill, level, int(number), answer, known)),
        steps=readings.steps(taken) if known and taken else (),
        figures=tuple(_figures(problem)) if known else (),
        sources=_sources(problem),
    )


def _rounded(problem: Problem, answer: str) -> tuple[Line, ...]:
    """Only where an eighth is asked for: a prism or a length may well be 0.63."""
    has_eighth = any(cut in problem.text for cut in (".12", ".37", ".62", ".87"))
    return rounded_eighths(answer) if has_eighth else ()


def _problem(skill: Skill, level: int, number: float) -> Problem:
    (problem,) = sheet(int(number), skill.key, level, 1)
    return problem


def _sources(problem: Problem) -> tuple[str, ...]:
    standard = problem.given.get("standard")
    return (standard.key,) if isinstance(standard, Standard) else ("common-practice",)


def _marked(problem: Problem, answer: str) -> Outcome:
    outcome, refusal = mark(problem, answer)
    if refusal:
        raise FieldError("answer", refusal)
    return outcome


def _headline(problem: Problem, outcome: Outcome | None) -> Line:
    question = word(problem.question, "question")
    if outcome is None:
        return (question,)
    mark_given = Datum("outcome", outcome.value, _SAID[outcome])
    return say("{outcome}. {question}", outcome=mark_given, question=question)


def _onward(
    skill: Skill, level: int, number: int, answer: str | None, known: bool
) -> Iterator[Onward]:
    after = number % LAST + 1
    entries = {"skill": skill.key, "level": f"{level}"}
    yield Onward(f"Next problem: number {after}", SLUG, {**entries, "number": f"{after}"}, "answer")
    if not known:
        given = {"answer": answer} if answer else {}
        shown = {**entries, "number": f"{number}", "show": "yes", **given}
        yield Onward("Show the answer", SLUG, shown, "answer")


# What is said of a wrong power --------------------------------------------------------------------


def _taken(problem: Problem) -> Readings | None:
    """The readings, where the problem is to write the lens that was read."""
    taken = problem.given.get("readings")
    return taken if isinstance(taken, Readings) else None


def _slips(problem: Problem, answer: str) -> tuple[Line, ...]:
    """The slips that give the power that was written."""
    taken = _taken(problem)
    if taken is None:
        return ()
    form = _FORMS.get(str(problem.given.get("form")))
    written = read_prescription(answer)  # which reads the power of a sphere too
    found = explain(Situation(taken), written.power, form=form)
    near = ((*slip_words.axis_off(found), "."),) if found.verdict is Verdict.AXIS_OFF else ()
    why = "Or" if near else slip_words.verdict(found).shown
    said = [_slip(why, number, each) for number, each in enumerate(found.explanations, 1)]
    return (*near, *said, *slip_words.worth(found))


def _slip(why: str, number: int, explanation: Explanation) -> Line:
    named = word(slip_words.names(explanation), f"slip.{number}")
    return say(f"{why}: {{named}}. {slip_words.sentences(explanation)}", named=named)


# What is shown with the answer --------------------------------------------------------------------


def _figures(problem: Problem) -> Iterator[Figure]:
    taken = _taken(problem)
    if taken is not None:
        yield counted_travel(SLUG, HAND_SCALE, readings.counted(taken))
    for names in _TRAVELS:
        first, second = (problem.given.get(name) for name in names)
        if isinstance(first, float) and isinstance(second, float):
            yield counted_travel(SLUG, HAND_SCALE, HAND_SCALE.count(first, second), names)


CALCULATOR = Calculator(
    slug=SLUG,
    title="Drill",
    purpose="Choose a skill, a level and a number; answer the problem and have it marked.",
    fields=(
        ChoiceField(
            "skill",
            "Skill",
            "in the order in which they are learnt",
            choices=tuple(Choice(skill.key, skill.title, skill) for skill in SKILLS.values()),
        ),
        ChoiceField(
            "level",
            "Level",
            "what it asks stands below the problem",
            choices=(
                Choice("1", "1, to begin with", 1),
                Choice("2", "2, as on most days", 2),
                Choice("3", "3, everything", 3),
            ),
        ),
        NumberField(
            "number",
            "Problem number",
            f"any whole number from 1 to {LAST}; the same number is always the same problem",
            low=1,
            high=LAST,
            whole=True,
        ),
        ChoiceField(
            "show",
            "The right answer",
            "it also comes once yours is right",
            choices=(Choice("no", "keep it back", False), Choice("yes", "show it", True)),
        ),
        TextField("answer", "Your answer", "marked when you press Enter", optional=True),
    ),
    solve=solve,
    examples=(
        Example(
            given={"skill": "write-power", "level": "1", "number": "7"},
            prints={
                "question": (
                    "With a lens the sphere lines are sharp first, at −7.00 D, then the "
                    "cylinder lines at −8.00 D. The wheel reads 090. Write the power in minus"
                    " cylinder."
                )
            },
            note="An invented lens.",
        ),
        Example(
            given={
                "skill": "write-power",
                "level": "1",
                "number": "4888",
                "answer": "-1.00 +2.00 x 180",
            },
            prints={"outcome": "Not right", "slip.1": "sphere kept"},
            source="study-page-optics-traps",
            note="The readings are those of the lens that is printed there with this trap.",
        ),
        Example(
            given={"skill": "axis-turned-round", "level": "1", "number": "23", "answer": "120"},
            prints={"outcome": "Right", "answer": "120"},
            source="optometry-cards-lens-power",
        ),
    ),
)
