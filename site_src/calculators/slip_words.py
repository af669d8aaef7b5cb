"""What is said of a wrong power, the same wherever one is marked."""

from __future__ import annotations

from collections.abc import Mapping

from lensmath.slips import Explanation, Finding, Verdict
from site_src.calculators.answer import Datum, Line, amount, degrees, say


def names(explanation: Explanation) -> str:
    """The names of its slips, in the order of the work: one, or one and then another."""
    return ", and then ".join(slip.name for slip in explanation.slips)


def sentences(explanation: Explanation) -> str:
    """What went wrong, a sentence for each slip."""
    return " ".join(slip.sentence for slip in explanation.slips)


def verdict(found: Finding, alone: str = "Explained by") -> Datum:
    """That one slip gives the power, in the words of `alone`, or that it takes two together."""
    shown = "Two slips together would give it" if _are_together(found) else alone
    return Datum("verdict", found.verdict.value, shown)


def axis_off(found: Finding) -> Line:
    """That an axis a little off is all that is wrong."""
    right = Datum("verdict", found.verdict.value, "Sphere and cylinder are right")
    return say("{right}, the axis is {off}° off", right=right, off=degrees(found.axis_off, "off"))


def worth(found: Finding) -> tuple[Line, ...]:
    """What the explanations are worth."""
    if found.verdict is Verdict.AXIS_OFF or not found.explanations:
        return ()
    told = []
    if _are_together(found):
        told.append(
            say(
                "No single slip of the list gives this power. Two together would, but a mistake "
                "that is not in the list may be likelier: ask the person who read the lens."
            )
        )
    if len(found.explanations) > 1:
        told.append(
            say(
                "{ways} explanations fit equally well. The numbers cannot tell which it was; "
                "the person who read the lens can.",
                ways=amount(len(found.explanations), "ways", 0),
            )
        )
    return tuple(told)


def agreement(parts: Mapping[str, bool]) -> str:
    """Which parts are right and which are not, one of these at least."""
    right, wrong = ([part for part in parts if parts[part] is sort] for sort in (True, False))
    if not right:
        return "No part of it is right."
    told = f"{_listed(right)} {'are' if len(right) > 1 else 'is'} right, {_listed(wrong)} not."
    return told[0].upper() + told[1:]


def _are_together(found: Finding) -> bool:
    """Whether it takes more than one slip."""
    return any(len(explanation.slips) > 1 for explanation in found.explanations)


def _listed(parts: list[str]) -> str:
    return " and ".join(f"the {part}" for part in parts)
