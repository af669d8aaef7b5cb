"""What to write: a lens as it was measured or worked out, in the steps that orders have."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum

from lensmath.notation import (
    TIMES,
    Decimals,
    is_cut,
    write_exact,
    write_lens,
)
from lensmath.power import LensPower, rounded_to, snapped, standard_axis
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
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    DECIMALS,
    AxisField,
    Choice,
    ChoiceField,
    FieldError,
    PowerField,
    on_field,
)
from site_src.calculators.working import digits, number, unsigned
from site_src.figures.written_steps import Rounding, written_steps

_SOURCES = ("nj-virginia-rules", "durham-tech-9", "common-practice")


class _Form(StrEnum):
    MINUS = "minus"
    PLUS = "plus"
    AS_ENTERED = "entered"


def solve(
    sphere: float,
    cylinder: float | None,
    lens_axis: float | None,
    step: float,
    form: _Form,
    decimals: Decimals,
) -> Answer:
    """The lens in the wanted form and steps, and how far it then is from what was found."""
    entered = _entered(sphere, cylinder, lens_axis)
    found = _in_form(entered, form)
    written = _written(found, step)
    return Answer(
        headline=written_lens(written),
        also=_also(written, found),
        understood=cut_eighths(decimals, sphere, cylinder),
        steps=(*_form_steps(entered, found), *_steps(found, written, step)),
        figures=(written_steps("what-to-write-steps", step, list(_roundings(found, written))),),
        cautions=tuple(_cautions(found, written, step, decimals)),
        sources=_SOURCES,
    )


def _entered(sphere: float, cylinder: float | None, lens_axis: float | None) -> LensPower:
    if cylinder is None and lens_axis is not None:
        raise FieldError(
            "cylinder",
            "nothing was entered, but the axis was. Enter the cylinder, or for a sphere no axis.",
        )
    with on_field("lens_axis"):
        return LensPower(sphere, cylinder or 0.0, lens_axis)


def _in_form(lens: LensPower, form: _Form) -> LensPower:
    if form is _Form.MINUS:
        return lens.in_minus_cylinder()
    return lens.in_plus_cylinder() if form is _Form.PLUS else lens


def _written(found: LensPower, step: float) -> LensPower:
    """Sphere and cylinder to the nearest step, the axis to the nearest degree."""
    stepped = found.to_step(step)
    if stepped.axis is None:
        return stepped
    return LensPower(stepped.sphere, stepped.cylinder, standard_axis(rounded_to(stepped.axis, 1.0)))


# What is said -------------------------------------------------------------------------------------


def _also(written: LensPower, found: LensPower) -> tuple[Line, ...]:
    with_comma = word(write_lens(written, comma=True), "comma")
    said = [say("With a decimal comma: {lens}", lens=with_comma)]
    if written.axis is not None:
        other = "plus" if written.cylinder < 0 else "minus"
        lens = written_lens(written.transposed(), f"{other}.")
        said.append(say(f"The same in {other} form: {{lens}}", lens=lens))
    return (*said, *_lost(written, found))


def _lost(written: LensPower, found: LensPower) -> tuple[Line, ...]:
    """What the written lens has over the found one."""
    if written == found:
        return (say("Nothing is lost: this is the lens as it was found."),)
    lost = written - found
    most = max(abs(meridian.power) for meridian in lost.principal_meridians)
    mean = snapped(written.mean_sphere - found.mean_sphere)
    return (
        say(
            "Lost by rounding: up to {most} D along a meridian, {mean} D in the mean sphere",
            most=Datum("lost.most", snapped(most), unsigned(rounded_to(most, 0.001), 2)),
            mean=power(mean, "lost.mean_sphere", exact=True),
        ),
    )


def _form_steps(entered: LensPower, found: LensPower) -> tuple[Step, ...]:
    if entered.cylinder == found.cylinder:
        return ()
    form = "minus" if found.cylinder < 0 else "plus"
    return (
        Step(
            f"Write the lens in {form} cylinder first.",
            result=say(
                f"{{sphere}} {{cylinder}} {TIMES} {{axis}}",
                sphere=number("found.sphere", found.sphere, digits(found.sphere)),
                cylinder=number("found.cylinder", found.cylinder, digits(found.cylinder)),
                axis=axis(found.axis or 0.0, "found.axis"),
            ),
        ),
    )


def _steps(found: LensPower, written: LensPower, step: float) -> tuple[Step, ...]:
    steps = [*_rounding_steps("sphere", found.sphere, written.sphere, step)]
    if found.axis is not None:
        steps += _rounding_steps("cylinder", found.cylinder, written.cylinder, step)
    if written.axis is not None:
        steps.append(
            Step(
                "Axis: to the nearest whole degree, with three digits.",
                result=say("{axis}", axis=axis(written.axis)),
            )
        )
    return tuple(steps)


def _rounding_steps(name: str, found: float, written: float, step: float) -> tuple[Step, ...]:
    count, nearest = snapped(found / step), snapped(written / step)
    return (
        Step(
            f"{name.capitalize()}: count it in steps.",
            f"{name} ÷ step",
            f"{digits(found)} ÷ {unsigned(step)}",
            (number(f"{name}.count", count, digits(count)),),
        ),
        Step(
            f"Take the nearest whole number of steps{_tie(found, step)}.",
            f"steps {TIMES} step",
            f"{digits(nearest, at_least=0)} {TIMES} {unsigned(step)}",
            say("{power} D", power=power(written, name, exact=True)),
        ),
    )


def _tie(found: float, step: float) -> str:
    return "; a half goes to the stronger power" if _half_way(found, step) else ""


def _half_way(power: float, step: float) -> bool:
    return snapped(abs(power) / step) % 1 == 0.5


def _roundings(found: LensPower, written: LensPower) -> Iterator[Rounding]:
    yield Rounding("Sphere", found.sphere, written.sphere)
    if found.axis is not None:
        yield Rounding("Cylinder", found.cylinder, written.cylinder)


def _cautions(
    found: LensPower, written: LensPower, step: float, decimals: Decimals
) -> Iterator[str]:
    half_way = [p for p in (found.sphere, found.cylinder) if _half_way(p, step)]
    if half_way:
        powers = " and ".join(f"{write_exact(p)} D" for p in half_way)
        lies = (
            "lies half-way between two steps and goes"
            if len(half_way) == 1
            else ("lie half-way between two steps and go")
        )
        yield f"{powers} {lies} to the stronger power here. Others round the other way."
    if decimals is Decimals.EIGHTHS and any(is_cut(p) for p in half_way):
        yield (
            "An entry such as 0.12 was taken as an eighth. From a display in steps of 0.01 D it "
            "is weaker than half-way: say so under “More entries”."
        )
    if found.axis is not None and written.axis is None:
        yield (
            f"The cylinder of {write_exact(found.cylinder)} D is less than half a step and is not "
            "written; with it goes the axis."
        )
    elsewhere = _written(found.transposed(), step)
    if elsewhere != written:
        yield (
            f"Rounded in the other form, the lens would be written {write_lens(elsewhere)}. "
            "Take the form that the order uses before you round."
        )


CALCULATOR = Calculator(
    slug="what-to-write",
    title="What to write",
    purpose="Enter what you found, with all its decimals; get what is written down.",
    fields=(
        PowerField("sphere", "Sphere found", "measured or worked out, as −2.31"),
        PowerField("cylinder", "Cylinder found", "empty for a sphere", optional=True),
        AxisField("lens_axis", "Axis found", "1 to 180", optional=True),
        ChoiceField(
            "step",
            "Write in steps of",
            "quarters on most orders",
            choices=(
                Choice("0.25", "0.25 D (quarters)", 0.25),
                Choice("0.12", "0.12 D (eighths)", 0.125),
            ),
        ),
        ChoiceField(
            "form",
            "Write in",
            "the form of the order",
            choices=(
                Choice("minus", "minus cylinder", _Form.MINUS),
                Choice("plus", "plus cylinder", _Form.PLUS),
                Choice("entered", "the form as entered", _Form.AS_ENTERED),
            ),
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"sphere": "-2.31", "cylinder": "-0.68", "lens_axis": "77.4"},
            prints={
                "sphere": "−2.25",
                "cylinder": "−0.75",
                "axis": "077",
                "comma": "−2,25 −0,75 × 077",
            },
            note="An invented lens.",
        ),
        Example(
            given={"sphere": "+1.125", "step": "0.12"},
            prints={"sphere": "+1.12"},
            source="durham-tech-9",
            note="The mean sphere of +2.25 −2.25 × 136, printed in eighths.",
        ),
    ),
)
