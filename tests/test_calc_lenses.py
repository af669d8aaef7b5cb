"""Vertex distance, tilt, thick lenses, lens clock, thickness and reference wavelength."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lensmath.notation import write_exact
from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, plain
from site_src.calculators.declaration import Calculator
from site_src.calculators.fields import FieldError
from site_src.calculators.materials import MATERIALS
from tests.printed import Row, as_printed, published

VERTEX = CALCULATORS["vertex-distance"]
TILT = CALCULATORS["tilt-and-face-form"]
THICK = CALCULATORS["front-and-back-vertex"]
CLOCK = CALCULATORS["lens-clock"]
THICKNESS = CALCULATORS["lens-thickness"]
WAVELENGTH = CALCULATORS["reference-wavelength"]


def refusal(calculator: Calculator, entered: Mapping[str, str]) -> str:
    """What is said to entries that cannot be answered."""
    with pytest.raises((FieldError, ExceptionGroup)) as caught:
        calculator.answer(entered)
    error = caught.value
    first = error.exceptions[0] if isinstance(error, ExceptionGroup) else error
    assert isinstance(first, FieldError)
    return first.message


def value(answer: Answer, name: str) -> float:
    found = answer.values()[name].value
    assert isinstance(found, float)
    return found


def typed_lens(row: Row) -> str:
    axis = f" x {row['axis']}" if row["axis"] else ""
    return f"{row['sphere']} {row['cylinder']}{axis}" if axis else f"{row['sphere']} DS"


# Vertex distance ----------------------------------------------------------------------------------


@published("vertex_compensated")
def test_moved_lens_as_printed(row: Row) -> None:
    further = float(row["further"])
    entered = {
        "lens": typed_lens(row),
        "found": f"{max(0.0, -further):g}",
        "worn": f"{max(0.0, further):g}",
        "decimals": "literal",
    }
    answer = VERTEX.answer(entered)
    assert value(answer, "sphere") == as_printed(row["printed_sphere"])
    if row["printed_axis"]:
        assert value(answer, "cylinder") == as_printed(row["printed_cylinder"])
        assert value(answer, "axis") == as_printed(row["printed_axis"])


def test_a_lens_that_is_not_moved_stays() -> None:
    answer = VERTEX.answer({"lens": "-6.00 -1.00 x 90", "found": "12", "worn": "12"})
    assert plain(answer.headline) == "−6.00 −1.00 × 090"
    assert any("stays" in plain(line) for line in answer.also)


@pytest.mark.parametrize(
    ("lens", "found", "worn", "words"),
    [
        ("+30.00 DS", "40", "0", "has its focus 33.3 mm from the lens, and 40 mm closer to"),
        ("-28.00 DS", "0", "36", "has its focus 35.7 mm from the lens, and 36 mm further from"),
        ("-28.00 DS", "0", "35", "would need −1400.00 D, and lenses end at about 60 D"),
        ("-3.00 DS", "12", "41", "41 was entered; it has to be from 0 to 40 mm"),
    ],
)
def test_a_move_that_no_lens_makes_up_for(lens: str, found: str, worn: str, words: str) -> None:
    assert words in refusal(VERTEX, {"lens": lens, "found": found, "worn": worn})


@pytest.mark.parametrize(
    ("found", "worn", "asked"),
    [
        ("0.013", "0", ["0.013"]),
        ("12", "0.99", ["0.99"]),
        ("0.012", "0.014", ["0.012", "0.014"]),
        ("1", "0", []),
        ("12", "14", []),
    ],
)
def test_a_distance_in_metres_is_asked_about(found: str, worn: str, asked: list[str]) -> None:
    cautions = VERTEX.answer({"lens": "-6.00 DS", "found": found, "worn": worn}).cautions
    assert [caution.split()[0] for caution in cautions] == asked
    assert all("Were metres meant?" in caution for caution in cautions)


def test_a_neighbouring_distance_may_be_out_of_reach() -> None:
    rows = VERTEX.answer({"lens": "-28.00 DS", "found": "0", "worn": "18"}).tables[0].rows
    assert [plain(row[1]) for row in rows][-1] == "no lens does it there"
    assert plain(rows[0][1]).endswith("DS")


@settings(max_examples=100, deadline=None)
@given(st.integers(-80, 80), st.integers(-20, 20), st.integers(0, 16), st.integers(0, 16))
def test_the_worked_meridians_come_to_the_headline(
    sphere: int, cylinder: int, found: int, worn: int
) -> None:
    lens = f"{write_exact(sphere / 4)} {write_exact(cylinder / 4)} x 30"
    answer = VERTEX.answer({"lens": lens, "found": str(found), "worn": str(worn)})
    assert abs(value(answer, "along") - value(answer, "sphere")) < 1e-9
    if cylinder:
        assert abs(value(answer, "new.cylinder") - value(answer, "cylinder")) <= 1.01e-4


# Tilt ---------------------------------------------------------------------------------------------


@published("tilt")
def test_tilted_lens_as_printed(row: Row) -> None:
    name = {"martin": "martin", "coddington": "thin"}[row["formula"]]
    answer = TILT.answer(
        {"lens": typed_lens(row), "pantoscopic": row["pantoscopic"], "index": row["index"]}
    )
    for part in ("sphere", "cylinder", "axis"):
        if row[f"printed_{part}"]:
            assert value(answer, f"{name}.{part}") == as_printed(row[f"printed_{part}"])


@published("tilt_of_frame")
def test_two_tilts_as_printed(row: Row) -> None:
    entered = {
        "lens": "-4.00 DS",
        "pantoscopic": row["pantoscopic"],
        "face_form": row["face_form"],
    }
    assert value(TILT.answer(entered), "tilt.angle") == as_printed(row["printed_tilt"])


TRACED = {"lens": "-4.00 -1.00 x 30", "front": "+8.00", "thickness": "2", "material": "1.586"}


def test_the_side_of_face_form_is_that_of_the_eye() -> None:
    entered = {**TRACED, "pantoscopic": "0", "face_form": "15"}
    for eye in ("right", "left"):
        answer = TILT.answer({**entered, "eye": eye})
        prism = next(plain(line) for line in answer.also if "Prism" in plain(line))
        assert prism.endswith("0.28 Δ base out")
        assert f"before the {eye} eye" in answer.figures[0].description


def test_a_retroscopic_tilt_turns_the_prism_up() -> None:
    answer = TILT.answer({**TRACED, "pantoscopic": "15", "nearer": "upper"})
    assert any("Δ base up" in plain(line) for line in answer.also)
    assert "upper edge nearer to the face" in answer.figures[0].description


@pytest.mark.parametrize(
    ("form", "way"),
    [
        ({}, "thin lens, exactly"),
        ({"front": "+2.00", "thickness": "2"}, "ray trace with its thickness"),
    ],
)
@pytest.mark.parametrize("lens", ["-8.00 DS", "-8.00 -1.00 x 30"])
def test_the_working_by_hand_says_why_the_headline_may_differ(
    lens: str, form: dict[str, str], way: str
) -> None:
    answer = TILT.answer({"lens": lens, "pantoscopic": "15", "material": "1.586", **form})
    last = answer.steps[-1]
    assert last.what.startswith(f"By Martin’s rule (the headline is by another way: {way}) th")
    assert "martin.sphere" in {datum.name for datum in last.result if not isinstance(datum, str)}
    assert [plain(row[0]) for row in answer.tables[0].rows][-1] == way


def test_no_tilt_leaves_a_thin_lens_as_it_is() -> None:
    answer = TILT.answer({"lens": "-4.00 -1.00 x 30", "pantoscopic": "0"})
    assert plain(answer.headline) == "Worn: −4.00 −1.00 × 030"
    assert "There is no tilt." in [plain(line) for line in answer.also]


def test_face_form_alone_is_enough() -> None:
    entered = {"lens": "-4.00 -1.00 x 30", "face_form": "15"}
    alone, with_none = TILT.answer(entered), TILT.answer({**entered, "pantoscopic": "0"})
    assert alone == with_none
    assert value(alone, "tilt.angle") == 15


def test_the_trace_is_left_out_when_the_form_is_not_known() -> None:
    answer = TILT.answer({"lens": "-4.00 DS", "pantoscopic": "10"})
    assert not any(name.startswith("traced") for name in answer.values())
    assert any("ray trace" in caution for caution in answer.cautions)


def test_what_a_lens_would_have_to_read_is_no_order() -> None:
    answer = TILT.answer({"lens": "-4.00 DS", "pantoscopic": "10", "front": "+4", "thickness": "2"})
    assert "Never change an order" in answer.cautions[0]
    assert "To order" not in answer.tables[0].head
    assert plain(answer.also[0]).startswith("To do −4.00 DS when worn, it would have to read")


@pytest.mark.parametrize(
    ("entered", "words"),
    [
        ({}, "Enter a tilt or a face form angle"),
        ({"pantoscopic": "90"}, "90 was entered; it has to be from 0 to 45°"),
        ({"pantoscopic": "10", "face_form": "90"}, "90 was entered; it has to be from 0 to 45°"),
        ({"pantoscopic": "10", "front": "+6.00"}, "Enter both, or neither"),
        ({"pantoscopic": "10", "thickness": "2"}, "Enter both, or neither"),
        (
            {"pantoscopic": "10", "front": "+30.00", "thickness": "15", "index": "1.4"},
            "has a front curve below +26.6667 D; +30.00 D was given",
        ),
        (
            {"pantoscopic": "45", "face_form": "45", "front": "-30.00", "thickness": "15"},
            "No light comes through this lens at a tilt of 60 degrees",
        ),
    ],
)
def test_a_tilt_that_cannot_be_is_said_so(entered: dict[str, str], words: str) -> None:
    assert words in refusal(TILT, {"lens": "-4.00 DS", **entered})


@settings(max_examples=100, deadline=None)
@given(
    st.integers(-40, 40), st.integers(-16, 16), st.integers(1, 180), st.integers(0, 30), st.data()
)
def test_the_sums_by_hand_come_to_the_lens_in_the_table(
    sphere: int, cylinder: int, axis: int, pantoscopic: int, data: st.DataObject
) -> None:
    """The two powers and the torsion, put together as a matrix, are Martin's lens."""
    face_form = data.draw(st.integers(0, 30))
    lens = f"{write_exact(sphere / 4)} {write_exact(cylinder / 4)} x {axis}"
    answer = TILT.answer(
        {"lens": lens, "pantoscopic": str(pantoscopic), "face_form": str(face_form)}
    )
    values = answer.values()
    along, across = value(answer, "by_hand.along"), value(answer, "by_hand.across")
    torsion = value(answer, "by_hand.torsion") if "by_hand.torsion" in values else 0.0
    new_sphere = value(answer, "martin.sphere")
    new_cylinder = value(answer, "martin.cylinder") if "martin.cylinder" in values else 0.0
    # What no turning of the axes changes: the mean, and the difference squared.
    assert along + across == pytest.approx(2 * new_sphere + new_cylinder, abs=3e-3)
    assert (along - across) ** 2 + 4 * torsion**2 == pytest.approx(new_cylinder**2, abs=3e-2)


