"""Pass window, inspection of a pair, close call: branches, refusals, published figures."""

from __future__ import annotations

import re

import pytest

from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, plain
from site_src.calculators.fields import ChoiceField, FieldError
from tests import pocket
from tests.printed import Row, as_printed, rows

WINDOW = CALCULATORS["pass-window"]
PAIR = CALCULATORS["pair-inspection"]
CALL = CALCULATORS["close-call"]

ANSI, ANSI_UNCUT = "ansi-z80-1-2015-mounted", "ansi-z80-1-2015-uncut"
ISO, ISO_UNCUT = "iso-21987-2017-mounted", "iso-8980-1-2017-uncut"
ISO_PROGRESSIVE = "iso-8980-2-2017-uncut"


def shown(answer: Answer, name: str) -> str:
    return answer.values()[name].shown


def said(answer: Answer) -> str:
    return " ".join(plain(line) for line in (*answer.also, *answer.understood))


# Pass window --------------------------------------------------------------------------------------


def window(ordered: str, standard: str = ANSI, lens_type: str = "single-vision") -> Answer:
    return WINDOW.answer({"ordered": ordered, "standard": standard, "lens_type": lens_type})


def test_the_window_is_that_of_verification_with_nothing_measured() -> None:
    for key in ("ansi-z80-1-2015", "iso-21987-2017"):
        given = {"ordered": "-3.00 -1.25 x 001", "standard": key}
        verified = CALCULATORS["verification"].answer(given)
        mine = window(given["ordered"], f"{key}-mounted")
        theirs, values = verified.values(), mine.values()
        assert {name: values[name].value for name in theirs} == {
            name: each.value for name, each in theirs.items()
        }
        assert mine.steps == verified.steps


def test_a_progressive_has_its_own_window_and_an_addition() -> None:
    """z80-1-2015-quick-reference: 0.16 D up to 8.00 D, addition 0.12 D up to 4.00 D."""
    single, progressive = (window("-6.00 DS add +2.00", ANSI, each) for each in TYPES)
    assert shown(single, "meridian.180.limit") == "±0.13"
    assert shown(progressive, "meridian.180.limit") == "±0.16"
    assert shown(progressive, "addition.highest") == "+2.120"
    assert "addition.limit" not in single.values()
    assert any("single vision lenses have none" in each for each in single.cautions)


TYPES = ("single-vision", "progressive")


@pytest.mark.parametrize(
    ("ordered", "lens_type", "standard", "row", "edges", "marks"),
    [
        ("-2.00 add +2.00", "segment", ANSI, "addition", "+1.880 +2.120", "+2.00 alone"),
        ("+2.00 DS", "single-vision", ANSI, "meridian.180", "+1.870 +2.130", "+1.87 to +2.12"),
        ("-2.12 DS", "single-vision", ISO, "meridian.180", "−2.245 −2.005", "−2.12 alone"),
        ("-4.12 DS", "single-vision", ISO, "meridian.180", "−4.245 −4.005", "no mark"),
        ("-4.00 DS", "progressive", ANSI, "meridian.180", "−4.160 −3.840", "−4.00 alone"),
        ("-1 -4.00 x 5", "single-vision", ANSI, "cylinder", "−4.150 −3.850", "−4.12 to −3.87"),
        ("-2.00 DS", "single-vision", ANSI, "cylinder", "−0.130 0.00", "−0.12 to 0.00"),
        ("+12.50 DS", "single-vision", ANSI, "meridian.180", "+12.25 +12.75", "+12.25 to +12.75"),
    ],
)
def test_an_edge_never_reads_like_a_mark_and_the_last_marks_are_named(
    ordered: str, lens_type: str, standard: str, row: str, edges: str, marks: str
) -> None:
    """By hand: eighths up to 3 D and quarters beyond; a cylinder or an addition is a travel."""
    answer = window(ordered, standard, lens_type)
    assert f"{shown(answer, f'{row}.lowest')} {shown(answer, f'{row}.highest')}" == edges
    assert shown(answer, f"{row}.marks") == marks
    assert f"on a hand scale {marks}" in answer.figures[0].description


