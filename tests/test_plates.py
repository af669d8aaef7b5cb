"""The pictures of the instrument and of its eyepiece: what is drawn is what the optics say."""

from __future__ import annotations

import itertools
import math
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from lensmath.focimeter import LENS_STOP
from lensmath.power import LensPower, standard_axis
from lensmath.prism import Prism
from lensmath.readings import Lines
from lensmath.surfaces import ThickLens
from lensmath.target import View
from site_src.figures.eyepiece import FIELD, RINGS, TARGET, seen_field, short_state, state, view
from site_src.figures.svg import NARROW, WIDE, Figure, text_width
from site_src.plates import instrument, on_stop, settings
from site_src.plates.eyepiece import DOTS, corona, steps

ROOT = Path(__file__).parents[1]
SVG = "{http://www.w3.org/2000/svg}"
LENS = LensPower(-0.75, -2.50, 112)
COLUMNS = {"narrow": NARROW, "wide": WIDE}
NUMBER = r"-?\d+(?:\.\d+)?"


class Streak:
    """One wash of one line, in prism dioptres, in the frame that is turned along the lines."""

    def __init__(self, corners: list[float], unit: float) -> None:
        x, y, run, slant, rise = (value / unit for value in corners)
        self.width = rise
        self.shear = slant
        self.length = run
        self.place = -(y - rise / 2)
        self.middle = x + (run + slant) / 2


class Wash:
    """All lines of a set in one ink."""

    def __init__(self, node: ET.Element, unit: float) -> None:
        self.ink = float(node.get("fill-opacity", 1))
        shape = rf"M({NUMBER}) ({NUMBER})h({NUMBER})l({NUMBER}) -({NUMBER})h-\3z"
        found = re.findall(shape, node.attrib["d"])
        assert len(found) == node.attrib["d"].count("M") == 3
        self.streaks = [Streak([float(each) for each in one], unit) for one in found]


class LinesSeen:
    """One set of lines as it is drawn."""

    def __init__(self, node: ET.Element, unit: float) -> None:
        moved, turned = ([float(n) for n in re.findall(NUMBER, one)] for one in _transforms(node))
        self.x, self.y = moved[0] / unit, -moved[1] / unit
        self.direction = standard_axis(-turned[0])
        self.washes = [Wash(each, unit) for each in node]


def _transforms(node: ET.Element) -> tuple[str, str]:
    written = node.attrib["transform"]
    move = re.search(r"translate\([^)]*\)", written)
    turn = re.search(r"rotate\([^)]*\)", written)
    assert turn
    return (move.group() if move else "0 0"), turn.group()


class Field:
    """One round field, read back from the drawing; sizes in prism dioptres."""

    def __init__(self, node: ET.Element) -> None:
        circles = node.findall(f"{SVG}circle")
        (rim,) = [each for each in circles if each.attrib["class"] == "ink"]
        self.unit = float(rim.attrib["r"]) / FIELD
        self.rings = [float(each.attrib["r"]) / self.unit for each in circles if each is not rim]
        (self.seen,) = node.findall(f"{SVG}g")
        marks = [
            [float(each.attrib[name]) for name in ("x1", "y1", "x2", "y2")]
            for each in node.findall(f"{SVG}line")
        ]
        self.wheels = [math.degrees(math.atan2(-y2, x2)) % 360 for _, _, x2, y2 in marks]

    @property
    def sets(self) -> dict[Lines, LinesSeen]:
        return dict(
            zip(
                (Lines.SPHERE, Lines.CYLINDER),
                (LinesSeen(each, self.unit) for each in self.seen),
                strict=True,
            )
        )


def root(drawn: Figure, column: str) -> ET.Element:
    return ET.fromstring(getattr(drawn, column))


def fields(drawn: Figure, column: str = "wide") -> list[Field]:
    return [Field(each) for each in root(drawn, column).findall(f"{SVG}g")]


def texts(drawn: Figure, column: str) -> list[str]:
    return ["".join(each.itertext()) for each in root(drawn, column).iter(f"{SVG}text")]


