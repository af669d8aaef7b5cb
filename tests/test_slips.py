"""Which slips explain a wrong answer. The powers in the tables were worked out by hand."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.power import LensPower
from lensmath.readings import Form, Lines, Readings
from lensmath.scale import Band, Direction, GraduatedScale
from lensmath.slips import (
    CATALOGUE,
    Finding,
    Situation,
    Slip,
    Stage,
    Verdict,
    agreement,
    catalogue,
    explain,
    written_with,
)
from tests.printed import Row, as_printed, lens, published
from tests.strategies import eighths

MINUS = Situation(Readings(-0.75, -3.25, wheel=112), other_eye=Readings(-1.50, -2.25, wheel=75))
PLUS = Situation(Readings(4.50, 6.75, wheel=163))
WITH_ZERO_ERROR = Situation(Readings(-2.00, -2.75, wheel=38, zero_error=0.25))
CYLINDER_FIRST = Situation(Readings(-3.25, -0.75, sharp_first=Lines.CYLINDER, wheel=112))
ACROSS_ZERO = Situation(Readings(1.25, -0.875, wheel=27))
ONE_DIOPTRE = Situation(Readings(-1.00, -2.00, wheel=67))
WEAK = Situation(Readings(0.75, 1.25, wheel=30))
BETWEEN_MARKS = Situation(Readings(-0.825, -3.30, wheel=112))
SPHERE = Situation(Readings(-2.00, sharp_first=Lines.BOTH))

Written = tuple[float, float, float | None]


def spelt(power: LensPower) -> Written:
    """The spelling, because two spellings of one lens compare equal."""
    return power.sphere, power.cylinder, power.axis


def named(finding: Finding) -> set[frozenset[str]]:
    """The names of each set of slips."""
    return {frozenset(slip.name for slip in found.slips) for found in finding.explanations}


def sets(*names: str) -> set[frozenset[str]]:
    """Sets of names, each written "one + another"."""
    return {frozenset(together.split(" + ")) for together in names}


def test_a_zero_error_of_one_reading_is_taken_from_either() -> None:
    """Of -2.00 and -2.75 with +0.25: -2.25 and -2.75, or -2.00 and -3.00, from either end."""
    made = written_with(WITH_ZERO_ERROR, [catalogue.ZERO_ERROR_FROM_ONE])
    assert sorted(map(spelt, made)) == [
        (-3.00, 1.00, 128),
        (-2.75, 0.50, 128),
        (-2.25, -0.50, 38),
        (-2.00, -1.00, 38),
    ]


def test_what_needs_a_cylinder_is_not_made_of_a_sphere() -> None:
    sphere = Situation(Readings(-2.00, sharp_first=Lines.BOTH, zero_error=0.25))
    needing = [catalogue.ZERO_ERROR_FROM_ONE, catalogue.EXCHANGED]
    assert [written_with(sphere, [slip]) for slip in needing] == [(), ()]


def test_what_is_explained_is_spelt_as_it_was_written() -> None:
    for _, situation, written in ALONE:
        for attempt in (LensPower(*written), LensPower(*written).transposed()):
            for found in explain(situation, attempt, most=1).explanations:
                assert (found.written.cylinder > 0) == (attempt.cylinder > 0)


@pytest.mark.parametrize(
    ("lens", "attempt", "right"),
    [
        (LensPower(-1, -2, 40), LensPower(-1, -2, 41), "sphere cylinder"),
        (LensPower(-1, -0.5, 40), LensPower(-1.5, 0.5, 130), "sphere cylinder axis"),
    ],
)
def test_the_parts_that_agree(lens: LensPower, attempt: LensPower, right: str) -> None:
    parts = agreement(lens, attempt)
    assert [part for part, is_right in parts.items() if is_right] == right.split()


# One slip -----------------------------------------------------------------------------------------

ALONE = [
    # Right is -0.75 -2.50 x112, or -3.25 +2.50 x022.
    ("reading for cylinder", MINUS, (-0.75, -3.25, 112)),
    ("reading for cylinder", MINUS, (-3.25, -0.75, 22)),
    ("first reading across zero", MINUS, (0.75, -4.00, 112)),
    ("second reading across zero", MINUS, (-0.75, 4.00, 112)),
    ("read from the front", MINUS, (-0.75, -2.50, 68)),
    ("wheel read backwards", MINUS, (-0.75, -2.50, 108)),  # from 110
    ("wheel read backwards", MINUS, (-0.75, -2.50, 118)),  # from 115
    ("wheel read backwards", MINUS, (-0.75, -2.50, 128)),  # from 120
    ("axis 90 off", MINUS, (-0.75, -2.50, 22)),
    ("axis 90 off", MINUS, (-3.25, 2.50, 112)),
    ("other eye", MINUS, (-1.50, -0.75, 75)),
    ("fine step kept", MINUS, (-0.75, -2.375, 112)),  # 2 D and 3 eighths; 19 eighths
    ("coarse step too soon", MINUS, (-0.75, -2.75, 112)),  # 2 D and 3 quarters
    ("coarse step too soon", MINUS, (-0.75, -4.75, 112)),  # 19 quarters
    ("eighths as quarters", MINUS, (-3.25, 3.00, 22)),  # from the second: 2 D and 4 eighths
    ("sphere a dioptre off", MINUS, (-1.75, -2.50, 112)),
    ("sphere a dioptre off", MINUS, (0.25, -2.50, 112)),
    ("cylinder a dioptre off", MINUS, (-0.75, -3.50, 112)),
    ("cylinder a dioptre off", MINUS, (-0.75, -1.50, 112)),
    ("cylinder a dioptre off", MINUS, (-3.25, 3.50, 22)),
    ("sphere and cylinder exchanged", MINUS, (-2.50, -0.75, 112)),
    ("sphere kept", MINUS, (-0.75, 2.50, 22)),
    ("cylinder sign dropped", MINUS, (-0.75, 2.50, 112)),
    ("plus form as minus", MINUS, (-3.25, -2.50, 22)),
    ("sphere sign dropped", MINUS, (0.75, -2.50, 112)),
    ("sphere sign dropped", MINUS, (3.25, 2.50, 22)),
    ("both signs wrong", MINUS, (0.75, 2.50, 112)),
    ("cylinder left off", MINUS, (-0.75, 0, None)),
    ("cylinder left off", MINUS, (-3.25, 0, None)),
    ("sizes added", MINUS, (-0.75, -4.00, 112)),
    ("digits of the axis exchanged", MINUS, (-0.75, -2.50, 121)),
    ("digit of the axis lost", MINUS, (-0.75, -2.50, 12)),
    # Right is +4.50 +2.25 x163.
    ("plus form as minus", PLUS, (4.50, -2.25, 163)),
    ("sphere as minus", PLUS, (-4.50, 2.25, 163)),
    ("both signs wrong", PLUS, (-4.50, -2.25, 163)),
    ("quarters as eighths", PLUS, (4.50, 1.125, 163)),  # 9 eighths
    ("quarters as eighths", PLUS, (4.50, 2.125, 163)),  # 2 D and 1 eighth
    ("wheel read backwards", PLUS, (4.50, 2.25, 157)),
    ("sizes added", PLUS, (4.50, 11.25, 163)),
    ("digits of the axis exchanged", PLUS, (6.75, -2.25, 37)),  # of its other form, x073
    ("digit of the axis lost", PLUS, (4.50, 2.25, 63)),
    # Right is -2.25 -0.75 x038.
    ("reading for cylinder", WITH_ZERO_ERROR, (-2.25, -3.00, 38)),  # the second, corrected
    ("zero error from one reading", WITH_ZERO_ERROR, (-2.25, -0.50, 38)),
    ("zero error from one reading", WITH_ZERO_ERROR, (-2.00, -1.00, 38)),
    ("sizes added", WITH_ZERO_ERROR, (-2.25, -5.25, 38)),  # of the readings less the zero error
    ("digits of the axis exchanged", WITH_ZERO_ERROR, (-2.25, -0.75, 83)),
    ("zero error left in", WITH_ZERO_ERROR, (-2.00, -0.75, 38)),
    ("zero error added", WITH_ZERO_ERROR, (-1.75, -0.75, 38)),
    ("eighths as quarters", WITH_ZERO_ERROR, (-2.25, -1.50, 38)),  # 6 quarters
    # Right is -3.25 +2.50 x022.
    ("lines confused", CYLINDER_FIRST, (-3.25, 2.50, 112)),
    # Right is +1.25 -2.125 x027, or -0.875 +2.125 x117.
    ("sizes subtracted", ACROSS_ZERO, (-0.875, 0.375, 117)),
    # Right is -1.00 -1.00 x067. Nobody counts no dioptre where there is one.
    ("cylinder left off", ONE_DIOPTRE, (-1.00, 0, None)),
    ("cylinder left off", ONE_DIOPTRE, (-2.00, 0, None)),
    # Right is +0.75 +0.50 x030.
    ("plus form as minus", WEAK, (0.75, -0.50, 30)),
    ("sphere as minus", WEAK, (-0.75, 0.50, 30)),
    # Between -0.825 and -3.30 lie 17 steps of an eighth; as quarters they are 2.125 D more.
    ("coarse step too soon", BETWEEN_MARKS, (-0.825, -4.60, 112)),
    # Right is -2.00 DS.
    ("sphere a dioptre off", SPHERE, (-3.00, 0, None)),
]


@pytest.mark.parametrize(("name", "situation", "written"), ALONE)
def test_one_slip_is_found_as_exactly_that_slip(
    name: str, situation: Situation, written: Written
) -> None:
    finding = explain(situation, LensPower(*written))
    near = (name, written) == ("wheel read backwards", (-0.75, -2.50, 108))
    verdict = Verdict.AXIS_OFF if near else Verdict.SLIPS
    assert (finding.verdict, named(finding)) == (verdict, sets(name))
    (explanation,) = finding.explanations
    assert spelt(explanation.written) == written


def test_every_slip_of_the_catalogue_is_tried_alone() -> None:
    assert {name for name, _, _ in ALONE} == {slip.name for slip in CATALOGUE}


# Ties, all of which are given ---------------------------------------------------------------------

TIES = [
    # The smaller size was on the plus side: taking it for the other side is to subtract it.
    (ACROSS_ZERO, (1.25, -0.375, 27), {"second reading across zero", "sizes subtracted"}),
    # The one reading of a sphere is its power.
    (SPHERE, (2.00, 0, None), {"first reading across zero", "sphere sign dropped"}),
    # At 45 and 135 the mirrored axis is the axis turned by 90.
    *(
        (
            Situation(Readings(-0.75, -3.25, wheel=wheel)),
            (-0.75, -2.50, 180 - wheel),
            {"read from the front", "axis 90 off"},
        )
        for wheel in (45, 135)
    ),
    # Without a sphere the other form is -2.50 +2.50 x022. Its negative, +2.50 -2.50 x022, is this
    # lens too, but would have to be transposed once more after both signs went wrong.
    (
        Situation(Readings(0, -2.50, wheel=112)),
        (0, 2.50, 112),
        {
            "second reading across zero",
            "cylinder sign dropped",
        },
    ),
    # From the second reading toward zero, the sum of the sizes ends on the other side of it.
    (MINUS, (-3.25, 4.00, 22), {"first reading across zero", "sizes added"}),
    # 140 less its first digit is 180 - 140.
    (
        Situation(Readings(-0.75, -3.25, wheel=140)),
        (-0.75, -2.50, 40),
        {"read from the front", "digit of the axis lost"},
    ),
    # Spelt in the other form, it is the dropped sign of the cylinder that would need it.
    (
        Situation(Readings(0, -2.50, wheel=112)),
        (2.50, -2.50, 22),
        {"second reading across zero", "both signs wrong", "sphere and cylinder exchanged"},
    ),
    (
        Situation(Readings(0, -2.50, wheel=112)),
        (-2.50, 0, None),
        {"cylinder left off", "sphere and cylinder exchanged"},
    ),
    # -2.00 +1.00 x157: eight eighths are two dioptres as quarters.
    (ONE_DIOPTRE, (-2.00, 2.00, 157), {"cylinder a dioptre off", "eighths as quarters"}),
    # -1.00 -1.00 x067 a dioptre off; -2.00 +1.00 x157 with the sphere kept.
    (ONE_DIOPTRE, (-2.00, -1.00, 67), {"sphere a dioptre off", "sphere kept"}),
    # At 90 the neighbouring mark 90 - 5 mirrors 86 as it mirrors 94: 2 x 90 - 86 = 180 - 86.
    (
        Situation(Readings(-0.75, -3.25, wheel=86)),
        (-0.75, -2.50, 94),
        {"wheel read backwards", "read from the front"},
    ),
]


@pytest.mark.parametrize(("situation", "written", "names"), TIES)
def test_ties_are_all_given(situation: Situation, written: Written, names: set[str]) -> None:
    assert named(explain(situation, LensPower(*written))) == sets(*names)


# More slips ---------------------------------------------------------------------------------------

TWO = [
    (MINUS, (-0.75, -3.25, 68), {"read from the front + reading for cylinder"}),
    (MINUS, (-1.50, 0.75, 75), {"other eye + cylinder sign dropped"}),
    (WITH_ZERO_ERROR, (-1.75, -0.75, 142), {"zero error added + read from the front"}),
    (PLUS, (4.50, 1.125, 157), {"wheel read backwards + quarters as eighths"}),
    # The other form with its axis kept, -3.00 +0.75 x038, is one dioptre away.
    (
        WITH_ZERO_ERROR,
        (-2.00, 0.75, 38),
        {"zero error left in + cylinder sign dropped", "axis 90 off + sphere a dioptre off"},
    ),
    # From the second reading it is -0.75 -3.25 x112, exchanged.
    (
        CYLINDER_FIRST,
        (-3.25, -0.75, 112),
        {
            "lines confused + reading for cylinder",
            "reading for cylinder + sphere and cylinder exchanged",
        },
    ),
]


@pytest.mark.parametrize(("situation", "written", "names"), TWO)
def test_two_slips_are_found(situation: Situation, written: Written, names: set[str]) -> None:
    finding = explain(situation, LensPower(*written))
    assert named(finding) == sets(*names)
    assert explain(situation, LensPower(*written), most=1) == Finding(Verdict.UNEXPLAINED)


def test_three_slips_are_found_when_asked_for() -> None:
    # Mirrored axis, the zero error left in, the sign of the cylinder dropped.
    attempt = LensPower(-2.00, 0.75, 142)
    assert explain(WITH_ZERO_ERROR, attempt).verdict is Verdict.UNEXPLAINED
    assert named(explain(WITH_ZERO_ERROR, attempt, most=3)) == sets(
        "zero error left in + read from the front + cylinder sign dropped",
        "read from the front + axis 90 off + sphere a dioptre off",
    )


def test_the_fewest_slips_win() -> None:
    """The cylinder's sign and the axis turned by 90 are also one slip: the sphere was kept."""
    signs = [catalogue.AXIS_90_OFF, catalogue.CYLINDER_SIGN_DROPPED]
    assert (-0.75, 2.50, 22) in {spelt(power) for power in written_with(MINUS, signs)}
    assert named(explain(MINUS, LensPower(-0.75, 2.50, 22))) == sets("sphere kept")


