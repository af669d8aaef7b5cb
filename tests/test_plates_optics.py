"""The pictures of light and of cylinders: what is drawn is what the optics say."""

from __future__ import annotations

import itertools
import math
import re
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from lensmath.errors import LensError
from lensmath.power import LensPower
from site_src.figures.svg import NARROW, TEXT, WIDE, Figure, text_width
from site_src.plates.optics_cylinders import axis_slip, axis_steps, vector
from site_src.plates.optics_light import (
    astigmatic_pencil,
    fixed_focus,
    prentice,
    target_travel,
    through_lens,
)

SVG = "{http://www.w3.org/2000/svg}"
COLUMNS = {"narrow": NARROW, "wide": WIDE}
NUMBER = r"-?\d+(?:\.\d+)?"
ANSI, ISO = "ansi-z80-1-2015", "iso-21987-2017"
ON_THE_PAGES = [
    through_lens("light", 5.0, 500),
    astigmatic_pencil("pencil", LensPower(4, -2, 180), 40),
    target_travel("travel", -0.75, -3.25, 20),
    prentice("prentice", 5.0, 8),
    fixed_focus("focus", -9.0, -12),
    vector("vector", LensPower(2.5, -1.5, 170)),
    axis_slip("slip", LensPower(0, -2, 180), 10),
    axis_steps("steps", (ANSI, ISO), 0.125),
]
both_columns = pytest.mark.parametrize("column", COLUMNS)
every_plate = pytest.mark.parametrize("drawn", ON_THE_PAGES, ids=lambda drawn: drawn.name)
Place = tuple[float, float]


def root(drawn: Figure, column: str) -> ET.Element:
    return ET.fromstring(getattr(drawn, column))


def having(drawing: ET.Element, tag: str, *classes: str) -> list[ET.Element]:
    return [
        each
        for each in drawing.iter(f"{SVG}{tag}")
        if set(classes) <= set(each.attrib.get("class", "").split())
    ]


def ends(node: ET.Element) -> tuple[Place, Place]:
    x1, y1, x2, y2 = (float(node.attrib[name]) for name in ("x1", "y1", "x2", "y2"))
    return (x1, y1), (x2, y2)


def points(node: ET.Element) -> list[Place]:
    """The points of a path of M, L, H and V."""
    x = y = 0.0
    found = []
    for letter, numbers in re.findall(r"([MLHV])([^MLHVZ]*)", node.attrib["d"]):
        given = [float(each) for each in re.findall(NUMBER, numbers)]
        x = given[0] if letter != "V" else x
        y = given[-1] if letter != "H" else y
        found.append((x, y))
    return found


def boxes(drawing: ET.Element) -> list[tuple[str, float, float, float, float]]:
    """Every line of text and the room that it takes at most: left, top, right, bottom."""
    found = []
    for node in drawing.iter(f"{SVG}text"):
        text = "".join(node.itertext())
        width = text_width(text)
        before = {"start": 0.0, "middle": 0.5, "end": 1.0}[node.attrib["text-anchor"]]
        left, base = float(node.attrib["x"]) - before * width, float(node.attrib["y"])
        found.append((text, left, base - 0.75 * TEXT, left + width, base + 0.2 * TEXT))
    return found


def near(expected: float, within: float = 0.02) -> Any:
    return pytest.approx(expected, abs=within)


# Every picture ------------------------------------------------------------------------------------


