"""How an explanation by slips is said: in a few words, and in sentences."""

from __future__ import annotations

from lensmath.slips import Explanation


def names(explanation: Explanation) -> str:
    """The names of its slips, in the order of the work: one, or one and then another."""
    return ", and then ".join(slip.name for slip in explanation.slips)


def sentences(explanation: Explanation) -> str:
    """What went wrong, a sentence for each slip."""
    return " ".join(slip.sentence for slip in explanation.slips)