@pytest.mark.parametrize(
    ("standard", "last", "beyond"),
    [("ansi-z80-1-2015", "-2.12", "-2.25"), ("iso-21987-2017", "-2.00", "-2.12")],
)
def test_the_last_mark_is_inside_by_the_verdict_and_the_next_is_not(
    standard: str, last: str, beyond: str
) -> None:
    """0.13 D holds an eighth and 0.12 D does not."""
    marks = shown(window("-2.00 DS", f"{standard}-mounted"), "meridian.180.marks")
    assert marks.startswith(last.replace("-", "−"))
    for sphere, says in ((last, "inside"), (beyond, "outside")):
        given = {"ordered": "-2.00 DS", "standard": standard, "sphere": sphere}
        assert verdict(CALCULATORS["verification"].answer(given)) == says


def test_the_figure_draws_the_marks_above_the_line_also_just_outside() -> None:
    """+1.875, +2.00 and +2.125 about an addition that may be +1.88 to +2.12."""
    (figure,) = window("-6.00 DS add +2.00", ANSI, "progressive").figures
    for drawing in (figure.narrow, figure.wide):
        *_, marks = re.findall(r'<path d="([^"]*v -8[^"]*)" class="ink"', drawing)
        places = [float(each) for each in re.findall(r"M ([\d.]+)", marks)]
        *_, left, right = (
            float(x) for x in re.findall(r'd="M ([\d.]+)[^"]*" class="bracket"', drawing)
        )
        assert len(places) == 3
        assert places[0] < left < places[1] < right < places[2]
        assert "marks: +2.00 alone" in drawing


def test_an_uncut_lens_is_limited_at_its_prism_reference_point() -> None:
    """z80-1-2015-quick-reference: 0.33 or 1.0 mm."""
    assert (
        "At the prism reference point: 0.33 Δ of prism error or the ordered prism found within "
        "1.00 mm." in said(window("-2.00 DS", ANSI_UNCUT))
    )
    assert "reference point" not in said(window("-2.00 DS", ANSI))


@pytest.mark.parametrize("prism", ["2 BU 1 BI", "1 BI 2 BD", "1 @ 0 2 @ 90"])
def test_the_uncut_prism_window_goes_by_the_size_of_each_part(prism: str) -> None:
    """The remembered table: 0.25 + 0.1 S horizontally, 0.25 + 0.05 S vertically, S = 2.00."""
    answer = window(f"+0.50 -2.50 x 20 {prism}", ISO_UNCUT)
    assert "0.45 Δ horizontally and 0.35 Δ vertically, from memory" in said(answer)


@pytest.mark.parametrize(
    ("standard", "lens_type"),
    [(ISO_UNCUT, "progressive"), (ISO_PROGRESSIVE, "single-vision"), (ISO_PROGRESSIVE, "segment")],
)
def test_a_standard_for_other_lenses_is_refused(standard: str, lens_type: str) -> None:
    with pytest.raises(FieldError, match=r"Standard: .* has no limits for .* lenses") as refused:
        window("-2.00 DS", standard, lens_type)
    assert refused.value.field == "standard"


@pytest.mark.parametrize(("standard", "marked"), [(ANSI, False), (ISO, True), (ISO_UNCUT, True)])
def test_a_window_from_memory_says_so(standard: str, marked: bool) -> None:
    answer = window("-2.00 DS", standard)
    assert ("from memory" in plain(answer.headline)) is marked
    assert any("quoted from memory" in each for each in answer.cautions) is marked


