"""The rules of `LensPower` for any lens, with numpy as the independent check on its matrix."""

from __future__ import annotations

import math
from dataclasses import astuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.power import LensPower, axis_difference, rounded_to, standard_axis
from tests.strategies import (
    astigmatic_lenses,
    axes,
    eighths,
    lens_powers,
    meridians,
    powers,
    written_lenses,
)

# A sum is cleaned: half a unit in the ninth decimal of its sphere, its cylinder and its axis, which
# for a cylinder of 50 D come to less than 1.5e-9 D. The longest chain here has four sums.
NOISE = 4 * 1.5e-9


def apart(one: LensPower, other: LensPower) -> float:
    """The largest difference between the power vectors of two lenses, in dioptres."""
    return max(abs(a - b) for a, b in zip(one.power_vector, other.power_vector, strict=True))


def near(value: float) -> object:
    return pytest.approx(value, rel=0, abs=NOISE)


def near_list(*values: float) -> object:
    return pytest.approx(list(values), rel=0, abs=NOISE)


# Angles -------------------------------------------------------------------------------------------


@given(st.floats(-1000, 1000))
def test_half_a_turn_leaves_a_direction_as_it_was(degrees: float) -> None:
    """Every angle has its place on the scale, and an angle 180 degrees on has the same place."""
    assert 0 < standard_axis(degrees) <= 180
    assert axis_difference(standard_axis(degrees), degrees + 180) == near(0)


# One lens, several names --------------------------------------------------------------------------


@given(lens_powers())
def test_every_form_is_the_same_lens(lens: LensPower) -> None:
    minus, plus = lens.in_minus_cylinder(), lens.in_plus_cylinder()
    assert minus.cylinder <= 0 <= plus.cylinder
    for form in (minus, plus, lens.transposed(), lens.transposed().transposed()):
        assert apart(form, lens) < NOISE


@given(lens_powers())
def test_the_crossed_cylinders_add_up_to_the_lens(lens: LensPower) -> None:
    first, second = lens.crossed_cylinders()
    assert first.sphere == second.sphere == 0
    assert apart(first + second, lens) < NOISE


@given(lens_powers())
def test_power_vector_and_matrix_lead_back_to_the_lens(lens: LensPower) -> None:
    """Both come back in minus cylinder."""
    for back in (
        LensPower.from_power_vector(*lens.power_vector),
        LensPower.from_matrix(lens.matrix),
    ):
        assert apart(back, lens) < NOISE
        assert back.cylinder <= 0


@given(astigmatic_lenses())
def test_the_minus_form_comes_back_figure_by_figure(lens: LensPower) -> None:
    minus = lens.in_minus_cylinder()
    back = LensPower.from_power_vector(*lens.power_vector)
    assert back.sphere == near(minus.sphere)
    assert back.cylinder == near(minus.cylinder)
    assert minus.axis is not None
    assert back.axis is not None
    assert axis_difference(back.axis, minus.axis) == near(0)


@given(lens_powers(), meridians())
def test_a_meridian_half_a_turn_on_is_the_same_meridian(lens: LensPower, meridian: float) -> None:
    assert lens.power_along(meridian) == near(lens.power_along(meridian + 180))


@given(lens_powers(), meridians())
def test_two_meridians_at_right_angles_have_twice_the_mean_sphere(
    lens: LensPower, meridian: float
) -> None:
    both = lens.power_along(meridian) + lens.power_along(meridian + 90)
    assert both == near(2 * lens.mean_sphere)


@given(lens_powers(), meridians())
def test_no_meridian_is_stronger_or_weaker_than_the_principal_ones(
    lens: LensPower, meridian: float
) -> None:
    weakest, strongest = sorted(m.power for m in lens.principal_meridians)
    assert weakest - NOISE <= lens.power_along(meridian) <= strongest + NOISE


@given(lens_powers())
def test_the_principal_meridians_have_their_powers(lens: LensPower) -> None:
    along, across = lens.principal_meridians
    assert axis_difference(along.direction, across.direction) == near(90)
    assert lens.power_along(along.direction) == near(along.power)
    assert lens.power_along(across.direction) == near(across.power)


# The matrix, with numpy as the independent check --------------------------------------------------


@given(lens_powers())
def test_the_eigenvalues_of_the_matrix_are_the_principal_powers(lens: LensPower) -> None:
    principal = sorted(m.power for m in lens.principal_meridians)
    assert list(np.linalg.eigvalsh(np.array(lens.matrix))) == near_list(*principal)


@given(lens_powers())
def test_trace_and_determinant(lens: LensPower) -> None:
    """The trace is twice the mean sphere; the determinant is the product of the two powers."""
    matrix = np.array(lens.matrix)
    sphere, cylinder = lens.sphere, lens.cylinder
    assert np.trace(matrix) == near(2 * lens.mean_sphere)
    assert np.linalg.det(matrix) == near(sphere * (sphere + cylinder))


@given(lens_powers(), meridians())
def test_the_matrix_gives_the_power_along_every_meridian(lens: LensPower, meridian: float) -> None:
    """Along the unit vector u the power is u'Fu, with x to the right and y up."""
    u = np.array([math.cos(math.radians(meridian)), math.sin(math.radians(meridian))])
    assert u @ np.array(lens.matrix) @ u == near(lens.power_along(meridian))


# Arithmetic ---------------------------------------------------------------------------------------


@given(lens_powers())
def test_a_lens_and_its_neutraliser_make_plano(lens: LensPower) -> None:
    assert lens + -lens == LensPower(0)


@given(lens_powers(), lens_powers())
def test_adding_then_taking_away_leaves_the_lens(one: LensPower, other: LensPower) -> None:
    assert apart((one + other) - other, one) < NOISE
    assert apart((one - other) + other, one) < NOISE


@given(lens_powers(), lens_powers())
def test_the_order_of_two_lenses_does_not_matter(one: LensPower, other: LensPower) -> None:
    assert apart(one + other, other + one) < NOISE


@given(lens_powers(), lens_powers(), lens_powers())
def test_the_grouping_of_three_lenses_does_not_matter(
    one: LensPower, two: LensPower, three: LensPower
) -> None:
    assert apart((one + two) + three, one + (two + three)) < NOISE


@given(lens_powers(), lens_powers(), meridians())
def test_powers_add_along_every_meridian(one: LensPower, other: LensPower, meridian: float) -> None:
    total = one + other
    along = one.power_along(meridian) + other.power_along(meridian)
    assert total.cylinder <= 0
    assert total.power_along(meridian) == near(along)
    assert total.mean_sphere == near(one.mean_sphere + other.mean_sphere)


# Steps --------------------------------------------------------------------------------------------


@given(powers(), st.sampled_from([0.25, 0.125]))
def test_a_stepped_power_is_a_whole_number_of_steps_at_most_half_a_step_away(
    power: float, step: float
) -> None:
    stepped = rounded_to(power, step)
    assert (stepped / step).is_integer()
    assert abs(stepped - power) <= step / 2 + NOISE


@given(eighths(), eighths(), axes())
def test_a_lens_in_steps_stays_as_it_is(sphere: float, cylinder: float, axis: float) -> None:
    lens = LensPower(sphere, cylinder, axis)
    assert astuple(lens.to_step(0.125)) == astuple(lens)


# Equality of the lens, not of its spelling --------------------------------------------------------


@given(written_lenses())
def test_a_written_lens_equals_its_other_spelling(lens: LensPower) -> None:
    """And a set or a dictionary takes the two for one."""
    assert lens == lens.transposed()
    assert {lens, lens.transposed()} == {lens}
