"""The tables and the picture of the pages on checking, against the published cells.

tests/published/tolerances_cells.csv and tolerances_iso_power.csv hold every limit a second time.
What a page shows is read back from its words and compared with them, at both ends of its band; the
mark of memory is compared with their standing. Nothing here asks `lensmath` for a limit.
"""

import math
import re
import xml.etree.ElementTree as ET
from statistics import NormalDist, stdev

import pytest

from lensmath.power import LensPower
from site_src.calculators.answer import plain
from site_src.plates import check
from site_src.tables import cards, doubt, record, rules, standards
from site_src.tables.cells import Stretch, shown
from tests.printed import as_printed, rows

ANSI, ISO, UNCUT = "ansi-z80-1-2015", "iso-21987-2017", "iso-8980-1-2017"
SINGLE, SEGMENTS, PROGRESSIVE = "single_vision", "multifocal", "progressive"
JUST, BEYOND = 1e-4, 30.0
ALL_FROM_MEMORY = "all from memory"
OTHER_TEXTS = {"z80-1-1999-laboratory-page", "nj-virginia-rules", "progressive-fitting-page"}
"""Texts on the edition of 1999, on a law, and without a date."""

# The published cells ------------------------------------------------------------------------------


def holds(row, prefix, powers):
    """Whether these ordered powers lie in a band of a published cell."""
    if not row[f"{prefix}by"]:
        return True
    if row[f"{prefix}by"] not in powers:
        return False
    power = powers[row[f"{prefix}by"]]
    lower = row[f"{prefix}from"] or "0"
    return (
        float(lower) <= power
        and (not row[f"{prefix}over"] or power > float(row[f"{prefix}over"]))
        and (not row[f"{prefix}to"] or power <= float(row[f"{prefix}to"]))
        and (not row.get(f"{prefix}below") or power < float(row[f"{prefix}below"]))
    )


def printed(standard, kind, quantities, powers):
    """The published cell: its limit, its percentage and its mark; None if there is none."""
    for quantity in quantities:
        for row in rows("tolerances_cells"):
            named = row["standard"] == standard and row[kind] and row["quantity"] == quantity
            if named and holds(row, "", powers) and holds(row, "also_", powers):
                memory = row["standing"] == "memory"
                mark = "*" if memory else "†" if row["source"] in OTHER_TEXTS else ""
                return row["printed_limit"], row["printed_percent"], mark
    return None


def iso_power(kind, stronger, cylinder=None):
    """A, or with a cylinder B, of the ISO power tables, which are all from memory."""
    lens_type = "progressive" if kind == PROGRESSIVE else "single vision"
    for row in rows("tolerances_iso_power"):
        lower = float(row["from"] or row["over"])
        inside = (stronger > lower or row["from"]) and stronger <= float(row["to"] or "inf")
        if row["lens_type"] == lens_type and inside:
            edges = {"0_75": 0.75, "4_00": 4.0, "6_00": 6.0}
            ends = [f"to_{name}" for name, edge in edges.items() if (cylinder or 0) <= edge]
            column = f"printed_b_{(ends or ['beyond'])[0]}"
            return row["printed_a" if cylinder is None else column], "", "*"
    raise AssertionError((kind, stronger))


def agrees(cell, expected, caption=""):
    """Whether the words of a cell say what was published, with its mark."""
    if expected is None:
        return cell == "–"
    limit, percent, mark = expected
    marked = "*" if caption.endswith(ALL_FROM_MEMORY) else cell[-1] * (cell[-1] in "*†")
    numbers = [float(number) for number in re.findall(r"\d+\.?\d*", cell)]
    if "prism of" in cell:
        fixed = [float(limit)] if limit else []
        wanted = [*fixed, float(percent) / 10]
    else:
        wanted = [float(percent or limit)]
        assert ("%" in cell) == bool(percent)
    return marked == mark and numbers == pytest.approx(wanted)