def test_slips_stand_in_the_order_of_the_work() -> None:
    for found in explain(WITH_ZERO_ERROR, LensPower(-2.00, 0.75, 142), most=3).explanations:
        assert found.slips == tuple(slip for slip in CATALOGUE if slip in found.slips)
        given_backwards = written_with(WITH_ZERO_ERROR, found.slips[::-1])
        assert found.written in given_backwards
        assert given_backwards == written_with(WITH_ZERO_ERROR, found.slips)


def test_the_travel_is_miscounted_in_one_way_only() -> None:
    counted = [catalogue.READING_FOR_CYLINDER, catalogue.CYLINDER_A_DIOPTRE_OFF]
    assert written_with(MINUS, counted) == ()
    for other in (catalogue.CYLINDER_LEFT_OFF, catalogue.SIZES_ADDED):
        assert written_with(MINUS, [catalogue.CYLINDER_A_DIOPTRE_OFF, other]) == ()
    counted = [catalogue.READING_FOR_CYLINDER, catalogue.SIZES_SUBTRACTED]
    assert written_with(ACROSS_ZERO, counted) == ()


def test_confused_lines_are_confused_from_either_reading() -> None:
    written = written_with(CYLINDER_FIRST, [catalogue.LINES_CONFUSED])
    assert {spelt(power) for power in written} == {(-3.25, 2.50, 112), (-0.75, -2.50, 22)}


