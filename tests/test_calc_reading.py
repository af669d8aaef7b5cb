"""The calculators of the stage Read: a mounted pair, additions, prism on the target, the axis."""

from __future__ import annotations

import math
import re

import pytest

from lensmath.eye import Eye
from lensmath.prism import NO_PRISM, Base, Prism
from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, plain
from site_src.calculators.fields import FieldError
from site_src.figures.axis_dial import axis_dial
from site_src.figures.prism_rings import prism_rings
from tests.printed import Row, as_printed, published
from tests.test_figures import drawings, ends, having, texts

PAIR = CALCULATORS["pair-from-readings"]
ADDITION = CALCULATORS["addition-from-readings"]
PRISM = CALCULATORS["prism-from-rings"]
AXIS = CALCULATORS["axis-from-other-side"]
READINGS = CALCULATORS["cylinder-from-two-readings"]

GOOD_PAIR = dict(PAIR.examples[0].given)


def refusal(slug: str, **entered: str) -> tuple[str, str]:
    """Field and sentence of the refusal of entries that do not go together."""
    with pytest.raises(FieldError) as refused:
        CALCULATORS[slug].answer(entered)
    return refused.value.field, refused.value.message


# A mounted pair -----------------------------------------------------------------------------------


def test_each_eye_reads_as_the_lens_alone() -> None:
    """The same sums as for a single lens, and the zero error off both."""
    pair = PAIR.answer(GOOD_PAIR)
    steps = {eye: [s for s in pair.steps if s.what.startswith(eye)] for eye in ("Right", "Left")}
    for eye in ("right", "left"):
        one = {name: GOOD_PAIR[f"{eye}_{name}"] for name in ("first", "second", "wheel")} | {
            "zero": GOOD_PAIR["zero"]
        }
        alone = READINGS.answer(one)
        told = [(s.numbers, plain(s.result)) for s in steps[eye.capitalize()]]
        assert told == [(s.numbers, plain(s.result)) for s in alone.steps]
        for part in ("sphere", "cylinder", "axis"):
            assert pair.values()[f"{eye}.minus.{part}"].value == alone.values()[part].value
    assert [figure.title[-10:] for figure in pair.figures] == ["right lens", ", left lens"[-10:]]


def test_the_right_eye_stands_first() -> None:
    answer = PAIR.answer(GOOD_PAIR)
    assert plain(answer.headline) == "R −2.25 −0.75 × 105, L −2.00 −0.50 × 080"
    assert plain(answer.also[0]) == ("In plus form: R −3.00 +0.75 × 015, L −2.50 +0.50 × 170")
    assert answer.figures[0].description.startswith("Right lens. The first reading is −2.00 D")
    assert answer.figures[1].description.startswith("Left lens. The first reading is −1.75 D")


@pytest.mark.parametrize(
    ("wheel", "sum_", "axis"),
    [("1", "001 + 90", "091"), ("90", "090 + 90", "180"), ("91", "091 − 90", "001")],
)
def test_the_wheel_is_turned_the_way_that_stays_on_the_scale(
    wheel: str, sum_: str, axis: str
) -> None:
    answer = PAIR.answer({**GOOD_PAIR, "left_lines": "cylinder", "left_wheel": wheel})
    assert answer.steps[-1].numbers == sum_
    assert plain(answer.steps[-1].result) == axis


@pytest.mark.parametrize(
    ("plus", "said"),
    [
        ((), ""),
        (("right",), "The readings of the right lens gave plus form"),
        (("left",), "The readings of the left lens gave plus form"),
        (("right", "left"), "The readings of both lenses gave plus form"),
    ],
)
def test_a_lens_read_in_plus_form_is_said_to_be(plus: tuple[str, ...], said: str) -> None:
    entered = dict(GOOD_PAIR)
    for eye in plus:
        first, second = entered[f"{eye}_first"], entered[f"{eye}_second"]
        entered |= {f"{eye}_first": second, f"{eye}_second": first}
    notes = [plain(line) for line in PAIR.answer(entered).understood]
    assert [note for note in notes if said and note.startswith(said)] == notes


