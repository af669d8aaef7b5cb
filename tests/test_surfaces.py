"""Surfaces and thick lenses: published figures, system matrices, identities and refusals."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.power import LensPower, Meridian, axis_difference
from lensmath.surfaces import (
    CROWN_INDEX,
    TOOL_INDEX,
    ThickLens,
    back_surface,
    base_and_cross_curve,
    clocked_surface,
    radius_of_curvature,
    surface_power,
    toric_transposition,
    true_power,
)
from tests.printed import Row, as_printed, lens, published
from tests.strategies import astigmatic_lenses, axes, eighths, lens_powers, powers

Array = np.ndarray

indices = st.floats(1.4, 2.0)
lengths = st.floats(0.0, 15.0)
thick_lenses = st.builds(ThickLens, lens_powers(), lens_powers(), lengths, indices)


def sphere(power: LensPower) -> float:
    """The power of a lens that must come out without cylinder."""
    assert power.cylinder == 0
    return power.sphere


# Published figures -------------------------------------------------------------------------------


@published("surfaces_vertex_power")
def test_vertex_powers_as_printed(row: Row) -> None:
    """The nominal power, both vertex powers and the short rule for the back vertex power."""
    front, back = LensPower(float(row["front"])), LensPower(float(row["back"]))
    thick = ThickLens(front, back, float(row["thickness"]), float(row["index"]))
    results = {
        "nominal": thick.nominal_power,
        "back_vertex": thick.back_vertex_power,
        "front_vertex": thick.front_vertex_power,
        "approximate": thick.approximate_back_vertex_power,
    }
    for name, result in results.items():
        if printed := row[f"printed_{name}"]:
            assert sphere(result) == as_printed(printed)


@published("surfaces_radii")
def test_powers_from_radii_as_printed(row: Row) -> None:
    """Two radii, plus for convex, make two surface powers and a nominal power."""
    index = float(row["index"])
    front = surface_power(float(row["front_radius"]), index)
    back = surface_power(float(row["back_radius"]), index)
    if row["printed_front"]:
        assert front == as_printed(row["printed_front"])
        assert back == as_printed(row["printed_back"])
    nominal = ThickLens(LensPower(front), LensPower(back), 0, index).nominal_power
    assert sphere(nominal) == as_printed(row["printed_nominal"])


@published("surfaces_back_surface")
def test_back_surface_as_printed(row: Row) -> None:
    """The back curve for an ordered power; with no thickness, the nominal one."""
    order, front, thickness, index = (
        float(row[name]) for name in ("order", "front", "thickness", "index")
    )
    back = back_surface(LensPower(order), LensPower(front), thickness, index)
    assert sphere(back) == as_printed(row["printed"])


@published("surfaces_lens_clock")
def test_lens_clock_as_printed(row: Row) -> None:
    """Readings at the index of the clock become surface powers at the index of the lens."""
    clock, index = float(row["clock_index"]), float(row["index"])
    front = true_power(float(row["front_reading"]), index, clock_index=clock)
    if row["printed_front"]:
        assert front == as_printed(row["printed_front"])
    if row["printed_nominal"]:
        back = true_power(float(row["back_reading"]), index, clock_index=clock)
        assert front + back == as_printed(row["printed_nominal"])


@published("surfaces_clock_radius")
def test_radius_of_a_clocked_curve_as_printed(row: Row) -> None:
    """The radius follows from the reading and the index of the clock, whatever the lens is."""
    radius = radius_of_curvature(float(row["reading"]), float(row["clock_index"]))
    assert radius / 1000 == as_printed(row["printed_metres"])


@published("toric_transposition")
def test_toric_transposition_as_printed(row: Row) -> None:
    """A sphere on one side, the base curve and the cross curve on the other."""
    form = toric_transposition(lens(row), float(row["base_curve"]))
    assert form.sphere == as_printed(row["printed_sphere"])
    for name, curve in (("base", form.base_curve), ("cross", form.cross_curve)):
        assert curve.sphere == 0
        assert curve.cylinder == as_printed(row[f"printed_{name}_cylinder"])
        assert curve.axis == as_printed(row[f"printed_{name}_axis"])


# Against system matrices (numpy) -----------------------------------------------------------------


def system(
    first: LensPower, second: LensPower, thickness: float, index: float
) -> tuple[Array, ...]:
    """The blocks A, B, C and D of the 4x4 system matrix: refraction, transfer, refraction."""
    one, nothing = np.eye(2), np.zeros((2, 2))
    enter = np.block([[one, nothing], [-np.array(first.matrix), one]])
    cross = np.block([[one, thickness / 1000 / index * one], [nothing, one]])
    leave = np.block([[one, nothing], [-np.array(second.matrix), one]])
    whole = leave @ cross @ enter
    return whole[:2, :2], whole[:2, 2:], whole[2:, :2], whole[2:, 2:]


def assert_matrix(power: LensPower, matrix: Array) -> None:
    assert np.array(power.matrix) == pytest.approx(matrix, rel=0, abs=1e-7)


@given(thick_lenses)
def test_back_vertex_power_is_that_of_the_system_matrix(thick: ThickLens) -> None:
    a, _, c, _ = system(thick.front, thick.back, thick.centre_thickness, thick.index)
    assert_matrix(thick.back_vertex_power, -c @ np.linalg.inv(a))


@given(thick_lenses)
def test_front_vertex_power_is_that_of_the_reversed_system(thick: ThickLens) -> None:
    a, _, c, _ = system(thick.back, thick.front, thick.centre_thickness, thick.index)
    assert_matrix(thick.front_vertex_power, -c @ np.linalg.inv(a))


@given(lens_powers(), eighths(), eighths(), st.booleans(), lengths, indices)
def test_equivalent_power_is_that_of_the_system_matrix(
    front: LensPower, power: float, cylinder: float, turned: bool, thickness: float, index: float
) -> None:
    axis = (front.axis or 0) + (90 if turned else 0)
    back = LensPower(power, cylinder, axis % 180)
    _, _, c, _ = system(front, back, thickness, index)
    assert_matrix(ThickLens(front, back, thickness, index).equivalent_power, -c)


@given(powers(), powers(), lengths, indices, lens_powers())
def test_a_thin_lens_has_one_power(
    first: float, second: float, thickness: float, index: float, toric: LensPower
) -> None:
    """Without thickness all powers are nominal; with it, a plano front adds nothing behind."""
    thin = ThickLens(toric, LensPower(second), 0, index)
    for power in (
        thin.back_vertex_power,
        thin.front_vertex_power,
        thin.equivalent_power,
        thin.approximate_back_vertex_power,
    ):
        assert power == thin.nominal_power
    assert ThickLens(LensPower(0), toric, thickness, index).back_vertex_power == toric
    assert ThickLens(LensPower(first), LensPower(0), thickness, index).front_vertex_power == (
        LensPower(first)
    )


# Identities --------------------------------------------------------------------------------------


@given(lens_powers(), lens_powers(), lengths, indices)
def test_back_surface_gives_the_order(
    order: LensPower, front: LensPower, thickness: float, index: float
) -> None:
    back = back_surface(order, front, thickness, index)
    assert ThickLens(front, back, thickness, index).back_vertex_power == order


@given(lens_powers(), lens_powers(), lengths, indices)
def test_a_lens_turned_round_swaps_its_vertex_powers(
    front: LensPower, back: LensPower, thickness: float, index: float
) -> None:
    thick, turned = (ThickLens(*pair, thickness, index) for pair in ((front, back), (back, front)))
    assert thick.front_vertex_power == turned.back_vertex_power


@given(eighths().filter(bool), indices)
def test_radius_and_power_undo_each_other(power: float, index: float) -> None:
    radius = radius_of_curvature(power, index)
    assert math.copysign(1, radius) == math.copysign(1, power)
    assert surface_power(radius, index) == pytest.approx(power, rel=0, abs=1e-6)


@given(powers(), indices, indices)
def test_the_clock_with_its_indices_exchanged_gives_the_reading(
    reading: float, index: float, clock: float
) -> None:
    """The curve is the same: its radius does not know which index it is read in."""
    power = true_power(reading, index, clock_index=clock)
    assert true_power(power, clock, clock_index=index) == pytest.approx(reading, abs=1e-7)
    assert power * (clock - 1) == pytest.approx(reading * (index - 1), abs=1e-7)


@given(eighths(), eighths(), axes(), indices)
def test_clocked_surface_has_each_power_in_its_meridian(
    along: float, across: float, meridian: float, index: float
) -> None:
    surface = clocked_surface(along, across, meridian, index, clock_index=CROWN_INDEX)
    for dial, direction in ((along, meridian), (across, meridian + 90)):
        power = true_power(dial, index, clock_index=CROWN_INDEX)
        assert surface.power_along(direction) == pytest.approx(power, abs=1e-7)


@given(astigmatic_lenses(), eighths().filter(bool))
def test_toric_form_is_the_lens(given_lens: LensPower, base_curve: float) -> None:
    form = toric_transposition(given_lens, base_curve)
    assert LensPower(form.sphere) + form.surface == given_lens
    base, cross = base_and_cross_curve(form.surface)
    assert base.power == pytest.approx(base_curve, abs=1e-6)
    assert abs(cross.power) > abs(base.power)
    assert cross.power * base.power > 0
    assert form.base_curve.axis is not None
    assert axis_difference(form.base_curve.axis, base.direction) == pytest.approx(90, abs=1e-5)


@pytest.mark.parametrize(
    ("surface", "base", "cross"),
    [
        (LensPower(6, 1, 180), Meridian(6, 180), Meridian(7, 90)),
        (LensPower(-5, -2, 30), Meridian(-5, 30), Meridian(-7, 120)),
        (LensPower(-7, 2, 30), Meridian(-5, 120), Meridian(-7, 30)),
        (LensPower(0, -2, 45), Meridian(0, 45), Meridian(-2, 135)),
        (LensPower(1, -4, 45), Meridian(1, 45), Meridian(-3, 135)),
        (LensPower(3, -6, 45), Meridian(3, 45), Meridian(-3, 135)),
        (LensPower(0.3, -0.1 - 0.5, 45), Meridian(0.3, 45), Meridian(-0.3, 135)),
        (LensPower(5), Meridian(5, 180), Meridian(5, 90)),
    ],
)
def test_base_and_cross_curve(surface: LensPower, base: Meridian, cross: Meridian) -> None:
    """The weaker curve is the base curve; of two equally weak ones, the one along the axis."""
    assert base_and_cross_curve(surface) == (base, cross)


# Extremes ----------------------------------------------------------------------------------------


def test_the_named_indices() -> None:
    """Two of the indices that clocks are made for (meister-lens-clock-question and others)."""
    assert (TOOL_INDEX, CROWN_INDEX) == (1.53, 1.523)


@pytest.mark.parametrize("axis", [0, 90, 180])
@pytest.mark.parametrize("order", [0.0, 14.0, 25.0, -25.0])
def test_extreme_orders_can_be_ground(order: float, axis: float) -> None:
    """Aphakic and strong minus lenses, with a cylinder at the ends of the axis scale."""
    ordered = LensPower(order, -2, axis)
    for base in (0.0, 14.0):
        back = back_surface(ordered, LensPower(base), 8, 1.5)
        assert ThickLens(LensPower(base), back, 8, 1.5).back_vertex_power == ordered
        assert back.axis is not None
        assert axis_difference(back.axis, axis) == 0


def test_a_plano_surface_has_no_end_to_its_radius() -> None:
    assert radius_of_curvature(0, 1.5) == math.inf
    assert radius_of_curvature(1e-12, 1.5) == math.inf
    assert surface_power(math.inf, 1.5) == 0
    assert math.copysign(1, surface_power(-math.inf, 1.5)) == 1


def test_a_toric_back_surface_needs_its_axis_only_once() -> None:
    """A spherical front leaves the cylinder of the back surface as it is ordered."""
    back = back_surface(LensPower(-2, -1.5, 20), LensPower(6), 2.2, 1.5)
    assert (back.cylinder, back.axis) == pytest.approx((-1.5, 20))


# Refusals ----------------------------------------------------------------------------------------

SPHERE = LensPower(4)


@pytest.mark.parametrize("index", [1, 0, -1.5, 2.001, 1523, math.nan, math.inf])
def test_an_index_that_no_lens_has_is_refused(index: float) -> None:
    words = rf"A refractive index lies above 1 and up to 2, such as 1\.498; {index:g} was given\."
    for refused in (
        lambda: surface_power(80, index),
        lambda: radius_of_curvature(6, index),
        lambda: true_power(6, index, clock_index=1.53),
        lambda: true_power(6, 1.5, clock_index=index),
        lambda: ThickLens(SPHERE, SPHERE, 2, index),
        lambda: back_surface(SPHERE, SPHERE, 2, index),
    ):
        with pytest.raises(LensError, match=words):
            refused()


def test_what_is_just_allowed() -> None:
    assert surface_power(100, 2) == 10
    assert surface_power(100, 1.05) == 0.5
    assert surface_power(-0.5, 1.5) == -1000


@pytest.mark.parametrize("thickness", [-0.1, math.nan, math.inf])
def test_a_thickness_that_no_lens_has_is_refused(thickness: float) -> None:
    words = r"The centre thickness is 0 mm or more; (−0\.10|nan|inf) was given\."
    with pytest.raises(LensError, match=words):
        ThickLens(SPHERE, SPHERE, thickness, 1.5)
    with pytest.raises(LensError, match=words):
        back_surface(SPHERE, SPHERE, thickness, 1.5)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_a_power_that_is_no_number_is_refused(bad: float) -> None:
    with pytest.raises(LensError, match=r"The surface power must be a number such as −2\.25; "):
        radius_of_curvature(bad, 1.5)
    with pytest.raises(LensError, match=r"The reading of the lens clock must be a number"):
        true_power(bad, 1.5, clock_index=1.53)
    with pytest.raises(LensError, match=r"The base curve must be a number"):
        toric_transposition(LensPower(1, -1, 90), bad)


@pytest.mark.parametrize("radius", [0.0, math.nan])
def test_a_radius_of_nothing_is_refused(radius: float) -> None:
    with pytest.raises(LensError, match=r"plus for convex and minus for concave; (0\.00|nan) was"):
        surface_power(radius, 1.5)


def test_a_toric_form_needs_a_cylinder_and_a_base_curve() -> None:
    with pytest.raises(LensError, match=r"a cylinder of 0\.00 D and a base curve of \+6\.00 D"):
        toric_transposition(LensPower(2), 6)
    with pytest.raises(LensError, match=r"a cylinder of −1\.00 D and a base curve of \+0\.00 D"):
        toric_transposition(LensPower(2, -1, 90), 0)


def test_a_surface_that_focuses_inside_the_lens_is_refused() -> None:
    """At n/t = 1500/10 = 150 D the focus lies on the other surface."""
    words = r"\+150\.00 D focuses inside a lens 10\.00 mm thick; it must be weaker than \+150\.00 D"
    for strong in (LensPower(150), LensPower(150, -3, 90), LensPower(20, 130, 90)):
        with pytest.raises(LensError, match=words):
            back_surface(SPHERE, strong, 10, 1.5)
        with pytest.raises(LensError, match=words):
            _ = ThickLens(SPHERE, strong, 10, 1.5).front_vertex_power
    # 1500/7 = 214.2857
    with pytest.raises(LensError, match=r"7\.00 mm thick; it must be weaker than \+214\.29 D"):
        back_surface(SPHERE, LensPower(215), 7, 1.5)
    assert back_surface(SPHERE, LensPower(-150), 10, 1.5) == LensPower(4 + 75)


def test_obliquely_crossed_surfaces_have_no_equivalent_power() -> None:
    oblique = ThickLens(LensPower(6, 2, 180), LensPower(-4, -2, 30), 3, 1.5)
    with pytest.raises(LensError, match=r"along or across each other; 180\.00 and 30\.00 degrees"):
        _ = oblique.equivalent_power
