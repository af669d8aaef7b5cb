"""Sagitta and thickness: published figures, rays against spheres and tori, identities, refusals."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from lensmath.centration import Point
from lensmath.errors import LensError
from lensmath.power import LensPower
from lensmath.prism import Prism
from lensmath.surfaces import ThickLens
from lensmath.thickness import (
    Edge,
    UncutLens,
    approximate_sagitta,
    centre_thickness,
    knife_edge_distance,
    power_from_sagitta,
    prism_thickness_difference,
    sagitta,
    thickness_at,
    thinnest_lens,
)
from tests.printed import Row, as_printed, published
from tests.strategies import axes, eighths, powers

indices = st.floats(1.45, 1.9)
directions = st.floats(0, 360)
# Shallow enough at 30 mm for every index: the shortest radius is then 32 mm.
curves = powers(14.0)
points = st.builds(Point, st.floats(-5, 5), st.floats(-5, 5))
torics = st.builds(LensPower, powers(7.0), powers(7.0), axes())


# Published figures -------------------------------------------------------------------------------


@published("thickness_sagitta")
def test_sagitta_as_printed(row: Row) -> None:
    """The exact depth and the short rule."""
    power, index, chord = float(row["power"]), float(row["index"]), float(row["diameter"]) / 2
    assert sagitta(power, chord, index) == as_printed(row["printed_exact"])
    assert approximate_sagitta(power, chord, index) == as_printed(row["printed_approximate"])


@published("thickness_edge")
def test_edge_thickness_as_printed(row: Row) -> None:
    """The edge from the centre, and the centre from the edge."""
    front, back = LensPower(float(row["front"])), LensPower(float(row["back"]))
    centre, index, chord = float(row["centre"]), float(row["index"]), float(row["diameter"]) / 2
    edge = thickness_at(ThickLens(front, back, centre, index), chord)
    assert edge == as_printed(row["printed"])
    assert centre_thickness(front, back, index, edge, chord) == as_printed(row["centre"])


@published("thickness_approximate_centre")
def test_approximate_centre_thickness_as_printed(row: Row) -> None:
    """A thin plus lens: the edge and the depth of its whole power by the short rule."""
    power, index, chord = float(row["power"]), float(row["index"]), float(row["diameter"]) / 2
    centre = float(row["edge"]) + approximate_sagitta(power, chord, index)
    assert centre == as_printed(row["printed"])


# Against rays and solids (numpy) -----------------------------------------------------------------


def ray_depth(curvature: float, x: float, y: float) -> float:
    """Where a ray along z, at (x, y), first meets the sphere that touches the plane z = 0."""
    roots = np.roots([curvature, -2, curvature * (x**2 + y**2)])
    return float(min(roots.real, key=abs))


@given(curves, st.floats(0, 30), indices)
def test_sagitta_is_where_a_ray_meets_the_sphere(power: float, chord: float, index: float) -> None:
    assume(abs(power) > 1e-3)
    expected = ray_depth(power / 1000 / (index - 1), chord, 0)
    assert sagitta(power, chord, index) == pytest.approx(expected, rel=0, abs=1e-6)


@given(curves, curves, directions, st.floats(-4, 4), st.floats(-4, 4), indices)
def test_decentred_edge_is_the_path_of_a_ray_through_both_spheres(
    first: float, second: float, direction: float, x: float, y: float, index: float
) -> None:
    """The spheres stand at (x, y); the ray passes 20 mm from the middle of the round lens."""
    assume(abs(first) > 1e-3 and abs(second) > 1e-3)
    turn = math.radians(direction)
    ray = (20 * math.cos(turn) - x, 20 * math.sin(turn) - y)
    front, back = (ray_depth(power / 1000 / (index - 1), *ray) for power in (first, second))
    lens = ThickLens(LensPower(first), LensPower(second), 30, index)
    edge = UncutLens(lens, 40, Point(x, y)).edge(direction)
    assert edge.distance == pytest.approx(math.hypot(*ray))
    assert edge.thickness == pytest.approx(30 - back - front, rel=0, abs=1e-6)


def torus_depth(along: float, across: float, generator: float, swept: float) -> float:
    """A circle of radius `generator`, in the plane of `along`, swept round on radius `swept`."""
    start = generator - np.sqrt(generator**2 - along**2)
    return float(swept - np.sqrt((swept - start) ** 2 - across**2))


@pytest.mark.parametrize("direction", range(0, 91, 5))
@pytest.mark.parametrize(("base", "cross", "allowed"), [(4, 6, 0.016), (6, 8, 0.04), (8, 12, 0.20)])
def test_toric_depth_lies_near_both_tori(
    base: float, cross: float, allowed: float, direction: float
) -> None:
    """At 30 mm, index 1.5, whichever curve is swept; exact in the principal meridians."""
    x, y = 30 * math.cos(math.radians(direction)), 30 * math.sin(math.radians(direction))
    surface = LensPower(base, cross - base, 180)
    depth = sagitta(surface.power_along(direction), 30, 1.5)
    limit = allowed if 0 < direction < 90 else 1e-6
    assert abs(depth - torus_depth(x, y, 500 / base, 500 / cross)) < limit
    assert abs(depth - torus_depth(y, x, 500 / cross, 500 / base)) < limit


@pytest.mark.parametrize("prism", [0.5, 3.0, 10.0])
@pytest.mark.parametrize("index", [1.498, 1.6, 1.74])
def test_wedge_deviates_by_its_prism(prism: float, index: float) -> None:
    """Snell's law through a wedge of that thickness; the rule is one for small angles."""
    apex = math.atan(prism_thickness_difference(prism, 50, index) / 50)
    deviation = math.asin(index * math.sin(apex)) - apex
    assert 100 * math.tan(deviation) == pytest.approx(prism, rel=0.02 * (prism / 5) ** 2 + 1e-4)