SEEN = [
    View(lens, drum, wheel, prism)
    for lens, drum, wheel, prism in (
        (LENS, -0.75, 112, Prism(0, 0)),
        (LENS, -3.25, 112, Prism(0, 0)),
        (LENS, -0.75, 92, Prism(0, 0)),
        (LENS, 1.5, 22, Prism(1, -2)),
        (LensPower(2, 1.25, 30), 2.0, 45, Prism(-0.5, 0.5)),
        (LensPower(-2), -2.0, 70, Prism(0, 2)),
        (LensPower(-2), -1.0, 180, Prism(0, 0)),
    )
]


def drawn(seen: View) -> Figure:
    return view("seen", seen.lens, seen.drum, seen.wheel, seen.prism)


# The eyepiece -------------------------------------------------------------------------------------


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("seen", SEEN)
def test_lines_stand_and_run_as_the_optics_say(seen: View, column: str) -> None:
    (field,) = fields(drawn(seen), column)
    images = seen.line_images(TARGET)
    for lines, found in field.sets.items():
        expected = [each for each in images if each.lines is lines]
        assert found.direction == expected[0].direction
        normal = math.radians(found.direction + 90)
        for wash in found.washes:
            for streak, image in zip(wash.streaks, expected, strict=True):
                x = found.x + streak.place * math.cos(normal)
                y = found.y + streak.place * math.sin(normal)
                assert (x, y) == pytest.approx((image.x, image.y), abs=0.01)
                assert streak.middle == pytest.approx(0, abs=0.01)


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("seen", SEEN)
def test_sharp_lines_have_their_own_width_in_full_ink_and_no_others_do(
    seen: View, column: str
) -> None:
    (field,) = fields(drawn(seen), column)
    for lines, own in ((Lines.SPHERE, TARGET.sphere), (Lines.CYLINDER, TARGET.cylinder)):
        washes = field.sets[lines].washes
        full = [wash for wash in washes if wash.ink == 1]
        assert bool(full) == seen.is_sharp(lines)
        for wash in full:
            for streak in wash.streaks:
                assert streak.width == pytest.approx(own.width, abs=0.005)
                assert streak.length == pytest.approx(own.length, abs=0.01)
                assert streak.shear == 0


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("seen", SEEN)
def test_widest_wash_of_a_blurred_line_is_the_line_as_it_is_seen(seen: View, column: str) -> None:
    (field,) = fields(drawn(seen), column)
    images = {image.lines: image for image in seen.line_images(TARGET)}
    for lines, found in field.sets.items():
        image = images[lines]
        if seen.is_sharp(lines):
            continue
        inks = [wash.ink for wash in found.washes]
        widths = [wash.streaks[0].width for wash in found.washes]
        assert len(inks) == 3
        assert max(inks) < 1
        assert widths == sorted(widths, reverse=True)
        widest = found.washes[0].streaks[0]
        assert widest.width == pytest.approx(image.width, abs=0.01)
        assert widest.shear == pytest.approx(image.shear, abs=0.01)
        assert widest.length + abs(widest.shear) == pytest.approx(image.length, abs=0.02)


def test_more_blur_has_less_ink() -> None:
    inks = []
    for drum in (-2.1, -2.5, -3.5, -6.0):
        (field,) = fields(view("a", LensPower(-2), drum))
        inks.append(field.sets[Lines.CYLINDER].washes[0].ink)
    assert inks == sorted(inks, reverse=True)
    assert len(set(inks)) == len(inks)


def test_only_a_wheel_off_the_axis_breaks_the_lines() -> None:
    right, wrong = (fields(view("a", LENS, -0.75, wheel))[0].sets for wheel in (112, 92))
    assert [wash.streaks[0].shear for found in right.values() for wash in found.washes] == [0] * 5
    for found in wrong.values():
        assert all(wash.streaks[0].shear for wash in found.washes)


