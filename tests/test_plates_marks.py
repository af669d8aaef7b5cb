"""The pictures of marks on lenses: to scale, the right way round, and saying what they show."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from xml.etree import ElementTree

import pytest

from lensmath.eye import Eye
from lensmath.focimeter import LENS_STOP
from site_src.figures.svg import NARROW, WIDE, Figure, text_width
from site_src.plates.marks import MARKS, SEGMENT, Segment, bifocal, progressive

LENS = 60.0  # mm; diameter of the drawn lens
COLUMNS = {"narrow": NARROW, "wide": WIDE}


class Drawn:
    """One drawing, read back: its circles and texts, in mm from the middle of the lens."""

    def __init__(self, figure: Figure, column: str) -> None:
        self.root = ElementTree.fromstring(getattr(figure, column))
        lens = next(self._tags("circle", "glass"))
        self.scale = 2 * float(lens.attrib["r"]) / LENS
        self.x, self.y = float(lens.attrib["cx"]), float(lens.attrib["cy"])

    def _tags(self, tag: str, class_: str) -> Iterator[ElementTree.Element]:
        for found in self.root.iter(f"{{http://www.w3.org/2000/svg}}{tag}"):
            if found.attrib.get("class") == class_:
                yield found

    def circles(self, class_: str) -> list[tuple[float, float, float]]:
        """Right, up and diameter of each, in mm."""
        return [
            (
                round((float(each.attrib["cx"]) - self.x) / self.scale, 2),
                round((self.y - float(each.attrib["cy"])) / self.scale, 2),
                round(2 * float(each.attrib["r"]) / self.scale, 2),
            )
            for each in self._tags("circle", class_)
        ]

    def top_of_segment(self) -> float:
        """The height of the straight top, in mm."""
        (outline,) = self._tags("path", "ink")
        return (self.y - float(outline.attrib["d"].split()[2])) / self.scale

    def texts(self) -> list[tuple[str, float, str]]:
        """Every text with its x and its anchor."""
        return [
            (each.text or "", float(each.attrib["x"]), each.attrib["text-anchor"])
            for each in self.root.iter("{http://www.w3.org/2000/svg}text")
        ]


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("eye", Eye)
def test_engraved_marks_are_34_mm_apart_and_level(eye: Eye, column: str) -> None:
    left, right = Drawn(progressive("marks", eye), column).circles("ink")
    assert right[0] - left[0] == pytest.approx(34, abs=0.02)  # bhootra-ophthalmic-lenses
    assert left[0] == -right[0]
    assert left[1] == right[1] == 0


@pytest.mark.parametrize("column", COLUMNS)
def test_near_point_lies_below_and_toward_the_nose(column: str) -> None:
    for eye, toward_nose in ((Eye.RIGHT, 1), (Eye.LEFT, -1)):
        far, near = Drawn(progressive("marks", eye), column).circles("arm")
        assert far[:2] == (0, MARKS.distance)
        assert near[0] == pytest.approx(2.5 * toward_nose, abs=0.01)  # bhootra-ophthalmic-lenses
        assert near[1] == MARKS.near < 0


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("plate", [progressive, bifocal])
def test_circles_on_the_lens_are_the_stop(plate: Callable[..., Figure], column: str) -> None:
    circles = Drawn(plate("marks"), column).circles("arm")
    assert [circle[2] for circle in circles] == [LENS_STOP, LENS_STOP]


@pytest.mark.parametrize("plate", [progressive, bifocal])
def test_the_nose_is_on_its_side(plate: Callable[..., Figure]) -> None:
    for eye, nose_first in ((Eye.RIGHT, False), (Eye.LEFT, True)):
        place = {text: x for text, x, _ in Drawn(plate("marks", eye), "narrow").texts()}
        assert (place["nose"] < place["temple"]) is nose_first
        side = "left" if nose_first else "right"
        assert f"the nose to the {side}" in plate("marks", eye).description


def test_the_engraved_addition_stands_on_the_temple_side() -> None:
    for eye, toward_nose in ((Eye.RIGHT, 1), (Eye.LEFT, -1)):
        drawn = Drawn(progressive("marks", eye), "wide")
        (x,) = [x for text, x, anchor in drawn.texts() if text == "6" and anchor == "middle"]
        assert (x - drawn.x) * toward_nose < 0


@pytest.mark.parametrize("column", COLUMNS)
def test_the_stop_is_clear_of_the_top_of_the_segment(column: str) -> None:
    drawn = Drawn(bifocal("where"), column)
    far, near = drawn.circles("arm")
    top = drawn.top_of_segment()
    assert top == pytest.approx(SEGMENT.top, abs=0.01)
    assert far[1] - far[2] / 2 > top > near[1] + near[2] / 2
    said = re.search(r"([\d.]+) mm clear", bifocal("where").description)
    assert said is not None
    assert float(said[1]) == pytest.approx(far[1] - far[2] / 2 - top, abs=0.01)


def test_the_second_circle_follows_the_segment() -> None:
    low = Segment(top=-8, depth=15, inset=3)
    _, near = Drawn(bifocal("where", Eye.LEFT, low), "wide").circles("arm")
    assert near[:2] == (-3, -15.5)


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("plate", [progressive, bifocal])
def test_texts_stay_inside_the_drawing(plate: Callable[..., Figure], column: str) -> None:
    for text, x, anchor in Drawn(plate("marks"), column).texts():
        before = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
        left = x - before * text_width(text)
        assert left >= -1, text
        assert left + text_width(text) <= COLUMNS[column].width + 1, text