# Thick lenses -------------------------------------------------------------------------------------


@published("surfaces_vertex_power")
def test_vertex_powers_as_printed(row: Row) -> None:
    answer = THICK.answer({name: row[name] for name in ("front", "back", "thickness", "index")})
    for printed, name in (
        ("printed_nominal", "nominal"),
        ("printed_back_vertex", "back_vertex"),
        ("printed_front_vertex", "front_vertex"),
        ("printed_approximate", "short_rule"),
    ):
        if row[printed]:
            assert value(answer, name) == as_printed(row[printed])


def test_a_thin_lens_has_one_power() -> None:
    values = THICK.answer({"front": "+6.00", "back": "-2.00", "thickness": "0"}).values()
    assert {datum.shown for datum in values.values()} == {"+4.00"}


def test_surfaces_that_meet_at_once_are_pointed_out() -> None:
    assert any(
        "no lens of a useful size" in caution
        for caution in THICK.answer(
            {"front": "+20.00", "back": "+20.00", "thickness": "1"}
        ).cautions
    )
    assert THICK.answer({"front": "+6.00", "back": "-2.00", "thickness": "5"}).cautions == ()


# Lens clock ---------------------------------------------------------------------------------------


@published("surfaces_lens_clock")
def test_clocked_surfaces_as_printed(row: Row) -> None:
    def power(reading: str) -> float:
        entered = {
            "first": reading,
            "index": row["index"],
            "clock_index": row["clock_index"],
            "decimals": "literal",
        }
        return value(CLOCK.answer(entered), "sphere")

    if row["printed_front"]:
        assert power(row["front_reading"]) == as_printed(row["printed_front"])
    if row["printed_nominal"]:
        nominal = power(row["front_reading"]) + power(row["back_reading"])
        assert nominal == as_printed(row["printed_nominal"])


