"""The pictures of heights and of the block: what is drawn is where the lens has it."""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator

import pytest

from lensmath.centration import Point
from site_src.figures.svg import Figure
from site_src.plates import edging, heights
from tests.test_figures import boxes, drawings, having, number, texts

FIGURES = (heights.fitting_heights(), edging.block_places(), edging.block_slip())
NUMBER = r"-?\d+(?:\.\d+)?"
SCALES = (3.5, 5.0)  # px for 1 mm in the two drawings of the heights
FINE = 400  # places on one piece of the outline


def dense() -> Iterator[Point]:
    """The outline, far finer than the module samples it, by the Bernstein form of a cubic."""
    for a, b, c, d in heights.outline():
        for step in range(FINE):
            t = step / FINE
            yield Point(
                *(
                    (1 - t) ** 3 * a[i]
                    + 3 * t * (1 - t) ** 2 * b[i]
                    + 3 * t**2 * (1 - t) * c[i]
                    + t**3 * d[i]
                    for i in (0, 1)
                )
            )


def measures(drawing: ET.Element) -> list[tuple[float, float, float]]:
    """x, lower and upper end of every upright measure, in px."""
    found = []
    for node in having(drawing, "path", "ink"):
        if match := re.match(rf"M ({NUMBER}) ({NUMBER}) V ({NUMBER}) M", node.attrib["d"]):
            x, low, high = map(float, match.groups())
            found.append((x, low, high))
    return found


def numbers(node: ET.Element) -> list[float]:
    return [float(found) for found in re.findall(NUMBER, node.attrib["d"])]


def test_the_outline_fills_its_box() -> None:
    places = list(dense())
    for axis, size in ((0, heights.FRAME.a), (1, heights.FRAME.b)):
        reach = [place[axis] for place in places]
        assert max(reach) - min(reach) == pytest.approx(size, abs=0.15)
        assert max(reach) + min(reach) == pytest.approx(0, abs=0.15)


def test_the_outline_has_no_corner() -> None:
    """Each piece leaves its start in the direction in which the piece before arrives."""
    curves = heights.outline()
    for before, curve in zip((curves[-1], *curves[:-1]), curves, strict=True):
        assert before.end == curve.start
        arrives = (before.end.x - before.second.x, before.end.y - before.second.y)
        leaves = (curve.first.x - curve.start.x, curve.first.y - curve.start.y)
        assert math.atan2(*arrives) == pytest.approx(math.atan2(*leaves))


def test_the_lowest_point_is_not_below_the_pupil() -> None:
    pupil = heights.FRAME.decentration(heights.DISTANCE_PD).inward
    lowest = min(dense(), key=lambda place: place.y)
    assert abs(lowest.x - pupil) > 5
    assert heights.rim_below(lowest.x) == pytest.approx(0, abs=0.02)


def test_the_rim_below_the_pupil_is_that_of_the_outline() -> None:
    found = heights.heights()
    pupil = found.layout.distance.inward
    below = [place for place in dense() if place.y < 0 and abs(place.x - pupil) < 0.1]
    rim = sum(place.y for place in below) / len(below) + heights.FRAME.b / 2  # type: ignore[operator]
    assert found.from_rim == pytest.approx(found.fitting - rim, abs=0.1)
    assert found.short == pytest.approx(rim, abs=0.1)


def test_the_wrong_ruler_is_off_by_more_than_a_height_may_be() -> None:
    assert heights.heights().short > 1.0


def test_the_measures_are_as_long_as_the_heights() -> None:
    found = heights.heights()
    wanted = sorted([found.fitting, found.segment, found.from_rim])
    for drawing, scale in zip(drawings(heights.fitting_heights()), SCALES, strict=True):
        drawn = sorted((low - high) / scale for _, low, high in measures(drawing))
        assert drawn == pytest.approx(wanted, abs=0.06)


def test_the_right_measures_stand_on_the_lowest_point_and_the_wrong_one_on_the_rim() -> None:
    for drawing in drawings(heights.fitting_heights()):
        (wrong,) = [m for m in measures(drawing) if m[0] < 250 and m[1] < max_low(drawing)]
        right = [measure for measure in measures(drawing) if measure != wrong]
        assert [low for _, low, _ in right] == [max_low(drawing)] * 2
        (arm,) = having(drawing, "path", "arm")
        values = numbers(arm)
        assert max(values[1::2]) == pytest.approx(max_low(drawing), abs=2)


def max_low(drawing: ET.Element) -> float:
    return max(low for _, low, _ in measures(drawing))


def test_the_words_have_the_numbers_of_the_picture() -> None:
    assert "22 mm" in FIGURES[0].description
    assert "16 mm" in FIGURES[0].description
    assert "19.8 mm" in FIGURES[0].description
    for drawing in drawings(FIGURES[0]):
        assert {"to the pupil, 22 mm", "from the rim, 19.8 mm: wrong"} <= set(texts(drawing))