def test_a_count_that_went_wrong_may_be_transposed() -> None:
    # -3.50 +2.00 x157, counted as +1.00 and then written in minus form.
    situation = Situation(Readings(-3.50, -1.50, wheel=157))
    finding = explain(situation, LensPower(-2.50, -1.00, 67), form=Form.MINUS)
    assert named(finding) == sets("cylinder a dioptre off")


def test_a_noted_direction_belongs_to_the_right_readings_only() -> None:
    """Across zero, and from the second reading, the drum would have gone the other way."""
    for first, second in ((0.75, -0.25), (0.25, -0.75)):
        noted = Situation(Readings(first, second, wheel=112, turned=Direction.MINUS))
        silent = Situation(Readings(first, second, wheel=112))
        for slip in (catalogue.FIRST_ACROSS_ZERO, catalogue.SECOND_ACROSS_ZERO):
            assert written_with(noted, [slip]) == written_with(silent, [slip]) != ()


# Published slips ----------------------------------------------------------------------------------


@published("slips")
def test_published_slip_is_named(row: Row) -> None:
    """The wrong power was printed, as an answer or as one to choose from."""
    situation = Situation(
        Readings(float(row["first"]), float(row["second"]), wheel=float(row["wheel"]))
    )
    form = {"": None, "minus": Form.MINUS, "plus": Form.PLUS}[row["form"]]
    finding = explain(situation, lens(row, "printed_"), form=form, most=3)
    assert named(finding) == (sets(row["slip"]) if row["slip"] else set())
    assert (finding.verdict is Verdict.UNEXPLAINED) == (not row["slip"])


