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
    """The kind of lens a row is for: a multifocal has a segment, a progressive varies in power."""

    SINGLE_VISION = "single vision"
    MULTIFOCAL = "multifocal"
    PROGRESSIVE = "progressive"


EVERY_TYPE = tuple(LensType)


class Quantity(Enum):
    """What is checked. Meridian power is the power along a principal meridian.

    The PRP is the prism reference point. The prism error is the size of the difference between the
    prism found at the PRP and the ordered one, both as arrows; the displacement of the PRP is the
    way from it to the point where the ordered prism is found. A distance of one eye counts from the
    middle of the bridge. A difference, a separation and an imbalance are of a pair.
    """

    MERIDIAN_POWER = "meridian power"
    CYLINDER = "cylinder"
    AXIS = "axis"
    ADDITION = "addition"
    PRISM_ERROR = "prism error at the PRP"
    PRP_DISPLACEMENT = "displacement of the PRP"
    HORIZONTAL_PRISM = "horizontal prism"
    VERTICAL_PRISM = "vertical prism"
    VERTICAL_IMBALANCE = "vertical prism imbalance"
    PRP_HEIGHT_DIFFERENCE = "height difference of the PRPs"
    HORIZONTAL_IMBALANCE = "horizontal prism imbalance"
    PRP_SEPARATION = "distance between the PRPs"
    PRP_DISTANCE = "monocular distance of the PRP"
    SEGMENT_HEIGHT = "segment height"
    SEGMENT_HEIGHT_DIFFERENCE = "segment height difference"
    SEGMENT_SEPARATION = "distance between the segments"
    SEGMENT_TILT = "segment tilt"
    SEGMENT_WIDTH = "segment width"
    SEGMENT_WIDTH_DIFFERENCE = "segment width difference"
    SEGMENT_DEPTH = "segment depth"
    SEGMENT_DEPTH_DIFFERENCE = "segment depth difference"
    INTERMEDIATE_DEPTH = "intermediate depth"
    INTERMEDIATE_DEPTH_DIFFERENCE = "intermediate depth difference"
    FITTING_POINT_HEIGHT = "fitting point height"
    FITTING_POINT_HEIGHT_DIFFERENCE = "fitting point height difference"
    FITTING_POINT_DISTANCE = "monocular distance of the fitting point"
    MARKS_TILT = "tilt of the permanent marks"
    CENTRE_THICKNESS = "centre thickness"
    BASE_CURVE = "base curve"
    WARPAGE = "warpage"


class Unit(Enum):
    """The unit of a limit."""

    DIOPTRE = "D"
    DEGREE = "°"
    PRISM_DIOPTRE = "Δ"
    MILLIMETRE = "mm"


class MeridianRule(Enum):
    """Which principal meridians of the ordered lens are judged.

    The sphere meridian is the one along the axis in minus-cylinder form.
    """

    SPHERE_MERIDIAN = "the sphere meridian, in minus-cylinder form"
    STRONGER_MERIDIAN = "the principal meridian with the higher absolute power"
    EACH_MERIDIAN = "each principal meridian"


class PairRule(Enum):
    """Whose powers pick the row for a pair.

    With each lens picking its own, a mixed pair may have two limits; one of them is then enough.
    """

    EACH_LENS = "each lens by its own power"
    STRONGER_LENS = "the stronger lens"


class Confidence(Enum):
    """What was really seen of a figure, best first. No standard was read in the original."""

    TWO_SOURCES = "two sources"
    READ = "read"
    DERIVED = "derived"
    SPOT_CHECKED = "memory, spot-checked"
    MEMORY = "memory"

    @property
    def doubt(self) -> int:
        """0 for what was seen best, and more for what was seen less."""
        return list(Confidence).index(self)

    @property
    def remembered(self) -> bool:
        """Whether the band or the limit is quoted from memory."""
        return self in (Confidence.SPOT_CHECKED, Confidence.MEMORY)


class Governing(Enum):
    """What was ordered, as an absolute value, whose band picks the row.

    Powers are in dioptres, a part of the ordered prism is in prism dioptres.
    """

    SPHERE_MERIDIAN = "sphere meridian"
    STRONGER_MERIDIAN = "stronger principal meridian"
    CYLINDER = "cylinder"
    ADDITION = "addition"
    HORIZONTAL_MERIDIAN = "horizontal meridian"
    VERTICAL_MERIDIAN = "vertical meridian"
    HORIZONTAL_PRISM = "ordered horizontal prism"
    VERTICAL_PRISM = "ordered vertical prism"

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
    """A range of the governing power; a power within 1e-9 of an edge is on it.

    >>> Governing.CYLINDER.above(0.25, up_to=0.50).holds(0.125 + 0.375)
    True
    """

    of: Governing
    lower: float
    upper: float
    has_lower: bool = False
    has_upper: bool = True

    def holds(self, power: float) -> bool:
        """Whether this absolute power lies in the band."""
        slack_below = SAME_POWER if self.has_lower else -SAME_POWER
        slack_above = SAME_POWER if self.has_upper else -SAME_POWER
        return self.lower - slack_below <= power <= self.upper + slack_above


