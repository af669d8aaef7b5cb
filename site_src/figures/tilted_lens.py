"""How a tilted lens stands before the eye: seen from the side and from above."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lensmath.eye import Eye

from .svg import (
    LINE_HEIGHT,
    NARROW,
    TEXT,
    Column,
    Drawing,
    Element,
    Figure,
    element,
    figure,
    label,
    line,
    path,
)

_HALF_LENS = 40.0  # px from the middle of the lens to its edge, in the narrow column
_EYE = 15.0  # px, the radius of the eye
_PUPIL = 3.0  # px, the radius of its pupil
_TO_EYE = 46.0  # px from the lens to the middle of the eye
_BULGE = 9.0  # px; how far the lens is drawn curved
_WIDER = 1.5  # times as large in the wide column
_HEAD = 2 * LINE_HEIGHT + 14.0  # px above the lens, for the title and an end
_FOOT = 2 * LINE_HEIGHT + 12.0  # px below it, for the other end and the angle


@dataclass(frozen=True)
class _View:
    """One view: its title, the tilt in degrees, which end turns to the face, and its ends."""

    title: str
    tilt: float
    lower_end: bool
    ends: tuple[str, str]

    def drawn(self, left: float, width: float, size: float) -> list[Element]:
        """The view in a part of the column, `size` times as large as in the narrow one."""
        half, to_eye, radius = size * _HALF_LENS, size * _TO_EYE, size * _EYE
        x, y = left + (width - to_eye) / 2, _HEAD + half
        turn = math.radians(self.tilt) * (1 if self.lower_end else -1)

        def at(along: float, out: float) -> tuple[float, float]:
            """A place on the lens: px down along it, and px to the face."""
            return (
                x + along * math.sin(turn) + out * math.cos(turn),
                y + along * math.cos(turn) - out * math.sin(turn),
            )

        bulge = size * _BULGE
        bow = ("M", *at(-half, bulge), "Q", *at(0, -bulge), *at(half, bulge))
        upper, lower = self.ends
        return [
            label(left + width / 2, TEXT, self.title, "label faint"),
            line(left + 4, y, x + to_eye - radius, y, "hair dashed"),
            element("circle", cx=x + to_eye, cy=y, r=radius, class_="ink"),
            element("circle", cx=x + to_eye - radius, cy=y, r=_PUPIL, class_="solid"),
            line(x, y - half, x, y + half, "hair"),
            path("bracket", *bow),
            label(x, y - half - 8, upper, "label faint"),
            label(x, y + half + LINE_HEIGHT + 2, lower, "label faint"),
            label(left + width / 2, y + half + _FOOT - 6, f"{self.tilt:g}°", "label strong"),
        ]


def tilted_lens(name: str, pantoscopic: float, face_form: float, eye: Eye) -> Figure:
    """The lens before the eye, which looks to the left, from the side and from above.

    Units   degrees; `pantoscopic` is below zero when the upper edge is the nearer to the face.
    """
    # Seen from above, with the eye looking to the left, the wearer's right side is up.
    sides = ("temporal", "nasal") if eye is Eye.RIGHT else ("nasal", "temporal")
    views = (
        _View("from the side", abs(pantoscopic), pantoscopic >= 0, ("top", "bottom")),
        _View("from above", abs(face_form), sides[1] == "temporal", sides),
    )

    def draw(column: Column) -> Drawing:
        width, size = column.width / 2, 1.0 if column is NARROW else _WIDER
        return _HEAD + 2 * size * _HALF_LENS + _FOOT, [
            part for n, view in enumerate(views) for part in view.drawn(n * width, width, size)
        ]

    return figure(name, "How the lens stands", _in_words(pantoscopic, face_form, eye), draw)


def _in_words(pantoscopic: float, face_form: float, eye: Eye) -> str:
    edge = "lower" if pantoscopic >= 0 else "upper"
    side = (
        f"tilted by {abs(pantoscopic):g}°, its {edge} edge nearer to the face"
        if pantoscopic
        else "upright"
    )
    above = (
        f"turned by {face_form:g}°, its temporal edge nearer to the face"
        if face_form
        else "square to the line of sight"
    )
    return f"The lens before the {eye.value} eye: seen from the side {side}; from above {above}."
