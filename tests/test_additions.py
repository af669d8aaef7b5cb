"""Additions: measured, and the prescriptions that they give."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.additions import (
    Surface,
    addition_between,
    addition_of_readings,
    intermediate_addition,
    intermediate_prescription,
    measured_addition,
    near_prescription,
    wrong_side_error,
)
from lensmath.errors import LensError
from lensmath.power import LensPower
from lensmath.surfaces import ThickLens
from tests.printed import Row, as_printed, lens, published
from tests.strategies import astigmatic_lenses, eighths, lens_powers

additions = st.integers(0, 32).map(lambda steps: steps / 8)
surface_powers = st.floats(-12.0, 12.0)
thicknesses = st.floats(0.0, 10.0)
indices = st.floats(1.45, 1.9)


def thick(front: float, back: float, thickness: float, index: float) -> ThickLens:
    return ThickLens(LensPower(front), LensPower(back), thickness, index)


def assert_written(result: LensPower, row: Row) -> None:
    assert result.sphere == as_printed(row["printed_sphere"])
    assert result.cylinder == as_printed(row["printed_cylinder"])
    assert result.axis == (float(row["printed_axis"]) if row["printed_axis"] else None)


# Published figures -------------------------------------------------------------------------------


@published("additions_readings")
def test_addition_of_two_readings_as_printed(row: Row) -> None:
    distance, near = float(row["distance"]), float(row["near"])
    assert addition_of_readings(distance, near) == as_printed(row["printed"])
    assert addition_between(LensPower(distance), LensPower(near)) == as_printed(row["printed"])


@published("additions_near")
def test_near_prescription_as_printed(row: Row) -> None:
    near = near_prescription(lens(row), float(row["addition"]))
    assert_written(near, row)
    assert addition_between(lens(row), near) == float(row["addition"])


@published("additions_intermediate")
def test_intermediate_prescription_as_printed(row: Row) -> None:
    given_addition, percent = float(row["addition"]), float(row["percent"])
    assert_written(intermediate_prescription(lens(row), given_addition, percent), row)
    if percent == 50:
        assert_written(intermediate_prescription(lens(row), given_addition), row)


@published("additions_measured")
def test_addition_from_either_side_as_printed(row: Row) -> None:
    distance, near = (
        thick(
            float(row[f"{name}_front"]),
            float(row["back"]),
            float(row[f"{name}_thickness"]),
            float(row["index"]),
        )
        for name in ("distance", "near")
    )
    for name, portion in (("distance", distance), ("near", near)):
        for side, power in (
            ("front", portion.front_vertex_power),
            ("back", portion.back_vertex_power),
        ):
            assert power.sphere == as_printed(row[f"printed_{name}_{side}"])
    for side in Surface:
        printed = as_printed(row[f"printed_addition_{side.value}"])
        assert measured_addition(distance, near, side) == printed


# Prescriptions -----------------------------------------------------------------------------------


@given(lens_powers(), additions)
def test_addition_is_found_again_in_either_form(distance: LensPower, plus: float) -> None:
    near = near_prescription(distance, plus)
    assert addition_between(distance, near) == pytest.approx(plus, abs=1e-8)
    assert addition_between(distance, near.transposed()) == pytest.approx(plus, abs=1e-8)


@given(lens_powers(), additions)
def test_near_prescription_is_distance_and_a_sphere(distance: LensPower, plus: float) -> None:
    near = near_prescription(distance, plus)
    assert near == distance + LensPower(plus)
    assert (near.cylinder, near.axis) == (distance.cylinder, distance.axis)


@given(lens_powers(), additions, st.integers(0, 100))
def test_intermediate_lies_between(distance: LensPower, plus: float, percent: int) -> None:
    part = intermediate_addition(plus, percent)
    assert 0 <= part <= plus
    rest = intermediate_addition(plus, 100 - percent)
    assert part + rest == pytest.approx(plus)
    assert intermediate_prescription(distance, plus, percent) == near_prescription(distance, part)


def test_intermediate_is_half_and_not_rounded() -> None:
    assert intermediate_addition(2.25) == 1.125
    assert intermediate_prescription(LensPower(1), 2.25).sphere == 2.125
    assert intermediate_addition(1.1, 7) == 0.077  # 1.1 * 7 / 100 carries noise in floats
    assert intermediate_addition(3, 0) == 0
    assert intermediate_addition(3, 100) == 3


@given(astigmatic_lenses(), additions, st.floats(5, 175))
def test_another_axis_is_refused(distance: LensPower, plus: float, turn: float) -> None:
    assert distance.axis is not None
    turned = LensPower(distance.sphere + plus, distance.cylinder, (distance.axis + turn) % 180)
    with pytest.raises(LensError, match="both need the same cylinder and axis"):
        addition_between(distance, turned)


def test_another_cylinder_is_refused_with_both_lenses_in_one_form() -> None:
    with pytest.raises(
        LensError,
        match=r"^The distance prescription is −1\.00 −0\.50 × 090 and the near one \+1\.50 −0\.75 "
        r"× 090; an addition changes the sphere alone, so both need the same cylinder and axis\.$",
    ):
        addition_between(LensPower(-1.5, 0.5, 180), LensPower(1.5, -0.75, 90))
    with pytest.raises(LensError, match="same cylinder and axis"):
        addition_between(LensPower(1), LensPower(3, -0.25, 90))


@given(eighths(), additions.filter(lambda plus: plus > 0))
def test_near_below_distance_is_refused(power: float, plus: float) -> None:
    assert addition_of_readings(power, power) == 0
    with pytest.raises(LensError, match="is less plus than the distance power"):
        addition_of_readings(power, power - plus)


def test_float_noise_decides_nothing() -> None:
    assert near_prescription(LensPower(0.1), 0.2).sphere == 0.3
    assert addition_of_readings(0.3, 0.1 + 0.2) == 0
    distance, near = (thick(front, -4.75, 4.1, 1.586) for front in (8.75, 10.50))
    assert measured_addition(distance, near, Surface.BACK) == 1.840457705
    assert wrong_side_error(distance, near, Surface.FRONT) == 0.090457705
    assert addition_of_readings(0.3 + 1e-8, 0.3) == 0
    with pytest.raises(LensError, match="is less plus"):
        addition_of_readings(0.3 + 1e-5, 0.3)


def test_the_refusal_shows_both_powers() -> None:
    with pytest.raises(
        LensError, match=r"near power, −3\.00 D, .* distance power, \+1\.00 D; .* the same lines\.$"
    ):
        addition_of_readings(1.00, -3.00)
    with pytest.raises(LensError, match=r"near power, \+2\.00 D, .* distance power, \+3\.00 D;"):
        addition_of_readings(3.00, 2.00)


@pytest.mark.parametrize("bad", [-0.25, math.nan, math.inf])
def test_a_minus_addition_is_refused(bad: float) -> None:
    with pytest.raises(LensError, match=r"addition is 0 or plus; \S+ D was given"):
        near_prescription(LensPower(1), bad)
    with pytest.raises(LensError, match="addition is 0 or plus"):
        intermediate_addition(bad)


@pytest.mark.parametrize("percent", [-1, 100.1, math.nan])
def test_a_percentage_off_its_scale_is_refused(percent: float) -> None:
    with pytest.raises(LensError, match="from 0 to 100 percent of the addition"):
        intermediate_addition(2, percent)


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_a_reading_that_is_no_number_is_refused(bad: float) -> None:
    with pytest.raises(LensError, match="must be a number"):
        addition_of_readings(bad, 1)
    with pytest.raises(LensError, match="must be a number"):
        addition_of_readings(1, bad)


# Which side on the stop --------------------------------------------------------------------------


def test_the_side_with_the_segment_goes_to_the_stop() -> None:
    # The rule of ANSI Z80.1 and ISO 8980, from memory.
    assert (Surface.FRONT.measured_as, Surface.FRONT.temples) == (
        "front vertex power",
        "toward you",
    )
    assert (Surface.BACK.measured_as, Surface.BACK.temples) == (
        "back vertex power",
        "away from you",
    )
    assert Surface.FRONT.other is Surface.BACK
    assert Surface.BACK.other is Surface.FRONT


@given(surface_powers, surface_powers, thicknesses, additions, st.sampled_from(Surface))
def test_either_side_agrees_with_the_system_matrix(
    front: float, back: float, thickness: float, plus: float, on_stop: Surface
) -> None:
    # Independent computation (numpy): ray transfer matrices, right to left; -C/A and -C/D.
    def by_matrix(front: float) -> float:
        (a, _), (c, d) = (
            np.array([[1, 0], [-back, 1]])
            @ np.array([[1, thickness / 1000 / 1.6], [0, 1]])
            @ np.array([[1, 0], [-front, 1]])
        )
        return float(-c / (d if on_stop is Surface.FRONT else a))

    portions = (thick(power, back, thickness, 1.6) for power in (front, front + plus))
    expected = by_matrix(front + plus) - by_matrix(front)
    assert measured_addition(*portions, on_stop) == pytest.approx(expected, abs=1e-7)


@given(surface_powers, surface_powers, thicknesses, indices, additions)
def test_the_carrying_side_reads_the_addition_itself(
    front: float, back: float, thickness: float, index: float, plus: float
) -> None:
    """With one thickness, the difference of the vertex powers is what the surface carries."""
    distance = thick(front, back, thickness, index)
    on_front = thick(front + plus, back, thickness, index)
    on_back = thick(front, back + plus, thickness, index)
    for near, carrier, power in (
        (on_front, Surface.FRONT, front),
        (on_back, Surface.BACK, back),
    ):
        assert measured_addition(distance, near, carrier) == pytest.approx(plus, abs=1e-7)
        # From the other side, by algebra: A / ((1 - kF)(1 - k(F + A))) with k = t/n.
        k = thickness / 1000 / index
        through = plus / ((1 - k * power) * (1 - k * (power + plus)))
        error = wrong_side_error(distance, near, carrier)
        assert error == pytest.approx(through - plus, abs=1e-7)


def test_a_toric_back_surface_leaves_the_addition_of_the_front() -> None:
    distance, near = (
        ThickLens(LensPower(front), LensPower(-2, -3, 20), 5, 1.5) for front in (6.0, 8.5)
    )
    assert measured_addition(distance, near, Surface.FRONT) == pytest.approx(2.5, abs=1e-8)
    k = 0.005 / 1.5
    assert measured_addition(distance, near, Surface.BACK) == pytest.approx(
        2.5 / ((1 - k * 6) * (1 - k * 8.5)), abs=1e-8
    )


def test_a_toric_front_surface_reads_its_mean_from_the_back() -> None:
    distance, near = (
        ThickLens(LensPower(front, 2, 90), LensPower(-3), 5, 1.5) for front in (6.0, 8.5)
    )
    k = 0.005 / 1.5
    each = [2.5 / ((1 - k * f) * (1 - k * (f + 2.5))) for f in (6.0, 8.0)]
    read = measured_addition(distance, near, Surface.BACK)
    assert read == pytest.approx(sum(each) / 2, abs=1e-8)


def test_the_wrong_side_misleads_more_on_a_thicker_or_stronger_plus_front() -> None:
    def error(front: float, thickness: float) -> float:
        distance, near = (thick(power, -3, thickness, 1.5) for power in (front, front + 2.5))
        return wrong_side_error(distance, near, Surface.FRONT)

    assert error(6, 0) == 0
    assert 0 < error(4, 2) < error(8, 2) < error(8, 6) < error(14, 6)
    assert error(4, 2) < 0.06  # less than a reader sees
    assert error(14, 6) > 0.25
