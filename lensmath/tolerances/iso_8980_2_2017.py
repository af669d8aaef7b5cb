"""ISO 8980-2:2017, uncut progressive (power-variation) lenses.

The standard was not read; nearly all of it is from memory, and so is no more than a draft. A lens
that has only a primary reference point, such as a degressive one, is not checked for its variation
of power (Source  rabbetts-revised-standards).
"""

from lensmath.tolerances.iso_power_2017 import addition_rows, progressive_power_rows
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

_KEY = "iso-8980-2-2017"
_EXTRACT = "iso-8980-1-2004-extract"

_TYPES = (LensType.PROGRESSIVE,)

STANDARD = Standard(
    key=_KEY,
    designation="ISO 8980-2:2017",
    title="Uncut finished spectacle lenses, power-variation",
    edition=2017,
    lens_states=(LensState.UNCUT,),
    meridian_rule=MeridianRule.EACH_MERIDIAN,
    rows=(
        *progressive_power_rows(_KEY),
        *axis_rows(_KEY, _TYPES),
        *addition_rows(_KEY, _TYPES),
        *prism_rows(_KEY, _TYPES),
        Row(
            Quantity.CENTRE_THICKNESS,
            (),
            0.3,
            Unit.MILLIMETRE,
            clause="thickness, number not known",
            confidence=Confidence.SPOT_CHECKED,
            sources=(_KEY, _EXTRACT),
            lens_types=_TYPES,
            note="Printed in the 2004 edition of part 1, which is for other lenses.",
        ),
    ),
)