# Verification -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sphere", "axis", "headline"),
    [
        ("-2.13", "5", "Inside"),
        ("-2.14", "5", "Outside, but at the limit: power along 005"),
        ("-2.15", "5", "Outside: power along 005"),
        ("-2.14", "15", "Outside: power along 005, axis"),
    ],
)
def test_a_verdict_that_hangs_on_the_printing_says_so(
    sphere: str, axis: str, headline: str
) -> None:
    """z80-1-2015-quick-reference: 0.13 D up to 6.50 D, an axis of 0.75 D within 5 degrees."""
    given = {"ordered": "-2.00 -0.75 x 5", "cylinder": "-0.75", "decimals": "literal"}
    answer = CALCULATORS["verification"].answer({**given, "sphere": sphere, "measured_axis": axis})
    assert plain(answer.headline) == headline
    assert shown(answer, "verdict") == headline[: len("Outside")].removesuffix(":")


# Inspection of a pair -----------------------------------------------------------------------------


def inspected(**entered: str) -> Answer:
    given = {"right_ordered": "-2.00 DS", "left_ordered": "-2.00 DS", "standard": ANSI}
    return PAIR.answer({**given, **entered})


def verdict(answer: Answer) -> object:
    return answer.values()["verdict"].value


def test_what_was_not_measured_is_named_and_not_judged() -> None:
    answer = inspected(right_measured="-2.00 DS", pd_ordered="64")
    assert verdict(answer) == "inside"
    assert (
        "Not checked: right prism (not measured), left power (not measured), left prism (not "
        "measured), PD (not measured)." in said(answer)
    )
    assert [table.caption for table in answer.tables] == ["Right eye, ANSI Z80.1-2015"]


def progressive(**entered: str) -> Answer:
    return inspected(**WHOLE, **PRISM, lens_type="progressive", **entered)


def test_of_a_progressive_a_pd_of_both_eyes_alone_is_not_checked() -> None:
    """A pair seven millimetres too wide passed without a word."""
    answer = progressive(pd_ordered="63.5", pd="70")
    assert "PD (of a progressive it counts eye by eye; enter both monocular PDs" in said(answer)
    assert plain(answer.headline).endswith("PD not checked")
    ordered = {"right_ordered_distance": "31.5", "left_ordered_distance": "32"}
    answer = progressive(**ordered, pd_ordered="63.5", pd="63.5")
    assert "eye by eye" in said(answer)
    assert "eye by eye" in said(progressive(**ordered, pd="70"))
    answer = progressive(
        **ordered, pd_ordered="63.5", pd="63.5", right_distance="31.5", left_distance="32"
    )
    assert "eye by eye" not in said(answer)
    assert "eye by eye" not in said(inspected(**WHOLE, **PRISM, pd_ordered="63.5", pd="64"))


def test_monocular_pds_that_do_not_make_the_pd_are_told() -> None:
    each = {"right_distance": "31.5", "left_distance": "32"}
    answer = progressive(**each, pd="70")
    assert answer.cautions[0] == (
        "PD, measured: 31.5 and 32 mm make 63.5 mm, but 70 mm was entered for both eyes. "
        "Measure again."
    )
    for right, both in (("31.5", "64.5"), ("31.4", "64.4")):  # one millimetre, with its float noise
        each["right_distance"] = right
        assert not any("make" in caution for caution in progressive(**each, pd=both).cautions)
    order = {"right_ordered_distance": "31.5", "left_ordered_distance": "32"}
    assert progressive(**order, pd_ordered="65").cautions[0].endswith("Ask which is meant.")


def in_one_word(**entered: str) -> str:
    return plain(inspected(**entered).headline)


WHOLE = {f"{eye}_measured": "-2.00 DS" for eye in ("right", "left")}
PRISM = {f"{eye}_{way}": "0" for eye in ("right", "left") for way in ("horizontal", "vertical")}


