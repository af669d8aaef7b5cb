"""Transposition: one lens in minus, plus and crossed-cylinder form, with its power cross."""

from __future__ import annotations

from lensmath.notation import (
    MINUS,
    Decimals,
    Form,
    Prescription,
    write_axis,
    write_exact,
    write_lens,
)
from lensmath.power import LensPower
from site_src.calculators.answer import (
    Answer,
    Line,
    Step,
    axis,
    cut_eighths,
    power,
    say,
    word,
    written_crossed,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, PrescriptionField
from site_src.figures.power_cross import power_cross

_SOURCES = ("durham-tech-8", "iso-8429-1986")


def solve(lens: Prescription, decimals: Decimals) -> Answer:
    """The same lens in its other forms, with the sums between them."""
    written = lens.power
    if written.axis is None:
        return _sphere(lens, decimals)
    return Answer(
        headline=_other_form(written),
        also=_all_forms(written),
        understood=(
            *_understood(lens),
            *cut_eighths(decimals, written.sphere, written.cylinder),
        ),
        steps=_steps(lens),
        figures=(power_cross("transposition-cross", written),),
        cautions=_left_out(lens),
        sources=_SOURCES,
    )


def _sphere(given: Prescription, decimals: Decimals) -> Answer:
    return Answer(
        headline=written_lens(given.power),
        also=(
            say("A sphere has one power in every meridian: there is no cylinder to transpose."),
            say("Crossed form: {crossed}", crossed=written_crossed(given.power)),
        ),
        understood=cut_eighths(decimals, given.power.sphere),
        figures=(power_cross("transposition-cross", given.power),),
        cautions=_left_out(given),
        sources=_SOURCES,
    )


def _other_form(written: LensPower) -> Line:
    other = written.transposed()
    return written_lens(other, "plus." if other.cylinder > 0 else "minus.")


def _all_forms(written: LensPower) -> tuple[Line, ...]:
    return (
        say("Minus form: {lens}", lens=written_lens(written.in_minus_cylinder(), "minus.")),
        say("Plus form: {lens}", lens=written_lens(written.in_plus_cylinder(), "plus.")),
        say("Crossed form: {lens}", lens=written_crossed(written.in_minus_cylinder())),
        say("Mean sphere: {power} D", power=power(written.mean_sphere, "mean_sphere")),
    )


def _understood(given: Prescription) -> tuple[Line, ...]:
    form = word(given.form.value, "form")
    return (say(f"Read as {{form}}: {write_lens(given.power)}.", form=form),)


def _steps(given: Prescription) -> tuple[Step, ...]:
    written, other = given.power, given.power.transposed()
    assert written.axis is not None
    assert other.axis is not None
    turn = "+ 90" if written.axis <= 90 else f"{MINUS} 90"
    return (
        *_crossed_steps(given),
        Step(
            "Add the cylinder to the sphere: the new sphere.",
            "S + C",
            f"{write_exact(written.sphere)} + ({write_exact(written.cylinder)})",
            say("{power} D", power=power(other.sphere, "new.sphere", exact=True)),
        ),
        Step(
            "Change the sign of the cylinder.",
            f"{MINUS}C",
            f"{MINUS}({write_exact(written.cylinder)})",
            say("{power} D", power=power(other.cylinder, "new.cylinder", exact=True)),
        ),
        Step(
            "Turn the axis by 90, the way that keeps it from 1 to 180.",
            f"A {turn}",
            f"{write_axis(written.axis)} {turn}",
            say("{axis}", axis=axis(other.axis, "new.axis")),
        ),
        Step(
            "Mean sphere: the sphere and half the cylinder.",
            "S + C ÷ 2",
            f"{write_exact(written.sphere)} + ({write_exact(written.cylinder)}) ÷ 2",
            say("{power} D", power=power(written.mean_sphere, "mean_sphere", exact=True)),
        ),
    )


def _crossed_steps(given: Prescription) -> tuple[Step, ...]:
    if given.form is not Form.CROSSED:
        return ()
    return (
        Step(
            "From crossed form: the higher power is the sphere, the way down to the other is the "
            "cylinder, and the axis is that of the other.",
        ),
    )


def _left_out(given: Prescription) -> tuple[str, ...]:
    if given.addition is None and not given.prism:
        return ()
    return ("The addition and the prism stay as they are: only sphere, cylinder and axis change.",)


CALCULATOR = Calculator(
    slug="transposition",
    title="Transposition",
    purpose="Write a lens as it stands on the order; get its other forms.",
    fields=(
        PrescriptionField(
            "lens",
            "Lens as written",
            "minus, plus or crossed form, as +2.25 −0.75 × 105",
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"lens": "+2.50 −1.50 × 170"},
            prints={
                "plus.sphere": "+1.00",
                "plus.cylinder": "+1.50",
                "plus.axis": "080",
            },
            source="transposition-blog",
        ),
    ),
)
