"""The tables of the look-up stage: against printed figures, or worked out in another way."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from lensmath.notation import write_axis, write_power
from site_src.calculators.answer import Table, plain
from site_src.tables import glass, lookup
from tests.printed import as_printed, rows

ALL = {
    "both forms": lookup.both_forms(),
    "new spheres": lookup.new_spheres(),
    "turned axes": lookup.turned_axes(),
    "plus moved": lookup.moved_lens(+1),
    "minus moved": lookup.moved_lens(-1),
    "plus at the cornea": lookup.at_the_cornea(+1),
    "minus at the cornea": lookup.at_the_cornea(-1),
    "prism": lookup.prism_by_millimetres(),
    "millimetres": lookup.millimetres_for_prism(),
    "base of shift": lookup.base_of_shift(),
    "bases by degrees": lookup.bases_by_degrees(),
    "degrees by bases": lookup.degrees_by_bases(),
    "marks": lookup.written_marks(),
    "sixteenths": lookup.sixteenths(),
    "sags": glass.sags(),
    "curves": glass.curves_of_materials(),
    "materials": glass.materials(),
    "index": glass.follows_from_index(),
}


def body(table: Table) -> list[list[str]]:
    """The cells as text, row by row."""
    return [[plain(each) for each in row] for row in table.rows]


def by_head(table: Table) -> dict[str, list[str]]:
    """The cells of each row under its first one."""
    found = {first: others for first, *others in body(table)}
    assert len(found) == len(table.rows)
    return found


def cell(table: Table, row: str, head: str) -> str:
    """One cell, by the heads of its row and its column."""
    return by_head(table)[row][table.head.index(head) - 1]


def value(text: str) -> float:
    """A shown figure as a number."""
    return float(re.sub(r"[^\d.-]", "", text.replace("−", "-")))


@pytest.mark.parametrize("table", ALL.values(), ids=list(ALL))
def test_a_table_fits_a_phone(table: Table) -> None:
    """At most five columns that stand side by side, and no cell that would break a line of three.

    13 px digits in a column of 328 px: 5 columns of 9 characters, or 2 of 20.
    """
    assert table.kind == "grid"
    assert 2 <= len(table.head) <= 5
    assert all(len(row) == len(table.head) for row in table.rows)
    widest = [max(len(cells[column]) for cells in body(table)) for column in range(len(table.head))]
    assert sum(widest) <= 45, widest


# The forms of a lens ------------------------------------------------------------------------------


def test_both_forms_are_those_that_are_printed() -> None:
    """Each row is a published transposition, read either way; every published one is there."""
    shown = {frozenset(row) for row in body(lookup.both_forms())}
    printed = set()
    for row in rows("transposition"):
        forms = [
            [row[prefix + name] for name in ("sphere", "cylinder", "axis")]
            for prefix in ("", "printed_")
        ]
        printed.add(frozenset(_written(*form) for form in forms))
    assert shown == printed


def _written(sphere: str, cylinder: str, axis: str) -> str:
    first = "plano" if float(sphere) == 0 else write_power(float(sphere))
    return f"{first} {write_power(float(cylinder))} × {axis}"


def test_the_minus_form_stands_first() -> None:
    """So that a reader knows which column to look down."""
    for minus, plus in body(lookup.both_forms()):
        assert minus.split()[1].startswith("−")
        assert plus.split()[1].startswith("+")


def test_a_new_sphere_is_sphere_plus_cylinder() -> None:
    """In quarters, so that there is nothing to round."""
    table = lookup.new_spheres()
    for sphere, cells in by_head(table).items():
        for cylinder, new in zip(table.head[1:], cells, strict=True):
            assert value(new) == value(sphere) + value(cylinder)
    assert by_head(table)["+1.50"][0] == "+1.00"  # printed with axis 125: durham-tech-8


def test_axes_that_belong_together_are_a_right_angle_apart() -> None:
    """Every five degrees, each axis once, none of them 000."""
    cells = [each for row in body(lookup.turned_axes()) for each in row]
    assert sorted(cells) == [write_axis(axis) for axis in range(5, 185, 5)]
    for one, other, third, fourth in body(lookup.turned_axes()):
        assert value(other) - value(one) == value(fourth) - value(third) == 90
    assert ["005", "095"] in [row[:2] for row in body(lookup.turned_axes())]


# Vertex distance ----------------------------------------------------------------------------------


def test_a_moved_lens_has_the_printed_power() -> None:
    """Found at 10 mm, worn at 14 mm: T05-01."""
    (row,) = [row for row in rows("vertex_compensated") if row["id"] == "T05-01"]
    assert row["further"] == "4"
    shown = cell(lookup.moved_lens(-1), "−12.00", "4 further")
    assert value(shown) == as_printed(row["printed_sphere"])


def test_a_lens_at_the_cornea_has_the_printed_power() -> None:
    """-10.00 worn at 10 mm is -9.09 at the eye (mrcophth-optics-test-6, its figure in examples)."""
    assert value(cell(lookup.at_the_cornea(-1), "−10.00", "10 mm")) == as_printed("-9.09")


@pytest.mark.parametrize("sign", [+1, -1])
def test_a_moved_lens_keeps_its_far_point(sign: int) -> None:
    """The focus lies at 1 / F from the lens, and does not move when the lens does."""
    moves = {"closer": -1, "further": +1}
    table = lookup.moved_lens(sign)
    for power, cells in by_head(table).items():
        for head, shown in zip(table.head[1:], cells, strict=True):
            millimetres, way = head.split()
            focus = 1000 / value(power) + moves[way] * float(millimetres)
            assert value(shown) == pytest.approx(1000 / focus, abs=0.005001)


@pytest.mark.parametrize("sign", [+1, -1])
def test_at_the_cornea_the_far_point_is_nearer_by_the_vertex_distance(sign: int) -> None:
    """A plus lens becomes stronger, a minus lens weaker."""
    table = lookup.at_the_cornea(sign)
    for power, cells in by_head(table).items():
        for head, shown in zip(table.head[1:], cells, strict=True):
            focus = 1000 / value(power) - value(head)
            assert value(shown) == pytest.approx(1000 / focus, abs=0.005001)
            assert (abs(value(shown)) - abs(value(power))) * sign > 0


@pytest.mark.parametrize("table", ["minus moved", "minus at the cornea"])
def test_nine_dioptres_are_there(table: str) -> None:
    """And every whole power up to 20, each with its sign."""
    powers = list(by_head(ALL[table]))
    assert "−9.00" in powers
    assert powers == [write_power(-power) for power in range(3, 21)]


# Prism by decentration ----------------------------------------------------------------------------


def test_prism_is_power_times_centimetres() -> None:
    """Prentice's rule; the columns of a sum add up, as with the 6 mm of T04-07."""
    table = lookup.prism_by_millimetres()
    for power, cells in by_head(table).items():
        for head, shown in zip(table.head[1:], cells, strict=True):
            assert value(shown) == pytest.approx(value(power) * value(head) / 10, abs=0.0051)
    one, *_, five = map(value, by_head(table)["2.50"])
    assert one + five == as_printed("1.5")
    assert 2 * value(by_head(table)["5.00"][-1]) == as_printed("5")  # 10 mm: T04-08