def test_a_sphere_beside_a_cylinder_and_two_spheres() -> None:
    sphere = {"left_first": "-2.00", "left_second": "", "left_wheel": "", "left_lines": "both"}
    answer = PAIR.answer({**GOOD_PAIR, **sphere, "zero": ""})
    assert plain(answer.headline) == "R −2.00 −0.75 × 105, L −2.00 DS"
    both = sphere | {name.replace("left", "right"): text for name, text in sphere.items()}
    answer = PAIR.answer({**GOOD_PAIR, **both, "zero": ""})
    assert plain(answer.headline) == "R −2.00 DS, L −2.00 DS"
    assert "neither lens has an axis" in plain(answer.also[0])


@pytest.mark.parametrize(
    ("entered", "field", "begins"),
    [
        ({"left_wheel": ""}, "left_wheel", "Left eye: Axis wheel: The readings differ"),
        ({"right_second": ""}, "right_second", "Right eye: Second sharp reading: Only the sphere"),
        ({"left_lines": "both"}, "left_lines", "Left eye, sharp at the first reading: Both sets"),
    ],
)
def test_a_refusal_names_the_eye(entered: dict[str, str], field: str, begins: str) -> None:
    found, message = refusal(PAIR.slug, **{**GOOD_PAIR, **entered})
    assert found == field
    assert message.startswith(begins)


# Additions ----------------------------------------------------------------------------------------


def added(distance: str, near: str, **more: str) -> Answer:
    return ADDITION.answer({"distance": distance, "near": near, **more})


@published("additions_readings")
def test_additions_as_printed(row: Row) -> None:
    values = added(row["distance"], row["near"], decimals="literal").values()
    assert values["addition"].value == as_printed(row["printed"])


@published("additions_intermediate")
def test_what_an_intermediate_reads_as_printed(row: Row) -> None:
    """The intermediate reads what the intermediate prescription has as its sphere."""
    near = f"{float(row['sphere']) + float(row['addition']):+.2f}"
    values = added(row["sphere"], near, percent=row["percent"]).values()
    assert values["intermediate.reading"].value == as_printed(row["printed_sphere"])


def test_equal_readings_are_no_addition() -> None:
    answer = added("-2.00", "-2.00")
    assert plain(answer.headline) == "No addition: both portions read alike"
    assert "trifocal" not in " ".join(plain(line) for line in answer.also)
    field, message = refusal(ADDITION.slug, distance="-2.00", near="-2.00", intermediate="-2.00")
    assert field == "intermediate"
    assert "no addition to have a part of" in message


def test_a_near_reading_with_less_plus_is_refused_in_words() -> None:
    field, message = refusal(ADDITION.slug, distance="+1.00", near="-1.00")
    assert field == "near"
    assert message.startswith("Near reading: The near power, −1.00 D, is less plus than")


@pytest.mark.parametrize("intermediate", ["-2.25", "+0.75"])
def test_an_intermediate_lies_between_distance_and_near(intermediate: str) -> None:
    field, message = refusal(
        ADDITION.slug, distance="-2.00", near="+0.50", intermediate=intermediate
    )
    assert field == "intermediate"
    assert "between the distance, −2.00 D, and the near portion, +0.50 D." in message


def test_the_share_of_an_intermediate_that_was_read() -> None:
    """optical-shop-trifocal: there are trifocals with 61 percent; the lens is derived."""
    answer = added("0.00", "+2.50", intermediate="+1.50", percent="61")
    said = [plain(line) for line in answer.also]
    assert said[1].startswith("A trifocal with 61 % of the addition in its intermediate has +1.53")
    assert said[2] == "Yours has +1.50 D in its intermediate, 60 % of the addition."


@pytest.mark.parametrize(
    ("carrier", "stop", "temples", "warned"),
    [
        ("front", "", "toward you", False),
        ("front", "front", "toward you", False),
        ("front", "back", "toward you", True),
        ("back", "", "away from you", False),
        ("back", "back", "away from you", False),
        ("back", "front", "away from you", True),
    ],
)
def test_the_carrier_goes_to_the_stop(carrier: str, stop: str, temples: str, warned: bool) -> None:
    answer = added("+1.50", "+3.75", carrier=carrier, stop=stop)
    assert plain(answer.also[0]) == (
        f"Read it as {carrier} vertex power: the {carrier} surface on the stop for both readings, "
        f"temples {temples}."
    )
    assert [caution.startswith(f"The {stop} surface was") for caution in answer.cautions] == (
        [True] if warned else []
    )


