"""A lens cut through its middle, drawn to scale with its front up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lensmath.notation import write_axis, write_power
from lensmath.surfaces import ThickLens, radius_of_curvature
from lensmath.thickness import knife_edge_distance, sagitta, thickness_at

from .svg import LINE_HEIGHT, TEXT, Column, Drawing, Element, Figure, figure, label, line, path

_MARGIN = 6.0  # px left and right of a profile
_GAP = 6.0  # px between a profile and what is written about it
_BETWEEN = 14.0  # px between two profiles
_POINTS = 24  # on each side of the middle
_USUAL_HALF = 25.0  # mm; how much of a lens is drawn when its diameter does not matter
_LEAST_HALF = 4.0  # mm; surfaces that meet sooner are drawn on beyond it
_SHARE = 0.95  # of the way to where two surfaces meet, or to a half sphere


@dataclass(frozen=True)
class _Cut:
    """A cut along one meridian, and what is written above, below at the left and at the right."""

    lens: ThickLens
    along: float
    half: float
    above: str
    left: str
    right: str

    def heights(self, distance: float) -> tuple[float, float]:
        """Front and back surface there, in mm above the front vertex."""
        front, back = (
            sagitta(side.power_along(self.along), abs(distance), self.lens.index)
            for side in (self.lens.front, self.lens.back)
        )
        return -front, back - self.lens.centre_thickness

    def drawn(self, top: float, width: float) -> Drawing:
        """The cut below `top`, filling `width`; the height is that of its lowest text."""
        unit = (width - 2 * _MARGIN) / (2 * self.half)
        ways = [self.half * step / _POINTS for step in range(-_POINTS, _POINTS + 1)]
        fronts, backs = zip(*(self.heights(way) for way in ways), strict=True)
        highest, lowest = max(*fronts, *backs), min(*fronts, *backs)
        roof = top + LINE_HEIGHT + _GAP

        def place(way: float, height: float) -> tuple[float, float]:
            return width / 2 + unit * way, roof + unit * (highest - height)

        front = [place(way, height) for way, height in zip(ways, fronts, strict=True)]
        back = [place(way, height) for way, height in zip(ways, backs, strict=True)]
        foot = roof + unit * (highest - lowest) + _GAP + TEXT
        return foot, [
            label(width / 2, top + TEXT, self.above, "label strong"),
            *_glass(front, back),
            *([label(0, foot, self.left, anchor="start")] if self.left else []),
            *([label(width, foot, self.right, anchor="end")] if self.right else []),
        ]


def _glass(front: list[tuple[float, float]], back: list[tuple[float, float]]) -> list[Element]:
    """The glass with its centre and edges, or only two curves where they cross: no such lens."""
    if any(above[1] > below[1] for above, below in zip(front, back, strict=True)):
        return [_curve("ink", front), _curve("ink", back)]
    middle = len(front) // 2
    return [
        _curve("glass", [*front, *back[::-1]]),
        *(line(*front[at], *back[at], "bracket") for at in (0, middle, -1)),
    ]


def _curve(class_: str, points: list[tuple[float, float]]) -> Element:
    steps = [step for point in points for step in ("L", *point)]
    return path(class_, "M", *steps[1:], *(["Z"] if class_ == "glass" else []))


def edge_profiles(
    name: str, lens: ThickLens, diameter: float, directions: Sequence[float]
) -> Figure:
    """A round lens cut along each of these meridians, with its centre and its edge.

    One direction is taken as that of a sphere, which needs no name. `diameter` in mm.
    """
    half = diameter / 2
    centre = f"centre {lens.centre_thickness:.2f} mm"
    cuts = [
        _Cut(
            lens,
            along,
            half,
            centre if len(directions) == 1 else f"along {write_axis(along)}: {centre}",
            f"edge {thickness_at(lens, half, along):.2f} mm",
            f"across {diameter:g} mm",
        )
        for along in directions
    ]
    said = [
        f"{'every meridian' if len(cuts) == 1 else write_axis(cut.along)} "
        f"{thickness_at(lens, half, cut.along):.2f} mm"
        for cut in cuts
    ]
    says = (
        f"Cut through a lens of {diameter:g} mm, to scale, front up: the centre is "
        f"{lens.centre_thickness:.2f} mm thick; the edge along {', along '.join(said)}."
    )
    return figure(name, "Lens in section", says, lambda column: _stacked(cuts, column))


def surfaces_profile(name: str, lens: ThickLens) -> Figure:
    """The middle of a lens with spherical surfaces, with their powers and its thickness."""
    powers = [side.sphere for side in (lens.front, lens.back)]
    reach = [_USUAL_HALF, *(_SHARE * abs(radius_of_curvature(p, lens.index)) for p in powers)]
    meet = knife_edge_distance(lens)
    if meet is not None and meet >= _LEAST_HALF:
        reach.append(_SHARE * meet)
    half = min(reach)
    front, back = (write_power(p) for p in powers)
    cut = _Cut(
        lens,
        180.0,
        half,
        f"front {front} D",
        f"back {back} D",
        f"{lens.centre_thickness:g} mm thick",
    )
    says = (
        f"Middle of the lens in section, to scale, front up: front {front} D, back {back} D, "
        f"{lens.centre_thickness:g} mm thick at the centre."
    )
    return figure(name, "Lens in section", says, lambda column: _stacked([cut], column))


def _stacked(cuts: Sequence[_Cut], column: Column) -> Drawing:
    parts: list[Element] = []
    foot = -_BETWEEN
    for cut in cuts:
        foot, drawn = cut.drawn(foot + _BETWEEN, column.width)
        parts += drawn
    return foot + _GAP, parts
