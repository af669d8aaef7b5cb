"""Verdicts on whole lenses: the published examples, the limits themselves, and any spelling."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lensmath.inspection import Verdict, either_of, inspect_lens, pass_window
from lensmath.power import LensPower
from lensmath.tolerances import find_standard, standards_for
from lensmath.tolerances.model import (
    Confidence,
    Governing,
    LensType,
    Quantity,
    Row,
    Unit,
)

ANSI = find_standard("ansi-z80-1-2015")
ISO_MOUNTED = find_standard("iso-21987-2017")
ISO_UNCUT = find_standard("iso-8980-1-2017")

INSIDE, OUTSIDE = Verdict.INSIDE, Verdict.OUTSIDE
NO_LIMIT, NOT_COMPARABLE = Verdict.NO_LIMIT, Verdict.NOT_COMPARABLE


def windows(ordered, standard):
    return [(row.lowest, row.highest) for row in pass_window(ordered, standard).rows]


def verdicts(ordered, measured, standard):
    return [row.verdict for row in inspect_lens(ordered, measured, standard).rows]


# Published examples ------------------------------------------------------------------------------


def test_minus_three_passes_from_2_87_to_3_13():
    # Source: z80-1-2015-study-page.
    assert windows(LensPower(-3.00), ANSI)[0] == (-3.13, -2.87)

    assert inspect_lens(LensPower(-3.00), LensPower(-2.87), ANSI).verdict is INSIDE
    assert inspect_lens(LensPower(-3.00), LensPower(-3.13), ANSI).verdict is INSIDE
    assert inspect_lens(LensPower(-3.00), LensPower(-2.86), ANSI).verdict is OUTSIDE
    assert inspect_lens(LensPower(-3.00), LensPower(-3.14), ANSI).verdict is OUTSIDE


def test_three_degrees_off_on_a_cylinder_of_1_25_is_at_the_limit_and_in():
    # Source: z80-1-2015-study-page.
    ordered = LensPower(0, -1.25, 90)

    axis = inspect_lens(ordered, LensPower(0, -1.25, 93), ANSI).rows[-1]
    assert (axis.difference, axis.limit, axis.share, axis.verdict) == (3.0, 3, 1.0, INSIDE)
    assert inspect_lens(ordered, LensPower(0, -1.25, 93.5), ANSI).verdict is OUTSIDE


def test_the_meridian_that_ansi_judges():
    # -6.00 -2.00 x 180: the 2015 sheet (z80-1-2015-quick-reference) judges the sphere meridian.
    power = pass_window(LensPower(-6.00, -2.00, 180), ANSI).rows[0]

    assert (power.meridian, power.ordered, power.limit) == (180.0, -6.00, 0.13)


# Windows -----------------------------------------------------------------------------------------


def test_iso_judges_each_principal_meridian_by_the_stronger():
    # Rows of ISO 21987:2017, Table 1 (from memory): stronger meridian 8.50, cylinder 2.50.
    along, across, cylinder, axis = pass_window(LensPower(-6.00, -2.50, 30), ISO_MOUNTED).rows

    assert (along.meridian, along.ordered, along.lowest, along.highest) == (30, -6, -6.12, -5.88)
    assert (across.meridian, across.ordered) == (120, -8.5)
    assert (across.lowest, across.highest) == (-8.62, -8.38)
    assert (cylinder.limit, cylinder.lowest, cylinder.highest) == (0.18, -2.68, -2.32)
    assert (axis.limit, axis.lowest, axis.highest) == (3, 27, 33)


@pytest.mark.parametrize(
    ("axis", "lowest", "highest", "wraps"),
    [
        (1, 178, 4, True),
        (177, 174, 180, False),
        (178, 175, 1, True),
        (180, 177, 3, True),
        (3, 180, 6, True),
        (4, 1, 7, False),
    ],
)
def test_an_axis_window_stays_on_the_scale(axis, lowest, highest, wraps):
    row = pass_window(LensPower(-3.00, -1.25, axis), ANSI).rows[-1]

    assert (row.lowest, row.highest, row.wraps) == (lowest, highest, wraps)


def test_a_cylinder_window_in_minus_form_ends_at_zero():
    assert windows(LensPower(-3.00), ANSI) == [(-3.13, -2.87), (-0.13, 0.0), (None, None)]
    assert windows(LensPower(0, -0.12, 90), ANSI)[1:] == [(-0.25, 0.0), (76.0, 104.0)]


def test_a_plus_cylinder_order_gives_the_window_of_its_minus_form():
    assert windows(LensPower(-3.00, 1.50, 90), ANSI) == windows(LensPower(-1.50, -1.50, 180), ANSI)


@pytest.mark.parametrize(("cylinder", "limit"), [(-0.125, 14), (-0.12, 14), (-0.11, None)])
def test_the_weakest_cylinder_with_an_axis_limit(cylinder, limit):
    assert pass_window(LensPower(1.00, cylinder, 45), ANSI).rows[-1].limit == limit


# Verdicts ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ordered", "measured", "standard", "expected"),
    [
        # exactly at the limit, where the subtraction alone would go wrong
        (LensPower(0.1 + 0.2), LensPower(0.43), ANSI, INSIDE),
        (LensPower(0.1 + 0.2), LensPower(0.44), ANSI, OUTSIDE),
        (LensPower(1.10), LensPower(1.23), ANSI, INSIDE),
        (LensPower(1.10), LensPower(1.24), ANSI, OUTSIDE),
        (LensPower(-2.20), LensPower(-2.08), ISO_MOUNTED, INSIDE),
        (LensPower(-2.20), LensPower(-2.07), ISO_MOUNTED, OUTSIDE),
        # 2 % of 7.00 D
        (LensPower(-7.00), LensPower(-7.14), ANSI, INSIDE),
        (LensPower(-7.00), LensPower(-7.15), ANSI, OUTSIDE),
        # cylinder: 0.13 D, and 4 % of 5.00 D
        (LensPower(0, -0.70, 90), LensPower(0, -0.83, 90), ANSI, INSIDE),
        (LensPower(0, -0.70, 90), LensPower(0, -0.84, 90), ANSI, OUTSIDE),
        (LensPower(0, -5.00, 90), LensPower(0, -5.20, 90), ANSI, INSIDE),
        (LensPower(0, -5.00, 90), LensPower(0, -5.21, 90), ANSI, OUTSIDE),
        # an eighth off: in for ANSI, out for ISO, which is printed 0.12
        (LensPower(2.00), LensPower(2.125), ANSI, INSIDE),
        (LensPower(2.00), LensPower(2.125), ISO_MOUNTED, OUTSIDE),
        # 1.00 x 90 measured at 86: in once mounted, out uncut
        (LensPower(0, -1.00, 90), LensPower(0, -1.00, 86), ISO_MOUNTED, INSIDE),
        (LensPower(0, -1.00, 90), LensPower(0, -1.00, 86), ISO_UNCUT, OUTSIDE),
    ],
)
def test_limits_are_inclusive_and_literal(ordered, measured, standard, expected):
    assert inspect_lens(ordered, measured, standard).verdict is expected


def test_iso_finds_a_fault_in_the_meridian_across_the_axis_that_ansi_leaves_to_the_cylinder():
    # along the axis -0.05, cylinder -0.10: both fit ANSI; across the axis they add to 0.15 D.
    ordered, measured = LensPower(-2.00, -1.00, 90), LensPower(-2.05, -1.10, 90)

    assert verdicts(ordered, measured, ANSI) == [INSIDE, INSIDE, INSIDE]
    assert verdicts(ordered, measured, ISO_MOUNTED) == [INSIDE, OUTSIDE, INSIDE, INSIDE]


def test_differences_are_measured_minus_ordered():
    rows = inspect_lens(LensPower(-2.00, -1.00, 178), LensPower(-1.90, -1.05, 1), ANSI).rows

    assert [row.difference for row in rows] == [0.10, -0.05, 3.0]
    assert [row.measured for row in rows] == [-1.90, -1.05, 1.0]


def test_the_axis_error_is_taken_the_short_way_round():
    # 178 against 002 is 4 degrees: outside 3, inside 5.
    assert verdicts(LensPower(0, -1.00, 178), LensPower(0, -1.00, 2), ANSI)[-1] is OUTSIDE
    assert verdicts(LensPower(0, -0.75, 178), LensPower(0, -0.75, 2), ANSI)[-1] is INSIDE


def test_a_sphere_that_measures_a_little_cylinder_is_judged_by_the_cylinder():
    inside = inspect_lens(LensPower(-2.00), LensPower(-2.00, -0.12, 33), ANSI)
    assert [row.verdict for row in inside.rows] == [INSIDE, INSIDE, NO_LIMIT]
    assert inside.verdict is INSIDE
    assert (inside.rows[-1].ordered, inside.rows[-1].difference) == (None, None)

    outside = inspect_lens(LensPower(-2.00), LensPower(-2.00, -0.25, 33), ANSI)
    assert [row.verdict for row in outside.rows] == [INSIDE, OUTSIDE, NO_LIMIT]
    assert outside.verdict is OUTSIDE


def test_a_cylinder_that_measures_as_a_sphere_has_no_axis_to_compare():
    lens = inspect_lens(LensPower(-2.00, -0.50, 90), LensPower(-2.00), ANSI)

    assert [row.verdict for row in lens.rows] == [INSIDE, OUTSIDE, NOT_COMPARABLE]
    assert lens.verdict is OUTSIDE
    assert (lens.rows[-1].difference, lens.rows[-1].share) == (None, None)


def test_a_weak_cylinder_at_the_wrong_axis_has_no_axis_limit():
    lens = inspect_lens(LensPower(-2.00, -0.10, 90), LensPower(-2.00, -0.10, 180), ANSI)

    assert lens.rows[-1].verdict is NO_LIMIT
    assert (lens.rows[-1].difference, lens.rows[-1].share) == (90.0, None)
    assert lens.rows[-1].tolerance.clause == "Table 3"


@pytest.mark.parametrize(
    ("measured", "near"),
    [(2.11, False), (2.12, True), (2.125, True), (2.13, True), (2.14, True), (2.15, False)],
)
def test_a_power_within_a_hundredth_of_its_limit_is_flagged(measured, near):
    assert inspect_lens(LensPower(2.00), LensPower(measured), ANSI).rows[0].near_limit is near


def test_an_axis_is_not_flagged_as_near_its_limit():
    rows = inspect_lens(LensPower(0, -1.00, 90), LensPower(0, -1.00, 93), ANSI).rows

    assert [row.near_limit for row in rows] == [False, False, False]


def test_the_worst_row_uses_the_largest_share_of_its_limit():
    lens = inspect_lens(LensPower(-2.00, -2.50, 90), LensPower(-2.10, -2.50, 93), ANSI)

    assert [row.share for row in lens.rows] == [pytest.approx(0.10 / 0.13), 0.0, 1.5]
    assert lens.worst is lens.rows[2]


def test_a_verdict_says_when_it_rests_on_memory():
    lens = LensPower(-4.00, -1.00, 90)

    assert inspect_lens(lens, lens, ANSI).remembered == ()
    remembered = inspect_lens(lens, lens, ISO_MOUNTED).remembered
    assert [row.quantity for row in remembered] == [
        Quantity.MERIDIAN_POWER,
        Quantity.MERIDIAN_POWER,
        Quantity.CYLINDER,
    ]
    uncut = inspect_lens(lens, lens, ISO_UNCUT)
    assert uncut.remembered == uncut.rows
    assert uncut.rows[-1].tolerance.confidence is Confidence.MEMORY


def test_a_multifocal_distance_power_may_have_rows_of_its_own():
    lens = LensPower(-2.00)
    tight = Row(
        Quantity.MERIDIAN_POWER,
        (Governing.SPHERE_MERIDIAN.from_to(0, 20),),
        0.05,
        Unit.DIOPTRE,
        "invented for this test",
        Confidence.MEMORY,
        ("invented",),
        (LensType.MULTIFOCAL,),
    )
    standard = replace(ANSI, rows=(tight, *ANSI.rows))

    assert inspect_lens(lens, lens, standard).rows[0].limit == 0.13
    assert inspect_lens(lens, lens, standard, LensType.MULTIFOCAL).rows[0].limit == 0.05


# Any spelling of the same lens -------------------------------------------------------------------

hundredths = st.integers(-2000, 2000).map(lambda step: step / 100)
small = st.integers(-30, 30).map(lambda step: step / 100)
axes = st.integers(1, 180)
# Every standard, for each kind of lens that it is for.
scopes = st.sampled_from(
    [
        (standard.key, lens_type)
        for lens_type in LensType
        for standard in standards_for(lens_type).values()
    ]
)


@st.composite
def orders_and_readings(draw):
    """An order and a reading near it, so that both verdicts come up."""
    ordered = LensPower(draw(hundredths), draw(hundredths), draw(axes))
    turned = ((ordered.axis or 180) + draw(st.integers(-8, 8))) % 180
    measured = LensPower(ordered.sphere + draw(small), ordered.cylinder + draw(small), turned)
    return ordered, measured


@settings(deadline=None)
@given(orders_and_readings(), scopes)
def test_the_verdict_is_the_same_for_any_spelling(lenses, scope):
    (ordered, measured), standard = lenses, find_standard(scope[0])

    said = {
        tuple(
            (row.quantity, row.limit, row.difference, row.verdict, row.near_limit)
            for row in inspect_lens(order, reading, standard, scope[1]).rows
        )
        for order in (ordered, ordered.transposed())
        for reading in (measured, measured.transposed())
    }
    assert len(said) == 1


@settings(deadline=None)
@given(orders_and_readings(), scopes)
def test_a_reading_passes_when_it_lies_in_the_window(lenses, scope):
    """The window and the verdict are two ways to the same answer."""
    lens = inspect_lens(*lenses, find_standard(scope[0]), scope[1])

    for row in lens.rows:
        if row.verdict in (INSIDE, OUTSIDE):
            low, high, value = row.lowest, row.highest, row.measured
            in_window = (
                value >= low - 1e-9 or value <= high + 1e-9
                if row.wraps
                else low - 1e-9 <= value <= high + 1e-9
            )
            assert in_window == (row.verdict is INSIDE)


@settings(deadline=None)
@given(hundredths, hundredths, axes, scopes)
def test_a_lens_made_as_ordered_passes(sphere, cylinder, axis, scope):
    ordered = LensPower(sphere, cylinder, axis)
    lens = inspect_lens(ordered, ordered, find_standard(scope[0]), scope[1])

    assert lens.verdict is INSIDE
    assert lens.worst.share == 0


# What a report keeps -----------------------------------------------------------------------------


def test_a_report_keeps_both_lenses_in_minus_form_and_the_standard():
    found = inspect_lens(LensPower(-4.25, 1.25, 91), LensPower(-4.37, 1.25, 90), ANSI)

    assert found.standard is pass_window(LensPower(-3), ANSI).standard is ANSI
    assert (found.ordered.sphere, found.ordered.cylinder, found.ordered.axis) == (-3, -1.25, 1)
    assert (found.measured.sphere, found.measured.cylinder, found.measured.axis) == (
        -3.12,
        -1.25,
        180,
    )
    assert [row.meridian for row in found.rows] == [1.0, None, None]


def test_an_axis_window_of_no_width_does_not_wrap():
    (row,) = (row for row in pass_window(LensPower(0, -3, 30), ANSI).rows if row.limit == 2)
    exact = replace(row, limit=0.0)

    assert (exact.lowest, exact.highest, exact.wraps) == (30.0, 30.0, False)


def test_without_a_limit_nothing_is_near_it_and_there_is_no_window():
    limited = inspect_lens(LensPower(-3), LensPower(-3), ANSI).rows[0]
    unlimited = replace(limited, limit=None)

    assert (unlimited.lowest, unlimited.highest, unlimited.near_limit) == (None, None, False)


def test_rows_of_one_lens_are_not_of_a_mixed_pair():
    rows = inspect_lens(LensPower(-3, -1, 180), LensPower(-3, -1, 180), ANSI).rows

    assert not either_of(rows).mixed
