"""Minimum blanks: the rule with the effective diameter, and the farthest corner of the shape.

The rows of published figures are in tests/published/blanks_minimum.csv.
"""

import math
from collections.abc import Callable
from dataclasses import FrozenInstanceError
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.blanks import LensShape, minimum_blank
from lensmath.centration import Decentration, Point, horizontal_decentration
from lensmath.errors import LensError
from lensmath.eye import Eye
from tests.printed import Row, as_printed, published

NAN = float("nan")

# An outline with a nasal corner cut off and an upswept temporal one, as a right lens is seen: the
# nose to the right. Invented.
UPSWEPT = LensShape(
    tuple(Point(*at) for at in ((-27, 17), (20, 19), (25, 8), (18, -18), (-15, -20), (-24, -9))),
    Eye.RIGHT,
)

eyes = st.sampled_from(Eye)
decentrations = st.builds(Decentration, st.floats(-12, 12), st.floats(-12, 12))
shapes = st.builds(LensShape.from_radii, st.lists(st.floats(12, 35), min_size=4, max_size=40), eyes)


@published("blanks_minimum")
def test_minimum_blank_as_printed(row: Row) -> None:
    """ED + 2 x decentration of one lens + allowance."""
    inward = (
        float(row["decentration"])
        if row["decentration"]
        else horizontal_decentration(float(row["frame_pd"]), float(row["pd"]) / 2)
    )
    blank = minimum_blank(
        float(row["effective_diameter"]), Decentration(inward), float(row["allowance"])
    )
    assert blank == as_printed(row["printed"])


# The rule with the effective diameter -------------------------------------------------------------


def test_in_and_out_need_the_same_blank() -> None:
    assert minimum_blank(56, Decentration(3), 2) == minimum_blank(56, Decentration(-3), 2) == 64


def test_vertical_decentration_makes_the_blank_larger() -> None:
    assert minimum_blank(50, Decentration(3, 0), 0) == 56
    assert minimum_blank(50, Decentration(3, -4), 0) == 60
    assert minimum_blank(50, Decentration(0, 4), 0) == 58


def test_no_decentration_leaves_diameter_and_allowance() -> None:
    assert minimum_blank(54.4, Decentration(0), 0.1) == 54.5


def test_results_carry_no_float_noise() -> None:
    assert minimum_blank(0.1, Decentration(0), 0.2) == 0.3
    box = LensShape((Point(0.1, 0.1), Point(0.3, 0.1), Point(0.3, 0.3)), Eye.RIGHT)
    assert (box.a, box.b) == (0.2, 0.2)
    across = LensShape.from_radii([0.1] * 4, Eye.RIGHT)
    assert across.minimum_blank(Decentration(0), 0.1) == 0.3


def test_of_corners_equally_far_the_first_is_named() -> None:
    round_lens = LensShape.from_radii([24] * 360, Eye.RIGHT)
    assert round_lens.farthest_corner(Decentration(0)) is round_lens.corners[0]


def test_shapes_do_not_change() -> None:
    with pytest.raises(FrozenInstanceError):
        UPSWEPT.eye = Eye.LEFT  # type: ignore[misc]


@given(st.floats(30, 70), decentrations)
def test_the_blank_touches_a_round_lens_from_inside(
    diameter: float, decentration: Decentration
) -> None:
    """Independent computation: a circle that holds another touches it on the line of centres."""
    blank = minimum_blank(diameter, decentration, 0)
    turned = np.linspace(0, math.tau, 720, endpoint=False)
    rim = (diameter / 2) * np.exp(1j * turned)
    reach = np.abs(rim - complex(*decentration)).max()
    assert 2 * reach <= blank + 1e-8
    assert 2 * reach == pytest.approx(blank, abs=0.01)


# The shape ----------------------------------------------------------------------------------------


def test_shape_is_measured_by_its_box() -> None:
    assert (UPSWEPT.a, UPSWEPT.b) == (52, 39)
    assert UPSWEPT.corners[0] == Point(-26, 17.5)  # the centre of the box was at (-1, -0.5)
    assert UPSWEPT.effective_diameter == pytest.approx(2 * math.hypot(26, 17.5), abs=1e-9)


def test_round_outline_has_its_diameter_everywhere() -> None:
    round_lens = LensShape.from_radii([24] * 360, Eye.RIGHT)
    assert (round_lens.a, round_lens.b, round_lens.effective_diameter) == (48, 48, 48)


def test_radii_run_counter_clockwise_from_the_observers_right() -> None:
    shape = LensShape.from_radii([30, 20, 26, 18], Eye.RIGHT)
    # The corners at 0, 90, 180 and 270 degrees; the box runs from -26 to 30 and from -18 to 20.
    assert np.allclose(shape.corners, [(28, -1), (-2, 19), (-28, -1), (-2, -19)], atol=1e-12)


@given(st.integers(3, 60), st.floats(-6, 6), st.floats(-6, 6), st.floats(0, 20), eyes)
def test_a_trace_need_not_start_in_the_boxed_centre(
    sides: int, x: float, y: float, turn: float, eye: Eye
) -> None:
    corners = [
        Point(
            25 * math.cos(turn + math.tau * n / sides), 18 * math.sin(turn + math.tau * n / sides)
        )
        for n in range(sides)
    ]
    shape = LensShape(tuple(corners), eye)
    moved = LensShape(tuple(Point(px + x, py + y) for px, py in corners), eye)
    assert np.allclose(shape.corners, moved.corners, atol=1e-8)


