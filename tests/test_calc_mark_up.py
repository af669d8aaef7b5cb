"""Marking up: decentration and blank, segments, spots, and the picture of lenses in a frame."""

from __future__ import annotations

import itertools
import math
import re

import pytest

from lensmath.blanks import LensShape, minimum_blank
from lensmath.centration import Decentration, Frame, spots
from lensmath.eye import Eye
from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, plain
from site_src.calculators.fields import FieldError
from site_src.figures.frame_layout import LaidOut, frame_layout, layout_in_words, outline
from tests.printed import Row, published, rows
from tests.test_figures import drawings, having, number, texts

BLANK = CALCULATORS["decentration-and-blank"]
SEGMENT = CALCULATORS["segment-inset-and-drop"]
SPOTS = CALCULATORS["three-spots"]

FRAME = {"a": "52", "dbl": "18", "b": "40"}


def shown(answer: Answer, *names: str) -> tuple[str, ...]:
    values = answer.values()
    return tuple(values[name].shown for name in names)


def said(answer: Answer) -> str:
    """All lines of an answer as text."""
    lines = (answer.headline, *answer.also, *answer.understood)
    return "\n".join([*map(plain, lines), *answer.cautions])


def refused(slug: str, given: dict[str, str]) -> tuple[str, str]:
    with pytest.raises(FieldError) as error:
        CALCULATORS[slug].answer(given)
    return error.value.field, error.value.message


# Decentration and blank ---------------------------------------------------------------------------


@published("blanks_minimum")
def test_minimum_blank_as_printed(row: Row) -> None:
    """Frame and PD as printed; where only the decentration is, a frame of 52-18 that gives it."""
    frame_pd = float(row["frame_pd"] or 70)
    pd = float(row["pd"] or 70 - 2 * float(row["decentration"]))
    given = {
        "a": f"{min(float(row['effective_diameter']), frame_pd - 10):g}",
        "ed": row["effective_diameter"],
        "pd": f"{pd:g}",
        "allowance": row["allowance"],
    }
    given["dbl"] = f"{frame_pd - float(given['a']):g}"
    assert shown(BLANK.answer(given), "blank") == (row["printed"],)


@published("centration_decentration")
def test_decentration_as_printed(row: Row) -> None:
    frame_pd = float(row["frame_pd"] or 0)
    a, dbl = (row["a"], row["dbl"]) if row["a"] else (f"{frame_pd - 18:g}", "18")
    values = BLANK.answer({"a": a, "dbl": dbl, "right_pd": row["pd"], "left_pd": "32"}).values()
    assert values["right.decentration"].shown == row["printed"]
    if row["printed_direction"]:
        assert values["right.decentration.way"].shown == row["printed_direction"]
    else:
        assert "right.decentration.way" not in values


def test_without_an_ed_the_whole_box_is_held() -> None:
    answer = BLANK.answer({**FRAME, "pd": "64", "allowance": "0"})
    assert answer.values()["blank"].value == pytest.approx(2 * math.hypot(26 + 3, 20), abs=1e-6)
    assert "No ED was entered" in said(answer)


def test_without_ed_and_depth_there_is_decentration_alone() -> None:
    answer = BLANK.answer({"a": "52", "dbl": "18", "pd": "64"})
    assert plain(answer.headline) == "Each lens 3 mm in"
    assert "For the blank, enter the effective diameter ED" in said(answer)
    assert "blank" not in answer.values()
    assert len(answer.tables[0].head) == 2


def test_a_blank_is_never_rounded_down() -> None:
    # 56 + 2 √(3² + 2²) + 2 is 65.2111.
    answer = BLANK.answer({**FRAME, "ed": "56", "pd": "64", "right_height": "22"})
    assert shown(answer, "right.blank", "left.blank", "blank") == ("65.3", "64", "65.3")
    assert plain(answer.headline) == "Right 3 mm in, 2 mm up; left 3 mm in: blank 65.3 mm"


def test_a_rounded_size_is_said_to_be_and_is_the_same_everywhere() -> None:
    """2 √(28² + 17²) + 2 is 67.5134."""
    answer = BLANK.answer({"a": "50", "b": "34", "dbl": "18", "pd": "62"})
    assert shown(answer, "blank") == ("67.6",)
    assert "blank 67.6 mm across" in answer.figures[0].description
    *_, step = answer.steps
    assert "rounded up to 0.1 mm" in step.what
    assert "67.6" in plain(step.result)
    whole = BLANK.answer({**FRAME, "ed": "56", "pd": "64"})
    assert not any("rounded" in step.what for step in whole.steps)


