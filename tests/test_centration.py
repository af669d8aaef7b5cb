"""Centration: boxed frames, PDs, decentration, segments, spots and near PDs.

The rows of published figures are in tests/published/centration_*.csv.
"""

import math
from collections.abc import Callable
from dataclasses import FrozenInstanceError

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.centration import (
    CORNEA_TO_ROTATION,
    USUAL_VERTEX_DISTANCE,
    Decentration,
    EyePair,
    Frame,
    Point,
    checked_length,
    horizontal_decentration,
    near_pd,
    near_pd_by_demand,
    near_pd_by_habit,
    segment_inset,
    segment_layout,
    spots,
    vertical_decentration,
    write_length,
)
from lensmath.errors import LensError
from lensmath.eye import Eye
from tests.printed import Row, as_printed, published

FRAME = Frame(a=52, dbl=18, b=40, effective_diameter=56)
NAN, INFINITE = float("nan"), float("inf")

half_millimetres = st.integers(1, 200).map(lambda steps: steps / 2)
pds = st.floats(20, 45)
eyes = st.sampled_from(Eye)


# Published figures --------------------------------------------------------------------------------


@published("centration_decentration")
def test_decentration_as_printed(row: Row) -> None:
    """(A + DBL - PD) / 2 for each lens, inward; outward when the PD is the wider one."""
    given_frame = not row["frame_pd"]
    frame_pd = (
        Frame(float(row["a"]), float(row["dbl"])).frame_pd
        if given_frame
        else float(row["frame_pd"])
    )
    inward = horizontal_decentration(frame_pd, float(row["pd"]))
    assert abs(inward) == as_printed(row["printed"])
    words = Decentration(inward).in_words()
    expected = f"{row['printed']} mm {row['printed_direction']}"
    assert words == (expected if row["printed_direction"] else "no decentration")


@published("centration_height")
def test_height_as_printed(row: Row) -> None:
    """Height less B/2: the raise of a segment or fitting point, or its drop."""
    up = vertical_decentration(float(row["b"]), float(row["height"]))
    assert abs(up) == as_printed(row["printed"])
    expected = f"{row['printed']} mm {row['printed_direction']}"
    words = Decentration(0, up).in_words()
    assert words == (expected if row["printed_direction"] else "no decentration")


@published("centration_inset")
def test_inset_as_printed(row: Row) -> None:
    """The inset is distance PD less near PD; the total inset counts from the boxed centre."""
    near = float(row["near_pd"])
    if row["printed_inset"]:
        assert segment_inset(float(row["distance_pd"]), near) == as_printed(row["printed_inset"])
    if row["printed_total_inset"]:
        total = horizontal_decentration(float(row["frame_pd"]), near)
        assert total == as_printed(row["printed_total_inset"])


@published("centration_near_pd")
def test_near_pd_as_printed(row: Row) -> None:
    """Near PD by similar triangles and by the two simple rules."""
    pd = float(row["distance_pd"])
    if row["rule"] == "triangles":
        names = ("working_distance", "vertex_distance", "power")
        near = near_pd(pd, *(float(row[name]) for name in names))
    elif row["rule"] == "demand":
        near = near_pd_by_demand(pd, float(row["working_distance"]))
    else:
        near = near_pd_by_habit(pd)
    assert near == as_printed(row["printed"])


# The frame ----------------------------------------------------------------------------------------


def test_frame_of_the_published_order_in_one_go() -> None:
    # 55/38/19/58, PD 34/32 and 32/30, height 22: the order of frame-formula-cards.
    frame = Frame(a=55, dbl=19, b=38, effective_diameter=58)
    assert frame.frame_pd == 74
    right = segment_layout(frame, 34, 32, 22)
    left = segment_layout(frame, 32, 30, 22)
    assert (right.distance, right.inset, right.total_inset) == ((3, 0), 2, 5)
    assert (left.distance, left.inset, left.total_inset) == ((5, 0), 2, 7)
    assert (right.drop, right.segment.up) == (-3, 3)
    assert right.segment.in_words() == "5 mm in and 3 mm up"


@given(half_millimetres, half_millimetres, half_millimetres)
def test_decentration_puts_the_point_at_its_pd(a: float, dbl: float, pd: float) -> None:
    """Seen facing the wearer, a point at its PD lies that far from the middle of the bridge."""
    frame = Frame(a, dbl)
    for eye, middle_of_bridge in ((Eye.RIGHT, a / 2 + dbl / 2), (Eye.LEFT, -a / 2 - dbl / 2)):
        point = frame.decentration(pd).before(eye)
        assert abs(middle_of_bridge - point.x) == pytest.approx(pd, abs=1e-9)
        # The nose lies to the observer's right of a right eye: the PD counts away from it.
        assert (middle_of_bridge - point.x > 0) == (eye is Eye.RIGHT)


