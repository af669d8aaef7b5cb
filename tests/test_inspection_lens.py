"""One unmounted lens: prism or place of the PRP, addition, thickness, base curve, warpage."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.inspection import Report, Verdict
from lensmath.job import MeasuredLens, OrderedLens
from lensmath.lens_inspection import inspect_unmounted
from lensmath.power import LensPower
from lensmath.prism import NO_PRISM, Prism
from lensmath.tolerances import find_standard, standards_for
from lensmath.tolerances.model import Confidence, LensState, LensType, Quantity
from tests.strategies import written_lenses

ANSI = find_standard("ansi-z80-1-2015")
ISO_MOUNTED = find_standard("iso-21987-2017")
ISO_UNCUT = find_standard("iso-8980-1-2017")
ISO_UNCUT_PROGRESSIVE = find_standard("iso-8980-2-2017")

INSIDE, OUTSIDE, UNDECIDED = Verdict.INSIDE, Verdict.OUTSIDE, Verdict.UNDECIDED
MULTIFOCAL, PROGRESSIVE = LensType.MULTIFOCAL, LensType.PROGRESSIVE

MINUS_TWO = OrderedLens(LensPower(-2.00))


def only_row(ordered, measured, standard, lens_type=LensType.SINGLE_VISION):
    (row,) = inspect_unmounted(ordered, measured, standard, lens_type).rows
    return row


# Prism at the PRP, ANSI: 0.33 or 1.0 mm -----------------------------------------------------------


# Source: z80-1-2015-quick-reference, "or", and its two figures.
@pytest.mark.parametrize(
    ("prism", "displacement", "verdict", "decides"),
    [
        (0.33, None, INSIDE, Quantity.PRISM_ERROR),
        (0.34, None, UNDECIDED, Quantity.PRISM_ERROR),
        (0.34, 1.0, INSIDE, Quantity.PRP_DISPLACEMENT),
        (0.34, 1.1, OUTSIDE, Quantity.PRISM_ERROR),
        (0.50, 1.1, OUTSIDE, Quantity.PRP_DISPLACEMENT),
        (0.33, 5.0, INSIDE, Quantity.PRISM_ERROR),
        (0.30, 0.1, INSIDE, Quantity.PRP_DISPLACEMENT),
        (None, 1.0, INSIDE, Quantity.PRP_DISPLACEMENT),
        (None, 1.1, UNDECIDED, Quantity.PRP_DISPLACEMENT),
    ],
)
def test_either_the_prism_or_the_place_of_the_prp_is_enough(prism, displacement, verdict, decides):
    read = None if prism is None else Prism(prism, 0)
    row = only_row(MINUS_TWO, MeasuredLens(prism=read, prp_displacement=displacement), ANSI)

    assert (row.verdict, row.quantity) == (verdict, decides)
    (other,) = row.others
    assert {row.quantity, other.quantity} == set(ANSI.either[0])


def test_the_row_says_what_it_was_decided_by():
    measured = MeasuredLens(prism=Prism(0, 0.66), prp_displacement=0.8)
    row = only_row(MINUS_TWO, measured, ANSI)

    assert (row.quantity.value, row.difference, row.limit) == ("displacement of the PRP", 0.8, 1.0)
    assert (row.share, row.clause, row.confidence) == (0.8, "5.1.4", Confidence.TWO_SOURCES)
    (broken,) = row.others
    assert (broken.difference, broken.share, broken.verdict) == (0.66, 2.0, OUTSIDE)


def test_a_row_is_no_less_sure_for_a_limit_that_it_does_not_need():
    """Inside one limit, how well the other is known matters no more; outside, both must hold."""
    rows = (
        replace(row, confidence=Confidence.MEMORY)
        if row.quantity is Quantity.PRP_DISPLACEMENT
        else row
        for row in ANSI.rows
    )
    standard = replace(ANSI, rows=tuple(rows))
    for prism, confidence in ((0.33, Confidence.TWO_SOURCES), (0.34, Confidence.MEMORY)):
        measured = MeasuredLens(prism=Prism(prism, 0), prp_displacement=1.1)
        row = only_row(MINUS_TWO, measured, standard)
        assert (row.quantity, row.confidence) == (Quantity.PRISM_ERROR, confidence)


# Arithmetic: the error is an arrow (memory), whichever way the parts lie.
@pytest.mark.parametrize(
    ("ordered", "measured", "error"),
    [
        ((2.00, 0), (2.00, 0.33), 0.33),
        ((2.00, 0), (2.30, 0.40), 0.50),
        ((0, -1.50), (0.24, -1.68), 0.30),
        ((3.00, 4.00), (-3.00, -4.00), 10.0),
        ((0.1, 0.2), (0.1, 0.53), 0.33),
    ],
)
def test_the_error_is_the_difference_of_two_arrows(ordered, measured, error):
    row = only_row(
        OrderedLens(LensPower(1), prism=Prism(*ordered)),
        MeasuredLens(prism=Prism(*measured)),
        ANSI,
    )

    assert row.difference == pytest.approx(error, abs=1e-9)
    assert row.verdict is (INSIDE if error <= 0.33 else UNDECIDED)
    assert (row.lowest, row.highest) == (0.0, 0.33)


# Prism at the PRP, ISO: horizontal and vertical ---------------------------------------------------


def test_the_uncut_prism_of_plus_half_with_cylinder():
    # +0.50 -2.50 x 20: meridians +0.50 and -2.00, S = 2.00, so 0.45 and 0.35.
    # Source: GB 10810.1, an example from memory (iso-8980-1-2017).
    ordered = OrderedLens(LensPower(0.50, -2.50, 20))
    for prism, verdicts in (
        (Prism(0.45, 0.35), [INSIDE, INSIDE]),
        (Prism(-0.45, -0.35), [INSIDE, INSIDE]),
        (Prism(0.46, 0.35), [OUTSIDE, INSIDE]),
        (Prism(0.45, -0.36), [INSIDE, OUTSIDE]),
    ):
        found = inspect_unmounted(ordered, MeasuredLens(prism=prism), ISO_UNCUT)
        assert [row.limit for row in found.rows] == [0.45, 0.35]
        assert [row.verdict for row in found.rows] == verdicts


@pytest.mark.parametrize(
    ("standard", "lens_type"),
    [(ISO_UNCUT, MULTIFOCAL), (ISO_UNCUT_PROGRESSIVE, PROGRESSIVE)],
)
def test_each_part_of_the_ordered_prism_picks_its_limit(standard, lens_type):
    # Table in memory of iso-8980-1-2017: 0.37 above 2, 0.50 above 10; S = 4.00 adds 0.40 and 0.20.
    ordered = OrderedLens(LensPower(-4.00), prism=Prism(-12, 3))
    horizontal, vertical = inspect_unmounted(
        ordered, MeasuredLens(prism=Prism(-12.9, 3.57)), standard, lens_type
    ).rows

    assert (horizontal.ordered, horizontal.measured, horizontal.limit) == (-12, -12.9, 0.9)
    assert (vertical.ordered, vertical.difference, vertical.limit) == (3, 0.57, 0.57)
    assert (horizontal.verdict, vertical.verdict) == (INSIDE, INSIDE)
    assert horizontal.confidence.remembered


def test_thinning_prism_counts_as_ordered():
    ordered = OrderedLens(LensPower(1.00), addition=2, prism=Prism(0, -1.5))
    thinned = MeasuredLens(prism=Prism(0, -1.5))

    for standard in (ANSI, ISO_UNCUT_PROGRESSIVE):
        found = inspect_unmounted(ordered, thinned, standard, PROGRESSIVE)
        assert found.worst.difference == 0


# Addition and form --------------------------------------------------------------------------------


# Sources: z80-1-2015-quick-reference; ISO from memory, iso-8980-1-2017.
@pytest.mark.parametrize(
    ("standard", "lens_type"),
    [
        (ANSI, MULTIFOCAL),
        (ANSI, PROGRESSIVE),
        (ISO_UNCUT, MULTIFOCAL),
        (ISO_UNCUT_PROGRESSIVE, PROGRESSIVE),
    ],
)
@pytest.mark.parametrize(
    ("ordered", "measured", "verdict"),
    [
        (2.00, 2.12, INSIDE),
        (2.00, 1.88, INSIDE),
        (2.00, 2.13, OUTSIDE),
        (2.00, 1.87, OUTSIDE),
        (2.20, 2.32, INSIDE),  # 2.32 - 2.20 is 0.1199999... or more in floats
        (4.00, 4.13, OUTSIDE),
        (4.125, 4.30, INSIDE),
        (4.50, 4.68, INSIDE),
        (4.50, 4.69, OUTSIDE),
    ],
)
def test_the_addition_at_its_limits(standard, lens_type, ordered, measured, verdict):
    row = only_row(
        OrderedLens(LensPower(-1), addition=ordered),
        MeasuredLens(addition=measured),
        standard,
        lens_type,
    )

    assert (row.quantity, row.verdict) == (Quantity.ADDITION, verdict)


# Sources: z80-1-1999-laboratory-page, verification-deck-segments, nj-virginia-rules.
@pytest.mark.parametrize(
    ("quantity", "ordered", "inside", "outside"),
    [
        (Quantity.CENTRE_THICKNESS, {"centre_thickness": 2.2}, (1.9, 2.5), (1.89, 2.51)),
        (Quantity.BASE_CURVE, {"base_curve": 6.25}, (5.50, 7.00), (5.49, 7.01)),
        (Quantity.WARPAGE, {}, (0.0, 1.00), (1.01, 1.50)),
    ],
)
def test_thickness_base_curve_and_warpage(quantity, ordered, inside, outside):
    name = quantity.value.replace(" ", "_")
    for verdict, values in ((INSIDE, inside), (OUTSIDE, outside)):
        for value in values:
            row = only_row(
                OrderedLens(LensPower(-2), **ordered), MeasuredLens(**{name: value}), ANSI
            )
            assert (row.quantity, row.verdict, row.measured) == (quantity, verdict, value)


def test_nothing_lies_below_no_warpage():
    row = only_row(MINUS_TWO, MeasuredLens(warpage=0.5), ANSI)

    assert (row.ordered, row.lowest, row.highest) == (0.0, 0.0, 1.0)


# A whole lens -------------------------------------------------------------------------------------


def test_all_of_a_lens_in_one_report():
    ordered = OrderedLens(
        LensPower(-2.00, -1.00, 178),
        addition=2.00,
        prism=Prism(1, 0),
        centre_thickness=2.0,
        base_curve=4.00,
        segment_width=28,
    )
    measured = MeasuredLens(
        LensPower(-2.10, -1.00, 2),
        addition=2.10,
        prism=Prism(1, 0.1),
        centre_thickness=2.2,
        base_curve=4.25,
        warpage=0.25,
        segment_width=28.2,
        segment_tilt=-1,
    )
    found = inspect_unmounted(ordered, measured, ANSI, MULTIFOCAL)

    assert [row.quantity.value for row in found.rows] == [
        "meridian power",
        "cylinder",
        "axis",
        "addition",
        "centre thickness",
        "base curve",
        "segment width",
        "warpage",
        "segment tilt",
        "prism error at the PRP",
    ]
    assert (found.verdict, found.worst.quantity, found.worst.difference) == (
        OUTSIDE,
        Quantity.AXIS,
        4.0,
    )
    assert found.unchecked == ()
    assert {row.eye for row in found.rows} == {None}


def test_only_what_was_measured_has_a_row():
    found = inspect_unmounted(
        OrderedLens(LensPower(-2), addition=2, centre_thickness=2),
        MeasuredLens(addition=2),
        ANSI,
        PROGRESSIVE,
    )

    assert [row.quantity for row in found.rows] == [Quantity.ADDITION]


def test_what_cannot_be_judged_is_named():
    # No base curve was ordered; ISO 8980-1 has no limit for warpage.
    measured = MeasuredLens(LensPower(-2), base_curve=5, warpage=0.1, prp_displacement=0.5)
    found = inspect_unmounted(MINUS_TWO, measured, ISO_UNCUT)

    assert found.unchecked == (
        Quantity.BASE_CURVE,
        Quantity.WARPAGE,
        Quantity.PRP_DISPLACEMENT,
    )
    assert found.verdict is INSIDE


def test_an_outside_row_is_worse_than_an_undecided_one_with_a_larger_share():
    ordered = OrderedLens(LensPower(-2), centre_thickness=2)
    measured = MeasuredLens(prism=Prism(3, 0), centre_thickness=2.4)
    found = inspect_unmounted(ordered, measured, ANSI)

    assert {row.verdict for row in found.rows} == {OUTSIDE, UNDECIDED}
    assert (found.verdict, found.worst.quantity) == (OUTSIDE, Quantity.CENTRE_THICKNESS)


def test_an_undecided_row_leaves_the_lens_undecided():
    ordered = OrderedLens(LensPower(-2), centre_thickness=2)
    measured = MeasuredLens(prism=Prism(0.4, 0), centre_thickness=2.3)
    found = inspect_unmounted(ordered, measured, ANSI)

    assert (found.verdict, found.worst.quantity) == (UNDECIDED, Quantity.PRISM_ERROR)


def test_rows_from_memory_are_named():
    found = inspect_unmounted(
        OrderedLens(LensPower(-2), centre_thickness=2),
        MeasuredLens(prism=NO_PRISM, centre_thickness=2),
        ISO_UNCUT,
    )

    assert [row.quantity for row in found.remembered] == [
        Quantity.HORIZONTAL_PRISM,
        Quantity.VERTICAL_PRISM,
    ]


# Refusals -----------------------------------------------------------------------------------------


def test_a_standard_for_mounted_lenses_is_refused():
    with pytest.raises(LensError, match="ISO 21987:2017 is for mounted lenses; choose a standard"):
        inspect_unmounted(MINUS_TWO, MeasuredLens(LensPower(-2)), ISO_MOUNTED)


def test_a_standard_for_other_lenses_is_refused():
    said = (
        r"ISO 8980-1:2017 has no limits for progressive lenses; its tables are for these: single "
        r"vision, multifocal\."
    )
    with pytest.raises(LensError, match=said):
        inspect_unmounted(MINUS_TWO, MeasuredLens(LensPower(-2)), ISO_UNCUT, PROGRESSIVE)


@pytest.mark.parametrize(
    ("measured", "said"), [(MeasuredLens(), "nothing"), (MeasuredLens(base_curve=5), "base curve")]
)
def test_a_report_without_rows_is_refused(measured, said):
    with pytest.raises(LensError, match=rf"can judge none of what was measured \({said}\)"):
        inspect_unmounted(MINUS_TWO, measured, ANSI)


@pytest.mark.parametrize(
    ("kind", "given", "said"),
    [
        (OrderedLens, {"addition": -0.25}, "ordered addition is zero or more; −0.25 D was given"),
        (OrderedLens, {"addition": math.nan}, "addition must be a number"),
        (OrderedLens, {"base_curve": math.inf}, "base curve must be a number"),
        (OrderedLens, {"centre_thickness": -1}, "centre thickness must be from 0 to 200 mm; −1"),
        (MeasuredLens, {"warpage": -0.1}, "warpage is zero or more; −0.10 D"),
        (MeasuredLens, {"prp_displacement": -1}, "PRP displacement must be from 0 to 200 mm"),
        (MeasuredLens, {"segment_tilt": math.nan}, "segment tilt must be a number"),
        (MeasuredLens, {"segment_height": 201}, "segment height must be from 0 to 200 mm; 201"),
    ],
)
def test_values_that_nothing_can_have_are_refused(kind, given, said):
    with pytest.raises(LensError, match=said):
        kind(LensPower(-2), **given)


# Any lens -----------------------------------------------------------------------------------------

uncut = st.sampled_from(
    [
        (standard.key, lens_type)
        for lens_type in LensType
        for standard in standards_for(lens_type).values()
        if LensState.UNCUT in standard.lens_states
    ]
)
hundredths = st.integers(-1500, 1500).map(lambda n: n / 100)
prisms = st.builds(Prism, hundredths, hundredths)
small_prisms = st.builds(Prism, *2 * [st.integers(-60, 60).map(lambda n: n / 100)])


@settings(deadline=None)
@given(written_lenses(), prisms, uncut)
def test_a_lens_made_as_ordered_passes(power, prism, scope):
    ordered = OrderedLens(power, prism=prism, addition=2, centre_thickness=2, base_curve=5)
    measured = MeasuredLens(
        power, prism=prism, addition=2, centre_thickness=2, base_curve=5, warpage=0
    )
    found = inspect_unmounted(ordered, measured, find_standard(scope[0]), scope[1])

    assert isinstance(found, Report)
    assert found.verdict is INSIDE
    assert found.worst.share == 0


@settings(deadline=None)
@given(written_lenses(), prisms, small_prisms, uncut)
def test_an_error_counts_alike_to_every_side(power, prism, error, scope):
    """In and out, up and down: only the size of the parts matters."""
    ordered = OrderedLens(power, prism=prism)
    standard, lens_type = find_standard(scope[0]), scope[1]
    verdicts = {
        inspect_unmounted(
            ordered,
            MeasuredLens(prism=prism + Prism(x * error.x, y * error.y)),
            standard,
            lens_type,
        ).verdict
        for x in (1, -1)
        for y in (1, -1)
    }
    assert len(verdicts) == 1


@pytest.mark.parametrize("addition", [0.0, 0.5])
def test_a_weak_addition_and_none_at_all_can_be_ordered(addition):
    assert OrderedLens(LensPower(-2.00), addition=addition).addition == addition
