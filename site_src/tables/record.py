"""The inspection record of one pair: the blank form, and the same form filled with an invented job.

The pair is judged by `lensmath`: only the order and the readings are typed here.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from lensmath.eye import Eye
from lensmath.inspection import Check, Report
from lensmath.job import MeasuredLens, OrderedLens, Spectacles
from lensmath.notation import write_axis, write_exact, write_lens, write_power
from lensmath.pair_inspection import inspect_pair
from lensmath.power import LensPower
from lensmath.prism import Component, Prism
from lensmath.tolerances import find_standard
from lensmath.tolerances.model import LensType, Quantity, Unit
from site_src.calculators.answer import Line, Table
from site_src.tables.cells import NONE, written_limit
from site_src.tables.standards import ANSI

_STEPS = ("Ordered", "Read", "Off by", "Limit", "Inside?")
_LENS = (
    "sphere",
    "cylinder",
    "axis",
    "power across the axis",
    "addition",
    "prism in, out",
    "prism up, down",
)
_PAIR = (
    "PD",
    "Monocular PD, R / L",
    "Near PD",
    "Height, R",
    "Height, L",
    "Heights, R less L",
    "Imbalance, R less L, up +",
    "Imbalance, together, in +",
    "Tilt of segment or marks, R / L",
    "Height of the PRP, R / L",
    "Base curve, R / L",
    "Centre thickness, R / L",
)
_BLANK = ("",) * len(_STEPS)
_NOT_READ = (NONE,) * len(_STEPS)

_ORDERED = Spectacles(
    OrderedLens(LensPower(-2.00, -0.75, 5), addition=2.00, segment_height=17.0),
    OrderedLens(LensPower(-2.25, -1.25, 172), addition=2.00, segment_height=17.0),
    pd=63.0,
    near_pd=60.0,
)
_READ = Spectacles(
    MeasuredLens(
        power=LensPower(-2.125, -0.75, 8),
        addition=2.00,
        prism=Prism(0, 0),
        segment_height=17.0,
        segment_tilt=1.0,
    ),
    MeasuredLens(
        power=LensPower(-2.25, -1.125, 168),
        addition=2.00,
        prism=Prism(-0.25, 0.25),
        segment_height=17.5,
        segment_tilt=0.0,
    ),
    pd=64.0,
    near_pd=61.0,
)


@cache
def report() -> Report:
    """The verdict on the invented pair, by ANSI Z80.1-2015."""
    return inspect_pair(_ORDERED, _READ, find_standard(ANSI), LensType.MULTIFOCAL)


def verdict() -> str:
    """The verdict in words, with the row that it rests on."""
    found = report()
    eye = f"{found.worst.eye.value} " if found.worst.eye else ""
    return f"{found.verdict.value}, by the {eye}{found.worst.quantity.value}"


def lenses(*, filled: bool = False) -> Table:
    """Power, addition and prism of both lenses, blank or filled."""
    names = [f"{eye.value[0].upper()} {name}" for eye in Eye for name in _LENS]
    entries = [entry for eye in Eye for entry in _of_lens(eye)] if filled else None
    return _form("Each lens, in minus cylinder", names, entries)


def pair(*, filled: bool = False) -> Table:
    """What is measured in the frame, blank or filled."""
    return _form("The pair in its frame", _PAIR, _of_pair() if filled else None)


def orders() -> str:
    """Both lenses as they were ordered."""
    return "; ".join(
        f"{eye.value} {write_lens(lens.power)} add {write_power(lens.addition or 0.0)}"
        for eye, lens in ((eye, _ORDERED.of(eye)) for eye in Eye)
    )


def _of_lens(eye: Eye) -> list[tuple[str, ...]]:
    ordered, read = _ORDERED.of(eye).power, _READ.of(eye).power or LensPower(0)
    across = [_written(lens.sphere + lens.cylinder, Unit.DIOPTRE) for lens in (ordered, read)]
    prism = _READ.of(eye).prism or Prism(0, 0)
    parts = (_component(prism.horizontal(eye)), _component(prism.vertical))
    return [
        _judged(Quantity.MERIDIAN_POWER, eye),
        _judged(Quantity.CYLINDER, eye),
        _judged(Quantity.AXIS, eye),
        (*across, NONE, NONE, NONE),
        _judged(Quantity.ADDITION, eye),
        *((NONE, part, NONE, "pair", NONE) for part in parts),
    ]


def _of_pair() -> list[tuple[str, ...]]:
    apart = [_written(distance or 0.0, Unit.MILLIMETRE) for distance in (_ORDERED.pd, _READ.pd)]
    return [
        (*apart, NONE, "by prism", NONE),
        _NOT_READ,
        _judged(Quantity.SEGMENT_SEPARATION),
        *(_judged(Quantity.SEGMENT_HEIGHT, eye) for eye in Eye),
        _judged(Quantity.SEGMENT_HEIGHT_DIFFERENCE),
        _judged(Quantity.VERTICAL_IMBALANCE),
        _judged(Quantity.HORIZONTAL_IMBALANCE),
        _of_both(Quantity.SEGMENT_TILT),
        *([_NOT_READ] * 3),
    ]


def _judged(quantity: Quantity, eye: Eye | None = None) -> tuple[str, ...]:
    """The row of the report for this quantity, from the order to the verdict."""
    row = next(row for row in report().rows if row.quantity is quantity and row.eye is eye)
    return (
        _value(row, row.ordered),
        _value(row, row.measured),
        _difference(row),
        written_limit(row.tolerance, row.limit),
        row.verdict.value,
    )


def _of_both(quantity: Quantity) -> tuple[str, ...]:
    """The rows of both eyes as one: what differs stands as right / left."""
    cells = zip(*(_judged(quantity, eye) for eye in Eye), strict=True)
    return tuple(right if right == left else f"{right} / {left}" for right, left in cells)


def _value(row: Check, value: float | None) -> str:
    if row.quantity is Quantity.AXIS:
        return write_axis(value)
    return NONE if value is None else _written(value, row.tolerance.unit)


def _difference(row: Check) -> str:
    """An eighth whole: cut short it would look like a limit that it is beyond."""
    if row.difference is not None and row.tolerance.unit is Unit.DIOPTRE:
        return write_exact(row.difference)
    return NONE if row.difference is None else _written(row.difference, row.tolerance.unit)


def _written(value: float, unit: Unit) -> str:
    """A value as it is written by hand: a power with its sign, a distance with one decimal."""
    if unit is Unit.DIOPTRE:
        return write_power(value)
    if unit is Unit.DEGREE:
        return f"{value:g}°"
    decimals = 1 if unit is Unit.MILLIMETRE else 2
    return f"{value:.{decimals}f}".replace("-", "\N{MINUS SIGN}")


def _component(part: Component) -> str:
    return f"{part.amount:.2f} {part.base.letters}" if part.base else "0"


def _form(caption: str, names: Sequence[str], entries: Sequence[Sequence[str]] | None) -> Table:
    rows = [_BLANK] * len(names) if entries is None else entries
    lines = (
        tuple(_line(cell) for cell in (name, *entry))
        for name, entry in zip(names, rows, strict=True)
    )
    return Table(caption, ("Checked", *_STEPS), tuple(lines), "grid form")


def _line(cell: str) -> Line:
    return (cell,) if cell else ()