def test_millimetres_for_prism_are_the_printed_ones() -> None:
    """+4.00 needs 5 mm for two prism dioptres: a published question; the rest by the rule."""
    table = lookup.millimetres_for_prism()
    (printed,) = [row for row in rows("decentration_wanted") if row["id"] == "MOCK-13-7-R"]
    assert value(cell(table, "4.00", "2 Δ")) == abs(float(printed["printed_inward"]))
    for power, cells in by_head(table).items():
        for head, shown in zip(table.head[1:], cells, strict=True):
            assert value(shown) == pytest.approx(10 * value(head) / value(power), abs=0.05001)


def test_the_base_goes_with_a_plus_lens_and_against_a_minus_lens() -> None:
    """For each of the four ways that an optical centre can be moved."""
    opposite = {"up": "down", "down": "up", "in": "out", "out": "in"}
    assert by_head(lookup.base_of_shift()) == {
        way: [f"base {way}", f"base {opposite[way]}"] for way in opposite
    }


# The base by eye ----------------------------------------------------------------------------------


def test_a_base_at_180_on_a_left_lens_is_in() -> None:
    """Each word follows from a cosine and a sine.

    The scale runs counter-clockwise from the observer's right (iso-8429-1986), and the nose lies to
    the right of a right eye.
    """
    table = lookup.bases_by_degrees()
    assert table.head[1:] == ("Right lens", "Left lens")
    for shown, (right, left) in by_head(table).items():
        angle = math.radians(int(shown.split()[0]))
        across, up = round(math.cos(angle), 9), round(math.sin(angle), 9)
        for words, inward in ((right, across), (left, -across)):
            expected = _way(up, "up", "down") + _way(inward, "in", "out")
            assert words == " and ".join(expected)
    assert by_head(table)["180"] == ["out", "in"]
    assert lookup.base_words(180, "left") == "in"


def _way(value: float, more: str, less: str) -> list[str]:
    return [] if value == 0 else [more if value > 0 else less]


def test_words_and_degrees_say_the_same() -> None:
    """Each word leads to a direction, and that direction back to the word."""
    back = by_head(lookup.bases_by_degrees()) | {
        "0": by_head(lookup.bases_by_degrees())["0 or 360"]
    }
    for words, directions in by_head(lookup.degrees_by_bases()).items():
        letters, name = words.split(", base ")
        assert letters == f"B{name[0].upper()}"
        for eye, degrees in enumerate(directions):
            assert back[degrees][eye] == name