def test_a_headline_says_inside_alone_only_when_all_was_checked() -> None:
    right = {"right_measured": "-2.00 DS", "pd_ordered": "63"}
    assert in_one_word(**right) == "Inside so far: left lens, prism, PD not checked"
    heights = {"right_ordered_height": "20", "right_ordered_thickness": "2"}
    assert in_one_word(**right, **heights) == "Inside so far: 5 things not checked"
    assert in_one_word(**WHOLE) == "Inside so far: prism not checked"
    assert in_one_word(**WHOLE, right_horizontal="0") == "Inside so far: left prism not checked"
    assert in_one_word(**WHOLE, **PRISM) == "Inside"
    assert in_one_word(**WHOLE, **PRISM, pd_ordered="63") == "Inside so far: PD not checked"
    assert in_one_word(**WHOLE, **PRISM, pd_ordered="63", pd="63") == "Inside"
    unlimited = in_one_word(**WHOLE, **PRISM, standard=ISO, pd_ordered="63", pd="63")
    assert unlimited == "Inside so far, from memory: PD not checked"


SLIPPED = {
    **PRISM,
    "pd_ordered": "64",
    "pd": "74",
    "left_ordered_height": "20",
    "left_height": "16",
}


def slipped(power: str, **entered: str) -> Answer:
    powers = {
        f"{eye}_{what}": power for eye in ("right", "left") for what in ("ordered", "measured")
    }
    return inspected(**{**powers, **SLIPPED, **entered})


@pytest.mark.parametrize(
    ("standard", "power", "across", "upright"),
    [(ANSI, "-2.50 DS", "2.50", "1.00"), (ISO, "-6.00 DS", "6.00", "2.40")],
)
def test_prism_that_contradicts_pd_and_height_is_never_inside(
    standard: str, power: str, across: str, upright: str
) -> None:
    """By hand, Prentice's rule: 10 mm and 4 mm of 2.50 D and of 6.00 D."""
    answer = slipped(power, standard=standard)
    assert plain(answer.headline) == (
        "Undecided: the prism entered does not fit the PD and the height"
    )
    assert verdict(answer) == "undecided"
    level, steep = answer.cautions[:2]
    assert f"{across} Δ base in follows" in level
    assert f"{upright} Δ base down before the right eye follows" in steep
    assert level.count("entered has none") == steep.count("entered has none") == 1


def test_prism_that_fits_its_place_has_no_caution() -> None:
    fits = {"right_horizontal": "1.25", "left_horizontal": "1.25", "left_vertical": "1"}
    answer = slipped("-2.50 DS", **fits)
    assert plain(answer.headline).startswith("Outside: ")
    assert not answer.cautions
    straight = slipped("-2.50 DS", pd="64", left_height="20")
    assert plain(straight.headline) == "Inside"
    assert not straight.cautions


def test_a_misfit_takes_nothing_from_an_outside_and_needs_a_frame() -> None:
    outside = slipped("-2.50 DS", right_measured="-3.00 DS")
    assert plain(outside.headline) == "Outside: right eye, power along 180"
    assert len(outside.cautions) == 2
    assert not any("Prentice" in each for each in slipped("-2.50 DS", standard=ANSI_UNCUT).cautions)
    progressive = slipped("-2.50 DS", lens_type="progressive")
    assert not any("Prentice" in each for each in progressive.cautions)
    assert plain(progressive.headline) != "Inside"


def test_a_headline_counts_the_other_rows_outside() -> None:
    """z80-1-2015-quick-reference: 0.13 D up to 6.50 D."""
    one = {"right_measured": "-2.50 DS"}
    assert in_one_word(**one) == "Outside: right eye, power along 180"
    more = in_one_word(**one, left_measured="-3.00 DS", right_vertical="2", left_vertical="0")
    assert more == "Outside: left eye, power along 180, and 2 more"


def test_a_headline_says_when_all_that_is_outside_is_so_by_a_hair() -> None:
    """z80-1-2015-quick-reference: 0.13 D up to 6.50 D; 0.14 is outside by 0.01 D."""
    near = {"right_measured": "-2.14 DS", "decimals": "literal"}
    assert in_one_word(**near) == "Outside, but at the limit: right eye, power along 180"
    both = in_one_word(**near, left_measured="-2.50 DS")
    assert both == "Outside: left eye, power along 180, and 1 more"


def test_what_may_still_pass_a_pd_is_asked_for_by_the_names_of_the_entries() -> None:
    answer = inspected(right_ordered="-3.00 DS", pd_ordered="63", pd="66")
    assert "enter the horizontal prism of both lenses." in said(answer)
    assert "(in +) may" not in said(answer)


