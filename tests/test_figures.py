"""The figures: geometry from values, text that is legible and apart, well-formed SVG."""

import itertools
import math
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

import pytest

from lensmath.centration import Decentration, Frame, spots
from lensmath.conformity import Judgement
from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.notation import write_power
from lensmath.power import LensPower, standard_axis
from lensmath.prism import NO_PRISM, Prism
from lensmath.scale import Band, GraduatedScale
from lensmath.surfaces import ThickLens
from site_src.figures.addition_rows import Portion, addition_rows
from site_src.figures.axis_dial import axis_dial
from site_src.figures.close_call import CloseCall, close_call
from site_src.figures.eyepiece import view
from site_src.figures.frame_layout import LaidOut, frame_layout
from site_src.figures.lens_profile import edge_profiles, surfaces_profile
from site_src.figures.meridian_curve import meridian_curve
from site_src.figures.number_line import counted_travel, step_change
from site_src.figures.pass_window import Gauge, pass_window
from site_src.figures.power_cross import power_cross
from site_src.figures.power_vectors import Arrow, power_vectors
from site_src.figures.prism_rings import prism_rings
from site_src.figures.reference_lines import reference_lines
from site_src.figures.svg import (
    WIDE,
    Column,
    Drawing,
    Figure,
    coordinate,
    element,
    figure,
    label,
)
from site_src.figures.tilted_lens import tilted_lens
from site_src.figures.vertex_distance import vertex_distance
from site_src.figures.written_steps import Rounding, written_steps

SVG = "{http://www.w3.org/2000/svg}"
SCALE = GraduatedScale((Band(3, 0.125), Band(25, 0.25)))
SMALLEST_TEXT = 12  # px
EM_PER_CHARACTER = 0.6
NARROW_SHOWN, WIDE_SHOWN = 264, 560  # px; the least widths at which figures.css shows them

READINGS = [
    (-0.75, -3.25),
    (0.0, -0.25),
    (14.0, 6.0),
    (-0.125, 0.125),
    (-2.0, -2.0),
    (-18.0, -20.0),
    (-2.75, -3.375),
    (5.0, -4.5),
    (20.0, -18.25),
    (-25.0, 25.0),
    (24.5, 25.0),
    (1.1, 1.85),
    (-7.3, 1.9),
    (12.05, 0.0),
    (0.0, -24.9),
]
WINDOWS = [
    Gauge("Sphere", "D", -0.87, -0.75, -0.62, -0.75, inside=True),
    Gauge("Cylinder", "D", -2.62, -2.50, -2.38, -2.75, inside=False),
    Gauge("Cylinder", "D", -2.62, -2.50, -2.38, -4.00, inside=False),
    Gauge("Axis", "°", 178, 1, 4, 175, inside=False),
    Gauge("Axis", "°", None, 112, None, 118),
    Gauge("Prism, horizontal", "Δ", 0, 0, 0.33, 2, inside=False),
    Gauge("Addition at the front", "D", 2.13, 2.25, 2.37),
    Gauge("Sphere", "D", -20.18, -20, -19.82, -20.18, inside=True),
]
TARGETS = [
    *(
        (eye, Prism.from_base(amount, turn), known, 5)
        for eye in Eye
        for amount in (0, 0.3, 1, 2.5, 5)
        for turn in range(0, 360, 15)
        for known in (NO_PRISM, Prism(0, -4), Prism(-30, 20))
    ),
    (Eye.RIGHT, Prism(0.5, 0.5), NO_PRISM, 1),
    (Eye.RIGHT, Prism(6, -8), NO_PRISM, 10),
]
CROSSES = [LensPower(-3), LensPower(0), *(LensPower(-20, -0.25, axis) for axis in range(1, 181))]


def travel(first: float, second: float) -> Figure:
    return counted_travel("travel", SCALE, SCALE.count(first, second))


def rings(eye: Eye, target: Prism, known: Prism, count: int) -> Figure:
    return prism_rings("rings", eye, target, target - known, count)


def readings_all_over_the_scale() -> list[tuple[float, float]]:
    powers = [-24.75, -9.125, -3.25, -1.0, -0.375, 0.0, 0.875, 2.875, 3.0, 11.5, 25.0]
    return list(itertools.product(powers, repeat=2))


