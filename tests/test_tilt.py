"""Tilted lenses: Martin's approximation, the exact thin lens, and a lens of real thickness."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.power import LensPower, standard_axis
from lensmath.prism import NO_PRISM
from lensmath.raytrace import LensForm
from lensmath.tilt import Factor, Tilt, coddington, compensated, martin, tilted
from tests.printed import Row, as_printed, lens, published
from tests.strategies import CORNER_AXES, axes, lens_powers

FORMULAE: dict[str, Factor] = {"martin": martin, "coddington": coddington}

factors = st.sampled_from(tuple(FORMULAE.values()))
indices = st.floats(1.4, 2.0)
directions = st.one_of(st.sampled_from((0.0, 90.0, 180.0, 270.0)), st.floats(0, 360))
tilts = st.builds(Tilt, st.floats(0, 60), directions, st.floats(-10, 10))
forms = st.builds(LensForm, st.floats(-4, 15), st.floats(0, 12), indices)
frame_angles = st.floats(-45, 45)
eyes = st.sampled_from(Eye)


# Published figures --------------------------------------------------------------------------------


@published("tilt")
def test_tilted_lens_as_printed(row: Row) -> None:
    """Sphere, cylinder and axis of a lens with a pantoscopic tilt, in the form of the print."""
    factor = FORMULAE[row["formula"]]
    seen = tilted(lens(row), Tilt(float(row["pantoscopic"])), float(row["index"]), factor)
    assert seen.sphere == as_printed(row["printed_sphere"])
    assert seen.axis == as_printed(row["printed_axis"])
    if row["printed_cylinder"]:
        assert seen.cylinder == as_printed(row["printed_cylinder"])


@published("tilt_of_frame")
def test_tilt_of_a_frame_as_printed(row: Row) -> None:
    """A pantoscopic tilt and a face form make one tilt."""
    angles = float(row["pantoscopic"]), float(row["face_form"])
    for eye in Eye:
        assert Tilt.of_frame(*angles, eye).angle == as_printed(row["printed_tilt"])


@published("tilt_raytrace")
def test_thick_lens_as_traced(row: Row) -> None:
    """Power matrix and prism as a general ray tracer gives them (tests/builders)."""
    form = LensForm(*(float(row[name]) for name in ("front_curve", "thickness", "index")))
    angles = float(row["pantoscopic"]), float(row["face_form"])
    tilt = Tilt.of_frame(*angles, Eye(row["eye"]))
    (xx, xy), (_, yy) = form.tilted(lens(row), tilt).matrix
    assert xx == as_printed(row["printed_xx"])
    assert xy == as_printed(row["printed_xy"])
    assert yy == as_printed(row["printed_yy"])
    assert form.prism(tilt).x == as_printed(row["printed_prism_x"])
    assert form.prism(tilt).y == as_printed(row["printed_prism_y"])


@pytest.mark.parametrize("tilt", [Tilt(0.5), Tilt(0.5, 180)])
@pytest.mark.parametrize(("front_curve", "index"), [(8, 1.5), (-3, 1.586), (17, 1.74)])
def test_prism_of_a_small_tilt(tilt: Tilt, front_curve: float, index: float) -> None:
    """100 (t/n) F sinθ for a thin lens and a small tilt, its base out for a face form.

    Source  dukes-wrap
    """
    small = 100 * 0.0001 / index * front_curve * math.sin(math.radians(0.5))
    prism = LensForm(front_curve, 0.1, index).prism(tilt)
    facing = math.radians(tilt.faces)
    towards = prism.x * math.cos(facing) + prism.y * math.sin(facing)
    assert towards == pytest.approx(small, rel=0.005)
    assert prism.amount == pytest.approx(abs(small), rel=0.005)


# An independent computation: rotation matrices and TFT in numpy -----------------------------------


def rotation(axis: int, degrees: float) -> np.ndarray:
    """Right-handed, about x (0), y (1) or z (2)."""
    cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    matrix = np.eye(3)
    one, two = ((1, 2), (2, 0), (0, 1))[axis]
    matrix[[one, two], [one, two]] = cosine
    matrix[one, two], matrix[two, one] = -sine, sine
    return matrix


def tilted_in_numpy(power: LensPower, angle: float, axis: float, factor: float) -> np.ndarray:
    """Factor times TFT, with T turned to the tilt axis: 1 along it, 1/cosθ across it."""
    turn = rotation(2, axis)[:2, :2]
    shape = turn @ np.diag([1, 1 / math.cos(math.radians(angle))]) @ turn.T
    return factor * shape @ np.array(power.matrix) @ shape


@pytest.mark.parametrize("angle", [0, 25, 30])
@pytest.mark.parametrize("axis", CORNER_AXES)
@pytest.mark.parametrize(
    "power",
    [
        LensPower(0),
        LensPower(25),
        LensPower(-25),
        LensPower(14, -2, 45),
        LensPower(-25, -4, 90),
        LensPower(2, -4, 180),
        LensPower(0, 3, 1),
    ],
)
@pytest.mark.parametrize("factor", FORMULAE.values())
def test_tilt_about_any_axis(power: LensPower, axis: float, angle: float, factor: Factor) -> None:
    for faces in (axis + 90, axis - 90):
        seen = tilted(power, Tilt(angle, faces), 1.6, factor)
        expected = tilted_in_numpy(power, angle, axis, factor(angle, 1.6))
        assert np.array(seen.matrix) == pytest.approx(expected, abs=1e-7)


@given(frame_angles, frame_angles, eyes)
@example(10, 15, Eye.RIGHT)
@example(-12, 25, Eye.LEFT)
@example(0, 0, Eye.LEFT)
def test_one_tilt_stands_for_both(pantoscopic: float, face_form: float, eye: Eye) -> None:
    """Turned in its plane and tilted once, the lens stands as the two tilts of the frame put it."""
    tilt = Tilt.of_frame(pantoscopic, face_form, eye)
    temporal = {Eye.RIGHT: -1, Eye.LEFT: 1}[eye]
    in_frame = rotation(0, pantoscopic) @ rotation(1, temporal * face_form)
    about = rotation(2, tilt.faces + 90)
    once = about @ rotation(0, tilt.angle) @ about.T @ rotation(2, tilt.turn)
    assert once == pytest.approx(in_frame, abs=1e-9)


def test_the_front_of_a_tilted_lens_faces_down_and_out() -> None:
    assert Tilt.of_frame(10, 0, Eye.RIGHT) == Tilt(10) == Tilt(10, 270)
    assert Tilt.of_frame(-10, 0, Eye.LEFT) == Tilt(10, 90)
    assert Tilt.of_frame(0, 10, Eye.RIGHT) == Tilt(10, 180)
    assert Tilt.of_frame(0, 10, Eye.LEFT) == Tilt(10, 0)


# Identities ---------------------------------------------------------------------------------------


@given(lens_powers(), tilts, indices, factors)
def test_a_compensated_lens_does_what_is_wanted(
    power: LensPower, tilt: Tilt, index: float, factor: Factor
) -> None:
    ordered = compensated(power, tilt, index, factor)
    assert tilted(ordered, tilt, index, factor) == power
    assert compensated(tilted(power, tilt, index, factor), tilt, index, factor) == power


@given(lens_powers(), tilts, forms)
def test_a_compensated_thick_lens_does_what_is_wanted(
    power: LensPower, tilt: Tilt, form: LensForm
) -> None:
    assert form.tilted(form.compensated(power, tilt), tilt) == power
    assert form.compensated(form.tilted(power, tilt), tilt) == power


@given(lens_powers(), tilts, forms)
def test_without_thickness_every_form_is_the_thin_lens(
    power: LensPower, tilt: Tilt, form: LensForm
) -> None:
    thin = LensForm(form.front_curve, 0, form.index)
    assert thin.tilted(power, tilt) == tilted(power, tilt, form.index)
    assert thin.prism(tilt) == NO_PRISM


@given(lens_powers(), directions, forms, factors)
def test_without_tilt_nothing_changes(
    power: LensPower, faces: float, form: LensForm, factor: Factor
) -> None:
    square = Tilt(0, faces)
    assert tilted(power, square, form.index, factor) == power
    assert compensated(power, square, form.index, factor) == power
    assert form.tilted(power, square) == power
    assert form.compensated(power, square) == power
    assert form.prism(square) == NO_PRISM


@given(lens_powers(), tilts, axes(), forms)
def test_lens_and_tilt_turned_together(
    power: LensPower, tilt: Tilt, turned: float, form: LensForm
) -> None:
    """Turning the head sideways, lens and all, turns what the lens does and nothing else."""

    def turn(lens: LensPower) -> LensPower:
        return LensPower(
            lens.sphere, lens.cylinder, lens.axis and standard_axis(lens.axis + turned)
        )

    turned_tilt = Tilt(tilt.angle, tilt.faces + turned, tilt.turn)
    assert form.tilted(turn(power), turned_tilt) == turn(form.tilted(power, tilt))
    assert form.prism(turned_tilt).amount == pytest.approx(form.prism(tilt).amount, abs=1e-6)


@given(lens_powers(), frame_angles, frame_angles, forms)
def test_the_left_lens_is_the_mirror_of_the_right(
    power: LensPower, pantoscopic: float, face_form: float, form: LensForm
) -> None:
    def mirrored(lens: LensPower) -> LensPower:
        return LensPower(lens.sphere, lens.cylinder, lens.axis and 180 - lens.axis)

    right, left = (Tilt.of_frame(pantoscopic, face_form, eye) for eye in (Eye.RIGHT, Eye.LEFT))
    assert form.tilted(mirrored(power), left) == mirrored(form.tilted(power, right))
    assert form.prism(left).x == pytest.approx(-form.prism(right).x, abs=1e-6)
    assert form.prism(left).y == pytest.approx(form.prism(right).y, abs=1e-6)


@given(st.floats(1, 30), indices)
def test_martin_falls_short_of_the_exact_power_by_the_fourth_power_of_the_sine(
    angle: float, index: float
) -> None:
    """The next term of the series, n cosθ' - cosθ to sin⁴θ: (n² + n + 1) / 8n³."""
    short = coddington(angle, index) - martin(angle, index)
    term = (index**2 + index + 1) / (8 * index**3) * math.sin(math.radians(angle)) ** 4
    assert term <= short <= 1.3 * term