NOISE = 0.1 + 0.2  # a hair above 0.3 in binary


@pytest.mark.parametrize(
    ("result", "clean"),
    [
        (Frame(0.1, 0.2).frame_pd, 0.3),
        (Frame(52.1, 17.9).decentration(31.7).inward, 3.3),
        (Frame(52.1, 17.9, 40.2).decentration(31.7, 22.4), (3.3, 2.3)),
        (Decentration(NOISE).distance, 0.3),
        (Decentration(NOISE, NOISE).before(Eye.RIGHT), (0.3, 0.3)),
        (spots(Decentration(0.3), Eye.RIGHT, 0.1)[0], (0.2, 0.0)),
        (spots(Decentration(0.1), Eye.RIGHT, 0.2)[2], (0.3, 0.0)),
        (EyePair(0.1, 0.2).total, 0.3),
        (EyePair(0.3, 0.1).right_above_left, 0.2),
        (EyePair(0.3, 0.3) - EyePair(0.1, 0.1), EyePair(0.2, 0.2)),
        (segment_inset(0.3, 0.1), 0.2),
        (near_pd_by_demand(64.1, 400), 60.35),
        (near_pd_by_habit(NOISE + 5), 0.3),
        (near_pd(63, 400), round(near_pd(63, 400), 9)),
    ],
)
def test_results_carry_no_float_noise(result: object, clean: object) -> None:
    assert result == clean


def test_nothing_is_minus_zero() -> None:
    assert str(Decentration(0).before(Eye.LEFT).x) == "0.0"
    assert str(segment_layout(FRAME, 33, 31, 20).drop) == "0.0"


def test_frames_and_pairs_do_not_change() -> None:
    for value, name in ((FRAME, "a"), (EyePair(32, 31), "right")):
        with pytest.raises(FrozenInstanceError):
            setattr(value, name, 50)


def test_height_is_optional_and_both_ends_of_the_lens_belong_to_it() -> None:
    assert FRAME.decentration(33) == (2, 0)
    assert FRAME.decentration(33, 0).up == -20
    assert FRAME.decentration(33, 40).up == 20


def test_wide_pd_is_outward_and_no_error() -> None:
    assert Frame(42, 14).decentration(35).in_words() == "7 mm out"


@pytest.mark.parametrize(
    ("sizes", "words"),
    [
        ({"a": 0}, "The lens width A must be above 0 and at most 200 mm; 0 mm was given"),
        ({"a": -52}, "lens width A .* −52 mm was given"),
        ({"a": 200.5}, r"lens width A .* 200\.5 mm"),
        ({"a": NAN}, "lens width A .* nan mm"),
        ({"a": INFINITE}, "lens width A .* inf mm"),
        ({"dbl": -1}, "distance between lenses, DBL, must be from 0 to 200 mm; −1 mm was given"),
        ({"b": 0}, "lens depth B must be above 0 .* 0 mm"),
        ({"effective_diameter": 0}, "effective diameter must be above 0"),
        (
            {"effective_diameter": 51.9},
            r"52 mm wide and 40 mm deep has .* from 52 to 65\.6 mm; 51\.9",
        ),
        ({"effective_diameter": 66}, r"from 52 to 65\.6 mm; 66 mm was given"),
        ({"a": 40, "b": 52, "effective_diameter": 51}, r"from 52 to 65\.6 mm; 51 mm was given"),
        ({"b": None, "effective_diameter": 51}, "52 mm wide has .* from 52 to 200 mm; 51 mm"),
    ],
)
def test_bad_frames(sizes: dict[str, float], words: str) -> None:
    with pytest.raises(LensError, match=words):
        Frame(**{"a": 52, "dbl": 18, "b": 40, **sizes})


