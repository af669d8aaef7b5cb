"""What one row of a pass window or an inspection says: its values, its sums, its gauge."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from lensmath.inspection import Check, Verdict, Window
from lensmath.notation import MINUS, TIMES, write_exact
from lensmath.power import snapped
from lensmath.scale import shown
from lensmath.tolerances.model import (
    Band,
    Governing,
    Linear,
    Percent,
    Quantity,
    Row,
    Standard,
    Unit,
)
from site_src.calculators.answer import (
    Datum,
    Line,
    Step,
    Table,
    amount,
    axis,
    degrees,
    power,
    say,
    word,
)
from site_src.calculators.sums import enough_decimals
from site_src.figures.pass_window import Gauge, pass_window
from site_src.figures.svg import Figure

_LABELS = {
    Quantity.HORIZONTAL_PRISM: "Horizontal prism (in +)",
    Quantity.VERTICAL_PRISM: "Vertical prism (up +)",
    Quantity.HORIZONTAL_IMBALANCE: "Horizontal imbalance (in +)",
    Quantity.VERTICAL_IMBALANCE: "Vertical imbalance (R up +)",
    Quantity.PRP_HEIGHT_DIFFERENCE: "PRP height difference",
    Quantity.PRP_SEPARATION: "PD",
    Quantity.PRP_DISTANCE: "Monocular PD of the PRP",
    Quantity.FITTING_POINT_DISTANCE: "Monocular PD",
    Quantity.SEGMENT_SEPARATION: "Near PD",
}
_PRISMS = (Governing.HORIZONTAL_PRISM, Governing.VERTICAL_PRISM)


# Tables -------------------------------------------------------------------------------------------


def window_table(windows: Sequence[Window], standard: Standard) -> Table:
    """What passes, a row for each quantity."""
    return Table(
        f"Pass window, {standard.designation}",
        ("Checked", "Ordered", "From", "To", "Limit", "Table"),
        tuple(
            (
                (label(row),),
                (written(row, row.ordered, "ordered"),),
                (end(row, "lowest"),),
                (end(row, "highest"),),
                (limit(row),),
                (table(row),),
            )
            for row in windows
        ),
    )


def verdict_table(checks: Sequence[Check], standard: Standard, whose: str = "") -> Table:
    """The verdicts, a row for each quantity; `whose` names the eye or the pair."""
    return Table(
        f"{whose or 'Ordered against measured'}, {standard.designation}",
        ("Checked", "Verdict", "Ordered", "Measured", "Difference", "Limit", "Used", "Table"),
        tuple(_verdict_row(row) for row in checks),
    )


def _verdict_row(row: Check) -> tuple[Line, ...]:
    share = "" if row.share is None else amount(100 * row.share, f"{stem(row)}.share", 0)
    return (
        (label(row),),
        verdict(row),
        (written(row, row.ordered, "ordered"),),
        (written(row, row.measured, "measured", exact=True),),
        (difference(row),),
        (limit(row),),
        say("{share} %", share=share) if share else ("none",),
        (table(row),),
    )


# One row ------------------------------------------------------------------------------------------


def difference_steps(row: Check) -> tuple[Step, ...]:
    """How the difference of a row is worked out."""
    if row.ordered is None or row.measured is None:
        return ()
    if row.quantity is Quantity.AXIS:
        high, low = max(row.ordered, row.measured), min(row.ordered, row.measured)
        apart = f"{high:g} {MINUS} {low:g}"
        across = high - low > 90
        return (
            Step(
                f"{full_label(row)}: the smaller angle between the two axes."
                + (" They lie on either side of 180." if across else ""),
                numbers=f"180 {MINUS} ({apart})" if across else apart,
                result=(difference(row), "°"),
            ),
        )
    measured, ordered = (_value(row, value) for value in (row.measured, row.ordered))
    return (
        Step(
            f"{full_label(row)}: measured less ordered.",
            numbers=f"{measured} {MINUS} ({ordered})",
            result=(difference(row), f" {row.tolerance.unit.value}"),
        ),
    )


def limit_steps(row: Window) -> tuple[Step, ...]:
    """Where the limit of a row comes from."""
    if row.limit is None or row.ordered is None:
        return ()
    unit = row.tolerance.unit.value
    unit = unit if unit == "°" else f" {unit}"
    bands = " and ".join(_band_in_words(band) for band in row.tolerance.bands)
    concerns = f"for {bands}" if bands else "for every such lens"
    result = (limit(row), unit)
    rule = row.tolerance.limit
    if isinstance(rule, Percent):
        share = rule.value / 100
        base = shown(snapped(row.limit / share))
        what = f"{full_label(row)}: {concerns} the limit is a share of the ordered power."
        return (Step(what, numbers=f"{share:g} {TIMES} {base}", result=result),)
    if isinstance(rule, Linear):
        return (_linear_step(row, rule, row.limit, concerns, result),)
    return (Step(f"{full_label(row)}: the limit {concerns}.", result=result),)


def _linear_step(row: Window, rule: Linear, limit: float, concerns: str, result: Line) -> Step:
    power_along = (limit - rule.fixed) / rule.per_dioptre
    (base,) = enough_decimals(
        lambda base: rule.fixed + rule.per_dioptre * base, power_along, decimals=4, least=2
    )
    fixed = f"{rule.fixed:g} + " if rule.fixed else ""
    return Step(
        f"{full_label(row)}: {concerns} the limit grows with the {rule.of.value} power.",
        numbers=f"{fixed}{rule.per_dioptre:g} {TIMES} {base}",
        result=result,
    )


def either_steps(row: Check) -> tuple[Step, ...]:
    """Which of several limits decided, where one of them is enough."""
    if not row.others:
        return ()
    others = " and ".join(_other(other) for other in row.others)
    return (
        Step(
            f"{full_label(row)}: one of several limits is enough, and this one decides. "
            f"Beside it: {others}."
        ),
    )


def _other(row: Check) -> str:
    if row.difference is None or row.limit is None:
        return f"{label(row).lower()}, not measured"
    unit = row.tolerance.unit.value
    return (
        f"{label(row).lower()}, {row.verdict.value} ({_signed(row.difference)} {unit}, limit "
        f"±{limit_shown(row.tolerance, row.limit)} {unit})"
    )


def _band_in_words(band: Band) -> str:
    unit = Unit.PRISM_DIOPTRE if band.of in _PRISMS else Unit.DIOPTRE
    if band.upper == math.inf:
        return f"{band.of.value} over {shown(band.lower)} {unit.value}"
    over = "" if band.has_lower else "over "
    return f"{band.of.value} {over}{shown(band.lower)} to {shown(band.upper)} {unit.value}"


def stem(row: Window) -> str:
    """The stem of the names of a row's data, such as axis, meridian.90 or right.addition."""
    whose = f"{row.eye.value}." if row.eye else ""
    if row.quantity is not Quantity.MERIDIAN_POWER:
        return whose + row.quantity.name.lower()
    return f"{whose}meridian.{row.meridian:g}"


