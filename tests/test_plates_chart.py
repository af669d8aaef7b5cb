"""The wall chart and the picture of the bases: what is drawn is what the package says."""

from __future__ import annotations

import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from lensmath.notation import write_power
from lensmath.scale import HAND_SCALE
from site_src.figures.svg import NARROW, WIDE, Column, text_width
from site_src.plates import chart

SVG = "{http://www.w3.org/2000/svg}"
COLUMNS = pytest.mark.parametrize("column", [NARROW, WIDE], ids=["narrow", "wide"])


class Row:
    """One row of the chart: its ticks with their lengths, and its texts with their places."""

    def __init__(self, group: ET.Element) -> None:
        self.side = group.attrib["class"]
        self.ticks: dict[float, float] = {}
        for path in group.iter(f"{SVG}path"):
            for x, _, length in re.findall(r"M ([\d.]+) ([\d.]+) v ([\d.]+)", path.attrib["d"]):
                self.ticks[float(x)] = float(length)
        texts = [_text(node) for node in group.iter(f"{SVG}text")]
        self.caption = next(text for *_, text in texts if "from mark" in text)
        self.numbers = [each for each in texts if "from mark" not in each[2]]
        (line,) = group.iter(f"{SVG}line")
        self.y = float(line.attrib["y1"])
        self.ends = float(line.attrib["x1"]), float(line.attrib["x2"])


def _text(node: ET.Element) -> tuple[float, float, str]:
    return float(node.attrib["x"]), float(node.attrib["y"]), "".join(node.itertext())


def rows(column: Column) -> list[Row]:
    """The four rows of the chart in a column."""
    root = ET.fromstring(getattr(chart.number_line(), column.name))
    return [Row(group) for group in root.iter(f"{SVG}g") if group.find(f"{SVG}path") is not None]


@COLUMNS
def test_rows_go_on_where_the_one_before_ends(column: Column) -> None:
    """From minus to plus, with as many marks in each, evenly apart."""
    found = rows(column)
    assert [row.side for row in found] == ["minus", "minus", "plus", "plus"]
    assert [row.caption.split()[0] for row in found] == ["0.25", "0.125", "0.125", "0.25"]
    for row in found:
        places = sorted(row.ticks)
        assert len(places) == 25
        assert (places[0], places[-1]) == row.ends
        steps = [right - left for left, right in pairwise(places)]
        assert max(steps) - min(steps) < 0.02
    assert [row.numbers[0][2] for row in found][1:] == [row.numbers[-1][2] for row in found][:-1]


def test_every_mark_of_the_scale_has_its_number() -> None:
    """On the wide drawing, the one that is printed: each number at its own mark."""
    shown = []
    for row in rows(WIDE):
        by_place = sorted(row.numbers)
        assert [x for x, *_ in by_place] == pytest.approx(sorted(row.ticks))
        shown += [text for *_, text in by_place]
    marks = HAND_SCALE.marks(-9, 9)
    assert list(dict.fromkeys(shown)) == [write_power(mark) for mark in marks]


@COLUMNS
def test_whole_dioptres_have_the_longest_ticks(column: Column) -> None:
    """And halves longer ones than what lies between."""
    for row in rows(column):
        lengths = [row.ticks[place] for place in sorted(row.ticks)]
        in_a_dioptre = 8 if "0.125" in row.caption else 4
        assert lengths[0] == lengths[-1] == 20
        for number, length in enumerate(lengths):
            part = number % in_a_dioptre
            assert length == (20 if part == 0 else 13 if part == in_a_dioptre / 2 else 8)


def test_a_phone_shows_the_whole_dioptres() -> None:
    """In short: there is no room for decimals."""
    shown = [[text for *_, text in sorted(row.numbers)] for row in rows(NARROW)]
    assert shown[0] == ["−9", "−8", "−7", "−6", "−5", "−4", "−3"]
    assert shown[1:3] == [["−3", "−2", "−1", "0"], ["0", "+1", "+2", "+3"]]
    assert shown[3][-1] == "+9"