@published("surfaces_clock_radius")
def test_clocked_radius_as_printed(row: Row) -> None:
    answer = CLOCK.answer({"first": row["reading"], "clock_index": row["clock_index"]})
    assert value(answer, "first.radius") / 1000 == as_printed(row["printed_metres"])


def test_a_flat_surface_has_no_radius() -> None:
    answer = CLOCK.answer({"first": "0.00"})
    assert plain(answer.headline) == "Surface power 0.00 D"
    assert any("flat surface" in plain(line) for line in answer.also)


def test_two_equal_readings_are_a_sphere() -> None:
    answer = CLOCK.answer({"first": "+6.00", "second": "+6.00", "material": "1.53"})
    assert plain(answer.headline) == "Surface power +6.00 D"
    assert answer.cautions == ()


def test_two_readings_need_a_meridian() -> None:
    assert "Enter its meridian" in refusal(CLOCK, {"first": "+6.00", "second": "+8.00"})


def test_the_weaker_curve_is_the_base_whichever_was_read_first() -> None:
    for first, second, meridian in (("-6.00", "-8.00", "20"), ("-8.00", "-6.00", "110")):
        values = CLOCK.answer(
            {"first": first, "second": second, "meridian": meridian, "material": "1.53"}
        ).values()
        assert (values["base.power"].shown, values["base.along"].shown) == ("−6.00", "020")
        assert (values["cross.power"].shown, values["cross.along"].shown) == ("−8.00", "110")


