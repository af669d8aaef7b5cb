"""Decentration for a wanted prism, and where in the lens that prism is found."""

from __future__ import annotations

import math

from lensmath.centration import Decentration
from lensmath.decentration import AtPoint, Nowhere, OnLine, Place, decentration_for
from lensmath.eye import Eye
from lensmath.notation import Decimals, Prescription, write_axis
from lensmath.power import SAME_LENS, LensPower, rounded_to, snapped
from lensmath.prism import NO_PRISM, Base, Prism
from site_src.calculators import decentration_sums, frames, prentice, prism_parts
from site_src.calculators.answer import Answer, Datum, Line, say
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, PrescriptionField
from site_src.figures.lens_place import lens_place
from site_src.figures.prism_arrows import by_parts, prism_arrows
from site_src.figures.svg import Figure

_REACH = 40.0  # mm; half a large blank
_LEFT_OVER = 0.01  # Δ; what two parts with two decimals may be off
_SOURCES = ("long-1976", "jalie-2024", "common-practice")


def solve(
    eye: Eye,
    lens: Prescription,
    vertical: float | None,
    up_down: Base,
    horizontal: float | None,
    in_out: Base,
    decimals: Decimals,
) -> Answer:
    """How far to move the optical centre, or in words why no way of it gives this prism."""
    entered = prism_parts.prism_of(eye, vertical, up_down, horizontal, in_out)
    wanted = _as_near_as_entered(lens.power, entered)
    place = decentration_for(lens.power, wanted)
    understood = (*prentice.understood(decimals, lens), *_left_over(entered, wanted))
    cautions = prentice.left_out(lens)
    if isinstance(place, AtPoint | OnLine):
        return _found(lens.power, eye, wanted, place, understood, cautions)
    return Answer(
        headline=_no_place(place),
        also=_why(lens.power, place, wanted, eye),
        understood=understood,
        steps=decentration_sums.nowhere_steps(lens.power, place, wanted),
        figures=(_arrows(eye, wanted),),
        cautions=cautions,
        sources=_SOURCES,
    )


def _as_near_as_entered(lens: LensPower, entered: Prism) -> Prism:
    """The entry without what two decimals leave over along a meridian without power."""
    without = [m.direction for m in lens.principal_meridians if abs(m.power) <= SAME_LENS]
    if len(without) != 1:
        return entered
    over = decentration_sums.along(entered, without[0])
    turn = math.radians(without[0])
    left_over = Prism(over * math.cos(turn), over * math.sin(turn))
    return entered - left_over if abs(over) < _LEFT_OVER else entered


def _left_over(entered: Prism, wanted: Prism) -> tuple[Line, ...]:
    if entered == wanted:
        return ()
    return (
        say("Less than 0.01 Δ lies along the meridian without power; it was taken for rounding."),
    )


# A place ------------------------------------------------------------------------------------------


def _found(
    lens: LensPower,
    eye: Eye,
    wanted: Prism,
    place: AtPoint | OnLine,
    understood: tuple[Line, ...],
    cautions: tuple[str, ...],
) -> Answer:
    point = place.point if isinstance(place, AtPoint) else place.nearest
    way = _shown_way(eye.inward * point.x, point.y)
    said = _written(way) if way.distance else ("no way that shows",)
    return Answer(
        headline=_headline(way, place),
        also=(*_beyond(way), *_also(way, place, wanted)),
        understood=understood,
        steps=decentration_sums.place_steps(lens, eye, wanted, place, said),
        figures=(lens_place("decentration-for-prism-place", eye, place),),
        cautions=(*_far(way), *cautions),
        sources=_SOURCES,
    )


def _shown_way(inward: float, up: float) -> Decentration:
    """A way without parts that would be shown as 0.0."""
    return Decentration(*(snapped(mm) if rounded_to(mm, 0.1) else 0.0 for mm in (inward, up)))


def _headline(way: Decentration, place: AtPoint | OnLine) -> Line:
    if way.distance == 0:
        return ("No decentration",)
    if way.distance > _REACH:
        return ("No lens reaches far enough",)
    nearest = () if isinstance(place, AtPoint) else (" at least",)
    return ("Move the optical centre", *nearest, " ", *_written(way))


