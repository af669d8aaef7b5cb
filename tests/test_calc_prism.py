"""The calculators of prism: decentration, resolving, notation, imbalance, slab-off and split."""

from __future__ import annotations

import math
import re

import pytest

from lensmath.centration import Decentration, Point
from lensmath.decentration import AtPoint, OnLine, decentration_for, prism_at
from lensmath.eye import Eye
from lensmath.power import LensPower
from lensmath.prism import Base, Prism
from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, plain
from site_src.calculators.fields import FieldError
from site_src.figures.lens_place import lens_place
from site_src.figures.prism_arrows import View, by_parts, prism_arrows
from tests import pocket
from tests.printed import Row, as_printed, published


def answered(slug: str, **entries: str) -> Answer:
    return CALCULATORS[slug].answer(entries)


def said(answer: Answer) -> str:
    return plain(answer.headline)


def all_said(answer: Answer) -> str:
    return " ".join(plain(line) for line in (answer.headline, *answer.also))


def number(answer: Answer, name: str) -> float:
    value = answer.values()[name].value
    assert isinstance(value, float)
    return value


def word(answer: Answer, name: str) -> str:
    return answer.values()[name].shown


def typed_lens(row: Row, prefix: str = "") -> str:
    axis = row[f"{prefix}axis"]
    if not axis:
        return f"{row[f'{prefix}sphere']} DS"
    return f"{row[f'{prefix}sphere']} {row[f'{prefix}cylinder']} x {axis}"


def way(row: Row) -> dict[str, str]:
    inward, up = float(row["inward"]), float(row["up"])
    return {
        "across": f"{abs(inward):g}",
        "in_out": "in" if inward > 0 else "out",
        "height": f"{abs(up):g}",
        "up_down": "up" if up > 0 else "down",
    }


def as_printed_parts(answer: Answer, row: Row) -> None:
    for kind in ("vertical", "horizontal"):
        printed = row[f"printed_{kind}"]
        if printed and float(printed):
            assert number(answer, kind) == as_printed(printed)
            assert word(answer, f"{kind}.base") == row[f"printed_{kind}_base"]


# Prism by decentration ----------------------------------------------------------------------------


@published("decentration_prism_at")
def test_prism_where_the_eye_looks_as_printed(row: Row) -> None:
    answer = answered(
        "prism-by-decentration", eye=row["eye"], lens=typed_lens(row), moved="gaze", **way(row)
    )
    as_printed_parts(answer, row)


@published("decentration_moved")
def test_prism_of_a_moved_centre_as_printed(row: Row) -> None:
    answer = answered("prism-by-decentration", eye=row["eye"], lens=typed_lens(row), **way(row))
    as_printed_parts(answer, row)
    if row["printed_amount"]:
        assert number(answer, "amount") == as_printed(row["printed_amount"])


def test_the_eye_and_the_centre_moved_the_same_way_give_opposite_bases() -> None:
    entries = {"eye": "left", "lens": "-2.00 -1.00 x 30", "across": "4", "height": "2"}
    centre = answered("prism-by-decentration", moved="centre", **entries)
    gaze = answered("prism-by-decentration", moved="gaze", **entries)
    assert number(centre, "amount") == number(gaze, "amount")
    apart = abs(number(centre, "base") - number(gaze, "base"))
    assert apart == pytest.approx(180, abs=1e-6)


@pytest.mark.parametrize(
    ("entries", "reason"),
    [
        ({"lens": "plano", "across": "9"}, "A plano lens has no prism"),
        ({"lens": "-3.00 DS"}, "through the optical centre"),
        ({"lens": "plano -2.00 x 180", "across": "9"}, "along a meridian without power"),
    ],
)
def test_no_prism_is_said_with_its_reason(entries: dict[str, str], reason: str) -> None:
    answer = answered("prism-by-decentration", eye="right", **entries)
    assert said(answer) == "No prism"
    assert reason in all_said(answer)


def test_a_large_prism_carries_a_caution() -> None:
    entries = {"eye": "right", "lens": "-10.00 DS"}
    small = answered("prism-by-decentration", **entries, across="10")
    large = answered("prism-by-decentration", **entries, across="10.1")
    assert (bool(small.cautions), bool(large.cautions)) == (False, True)