# Thickness ----------------------------------------------------------------------------------------

PLUS = {"lens": "+5.00 DS", "base": "+8.00", "diameter": "60", "material": "1.498"}


@published("thickness_sagitta")
def test_depths_as_printed(row: Row) -> None:
    answer = THICKNESS.answer(
        {
            "lens": "plano",
            "base": row["power"],
            "diameter": row["diameter"],
            "centre": "3",
            "edge": "0",
            "index": row["index"],
        }
    )
    assert value(answer, "front.depth") == as_printed(row["printed_exact"])
    assert value(answer, "front.short_rule") == as_printed(row["printed_approximate"])


def test_a_plus_lens_of_given_centre() -> None:
    """Independent computation: back −3.2648 D and edge 1.2734 mm."""
    answer = THICKNESS.answer({**PLUS, "centre": "6", "edge": "0"})
    assert value(answer, "back") == as_printed("-3.2648")
    assert value(answer, "edge") == as_printed("1.2734")


def test_a_plus_lens_is_held_by_its_edge_and_a_minus_lens_by_its_centre() -> None:
    plus = THICKNESS.answer({**PLUS, "centre": "1.5", "edge": "1"})
    assert (plus.values()["edge"].shown, plus.values()["centre"].shown) == ("1.00", "5.74")
    assert "found by turns" in plus.steps[0].what
    minus = THICKNESS.answer({**PLUS, "lens": "-5.00 DS", "centre": "1.5", "edge": "1"})
    assert minus.values()["centre"].shown == "1.50"
    assert "held to its minimum" in minus.steps[0].what


@pytest.mark.parametrize("axis", ["180", "30", "30.5", "77.5"])
@pytest.mark.parametrize("lens", ["+5.00 -3.00", "+2.37 +4.25", "+6.00 -0.12"])
def test_a_knife_edge_at_any_axis(lens: str, axis: str) -> None:
    """The thinnest edge is 0.00 mm also where its meridian is no whole degree."""
    answer = THICKNESS.answer({**PLUS, "lens": f"{lens} x {axis}", "centre": "0", "edge": "0"})
    assert answer.values()["edge.thinnest"].shown == "0.00"


def test_an_edge_along_another_meridian_lies_between() -> None:
    entered = {**PLUS, "lens": "-4.00 -2.00 x 30", "centre": "2", "edge": "1"}
    answer = THICKNESS.answer({**entered, "meridian": "75"})
    low, high = value(answer, "edge.thinnest"), value(answer, "edge.thickest")
    assert low < value(answer, "at.75.edge") < high
    assert any("along 075" in caution for caution in answer.cautions)
    same = THICKNESS.answer({**entered, "meridian": "30"})
    assert len(same.tables[0].rows) == 2
    assert not any("along" in caution for caution in same.cautions)


@pytest.mark.parametrize("name", ["edge.thinnest", "edge.thickest"])
def test_the_worked_edges_come_to_the_headline(name: str) -> None:
    answer = THICKNESS.answer(THICKNESS.examples[0].given)
    along = int(value(answer, f"{name}.along"))
    assert value(answer, f"noted.edge.back.{along}") == pytest.approx(value(answer, name), abs=5e-4)


@pytest.mark.parametrize(
    ("entered", "words"),
    [
        ({"base": "+20.00"}, "largest possible diameter with these surfaces is 49.8 mm"),
        ({"diameter": "95"}, "95 was entered; it has to be from 10 to 90 mm"),
        (
            {"lens": "-20.00 DS", "base": "+4.00", "diameter": "70", "index": "1.5"},
            # 2 × 1000 × 0.5 / 24.02
            "70 mm was entered; the largest possible diameter with these surfaces is 41.6 mm",
        ),
        (
            {"lens": "+4.00 DS", "base": "+20.00", "diameter": "50", "index": "1.5"},
            "the lens would get so thick that its back surface is too steep",
        ),
    ],
)
def test_a_lens_that_is_too_steep_is_said_so(entered: dict[str, str], words: str) -> None:
    assert words in refusal(THICKNESS, {**PLUS, "centre": "2", "edge": "1", **entered})