@pytest.mark.parametrize("figure", FIGURES, ids=lambda each: each.name)
def test_text_stays_inside_and_apart(figure: Figure) -> None:
    for drawing in drawings(figure):
        *_, width, height = map(float, drawing.attrib["viewBox"].split())
        placed = boxes(drawing)
        for box in placed:
            assert box.left >= 0, box
            assert box.right <= width, box
            assert box.bottom <= height, box
        assert not any(one.meets(other) for one, other in itertools.combinations(placed, 2))


# The block ----------------------------------------------------------------------------------------


def views(drawing: ET.Element) -> list[dict[str, list[ET.Element]]]:
    """The elements of the left and of the right lens, by class."""
    *_, width, _ = map(float, drawing.attrib["viewBox"].split())
    found: list[dict[str, list[ET.Element]]] = [{}, {}]
    for node in drawing:
        if class_ := node.get("class"):
            x = number(node, "cx") if "cx" in node.attrib else number_of_path(node)
            found[x > width / 2].setdefault(class_, []).append(node)
    return found


def number_of_path(node: ET.Element) -> float:
    return numbers(node)[0] if "d" in node.attrib else number(node, "x")


def dots(view: dict[str, list[ET.Element]]) -> list[tuple[float, float]]:
    return [(number(dot, "cx"), number(dot, "cy")) for dot in view["solid"]]


def block(view: dict[str, list[ET.Element]]) -> tuple[float, float]:
    """The middle of the drawn block."""
    (node,) = view["glass"]
    left, y, radius, *_ = numbers(node)
    return left + radius, y


def test_the_spots_lie_level_and_the_block_where_it_is_said() -> None:
    out, up = edging.reference()
    for drawing, scale in zip(drawings(edging.block_places()), (1.85, 3.2), strict=True):
        boxed, on_spot = views(drawing)
        for view in (boxed, on_spot):
            left, middle, right = dots(view)
            assert left[1] == middle[1] == right[1]
            assert right[0] - middle[0] == pytest.approx(edging.SPACING * scale, abs=0.06)
        assert block(on_spot) == pytest.approx(dots(on_spot)[1], abs=0.06)
        x, y = block(boxed)
        assert dots(boxed)[1] == pytest.approx((x + out * scale, y - up * scale), abs=0.12)


def test_the_shape_lies_on_the_lens_in_the_same_place_in_both() -> None:
    for drawing in drawings(edging.block_places()):
        shapes = [numbers(view["arm"][0]) for view in views(drawing)]
        apart = dots(views(drawing)[1])[1][0] - dots(views(drawing)[0])[1][0]
        moved = [value + apart * (place % 2 == 0) for place, value in enumerate(shapes[0])]
        assert shapes[1] == pytest.approx(moved, abs=0.11)


def test_the_blank_covers_the_shape() -> None:
    for drawing, scale in zip(drawings(edging.block_places()), (1.85, 3.2), strict=True):
        for view in views(drawing):
            (edge,) = view["ink dashed"]
            x, y, radius = (number(edge, name) for name in ("cx", "cy", "r"))
            assert radius == pytest.approx(scale * edging.blank() / 2, abs=0.06)
            values = numbers(view["arm"][0])
            shape = [*zip(values[::2], values[1::2], strict=True)]
            corners = [shape[0], *shape[3::3]]
            assert len(corners) == len(heights.outline()) + 1
            assert max(math.dist(corner, (x, y)) for corner in corners) < radius


def test_the_lens_turns_and_the_block_stays() -> None:
    for drawing in drawings(edging.block_slip()):
        level, turned = views(drawing)
        assert dots(level)[0][1] == dots(level)[2][1]
        (x1, y1), middle, (x2, y2) = dots(turned)
        slip = math.degrees(math.atan2(y1 - y2, x2 - x1))
        assert slip == pytest.approx(edging.SLIP, abs=0.2)
        assert block(turned) == pytest.approx(middle, abs=0.06)
        assert block(turned)[1] == block(level)[1]


def test_the_picture_names_the_axis_that_comes_out() -> None:
    for drawing in drawings(edging.block_slip()):
        assert texts(drawing) == ["1  axis 180", "2  axis 010"]
    assert edging.block_slip().description.endswith("its axis at 010.")


@pytest.mark.parametrize(
    ("ordered", "slip", "axis"),
    [(90, 3, 93), (178, 5, 3), (2, -5, 177), (180, 0, 180), (1, -1, 180)],
)
def test_axis_after_a_slip(ordered: float, slip: float, axis: float) -> None:
    assert edging.axis_after_slip(ordered, slip) == axis


def test_the_blank_of_the_picture() -> None:
    """ED and twice the straight way of 3 in and 4 up, which is 5, and the allowance."""
    ed = 2 * max(math.hypot(*place) for place in dense())
    assert edging.blank() == pytest.approx(ed + 10 + edging.ALLOWANCE, abs=0.1)