def test_the_slip_in_the_printed_working_gives_the_printed_result() -> None:
    # T03-34 (mccardle-2009): -10.25 -2.50 x040 along 180, printed as -10.87.
    situation = Situation(Readings(-10.25, -12.75, wheel=40))
    slips = written_with(situation, [catalogue.CYLINDER_A_DIOPTRE_OFF])
    assert as_printed("-10.87") in [power.power_along(180) for power in slips]
    assert situation.readings.power.power_along(180) == as_printed("-11.28")


# Right answers ------------------------------------------------------------------------------------


@pytest.mark.parametrize("situation", [MINUS, PLUS, WITH_ZERO_ERROR, CYLINDER_FIRST, ACROSS_ZERO])
def test_the_right_lens_is_no_slip_and_its_other_form_is_told(situation: Situation) -> None:
    minus, plus = situation.readings.minus_form, situation.readings.plus_form
    assert explain(situation, minus) == explain(situation, plus) == Finding(Verdict.RIGHT)
    assert explain(situation, minus, form=Form.MINUS).verdict is Verdict.RIGHT
    assert explain(situation, plus, form=Form.PLUS).verdict is Verdict.RIGHT
    assert explain(situation, minus, form=Form.PLUS) == Finding(Verdict.OTHER_FORM)
    assert explain(situation, plus, form=Form.MINUS) == Finding(Verdict.OTHER_FORM)