def test_wedge_of_20_prism_dioptres() -> None:
    """20 x 50 / (100 x 0.5)."""
    assert prism_thickness_difference(20, 50, 1.5) == 20
    assert prism_thickness_difference(-20, 50, 1.5) == -20
    assert prism_thickness_difference(0, 50, 1.5) == 0


def test_decentration_and_its_prism_make_nearly_the_same_wedge() -> None:
    """A +2.00 D lens moved 5 mm has 1 prism dioptre in its middle, base toward its centre."""
    lens = ThickLens(LensPower(2), LensPower(0), 5, 1.5)
    moved = UncutLens(lens, 50, Point(5, 0))
    ground = UncutLens(lens, 50, prism=Prism(1, 0))
    for uncut in (moved, ground):
        assert uncut.thickest.direction == 0
        assert uncut.thinnest.direction == 180
        difference = uncut.thickest.thickness - uncut.thinnest.thickness
        assert difference == pytest.approx(prism_thickness_difference(1, 50, 1.5), rel=0.01)


# Identities --------------------------------------------------------------------------------------


@given(curves, st.floats(0.5, 30), indices)
def test_sagitta_and_power_undo_each_other(power: float, chord: float, index: float) -> None:
    depth = sagitta(power, chord, index)
    assert power_from_sagitta(depth, chord, index) == pytest.approx(power, rel=0, abs=1e-4)


@given(curves, st.floats(0, 30), indices)
def test_the_short_rule_is_too_shallow(power: float, chord: float, index: float) -> None:
    exact, short = sagitta(power, chord, index), approximate_sagitta(power, chord, index)
    assert abs(short) <= abs(exact) + 1e-9
    assert approximate_sagitta(power, chord / 100, index) == pytest.approx(
        sagitta(power, chord / 100, index), abs=1e-6
    )


@given(torics, torics, indices, st.floats(0, 5), st.floats(0, 30), directions)
def test_centre_and_edge_undo_each_other(
    front: LensPower, back: LensPower, index: float, edge: float, distance: float, direction: float
) -> None:
    try:
        centre = centre_thickness(front, back, index, edge, distance, direction)
    except LensError:
        assert thickness_at(ThickLens(front, back, 0, index), distance, direction) > edge
        return
    lens = ThickLens(front, back, centre, index)
    assert thickness_at(lens, distance, direction) == pytest.approx(edge, rel=0, abs=1e-8)
    assert thickness_at(lens, 0, direction) == pytest.approx(centre)


@given(torics, torics, indices, st.floats(0.5, 8), directions)
def test_knife_edge_is_where_nothing_is_left(
    front: LensPower, back: LensPower, index: float, centre: float, direction: float
) -> None:
    lens = ThickLens(front, back, centre, index)
    distance = knife_edge_distance(lens, direction)
    if distance is None:
        assert thickness_at(lens, 30, direction) > 0
        return
    assert thickness_at(lens, distance - 0.1, direction) > 0
    assert centre_thickness(front, back, index, 0, distance - 1e-6, direction) == pytest.approx(
        centre, rel=0, abs=1e-3
    )


