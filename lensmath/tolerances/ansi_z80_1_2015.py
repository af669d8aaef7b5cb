"""ANSI Z80.1-2015, single vision and multifocal lenses: distance power, cylinder and axis.

The standard was not read. The figures stand in a two-page quick reference of the 2015 edition and
in an exam study page; the band edges also agree with a summary of the 2010 edition. The sheet
judges the sphere meridian in minus-cylinder form; the 1999 edition judged the meridian of highest
power.
"""

from functools import partial

from lensmath.tolerances.model import (
    Confidence,
    Governing,
    LensState,
    MeridianRule,
    Percent,
    Quantity,
    Row,
    Standard,
    Unit,
)

_SHEET = "z80-1-2015-quick-reference"
_STUDY_PAGE = "z80-1-2015-study-page"
_SUMMARY_2010 = "z80-1-2010-summary"

_SPHERE = Governing.SPHERE_MERIDIAN
_CYLINDER = Governing.CYLINDER

_table_1 = partial(
    Row,
    unit=Unit.DIOPTRE,
    clause="Table 1",
    confidence=Confidence.TWO_SOURCES,
    sources=(_SHEET, _STUDY_PAGE, _SUMMARY_2010),
)
_power = partial(_table_1, Quantity.MERIDIAN_POWER)
_cylinder = partial(_table_1, Quantity.CYLINDER)
_axis = partial(
    Row,
    Quantity.AXIS,
    unit=Unit.DEGREE,
    clause="Table 3",
    confidence=Confidence.TWO_SOURCES,
    sources=(_SHEET, _STUDY_PAGE, _SUMMARY_2010),
)

STANDARD = Standard(
    key="ansi-z80-1-2015",
    designation="ANSI Z80.1-2015",
    title="Prescription Ophthalmic Lenses - Recommendations",
    edition=2015,
    lens_states=(LensState.UNCUT, LensState.MOUNTED),
    meridian_rule=MeridianRule.SPHERE_MERIDIAN,
    rows=(
        _power((_SPHERE.from_to(0.00, 6.50),), 0.13),
        _power((_SPHERE.above(6.50),), Percent(2, _SPHERE)),
        _cylinder((_CYLINDER.from_to(0.00, 2.00),), 0.13),
        _cylinder((_CYLINDER.above(2.00, up_to=4.50),), 0.15),
        _cylinder((_CYLINDER.above(4.50),), Percent(4, _CYLINDER)),
        # The sheet alone has the column "below 0.12, not defined".
        _axis((_CYLINDER.below(0.12),), None, confidence=Confidence.READ, sources=(_SHEET,)),
        _axis((_CYLINDER.from_to(0.12, 0.25),), 14),
        _axis((_CYLINDER.above(0.25, up_to=0.50),), 7),
        _axis((_CYLINDER.above(0.50, up_to=0.75),), 5),
        _axis((_CYLINDER.above(0.75, up_to=1.50),), 3),
        _axis((_CYLINDER.above(1.50),), 2),
    ),
)
