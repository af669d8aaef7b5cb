"""The lens that a learner cannot see: the same by its number, its readings, and its marking."""

from __future__ import annotations

import pytest

from lensmath.drills.unseen import UnseenLens, is_almost_sharp, unseen_lens
from lensmath.errors import LensError
from lensmath.power import LensPower, standard_axis
from lensmath.readings import Lines
from lensmath.scale import HAND_SCALE
from lensmath.slips import Verdict

NUMBERS = range(1, 301)
LEVELS = (1, 2, 3)
every_level = pytest.mark.parametrize("level", LEVELS)


@pytest.mark.parametrize(
    ("number", "level", "lens", "zero_error"),
    [
        (1, 1, LensPower(3.5), 0.0),
        (7, 2, LensPower(-1.25, -1.5, 140), 0.0),
        (2, 3, LensPower(7.125, -3.25, 173), 0.125),
        (4, 3, LensPower(5.875, -2.0, 114), -0.125),
        (9999, 3, LensPower(-0.5, -0.875, 172), 0.0),
    ],
)
def test_the_same_number_is_the_same_lens(
    number: int, level: int, lens: LensPower, zero_error: float
) -> None:
    assert unseen_lens(number, level) == UnseenLens(lens, zero_error)


@every_level
def test_every_reading_is_a_mark_of_the_drum(level: int) -> None:
    for number in NUMBERS:
        taken = unseen_lens(number, level).readings
        assert HAND_SCALE.is_mark(taken.first)
        assert taken.second is None or HAND_SCALE.is_mark(taken.second)
        assert max(abs(taken.first), abs(taken.second or 0)) <= 8


def test_each_level_keeps_to_what_it_says() -> None:
    first, second, third = ([unseen_lens(number, level) for number in NUMBERS] for level in LEVELS)
    assert all(each.lens.cylinder == 0 and each.lens.sphere for each in first)
    assert all(each.lens.axis is not None and each.lens.axis % 10 == 0 for each in second)
    for quarters in (*first, *second):
        lens = quarters.lens
        assert (4 * lens.sphere).is_integer()
        assert (4 * lens.cylinder).is_integer()
        assert quarters.zero_error == 0
    assert all(each.lens.cylinder <= -0.125 for each in (*second, *third))
    assert {each.zero_error for each in third} == {-0.25, -0.125, 0.0, 0.125, 0.25}
    assert any(each.lens.sphere * 8 % 2 for each in third)
    assert any((each.lens.axis or 0) % 10 for each in third)


@every_level
def test_the_readings_are_the_lens_in_minus_form(level: int) -> None:
    for number in NUMBERS:
        unseen = unseen_lens(number, level)
        assert unseen.readings.power == unseen.lens.in_minus_cylinder()
        assert unseen.readings.zero_error == unseen.zero_error


def test_a_lens_in_plus_form_is_read_as_any_other() -> None:
    """The sphere lines are sharp first from the plus side, whichever form the lens came in."""
    minus, plus = LensPower(-0.75, -2.50, 112), LensPower(-3.25, 2.50, 22)
    assert UnseenLens(plus).readings == UnseenLens(minus).readings
    assert UnseenLens(plus).readings.first == -0.75


def test_the_drum_reads_the_zero_error_beside_the_lens() -> None:
    unseen = UnseenLens(LensPower(2, 1, 30), zero_error=-0.25)
    assert unseen.view(1.75, 30).is_sharp(Lines.SPHERE)
    assert unseen.view(2.75, 30).is_sharp(Lines.CYLINDER)
    assert not unseen.view(2.0, 30).is_sharp(Lines.SPHERE)


def test_a_lens_beyond_the_drum_is_refused() -> None:
    UnseenLens(LensPower(-28, -2, 90))
    with pytest.raises(LensError, match="second reading must lie from"):
        UnseenLens(LensPower(-28, -3, 90))


@pytest.mark.parametrize(
    ("cylinder", "allowed"),
    # asin(0.06 / (C / 2)) / 2 of a pocket calculator, and never under a degree
    [(-0.25, 14.34), (-0.5, 6.94), (-1, 3.45), (2, 1.72), (-4, 1.0)],
)
def test_an_axis_is_right_as_far_as_the_lines_stay_sharp(cylinder: float, allowed: float) -> None:
    unseen = UnseenLens(LensPower(1, cylinder, 3))
    assert unseen.axis_tolerance == pytest.approx(allowed, abs=0.006)
    for side in (1, -1):
        inside = LensPower(1, cylinder, standard_axis(3 + side * (allowed - 0.01)))
        outside = LensPower(1, cylinder, standard_axis(3 + side * (allowed + 0.01)))
        assert unseen.mark(inside).verdict is Verdict.RIGHT
        assert unseen.mark(outside).verdict is not Verdict.RIGHT
        assert unseen.agreement(inside)["axis"]
        assert not unseen.agreement(outside)["axis"]


def test_a_sphere_has_its_zero_error_too() -> None:
    assert UnseenLens(LensPower(-1), 0.25).readings.zero_error == 0.25


@pytest.mark.parametrize(
    ("drum", "almost"),
    [(3.25, False), (3.125, True), (3.0, False), (2.25, True), (2.125, False), (1.875, False)],
)
def test_almost_sharp_is_an_eighth_from_either_reading(drum: float, almost: bool) -> None:
    seen = UnseenLens(LensPower(3, -0.875, 97)).view(drum, 97)
    assert is_almost_sharp(seen) == almost


def test_powers_have_to_agree_to_the_mark() -> None:
    unseen = UnseenLens(LensPower(-1, -2, 40))
    for off in (LensPower(-1.125, -2, 40), LensPower(-1, -1.875, 40)):
        assert unseen.mark(off).verdict is Verdict.UNEXPLAINED


@pytest.mark.parametrize(
    ("attempt", "right"),
    [
        (LensPower(-1, -2, 44), "sphere cylinder"),
        (LensPower(-1, -1.75, 40), "sphere axis"),
        (LensPower(-1.125, -2, 40), "cylinder axis"),
        (LensPower(-1.125, -2, 50), "cylinder"),
        (LensPower(0, -1, 130), ""),
        (LensPower(-3, 2.25, 130), "sphere axis"),
        (LensPower(-3, 2, 40), "sphere cylinder"),
        (LensPower(-1, 2, 40), "cylinder"),
        (LensPower(-1), "sphere"),
    ],
)
def test_each_part_is_right_or_not_in_the_form_of_the_attempt(
    attempt: LensPower, right: str
) -> None:
    parts = UnseenLens(LensPower(-1, -2, 40)).agreement(attempt)
    assert [part for part, is_right in parts.items() if is_right] == right.split()
    assert ("axis" in parts) == (attempt.axis is not None)


def test_a_sphere_has_no_axis_to_be_right_or_wrong() -> None:
    parts = UnseenLens(LensPower(-1)).agreement(LensPower(-1, -0.5, 90))
    assert parts == {"sphere": True, "cylinder": False}