@settings(max_examples=25)
@given(torics, torics, points, st.floats(0, 20), directions)
def test_extreme_edges_are_the_extremes(
    front: LensPower, back: LensPower, centre: Point, amount: float, base: float
) -> None:
    prism = Prism.from_base(amount, base)
    uncut = UncutLens(ThickLens(front, back, 40, 1.6), 50, centre, prism)
    edges = [uncut.edge(direction).thickness for direction in range(0, 360, 7)]
    assert uncut.thinnest.thickness <= min(edges) + 1e-8
    assert uncut.thickest.thickness >= max(edges) - 1e-8
    assert uncut.edge(uncut.thickest.direction) == uncut.thickest
    needed = uncut.centre_for_edge(1.0)
    if needed > 0:
        knife = UncutLens(ThickLens(front, back, needed, 1.6), 50, centre, prism)
        assert knife.thinnest.thickness == pytest.approx(1.0, abs=1e-7)


@pytest.mark.parametrize("axis", [0, 90, 135, 180])
@pytest.mark.parametrize("sphere", [0.0, 5.0, 14.0, -14.0, -25.0])
@pytest.mark.parametrize("prism", [0.0, 5.0])
def test_thinnest_lens_has_its_power_and_its_minima(
    sphere: float, axis: float, prism: float
) -> None:
    order, front = LensPower(sphere, -2, axis), LensPower(max(sphere + 2, 1.0))
    centre, ground = Point(-2, 1), Prism(0, prism)
    uncut = thinnest_lens(
        order,
        front,
        1.74,
        44,
        minimum_centre=1.8,
        minimum_edge=0.8,
        optical_centre=centre,
        prism=ground,
    )
    thickness, edge = uncut.lens.centre_thickness, uncut.thinnest.thickness
    assert uncut.lens.back_vertex_power == order
    assert (uncut.optical_centre, uncut.prism) == (centre, ground)
    assert thickness >= 1.8
    assert edge >= 0.8 - 1e-7
    assert thickness == 1.8 or edge == pytest.approx(0.8, abs=1e-7)


# Signs and cases ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("front", "back", "thicker"), [(4, -8, True), (8, -4, False), (5, -5, False), (-2, -2, True)]
)
def test_a_minus_lens_is_thicker_at_its_edge(front: float, back: float, thicker: bool) -> None:
    edge = thickness_at(ThickLens(LensPower(front), LensPower(back), 5, 1.5), 25)
    assert (edge > 5) == thicker
    assert (edge == 5) == (front == -back)


def test_without_a_direction_the_horizontal_is_meant() -> None:
    lens = ThickLens(LensPower(6, 2, 90), LensPower(0), 4, 1.5)
    assert thickness_at(lens, 20) == thickness_at(lens, 20, 0) != thickness_at(lens, 20, 90)
    assert knife_edge_distance(lens) == knife_edge_distance(lens, 0)
    assert centre_thickness(lens.front, lens.back, 1.5, 1, 20) == centre_thickness(
        lens.front, lens.back, 1.5, 1, 20, 0
    )


@pytest.mark.parametrize("axis", [180, 90, 30])
def test_a_minus_cylinder_is_thickest_across_its_axis(axis: int) -> None:
    uncut = UncutLens(ThickLens(LensPower(4), LensPower(-6, -2, axis), 2, 1.5), 60)
    assert uncut.thickest.direction == (axis + 90) % 180
    assert uncut.thinnest.direction == axis % 180


def test_decentration_moves_the_thick_edge_away_from_the_optical_centre() -> None:
    lens = ThickLens(LensPower(4), LensPower(-8), 2, 1.6)
    inward = UncutLens(lens, 60, Point(3, 0))
    assert (inward.thickest.direction, inward.thickest.distance) == (180, 33)
    assert (inward.thinnest.direction, inward.thinnest.distance) == (0, 27)
    assert inward.thickest.thickness == thickness_at(lens, 33)
    assert UncutLens(lens, 60, Point(0, 3)).thickest.direction == 270
    assert UncutLens(lens, 60, Point(0, -3)).thickest.direction == 90


def test_a_prism_is_thickest_at_its_base() -> None:
    """Half the wedge more at the base, half less at the apex; nothing in the middle."""
    lens = ThickLens(LensPower(6), LensPower(-6), 5, 1.5)
    uncut = UncutLens(lens, 50, prism=Prism(0, 4))
    assert uncut.thickest == Edge(90, 25, 7)
    assert uncut.thinnest == Edge(270, 25, 3)
    assert uncut.edge(0).thickness == 5
    assert thickness_at(lens, 0, 90, Prism(0, 4)) == 5


