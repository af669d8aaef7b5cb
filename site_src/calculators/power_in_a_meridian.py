"""Power in a meridian: what a spherocylinder has along any direction, and its cross term there."""

from __future__ import annotations

from lensmath.notation import TIMES, Decimals, Prescription, write_axis, write_lens
from lensmath.power import LensPower, axis_difference, standard_axis
from site_src.calculators.answer import (
    Answer,
    Datum,
    Line,
    Step,
    axis,
    cut_eighths,
    power,
    say,
    word,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, AxisField, PrescriptionField
from site_src.calculators.working import digits, number, signed, unsigned
from site_src.figures.meridian_curve import meridian_curve

_SOURCES = ("durham-tech-10", "long-1976")
_DECIMALS = 4


def solve(lens: Prescription, meridian: float, decimals: Decimals) -> Answer:
    """The power along one meridian, across it, and the cross term between the two."""
    written = lens.power
    return Answer(
        headline=say(
            "{power} D along {meridian}",
            power=power(written.power_along(meridian)),
            meridian=axis(meridian, "meridian"),
        ),
        also=_also(written, meridian),
        understood=(*_understood(lens), *cut_eighths(decimals, written.sphere, written.cylinder)),
        steps=_steps(written, meridian),
        figures=(meridian_curve("power-in-a-meridian-curve", written, meridian),),
        cautions=_left_out(lens),
        sources=_SOURCES,
    )


def _cross_term(written: LensPower, meridian: float) -> float:
    """The entry off the diagonal of the power matrix, x along the meridian and y 90 further on."""
    if written.axis is None:
        return 0.0
    turned = standard_axis(written.axis - meridian)
    return LensPower(written.sphere, written.cylinder, turned).matrix[0][1]


def _also(written: LensPower, meridian: float) -> tuple[Line, ...]:
    if written.axis is None:
        return (say("A sphere has one power along every meridian, and no cross term."),)
    cross = _cross_term(written, meridian)
    across = standard_axis(meridian + 90)
    there = "" if signed(cross, 2).strip("0.") else " This is a principal meridian, or next to one."
    return (
        say(
            "{power} D along {meridian}, at right angles to it",
            power=power(written.power_along(across), "across"),
            meridian=axis(across, "across.meridian"),
        ),
        say(f"Cross term: {{cross}} D.{there}", cross=number("cross", cross, signed(cross, 2))),
    )


def _understood(given: Prescription) -> tuple[Line, ...]:
    if given.power.axis is None:
        return ()
    form = word(given.form.value, "form")
    return (say(f"Read as {{form}}: {write_lens(given.power)}.", form=form),)


def _steps(written: LensPower, meridian: float) -> tuple[Step, ...]:
    if written.axis is None:
        return ()
    apart = axis_difference(meridian, written.axis)
    angle = unsigned(apart)
    sphere, cylinder = digits(written.sphere), digits(written.cylinder)
    along, cross = written.power_along(meridian), _cross_term(written, meridian)
    turned = f"{unsigned(meridian)} − {unsigned(written.axis)}"
    return (
        _angle_step(written.axis, meridian, apart),
        Step(
            "Take this share of the cylinder, and add it to the sphere.",
            "S + C × sin² of the angle",
            f"{sphere} + ({cylinder}) {TIMES} (sin {angle})²",
            say("{power} D", power=number("power", along, signed(along, _DECIMALS))),
        ),
        Step(
            "Cross term: half the cylinder by the sine of twice the turn from the axis to the "
            "meridian, with its sign.",
            "C ÷ 2 × sin(2 × (meridian − axis))",
            f"({cylinder}) ÷ 2 {TIMES} sin(2 {TIMES} ({turned}))",
            say("{cross} D", cross=number("cross", cross, signed(cross, _DECIMALS))),
        ),
    )


def _angle_step(lens_axis: float, meridian: float, apart: float) -> Step:
    high, low = max(meridian, lens_axis), min(meridian, lens_axis)
    numbers = f"{unsigned(high)} − {unsigned(low)}"
    if high - low > 90:
        numbers = f"180 − ({numbers})"
    return Step(
        f"The angle between meridian {write_axis(meridian)} and the axis, {write_axis(lens_axis)}.",
        numbers=numbers,
        result=(Datum("angle", apart, unsigned(apart)), "°"),
    )


def _left_out(given: Prescription) -> tuple[str, ...]:
    if given.addition is None and not given.prism:
        return ()
    return ("The addition and the prism play no part here.",)


CALCULATOR = Calculator(
    slug="power-in-a-meridian",
    title="Power in a meridian",
    purpose="Write a lens and a meridian; get the power along it.",
    fields=(
        PrescriptionField(
            "lens", "Lens as written", "minus, plus or crossed form, as +2.25 −0.75 × 105"
        ),
        AxisField("meridian", "Meridian", "90 is upright, 180 is level"),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"lens": "-1.00 +3.00 x 110", "meridian": "45"},
            prints={"power": "+1.46"},
            source="durham-tech-10",
        ),
        Example(
            given={"lens": "+8.75 -2.25 x 005", "meridian": "90"},
            prints={"power": "+6.52"},
            source="durham-tech-10",
        ),
        Example(
            given={"lens": "-2.00 -1.00 x 037", "meridian": "180"},
            prints={"power": "−2.36"},
            source="optician-notes-oblique",
            note="Given there as −2.00 D along 37 and −3.00 D along 127.",
        ),
    ),
)
