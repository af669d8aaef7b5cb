"""Tilt and face form: what a tilted lens does before the eye, and what would do as ordered."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lensmath.eye import Eye
from lensmath.notation import MINUS, Decimals, Prescription, write_lens
from lensmath.power import LensPower, standard_axis
from lensmath.prism import Prism
from lensmath.raytrace import LensForm
from lensmath.tilt import Tilt, coddington, compensated, martin, tilted
from site_src.calculators.answer import (
    Answer,
    Line,
    Step,
    Table,
    amount,
    axis,
    cut_eighths,
    degrees,
    say,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    DECIMALS,
    Choice,
    ChoiceField,
    FieldError,
    NumberField,
    PowerField,
    PrescriptionField,
    on_field,
)
from site_src.calculators.materials import (
    INDEX,
    MATERIAL,
    Material,
    entered_index,
    index_of,
)
from site_src.calculators.working import digits, noted, number, signed, unsigned
from site_src.figures.tilted_lens import tilted_lens

_SOURCES = ("durham-tech-tilt", "kingslake-1994", "combined-tilt-recipe", "harris-2002")
_STEEPEST = 45.0  # degrees; beyond it nobody wears a lens (common practice)
_LOWER_EDGE, _UPPER_EDGE = 1, -1
_SMALL = 0.005  # Δ; less is shown as no prism


@dataclass(frozen=True)
class _Way:
    """One way to work it out: its name, what the lens does, and what to order for it."""

    name: str
    says: str
    worn: LensPower
    order: LensPower


def solve(
    lens: Prescription,
    eye: Eye,
    pantoscopic: float | None,
    nearer: int,
    face_form: float | None,
    front: float | None,
    thickness: float | None,
    material: Material,
    index: float | None,
    decimals: Decimals,
) -> Answer:
    """What the lens does and what to order: by hand, exactly, and traced if its form is known."""
    if pantoscopic is None and face_form is None:
        raise FieldError("pantoscopic", "nothing to do. Enter a tilt or a face form angle.")
    given, of_lens = lens.power, index_of(material, index)
    down, side = nearer * (pantoscopic or 0.0), face_form or 0.0
    tilt = Tilt.of_frame(down, side, eye)
    form = _form(front, thickness, of_lens)
    ways = _ways(given, tilt, of_lens, form)
    best = ways[-1]
    return Answer(
        headline=say("Worn: {lens}", lens=written_lens(best.worn, "worn.")),
        also=(
            say(
                f"To do {write_lens(given)} when worn, it would have to read {{lens}}",
                lens=written_lens(best.order, "order."),
            ),
            _one_tilt(tilt),
            *_prism(form, tilt, eye),
        ),
        understood=(
            *cut_eighths(decimals, given.sphere, given.cylinder, front),
            *entered_index(index),
        ),
        tables=(
            Table(
                "By hand and exactly",
                ("Worked out by", "Worn", "Would have to read"),
                tuple(
                    (
                        say(way.says),
                        written_lens(way.worn, f"{way.name}."),
                        written_lens(way.order, f"{way.name}.order."),
                    )
                    for way in ways
                ),
            ),
        ),
        steps=_steps(given, tilt, down, side, of_lens, ways),
        figures=(tilted_lens("tilted-lens", down, side, eye),),
        cautions=_cautions(lens, form),
        sources=_SOURCES,
    )


def _form(front: float | None, thickness: float | None, index: float) -> LensForm | None:
    if front is None and thickness is None:
        return None
    if front is None or thickness is None:
        missing = "front" if front is None else "thickness"
        raise FieldError(
            missing,
            "the ray trace needs the front curve and the centre thickness. Enter both, or neither.",
        )
    with on_field("front"):
        return LensForm(front, thickness, index)


def _ways(given: LensPower, tilt: Tilt, index: float, form: LensForm | None) -> list[_Way]:
    ways = [
        _Way(
            name,
            says,
            tilted(given, tilt, index, factor),
            compensated(given, tilt, index, factor),
        )
        for name, says, factor in (
            ("martin", "Martin’s rule, by hand", martin),
            ("thin", "thin lens, exactly", coddington),
        )
    ]
    if form is not None:
        with on_field("front"):
            traced, order = form.tilted(given, tilt), form.compensated(given, tilt)
        ways.append(_Way("traced", "ray trace with its thickness", traced, order))
    return ways


def _one_tilt(tilt: Tilt) -> Line:
    if tilt.angle == 0:
        return say("There is no tilt.")
    return say(
        "Tilt {angle}° about the tilt axis {along}",
        angle=degrees(tilt.angle, "tilt.angle"),
        along=axis(tilt.axis, "tilt.axis"),
    )


def _prism(form: LensForm | None, tilt: Tilt, eye: Eye) -> tuple[Line, ...]:
    if form is None:
        return ()
    prism = form.prism(tilt)
    parts = _parts(prism, eye)
    if not parts:
        return (say("The tilt makes no prism worth a ring."),)
    first, *rest = parts
    together = first if not rest else say("{one} and {other}", one=first, other=rest[0])
    return (say("Prism that the tilt makes: {parts}", parts=together),)


def _parts(prism: Prism, eye: Eye) -> list[Line]:
    named = (("vertical", prism.vertical), ("horizontal", prism.horizontal(eye)))
    return [
        say(
            f"{{size}} Δ base {part.base.value}",
            size=amount(part.amount, f"prism.{name}", 2),
        )
        for name, part in named
        if part.base is not None and part.amount >= _SMALL
    ]


# Martin's rule by hand ----------------------------------------------------------------------------


@dataclass(frozen=True)
class _ByHand:
    """The lens, the tilt and Martin's factor as they are noted down."""

    given: LensPower
    angle: float
    tilt_axis: float
    factor: float

    @classmethod
    def of(cls, given: LensPower, tilt: Tilt, index: float) -> _ByHand:
        angle = noted(tilt.angle)
        return cls(given, angle, noted(tilt.lens_axis), noted(martin(angle, index), 5))

    @property
    def along(self) -> float:
        """The power of the lens along the tilt axis."""
        return noted(self.given.power_along(self.tilt_axis))

    @property
    def across(self) -> float:
        """The power of the lens across the tilt axis."""
        return noted(self.given.power_along(self.tilt_axis + 90))

    @property
    def torsion(self) -> float:
        """What the lens does between the two: 0 unless it lies obliquely to the tilt axis."""
        if self.given.axis is None:
            return 0.0
        turned = standard_axis(self.given.axis - self.tilt_axis)
        return noted(LensPower(self.given.sphere, self.given.cylinder, turned).matrix[0][1])

    def grown(self, power: float, foreshortened: int) -> float:
        """A power times the factor, over the cosine of the tilt once, twice or not at all."""
        return power * self.factor / math.cos(math.radians(self.angle)) ** foreshortened


