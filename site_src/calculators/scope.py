"""What a lens is judged as: its type, and a standard with the state that it is applied to."""

from __future__ import annotations

from typing import NamedTuple

from lensmath.comparison import checked_scope
from lensmath.tolerances import STANDARDS
from lensmath.tolerances.model import LensState, LensType, Standard
from site_src.calculators.fields import Choice, ChoiceField, on_field


class Scope(NamedTuple):
    """A standard, and lenses that are mounted or uncut."""

    standard: Standard
    state: LensState

    def checked(self, lens_type: LensType) -> Standard:
        """The standard, when it has tables for such lenses; a refusal is put down to its field."""
        with on_field(STANDARD.name):
            return checked_scope(self.standard, self.state, lens_type)


LENS_TYPE = ChoiceField(
    "lens_type",
    "Lens type",
    "each type has its own tables",
    choices=(
        Choice("single-vision", "single vision", LensType.SINGLE_VISION),
        Choice("segment", "with a segment (bifocal, trifocal)", LensType.MULTIFOCAL),
        Choice("progressive", "progressive", LensType.PROGRESSIVE),
    ),
)

STANDARD = ChoiceField(
    "standard",
    "Standard",
    "mounted is in its frame, uncut is before edging",
    choices=tuple(
        Choice(
            f"{key}-{state.value}",
            f"{held.designation}, {state.value}",
            Scope(held, state),
        )
        for key, held in STANDARDS.items()
        for state in reversed(held.lens_states)
    ),
)
