"""Verification: a measured lens against the ordered one, by a standard's table."""

from __future__ import annotations

from lensmath.inspection import (
    Check,
    Inspection,
    PassWindow,
    Verdict,
    Window,
    inspect_lens,
    pass_window,
)
from lensmath.notation import Decimals, Prescription
from lensmath.power import LensPower
from lensmath.tolerances import standards_for
from lensmath.tolerances.model import LensType, Standard
from site_src.calculators import rows
from site_src.calculators.answer import (
    Answer,
    Datum,
    Line,
    Step,
    amount,
    cut_eighths,
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
    PowerField,
    PrescriptionField,
    on_field,
)


def solve(
    ordered: Prescription,
    sphere: float | None,
    cylinder: float | None,
    measured_axis: float | None,
    standard: Standard,
    decimals: Decimals,
) -> Answer:
    """The verdict row by row; without a measured lens, the window that passes."""
    entries = ordered.power.sphere, ordered.power.cylinder, sphere, cylinder
    understood = cut_eighths(decimals, *entries)
    if sphere is None and cylinder is None and measured_axis is None:
        return _window_answer(ordered, standard, understood)
    if sphere is None:
        raise FieldError(
            "sphere",
            "nothing was entered, but the cylinder or the axis was. Enter all that was measured, "
            "or leave all of it empty to see the pass window.",
        )
    if cylinder is None and measured_axis is not None:
        raise FieldError(
            "cylinder",
            "nothing was entered, but the axis was. Enter the cylinder, or for a sphere no axis.",
        )
    with on_field("measured_axis"):
        measured = LensPower(sphere, cylinder or 0.0, measured_axis)
    return _verdict_answer(ordered, measured, standard, understood)


# The window alone ---------------------------------------------------------------------------------


def _window_answer(
    ordered: Prescription, standard: Standard, understood: tuple[Line, ...]
) -> Answer:
    window = pass_window(ordered.power, standard)
    return Answer(
        headline=say(
            "Passes: {name} {low} to {high}",
            name=rows.label(window.rows[0]).lower(),
            low=rows.end(window.rows[0], "lowest"),
            high=rows.end(window.rows[0], "highest"),
        ),
        also=(say(f"The pass window of {{lens}} by {standard.designation}.", lens=_lens(window)),),
        understood=understood,
        tables=(rows.window_table(window.rows, standard),),
        steps=tuple(step for row in window.rows for step in rows.limit_steps(row)),
        figures=(rows.gauges(window.rows),),
        cautions=_cautions(ordered, standard, window.rows),
        sources=rows.sources(standard, window.rows),
    )


def _lens(window: PassWindow) -> Line:
    return written_lens(window.ordered, "ordered.")


# The verdict --------------------------------------------------------------------------------------


def _verdict_answer(
    ordered: Prescription,
    measured: LensPower,
    standard: Standard,
    understood: tuple[Line, ...],
) -> Answer:
    found = inspect_lens(ordered.power, measured, standard)
    return Answer(
        headline=say(
            f"{{verdict}}{_outside(found)}",
            verdict=Datum("verdict", found.verdict.value, found.verdict.value.capitalize()),
        ),
        also=_reasons(found),
        understood=understood,
        tables=(rows.verdict_table(found.rows, standard),),
        steps=(
            *_form_steps(ordered.power, measured, found),
            *(
                step
                for row in found.rows
                for step in (*rows.difference_steps(row), *rows.limit_steps(row))
            ),
        ),
        figures=(rows.gauges(found.rows),),
        cautions=_cautions(ordered, standard, found.rows),
        sources=rows.sources(standard, found.rows),
    )


def _outside(found: Inspection) -> str:
    """Which rows are outside, after the verdict, and whether all of them are so by a hair."""
    outside = [row for row in found.rows if row.verdict is Verdict.OUTSIDE]
    if not outside:
        return ""
    return f"{rows.but_near(outside)}: {', '.join(rows.label(row).lower() for row in outside)}"


def _reasons(found: Inspection) -> tuple[Line, ...]:
    worst = found.worst
    larger = "At least one" if found.verdict is Verdict.OUTSIDE else "No"
    reason = say(f"{larger} difference is larger than its limit in {found.standard.designation}.")
    if worst.share is None:
        return (reason,)
    return (
        reason,
        say(
            f"Largest share of a limit: {{share}} %, {rows.label(worst).lower()}.",
            share=amount(100 * worst.share, "worst.share", 0),
        ),
    )


def _form_steps(ordered: LensPower, measured: LensPower, found: Inspection) -> tuple[Step, ...]:
    if ordered.cylinder <= 0 and measured.cylinder <= 0:
        return ()
    return (
        Step(
            "Write both lenses in minus cylinder first.",
            result=say(
                "{ordered} ordered, {measured} measured",
                ordered=written_lens(found.ordered, "ordered."),
                measured=written_lens(found.measured, "measured."),
            ),
        ),
    )


def _cautions(
    ordered: Prescription, standard: Standard, checked: tuple[Window, ...]
) -> tuple[str, ...]:
    said = []
    for row in checked:
        if isinstance(row, Check) and row.near_limit:
            said.append(rows.near_limit(row))
        if isinstance(row, Check) and row.verdict is Verdict.NOT_COMPARABLE:
            said.append("An axis was ordered, but the measured lens has no cylinder to compare.")
    if any(row.tolerance.confidence.remembered for row in checked):
        said.append(rows.from_memory(standard))
    if ordered.addition is not None or ordered.prism:
        said.append("The addition and the prism of the order are not checked here.")
    return tuple(said)


CALCULATOR = Calculator(
    slug="verification",
    title="Verification",
    purpose="Enter the order and what you measured; get the verdict, row by row.",
    fields=(
        PrescriptionField(
            "ordered", "Ordered lens", "as it stands on the order, as −2.00 −0.75 × 005"
        ),
        PowerField(
            "sphere",
            "Measured sphere",
            "leave all three empty to see the pass window alone",
            optional=True,
        ),
        PowerField("cylinder", "Measured cylinder", "empty for a sphere", optional=True),
        AxisField("measured_axis", "Measured axis", "1 to 180", optional=True),
        ChoiceField(
            "standard",
            "Standard",
            "single vision, distance power",
            choices=tuple(
                Choice(
                    key,
                    f"{held.designation}, {' or '.join(state.value for state in held.lens_states)}",
                    held,
                )
                for key, held in standards_for(LensType.SINGLE_VISION).items()
            ),
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "ordered": "−2.00 −0.75 × 005",
                "sphere": "-2.00",
                "cylinder": "-0.75",
                "measured_axis": "178",
                "standard": "ansi-z80-1-2015",
            },
            prints={"verdict": "Outside", "axis.difference": "7", "axis.limit": "±5"},
            note="An invented lens.",
        ),
        Example(
            given={"ordered": "−3.00 DS", "standard": "ansi-z80-1-2015"},
            prints={"meridian.180.lowest": "−3.130", "meridian.180.highest": "−2.870"},
            source="z80-1-2015-study-page",
        ),
    ),
)