@pytest.mark.parametrize("form", [None, Form.MINUS, Form.PLUS])
def test_a_sphere_is_right_in_every_form(form: Form | None) -> None:
    assert explain(SPHERE, LensPower(-2.00), form=form) == Finding(Verdict.RIGHT)


def test_where_the_form_matters_nothing_is_transposed_after_the_last_slip() -> None:
    """-0.75 +2.50 x112 has lost a sign; its other form has not, so it is a different story."""
    lost = LensPower(-0.75, 2.50, 112)
    assert named(explain(MINUS, lost, form=Form.PLUS)) == sets("cylinder sign dropped")
    assert named(explain(MINUS, lost.transposed())) == sets("cylinder sign dropped")
    spelling = explain(MINUS, lost.transposed(), form=Form.MINUS)
    assert sets("cylinder sign dropped") & named(spelling) == set()
    # A wrong count may be transposed, for it is not known to be wrong.
    counted = LensPower(-0.75, -3.25, 112).transposed()
    assert named(explain(MINUS, counted, form=Form.PLUS)) == sets("reading for cylinder")


def test_no_known_slip() -> None:
    assert explain(MINUS, LensPower(-1.10, -2.40, 99), most=3) == Finding(Verdict.UNEXPLAINED)


# Slips that change nothing ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("readings", "slips"),
    [
        (Readings(0, -2.50, wheel=112), ["first reading across zero", "sizes subtracted"]),
        (Readings(-0.75, -3.25, wheel=90), ["read from the front", "wheel read backwards"]),
        (Readings(-0.75, -3.25, wheel=180), ["read from the front", "wheel read backwards"]),
        (
            Readings(-0.75, -3.25, wheel=110),
            ["wheel read backwards", "other eye", "zero error added", "lines confused"],
        ),
        (
            Readings(-2.00, sharp_first=Lines.BOTH),
            [
                *("reading for cylinder", "cylinder a dioptre off", "both signs wrong"),
                *("sphere kept", "cylinder left off", "sizes added"),
            ],
        ),
        (Readings(-2.00, -2.00, wheel=30), ["read from the front", "axis 90 off", "sizes added"]),
        (Readings(2.00, -1.00, wheel=100), ["sizes added"]),
        (Readings(-0.75, -3.25, wheel=12.5), ["digits of the axis exchanged"]),
        (Readings(-0.75, -3.25, wheel=10), ["digit of the axis lost"]),
        (Readings(0, sharp_first=Lines.BOTH), ["sphere sign dropped", "sphere as minus"]),
        (Readings(-2.00, sharp_first=Lines.BOTH, wheel=30), ["reading for cylinder"]),
        (Readings(-2.00, -2.00), ["reading for cylinder", "second reading across zero"]),
        (Readings(-2.00, -2.00, wheel=30), ["second reading across zero"]),
        (Readings(4.50, 6.75, wheel=163), ["sizes subtracted", "eighths as quarters"]),
        (Readings(2.00, -1.00, wheel=30), ["quarters as eighths", "fine step kept"]),
    ],
)
def test_a_slip_that_changes_nothing_is_not_made(readings: Readings, slips: list[str]) -> None:
    for slip in CATALOGUE:
        if slip.name in slips:
            assert written_with(Situation(readings), [slip]) == (), slip.name
            slips.remove(slip.name)
    assert slips == []