def band(words):
    """The first and the last power that a band in words holds."""
    over, to = re.search(r"over ([\d.]+)", words), re.search(r"to ([\d.]+)$", words)
    first = float(over[1]) + JUST if over else 0.0
    return [first, float(to[1]) if to else BEYOND]


def cells(table):
    """The rows of a table as words."""
    return [[plain(cell) for cell in row] for row in table.rows]


def test_a_cell_that_says_something_else_is_noticed():
    assert agrees("±0.13 D", ("0.13", "", ""))
    assert not agrees("±0.12 D", ("0.13", "", ""))
    assert not agrees("±0.13 D*", ("0.13", "", ""))
    assert not agrees("±0.13 D", ("0.13", "", "*"))
    assert not agrees("±0.13 D*", ("0.13", "", "†"))
    assert not agrees("–", ("0.13", "", ""))
    assert agrees("0.33 Δ + prism of 2.0 mm*", ("0.33", "20", "*"))


# Side by side -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "words"), [(SINGLE, "single vision"), (PROGRESSIVE, "progressive")]
)
def test_power_side_by_side(kind, words):
    table = standards.meridian_powers(words)
    found = cells(table)

    for row in found:
        for power in band(row[0]):
            ansi = printed(ANSI, kind, ["meridian power"], {"sphere meridian": power})
            assert agrees(row[1], ansi), row
            assert agrees(row[2], iso_power(kind, power)), row
    assert [row[0] for row in found][-1] == "over 20.00"


@pytest.mark.parametrize(
    ("kind", "words"), [(SINGLE, "single vision"), (PROGRESSIVE, "progressive")]
)
def test_cylinder_side_by_side(kind, words):
    table = standards.cylinders(words)
    lenses = [float(head.rpartition(" ")[2]) for head in table.head[2:]]

    assert lenses[-1] == 12.0
    for row in cells(table):
        for cylinder in band(row[0]):
            assert agrees(row[1], printed(ANSI, kind, ["cylinder"], {"cylinder": cylinder}))
            for lens, cell in zip(lenses, row[2:], strict=True):
                assert agrees(cell, iso_power(kind, lens, cylinder)), (row, lens)


def test_every_eighth_of_a_cylinder_has_its_axis_limit():
    """Cut eighths name the bands; together they leave out none from 0.12 on."""
    written = {count / 8: f"{math.floor(count / 8 * 100) / 100:.2f}" for count in range(1, 49)}
    found = cells(standards.axes())
    firsts = [
        next(true for true, cut in written.items() if row[0].startswith(cut)) for row in found
    ]

    assert firsts[0] == 0.125
    for cylinder, cut in written.items():
        row = next(
            row for row, first in zip(found[::-1], firsts[::-1], strict=True) if cylinder >= first
        )
        if "to" in row[0]:
            assert float(cut) <= float(row[0].rpartition(" ")[2])
        for key, cell in zip((ANSI, ISO, UNCUT), row[1:], strict=True):
            assert agrees(cell, printed(key, SINGLE, ["axis"], {"cylinder": cylinder})), row


def test_the_axis_limit_of_a_cylinder_of_three_quarters():
    """By the quick reference 5 degrees, by the deck on ISO 21987 6 degrees."""
    assert ["0.62 to 0.75", "±5°", "±6°", "±5°*"] in cells(standards.axes())
    assert (rules.axis_limit(ANSI, 0.75), rules.axis_limit(ISO, -0.75)) == ("±5°", "±6°")


def test_addition_side_by_side():
    for row in cells(standards.additions()):
        for addition in band(row[0]):
            for key, cell in zip((ANSI, ISO), row[1:], strict=True):
                assert agrees(cell, printed(key, SEGMENTS, ["addition"], {"addition": addition}))


PAIR = {
    "Vertical": (
        "vertical meridian",
        ["vertical prism imbalance", "height difference of the PRPs"],
    ),
    "Horizontal": (
        "horizontal meridian",
        [
            "horizontal prism imbalance",
            "distance between the PRPs",
            "monocular distance of the PRP",
        ],
    ),
}
NO_PRISM = {"ordered horizontal prism": 0.0, "ordered vertical prism": 0.0}


