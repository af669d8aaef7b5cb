"""Read a lens you cannot see: what shows where, that nothing tells the lens, and the marking."""

from __future__ import annotations

import itertools
import re
from collections import defaultdict
from collections.abc import Iterator

import pytest

from lensmath.drills.unseen import UnseenLens, unseen_lens
from lensmath.notation import write_exact, write_lens, write_power
from lensmath.power import LensPower, standard_axis
from lensmath.slips import CATALOGUE, Situation, Verdict, written_with
from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, plain
from site_src.calculators.fields import FieldError
from site_src.calculators.render import answer_as_text, answer_html
from tests.printed import Row, published
from tests.test_calc_practise import MORE
from tests.test_calculators import Page

CALCULATOR = CALCULATORS["unseen-lens"]
LEVELS = (1, 2, 3)
NUMBERS = (*range(1, 41), 777, 2026, 9999)
every_level = pytest.mark.parametrize("level", LEVELS)
LINES = {"sphere_lines", "cylinder_lines", "both_sets"}


def entered(number: int, level: int, drum: float, wheel: float, **more: str) -> dict[str, str]:
    texts = {"number": f"{number}", "level": f"{level}", "drum": typed(drum), "wheel": f"{wheel:g}"}
    return texts | more


def typed(power: float) -> str:
    return write_exact(power) if power else "+0.00"


def written(lens: LensPower) -> str:
    """A lens with all its eighths, as it is typed."""
    if lens.axis is None:
        return f"{typed(lens.sphere)} DS"
    return f"{typed(lens.sphere)} {typed(lens.cylinder)} x {lens.axis:g}"


def answer(texts: dict[str, str]) -> Answer:
    return CALCULATOR.answer(texts)


def look(number: int, level: int, drum: float, wheel: float, **more: str) -> dict[str, str]:
    """Which lines are named in the answer, and how they look."""
    values = answer(entered(number, level, drum, wheel, **more)).values()
    return {name: datum.shown for name, datum in values.items() if name in LINES}


def all_of(texts: dict[str, str]) -> str:
    """All that a person can read or copy of an answer: the page and the copied text."""
    found = answer(texts)
    html = Page(answer_html(found, "../"))
    return f"{html.text}\n{answer_as_text(CALCULATOR, texts, found)}"


def with_axis(level: int) -> Iterator[tuple[int, UnseenLens, float]]:
    """Every lens of a level that is tried, with its wheel; a sphere takes any."""
    for number in NUMBERS:
        unseen = unseen_lens(number, level)
        yield number, unseen, unseen.readings.wheel or float(number % 180 + 1)


# What shows ---------------------------------------------------------------------------------------


@every_level
def test_lines_are_sharp_at_the_readings_and_not_a_quarter_off(level: int) -> None:
    for number, unseen, wheel in with_axis(level):
        taken = unseen.readings
        first = "both_sets" if taken.second is None else "sphere_lines"
        assert look(number, level, taken.first, wheel) == {first: "sharp"}
        if taken.second is not None:
            assert look(number, level, taken.second, wheel) == {"cylinder_lines": "sharp"}
        for drum, off in itertools.product((taken.first, taken.second), (0.25, -0.25)):
            if drum is not None and drum + off not in (taken.first, taken.second):
                assert "sharp" not in look(number, level, drum + off, wheel).values()


def test_the_wheel_turned_by_90_changes_the_places_of_the_two_sets() -> None:
    for number, unseen, wheel in with_axis(2):
        turned = standard_axis(wheel + 90)
        taken = unseen.readings
        assert taken.second is not None
        assert look(number, 2, taken.first, turned) == {"cylinder_lines": "sharp"}
        assert look(number, 2, taken.second, turned) == {"sphere_lines": "sharp"}


def test_without_the_lens_the_drum_shows_the_zero_error() -> None:
    for number, level in itertools.product(NUMBERS, LEVELS):
        zero = unseen_lens(number, level).zero_error
        bare = {"lens_on": "nothing"}
        assert look(number, level, zero, 40, **bare) == {"both_sets": "sharp"}
        for off in (0.125, -0.125):
            assert look(number, level, zero + off, 40, **bare) == {"both_sets": "blurred"}