def label(row: Window) -> str:
    """What the row checks, for a reader who knows which eye it is about."""
    if row.quantity is Quantity.MERIDIAN_POWER:
        return f"Power along {axis(row.meridian or 180.0).shown}"
    return _LABELS.get(row.quantity, str(row.quantity.value).capitalize())


def full_label(row: Window) -> str:
    """What the row checks, and of which eye."""
    return f"{row.eye.value.capitalize()} eye, {in_sentence(row)}" if row.eye else label(row)


def in_sentence(row: Window, said: str = "") -> str:
    """The label, or what is `said`, inside a sentence: only abbreviations keep their capitals."""
    said = said or label(row)
    return said if said[:2].isupper() else said[0].lower() + said[1:]


def verdict(row: Check) -> Line:
    """The verdict; it says where its limit is quoted from memory."""
    said = word(row.verdict.value, f"{stem(row)}.verdict")
    return (said, ", from memory") if marked(row) else (said,)


def marked(row: Check) -> bool:
    """Whether the verdict of a row of a job rests on a figure from memory."""
    return row.verdict is not Verdict.NO_LIMIT and row.confidence.remembered


def written(row: Window, value: float | None, name: str, *, exact: bool = False) -> Datum | str:
    """A value of the row's quantity, or that there is none."""
    if value is None:
        return "none"
    named = f"{stem(row)}.{name}"
    if row.quantity is Quantity.AXIS:
        return axis(value, named)
    if row.tolerance.unit is Unit.DIOPTRE:
        return power(value, named, exact=exact)
    return Datum(named, snapped(value), _value(row, value))