def test_what_the_order_has_beside_its_power_is_not_counted_and_said_so() -> None:
    bare = answered("prism-by-decentration", eye="right", lens="-3.00 DS", across="5")
    more = answered("prism-by-decentration", eye="right", lens="-3.00 DS 2 BU", across="5")
    assert said(bare) == said(more)
    assert (len(bare.cautions), len(more.cautions)) == (0, 1)


# Decentration for a prism -------------------------------------------------------------------------


@published("decentration_wanted")
def test_decentration_as_printed(row: Row) -> None:
    answer = answered(
        "decentration-for-prism",
        eye=row["eye"],
        lens=typed_lens(row),
        vertical=row["vertical"],
        up_down=row["vertical_base"],
        horizontal=row["horizontal"],
        in_out=row["horizontal_base"],
    )
    assert number(answer, "inward") == as_printed(row["printed_inward"])
    assert said(answer).endswith("out")


@pytest.mark.parametrize("eye", ["right", "left"])
@pytest.mark.parametrize("written", ["-2.00 -1.50 x 030", "+4.00 -1.00 x 90", "+3.00 DS"])
def test_the_prism_is_found_at_the_place_that_is_named(eye: str, written: str) -> None:
    answer = answered(
        "decentration-for-prism",
        eye=eye,
        lens=written,
        vertical="1",
        up_down="down",
        horizontal="1.5",
        in_out="in",
    )
    side = Eye(eye)
    place = Decentration(number(answer, "found.inward"), number(answer, "found.up")).before(side)
    power = {
        "-2.00 -1.50 x 030": LensPower(-2, -1.5, 30),
        "+4.00 -1.00 x 90": LensPower(4, -1, 90),
        "+3.00 DS": LensPower(3),
    }[written]
    found = prism_at(power, place)
    assert found.vertical.amount == pytest.approx(1)
    assert found.vertical.base is Base.DOWN
    assert found.horizontal(side).amount == pytest.approx(1.5)
    assert found.horizontal(side).base is Base.IN


def test_a_far_move_says_how_far_the_blank_has_to_reach() -> None:
    """10 × 0.9 ÷ 0.25 is 36; at 10 mm nothing is said, and beyond 40 no lens reaches."""

    def cautions(lens: str, prism: str) -> tuple[str, ...]:
        entries = {"eye": "right", "lens": lens, "vertical": prism, "up_down": "up"}
        return answered("decentration-for-prism", **entries).cautions

    (far,) = cautions("-0.25 DS", "0.9")
    assert "lies 36 mm from the boxed centre" in far
    assert "it is twice that, 72 mm, more across than the lens" in far
    assert cautions("+4.00 DS", "4") == ()
    assert len(cautions("+4.00 DS", "4.04")) == 1
    assert cautions("-0.25 DS", "1.1") == ()


def test_a_plano_lens_gives_no_prism_in_words() -> None:
    answer = answered("decentration-for-prism", eye="right", lens="plano", horizontal="2")
    assert said(answer) == "No decentration gives this prism"
    assert "A plano lens has no prism at any point" in all_said(answer)
    assert "2.00 Δ base in" in all_said(answer)


def test_prism_along_the_meridian_without_power_is_refused_in_words() -> None:
    answer = answered(
        "decentration-for-prism", eye="right", lens="plano -2.00 x 180", horizontal="2"
    )
    assert said(answer) == "No decentration gives this prism"
    assert "power along 090 alone" in all_said(answer)
    assert answer.values()["only_along"].value == 90


def test_prism_across_the_axis_of_a_plano_cylinder_has_a_line_of_places() -> None:
    answer = answered("decentration-for-prism", eye="right", lens="plano -2.00 x 180", vertical="1")
    assert said(answer) == "Move the optical centre at least 5.0 mm down"
    assert "Anywhere on the line along 180" in all_said(answer)


@pytest.mark.parametrize(("horizontal", "found"), [("0.87", True), ("0.88", False)])
def test_an_oblique_prism_may_be_entered_with_two_decimals(horizontal: str, *, found: bool) -> None:
    """1.5 and 0.866 would lie exactly along 120."""
    answer = answered(
        "decentration-for-prism", eye="left", lens="plano -2.00 x 30", vertical="1.5",
        up_down="down", horizontal=horizontal, in_out="out",
    )  # fmt: skip
    assert said(answer).startswith("Move" if found else "No decentration gives")
    assert bool(answer.understood) is found