def test_state_in_a_word() -> None:
    def states(drum: float, wheel: float) -> tuple[str, str]:
        seen = View(LENS, drum, wheel)
        return state(seen, Lines.SPHERE), state(seen, Lines.CYLINDER)

    assert states(-0.75, 112) == ("sharp", "blurred")
    assert states(-3.25, 112) == ("blurred", "sharp")
    assert states(-0.75, 92) == ("broken", "blurred")
    assert states(-3.25, 92) == ("blurred", "broken")
    assert states(-0.75, 22) == ("blurred", "sharp")
    assert states(3, 92) == ("blurred", "blurred")
    assert short_state(View(LensPower(-2), -2)) == "both sets sharp"
    assert short_state(View(LENS, -3.25, 92)) == "cylinder lines broken"
    assert short_state(View(LENS, -3.25, 112)) == "cylinder lines sharp"


@pytest.mark.parametrize("column", COLUMNS)
def test_rings_are_a_prism_dioptre_apart(column: str) -> None:
    (field,) = fields(drawn(SEEN[0]), column)
    assert field.rings == pytest.approx(range(1, RINGS + 1), abs=0.01)


@pytest.mark.parametrize("seen", SEEN)
def test_marks_on_the_rim_show_where_the_wheel_stands(seen: View) -> None:
    (field,) = fields(drawn(seen))
    assert sorted(field.wheels) == pytest.approx(
        sorted((seen.wheel % 360, (seen.wheel + 180) % 360)), abs=0.2
    )
    cylinder = field.sets[Lines.CYLINDER].direction
    assert cylinder % 180 == pytest.approx(field.wheels[0] % 180, abs=0.2)


def test_what_lies_beyond_the_rim_is_cut_off() -> None:
    for column in COLUMNS:
        drawing = root(drawn(SEEN[3]), column)
        clip = drawing.find(f"{SVG}clipPath")
        assert clip is not None
        assert clip.attrib["id"] == f"seen-{column}-field"
        (field,) = fields(drawn(SEEN[3]), column)
        assert field.seen.attrib["clip-path"] == f"url(#{clip.attrib['id']})"
        assert float(clip[0].attrib["r"]) == field.unit * FIELD


def test_sentence_says_drum_wheel_lens_and_what_is_sharp() -> None:
    assert drawn(SEEN[0]).description == (
        "The drum at −0.75, the wheel at 112, the lens −0.75 −2.50 × 112: the sphere lines are "
        "sharp, the cylinder lines blurred."
    )
    assert drawn(View(LensPower(-2), -2, prism=Prism(0, 2))).description == (
        "The drum at −2.00, the wheel at 180, the lens −2.00 DS: both sets of lines are sharp; "
        "the target stands 2.00 up among the rings."
    )
    assert "180, no lens on the stop: both" in view("none", LensPower(0), 0).description


def test_a_field_says_no_more_of_the_lens_than_it_is_told() -> None:
    """The drum may read a zero error beside; the picture is that of the true vergence."""
    shown = seen_field("hidden", SEEN[0], -0.5, "an unknown lens on the stop")
    assert shown.description == (
        "The drum at −0.50, the wheel at 112, an unknown lens on the stop: the sphere lines are "
        "sharp, the cylinder lines blurred."
    )
    for column in COLUMNS:
        assert "drum −0.50" in texts(shown, column)
        assert texts(shown, column)[-1] == "sphere lines sharp"


# A ring of dots -----------------------------------------------------------------------------------


def _arcs(drawing: Figure) -> list[list[tuple[float, ...]]]:
    """Of each wash its dots: middle, longer and shorter radius, direction of the longer."""
    (field,) = fields(drawing)
    arc = rf"M({NUMBER}) ({NUMBER})a({NUMBER}) ({NUMBER}) ({NUMBER}) 1 1 ({NUMBER}) ({NUMBER})a"
    found = []
    for node in field.seen:
        dots: list[tuple[float, ...]] = []
        for x, y, longer, shorter, turn, dx, dy in (
            map(float, one) for one in re.findall(arc, node.attrib["d"])
        ):
            aslant = dx * math.sin(math.radians(turn)) - dy * math.cos(math.radians(turn))
            assert aslant == pytest.approx(0, abs=0.15)
            middle = ((x + dx / 2) / field.unit, -(y + dy / 2) / field.unit)
            dots.append((*middle, longer / field.unit, shorter / field.unit, -turn))
        assert len(dots) == DOTS.dots
        found.append(dots)
    return found


