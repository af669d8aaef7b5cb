"""The calculators of the stage Write: what to write, near powers, mean sphere, meridians, sums."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import numpy as np
import pytest

from lensmath.notation import read_power
from lensmath.power import LensPower
from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, plain
from site_src.calculators.fields import FieldError
from site_src.calculators.working import digits, signed, unsigned
from tests.printed import Row, as_printed, published

WRITE = CALCULATORS["what-to-write"]
NEAR = CALCULATORS["near-and-intermediate"]
MEAN = CALCULATORS["mean-sphere"]
ALONG = CALCULATORS["power-in-a-meridian"]
SUM = CALCULATORS["adding-powers"]


def typed_lens(row: Row, prefix: str = "") -> str:
    sphere, cylinder = row[f"{prefix}sphere"], row[f"{prefix}cylinder"]
    axis = row[f"{prefix}axis"]
    return f"{sphere} {cylinder} x {axis}" if axis else f"{sphere} DS"


def texts(drawing: str) -> list[str]:
    found = ET.fromstring(drawing).iter("{http://www.w3.org/2000/svg}text")
    return ["".join(node.itertext()) for node in found]


# The numbers of the working -----------------------------------------------------------------------


def test_numbers_keep_the_digits_that_were_entered() -> None:
    assert [digits(value) for value in (-2.3145, 1.5, 0, -1e-12)] == [
        "−2.3145",
        "+1.50",
        "0.00",
        "0.00",
    ]
    assert (unsigned(77.125), unsigned(20), unsigned(100)) == ("77.125", "20", "100")
    assert (signed(-0.00004, 4), signed(0.00005, 4)) == ("0.0000", "+0.0001")


# What to write ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("found", "step", "written"),
    [
        ("-2.31", "0.25", "−2.25"),
        ("-2.38", "0.25", "−2.50"),
        ("+1.125", "0.25", "+1.25"),
        ("-1.125", "0.25", "−1.25"),
        ("+0.12", "0.25", "+0.25"),
        ("-0.0625", "0.12", "−0.12"),
        ("+0.70", "0.12", "+0.75"),
        ("+0.68", "0.12", "+0.62"),
        ("-0.06", "0.12", "plano"),
    ],
)
def test_a_power_goes_to_the_nearest_step_and_a_half_to_the_stronger(
    found: str, step: str, written: str
) -> None:
    answer = WRITE.answer({"sphere": found, "step": step})
    assert plain(answer.headline).removesuffix(" DS") == written


def test_an_eighth_and_two_hundredths_more_or_less_go_different_ways() -> None:
    eighth = WRITE.answer({"sphere": "-0.62"})
    hundredths = WRITE.answer({"sphere": "-0.62", "decimals": "literal"})
    assert plain(eighth.headline) == "−0.75 DS"
    assert plain(hundredths.headline) == "−0.50 DS"
    assert any("More entries" in caution for caution in eighth.cautions)
    assert not any("More entries" in caution for caution in hundredths.cautions)


@pytest.mark.parametrize(
    ("axis", "written"), [("000.4", "180"), ("179.6", "180"), ("4.5", "005"), ("77.4", "077")]
)
def test_the_axis_is_a_whole_degree_with_three_digits(axis: str, written: str) -> None:
    answer = WRITE.answer({"sphere": "-1.00", "cylinder": "-1.00", "lens_axis": axis})
    assert answer.values()["axis"].shown == written


def test_the_form_is_taken_before_rounding_and_can_change_the_lens() -> None:
    entered = {"sphere": "-1.10", "cylinder": "-0.60", "lens_axis": "90"}
    minus, plus = WRITE.answer(entered), WRITE.answer({**entered, "form": "plus"})
    assert plain(minus.headline) == "−1.00 −0.50 × 090"
    assert plain(plus.headline) == "−1.75 +0.50 × 180"
    assert any("−1.75 +0.50 × 180" in caution for caution in minus.cautions)
    assert "Write the lens in plus cylinder first." in [step.what for step in plus.steps]
    assert plain(WRITE.answer({**entered, "form": "entered"}).headline) == plain(minus.headline)


def test_a_cylinder_under_half_a_step_goes_with_its_axis() -> None:
    answer = WRITE.answer({"sphere": "-2.00", "cylinder": "-0.10", "lens_axis": "30"})
    assert plain(answer.headline) == "−2.00 DS"
    assert "axis" not in answer.values()
    assert any("less than half a step" in caution for caution in answer.cautions)


def test_what_is_lost_is_the_strongest_power_of_the_difference() -> None:
    """The difference as matrices, with numpy: its eigenvalue that is farthest from zero."""
    answer = WRITE.answer({"sphere": "-2.31", "cylinder": "-3.68", "lens_axis": "77.4"})
    found, written = LensPower(-2.31, -3.68, 77.4), LensPower(-2.25, -3.75, 77)
    powers = np.linalg.eigvalsh(np.array(written.matrix) - np.array(found.matrix))
    assert answer.values()["lost.most"].value == pytest.approx(max(abs(powers)))
    assert answer.values()["lost.mean_sphere"].value == pytest.approx(sum(powers) / 2)


def test_a_lens_on_its_steps_loses_nothing() -> None:
    answer = WRITE.answer({"sphere": "-2.25", "cylinder": "-0.75", "lens_axis": "77"})
    assert "Nothing is lost: this is the lens as it was found." in map(plain, answer.also)
    assert "stays" in answer.figures[0].description


def test_an_axis_without_a_cylinder_and_the_reverse_are_refused() -> None:
    with pytest.raises(FieldError, match="Cylinder found: nothing was entered, but the axis was"):
        WRITE.answer({"sphere": "-1.00", "lens_axis": "90"})
    with pytest.raises(FieldError, match=r"Axis found: .*cylinder needs an axis"):
        WRITE.answer({"sphere": "-1.00", "cylinder": "-1.00"})


def test_the_picture_of_rounding_has_the_powers_of_the_answer() -> None:
    figure = WRITE.answer(WRITE.examples[0].given).figures[0]
    for drawing in (figure.narrow, figure.wide):
        assert {"found −2.31", "−2.25", "found −0.68", "−0.75"} <= set(texts(drawing))
    assert "−2.31 D goes to −2.25 D" in figure.description


# Near and intermediate ----------------------------------------------------------------------------


@published("additions_near")
def test_near_as_printed(row: Row) -> None:
    values = NEAR.answer({"distance": typed_lens(row), "addition": row["addition"]}).values()
    for part in ("sphere", "cylinder", "axis") if row["axis"] else ("sphere",):
        assert values[f"near.{part}"].value == as_printed(row[f"printed_{part}"])


@published("additions_near")
def test_the_addition_back_from_the_printed_near_power(row: Row) -> None:
    entered = {"distance": typed_lens(row), "near": typed_lens(row, "printed_")}
    assert NEAR.answer(entered).values()["addition"].value == float(row["addition"])


@published("additions_intermediate")
def test_intermediate_as_printed(row: Row) -> None:
    entered = {
        "distance": typed_lens(row),
        "addition": row["addition"],
        "percent": row["percent"],
        "decimals": "literal",
    }
    values = NEAR.answer(entered).values()
    assert values["intermediate.sphere"].value == as_printed(row["printed_sphere"])


def test_near_and_distance_may_stand_in_different_forms() -> None:
    answer = NEAR.answer({"distance": "-0.50 -0.25 x 180", "near": "+1.25 +0.25 x 90"})
    assert plain(answer.headline) == "Addition +2.00 D"
    assert plain(answer.steps[0].result) == "−0.50 −0.25 × 180 and +1.50 −0.25 × 180"


@pytest.mark.parametrize(
    ("near", "why", "difference"),
    [
        ("-1.50 -0.25 x 180", "near is less plus", "−1.00 DS"),
        ("+1.50 -0.75 x 180", "more than the sphere differs", "+2.00 −0.50 × 180"),
        ("+1.50 DS", "more than the sphere differs", "+2.25 −0.25 × 090"),
    ],
)
def test_no_addition_is_said_in_words_with_the_difference(
    near: str, why: str, difference: str
) -> None:
    answer = NEAR.answer({"distance": "-0.50 -0.25 x 180", "near": near})
    assert plain(answer.headline) == f"No addition: {why}"
    assert plain(answer.also[0]) == f"Near less distance: {difference}"


def test_an_addition_of_nothing_is_an_answer() -> None:
    answer = NEAR.answer({"distance": "-4.00 DS", "near": "-4.00 DS"})
    assert plain(answer.headline) == "Addition 0.00 D"
    assert answer.cautions == ()


@pytest.mark.parametrize(
    ("entered", "sentence"),
    [
        ({}, "Addition: nothing was entered. Enter the addition, or the near"),
        ({"addition": "-2.00"}, "Addition: An addition is 0 or plus; −2.00 D was given"),
        ({"near": "+1.50 -0.25 x 180 add +2.00"}, "Near prescription: it ends with an addition"),
    ],
)
def test_entries_that_do_not_go_together(entered: dict[str, str], sentence: str) -> None:
    with pytest.raises(FieldError, match=sentence):
        NEAR.answer({"distance": "-0.50 -0.25 x 180", **entered})


def test_two_additions_that_differ_are_refused_or_pointed_out() -> None:
    with pytest.raises(FieldError, match=r"\+2.00 D was entered, but .* addition of \+2.50 D"):
        NEAR.answer({"distance": "-4.00 DS add +2.50", "addition": "+2.00"})
    answer = NEAR.answer({"distance": "-4.00 DS", "addition": "+2.00", "near": "-1.50 DS"})
    assert plain(answer.headline) == "Addition +2.50 D"
    assert "+2.00 D was entered as well" in answer.cautions[0]
    assert NEAR.answer({"distance": "-4 DS add +2", "addition": "+2.00"}).cautions == ()


def test_an_unusual_addition_and_an_odd_intermediate_are_pointed_out() -> None:
    strong = NEAR.answer({"distance": "-4.00 DS", "addition": "+20.00"})
    assert "Most additions lie from +0.75 to +3.50 D" in strong.cautions[0]
    odd = NEAR.answer({"distance": "-4.00 DS", "addition": "+2.50", "percent": "61"})
    assert "between the steps" in odd.cautions[0]
    assert plain(odd.also[0]) == "Intermediate, 61 % of the addition: −2.48 DS"


def test_the_picture_of_the_portions_has_their_powers() -> None:
    figure = NEAR.answer(NEAR.examples[0].given).figures[0]
    for drawing in (figure.narrow, figure.wide):
        shown = set(texts(drawing))
        assert {"Distance −0.50 D", "Intermediate +0.50 D", "Near +1.50 D"} <= shown
    assert "Near: +1.50 D, +2.00 D over distance." in figure.description


# Mean sphere --------------------------------------------------------------------------------------


@published("mean_sphere")
def test_mean_sphere_as_printed(row: Row) -> None:
    value = MEAN.answer({"lens": typed_lens(row)}).values()["mean_sphere"]
    assert value.value == as_printed(row["printed"], row["rounded_to"])
    assert read_power(value.shown) == float(value.value)


@pytest.mark.parametrize(
    "lens", ["-0.50 -1.50 x 8", "-2.00 +1.50 x 98", "-0.50 DC x 98 / -2.00 DC x 8"]
)
def test_every_form_has_one_mean_sphere_and_leaves_out_the_same(lens: str) -> None:
    answer = MEAN.answer({"lens": lens})
    assert plain(answer.headline) == "Mean sphere −1.25 D"
    assert plain(answer.also[1]) == "Left out by it: +0.75 −1.50 × 008, a crossed cylinder."


def test_a_sphere_is_its_own_mean_sphere() -> None:
    answer = MEAN.answer({"lens": "-3.00 DS"})
    assert plain(answer.headline) == "Mean sphere −3.00 D"
    assert answer.steps == ()


# Power in a meridian ------------------------------------------------------------------------------


@published("power_along")
def test_power_along_as_printed(row: Row) -> None:
    """The course counts −1.62 as it stands, not as an eighth."""
    entered = {"lens": typed_lens(row), "meridian": row["meridian"], "decimals": "literal"}
    assert ALONG.answer(entered).values()["power"].value == as_printed(row["printed"])


@pytest.mark.parametrize("meridian", [1, 30, 45, 90, 122, 135, 180])
def test_power_and_cross_term_are_the_turned_matrix(meridian: int) -> None:
    """numpy: the matrix seen from axes turned to the meridian, R' F R."""
    values = ALONG.answer({"lens": "+8.75 -2.25 x 5", "meridian": str(meridian)}).values()
    turn = np.radians(meridian)
    frame = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    turned = frame.T @ np.array(LensPower(8.75, -2.25, 5).matrix) @ frame
    assert values["power"].value == pytest.approx(turned[0, 0], abs=1e-8)
    assert values["across"].value == pytest.approx(turned[1, 1], abs=1e-8)
    assert values["cross"].value == pytest.approx(turned[0, 1], abs=1e-8)