@pytest.mark.parametrize(
    ("written", "headline"),
    [("plano", "Any place does"), ("-2.00 DS", "No decentration"),
     ("plano -2.00 x 30", "No decentration")],
)  # fmt: skip
def test_no_prism_needs_no_decentration(written: str, headline: str) -> None:
    assert said(answered("decentration-for-prism", eye="left", lens=written)) == headline


def test_a_way_longer_than_any_lens_is_said_to_be_too_far() -> None:
    entries = {"eye": "right", "horizontal": "2", "in_out": "in"}
    near = answered("decentration-for-prism", lens="+0.50 DS", **entries)
    far = answered("decentration-for-prism", lens="+0.12 DS", **entries)
    assert said(near) == "Move the optical centre 40.0 mm in"
    assert said(far) == "No lens reaches far enough"
    assert "160.0 mm in" in all_said(far)


def test_a_way_too_short_to_show_is_no_decentration() -> None:
    answer = answered("decentration-for-prism", eye="right", lens="+20.00 DS", vertical="0.05")
    assert said(answer) == "No decentration"
    assert "shorter than 0.05 mm" in all_said(answer)


# Resolving, compounding, notation -----------------------------------------------------------------


@published("prism_resolving")
def test_resolving_as_printed(row: Row) -> None:
    answer = answered("resolving-prism", eye=row["eye"], amount=row["amount"], base=row["degrees"])
    as_printed_parts(answer, row)


def test_an_amount_of_zero_has_no_base() -> None:
    answer = answered("resolving-prism", eye="right", amount="0", base="30")
    assert all_said(answer) == "No prism An amount of zero has no base."


def test_compounding_adds_what_is_given_in_either_notation() -> None:
    words = answered(
        "compounding-prisms", eye="left", first="2", first_base="in", second="1", second_base="up"
    )
    angles = answered(
        "compounding-prisms",
        eye="left",
        first="2",
        first_base="degrees",
        first_degrees="180",
        second="1",
        second_base="degrees",
        second_degrees="90",
    )
    assert said(words) == said(angles) == "2.24 Δ base 153.4"


def test_opposite_prisms_cancel() -> None:
    answer = answered(
        "compounding-prisms", eye="right", first="2", first_base="up", second="2",
        second_base="down",
    )  # fmt: skip
    assert said(answer) == "No prism: the two cancel"


def test_a_base_in_degrees_needs_its_degrees() -> None:
    with pytest.raises(FieldError, match=r"Second prism: Degrees: nothing was entered"):
        answered("compounding-prisms", eye="right", first="2", second="1", second_base="degrees")


def test_degrees_beside_a_word_are_said_to_be_unused() -> None:
    answer = answered("compounding-prisms", eye="right", first="2", first_degrees="30", second="1")
    assert [plain(line) for line in answer.understood] == [
        "The first base was read as up; its 30 degrees were not used."
    ]


@published("prism_components")
def test_notation_from_words_as_printed(row: Row) -> None:
    answer = answered(
        "base-notation",
        eye=row["eye"],
        vertical=row["vertical"],
        up_down=row["vertical_base"],
        horizontal=row["horizontal"],
        in_out=row["horizontal_base"],
    )
    assert number(answer, "amount") == as_printed(row["printed_amount"])
    assert number(answer, "base") == as_printed(row["printed_base"])
    if row["printed_letters"]:
        assert word(answer, "letters") == row["printed_letters"]
        assert number(answer, "line") == as_printed(row["printed_line"])


@pytest.mark.parametrize(
    ("degrees", "choices", "base"),
    [
        ("37", {"up_down": "up"}, 37),
        ("37", {"up_down": "down"}, 217),
        ("90", {"up_down": "down"}, 270),
        ("180", {"up_down": "down", "in_out": "in"}, 180),
        ("180", {"up_down": "down", "in_out": "out"}, 0),
        ("0", {"up_down": "up", "in_out": "out"}, 0),
    ],
)
def test_half_circle_to_full_circle(degrees: str, choices: dict[str, str], base: float) -> None:
    answer = answered(
        "base-notation", eye="left", written="half", amount="2", degrees=degrees, **choices
    )
    assert number(answer, "base") == pytest.approx(base, abs=1e-6)


