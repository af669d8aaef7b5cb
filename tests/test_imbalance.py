"""The prism of a pair: the rule of the bases, splitting, the reading level, slab-off, segments."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.centration import EyePair, Point
from lensmath.decentration import prism_at
from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.imbalance import (
    Pair,
    image_jump,
    near_prisms,
    pair_from_pd_error,
    prism_in_segment,
    reverse_slab,
    slab_off,
    split,
)
from lensmath.power import LensPower
from lensmath.prism import NO_PRISM, Base, Component, Prism
from tests.printed import Row, as_printed, lens, published
from tests.strategies import lens_powers

tenths = st.integers(-300, 300).map(lambda n: n / 10)
places = st.builds(Point, tenths, tenths)
prisms = st.builds(Prism, tenths, tenths)
eyes = st.sampled_from(Eye)

OTHER = {Eye.RIGHT: Eye.LEFT, Eye.LEFT: Eye.RIGHT}
OPPOSITE = {Base.UP: Base.DOWN, Base.DOWN: Base.UP}


# As printed ---------------------------------------------------------------------------------------


@published("imbalance_near")
def test_vertical_imbalance_at_the_reading_level_as_printed(row: Row) -> None:
    """The prism of each eye, their difference, the slab-off or reverse slab and its eye."""
    near = near_prisms(lens(row, "right_"), lens(row, "left_"), below=float(row["below"]))
    for eye, prism in ((Eye.RIGHT, near.right), (Eye.LEFT, near.left)):
        if row[f"printed_{eye.value}"]:
            assert prism.vertical.amount == as_printed(row[f"printed_{eye.value}"])
            assert prism.vertical.base == row[f"printed_{eye.value}_base"]
    imbalance = near.imbalance(Eye.RIGHT).vertical.amount
    assert imbalance == as_printed(row["printed_imbalance"])
    if row["printed_base_up_before"]:
        assert near.imbalance(Eye(row["printed_base_up_before"])).vertical.base is Base.UP
    if row["printed_slab_eye"]:
        slab = {"up": slab_off, "down": reverse_slab}[row["printed_slab_base"]](near)
        eye = Eye(row["printed_slab_eye"])
        assert slab == (imbalance, Base(row["printed_slab_base"]), eye)


@published("imbalance_split")
def test_prism_of_a_pair_as_printed(row: Row) -> None:
    """The total of what was ordered, and the same in equal halves."""
    ordered = Pair(*(ordered_before(row, eye) for eye in (Eye.RIGHT, Eye.LEFT)))
    total = ordered.imbalance(Eye.RIGHT)
    halves = split(total, Eye.RIGHT)
    for name, amount in (
        ("total_vertical", total.vertical.amount),
        ("total_horizontal", total.horizontal(Eye.RIGHT).amount),
    ):
        assert not row[f"printed_{name}"] or amount == as_printed(row[f"printed_{name}"])
    for eye, prism in ((Eye.RIGHT, halves.right), (Eye.LEFT, halves.left)):
        if row["printed_each_vertical"]:
            assert prism.vertical.amount == as_printed(row["printed_each_vertical"])
            assert prism.vertical.base == row[f"printed_{eye.value}_vertical_base"]
        if row["printed_each_horizontal"]:
            assert prism.horizontal(eye).amount == as_printed(row["printed_each_horizontal"])
            assert prism.horizontal(eye).base == row["printed_horizontal_base"]


def ordered_before(row: Row, eye: Eye) -> Prism:
    vertical, horizontal = f"{eye.value}_vertical", f"{eye.value}_horizontal"
    return Prism.from_word(
        float(row[vertical]), Base(row[f"{vertical}_base"]), eye
    ) + Prism.from_word(float(row[horizontal]), Base(row[f"{horizontal}_base"]), eye)


@published("imbalance_pd")
def test_prism_of_a_pd_error_as_printed(row: Row) -> None:
    """The error of the whole PD, half of it at each eye."""
    error = EyePair.halves(float(row["error"]))
    pair = pair_from_pd_error(lens(row, "right_"), lens(row, "left_"), error)
    total = pair.imbalance(Eye.LEFT).horizontal(Eye.LEFT)
    assert total.amount == as_printed(row["printed_total"])
    assert not row["printed_base"] or total.base == row["printed_base"]


@published("imbalance_jump")
def test_image_jump_as_printed(row: Row) -> None:
    jump = image_jump(float(row["addition"]), float(row["top_to_centre"]))
    assert jump.vertical.amount == as_printed(row["printed"])
    assert not row["printed_base"] or jump.vertical.base == row["printed_base"]
    assert jump.x == 0


# The rule of the bases ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("right", "left", "total", "base"),
    [
        # Horizontal adds for BI and BI or BO and BO. Source  uk-trainee-deck-verification
        (Base.IN, Base.IN, 5, Base.IN),
        (Base.OUT, Base.OUT, 5, Base.OUT),
        (Base.IN, Base.OUT, 1, Base.IN),
        (Base.OUT, Base.IN, 1, Base.OUT),
        # Vertical adds for BU and BD, and subtracts for the same direction.
        (Base.UP, Base.DOWN, 5, Base.UP),
        (Base.DOWN, Base.UP, 5, Base.DOWN),
        (Base.UP, Base.UP, 1, Base.UP),
        (Base.DOWN, Base.DOWN, 1, Base.DOWN),
    ],
)
def test_three_before_the_right_and_two_before_the_left(
    right: Base, left: Base, total: float, base: Base
) -> None:
    pair = Pair(Prism.from_word(3, right, Eye.RIGHT), Prism.from_word(2, left, Eye.LEFT))
    assert pair.imbalance(Eye.RIGHT) == Prism.from_word(total, base, Eye.RIGHT)
    # Before the left eye: the same horizontal base, the opposite vertical one.
    assert pair.imbalance(Eye.LEFT) == Prism.from_word(total, OPPOSITE.get(base, base), Eye.LEFT)


def test_equal_vertical_prism_is_no_imbalance() -> None:
    """Prism thinning, 3 base down before both eyes (Source  uk-trainee-deck-verification)."""
    pair = Pair(Prism(0, -3), Prism(0, -3))
    assert pair.imbalance(Eye.RIGHT) == NO_PRISM
    assert Pair(Prism(0, -3), NO_PRISM).imbalance(Eye.RIGHT).vertical == (3, Base.DOWN)


# Splitting ----------------------------------------------------------------------------------------


@given(prisms, eyes, st.floats(0, 1))
def test_a_split_keeps_the_imbalance(total: Prism, eye: Eye, share: float) -> None:
    pair = split(total, eye, share)
    assert pair.imbalance(eye) == total
    kept = pair.right if eye is Eye.RIGHT else pair.left
    assert kept.amount == pytest.approx(share * total.amount, abs=2e-9)


@given(prisms, eyes)
def test_halves_are_alike_but_for_up_and_down(total: Prism, eye: Eye) -> None:
    right, left = split(total, eye)
    assert right.horizontal(Eye.RIGHT) == left.horizontal(Eye.LEFT)
    assert right.vertical.amount == left.vertical.amount
    assert right.vertical.base is OPPOSITE.get(left.vertical.base or Base.IN)


@pytest.mark.parametrize("eye", Eye)
def test_a_share_is_that_of_the_eye_named(eye: Eye) -> None:
    total = Prism(0, 6)
    named, other = (0, 1) if eye is Eye.RIGHT else (1, 0)
    assert split(total, eye, 1)[named] == total
    assert split(total, eye, 1)[other] == NO_PRISM
    assert split(total, eye, 0)[named] == NO_PRISM
    assert split(total, eye, 0)[other] == -total
    two_thirds = split(total, eye, 2 / 3)
    assert two_thirds[named] == Prism(0, 4)
    assert two_thirds[other] == Prism(0, -2)


@pytest.mark.parametrize("share", [-0.01, 1.01, float("nan")])
def test_a_share_lies_from_nothing_to_all(share: float) -> None:
    with pytest.raises(
        LensError, match=r"A share lies from 0 to 1.*; (−0\.01|1\.01|nan) was given"
    ):
        split(Prism(0, 2), Eye.LEFT, share)


# The reading level --------------------------------------------------------------------------------


def test_inset_gives_horizontal_prism_at_near() -> None:
    """Read 10 mm below and 2 mm in: R +5.00 has base up and out, L -3.00 base down and in."""
    near = near_prisms(LensPower(5), LensPower(-3), below=10, inset=2)
    assert near.right.vertical == (5, Base.UP)
    assert near.right.horizontal(Eye.RIGHT) == (1, Base.OUT)
    assert near.left.vertical == (3, Base.DOWN)
    assert near.left.horizontal(Eye.LEFT) == (0.6, Base.IN)
    assert near.imbalance(Eye.RIGHT).horizontal(Eye.RIGHT) == (0.4, Base.OUT)


@given(lens_powers(), lens_powers(), tenths, tenths)
def test_either_slab_takes_the_vertical_imbalance_away(
    right: LensPower, left: LensPower, below: float, inset: float
) -> None:
    near = near_prisms(right, left, below, inset)
    for slab in (slab_off(near), reverse_slab(near)):
        if slab is None:
            assert near.imbalance(Eye.RIGHT).vertical == (0, None)
            continue
        prism = Prism.from_word(slab.amount, slab.base, slab.eye)
        after = (
            Pair(near.right + prism, near.left)
            if slab.eye is Eye.RIGHT
            else Pair(near.right, near.left + prism)
        )
        assert after.imbalance(Eye.RIGHT).vertical == (0, None)


@given(lens_powers(), lens_powers())
def test_slab_off_goes_to_the_most_minus_or_least_plus(right: LensPower, left: LensPower) -> None:
    """In the vertical meridian, whose powers come from the sine-squared rule here."""
    slab, reverse = (make(near_prisms(right, left, below=8)) for make in (slab_off, reverse_slab))
    difference = right.power_along(90) - left.power_along(90)
    if abs(difference) < 1e-5:
        return
    assert slab is not None
    assert slab.base is Base.UP
    assert slab.eye is (Eye.LEFT if difference > 0 else Eye.RIGHT)
    assert slab.amount == pytest.approx(0.8 * abs(difference), abs=1e-8)
    assert reverse == (slab.amount, Base.DOWN, OTHER[slab.eye])


def test_lenses_alike_need_no_slab() -> None:
    near = near_prisms(LensPower(-2, -1, 90), LensPower(-2), below=10)
    assert slab_off(near) is None
    assert reverse_slab(near) is None


# PD error -----------------------------------------------------------------------------------------


def test_each_eye_has_its_own_pd_error() -> None:
    """R +4.00 1 mm too narrow, L +2.00 3 mm too wide: 0.4 base in less 0.6 base out."""
    error = EyePair(31, 35) - EyePair(32, 32)
    pair = pair_from_pd_error(LensPower(4), LensPower(2), error)
    assert pair.right.horizontal(Eye.RIGHT) == (0.4, Base.IN)
    assert pair.left.horizontal(Eye.LEFT) == (0.6, Base.OUT)
    assert pair.imbalance(Eye.RIGHT).horizontal(Eye.RIGHT) == (0.2, Base.OUT)


# Segments -----------------------------------------------------------------------------------------


@given(lens_powers(), st.integers(0, 32).map(lambda n: n / 8), places, st.integers(0, 150))
def test_the_jump_is_what_sets_in_at_the_top(
    distance: LensPower, addition: float, centre: Point, tenths_up: int
) -> None:
    """Independent computation: across the top edge the prism changes by the jump alone."""
    depth = tenths_up / 10
    top = Point(centre.x, centre.y + depth)
    inside = prism_in_segment(distance, addition, centre, top)
    assert inside - prism_at(distance, top) == image_jump(addition, depth)
    assert prism_in_segment(distance, addition, centre, centre) == prism_at(distance, centre)


@given(lens_powers(), st.integers(0, 32).map(lambda n: n / 8), places, places)
def test_a_segment_is_a_near_lens_with_its_own_prism(
    distance: LensPower, addition: float, centre: Point, point: Point
) -> None:
    """Independent computation: the near power about the distance centre, and add x its shift."""
    near_lens = prism_at(distance + LensPower(addition), point)
    shift = Prism(addition * centre.x / 10, addition * centre.y / 10)
    inside = prism_in_segment(distance, addition, centre, point)
    assert (inside.x, inside.y) == pytest.approx(
        (near_lens.x + shift.x, near_lens.y + shift.y), abs=2e-8
    )


@pytest.mark.parametrize(("addition", "depth"), [(0, 11), (2.5, 0)])
def test_no_jump(addition: float, depth: float) -> None:
    """A segment without power, and one whose optical centre lies on its top edge."""
    assert image_jump(addition, depth).vertical == Component(0, None)


def test_an_addition_is_not_minus() -> None:
    words = r"An addition is zero or more; −0\.25 D was given"
    with pytest.raises(LensError, match=words):
        image_jump(-0.25, 5)
    with pytest.raises(LensError, match=words):
        prism_in_segment(LensPower(1), -0.25, Point(0, -13), Point(0, -10))