# The marks of the scale ---------------------------------------------------------------------------


def test_marks_are_eighths_and_odd_ones_are_cut() -> None:
    """0.12, 0.37, 0.62 and 0.87 stand for three decimals (nj-virginia-rules); 1.37 is 1.375."""
    table = by_head(lookup.written_marks())
    for number, (written, (true, part, counted)) in enumerate(table.items(), 1):
        assert value(true) == number / 8
        assert value(written) == math.floor(number / 8 * 100) / 100
        assert counted == f"{number}"
        whole, eighths = divmod(number, 8)
        numeral = {0: "", 1: "⅛", 2: "¼", 3: "⅜", 4: "½", 5: "⅝", 6: "¾", 7: "⅞"}[eighths]
        assert part == f"{whole or ''} {numeral}".strip()
    assert table["1.37"] == ["1.375", "1 ⅜", "11"]
    assert list(table)[-1] == "3.00"


def test_sixteenths_between_the_marks_are_rounded() -> None:
    """An eighth is cut; what lies between two marks is only a judgement, and is rounded."""
    shown = body(lookup.sixteenths())
    for number, (count, true, written, how) in enumerate(shown, 1):
        assert (count, value(true)) == (f"{number}", number / 16)
        if number % 4 == 0:
            expected = "as it is", number / 16
        elif number % 2 == 0:
            expected = "cut", math.floor(number / 16 * 100) / 100
        else:
            expected = "rounded", float(np.round(number / 16, 2))
        assert (how, value(written)) == expected
    assert len(shown) == 15


# Surfaces and materials ---------------------------------------------------------------------------


@pytest.mark.parametrize("row", rows("thickness_sagitta"), ids=lambda row: str(row["id"]))
def test_sag_is_the_benchmark(row: dict[str, str]) -> None:
    """In the index and across the width of the row."""
    table = glass.sags(float(row["index"]))
    shown = cell(table, row["power"].lstrip("+"), f"{row['diameter']} mm")
    assert value(shown) == pytest.approx(float(row["printed_exact"]), abs=0.005)


def test_sag_is_the_depth_of_a_circle() -> None:
    """Through three points: the middle of the surface and the two ends of the chord."""
    table = glass.sags()
    for curve, cells in by_head(table).items():
        radius = 1000 * 0.530 / value(curve)
        for head, shown in zip(table.head[1:], cells, strict=True):
            half = value(head) / 2
            centre = np.array([0.0, value(shown) - radius])
            assert np.hypot(*(np.array([half, 0.0]) - centre)) == pytest.approx(radius, abs=0.0051)


def test_a_curve_in_another_index_is_the_same_curve() -> None:
    """Its depth is that of the true power in the true index."""
    table = by_head(glass.curves_of_materials())
    assert "1.53" not in table
    for index, (factor, becomes) in table.items():
        assert value(factor) == pytest.approx(0.530 / (float(index) - 1), abs=0.00051)
        assert value(becomes) == pytest.approx(6 * 0.530 / (float(index) - 1), abs=0.0051)


def test_materials_have_what_the_sources_print() -> None:
    """Abbe numbers of abbe-number-table and lens-materials-page; glass density from memory."""
    assert body(glass.materials()) == [
        ["hard resin", "1.498", "58", "1.31"],
        ["crown glass", "1.523", "59", "2.54*"],
        ["tough resin", "1.53", "43", "1.11"],
        ["polycarbonate", "1.586", "30", "1.20"],
        ["high-index resin", "1.60", "36", "1.30"],
        ["high-index resin", "1.67", "32", "1.37"],
        ["high-index resin", "1.74", "33", "1.47"],
    ]
    assert "* from memory" in glass.materials().caption


def test_what_follows_from_the_index() -> None:
    """The curve by (n - 1), the light lost by Fresnel's formula, the e line by 0.24 / V."""
    for (_, index, abbe, _), (shown, curve, lost, gained) in zip(
        body(glass.materials()), body(glass.follows_from_index()), strict=True
    ):
        n = float(index)
        assert shown == index
        assert value(curve) == pytest.approx(6 * (n - 1) / 0.530, abs=0.0051)
        assert value(lost) == pytest.approx(100 * ((n - 1) / (n + 1)) ** 2, abs=0.051)
        assert value(gained) == pytest.approx(10 * 0.239 / float(abbe), abs=0.0051)


# How numbers are shown ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("power", "shown"), [(-9.125, "−9.13"), (8.115, "+8.12"), (12.5, "+12.50")]
)
def test_a_computed_power_is_rounded_and_not_cut(power: float, shown: str) -> None:
    """An eighth that comes out of a sum was not read off marks."""
    assert lookup.hundredths(power) == shown