def of_pair(row, kind):
    """Compares a row such as "Vertical, over 3.375 to 5.00" in both standards."""
    meridian, quantities = PAIR[re.split("[, ]", row[0])[0]]
    for power in band(row[0]):
        for key, cell in zip((ANSI, ISO), row[1:], strict=True):
            powers = {**NO_PRISM, meridian: power}
            assert agrees(cell, printed(key, kind, quantities, powers)), (row, power)


@pytest.mark.parametrize(
    ("kind", "words"), [(SINGLE, "single vision"), (PROGRESSIVE, "progressive")]
)
def test_a_pair_side_by_side(kind, words):
    table = standards.imbalances(words)
    found = cells(table)

    assert table.head[1:] == ("ANSI Z80.1-2015", "ISO 21987:2009")
    assert {row[0].split(",")[0] for row in found} == set(PAIR)
    for row in found:
        of_pair(row, kind)


@pytest.mark.parametrize(
    ("table", "kind"),
    [
        (standards.segments(), SEGMENTS),
        (standards.fitting_points(), PROGRESSIVE),
        (standards.forms(), SINGLE),
    ],
)
def test_places_and_forms_side_by_side(table, kind):
    for name, *limits in cells(table):
        quantity = name[0].lower() + name[1:]
        for key, cell in zip((ANSI, ISO), limits, strict=True):
            assert agrees(cell, printed(key, kind, [quantity], {})), name


def test_millimetres_of_a_pair_say_of_what():
    """Of the height or of the PD, in either kind of pair; prism needs no word."""
    for words in ("single vision", "progressive"):
        for row in cells(standards.imbalances(words)):
            said = " in height" if row[0].startswith("Vertical") else " of PD"
            assert (said in row[1]) == ("Δ" not in row[1]), row


def test_a_table_explains_its_marks():
    assert standards.axes().caption.endswith(" (* from memory)")
    assert standards.segments().caption.endswith(
        " (* from memory; † from other editions or undated texts)"
    )


def test_a_wrong_pd_in_a_weak_and_in_a_strong_pair():
    """0.30 below 0.67; 3.0 mm above 2.5 mm, and 1.50 above the prism of 2.0 mm, 1.00."""
    assert rules.pd_error(LensPower(-1.00), 3) == (pytest.approx(0.30), "inside", "inside")
    assert rules.pd_error(LensPower(-5.00), 3) == (pytest.approx(1.50), "outside", "outside")
    assert rules.pd_error(LensPower(-5.00), 2) == (pytest.approx(1.00), "inside", "inside")


ONE_JOB = {
    "Power": "meridian power",
    "Cylinder": "cylinder",
    "Axis": "axis",
    "Addition": "addition",
    "Vertical imbalance, ISO of 2009": "vertical prism imbalance",
    "Horizontal imbalance, ISO of 2009": "horizontal prism imbalance",
    "Segment height": "segment height",
    "Segment heights, right less left": "segment height difference",
    "Distance between the segments": "distance between the segments",
    "Segment tilt": "segment tilt",
    "Centre thickness": "centre thickness",
    "Base curve, if ordered": "base curve",
    "Warpage": "warpage",
}


def test_one_job_in_both_standards():
    """A weak lens: 2.00 D along the axis, 2.75 D across, 0.75 D of cylinder, about horizontal."""
    powers = {
        **NO_PRISM,
        "sphere meridian": 2.0,
        "cylinder": 0.75,
        "addition": 2.0,
        "vertical meridian": 2.74,
        "horizontal meridian": 2.01,
    }
    found = cells(standards.one_job(LensPower(-2.00, -0.75, 5), 2.00))

    assert [row[0] for row in found] == list(ONE_JOB)
    for name, ansi, iso in found:
        asked = [ONE_JOB[name]]
        assert agrees(ansi, printed(ANSI, SEGMENTS, asked, powers)), name
        if name in ("Power", "Cylinder"):
            cylinder = 0.75 if name == "Cylinder" else None
            assert agrees(iso, iso_power(SEGMENTS, 2.75, cylinder)), name
        else:
            assert agrees(iso, printed(ISO, SEGMENTS, asked, powers)), name


