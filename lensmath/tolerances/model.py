"""How a tolerance standard is written down: bands, rows and the look-up.

A standard is data: rows that say "when this power lies in this band, that quantity may be off by so
much". A new edition, lens type or quantity is new rows, not new rules. Each row says how far its
figure can be trusted, because the standards themselves were not read: the figures come from
second-hand texts and from memory.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from lensmath.errors import LensError
from lensmath.power import SAME_POWER, snapped


class LensState(Enum):
    """What a standard applies to: a lens as delivered, or a lens in its frame."""

    UNCUT = "uncut"
    MOUNTED = "mounted"


class LensType(Enum):
    """The kind of lens a row is for; of a multifocal, its distance portion."""

    SINGLE_VISION = "single vision"
    MULTIFOCAL = "multifocal"


class Quantity(Enum):
    """What is checked. Meridian power is the power along a principal meridian."""

    MERIDIAN_POWER = "meridian power"
    CYLINDER = "cylinder"
    AXIS = "axis"


class Unit(Enum):
    """The unit of a limit."""

    DIOPTRE = "D"
    DEGREE = "°"


class MeridianRule(Enum):
    """Which principal meridians of the ordered lens are judged.

    The sphere meridian is the one along the axis in minus-cylinder form.
    """

    SPHERE_MERIDIAN = "the sphere meridian, in minus-cylinder form"
    STRONGER_MERIDIAN = "the principal meridian with the higher absolute power"
    EACH_MERIDIAN = "each principal meridian"


class Confidence(Enum):
    """What was really seen of a figure. No standard was read in the original."""

    TWO_SOURCES = "two sources"
    READ = "read"
    DERIVED = "derived"
    SPOT_CHECKED = "memory, spot-checked"
    MEMORY = "memory"

    @property
    def remembered(self) -> bool:
        """Whether the band or the limit is quoted from memory."""
        return self in (Confidence.SPOT_CHECKED, Confidence.MEMORY)


class Governing(Enum):
    """The ordered power, as an absolute value in dioptres, whose band picks the row."""

    SPHERE_MERIDIAN = "sphere meridian"
    STRONGER_MERIDIAN = "stronger principal meridian"
    CYLINDER = "cylinder"

    def below(self, upper: float) -> Band:
        """From zero to just under `upper`."""
        return Band(self, 0.0, upper, has_lower=True, has_upper=False)

    def from_to(self, lower: float, upper: float) -> Band:
        """From `lower` to `upper`, both included."""
        return Band(self, lower, upper, has_lower=True)

    def above(self, lower: float, up_to: float = math.inf) -> Band:
        """Above `lower`, up to and including `up_to`."""
        return Band(self, lower, up_to)


Powers = Mapping[Governing, float]


@dataclass(frozen=True)
class Band:
    """A range of the governing power, in dioptres; a power within 1e-9 D of an edge is on it.

    >>> Governing.CYLINDER.above(0.25, up_to=0.50).holds(0.125 + 0.375)
    True
    """

    of: Governing
    lower: float
    upper: float
    has_lower: bool = False
    has_upper: bool = True

    def holds(self, power: float) -> bool:
        """Whether this absolute power (dioptres) lies in the band."""
        slack_below = SAME_POWER if self.has_lower else -SAME_POWER
        slack_above = SAME_POWER if self.has_upper else -SAME_POWER
        return self.lower - slack_below <= power <= self.upper + slack_above


@dataclass(frozen=True)
class Percent:
    """A limit that grows with the ordered power: `value` per cent of it."""

    value: float
    of: Governing


@dataclass(frozen=True)
class Row:
    """One cell of a tolerance table.

    Units   `limit` is a number in `unit`, a percentage of an ordered power, or None where the
            standard sets no limit. It is a plus-or-minus figure, and a difference equal to it
            passes.
    Shape   The row applies where every one of its bands holds.
    Keys    `sources` are keys of the bibliography: the texts in which the figure was seen. A figure
            from memory names the standard that it is remembered of.
    """

    quantity: Quantity
    bands: tuple[Band, ...]
    limit: float | Percent | None
    unit: Unit
    clause: str
    confidence: Confidence
    sources: tuple[str, ...]
    lens_types: tuple[LensType, ...] = (LensType.SINGLE_VISION, LensType.MULTIFOCAL)

    def applies(self, powers: Powers) -> bool:
        """Whether a lens with these ordered powers falls in every band of the row."""
        return all(band.holds(powers[band.of]) for band in self.bands)

    def limit_at(self, powers: Powers) -> float | None:
        """The limit in `unit` for a lens with these ordered powers; None where none is set."""
        if isinstance(self.limit, Percent):
            return snapped(self.limit.value / 100 * powers[self.limit.of])
        return self.limit


@dataclass(frozen=True)
class Standard:
    """One edition of one tolerance standard.

    Shape   `key` is its key in the bibliography, `designation` what people call it, `edition` its
            year.
    """

    key: str
    designation: str
    title: str
    edition: int
    lens_states: tuple[LensState, ...]
    meridian_rule: MeridianRule
    rows: tuple[Row, ...]

    @property
    def quantities(self) -> tuple[Quantity, ...]:
        """What this standard checks, in the order of its tables."""
        return tuple(dict.fromkeys(row.quantity for row in self.rows))

    def row_for(
        self, quantity: Quantity, powers: Powers, lens_type: LensType = LensType.SINGLE_VISION
    ) -> Row:
        """The row for this quantity on a lens with these ordered powers.

        Units   `powers` are absolute values in dioptres.
        Errors  LensError when no row covers them. A row without a limit is an answer, not an error.
        """
        for row in self.rows:
            if row.quantity is quantity and lens_type in row.lens_types and row.applies(powers):
                return row
        given = ", ".join(f"{power.value} {amount:.2f} D" for power, amount in powers.items())
        raise LensError(
            f"The tables held of {self.designation} have no {quantity.value} limit for a "
            f"{lens_type.value} lens with {given}; absolute powers from 0.00 D are covered."
        )