def test_without_a_sphere_the_second_reading_is_the_cylinder() -> None:
    situation = Situation(Readings(0, -2.50, wheel=112))
    assert explain(situation, LensPower(0, -2.50, 112)) == Finding(Verdict.RIGHT)


def test_without_a_sphere_only_the_other_form_has_two_signs() -> None:
    situation = Situation(Readings(0, -2.50, wheel=112))
    (wrong,) = written_with(situation, [catalogue.BOTH_SIGNS_WRONG])
    assert spelt(wrong) == (2.50, -2.50, 22)


def test_two_like_readings_with_the_second_written_as_a_cylinder() -> None:
    situation = Situation(Readings(-2.00, -2.00, wheel=30))
    assert named(explain(situation, LensPower(-2.00, -2.00, 30))) == sets("reading for cylinder")


def test_without_the_other_lens_an_exchange_of_the_eyes_is_not_found() -> None:
    alone = Situation(MINUS.readings)
    assert explain(alone, LensPower(-1.50, -0.75, 75)).verdict is Verdict.UNEXPLAINED


# The scale ----------------------------------------------------------------------------------------


def test_the_marks_are_those_of_the_scale() -> None:
    quarters = GraduatedScale((Band(20, 0.25),))
    situation = Situation(Readings(-0.75, -3.25, wheel=112), scale=quarters)
    # Ten marks of 0.25 D as eighths, and two dioptres with two of them.
    for cylinder in (-1.25, -2.25):
        attempt = LensPower(-0.75, cylinder, 112)
        assert named(explain(situation, attempt)) == sets("quarters as eighths")
    assert written_with(situation, [catalogue.FINE_STEP_KEPT]) == ()


def test_what_lies_between_the_marks_is_not_miscounted() -> None:
    # Two dioptres, then a rest of 0.05 to -2.875, an eighth to -3.00, a quarter and a rest of 0.05.
    situation = Situation(Readings(-0.825, -3.30, wheel=112))
    attempt = LensPower(-0.825, -2.35, 112)
    assert named(explain(situation, attempt)) == sets("fine step kept")


@pytest.mark.parametrize("other", [False, True])
def test_readings_lie_on_the_scale(other: bool) -> None:
    short = GraduatedScale((Band(5, 0.25),))
    far, near = Readings(1.00, -6.00, wheel=30), Readings(1.00, -2.00, wheel=30)
    with pytest.raises(LensError, match=r"scale runs from −5\.00 D .*; −6\.00 D was given"):
        Situation(near if other else far, far if other else None, short)


# Tolerances ---------------------------------------------------------------------------------------


def test_without_a_tolerance_one_degree_is_wrong() -> None:
    finding = explain(MINUS, LensPower(-0.75, -2.50, 113))
    assert finding == Finding(Verdict.AXIS_OFF, axis_off=1)


def test_a_cylinder_within_the_tolerance_may_be_left_out() -> None:
    situation = Situation(Readings(-1.00, -1.05, wheel=30))
    assert explain(situation, LensPower(-1.00), power_tolerance=0.0625).verdict is Verdict.RIGHT


def test_a_rounded_answer_is_right_within_the_tolerance_inclusive() -> None:
    rounded = LensPower(1.25, -2.25, 27)  # the cylinder is -2.125
    assert explain(ACROSS_ZERO, rounded).verdict is not Verdict.RIGHT
    assert explain(ACROSS_ZERO, rounded, power_tolerance=0.12).verdict is not Verdict.RIGHT
    assert explain(ACROSS_ZERO, rounded, power_tolerance=0.125).verdict is Verdict.RIGHT
    shifted = LensPower(1.375, -2.125, 27)
    assert explain(ACROSS_ZERO, shifted, power_tolerance=0.12).verdict is not Verdict.RIGHT
    assert explain(ACROSS_ZERO, shifted, power_tolerance=0.125).verdict is Verdict.RIGHT