@pytest.mark.parametrize(("drum", "prism"), [(-0.75, Prism(0, 0)), (-3.0, Prism(1, 0.5))])
def test_dots_are_drawn_out_as_the_optics_say(drum: float, prism: Prism) -> None:
    images = View(LENS, drum, prism=prism).dot_images(DOTS)
    washes = _arcs(corona("dots", LENS, drum, prism))
    assert len(washes) == 3
    for dot, image in zip(washes[0], images, strict=True):
        expected = (image.x, image.y, image.length / 2, image.width / 2, image.direction)
        assert dot == pytest.approx(expected, abs=0.01)


def test_a_sphere_at_its_power_shows_round_dots() -> None:
    (dots,) = _arcs(corona("dots", LensPower(-2), -2))
    for dot in dots:
        assert dot[2:4] == pytest.approx((DOTS.diameter / 2,) * 2, abs=0.005)
    assert "dots sharp" in corona("dots", LensPower(-2), -2).description
    assert "blurred and round" in corona("dots", LensPower(-2), -1).description
    assert "lines along 022" in corona("dots", LENS, -0.75).description
    assert "ovals along 022" in corona("dots", LENS, -1).description


# Steps --------------------------------------------------------------------------------------------

PROCEDURE: list[tuple[Any, ...]] = [
    (0.5, 180),
    (-0.75, 180, "begin to turn the wheel"),
    (-0.75, 112, "", Prism(1, 0)),
    (-3.25, 112),
]


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("number", [2, 3, 4])
def test_each_step_shows_its_own_setting(number: int, column: str) -> None:
    shown = steps("reading", "Reading a cylinder", LENS, PROCEDURE[:number])
    for field, (drum, wheel, *more) in zip(fields(shown, column), PROCEDURE, strict=False):
        prism = more[1] if len(more) > 1 else Prism(0, 0)
        images = View(LENS, drum, wheel, prism).line_images(TARGET)
        sphere = field.sets[Lines.SPHERE]
        assert sphere.direction == images[0].direction
        assert sphere.x == pytest.approx(prism.x, abs=0.01)
        assert sphere.washes[0].streaks[0].length + abs(
            sphere.washes[0].streaks[0].shear
        ) == pytest.approx(images[0].length, abs=0.02)
    assert len(fields(shown, column)) == number


def test_steps_are_numbered_and_told() -> None:
    shown = steps("reading", "Reading a cylinder", LENS, PROCEDURE)
    for column in COLUMNS:
        found = texts(shown, column)
        assert [text for text in found if text.isdigit()] == ["1", "2", "3", "4"]
        assert found.count("drum −0.75") == 2
        assert found.count("wheel 112") == 2
    assert shown.description == (
        "Reading a cylinder; the lens −0.75 −2.50 × 112. "
        "1: drum +0.50, wheel 180: both sets blurred. "
        "2: drum −0.75, wheel 180, begin to turn the wheel: cylinder lines broken. "
        "3: drum −0.75, wheel 112: sphere lines sharp; the target stands 1.00 right among the "
        "rings. 4: drum −3.25, wheel 112: cylinder lines sharp."
    )


@pytest.mark.parametrize(
    ("note", "said"),
    [
        ("stop: sharp", "stop: sharp."),
        ("lines blur", "lines blur."),
        ("broken", "broken."),
        ("read here", "read here: sphere lines sharp."),
    ],
)
def test_what_is_sharp_is_told_once(note: str, said: str) -> None:
    shown = steps("one", "One", LENS, [(-0.75, 112, note)])
    assert shown.description.endswith(f"wheel 112, {said}")


def test_a_step_may_look_at_another_part_of_the_lens() -> None:
    near = LensPower(1.25, -2.50, 112)
    shown = steps(
        "add", "Reading an addition", LENS, [(-0.75, 112), (1.25, 112, "near", Prism(0, 0), near)]
    )
    for field in fields(shown):
        assert field.sets[Lines.SPHERE].washes[-1].ink == 1


# The instrument -----------------------------------------------------------------------------------