def test_an_addition_that_was_ordered_is_missed() -> None:
    answer = inspected(
        right_ordered="-2.00 add +2.00", right_measured="-2.00 DS", lens_type="segment"
    )
    assert "right addition (not measured)" in said(answer)


def test_nothing_measured_is_refused() -> None:
    for ordered in ({}, {"pd_ordered": "64", "right_ordered_height": "20"}):
        with pytest.raises(FieldError, match="Power: enter at least one measured value") as refused:
            inspected(**ordered)
    assert refused.value.field == "right_measured"
    with pytest.raises(FieldError, match="nothing was entered that ISO 8980-1:2017"):
        inspected(standard=ISO_UNCUT, right_height="20")


@pytest.mark.parametrize(
    ("right", "left", "across", "upright"),
    [
        (("0.4", "in", "0.1", "up"), ("0.2", "in", "0.1", "down"), "+0.60", "+0.20"),
        (("0.4", "out", "0", "up"), ("0.2", "out", "0.3", "up"), "−0.60", "−0.30"),
        (("0.4", "in", "0", "up"), ("0.2", "out", "0", "up"), "+0.20", "0.00"),
    ],
)
def test_how_the_prisms_of_a_pair_add(
    right: tuple[str, ...], left: tuple[str, ...], across: str, upright: str
) -> None:
    """uk-trainee-deck-verification: BI adds to BI, BO to BO; like vertical bases take away."""
    parts = ("horizontal", "horizontal_base", "vertical", "vertical_base")
    entered = {
        f"{eye}_{part}": text
        for eye, texts in (("right", right), ("left", left))
        for part, text in zip(parts, texts, strict=True)
    }
    answer = inspected(**entered)
    assert shown(answer, "horizontal_imbalance.difference") == across
    assert shown(answer, "vertical_imbalance.difference") == upright


def test_ordered_prism_is_taken_off_in_any_notation() -> None:
    for ordered in ("-2.00 DS 1 BI", "-2.00 DS 1 @ 180"):
        answer = inspected(
            left_ordered=ordered,
            left_horizontal="1.25",
            right_horizontal="0",
        )
        assert shown(answer, "horizontal_imbalance.difference") == "+0.25"
        assert "Left eye: no vertical prism was entered; it is taken as none." in said(answer)


def test_prism_and_addition_may_stand_after_the_measured_power_once() -> None:
    line = {"right_measured": "-2.00 DS add +2.00 0.25 BU", "left_vertical": "0"}
    answer = inspected(right_ordered="-2.00 add +2.00", lens_type="segment", **line)
    assert shown(answer, "right.addition.measured") == "+2.00"
    assert shown(answer, "vertical_imbalance.measured") == "0.25"
    with pytest.raises(FieldError, match="prism was entered here and after the power"):
        inspected(**line, right_horizontal="0")
    with pytest.raises(FieldError, match="an addition was entered here and after the power"):
        inspected(**line, right_addition="+2.00")


def test_one_of_two_limits_is_enough_for_a_mixed_pair() -> None:
    """From memory, and so it is marked: one lens on either side of 3.375 D."""
    mixed = {"right_ordered": "-4.00 DS", "left_ordered": "-3.00 DS"}
    prism = {"right_vertical": "0.5", "left_vertical": "0"}
    open_still = inspected(**mixed, **prism)
    assert verdict(open_still) == "undecided"
    assert "another limit may still pass it; enter the height of both lenses." in said(open_still)
    passed = inspected(**mixed, **prism, right_height="20.5", left_height="20")
    assert verdict(passed) == "inside"
    assert plain(passed.headline) == ("Inside so far, from memory: power not checked")
    assert any("one of several limits is enough" in step.what for step in passed.steps)


def test_a_pd_that_the_standard_does_not_limit_is_named() -> None:
    answer = inspected(standard=ISO, right_measured="-2.00 DS", pd_ordered="64", pd="66")
    assert "distance between the PRPs (no limit" in said(answer)


