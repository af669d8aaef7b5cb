"""What one row of a pass window or an inspection says: its values, its sums, its gauge."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lensmath.inspection import Check, Verdict, Window
from lensmath.notation import MINUS, TIMES, write_exact
from lensmath.power import snapped
from lensmath.scale import shown
from lensmath.tolerances.model import Band, Percent, Quantity
from site_src.calculators.answer import Datum, Step, axis, degrees, power
from site_src.figures.pass_window import Gauge, pass_window
from site_src.figures.svg import Figure


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
                "Axis: the smaller angle between the two axes."
                + (" They lie on either side of 180." if across else ""),
                numbers=f"180 {MINUS} ({apart})" if across else apart,
                result=(difference(row), "°"),
            ),
        )
    return (
        Step(
            f"{label(row)}: measured less ordered.",
            numbers=f"{write_exact(row.measured)} {MINUS} ({write_exact(row.ordered)})",
            result=(difference(row), " D"),
        ),
    )


def limit_steps(row: Window) -> tuple[Step, ...]:
    """Where the limit of a row comes from."""
    if row.limit is None or row.ordered is None:
        return ()
    unit = row.tolerance.unit.value
    unit = unit if unit == "°" else f" {unit}"
    bands = " and ".join(_band_in_words(band) for band in row.tolerance.bands)
    if isinstance(row.tolerance.limit, Percent):
        share = row.tolerance.limit.value / 100
        base = snapped(row.limit / share)
        return (
            Step(
                f"{label(row)}: for {bands} the limit is a share of the ordered power.",
                numbers=f"{share:g} {TIMES} {shown(base)}",
                result=(limit(row), unit),
            ),
        )
    return (Step(f"{label(row)}: the limit for {bands}.", result=(limit(row), unit)),)


def _band_in_words(band: Band) -> str:
    if band.upper == math.inf:
        return f"{band.of.value} over {band.lower:.2f} D"
    over = "" if band.has_lower else "over "
    return f"{band.of.value} {over}{band.lower:.2f} to {band.upper:.2f} D"


def stem(row: Window) -> str:
    """The stem of the names of a row's data, such as axis or meridian.90."""
    if row.quantity is not Quantity.MERIDIAN_POWER:
        return str(row.quantity.value)
    return f"meridian.{row.meridian:g}"


def label(row: Window) -> str:
    """What the row checks, for a reader."""
    if row.quantity is Quantity.MERIDIAN_POWER:
        return f"Power along {axis(row.meridian or 180.0).shown}"
    return str(row.quantity.value).capitalize()


def written(row: Window, value: float | None, name: str, *, exact: bool = False) -> Datum | str:
    """A value of the row's quantity, or that there is none."""
    if value is None:
        return "none"
    named = f"{stem(row)}.{name}"
    return axis(value, named) if row.quantity is Quantity.AXIS else power(value, named, exact=exact)


def end(row: Window, end: str) -> Datum | str:
    """The lowest or highest value that passes."""
    value = row.lowest if end == "lowest" else row.highest
    return "no limit" if value is None else written(row, value, end, exact=True)


def difference(row: Check) -> Datum | str:
    """Measured less ordered, or that it cannot be taken."""
    if row.difference is None:
        return "none"
    named = f"{stem(row)}.difference"
    if row.quantity is Quantity.AXIS:
        return degrees(row.difference, named)
    return power(row.difference, named, exact=True)


def limit(row: Window) -> Datum | str:
    """The plus-or-minus limit, or that there is none."""
    if row.limit is None:
        return "no limit"
    named = f"{stem(row)}.limit"
    written = f"{row.limit:g}" if row.quantity is Quantity.AXIS else shown(row.limit)
    return Datum(named, row.limit, f"±{written}")


def table(row: Window) -> str:
    """Where the limit stands, and how far it was seen."""
    return f"{row.tolerance.clause} ({row.tolerance.confidence.value})"


def gauges(rows: Sequence[Window]) -> Figure:
    """The rows as a picture; a row without an ordered value has no gauge."""
    return pass_window(
        "verification-window",
        [
            Gauge(
                label(row),
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
