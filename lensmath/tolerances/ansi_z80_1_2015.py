"""ANSI Z80.1-2015: single vision, multifocal and progressive lenses, unmounted and as a pair.

The standard was not read. The figures stand in a two-page quick reference of the 2015 edition,
which breaks off at the prism of progressive pairs, and in an exam study page; the band edges also
agree with a summary of the 2010 edition. What neither has is from texts on other editions, and the
row says so. The sheet judges the sphere meridian in minus-cylinder form.

Of a lens alone, the sheet asks for the prism or for the place of the PRP; a copy of the 2010 text
asks for both in one clause and for either in another. Of a pair, the power along the vertical or
the horizontal meridian chooses between prism and millimetres (from memory, as is the rule for one
lens on either side of the limit: it fails only if both are broken).
"""

from functools import partial

from lensmath.tolerances.model import (
    EVERY_TYPE,
    Confidence,
    Governing,
    LensState,
    LensType,
    MeridianRule,
    PairRule,
    Percent,
    Quantity,
    Row,
    Standard,
    Unit,
)

_KEY = "ansi-z80-1-2015"
_SHEET = "z80-1-2015-quick-reference"
_STUDY_PAGE = "z80-1-2015-study-page"
_SUMMARY_2010 = "z80-1-2010-summary"
_PAGE_1999 = "z80-1-1999-laboratory-page"
_FORUM = "opticians-forum-tolerances"
_DECK_LIMITS = "verification-deck-limits"
_DECK_SEGMENTS = "verification-deck-segments"
_VIRGINIA = "nj-virginia-rules"
_FITTING_PAGE = "progressive-fitting-page"

_SPHERE = Governing.SPHERE_MERIDIAN
_CYLINDER = Governing.CYLINDER
_ADDITION = Governing.ADDITION
_VERTICAL = Governing.VERTICAL_MERIDIAN
_HORIZONTAL = Governing.HORIZONTAL_MERIDIAN

_PROGRESSIVE = (LensType.PROGRESSIVE,)
_MULTIFOCAL = (LensType.MULTIFOCAL,)

_NOT_KNOWN = "clause not known"
_OF_1999 = "Printed for the 1999 edition; the 2015 text was not seen."
_UNSURE_EDGE = (
    "Whether millimetres count from 3.375 D or from 3.75 D is not sure: texts on the 1999 and 2005 "
    "editions print 3.75 D, and 3.375 D is remembered of the later ones."
)

# Three texts on the editions of 2015 and 2010 print the same figure.
_seen = partial(
    Row, confidence=Confidence.TWO_SOURCES, sources=(_SHEET, _STUDY_PAGE, _SUMMARY_2010)
)
_table_1 = partial(_seen, unit=Unit.DIOPTRE, clause="Table 1")
_table_2 = partial(_seen, unit=Unit.DIOPTRE, clause="Table 2", lens_types=_PROGRESSIVE)
_axis = partial(_seen, Quantity.AXIS, unit=Unit.DEGREE, clause="Table 3", lens_types=EVERY_TYPE)
_addition = partial(
    _seen,
    Quantity.ADDITION,
    unit=Unit.DIOPTRE,
    clause="Table 4",
    lens_types=(LensType.MULTIFOCAL, LensType.PROGRESSIVE),
)