@pytest.mark.parametrize(("meridian", "power"), [("5", "+8.75"), ("95", "+6.50")])
def test_a_principal_meridian_has_no_cross_term(meridian: str, power: str) -> None:
    answer = ALONG.answer({"lens": "+8.75 -2.25 x 5", "meridian": meridian})
    assert answer.values()["power"].shown == power
    assert answer.values()["cross"].value == 0
    assert "principal meridian" in plain(answer.also[1])


def test_an_angle_through_180_is_taken_the_short_way() -> None:
    step = ALONG.answer({"lens": "-2.00 -1.00 x 178", "meridian": "4"}).steps[0]
    assert (step.numbers, plain(step.result)) == ("180 − (178 − 4)", "6°")


def test_a_sphere_has_one_power_along_every_meridian() -> None:
    answer = ALONG.answer({"lens": "-3.00 DS", "meridian": "45"})
    assert plain(answer.headline) == "−3.00 D along 045"
    assert answer.steps == ()
    assert "along every meridian" in answer.figures[0].description


def test_the_curve_passes_through_the_marked_power() -> None:
    figure = ALONG.answer({"lens": "-1.00 +3.00 x 110", "meridian": "45"}).figures[0]
    for drawing in (figure.narrow, figure.wide):
        root = ET.fromstring(drawing)
        (dot,) = root.iter("{http://www.w3.org/2000/svg}circle")
        curve = next(
            node.attrib["d"].split()
            for node in root.iter("{http://www.w3.org/2000/svg}path")
            if node.attrib["class"] == "arc"
        )
        points = {curve[at + 1]: float(curve[at + 2]) for at in range(0, len(curve), 3)}
        assert points[dot.attrib["cx"]] == pytest.approx(float(dot.attrib["cy"]), abs=0.01)
        assert {"+1.46 D along 045", "+2.00", "−1.00", "axis 110"} <= set(texts(drawing))