def test_frames_at_the_limits() -> None:
    assert Frame(a=200, dbl=0).frame_pd == 200
    assert Frame(a=52, dbl=18, b=40, effective_diameter=52).effective_diameter == 52
    # The box itself: its width and its diagonal, with the noise of a computed size.
    assert Frame(a=48, dbl=18, b=36, effective_diameter=60 + 1e-12).b == 36
    assert Frame(a=52, dbl=18, b=41, effective_diameter=math.hypot(52, 41)).b == 41
    assert Frame(a=52 + 4e-10, dbl=18, effective_diameter=52).dbl == 18
    assert Frame(a=52, dbl=18, effective_diameter=200).b is None


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: FRAME.decentration(0), "A monocular PD must be above 0 .* 0 mm"),
        (lambda: FRAME.decentration(NAN), "A monocular PD .* nan mm"),
        (lambda: FRAME.decentration(33, 40.5), r"A height .* from 0 to 40 mm; 40\.5 mm was given"),
        (lambda: FRAME.decentration(33, -1), "A height .* −1 mm was given"),
        (lambda: Frame(52, 18).decentration(33, 22), "22 mm was given .* heights need B"),
        (lambda: horizontal_decentration(0, 33), "The frame PD must be above 0"),
        (lambda: vertical_decentration(0, 0), "The lens depth B must be above 0"),
        (lambda: segment_inset(0, 31), "A distance PD must be above 0"),
        (lambda: segment_inset(33, 0), "A near PD must be above 0"),
        (lambda: segment_layout(FRAME, 33, 31, 41), "A height .* 41 mm was given"),
        (lambda: spots(Decentration(3), Eye.RIGHT, 0), "The spacing of the dots must be above 0"),
        (lambda: near_pd(0, 400), "A PD must be above 0"),
        (lambda: near_pd(63, 0), "The working distance must be above 0 and at most 10000 mm"),
        (lambda: near_pd(63, 10_001), "The working distance .* 10001 mm was given"),
        (lambda: near_pd(63, 400, -1), "The vertex distance must be from 0 to 200 mm; −1 mm"),
        (lambda: near_pd(63, 400, 36, 20), r"\+20 D .* 36 mm; powers below \+20\.00 D"),
        (lambda: near_pd(63, 400, 24, 1000 / 38), "No near PD exists"),  # 999.9... in binary
        (lambda: near_pd(63, 400, 13, -INFINITE), "No near PD exists for −inf D"),
        (lambda: near_pd(63, 400, 13, NAN), "No near PD exists for .*nan D"),
        (lambda: near_pd_by_demand(0, 400), "A PD must be above 0"),
        (lambda: near_pd_by_demand(63, 0), "The working distance must be above 0"),
        (lambda: near_pd_by_demand(63, 10_001), "The working distance .* 10001 mm was given"),
        (lambda: near_pd_by_habit(0), "A PD must be above 0"),
    ],
)
def test_impossible_requests(ask: Callable[[], object], words: str) -> None:
    with pytest.raises(LensError, match=words):
        ask()


def test_lengths_at_the_limits() -> None:
    assert checked_length("A length", 200) == 200
    assert checked_length("A length", 0, zero=True) == 0
    assert near_pd(63, 10_000) < 63
    assert near_pd(63, 400, 0) < 63


# Words and places ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("decentration", "words"),
    [
        (Decentration(2.5, 0), "2.5 mm in"),
        (Decentration(-2.5, 0), "2.5 mm out"),
        (Decentration(0, 0.5), "0.5 mm up"),
        (Decentration(0, -0.5), "0.5 mm down"),
        (Decentration(-1, 4), "1 mm out and 4 mm up"),
        (Decentration(1.96, 0), "2 mm in"),
        (Decentration(0.04, -0.04), "no decentration"),
        (Decentration(0.05, -0.04), "0.1 mm in"),
    ],
)
def test_decentration_in_words(decentration: Decentration, words: str) -> None:
    assert decentration.in_words() == words


def test_lengths_as_they_are_shown() -> None:
    assert [write_length(mm) for mm in (0, 17, 2.5, 3.75, -0.26, 59.016)] == [
        "0",
        "17",
        "2.5",
        "3.8",
        "−0.3",
        "59",
    ]


def test_in_is_toward_the_nose_of_each_eye() -> None:
    """Facing the wearer, the nose is to the right of a right eye and to the left of a left one."""
    assert Decentration(3, 2).before(Eye.RIGHT) == Point(3, 2)
    assert Decentration(3, 2).before(Eye.LEFT) == Point(-3, 2)
    assert Decentration(3, -4).distance == 5


@given(st.floats(-20, 20), st.floats(-20, 20), eyes, half_millimetres)
def test_dots_stand_in_a_line_about_the_prp(
    inward: float, up: float, eye: Eye, spacing: float
) -> None:
    prp = Decentration(inward, up)
    left, middle, right = spots(prp, eye, spacing)
    assert middle == prp.before(eye)
    assert left.y == middle.y == right.y
    assert right.x - middle.x == pytest.approx(spacing, abs=2e-9)
    assert middle.x - left.x == pytest.approx(spacing, abs=2e-9)


# Pairs --------------------------------------------------------------------------------------------