def _steps(
    given: LensPower, tilt: Tilt, down: float, side: float, index: float, ways: list[_Way]
) -> tuple[Step, ...]:
    hand = _ByHand.of(given, tilt, index)
    factor, cosine = f"{hand.factor:.5f}", f"cos {unsigned(hand.angle)}"
    written = (
        "the cylinder is the difference, and its axis is the tilt axis."
        if given.axis is None
        else "this is the lens again, in the form that was entered."
    )
    return (
        *_combined(tilt, down, side),
        Step(
            "Martin’s factor, for the power along the tilt axis.",
            "k = 1 + (sin θ)² ÷ (2 × n)",
            f"1 + (sin {unsigned(hand.angle)})² ÷ (2 × {unsigned(index)})",
            say("{factor}", factor=number("factor", hand.factor, factor)),
        ),
        *_resolved(hand),
        Step(
            "Along the tilt axis the power grows by the factor.",
            "F × k",
            f"{signed(hand.along, 4)} × {factor}",
            _to_four(hand.grown(hand.along, 0), "by_hand.along"),
        ),
        Step(
            "Across the tilt axis it grows more, because the lens is seen foreshortened.",
            "F × k ÷ (cos θ)²",
            f"{signed(hand.across, 4)} × {factor} ÷ ({cosine})²",
            _to_four(hand.grown(hand.across, 2), "by_hand.across"),
        ),
        *_between(hand, factor, cosine),
        Step(
            f"By Martin’s rule (the headline is by another way: {ways[-1].says}) {written}",
            result=say("{lens}", lens=written_lens(ways[0].worn, "martin.")),
        ),
    )


def _combined(tilt: Tilt, down: float, side: float) -> tuple[Step, ...]:
    if down == 0 or side == 0:
        return ()
    return (
        Step(
            "Two tilts make one.",
            "θ = acos(cos of the one × cos of the other)",
            f"acos(cos {unsigned(abs(down))} × cos {unsigned(side)})",
            say("{angle}°", angle=number("by_hand.tilt", tilt.angle, f"{noted(tilt.angle):.4f}")),
        ),
    )