def test_directions_come_back_within_a_turn() -> None:
    uncut = UncutLens(ThickLens(LensPower(6), LensPower(-6), 5, 1.5), 50)
    assert [uncut.edge(turn).direction for turn in (-90, 0, 359.5, 360)] == [270, 0, 359.5, 0]
    assert uncut.thickest.direction == uncut.thinnest.direction == 0
    decentred = UncutLens(LENS, 0.5, Point(0.1, 0.2))
    assert decentred.edge(-90) == decentred.edge(270) != decentred.edge(90)


def test_float_noise_does_not_choose_the_thickest_edge() -> None:
    """Both ends of a meridian are alike; the first is named."""
    uncut = UncutLens(ThickLens(LensPower(3.3), LensPower(-7.7, -0.7, 17), 2, 1.523), 61)
    opposite = uncut.edge(uncut.thickest.direction + 180)
    assert uncut.thickest.direction == 107
    assert opposite.thickness == pytest.approx(uncut.thickest.thickness, abs=1e-9)


def test_a_knife_edge_is_allowed_and_less_is_not() -> None:
    front, back = LensPower(8), LensPower(-3)
    knife = centre_thickness(front, back, 1.5, 0, 30)
    assert thickness_at(ThickLens(front, back, knife, 1.5), 30) == 0
    assert knife_edge_distance(ThickLens(front, back, knife, 1.5)) == pytest.approx(30, abs=1e-6)


@pytest.mark.parametrize(
    ("front", "back"), [(0, 0), (4, -8), (0, -4), (5, -5), (-14, -2), (6.1, -6.2)]
)
def test_surfaces_that_never_meet(front: float, back: float) -> None:
    assert knife_edge_distance(ThickLens(LensPower(front), LensPower(back), 2, 1.5)) is None


def test_a_plus_lens_without_thickness_is_all_knife_edge() -> None:
    assert knife_edge_distance(ThickLens(LensPower(8), LensPower(-3), 0, 1.5)) == 0


def test_a_strong_toric_meets_first_along_its_stronger_meridian() -> None:
    lens = ThickLens(LensPower(12, 2, 180), LensPower(0), 6, 1.5)
    along, across = knife_edge_distance(lens, 0), knife_edge_distance(lens, 90)
    assert along is not None
    assert across is not None
    assert across < along


def test_half_a_sphere_is_the_deepest_curve() -> None:
    assert sagitta(20, 25, 1.5) == 25
    assert sagitta(-20, 25, 1.5) == -25
    assert sagitta(20, 25 * (1 + 1e-12), 1.5) == pytest.approx(25)
    assert power_from_sagitta(25, 25, 1.5) == 20
    assert power_from_sagitta(-25, 25, 1.5) == -20


@pytest.mark.parametrize("power", [0.0, 1e-12, -0.0])
def test_a_plano_surface_has_no_depth(power: float) -> None:
    assert sagitta(power, 30, 1.5) == 0
    assert math.copysign(1, sagitta(power, 30, 1.5)) == 1
    assert approximate_sagitta(power, 30, 1.5) == 0
    assert power_from_sagitta(0, 30, 1.5) == 0


@given(eighths(7), st.floats(0, 30))
def test_at_the_optical_centre_and_through_a_plano(power: float, distance: float) -> None:
    lens = ThickLens(LensPower(power), LensPower(-power), 3, 1.5)
    assert thickness_at(lens, distance) == 3
    assert thickness_at(lens, 0) == 3


# Refusals ----------------------------------------------------------------------------------------

LENS = ThickLens(LensPower(8), LensPower(-3), 2, 1.5)