_DISTANCE_POWER = (
    _table_1(Quantity.MERIDIAN_POWER, (_SPHERE.from_to(0.00, 6.50),), 0.13),
    _table_1(Quantity.MERIDIAN_POWER, (_SPHERE.above(6.50),), Percent(2, _SPHERE)),
    _table_1(Quantity.CYLINDER, (_CYLINDER.from_to(0.00, 2.00),), 0.13),
    _table_1(Quantity.CYLINDER, (_CYLINDER.above(2.00, up_to=4.50),), 0.15),
    _table_1(Quantity.CYLINDER, (_CYLINDER.above(4.50),), Percent(4, _CYLINDER)),
    _table_2(Quantity.MERIDIAN_POWER, (_SPHERE.from_to(0.00, 8.00),), 0.16),
    _table_2(Quantity.MERIDIAN_POWER, (_SPHERE.above(8.00),), Percent(2, _SPHERE)),
    _table_2(Quantity.CYLINDER, (_CYLINDER.from_to(0.00, 2.00),), 0.16),
    _table_2(Quantity.CYLINDER, (_CYLINDER.above(2.00, up_to=3.50),), 0.18),
    _table_2(Quantity.CYLINDER, (_CYLINDER.above(3.50),), Percent(5, _CYLINDER)),
    # The sheet alone has the column "below 0.12, not defined".
    _axis((_CYLINDER.below(0.12),), None, confidence=Confidence.READ, sources=(_SHEET,)),
    _axis((_CYLINDER.from_to(0.12, 0.25),), 14),
    _axis((_CYLINDER.above(0.25, up_to=0.50),), 7),
    _axis((_CYLINDER.above(0.50, up_to=0.75),), 5),
    _axis((_CYLINDER.above(0.75, up_to=1.50),), 3),
    _axis((_CYLINDER.above(1.50),), 2),
)

_ADDITION_ROWS = (
    _addition((_ADDITION.from_to(0.00, 4.00),), 0.12),
    _addition((_ADDITION.above(4.00),), 0.18),
)

_of_one_lens = partial(_seen, bands=(), clause="5.1.4", lens_types=EVERY_TYPE)
_of_a_pair = partial(_seen, clause="Table 6")
_of_a_progressive_pair = partial(
    Row,
    clause="Table 6",
    confidence=Confidence.READ,
    sources=(_PAGE_1999,),
    lens_types=_PROGRESSIVE,
    note=_OF_1999,
)
_unsure = partial(
    Row,
    clause="Table 6",
    confidence=Confidence.SPOT_CHECKED,
    sources=(_KEY, _PAGE_1999, _FORUM),
    lens_types=_PROGRESSIVE,
    note=_UNSURE_EDGE,
)

_PRISM = (
    _of_one_lens(
        Quantity.PRISM_ERROR,
        limit=0.33,
        unit=Unit.PRISM_DIOPTRE,
        note="That the error is the difference of the two prisms as arrows is from memory.",
    ),
    _of_one_lens(Quantity.PRP_DISPLACEMENT, limit=1.0, unit=Unit.MILLIMETRE),
    _of_a_pair(
        Quantity.VERTICAL_IMBALANCE, (_VERTICAL.from_to(0, 3.375),), 0.33, Unit.PRISM_DIOPTRE
    ),
    _of_a_pair(Quantity.PRP_HEIGHT_DIFFERENCE, (_VERTICAL.above(3.375),), 1.0, Unit.MILLIMETRE),
    _of_a_pair(
        Quantity.HORIZONTAL_IMBALANCE, (_HORIZONTAL.from_to(0, 2.75),), 0.67, Unit.PRISM_DIOPTRE
    ),
    _of_a_pair(Quantity.PRP_SEPARATION, (_HORIZONTAL.above(2.75),), 2.5, Unit.MILLIMETRE),
    _of_a_progressive_pair(
        Quantity.VERTICAL_IMBALANCE, (_VERTICAL.from_to(0, 3.375),), 0.33, Unit.PRISM_DIOPTRE
    ),
    _of_a_progressive_pair(
        Quantity.PRP_HEIGHT_DIFFERENCE, (_VERTICAL.above(3.375),), 1.0, Unit.MILLIMETRE
    ),
    # Below 3.375 D and above 3.75 D the editions agree.
    _unsure(
        Quantity.HORIZONTAL_IMBALANCE, (_HORIZONTAL.from_to(0, 3.375),), 0.67, Unit.PRISM_DIOPTRE
    ),
    _unsure(
        Quantity.PRP_DISTANCE,
        (_HORIZONTAL.above(3.375, up_to=3.75),),
        1.0,
        Unit.MILLIMETRE,
        confidence=Confidence.MEMORY,
        sources=(_KEY,),
    ),
    _unsure(Quantity.PRP_DISTANCE, (_HORIZONTAL.above(3.75),), 1.0, Unit.MILLIMETRE),
)