# Adding powers ------------------------------------------------------------------------------------


def same_lens(answer: Answer, row: Row) -> None:
    """The lens as printed, in the form in which it was printed."""
    values = answer.values()
    form = "plus." if float(row["printed_cylinder"]) > 0 else ""
    assert values[f"{form}sphere"].value == as_printed(row["printed_sphere"])
    if float(row["printed_cylinder"]) == 0:
        assert "cylinder" not in values
        return
    assert values[f"{form}cylinder"].value == as_printed(row["printed_cylinder"])
    assert values[f"{form}axis"].value == as_printed(row["printed_axis"])


@published("sum")
def test_sum_as_printed(row: Row) -> None:
    entered = {"first": typed_lens(row, "first_"), "second": typed_lens(row, "second_")}
    answer = SUM.answer(entered)
    if row["printed_sphere"]:
        same_lens(answer, row)
    if row["printed_mean_sphere"]:
        assert answer.values()["mean_sphere"].value == as_printed(row["printed_mean_sphere"])


@published("difference")
def test_difference_as_printed(row: Row) -> None:
    entered = {"first": typed_lens(row, "first_"), "second": typed_lens(row, "second_")}
    same_lens(SUM.answer({**entered, "operation": "difference"}), row)


@published("misaligned_cylinder")
def test_what_a_turned_cylinder_leaves_wanting(row: Row) -> None:
    cylinder = row["cylinder"]
    entered = {
        "first": f"plano {cylinder} x 180",
        "second": f"plano {cylinder} x {row['turned']}",
        "operation": "difference",
    }
    values = SUM.answer(entered).values()
    assert values["sphere"].value == as_printed(row["printed_sphere"])
    assert values["cylinder"].value == as_printed(row["printed_cylinder"])


