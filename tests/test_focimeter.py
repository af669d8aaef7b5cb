"""The bench of a focimeter: travel and reading, line foci, circle of least confusion and blur."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.focimeter import (
    Blur,
    LineFocus,
    blur_ellipse,
    blur_on_screen,
    circle_of_least_confusion,
    drum_reading,
    line_foci,
    travel,
)
from lensmath.power import LensPower, axis_difference
from lensmath.readings import Readings
from tests.printed import Row, as_printed, lens, published
from tests.strategies import astigmatic_lenses, lens_powers, powers

apertures = st.integers(1, 80).map(lambda halves: halves / 2)

# The drum -----------------------------------------------------------------------------------------


@published("focimeter_travel")
def test_travel_as_printed(row: Row) -> None:
    standard_lens = float(row["standard_lens"])
    start, end = (travel(standard_lens, float(row[name])) for name in ("drum_from", "drum_to"))
    assert end - start == as_printed(row["printed"])


@published("focimeter_reading")
def test_reading_as_printed(row: Row) -> None:
    reading = drum_reading(float(row["standard_lens"]), float(row["travelled"]))
    assert reading == as_printed(row["printed"])


@published("focimeter_lens")
def test_lens_from_travels_as_printed(row: Row) -> None:
    first, second = (
        drum_reading(float(row["standard_lens"]), float(row[f"{name}_travelled"]))
        for name in ("sphere", "cylinder")
    )
    minus = Readings(first, second, wheel=float(row["wheel"])).minus_form
    assert minus.sphere == as_printed(row["printed_sphere"])
    assert minus.cylinder == as_printed(row["printed_cylinder"])
    assert minus.axis == as_printed(row["printed_axis"])


@given(st.sampled_from((20.0, 25.0, 33.3)), powers(19.9))
def test_light_at_the_stop_has_the_vergence_that_the_lens_makes_parallel(
    standard_lens: float, drum: float
) -> None:
    # Independent computation: step-along vergences through the standard lens to its far focus.
    to_lens = (1000 / standard_lens - travel(standard_lens, drum)) / 1000
    behind = standard_lens - 1 / to_lens
    at_stop = behind / (1 - behind / standard_lens)
    assert at_stop + drum == pytest.approx(0, abs=1e-5)


@given(st.floats(10, 50), st.floats(-30, 10))
def test_reading_and_travel_undo_each_other(standard_lens: float, drum: float) -> None:
    assert drum_reading(standard_lens, travel(standard_lens, drum)) == pytest.approx(drum, abs=1e-5)


def test_a_target_goes_as_far_as_the_standard_lens() -> None:
    assert travel(25, 25) == 40
    assert drum_reading(25, 40) == 25
    with pytest.raises(LensError, match=r"of 25\.00 D reads powers up to its own; \+25\.25 D was"):
        travel(25, 25.25)
    with pytest.raises(LensError, match=r"of 25\.00 D after 40\.00 mm; 40\.10 mm was given"):
        drum_reading(25, 40.1)


@pytest.mark.parametrize("bad", [math.nan, -math.inf])
def test_a_drum_that_is_no_number_is_refused(bad: float) -> None:
    for ask in (travel, drum_reading):
        with pytest.raises(LensError, match="was given"):
            ask(20, bad)


@pytest.mark.parametrize(
    ("bad", "given"),
    [(0, r"\+0\.00"), (-20, r"−20\.00"), (math.nan, r"\+nan"), (math.inf, r"\+inf")],
)
def test_a_standard_lens_without_plus_power_is_refused(bad: float, given: str) -> None:
    for ask in (travel, drum_reading):
        with pytest.raises(LensError, match=f"A standard lens has plus power; {given} D was"):
            ask(bad, 0)


def test_a_standard_lens_of_one_dioptre_moves_the_target_by_a_metre_a_dioptre() -> None:
    assert travel(1, -0.25) == -250
    assert drum_reading(1, -250) == -0.25


# Line foci and the circle of least confusion ------------------------------------------------------


@published("pencil_foci")
def test_line_foci_as_printed(row: Row) -> None:
    unit = float(row["unit_in_mm"])
    for name, focus in zip(("along", "across"), line_foci(lens(row)), strict=True):
        if row[f"printed_{name}"]:
            assert focus.distance / unit == as_printed(row[f"printed_{name}"])
    if row["printed_line_along"]:
        assert line_foci(lens(row))[0].line == as_printed(row["printed_line_along"])


@published("pencil_circle")
def test_circle_of_least_confusion_as_printed(row: Row) -> None:
    first, second = float(row["first_power"]), float(row["second_power"])
    circle = circle_of_least_confusion(
        LensPower(first, second - first, 180), float(row["aperture"])
    )
    if row["printed_distance"]:
        assert circle.distance / float(row["unit_in_mm"]) == as_printed(row["printed_distance"])
    if row["printed_diameter"]:
        assert circle.diameter == as_printed(row["printed_diameter"])


def test_the_foci_of_spheres_and_of_a_meridian_without_power() -> None:
    assert line_foci(LensPower(-4)) == (LineFocus(-250, None),) * 2
    assert line_foci(LensPower(0)) == (LineFocus(math.inf, None),) * 2
    assert line_foci(LensPower(0, 2, 30)) == (LineFocus(math.inf, 120), LineFocus(500, 30))


@given(astigmatic_lenses(), apertures)
def test_at_its_focus_the_pencil_is_the_line(power: LensPower, aperture: float) -> None:
    for focus in line_foci(power):
        if abs(focus.distance) < 1e4:
            seen = blur_on_screen(power, focus.distance, aperture)
            assert seen.width == pytest.approx(0, abs=1e-4)
            assert seen.direction is not None
            assert focus.line is not None
            assert axis_difference(seen.direction, focus.line) == pytest.approx(0, abs=1e-3)


@given(
    st.one_of(st.floats(0.5, 60), st.floats(-25, -0.5)),
    st.floats(-20, 20).filter(lambda c: abs(c) > 0.01),
    apertures,
)
def test_at_the_circle_the_pencil_is_round(mean: float, cylinder: float, aperture: float) -> None:
    power = LensPower(mean - cylinder / 2, cylinder, 30)
    distance, diameter = circle_of_least_confusion(power, aperture)
    seen = blur_on_screen(power, distance, aperture)
    first, second = (meridian.power for meridian in power.principal_meridians)
    by_formula = aperture * abs(first - second) / abs(first + second)
    assert distance == pytest.approx(1000 / mean, rel=1e-6)
    assert diameter == pytest.approx(by_formula, rel=1e-6)
    assert (seen.length, seen.width) == (pytest.approx(by_formula, rel=1e-4),) * 2


@pytest.mark.parametrize(
    ("power", "given"),
    [
        (LensPower(0), r"\+0\.00 D with cylinder \+0\.00 D"),
        (LensPower(1, -2, 30), r"\+1\.00 D with cylinder −2\.00 D"),
        (LensPower(-1, 2, 30), r"−1\.00 D with cylinder \+2\.00 D"),
    ],
)
def test_no_circle_without_a_mean_sphere(power: LensPower, given: str) -> None:
    said = rf"when its mean sphere is not zero; sphere {given} was given"
    with pytest.raises(LensError, match=said):
        circle_of_least_confusion(power, 6)


# The blur ellipse ---------------------------------------------------------------------------------


@published("pencil_screen")
def test_blur_on_a_screen_as_printed(row: Row) -> None:
    distance = 1000 / float(row["screen_vergence"])
    seen = blur_on_screen(lens(row), distance, float(row["aperture"]))
    assert seen.length == as_printed(row["printed_length"])
    assert seen.width == as_printed(row["printed_width"])
    if row["printed_direction"]:
        assert seen.direction == as_printed(row["printed_direction"])
    else:
        assert seen.direction is None


def assert_is_svd(seen: Blur, matrix: np.ndarray, tolerance: float) -> None:
    """The full axes are the singular values, the longer along the first singular vector."""
    left, values, _ = np.linalg.svd(matrix)
    assert (seen.length, seen.width) == pytest.approx(tuple(values), abs=tolerance)
    if values[0] - values[1] > 1e-3:
        direction = math.degrees(math.atan2(left[1, 0], left[0, 0]))
        assert seen.direction is not None
        assert axis_difference(seen.direction, direction) == pytest.approx(0, abs=1e-3)


@given(lens_powers(), apertures)
def test_blur_is_the_singular_values_of_the_matrix(power: LensPower, aperture: float) -> None:
    # Independent computation: numpy, on the aperture in cm.
    assert_is_svd(
        blur_ellipse(power, aperture), aperture / 10 * np.array(power.matrix), tolerance=1e-7
    )


@given(lens_powers(), apertures, st.floats(5, 2000), st.booleans())
def test_blur_on_a_screen_is_the_svd_of_i_minus_zf(
    power: LensPower, aperture: float, distance: float, before: bool
) -> None:
    # Independent computation: numpy, rays of a distant point from the aperture to the screen.
    z = -distance if before else distance
    matrix = aperture * (np.eye(2) - z / 1000 * np.array(power.matrix))
    assert_is_svd(blur_on_screen(power, z, aperture), matrix, tolerance=1e-5)


@pytest.mark.parametrize(
    ("residual", "seen"),
    [
        (LensPower(0), Blur(0, 0, None)),
        (LensPower(-25), Blur(15, 15, None)),
        (LensPower(1, -2, 30), Blur(0.6, 0.6, None)),
        (LensPower(0.1, 0.2, 0), Blur(0.18, 0.06, 90)),
        (LensPower(0, -25, 180), Blur(15, 0, 90)),
        (LensPower(14, -14, 90), Blur(8.4, 0, 90)),
    ],
)
def test_blur_of_corners(residual: LensPower, seen: Blur) -> None:
    assert blur_ellipse(residual, 6) == seen


@pytest.mark.parametrize("bad", [0, -6, math.nan, math.inf])
def test_an_aperture_without_light_or_edge_is_refused(bad: float) -> None:
    with pytest.raises(LensError, match=r"diameter of an aperture is above zero; .* mm was given"):
        blur_ellipse(LensPower(1), bad)


@pytest.mark.parametrize("bad", [0, math.nan, math.inf])
def test_a_screen_in_the_lens_or_nowhere_is_refused(bad: float) -> None:
    with pytest.raises(LensError, match=r"behind the lens or before it; .* mm was given"):
        blur_on_screen(LensPower(1), bad, 6)


def test_the_target_goes_as_far_as_the_standard_lens():
    assert drum_reading(20, 50) == 20
    with pytest.raises(LensError, match=r"after 50\.00 mm; 50\.01 mm was given"):
        drum_reading(20, 50.01)