def test_the_prism_of_an_uncut_lens():
    """The table, and the worked lens of the articles on GB 10810.1: 0.45 and 0.35."""
    table = standards.prism_of_one_lens()
    for row in cells(table):
        for prism in band(row[0]):
            for part, cell in zip(("horizontal", "vertical"), row[1:], strict=True):
                powers = {f"ordered {part} prism": prism}
                expected = printed(UNCUT, SINGLE, [f"{part} prism"], powers)
                assert agrees(cell, expected, table.caption), row
    found = rules.uncut_prism(LensPower(0.50, -2.50, 20))
    assert (found.horizontal, found.vertical) == ("±0.45\xa0Δ*", "±0.35\xa0Δ*")


def test_which_list_is_for_which_lens():
    found = {row[0]: row[1:] for row in cells(standards.scopes())}

    assert found == {
        "uncut, single vision or multifocal": ["ANSI Z80.1-2015", "ISO 8980-1:2017"],
        "uncut, progressive": ["ANSI Z80.1-2015", "ISO 8980-2:2017"],
        "mounted, any kind": ["ANSI Z80.1-2015", "ISO 21987:2017"],
    }


STATED = {
    "Power": "meridian power",
    "Cylinder": "cylinder",
    "Axis": "axis",
    "Addition": "addition",
    "Segments": "segment",
    "Fitting points": "fitting point",
    "Thickness": "centre thickness",
}


@pytest.mark.parametrize("key", [ANSI, ISO])
def test_where_it_stands_hides_no_doubt(key):
    """How each published cell was seen stands in its row of the table."""
    seen = {row[0]: row[2] for row in cells(standards.where_it_stands(key))}
    for name, quantity in STATED.items():
        for row in rows("tolerances_cells"):
            if row["standard"] == key and row["quantity"].startswith(quantity):
                assert row["standing"] in seen[name], (name, row["id"])
    assert "memory" in seen["Prism, pair"]


# Which meridian -----------------------------------------------------------------------------------


def test_which_power_picks_the_limit():
    """The lens of the facts: 6.00 D by the sphere meridian, 8.00 D by the stronger one."""
    steep, plus = LensPower(-6.00, -2.00, 180), LensPower(5.00, 2.00, 90)
    found = [row[1:] for row in cells(rules.meridians_judged(steep, plus))]

    assert found == [
        ["6.00 D: ±0.13 D", "8.00 D: ±0.12 D*"],
        ["7.00 D: ±0.14 D", "7.00 D: ±0.12 D*"],  # 2 per cent of 7.00
    ]
    assert rules.power_limit(ANSI, -8.00) == "±0.16\xa0D"  # the rule of 1999: 2 per cent of 8.00


def test_two_eighths_that_add_pass_ansi_and_fail_iso():
    found = {
        row[0]: row[1:]
        for row in cells(
            rules.both_verdicts(LensPower(-6, -2, 180), LensPower(-6.125, -2.125, 180))
        )
    }

    assert found == {
        "Power along 180": ["−6.00", "−6.125", "±0.13 D: inside", "±0.12 D*: outside"],
        "Power along 090": ["−8.00", "−8.25", "not judged", "±0.12 D*: outside"],
        "Cylinder": ["−2.00", "−2.125", "±0.13 D: inside", "±0.18 D*: inside"],
        "Axis": ["180", "180", "±2°: inside", "±3°: inside"],
    }


def test_a_sphere_has_no_axis_to_compare():
    found = cells(rules.both_verdicts(LensPower(-2), LensPower(-2.25)))
    assert found[-1][:3] == ["Axis", "–", "–"]


def test_a_single_limit_in_words():
    assert rules.limit(ANSI, "prism error at the PRP") == "0.33\xa0Δ"
    assert rules.limit(ANSI, "displacement of the PRP") == "1.0\xa0mm"


# How sure a reading is ----------------------------------------------------------------------------


