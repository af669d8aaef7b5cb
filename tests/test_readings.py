"""Drum readings and the axis wheel turned into the power of the lens."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.power import LensPower
from lensmath.readings import Form, Lines, Readings
from lensmath.scale import HAND_SCALE, Direction

hundredths = st.integers(-2000, 2000).map(lambda n: n / 100)
wheels = st.integers(1, 180)


def written(power: LensPower) -> tuple[float, float, float | None]:
    """The spelling, because two spellings of one lens compare equal."""
    return power.sphere, power.cylinder, power.axis


# Published readings ------------------------------------------------------------------------------


def test_sphere_lines_then_cylinder_lines() -> None:
    # T10-01  Lecture slides "Cylinder form in lensometer"; given and answer both read.
    readings = Readings(-1.00, -2.00, wheel=67)
    assert written(readings.power) == (-1.00, -1.00, 67)
    assert (readings.form, readings.axis_turned) == (Form.MINUS, False)


def test_turning_toward_plus_gives_the_plus_form_of_the_same_lens() -> None:
    # T10-02  Lecture slides "Cylinder form in lensometer"; given and answer both read.
    readings = Readings(-2.00, -1.00, wheel=157)
    assert written(readings.power) == (-2.00, 1.00, 157)
    assert written(readings.minus_form) == (-1.00, -1.00, 67)
    assert (readings.form, readings.direction) == (Form.PLUS, Direction.PLUS)


def test_both_forms_of_a_textbook_reading() -> None:
    # T10-03  Textbook-style lensmeter question (question text only); inputs read, answer computed;
    # low-grade source (revision bank).
    readings = Readings(-7.50, -5.25, wheel=85)
    assert written(readings.plus_form) == (-7.50, 2.25, 85)
    assert written(readings.minus_form) == (-5.25, -2.25, 175)


def test_zero_error_is_subtracted() -> None:
    # T10-08  Lensmeter calibration question; inputs read, answer computed; low-grade source
    # (revision bank).
    readings = Readings(2.00, sharp_first=Lines.BOTH, zero_error=0.50)
    assert written(readings.power) == (1.50, 0, None)
    assert readings.corrected == (1.50, 1.50)


def test_the_cylinder_is_the_travel_and_not_the_second_number() -> None:
    # Course cards on lens reading print +2.50 -2.00 x 135 for these readings, which takes the other
    # number for the cylinder; listed among the misprints in the collected examples, with this
    # correction.
    readings = Readings(-2.00, 2.50, wheel=45)
    assert written(readings.minus_form) == (2.50, -4.50, 135)


# The rules ---------------------------------------------------------------------------------------


def test_reading_toward_minus() -> None:
    readings = Readings(-0.75, -3.25, wheel=112, turned=Direction.MINUS)
    assert written(readings.minus_form) == (-0.75, -2.50, 112)
    assert written(readings.plus_form) == (-3.25, 2.50, 22)
    assert readings.travel == -2.5


def test_cylinder_lines_first_turn_the_axis_by_90() -> None:
    readings = Readings(-3.25, -0.75, sharp_first=Lines.CYLINDER, wheel=112)
    assert written(readings.power) == (-3.25, 2.50, 22)
    assert (readings.form, readings.axis_turned) == (Form.PLUS, True)


@given(hundredths, hundredths, wheels)
def test_cylinder_lines_first_describe_the_lens_of_the_sphere_lines(
    sphere_lines: float, cylinder_lines: float, wheel: int
) -> None:
    readings = Readings(cylinder_lines, sphere_lines, sharp_first=Lines.CYLINDER, wheel=wheel)
    assert readings.power == LensPower(sphere_lines, cylinder_lines - sphere_lines, wheel)
    assert readings.power.sphere == cylinder_lines


@given(hundredths, hundredths, wheels, hundredths)
def test_the_order_of_reading_does_not_change_the_lens(
    one: float, other: float, wheel: int, zero_error: float
) -> None:
    there = Readings(one, other, Lines.SPHERE, wheel, zero_error=zero_error)
    back = Readings(other, one, Lines.CYLINDER, wheel, zero_error=zero_error)
    assert there.power == back.power
    assert there.travel == -back.travel


@given(hundredths, hundredths, wheels, hundredths)
def test_zero_error_shifts_the_sphere_only(
    first: float, second: float, wheel: int, zero_error: float
) -> None:
    true = Readings(first, second, wheel=wheel).power
    off = Readings(first, second, wheel=wheel, zero_error=zero_error).power
    assert off.sphere == pytest.approx(true.sphere - zero_error, abs=1e-9)
    assert (off.cylinder, off.axis) == (true.cylinder, true.axis)


@given(hundredths, hundredths)
def test_the_travel_is_what_the_scale_counts(first: float, second: float) -> None:
    readings = Readings(first, second, wheel=90)
    count = HAND_SCALE.count(first, second)
    assert (readings.travel, readings.direction) == (count.travel, count.direction)


@pytest.mark.parametrize(
    "readings",
    [
        Readings(-2.00, sharp_first=Lines.BOTH),
        Readings(-2.00, -2.00, sharp_first=Lines.BOTH),
        Readings(-2.00, -2.00),
        Readings(-2.00, -2.00, sharp_first=Lines.CYLINDER, wheel=30),
        Readings(-2.00, -2.00, turned=Direction.NONE),
        Readings(0.1 + 0.2 - 2.3, -2.00, wheel=30),
    ],
)
def test_a_sphere_has_no_axis(readings: Readings) -> None:
    assert written(readings.power) == (-2.00, 0, None)
    assert (readings.form, readings.direction) == (Form.SPHERE, Direction.NONE)
    assert not readings.axis_turned
    assert readings.minus_form == readings.plus_form == LensPower(-2.00)


def test_wheel_at_zero_is_180() -> None:
    assert Readings(0, -1, wheel=0).power.axis == 180
    assert Readings(0, -1, Lines.CYLINDER, wheel=90).power.axis == 180


def test_readings_between_marks_are_not_rounded() -> None:
    assert written(Readings(1.03, -0.04, wheel=12).power) == (1.03, -1.07, 12)


# What is refused ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given_values", "words"),
    [
        (
            {"first": -1, "second": -2, "sharp_first": Lines.BOTH, "wheel": 9},
            r"Both sets of lines were noted as sharp at once.* go from −1\.00 D to −2\.00 D; leave",
        ),
        (
            {"first": -1, "second": -2, "wheel": 9, "turned": Direction.PLUS},
            r"turned toward plus, but from −1\.00 D to −2\.00 D it goes toward minus; check",
        ),
        (
            {"first": -2, "second": -1, "wheel": 9, "turned": Direction.MINUS},
            r"turned toward minus, but from −2\.00 D to −1\.00 D it goes toward plus; check",
        ),
        (
            {"first": 1, "second": 1, "turned": Direction.PLUS},
            r"turned toward plus, but from \+1\.00 D to \+1\.00 D it goes neither way; check",
        ),
        (
            {"first": 1, "second": -1.25},
            r"has a cylinder of −2\.25 D; give the axis wheel, from 1 to 180",
        ),
        ({"first": -1, "second": 1.25}, r"has a cylinder of \+2\.25 D; give the axis wheel"),
        (
            {"first": 1, "sharp_first": Lines.BOTH, "turned": Direction.PLUS},
            r"turned toward plus, but from \+1\.00 D to \+1\.00 D it goes neither way; check",
        ),
        ({"first": 1.125, "wheel": 9}, r"Only the sphere lines were sharp at \+1\.125 D; give the"),
        (
            {"first": 1, "sharp_first": Lines.CYLINDER, "wheel": 9},
            r"Only the cylinder lines were sharp at \+1\.00 D; give the second reading",
        ),
        (
            {"first": 30.25, "second": 1, "wheel": 9},
            r"first reading must lie from −30\.00 to \+30\.00 D; \+30\.25 D was given",
        ),
        (
            {"first": 1, "second": -31, "wheel": 9},
            r"second reading must lie from −30\.00 to \+30\.00 D; −31\.00 D was given",
        ),
        ({"first": float("nan"), "sharp_first": Lines.BOTH}, r"first reading .* \+nan D was given"),
        (
            {"first": 1, "sharp_first": Lines.BOTH, "zero_error": -50},
            r"zero error must lie from −30\.00 to \+30\.00 D; −50\.00 D was given",
        ),
        ({"first": 1, "second": 2, "wheel": 181}, "wheel reads from 1 to 180 .*; 181 was given"),
        (
            {"first": 1, "second": 2, "sharp_first": Lines.CYLINDER, "wheel": -5},
            "wheel reads from 1 to 180 .*; −5 was given",
        ),
    ],
)
def test_contradictions_and_gaps(given_values: dict[str, object], words: str) -> None:
    with pytest.raises(LensError, match=words):
        Readings(**given_values)  # type: ignore[arg-type]


def test_the_strongest_readings_are_allowed() -> None:
    assert Readings(30, -30, wheel=90).travel == -60