@COLUMNS
def test_numbers_stand_clear_of_each_other(column: Column) -> None:
    """On one level, and within the drawing."""
    for row in rows(column):
        for level in {y for _, y, _ in row.numbers}:
            side_by_side = sorted((x, text) for x, y, text in row.numbers if y == level)
            for (left, one), (right, other) in pairwise(side_by_side):
                assert right - left >= (text_width(one) + text_width(other)) / 2
            first, last = side_by_side[0], side_by_side[-1]
            assert first[0] - text_width(first[1]) / 2 >= 0
            assert last[0] + text_width(last[1]) / 2 <= column.width


@COLUMNS
def test_one_row_ends_above_the_next(column: Column) -> None:
    """The numbers of a row stand over the caption of the next one by more than half a line."""
    found = rows(column)
    for above, below in pairwise(found):
        lowest = max(y for _, y, _ in above.numbers)
        highest = below.y - 5 - 32
        assert highest - lowest > 6


def test_the_chart_says_what_it_shows() -> None:
    """Ends, change of step, and which side is which."""
    said = chart.number_line().description
    for part in (
        "−9.00 D to +9.00 D",
        "−3.00 D to +3.00 D",
        "0.125 D",
        "0.25 D",
        "Minus lies to the",
    ):
        assert part in said


# The bases ----------------------------------------------------------------------------------------

# Written down by hand: the nose lies to the observer's right of a right lens (iso-8429-1986).
RIGHT = {"0": "in", "90": "up", "180": "out", "270": "down"}
LEFT = {"0": "out", "90": "up", "180": "in", "270": "down"}


@COLUMNS
def test_each_direction_has_its_word_at_its_side_of_the_lens(column: Column) -> None:
    """Degrees stand over the word, outside of the rim, to the right, above, left and below."""
    root = ET.fromstring(getattr(chart.bases(), column.name))
    texts = [_text(node) for node in root.iter(f"{SVG}text")]
    circles = sorted(
        (float(node.attrib["cx"]), float(node.attrib["cy"]), float(node.attrib["r"]))
        for node in root.iter(f"{SVG}circle")
    )
    for (x, y, radius), words, name in zip(
        circles, (RIGHT, LEFT), ("right lens", "left lens"), strict=True
    ):
        assert (x, name) in [(at, text) for at, _, text in texts]
        for degrees, word in words.items():
            across, up = {"0": (1, 0), "90": (0, 1), "180": (-1, 0), "270": (0, -1)}[degrees]
            (place,) = [
                (tx - x, y - ty)
                for tx, ty, text in texts
                if text == degrees and abs(tx - x) < 2 * radius
            ]
            assert place[0] * across + place[1] * up > radius - 1
            assert abs(place[0] * up) + abs(place[1] * across) < 17
            below = [
                text for tx, ty, text in texts if tx - x == place[0] and y - ty == place[1] - 16
            ]
            assert below == [word]


@COLUMNS
def test_the_words_do_not_run_into_the_other_lens(column: Column) -> None:
    """Nor out of the drawing: estimated on the safe side."""
    root = ET.fromstring(getattr(chart.bases(), column.name))
    nodes = [node for node in root.iter(f"{SVG}text") if _text(node)[2] != "nose"]
    left = [box for node in nodes if (box := _box(node))[2] < column.width / 2]
    right = [box for node in nodes if (box := _box(node))[2] > column.width / 2]
    assert len(left) == len(right) == 9
    assert min(start for start, *_ in left) >= 0
    assert max(end for _, end, _ in left) <= min(start for start, *_ in right)
    assert max(end for _, end, _ in right) <= column.width


def _box(node: ET.Element) -> tuple[float, float, float]:
    x, _, text = _text(node)
    width = text_width(text)
    start = {"start": x, "middle": x - width / 2, "end": x - width}[node.attrib["text-anchor"]]
    return start, start + width, x


def test_the_picture_says_the_words_of_both_lenses() -> None:
    """The right lens first."""
    said = chart.bases().description
    assert "Right lens: 0 is in, 90 is up, 180 is out, 270 is down." in said
    assert "Left lens: 0 is out, 90 is up, 180 is in, 270 is down." in said