def test_the_budget_of_a_reading_near_zero():
    """The worked size of the facts: 0.036 and 0.035 make 0.050, U is 0.10 D."""
    found = {row[0]: row[1:] for row in cells(doubt.budgets())}

    assert found["at 2 D, to 0.125"] == ["0.036", "0.035", "0.050", "0.10"]
    for read, (marks, instrument, together, expanded) in found.items():
        step = float(read.rpartition(" ")[2])
        limit = 0.09 if read.startswith("at 8") else 0.06  # ISO 8598-1, from memory
        u = math.hypot(step / 2, limit) / math.sqrt(3)
        assert as_printed(marks) == step / 2 / math.sqrt(3)
        assert as_printed(instrument) == limit / math.sqrt(3)
        assert as_printed(together) == u
        assert as_printed(expanded) == 2 * u


def chance_inside(value, limit, u):
    normal = NormalDist(value, u)
    return normal.cdf(limit) - normal.cdf(-limit)


def wheel(cylinder, step, settings):
    """The setting within the angle that leaves 0.06 D, half a mark, one degree of the instrument.

    Two equal and opposite cylinders C that are t apart leave C sin t either way of zero.
    """
    play = next(
        tenth / 1000
        for tenth in range(45000)
        if cylinder * math.sin(2 * math.radians(tenth / 1000)) / 2 >= 0.06
    )
    return math.sqrt((play**2 / settings + (step / 2) ** 2 + 1) / 3)


def test_one_setting_settles_no_axis_and_four_do():
    """With 4.6 degrees of play at 0.75 D, and 1.7 degrees at 2.00 D."""
    settled = {row[0].removesuffix(", ANSI"): row[2] for row in cells(doubt.decides())}

    assert settled["Axis of 0.75, set once"] == settled["Axis of 2.00, set once"] == "never"
    assert settled["Axis of 0.75, mean of 4"] == "to 2.5°"
    assert settled["Axis of 2.00, mean of 4"] == "to 0.6°"
    assert settled["The same, wheel in 5°"] == "never"


def test_what_is_settled_is_so_with_95_per_cent():
    """The last place that is settled is, and the next one is not."""
    drum = math.hypot(0.0625, 0.06) / math.sqrt(3)
    wheels = {
        "Axis of 0.75, set once": wheel(0.75, 1, 1),
        "Axis of 0.75, mean of 4": wheel(0.75, 1, 4),
        "Axis of 2.00, set once": wheel(2.00, 1, 1),
        "Axis of 2.00, mean of 4": wheel(2.00, 1, 4),
        "The same, wheel in 5°": wheel(2.00, 5, 4),
    }
    for name, words, inside, outside in cells(doubt.decides()):
        axis = words.endswith("°")
        u = wheels[name.removesuffix(", ANSI")] if axis else drum
        u *= math.sqrt(2) if name.startswith("Cylinder") else 1
        limit, place = float(re.search(r"[\d.]+", words)[0]), 0.1 if axis else 0.01
        if inside == "never":
            assert chance_inside(0, limit, u) < 0.95
        else:
            last = float(re.search(r"[\d.]+", inside)[0])
            assert chance_inside(last, limit, u) >= 0.95 > chance_inside(last + place, limit, u)
        first = float(re.search(r"[\d.]+", outside)[0])
        beyond = [NormalDist(at, u).cdf(limit) for at in (first, first - place)]
        assert beyond[0] <= 0.05 < beyond[1]


def test_the_spread_of_a_reader():
    readings = (-2.25, -2.375, -2.25, -2.125, -2.25)
    drum = doubt.one_reading(0.125, 2.0)
    whole = doubt.with_reader(drum, *readings)

    assert doubt.scatter(*readings).standard_deviation == pytest.approx(stdev(readings))
    assert whole.combined == pytest.approx(math.hypot(drum.combined, stdev(readings)))
    assert whole.lasting == pytest.approx(drum.combined)


# The card -----------------------------------------------------------------------------------------


