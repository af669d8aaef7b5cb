"""ISO 21987:2017, mounted spectacle lenses: distance power, cylinder and axis.

The standard was not read. The axis table stands in a teaching deck, in eighths of a dioptre; its
two ends, 16 and 2 degrees, also in an optician's explainer of DIN EN ISO 21987. That there is no
limit below 0.12 D is from memory.
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

_KEY = "iso-21987-2017"
_DECK = "uk-trainee-deck-verification"
_EXPLAINER = "din-en-iso-21987-explainer"

_CYLINDER = Governing.CYLINDER

_axis = partial(Row, Quantity.AXIS, unit=Unit.DEGREE, clause="Table 3")
_remembered = partial(_axis, confidence=Confidence.MEMORY, sources=(_KEY,))
_read = partial(_axis, confidence=Confidence.READ, sources=(_DECK,))
_read_twice = partial(_axis, confidence=Confidence.TWO_SOURCES, sources=(_DECK, _EXPLAINER))

STANDARD = Standard(
    key=_KEY,
    designation="ISO 21987:2017",
    title="Mounted spectacle lenses",
    edition=2017,
    lens_states=(LensState.MOUNTED,),
    meridian_rule=MeridianRule.EACH_MERIDIAN,
    rows=(
        *power_rows(_KEY),
        _remembered((_CYLINDER.below(0.12),), None),
        _read_twice((_CYLINDER.from_to(0.12, 0.25),), 16),
        _read((_CYLINDER.above(0.25, up_to=0.50),), 9),
        _read((_CYLINDER.above(0.50, up_to=0.75),), 6),
        _read((_CYLINDER.above(0.75, up_to=1.50),), 4),
        _read((_CYLINDER.above(1.50, up_to=2.50),), 3),
        _read_twice((_CYLINDER.above(2.50),), 2),
    ),
)