# Form of the result -------------------------------------------------------------------------------


def test_results_keep_the_form_given() -> None:
    tilt, form = Tilt(20, 215), LensForm(8, 3, 1.5)
    for power in (LensPower(-2, -1, 60), LensPower(-2, 1, 60), LensPower(4), LensPower(-4)):
        sign = power.cylinder or power.sphere
        for result in (
            tilted(power, tilt, 1.5),
            compensated(power, tilt, 1.5),
            form.tilted(power, tilt),
            form.compensated(power, tilt),
        ):
            assert math.copysign(1, result.cylinder) == math.copysign(1, sign)


# What is refused ----------------------------------------------------------------------------------


@pytest.mark.parametrize("angle", [90, 120, -0.1, math.nan, math.inf])
def test_a_tilt_out_of_range(angle: float) -> None:
    with pytest.raises(LensError, match=r"A tilt lies from 0 to below 90 degrees; .*"):
        Tilt(angle)


@pytest.mark.parametrize("direction", [(math.nan, 0), (math.inf, 0), (270, math.nan)])
def test_a_direction_that_is_no_number(direction: tuple[float, float]) -> None:
    with pytest.raises(LensError, match=r"A direction is a number of degrees; (nan|inf) was"):
        Tilt(10, *direction)


@pytest.mark.parametrize(
    ("angle", "given"), [(90, "90"), (-90, "−90"), (200, "200"), (math.nan, "nan")]
)
def test_a_frame_out_of_range(angle: float, given: str) -> None:
    words = f"lies between −90 and 90 degrees; {given} was given"
    with pytest.raises(LensError, match=f"pantoscopic tilt {words}"):
        Tilt.of_frame(angle, 0, Eye.RIGHT)
    with pytest.raises(LensError, match=f"face form {words}"):
        Tilt.of_frame(0, angle, Eye.RIGHT)