@pytest.mark.parametrize(
    ("entries", "field", "message"),
    [
        ({"written": "words"}, "vertical", "nothing was entered here or as the horizontal part"),
        ({"written": "circle", "degrees": "10"}, "amount", "Enter the prism in Δ"),
        ({"written": "circle", "amount": "1"}, "degrees", "Enter its base, 0 to 360"),
        ({"written": "half", "amount": "1"}, "degrees", "Enter its line, 0 to 180"),
        ({"written": "half", "amount": "1", "degrees": "217"}, "degrees", "217 was given"),
    ],
)
def test_what_a_notation_needs(entries: dict[str, str], field: str, message: str) -> None:
    with pytest.raises(FieldError, match=message) as refused:
        answered("base-notation", eye="right", **entries)
    assert refused.value.field == field


def test_entries_of_the_other_notation_are_said_to_be_unused() -> None:
    answer = answered("base-notation", eye="right", vertical="1", amount="3", degrees="5")
    assert [plain(line) for line in answer.understood] == [
        "The entries for amount and degrees were not used."
    ]


# Pairs --------------------------------------------------------------------------------------------


@published("imbalance_near")
def test_imbalance_and_slab_at_the_reading_level_as_printed(row: Row) -> None:
    entries = {
        "right_lens": typed_lens(row, "right_"),
        "left_lens": typed_lens(row, "left_"),
        "below": row["below"],
    }
    near, slab = answered("near-imbalance", **entries), answered("slab-off", **entries)
    assert number(near, "vertical") == as_printed(row["printed_imbalance"])
    assert number(slab, "slab.amount") == number(near, "vertical")
    for eye in ("right", "left"):
        if row[f"printed_{eye}"]:
            assert number(near, f"{eye}.vertical") == as_printed(row[f"printed_{eye}"])
            assert word(near, f"{eye}.vertical.base") == row[f"printed_{eye}_base"]
    if row["printed_base_up_before"]:
        kind = "vertical" if row["printed_base_up_before"] == "right" else "vertical.left"
        assert word(near, f"{kind}.base") == "up"
    if row["printed_slab_eye"]:
        name = "slab" if row["printed_slab_base"] == "up" else "reverse"
        assert word(slab, f"{name}.eye") == row["printed_slab_eye"]
        assert word(slab, f"{name}.base") == row["printed_slab_base"]


def test_an_inset_adds_horizontal_imbalance() -> None:
    entries = {"right_lens": "-2.00 DS", "left_lens": "-4.00 DS", "below": "10"}
    straight = answered("near-imbalance", **entries)
    inset = answered("near-imbalance", **entries, inset="2.5")
    assert "horizontal" not in straight.values()
    assert number(inset, "horizontal") == pytest.approx(1.5)


def test_equal_lenses_need_no_slab() -> None:
    answer = answered("slab-off", right_lens="-3.00 DS", left_lens="-3.00 DS", below="10")
    assert said(answer) == "No slab-off needed: no vertical imbalance"


@pytest.mark.parametrize(("sphere", "cautions"), [("-1.37", 1), ("-1.50", 0)])
def test_a_small_slab_carries_a_caution(sphere: str, cautions: int) -> None:
    answer = answered("slab-off", right_lens="plano", left_lens=f"{sphere} DS", below="10")
    assert len(answer.cautions) == cautions


@published("imbalance_pd")
def test_prism_of_a_pd_error_as_printed(row: Row) -> None:
    each = abs(float(row["error"])) / 2
    moved = "in" if float(row["error"]) < 0 else "out"
    entries = {
        f"{eye}_{name}": text
        for eye in ("right", "left")
        for name, text in (
            ("lens", typed_lens(row, f"{eye}_")),
            ("across", f"{each:g}"),
            ("in_out", moved),
        )
    }
    answer = answered("centration-prism", **entries)
    assert number(answer, "horizontal") == as_printed(row["printed_total"])
    if row["printed_base"]:
        assert word(answer, "horizontal.base") == row["printed_base"]