@pytest.mark.parametrize(
    ("ed", "common", "caution"), [("72", "80", False), ("72.1", None, True), ("53", "65", False)]
)
def test_a_blank_larger_than_the_common_ones_is_said_in_words(
    ed: str, common: str | None, caution: bool
) -> None:
    """ED + 6 + 2: 80 is the largest common blank."""
    answer = BLANK.answer({"a": "52", "dbl": "18", "ed": ed, "pd": "64"})
    assert (common is not None) == ("common" in answer.values())
    if common:
        assert shown(answer, "common") == (common,)
    assert caution == ("larger than the common ones" in said(answer))


def test_lenses_that_differ_are_worked_out_one_by_one() -> None:
    answer = BLANK.answer(
        {**FRAME, "ed": "56", "right_pd": "33", "left_pd": "31", "allowance": "1"}
    )
    assert plain(answer.headline) == "Right 2 mm in; left 4 mm in: blank 65 mm"
    assert shown(answer, "right.blank", "left.blank") == ("61", "65")
    assert sum(step.what.startswith("Left lens") for step in answer.steps) == 3


def test_one_eye_and_both_give_the_other() -> None:
    answer = BLANK.answer({"a": "52", "dbl": "18", "pd": "63", "left_pd": "31"})
    assert plain(answer.headline) == "Right 3 mm in; left 4 mm in"
    assert "Binocular PD 63 mm: 32 mm of it are left for the right eye." in said(answer)


def test_pds_that_contradict_each_other_are_a_caution() -> None:
    answer = BLANK.answer({"a": "52", "dbl": "18", "pd": "64", "right_pd": "33", "left_pd": "32"})
    assert "33 and 32 mm make 65 mm, but 64 mm was entered" in said(answer)
    assert plain(answer.headline) == "Right 2 mm in; left 3 mm in"


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({}, "pd", "Enter the binocular PD, or the PD of each eye"),
        ({"right_pd": "33"}, "left_pd", "the other eye's PD was"),
        ({"left_pd": "33"}, "right_pd", "the other eye's PD was"),
        ({"pd": "64", "right_pd": "50"}, "right_pd", "leaves 14 mm for the other eye"),
        ({"pd": "64", "left_pd": "50"}, "left_pd", "leaves 14 mm for the other eye"),
        ({"pd": "64", "ed": "50"}, "ed", "has an effective diameter from 52 to 65.6 mm"),
        ({"pd": "64", "right_height": "41"}, "right_height", "from 0 to 40 mm; 41 mm was given"),
        ({"pd": "64", "left_height": "5", "b": ""}, "left_height", "heights need B"),
    ],
)
def test_entries_that_do_not_go_together(given: dict[str, str], field: str, words: str) -> None:
    found = refused(BLANK.slug, {**FRAME, **given})
    assert found[0] == field
    assert words in found[1]


# Segments -----------------------------------------------------------------------------------------


@published("centration_height")
def test_drop_and_raise_as_printed(row: Row) -> None:
    given = {"a": "54", "dbl": "18", "b": row["b"], "pd": "64", "near_pd": "60"}
    values = SEGMENT.answer({**given, "right_height": row["height"]}).values()
    assert values["right.drop"].shown == values["left.drop"].shown == row["printed"]
    way = {"down": "drop", "up": "raise"}.get(row["printed_direction"])
    assert (values["right.drop.way"].shown if way else None) == way


@published("centration_inset")
def test_inset_as_printed(row: Row) -> None:
    frame_pd = float(row["frame_pd"] or 70)
    distance, near = row["distance_pd"] or "32", row["near_pd"]
    given = {
        "a": f"{frame_pd - 18:g}",
        "dbl": "18",
        "b": "40",
        "right_pd": distance,
        "left_pd": distance,
        "right_near_pd": near,
        "left_near_pd": near,
        "right_height": "17",
    }
    values = SEGMENT.answer(given).values()
    for name in ("inset", "total_inset"):
        if row[f"printed_{name}"]:
            assert values[f"right.{name}"].shown == row[f"printed_{name}"]


@pytest.mark.parametrize(
    "row", [row for row in rows("centration_near_pd") if not float(row["power"] or 0)]
)
def test_near_pd_as_printed(row: Row) -> None:
    """The calculator leaves the power of the lens out, so rows with one are not for it."""
    given = {**FRAME, "pd": row["distance_pd"], "right_height": "17", "rule": row["rule"]}
    given["working_distance"] = row["working_distance"]
    value = SEGMENT.answer(given).values()["near_pd"].value
    assert value == pytest.approx(float(row["printed"]), abs=0.05)