@every_plate
@both_columns
def test_text_stays_inside_and_apart(drawn: Figure, column: str) -> None:
    drawing = root(drawn, column)
    width, height = (float(each) for each in drawing.attrib["viewBox"].split()[2:])
    placed = boxes(drawing)
    for text, left, top, right, bottom in placed:
        assert left >= -6, text  # the estimate of the width is on the safe side
        assert right <= width + 6, text
        assert top >= 0, text
        assert bottom <= height, text
    for (one, *a), (other, *b) in itertools.combinations(placed, 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        assert apart, (one, other)


@every_plate
def test_lean_and_said_in_words(drawn: Figure) -> None:
    assert len(drawn.markup) < 6000
    assert drawn.description.endswith(".")
    assert drawn.title in drawn.narrow


# Light through a lens -----------------------------------------------------------------------------


@both_columns
def test_rays_go_from_the_point_by_the_lens_to_the_image(column: str) -> None:
    drawing = root(through_lens("light", 8.0, 250), column)
    rays = [ends(each) for each in having(drawing, "line", "ink")[:4]]
    (start, _), (end, _) = rays[0], rays[2]
    lens = rays[0][1][0]
    scale = (lens - start[0]) / 250
    assert (end[0] - lens) / scale == near(1000 / (8 - 1000 / 250), 1)
    for one, other in itertools.pairwise(rays[:2]):
        assert one[0] == other[0]  # from one point
        assert one[1][1] + other[1][1] == near(2 * start[1])  # to both edges of the lens


def test_light_that_does_not_meet_is_not_drawn() -> None:
    with pytest.raises(ValueError, match="meet behind"):
        through_lens("light", 2.0, 500)


@both_columns
def test_pencil_closes_at_its_line_foci_and_is_round_between(column: str) -> None:
    lens = LensPower(4, -2, 180)
    drawing = root(astigmatic_pencil("pencil", lens, 40), column)
    rays = [ends(each) for each in having(drawing, "line", "ink")]
    spots = having(drawing, "ellipse", "solid")
    places = [float(each.attrib["cx"]) for each in spots]
    start = rays[0][0][0]
    scale = (places[1] - start) / (1000 / 3)
    for (upper, lower), focus in zip((rays[:2], rays[2:]), (250, 500), strict=True):
        (x, y), (to_x, to_y) = upper
        middle = (y + lower[0][1]) / 2
        meet = x + (to_x - x) * (middle - y) / (to_y - y)
        assert meet == near(start + scale * focus, 0.5)
    radii = [(float(each.attrib["rx"]), float(each.attrib["ry"])) for each in spots]
    assert radii[0][1] > 5 * radii[0][0]  # the stronger meridian is level: an upright line first
    assert radii[1][0] == near(radii[1][1])
    assert radii[2][0] > 5 * radii[2][1]
    # At 250 mm the weaker meridian has closed half of 40 mm, at the circle both two thirds.
    assert radii[0][1] / radii[1][1] == near(20 / (40 / 3))


def test_pencil_needs_two_line_foci() -> None:
    for lens in (LensPower(4), LensPower(1, -2, 180), LensPower(-4, 2, 180)):
        with pytest.raises(ValueError, match="cylinder and plus power"):
            astigmatic_pencil("pencil", lens, 40)


@both_columns
def test_target_travels_to_scale(column: str) -> None:
    drawing = root(target_travel("travel", -0.75, -3.25, 20), column)
    first, second = (ends(each)[0][0] for each in having(drawing, "line", "bracket", "minus"))
    texts = {text: (left + right) / 2 for text, left, _, right, _ in boxes(drawing)}
    dioptre = texts["0"] - texts["−1"]
    assert (first - second) / dioptre == near(2.5, 0.01)
    assert (texts["0"] - texts["−5"]) / dioptre == near(2.0, 0.05)  # 5 mm are 2 D at 20 D
    assert "−2.50 D = 6.25 mm" in texts


def test_target_cannot_travel_beyond_the_standard_lens() -> None:
    with pytest.raises(LensError):
        target_travel("travel", -1.0, 30.0, 20)


@both_columns
def test_ray_of_prentice_goes_to_or_from_the_focus(column: str) -> None:
    drawing = root(prentice("prentice", 4.0, 10), column)
    plus, minus = (having(drawing, "line", "arc", ink) for ink in ("plus", "minus"))
    foci = [
        (float(each.attrib["cx"]), float(each.attrib["cy"]))
        for each in having(drawing, "circle", "solid")
    ]
    assert ends(plus[1])[1] == foci[0]
    (x, y), (to_x, to_y) = ends(minus[1])
    back = y + (to_y - y) * (foci[1][0] - x) / (to_x - x)
    assert back == near(foci[1][1], 0.1)
    assert foci[1][0] < x < foci[0][0]
    assert "4.00 Δ" in prentice("p", 5.0, 8).description


@both_columns
def test_focus_stays_while_the_lens_moves(column: str) -> None:
    drawing = root(fixed_focus("focus", -10.0, -15), column)
    found, moved = (ends(each)[0][0] for each in having(drawing, "line", "minus"))
    focus = float(having(drawing, "circle", "solid")[0].attrib["cx"])
    assert (moved - focus) / (found - focus) == near(115 / 100, 0.005)
    assert "moved: 115.0 mm, −8.70 D" in [box[0] for box in boxes(drawing)]


# Cylinders as arrows ------------------------------------------------------------------------------


def arrows(drawing: ET.Element, *classes: str) -> list[tuple[Place, Place]]:
    """Start and tip of every arrow of a class: its line, and the head that goes on from it."""
    heads = [points(each)[0] for each in having(drawing, "path", "solid")]
    found = []
    for each in having(drawing, "line", *classes):
        start, back = ends(each)
        ahead = [tip for tip in heads if math.dist(tip, back) < 11]
        if ahead:
            found.append((start, ahead[0]))
    return found


@both_columns
@pytest.mark.parametrize("axis", [20, 65, 110, 170])
def test_arrow_points_at_twice_the_axis(axis: int, column: str) -> None:
    lens = LensPower(2.5, -1.5, axis)
    drawing = root(vector("vector", lens.in_plus_cylinder()), column)
    ((start, tip),) = arrows(drawing, "window")
    turned = math.degrees(math.atan2(start[1] - tip[1], tip[0] - start[0])) % 360
    assert turned == near(2 * axis % 360, 0.1)
    level, upright = (ends(each) for each in having(drawing, "line", "bracket"))
    assert level == (start, (tip[0], start[1]))
    assert upright == ((tip[0], start[1]), tip)


def test_parts_of_the_arrow_are_written() -> None:
    texts = [box[0] for box in boxes(root(vector("v", LensPower(2.5, -1.5, 170)), "wide"))]
    assert {"along J0 = +0.705 D", "up J45 = −0.257 D"} <= set(texts)


@both_columns
def test_slip_joins_the_tips_of_two_arrows(column: str) -> None:
    """The chord is twice the sine of the slip of an arrow long."""
    drawing = root(axis_slip("slip", LensPower(-1, -3, 30), 12), column)
    ((start, first),) = arrows(drawing, "arc")[:1]
    second = arrows(drawing, "arc", "dashed")[0][1]
    ((begin, end),) = arrows(drawing, "window")
    length = math.dist(start, first)
    assert math.dist(start, second) == near(length)
    assert (begin, end) == (second, first)
    assert math.dist(begin, end) / length == near(2 * math.sin(math.radians(12)), 0.001)


def test_slip_says_what_is_left_over() -> None:
    assert "+0.35 −0.69 × 140" in axis_slip("slip", LensPower(0, -2, 180), 10).description


# The limits ---------------------------------------------------------------------------------------


@both_columns
def test_curve_and_steps_are_drawn_to_one_scale(column: str) -> None:
    drawing = root(axis_steps("steps", (ANSI, ISO), 0.125), column)
    texts = {text: (left + right) / 2 for text, left, _, right, _ in boxes(drawing)}
    dioptre = texts["2"] - texts["1"]
    ground = ends(having(drawing, "line", "ink")[0])[0][1]
    fifth, tenth, _ = (ends(each)[0][1] for each in having(drawing, "line", "hair"))
    degree = (fifth - tenth) / 5
    zero = texts["1"] - dioptre, ground
    assert ground - fifth == near(5 * degree)
    curve = points(having(drawing, "path", "window")[0])
    for x, y in curve:
        cylinder, slip = (x - zero[0]) / dioptre, (zero[1] - y) / degree
        assert 2 * cylinder * math.sin(math.radians(slip)) == near(0.125, 0.002)
    ansi, iso = (points(each) for each in having(drawing, "path", "arc"))
    for steps, limits in ((ansi, [14, 7, 5, 3, 2]), (iso, [16, 9, 6, 4, 3, 2])):
        levels = [round((zero[1] - y) / degree, 1) for _, y in steps]
        assert list(dict.fromkeys(levels)) == [near(limit) for limit in limits]
    edges = [round((x - zero[0]) / dioptre, 2) for x, _ in ansi]
    assert list(dict.fromkeys(edges)) == [near(at, 0.03) for at in (0.12, 0.25, 0.5, 0.75, 1.5, 3)]
