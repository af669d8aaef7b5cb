"""The rules of `LensPower` in whole numbers, to be checked in the head, and what it refuses."""

from __future__ import annotations

import math
from dataclasses import FrozenInstanceError, astuple

import numpy as np
import pytest

from lensmath.errors import LensError
from lensmath.power import (
    LensPower,
    Meridian,
    axis_difference,
    rounded_to,
    snapped,
    standard_axis,
)

# Angles -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("degrees", "axis"),
    [
        (0, 180),
        (180, 180),
        (360, 180),
        (1, 1),
        (179, 179),
        (181, 1),
        (270, 90),
        (-1, 179),
        (1e-12, 180),
        (180 - 1e-12, 180),
        (-1e-17, 180),
        (0.5, 0.5),
    ],
)
def test_a_direction_is_written_above_0_and_up_to_180(degrees: float, axis: float) -> None:
    assert standard_axis(degrees) == axis


@pytest.mark.parametrize(
    ("one", "other", "degrees"),
    [
        (178, 2, 4),
        (2, 178, 4),
        (180, 0, 0),
        (10, 100, 90),
        (10, 101, 89),
        (45, 135, 90),
        (30, 20, 10),
    ],
)
def test_axes_differ_by_at_most_90(one: float, other: float, degrees: float) -> None:
    assert axis_difference(one, other) == degrees


def test_snapping_keeps_nine_decimals_and_no_negative_zero() -> None:
    assert snapped(0.123456789) == 0.123456789
    assert snapped(1 + 4e-10) == 1
    assert math.copysign(1, snapped(-1e-10)) == 1


def test_results_carry_no_float_noise() -> None:
    """0.1 + 0.2 is 0.3, and a sphere of minus zero is zero."""
    assert LensPower(0.1, 0.2, 90).transposed().sphere == 0.3
    assert LensPower.from_power_vector(0.1, 0.2, 0).sphere == 0.3
    assert (LensPower(0.1, 0, 90) + LensPower(0.2)).sphere == 0.3
    assert math.copysign(1, LensPower(-0.0).sphere) == 1


# One lens, several names --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("minus", "plus"),
    [
        (LensPower(1, -2, 90), LensPower(-1, 2, 180)),
        (LensPower(0, -1, 180), LensPower(-1, 1, 90)),
        (LensPower(3, -1, 1), LensPower(2, 1, 91)),
        (LensPower(-2, -4, 135), LensPower(-6, 4, 45)),
    ],
)
def test_transposing_adds_the_cylinder_changes_its_sign_and_turns_the_axis_by_90(
    minus: LensPower, plus: LensPower
) -> None:
    assert astuple(minus.transposed()) == astuple(plus)
    assert astuple(plus.transposed()) == astuple(minus)
    assert astuple(plus.in_minus_cylinder()) == astuple(minus.in_minus_cylinder()) == astuple(minus)
    assert astuple(minus.in_plus_cylinder()) == astuple(plus.in_plus_cylinder()) == astuple(plus)


def test_axis_0_is_kept_as_180() -> None:
    assert LensPower(0, -1, 0).axis == 180
    assert LensPower(0, -1, 0) == LensPower(0, -1, 180)


def test_a_sphere_has_no_axis() -> None:
    """A lens without cylinder drops the axis it was given, and so does one with float noise."""
    assert LensPower(2).axis is None
    assert LensPower(2, 0, 30).axis is None
    assert astuple(LensPower(2, 1e-10, 30)) == astuple(LensPower(2, -1e-10, 30)) == (2, 0, None)
    assert LensPower(2, 0.001, 30).axis == 30
    assert LensPower(2, 0, 30) == LensPower(2)


def test_a_sphere_has_one_form() -> None:
    sphere = LensPower(-3)
    assert sphere.transposed() is sphere.in_plus_cylinder() is sphere.in_minus_cylinder() is sphere


def test_the_axis_has_the_sphere_and_the_cylinder_acts_across_it() -> None:
    """+2.00 -1.00 x090 has +2.00 up and down, +1.00 across, and +1.50 half-way."""
    lens = LensPower(2, -1, 90)
    assert lens.principal_meridians == (Meridian(2, 90), Meridian(1, 180))
    assert [lens.power_along(m) for m in (90, 180, 0, 45, 135)] == pytest.approx(
        [2, 1, 1, 1.5, 1.5]
    )
    assert lens.mean_sphere == 1.5


def test_the_meridians_of_a_sphere_are_written_180_and_90() -> None:
    assert LensPower(2).principal_meridians == (Meridian(2, 180), Meridian(2, 90))


def test_a_crossed_cylinder_has_its_axis_across_its_power() -> None:
    """+1.00 +2.00 x090 is +1.00 x180 with +3.00 x090."""
    first, second = LensPower(1, 2, 90).crossed_cylinders()
    assert astuple(first) == (0, 1, 180)
    assert astuple(second) == (0, 3, 90)


