"""The tables and formulae of the pages that explain, against matrices that are worked by numpy."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from site_src.tables.optics import (
    axis_bands,
    cosine,
    left_over,
    left_over_by_band,
    one_power_moved,
    sine,
    slip_leaving,
)

ANSI, ISO = "ansi-z80-1-2015", "iso-21987-2017"
LIMITS = {
    # As the quick reference to the one and the teaching deck on the other print them.
    ANSI: [(0.25, 14), (0.50, 7), (0.75, 5), (1.50, 3), (math.inf, 2)],
    ISO: [(0.25, 16), (0.50, 9), (0.75, 6), (1.50, 4), (2.50, 3), (math.inf, 2)],
}
strengths = st.integers(1, 24).map(lambda quarters: quarters / 4)
angles = st.integers(0, 180)


def cylinder_matrix(cylinder: float, axis: float) -> np.ndarray:
    """A plano-cylinder as its power times the projection on the meridian across the axis."""
    turn = math.radians(axis + 90)
    across = np.array([math.cos(turn), math.sin(turn)])
    return cylinder * np.outer(across, across)


def cylinder_of(matrix: np.ndarray) -> float:
    """The cylinder of a lens: the difference of its principal powers."""
    low, high = np.linalg.eigvalsh(matrix)
    return float(high - low)


# An axis that is off ------------------------------------------------------------------------------


@pytest.mark.parametrize("key", [ANSI, ISO])
def test_bands_are_those_of_the_standard(key: str) -> None:
    assert [(band.upper, band.limit) for band in axis_bands(key)] == LIMITS[key]
    for weaker, stronger in itertools.pairwise(axis_bands(key)):
        assert stronger.lower == weaker.upper


@pytest.mark.parametrize("key", [ANSI, ISO])
@given(strengths)
def test_left_over_is_the_difference_of_two_matrices(key: str, cylinder: float) -> None:
    found = left_over(key, cylinder)
    limit = next(limit for upper, limit in LIMITS[key] if cylinder <= upper)
    turned = cylinder_matrix(-cylinder, 30) - cylinder_matrix(-cylinder, 30 + limit)
    assert found.axis_limit == limit
    assert found.left == pytest.approx(cylinder_of(turned), abs=1e-8)
    assert found.left == pytest.approx(2 * cylinder * sine(limit), abs=1e-8)


@given(strengths, strengths, st.integers(0, 90), angles)
def test_two_cylinders_a_slip_apart(one: float, other: float, slip: float, axis: float) -> None:
    """The formula of the page for a lens whose cylinder is off as well as its axis."""
    left = cylinder_of(cylinder_matrix(one, axis) - cylinder_matrix(other, axis + slip))
    assert left**2 == pytest.approx((one - other) ** 2 + 4 * one * other * sine(slip) ** 2)


@given(strengths, st.floats(0.01, 0.5))
def test_slip_leaves_what_it_should(cylinder: float, left: float) -> None:
    slip = slip_leaving(cylinder, left)
    turned = cylinder_matrix(cylinder, 0) - cylinder_matrix(cylinder, slip)
    assert cylinder_of(turned) == pytest.approx(left)


def test_an_eighth_is_left_over_at_3_6_by_the_cylinder() -> None:
    """The rule for the head is within a fifth of a degree from 0.25 D on."""
    for quarters in range(1, 25):
        assert slip_leaving(quarters / 4, 0.125) == pytest.approx(3.6 / (quarters / 4), abs=0.2)


def test_what_the_page_says_of_the_standards() -> None:
    ends = {
        key: [left_over(key, upper) for upper, _ in LIMITS[key] if upper < math.inf]
        for key in LIMITS
    }
    assert max(row.left / row.cylinder_limit for row in ends[ANSI]) < 1.25  # about the limit
    assert 1.5 < max(row.left / row.cylinder_limit for row in ends[ISO]) < 2.25  # about twice it
    for key in LIMITS:  # beyond the last step it grows with the cylinder
        assert left_over(key, 6.0).left > left_over(key, 4.0).left > ends[key][-1].left


@pytest.mark.parametrize("key", [ANSI, ISO])
def test_table_of_bands(key: str) -> None:
    table = left_over_by_band(key)
    assert len(table.rows) == len(LIMITS[key])
    for (strength, limit, left, _), (upper, degrees) in zip(table.rows, LIMITS[key], strict=True):
        cylinder = 4.0 if upper == math.inf else upper
        turned = cylinder_matrix(cylinder, 0) - cylinder_matrix(cylinder, degrees)
        assert (strength, limit) == ((f"{cylinder:.2f}",), (f"±{degrees}°",))
        assert left == (f"{cylinder_of(turned):.2f}",)
    assert [row[3] for row in table.rows][:3] == [("±0.13",) if key == ANSI else ("±0.09*",)] * 3


def test_limits_from_memory_have_a_star() -> None:
    """No power table of ISO was seen; those of ANSI were."""
    for key, remembered in ((ANSI, False), (ISO, True)):
        table = left_over_by_band(key)
        assert {str(row[3][0]).endswith("*") for row in table.rows} == {remembered}
        assert table.caption.endswith("* from memory") == remembered


# One power moved ----------------------------------------------------------------------------------


@pytest.mark.parametrize("power", [-9.0, 12.0])
def test_a_moved_power_keeps_its_focus(power: float) -> None:
    """The way from the cornea to the focus stays, whatever the distance of the lens."""
    distances = (0, 10, 14, 16)
    table = one_power_moved(power, 12, distances)
    for row, distance in zip(table.rows, distances, strict=True):
        needed = 1000 / (1000 / power + distance - 12)
        assert row[1] == (f"{needed:+.2f}".replace("-", "−"),)
        assert row[2] == (f"{needed - power:+.2f}".replace("-", "−"),)
    assert table.rows[0][0] == ("the cornea",)


# The formulae of the pages ------------------------------------------------------------------------


@given(strengths, strengths, angles, angles)
def test_two_crossed_cylinders_make_one(one: float, two: float, first: float, apart: float) -> None:
    """Cylinder and sphere of two minus cylinders, as the page on oblique cylinders gives them."""
    summed = cylinder_matrix(-one, first) + cylinder_matrix(-two, first + apart)
    cylinder = -math.sqrt(one**2 + two**2 + 2 * one * two * cosine(2 * apart))
    sphere = (-one - two - cylinder) / 2
    assert sorted((sphere, sphere + cylinder)) == pytest.approx(
        sorted(np.linalg.eigvalsh(summed)), abs=1e-6
    )


@given(strengths, st.integers(1, 89), angles)
def test_two_equal_cylinders_make_one(power: float, apart: float, first: float) -> None:
    """The short form for equal cylinders; the new axis lies half-way."""
    sphere = 2 * power * sine(apart / 2) ** 2
    cylinder = 2 * (power - sphere)
    summed = cylinder_matrix(power, first) + cylinder_matrix(power, first + apart)
    assert summed == pytest.approx(
        sphere * np.eye(2) + cylinder_matrix(cylinder, first + apart / 2), abs=1e-9
    )


@given(st.floats(-25, 15), st.sampled_from((20.0, 25.0)))
def test_target_of_the_bench_reaches_the_stop_as_the_page_derives(
    drum: float, standard: float
) -> None:
    """Rays of the target through standard lens and way, as matrices: the vergence is minus D."""
    focus = 1 / standard
    x = drum / standard**2

    def way(length: float) -> np.ndarray:
        return np.array([[1, length], [0, 1]])

    lens = np.array([[1, 0], [-standard, 1]])
    height, slope = way(focus) @ lens @ way(focus - x) @ np.array([0.0, 1.0])
    assert -slope / height == pytest.approx(-drum, abs=1e-9)
