"""ISO 21987:2017, mounted spectacle lenses: single vision, multifocal and progressive.

The standard was not read. The axis table stands in a teaching deck, in eighths of a dioptre; its
two ends, 16 and 2 degrees, also in an optician's explainer of DIN EN ISO 21987. That there is no
limit below 0.12 D is from memory.

The prism imbalance is remembered of the 2009 edition. Which power counts in its table was not seen:
here the power along the meridian concerned, of the stronger lens, as an old Chinese standard has it
(`gb-13511-articles`), and the larger ordered prism of the two lenses, part by part.
"""

from functools import partial

from lensmath.tolerances.iso_power_2017 import addition_rows, power_rows, progressive_power_rows
from lensmath.tolerances.model import (
    EVERY_TYPE,
    Confidence,
    Governing,
    LensState,
    LensType,
    Linear,
    MeridianRule,
    PairRule,
    Quantity,
    Row,
    Standard,
    Unit,
)

_KEY = "iso-21987-2017"
_EDITION_2009 = "iso-21987-2009"
_DECK = "uk-trainee-deck-verification"
_EXPLAINER = "din-en-iso-21987-explainer"
_EXTRACT_UNCUT = "iso-8980-1-2004-extract"

_CYLINDER = Governing.CYLINDER

_MULTIFOCAL = (LensType.MULTIFOCAL,)
_PROGRESSIVE = (LensType.PROGRESSIVE,)

_axis = partial(Row, Quantity.AXIS, unit=Unit.DEGREE, clause="Table 3", lens_types=EVERY_TYPE)
_remembered = partial(_axis, confidence=Confidence.MEMORY, sources=(_KEY,))
_read = partial(_axis, confidence=Confidence.READ, sources=(_DECK,))
_read_twice = partial(_axis, confidence=Confidence.TWO_SOURCES, sources=(_DECK, _EXPLAINER))

_AXIS = (
    _remembered((_CYLINDER.below(0.12),), None),
    _read_twice((_CYLINDER.from_to(0.12, 0.25),), 16),
    _read((_CYLINDER.above(0.25, up_to=0.50),), 9),
    _read((_CYLINDER.above(0.50, up_to=0.75),), 6),
    _read((_CYLINDER.above(0.75, up_to=1.50),), 4),
    _read((_CYLINDER.above(1.50, up_to=2.50),), 3),
    _read_twice((_CYLINDER.above(2.50),), 2),
)


def _imbalance_rows(
    quantity: Quantity,
    meridian: Governing,
    ordered: Governing,
    weak_up_to: float,
    shift: float,
    limits: tuple[tuple[float, float], ...],
) -> tuple[Row, ...]:
    """One half of the imbalance table.

    `limits` are, for each band of the ordered prism, the limit of a weak pair and the fixed part of
    that of a strong one; to the latter comes the prism of a shift by so many millimetres.
    """
    row = partial(
        Row,
        quantity,
        unit=Unit.PRISM_DIOPTRE,
        clause="imbalance table of the 2009 edition, number not known",
        confidence=Confidence.MEMORY,
        sources=(_KEY, _EDITION_2009),
        lens_types=EVERY_TYPE,
        note="Remembered of the 2009 edition; whether 2017 keeps it, and for progressive pairs, "
        "is not sure.",
    )
    weak, strong = meridian.from_to(0, weak_up_to), meridian.above(weak_up_to)
    bands = (ordered.from_to(0, 2), ordered.above(2, up_to=10), ordered.above(10))
    return tuple(
        cell
        for band, (limit, fixed) in zip(bands, limits, strict=True)
        for cell in (
            row((band, weak), limit),
            row((band, strong), Linear(fixed, shift / 10, meridian)),
        )
    )


_IMBALANCE = (
    *_imbalance_rows(
        Quantity.HORIZONTAL_IMBALANCE,
        Governing.HORIZONTAL_MERIDIAN,
        Governing.HORIZONTAL_PRISM,
        weak_up_to=3.25,
        shift=2.0,
        limits=((0.67, 0.0), (1.00, 0.33), (1.25, 0.58)),
    ),
    *_imbalance_rows(
        Quantity.VERTICAL_IMBALANCE,
        Governing.VERTICAL_MERIDIAN,
        Governing.VERTICAL_PRISM,
        weak_up_to=5.00,
        shift=1.0,
        limits=((0.50, 0.0), (0.75, 0.25), (1.00, 0.50)),
    ),
)

_position = partial(
    Row,
    bands=(),
    limit=1.0,
    unit=Unit.MILLIMETRE,
    clause="clause not known",
    confidence=Confidence.READ,
    sources=(_DECK,),
)
_from_memory = partial(_position, confidence=Confidence.MEMORY, sources=(_KEY,))
_size = partial(_from_memory, limit=0.5, lens_types=_MULTIFOCAL)
_size_difference = partial(_from_memory, limit=0.7, lens_types=_MULTIFOCAL)

_POSITIONS = (
    _position(Quantity.SEGMENT_HEIGHT, lens_types=_MULTIFOCAL),
    _position(Quantity.SEGMENT_TILT, limit=2, unit=Unit.DEGREE, lens_types=_MULTIFOCAL),
    _position(Quantity.FITTING_POINT_HEIGHT, lens_types=_PROGRESSIVE),
    _position(Quantity.FITTING_POINT_DISTANCE, lens_types=_PROGRESSIVE),
    _position(Quantity.MARKS_TILT, limit=2, unit=Unit.DEGREE, lens_types=_PROGRESSIVE),
    _from_memory(Quantity.SEGMENT_HEIGHT_DIFFERENCE, lens_types=_MULTIFOCAL),
    _from_memory(Quantity.FITTING_POINT_HEIGHT_DIFFERENCE, lens_types=_PROGRESSIVE),
    _from_memory(
        Quantity.SEGMENT_SEPARATION,
        limit=2.0,
        lens_types=_MULTIFOCAL,
        note="2.5 mm is remembered too; the tighter figure stands here.",
    ),
    _size(Quantity.SEGMENT_WIDTH),
    _size(Quantity.SEGMENT_DEPTH),
    _size(Quantity.INTERMEDIATE_DEPTH),
    _size_difference(Quantity.SEGMENT_WIDTH_DIFFERENCE),
    _size_difference(Quantity.SEGMENT_DEPTH_DIFFERENCE),
    _size_difference(Quantity.INTERMEDIATE_DEPTH_DIFFERENCE),
    _position(
        Quantity.CENTRE_THICKNESS,
        limit=0.3,
        confidence=Confidence.SPOT_CHECKED,
        sources=(_KEY, _EXTRACT_UNCUT),
        lens_types=EVERY_TYPE,
        note="Printed for uncut lenses, in ISO 8980-1:2004.",
    ),
)

STANDARD = Standard(
    key=_KEY,
    designation="ISO 21987:2017",
    title="Mounted spectacle lenses",
    edition=2017,
    lens_states=(LensState.MOUNTED,),
    meridian_rule=MeridianRule.EACH_MERIDIAN,
    rows=(
        *power_rows(_KEY),
        *progressive_power_rows(_KEY),
        *_AXIS,
        *addition_rows(_KEY, (LensType.MULTIFOCAL, LensType.PROGRESSIVE)),
        *_IMBALANCE,
        *_POSITIONS,
    ),
    pair_rule=PairRule.STRONGER_LENS,
)