def test_a_near_pd_that_was_worked_out_is_said_to_be() -> None:
    given = {**FRAME, "right_pd": "33", "left_pd": "30", "right_height": "17"}
    triangles = SEGMENT.answer(given)
    assert "No near PD was entered" in said(triangles)
    assert "400 mm from the lens" in said(triangles)
    right, left = (triangles.values()[f"{eye}.inset"].value for eye in ("right", "left"))
    assert isinstance(right, float)
    assert isinstance(left, float)
    assert right / left == pytest.approx(33 / 30)
    habit = SEGMENT.answer({**given, "rule": "habit"})
    assert shown(habit, "right.inset", "left.inset") == ("2.5", "2.5")
    measured = SEGMENT.answer({**given, "near_pd": "59", "rule": "habit"})
    assert "No near PD" not in said(measured)


@pytest.mark.parametrize(
    ("given", "unused"),
    [
        ({"near_pd": "59"}, ["working", "vertex"]),
        ({"rule": "habit"}, ["working", "vertex"]),
        ({"rule": "demand"}, ["vertex"]),
        ({"rule": "triangles"}, []),
    ],
)
def test_a_distance_that_the_near_pd_does_not_need_is_said_to_be_unused(
    given: dict[str, str], unused: list[str]
) -> None:
    distances = {"working_distance": "400", "vertex_distance": "12"}
    bare = {**FRAME, "pd": "63", "right_height": "17", **given}
    assert SEGMENT.answer({**bare, **distances}).cautions == tuple(
        f"The {name} distance was entered too. It is not used for this near PD." for name in unused
    )
    assert SEGMENT.answer(bare).cautions == ()


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"pd": "64", "near_pd": "66"}, "near PD is wider than the distance PD"),
        ({"pd": "44", "near_pd": "40"}, "reaches past the edge of the lens"),
        ({"pd": "64", "near_pd": "60", "right_near_pd": "31", "left_near_pd": "30"}, "make 61 mm"),
    ],
)
def test_segments_that_look_wrong_are_a_caution(given: dict[str, str], words: str) -> None:
    answer = SEGMENT.answer({**FRAME, "right_height": "17", **given})
    assert words in "\n".join(answer.cautions)


@pytest.mark.parametrize(("near", "past"), [("46", False), ("45", True)])
def test_a_segment_may_touch_the_edge_of_the_lens(near: str, past: bool) -> None:
    """Half of 28 mm and a total inset of 12 mm are half of 52 mm."""
    answer = SEGMENT.answer({**FRAME, "pd": "50", "near_pd": near, "right_height": "17"})
    assert past == any("reaches past the edge" in caution for caution in answer.cautions)


def test_an_outset_and_a_level_segment() -> None:
    answer = SEGMENT.answer({**FRAME, "pd": "76", "near_pd": "72", "right_height": "20"})
    assert plain(answer.headline) == "Each lens total inset 1 mm out, drop 0 mm"


def test_a_segment_above_the_lens_is_refused() -> None:
    field, words = refused(
        SEGMENT.slug, {**FRAME, "pd": "64", "right_height": "20", "left_height": "41"}
    )
    assert field == "left_height"
    assert words.startswith("Segment height: Left lens: A height above the bottom of the lens")
    assert words.endswith("must be from 0 to 40 mm; 41 mm was given.")


# Spots --------------------------------------------------------------------------------------------

LENS = {"eye": "right", **FRAME, "pd": "32", "height": "22"}


def test_spots_are_those_of_the_library() -> None:
    for eye in Eye:
        values = SPOTS.answer({**LENS, "eye": eye.value, "spacing": "16"}).values()
        points = spots(Decentration(3, 2), eye, 16)
        inward = sorted(eye.inward * point.x for point in points)
        names = ("temple", "middle", "nose")
        assert [values[f"{name}.decentration"].value for name in names] == inward
        assert {values[f"{name}.up"].value for name in names} == {2}


@published("decentration_wanted")
def test_optical_centre_as_printed(row: Row) -> None:
    given = {
        **LENS,
        "eye": row["eye"],
        "lens": f"{row['sphere']} DS",
        "vertical": row["vertical"],
        "up_down": row["vertical_base"],
        "horizontal": row["horizontal"],
        "in_out": row["horizontal_base"],
    }
    answer = SPOTS.answer(given)
    assert answer.values()["centre.inward"].value == float(row["printed_inward"])
    assert shown(answer, "centre.inward", "centre.inward.way") == ("5", "out")