@pytest.mark.parametrize(
    ("drum", "wheel", "hint"),
    # The lens with this number is −1.25 −1.50 × 140.
    [
        (4, 140, "Come down from the plus side"),
        (-1.25, 120, "Turn the wheel"),
        (-1.25, 140, "turn the drum toward minus"),
        (-2.75, 140, "The second reading"),
        (-1.25, 50, "Turn the wheel by 90"),
        (-2.75, 50, "The other set lies toward plus"),
    ],
)
def test_the_hint_says_what_to_do_next(drum: float, wheel: float, hint: str) -> None:
    found = answer(entered(7, 2, drum, wheel))
    (only,) = found.also
    assert hint in plain(only)


def test_an_eighth_off_is_almost_sharp_and_a_quarter_off_is_not() -> None:
    # Lens 6 of level 3 is +3.00 −0.875 × 097: its second reading is +2.125.
    for drum, almost in ((2.0, True), (2.25, True), (1.875, False), (2.125, False)):
        found = plain(answer(entered(6, 3, drum, 97)).also[0])
        assert found.startswith("Almost sharp") == almost


def test_a_sphere_and_a_bare_stop_have_hints_of_their_own() -> None:
    assert "a sphere" in plain(answer(entered(1, 1, 3.5, 60)).also[0])
    bare = {"lens_on": "nothing"}
    assert "is the zero error" in plain(answer(entered(2, 3, 0.125, 60, **bare)).also[0])
    assert "will show the zero error" in plain(answer(entered(2, 3, 5, 60, **bare)).also[0])


@pytest.mark.parametrize(
    ("more", "named"),
    [
        ({}, "lens 7 of level 2:"),
        ({"own": "-1.00 -1.00 x 67"}, "a lens of your own:"),
        ({"lens_on": "nothing"}, "no lens on the stop:"),
        ({"own": "-1.00 -1.00 x 67", "lens_on": "nothing"}, "no lens on the stop:"),
    ],
)
def test_the_picture_says_what_lies_on_the_stop(more: dict[str, str], named: str) -> None:
    (figure,) = answer(entered(7, 2, 3, 120, **more)).figures
    assert figure.description.startswith(f"The drum at +3.00, the wheel at 120, {named}")


# That nothing tells the lens ----------------------------------------------------------------------


@every_level
def test_what_is_told_hangs_on_the_settings_and_the_looks_alone(level: int) -> None:
    """Two lenses that look alike at the same settings have the same answer, but for the picture."""
    told = defaultdict(list)
    for number, drum, wheel in itertools.product(NUMBERS, (-4.25, -1.5, 0.0, 2.25), (30, 120)):
        texts = entered(number, level, drum, wheel, show="now")
        found = answer(texts)
        but_the_number = re.sub(rf"lens {number} of|Number: {number}\n", "", all_of(texts))
        looks = tuple(plain(line) for line in (found.headline, *found.also))
        told[drum, wheel, looks].append((but_the_number, repr(sorted(found.values().items()))))
        assert len(found.figures) == 1
        assert not found.tables
        assert not found.steps
    assert max(len(alike) for alike in told.values()) > len(NUMBERS) / 2
    assert {len(set(alike)) for alike in told.values()} == {1}


@every_level
def test_neither_power_nor_axis_stands_anywhere_before_it_is_written(level: int) -> None:
    for number, unseen, wheel in with_axis(level):
        taken, lens = unseen.readings, unseen.lens
        secret = {write_lens(lens), write_lens(lens.transposed()), write_power(lens.cylinder)}
        secret |= {write_power(each) for each in (taken.first, lens.sphere)}
        drum, beside = taken.first + 0.375, standard_axis(wheel + 31)
        told = all_of(entered(number, level, drum, beside, show="now"))
        assert not [each for each in secret - {"0.00"} if each in told]
        if taken.wheel is not None:
            assert f"{taken.wheel:03.0f}" not in re.sub(r"[−+]\d+\.\d+|lens \d+", "", told)
        html = answer_html(answer(entered(number, level, drum, beside, show="now")), "../")
        assert {mark.name for mark in Page(html).marked} <= LINES


