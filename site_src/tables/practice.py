"""The practice sheets: problems drawn from seeds, the same in every build, and their answers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from lensmath.drills import SKILLS, Problem, sheet
from lensmath.drills.answers import LensAnswer
from lensmath.notation import write_lens
from lensmath.slips import CATALOGUE
from site_src.calculators.answer import Table

_OPEN_FORM = "in the form that the readings give"


class Part(NamedTuple):
    """So many problems of one skill at a level of 1 to 3."""

    skill: str
    level: int
    number: int


@dataclass(frozen=True)
class Sheet:
    """One printed side of problems; they come from its seed, so it can be made again."""

    title: str
    seed: int
    parts: tuple[Part, ...]

    @property
    def problems(self) -> tuple[Problem, ...]:
        """The problems in the order of the sheet."""
        return tuple(problem for part in self.parts for problem in sheet(self.seed, *part))


def key_text(problem: Problem) -> str:
    """The answer as the key prints it: in both forms where the question leaves the form open."""
    if _OPEN_FORM in problem.question and isinstance(problem.answer, LensAnswer):
        return f"{problem.text}, or {write_lens(problem.answer.power.transposed())}"
    return problem.text


def skills() -> Table:
    """Every skill, and what each of its levels asks."""
    rows = tuple(
        ((skill.title,), *((level,) for level in skill.levels)) for skill in SKILLS.values()
    )
    return Table("What is drilled", ("Skill", "Level 1", "Level 2", "Level 3"), rows)


def slips() -> Table:
    """Every slip of the list, in the order of the work."""
    rows = tuple(
        ((slip.name.capitalize(),), (slip.stage.value.capitalize(),), (slip.sentence,))
        for slip in CATALOGUE
    )
    return Table("The slips", ("Slip", "While", "What went wrong"), rows)


SHEETS: Mapping[str, Sheet] = {
    "first-readings": Sheet(
        "First readings",
        11,
        (
            Part("count", 1, 3),
            Part("zero-error", 1, 2),
            Part("cylinder", 1, 4),
            Part("write-power", 1, 4),
        ),
    ),
    "eighths-and-zero": Sheet(
        "Across zero, with eighths",
        12,
        (
            Part("eighths", 2, 3),
            Part("count", 2, 3),
            Part("cylinder", 2, 3),
            Part("write-power", 2, 4),
        ),
    ),
    "at-the-desk": Sheet(
        "At the desk",
        13,
        (
            Part("transposition", 1, 3),
            Part("transposition", 2, 4),
            Part("axis-turned-round", 2, 3),
            Part("addition", 2, 4),
        ),
    ),
    "prism-and-place": Sheet(
        "Prism and place",
        24,
        (
            Part("prism-base", 2, 4),
            Part("prentice", 2, 4),
            Part("decentration", 1, 3),
            Part("vertex", 1, 2),
        ),
    ),
    "everything": Sheet(
        "Everything",
        50,
        (
            Part("write-power", 3, 4),
            Part("zero-error", 3, 1),
            Part("transposition", 3, 2),
            Part("addition", 3, 1),
            Part("prentice", 3, 2),
            Part("verdict", 2, 2),
        ),
    ),
}
"""The sheets by their names, from the first day to the last."""