QUADRANTS = [
    ("180", "10", "5", "atan(", ""),
    ("180", "160", "170", "180 + atan(", "J45 is minus"),
    ("90", "80", "85", "90 + atan(", "J0 is minus"),
    ("90", "110", "100", "90 + atan(", "J0 is minus"),
    ("180", "180", "180", "", "J0 alone is left, and it is plus"),
    ("90", "90", "90", "", "J0 alone is left, and it is minus"),
    ("45", "45", "45", "", "J45 alone is left, and it is plus"),
    ("135", "135", "135", "", "J45 alone is left, and it is minus"),
]


@pytest.mark.parametrize(("one", "two", "axis", "begins", "why"), QUADRANTS)
def test_the_axis_is_found_in_every_quadrant(
    one: str, two: str, axis: str, begins: str, why: str
) -> None:
    """Two equal cylinders make one whose axis lies midway (jalie-2022)."""
    answer = SUM.answer({"first": f"plano -2.00 x {one}", "second": f"plano -2.00 x {two}"})
    step = answer.steps[-1]
    assert float(answer.values()["axis"].value) == float(axis)
    assert plain(step.result) == f"{axis}°"
    assert step.numbers.startswith(begins)
    assert bool(step.numbers) == bool(begins)
    assert why in step.what


def test_a_lens_less_itself_is_nothing() -> None:
    lens = "-2.25 -0.75 x 105"
    answer = SUM.answer({"first": lens, "second": "-3.00 +0.75 x 15", "operation": "difference"})
    assert plain(answer.headline) == "plano"
    assert "no cylinder is left" in answer.figures[0].description
    assert "a sphere is left" in answer.steps[-1].what