@pytest.mark.parametrize(
    ("refused", "words"),
    [
        (
            lambda: sagitta(-20, 25.01, 1.5),
            r"a radius of 25\.00 mm; a semi-diameter of 25\.01 mm was given, and it cannot exceed",
        ),
        (lambda: sagitta(math.nan, 25, 1.5), r"The surface power must be a number"),
        (lambda: sagitta(6, -25, 1.5), r"The semi-diameter is 0 mm or more; −25\.00 was given\."),
        (lambda: sagitta(6, math.nan, 1.5), r"The semi-diameter is 0 mm or more; nan was given\."),
        (lambda: sagitta(6, 25, 1.0), r"A refractive index lies above 1 and up to 2"),
        (lambda: approximate_sagitta(math.inf, 25, 1.5), r"The surface power must be a number"),
        (lambda: approximate_sagitta(6, -1, 1.5), r"The semi-diameter is 0 mm or more"),
        (lambda: approximate_sagitta(6, 25, 0), r"A refractive index lies above 1 and up to 2"),
        (
            lambda: power_from_sagitta(-26, 25, 1.5),
            r"a depth of −26\.00 mm and a semi-diameter of 25\.00 mm were given\.",
        ),
        (lambda: power_from_sagitta(0, 0, 1.5), r"which is above 0 mm; a depth of 0\.00 mm"),
        (lambda: power_from_sagitta(math.nan, 25, 1.5), r"a depth of nan mm"),
        (lambda: power_from_sagitta(2, 25, 2.5), r"A refractive index lies above 1 and up to 2"),
        (lambda: prism_thickness_difference(math.nan, 50, 1.5), r"The prism must be a number"),
        (
            lambda: prism_thickness_difference(2, math.inf, 1.5),
            r"The distance is 0 mm or more; inf",
        ),
        (lambda: prism_thickness_difference(2, 50, 1), r"A refractive index lies above 1"),
        (
            lambda: thickness_at(LENS, 30),
            r"before 30\.00 mm from .* needs a thickness of at least 4\.95 mm, 2\.00 mm",
        ),
        (
            lambda: centre_thickness(LensPower(3), LensPower(-8), 1.5, 1.0, 30),
            r"add thickness from the centre to that edge, so it is at least 4\.95 mm; 1\.00 mm was",
        ),
        (
            lambda: centre_thickness(LensPower(3), LensPower(3), 1.5, -1, 30),
            r"The edge thickness is 0 mm or more; −1\.00 was given\.",
        ),
        (lambda: UncutLens(LENS, 0), r"The diameter of a lens is above 0 mm; 0\.00 was given\."),
        (lambda: UncutLens(LENS, math.nan), r"The diameter of a lens is above 0 mm; nan was"),
        (lambda: UncutLens(LENS, math.inf), r"The diameter of a lens is above 0 mm; inf was"),
        # 523/7 = 74.714
        (lambda: sagitta(7, 75, 1.523), r"of \+7\.00 D in index 1\.523 has a radius of 74\.71 mm"),
        (lambda: power_from_sagitta(1, -25, 1.523), r"The semi-diameter is 0 mm or more; −25\.00"),
        (lambda: thickness_at(LENS, 30.0123), r"The surfaces meet before 30\.01 mm"),
        (lambda: UncutLens(LENS, 20).edge(math.inf), r"The meridian must be a number"),
        (lambda: thickness_at(LENS, 5, math.inf), r"The meridian must be a number"),
        (lambda: UncutLens(LENS, 20, Point(math.nan, 0)).thickest, r"must be a number.*; nan was"),
        (lambda: UncutLens(LENS, 60).thinnest, r"The surfaces meet before 30\.00 mm"),
        (lambda: UncutLens(LENS, 60).centre_for_edge(-1), r"The edge thickness is 0 mm or more"),
        (
            lambda: thinnest_lens(
                LensPower(2), LensPower(8), 1.5, 60, minimum_centre=-1, minimum_edge=1
            ),
            r"The minimum centre thickness is 0 mm or more; −1\.00 was given\.",
        ),
        (
            lambda: thinnest_lens(
                LensPower(3.25), LensPower(20.75), 1.5, 48, minimum_centre=1, minimum_edge=1
            ),
            r"too steep for a diameter of 48\.00 mm: no thickness was found that fits\.",
        ),
    ],
)
def test_what_no_lens_can_have_is_refused(refused: Callable[[], object], words: str) -> None:
    with pytest.raises(LensError, match=words):
        refused()


@pytest.mark.parametrize("distance", [5.0, 12.3, 27.77, 33.0])
def test_the_thickness_that_a_refusal_names_is_enough(distance: float) -> None:
    surfaces = (LensPower(8), LensPower(-3))
    with pytest.raises(LensError, match="at least") as refusal:
        thickness_at(ThickLens(*surfaces, 0, 1.5), distance)
    named = float(str(refusal.value).split("at least ")[1].split(" mm")[0])
    assert 0 <= thickness_at(ThickLens(*surfaces, named, 1.5), distance) < 0.01
