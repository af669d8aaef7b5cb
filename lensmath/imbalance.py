"""The prism of a pair of lenses: imbalance, split, reading level, slab-off, segments.

Before both eyes together a pair acts as one prism: that of one eye less that of the other. This is
the rule of the bases in signed components: horizontally BI adds to BI and BO to BO, vertically BU
adds to BD. Prism dioptres; ways in millimetres, seen facing the wearer.
"""

from __future__ import annotations

from typing import NamedTuple

from lensmath.centration import Decentration, EyePair, Point
from lensmath.decentration import prism_at, prism_from_pd_error
from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.power import LensPower
from lensmath.prism import Base, Prism
from lensmath.scale import shown


class Pair(NamedTuple):
    """The prism before each eye."""

    right: Prism
    left: Prism

    def imbalance(self, eye: Eye) -> Prism:
        """What the pair amounts to as a single prism before this eye.

        The other eye gives the same horizontal base and the opposite vertical one.

        Source  uk-trainee-deck-verification

        >>> Pair(Prism(0, 5), Prism(0, -1)).imbalance(Eye.RIGHT).vertical
        Component(amount=6.0, base=<Base.UP: 'up'>)
        """
        difference = self.right - self.left
        return difference if eye is Eye.RIGHT else -difference


def split(total: Prism, eye: Eye, share: float = 0.5) -> Pair:
    """A prism before one eye, divided between both: `share` stays, the other eye has the rest.

    The other eye has the same horizontal base and the opposite vertical one, so that the imbalance
    stays as it was.

    Units   `share` from 0 (all to the other eye) to 1 (all stays).
    Errors  LensError for a share outside 0-1.
    Source  durham-tech-prism-base

    >>> pair = split(Prism(4, 3), Eye.RIGHT)
    >>> pair.right.half_circle(Eye.RIGHT).letters, pair.left.half_circle(Eye.LEFT).letters
    ('BU&I', 'BD&I')
    """
    if not 0 <= share <= 1:
        raise LensError(f"A share lies from 0 to 1, one half is 0.5; {shown(share)} was given.")
    kept, given = total * share, total * (share - 1)
    return Pair(kept, given) if eye is Eye.RIGHT else Pair(given, kept)


def pair_from_pd_error(right: LensPower, left: LensPower, error: EyePair) -> Pair:
    """The unwanted prism of a pair whose lenses are centred too wide or too narrow.

    Units   `error` in millimetres: the distances as made less those ordered, for each eye.
    Source  basic-optical-principles-course

    >>> error = EyePair.halves(60) - EyePair.halves(64)
    >>> pair = pair_from_pd_error(LensPower(-3), LensPower(-3), error)
    >>> pair.imbalance(Eye.RIGHT).horizontal(Eye.RIGHT)
    Component(amount=1.2, base=<Base.OUT: 'out'>)
    """
    return Pair(
        prism_from_pd_error(right, Eye.RIGHT, error.right),
        prism_from_pd_error(left, Eye.LEFT, error.left),
    )


# The reading level --------------------------------------------------------------------------------


def near_prisms(right: LensPower, left: LensPower, below: float, inset: float = 0.0) -> Pair:
    """The prism of each distance lens at the point through which a wearer reads.

    Their imbalance is the differential prism at near.

    Units   millimetres from the optical centre of each lens: `below` it, and `inset` toward the
            nose.
    Source  mccarthy-anisometropia

    >>> near_prisms(LensPower(1), LensPower(3), below=10).imbalance(Eye.RIGHT).vertical
    Component(amount=2.0, base=<Base.DOWN: 'down'>)
    """
    return Pair(
        prism_at(right, Decentration(inset, -below).before(Eye.RIGHT)),
        prism_at(left, Decentration(inset, -below).before(Eye.LEFT)),
    )


class Slab(NamedTuple):
    """A vertical prism worked on the lower part of one lens: prism dioptres, base and eye."""

    amount: float
    base: Base
    eye: Eye


def slab_off(near: Pair) -> Slab | None:
    """The slab-off that takes away the vertical imbalance at the reading level; None without one.

    Base up, on the lens with more base down there: most minus or least plus in the vertical
    meridian.

    Source  durham-tech-13d

    >>> slab_off(near_prisms(LensPower(1.5), LensPower(5.25), below=8))
    Slab(amount=3.0, base=<Base.UP: 'up'>, eye=<Eye.RIGHT: 'right'>)
    """
    amount, right_base = near.imbalance(Eye.RIGHT).vertical
    if right_base is None:
        return None
    return Slab(amount, Base.UP, Eye.LEFT if right_base is Base.UP else Eye.RIGHT)


def reverse_slab(near: Pair) -> Slab | None:
    """The slab that does the same on the other lens, most plus or least minus: base down.

    Source  opt-1156-cards
    """
    slab = slab_off(near)
    if slab is None:
        return None
    return Slab(slab.amount, Base.DOWN, Eye.LEFT if slab.eye is Eye.RIGHT else Eye.RIGHT)


# Segments -----------------------------------------------------------------------------------------


def image_jump(addition: float, top_to_centre: float) -> Prism:
    """The prism that sets in at the top of a segment: base down, whatever the distance power.

    Units   `addition` in dioptres; `top_to_centre` in millimetres, from the top of the segment
            down to its optical centre.
    Errors  LensError for an addition below zero.
    Source  durham-tech-13b

    >>> image_jump(2, 11).vertical
    Component(amount=2.2, base=<Base.DOWN: 'down'>)
    """
    return prism_at(_segment(addition), Point(0, top_to_centre))


def prism_in_segment(
    distance: LensPower, addition: float, segment_centre: Point, point: Point
) -> Prism:
    """The whole prism at a point of a segment: that of the distance lens and that of the addition.

    Units   both places in millimetres from the optical centre of the distance lens: the optical
            centre of the segment, and the point. `addition` in dioptres.
    Errors  LensError for an addition below zero.
    Source  common-practice

    >>> prism_in_segment(LensPower(2), 2.5, Point(0, -13), Point(0, -10)).vertical
    Component(amount=1.25, base=<Base.UP: 'up'>)
    """
    way = Point(point.x - segment_centre.x, point.y - segment_centre.y)
    return prism_at(distance, point) + prism_at(_segment(addition), way)


def _segment(addition: float) -> LensPower:
    """The segment by itself: a small plus lens."""
    if addition < 0:
        raise LensError(f"An addition is zero or more; {shown(addition)} D was given.")
    return LensPower(addition)
