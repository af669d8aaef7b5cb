"""Graduated scales: marks, neighbours and the count between two readings."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.scale import HAND_SCALE, Band, Direction, GraduatedScale

FINE = GraduatedScale((Band(0.5, 0.05), Band(2, 0.1), Band(20, 0.5)))
SIXES = GraduatedScale((Band(3, 0.06), Band(11, 2)))

BETWEEN = "read between the marks"

scales = st.sampled_from((HAND_SCALE, FINE, SIXES))
hundredths = st.integers(-900, 900).map(lambda n: n / 100)
eighths = st.integers(-72, 72).map(lambda n: n / 8)
powers = hundredths | eighths


# Where the marks stand ---------------------------------------------------------------------------


def test_hand_scale_has_eighths_to_three_and_quarters_beyond() -> None:
    # Common practice: 0.125 D near zero (to about 3 D), 0.25 D beyond; it differs by instrument.
    assert HAND_SCALE.marks(2.75, 3.5) == (2.75, 2.875, 3.0, 3.25, 3.5)
    assert HAND_SCALE.marks(-3.4, -2.8) == (-3.25, -3.0, -2.875)
    assert HAND_SCALE.marks(-0.2, 0.2) == (-0.125, 0.0, 0.125)
    # 24 eighths and 88 quarters on each side, and 0.
    assert len(HAND_SCALE.marks(-25, 25)) == 2 * (24 + 88) + 1
    assert HAND_SCALE.marks(3.1, 3.2) == ()


def test_marks_carry_no_float_drift() -> None:
    assert SIXES.marks(0.15, 0.37) == (0.18, 0.24, 0.3, 0.36)  # 3 * 0.06 is 0.18 here, not 0.179..
    assert FINE.marks(-0.4, -0.1) == (-0.4, -0.35, -0.3, -0.25, -0.2, -0.15, -0.1)
    assert FINE.is_mark(0.1 + 0.2)
    assert FINE.marks(0.1 + 0.2, 0.3) == (0.3,)


@pytest.mark.parametrize(
    ("value", "step"),
    [(0, 0.125), (3, 0.125), (-3, 0.125), (3.01, 0.25), (-3.01, 0.25), (25, 0.25)],
)
def test_step_at(value: float, step: float) -> None:
    assert HAND_SCALE.step_at(value) == step


@pytest.mark.parametrize(
    ("value", "before", "after", "nearest"),
    [
        (0, -0.125, 0.125, (0.0,)),
        (3.0, 2.875, 3.25, (3.0,)),
        (-3.0, -3.25, -2.875, (-3.0,)),
        (3.1, 3.0, 3.25, (3.0,)),
        (-3.1, -3.25, -3.0, (-3.0,)),
        (3.125, 3.0, 3.25, (3.0, 3.25)),
        (-0.0625, -0.125, 0.0, (-0.125, 0.0)),
        (-0.07, -0.125, 0.0, (-0.125,)),
    ],
)
def test_neighbours(value: float, before: float, after: float, nearest: tuple[float, ...]) -> None:
    assert HAND_SCALE.before(value) == before
    assert HAND_SCALE.after(value) == after
    assert HAND_SCALE.nearest(value) == nearest


def test_half_way_is_not_decided_by_float_noise() -> None:
    assert FINE.nearest(0.575 + 0.075) == (0.6, 0.7)
    assert FINE.nearest(1.15) == (1.1, 1.2)


@given(scales, powers)
def test_neighbours_agree_with_the_marks(scale: GraduatedScale, value: float) -> None:
    before, after = scale.before(value), scale.after(value)
    assert before < value < after
    on_value = (value,) if scale.is_mark(value) else ()
    assert scale.marks(before, after) == (before, *on_value, after)
    gaps = {mark: abs(mark - value) for mark in scale.marks(-11, 11)}
    nearest = [mark for mark, gap in gaps.items() if gap < min(gaps.values()) + 1e-9]
    assert scale.nearest(value) == tuple(nearest)


@given(scales, powers)
def test_scale_is_symmetrical(scale: GraduatedScale, value: float) -> None:
    assert scale.is_mark(value) == scale.is_mark(-value)
    assert scale.step_at(value) == scale.step_at(-value)
    assert scale.nearest(value) == tuple(-mark + 0.0 for mark in reversed(scale.nearest(-value)))


# Counting ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("first", "second", "words"),
    [
        (1.00, -2.25, "three whole dioptres and two eighths"),
        (-0.75, -3.25, "two whole dioptres, two eighths and one quarter"),
        (-3.25, -0.75, "two whole dioptres and four eighths"),
        (0, 0.125, "one eighth"),
        (0.25, -0.75, "one whole dioptre"),
        (4.00, 5.50, "one whole dioptre and two quarters"),
        (-12.00, 12.00, "24 whole dioptres"),
        (5.00, -5.00, "ten whole dioptres"),
        (2.00, 2.00, "no travel"),
        (1.05, 1.05, "no travel"),
        (0, 1.05, "one whole dioptre and 0.05 D " + BETWEEN),
        (0, -2.30, "two whole dioptres, two eighths and 0.05 D " + BETWEEN),
        (0.13, 0.18, "0.05 D " + BETWEEN),
        (0.0, 0.0625, "0.0625 D " + BETWEEN),
        # From a reading between marks: -2.80, then -2.875, -3.00, -3.25, then 0.05 D more.
        (-0.80, -3.30, "two whole dioptres, one eighth, one quarter and 0.125 D " + BETWEEN),
        # An eighth mark hopped to a place where only quarters are marked.
        (-2.875, -4.00, "one whole dioptre and 0.125 D " + BETWEEN),
    ],
)
def test_count_in_words(first: float, second: float, words: str) -> None:
    assert HAND_SCALE.count(first, second).in_words() == words


@pytest.mark.parametrize(
    ("scale", "second", "words"),
    [
        (FINE, 0.05, "one twentieth"),
        (FINE, -0.7, "ten twentieths and two tenths"),
        (SIXES, 0.06, "one step of 0.06 D"),
        (SIXES, -0.18, "three steps of 0.06 D"),
        (GraduatedScale((Band(4, 0.5),)), 1.5, "one whole dioptre and one half"),
        (GraduatedScale((Band(4, 0.2),)), 0.4, "two fifths"),
        (GraduatedScale((Band(4, 0.01),)), 0.11, "11 steps of 0.01 D"),
    ],
)
def test_count_names_the_steps_of_the_scale(
    scale: GraduatedScale, second: float, words: str
) -> None:
    assert scale.count(0, second).in_words() == words


def test_count_holds_what_a_number_line_draws() -> None:
    count = HAND_SCALE.count(-0.75, -3.25)
    assert count.travel == -2.5
    assert count.direction is Direction.MINUS
    assert [(hop.start, hop.end, hop.size) for hop in count.hops] == [
        (-0.75, -1.75, 1.0),
        (-1.75, -2.75, 1.0),
    ]
    assert [(leg.start, leg.end, leg.kind) for leg in count.legs[2:]] == [
        (-2.75, -2.875, "step"),
        (-2.875, -3.0, "step"),
        (-3.0, -3.25, "step"),
    ]
    assert count.steps == ((2, 0.125), (1, 0.25))
    assert count.rest == 0
    assert count.passed[:2] == (-0.875, -1.0)
    assert count.passed[-4:] == (-2.75, -2.875, -3.0, -3.25)


def test_count_passes_zero_in_the_order_of_travel() -> None:
    assert HAND_SCALE.count(0.25, -0.25).passed == (0.125, 0.0, -0.125, -0.25)
    assert HAND_SCALE.count(-0.2, 0.2).passed == (-0.125, 0.0, 0.125)
    assert HAND_SCALE.count(0.25, -0.25).direction is Direction.MINUS
    assert HAND_SCALE.count(-0.2, 0.2).direction is Direction.PLUS
    assert HAND_SCALE.count(1, 1).direction is Direction.NONE


def test_float_noise_does_not_lose_a_whole_dioptre() -> None:
    count = FINE.count(1.3, 2.3)  # 2.3 - 1.3 is a hair below 1 in binary
    assert (count.travel, len(count.hops), count.rest) == (1.0, 1, 0.0)


@given(scales, powers, powers)
def test_legs_join_the_readings_and_sum_to_the_travel(
    scale: GraduatedScale, first: float, second: float
) -> None:
    count = scale.count(first, second)
    corners = [first, *(leg.end for leg in count.legs)]
    assert [leg.start for leg in count.legs] == corners[:-1]
    assert corners[-1] == second
    in_steps = sum(number * size for number, size in count.steps)
    assert len(count.hops) + in_steps + count.rest == pytest.approx(abs(second - first), abs=1e-9)
    assert in_steps + count.rest < 1
    assert all(hop.size == 1 for hop in count.hops)


@given(scales, powers, powers)
def test_passed_marks_are_the_marks_between(
    scale: GraduatedScale, first: float, second: float
) -> None:
    passed = scale.count(first, second).passed
    between = scale.marks(min(first, second), max(first, second))
    assert sorted(passed) == [mark for mark in between if mark != first]
    assert list(passed) == sorted(passed, reverse=second < first)


# What is refused ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bands", "words"),
    [
        ((), "needs at least one band of marks; none was given"),
        ((Band(3, 0.125), Band(2, 0.25)), r"from 3 D to 2 D in steps of 0\.25 D was given"),
        ((Band(3, 0.125), Band(3, 0.25)), "from 3 D to 3 D"),
        ((Band(0, 0.125),), "from 0 D to 0 D"),
        ((Band(-3, 0.125),), "from 0 D to -3 D"),
        ((Band(float("inf"), 0.25),), "from 0 D to inf D"),
        ((Band(float("nan"), 0.25),), "from 0 D to nan D"),
        ((Band(3, 0.7),), r"whole steps .* from 0 D to 3 D in steps of 0\.7 D"),
        ((Band(3, 0.125), Band(3.1, 0.25)), r"whole steps .* from 3 D to 3\.1 D"),
        ((Band(3, 0),), r"at least 0\.01 D; .* in steps of 0 D"),
        ((Band(3, -0.25),), r"at least 0\.01 D; .* in steps of -0\.25 D"),
        ((Band(0.005, 0.005),), r"at least 0\.01 D; .* to 0\.005 D in steps of 0\.005 D"),
        ((Band(3, 0.001),), r"at least 0\.01 D; .* in steps of 0\.001 D"),
    ],
)
def test_bad_bands(bands: tuple[Band, ...], words: str) -> None:
    with pytest.raises(LensError, match=words):
        GraduatedScale(bands)


@pytest.mark.parametrize(
    ("value", "given"),
    [
        (30.01, r"\+30\.01"),
        (-31, r"−31\.00"),
        (float("nan"), r"\+nan"),
        (float("inf"), r"\+inf"),
    ],
)
def test_a_power_off_the_scale(value: float, given: str) -> None:
    words = rf"The scale runs from −30\.00 D to \+30\.00 D; {given} D was given"
    for ask in (HAND_SCALE.before, HAND_SCALE.after, HAND_SCALE.nearest, HAND_SCALE.step_at):
        with pytest.raises(LensError, match=words):
            ask(value)
    with pytest.raises(LensError, match=words):
        HAND_SCALE.count(0, value)
    with pytest.raises(LensError, match=words):
        HAND_SCALE.marks(value, 0)


def test_the_ends_of_the_scale() -> None:
    assert HAND_SCALE.nearest(-30) == (-30.0,)
    assert HAND_SCALE.after(-30) == -29.75
    with pytest.raises(LensError, match=r"ends at −30\.00 D; no mark lies below it"):
        HAND_SCALE.before(-30)
    with pytest.raises(LensError, match=r"ends at \+30\.00 D; no mark lies above it"):
        HAND_SCALE.after(30)