def test_uncut_lenses_are_judged_each_by_itself_with_in_as_plus() -> None:
    both = {"right_horizontal": "0.5", "left_horizontal": "0.5", "left_height": "20"}
    answer = inspected(standard=ISO_UNCUT, **both)
    for eye in ("right", "left"):
        assert shown(answer, f"{eye}.horizontal_prism.measured") == "0.50"
    assert "both" not in " ".join(table.caption.lower() for table in answer.tables)
    assert "height_difference" not in " ".join(answer.values())


def test_a_height_needs_a_frame() -> None:
    heights = {"right_ordered_height": "18", "right_height": "25"}
    entered = {"lens_type": "segment", "right_measured": "-2.00 DS", **heights}
    assert verdict(inspected(**entered)) == "outside"
    uncut = inspected(**entered, standard=ANSI_UNCUT)
    assert verdict(uncut) == "inside"
    assert "PDs and heights (uncut lenses are in no frame)" in said(uncut)
    mounted = inspected(right_measured="-2.00 DS", right_displacement="1")
    assert "displacement of the PRP (of uncut lenses only)" in said(mounted)


def test_an_uncut_lens_passes_by_prism_or_by_place() -> None:
    """z80-1-2015-quick-reference: 0.33 or 1.0 mm."""
    entered = {"standard": ANSI_UNCUT, "right_vertical": "0.5"}
    assert verdict(inspected(**entered)) == "undecided"
    assert verdict(inspected(**entered, right_displacement="1.0")) == "inside"
    assert verdict(inspected(**entered, right_displacement="1.1")) == "outside"


@pytest.mark.parametrize(
    ("lens_type", "name"),
    [("segment", "segment_height"), ("progressive", "fitting_point_height")],
)
def test_the_height_is_that_of_the_type(lens_type: str, name: str) -> None:
    answer = inspected(
        lens_type=lens_type, right_ordered_height="18", right_height="19.1", left_height="18"
    )
    assert shown(answer, f"right.{name}.verdict") == "outside"
    assert shown(answer, f"{name}_difference.difference") == "+1.10"


def test_a_height_of_a_single_vision_lens_is_entered_once() -> None:
    with pytest.raises(FieldError, match="Height is this one already"):
        inspected(right_height="20", right_prp_height="21")


def test_the_height_of_one_prp_alone_is_not_checked() -> None:
    alone = "height of the PRP (measured of one lens only)"
    entered = {**WHOLE, **PRISM, "lens_type": "progressive"}
    for given in ({"right_prp_height": "20"}, {"left_prp_height": "20"}):
        assert f"Not checked: {alone}." in said(inspected(**entered, **given))
    assert alone in said(inspected(**WHOLE, right_height="20"))
    both = inspected(**WHOLE, right_prp_height="20", left_prp_height="20")
    assert alone not in said(both)
    assert alone not in said(inspected(**WHOLE))


def test_thickness_and_base_curve() -> None:
    """z80-1-1999-laboratory-page and others: 0.3 mm, 0.75 D."""
    answer = inspected(
        right_ordered_thickness="2",
        right_thickness="2.3",
        right_ordered_base_curve="+6.00",
        right_base_curve="+6.80",
    )
    assert shown(answer, "right.centre_thickness.verdict") == "inside"
    assert shown(answer, "right.base_curve.verdict") == "outside"


def test_every_verdict_from_memory_is_marked_in_table_and_figure() -> None:
    answer = inspected(
        standard=ISO, right_ordered="-2.00 -0.50 x 90", right_measured="-2.00 -0.50 x 92"
    )
    cells = {plain(row[0]): plain(row[1]) for row in answer.tables[0].rows}
    assert cells == {
        "Power along 090": "inside, from memory",
        "Power along 180": "inside, from memory",
        "Cylinder": "inside, from memory",
        "Axis": "inside",
    }
    assert answer.figures[0].description.count("(limit from memory)") == 3
    assert plain(answer.headline) == "Inside so far, from memory: left lens, prism not checked"
    outside = inspected(
        standard=ISO, right_ordered="-2.00 -0.50 x 90", right_measured="-2.00 -0.50 x 120"
    )
    assert plain(outside.headline) == "Outside: right eye, axis"


