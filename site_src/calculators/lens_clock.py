"""Lens clock: what the readings of a lens clock mean on a material it was not made for."""

from __future__ import annotations

from lensmath.notation import MINUS, Decimals, write_axis
from lensmath.power import LensPower, snapped
from lensmath.surfaces import (
    CROWN_INDEX,
    TOOL_INDEX,
    base_and_cross_curve,
    clocked_surface,
    radius_of_curvature,
    true_power,
)
from site_src.calculators.answer import (
    Answer,
    Line,
    Step,
    amount,
    cut_eighths,
    power,
    say,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    DECIMALS,
    AxisField,
    Choice,
    ChoiceField,
    FieldError,
    NumberField,
    PowerField,
    on_field,
)
from site_src.calculators.materials import (
    INDEX,
    MATERIAL,
    Material,
    entered_index,
    index_of,
)
from site_src.calculators.working import curve, digits, noted, number, signed, unsigned
from site_src.figures.power_cross import power_cross

_SOURCES = ("lens-clock-encyclopedia", "meister-lens-clock-question", "common-practice")
_MIRRORED = (
    "Meridians are named as seen facing the wearer. On the back of a lens that lies face down you "
    f"see them mirrored: write 180 {MINUS} the meridian."
)


def solve(
    first: float,
    second: float | None,
    meridian: float | None,
    clock: float,
    clock_index: float | None,
    material: Material,
    index: float | None,
    decimals: Decimals,
) -> Answer:
    """The true power of the surface, its radius, and for two readings its curves and cylinder."""
    made_for, of_lens = clock_index or clock, index_of(material, index)
    readings = [first] if second is None else [first, second]
    surface = _surface(readings, meridian, of_lens, made_for)
    return Answer(
        headline=_headline(surface),
        also=(*_curves(surface), *_radii(readings, made_for)),
        understood=(
            *cut_eighths(decimals, *readings),
            *entered_index(index),
            say(f"The clock was made for an index of {unsigned(made_for, 3)}."),
        ),
        steps=_steps(readings, surface, of_lens, made_for),
        figures=(power_cross("clocked-surface", surface),),
        cautions=(_MIRRORED,) if surface.axis else (),
        sources=_SOURCES,
    )


def _headline(surface: LensPower) -> Line:
    if surface.axis is None:
        return say("Surface power {power} D", power=power(surface.sphere, "sphere"))
    return written_lens(surface)


def _surface(
    readings: list[float], meridian: float | None, index: float, made_for: float
) -> LensPower:
    if len(readings) == 1:
        return LensPower(true_power(readings[0], index, clock_index=made_for))
    if meridian is None and readings[0] != readings[1]:
        raise FieldError(
            "meridian",
            "two different readings were entered, and not where the clock stood for the first. "
            "Enter its meridian from 1 to 180.",
        )
    with on_field("first"):
        return clocked_surface(
            readings[0], readings[1], meridian or 180.0, index, clock_index=made_for
        )


def _curves(surface: LensPower) -> tuple[Line, ...]:
    if surface.axis is None:
        return ()
    base, cross = base_and_cross_curve(surface)
    return (
        say(
            "Base curve {base}, cross curve {cross}",
            base=curve(base, "base"),
            cross=curve(cross, "cross"),
        ),
    )


def _radii(readings: list[float], made_for: float) -> tuple[Line, ...]:
    return tuple(
        _radius(reading, made_for, which)
        for reading, which in zip(readings, ("first", "second"), strict=False)
    )


def _radius(reading: float, made_for: float, which: str) -> Line:
    if reading == 0:
        return say(f"The {which} reading is that of a flat surface.")
    radius = radius_of_curvature(reading, made_for)
    shape = "convex" if radius > 0 else "concave"
    return say(
        f"Radius for the {which} reading: {{radius}} mm, {shape}",
        radius=amount(radius, f"{which}.radius", 1),
    )


def _steps(
    readings: list[float], surface: LensPower, index: float, made_for: float
) -> tuple[Step, ...]:
    found = [true_power(reading, index, clock_index=made_for) for reading in readings]
    turned = [
        Step(
            f"The {which} reading, turned from the index of the clock to that of the lens.",
            f"reading × (n {MINUS} 1) ÷ (n of the clock {MINUS} 1)",
            f"{digits(reading)} × ({unsigned(index)} {MINUS} 1) ÷ ({unsigned(made_for)} {MINUS} 1)",
            say("{power} D", power=number(f"{which}.true", true, signed(true, 4))),
        )
        for reading, true, which in zip(readings, found, ("first", "second"), strict=False)
    ]
    if surface.axis is None:
        return tuple(turned)
    first, second = (noted(true) for true in found)
    return (
        *turned,
        Step(
            f"The cylinder of the surface, with its axis at {write_axis(surface.axis)}.",
            f"second {MINUS} first",
            f"{signed(second, 4)} {MINUS} ({signed(first, 4)})",
            say(
                "{power} D",
                power=number("noted.cylinder", second - first, signed(snapped(second - first), 4)),
            ),
        ),
    )


CALCULATOR = Calculator(
    slug="lens-clock",
    title="Lens clock",
    purpose="Enter what the clock shows and what the lens is made of; get the true surface power.",
    fields=(
        PowerField("first", "First reading", "convex is plus, concave is minus"),
        PowerField(
            "second",
            "Reading at right angles",
            "for a toric surface: turn the clock until the readings differ most",
            optional=True,
        ),
        AxisField(
            "meridian",
            "Meridian of the first",
            "the line of the three feet; a sphere needs none",
            optional=True,
        ),
        MATERIAL,
        ChoiceField(
            "clock",
            "Clock made for",
            "often printed on its dial",
            choices=(
                Choice("1.530", "1.530, tool index", TOOL_INDEX),
                Choice("1.523", "1.523, crown glass", CROWN_INDEX),
            ),
        ),
        INDEX,
        NumberField(
            "clock_index",
            "Another index of the clock",
            "counts instead, 1.4 to 2",
            optional=True,
            aside=True,
            low=1.4,
            high=2.0,
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "first": "-5.30",
                "second": "-7.42",
                "meridian": "20",
                "material": "1.60",
                "clock": "1.530",
            },
            prints={"sphere": "−6.00", "cylinder": "−2.40", "axis": "020"},
            note="An invented back surface.",
        ),
        Example(
            given={"first": "+6.00", "index": "1.66", "clock": "1.530"},
            prints={"sphere": "+7.47"},
            source="meister-lens-clock-question",
        ),
    ),
)