def test_ordered_against_measured_pds() -> None:
    off = EyePair(right=33, left=31.2) - EyePair(right=32.5, left=31.5)
    assert (off.right, off.left, off.total) == (0.5, -0.3, 0.2)
    assert (off.of(Eye.RIGHT), off.of(Eye.LEFT)) == (0.5, -0.3)


def test_ordered_against_measured_heights() -> None:
    """The right lens was ordered 1 mm lower, and came out 0.5 mm higher: 1.5 mm between them."""
    ordered, measured = EyePair(right=18, left=19), EyePair(right=19.5, left=19)
    off = measured - ordered
    assert (off.right, off.left) == (1.5, 0)
    assert ordered.right_above_left == -1
    assert measured.right_above_left == 0.5
    assert off.right_above_left == 1.5


def test_binocular_pd_is_shared_equally() -> None:
    assert EyePair.halves(63) == EyePair(31.5, 31.5)
    assert EyePair.halves(63).total == 63


def test_only_pairs_are_subtracted() -> None:
    with pytest.raises(TypeError):
        EyePair(32, 31) - 63  # type: ignore[operator]


# Segments -----------------------------------------------------------------------------------------


@given(pds, pds, st.floats(0, 40))
def test_total_inset_is_decentration_plus_inset(distance: float, near: float, high: float) -> None:
    layout = segment_layout(FRAME, distance, near, high)
    assert layout.total_inset == pytest.approx(layout.distance.inward + layout.inset, abs=3e-9)
    assert layout.inset == pytest.approx(distance - near, abs=1e-9)
    assert layout.drop == pytest.approx(20 - high, abs=1e-9)
    assert layout.distance.up == 0


def test_near_pd_wider_than_the_distance_pd_is_an_outset() -> None:
    assert segment_layout(FRAME, 33, 34, 17).inset == -1


# Near PD ------------------------------------------------------------------------------------------

# Distances in mm, powers in D: from none to aphakic, the working distance from 10 cm to 10 m.
NEAR_CASES = [
    (pd, working, vertex, power)
    for pd in (50.0, 63.0, 76.0)
    for working in (100.0, 333.0, 400.0, 10_000.0)
    for vertex in (0.0, 8.0, 13.0, 20.0)
    for power in (-25.0, -9.0, 0.0, 14.0, 25.0)
]


@pytest.mark.parametrize(("pd", "working", "vertex", "power"), NEAR_CASES)
def test_near_pd_against_a_traced_ray(
    pd: float, working: float, vertex: float, power: float
) -> None:
    """Independent computation: a ray through a thin lens, from a point in the middle to the eye.

    Unknown are where it meets the lens, y, and its slope behind it; the lens is centred at half the
    PD, before the centre of rotation. Distances from the middle line, in mm.
    """
    half, stop = pd / 2, vertex + 14
    # slope + y F = y / w + half F   (the lens bends the ray by its distance from the centre)
    # y + stop slope = half          (behind the lens the ray reaches the centre of rotation)
    strength = power / 1000
    equations = np.array([[strength - 1 / working, 1.0], [1.0, stop]])
    y, _ = np.linalg.solve(equations, np.array([half * strength, half]))
    assert near_pd(pd, working, vertex, power) == pytest.approx(2 * y, abs=1e-6)
    assert near_pd(half, working, vertex, power) == pytest.approx(y, abs=1e-6)


def test_the_customary_centre_of_rotation() -> None:
    # Memory and near-pd-newsgroup: 27 mm behind the lens, 13 mm to the cornea and 14 mm beyond.
    assert (USUAL_VERTEX_DISTANCE, CORNEA_TO_ROTATION) == (13, 14)
    assert near_pd(63, 400) == near_pd(63, 400, 13, 0)
    assert near_pd(63, 27) == 31.5  # as near as the centre of rotation is far: half


@given(st.floats(55, 70), st.floats(333, 1000))
def test_the_three_quarter_rule_stays_near_the_triangles(pd: float, working: float) -> None:
    """Independent computation: within 0.8 mm for PDs of 55 to 70 mm, from a third of a metre on."""
    assert near_pd_by_demand(pd, working) == pytest.approx(near_pd(pd, working), abs=0.8)


def test_three_quarters_come_from_the_triangles() -> None:
    """At a PD of 60 and a distance of 1 m, a dioptre, each eye turns 0.8 mm in at the lens."""
    by_triangles = (60 - near_pd(60, 1000)) / 2
    assert by_triangles == pytest.approx(30 * 27 / 1027, abs=1e-9)
    assert (60 - near_pd_by_demand(60, 1000)) / 2 == 0.75