def test_a_sphere_is_two_equal_cylinders_at_90_and_180() -> None:
    first, second = LensPower(2).crossed_cylinders()
    assert astuple(first) == (0, 2, 90)
    assert astuple(second) == (0, 2, 180)


@pytest.mark.parametrize(
    ("lens", "vector"),
    [
        (LensPower(3), (3, 0, 0)),
        (LensPower(0, -2, 180), (-1, 1, 0)),
        (LensPower(0, -2, 90), (-1, -1, 0)),
        (LensPower(0, -2, 45), (-1, 0, 1)),
        (LensPower(0, -2, 135), (-1, 0, -1)),
    ],
)
def test_j0_is_plus_for_a_minus_cylinder_at_180_and_j45_for_one_at_45(
    lens: LensPower, vector: tuple[float, float, float]
) -> None:
    assert list(lens.power_vector) == pytest.approx(list(vector))
    assert astuple(LensPower.from_power_vector(*vector)) == astuple(lens)


def test_the_parts_of_a_power_vector_have_names() -> None:
    vector = LensPower(3, -2, 45).power_vector
    assert [vector.m, vector.j0, vector.j45] == pytest.approx([2, 0, 1])


@pytest.mark.parametrize(
    ("lens", "matrix"),
    [
        (LensPower(3), [[3, 0], [0, 3]]),
        (LensPower(-1, -1, 90), [[-2, 0], [0, -1]]),
        (LensPower(-1, -1, 180), [[-1, 0], [0, -2]]),
        (LensPower(0, -2, 45), [[-1, 1], [1, -1]]),
        (LensPower(0, -2, 135), [[-1, -1], [-1, -1]]),
    ],
)
def test_the_matrix_has_the_horizontal_power_first(
    lens: LensPower, matrix: list[list[float]]
) -> None:
    assert np.array(lens.matrix) == pytest.approx(np.array(matrix))
    assert astuple(LensPower.from_matrix(matrix)) == astuple(lens)


def test_a_lens_does_not_change() -> None:
    lens = LensPower(1, -2, 90)
    with pytest.raises(FrozenInstanceError):
        lens.sphere = 2  # type: ignore[misc]


# Arithmetic ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("one", "other", "total"),
    [
        (LensPower(1), LensPower(2), LensPower(3)),
        (LensPower(0, 1, 90), LensPower(0, 1, 180), LensPower(1)),
        (LensPower(0, 1, 90), LensPower(0, -1, 90), LensPower(0)),
        (LensPower(0, -1, 90), LensPower(0, -2, 90), LensPower(0, -3, 90)),
        (LensPower(1), LensPower(0, -2, 30), LensPower(1, -2, 30)),
        (LensPower(0, 1, 90), LensPower(0, -1, 180), LensPower(1, -2, 180)),
    ],
)
def test_thin_lenses_in_contact_add(one: LensPower, other: LensPower, total: LensPower) -> None:
    assert astuple(one + other) == astuple(other + one) == astuple(total)


def test_a_difference_is_what_must_be_added() -> None:
    assert astuple(LensPower(3, -2, 90) - LensPower(1)) == (2, -2, 90)
    assert astuple(LensPower(0) - LensPower(0, -2, 90)) == (2, -2, 180)


def test_the_neutralising_lens_has_both_signs_changed() -> None:
    assert astuple(-LensPower(1, -2, 90)) == (-1, 2, 90)
    assert math.copysign(1, (-LensPower(0)).sphere) == 1


def test_only_lenses_add() -> None:
    with pytest.raises(TypeError, match=r"operand type\(s\) for \+: 'LensPower' and 'int'"):
        LensPower(1) + 1  # type: ignore[operator]
    with pytest.raises(TypeError, match=r"operand type\(s\) for -: 'LensPower' and 'int'"):
        LensPower(1) - 1  # type: ignore[operator]


# Steps --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("power", "step", "written"),
    [
        (0.125, 0.25, 0.25),
        (-0.125, 0.25, -0.25),
        (1.375, 0.25, 1.5),
        (0.12, 0.25, 0),
        (-0.12, 0.25, 0),
        (0.0625, 0.125, 0.125),
        (-2.6875, 0.125, -2.75),
        (2.62, 0.125, 2.625),
        (0.125 - 1e-12, 0.25, 0.25),
        (-1.75, 0.25, -1.75),
    ],
)
def test_half_way_between_two_steps_goes_to_the_stronger(
    power: float, step: float, written: float
) -> None:
    """Float noise does not decide, and zero has no sign."""
    assert rounded_to(power, step) == written
    assert LensPower(power).to_step(step).sphere == written
    assert math.copysign(1, rounded_to(power, step)) == math.copysign(1, written)


def test_stepping_rounds_sphere_and_cylinder_and_leaves_the_axis() -> None:
    assert astuple(LensPower(1.13, -0.62, 17).to_step(0.25)) == (1.25, -0.5, 17)
    assert astuple(LensPower(1.13, -0.62, 17).to_step(0.125)) == (1.125, -0.625, 17)
    assert astuple(LensPower(1, -0.1, 17).to_step(0.25)) == (1, 0, None)


