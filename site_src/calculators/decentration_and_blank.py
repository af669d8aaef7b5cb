"""Decentration and blank: from frame PD and PD to the smallest round blank, no prism ordered."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lensmath.blanks import LensShape, minimum_blank
from lensmath.centration import Decentration, EyePair, Frame, Point, write_length
from lensmath.eye import Eye
from lensmath.power import snapped
from site_src.calculators import frames
from site_src.calculators.answer import Answer, Datum, Line, Step, Table, say
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import NumberField, on_field
from site_src.calculators.frames import COMMON_BLANKS, EYES, exactly, length
from site_src.calculators.sums import summed
from site_src.figures.frame_layout import LaidOut, frame_layout
from site_src.figures.svg import Figure

_ALLOWANCE = 2.0  # mm on the diameter; the sources print 0, 1 and 2


@dataclass(frozen=True)
class _Lens:
    """One lens: where its optical centre stands, and the blanks that it needs, in mm.

    `bare` has nothing to spare, `blank` has the allowance; None where the shape is not known.
    """

    eye: Eye
    pd: float
    height: float | None
    centre: Decentration
    bare: float | None
    blank: float | None

    @property
    def common(self) -> int | None:
        """The smallest common blank that is large enough."""
        if self.blank is None:
            return None
        return next((size for size in COMMON_BLANKS if size >= self.blank), None)


def solve(
    a: float,
    b: float | None,
    dbl: float,
    ed: float | None,
    pd: float | None,
    right_pd: float | None,
    left_pd: float | None,
    right_height: float | None,
    left_height: float | None,
    allowance: float | None,
) -> Answer:
    """Decentration of both lenses and the blanks that they need."""
    with on_field("ed"):
        frame = Frame(a, dbl, b, ed)
    pds = frames.paired("pd", pd, right_pd, left_pd)
    spare = _ALLOWANCE if allowance is None else allowance
    heights = {Eye.RIGHT: right_height, Eye.LEFT: left_height}
    lenses = [_laid_out(frame, eye, pds, heights[eye], spare) for eye in EYES]
    largest = max((lens.blank for lens in lenses if lens.blank is not None), default=None)
    return Answer(
        headline=_headline(lenses, largest),
        also=_also(lenses, largest, spare),
        understood=(
            *frames.shared("Binocular PD", pd, right_pd, left_pd, pds),
            *_shape_taken(frame),
            *_allowance_taken(allowance, largest),
        ),
        tables=(_table(lenses, spare),),
        steps=(
            frames.frame_pd_step(frame),
            *(
                step
                for whose, lens in _worked(lenses)
                for step in _steps(frame, lens, spare, whose)
            ),
        ),
        figures=(_figure(frame, lenses),),
        cautions=(*frames.contradicted("PD", pd, pds), *_too_large(largest)),
        sources=("iso-8624", "horizontal-centration-lecture", "minimum-blank-forum-answer"),
    )


def _laid_out(frame: Frame, eye: Eye, pds: EyePair, height: float | None, spare: float) -> _Lens:
    with on_field(f"{eye.value}_height"):
        centre = frame.decentration(pds.of(eye), height)
    return _Lens(
        eye,
        pds.of(eye),
        height,
        centre,
        _smallest(frame, eye, centre, 0),
        _smallest(frame, eye, centre, spare),
    )


def _smallest(frame: Frame, eye: Eye, centre: Decentration, spare: float) -> float | None:
    """By the ED, or without one for the whole box; None when neither is known."""
    if frame.effective_diameter is not None:
        return minimum_blank(frame.effective_diameter, centre, spare)
    if frame.b is None:
        return None
    corners = (Point(0, 0), Point(frame.a, 0), Point(frame.a, frame.b), Point(0, frame.b))
    return LensShape(corners, eye).minimum_blank(centre, spare)


# What is said -------------------------------------------------------------------------------------


def _headline(lenses: list[_Lens], largest: float | None) -> Line:
    where = frames.both_eyes(
        {lens.eye: frames.placed(lens.centre, lens.eye.value) for lens in lenses}
    )
    if largest is None:
        return where
    return say("{where}: blank {blank} mm", where=where, blank=_at_least(largest, "blank"))


def _also(lenses: list[_Lens], largest: float | None, spare: float) -> tuple[Line, ...]:
    if largest is None:
        return (say("For the blank, enter the effective diameter ED, or at least the depth B."),)
    bare = max(lens.bare for lens in lenses if lens.bare is not None)
    with_spare = f"with {exactly(spare)} mm for edging; " if spare else ""
    return (
        say(
            f"The smallest round blank that does for either lens, {with_spare}"
            "{bare} mm with nothing to spare.",
            bare=_at_least(bare, "blank.bare"),
        ),
        *_common_size(lenses),
    )


def _common_size(lenses: list[_Lens]) -> tuple[Line, ...]:
    sizes = [lens.common for lens in lenses if lens.common is not None]
    if len(sizes) < len(lenses):
        return ()
    common = Datum("common", max(sizes), str(max(sizes)))
    sizes_made = ", ".join(map(str, COMMON_BLANKS))
    return (
        say(
            f"The next common size is {{common}} mm, of {sizes_made} (common practice).",
            common=common,
        ),
    )


def _shape_taken(frame: Frame) -> tuple[Line, ...]:
    if frame.effective_diameter is not None or frame.b is None:
        return ()
    return (
        say(
            "No ED was entered: the blank holds the whole box, corners and all. No shape of this "
            "A and B needs more; most need less."
        ),
    )


def _allowance_taken(allowance: float | None, largest: float | None) -> tuple[Line, ...]:
    if allowance is not None or largest is None:
        return ()
    return (say(f"No allowance was entered: {_ALLOWANCE:g} mm on the diameter were taken."),)


def _too_large(largest: float | None) -> tuple[str, ...]:
    if largest is None or largest <= COMMON_BLANKS[-1]:
        return ()
    caution = (
        f"A blank of {_written_at_least(largest)} mm is larger than the common ones, which end at "
        f"{COMMON_BLANKS[-1]} mm (common practice). Ask the laboratory for the largest that is "
        "made in this lens, or choose a frame whose frame PD is closer to the PD."
    )
    return (caution,)


def _table(lenses: list[_Lens], spare: float) -> Table:
    head: tuple[str, ...] = ("Lens", "Decentration")
    if all(lens.blank is not None for lens in lenses):
        head += ("Nothing to spare", f"With {exactly(spare)} mm", "Common size")
    return Table("Decentration and smallest blank", head, tuple(_row(lens) for lens in lenses))


def _row(lens: _Lens) -> tuple[Line, ...]:
    eye = lens.eye.value
    where = (eye.capitalize(),), frames.placed(lens.centre, eye)
    if lens.bare is None or lens.blank is None:
        return where
    return (
        *where,
        say("{size} mm", size=_at_least(lens.bare, f"{eye}.blank.bare")),
        say("{size} mm", size=_at_least(lens.blank, f"{eye}.blank")),
        (f"{lens.common} mm" if lens.common else "larger than common",),
    )


def _at_least(value: float, name: str) -> Datum:
    return Datum(name, value, _written_at_least(value))


def _written_at_least(value: float) -> str:
    return write_length(_rounded_up(value))


def _rounded_up(value: float) -> float:
    """A blank in tenths of a millimetre, never rounded down."""
    return math.ceil(snapped(value * 10)) / 10


# How it is worked out -----------------------------------------------------------------------------


def _worked(lenses: list[_Lens]) -> list[tuple[str, _Lens]]:
    """Both lenses by their names; when they are alike, one for each."""
    right, left = lenses
    if (right.centre, right.height) == (left.centre, left.height):
        return [("Each lens", right)]
    return [("Right lens", right), ("Left lens", left)]


def _steps(frame: Frame, lens: _Lens, spare: float, whose: str) -> tuple[Step, ...]:
    eye, (inward, up) = lens.eye.value, lens.centre
    return (
        frames.across_step(whose, frame.frame_pd, lens.pd, inward, f"{eye}.decentration"),
        *_height_steps(frame, lens, up, whose),
        *(() if lens.bare is None else (_bare_step(frame, lens, lens.bare, whose),)),
        *_spare_steps(lens, spare, whose),
        *_rounded_steps(lens, whose),
    )


def _height_steps(frame: Frame, lens: _Lens, up: float, whose: str) -> tuple[Step, ...]:
    if lens.height is None or frame.b is None:
        return ()
    what = f"{whose}: the optical centre"
    off = length(up, f"{lens.eye.value}.up", exact=True)
    return (frames.height_step(what, frame.b, lens.height, off),)


def _spare_steps(lens: _Lens, spare: float, whose: str) -> tuple[Step, ...]:
    if lens.bare is None or lens.blank is None or spare == 0:
        return ()
    return (
        summed(
            f"{whose}: with {exactly(spare)} mm for edging.",
            "blank + allowance",
            "{bare} + {spare}",
            lambda bare, spare: bare + spare,
            say("{size} mm", size=length(lens.blank, f"{lens.eye.value}.blank", exact=True)),
            bare=lens.bare,
            spare=spare,
        ),
    )


def _rounded_steps(lens: _Lens, whose: str) -> tuple[Step, ...]:
    if lens.blank is None or snapped(_rounded_up(lens.blank) - lens.blank) == 0:
        return ()
    return (
        Step(
            f"{whose}: the size is rounded up to 0.1 mm, so that the blank is large enough.",
            result=say("{size} mm", size=_at_least(lens.blank, f"{lens.eye.value}.blank")),
        ),
    )


def _bare_step(frame: Frame, lens: _Lens, bare: float, whose: str) -> Step:
    across, up = abs(lens.centre.inward), abs(lens.centre.up)
    result = say("{size} mm", size=length(bare, f"{lens.eye.value}.blank.bare", exact=True))
    if frame.effective_diameter is None:
        assert frame.b is not None
        return summed(
            f"{whose}: twice the way from the optical centre to the farthest corner of the box.",
            "2 × √((A ÷ 2 + across)² + (B ÷ 2 + up or down)²)",
            "2 × √(({a} ÷ 2 + {across})² + ({b} ÷ 2 + {up})²)",
            lambda a, b, across, up: 2 * math.hypot(a / 2 + across, b / 2 + up),
            result,
            a=frame.a,
            b=frame.b,
            across=across,
            up=up,
        )
    if up:
        return summed(
            f"{whose}: the effective diameter and twice the straight way to the optical centre.",
            "ED + 2 × √(across² + up or down²)",
            "{ed} + 2 × √({across}² + {up}²)",
            lambda ed, across, up: ed + 2 * math.hypot(across, up),
            result,
            ed=frame.effective_diameter,
            across=across,
            up=up,
        )
    return summed(
        f"{whose}: the effective diameter and twice the decentration.",
        "ED + 2 × decentration",
        "{ed} + 2 × {across}",
        lambda ed, across: ed + 2 * across,
        result,
        ed=frame.effective_diameter,
        across=across,
    )


def _figure(frame: Frame, lenses: list[_Lens]) -> Figure:
    return frame_layout("decentration-and-blank-frame", frame, [_drawn(lens) for lens in lenses])


def _drawn(lens: _Lens) -> LaidOut:
    inward, up = lens.centre
    notes = [Decentration(inward).in_words()]
    if up:
        notes.append(Decentration(0, up).in_words())
    if lens.blank is None:
        return LaidOut(lens.eye, lens.centre, tuple(notes))
    notes.append(f"blank {_written_at_least(lens.blank)} mm")
    return LaidOut(lens.eye, lens.centre, tuple(notes), _rounded_up(lens.blank))


def _height_field(eye: Eye) -> NumberField:
    return NumberField(
        f"{eye.value}_height",
        f"Height of the {eye.value} optical centre",
        "above the bottom of the lens; empty: on the centre line",
        optional=True,
        aside=True,
        unit="mm",
        low=0,
        high=80,
    )


CALCULATOR = Calculator(
    slug="decentration-and-blank",
    title="Decentration and blank",
    purpose="Enter the frame and the PD; get how far to move each lens, and the smallest blank. "
    "For lenses without ordered prism.",
    fields=(
        frames.width_field(),
        frames.bridge_field(),
        NumberField(
            "ed",
            "ED",
            "effective diameter: twice the longest radius",
            optional=True,
            group="Frame",
            unit="mm",
            low=20,
            high=110,
        ),
        frames.depth_field("for heights, or in place of ED", optional=True),
        *frames.pd_fields("pd", "PD", "or this alone"),
        NumberField(
            "allowance",
            "Allowance for edging",
            "on the diameter; 2 if empty, 0 for none",
            optional=True,
            aside=True,
            unit="mm",
            low=0,
            high=10,
        ),
        _height_field(Eye.RIGHT),
        _height_field(Eye.LEFT),
    ),
    solve=solve,
    examples=(
        Example(
            given={"a": "52", "dbl": "18", "ed": "56", "b": "38", "pd": "60", "allowance": "1"},
            prints={"blank": "67", "right.decentration": "5", "right.decentration.way": "in"},
            source="minimum-blank-forum-answer",
            note="The source gives the frame PD, 70 mm; how it is made of A and DBL, and the depth "
            "B, are invented.",
        ),
        Example(
            given={"a": "56", "dbl": "16", "ed": "59", "pd": "64", "allowance": "0"},
            prints={"blank": "67"},
            source="centration-quick-quiz",
        ),
        Example(
            given={"a": "50", "dbl": "20", "pd": "68"},
            prints={"right.decentration": "1", "left.decentration": "1"},
            source="blank-size-answers-page",
        ),
        Example(
            given={"a": "50", "dbl": "18", "pd": "70"},
            prints={"right.decentration": "1", "right.decentration.way": "out"},
            source="opticianry-midterm-game",
            note="The source gives the frame PD, 68 mm; how it is made of A and DBL is invented.",
        ),
        Example(
            given={
                "a": "52",
                "dbl": "18",
                "b": "40",
                "right_pd": "33",
                "left_pd": "31",
                "right_height": "23",
                "left_height": "24",
            },
            prints={
                "right.decentration": "2",
                "right.up": "3",
                "left.decentration": "4",
                "left.up": "4",
            },
            note="An invented frame, without its ED.",
        ),
    ),
)