@pytest.mark.parametrize(
    ("eye", "in_out", "side"),
    [("right", "out", "left"), ("right", "in", "right"), ("left", "out", "right")],
)
def test_the_target_stands_toward_the_base(eye: str, in_out: str, side: str) -> None:
    """As prism-reading-lesson has it, seen from the front of the lens."""
    answer = SPOTS.answer({**LENS, "eye": eye, "horizontal": "2", "in_out": in_out})
    assert f"the middle of the target stands 2.00 rings to the {side}." in said(answer)


@pytest.mark.parametrize(("sphere", "way"), [("+4.00", "above"), ("−4.00", "below")])
def test_plus_toward_the_base_and_minus_away_from_it(sphere: str, way: str) -> None:
    answer = SPOTS.answer({**LENS, "lens": f"{sphere} DS", "vertical": "0.8", "up_down": "up"})
    assert shown(answer, "centre.up", "centre.up.way") == ("2", way)
    assert f"The optical centre lies 2 mm {way} the middle spot." in said(answer)


def test_an_oblique_cylinder_turns_the_way() -> None:
    """Independent computation: F d = P with F = [[−3, 1], [1, −3]] gives d = (−0.75, −0.25) cm."""
    given = {**LENS, "lens": "−2.00 −2.00 × 045", "horizontal": "2", "in_out": "in"}
    answer = SPOTS.answer(given)
    assert shown(answer, "centre.inward", "centre.up") == ("7.5", "2.5")
    assert re.search(r"lies 7\.5 mm \w+ and 2\.5 mm \w+ the middle spot\.", said(answer))


@pytest.mark.parametrize(
    ("prism", "caution"),
    [
        ("4", None),  # 10 mm out, less the 3 mm in of the middle spot
        ("5.2", None),  # 13 − 3 mm
        ("5.24", "lies 10.1 mm from the boxed centre."),
        ("8", "it is twice that, 34 mm, more across than the lens."),
        ("20", "Decentring does not reach"),
    ],
)
def test_a_far_optical_centre_needs_a_larger_blank(prism: str, caution: str | None) -> None:
    """A +4.00 lens, base out: 2.5 mm out for each prism dioptre."""
    given = {**LENS, "height": "", "lens": "+4.00 DS", "horizontal": prism, "in_out": "out"}
    cautions = SPOTS.answer(given).cautions
    assert len(cautions) == (caution is not None)
    assert caution is None or caution in cautions[0]


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"lens": "plano"}, "A plano lens reads the same at every point"),
        ({"lens": "plano", "horizontal": "2"}, "A plano lens gives no prism by decentring"),
        (
            {"lens": "plano −2.00 × 180", "horizontal": "2"},
            "This lens has power along 090 alone",
        ),
        ({"lens": "plano −2.00 × 180", "vertical": "1"}, "a line of optical centres"),
        ({"lens": "plano −2.00 × 180"}, "lies at the middle spot"),
        ({"lens": "+0.25 DS", "horizontal": "2"}, "the prism has to be ground"),
        ({"horizontal": "2"}, "Enter the lens to see where its optical centre lies"),
        ({"lens": "+4.00 DS 2 BO"}, "The prism written with the lens was left out"),
        ({}, "Dot where the target is centred"),
        ({"horizontal": "0.001", "lens": "+4.00 DS"}, "Dot where the target is centred"),
        ({"spacing": ""}, "from memory"),
        ({"spacing": "25"}, "on the nose side falls outside"),
    ],
)
def test_what_cannot_be_is_said_in_words(given: dict[str, str], words: str) -> None:
    answer = SPOTS.answer({**LENS, **given})
    assert words in said(answer)
    assert "nan" not in said(answer)


# The picture --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("a", "b", "ed"),
    [(52, 38, 56), (52, 38, 52), (52, 38, 64.4), (40, 50, 55), (50, 50, 50), (50, 50, 65)],
)
def test_the_outline_has_the_sizes_of_the_frame(a: float, b: float, ed: float) -> None:
    """Measured as a traced shape is."""
    shape = LensShape(outline(Frame(a, 18, b, ed)), Eye.RIGHT)
    assert (shape.a, shape.b) == pytest.approx((a, b), abs=1e-6)
    assert shape.effective_diameter == pytest.approx(ed, abs=0.3)


