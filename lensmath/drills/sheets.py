"""The skills, and sheets of problems."""

from __future__ import annotations

from collections.abc import Mapping

from lensmath.drills import checking, fitting, reading, writing
from lensmath.drills.generator import seeded
from lensmath.drills.problem import Problem, Skill
from lensmath.errors import LensError

LONGEST_SHEET = 20
_SEEDS = 2**64

SKILLS: Mapping[str, Skill] = {
    skill.key: skill
    for skill in (*reading.SKILLS, *writing.SKILLS, *checking.SKILLS, *fitting.SKILLS)
}
"""Every skill by its key, in the order in which they are learnt."""


def find_skill(key: str) -> Skill:
    """The skill with this key.

    Errors  LensError for a key that is not known; it lists those that are.
    """
    if key not in SKILLS:
        raise LensError(f"No skill “{key}” is drilled; choose one of {', '.join(SKILLS)}.")
    return SKILLS[key]


def sheet(seed: int, skill: str, level: int, count: int) -> tuple[Problem, ...]:
    """So many problems, no two alike; a longer sheet of the same seed begins with the shorter.

    Errors  LensError for a skill that is not known, a level other than 1, 2 or 3, a seed below 0 or
            from 2**64 on, and a count outside 1-20.

    >>> [problem.text for problem in sheet(seed=1, skill="transposition", level=1, count=2)]
    ['+3.25 +0.50 × 045', '−1.75 +1.25 × 050']
    """
    maker = find_skill(skill)
    _check("The level", level, 1, 3)
    _check("The number of problems", count, 1, LONGEST_SHEET)
    _check("The seed", seed, 0, _SEEDS - 1)
    draws = seeded(seed, f"{skill} {level}")
    problems: dict[str, Problem] = {}
    while len(problems) < count:
        asked = maker.make(draws, level)
        problems.setdefault(asked.question, Problem(skill, level, *asked))
    return tuple(problems.values())


def _check(what: str, value: int, low: int, high: int) -> None:
    if not low <= value <= high:
        shown = str(value).replace("-", "\N{MINUS SIGN}")
        raise LensError(f"{what} is a whole number from {low} to {high}; {shown} was given.")