def test_the_figure_of_an_addition_names_distance_and_near() -> None:
    (figure,) = added("-2.00", "+0.50").figures
    assert figure.description.startswith("The distance reading is −2.00 D, the near +0.50 D.")
    for drawing in drawings(figure):
        assert {"distance −2.00", "near +0.50", "travel +2.50 D, toward plus"} <= set(
            texts(drawing)
        )


# Prism --------------------------------------------------------------------------------------------


def rung(**entered: str) -> Answer:
    return PRISM.answer({"eye": "right", **entered})


@published("prism_components")
def test_parts_among_the_rings_as_printed(row: Row) -> None:
    """A target that stands where the two parts put it; in is where the nose is."""
    eye = Eye(row["eye"])
    x = Base(row["horizontal_base"]).direction(eye)
    answer = rung(
        eye=row["eye"],
        sideways=row["horizontal"],
        right_left="right" if x == 0 else "left",
        height=row["vertical"],
        up_down=row["vertical_base"],
    )
    values = answer.values()
    assert values["amount"].value == as_printed(row["printed_amount"])
    assert values["base"].value == as_printed(row["printed_base"])
    assert values["horizontal.base"].value == row["horizontal_base"]
    assert values["vertical.base"].value == row["vertical_base"]


@published("prism_resolving")
def test_ring_and_direction_as_printed(row: Row) -> None:
    answer = rung(eye=row["eye"], how="ring", ring=row["amount"], direction=row["degrees"])
    values = answer.values()
    for part in ("vertical", "horizontal"):
        assert values[part].value == as_printed(row[f"printed_{part}"])
        assert values[f"{part}.base"].value == row[f"printed_{part}_base"]
    assert values["base"].value == as_printed(row["degrees"])


@pytest.mark.parametrize(
    ("eye", "side", "base", "degrees"),
    [
        ("right", "right", "in", "000"),
        ("right", "left", "out", "180"),
        ("left", "right", "out", "000"),
        ("left", "left", "in", "180"),
    ],
)
def test_in_and_out_turn_with_the_eye(eye: str, side: str, base: str, degrees: str) -> None:
    """prism-reading-lesson: the target moves toward the base; iso-8429-1986: 0 at the right."""
    answer = rung(eye=eye, sideways="2", right_left=side)
    assert plain(answer.headline) == f"2.00 Δ base {base}"
    assert answer.values()["base"].shown == degrees
    assert "vertical" not in answer.values()


@pytest.mark.parametrize(
    "entered",
    [{"sideways": "0"}, {"height": "0"}, {"how": "ring", "ring": "0"}, {"sideways": "0.004"}],
)
def test_a_target_in_the_middle_is_no_prism(entered: dict[str, str]) -> None:
    answer = rung(**entered)
    assert plain(answer.headline) == "No prism before the right eye"
    assert answer.also == ()
    assert answer.figures[0].description.endswith("stands in the middle. The prism is none.")


@pytest.mark.parametrize(
    ("entered", "field", "words"),
    [
        ({}, "sideways", "Enter how far the target stands to the side"),
        ({"how": "ring", "direction": "90"}, "ring", "Enter the ring; 0 is the middle"),
        ({"how": "ring", "ring": "2"}, "direction", "nothing was entered, but the ring was"),
        ({"height": "2", "known": "4"}, "known_base", "but a known prism was"),
        ({"sideways": "8", "height": "8"}, "sideways", "The last ring is 10"),
    ],
)
def test_what_is_missing_or_out_of_reach_is_said(
    entered: dict[str, str], field: str, words: str
) -> None:
    found, message = refusal(PRISM.slug, **entered)
    assert found == field
    assert words in message