def test_without_a_depth_no_outline_is_drawn() -> None:
    assert outline(Frame(52, 18)) == ()
    assert outline(Frame(52, 18, effective_diameter=56)) == ()
    assert outline(Frame(52, 18, 40))


def circles(name: str, drawn: object) -> list[tuple[float, float, float]]:
    """Middle and radius of each circle of a class, in the wide drawing, left to right."""
    _, wide = drawings(drawn)  # type: ignore[arg-type]
    found = having(wide, "circle", name)
    return sorted((number(c, "cx"), number(c, "cy"), number(c, "r")) for c in found)


def test_the_drawing_is_to_scale_and_the_right_lens_on_the_left() -> None:
    frame = Frame(52, 18, 40, 56)
    blanks = {Eye.RIGHT: 62.0, Eye.LEFT: 70.0}
    lenses = [LaidOut(eye, Decentration(3, 2), blank=blanks[eye]) for eye in Eye]
    right, left = circles("dashed", frame_layout("frame", frame, lenses))
    assert left[2] / right[2] == pytest.approx(70 / 62, abs=1e-3)
    # The centres stand a PD apart, 64 mm, on one level.
    assert left[0] - right[0] == pytest.approx(right[2] / 31 * 64, abs=0.05)
    assert left[1] == right[1]


def test_the_spots_are_a_level_row_and_the_nose_is_named() -> None:
    for eye, side in ((Eye.RIGHT, "nose →"), (Eye.LEFT, "← nose")):
        drawn = frame_layout(
            "spots",
            Frame(52, 18, 40),
            [LaidOut(eye, Decentration(3), spots=spots(Decentration(3), eye, 17))],
        )
        row = circles("solid", drawn)
        levels = [y for _, y, _ in row]
        # Three spots and the one in the key.
        assert sorted(levels.count(y) for y in set(levels)) == [1, 3]
        assert all(side in texts(drawing) for drawing in drawings(drawn))


def test_the_sentences_say_what_is_drawn() -> None:
    answer = BLANK.answer(BLANK.examples[0].given)
    (drawn,) = answer.figures
    assert drawn.description == (
        "To scale, seen facing the wearer, front of the lenses toward you. Boxed lens 52 mm wide, "
        "38 mm deep, effective diameter 56 mm, bridge 18 mm. Right lens: optical centre 5 mm in; "
        "blank 67 mm across. Left lens: optical centre 5 mm in; blank 67 mm across."
    )
    for drawing in drawings(drawn):
        assert texts(drawing).count("5 mm in") == texts(drawing).count("blank 67 mm") == 2
    (drawn,) = SEGMENT.answer(SEGMENT.examples[4].given).figures
    assert "segment 28 mm wide, the middle of its top 7 mm in and 2 mm down" in drawn.description
    assert all("7 mm in" in texts(drawing) for drawing in drawings(drawn))


def test_a_blank_in_words_agrees_with_the_library() -> None:
    lens = LaidOut(Eye.LEFT, Decentration(-1, 2.5), blank=minimum_blank(50, Decentration(3, 4), 0))
    words = layout_in_words(Frame(50, 20), [lens])
    assert re.search(r"optical centre 1 mm out and 2\.5 mm up; blank 60 mm across", words)
    at_centre = layout_in_words(Frame(50, 20), [LaidOut(Eye.LEFT, Decentration(0))])
    assert "optical centre at the boxed centre" in at_centre


def test_every_layout_fits_its_column() -> None:
    """Whatever reaches farthest, blank, spots or a far optical centre, stays in the drawing."""
    frames = [Frame(20, 5), Frame(80, 40, 80, 100), Frame(52, 18, 40, 56)]
    moves = [Decentration(0), Decentration(30, -10), Decentration(-25, 15)]
    for frame, move in itertools.product(frames, moves):
        blank = minimum_blank(frame.effective_diameter or frame.a, move, 2)
        pair = [LaidOut(eye, move, blank=blank) for eye in Eye]
        alone = LaidOut(
            Eye.LEFT, move, spots=spots(move, Eye.LEFT, 30), optical_centre=Decentration(-40, 0)
        )
        for lenses in (pair, [alone]):
            for drawing in drawings(frame_layout("frame", frame, lenses)):
                *_, width, height = map(float, drawing.attrib["viewBox"].split())
                for circle in drawing.iter("{http://www.w3.org/2000/svg}circle"):
                    r = number(circle, "r")
                    assert r <= number(circle, "cx") <= width - r
                    assert r <= number(circle, "cy") <= height - r