@every_level
def test_a_wrong_reading_does_not_tell_the_lens_unless_asked(level: int) -> None:
    for number, unseen, wheel in with_axis(level):
        wrong = written(LensPower(19.625, -0.375, 77))
        texts = entered(number, level, 9, standard_axis(wheel + 31), written=wrong)
        found = answer(texts)
        assert plain(found.headline) == "Not right: no known slip explains it"
        assert write_lens(unseen.lens) not in all_of(texts)
        assert not {"sphere", "axis", "first", "wheel"} & set(found.values())
        shown = answer(texts | {"show": "now"})
        assert write_lens(unseen.lens) in all_of(texts | {"show": "now"})
        assert shown.values()["first"].value == unseen.readings.first
        assert len(shown.figures) == 2


def test_the_lens_is_not_shown_for_the_asking_alone() -> None:
    found = answer(entered(7, 2, -1.25, 140, show="now"))
    assert plain(found.also[-1]) == "Write what you read first: only then is the lens shown."


def test_where_the_picture_alone_tells_no_word_says_how_the_lines_look() -> None:
    unseen = unseen_lens(7, 2)
    shown = set()
    for drum in (unseen.readings.first, unseen.readings.second, 4.0):
        assert drum is not None
        texts = entered(7, 2, drum, 140)
        found = answer(texts | {"told": "picture"})
        told = all_of(texts | {"told": "picture"})
        assert not re.search(
            r"sharp(?! now)|blurred|broken|clear", told.replace("What is sharp?", "")
        )
        assert plain(found.headline) == f"Drum {write_power(drum)}, wheel 140"
        pictures = [answer(texts | {"told": how}).figures[0].wide for how in ("words", "picture")]
        lines = [re.findall(r"<path[^>]*>", picture) for picture in pictures]
        assert lines[0] == lines[1] != []
        shown.add(found.figures[0].wide)
    assert len(shown) == 3


# The marking --------------------------------------------------------------------------------------


@every_level
def test_the_lens_is_right_in_either_form(level: int) -> None:
    for number, unseen, wheel in with_axis(level):
        for lens in (unseen.lens.in_minus_cylinder(), unseen.lens.in_plus_cylinder()):
            texts = entered(number, level, 0, wheel, written=written(lens))
            found = answer(texts)
            assert plain(found.headline) == f"Right: {write_lens(lens)}"
            prefix = "plus." if lens.cylinder > 0 else ""
            assert found.values()[f"{prefix}sphere"].value == lens.sphere
            assert len(found.figures) == 2
            assert found.steps
            assert "counts as right" not in all_of(texts)


def test_an_axis_beside_that_of_the_lens_is_right_and_said_to_be_beside() -> None:
    found = answer(entered(7, 2, -1.25, 140, written="-1.25 -1.50 x 138"))
    assert plain(found.headline) == "Right: −1.25 −1.50 × 140"
    assert plain(found.also[0]) == "Your axis is 2° away. Up to 2.3° counts as right here."
    found = answer(entered(7, 2, -1.25, 140, written="-1.25 -1.50 x 137"))
    assert plain(found.headline) == "Sphere and cylinder are right, the axis is 3° off"
    assert [plain(line) for line in found.also] == ["Set the wheel from both sides."]
    assert "axis" not in found.values()


def test_a_slip_that_gives_a_near_axis_comes_after_it() -> None:
    # Lens 2 of level 3 is +7.125 −3.25 × 173: counted back from 175 it would be 177.
    found = answer(entered(2, 3, 0, 90, written="+7.12 -3.25 x 176"))
    assert plain(found.headline) == "Sphere and cylinder are right, the axis is 3° off"
    assert [plain(line) for line in found.also] == [
        "Set the wheel from both sides.",
        "Or: The degrees on the wheel were counted from a mark in the wrong direction.",
    ]