def _resolved(hand: _ByHand) -> tuple[Step, ...]:
    if hand.given.axis is None:
        return ()
    between = f"({unsigned(hand.given.axis)} {MINUS} {unsigned(hand.tilt_axis)})"
    sphere, cylinder = digits(hand.given.sphere), digits(hand.given.cylinder)
    return tuple(
        Step(
            what,
            f"S + C × ({key} (A {MINUS} tilt axis))²",
            f"{sphere} + ({cylinder}) × ({key} {between})²",
            _to_four(power, name),
        )
        for what, key, power, name in (
            ("The power of the lens along the tilt axis.", "sin", hand.along, "lens.along"),
            ("And across it.", "cos", hand.across, "lens.across"),
        )
    )


def _between(hand: _ByHand, factor: str, cosine: str) -> tuple[Step, ...]:
    if hand.torsion == 0 or hand.given.axis is None:
        return ()
    between = f"({unsigned(hand.given.axis)} {MINUS} {unsigned(hand.tilt_axis)})"
    return (
        Step(
            "The lens lies obliquely to the tilt axis, so it has a torsion between the two.",
            f"{MINUS}C × sin (A {MINUS} tilt axis) × cos (A {MINUS} tilt axis)",
            f"{MINUS}({digits(hand.given.cylinder)}) × sin {between} × cos {between}",
            _to_four(hand.torsion, "lens.torsion"),
        ),
        Step(
            "The torsion grows by the factor, and once by the foreshortening.",
            "torsion × k ÷ cos θ",
            f"{signed(hand.torsion, 4)} × {factor} ÷ ({cosine})",
            _to_four(hand.grown(hand.torsion, 1), "by_hand.torsion"),
        ),
    )


def _to_four(value: float, name: str) -> Line:
    return say("{power} D", power=number(name, value, signed(value, 4)))


def _cautions(lens: Prescription, form: LensForm | None) -> tuple[str, ...]:
    cautions = ["The prescriber and the laboratory decide. Never change an order by this figure."]
    if form is None:
        cautions.append(
            "Thickness and front curve are left out. Enter both under More entries for a ray trace."
        )
    if lens.addition is not None or lens.prism:
        cautions.append("The addition and the prism of the order are not worked here.")
    return tuple(cautions)


CALCULATOR = Calculator(
    slug="tilt-and-face-form",
    title="Tilt and face form",
    purpose="Enter a lens and how it stands before the eye; get what it does there.",
    fields=(
        PrescriptionField("lens", "Lens", "what the lensmeter reads, or what is wanted"),
        NumberField(
            "pantoscopic",
            "Pantoscopic tilt",
            "seen from the side; 0 to 45, 0 if empty",
            optional=True,
            unit="°",
            high=_STEEPEST,
        ),
        NumberField(
            "face_form",
            "Face form",
            "of this lens, seen from above; 0 to 45, 0 if empty",
            optional=True,
            unit="°",
            high=_STEEPEST,
        ),
        ChoiceField(
            "eye",
            "Eye",
            "for the side to which face form turns the lens",
            choices=(Choice("right", "right", Eye.RIGHT), Choice("left", "left", Eye.LEFT)),
        ),
        MATERIAL,
        INDEX,
        PowerField(
            "front", "Front curve", "true power, for the ray trace", optional=True, aside=True
        ),
        NumberField(
            "thickness",
            "Centre thickness",
            "for the ray trace",
            optional=True,
            aside=True,
            unit="mm",
            high=15,
        ),
        ChoiceField(
            "nearer",
            "Nearer to the face",
            "the lower edge in nearly every frame",
            aside=True,
            choices=(
                Choice("lower", "the lower edge (pantoscopic)", _LOWER_EDGE),
                Choice("upper", "the upper edge (retroscopic)", _UPPER_EDGE),
            ),
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "lens": "-8.00 DS",
                "pantoscopic": "15",
                "material": "1.586",
                "front": "+2.00",
                "thickness": "2",
            },
            prints={"martin.sphere": "−8.17", "martin.axis": "180"},
            source="schwartz-tilt",
            note="The text takes the cylinder from the power before the tilt, and so has −0.57.",
        ),
        Example(
            given={"lens": "+15.00 DS", "pantoscopic": "10", "index": "1.5"},
            prints={
                "martin.sphere": "+15.15",
                "martin.cylinder": "+0.47",
                "martin.axis": "180",
            },
            source="durham-tech-tilt",
            note="The text takes 3 for 2n, which is the same for an index of 1.5.",
        ),
        Example(
            given={
                "lens": "+3.00 -2.00 x 90",
                "pantoscopic": "10",
                "face_form": "15",
                "eye": "right",
                "material": "1.60",
                "front": "+8.00",
                "thickness": "4",
            },
            prints={"prism.vertical": "0.37", "prism.horizontal": "0.57"},
            note="An invented lens, traced with a general ray tracer as well.",
        ),
    ),
)
