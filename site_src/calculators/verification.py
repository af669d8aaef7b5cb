"""Verification: a measured lens against the ordered one, by a standard's table."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lensmath.inspection import (
    Check,
    Inspection,
    PassWindow,
    Verdict,
    Window,
    inspect_lens,
    pass_window,
)
from lensmath.notation import MINUS, TIMES, Decimals, Prescription, write_exact
from lensmath.power import LensPower, snapped
from lensmath.scale import shown
from lensmath.tolerances import STANDARDS
from lensmath.tolerances.model import Band, Percent, Quantity, Standard
from site_src.calculators.answer import (
    Answer,
    Datum,
    Line,
    Step,
    Table,
    amount,
    axis,
    cut_eighths,
    degrees,
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
    PrescriptionField,
    on_field,
)
from site_src.figures.pass_window import Gauge
from site_src.figures.pass_window import pass_window as drawn_window
from site_src.figures.svg import Figure


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
            name=_label(window.rows[0]).lower(),
            low=_end(window.rows[0], "lowest"),
            high=_end(window.rows[0], "highest"),
        ),
        also=(say(f"The pass window of {{lens}} by {standard.designation}.", lens=_lens(window)),),
        understood=understood,
        table=Table(
            f"Pass window, {standard.designation}",
            ("Checked", "Ordered", "From", "To", "Limit", "Table"),
            tuple(_window_row(row) for row in window.rows),
        ),
        steps=tuple(step for row in window.rows for step in _limit_steps(row)),
        figures=(_gauges(window.rows),),
        cautions=_cautions(ordered, standard, window.rows),
        sources=_sources(standard, window.rows),
    )


def _lens(window: PassWindow) -> Line:
    return written_lens(window.ordered, "ordered.")


def _window_row(row: Window) -> tuple[Line, ...]:
    return (
        (_label(row),),
        (_value(row, row.ordered, "ordered"),),
        (_end(row, "lowest"),),
        (_end(row, "highest"),),
        (_limit(row),),
        (_table(row),),
    )


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
            f"{{verdict}} {standard.designation}",
            verdict=Datum("verdict", found.verdict.value, found.verdict.value.capitalize()),
        ),
        also=_reasons(found),
        understood=understood,
        table=Table(
            f"Ordered against measured, {standard.designation}",
            ("Checked", "Verdict", "Ordered", "Measured", "Difference", "Limit", "Used", "Table"),
            tuple(_verdict_row(row) for row in found.rows),
        ),
        steps=(
            *_form_steps(ordered.power, measured, found),
            *(step for row in found.rows for step in (*_difference_steps(row), *_limit_steps(row))),
        ),
        figures=(_gauges(found.rows),),
        cautions=_cautions(ordered, standard, found.rows),
        sources=_sources(standard, found.rows),
    )


def _reasons(found: Inspection) -> tuple[Line, ...]:
    worst = found.worst
    outside = [row for row in found.rows if row.verdict is Verdict.OUTSIDE]
    if outside:
        said = ", ".join(_label(row).lower() for row in outside)
        reason = say(f"Outside its limit: {said}.")
    else:
        reason = say("No difference is larger than its limit.")
    if worst.share is None:
        return (reason,)
    return (
        reason,
        say(
            f"Largest share of a limit: {{share}} %, {_label(worst).lower()}.",
            share=amount(100 * worst.share, "worst.share", 0),
        ),
    )


def _verdict_row(row: Check) -> tuple[Line, ...]:
    share = "" if row.share is None else amount(100 * row.share, f"{_name(row)}.share", 0)
    return (
        (_label(row),),
        (word(row.verdict.value, f"{_name(row)}.verdict"),),
        (_value(row, row.ordered, "ordered"),),
        (_value(row, row.measured, "measured"),),
        (_difference(row),),
        (_limit(row),),
        say("{share} %", share=share) if share else ("none",),
        (_table(row),),
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


def _difference_steps(row: Check) -> tuple[Step, ...]:
    if row.ordered is None or row.measured is None:
        return ()
    if row.quantity is Quantity.AXIS:
        high, low = max(row.ordered, row.measured), min(row.ordered, row.measured)
        apart = f"{high:g} {MINUS} {low:g}"
        across = high - low > 90
        return (
            Step(
                "Axis: the smaller angle between the two axes."
                + (" They lie on either side of 180." if across else ""),
                numbers=f"180 {MINUS} ({apart})" if across else apart,
                result=(_difference(row), "°"),
            ),
        )
    return (
        Step(
            f"{_label(row)}: measured less ordered.",
            numbers=f"{write_exact(row.measured)} {MINUS} ({write_exact(row.ordered)})",
            result=(_difference(row), " D"),
        ),
    )


def _limit_steps(row: Window) -> tuple[Step, ...]:
    if row.limit is None or row.ordered is None:
        return ()
    unit = row.tolerance.unit.value
    if isinstance(row.tolerance.limit, Percent):
        share = row.tolerance.limit.value / 100
        base = snapped(row.limit / share)
        return (
            Step(
                f"{_label(row)}: the limit is a share of the ordered power.",
                numbers=f"{share:g} {TIMES} {shown(base)}",
                result=(_limit(row), f" {unit}"),
            ),
        )
    band = " and ".join(_band_in_words(band) for band in row.tolerance.bands)
    return (Step(f"{_label(row)}: the limit for {band}.", result=(_limit(row), f" {unit}")),)


def _band_in_words(band: Band) -> str:
    if band.upper == math.inf:
        return f"{band.of.value} above {band.lower:.2f} D"
    return f"{band.of.value} {band.lower:.2f} to {band.upper:.2f} D"


# What a row says ----------------------------------------------------------------------------------


def _name(row: Window) -> str:
    if row.quantity is not Quantity.MERIDIAN_POWER:
        return str(row.quantity.value)
    return f"meridian.{row.meridian:g}"


def _label(row: Window) -> str:
    if row.quantity is Quantity.MERIDIAN_POWER:
        return f"Power along {axis(row.meridian or 180.0).shown}"
    return str(row.quantity.value).capitalize()


def _value(row: Window, value: float | None, name: str, *, exact: bool = False) -> Datum | str:
    if value is None:
        return "none"
    named = f"{_name(row)}.{name}"
    return axis(value, named) if row.quantity is Quantity.AXIS else power(value, named, exact=exact)


def _end(row: Window, end: str) -> Datum | str:
    value = row.lowest if end == "lowest" else row.highest
    return "no limit" if value is None else _value(row, value, end, exact=True)


def _difference(row: Check) -> Datum | str:
    if row.difference is None:
        return "none"
    named = f"{_name(row)}.difference"
    if row.quantity is Quantity.AXIS:
        return degrees(row.difference, named)
    return power(row.difference, named, exact=True)


def _limit(row: Window) -> Datum | str:
    if row.limit is None:
        return "no limit"
    named = f"{_name(row)}.limit"
    written = f"{row.limit:g}" if row.quantity is Quantity.AXIS else shown(row.limit)
    return Datum(named, row.limit, f"±{written}")


def _table(row: Window) -> str:
    return f"{row.tolerance.clause} ({row.tolerance.confidence.value})"


def _gauges(rows: Sequence[Window]) -> Figure:
    return drawn_window(
        "verification-window",
        [
            Gauge(
                _label(row),
                row.tolerance.unit.value,
                row.lowest,
                row.ordered,
                row.highest,
                getattr(row, "measured", None),
                _inside(row),
            )
            for row in rows
            if row.ordered is not None
        ],
    )


def _inside(row: Window) -> bool | None:
    if not isinstance(row, Check) or row.measured is None or row.limit is None:
        return None
    return row.verdict is Verdict.INSIDE


def _cautions(
    ordered: Prescription, standard: Standard, rows: tuple[Window, ...]
) -> tuple[str, ...]:
    said = []
    for row in rows:
        if isinstance(row, Check) and row.near_limit:
            said.append(
                f"{_label(row)}: the difference lies within 0.01 D of the limit, closer than the "
                "printed figure and a hand scale can tell. Read the lens again."
            )
        if isinstance(row, Check) and row.verdict is Verdict.NOT_COMPARABLE:
            said.append("An axis was ordered, but the measured lens has no cylinder to compare.")
    if any(row.tolerance.confidence.remembered for row in rows):
        said.append(
            f"Some limits of {standard.designation} are quoted from memory (see the table). Check "
            "them in your own copy before you decide on them."
        )
    if ordered.addition is not None or ordered.prism:
        said.append("The addition and the prism of the order are not checked here.")
    return tuple(said)


def _sources(standard: Standard, rows: tuple[Window, ...]) -> tuple[str, ...]:
    seen = (key for row in rows for key in row.tolerance.sources)
    return tuple(dict.fromkeys((standard.key, *seen)))


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
                for key, held in STANDARDS.items()
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
            prints={"meridian.180.lowest": "−3.13", "meridian.180.highest": "−2.87"},
            source="z80-1-2015-study-page",
        ),
    ),
)
