"""How sure one hand reading is, and what it can decide against a limit."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from lensmath.conformity import zone_edges
from lensmath.instrument import AXIS_MARKER, VERTEX_POWER
from lensmath.power import LensPower, snapped
from lensmath.target import View
from lensmath.tolerances import find_standard
from lensmath.tolerances.model import Quantity
from lensmath.uncertainty import (
    Budget,
    Cause,
    Component,
    ReadTo,
    Spread,
    difference,
    from_instrument,
    from_reader,
    from_scale,
    rectangular,
)
from lensmath.uncertainty import spread as spread_of
from site_src.calculators.answer import Table
from site_src.tables.cells import amount_words
from site_src.tables.rules import judged_row
from site_src.tables.standards import ANSI, MOUNTED

_WEAK, _STRONG = LensPower(-2.00, -0.75, 90), LensPower(-2.00, -2.00, 90)
_AXES = (
    ("Axis of 0.75, set once", _WEAK, 1.0, 1),
    ("Axis of 0.75, mean of 4", _WEAK, 1.0, 4),
    ("Axis of 2.00, set once", _STRONG, 1.0, 1),
    ("Axis of 2.00, mean of 4", _STRONG, 1.0, 4),
    ("The same, wheel in 5°", _STRONG, 5.0, 4),
)  # the name, the lens, the marks of the wheel in degrees, and how often it is set
_NEAR_ZERO, _BEYOND = 0.125, 0.25  # D; the marks of the drum (from memory)


class _Asked(NamedTuple):
    """A quantity of one lens, and how it is read."""

    name: str
    key: str
    ordered: LensPower
    quantity: Quantity
    reading: Budget


def one_reading(step: float, power: float, read_to: ReadTo = ReadTo.MARK) -> Budget:
    """A reading of the drum at `power` between marks `step` apart, both in dioptres."""
    return Budget((from_scale(step, read_to), from_instrument(VERTEX_POWER.at(power).limit)))


def wheel_reading(step: float, cylinder: float) -> Budget:
    """A reading of the axis wheel, with marks so many degrees apart, for a cylinder in dioptres.

    The setting is as likely anywhere within the play in which the lines still look sharp, and is
    counted as the reader's: it is new at each setting.
    """
    play = View(LensPower(0, -abs(cylinder), 90), drum=0).wheel_play()
    return Budget(
        (
            Component(Cause.READER, rectangular(play)),
            from_scale(step),
            from_instrument(AXIS_MARKER.at(0).limit),
        )
    )


def axis_reading(step: float, cylinder: float, settings: int) -> Budget:
    """The mean of so many settings of the wheel."""
    return wheel_reading(step, cylinder).of_mean(settings)


def with_reader(reading: Budget, *repeated: float) -> Budget:
    """The reading with the spread of its reader, from repeated readings of one lens."""
    return Budget((*reading.components, from_reader(scatter(*repeated))))


def scatter(*repeated: float) -> Spread:
    """The spread of repeated readings of one lens, and its degrees of freedom."""
    return spread_of(repeated)


def budgets() -> Table:
    """The doubt about one reading of the drum: by where it stands and how finely it is read."""
    rows = []
    for step, power in ((_NEAR_ZERO, 2.0), (_BEYOND, 4.0), (_BEYOND, 8.0)):
        for habit, parts in ((ReadTo.MARK, 1), (ReadTo.HALF_MARK, 2)):
            reading = one_reading(step, power, habit)
            shares = (*(each.standard for each in reading.components), reading.combined)
            read = f"at {power:.0f} D, to {step / parts:g}"
            rows.append((read, *(f"{each:.3f}" for each in shares), f"{reading.expanded:.2f}"))
    return _table(
        "One reading: where on the scale, and to what it is read; all in dioptres",
        ("Read", "Marks", "Instrument", "Together", "U"),
        rows,
    )


def decides() -> Table:
    """From where to where one hand reading decides, for the limits of weak lenses."""
    drum = one_reading(_NEAR_ZERO, 2.0)
    travel = difference(drum, drum)
    asked = (
        _Asked("Power", ANSI, _WEAK, Quantity.MERIDIAN_POWER, drum),
        _Asked("Power", MOUNTED, _WEAK, Quantity.MERIDIAN_POWER, drum),
        _Asked("Cylinder", ANSI, _WEAK, Quantity.CYLINDER, travel),
        _Asked("Cylinder", MOUNTED, _WEAK, Quantity.CYLINDER, travel),
        *(
            _Asked(name, ANSI, lens, Quantity.AXIS, axis_reading(step, lens.cylinder, settings))
            for name, lens, step, settings in _AXES
        ),
    )
    return _table(
        "What a reading decides, by the difference from the order; the wheel has a mark a degree",
        ("Read", "Limit", "Settled inside", "Settled outside"),
        [_decided(each) for each in asked],
    )


def _decided(asked: _Asked) -> tuple[str, ...]:
    row, powers = judged_row(asked.key, asked.quantity, asked.ordered)
    limit = row.limit_at(powers) or 0.0
    edges = zone_edges(limit, asked.reading.combined)
    unit, decimals = ("°", 1) if asked.quantity is Quantity.AXIS else (" D", 2)
    inside = _towards(edges.inside or 0.0, decimals, math.floor)
    outside = _towards(edges.outside, decimals, math.ceil)
    edition = find_standard(asked.key).designation.split()[0]
    return (
        f"{asked.name}, {edition}",
        amount_words(row, powers),
        "never" if edges.inside is None else f"to {inside}{unit}",
        f"from {outside}{unit}",
    )


def _towards(edge: float, decimals: int, to_whole: Callable[[float], int]) -> str:
    """An edge with so many decimals, moved only where what is said of it stays true."""
    tens = 10**decimals
    return f"{to_whole(snapped(edge * tens)) / tens:.{decimals}f}"


def _table(caption: str, head: Sequence[str], rows: Sequence[Sequence[str]]) -> Table:
    cells = tuple(tuple((cell,) for cell in row) for row in rows)
    return Table(caption, tuple(head), cells, kind="grid")