def test_the_cylinder_left_off_is_a_slip_of_its_own() -> None:
    # Lens 8 of level 2 is +2.50 −1.50 × 020.
    found = answer(entered(8, 2, 0, 90, written="+2.50"))
    assert plain(found.headline) == "Not right. Explained by slips"
    told, again = map(plain, found.also)
    assert told.startswith("Only one of the two readings was written, as a sphere;")
    assert again == "Look again, from the plus side."


@every_level
@pytest.mark.parametrize("slip", CATALOGUE, ids=lambda slip: slip.name)
def test_each_slip_that_changes_the_lens_is_named(level: int, slip: object) -> None:
    named = [each for each in CATALOGUE if each is slip]
    for number in NUMBERS[:12]:
        unseen = unseen_lens(number, level)
        for wrong in written_with(Situation(unseen.readings), named):
            if unseen.mark(wrong).verdict is Verdict.RIGHT:
                continue  # an axis so near that nobody sees the difference
            found = answer(entered(number, level, 0, 90, written=written(wrong)))
            assert found.values()["verdict"].value in {
                Verdict.SLIPS.value,
                Verdict.AXIS_OFF.value,
            }
            lines = [plain(line).removeprefix("Or: ") for line in found.also]
            assert named[0].sentence in lines


@pytest.mark.parametrize(
    ("attempt", "told"),
    # Lens 7 of level 2 is −1.25 −1.50 × 140.
    [
        (
            "-1.25 -1.00 x 140",
            "The sphere and the axis are right, the cylinder not. Find the second",
        ),
        (
            "-3.00 -1.50 x 140",
            "The cylinder and the axis are right, the sphere not. Find the first",
        ),
        (
            "-2.75 +1.12 x 50",
            "The sphere and the axis are right, the cylinder not. Find the second",
        ),
        ("-5.00 -0.50 x 20", "No part of it is right. Find the first reading again"),
        ("-4.00", "No part of it is right. Find the first reading again, from the plus side."),
    ],
)
def test_of_a_near_miss_it_is_said_which_parts_are_right(attempt: str, told: str) -> None:
    found = answer(entered(7, 2, -1.25, 140, written=attempt))
    assert found.values()["verdict"].shown == "no known slip explains it"
    (only,) = map(plain, found.also)
    assert only.startswith(told)
    assert ("zero error" in only) == ("sphere not" in only)


def test_two_slips_stand_in_one_line() -> None:
    # Lens 2 of level 3 is +7.125 −3.25 × 173 with a zero error of +0.125; read with it left in.
    found = answer(entered(2, 3, 0, 90, written="+7.25 +3.25 x 173"))
    assert plain(found.headline) == "Not right. Two slips together would give it"
    first, worth, *_ = map(plain, found.also)
    assert first.startswith("The zero error was left in")
    assert first.endswith("The minus sign of the cylinder was dropped.")
    assert "a mistake that is not in the list may be likelier" in worth


def test_slips_that_give_the_same_stand_in_lines_of_their_own() -> None:
    # Lens 11 of level 3 is plano −0.875 × 012.
    texts = entered(11, 3, 5, 90, written="+0.87 -0.87 x 102")
    *told, worth, last = (plain(line) for line in answer(texts).also)
    assert told[0] == "Sphere and cylinder were exchanged."
    assert [line[:12] for line in told[1:]] == ["Or: Sphere a"]
    assert worth.startswith("2 explanations fit equally well.")
    assert last == "Look again, from the plus side."


# Lenses of one's own, and what was published ------------------------------------------------------


