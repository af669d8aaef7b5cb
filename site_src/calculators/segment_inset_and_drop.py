"""Segment inset and drop: where the segments of a pair stand, from PDs, frame and height."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from lensmath.centration import (
    CORNEA_TO_ROTATION,
    INSET_PER_DIOPTRE,
    USUAL_INSET,
    USUAL_VERTEX_DISTANCE,
    EyePair,
    Frame,
    SegmentLayout,
    near_pd,
    near_pd_by_demand,
    near_pd_by_habit,
    segment_layout,
)
from lensmath.eye import Eye
from lensmath.power import rounded_to
from site_src.calculators import frames
from site_src.calculators.answer import Answer, Line, Step, Table, plain, say, word
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import Choice, ChoiceField, NumberField, on_field
from site_src.calculators.frames import EYES, exactly, length, shift
from site_src.calculators.sums import summed
from site_src.figures.frame_layout import LaidOut, frame_layout

_WORKING_DISTANCE = 400.0  # mm; common practice
_WIDTH = 28.0  # mm; a flat top of common width, common practice


class Rule(StrEnum):
    """How a near PD is worked out when none was measured."""

    TRIANGLES = "triangles"
    DEMAND = "demand"
    HABIT = "habit"


@dataclass(frozen=True)
class _Lens:
    """One lens: its PDs, the height of its segment and where the two put it. Lengths in mm."""

    eye: Eye
    distance: float
    near: float
    height: float
    layout: SegmentLayout


def solve(
    a: float,
    dbl: float,
    b: float,
    pd: float | None,
    right_pd: float | None,
    left_pd: float | None,
    right_height: float,
    left_height: float | None,
    near_pd: float | None,
    right_near_pd: float | None,
    left_near_pd: float | None,
    rule: Rule,
    working_distance: float | None,
    vertex_distance: float | None,
    segment_width: float | None,
) -> Answer:
    """Inset, total inset and drop of both segments."""
    frame = Frame(a, dbl, b)
    distance = frames.paired("pd", pd, right_pd, left_pd)
    measured = near_pd, right_near_pd, left_near_pd
    computed = None
    if any(value is not None for value in measured):
        near = frames.paired("near_pd", *measured)
    else:
        computed = _Computed(
            rule,
            distance,
            working_distance or _WORKING_DISTANCE,
            USUAL_VERTEX_DISTANCE if vertex_distance is None else vertex_distance,
        )
        near = computed.near
    heights = EyePair(right_height, right_height if left_height is None else left_height)
    lenses = [_laid_out(frame, eye, distance, near, heights) for eye in EYES]
    width = segment_width or _WIDTH
    return Answer(
        headline=_headline(lenses),
        also=_also(lenses, near),
        understood=(
            *frames.shared("Binocular distance PD", pd, right_pd, left_pd, distance),
            *frames.shared("Binocular near PD", *measured, near),
            *(() if computed is None else (computed.in_words(),)),
            *_height_taken(left_height),
        ),
        tables=(_table(lenses),),
        steps=(
            frames.frame_pd_step(frame),
            *(() if computed is None else computed.steps()),
            *(step for whose, lens in _worked(lenses) for step in _steps(frame, lens, whose)),
        ),
        figures=(frame_layout("segment-frame", frame, [_drawn(lens, width) for lens in lenses]),),
        cautions=(
            *frames.contradicted("Distance PD", pd, distance),
            *frames.contradicted("Near PD", near_pd, near),
            *_cautions(frame, lenses, width),
            *_unused(computed, working_distance, vertex_distance),
        ),
        sources=("opticianry-midterm-game", "segment-inset-question", *_near_sources(computed)),
    )


def _laid_out(frame: Frame, eye: Eye, distance: EyePair, near: EyePair, heights: EyePair) -> _Lens:
    with on_field(f"{eye.value}_height"):
        layout = segment_layout(frame, distance.of(eye), near.of(eye), heights.of(eye))
    return _Lens(eye, distance.of(eye), near.of(eye), heights.of(eye), layout)


# A near PD that nobody measured -------------------------------------------------------------------


@dataclass(frozen=True)
class _Computed:
    """The near PD of each eye by a rule, from the distance PD. Distances in mm."""

    rule: Rule
    distance: EyePair
    working: float
    vertex: float

    @property
    def near(self) -> EyePair:
        """By triangles each eye for itself; by the other rules the inset is shared equally."""
        right, left = self.distance.right, self.distance.left
        if self.rule is Rule.TRIANGLES:
            working, vertex = self.working, self.vertex
            return EyePair(near_pd(right, working, vertex), near_pd(left, working, vertex))
        both = self.distance.total
        by_demand = self.rule is Rule.DEMAND
        near = near_pd_by_demand(both, self.working) if by_demand else near_pd_by_habit(both)
        return EyePair(right - (both - near) / 2, left - (both - near) / 2)

    def in_words(self) -> Line:
        """Says that the near PD was not measured."""
        if self.rule is Rule.TRIANGLES:
            how = (
                f"for an object {exactly(self.working)} mm from the lens, {exactly(self.vertex)} "
                "mm before the eye"
            )
        elif self.rule is Rule.DEMAND:
            how = f"by the three-quarter rule, for {exactly(self.working)} mm"
        else:
            how = f"as {USUAL_INSET:g} mm less for each eye"
        return say(f"No near PD was entered: it was worked out {how}.")

    def steps(self) -> tuple[Step, ...]:
        """How it was worked out."""
        if self.rule is Rule.HABIT:
            return (
                Step(
                    "Near PD by habit: each eye turns in by this much at the lens.",
                    result=(f"{USUAL_INSET:g} mm",),
                ),
            )
        if self.rule is Rule.DEMAND:
            return (self._demand_step(),)
        right, left = self.distance.right, self.distance.left
        if right == left:
            return (self._triangle_step(Eye.RIGHT, "of each eye"),)
        return tuple(self._triangle_step(eye, f"of the {eye.value} eye") for eye in EYES)

    def _demand_step(self) -> Step:
        inset = INSET_PER_DIOPTRE * 1000 / self.working
        return summed(
            "Inset of each lens by the three-quarter rule: for each dioptre of working distance.",
            f"{INSET_PER_DIOPTRE:g} × 1000 ÷ working distance",
            f"{INSET_PER_DIOPTRE:g} × 1000 ÷ {{working}}",
            lambda working: INSET_PER_DIOPTRE * 1000 / working,
            say("{size} mm", size=length(inset, "inset.by_rule", exact=True)),
            working=self.working,
        )

    def _triangle_step(self, eye: Eye, whose: str) -> Step:
        near = self.near.of(eye)
        return summed(
            f"Near PD {whose}: the line of sight turns about a point {CORNEA_TO_ROTATION:g} mm "
            "behind the cornea.",
            f"PD − PD ÷ (1 + working distance ÷ (vertex distance + {CORNEA_TO_ROTATION:g}))",
            f"{{pd}} − {{pd}} ÷ (1 + {{working}} ÷ ({{vertex}} + {CORNEA_TO_ROTATION:g}))",
            lambda pd, working, vertex: pd - pd / (1 + working / (vertex + CORNEA_TO_ROTATION)),
            say("{size} mm", size=length(near, f"{eye.value}.near_pd", exact=True)),
            pd=self.distance.of(eye),
            working=self.working,
            vertex=self.vertex,
        )


def _unused(
    computed: _Computed | None, working: float | None, vertex: float | None
) -> Iterator[str]:
    """A caution for each distance that was entered and that the near PD does not rest on."""
    rule = computed.rule if computed else None
    if working is not None and rule in (None, Rule.HABIT):
        yield "The working distance was entered too. It is not used for this near PD."
    if vertex is not None and rule is not Rule.TRIANGLES:
        yield "The vertex distance was entered too. It is not used for this near PD."


def _near_sources(computed: _Computed | None) -> tuple[str, ...]:
    if computed is None:
        return ()
    return {
        Rule.TRIANGLES: ("near-pd-newsgroup",),
        Rule.DEMAND: ("gerstman-1973",),
        Rule.HABIT: ("lined-multifocals-lesson",),
    }[computed.rule]


# What is said -------------------------------------------------------------------------------------


def _headline(lenses: list[_Lens]) -> Line:
    return frames.both_eyes(
        {
            lens.eye: say("total inset {inset}, {drop}", inset=_total_inset(lens), drop=_drop(lens))
            for lens in lenses
        }
    )


def _also(lenses: list[_Lens], near: EyePair) -> tuple[Line, ...]:
    insets = frames.both_eyes(
        {lens.eye: shift(lens.layout.inset, f"{lens.eye.value}.inset") for lens in lenses}
    )
    return (
        say(
            "The middle of the top of each segment: total inset from the boxed centre, then drop "
            "below or raise above the centre line."
        ),
        say("{insets}: the segment inset, counted from the distance centre.", insets=insets),
        say("Near PD {near} mm for both eyes.", near=length(near.total, "near_pd")),
    )


def _total_inset(lens: _Lens) -> Line:
    return shift(lens.layout.total_inset, f"{lens.eye.value}.total_inset")


def _drop(lens: _Lens) -> Line:
    name, drop = f"{lens.eye.value}.drop", lens.layout.drop
    if rounded_to(drop, 0.1) == 0:
        return say("drop {size} mm", size=length(drop, name))
    way = word("drop" if drop > 0 else "raise", f"{name}.way")
    return say("{way} {size} mm", way=way, size=length(drop, name))


def _height_taken(left_height: float | None) -> tuple[Line, ...]:
    if left_height is not None:
        return ()
    return (say("One segment height was entered: it holds for both lenses."),)


def _table(lenses: list[_Lens]) -> Table:
    return Table(
        "Segments, lens by lens",
        ("Lens", "Decentration", "Inset", "Total inset", "Drop or raise", "Segment height"),
        tuple(_row(lens) for lens in lenses),
    )


def _row(lens: _Lens) -> tuple[Line, ...]:
    eye, layout = lens.eye.value, lens.layout
    return (
        (eye.capitalize(),),
        shift(layout.distance.inward, f"{eye}.decentration"),
        shift(layout.inset, f"{eye}.inset"),
        _total_inset(lens),
        _drop(lens),
        say("{height} mm", height=length(lens.height, f"{eye}.height")),
    )


def _cautions(frame: Frame, lenses: list[_Lens], width: float) -> tuple[str, ...]:
    said = []
    for lens in lenses:
        whose = f"{lens.eye.value.capitalize()} lens"
        if lens.layout.inset < 0:
            said.append(
                f"{whose}: the near PD is wider than the distance PD. Eyes turn in for reading; "
                "look whether the two were exchanged."
            )
        if abs(lens.layout.total_inset) + width / 2 > frame.a / 2:
            said.append(
                f"{whose}: a segment {exactly(width)} mm wide reaches past the edge of the lens."
            )
    return tuple(said)


# How it is worked out -----------------------------------------------------------------------------


def _worked(lenses: list[_Lens]) -> list[tuple[str, _Lens]]:
    """Both lenses by their names; when they are alike, one for each."""
    right, left = lenses
    if right.layout == left.layout:
        return [("Each lens", right)]
    return [("Right lens", right), ("Left lens", left)]


def _steps(frame: Frame, lens: _Lens, whose: str) -> tuple[Step, ...]:
    eye, layout = lens.eye.value, lens.layout
    depth = frame.b or 0.0
    return (
        frames.across_step(
            whose, frame.frame_pd, lens.distance, layout.distance.inward, f"{eye}.decentration"
        ),
        summed(
            f"{whose}: segment inset, from the distance centre toward the nose.",
            "distance PD − near PD",
            "{distance} − {near}",
            lambda distance, near: distance - near,
            say("{size} mm", size=frames.signed(layout.inset, f"{eye}.inset")),
            distance=lens.distance,
            near=lens.near,
        ),
        summed(
            f"{whose}: total inset, from the boxed centre; a minus is outward.",
            "decentration + inset",
            "{decentration} + {inset}",
            lambda decentration, inset: decentration + inset,
            say("{size} mm", size=frames.signed(layout.total_inset, f"{eye}.total_inset")),
            decentration=layout.distance.inward,
            inset=layout.inset,
        ),
        frames.height_step(
            f"{whose}: the segment top",
            depth,
            lens.height,
            length(layout.drop, f"{eye}.drop", exact=True),
        ),
    )


def _drawn(lens: _Lens, width: float) -> LaidOut:
    notes = plain(_total_inset(lens)), plain(_drop(lens))
    return LaidOut(lens.eye, lens.layout.distance, notes, segment=(lens.layout.segment, width))


def _height_field(eye: Eye, hint: str, *, optional: bool = False) -> NumberField:
    return NumberField(
        f"{eye.value}_height",
        f"{eye.value.capitalize()} lens",
        hint,
        optional,
        group="Segment height",
        unit="mm",
        low=1,
        high=50,
    )


CALCULATOR = Calculator(
    slug="segment-inset-and-drop",
    title="Segment inset and drop",
    purpose="Enter the frame, the PDs and the segment heights; get where the segments stand.",
    fields=(
        frames.width_field(),
        frames.bridge_field(),
        frames.depth_field("", optional=False),
        *frames.pd_fields("pd", "Distance PD", "or this alone"),
        _height_field(Eye.RIGHT, "bottom of the lens to top of the segment"),
        _height_field(Eye.LEFT, "empty: as the right one", optional=True),
        *frames.pd_fields("near_pd", "Near PD", "or this alone, or none: then it is worked out"),
        ChoiceField(
            "rule",
            "A near PD that was not measured",
            "how it is worked out",
            aside=True,
            choices=(
                Choice("triangles", "by triangles, from the working distance", Rule.TRIANGLES),
                Choice("demand", "three quarters of a mm each eye for each dioptre", Rule.DEMAND),
                Choice("habit", f"{USUAL_INSET:g} mm less for each eye", Rule.HABIT),
            ),
        ),
        NumberField(
            "working_distance",
            "Working distance",
            f"from the lens; {_WORKING_DISTANCE:g} if empty",
            optional=True,
            aside=True,
            unit="mm",
            low=150,
            high=1000,
        ),
        NumberField(
            "vertex_distance",
            "Vertex distance",
            f"from the lens to the eye; {USUAL_VERTEX_DISTANCE:g} if empty",
            optional=True,
            aside=True,
            unit="mm",
            low=5,
            high=25,
        ),
        NumberField(
            "segment_width",
            "Segment width",
            f"for the drawing; {_WIDTH:g} if empty",
            optional=True,
            aside=True,
            unit="mm",
            low=15,
            high=50,
        ),
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "a": "52",
                "dbl": "18",
                "b": "40",
                "pd": "68",
                "near_pd": "64",
                "right_height": "17",
            },
            prints={"right.inset": "2", "left.inset": "2"},
            source="segment-inset-question",
            note="The source gives the two PDs; the frame and the height are invented.",
        ),
        Example(
            given={
                "a": "54",
                "dbl": "18",
                "b": "52",
                "pd": "64",
                "near_pd": "60",
                "right_height": "23",
            },
            prints={"right.drop": "3", "right.drop.way": "drop"},
            source="centration-quick-quiz",
            note="The source gives B and the height; the rest is invented.",
        ),
        Example(
            given={
                "a": "54",
                "dbl": "18",
                "b": "50",
                "pd": "64",
                "near_pd": "60",
                "right_height": "28",
            },
            prints={"right.drop": "3", "right.drop.way": "raise"},
            source="centration-quick-quiz",
            note="The source gives B and the height; the rest is invented.",
        ),
        Example(
            given={
                "a": "52",
                "dbl": "18",
                "b": "40",
                "pd": "63",
                "right_height": "17",
                "working_distance": "400",
                "vertex_distance": "13",
            },
            prints={"near_pd": "59"},
            source="near-pd-newsgroup",
            note="The source gives the PD and the distances; frame and height are invented.",
        ),
        Example(
            given={
                "a": "55",
                "dbl": "19",
                "b": "38",
                "right_pd": "34",
                "left_pd": "32",
                "right_near_pd": "32",
                "left_near_pd": "30",
                "right_height": "16",
                "left_height": "17",
            },
            prints={
                "right.total_inset": "5",
                "left.total_inset": "7",
                "right.drop": "3",
                "left.drop": "2",
            },
            note="An invented order with unequal PDs and heights.",
        ),
    ),
)