_segment = partial(
    Row,
    bands=(),
    unit=Unit.MILLIMETRE,
    clause=_NOT_KNOWN,
    confidence=Confidence.TWO_SOURCES,
    sources=(_STUDY_PAGE, _SUMMARY_2010),
    lens_types=_MULTIFOCAL,
)
_segment_size = partial(
    _segment, limit=0.5, confidence=Confidence.READ, sources=(_PAGE_1999,), note=_OF_1999
)
_segment_size_difference = partial(
    _segment,
    limit=0.7,
    confidence=Confidence.READ,
    sources=(_PAGE_1999,),
    note=f"{_OF_1999} An undated deck prints 0.5 mm.",
)
_fitting_point = partial(_segment, limit=1.0, lens_types=_PROGRESSIVE)

_POSITIONS = (
    _segment(Quantity.SEGMENT_HEIGHT, limit=1.0),
    _segment(Quantity.SEGMENT_HEIGHT_DIFFERENCE, limit=1.0),
    _segment(Quantity.SEGMENT_SEPARATION, limit=2.5),
    _segment(Quantity.SEGMENT_TILT, limit=2, unit=Unit.DEGREE),
    _segment_size(Quantity.SEGMENT_WIDTH),
    _segment_size(Quantity.SEGMENT_DEPTH),
    _segment_size(Quantity.INTERMEDIATE_DEPTH),
    _segment_size_difference(Quantity.SEGMENT_WIDTH_DIFFERENCE),
    _segment_size_difference(Quantity.SEGMENT_DEPTH_DIFFERENCE),
    _segment_size_difference(Quantity.INTERMEDIATE_DEPTH_DIFFERENCE),
    _fitting_point(Quantity.FITTING_POINT_HEIGHT, sources=(_FITTING_PAGE, _PAGE_1999)),
    _fitting_point(
        Quantity.FITTING_POINT_HEIGHT_DIFFERENCE, confidence=Confidence.MEMORY, sources=(_KEY,)
    ),
    _fitting_point(
        Quantity.FITTING_POINT_DISTANCE, confidence=Confidence.READ, sources=(_FITTING_PAGE,)
    ),
    _fitting_point(
        Quantity.MARKS_TILT,
        limit=2,
        unit=Unit.DEGREE,
        confidence=Confidence.MEMORY,
        sources=(_KEY,),
    ),
)

_any_lens = partial(
    Row,
    bands=(),
    unit=Unit.DIOPTRE,
    clause=_NOT_KNOWN,
    confidence=Confidence.TWO_SOURCES,
    lens_types=EVERY_TYPE,
)

_FORM = (
    _any_lens(
        Quantity.CENTRE_THICKNESS,
        limit=0.3,
        unit=Unit.MILLIMETRE,
        sources=(_PAGE_1999, _DECK_SEGMENTS),
        note="Measured at the PRP of the convex surface.",
    ),
    _any_lens(
        Quantity.BASE_CURVE,
        limit=0.75,
        sources=(_PAGE_1999, _DECK_SEGMENTS, _VIRGINIA),
        note="Only where the order gives a base curve.",
    ),
    _any_lens(
        Quantity.WARPAGE,
        limit=1.00,
        sources=(_VIRGINIA, _DECK_LIMITS),
        note="Not within 6 mm of the eyewire.",
    ),
)

STANDARD = Standard(
    key=_KEY,
    designation="ANSI Z80.1-2015",
    title="Prescription Ophthalmic Lenses - Recommendations",
    edition=2015,
    lens_states=(LensState.UNCUT, LensState.MOUNTED),
    meridian_rule=MeridianRule.SPHERE_MERIDIAN,
    rows=(*_DISTANCE_POWER, *_ADDITION_ROWS, *_PRISM, *_POSITIONS, *_FORM),
    either=(
        (Quantity.PRISM_ERROR, Quantity.PRP_DISPLACEMENT),
        (Quantity.VERTICAL_IMBALANCE, Quantity.PRP_HEIGHT_DIFFERENCE),
        (Quantity.HORIZONTAL_IMBALANCE, Quantity.PRP_SEPARATION, Quantity.PRP_DISTANCE),
    ),
    pair_rule=PairRule.EACH_LENS,
)