@pytest.mark.parametrize("index", [1, 0, -1.5, 2.1, math.nan])
def test_an_index_that_no_lens_has(index: float) -> None:
    words = r"A refractive index lies above 1 and up to 2, such as 1\.498; .* was given"
    for factor in FORMULAE.values():
        with pytest.raises(LensError, match=words):
            tilted(LensPower(-4), Tilt(10), index, factor)
        with pytest.raises(LensError, match=words):
            compensated(LensPower(-4), Tilt(10), index, factor)
    with pytest.raises(LensError, match=words):
        LensForm(6, 2, index)


@pytest.mark.parametrize(
    ("front_curve", "thickness", "words"),
    [
        (math.nan, 2, "The front curve must be a number such as .*; nan was given"),
        (6, -1, "The centre thickness is 0 mm or more; −1.00 was given"),
        (25, 20, r"20 mm thick, of index 1\.5, has a front curve below \+25\.00 D; \+25\.00 D was"),
        (30, 20, r"20 mm thick, of index 1\.5, has a front curve below \+25\.00 D; \+30\.00 D was"),
    ],
)
def test_a_form_that_no_lens_has(front_curve: float, thickness: float, words: str) -> None:
    with pytest.raises(LensError, match=words):
        LensForm(front_curve, thickness, 1.5)


def test_a_front_that_reflects_all_light() -> None:
    form, tilt = LensForm(-10, 20, 1.5), Tilt(60)
    for ask in (form.tilted, form.compensated):
        with pytest.raises(LensError, match="No light comes through this lens at a tilt of 60 deg"):
            ask(LensPower(-4), tilt)
    with pytest.raises(LensError, match="No light comes through"):
        form.prism(tilt)
    assert form.tilted(LensPower(-4), Tilt(40)).sphere < -4
