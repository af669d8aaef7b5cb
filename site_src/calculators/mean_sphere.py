"""Mean sphere: the one power that lies midway between the two of a spherocylinder."""

from __future__ import annotations

from lensmath.notation import Decimals, Prescription, write_lens
from lensmath.power import LensPower
from site_src.calculators.answer import (
    Answer,
    Line,
    Step,
    cut_eighths,
    power,
    say,
    word,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, PrescriptionField
from site_src.calculators.working import digits, number
from site_src.figures.power_cross import power_cross

_SOURCES = ("durham-tech-9",)


def solve(lens: Prescription, decimals: Decimals) -> Answer:
    """The mean sphere, the sums to it, and what it leaves out."""
    written = lens.power
    return Answer(
        headline=say("Mean sphere {power} D", power=power(written.mean_sphere, "mean_sphere")),
        also=_also(written),
        understood=(*_understood(lens), *cut_eighths(decimals, written.sphere, written.cylinder)),
        steps=() if written.axis is None else _steps(written),
        figures=(power_cross("mean-sphere-cross", written),),
        cautions=_cautions(lens),
        sources=_SOURCES,
    )


def _understood(given: Prescription) -> tuple[Line, ...]:
    if given.power.axis is None:
        return ()
    form = word(given.form.value, "form")
    return (say(f"Read as {{form}}: {write_lens(given.power)}.", form=form),)


def _also(written: LensPower) -> tuple[Line, ...]:
    if written.axis is None:
        return (say("A sphere is its own mean sphere: it has one power in every meridian."),)
    left_out = written - LensPower(written.mean_sphere)
    return (
        say(
            "Half-way between {along} D and {across} D.",
            along=power(written.principal_meridians[0].power, "along"),
            across=power(written.principal_meridians[1].power, "across"),
        ),
        say(
            "Left out by it: {lens}, a crossed cylinder.", lens=written_lens(left_out, "left_out.")
        ),
    )


def _steps(written: LensPower) -> tuple[Step, ...]:
    along, across = written.principal_meridians
    mean = number("mean_sphere", written.mean_sphere, digits(written.mean_sphere))
    return (
        Step(
            "Halve the cylinder, with its sign.",
            "C ÷ 2",
            f"({digits(written.cylinder)}) ÷ 2",
            say(
                "{half} D",
                half=number("half", written.cylinder / 2, digits(written.cylinder / 2)),
            ),
        ),
        Step(
            "Add the half to the sphere.",
            "S + C ÷ 2",
            f"{digits(written.sphere)} + ({digits(written.cylinder / 2)})",
            say("{mean} D", mean=mean),
        ),
        Step(
            "Check: the mean of the two powers on the cross.",
            numbers=f"({digits(along.power)} + ({digits(across.power)})) ÷ 2",
            result=say("{mean} D", mean=mean),
        ),
    )


def _cautions(given: Prescription) -> tuple[str, ...]:
    said = []
    if abs(given.power.cylinder) > 1:
        said.append(
            "The mean sphere does not take the place of the lens: with a cylinder over 1.00 D too "
            "much is left out (common practice). Use it to compare and to check."
        )
    if given.addition is not None or given.prism:
        said.append("The addition and the prism play no part in the mean sphere of the distance.")
    return tuple(said)


CALCULATOR = Calculator(
    slug="mean-sphere",
    title="Mean sphere",
    purpose="Write a lens in any form; get its mean sphere (spherical equivalent).",
    fields=(
        PrescriptionField(
            "lens", "Lens as written", "minus, plus or crossed form, as +2.25 −0.75 × 105"
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"lens": "-0.50 -1.50 x 008"},
            prints={"mean_sphere": "−1.25"},
            source="durham-tech-9",
        ),
        Example(
            given={"lens": "+3.50 +1.50 x 135"},
            prints={"mean_sphere": "+4.25"},
            source="durham-tech-9",
        ),
        Example(
            given={"lens": "+2.25 -2.25 x 136"},
            prints={"mean_sphere": "+1.12"},
            source="durham-tech-9",
            note="Printed in eighths, cut to two decimals.",
        ),
    ),
)