def _written(way: Decentration, stem: str = "") -> Line:
    """A way with its numbers as data: 5.0 mm out and 2.0 mm up."""
    directions = (way.inward, "in", "out", "inward"), (way.up, "up", "down", "up")
    said: list[Line] = [
        say(
            f"{{way}} mm {plus if mm > 0 else minus}",
            way=Datum(f"{stem}{name}", snapped(mm), f"{rounded_to(abs(mm), 0.1):.1f}"),
        )
        for mm, plus, minus, name in directions
        if mm
    ]
    return said[0] if len(said) == 1 else (*said[0], " and ", *said[1])


def _also(way: Decentration, place: AtPoint | OnLine, wanted: Prism) -> tuple[Line, ...]:
    if isinstance(place, OnLine):
        line = say(
            "Anywhere on the line along {axis} through that point does the same, for along it the "
            "lens has no power.",
            axis=Datum("line", place.direction, write_axis(place.direction)),
        )
        return (line,) if way.distance == 0 else (line, _seen_in_lens(way))
    if wanted == NO_PRISM:
        return (say("No prism is wanted, and the optical centre has none."),)
    if way.distance == 0:
        return (say("The way is shorter than 0.05 mm."),)
    return (_seen_in_lens(way),)


def _seen_in_lens(way: Decentration) -> Line:
    """The same answer, seen from the optical centre: where to look for the prism."""
    other = Decentration(-way.inward, -way.up)
    return (
        "In the lens the prism is found ",
        *_written(other, "found."),
        " from the optical centre.",
    )


def _far(way: Decentration) -> tuple[str, ...]:
    """The frame is not known here, so the blank is that for a pupil before the boxed centre."""
    start = "the boxed centre, if the pupil stands before that"
    return () if way.distance > _REACH else frames.far_centre(way.distance, start)


def _beyond(way: Decentration) -> tuple[Line, ...]:
    """What it would take, where no lens is as large."""
    if way.distance <= _REACH:
        return ()
    return (
        ("The optical centre would have to be moved ", *_written(way), "."),
        say(
            f"Half a large blank is about {_REACH:g} mm. Such prism is worked into the lens when "
            "its surfaces are made."
        ),
    )


# No place -----------------------------------------------------------------------------------------


def _no_place(place: Place) -> Line:
    if isinstance(place, Nowhere):
        return ("No decentration gives this prism",)
    return ("Any place does",)


def _why(lens: LensPower, place: Place, wanted: Prism, eye: Eye) -> tuple[Line, ...]:
    if not isinstance(place, Nowhere):
        return (say("A plano lens has no prism at any point, and none is wanted."),)
    ground = say("Such prism is worked into the lens when its surfaces are made.")
    if place.only_along is None:
        said = prism_parts.in_words(wanted, eye)
        return (
            say(f"A plano lens has no prism at any point, wherever it is moved. Wanted: {said}."),
            ground,
        )
    powered = decentration_sums.powered(lens)
    return (
        say(
            "This lens has power along {only} alone, so it has prism with its base on that line, "
            "and no other.",
            only=Datum("only_along", powered.direction, write_axis(powered.direction)),
        ),
        ground,
    )


def _arrows(eye: Eye, wanted: Prism) -> Figure:
    said = f"{eye.value.capitalize()} eye: {prism_parts.in_words(wanted, eye)} wanted."
    return prism_arrows(
        "decentration-for-prism-arrows", "The prism wanted", [by_parts(eye, wanted)], said
    )


CALCULATOR = Calculator(
    slug="decentration-for-prism",
    title="Decentration for a prism",
    purpose="Enter the lens and the prism wanted; get how far the optical centre is moved.",
    fields=(
        prism_parts.EYE,
        PrescriptionField("lens", "Lens", "any form, as +4.00 DS or −2.00 −1.50 × 030"),
        *prism_parts.prism_fields("", "Prism wanted"),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"eye": "right", "lens": "+4.00 DS", "horizontal": "2", "in_out": "out"},
            prints={"inward": "5.0"},
            source="mrcophth-mock-13",
            note="Printed as 5 mm out, for each eye.",
        ),
        Example(
            given={
                "eye": "left",
                "lens": "−2.00 −1.50 × 030",
                "vertical": "1",
                "up_down": "down",
                "horizontal": "1.5",
                "in_out": "in",
            },
            prints={"inward": "7.6", "up": "4.8"},
            note="An invented order with an oblique axis.",
        ),
        Example(
            given={"eye": "right", "lens": "plano −2.00 × 180", "vertical": "1", "up_down": "up"},
            prints={"up": "5.0", "line": "180"},
            note="An invented plano-cylinder: a line of places.",
        ),
    ),
)