def pair_entries(row: Row) -> dict[str, str]:
    return {
        f"{eye}_{entry}": row[f"{eye}_{column}"]
        for eye in ("right", "left")
        for entry, column in (
            ("vertical", "vertical"),
            ("up_down", "vertical_base"),
            ("horizontal", "horizontal"),
            ("in_out", "horizontal_base"),
        )
    }


@published("imbalance_split")
def test_imbalance_and_split_as_printed(row: Row) -> None:
    entries = pair_entries(row)
    whole, halves = answered("prism-imbalance", **entries), answered("splitting-prism", **entries)
    for kind in ("vertical", "horizontal"):
        if row[f"printed_total_{kind}"]:
            assert number(whole, kind) == as_printed(row[f"printed_total_{kind}"])
        if row[f"printed_each_{kind}"]:
            for eye in ("right", "left"):
                assert number(halves, f"{eye}.{kind}") == as_printed(row[f"printed_each_{kind}"])
    if row["printed_right_vertical_base"]:
        assert word(halves, "right.vertical.base") == row["printed_right_vertical_base"]
        assert word(halves, "left.vertical.base") == row["printed_left_vertical_base"]


@pytest.mark.parametrize(
    ("right", "left", "vertical", "horizontal"),
    [
        (("up", "in"), ("up", "in"), "3 − 1", "2 + 1"),
        (("up", "out"), ("down", "in"), "3 + 1", "2 − 1"),
        (("down", "out"), ("down", "out"), "3 − 1", "2 + 1"),
        (("down", "in"), ("up", "out"), "3 + 1", "2 − 1"),
    ],
)
def test_which_bases_add_between_two_eyes(
    right: tuple[str, str], left: tuple[str, str], vertical: str, horizontal: str
) -> None:
    answer = answered(
        "prism-imbalance",
        right_vertical="3", right_up_down=right[0], right_horizontal="2", right_in_out=right[1],
        left_vertical="1", left_up_down=left[0], left_horizontal="1", left_in_out=left[1],
    )  # fmt: skip
    assert [step.numbers for step in answer.steps] == [vertical, horizontal]
    for step in answer.steps:
        assert float(pocket.worked_out(step.numbers)) == number(
            answer, step.what.split(":")[0].lower()
        )


@pytest.mark.parametrize(("share", "right", "left"), [("0", 0, 4), ("25", 1, 3), ("100", 4, 0)])
def test_a_share_of_its_own_for_the_right_eye(share: str, right: float, left: float) -> None:
    answer = answered("splitting-prism", right_vertical="4", share=share)
    values = [datum.value for line in answer.steps[-2:] for datum in line.result[:1]
              if not isinstance(datum, str)]  # fmt: skip
    assert values == [right, left]
    assert number(answer, "vertical") == 4


def test_prisms_that_cancel_leave_nothing_to_split() -> None:
    answer = answered("splitting-prism", right_vertical="2", left_vertical="2")
    assert said(answer) == "Nothing to split: the two prisms cancel"
    assert answer.cautions == ()


@published("imbalance_jump")
def test_image_jump_as_printed(row: Row) -> None:
    answer = answered("image-jump", addition=row["addition"], top_to_centre=row["top_to_centre"])
    assert number(answer, "jump") == as_printed(row["printed"])


def test_no_addition_no_jump_and_a_negative_one_is_refused() -> None:
    assert said(answered("image-jump", addition="+0.00", top_to_centre="5")) == "No image jump"
    with pytest.raises(FieldError, match="Addition: An addition is zero or more"):
        answered("image-jump", addition="-1.00", top_to_centre="5")


# Figures ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("depth", "is_round"), [("11", True), ("5", False), ("0", False)])
def test_a_segment_with_a_deep_centre_is_round(depth: str, is_round: bool) -> None:
    """The dot in the middle of the circle: half the width of a round segment is the way to it."""
    (drawn,) = answered("image-jump", addition="+2.00", top_to_centre=depth).figures
    assert drawn.description.startswith("A round segment") == is_round
    for column in (drawn.narrow, drawn.wide):
        circles = re.findall(r'<circle cx="([^"]*)" cy="([^"]*)" r="([^"]*)"', column)
        assert len(circles) == 1 + is_round
        assert len({(x, y) for x, y, _ in circles}) == 1