def test_spheres_add_as_numbers() -> None:
    answer = SUM.answer({"first": "-2.25 DS", "second": "+1.00 DS"})
    assert plain(answer.headline) == "−1.25 DS"
    assert answer.values()["first.j0"].value == 0


def test_the_matrices_add() -> None:
    """numpy: the sum of the two matrices has the powers of the answer as its eigenvalues."""
    first, second = LensPower(2.25, -1.75, 23), LensPower(-0.5, 3.25, 152)
    values = SUM.answer({"first": "+2.25 -1.75 x 23", "second": "-0.50 +3.25 x 152"}).values()
    low, high = np.linalg.eigvalsh(np.array(first.matrix) + np.array(second.matrix))
    assert values["sphere"].value == pytest.approx(high, abs=1e-8)
    assert values["cylinder"].value == pytest.approx(low - high, abs=1e-8)
    assert values["worked.sphere"].value == pytest.approx(high, abs=2e-4)
    assert values["worked.cylinder"].value == pytest.approx(low - high, abs=4e-4)


@pytest.mark.parametrize(("operation", "up"), [("sum", 1), ("difference", -1)])
def test_the_arrows_stand_where_the_parts_of_the_vectors_say(operation: str, up: int) -> None:
    """The first lens is 1 D along J0, the second 1 D along J45; a difference turns it round."""
    figure = SUM.answer({**SUM.examples[0].given, "operation": operation}).figures[0]
    for drawing in (figure.narrow, figure.wide):
        lines = ET.fromstring(drawing).findall("{http://www.w3.org/2000/svg}line")
        first, second, result = (
            next(node for node in lines if node.attrib["class"] == class_)
            for class_ in ("arc", "arc dashed", "window")
        )
        across, rise = turn(result)
        assert across == pytest.approx(up * rise, abs=0.02) != 0
        assert turn(first)[0] > 0 == turn(first)[1]
        assert turn(second)[0] == 0 < up * turn(second)[1]


def turn(line: ET.Element) -> tuple[float, float]:
    """How far a line goes to the right and up."""
    x1, y1, x2, y2 = (float(line.attrib[name]) for name in ("x1", "y1", "x2", "y2"))
    return x2 - x1, y1 - y2


def test_the_arrows_name_the_lenses() -> None:
    figure = SUM.answer(SUM.examples[0].given).figures[0]
    for drawing in (figure.narrow, figure.wide):
        shown = set(texts(drawing))
        assert {
            "1 plano −2.00 × 180",
            "2 plano −2.00 × 045",
            "1 + 2 −0.59 −2.83 × 022.5",
        } <= shown
    assert "−0.59 −2.83 × 022.5" in figure.description
    taken_off = SUM.answer({**SUM.examples[0].given, "operation": "difference"}).figures[0]
    assert "turned round" in taken_off.description


@pytest.mark.parametrize("extra", ["add +2.00", "2 BU"])
def test_addition_and_prism_are_said_to_be_left_out(extra: str) -> None:
    lens = f"-2.00 -1.00 x 90 {extra}"
    for answer in (MEAN.answer({"lens": lens}), ALONG.answer({"lens": lens, "meridian": "90"})):
        assert any("no part" in caution for caution in answer.cautions)
    near = NEAR.answer({"distance": lens, "addition": "+2.00"})
    assert any("Prism" in caution for caution in near.cautions) == (extra == "2 BU")


def test_sum_says_that_additions_are_left_out() -> None:
    answer = SUM.answer({"first": "-2.00 DS add +2.00", "second": "-1.00 DS"})
    assert answer.cautions[0].startswith("Additions and prism are left out")