def write_figures() -> list[Figure]:
    lenses = [
        LensPower(sphere, cylinder, axis)
        for sphere, cylinder in ((0, 0.25), (-12.25, -10.75), (5, -10), (-3.5, 2), (0.25, -0.25))
        for axis in (1, 22.5, 45, 90, 112, 135, 179, 180)
    ]
    rounded = [(-2.31, -2.25), (0.04, 0.0), (-18.375, -18.5), (12.5, 12.5), (-0.125, 0.0)]
    additions = [(-0.5, 0.5, 1.5), (-12.25, -12.25, -12.25), (0, 0.375, 0.75), (-30, -15, 0)]
    return [
        *(meridian_curve("curve", lens, along) for lens in lenses for along in (1, 60, 90, 180)),
        meridian_curve("curve", LensPower(-12.25), 5),
        *(
            power_vectors(
                "arrows",
                Arrow("1", one),
                Arrow("2", two, taken_off=off),
                Arrow("1 - 2", one - two if off else one + two),
            )
            for one, two in itertools.product(lenses[::3], [*lenses[::5], LensPower(-4)])
            for off in (False, True)
        ),
        power_vectors("arrows", *(Arrow(name, LensPower(-1)) for name in ("1", "2", "1 + 2"))),
        *(
            written_steps("steps", step, [Rounding("Cylinder", *one), Rounding("Sphere", *other)])
            for one, other in itertools.permutations(rounded, 2)
            for step in (0.25, 0.125)
        ),
        *(
            addition_rows(
                "rows",
                Portion("Distance", distance),
                Portion("Intermediate", between),
                Portion("Near", near),
            )
            for distance, between, near in additions
        ),
    ]


def layouts() -> list[Figure]:
    """Lenses in small, large and usual frames, alone and together, near and far from the middle."""
    frames = [Frame(20, 5), Frame(80, 40, 80, 100), Frame(52, 18, 40, 56), Frame(50, 20, 38)]
    drawn = []
    for frame in frames:
        for move in (Decentration(3, 2), Decentration(0), Decentration(-25.5, -10.5)):
            notes = (move.in_words().split(" and ")[0], "blank 102.5 mm")
            pair = [LaidOut(eye, move, notes, 102.5, (move, 28)) for eye in Eye]
            drawn.append(frame_layout("layout", frame, pair))
            for lens in pair:
                row = spots(move, lens.eye, 17)
                far = Decentration(35, 12)
                alone = LaidOut(lens.eye, move, ("the middle",), spots=row, optical_centre=far)
                drawn.append(frame_layout("layout", frame, [alone]))
    return drawn


CALLS = [(0.1, 0.13, 0.061), (0, 0.13, 0.3), (0.13, 0.13, 0.001), (30, 0.01, 0.05), (3, 3, 40)]


def called(difference: float, limit: float, u: float) -> Figure:
    judged = Judgement(difference, limit, u, 9)
    texts = f"{difference:.3f}", f"{limit:.2f}", f"{2 * u:.3f}", "over 99.9"
    return close_call("call", CloseCall(judged, 2 * u, *texts, " D"))


def lens_figures() -> list[Figure]:
    """Lenses at the ends of what they may be: thin and thick, near and far, square and tilted."""
    surfaces = [(10.25, -3, 4), (-30, -30, 1), (30, 30, 30), (20, 20, 0), (0, 0, 2), (0, -30, 0)]
    places = (0, 0.5, 2, 7.5, 12, 15, 27.25, 40)
    edged = ThickLens(LensPower(4), LensPower(-8, -2, 30), 2, 1.6)
    return [
        *(
            vertex_distance("moved", found, lens, worn, lens)
            for found, worn in itertools.product(places, places)
            for lens in ("−12.37 −10.75 × 112.5", "plano")
        ),
        *(
            tilted_lens("tilted", down, side, eye)
            for down, side, eye in itertools.product((-45, 0, 7.25, 45), (0, 12.5, 45), Eye)
        ),
        *(
            surfaces_profile("middle", ThickLens(LensPower(front), LensPower(back), thick, 1.5))
            for front, back, thick in surfaces
        ),
        edge_profiles("edges", edged, 60, [30, 120, 75]),
        edge_profiles("edges", ThickLens(LensPower(8), LensPower(-3), 6, 1.498), 60, [180]),
        reference_lines("lines", "−12.37 −10.75 × 112.5", "−12.47 −10.83 × 112.5"),
    ]