def arrow_ends(drawing: str) -> list[tuple[float, float]]:
    """Where the tips of the arrows stand, in the order drawn."""
    tips = re.findall(r'<path d="M ([\d.]+) ([\d.]+) L [^"]*" class="solid"', drawing)
    return [(float(x), float(y)) for x, y in tips]


@pytest.mark.parametrize("eye", [Eye.RIGHT, Eye.LEFT])
def test_the_arrow_points_where_the_words_say(eye: Eye) -> None:
    prism = Prism.from_word(1.5, Base.UP, eye) + Prism.from_word(2, Base.IN, eye)
    figure = prism_arrows("arrows", "Arrows", [by_parts(eye, prism)], "Said.")
    x, y = arrow_ends(figure.wide)[-1]
    # The rings are 96 px for five rings of 0.5.
    assert x - 300 == pytest.approx(eye.inward * 2 * 96 / 2.5, abs=0.02)
    centre = 2 * 16 + 8 + 96
    assert centre - y == pytest.approx(1.5 * 96 / 2.5, abs=0.02)
    assert "One ring is 0.5\N{NO-BREAK SPACE}Δ." in figure.description


def test_in_stands_on_the_side_of_the_nose() -> None:
    def x_of(word: str, eye: Eye) -> float:
        drawn = prism_arrows("a", "A", [View(eye, Prism(1, 0))], "Said.").wide
        found = re.search(rf'<text x="([\d.]+)"[^>]*>{word}</text>', drawn)
        assert found
        return float(found[1])

    assert x_of("in", Eye.RIGHT) > 300 > x_of("out", Eye.RIGHT)
    assert x_of("in", Eye.LEFT) < 300 < x_of("out", Eye.LEFT)


def test_the_right_eye_stands_on_the_viewers_left() -> None:
    drawn = answered("prism-imbalance", right_vertical="1", left_vertical="1").figures[0].wide
    headings = re.findall(r'<text x="([\d.]+)"[^>]*>(\w+) eye</text>', drawn)
    assert headings == [("150", "Right"), ("450", "Left")]


def test_the_optical_centre_is_drawn_at_its_way() -> None:
    place = decentration_for(LensPower(4), Prism(-2, 0))
    assert place == AtPoint(Point(-5, 0))
    figure = lens_place("place", Eye.RIGHT, place)
    assert "5 mm out" in figure.description
    # 104 px are 12.5 mm.
    assert f'cx="{300 - 5 * 104 / 12.5:g}"' in figure.wide


def test_a_line_of_places_is_drawn_through_the_nearest_point() -> None:
    place = decentration_for(LensPower(0, -2, 30), Prism.from_base(1, 120))
    assert isinstance(place, OnLine)
    figure = lens_place("line", Eye.RIGHT, place)
    assert "anywhere on a line along 030" in figure.description
    assert math.hypot(*place.nearest) == pytest.approx(5)
    assert figure.wide.count('class="arm"') == 1


def test_the_picture_of_the_reading_level_says_the_numbers_of_the_table() -> None:
    answer = answered("near-imbalance", right_lens="-3.00 DS", left_lens="-6.00 DS", below="8")
    values = answer.values()
    for name in ("right.vertical", "left.vertical", "vertical"):
        assert values[name].shown in answer.figures[0].description
    for drawing in (answer.figures[0].narrow, answer.figures[0].wide):
        assert "2.40 Δ down" in drawing
        assert "4.80 Δ down" in drawing


# The pocket calculator ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sums", "result"),
    [
        ("√(2² + 1.5²)", 2.5),
        ("(sin 30)² + (cos 30)²", 1),
        ("180 + atan(1.5 ÷ 2)", 216.869897),
        ("−(−1) × sin 135 × cos 135", -0.5),
        ("−3²", -9),
        ("asin 0.5 + acos 0.5", 90),
        ("tan 45", 1),
    ],
)
def test_the_pocket_calculator_knows_angles_and_roots(sums: str, result: float) -> None:
    assert float(pocket.worked_out(sums)) == pytest.approx(result, abs=1e-6)


@pytest.mark.parametrize("sums", ["√", "sin", "2 sin 30", "sinh 2", "3 ² ²)"])
def test_the_pocket_calculator_refuses_what_is_no_sum(sums: str) -> None:
    with pytest.raises(ValueError, match=r"is missing|not expected|knows"):
        pocket.worked_out(sums)
