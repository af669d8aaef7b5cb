"""Prentice's rule for any lens, and its inverse; numpy and the shape of the lens as checks."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from lensmath.centration import Decentration, Point
from lensmath.decentration import (
    AtPoint,
    Everywhere,
    Nowhere,
    OnLine,
    decentration_for,
    find_prism,
    prism_at,
    prism_by_decentration,
    prism_from_pd_error,
)
from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.power import SAME_LENS, LensPower
from lensmath.prism import NO_PRISM, SAME_PRISM, Base, Component, Prism
from tests.printed import Row, as_printed, lens, published
from tests.strategies import lens_powers, written_lenses

tenths = st.integers(-300, 300).map(lambda n: n / 10)
places = st.builds(Point, tenths, tenths)
prisms = st.builds(Prism, tenths, tenths)
eyes = st.sampled_from(Eye)


def near(value: float) -> object:
    # Ways and prisms are cleaned to 1e-9; a way of 1e-9 mm is 5e-9 prism dioptres at 50 D.
    return pytest.approx(value, rel=1e-9, abs=2e-8)


def assert_same(one: Prism, other: Prism) -> None:
    assert (one.x, one.y) == (near(other.x), near(other.y))


# As printed ---------------------------------------------------------------------------------------


def assert_prints(part: Component, row: Row, name: str) -> None:
    if row[f"printed_{name}"]:
        assert part.amount == as_printed(row[f"printed_{name}"])
        assert (part.base or "") == row[f"printed_{name}_base"]


def place(row: Row) -> Point:
    return Decentration(float(row["inward"]), float(row["up"])).before(Eye(row["eye"]))


@published("decentration_prism_at")
def test_prism_at_a_point_as_printed(row: Row) -> None:
    prism = prism_at(lens(row), place(row))
    assert_prints(prism.vertical, row, "vertical")
    assert_prints(prism.horizontal(Eye(row["eye"])), row, "horizontal")


@published("decentration_moved")
def test_prism_by_decentration_as_printed(row: Row) -> None:
    prism = prism_by_decentration(lens(row), place(row))
    assert_prints(prism.vertical, row, "vertical")
    assert_prints(prism.horizontal(Eye(row["eye"])), row, "horizontal")
    if row["printed_amount"]:
        assert prism.amount == as_printed(row["printed_amount"])


@published("decentration_wanted")
def test_decentration_for_a_wanted_prism_as_printed(row: Row) -> None:
    eye = Eye(row["eye"])
    wanted = Prism.from_word(float(row["vertical"]), Base(row["vertical_base"]), eye)
    wanted += Prism.from_word(float(row["horizontal"]), Base(row["horizontal_base"]), eye)
    found = decentration_for(lens(row), wanted)
    assert isinstance(found, AtPoint)
    assert found.point.x * eye.inward == as_printed(row["printed_inward"])
    assert found.point.y == 0


# Against other computations -----------------------------------------------------------------------


def component_form(power: LensPower, eye: Eye, moved: Decentration) -> tuple[float, float]:
    """Vertical and horizontal prism, base up and out positive, without a matrix.

    The component form of jalie-2024: axes counted from the nose on both sides, x out, y up, in cm.
    """
    axis = power.axis or 0.0
    turned = math.radians(axis if eye is Eye.RIGHT else 180 - axis)
    x, y = -moved.inward / 10, moved.up / 10
    from_axis = power.cylinder * (x * math.sin(turned) + y * math.cos(turned))
    return (
        y * power.sphere + from_axis * math.cos(turned),
        x * power.sphere + from_axis * math.sin(turned),
    )


def component_inverse(
    power: LensPower, eye: Eye, vertical: float, outward: float
) -> tuple[float, float]:
    """Decentration in mm, inward and up, for these prisms, base up and out positive: jalie-2024."""
    axis = power.axis or 0.0
    turned = math.radians(axis if eye is Eye.RIGHT else 180 - axis)
    sphere, cylinder = power.sphere, power.cylinder
    mixed = cylinder * math.sin(turned) * math.cos(turned)
    product = sphere * (sphere + cylinder)
    up = (vertical * (sphere + cylinder * math.sin(turned) ** 2) - outward * mixed) / product
    out = (outward * (sphere + cylinder * math.cos(turned) ** 2) - vertical * mixed) / product
    return -10 * out, 10 * up


def thickness(power: LensPower, x: float, y: float) -> float:
    """How much thicker than at its centre a lens of index 2 is at x, y (metres).

    Sag of a sphere, and of a cylinder by the distance from its axis; no matrix and no prism rule.
    """
    turned = math.radians(power.axis or 0.0)
    from_axis = y * math.cos(turned) - x * math.sin(turned)
    return -(power.sphere * (x * x + y * y) + power.cylinder * from_axis**2) / 2


@given(lens_powers(), eyes, tenths, tenths)
def test_component_form_gives_the_same_prism(
    power: LensPower, eye: Eye, inward: float, up: float
) -> None:
    moved = Decentration(inward, up)
    vertical, outward = component_form(power, eye, moved)
    prism = prism_by_decentration(power, moved.before(eye))
    assert (prism.y, -prism.x * eye.inward) == (near(vertical), near(outward))


@given(written_lenses(), eyes, prisms)
def test_component_inverse_gives_the_same_decentration(
    power: LensPower, eye: Eye, prism: Prism
) -> None:
    assume(abs(power.sphere * (power.sphere + power.cylinder)) > 0.01)
    inward, up = component_inverse(power, eye, prism.y, -prism.x * eye.inward)
    found = decentration_for(power, prism)
    assert isinstance(found, AtPoint)
    assert found.point == pytest.approx((inward * eye.inward, up), rel=1e-6, abs=1e-6)


@given(lens_powers(), places)
def test_the_base_is_where_the_lens_grows_thicker(power: LensPower, point: Point) -> None:
    """A prism is the slope of the thickness, 100 times (index - 1), toward the thick side."""
    x, y, step = point.x / 1000, point.y / 1000, 1e-3
    prism = prism_at(power, point)
    across = thickness(power, x + step, y) - thickness(power, x - step, y)
    upward = thickness(power, x, y + step) - thickness(power, x, y - step)
    slopes = (100 * across / (2 * step), 100 * upward / (2 * step))
    assert (prism.x, prism.y) == pytest.approx(slopes, abs=1e-7)


@given(written_lenses(), prisms)
def test_numpy_finds_the_same_place(power: LensPower, prism: Prism) -> None:
    """Least squares solve F d / 10 = P: the rank tells point and line, the rest tells nowhere."""
    matrix, wanted = np.array(power.matrix) / 10, np.array([prism.x, prism.y])
    nearest, _, rank, _ = np.linalg.lstsq(matrix, wanted, rcond=1e-9)
    missed = bool(np.abs(matrix @ nearest - wanted).max() > 1e-6)
    found = decentration_for(power, prism)
    match found:
        case AtPoint(point):
            assert (rank, missed) == (2, False)
            assert point == pytest.approx(tuple(nearest), rel=1e-6, abs=1e-6)
        case OnLine(point, _):
            assert (rank, missed) == (1, False)
            assert point == pytest.approx(tuple(nearest), rel=1e-6, abs=1e-6)
        case Nowhere(along):
            assert missed
            assert rank == (0 if along is None else 1)
        case Everywhere():
            assert (rank, missed) == (0, False)


# There and back -----------------------------------------------------------------------------------


@given(written_lenses(), prisms, prisms)
def test_the_prism_wanted_is_at_the_place_found(
    power: LensPower, wanted: Prism, reference: Prism
) -> None:
    """From the optical centre, and from a point where some prism was measured."""
    found = find_prism(power, wanted, reference)
    assume(isinstance(found, AtPoint))
    assert isinstance(found, AtPoint)
    back = prism_at(power, found.point, reference)
    assert (back.x, back.y) == pytest.approx((wanted.x, wanted.y), abs=1e-6)


@given(written_lenses(), places)
def test_the_place_found_is_where_the_prism_was_taken(power: LensPower, point: Point) -> None:
    found = find_prism(power, prism_at(power, point))
    if isinstance(found, AtPoint):
        assert found.point == pytest.approx(point, rel=1e-6, abs=1e-6)
    else:
        assert isinstance(found, OnLine | Everywhere)


@given(lens_powers(), places)
def test_moving_the_centre_is_looking_the_other_way(power: LensPower, point: Point) -> None:
    back = Point(-point.x, -point.y)
    assert_same(prism_by_decentration(power, point), prism_at(power, back))
    assert_same(prism_at(power, point), -prism_at(power, back))


@given(lens_powers(), places, prisms)
def test_prism_from_a_measured_point_adds_to_what_was_measured(
    power: LensPower, point: Point, reference: Prism
) -> None:
    assert_same(prism_at(power, point, reference), reference + prism_at(power, point))


@pytest.mark.parametrize("power", [-25.0, -0.125, 0.125, 14.0, 25.0])
@pytest.mark.parametrize("axis", [0, 1, 45, 90, 135, 180])
def test_along_a_principal_meridian_it_is_the_plain_rule(power: float, axis: float) -> None:
    """10 mm along a meridian give its power in prism dioptres, the base back to a plus centre."""
    for lens_power in (LensPower(power), LensPower(power, -2.5, axis)):
        for strength, direction in lens_power.principal_meridians:
            turned = math.radians(direction)
            prism = prism_at(lens_power, Point(10 * math.cos(turned), 10 * math.sin(turned)))
            assert prism.amount == near(abs(strength))
            toward_centre = -(prism.x * math.cos(turned) + prism.y * math.sin(turned))
            assert toward_centre == near(strength)


# A point, a line, nowhere, everywhere -------------------------------------------------------------


@pytest.mark.parametrize(
    ("power", "prism", "found"),
    [
        (LensPower(4), Prism(-2, 0), AtPoint(Point(-5, 0))),
        (LensPower(14), NO_PRISM, AtPoint(Point(0, 0))),
        (LensPower(-2, 1, 180), Prism(1, -2), AtPoint(Point(-5, 20))),
        # A plano-cylinder has prism only across its axis, and all along a line the same.
        (LensPower(0, -2, 180), Prism(0, 1), OnLine(Point(0, -5), 180)),
        (LensPower(0, -2, 180), Prism(1, 0), Nowhere(90)),
        (LensPower(0, -2, 180), NO_PRISM, OnLine(Point(0, 0), 180)),
        (LensPower(0, 4, 90), Prism(2, 0), OnLine(Point(5, 0), 90)),
        (LensPower(0, 4, 90), Prism(2, 0.001), Nowhere(180)),
        # The same lens in its other form, and a lens that is plano across its axis.
        (LensPower(-2, 2, 90), Prism(0, 1), OnLine(Point(0, -5), 180)),
        (LensPower(-2, 2, 90), Prism(1, 0), Nowhere(90)),
        (LensPower(0), NO_PRISM, Everywhere()),
        (LensPower(0), Prism(0, 0.001), Nowhere(None)),
    ],
)
def test_where_a_prism_is_found(power: LensPower, prism: Prism, found: object) -> None:
    assert decentration_for(power, prism) == found


def test_float_noise_makes_no_prism_unreachable() -> None:
    """2 prism dioptres along 030 from a plano-cylinder at 120, and a cylinder left by a sum."""
    found = decentration_for(LensPower(0, -4, 120), Prism.from_base(2, 30))
    assert isinstance(found, OnLine)
    assert found.direction == 120
    assert found.nearest == pytest.approx((-5 * math.cos(math.pi / 6), -2.5), abs=1e-8)
    left_over = LensPower(0.1, -0.1, 90) + LensPower(0.2) + LensPower(-0.3)
    assert isinstance(decentration_for(left_over, Prism(1, 0)), OnLine)


def test_what_is_too_little_to_tell_from_nothing_is_nothing() -> None:
    assert decentration_for(LensPower(SAME_LENS), NO_PRISM) == Everywhere()
    assert isinstance(decentration_for(LensPower(2 * SAME_LENS), NO_PRISM), AtPoint)
    assert decentration_for(LensPower(0), Prism(SAME_PRISM, 0)) == Everywhere()
    assert decentration_for(LensPower(0), Prism(2 * SAME_PRISM, 0)) == Nowhere(None)


@given(written_lenses(), prisms, st.floats(-50, 50))
def test_all_along_the_line_the_prism_is_the_same(
    power: LensPower, prism: Prism, way: float
) -> None:
    cylinder = LensPower(0, power.cylinder, power.axis)
    across = math.radians((power.axis or 0) + 90)
    found = decentration_for(cylinder, Prism.from_base(prism.amount, math.degrees(across)))
    assume(cylinder.cylinder != 0)
    assert isinstance(found, OnLine)
    assert power.axis is not None
    assert found.direction == near(power.axis)
    along = (
        math.cos(math.radians(found.direction)),
        math.sin(math.radians(found.direction)),
    )
    assert found.nearest.x * along[0] + found.nearest.y * along[1] == pytest.approx(0, abs=1e-6)
    moved = Point(found.nearest.x + way * along[0], found.nearest.y + way * along[1])
    assert prism_by_decentration(cylinder, moved).amount == pytest.approx(prism.amount, abs=1e-6)


def test_a_prism_that_was_ordered_is_found_from_where_another_was_measured() -> None:
    """A +5.00 DS measures 1 base in at the pupil of a right eye; 2.5 base in was ordered."""
    found = find_prism(LensPower(5), wanted=Prism(2.5, 0), reference=Prism(1, 0))
    assert found == AtPoint(Point(-3, 0))
    assert find_prism(LensPower(0), Prism(1, 0), reference=Prism(1, 0)) == Everywhere()


# PD error -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("power", "error", "base"),
    [
        (3.0, -2, Base.IN),  # narrow centres: the eye looks out of the centre, a plus base is in
        (3.0, 2, Base.OUT),
        (-3.0, -2, Base.OUT),
        (-3.0, 2, Base.IN),
    ],
)
@pytest.mark.parametrize("eye", Eye)
def test_base_of_a_pd_error(power: float, error: float, base: Base, eye: Eye) -> None:
    prism = prism_from_pd_error(LensPower(power), eye, error)
    assert prism.horizontal(eye) == Component(0.6, base)
    assert prism.vertical == Component(0, None)


def test_a_pd_error_across_an_oblique_cylinder_gives_vertical_prism_too() -> None:
    """-4.00 x 045: 2 mm in give 0.2 x 2.00 across and, through the cylinder, as much upward."""
    prism = prism_from_pd_error(LensPower(0, -4, 45), Eye.RIGHT, -2)
    assert (prism.x, prism.y) == (near(-0.4), near(0.4))


def test_a_place_is_a_number() -> None:
    with pytest.raises(LensError, match="Prism must be a number"):
        prism_at(LensPower(1), Point(math.nan, 0))