def short_bands(names):
    """The first and last power of rows such as "to 6.50", "to 8.00", "over 8.00"."""
    begins = 0.0
    for name in names:
        word, edge = name.split()[-2:]
        end = BEYOND if word == "over" else float(edge)
        yield begins, end
        begins = end + JUST


def test_the_ansi_panel_of_the_card():
    found = cells(cards.ansi_powers())
    groups = {"Power": ("meridian power", "sphere meridian"), "Cyl.": ("cylinder", "cylinder")}
    for name, (quantity, by) in groups.items():
        of_group = [row for row in found if row[0].startswith(name)]
        bands = short_bands(row[0] for row in of_group)
        for row, ends in zip(of_group, bands, strict=True):
            for power in ends:
                for kind, cell in zip((SINGLE, PROGRESSIVE), row[1:], strict=True):
                    assert agrees(cell, printed(ANSI, kind, [quantity], {by: power})), row
    assert len(found) == 7


@pytest.mark.parametrize(
    ("kind", "words"), [(SINGLE, "single vision"), (PROGRESSIVE, "progressive")]
)
def test_the_iso_panel_of_the_card(kind, words):
    table = cards.iso_powers(words)
    cylinders = [float(head[1:]) for head in table.head[2:-1]]
    found = cells(table)

    assert table.caption.endswith(ALL_FROM_MEMORY)
    assert table.head[-1] == ">6.00"
    for row, ends in zip(found, short_bands(row[0] for row in found), strict=True):
        for power in ends:
            assert agrees(row[1], iso_power(kind, power), table.caption)
            for cylinder, cell in zip((*cylinders, BEYOND), row[2:], strict=True):
                assert agrees(cell, iso_power(kind, power, cylinder), table.caption), row


def test_the_axis_on_the_card_is_that_of_the_page():
    found = cells(cards.axis_and_addition())
    on_page = [row[:3] for row in cells(standards.axes())]

    assert found[: len(on_page)] == on_page
    additions = found[len(on_page) :]
    for row, ends in zip(additions, short_bands(row[0] for row in additions), strict=True):
        for power in ends:
            for key, cell in zip((ANSI, ISO), row[1:], strict=True):
                assert agrees(cell, printed(key, SEGMENTS, ["addition"], {"addition": power}))


ON_CARD = {
    "Height, segment or cross": ("segment height", "fitting point height"),
    "Heights, right less left": ("segment height difference", "fitting point height difference"),
    "Near PD of segments": ("distance between the segments",),
    "Monocular PD of cross": ("monocular distance of the fitting point",),
    "Tilt, segment or marks": ("segment tilt", "tilt of the permanent marks"),
    "Centre thickness": ("centre thickness",),
    "Base curve, if ordered": ("base curve",),
    "Warpage": ("warpage",),
}


def test_the_pair_on_the_card():
    found = cells(cards.pair_and_places())
    imbalances = [row for row in found if row[0].split()[0] in PAIR]
    for name in PAIR:
        of_way = [row for row in imbalances if row[0].startswith(name)]
        for row, ends in zip(of_way, short_bands(row[0] for row in of_way), strict=True):
            words = f"{name} over {ends[0]} to {ends[1]}" if ends[0] else f"{name} to {ends[1]}"
            of_pair([words, *row[1:]], SINGLE)

    places = {row[0]: row[1:] for row in found if row not in imbalances}
    assert list(places) == list(ON_CARD)
    for name, quantities in ON_CARD.items():
        for key, cell in zip((ANSI, ISO), places[name], strict=True):
            parts = cell.split(" / ") * (1 if " / " in cell else len(quantities))
            for quantity, part in zip(quantities, parts, strict=True):
                expected = next(
                    (
                        found
                        for kind in (SEGMENTS, PROGRESSIVE, SINGLE)
                        if (found := printed(key, kind, [quantity], {}))
                    ),
                    None,
                )
                assert agrees(part, expected), (name, key)


# The record ---------------------------------------------------------------------------------------


def test_the_blank_form_has_nothing_in_it():
    for form in (record.lenses(), record.pair()):
        assert all(cell == "" for row in cells(form) for cell in row[1:])


