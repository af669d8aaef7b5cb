"""ISO 8980-1:2017, uncut single vision and multifocal lenses.

The standard was not read; nearly all of it is from memory, and so is no more than a draft. The axis
table is tighter than the mounted one, which also has to hold the glazing error.
"""

from lensmath.tolerances.iso_power_2017 import addition_rows, power_rows
from lensmath.tolerances.iso_uncut_2017 import axis_rows, prism_rows
from lensmath.tolerances.model import (
    Confidence,
    LensState,
    LensType,
    MeridianRule,
    Quantity,
    Row,
    Standard,
    Unit,
)

_KEY = "iso-8980-1-2017"
_EXTRACT = "iso-8980-1-2004-extract"

_TYPES = (LensType.SINGLE_VISION, LensType.MULTIFOCAL)

STANDARD = Standard(
    key=_KEY,
    designation="ISO 8980-1:2017",
    title="Uncut finished spectacle lenses, single vision and multifocal",
    edition=2017,
    lens_states=(LensState.UNCUT,),
    meridian_rule=MeridianRule.EACH_MERIDIAN,
    rows=(
        *power_rows(_KEY),
        *axis_rows(_KEY, _TYPES),
        *addition_rows(_KEY, (LensType.MULTIFOCAL,)),
        *prism_rows(_KEY, _TYPES),
        Row(
            Quantity.CENTRE_THICKNESS,
            (),
            0.3,
            Unit.MILLIMETRE,
            clause="thickness, number not known",
            confidence=Confidence.READ,
            sources=(_EXTRACT,),
            lens_types=_TYPES,
            note="Printed in the 2004 edition; measured at the reference point of the front "
            "surface. Not for a lens worked to the size of one frame.",
        ),
    ),
)
