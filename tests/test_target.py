"""The picture in the eyepiece: against the readings, and against rays traced through a bench."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lensmath.centration import Point
from lensmath.decentration import prism_at
from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.power import LensPower, axis_difference
from lensmath.prism import NO_PRISM, Base, Component, Prism, prism_on_target
from lensmath.readings import Lines, Readings
from lensmath.target import (
    CORONA,
    CROSSED_LINES,
    SHARP,
    CrossedLines,
    DotRing,
    DrumRange,
    LineSet,
    View,
)
from tests.printed import Row, as_printed, published
from tests.strategies import astigmatic_lenses, axes, lens_powers, powers, written_lenses

Array = np.ndarray

SPHERE, CYLINDER, BOTH = Lines
sets = st.sampled_from((SPHERE, CYLINDER))
prisms = st.builds(Prism, powers(20), powers(20))
stops = st.sampled_from((1.0, 4.0, 6.0, 8.0))
thresholds = st.sampled_from((0.01, SHARP, 0.1))

near = pytest.approx


def unit(degrees: float) -> Array:
    return np.array([math.cos(math.radians(degrees)), math.sin(math.radians(degrees))])


# Independent computation: rays through a bench ----------------------------------------------------

SAME, NOTHING = np.eye(2), np.zeros((2, 2))


def thin(power: Array) -> Array:
    """What a thin lens, its power matrix in dioptres, does to height (m) and slope of a ray."""
    return np.block([[SAME, NOTHING], [-power, SAME]])


def gap(length: float) -> Array:
    """What a way through air, in metres, does to height and slope of a ray."""
    return np.block([[SAME, length * SAME], [NOTHING, SAME]])


@dataclass(frozen=True)
class Bench:
    """Target, standard lens, stop with the lens, objective, and the reticle in its focus.

    The target stands where the drum says: f² D from its place at zero, in metres.
    """

    standard_lens: float = 60.0
    to_objective: float = 0.08
    objective: float = 12.0

    def seen(self, view: View, spot: tuple[float, float], stop_points: Array) -> Array:
        """Where the rays of one target spot through these stop points (m, 2 x n) meet the reticle.

        `spot` and the result in prism dioptres: hundredths of the focal length of the objective.
        """
        focus = 1 / self.standard_lens
        to_stop = gap(focus) @ thin(self.standard_lens * SAME) @ gap(focus - focus**2 * view.drum)
        height = -focus / 100 * np.array(spot)[:, None] * np.ones_like(stop_points)
        slope = np.linalg.solve(to_stop[:2, 2:], stop_points - to_stop[:2, :2] @ height)
        at_stop = to_stop @ np.vstack([height, slope])
        assert at_stop[:2] == near(stop_points, abs=1e-12)
        behind = thin(np.array(view.lens.matrix)) @ at_stop
        behind[2:] += np.array([[view.prism.x], [view.prism.y]]) / 100
        through = gap(1 / self.objective) @ thin(self.objective * SAME) @ gap(self.to_objective)
        return 100 * self.objective * (through @ behind)[:2]


def rim(diameter: float, rays: int = 720) -> Array:
    """Points around the edge of a stop, in metres."""
    turns = np.linspace(0, 2 * math.pi, rays, endpoint=False)
    return diameter / 2000 * np.array([np.cos(turns), np.sin(turns)])


def extent(points: Array, direction: float) -> float:
    along = unit(direction) @ points
    return float(along.max() - along.min())


VIEWS = [
    View(LensPower(-0.75, -2.50, 112), -0.75, 112),
    View(LensPower(-0.75, -2.50, 112), -3.25, 112),
    View(LensPower(-0.75, -2.50, 112), -2.00, 112),
    View(LensPower(-0.75, -2.50, 112), -0.75, 97),
    View(LensPower(2, 3, 20), 3.1, 65, Prism(1.5, -0.75), stop=4),
    View(LensPower(14, -3, 0), 12, 10, Prism(0, 3)),
    View(LensPower(-25, -4, 90), -24, 180, Prism(-20, 0)),
    View(LensPower(-4), -3.5, 30),
]


def test_the_bench_traces_two_lenses_as_computed() -> None:
    # T11-12, T11-13 (independent computation, closed form): +5.00 DC x030, 50 mm, -4.00 DC x075;
    # the exit vergence of a distant object, the equivalent power, and the symplectic identity.
    first, second = (np.array(LensPower(0, *cylinder).matrix) for cylinder in ((5, 30), (-4, 75)))
    system = thin(second) @ gap(0.05) @ thin(first)
    vertex = -system[2:, :2] @ np.linalg.inv(system[:2, :2])
    assert vertex == near(np.array([[-2.0654, -1.8868], [-1.8868, 4.7321]]), abs=1e-4)
    equivalent = np.array([[-2.1405, -1.7566], [-1.2566, 3.6405]])
    assert -system[2:, :2] == near(equivalent, abs=1e-4)
    turned = np.block([[NOTHING, SAME], [-SAME, NOTHING]])
    assert system.T @ turned @ system == near(turned, abs=1e-12)


@pytest.mark.parametrize("view", VIEWS)
def test_rays_spread_as_the_blur_says(view: View) -> None:
    rays = Bench().seen(view, (0.7, -1.2), rim(view.stop))
    assert rays.mean(axis=1) == near([0.7 + view.prism.x, -1.2 + view.prism.y], abs=1e-9)
    radii = np.hypot(*(rays - rays.mean(axis=1, keepdims=True)))
    assert 2 * radii.max() == near(view.blur.length, abs=1e-4 * (1 + view.blur.length))
    assert 2 * radii.min() == near(view.blur.width, abs=0.01 * (0.01 + view.blur.length))
    if view.blur.direction is not None:
        assert extent(rays, view.blur.direction) == near(view.blur.length, rel=1e-4)
        assert extent(rays, view.blur.direction + 90) == near(view.blur.width, rel=1e-4, abs=1e-8)
    for lines in (SPHERE, CYLINDER):
        across = extent(rays, view.direction(lines) + 90)
        assert across == near(view.blur_across(lines), rel=1e-4, abs=1e-8)


@pytest.mark.parametrize("view", VIEWS)
def test_rays_from_a_whole_line_fill_its_image(view: View) -> None:
    """Length, width, place and shear of the image, from the rays of both ends of a line."""
    for drawn in view.line_images(CrossedLines(LineSet(0, 0.3, 6, 1), LineSet(0, 0.8, 4, 1))):
        along, normal = unit(drawn.direction), unit(drawn.direction + 90)
        half = (6 if drawn.lines is SPHERE else 4) / 2
        rays = [Bench().seen(view, tuple(end * half * along), rim(view.stop)) for end in (-1, 1)]
        both = np.hstack(rays)
        assert extent(both, drawn.direction) == near(drawn.length, rel=1e-4)
        assert extent(both, drawn.direction + 90) == near(drawn.width, rel=1e-4, abs=1e-8)
        assert both.mean(axis=1) == near([drawn.x, drawn.y], abs=1e-8)
        if drawn.width > 1e-3:
            across = normal @ rays[0]
            left, right = (rays[0][:, pick(across)] for pick in (np.argmax, np.argmin))
            assert along @ (left - right) == near(drawn.shear, abs=0.02 * view.blur.length)
        else:
            assert drawn.shear == 0


@settings(max_examples=40)
@given(lens_powers(), powers(), axes(), prisms, stops)
def test_rays_agree_for_any_lens_and_setting(
    lens: LensPower, drum: float, wheel: float, prism: Prism, stop: float
) -> None:
    view = View(lens, drum, wheel, prism, stop)
    rays = Bench().seen(view, (0, 0), rim(stop, rays=180))
    scale = 1e-3 * view.blur.length + 1e-7
    assert rays.mean(axis=1) == near([prism.x, prism.y], abs=1e-7)
    for lines in (SPHERE, CYLINDER):
        normal = view.direction(lines) + 90
        assert extent(rays, normal) == near(view.blur_across(lines), abs=scale)


def test_the_standard_lens_and_the_objective_do_not_change_the_picture() -> None:
    view, stop = VIEWS[4], rim(4)
    for bench in (Bench(20), Bench(25), Bench(20, to_objective=0.2, objective=4)):
        assert bench.seen(view, (1, 2), stop) == near(Bench().seen(view, (1, 2), stop), abs=1e-9)


# Against the readings -----------------------------------------------------------------------------


def read_off(lens: LensPower, wheel: float) -> Readings:
    """Turn the drum to where each set of lines is blurred least, with the wheel left alone."""
    view = View(lens, 0, wheel)
    return Readings(view.best_drum(SPHERE), view.best_drum(CYLINDER), wheel=wheel)


within_scale = lens_powers().filter(lambda lens: abs(lens.sphere + lens.cylinder) <= 30)


@given(within_scale)
def test_wheel_at_the_axis_gives_the_lens_as_it_is_written(lens: LensPower) -> None:
    read = read_off(lens, lens.axis or 180).power
    assert (read.sphere, read.cylinder) == near((lens.sphere, lens.cylinder), abs=2e-9)
    if read.cylinder:
        assert read.axis == lens.axis


@given(within_scale)
def test_wheel_across_the_axis_gives_the_other_form(lens: LensPower) -> None:
    other = lens.transposed()
    read = read_off(lens, other.axis or 180).power
    assert (read.sphere, read.cylinder) == near((other.sphere, other.cylinder), abs=2e-9)


@given(written_lenses(), stops)
def test_each_set_is_sharp_at_its_reading_and_nowhere_else(lens: LensPower, stop: float) -> None:
    wheel = lens.axis or 180
    for drum, lines in ((lens.sphere, SPHERE), (lens.sphere + lens.cylinder, CYLINDER)):
        view = View(lens, drum, wheel, stop=stop)
        assert view.blur_across(lines) == near(0, abs=1e-7)
        assert view.is_sharp(lines, threshold=1e-7)
        assert view.is_sharp(BOTH, threshold=1e-7) == (lens.cylinder == 0)
        for off in (-0.125, 0.125):
            beside = View(lens, drum + off, wheel, stop=stop)
            assert beside.blur_across(lines) == near(stop / 80, abs=1e-7)


@given(astigmatic_lenses(), powers(40), st.floats(1, 89), st.booleans())
def test_with_the_wheel_off_the_axis_neither_set_gets_sharp(
    lens: LensPower, drum: float, off: float, back: bool
) -> None:
    assert lens.axis is not None
    wheel = (lens.axis - off if back else lens.axis + off) % 180
    left_over = 6 / 10 * abs(lens.cylinder) / 2 * math.sin(math.radians(2 * off))
    for lines in (SPHERE, CYLINDER):
        assert View(lens, drum, wheel).blur_across(lines) >= left_over - 1e-6
        best = View(lens, drum, wheel).best_drum(lines)
        assert View(lens, best, wheel).blur_across(lines) == near(left_over, abs=1e-6)


@given(lens_powers(), axes(), st.sampled_from(Lines), powers(2))
def test_no_drum_blurs_less_than_the_best(
    lens: LensPower, wheel: float, lines: Lines, off: float
) -> None:
    best = View(lens, 0, wheel).best_drum(lines)
    least = View(lens, best, wheel).blur_across(lines)
    assert View(lens, best + off, wheel).blur_across(lines) >= least - 1e-7


@given(lens_powers(), powers())
def test_a_sphere_is_the_same_at_every_wheel(lens: LensPower, drum: float) -> None:
    sphere = LensPower(lens.sphere)
    blurs = {
        View(sphere, drum, wheel).blur_across(lines)
        for wheel in (0, 33, 90, 180)
        for lines in Lines
    }
    assert max(blurs) == near(min(blurs), abs=1e-8)
    assert max(blurs) == near(0.6 * abs(lens.sphere - drum), abs=1e-8)


def test_sphere_lines_stand_upright_with_the_wheel_at_180() -> None:
    # Derived; as the vertical line focus of the horizontal meridian (T11-05, durham-tech-sturm).
    view = View(LensPower(1, 2, 180), drum=1)
    assert (view.direction(SPHERE), view.direction(CYLINDER)) == (90, 180)
    assert view.is_sharp(SPHERE, threshold=0)
    assert view.blur == (1.2, 0, 90)
    assert View(LensPower(0), 0, wheel=30).direction(SPHERE) == 120


# Sharpness and depth of focus ---------------------------------------------------------------------


def test_the_threshold_is_the_error_of_a_reading() -> None:
    # whitney-focimetry: 0.06 D may be expected, with a stop of about 6 mm.
    assert View(LensPower(0), 0.06).blur_across(BOTH) == SHARP
    assert View(LensPower(0), 0.06).is_sharp(BOTH)
    assert not View(LensPower(0), 0.0601).is_sharp(BOTH)
    assert math.degrees(SHARP / 100) * 60 == as_printed("1.2")
    assert math.degrees(1 / 100) * 60 == as_printed("34.4")


@published("target_blur_angle")
def test_blur_of_a_sphere_as_printed(row: Row) -> None:
    view = View(LensPower(float(row["defocus"])), 0, stop=float(row["stop"]))
    degrees = math.degrees(view.blur.length / 100)
    assert degrees == as_printed(row["printed_degrees"])
    if row["printed_minutes"]:
        assert degrees * 60 == as_printed(row["printed_minutes"])


@published("target_depth_of_focus")
def test_depth_of_focus_as_printed(row: Row) -> None:
    """The blur allowed on the retina, seen from its focal distance, is the threshold."""
    angle = float(row["retinal_blur"]) / 1000 * float(row["eye_power"])
    sharp = View(LensPower(0), 0, stop=float(row["pupil"])).sharp_drums(BOTH, 100 * angle)
    assert sharp is not None
    assert (-sharp.low, sharp.high) == (as_printed(row["printed_either_way"]),) * 2
    assert sharp.high - sharp.low == as_printed(row["printed_whole"])


@given(lens_powers(), axes(), st.sampled_from(Lines), stops, thresholds)
def test_sharp_drums_are_those_that_are_sharp(
    lens: LensPower, wheel: float, lines: Lines, stop: float, threshold: float
) -> None:
    view = View(lens, 0, wheel, stop=stop)
    sharp = view.sharp_drums(lines, threshold)
    best = View(lens, view.best_drum(lines), wheel, stop=stop)
    if sharp is None:
        assert best.blur_across(lines) > threshold - 1e-7
        return
    assert best.blur_across(lines) <= threshold + 1e-7
    for end in sharp:
        assert View(lens, end, wheel, stop=stop).blur_across(lines) == near(threshold, abs=1e-6)


def test_sharp_drums_of_a_weak_cylinder_overlap() -> None:
    def sharp(cylinder: float, wheel: float = 90, lines: Lines = BOTH) -> DrumRange | None:
        return View(LensPower(1, cylinder, 90), 0, wheel).sharp_drums(lines)

    assert sharp(-0.10, lines=SPHERE) == (0.94, 1.06)
    assert sharp(-0.10, lines=CYLINDER) == (0.84, 0.96)
    assert sharp(-0.10) == (0.94, 0.96)
    assert sharp(-0.12) == (0.94, 0.94)
    assert sharp(-0.125) is None
    assert sharp(-0.12, wheel=45, lines=SPHERE) == (0.94, 0.94)
    assert sharp(-0.50, wheel=80, lines=SPHERE) is None


def test_a_wider_stop_leaves_less_depth() -> None:
    assert View(LensPower(0), 0, stop=12).sharp_drums(SPHERE) == (-0.03, 0.03)
    assert View(LensPower(0), 0, stop=12).sharp_drums(SPHERE, 0.072) == (-0.06, 0.06)
    assert View(LensPower(0), 0).sharp_drums(SPHERE, threshold=0) == (0, 0)


@pytest.mark.parametrize("turned", [0.0, 90.0])
@given(astigmatic_lenses(), sets, thresholds)
def test_wheel_play_is_where_sharpness_ends(
    turned: float, lens: LensPower, lines: Lines, threshold: float
) -> None:
    play = View(lens, 0).wheel_play(threshold)
    assert lens.axis is not None
    for off in (-play, play):
        wheel = (lens.axis + turned + off) % 180
        view = View(lens, View(lens, 0, wheel).best_drum(lines), wheel)
        if play < 45:
            assert view.blur_across(lines) == near(threshold, abs=1e-6)
        else:
            assert view.blur_across(lines) <= threshold + 1e-9


def test_wheel_play_of_corners() -> None:
    assert View(LensPower(3), 0).wheel_play() == 45
    assert View(LensPower(3, -0.12, 5), 0).wheel_play() == 45
    assert View(LensPower(3, 0.24, 5), 0).wheel_play() == 15
    assert View(LensPower(3, -1, 5), 0).wheel_play(threshold=0) == 0


# The picture --------------------------------------------------------------------------------------


def test_lines_of_a_lens_in_focus_are_the_target_itself() -> None:
    drawn = View(LensPower(2), 2, wheel=180).line_images()
    assert [(line.lines, line.x, line.y) for line in drawn] == [
        (SPHERE, 0.3, 0),
        (SPHERE, 0, 0),
        (SPHERE, -0.3, 0),
        (CYLINDER, 0, 0.8),
        (CYLINDER, 0, 0),
        (CYLINDER, 0, -0.8),
    ]
    assert {line[3:] for line in drawn} == {(90, 6, 0.05, 0), (180, 6, 0.12, 0)}
    # lensmeter-training-deck: three thin and three wide lines at right angles.
    thin_lines, wide_lines = CROSSED_LINES
    assert (thin_lines.lines, wide_lines.lines) == (3, 3)
    assert thin_lines.width < wide_lines.width


@given(lens_powers(), powers(), axes(), prisms)
def test_blur_adds_to_length_and_width_but_not_to_place(
    lens: LensPower, drum: float, wheel: float, prism: Prism
) -> None:
    view = View(lens, drum, wheel, prism)
    still = View(LensPower(0), 0, wheel)
    for seen, drawn in zip(view.line_images(), still.line_images(), strict=True):
        other = CYLINDER if seen.lines is SPHERE else SPHERE
        assert seen.width == near(drawn.width + view.blur_across(seen.lines), abs=1e-8)
        assert seen.length == near(drawn.length + view.blur_across(other), abs=1e-8)
        assert seen.direction == drawn.direction
        assert (seen.x, seen.y) == near((drawn.x + prism.x, drawn.y + prism.y), abs=1e-8)


@pytest.mark.parametrize(("wheel", "sign"), [(170, 1), (180, 0), (10, -1), (90, 0)])
def test_lines_are_sheared_with_the_wheel_off_and_the_other_way_on_the_other_side(
    wheel: float, sign: int
) -> None:
    view = View(LensPower(0, -2, 180), drum=0, wheel=wheel)
    shears = [line.shear for line in view.line_images() if line.lines is SPHERE]
    assert len(set(shears)) == 1
    # At 0 the ellipse is a line 1.2 long at 90; the sphere lines run 10 degrees off it.
    assert shears[0] == near(sign * 1.2 * math.cos(math.radians(10)), abs=1e-9)


def test_round_blur_shears_nothing() -> None:
    for lens, drum in ((LensPower(2), 0), (LensPower(1, -2, 30), 0)):
        assert {line.shear for line in View(lens, drum, 77).line_images()} == {0}


def test_dots_of_a_sphere_are_round_and_in_a_ring() -> None:
    dots = View(LensPower(-1), -0.5).dot_images()
    assert len(dots) == CORONA.dots
    assert {dot[2:] for dot in dots} == {(0.4, 0.4, None)}
    assert dots[0][:2] == (2, 0)
    assert dots[6][:2] == (0, 2)
    for dot in dots:
        assert math.hypot(dot.x, dot.y) == near(CORONA.radius)
    assert [dot[:2] for dot in View(LensPower(0), 0).dot_images(DotRing(1, 0, 2))] == [
        (1, 0),
        (-1, 0),
    ]


@given(astigmatic_lenses(), axes())
def test_dots_become_lines_at_the_two_readings(lens: LensPower, wheel: float) -> None:
    assert lens.axis is not None
    for drum, line in (
        (lens.sphere, lens.axis + 90),
        (lens.sphere + lens.cylinder, lens.axis),
    ):
        dots = View(lens, drum, wheel).dot_images()
        assert {dot[2:] for dot in dots} == {dots[0][2:]}
        assert dots[0].length == near(CORONA.diameter + 0.6 * abs(lens.cylinder), abs=1e-7)
        assert dots[0].width == near(CORONA.diameter, abs=1e-7)
        assert dots[0].direction is not None
        assert axis_difference(dots[0].direction, line) == near(0, abs=1e-6)


# Prism moves the target ---------------------------------------------------------------------------


@given(lens_powers(), powers(), axes(), prisms)
def test_every_mark_moves_by_the_prism(
    lens: LensPower, drum: float, wheel: float, prism: Prism
) -> None:
    moved, still = View(lens, drum, wheel, prism), View(lens, drum, wheel)
    for images in (View.line_images, View.dot_images):
        for one, other in zip(images(moved), images(still), strict=True):
            assert (one.x - other.x, one.y - other.y) == near((prism.x, prism.y), abs=1e-8)


def test_the_target_moves_toward_the_base_by_a_ring_for_each_prism_dioptre() -> None:
    # prism-reading-lesson, read back with the rule for readers: a decentred lens, Prentice's rule.
    lens = LensPower(-4)
    view = View(lens, -4, prism=prism_at(lens, Point(5, 0)))
    middle = view.line_images()[1]
    read = prism_on_target(middle.x, middle.y, rings=5)
    assert read == view.prism
    assert read.horizontal(Eye.RIGHT) == Component(2.0, Base.IN)


# What is refused ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"drum": math.nan}, "drum must read a number .* nan was given"),
        ({"drum": math.inf}, "drum must read a number .* inf was given"),
        ({"wheel": 180.5}, r"from 1 to 180 degrees \(0 is 180\); 180\.50 was given"),
        ({"wheel": -1}, r"−1\.00 was given"),
        ({"wheel": math.nan}, "nan was given"),
        ({"stop": 0}, "aperture is above zero; 0.00 mm was given"),
        ({"stop": math.nan}, "aperture is above zero"),
    ],
)
def test_a_setting_that_cannot_be_is_refused(wrong: dict[str, float], words: str) -> None:
    with pytest.raises(LensError, match=words):
        View(**{"lens": LensPower(1), "drum": 0, **wrong})


@pytest.mark.parametrize("bad", [-0.001, math.nan, math.inf])
def test_a_threshold_that_cannot_be_is_refused(bad: float) -> None:
    view = View(LensPower(1), 0)
    for ask in (
        lambda: view.is_sharp(BOTH, bad),
        lambda: view.sharp_drums(BOTH, bad),
        lambda: view.wheel_play(bad),
    ):
        with pytest.raises(LensError, match=r"looks sharp is zero or more; .* was given"):
            ask()


def test_both_sets_have_no_one_direction() -> None:
    with pytest.raises(LensError, match="both sets of lines at once was given"):
        View(LensPower(1), 0).direction(BOTH)
    assert View(LensPower(1), 0).prism is NO_PRISM


@pytest.mark.parametrize("axis", [20, 90, 165])
@pytest.mark.parametrize("off", [1, 2, 4])
def test_a_wheel_off_the_axis_shares_the_depth_of_focus_with_the_drum(off, axis):
    """Half the range of the drum and the oblique cylinder left add up to the depth of focus."""
    lens = LensPower(0, -0.50, axis)
    depth = View(LensPower(0), drum=0).sharp_drums(Lines.SPHERE).high
    low, high = View(lens, drum=0, wheel=axis + off).sharp_drums(Lines.SPHERE)

    oblique = 0.25 * math.sin(math.radians(2 * off))
    assert math.hypot((high - low) / 2, oblique) == pytest.approx(depth, abs=1e-6)
