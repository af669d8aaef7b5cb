"""A problem, its marking, and the skill that makes it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import NamedTuple

from lensmath.centration import Decentration, Frame
from lensmath.drills.answers import Answer, Outcome
from lensmath.drills.generator import SplitMix64
from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.power import LensPower
from lensmath.prism import Base, HalfCircle
from lensmath.readings import Readings
from lensmath.tolerances.model import Standard

Value = (
    float | str | LensPower | Readings | Eye | Base | HalfCircle | Decentration | Frame | Standard
)
"""What a problem may give: dioptres, mm and degrees as floats, and the values of the package."""


class Asked(NamedTuple):
    """What a skill asks: the question in words, the values in it, and the right answer."""

    question: str
    given: Mapping[str, Value]
    answer: Answer


@dataclass(frozen=True)
class Skill:
    """A skill that can be drilled.

    Shape   `levels` says in a sentence what each of the levels 1, 2 and 3 asks. `make` draws one
            problem.
    """

    key: str
    title: str
    levels: tuple[str, str, str]
    make: Callable[[SplitMix64, int], Asked]


@dataclass(frozen=True)
class Problem:
    """A problem of a sheet.

    Units   Powers in dioptres, lengths in mm, angles in degrees; readings as the drum shows them.
    Shape   `given` holds the values of the question by name and cannot be changed.
    """

    skill: str
    level: int
    question: str
    given: Mapping[str, Value] = field(hash=False)
    answer: Answer

    def __post_init__(self) -> None:
        object.__setattr__(self, "given", MappingProxyType(dict(self.given)))

    @property
    def text(self) -> str:
        """The right answer as a person writes it."""
        return self.answer.text


class Mark(NamedTuple):
    """How an answer is marked; `refusal` says why it could not be read, and is empty if it was."""

    outcome: Outcome
    refusal: str = ""


def mark(problem: Problem, written: str) -> Mark:
    """The mark for what a person wrote; what cannot be read is wrong, and the refusal says why.

    Reading drills are exact. A computed answer is right within 0.01 D, 0.1 prism dioptre or 0.1 mm.
    """
    try:
        return Mark(problem.answer.outcome(written))
    except LensError as refusal:
        return Mark(Outcome.WRONG, str(refusal))
