"""Prism: an amount and a base, as one vector.

A prism points to its base. Seen facing the wearer, x goes to the observer's right and y up, in
prism dioptres, so prisms add like arrows. Base up, down, in and out, the base in degrees on the
full circle (ISO 8429) and the half-circle notation are only names of that vector. In and out need
the eye: the nose lies to the observer's right of a right eye and to the left of a left one.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.power import snapped, standard_axis

# Two prisms are the same when their components differ by no more than this, in prism dioptres;
# a prism or a component no larger is none. As SAME_LENS: far above float noise, far below any ring.
SAME_PRISM = 1e-6


class Base(StrEnum):
    """Where the base of a prism lies before an eye."""

    UP = "up"
    DOWN = "down"
    IN = "in"
    OUT = "out"

    @property
    def letters(self) -> str:
        """As written after an amount: BU, BD, BI or BO."""
        return f"B{self.value[0].upper()}"

    def direction(self, eye: Eye) -> float:
        """This base before `eye` in degrees on the full circle.

        Source  iso-8429-1986

        >>> Base.IN.direction(Eye.RIGHT), Base.IN.direction(Eye.LEFT), Base.DOWN.direction(Eye.LEFT)
        (0.0, 180.0, 270.0)
        """
        if self in (Base.UP, Base.DOWN):
            return 90.0 if self is Base.UP else 270.0
        nasal = 0.0 if eye.inward > 0 else 180.0
        return nasal if self is Base.IN else 180.0 - nasal


class Component(NamedTuple):
    """The horizontal or the vertical part of a prism: prism dioptres, never negative, and its base.

    `base` is None when that part is zero.
    """

    amount: float
    base: Base | None


class HalfCircle(NamedTuple):
    """A prism as the half-circle notation writes it: BU&I @ 037.

    `bases` are its words, vertical first; `degrees` is the line on which the base lies, 1-180. A
    zero prism has no bases and no degrees.
    """

    amount: float
    bases: tuple[Base, ...]
    degrees: float | None

    @property
    def letters(self) -> str:
        """The words as written: BU&I, BD, BO; empty for a zero prism."""
        return "B" + "&".join(base[0].upper() for base in self.bases) if self.bases else ""


@dataclass(frozen=True, eq=False)
class Prism:
    """A prism as the arrow to its base, seen facing the wearer.

    Units   prism dioptres (cm of shift at 1 m); x to the observer's right, y up.
    Shape   Two prisms are equal when they differ by no more than 1e-6 in each component.
    Errors  LensError for a component that is not a finite number.

    >>> Prism(2, 1.5).amount, round(Prism(2, 1.5).base)
    (2.5, 37)
    """

    x: float
    y: float

    def __post_init__(self) -> None:
        for name in ("x", "y"):
            value = getattr(self, name)
            if not math.isfinite(value):
                raise LensError(f"Prism must be a number such as 1.5; {_shown(value)} was given.")
            object.__setattr__(self, name, snapped(value))

    # One prism, several names --------------------------------------------------------------------

    @classmethod
    def from_base(cls, amount: float, degrees: float) -> Prism:
        """The prism of this amount (prism dioptres) with its base at 0-360 degrees.

        Errors  LensError for an amount below zero or a direction outside 0-360.
        Source  iso-8429-1986

        >>> Prism.from_base(4, 270)
        Prism(x=0.0, y=-4.0)
        """
        if not amount >= 0:
            raise LensError(
                f"An amount of prism is zero or more; {_shown(amount)} was given. Turn the base "
                "to the other side instead."
            )
        if not 0 <= degrees <= 360:
            raise LensError(
                f"A base direction lies from 0 to 360 degrees; {_shown(degrees)} was given."
            )
        turned = math.radians(degrees)
        return cls(amount * math.cos(turned), amount * math.sin(turned))

    @classmethod
    def from_word(cls, amount: float, base: Base, eye: Eye) -> Prism:
        """The prism of this amount (prism dioptres) with its base up, down, in or out before `eye`.

        Errors  LensError for an amount below zero.

        >>> Prism.from_word(2, Base.IN, Eye.LEFT) + Prism.from_word(1.5, Base.DOWN, Eye.LEFT)
        Prism(x=-2.0, y=-1.5)
        """
        return cls.from_base(amount, base.direction(eye))

    @classmethod
    def from_half_circle(
        cls, amount: float, bases: Collection[Base], degrees: float, eye: Eye
    ) -> Prism:
        """The prism that is written with words and a line: BU&I @ 037.

        One word is enough: it tells the two ends of the line apart.

        Units   amount in prism dioptres; `degrees` of the line, 0-180.
        Errors  LensError for an amount below zero, a line outside 0-180, and words that are
                missing or that fit neither end of the line before this eye.

        >>> Prism.from_half_circle(2.5, (Base.DOWN, Base.IN), 37, Eye.LEFT).base
        217.0
        """
        if not 0 <= degrees <= 180:
            raise LensError(
                f"In half-circle notation the base lies on a line from 1 to 180 degrees; "
                f"{_shown(degrees)} was given."
            )
        ends = {end: cls.from_base(1, end).bases(eye) for end in (degrees, degrees + 180)}
        for end, words in ends.items():
            if bases and set(bases) <= set(words):
                return cls.from_base(amount, end)
        allowed = " or ".join(" and ".join(words) for words in ends.values())
        raise LensError(
            f"On the line {_shown(degrees)} the base before a {eye.value} eye is {allowed}; "
            f"{' and '.join(bases) or 'no word'} was given."
        )

    @property
    def amount(self) -> float:
        """Its size in prism dioptres."""
        return snapped(math.hypot(self.x, self.y))

    @property
    def base(self) -> float | None:
        """The direction of its base in degrees, 0 up to but not 360; None for a zero prism.

        Source  iso-8429-1986
        """
        if self == NO_PRISM:
            return None
        return snapped(math.degrees(math.atan2(self.y, self.x)) % 360) % 360

    @property
    def vertical(self) -> Component:
        """Its vertical part: amount, and base up or down.

        >>> Prism.from_base(2.5, 217).vertical.base.letters
        'BD'
        """
        return _component(self.y, Base.UP, Base.DOWN)

    def horizontal(self, eye: Eye) -> Component:
        """Its horizontal part before `eye`: amount, and base in or out.

        >>> Prism.from_base(2.5, 217).horizontal(Eye.LEFT).base.letters
        'BI'
        """
        return _component(self.x * eye.inward, Base.IN, Base.OUT)

    def bases(self, eye: Eye) -> tuple[Base, ...]:
        """The words for its base before `eye`, vertical first: none, one or two."""
        parts = (self.vertical, self.horizontal(eye))
        return tuple(part.base for part in parts if part.base is not None)

    def half_circle(self, eye: Eye) -> HalfCircle:
        """The prism in half-circle notation before `eye`.

        >>> written = Prism.from_base(2.5, 217).half_circle(Eye.LEFT)
        >>> written.amount, written.letters, written.degrees
        (2.5, 'BD&I', 37.0)
        """
        line = None if self.base is None else standard_axis(self.base)
        return HalfCircle(self.amount, self.bases(eye), line)

    # Arithmetic ----------------------------------------------------------------------------------

    def __add__(self, other: Prism) -> Prism:
        """Both prisms together."""
        if not isinstance(other, Prism):
            return NotImplemented
        return Prism(self.x + other.x, self.y + other.y)

    def __neg__(self) -> Prism:
        """The prism that neutralises this one: its base turned to the other side."""
        return Prism(-self.x, -self.y)

    def __mul__(self, times: float) -> Prism:
        """So many times this prism, with its base on the other side when `times` is negative."""
        return Prism(self.x * times, self.y * times)

    def __sub__(self, other: Prism) -> Prism:
        """What must be added to `other` to make this prism."""
        if not isinstance(other, Prism):
            return NotImplemented
        return self + -other

    # Equality of the prism, not of its float noise -----------------------------------------------

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Prism):
            return NotImplemented
        return abs(self.x - other.x) <= SAME_PRISM and abs(self.y - other.y) <= SAME_PRISM

    def __hash__(self) -> int:
        # Equal prisms need one hash, and no rounding gives nearly equal numbers the same one.
        return hash(Prism)


NO_PRISM = Prism(0.0, 0.0)
"""The zero prism, which has no base."""


def compounded(prisms: Iterable[Prism]) -> Prism:
    """Any number of prisms before one eye as a single one; none of them is a zero prism.

    >>> compounded([Prism(2, 0), Prism.from_base(1.5, 30), Prism.from_base(0.75, 60)]).amount
    3.93
    """
    return sum(prisms, NO_PRISM)


def prism_dioptres(shift: float, distance: float) -> float:
    """The amount of the prism that shifts a ray so far at that distance: 1 cm at 1 m is 1.

    Units   both in millimetres; the result in prism dioptres, with the sign of the shift.
    Errors  LensError for a distance that is not above zero and a shift that is not finite.
    Source  iso-13666-2019

    >>> prism_dioptres(20, 4000)
    0.5
    """
    if not distance > 0 or not math.isfinite(shift):
        raise LensError(
            "A shift is a number and its distance is above zero; "
            f"{_shown(shift)} mm at {_shown(distance)} mm was given."
        )
    return snapped(100 * shift / distance)


def prism_on_target(right: float, up: float, rings: int, auxiliary: Prism = NO_PRISM) -> Prism:
    """The prism at the lens stop, from where the centre of the target stands among the rings.

    One ring is one prism dioptre, and the target moves toward the base. The lens lies with its back
    surface on the stop, so the reader sees its front, as when facing the wearer: a target to the
    right is base in for a right lens and base out for a left one.

    Units   `right` and `up` in rings from the centre of the reticle, negative for left and down;
            `rings` is how many the reticle has. `auxiliary` is a known prism that was put in the
            way together with the lens, to bring the target back among the rings; it is taken off.
    Errors  LensError when the target stands beyond the last ring.
    Source  prism-reading-lesson

    >>> prism_on_target(-2, 0, rings=5).horizontal(Eye.RIGHT)
    Component(amount=2.0, base=<Base.OUT: 'out'>)
    """
    shown = Prism(right, up)
    if shown.amount > rings:
        raise LensError(
            f"The last ring is {rings}; a target {_shown(shown.amount)} rings from the centre was "
            "given. Add a known prism that brings it back, and read again."
        )
    return shown - auxiliary


def _component(signed: float, positive: Base, negative: Base) -> Component:
    if abs(signed) <= SAME_PRISM:
        return Component(0.0, None)
    return Component(abs(signed), positive if signed > 0 else negative)


def _shown(value: float) -> str:
    return f"{value:.10g}".replace("-", "\N{MINUS SIGN}")