def test_the_axis_tolerance_is_inclusive_and_goes_across_180() -> None:
    situation = Situation(Readings(-0.75, -3.25, wheel=179))
    attempt = LensPower(-0.75, -2.50, 2)
    assert explain(situation, attempt, axis_tolerance=3).verdict is Verdict.RIGHT
    assert explain(situation, attempt, axis_tolerance=2.9).verdict is not Verdict.RIGHT


def test_a_slip_within_the_tolerance_shows_what_it_really_gives() -> None:
    rounded = LensPower(-0.75, -2.25, 114)
    finding = explain(MINUS, rounded, power_tolerance=0.125, axis_tolerance=2)
    (found,) = finding.explanations
    assert ([slip.name for slip in found.slips], spelt(found.written)) == (
        ["fine step kept"],
        (-0.75, -2.375, 112),
    )


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"power_tolerance": -0.125}, r"A tolerance is zero or more; −0\.125 was given"),
        ({"axis_tolerance": float("nan")}, "A tolerance is zero or more; nan was given"),
        ({"form": Form.SPHERE}, "asked for in minus cylinder or in plus cylinder"),
    ],
)
def test_what_cannot_be_asked(wrong: dict[str, object], words: str) -> None:
    with pytest.raises(LensError, match=words):
        explain(MINUS, LensPower(-1), **wrong)  # type: ignore[arg-type]


# An axis a little off, and the parts that are right -----------------------------------------------


@pytest.mark.parametrize("form", [None, Form.MINUS])
@pytest.mark.parametrize("axis", [107, 117])
def test_an_axis_up_to_five_degrees_off_is_told_as_such(axis: float, form: Form | None) -> None:
    assert explain(MINUS, LensPower(-0.75, -2.50, axis), form=form) == Finding(
        Verdict.AXIS_OFF, axis_off=5
    )
    beyond = LensPower(-0.75, -2.50, axis + (1 if axis > 112 else -1))
    assert explain(MINUS, beyond, form=form).verdict is not Verdict.AXIS_OFF


def test_an_axis_a_little_off_goes_across_180_and_by_either_form() -> None:
    situation = Situation(Readings(-0.75, -3.25, wheel=179))
    for attempt in (LensPower(-0.75, -2.50, 2), LensPower(-3.25, 2.50, 92)):
        assert explain(situation, attempt) == Finding(Verdict.AXIS_OFF, axis_off=3)


def test_an_axis_a_little_off_has_a_single_slip_beside_it_or_none() -> None:
    nearly = LensPower(-0.75, -2.50, 108)
    assert named(explain(MINUS, nearly)) == sets("wheel read backwards")
    assert explain(MINUS, nearly).axis_off == 4
    assert explain(MINUS, nearly, most=0) == Finding(Verdict.AXIS_OFF, axis_off=4)
    # In its other form the axis is 137: from 135 backwards 133, or from 140 backwards 143, and with
    # its digits exchanged 134. Two slips are too many for three degrees.
    situation = Situation(Readings(-0.75, -3.25, wheel=47))
    two = [catalogue.WHEEL_BACKWARDS, catalogue.DIGITS_EXCHANGED]
    attempt = LensPower(-3.25, 2.50, 134)
    assert spelt(attempt) in map(spelt, written_with(situation, two))
    assert explain(situation, attempt) == Finding(Verdict.AXIS_OFF, axis_off=3)


@pytest.mark.parametrize(
    ("wheel", "slip", "axes"),
    [
        # The axis in either form: 109 would be 190, 118 181, and 100 nothing.
        (109, catalogue.DIGITS_EXCHANGED, {91}),  # of 019
        (118, catalogue.DIGITS_EXCHANGED, {82}),  # of 028
        (108, catalogue.DIGITS_EXCHANGED, {180, 81}),  # and of 018
        (100, catalogue.DIGIT_LOST, set()),
        (101, catalogue.DIGIT_LOST, {1}),
    ],
)
def test_digits_that_are_no_axis_are_not_written(
    wheel: float, slip: Slip, axes: set[float]
) -> None:
    written = written_with(Situation(Readings(-0.75, -3.25, wheel=wheel)), [slip])
    assert {power.axis for power in written} == axes


def test_in_the_other_form_than_asked_an_axis_a_little_off_is_no_near_miss() -> None:
    finding = explain(MINUS, LensPower(-3.25, 2.50, 23), form=Form.MINUS)
    assert finding.verdict is Verdict.UNEXPLAINED


