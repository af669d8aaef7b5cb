"""`Prism`: the base and its names, resolving, compounding and the rings of the target."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.prism import (
    NO_PRISM,
    SAME_PRISM,
    Base,
    Component,
    Prism,
    compounded,
    prism_dioptres,
    prism_on_target,
)
from tests.printed import Row, as_printed, published

# Each component is cleaned to half a unit in the ninth decimal; a test here makes a few of them.
NOISE = 1e-8

amounts = st.floats(0, 20)
directions = st.sampled_from((0.0, 45.0, 90.0, 180.0, 270.0, 360.0)) | st.floats(0, 360)
eyes = st.sampled_from(Eye)
hundredths = st.integers(-2000, 2000).map(lambda n: n / 100)
prisms = st.builds(Prism, hundredths, hundredths)


def near(value: float) -> object:
    return pytest.approx(value, rel=0, abs=NOISE)


def word(row: Row, name: str, prefix: str = "") -> Prism:
    """The prism in two columns of a row: an amount, and its base as a word."""
    eye, column = Eye(row["eye"]), f"{prefix}{name}"
    return Prism.from_word(float(row[column]), Base(row[f"{column}_base"]), eye)


def assert_prints(part: Component, row: Row, name: str) -> None:
    """A component has the amount and the base in two columns, where they are printed."""
    if row[f"printed_{name}"]:
        assert part.amount == as_printed(row[f"printed_{name}"])
        assert (part.base or "") == row[f"printed_{name}_base"]


# As printed ---------------------------------------------------------------------------------------


@published("prism_components")
def test_components_make_the_printed_prism(row: Row) -> None:
    """Vertical and horizontal prism before one eye as a single one, and in half-circle form."""
    prism = word(row, "vertical") + word(row, "horizontal")
    written = prism.half_circle(Eye(row["eye"]))
    assert prism.amount == written.amount == as_printed(row["printed_amount"])
    assert prism.base == as_printed(row["printed_base"])
    if row["printed_letters"]:
        assert written.letters == row["printed_letters"]
        assert written.degrees == as_printed(row["printed_line"])


@published("prism_resolving")
def test_a_prism_resolves_as_printed(row: Row) -> None:
    prism = Prism.from_base(float(row["amount"]), float(row["degrees"]))
    assert_prints(prism.vertical, row, "vertical")
    assert_prints(prism.horizontal(Eye(row["eye"])), row, "horizontal")


@published("prism_compounding")
def test_prisms_compound_as_printed(row: Row) -> None:
    parts = [
        Prism.from_base(float(row[f"{each}_amount"]), float(row[f"{each}_degrees"]))
        for each in ("first", "second", "third")
    ]
    total = compounded(parts)
    assert total.amount == as_printed(row["printed_amount"])
    assert total.base == as_printed(row["printed_base"])
    assert_prints(total.vertical, row, "vertical")
    assert_prints(total.horizontal(Eye(row["eye"])), row, "horizontal")


@published("prism_of_shift")
def test_a_prism_dioptre_shifts_a_centimetre_at_a_metre(row: Row) -> None:
    assert prism_dioptres(float(row["shift"]), float(row["distance"])) == as_printed(row["printed"])


def test_lengths_of_a_shift_may_be_short_and_leave_no_noise() -> None:
    assert prism_dioptres(10, 1000) == 1
    assert prism_dioptres(-0.57, 0.5) == -114
    assert prism_dioptres(1.1, 30) == 3.666666667


# Names of the base --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("base", "eye", "degrees", "x", "y"),
    [
        # ISO 8429: zero at the observer's right, counter-clockwise; a right eye's nose is there.
        (Base.UP, Eye.RIGHT, 90, 0, 2),
        (Base.DOWN, Eye.RIGHT, 270, 0, -2),
        (Base.IN, Eye.RIGHT, 0, 2, 0),
        (Base.OUT, Eye.RIGHT, 180, -2, 0),
        (Base.UP, Eye.LEFT, 90, 0, 2),
        (Base.DOWN, Eye.LEFT, 270, 0, -2),
        (Base.IN, Eye.LEFT, 180, -2, 0),
        (Base.OUT, Eye.LEFT, 0, 2, 0),
    ],
)
def test_words_and_degrees(base: Base, eye: Eye, degrees: float, x: float, y: float) -> None:
    prism = Prism.from_word(2, base, eye)
    assert (prism.x, prism.y) == (x, y)  # exactly: cos 90 leaves no noise behind
    assert base.direction(eye) == prism.base == degrees
    assert prism.bases(eye) == (base,)
    assert prism.half_circle(eye).letters == base.letters == f"B{base.value[0].upper()}"
    assert prism.half_circle(eye).degrees == (degrees % 180 or 180)


def test_360_is_the_same_base_as_0() -> None:
    assert Prism.from_base(20, 360) == Prism.from_base(20, 0)
    assert Prism.from_base(20, 360).base == 0
    assert Prism(20, -1e-10).base == 0
    assert Prism(1000, -1e-9).base == 0


@pytest.mark.parametrize("prism", [NO_PRISM, Prism.from_base(0, 90), Prism(-SAME_PRISM, 0)])
def test_no_prism_has_no_base(prism: Prism) -> None:
    assert prism.base is None
    assert prism.vertical == prism.horizontal(Eye.LEFT) == Component(0, None)
    assert prism.bases(Eye.RIGHT) == ()
    assert prism.half_circle(Eye.LEFT)[1:] == ((), None)
    assert prism.half_circle(Eye.LEFT).letters == ""


@given(amounts, directions)
def test_amount_and_base_come_back(amount: float, degrees: float) -> None:
    assume(amount > 0.01)
    prism = Prism.from_base(amount, degrees)
    assert prism.amount == near(amount)
    assert prism.base is not None
    assert 0 <= prism.base < 360
    turn = (prism.base - degrees + 180) % 360 - 180
    assert turn == pytest.approx(0, abs=math.degrees(2e-9 / amount))


@given(prisms, eyes)
def test_components_put_together_are_the_prism(prism: Prism, eye: Eye) -> None:
    parts = (prism.vertical, prism.horizontal(eye))
    named = [Prism.from_word(part.amount, part.base, eye) for part in parts if part.base]
    assert compounded(named) == prism
    assert all(part.amount >= 0 for part in parts)
    assert prism.bases(eye) == tuple(part.base for part in parts if part.base)


@given(prisms, eyes)
def test_half_circle_notation_both_ways(prism: Prism, eye: Eye) -> None:
    """Each of its words, and both together, tell which end of the line is meant."""
    amount, bases, degrees = prism.half_circle(eye)
    if degrees is None:
        assert prism == NO_PRISM
        return
    assert 0 < degrees <= 180
    for words in (bases, *((base,) for base in bases)):
        assert Prism.from_half_circle(amount, words, degrees, eye) == prism


def test_a_horizontal_line_may_be_written_0_or_180() -> None:
    for line in (0, 180):
        assert Prism.from_half_circle(2, (Base.IN,), line, Eye.RIGHT) == Prism(2, 0)
        assert Prism.from_half_circle(2, (Base.IN,), line, Eye.LEFT) == Prism(-2, 0)
    assert Prism(2, 0).half_circle(Eye.RIGHT).degrees == 180


@given(prisms)
def test_the_left_eye_is_the_mirror_of_the_right(prism: Prism) -> None:
    mirrored = Prism(-prism.x, prism.y)
    assert mirrored.horizontal(Eye.LEFT) == prism.horizontal(Eye.RIGHT)
    assert mirrored.vertical == prism.vertical
    assert mirrored.bases(Eye.LEFT) == prism.bases(Eye.RIGHT)


def test_amount_and_base_are_cleaned() -> None:
    """To the ninth decimal, so that every machine shows the same digits."""
    assert Prism(0.8, 0.4).amount == 0.894427191
    assert Prism(2, 1.5).base == 36.869897646
    assert Prism(2, -1.5).base == 323.130102354


# Arithmetic ---------------------------------------------------------------------------------------


@given(st.lists(st.tuples(amounts, directions), max_size=6))
def test_compounding_is_the_sum_of_arrows(parts: list[tuple[float, float]]) -> None:
    """Against complex numbers, as an independent computation."""
    total = compounded(Prism.from_base(*part) for part in parts)
    arrow = sum(cmath.rect(amount, math.radians(degrees)) for amount, degrees in parts)
    assert complex(total.x, total.y) == pytest.approx(arrow, abs=NOISE)


@given(prisms, prisms, st.floats(-3, 3))
def test_sums_differences_and_multiples(one: Prism, other: Prism, times: float) -> None:
    assert one + other == other + one
    assert (one + other) - other == one
    assert one - one == one + -one == NO_PRISM
    assert (one * times).x == near(one.x * times)
    assert (one * times).y == near(one.y * times)
    assert one * -1 == -one


def test_equal_within_a_millionth_and_no_further() -> None:
    prism = Prism(2, -1)
    for close in (Prism(2 + SAME_PRISM / 2, -1), Prism(2, -1 - SAME_PRISM / 2)):
        assert prism == close
        assert hash(prism) == hash(close)
    assert Prism(SAME_PRISM, -SAME_PRISM) == NO_PRISM
    assert prism not in (Prism(2 + 2 * SAME_PRISM, -1), Prism(2, -1 + 2 * SAME_PRISM))
    assert prism != (2, -1)


def test_only_prisms_add() -> None:
    with pytest.raises(TypeError):
        Prism(1, 1) + 1  # type: ignore[operator]
    with pytest.raises(TypeError):
        Prism(1, 1) - 1  # type: ignore[operator]


# Rings of the target ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("right", "up", "eye", "words"),
    [
        # A right lens with base out: the target goes left. Source  opticians-forum-prism
        (-2, 0, Eye.RIGHT, (Base.OUT,)),
        # The target goes where the base is. Source  prism-reading-lesson
        (2, 0, Eye.RIGHT, (Base.IN,)),
        (2, 0, Eye.LEFT, (Base.OUT,)),
        (-2, 0, Eye.LEFT, (Base.IN,)),
        (0, 2, Eye.LEFT, (Base.UP,)),
        (0, -2, Eye.RIGHT, (Base.DOWN,)),
        (math.sqrt(3), -1, Eye.RIGHT, (Base.DOWN, Base.IN)),
        (0, 0, Eye.RIGHT, ()),
    ],
)
def test_the_target_goes_to_the_base(
    right: float, up: float, eye: Eye, words: tuple[Base, ...]
) -> None:
    prism = prism_on_target(right, up, rings=5)
    assert prism.bases(eye) == words
    assert prism.amount == near(2 if words else 0)


def test_an_auxiliary_prism_is_taken_off() -> None:
    """A lens of 7 base up, brought back among five rings by 4 base down."""
    assert prism_on_target(0, 3, rings=5, auxiliary=Prism(0, -4)) == Prism(0, 7)


def test_the_last_ring_can_be_read_and_nothing_beyond() -> None:
    assert prism_on_target(3, -4, rings=5).amount == 5
    assert prism_on_target(5 + 1e-12, 0, rings=5).amount == 5
    words = r"The last ring is 5; a target 5\.01 rings from the centre was given\. Add a known"
    with pytest.raises(LensError, match=words):
        prism_on_target(0, -5.01, rings=5)


# What is refused ----------------------------------------------------------------------------------


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_component_is_a_number(value: float) -> None:
    for components in ((value, 0), (0, value)):
        with pytest.raises(LensError, match=r"Prism must be a number such as 1\.5; −?(nan|inf) "):
            Prism(*components)


@pytest.mark.parametrize("amount", [-2, math.nan])
def test_an_amount_is_not_below_zero(amount: float) -> None:
    words = r"An amount of prism is zero or more; (−2|nan) was given\. Turn the base"
    with pytest.raises(LensError, match=words):
        Prism.from_base(amount, 90)
    with pytest.raises(LensError, match=words):
        Prism.from_word(amount, Base.UP, Eye.LEFT)
    with pytest.raises(LensError, match=words):
        Prism.from_half_circle(amount, (Base.UP,), 90, Eye.LEFT)


@pytest.mark.parametrize("degrees", [-0.5, 360.5, math.nan])
def test_a_base_lies_on_the_circle(degrees: float) -> None:
    words = r"A base direction lies from 0 to 360 degrees; (−0\.5|360\.5|nan) was given"
    with pytest.raises(LensError, match=words):
        Prism.from_base(1, degrees)


@pytest.mark.parametrize("degrees", [-1, 181, math.nan])
def test_a_line_lies_on_the_half_circle(degrees: float) -> None:
    with pytest.raises(LensError, match=r"a line from 1 to 180 degrees; (−1|181|nan) was given"):
        Prism.from_half_circle(1, (Base.UP,), degrees, Eye.RIGHT)


@pytest.mark.parametrize(
    ("bases", "degrees", "words"),
    [
        ((Base.DOWN, Base.IN), 37, "up and in or down and out; down and in was given"),
        ((Base.UP,), 180, "out or in; up was given"),
        ((Base.IN,), 90, "up or down; in was given"),
        ((), 37, "up and in or down and out; no word was given"),
    ],
)
def test_words_that_do_not_fit_the_line(
    bases: tuple[Base, ...], degrees: float, words: str
) -> None:
    with pytest.raises(LensError, match=f"On the line {degrees} the base before a right eye is"):
        Prism.from_half_circle(2.5, bases, degrees, Eye.RIGHT)
    with pytest.raises(LensError, match=words):
        Prism.from_half_circle(2.5, bases, degrees, Eye.RIGHT)


@pytest.mark.parametrize(("shift", "distance"), [(1, 0), (1, -5), (1, math.nan), (math.inf, 1)])
def test_a_shift_stands_at_a_distance(shift: float, distance: float) -> None:
    with pytest.raises(LensError, match=r"its distance is above zero; .* mm at .* mm was given"):
        prism_dioptres(shift, distance)