@dataclass(frozen=True)
class Percent:
    """A limit that grows with the ordered power: `value` per cent of it."""

    value: float
    of: Governing


@dataclass(frozen=True)
class Linear:
    """A limit of a fixed part and so much more for each dioptre of an ordered power."""

    fixed: float
    per_dioptre: float
    of: Governing


@dataclass(frozen=True)
class Row:
    """One cell of a tolerance table.

    Units   `limit` is a number in `unit`, one that grows with an ordered power, or None where the
            standard sets no limit. It is a plus-or-minus figure, and a difference equal to it
            passes.
    Shape   The row applies where every one of its bands holds, and everywhere if it has none.
            `note` is a sentence for the reader about what is doubtful, or empty.
    Keys    `sources` are keys of the bibliography: the texts in which the figure was seen. A figure
            from memory names the standard that it is remembered of.
    """

    quantity: Quantity
    bands: tuple[Band, ...]
    limit: float | Percent | Linear | None
    unit: Unit
    clause: str
    confidence: Confidence
    sources: tuple[str, ...]
    lens_types: tuple[LensType, ...] = (LensType.SINGLE_VISION, LensType.MULTIFOCAL)
    note: str = ""

    def applies(self, powers: Powers) -> bool:
        """Whether a lens with these ordered powers falls in every band of the row."""
        return all(band.of in powers and band.holds(powers[band.of]) for band in self.bands)

    def limit_at(self, powers: Powers) -> float | None:
        """The limit in `unit` for a lens with these ordered powers; None where none is set."""
        if isinstance(self.limit, Percent):
            return snapped(self.limit.value / 100 * powers[self.limit.of])
        if isinstance(self.limit, Linear):
            return snapped(self.limit.fixed + self.limit.per_dioptre * powers[self.limit.of])
        return self.limit


@dataclass(frozen=True)
class Standard:
    """One edition of one tolerance standard.

    Shape   `key` is its key in the bibliography, `designation` what people call it, `edition` its
            year. Of the quantities that stand together in `either`, one inside its limit is enough.
    """

    key: str
    designation: str
    title: str
    edition: int
    lens_states: tuple[LensState, ...]
    meridian_rule: MeridianRule
    rows: tuple[Row, ...]
    either: tuple[tuple[Quantity, ...], ...] = ()
    pair_rule: PairRule = PairRule.STRONGER_LENS

    @property
    def lens_types(self) -> tuple[LensType, ...]:
        """The kinds of lens that its tables are for."""
        held = {lens_type for row in self.rows for lens_type in row.lens_types}
        return tuple(lens_type for lens_type in LensType if lens_type in held)

    def checks(self, quantity: Quantity, lens_type: LensType) -> bool:
        """Whether any row is for this quantity of such a lens."""
        return any(row.quantity is quantity and lens_type in row.lens_types for row in self.rows)

    def either_of(self, quantity: Quantity) -> tuple[Quantity, ...]:
        """The quantities of which one inside its limit is enough: most often this one alone."""
        return next((group for group in self.either if quantity in group), (quantity,))

    def find_row(self, quantity: Quantity, powers: Powers, lens_type: LensType) -> Row | None:
        """The row for this quantity on a lens with these ordered powers, if there is one."""
        for row in self.rows:
            if row.quantity is quantity and lens_type in row.lens_types and row.applies(powers):
                return row
        return None

    def row_for(
        self, quantity: Quantity, powers: Powers, lens_type: LensType = LensType.SINGLE_VISION
    ) -> Row:
        """The row for this quantity on a lens with these ordered powers.

        Units   `powers` are absolute values in dioptres, and in prism dioptres.
        Errors  LensError when no row covers them. A row without a limit is an answer, not an error.
        """
        row = self.find_row(quantity, powers, lens_type)
        if row is not None:
            return row
        given = ", ".join(f"{power.value} {amount:.2f}" for power, amount in powers.items())
        raise LensError(
            f"The tables held of {self.designation} have no {quantity.value} limit for a "
            f"{lens_type.value} lens with {given}; absolute powers from 0.00 D are covered."
        )
