"""The pictures of written powers and axes."""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET

import pytest

from site_src.figures.svg import Figure
from site_src.plates.writing import axis_scale, eighth_steps
from tests.test_figures import boxes, drawings, having, number, texts

FIGURES = (eighth_steps(), axis_scale())
NUMBER = r"-?\d+(?:\.\d+)?"
CUT = {0.125: "0.12", 0.375: "0.37", 0.625: "0.62", 0.875: "0.87"}


def labels(drawing: ET.Element) -> dict[str, list[tuple[float, float]]]:
    found: dict[str, list[tuple[float, float]]] = {}
    for node in drawing.iter("{http://www.w3.org/2000/svg}text"):
        found.setdefault(str(node.text), []).append((number(node, "x"), number(node, "y")))
    return found


def test_every_eighth_stands_at_its_place_with_its_cut_form() -> None:
    for drawing in drawings(eighth_steps()):
        placed = labels(drawing)
        ((left, _),), ((right, _),) = placed["0.00"], placed["1.00"]
        for true, cut in CUT.items():
            x = left + true * (right - left)
            assert placed[f"{true:.3f}"][0][0] == pytest.approx(x)
            assert placed[cut][0][0] == pytest.approx(x)
        for quarter in ("0.25", "0.50", "0.75"):
            at = left + float(quarter) * (right - left)
            assert placed[quarter][0][0] == pytest.approx(at)


def test_the_cut_form_is_the_bold_one() -> None:
    for drawing in drawings(eighth_steps()):
        bold = [node.text for node in having(drawing, "text", "strong")]
        assert bold == list(CUT.values())


def test_the_words_pair_the_true_eighth_with_the_written_one() -> None:
    for true, cut in CUT.items():
        assert f"{true:.3f} is {cut}" in eighth_steps().description


def test_a_mark_for_every_eighth() -> None:
    for drawing in drawings(eighth_steps()):
        (ticks,) = having(drawing, "path", "ink")
        at = [float(x) for x in re.findall(rf"M ({NUMBER})", ticks.attrib["d"])]
        steps = [b - a for a, b in itertools.pairwise(at)]
        assert len(at) == 9
        assert steps == pytest.approx([steps[0]] * 8, abs=0.02)


def test_right_eye_at_the_left_and_both_scales_alike() -> None:
    for drawing in drawings(axis_scale()):
        placed = labels(drawing)
        ((right_eye, _),), ((left_eye, _),) = placed["Right eye"], placed["Left eye"]
        assert right_eye < placed["nose"][0][0] < left_eye
        for axis in ("030", "060", "090", "120", "150", "180"):
            (x1, y1), (x2, y2) = placed[axis]
            assert x2 - x1 == pytest.approx(left_eye - right_eye)
            assert y1 == y2


def test_numbers_grow_against_the_clock_from_the_right() -> None:
    for drawing in drawings(axis_scale()):
        placed = labels(drawing)
        middle, level = placed["Right eye"][0][0], placed["180"][0][1] - 16
        for axis in (30, 60, 90, 120, 150):
            x, y = placed[f"{axis:03d}"][0]
            turn = math.degrees(math.atan2(level - (y - 13 / 3), x - middle))
            assert turn == pytest.approx(axis, abs=2)


def test_the_arrow_points_the_same_way() -> None:
    for drawing in drawings(axis_scale()):
        for arc, tip in zip(
            having(drawing, "path", "arc"), having(drawing, "path", "solid"), strict=True
        ):
            start, *_, end, _ = (float(x) for x in re.findall(NUMBER, arc.attrib["d"]))
            *_, point, _ = (float(x) for x in re.findall(NUMBER, tip.attrib["d"]))
            assert point < end < start


@pytest.mark.parametrize("figure", FIGURES, ids=lambda each: each.name)
def test_text_stays_inside_and_apart(figure: Figure) -> None:
    for drawing in drawings(figure):
        *_, width, height = map(float, drawing.attrib["viewBox"].split())
        placed = boxes(drawing)
        for box in placed:
            assert box.left >= 0, box
            assert box.right <= width, box
            assert box.bottom <= height, box
        clashes = [(a.text, b.text) for a, b in itertools.combinations(placed, 2) if a.meets(b)]
        assert clashes == []
        assert texts(drawing)