def test_the_two_forms_of_a_lens_may_step_to_different_lenses() -> None:
    """+0.13 -0.26 gives +0.25 -0.25; its other form, -0.13 +0.26, gives -0.25 +0.25."""
    lens = LensPower(0.13, -0.26, 90)
    assert astuple(lens.to_step(0.25)) == (0.25, -0.25, 90)
    assert astuple(lens.transposed().to_step(0.25)) == (-0.25, 0.25, 180)


# Equality of the lens, not of its spelling --------------------------------------------------------


@pytest.mark.parametrize(
    "other",
    [
        LensPower(1.01, -2, 90),
        LensPower(1, -2.01, 90),
        LensPower(1, -2, 91),
        LensPower(1, 2, 90),
        LensPower(1, -2, 180),
        LensPower(1),
        LensPower(-1, -2, 90),
    ],
)
def test_a_hundredth_of_a_dioptre_or_a_degree_makes_another_lens(other: LensPower) -> None:
    assert LensPower(1, -2, 90) != other


def test_a_mirrored_axis_is_another_lens() -> None:
    """+1.00 -2.00 x030 and x150 share M and J0; only J45 tells them apart."""
    assert LensPower(1, -2, 30) != LensPower(1, -2, 150)


def test_a_lens_is_not_a_number() -> None:
    assert LensPower(1) != 1
    assert LensPower(1) != "+1.00"


def test_a_computed_lens_equals_its_other_spelling() -> None:
    """Float noise decides nothing: a sum and its other form are one lens."""
    lenses = [LensPower(0, -1, axis) + LensPower(0.25, -0.5, 10) for axis in range(20, 60)]
    assert [lens for lens in lenses if lens != lens.transposed()] == []


# What no lens has ---------------------------------------------------------------------------------


@pytest.mark.parametrize("wrong", [math.nan, math.inf, -math.inf])
def test_a_power_is_a_finite_number(wrong: float) -> None:
    """The message names the figure that is wrong and repeats it."""

    def message(name: str) -> str:
        given = str(wrong).replace("-", "−")
        return f"^The {name} must be a number such as −2.25; {given} was given.$"

    with pytest.raises(LensError, match=message("sphere")):
        LensPower(wrong)
    with pytest.raises(LensError, match=message("cylinder")):
        LensPower(0, wrong, 90)
    with pytest.raises(LensError, match=message("meridian")):
        LensPower(0).power_along(wrong)
    for place, name in enumerate(("M", "J0", "J45")):
        vector = [0.0, 0.0, 0.0]
        vector[place] = wrong
        with pytest.raises(LensError, match=message(name)):
            LensPower.from_power_vector(*vector)


@pytest.mark.parametrize("axis", [-1, 181, 360, math.nan])
def test_an_axis_off_the_scale_is_refused(axis: float) -> None:
    given = str(axis).replace("-", "−")
    words = rf"^An axis lies from 1 to 180 degrees \(0 is written 180\); {given} was given\.$"
    with pytest.raises(LensError, match=words):
        LensPower(0, -1, axis)
    with pytest.raises(LensError, match=words):
        LensPower(1, 0, axis)


def test_a_cylinder_needs_an_axis() -> None:
    words = (
        r"^A cylinder of −1 D was given without an axis; "
        r"a cylinder needs an axis from 1 to 180\.$"
    )
    with pytest.raises(LensError, match=words):
        LensPower(0, -1)


@pytest.mark.parametrize("matrix", [[], [1, 2], [[1, 2]], [[1, 2, 3], [4, 5, 6]], [[1], [2]], 5])
def test_a_power_matrix_is_two_by_two(matrix: object) -> None:
    with pytest.raises(
        LensError, match=r"^A power matrix has two rows of two numbers; .* was given\.$"
    ):
        LensPower.from_matrix(matrix)  # type: ignore[arg-type]


def test_a_power_matrix_is_symmetric() -> None:
    """Float noise off the diagonal is allowed."""
    words = r"^The power matrix of a lens is symmetric; 1 and 2 were given off its diagonal\.$"
    with pytest.raises(LensError, match=words):
        LensPower.from_matrix([[0, 1], [2, 0]])
    with pytest.raises(LensError, match=r"is symmetric; 0 and 0\.001 were given"):
        LensPower.from_matrix([[0, 0], [0.001, 0]])
    assert LensPower.from_matrix([[0, 1], [1 + 1e-10, 0]]) == LensPower(1, -2, 45)


@pytest.mark.parametrize("step", [0, 0.5, 0.1, -0.25])
def test_steps_are_quarters_and_eighths(step: float) -> None:
    words = rf"^Powers are written in steps of 0\.25 or 0\.125 D; {step} was given\.$"
    with pytest.raises(LensError, match=words):
        LensPower(1).to_step(step)


def test_every_error_of_the_package_is_a_value_error() -> None:
    assert issubclass(LensError, ValueError)