@given(shapes)
def test_the_box_is_centred(shape: LensShape) -> None:
    across, upward = zip(*shape.corners, strict=True)
    assert min(across) == pytest.approx(-shape.a / 2, abs=2e-9)
    assert max(upward) == pytest.approx(shape.b / 2, abs=2e-9)
    longest, diagonal = max(shape.a, shape.b), math.hypot(shape.a, shape.b)
    assert longest - 4e-9 <= shape.effective_diameter <= diagonal + 4e-9


@given(shapes, decentrations)
def test_the_blank_holds_the_whole_outline_and_no_smaller_one_does(
    shape: LensShape, decentration: Decentration
) -> None:
    """Independent computation: the distance of points all along the outline, by numpy."""
    blank = shape.minimum_blank(decentration, 0)
    middle = complex(*decentration.before(shape.eye))
    corners = [complex(*corner) for corner in shape.corners]
    sides = [np.linspace(start, end, 50) for start, end in pairwise([*corners, corners[0]])]
    reach = float(np.abs(np.concatenate(sides) - middle).max())
    assert 2 * reach == pytest.approx(blank, abs=1e-8)


@given(shapes, decentrations, st.floats(0, 3))
def test_the_rule_is_never_too_small(
    shape: LensShape, decentration: Decentration, allowance: float
) -> None:
    by_rule = minimum_blank(shape.effective_diameter, decentration, allowance)
    exact = shape.minimum_blank(decentration, allowance)
    assert exact <= by_rule + 1e-8
    assert exact == pytest.approx(shape.minimum_blank(decentration, 0) + allowance, abs=1e-8)


@given(shapes, decentrations)
def test_fellow_lens_needs_the_same_blank(shape: LensShape, decentration: Decentration) -> None:
    fellow = shape.mirrored()
    assert fellow.eye is not shape.eye
    assert fellow.minimum_blank(decentration, 2) == pytest.approx(
        shape.minimum_blank(decentration, 2), abs=1e-8
    )


def test_the_shape_decides_which_way_costs_more() -> None:
    """The rule adds the same for in and out; here the longer corner is the temporal one."""
    inward, outward = Decentration(4), Decentration(-4)
    assert UPSWEPT.farthest_corner(inward) == Point(-26, 17.5)
    assert UPSWEPT.farthest_corner(outward) == Point(21, 19.5)
    assert UPSWEPT.minimum_blank(inward, 0) == pytest.approx(2 * math.hypot(30, 17.5), abs=1e-9)
    assert UPSWEPT.minimum_blank(outward, 0) == pytest.approx(2 * math.hypot(25, 19.5), abs=1e-9)


def test_decentring_toward_the_longest_corner_can_need_less_than_the_diameter() -> None:
    assert UPSWEPT.minimum_blank(Decentration(-1, 1), 0) < UPSWEPT.effective_diameter


def test_left_lens_is_decentred_to_the_observers_left() -> None:
    assert UPSWEPT.mirrored().farthest_corner(Decentration(4)) == Point(26, 17.5)


# What is refused ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: minimum_blank(0, Decentration(3), 2), "The effective diameter must be above 0"),
        (lambda: minimum_blank(54, Decentration(3), -1), "allowance .* from 0 to 200 mm; −1 mm"),
        (lambda: UPSWEPT.minimum_blank(Decentration(3), -1), "allowance for edging .* −1 mm"),
        (lambda: UPSWEPT.minimum_blank(Decentration(3), NAN), "allowance for edging .* nan mm"),
        (lambda: LensShape((), Eye.LEFT), "at least three corners; 0 were given"),
        (lambda: LensShape((Point(0, 0), Point(9, 9)), Eye.LEFT), "three corners; 2 were given"),
        (
            lambda: LensShape((Point(0, 0), Point(9, 9), Point(NAN, 1)), Eye.LEFT),
            "one is not a number",
        ),
        (
            lambda: LensShape((Point(0, 0), Point(0, 9), Point(0, 4)), Eye.LEFT),
            "The width of the outline must be above 0",
        ),
        (
            lambda: LensShape((Point(0, 1), Point(9, 1), Point(4, 1)), Eye.LEFT),
            "The depth of the outline must be above 0",
        ),
        (lambda: LensShape.from_radii([], Eye.LEFT), "at least three corners; 0 were given"),
        (lambda: LensShape.from_radii([20, 20], Eye.LEFT), "three corners; 2 were given"),
        (
            lambda: LensShape.from_radii([20, 20, 0, 20], Eye.LEFT),
            "A traced radius must be above 0 and at most 200 mm; 0 mm was given",
        ),
        (lambda: LensShape.from_radii([20, NAN, 20], Eye.LEFT), "A traced radius .* nan mm"),
    ],
)
def test_impossible_requests(ask: Callable[[], object], words: str) -> None:
    with pytest.raises(LensError, match=words):
        ask()


def test_the_smallest_outline_and_no_allowance() -> None:
    triangle = LensShape((Point(0, 0), Point(6, 0), Point(0, 8)), Eye.RIGHT)
    assert triangle.effective_diameter == 10
    assert triangle.minimum_blank(Decentration(0), 0) == 10