def bent(ray: list[tuple[float, float]], number: int) -> float:
    """How much a ray is bent at one of its corners, in dioptres of power for its height."""
    (x0, y0), (x1, y1), (x2, y2) = ray[number - 1 : number + 2]
    return 1000 * ((y1 - y0) / (x1 - x0) - (y2 - y1) / (x2 - x1)) / y1


def test_light_is_bent_by_each_lens_as_its_power_says() -> None:
    ray = list(instrument.edge_ray())
    assert bent(ray, 1) == pytest.approx(instrument.STANDARD_LENS)
    assert bent(ray, 2) == pytest.approx(instrument.ON_STOP)
    assert bent(ray, 3) == pytest.approx(1000 / instrument.OBJECTIVE_FOCUS)
    assert bent(ray, 4) == pytest.approx(1000 / instrument.EYEPIECE_FOCUS)
    assert ray[2] == (instrument.FOCUS, LENS_STOP / 2)
    assert ray[2][1] == ray[3][1]
    assert ray[4][1] == ray[5][1]


@pytest.mark.parametrize("column", COLUMNS)
def test_drawn_rays_are_those_of_the_optics(column: str) -> None:
    drawing = root(instrument.section("path"), column)
    rays = [
        re.findall(NUMBER, node.attrib["d"])
        for node in drawing.findall(f"{SVG}path")
        if node.attrib["class"] == "hair"
    ]
    assert len(rays) == 2
    places = [list(map(float, ray)) for ray in rays]
    along = places[0][0::2] if column == "wide" else [-y for y in places[0][1::2]]
    across = places[0][1::2] if column == "wide" else places[0][0::2]
    unit = (along[1] - along[0]) / -instrument.target_at()
    for found, (at, off) in zip(
        zip(along, across, strict=True), instrument.edge_ray(), strict=True
    ):
        assert (found[0] - along[1]) / unit == pytest.approx(at, abs=0.02)
        assert across[0] - found[1] == pytest.approx(7 * off, abs=0.02)


def test_target_stands_behind_its_place_at_zero_for_a_minus_lens() -> None:
    # x = D / Fs², in metres: -5 / 400 = -12.5 mm, and 50 mm is the focal length of the lens.
    assert instrument.target_at() == pytest.approx(-62.5)


@pytest.mark.parametrize("column", COLUMNS)
def test_every_part_has_its_name_in_the_order_of_the_light(column: str) -> None:
    shown = instrument.section("path")
    names = [
        "lamp", "target", "standard lens", "lens stop", "spectacle lens", "objective", "reticle",
        "eyepiece", "eye",
    ]  # fmt: skip
    assert [text for text in texts(shown, column) if text in names] == names
    placed = [shown.description.index(name) for name in names[:-1]]
    assert placed == sorted(placed)


def test_minus_lies_away_from_the_standard_lens() -> None:
    for column, coordinate in (("wide", "x"), ("narrow", "y")):
        signs = {
            node.text: float(node.attrib[coordinate])
            for node in root(instrument.section("path"), column).iter(f"{SVG}text")
        }
        minus_first = signs["−"] < signs["+"]
        assert minus_first == (column == "wide")


def refract(ray: np.ndarray, normal: np.ndarray, ratio: float) -> np.ndarray:
    """Snell's law for a unit ray; `ratio` is the index before over that behind the surface."""
    normal = normal * np.sign(ray @ normal) / np.linalg.norm(normal)
    aslant = ratio * (ray - (ray @ normal) * normal)
    bent: np.ndarray = aslant + math.sqrt(1 - aslant @ aslant) * normal
    return bent


def meet(start: np.ndarray, ray: np.ndarray, centre: np.ndarray, near: np.ndarray) -> np.ndarray:
    """Where a ray meets a sphere, on the side on which the point `near` of the sphere lies."""
    back, radius = start - centre, np.linalg.norm(near - centre)
    half = back @ ray
    root = math.sqrt(half**2 - back @ back + radius**2)
    found = [start + (root * side - half) * ray for side in (1, -1)]
    return min(found, key=lambda point: float(np.linalg.norm(point - near)))


