"""What a focimeter itself may be wrong by.

Figures of ISO 8598-1, which was not read: they are from memory, and only the first band of the
powers is supported by another text. An instrument's own certificate, where there is one, is better.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lensmath.errors import LensError
from lensmath.power import SAME_POWER
from lensmath.scale import shown
from lensmath.tolerances.model import Confidence, Unit


@dataclass(frozen=True)
class ErrorBand:
    """The permitted error above the band before, up to and including `up_to` (absolute value)."""

    up_to: float
    limit: float
    confidence: Confidence
    sources: tuple[str, ...]


@dataclass(frozen=True)
class PermittedErrors:
    """One table of an instrument standard: what the indication may be off by, either way.

    Units   `up_to` and `limit` of the bands in `unit`.
    """

    quantity: str
    unit: Unit
    clause: str
    bands: tuple[ErrorBand, ...]

    def at(self, indicated: float) -> ErrorBand:
        """The band that holds this indicated value, whatever its sign.

        Errors  LensError for a value that is not a number.

        >>> VERTEX_POWER.at(-5.25).limit
        0.09
        """
        for band in self.bands:
            if abs(indicated) <= band.up_to + SAME_POWER:
                return band
        raise LensError(
            f"The {self.quantity} must be a number in {self.unit.value}; "
            f"{shown(indicated)} was given."
        )


_STANDARD = "iso-8598-1-2014"


def _remembered(*bands: tuple[float, float]) -> tuple[ErrorBand, ...]:
    return tuple(ErrorBand(up_to, limit, Confidence.MEMORY, (_STANDARD,)) for up_to, limit in bands)


VERTEX_POWER = PermittedErrors(
    "vertex power",
    Unit.DIOPTRE,
    "5.3.1",
    (
        ErrorBand(5, 0.06, Confidence.SPOT_CHECKED, (_STANDARD, "whitney-focimetry")),
        *_remembered((10, 0.09), (15, 0.12), (20, 0.18), (math.inf, 0.25)),
    ),
)
"""Indication error of vertex powers, in dioptres."""

PRISM = PermittedErrors(
    "prism",
    Unit.PRISM_DIOPTRE,
    "5.3.1",
    _remembered((5, 0.1), (10, 0.2), (15, 0.3), (20, 0.4), (math.inf, 0.5)),
)
"""Indication error of prism, in prism dioptres."""

AXIS_MARKER = PermittedErrors("axis marker", Unit.DEGREE, "5.3.3", _remembered((math.inf, 1)))
"""Alignment of the axis marker, in degrees."""

ZERO = PermittedErrors(
    "zero reading",
    Unit.DIOPTRE,
    "zero error",
    (ErrorBand(math.inf, 0.03, Confidence.READ, ("focimeter-verification-summary",)),),
)
"""What the drum may read with no lens, in dioptres: a Chinese verification rule, not ISO."""