def test_the_largest_diameter_that_is_named_can_be_had() -> None:
    entered = {**PLUS, "lens": "-20.00 DS", "base": "+4.00", "centre": "2", "edge": "1"}
    found = re.search(r"surfaces is ([\d.]+) mm", refusal(THICKNESS, {**entered, "diameter": "70"}))
    assert found
    assert THICKNESS.answer({**entered, "diameter": found[1]}).headline
    flat = {**entered, "lens": "plano", "base": "0.00", "diameter": "90"}
    assert plain(THICKNESS.answer(flat).headline) == "Centre 2.00 mm, edge 2.00 mm"


# Reference wavelength -----------------------------------------------------------------------------


@published("wavelength_ratio")
def test_share_as_printed(row: Row) -> None:
    entered = {"lens": "+10.00 DS", "abbe": row["v_d"], "n_d": row["n_d"], "n_e": row["n_e"]}
    assert value(WAVELENGTH.answer(entered), "share") == as_printed(row["printed_percent"])


@published("wavelength_readings")
def test_reading_on_the_other_line_as_printed(row: Row) -> None:
    entered = {"lens": typed_lens(row), "n_d": row["n_d"], "n_e": row["n_e"]}
    answer = WAVELENGTH.answer({**entered, "line": "d"})
    assert value(answer, "sphere") == as_printed(row["printed_sphere"])
    if row["printed_axis"]:
        assert value(answer, "cylinder") == as_printed(row["printed_cylinder"])


def test_from_e_to_d_a_lens_gets_weaker() -> None:
    there = WAVELENGTH.answer({"lens": "-10.00 DS", "line": "d", "material": "1.74"})
    back = WAVELENGTH.answer({"lens": "-10.00 DS", "line": "e", "material": "1.74"})
    assert value(there, "sphere") < -10 < value(back, "sphere")
    assert "On the d line" in plain(back.headline)


@pytest.mark.parametrize(
    ("entered", "words"),
    [
        ({"n_e": "1.738"}, "needs the one on the d line"),
        ({"n_d": "1.738", "n_e": "1.732"}, "The index on the e line is not below"),
        ({"n_d": "1.5", "n_e": "1.6"}, "differ by 0.02 at the most"),
        ({"abbe": "5"}, "5 was entered; it has to be from 15 to 95"),
    ],
)
def test_indices_that_no_material_has(entered: dict[str, str], words: str) -> None:
    assert words in refusal(WAVELENGTH, {"lens": "-4.00 DS", **entered})


# What they share ----------------------------------------------------------------------------------


def test_every_material_has_the_abbe_number_of_the_tables() -> None:
    """abbe-number-table and lens-materials-page, as printed there."""
    printed = {1.498: 58, 1.523: 59, 1.53: 43, 1.586: 30, 1.6: 36, 1.67: 32, 1.74: 33}
    assert {each.index: each.abbe for each in MATERIALS} == printed


def drawn_numbers(answer: Answer) -> Iterator[tuple[str, str]]:
    for figure in answer.figures:
        for drawing in (figure.narrow, figure.wide):
            yield figure.description, " ".join(re.findall(r"<text[^>]*>(.*?)</text>", drawing))


@pytest.mark.parametrize(
    ("calculator", "names"),
    [
        (VERTEX, ("sphere", "cylinder", "axis")),
        (THICKNESS, ("centre", "edge.thinnest", "edge.thickest")),
        (WAVELENGTH, ("sphere", "cylinder", "axis")),
    ],
)
def test_the_figure_says_the_numbers_of_the_answer(
    calculator: Calculator, names: tuple[str, ...]
) -> None:
    answer = calculator.answer(calculator.examples[0].given)
    for description, drawn in drawn_numbers(answer):
        for name in names:
            shown = answer.values()[name].shown
            assert shown in description
            assert shown in drawn


def test_the_tilted_lens_shows_its_two_angles() -> None:
    answer = TILT.answer({"lens": "-4.00 DS", "pantoscopic": "8", "face_form": "12.5"})
    for description, drawn in drawn_numbers(answer):
        for angle in ("8°", "12.5°"):
            assert angle in description
            assert angle in drawn