def test_the_gauges_show_the_numbers_of_the_rows() -> None:
    answer = PAIR.answer(PAIR.examples[0].given)
    said_there = " ".join(figure.description for figure in answer.figures)
    for name, datum in answer.values().items():
        if name.endswith(".measured"):
            assert datum.shown in said_there, name


# Close call ---------------------------------------------------------------------------------------


def called(**entered: str) -> Answer:
    given = {"difference": "0", "limit": "1", "step": "0", "permitted": "0", "spread": "0.5"}
    return CALL.answer({**given, **entered})


COUNTS = {
    float(choice.text) - 1: choice.text
    for field in CALL.fields
    if isinstance(field, ChoiceField) and field.name == "spread_from"
    for choice in field.choices
    if choice.text != "many"
}
FACTORS = [
    row
    for row in rows("uncertainty_t_factor")
    if row["coverage"] == "0.9545" and float(row["degrees_of_freedom"]) in COUNTS
]


@pytest.mark.parametrize("row", FACTORS, ids=[row["id"] for row in FACTORS])
def test_the_factor_as_printed(row: Row) -> None:
    """gum-2008, Table G.2, for as many readings as can be chosen."""
    count = COUNTS[float(row["degrees_of_freedom"])]
    assert called(spread_from=count).values()["k"].value == as_printed(row["printed"])


@pytest.mark.parametrize(("sigmas", "printed"), [("1", 0.6827), ("2", 0.9545), ("3", 0.9973)])
def test_the_probability_within_so_many_sigmas(sigmas: str, printed: float) -> None:
    """gum-2008, last row of Table G.2."""
    values = called(limit=sigmas, spread="1").values()
    assert values["probability"].value == pytest.approx(printed, abs=5e-5)


@pytest.mark.parametrize(
    ("difference", "says"),
    [
        ("0.04", "inside"),
        ("0.05", "inside but close"),
        ("0.13", "inside but close"),
        ("0.14", "outside but close"),
        ("0.22", "outside"),
    ],
)
def test_the_four_answers(difference: str, says: str) -> None:
    """By hand: u is 0.05 D, so the borders lie 0.082 D to either side of 0.13 D."""
    answer = called(difference=difference, limit="0.13", spread="0.05", decimals="literal")
    assert answer.values()["verdict"].value == says


def test_a_cut_eighth_is_a_true_eighth_only_in_dioptres() -> None:
    """0.125 D is beyond a limit of 0.12 D; 0.12 of anything else is 0.12."""
    eighth = called(difference="0.12", limit="0.12")
    assert eighth.values()["verdict"].value == "outside but close"
    assert "Cut eighths were read as true eighths: +0.125 D." in said(eighth)
    for entered in ({"decimals": "literal"}, {"quantity": "prism"}, {"quantity": "axis"}):
        answer = called(difference="0.12", limit="0.12", **entered)
        assert answer.values()["verdict"].value == "inside but close"


def test_a_limit_or_a_step_that_may_be_an_eighth_is_named() -> None:
    taken = said(called(limit="2.12", step="0.12"))
    assert "The limit is taken as typed, 2.12 D. If it is an eighth, enter 2.125." in taken
    assert "The step of the scale is taken as typed, 0.12 D." in taken
    assert "as typed" not in said(called(limit="0.13", step="0.125"))
    for entered in ({"decimals": "literal"}, {"quantity": "prism"}):
        assert "as typed" not in said(called(limit="0.12", **entered))


def test_an_eighth_may_be_a_fraction() -> None:
    assert called(difference="1/8", limit="1/4") == called(difference="0.125", limit="0.25")


