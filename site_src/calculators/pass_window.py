"""Pass window: what a lens may measure and still pass as ordered, by a chosen standard."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lensmath.eye import Eye
from lensmath.inspection import PassWindow, Window, pass_window
from lensmath.job import OrderedLens
from lensmath.lens_inspection import order_of
from lensmath.notation import Decimals, Prescription
from lensmath.scale import HAND_SCALE
from lensmath.tolerances.model import LensState, LensType, Powers, Quantity, Row, Standard, Unit
from site_src.calculators import ordered_prism, rows
from site_src.calculators.answer import (
    Answer,
    Datum,
    Line,
    Table,
    cut_eighths,
    plain,
    say,
    word,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, PrescriptionField, on_field
from site_src.calculators.scope import LENS_TYPE, STANDARD, Scope
from site_src.figures import pass_window as figure
from site_src.figures.svg import Figure

# What an uncut lens is limited in at its prism reference point.
_AT_THE_PRP = (
    Quantity.PRISM_ERROR,
    Quantity.PRP_DISPLACEMENT,
    Quantity.HORIZONTAL_PRISM,
    Quantity.VERTICAL_PRISM,
)
_PRISM_SAID = {
    Quantity.PRISM_ERROR: "{limit} {unit} of prism error",
    Quantity.PRP_DISPLACEMENT: "the ordered prism found within {limit} {unit}",
    Quantity.HORIZONTAL_PRISM: "{limit} {unit} horizontally",
    Quantity.VERTICAL_PRISM: "{limit} {unit} vertically",
}


def solve(
    ordered: Prescription, lens_type: LensType, standard: Scope, decimals: Decimals
) -> Answer:
    """The window of the power, and of the addition where one was ordered."""
    held = standard.checked(lens_type)
    with on_field("ordered"):
        order = OrderedLens(
            ordered.power,
            ordered_prism.written(ordered.prism, Eye.RIGHT),  # only its two sizes count
            addition=ordered.addition,
        )
    window = pass_window(ordered.power, held, lens_type)
    addition = _addition(order, held, lens_type)
    windows = (*window.rows, *addition)
    gauges = [_gauge(row) for row in windows]
    prism = _prism_rows(order, standard, lens_type)
    return Answer(
        headline=_headline(windows[0]),
        also=(
            say(
                f"The pass window of {{lens}}, {lens_type.value}, by {held.designation}.",
                lens=written_lens(window.ordered, "ordered."),
            ),
            *_prism_line(standard, prism, order_of(order)),
        ),
        understood=(
            *_understood(ordered, window),
            *cut_eighths(decimals, ordered.power.sphere, ordered.power.cylinder, ordered.addition),
        ),
        tables=(_table(windows, gauges, held),),
        steps=tuple(step for row in windows for step in rows.limit_steps(row)),
        figures=(_drawn(windows, gauges),),
        cautions=_cautions(order, standard, lens_type, windows, prism),
        sources=tuple(
            dict.fromkeys(
                (*rows.sources(held, windows), *(key for row in prism for key in row.sources))
            )
        ),
    )


# The edges ----------------------------------------------------------------------------------------


def _gauge(row: Window) -> figure.Gauge:
    return figure.Gauge(
        rows.label(row),
        row.tolerance.unit.value,
        row.lowest,
        row.ordered or 0.0,
        row.highest,
        marks=_marks(row),
    )


def _marks(row: Window) -> tuple[float, ...]:
    """The marks of a hand scale about the window.

    A cylinder or an addition is the way between two marks, so it may be any number of eighths.
    """
    if row.ordered is None or row.limit is None or row.tolerance.unit is not Unit.DIOPTRE:
        return ()
    step = HAND_SCALE.bands[0].step
    first, last = (row.ordered + side * 2 * row.limit for side in (-1, 1))
    eighths = [n * step for n in range(math.ceil(first / step), math.floor(last / step) + 1)]
    if row.quantity is not Quantity.MERIDIAN_POWER:
        return tuple(eighths)
    end = HAND_SCALE.bands[-1].up_to
    return tuple(mark for mark in HAND_SCALE.marks(-end, end) if mark in eighths)


def _on_a_hand_scale(row: Window, gauge: figure.Gauge) -> Datum | str:
    if gauge.marks:
        return word(gauge.last_marks, f"{rows.stem(row)}.marks")
    return "none" if row.limit is None else "the same"


def _table(windows: Sequence[Window], gauges: Sequence[figure.Gauge], standard: Standard) -> Table:
    return Table(
        f"Pass window, {standard.designation}",
        ("Checked", "Ordered", "From", "To", "On a hand scale", "Limit", "Table"),
        tuple(
            (
                (rows.label(row),),
                (rows.written(row, row.ordered, "ordered"),),
                (rows.end(row, "lowest"),),
                (rows.end(row, "highest"),),
                (_on_a_hand_scale(row, gauge),),
                (rows.limit(row),),
                (rows.table(row),),
            )
            for row, gauge in zip(windows, gauges, strict=True)
        ),
    )


def _drawn(windows: Sequence[Window], gauges: Sequence[figure.Gauge]) -> Figure:
    """The rows as a picture; a row without an ordered value has no gauge."""
    ordered = zip(windows, gauges, strict=True)
    return figure.pass_window(
        "pass-window", [gauge for row, gauge in ordered if row.ordered is not None]
    )


# What is said -------------------------------------------------------------------------------------


def _headline(row: Window) -> Line:
    seen = ", from memory" if row.tolerance.confidence.remembered else ""
    return say(
        f"Passes: {{name}} {{low}} to {{high}}{seen}",
        name=rows.in_sentence(row),
        low=rows.end(row, "lowest"),
        high=rows.end(row, "highest"),
    )


def _addition(order: OrderedLens, standard: Standard, lens_type: LensType) -> tuple[Window, ...]:
    powers = order_of(order)
    row = standard.find_row(Quantity.ADDITION, powers, lens_type)
    if order.addition is None or row is None:
        return ()
    limit = row.limit_at(powers)
    return (Window(Quantity.ADDITION, None, order.addition, limit, row),)


def _prism_rows(order: OrderedLens, scope: Scope, lens_type: LensType) -> tuple[Row, ...]:
    if scope.state is not LensState.UNCUT:
        return ()
    powers = order_of(order)
    found = (scope.standard.find_row(each, powers, lens_type) for each in _AT_THE_PRP)
    return tuple(row for row in found if row is not None)


def _prism_line(scope: Scope, prism: tuple[Row, ...], powers: Powers) -> tuple[Line, ...]:
    """The limits at the prism reference point, of which one may be enough."""
    if scope.state is LensState.MOUNTED:
        return (say("Prism, PDs and heights of mounted lenses are judged for the pair together."),)
    parts = [
        say(
            _PRISM_SAID[row.quantity],
            limit=Datum(
                f"{row.quantity.name.lower()}.limit",
                row.limit_at(powers) or 0.0,
                rows.limit_shown(row, row.limit_at(powers) or 0.0),
            ),
            unit=row.unit.value,
        )
        for row in prism
    ]
    enough = len(scope.standard.either_of(prism[0].quantity)) > 1
    joined = parts[0]
    for part in parts[1:]:
        joined = (*joined, " or " if enough else " and ", *part)
    seen = ", from memory" if any(row.confidence.remembered for row in prism) else ""
    return (say(f"At the prism reference point: {{limits}}{seen}.", limits=joined),)


def _understood(ordered: Prescription, window: PassWindow) -> tuple[Line, ...]:
    if window.ordered == ordered.power and ordered.power.cylinder <= 0:
        return ()
    minus = plain(written_lens(window.ordered))
    return (say(f"Judged in minus cylinder: {minus}."),)


def _cautions(
    order: OrderedLens,
    scope: Scope,
    lens_type: LensType,
    windows: tuple[Window, ...],
    prism: tuple[Row, ...],
) -> tuple[str, ...]:
    said = []
    remembered = any(row.tolerance.confidence.remembered for row in windows)
    if remembered or any(row.confidence.remembered for row in prism):
        said.append(rows.from_memory(scope.standard))
    if order.addition is None and lens_type is not LensType.SINGLE_VISION:
        said.append("No addition was ordered, so its window is not shown.")
    if order.addition is not None and lens_type is LensType.SINGLE_VISION:
        said.append(
            "The addition is left out: single vision lenses have none. Choose the lens type."
        )
    return tuple(said)


CALCULATOR = Calculator(
    slug="pass-window",
    title="Pass window",
    purpose="Enter the order; see what the lens may measure and still pass.",
    fields=(
        PrescriptionField(
            "ordered", "Ordered lens", "as it stands on the order, as −2.00 −0.75 × 005 add +2.00"
        ),
        LENS_TYPE,
        STANDARD,
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "ordered": "−2.25 −1.25 × 178 add +2.00",
                "lens_type": "progressive",
                "standard": "ansi-z80-1-2015-mounted",
            },
            prints={
                "meridian.178.lowest": "−2.410",
                "meridian.178.highest": "−2.090",
                "cylinder.lowest": "−1.410",
                "axis.lowest": "175",
                "axis.highest": "001",
                "addition.lowest": "+1.880",
                "addition.marks": "+2.00 alone",
            },
            note="An invented lens.",
        ),
        Example(
            given={"ordered": "−3.00 DS", "standard": "ansi-z80-1-2015-uncut"},
            prints={
                "meridian.180.lowest": "−3.130",
                "meridian.180.highest": "−2.870",
                "prism_error.limit": "0.33",
            },
            source="z80-1-2015-study-page",
            note="The page prints the edges with two decimals.",
        ),
    ),
)