def _value(row: Window, value: float) -> str:
    """A value of the row's quantity as it stands in a sum."""
    return write_exact(value) if row.tolerance.unit is Unit.DIOPTRE else shown(value)


def _signed(value: float) -> str:
    return shown(value, "+" if value > 0 else "")


def end(row: Window, end: str) -> Datum | str:
    """The lowest or highest value that passes."""
    value = row.lowest if end == "lowest" else row.highest
    if value is None:
        return "no limit"
    found = written(row, value, end, exact=True)
    if isinstance(found, str) or row.tolerance.unit is not Unit.DIOPTRE:
        return found
    return replace(found, shown=_gauge(row).edge(snapped(value)))


def difference(row: Check) -> Datum | str:
    """Measured less ordered, or that it cannot be taken."""
    if row.difference is None:
        return "none"
    named = f"{stem(row)}.difference"
    if row.quantity is Quantity.AXIS:
        return degrees(row.difference, named)
    if row.tolerance.unit is Unit.DIOPTRE:
        return power(row.difference, named, exact=True)
    return Datum(named, row.difference, _signed(row.difference))


def limit(row: Window) -> Datum | str:
    """The plus-or-minus limit, or that there is none."""
    if row.limit is None:
        return "no limit"
    return Datum(f"{stem(row)}.limit", row.limit, f"±{limit_shown(row.tolerance, row.limit)}")


def limit_shown(row: Row, limit: float) -> str:
    """The size of a limit.

    A power along a meridian between the principal ones has no end of decimals, and so has a limit
    that grows with it.
    """
    if row.unit is Unit.DEGREE:
        return f"{limit:g}"
    return shown(round(limit, 4) if isinstance(row.limit, Linear) else limit)


def table(row: Window) -> str:
    """Where the limit stands, and how far it was seen."""
    seen = row.confidence if isinstance(row, Check) else row.tolerance.confidence
    return f"{row.tolerance.clause} ({seen.value})"


# What goes with rows ------------------------------------------------------------------------------


def but_near(outside: Sequence[Check]) -> str:
    """What a verdict adds when every row that is outside lies within 0.01 D of its limit."""
    return ", but at the limit" if outside and all(row.near_limit for row in outside) else ""


def near_limit(row: Window) -> str:
    """The caution for a power within 0.01 D of its limit."""
    return (
        f"{full_label(row)}: the difference lies within 0.01 D of the limit. Limits are "
        "printed with two decimals, and some texts mean the eighth by 0.12. Read the lens "
        "again, and look in your own copy."
    )


def from_memory(standard: Standard) -> str:
    """The caution for limits that were not seen."""
    return (
        f"Some limits of {standard.designation} are quoted from memory (see the table). Check "
        "them in your own copy before you decide on them."
    )


def sources(standard: Standard, rows: Sequence[Window]) -> tuple[str, ...]:
    """The texts that the rows come from, the standard first."""
    seen = (key for row in rows for key in row.tolerance.sources)
    return tuple(dict.fromkeys((standard.key, *seen)))


def gauges(
    rows: Sequence[Window], name: str = "verification-window", *, mark: bool = False
) -> Figure:
    """The rows as a picture; a row without an ordered value has no gauge.

    `mark` marks verdicts that rest on a figure from memory.
    """
    return pass_window(
        name,
        [
            replace(_gauge(row), remembered=mark and isinstance(row, Check) and marked(row))
            for row in rows
            if row.ordered is not None
        ],
    )


def _gauge(row: Window) -> Gauge:
    return Gauge(
        f"{row.eye.value[0].upper()}: {in_sentence(row)}" if row.eye else label(row),
        row.tolerance.unit.value,
        row.lowest,
        row.ordered or 0.0,
        row.highest,
        getattr(row, "measured", None),
        _inside(row),
    )


def _inside(row: Window) -> bool | None:
    if not isinstance(row, Check) or row.measured is None or row.limit is None:
        return None
    return row.verdict is Verdict.INSIDE