def test_a_cylinder_has_the_doubt_of_two_readings() -> None:
    one, two = (called(quantity=each).values()["u"].value for each in ("power", "cylinder"))
    assert two == pytest.approx(float(one) * 2**0.5, abs=1e-6)


def test_the_spread_of_repeated_readings() -> None:
    """By hand: −2.25, −2.375, −2.25 scatter by 0.0722 D, with two degrees of freedom."""
    readings = {"reading_1": "-2.25", "reading_2": "-2.37", "reading_3": "-2.25"}
    answer = called(spread="", **readings)
    assert shown(answer, "spread") == "0.0722"
    assert shown(answer, "k") == "4.53"
    both = called(**readings)
    assert both.values()["u"] == answer.values()["u"]
    assert any("is not used" in each for each in both.cautions)
    for left_out in ({"reading_1": "-2.25"}, {**readings, "quantity": "axis"}):
        cautions = called(**left_out).cautions
        assert any("left out" in each for each in cautions)


def test_a_mean_lessens_the_part_of_the_reader_alone() -> None:
    given = {"spread": "0.06", "limit": "0.13", "step": "0.125", "permitted": "0.06"}
    one, four = (called(**given, readings=n).values() for n in ("1", "4"))
    assert four["reader.u"].value == pytest.approx(float(one["reader.u"].value) / 2)
    for same in ("scale.u", "instrument.u"):
        assert four[same] == one[same]
    assert one["mean.4.u"].value == four["u"].value


def test_how_often_to_read_is_said_where_reading_again_settles_it() -> None:
    answer = called(difference="0.5", limit="1", spread="0.5")
    needed = answer.values()["needed"].shown
    assert f"The mean of {needed} readings settles it" in said(answer)
    hopeless = called(difference="0.12", limit="0.13", permitted="0.06", decimals="literal")
    assert "Reading again does not settle it" in said(hopeless)


def test_without_a_spread_there_is_no_table_and_a_caution() -> None:
    answer = called(spread="", step="0.125")
    assert answer.tables == ()
    assert any("No spread of the reader" in each for each in answer.cautions)


def test_no_doubt_at_all_is_refused() -> None:
    with pytest.raises(FieldError, match="standard uncertainty is a number above 0"):
        called(spread="")


@pytest.mark.parametrize(
    ("quantity", "near", "limit"),
    [
        ("power", "5", "0.06"),
        ("power", "5.25", "0.09"),
        ("prism", "6", "0.20"),
        ("axis", "9", "1.00"),
    ],
)
def test_the_instrument_by_its_standard(quantity: str, near: str, limit: str) -> None:
    """iso-8598-1-2014, from memory, and said to be."""
    answer = called(quantity=quantity, permitted="", indicated=near)
    assert shown(answer, "permitted") == limit
    assert any("from memory" in each for each in answer.cautions)
    assert "iso-8598-1-2014" in answer.sources
    assert "iso-8598-1-2014" not in called().sources


def test_the_figure_says_the_numbers_and_shades_what_is_inside() -> None:
    answer = called(difference="0.4")
    (figure,) = answer.figures
    for name in ("probability", "expanded"):
        assert shown(answer, name) in figure.description
    for drawing in (figure.narrow, figure.wide):
        (shape,) = re.findall(r'<path d="([^"]*)" class="tint"', drawing)
        places = [float(each) for each in re.findall(r"[ML] ([\d.]+)", shape)]
        window = [float(each) for each in re.findall(r'x1="([\d.]+)"[^>]*class="window"', drawing)]
        assert min(places) == pytest.approx(max(window[0], min(places)), abs=0.02)
        whole = re.findall(r'<path d="([^"]*)" class="arc"', drawing)[0]
        right = max(float(each) for each in re.findall(r"[ML] ([\d.]+)", whole))
        assert max(places) < right


def test_a_probability_is_never_shown_as_certain() -> None:
    assert shown(called(limit="30"), "probability") == "over 99.9"
    assert shown(called(difference="30"), "probability") == "under 0.1"
    assert pocket.shown(shown(called(), "probability")) > 0