def traced_power(lens: ThickLens, tilt: float) -> tuple[float, float]:
    """Power along and across a level tilt axis, from rays beside that through the back vertex."""
    aslant, index = math.radians(tilt), lens.index
    along_lens = np.array([0.0, math.sin(aslant), math.cos(aslant)])
    vertex = np.zeros(3)
    front_vertex = -lens.centre_thickness / 1000 * along_lens
    front = front_vertex + (index - 1) / lens.front.sphere * along_lens
    back = (1 - index) / lens.back.sphere * along_lens
    sight = np.array([0.0, 0.0, 1.0])
    inside = refract(sight, back, 1 / index)  # the way back is the same as the way there
    first = meet(vertex, -inside, front, front_vertex)
    comes = refract(inside, front - first, index)

    def power(side: np.ndarray) -> float:
        ray = comes
        point = meet(first + 1e-5 * side - 0.01 * comes, ray, front, front_vertex)
        ray = refract(ray, front - point, 1 / index)
        point = meet(point, ray, back, vertex)
        ray = refract(ray, back - point, index)
        point = point - point[2] / ray[2] * ray
        return float(-(ray @ side) / ray[2] / (point @ side))

    return power(np.array([1.0, 0.0, 0.0])), power(np.array([0.0, 1.0, 0.0]))


def test_readings_of_a_lens_as_it_lies() -> None:
    right, aslant, over = on_stop.lyings()
    assert right.read == "+6.00 DS"
    along, across = traced_power(on_stop.LENS, on_stop.TILT)
    assert aslant.read == f"+{along:.2f} +{across - along:.2f} × 180" == "+6.10 +0.38 × 180"
    # F2 = 6 - 9 / (1 - 0.004 × 9) = -3.336; -3.336 / (1 + 0.004 × 3.336) + 9 = 5.708.
    assert over.read == "+5.71 DS"
    for column in COLUMNS:
        found = [text for text in texts(on_stop.on_stop("lying"), column) if "reads" in text]
        assert found == [f"reads {way.read}" for way in (right, aslant, over)]


def test_only_the_tilted_lens_stands_off_the_stop() -> None:
    for node, standing in zip(
        root(on_stop.on_stop("lying"), "wide").iter(f"{SVG}path"), itertools.count()
    ):
        if node.attrib["class"] != "glass":
            continue
        x1, y1, *_ = map(float, re.findall(NUMBER, node.attrib["d"]))
        x2, y2 = list(map(float, re.findall(NUMBER, node.attrib["d"])))[7:9]
        level = abs(y1 - y2) < 0.01
        assert level == (standing != 3)
        assert math.dist((x1, y1), (x2, y2)) == pytest.approx(150, abs=0.1)


@pytest.mark.parametrize("effort", [-1.0, -0.5, 0.5, 1.0, 2.0])
def test_error_of_an_eye_that_accommodates(effort: float) -> None:
    """Against thin lenses, one after the other: the image stands off the reticle, and by how much.

    Focal lengths in metres, telescope set for parallel light, the eye close behind the eyepiece.
    """
    objective, eyepiece = 0.06, 0.02
    to_eyepiece = 1 / (1 / eyepiece + effort)  # from where the eyepiece sends light with -effort
    from_objective = objective + eyepiece - to_eyepiece
    taken_in = 1 / from_objective - 1 / objective  # the vergence left over, of the lens less drum

    assert settings.error_of_effort(effort, 3) == pytest.approx(-taken_in, rel=0.06)


def test_an_eyepiece_too_far_in_reads_minus_for_an_eye_that_cannot_accommodate() -> None:
    """Such an eye takes parallel light: the image must lie in the focal plane of the eyepiece."""
    objective, eyepiece, too_far_in = 0.06, 0.02, 1.0
    reticle = 1 / (1 / eyepiece + too_far_in)  # from the eyepiece; its light spreads by so much
    image = objective + reticle - eyepiece  # from the objective
    lens_less_drum = 1 / image - 1 / objective
    assert -lens_less_drum == pytest.approx(settings.error_of_effort(-too_far_in, 3), rel=0.06)
    assert settings.error_of_effort(-too_far_in, 3) < 0
    assert "where it cannot, they blur" in settings.eyepiece_setting("set").description