@published("lensmeter_readings")
def test_published_readings_are_where_the_lines_are_sharp(row: Row) -> None:
    own = f"{row['printed_sphere']} {row['printed_cylinder']} x {row['printed_axis']}"
    texts = {"number": "1", "own": own, "wheel": row["axis_wheel"]}
    for lines in ("sphere_lines", "cylinder_lines"):
        drum = row[lines]
        assert answer({**texts, "drum": drum}).values()[lines].shown == "sharp"
    right = answer({**texts, "drum": "+1.00", "written": own})
    assert plain(right.headline).startswith("Right: ")


@published("slips")
def test_published_slip_is_named(row: Row) -> None:
    first, second = float(row["first"]), float(row["second"])
    own = written(LensPower(first, second - first, float(row["wheel"])))
    wrong = f"{row['printed_sphere']} {row['printed_cylinder']} x {row['printed_axis']}"
    wrong = wrong.replace("0.00 ", "+0.00 ", 1) if wrong.startswith("0.00") else wrong
    found = answer({"number": "1", "own": own, "wheel": "90", "drum": "+1.00", "written": wrong})
    told = "\n".join(plain(line) for line in found.also)
    sentences = [slip.sentence for slip in CATALOGUE if slip.name == row["slip"]]
    assert len(sentences) == bool(row["slip"])
    assert all(sentence in told for sentence in sentences)


def test_a_lens_of_ones_own_leaves_prism_and_addition_out_and_says_so() -> None:
    own = {"number": "5", "own": "-1.00 -1.00 x 67 add +2.00 1 BU", "drum": "-1.00", "wheel": "67"}
    found = answer(own)
    assert found.values()["sphere_lines"].shown == "sharp"
    assert found.cautions == (
        "The addition and the prism are left out: the target stays in the middle.",
    )
    assert answer({**own, "own": "-1.00 -1.00 x 67"}).cautions == ()


@pytest.mark.parametrize(("more", "said"), MORE)
def test_an_addition_that_the_lens_has_not_is_refused(more: str, said: str) -> None:
    for lens in ("-1.25 -1.50 x 140", "-1.25 -1.50 x 120"):
        with pytest.raises(FieldError) as refused:
            answer(entered(7, 2, -1.25, 140, written=lens + more))
        assert refused.value.field == "written"
        assert refused.value.message == f"What you read: {said}"


# Bad entries --------------------------------------------------------------------------------------

GOOD = {"number": "7", "level": "2", "drum": "-1.00", "wheel": "120"}


@pytest.mark.parametrize(
    ("wrong", "field", "says"),
    [
        ({"number": "0"}, "number", "0 was entered; it has to be from 1 to 9999"),
        ({"number": "10000"}, "number", "10000 was entered; it has to be from 1 to 9999"),
        ({"number": "-3"}, "number", "has a sign"),
        ({"number": "7.5"}, "number", "Lens: Number: 7.5 is not whole."),
        ({"number": "seven"}, "number", "is not a number"),
        ({"number": ""}, "number", "nothing was entered"),
        ({"level": "4"}, "level", "is not one of the choices: 1, 2, 3"),
        ({"drum": "1.00"}, "drum", "has no sign"),
        ({"drum": "-31"}, "drum", "30"),
        ({"wheel": "181"}, "wheel", "181"),
        ({"written": "-1.00 -1.50"}, "written", "has no axis"),
        ({"own": "1.00"}, "own", "sign"),
    ],
)
def test_a_bad_entry_gets_a_sentence(wrong: dict[str, str], field: str, says: str) -> None:
    with pytest.raises(ExceptionGroup) as refused:
        answer(GOOD | wrong)
    (error,) = refused.value.exceptions
    assert isinstance(error, FieldError)
    assert error.field == field
    assert says in error.message


def test_a_lens_of_ones_own_that_lies_off_the_scale_is_refused() -> None:
    with pytest.raises(FieldError) as refused:
        answer(GOOD | {"own": "-29.00 -4.00 x 90"})
    assert refused.value.field == "own"
    assert refused.value.message == (
        "A lens of your own: The second reading must lie from −30.00 to +30.00 D; "
        "−33.00 D was given."
    )
