"""Drills: seeded problems for every skill of reading lenses by hand, with answers and marking.

`sheet(seed, skill, level, count)` gives the same problems on every machine and every Python: each
choice is an integer from `SplitMix64`, and powers are built from marks of the scale. The answers
come from the functions that the calculators use; no rule stands here a second time.

>>> problem, = sheet(seed=7, skill="cylinder", level=1, count=1)
>>> print(problem.question)
The first reading is +5.75 D and the second is +4.00 D. What is the cylinder?
>>> problem.text
'−1.75'
>>> mark(problem, "-1,75").outcome
<Outcome.RIGHT: 'right'>
"""

from __future__ import annotations

from lensmath.drills.answers import Outcome
from lensmath.drills.generator import SplitMix64
from lensmath.drills.problem import Mark, Problem, Skill, Value, mark
from lensmath.drills.sheets import LONGEST_SHEET, SKILLS, find_skill, sheet

__all__ = [
    "LONGEST_SHEET",
    "SKILLS",
    "Mark",
    "Outcome",
    "Problem",
    "Skill",
    "SplitMix64",
    "Value",
    "find_skill",
    "mark",
    "sheet",
]
