"""ISO 8980-1:2017, uncut single vision and multifocal lenses: distance power, cylinder and axis.

The standard was not read. The axis table is wholly from memory (its figures are those of ANSI), and
so is no more than a draft. It is tighter than the mounted table, which also has to hold the
glazing error.
"""

from functools import partial

from lensmath.tolerances.iso_power_2017 import power_rows
from lensmath.tolerances.model import (
    Confidence,
    Governing,
    LensState,
    MeridianRule,
    Quantity,
    Row,
    Standard,
    Unit,
)

_KEY = "iso-8980-1-2017"

_CYLINDER = Governing.CYLINDER

_axis = partial(
    Row,
    Quantity.AXIS,
    unit=Unit.DEGREE,
    clause="axis table, number not known",
    confidence=Confidence.MEMORY,
    sources=(_KEY,),
)

STANDARD = Standard(
    key=_KEY,
    designation="ISO 8980-1:2017",
    title="Uncut finished spectacle lenses, single vision and multifocal",
    edition=2017,
    lens_states=(LensState.UNCUT,),
    meridian_rule=MeridianRule.EACH_MERIDIAN,
    rows=(
        *power_rows(_KEY),
        _axis((_CYLINDER.below(0.12),), None),
        _axis((_CYLINDER.from_to(0.12, 0.25),), 14),
        _axis((_CYLINDER.above(0.25, up_to=0.50),), 7),
        _axis((_CYLINDER.above(0.50, up_to=0.75),), 5),
        _axis((_CYLINDER.above(0.75, up_to=1.50),), 3),
        _axis((_CYLINDER.above(1.50),), 2),
    ),
)