def test_eyepiece_is_blurred_only_while_it_is_out() -> None:
    for column in COLUMNS:
        drawing = root(settings.eyepiece_setting("set"), column)
        circles = drawing.findall(f"{SVG}circle")
        soft = [float(node.attrib["cx"]) for node in circles if "stroke-opacity" in node.attrib]
        hard = [float(node.attrib["cx"]) for node in circles if "stroke-opacity" not in node.attrib]
        assert max(soft) < min(hard)
        assert len(soft) == 2 * RINGS
        assert len(hard) == 2 * RINGS


@pytest.mark.parametrize("axis", [1, 45, 90, 112, 180])
def test_wheel_shows_the_axis_against_the_clock_from_the_right(axis: float) -> None:
    drawing = root(settings.wheel("wheel", axis), "wide")
    (arm,) = [node for node in drawing.findall(f"{SVG}line") if node.attrib["class"] == "arm"]
    x1, y1, x2, y2 = (float(arm.attrib[name]) for name in ("x1", "y1", "x2", "y2"))
    assert math.degrees(math.atan2(y1 - y2, x2 - x1)) == pytest.approx(axis, abs=0.1)
    places = {
        node.text: (float(node.attrib["x"]), float(node.attrib["y"]))
        for node in drawing.iter(f"{SVG}text")
    }
    if axis not in (1, 180):
        assert places["0"][0] > 300 > places["180"][0]
    assert f"{axis:03.0f}" in places


# All of them --------------------------------------------------------------------------------------


def every_plate() -> list[Figure]:
    return [
        *(drawn(seen) for seen in SEEN),
        *(view("turned", LENS, -1, wheel) for wheel in range(0, 181, 5)),
        *(corona("dots", LENS, drum) for drum in (-0.75, -1, 3)),
        *(steps("steps", "Steps", LENS, PROCEDURE[:number]) for number in (2, 3, 4)),
        instrument.section("path"),
        on_stop.on_stop("lying"),
        settings.eyepiece_setting("set"),
        *(settings.wheel("wheel", axis) for axis in range(1, 181)),
    ]


@pytest.mark.parametrize("column", COLUMNS)
def test_text_stays_in_the_drawing_and_apart(column: str) -> None:
    for plate in every_plate():
        drawing = root(plate, column)
        *_, width, height = map(float, drawing.attrib["viewBox"].split())
        boxes = [_box(node) for node in drawing.iter(f"{SVG}text")]
        for text, left, top, right, bottom in boxes:
            assert left >= 0, text
            assert right <= width, text
            assert top >= 0, text
            assert bottom <= height, text
        for one, other in itertools.combinations(boxes, 2):
            apart = (
                one[1] >= other[3] or other[1] >= one[3] or one[2] >= other[4] or other[2] >= one[4]
            )
            assert apart, (plate.description, one, other)


def _box(node: ET.Element) -> tuple[str, float, float, float, float]:
    text = "".join(node.itertext())
    room = text_width(text)
    left = (
        float(node.attrib["x"])
        - room * {"start": 0.0, "middle": 0.5, "end": 1.0}[node.attrib["text-anchor"]]
    )
    base = float(node.attrib["y"])
    return text, left, base - 10, left + room, base + 3


def test_fields_leave_room_for_text() -> None:
    for plate in every_plate():
        for column in COLUMNS:
            drawing = root(plate, column)
            for node in drawing.findall(f"{SVG}g"):
                x, y = map(float, re.findall(NUMBER, node.attrib["transform"]))
                radius = Field(node).unit * FIELD
                for text, left, top, right, bottom in map(_box, drawing.iter(f"{SVG}text")):
                    near = max(left, min(x, right)), max(top, min(y, bottom))
                    assert math.dist(near, (x, y)) >= radius, (plate.name, text)


def test_every_class_has_its_style() -> None:
    css = (ROOT / "site_src/static/figures.css").read_text(encoding="utf-8")
    styled = set(re.findall(r"\.([a-z][a-z-]*)", css))
    for plate in every_plate():
        used = {
            name for names in re.findall(r'class="([^"]*)"', plate.markup) for name in names.split()
        }
        assert used <= styled | {"drawn"}
