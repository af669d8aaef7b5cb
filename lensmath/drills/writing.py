"""Problems at the desk: transposing, and eighths written with two decimals."""

from __future__ import annotations

from lensmath.drills import choices
from lensmath.drills.answers import LensAnswer, PowerAnswer
from lensmath.drills.generator import SplitMix64
from lensmath.drills.problem import Asked, Skill
from lensmath.notation import (
    Decimals,
    read_power,
    write_exact,
    write_lens,
    write_power,
)


def _transposition(draws: SplitMix64, level: int) -> Asked:
    lens = choices.lens(draws, level)
    form = "plus" if lens.cylinder < 0 else "minus"
    question = f"Write {write_lens(lens)} in {form} cylinder."
    return Asked(question, {"lens": lens}, LensAnswer(lens.transposed()))


def _eighths(draws: SplitMix64, level: int) -> Asked:
    # Eighths that are no quarters, so that there is a digit to cut.
    whole_and_eighths = 8 * draws.between(0, (2, 2, 11)[level - 1]) + draws.one_of((1, 3, 5, 7))
    value = draws.one_of((-1, 1)) * whole_and_eighths / 8
    written = write_power(value)
    if level == 1 or draws.between(0, 1):
        question = f"A power is {write_exact(value)} D. How is it written with two decimals?"
        digits = read_power(written, Decimals.LITERAL)
        return Asked(question, {"value": value}, PowerAnswer(digits, Decimals.LITERAL))
    question = (
        f"A power read in eighths is written {written}. Which power is that, to three decimals?"
    )
    return Asked(question, {"written": written}, PowerAnswer(value, Decimals.LITERAL))


SKILLS = (
    Skill(
        "transposition",
        "Write the lens in its other form",
        (
            "Minus to plus; quarters, both meridians on one side of zero and of 3 D.",
            "Minus to plus; with an eighth, or the meridians either side of zero or of 3 D.",
            "Either way; everything, axes near 180.",
        ),
        _transposition,
    ),
    Skill(
        "eighths",
        "Eighths and their two decimals",
        (
            "From the true eighth, below 3 D, to the two decimals.",
            "Either way, below 3 D.",
            "Either way, up to 12 D.",
        ),
        _eighths,
    ),
)