@pytest.mark.parametrize(
    ("attempt", "right"),
    [
        (LensPower(-0.75, -2.50, 121), "sphere cylinder"),
        (LensPower(-0.75, -3.25, 112), "sphere axis"),
        (LensPower(-3.25, 2.25, 22), "sphere axis"),
        (LensPower(-1.10, -2.40, 99), ""),
        (LensPower(-0.75), "sphere"),
    ],
)
def test_each_part_is_right_or_not(attempt: LensPower, right: str) -> None:
    for right_lens in (MINUS.readings.minus_form, MINUS.readings.plus_form):
        parts = agreement(right_lens, attempt)
        assert [part for part, is_right in parts.items() if is_right] == right.split()
        assert ("axis" in parts) == (attempt.axis is not None)


# The catalogue ------------------------------------------------------------------------------------


def test_the_catalogue_holds_every_slip_once_in_the_order_of_the_work() -> None:
    named_in_module = [value for value in vars(catalogue).values() if isinstance(value, Slip)]
    assert list(CATALOGUE) == named_in_module
    assert len({slip.name for slip in CATALOGUE}) == len(CATALOGUE)
    assert len({slip.sentence for slip in CATALOGUE}) == len(CATALOGUE)
    stages = [list(Stage).index(slip.stage) for slip in CATALOGUE]
    assert stages == sorted(stages)


@pytest.mark.parametrize("slip", CATALOGUE, ids=lambda slip: slip.name)
def test_a_slip_is_told_in_one_sentence(slip: Slip) -> None:
    assert slip.sentence.endswith(".")
    assert slip.sentence.count(".") == 1


# Whatever the readings ----------------------------------------------------------------------------

wheels = st.integers(1, 180).map(float)


def readings() -> st.SearchStrategy[Readings]:
    """Two readings in eighths, either lines first, with or without zero error; or a sphere."""
    zero_errors = st.sampled_from([0.0, 0.0, 0.25, -0.125, 0.07])
    lines = st.sampled_from([Lines.SPHERE, Lines.CYLINDER])
    two = st.builds(
        Readings, eighths(8), eighths(8), lines, wheels, st.none(), zero_error=zero_errors
    )
    one = st.builds(Readings, eighths(8), sharp_first=st.just(Lines.BOTH), zero_error=zero_errors)
    return st.one_of(two, two, one)


situations = st.builds(Situation, readings(), st.none() | readings())


@settings(deadline=None)
@given(situations, st.sampled_from(CATALOGUE))
def test_any_slip_is_explained_and_every_explanation_gives_the_attempt(
    situation: Situation, slip: Slip
) -> None:
    for attempt, form in product(written_with(situation, [slip]), (None, Form.MINUS)):
        finding = explain(situation, attempt, form=form)
        if attempt == situation.readings.power:
            assert finding.explanations == ()
            assert finding.verdict in {Verdict.RIGHT, Verdict.OTHER_FORM}
            continue
        assert frozenset({slip.name}) in named(finding)
        for found in finding.explanations:
            assert len(found.slips) == 1
            assert spelt(found.written) == spelt(attempt)
            assert attempt in written_with(situation, found.slips)


@settings(deadline=None, max_examples=30)
@given(situations, st.sets(st.sampled_from(CATALOGUE), min_size=2, max_size=2))
def test_any_two_slips_are_explained_by_two_or_fewer(situation: Situation, two: set[Slip]) -> None:
    for attempt in written_with(situation, tuple(two))[:3]:
        finding = explain(situation, attempt)
        assert finding.verdict is not Verdict.UNEXPLAINED
        for found in finding.explanations:
            assert spelt(found.written) == spelt(attempt)
            assert len(found.slips) == 1 or frozenset(slip.name for slip in two) in named(finding)


def test_one_reading_stays_one_and_two_alike_cross_zero_together():
    (slip,) = (slip for slip in CATALOGUE if slip.name == "first reading across zero")
    alike, one = Situation(Readings(-2.00, -2.00)), SPHERE

    for situation in (alike, one):
        assert spelt(LensPower(2.00)) in map(spelt, written_with(situation, [slip]))


def test_a_second_reading_one_dioptre_on_may_be_taken_across_zero():
    (slip,) = (slip for slip in CATALOGUE if slip.name == "second reading across zero")
    written = written_with(Situation(Readings(1.00, 2.00, wheel=90)), [slip])

    assert spelt(LensPower(1.00, -3.00, 90)) in map(spelt, written)