def test_entries_that_are_not_used_are_said_to_be() -> None:
    both = {"sideways": "2", "ring": "3", "direction": "90"}
    parts, ring = rung(**both), rung(**both, how="ring")
    assert plain(parts.headline) == "2.00 Δ base in"
    assert plain(ring.headline) == "3.00 Δ base up"
    assert parts.cautions[0].startswith("A ring or a direction was entered too.")
    assert ring.cautions[0].startswith("An amount to the side")
    lone = "The base of a known prism was entered without the prism. It is not used here."
    for nothing in ({}, {"known": "0"}):
        assert rung(sideways="2", known_base="90", **nothing).cautions == (lone,)
    assert rung(sideways="2", known_base="90", known="1").cautions == ()


def test_a_known_prism_that_takes_all_away_leaves_none() -> None:
    answer = rung(height="4", up_down="down", known="4", known_base="270")
    assert plain(answer.headline) == "No prism before the right eye"
    assert answer.steps[-1].numbers == "(−4) − (−4)"


@pytest.mark.parametrize("turn", range(0, 360, 30))
def test_the_arrow_points_to_the_base_and_the_target_stands_at_its_tip(turn: int) -> None:
    prism = Prism.from_base(2.5, turn)
    for drawing in drawings(prism_rings("rings", Eye.RIGHT, prism, prism, 5)):
        (arm,) = having(drawing, "line", "arm")
        (x1, y1), (x2, y2) = ends(arm)
        angle = math.degrees(math.atan2(y1 - y2, x2 - x1))
        assert (angle - turn + 180) % 360 - 180 == pytest.approx(0, abs=0.1)
        cross = [ends(node) for node in having(drawing, "line", "target")]
        across = (cross[0][0][0] + cross[0][1][0]) / 2, cross[0][0][1]
        last = max(float(node.attrib["r"]) for node in having(drawing, "circle", "hair"))
        assert math.dist((x1, y1), across) == pytest.approx(last * 2.5 / 5, abs=0.03)


def test_in_stands_on_the_side_of_the_nose() -> None:
    for eye, right in ((Eye.RIGHT, "in"), (Eye.LEFT, "out")):
        for drawing in drawings(prism_rings("rings", eye, NO_PRISM, NO_PRISM, 5)):
            places = {
                "".join(node.itertext()): float(node.attrib["x"])
                for node in drawing.iter("{http://www.w3.org/2000/svg}text")
            }
            assert max(("in", "out"), key=lambda name: places[name]) == right


# The axis from the other side ---------------------------------------------------------------------


@published("turned_round")
def test_axis_of_a_lens_turned_round_as_printed(row: Row) -> None:
    for read, worn in ((row["axis"], row["printed_axis"]), (row["printed_axis"], row["axis"])):
        values = AXIS.answer({"measured_axis": read, "side": "front"}).values()
        assert values["axis"].value == as_printed(worn)


@pytest.mark.parametrize("axis", ["90", "180", "0"])
def test_two_axes_are_their_own_mirror_image(axis: str) -> None:
    answer = AXIS.answer({"measured_axis": axis, "side": "front"})
    assert plain(answer.headline) == f"Axis {'090' if axis == '90' else '180'}"
    assert "its own mirror image" in plain(answer.also[0])


def test_from_the_back_the_axis_stays_and_nothing_is_warned_of() -> None:
    answer = AXIS.answer({"measured_axis": "20", "side": "back"})
    assert plain(answer.headline) == "Axis 020"
    assert answer.cautions == ()
    assert AXIS.answer({"measured_axis": "20", "side": "front"}).cautions[0].startswith("Only")


@pytest.mark.parametrize("read", [1, 45, 60, 85, 88, 120, 179])
def test_both_axes_are_drawn_at_their_angle(read: int) -> None:
    figure = axis_dial("dial", read, 180 - read)
    assert re.findall(r"\d{3}", figure.description) == [f"{read:03}", f"{180 - read:03}"]
    for drawing in drawings(figure):
        angles = []
        for arm in having(drawing, "line", "arm"):
            (x1, y1), (x2, y2) = ends(arm)
            angles.append(math.degrees(math.atan2(y1 - y2, x2 - x1)) % 180)
        assert angles == [pytest.approx(180 - read, abs=0.1), pytest.approx(read, abs=0.1)]
        assert len(having(drawing, "line", "dashed")) == 1
        assert {"as read", "as worn"} <= set(texts(drawing))