@pytest.mark.parametrize("form", [record.lenses, record.pair])
def test_the_filled_form_is_the_blank_one(form):
    blank, filled = cells(form()), cells(form(filled=True))

    assert [row[0] for row in blank] == [row[0] for row in filled]
    assert form().head == form(filled=True).head
    assert all(cell for row in filled for cell in row)


def test_the_filled_form_by_hand():
    """Worked out with pencil: 3 and 4 degrees of axis, an eighth of sphere, half a millimetre."""
    found = {
        row[0]: row[1:]
        for form in (record.lenses(filled=True), record.pair(filled=True))
        for row in cells(form)
    }

    assert found["R sphere"] == ["−2.00", "−2.12", "−0.125", "±0.13 D", "inside"]
    assert found["PD"] == ["63.0", "64.0", "–", "by prism", "–"]
    assert found["Near PD"] == ["60.0", "61.0", "1.0", "±2.5 mm", "inside"]
    assert found["R power across the axis"][:2] == ["−2.75", "−2.87"]
    assert found["R axis"] == ["005", "008", "3°", "±5°", "inside"]
    assert found["L axis"] == ["172", "168", "4°", "±3°", "outside"]
    assert found["L cylinder"] == ["−1.25", "−1.12", "+0.125", "±0.13 D", "inside"]
    assert found["L prism in, out"][1] == "0.25 BI"
    assert found["L prism up, down"][1] == "0.25 BU"
    assert found["Imbalance, R less L, up +"] == ["0.00", "−0.25", "−0.25", "0.33 Δ", "inside"]
    assert found["Imbalance, together, in +"] == ["0.00", "0.25", "0.25", "0.67 Δ", "inside"]
    assert found["Heights, R less L"] == ["0.0", "−0.5", "−0.5", "1.0 mm", "inside"]
    assert found["Tilt of segment or marks, R / L"] == ["0°", "1° / 0°", "1° / 0°", "2°", "inside"]
    assert [name for name, row in found.items() if row[-1] == "outside"] == ["L axis"]
    assert record.verdict() == "outside, by the left axis"
    assert record.orders() == (
        "right −2.00 −0.75 × 005 add +2.00; left −2.25 −1.25 × 172 add +2.00"
    )


# Words and the picture ----------------------------------------------------------------------------


def test_bands_in_words():
    assert [Stretch(0, 3, ()).words, Stretch(3, 6, ()).short] == ["0.00 to 3.00", "to 6.00"]
    assert Stretch(6, math.inf, ()).short == "over 6.00"
    assert (shown(3.375), shown(5)) == ("3.375", "5.00")


SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize(("width", "scale"), [("narrow", 2.1), ("wide", 4.0)])
def test_the_picture_of_positions_is_to_scale(width, scale):
    """The brackets are as long as the distances and heights of the pair behind it."""
    drawing = ET.fromstring(getattr(check.positions(), width))
    ends = [
        [float(each.get(name)) for name in ("x1", "x2", "y1", "y2")]
        for each in drawing.iter(f"{SVG}line")
        if each.get("class") == "bracket"
    ]
    across = {round((x2 - x1) / scale, 1) for x1, x2, y1, y2 in ends if y1 == y2}
    up = {round(abs(y2 - y1) / scale, 1) for x1, x2, y1, y2 in ends if x1 == x2}
    right, left = check.PAIR.right, check.PAIR.left

    assert {right.prp_distance + left.prp_distance, right.prp_distance, 60.0} <= across
    assert {right.segment_height, left.segment_height - right.segment_height} <= up
    assert [each.text for each in drawing.iter(f"{SVG}text")].count("4") == 1
    assert check.difference() == -3.0


def test_each_number_of_the_picture_is_explained():
    figure = check.positions()
    for drawing in (figure.narrow, figure.wide):
        texts = {each.text for each in ET.fromstring(drawing).iter(f"{SVG}text")}
        assert texts == set("123456")
    assert all(f"{number}: " in figure.description for number in "123456")