def every_figure() -> list[Figure]:
    return [
        *itertools.starmap(travel, READINGS + readings_all_over_the_scale()),
        step_change("step", SCALE, 3),
        step_change("step", SCALE, -3),
        *(power_cross("cross", lens) for lens in CROSSES),
        power_cross("cross", LensPower(-12.5, 20.25, 112.5)),
        pass_window("window", WINDOWS),
        *layouts(),
        *lens_figures(),
        *write_figures(),
        *(axis_dial("dial", axis, standard_axis(180 - axis)) for axis in range(1, 181)),
        axis_dial("dial", 60, 60),
        *itertools.starmap(rings, TARGETS),
        *itertools.starmap(called, CALLS),
        *(
            view("field", LensPower(-0.75, -2.50, 112), drum, wheel, Prism(0.5, -1))
            for drum in (-3.25, -0.75, 12.125)
            for wheel in range(0, 181, 5)
        ),
    ]


EVERY_FIGURE = every_figure()


@dataclass(frozen=True)
class Box:
    """The room of one line of text, estimated."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Box") -> bool:
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def crossed_by(self, start: tuple[float, float], end: tuple[float, float]) -> bool:
        """Whether the straight line from `start` to `end` runs through the box."""
        enter, leave = 0.0, 1.0
        for a, b, low, high in (
            (start[0], end[0], self.left, self.right),
            (start[1], end[1], self.top, self.bottom),
        ):
            if a == b:
                if not low < a < high:
                    return False
                continue
            near, far = sorted(((low - a) / (b - a), (high - a) / (b - a)))
            enter, leave = max(enter, near), min(leave, far)
        return enter < leave


def drawings(drawn: Figure) -> list[ET.Element]:
    return [ET.fromstring(drawn.narrow), ET.fromstring(drawn.wide)]


def having(drawing: ET.Element, tag: str, class_: str) -> list[ET.Element]:
    found = drawing.iter(f"{SVG}{tag}")
    return [each for each in found if class_ in each.get("class", "").split()]


def number(node: ET.Element, name: str) -> float:
    return float(node.attrib[name])


def boxes(drawing: ET.Element) -> list[Box]:
    size = number(drawing, "font-size")
    found = []
    for node in drawing.iter(f"{SVG}text"):
        text = "".join(node.itertext())
        width = EM_PER_CHARACTER * size * len(text)
        before = {"start": 0.0, "middle": 0.5, "end": 1.0}[node.attrib["text-anchor"]]
        left, baseline = number(node, "x") - before * width, number(node, "y")
        found.append(Box(text, left, baseline - 0.75 * size, left + width, baseline + 0.2 * size))
    return found


def texts(drawing: ET.Element) -> list[str]:
    return [box.text for box in boxes(drawing)]


def ends(node: ET.Element) -> tuple[tuple[float, float], tuple[float, float]]:
    return (number(node, "x1"), number(node, "y1")), (number(node, "x2"), number(node, "y2"))


def tips(drawing: ET.Element, class_: str = "solid") -> list[float]:
    """The places of the pointers, left to right."""
    pointers = having(drawing, "path", class_)
    return sorted(float(pointer.attrib["d"].split()[1]) for pointer in pointers)


# Every figure ------------------------------------------------------------------------------------


def test_text_is_never_under_12_px() -> None:
    for drawn in EVERY_FIGURE:
        for drawing, shown in zip(drawings(drawn), (NARROW_SHOWN, WIDE_SHOWN), strict=True):
            *_, width, _ = map(float, drawing.attrib["viewBox"].split())
            sizes = [n.attrib["font-size"] for n in drawing.iter() if "font-size" in n.attrib]
            assert sizes
            assert min(map(float, sizes)) * shown / width >= SMALLEST_TEXT


def test_stylesheet_sets_no_text_size_and_shows_the_wide_drawing_from_560_px() -> None:
    css = _stylesheet()
    assert "font-size" not in css
    assert re.findall(r"@container \(min-width: (\d+)px\)", css) == [str(WIDE_SHOWN)]


def test_the_script_of_a_calculator_knows_the_width_of_the_stylesheet() -> None:
    assert re.findall(r"const WIDE = (\d+);", _static("calculator.js")) == [str(WIDE_SHOWN)]


def test_every_class_has_its_style() -> None:
    """All but `zero`, the ink of a power without a sign, which is the plain one."""
    used = {
        class_
        for drawn in EVERY_FIGURE
        for drawing in drawings(drawn)
        for node in drawing.iter()
        for class_ in node.get("class", "").split()
    }
    styled = set(re.findall(r"\.([a-z][a-z-]*)", _stylesheet()))
    assert used - styled == {"zero"}
    assert styled - used == {"drawn", "fitting"}


@pytest.mark.parametrize("ink", ["ink", "faint", "minus", "plus"])
def test_text_in_the_colours_that_stand_in_is_legible_on_paper(ink: str) -> None:
    """Contrast of at least 4.5 to 1 (WCAG 2.2, success criterion 1.4.3, from memory)."""
    stand_in = dict(re.findall(r"var\(--(\w+), (#[0-9a-f]{6})\)", _stylesheet()))
    light, dark = _luminance(stand_in["paper"]), _luminance(stand_in[ink])
    assert (light + 0.05) / (dark + 0.05) >= 4.5


def test_text_neither_overlaps_nor_leaves_the_drawing() -> None:
    for drawn in EVERY_FIGURE:
        for drawing in drawings(drawn):
            *_, width, height = map(float, drawing.attrib["viewBox"].split())
            placed = boxes(drawing)
            assert placed
            for box in placed:
                assert box.left >= -0.01, box
                assert box.right <= width + 0.01, box
                assert box.top >= -0.01, box
                assert box.bottom <= height + 0.01, box
            clashes = [
                (one.text, other.text)
                for one, other in itertools.combinations(placed, 2)
                if one.meets(other)
            ]
            assert clashes == [], drawn.description


def test_no_line_runs_through_text() -> None:
    for drawn in EVERY_FIGURE:
        for drawing in drawings(drawn):
            placed = boxes(drawing)
            lines = [ends(node) for node in drawing.iter(f"{SVG}line")]
            for both_ends in (*lines, *_ticks(drawing)):
                crossed = [box.text for box in placed if box.crossed_by(*both_ends)]
                assert crossed == [], (drawn.description, both_ends)


def test_the_title_names_the_drawing() -> None:
    for drawn in EVERY_FIGURE:
        for drawing in drawings(drawn):
            assert drawing.attrib["role"] == "img"
            title = drawing.find(f"{SVG}title")
            assert title is not None
            assert title.text == drawn.title
            assert drawing.attrib["aria-labelledby"] == title.attrib["id"]


def test_ids_differ_between_the_two_drawings_and_between_figures() -> None:
    both = power_cross("left", LensPower(-1)).markup + power_cross("right", LensPower(-1)).markup
    ids = re.findall(r' id="([^"]*)"', both)
    assert len(ids) == 4
    assert len(set(ids)) == 4


def test_same_values_give_the_same_bytes() -> None:
    assert [one.markup for one in every_figure()] == [one.markup for one in EVERY_FIGURE]


def test_float_noise_does_not_reach_the_picture() -> None:
    noise = 3e-12
    assert (
        power_cross("a", LensPower(-1 + noise, -2 + noise, 45 + noise)).markup
        == power_cross("a", LensPower(-1, -2, 45)).markup
    )
    assert travel(-0.75 + noise, -3.25 - noise).markup == travel(-0.75, -3.25).markup


def test_numbers_have_two_decimals_at_most_and_no_negative_zero() -> None:
    for drawn in EVERY_FIGURE:
        for drawing in drawings(drawn):
            for node in drawing.iter():
                for name in ("x", "y", "x1", "y1", "x2", "y2", "r", "d", "width"):
                    for written in re.findall(r"-?\d[\d.]*", node.get(name, "")):
                        assert re.fullmatch(r"-?\d+(\.\d{1,2})?", written), written
                        assert written != "-0"


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (0.125 + 1e-12, "0.12"),
        (12.0, "12"),
        (1 / 3, "0.33"),
        (-1e-12, "0"),
        (-0.004, "0"),
        (-0.25, "-0.25"),
        (100, "100"),
    ],
)
def test_coordinate(value: float, written: str) -> None:
    assert coordinate(value) == written


def test_hostile_text_is_escaped() -> None:
    hostile = "</text><script>alert('\"&')</script>\x00]]>"
    drawn = pass_window("window", [Gauge(hostile, "D", -1, 0, 1, 0.5, inside=True)])
    assert "<script" not in drawn.markup
    for drawing in drawings(drawn):
        assert hostile.replace("\x00", "\N{REPLACEMENT CHARACTER}") in texts(drawing)
    assert str(element("a", title='"<&')) == '<a title="&#34;&lt;&amp;"/>'


def test_nothing_is_drawn_before_it_is_asked_for() -> None:
    asked: list[Column] = []

    def draw(column: Column) -> Drawing:
        asked.append(column)
        return column.width, [label(0, 0, column.name)]

    both = figure("drawn", "", "", draw)
    wide = replace(both, columns=(WIDE,))
    assert asked == []
    assert wide.markup == f'<div class="drawn">{both.wide}</div>'
    assert asked == [WIDE, WIDE]
    assert both.markup == f'<div class="drawn fitting">{both.narrow}{both.wide}</div>'


def test_figures_are_equal_that_show_and_say_the_same() -> None:
    assert power_cross("a", LensPower(-1)) == power_cross("a", LensPower(-1))
    for other in power_cross("a", LensPower(-2)), power_cross("b", LensPower(-1)), "a":
        assert power_cross("a", LensPower(-1)) != other
    assert len({power_cross("a", LensPower(-1)), power_cross("a", LensPower(-1))}) == 1


def test_a_name_that_is_no_id_is_refused() -> None:
    with pytest.raises(ValueError, match="no figure name"):
        figure("two words", "", "", lambda column: (column.width, []))


# The number line ---------------------------------------------------------------------------------


@pytest.mark.parametrize("readings", READINGS)
def test_pointers_stand_where_the_marks_of_their_power_stand(
    readings: tuple[float, float],
) -> None:
    """Numbers and pointers lie on one straight line: x = a + b * power, b > 0."""
    for drawing in drawings(travel(*readings)):
        powers = sorted(set(readings))
        places = dict(zip(powers, tips(drawing), strict=True))
        for node in drawing.iter(f"{SVG}text"):
            text = "".join(node.itertext())
            if re.fullmatch(r"[−+]\d+|0", text):
                places[float(text.replace("−", "-"))] = number(node, "x")
        (low, left), *_, (high, right) = sorted(places.items())
        assert left < right
        for power, x in places.items():
            assert x == pytest.approx(
                left + (right - left) * (power - low) / (high - low), abs=0.02
            )


@pytest.mark.parametrize("readings", READINGS)
def test_one_arc_for_each_whole_dioptre_of_the_count(readings: tuple[float, float]) -> None:
    count = SCALE.count(*readings)
    for drawing in drawings(travel(*readings)):
        arcs = having(drawing, "path", "arc")
        dashed = having(drawing, "path", "dashed")
        assert len(arcs) - len(dashed) == len(count.hops) == math.floor(abs(count.travel))
        assert len(dashed) == (abs(count.travel) > len(count.hops))


def test_arcs_join_the_readings_without_a_gap() -> None:
    for drawing in drawings(travel(-0.75, -3.25)):
        spans = []
        for arc in having(drawing, "path", "arc"):
            numbers = [float(each) for each in re.findall(r"-?[\d.]+", arc.attrib["d"])]
            spans.append((numbers[0], numbers[-2]))
        spans.sort()
        assert all(one[1] == pytest.approx(two[0], abs=0.02) for one, two in pairwise(spans))
        assert [spans[0][0], spans[-1][1]] == pytest.approx(tips(drawing), abs=0.02)


@pytest.mark.parametrize(
    ("readings", "last"),
    [
        ((-0.75, -3.25), "½"),
        ((0, -0.25), "¼"),
        ((-0.125, 0.125), "¼"),
        ((0, 1.375), "⅜"),
        ((1.1, 1.9), "0.80"),
    ],
)
def test_what_is_left_is_written_as_a_fraction(readings: tuple[float, float], last: str) -> None:
    for drawing in drawings(travel(*readings)):
        assert last in texts(drawing)


def test_travel_toward_minus_is_hatched_toward_plus_solid_and_both_say_so() -> None:
    for drawing in drawings(travel(1, -1)):
        assert having(drawing, "path", "hatch")
        assert not having(drawing, "rect", "tint")
        assert "travel −2.00 D, toward minus" in texts(drawing)
    for drawing in drawings(travel(-1, 1)):
        assert having(drawing, "rect", "tint")
        assert not having(drawing, "path", "hatch")
        assert "travel +2.00 D, toward plus" in texts(drawing)


@pytest.mark.parametrize("readings", READINGS)
def test_hatching_stays_inside_the_travel(readings: tuple[float, float]) -> None:
    for drawing in drawings(travel(*readings)):
        for hatch in having(drawing, "path", "hatch"):
            left, right = tips(drawing)
            strokes = _strokes(hatch.attrib["d"])
            heights = {y for stroke in strokes for _, y in stroke}
            assert max(heights) - min(heights) <= 7.01
            for (x1, y1), (x2, y2) in strokes:
                assert left <= x1 < x2 <= right
                assert x2 - x1 == pytest.approx(y1 - y2, abs=0.02)  # it rises at 45 degrees
            starts = [x1 - (max(heights) - y1) for (x1, y1), _ in strokes]  # on the line itself
            gaps = {round(next_ - this, 1) for this, next_ in pairwise(sorted(starts))}
            assert len(gaps) <= 1


def test_equal_readings_are_one_pointer_without_travel() -> None:
    drawn = travel(-2, -2)
    assert drawn.description == "Both readings are −2.00 D. There is no travel."
    for drawing in drawings(drawn):
        assert len(tips(drawing)) == 1
        assert not having(drawing, "path", "arc")


def test_strong_readings_leave_zero_out_and_near_ones_show_it() -> None:
    assert all("0" not in texts(drawing) for drawing in drawings(travel(-18, -20)))
    assert all("0" in texts(drawing) for drawing in drawings(travel(0.5, -0.25)))


def test_no_mark_is_drawn_where_the_scale_has_none() -> None:
    """Beyond 3 D the marks are 0.25 D apart, before it 0.125 D; the scale ends at 25 D."""
    for drawing in drawings(travel(24.5, 25)):
        (low, left), (high, right) = zip((24.5, 25.0), tips(drawing), strict=True)
        per_dioptre = (right - left) / (high - low)
        ticks = sorted(top[0] for top, _ in _ticks(drawing))
        assert max(ticks) == pytest.approx(right, abs=0.02)
        apart = {round((b - a) / per_dioptre, 2) for a, b in pairwise(ticks)}
        assert apart == {0.25}
    narrow, _ = drawings(travel(2.5, 3.5))
    left, right = tips(narrow)
    ticks = {round(2.5 + (top[0] - left) / (right - left), 3) for top, _ in _ticks(narrow)}
    assert {2.5, 2.625, 2.75, 2.875, 3.0, 3.25, 3.5} <= ticks
    assert not {3.125, 3.375} & ticks


def test_counted_travel_is_as_high_for_every_count() -> None:
    heights = {
        tuple(drawing.attrib["viewBox"] for drawing in drawings(travel(*readings)))
        for readings in READINGS
    }
    assert len(heights) == 1


def test_step_change_numbers_every_mark_and_cuts_eighths() -> None:
    """0.12, 0.37, 0.62, 0.87: eighths cut to two decimals (Source  nj-virginia-rules)."""
    for at, sign in ((3, "+"), (-3, "−")):
        narrow, wide = drawings(step_change("step", SCALE, at))
        assert {f"{sign}{p}" for p in ("2.50", "2.62", "2.75", "2.87", "3.00", "3.25")} <= set(
            texts(narrow)
        )
        assert {f"{sign}{p}" for p in ("2.12", "2.37", "2.62", "2.87", "3.75")} <= set(texts(wide))
        assert f"{sign}3.12" not in texts(wide)
        assert sorted(text for text in texts(wide) if "apart" in text) == [
            "0.125 D apart",
            "0.25 D apart",
        ]


def test_step_change_says_nothing_of_eighths_on_a_scale_without_them() -> None:
    coarse = GraduatedScale((Band(5, 0.25), Band(20, 0.5)))
    assert step_change("step", coarse, 5).description == (
        "From +5.00 D toward minus the marks stand 0.25 D apart, toward plus 0.50 D."
    )


# The power cross ---------------------------------------------------------------------------------


@pytest.mark.parametrize("axis", range(1, 181))
def test_arms_lie_at_their_true_angle(axis: int) -> None:
    lens = LensPower(-0.75, -2.50, axis)
    for drawing in drawings(power_cross("cross", lens)):
        angles = []
        for arm in having(drawing, "line", "arm"):
            (x1, y1), (x2, y2) = ends(arm)
            angles.append(math.degrees(math.atan2(y1 - y2, x2 - x1)) % 180)
        wanted = [meridian.direction % 180 for meridian in lens.principal_meridians]
        for angle, direction in zip(angles, wanted, strict=True):
            assert (angle - direction + 90) % 180 - 90 == pytest.approx(0, abs=0.02)
        for mark in having(drawing, "line", "axis-mark"):
            (x1, y1), (x2, y2) = ends(mark)
            angle = math.degrees(math.atan2(y1 - y2, x2 - x1)) % 180
            assert (angle - axis + 90) % 180 - 90 == pytest.approx(0, abs=0.1)


@pytest.mark.parametrize("axis", [1, 45, 90, 112, 180])
def test_each_arm_is_nearest_to_its_own_label(axis: int) -> None:
    lens = LensPower(1.25, -2.50, axis)
    for drawing in drawings(power_cross("cross", lens)):
        arms = having(drawing, "line", "arm")
        for arm, meridian in zip(arms, lens.principal_meridians, strict=True):
            (box,) = [b for b in boxes(drawing) if b.text.startswith(write_power(meridian.power))]
            middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
            reach = {id(a): min(math.dist(middle, end) for end in ends(a)) for a in arms}
            assert min(reach, key=lambda key: reach[key]) == id(arm)


def test_labels_of_a_cross_give_power_and_meridian() -> None:
    narrow, wide = drawings(power_cross("cross", LensPower(-0.75, -2.50, 112)))
    assert {"−0.75", "@ 112", "axis", "−3.25", "@ 022"} <= set(texts(narrow))
    assert {"−0.75 @ 112", "axis", "−3.25 @ 022"} <= set(texts(wide))


def test_a_sphere_has_one_power_and_no_axis() -> None:
    drawn = power_cross("cross", LensPower(-3))
    assert drawn.description == "−3.00 D in every meridian: a sphere has no axis."
    for drawing in drawings(drawn):
        assert [text for text in texts(drawing) if "3.00" in text] == ["−3.00"]
        assert not having(drawing, "line", "axis-mark")


# Pass windows ------------------------------------------------------------------------------------


def brackets(drawing: ET.Element) -> list[float]:
    return [float(b.attrib["d"].split()[1]) for b in having(drawing, "path", "bracket")]


def test_window_fills_the_middle_half_and_the_pointer_is_linear() -> None:
    gauge = Gauge("Cylinder", "D", -2.62, -2.50, -2.38, -2.47, inside=True)
    for drawing in drawings(pass_window("window", [gauge])):
        (line,) = having(drawing, "line", "window")
        (left, _), (right, _) = ends(line)
        assert brackets(drawing) == [left, right]
        (tip,) = tips(drawing)
        assert tip == pytest.approx(left + (right - left) * (0.15 / 0.24), abs=0.02)


def test_inside_and_outside_differ_by_word_and_shape() -> None:
    inside = Gauge("Sphere", "D", -1, 0, 1, 1, inside=True)
    outside = Gauge("Sphere", "D", -1, 0, 1, 1.25, inside=False)
    for drawing in drawings(pass_window("window", [inside])):
        assert "measured +1.00, inside" in texts(drawing)
        assert (len(tips(drawing, "solid")), len(tips(drawing, "hollow"))) == (1, 0)
    for drawing in drawings(pass_window("window", [outside])):
        assert "measured +1.25, outside" in texts(drawing)
        assert (len(tips(drawing, "solid")), len(tips(drawing, "hollow"))) == (0, 1)


@pytest.mark.parametrize(
    ("low", "ordered", "high", "measured", "side"),
    [
        (178, 1, 4, 179, "within"),
        (178, 1, 4, 2, "within"),
        (178, 1, 4, 176, "left"),
        (178, 1, 4, 6, "right"),
        (2, 5, 8, 180, "left"),
        (172, 175, 178, 1, "right"),
        (177, 180, 3, 180, "within"),
    ],
)
def test_an_axis_window_across_180_has_no_seam(
    low: float, ordered: float, high: float, measured: float, side: str
) -> None:
    gauge = Gauge("Axis", "°", low, ordered, high, measured, inside=side == "within")
    for drawing in drawings(pass_window("window", [gauge])):
        left, right = brackets(drawing)
        (tip,) = tips(drawing, "solid" if side == "within" else "hollow")
        assert left < right
        assert side == ("left" if tip < left else "right" if tip > right else "within")
        assert [f"{low:03.0f}", f"{high:03.0f}"] == [
            text for text in texts(drawing) if re.fullmatch(r"\d{3}", text)
        ]


def test_a_value_off_the_line_is_an_arrow_at_its_edge_with_its_value() -> None:
    for measured, edge in ((-4.0, min), (-1.0, max)):
        gauge = Gauge("Cylinder", "D", -2.62, -2.50, -2.38, measured, inside=False)
        for drawing in drawings(pass_window("window", [gauge])):
            (whole_line,) = [
                node
                for node in having(drawing, "line", "ink")
                if ends(node)[0][1] == ends(node)[1][1]
            ]
            (tip,) = tips(drawing, "hollow")
            assert tip == edge(x for x, _ in ends(whole_line))
            assert f"measured {write_power(measured)}, outside" in texts(drawing)


def test_a_quantity_without_limit_says_so_and_draws_no_window() -> None:
    drawn = pass_window("window", [Gauge("Axis", "°", None, 112, None, 118)])
    assert drawn.description == "Axis: ordered 112, measured 118, no limit."
    for drawing in drawings(drawn):
        assert "measured 118, no limit" in texts(drawing)
        assert brackets(drawing) == []


def test_limits_that_make_no_window_are_refused() -> None:
    with pytest.raises(LensError, match="one limit"):
        Gauge("Sphere", "D", -1, 0, None)
    with pytest.raises(LensError, match="outside its limits"):
        Gauge("Sphere", "D", 1, 0, -1)
    with pytest.raises(LensError, match=r"ordered 001, outside its limits 004 to 178"):
        Gauge("Axis", "°", 4, 1, 178)


def _ticks(drawing: ET.Element) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The ends of every mark of a scale."""
    strokes = (node.attrib["d"] for node in drawing.iter(f"{SVG}path"))
    found = (re.findall(r"M (\S+) (\S+) v (\S+)", stroke) for stroke in strokes)
    marks = [tuple(map(float, mark)) for stroke in found for mark in stroke]
    return [((x, y), (x, y + length)) for x, y, length in marks]


def _strokes(path: str) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The ends of every straight stroke of a path with M, L, m and l, each with one point."""
    found, x, y = [], 0.0, 0.0
    for letter, *point in re.findall(r"([MLml]) (\S+) (\S+)", path):
        before, (step_x, step_y) = (x, y), map(float, point)
        x, y = (step_x, step_y) if letter.isupper() else (x + step_x, y + step_y)
        if letter in "Ll":
            found.append((before, (x, y)))
    return found


def _stylesheet() -> str:
    return _static("figures.css")


def _static(name: str) -> str:
    folder = Path(__file__).parents[1] / "site_src" / "static"
    return (folder / name).read_text(encoding="utf-8")


def _luminance(colour: str) -> float:
    """Relative luminance of #rrggbb (WCAG 2.2, from memory)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
