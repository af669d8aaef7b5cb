"""The tables of the pocket card: the limits of both standards in as few words as possible."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from lensmath.tolerances import find_standard
from lensmath.tolerances.model import Governing, LensType, Powers, Quantity
from site_src.calculators.answer import Table, plain
from site_src.tables.cells import Column, limit_words, limits_table, pair_words, shown, stretches
from site_src.tables.standards import ANSI, HORIZONTAL, MOUNTED, VERTICAL, axes

_NO_PRISM = {Governing.HORIZONTAL_PRISM: 0.0, Governing.VERTICAL_PRISM: 0.0}
_STRONGER = (Governing.STRONGER_MERIDIAN,)
_SINGLE, _MULTIFOCAL, _PROGRESSIVE = LensType
_FAMILIES = {_SINGLE: "Single vision, segments", _PROGRESSIVE: "Progressive"}
_HEAD = ("Ordered, D", "SV, MF", "Prog.")
_BEYOND = 100.0  # D; above every edge of a band

_PLACES = {
    "Height, segment or cross": (
        (Quantity.SEGMENT_HEIGHT, _MULTIFOCAL),
        (Quantity.FITTING_POINT_HEIGHT, _PROGRESSIVE),
    ),
    "Heights, right less left": (
        (Quantity.SEGMENT_HEIGHT_DIFFERENCE, _MULTIFOCAL),
        (Quantity.FITTING_POINT_HEIGHT_DIFFERENCE, _PROGRESSIVE),
    ),
    "Near PD of segments": ((Quantity.SEGMENT_SEPARATION, _MULTIFOCAL),),
    "Monocular PD of cross": ((Quantity.FITTING_POINT_DISTANCE, _PROGRESSIVE),),
    "Tilt, segment or marks": (
        (Quantity.SEGMENT_TILT, _MULTIFOCAL),
        (Quantity.MARKS_TILT, _PROGRESSIVE),
    ),
    "Centre thickness": ((Quantity.CENTRE_THICKNESS, _SINGLE),),
    "Base curve, if ordered": ((Quantity.BASE_CURVE, _SINGLE),),
    "Warpage": ((Quantity.WARPAGE, _SINGLE),),
}


def ansi_powers() -> Table:
    """Power, cylinder and addition in ANSI Z80.1, for both families of lenses."""
    rows = (
        *_by_kind(ANSI, "Power", Quantity.MERIDIAN_POWER, Governing.SPHERE_MERIDIAN),
        *_by_kind(ANSI, "Cyl.", Quantity.CYLINDER, Governing.CYLINDER),
    )
    return _card("Sphere in minus form; cylinder", _HEAD, rows)


def iso_powers(lens_type: str) -> Table:
    """Power and cylinder in ISO 21987, by the stronger meridian."""
    standard, kind = find_standard(MOUNTED), LensType(lens_type)
    powers = Column(standard, (Quantity.MERIDIAN_POWER,), kind)
    cylinder = Column(standard, (Quantity.CYLINDER,), kind)
    uppers = [edge for edge in sorted(cylinder.edges((Governing.CYLINDER,))) if edge < _BEYOND]
    columns = [
        powers,
        *(cylinder._replace(fixed={Governing.CYLINDER: edge}) for edge in (*uppers, _BEYOND)),
    ]
    return _card(
        f"{_FAMILIES[kind]}: power, cylinder",
        ("Stronger", "Power", *(f"≤{shown(edge)}" for edge in uppers), f">{shown(uppers[-1])}"),
        (
            (stretch.short, *(limit_words(row, unit=False) for row in stretch.rows))
            for stretch in stretches(columns, _STRONGER)
        ),
    )


def axis_and_addition() -> Table:
    """The axis by the cylinder, and the addition, in both standards."""
    additions = stretches(_both((Quantity.ADDITION,), _MULTIFOCAL), (Governing.ADDITION,))
    return _card(
        "Axis by the cylinder, addition",
        ("Cylinder", "ANSI", "ISO"),
        (
            *([plain(line) for line in row] for row in axes(ANSI, MOUNTED).rows),
            *(
                (f"Add {each.short}", *(limit_words(row, unit=False) for row in each.rows))
                for each in additions
            ),
        ),
    )


def pair_and_places() -> Table:
    """What belongs to a mounted pair, in both standards, without ordered prism."""
    rows = (
        *_imbalance("Vertical", VERTICAL, Governing.VERTICAL_MERIDIAN),
        *_imbalance("Horizontal", HORIZONTAL, Governing.HORIZONTAL_MERIDIAN),
        *(
            (name, *(_joined(key, asked) for key in (ANSI, MOUNTED)))
            for name, asked in _PLACES.items()
        ),
    )
    return _card(
        "Imbalance by the power in its meridian; ISO: of 2009",
        ("Checked", *(find_standard(key).designation.split(":")[0] for key in (ANSI, MOUNTED))),
        rows,
    )


def _by_kind(key: str, name: str, quantity: Quantity, by: Governing) -> Iterator[tuple[str, ...]]:
    columns = [Column(find_standard(key), (quantity,), kind) for kind in (_SINGLE, _PROGRESSIVE)]
    for stretch in stretches(columns, (by,)):
        yield f"{name} {stretch.short}", *(limit_words(row, unit=False) for row in stretch.rows)


def _imbalance(
    name: str, quantities: tuple[Quantity, ...], meridian: Governing
) -> Iterator[tuple[str, ...]]:
    for stretch in stretches(_both(quantities, _SINGLE, _NO_PRISM), (meridian,)):
        yield f"{name} {stretch.short}", *(pair_words(row) for row in stretch.rows)


def _joined(key: str, asked: Iterable[tuple[Quantity, LensType]]) -> str:
    """The limits of several quantities, said once where they are alike; the last has the unit."""
    columns = (Column(find_standard(key), (quantity,), kind) for quantity, kind in asked)
    *others, last = {limit_words(row): row for row in (each.row({}) for each in columns)}.values()
    return " / ".join((*(limit_words(row, unit=False) for row in others), limit_words(last)))


def _both(
    quantities: tuple[Quantity, ...], kind: LensType, fixed: Powers | None = None
) -> list[Column]:
    return [Column(find_standard(key), quantities, kind, fixed or {}) for key in (ANSI, MOUNTED)]


def _card(caption: str, head: tuple[str, ...], rows: Iterable[Sequence[str]]) -> Table:
    return limits_table(caption, head, rows, kind="grid small", explain=False)
