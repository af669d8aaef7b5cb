"""Vertex distance: compensated and effective powers, and the powers that a move concerns."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.power import LensPower
from lensmath.vertex import (
    STANDARD_VERTEX_DISTANCE,
    compensated,
    compensated_sphere,
    effective_power,
    least_powers,
    vertex_table,
)
from tests.printed import Row, as_printed, lens, published
from tests.strategies import lens_powers, powers

# A spectacle lens moves by less than this; 50 D a meridian still keep their focus.
moves = st.floats(-19.0, 19.0)
real_moves = moves.filter(lambda move: abs(move) > 0.1)


# Published figures -------------------------------------------------------------------------------


@published("vertex_compensated")
def test_compensated_power_as_printed(row: Row) -> None:
    result = compensated(lens(row), float(row["further"]))
    assert result.sphere == as_printed(row["printed_sphere"])
    assert result.cylinder == as_printed(row["printed_cylinder"])
    assert result.axis == (float(row["printed_axis"]) if row["printed_axis"] else None)


@published("vertex_effective")
def test_effective_power_as_printed(row: Row) -> None:
    arriving = effective_power(LensPower(float(row["power"])), float(row["downstream"]))
    leaving = arriving + LensPower(float(row["second"]))
    assert leaving.sphere == as_printed(row["printed"])


def test_standard_distance_is_twelve_millimetres() -> None:
    # ISO 13666, as a second text tells it: 12 mm if nothing is said.
    assert STANDARD_VERTEX_DISTANCE == 12
    assert effective_power(LensPower(-10)) == effective_power(LensPower(-10), 12)


# Compensation ------------------------------------------------------------------------------------


@given(powers().filter(lambda power: abs(power) > 0.01), moves)
def test_focus_stays_where_it_was(power: float, further: float) -> None:
    # Lengths instead of powers: the focal length grows by the move.
    assert 1000 / compensated_sphere(power, further) == pytest.approx(
        1000 / power + further, rel=1e-6
    )


@given(lens_powers(), moves)
def test_meridians_agree_with_the_matrix_form(power: LensPower, further: float) -> None:
    # Independent computation (numpy): (I + dF)^-1 F.
    matrix = np.array(power.matrix)
    expected = np.linalg.inv(np.eye(2) + further / 1000 * matrix) @ matrix
    assert np.allclose(compensated(power, further).matrix, expected, atol=1e-6)


@given(lens_powers(), moves)
def test_there_and_back_is_the_same_lens(power: LensPower, further: float) -> None:
    assert effective_power(power, 0) == power
    there = compensated(power, further)
    assert compensated(there, -further) == power
    if further >= 0:
        assert effective_power(there, further) == power


@given(lens_powers(), moves)
def test_form_and_axis_stay(power: LensPower, further: float) -> None:
    assume(abs(power.cylinder) > 0.01 or power.cylinder == 0)
    moved = compensated(power, further)
    assert moved.axis == power.axis
    assert moved.cylinder * power.cylinder >= 0
    assert (moved.cylinder == 0) == (power.cylinder == 0)
    assert moved == compensated(power.transposed(), further)


@pytest.mark.parametrize(
    ("power", "further", "expected"),
    [
        (LensPower(0), 12, LensPower(0)),
        (LensPower(14), 0, LensPower(14)),
        (LensPower(14), 2, LensPower(14 / 1.028)),
        (LensPower(25), -12, LensPower(25 / 0.7)),
        (LensPower(-25), 12, LensPower(-25 / 0.7)),
        (LensPower(0, -25, 0), 12, LensPower(0, -25 / 0.7, 180)),
        (LensPower(25, -25, 90), -12, LensPower(25 / 0.7, -25 / 0.7, 90)),
    ],
)
def test_ends_of_the_range(power: LensPower, further: float, expected: LensPower) -> None:
    assert compensated(power, further) == expected


def test_results_carry_no_float_noise() -> None:
    assert compensated(LensPower(-10, -5, 20), 20) == LensPower(-12.5, -8.928571429, 20)
    moved = compensated(LensPower(-9, -5, 20), 20)
    assert (moved.sphere, moved.cylinder) == (-10.975609756, -8.468834688)
    assert effective_power(LensPower(0.0)).sphere == 0
    assert math.copysign(1, compensated_sphere(-0.0, 12)) == 1


# Refusals ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("power", "further"), [(-100, 10), (-100, 10.1), (100, -10), (50, -30), (-80, 12.5)]
)
def test_a_move_to_the_focus_or_past_it_is_refused(power: float, further: float) -> None:
    with pytest.raises(LensError, match="has its focus"):
        compensated_sphere(power, further)
    assert compensated_sphere(power, further * 0.3)


def test_one_meridian_at_its_focus_is_enough() -> None:
    with pytest.raises(
        LensError,
        match=r"^A power of −90\.00 D has its focus 11\.1 mm from the lens, and 12 mm further from "
        r"the eye reaches it; a smaller move is allowed\.$",
    ):
        compensated(LensPower(-50, -40, 30), 12)
    with pytest.raises(LensError, match=r"\+90\.00 D .* 12 mm closer to the eye"):
        effective_power(LensPower(90))
    with pytest.raises(LensError, match=r"has its focus 1000\.0 mm from"):
        compensated_sphere(-1, 1000)


def test_float_noise_does_not_decide_at_the_focus() -> None:
    # 1 + dF is 1.1e-16 here in floats.
    assert 1 + 0.3 / 1000 * -(1 / 0.0003) >= 0
    with pytest.raises(LensError, match=r"0\.3 mm further from the eye"):
        compensated_sphere(-(1 / 0.0003), 0.3 * (1 - 1e-13))


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_refused(bad: float) -> None:
    with pytest.raises(LensError, match=r"number of millimetres; −?(nan|inf) was given"):
        compensated(LensPower(1), bad)
    with pytest.raises(LensError, match="sphere must be a number"):
        compensated_sphere(bad, 12)
    with pytest.raises(LensError, match="number of millimetres"):
        least_powers(0.25, bad)
    with pytest.raises(LensError, match="must be above 0 D"):
        least_powers(bad, 12)


@pytest.mark.parametrize("downstream", [-0.5, math.nan, -math.inf])
def test_a_plane_in_front_of_the_lens_is_refused(downstream: float) -> None:
    with pytest.raises(LensError, match=r"plane lies 0 mm or more behind the lens; .* was given"):
        effective_power(LensPower(1), downstream)


# When a move matters -----------------------------------------------------------------------------


def weakest_by_halving(change: float, further: float, sign: int) -> float:
    """Independent computation: the weakest power found by halving, from 1 + dF > 0 alone."""

    def reaches(power: float) -> bool:
        left = 1 + further / 1000 * power
        return left <= 0 or abs(power / left - power) >= change

    low, high = 0.0, 1e4
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (low, middle) if reaches(sign * middle) else (middle, high)
    return sign * high


@given(st.sampled_from((0.12, 0.125, 0.25, 0.5)), real_moves)
def test_least_powers_are_the_ones_found_by_halving(change: float, further: float) -> None:
    plus, minus = least_powers(change, further)
    assert plus == pytest.approx(weakest_by_halving(change, further, +1), abs=1e-6)
    assert minus == pytest.approx(weakest_by_halving(change, further, -1), abs=1e-6)


@given(real_moves, st.floats(1.0, 1.5))
def test_every_stronger_power_changes_more(further: float, stronger: float) -> None:
    for power in least_powers(0.12, further):
        try:
            change = compensated_sphere(power * stronger, further) - power * stronger
        except LensError:
            continue  # so strong that the move reaches its focus
        assert abs(change) >= 0.12 - 1e-6


@given(st.sampled_from((0.12, 0.25)), real_moves)
def test_least_powers_mirror_with_the_move(change: float, further: float) -> None:
    plus, minus = least_powers(change, further)
    assert least_powers(change, -further) == (-minus, -plus)


def test_a_move_to_the_cornea_matters_from_about_four_dioptres() -> None:
    # Two study texts: the distance matters from about 4.00 D. An eighth is reached a little below,
    # a quarter a little above.
    eighth, quarter = (least_powers(change, -12) for change in (0.12, 0.25))
    assert 3.0 < eighth.plus < 4 < quarter.plus < 4.5
    assert -4.7 < quarter.minus < -4 < eighth.minus < -3.0


@pytest.mark.parametrize("change", [0, -0.25])
def test_a_change_of_nothing_is_refused(change: float) -> None:
    with pytest.raises(LensError, match=r"must be above 0 D; −?0\.\d\d D was given"):
        least_powers(change, 12)


def test_no_move_is_refused() -> None:
    with pytest.raises(LensError, match="No power changes without a move"):
        least_powers(0.25, 0)


# Table -------------------------------------------------------------------------------------------


def test_table_has_a_row_for_each_power_and_a_column_for_each_move() -> None:
    rows = vertex_table((power for power in (-10.0, 0.0, 14.0)), (move for move in (-12.0, 0.0, 2)))
    assert [row.power for row in rows] == [-10, 0, 14]
    assert all(len(row.replaced_by) == 3 for row in rows)
    assert [row.replaced_by[1] for row in rows] == [-10, 0, 14]
    assert rows[0].replaced_by == pytest.approx((-10 / 1.12, -10, -10 / 0.98))
    assert rows[2].replaced_by[2] == compensated_sphere(14, 2)


def test_table_refuses_what_no_lens_does() -> None:
    with pytest.raises(LensError, match="has its focus"):
        vertex_table([-100], [10])
