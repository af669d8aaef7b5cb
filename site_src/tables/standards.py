"""What the standards say, side by side: one table for each thing that is checked."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby

from lensmath.job import OrderedLens
from lensmath.lens_inspection import order_of
from lensmath.notation import write_lens, write_power
from lensmath.power import LensPower
from lensmath.tolerances import STANDARDS, find_standard
from lensmath.tolerances.model import (
    Governing,
    LensState,
    LensType,
    Quantity,
    Row,
)
from site_src.calculators.answer import Table
from site_src.tables.cells import (
    NONE,
    Column,
    Stretch,
    amount_words,
    limit_words,
    limits_table,
    mark_of,
    pair_words,
    shown,
    stretches,
)

ANSI, MOUNTED, UNCUT, UNCUT_PROGRESSIVE = STANDARDS

_BOTH = (ANSI, MOUNTED)
_SINGLE, _MULTIFOCAL, _PROGRESSIVE = LensType
_EITHER_MERIDIAN = (Governing.SPHERE_MERIDIAN, Governing.STRONGER_MERIDIAN)
_NO_PRISM = {Governing.HORIZONTAL_PRISM: 0.0, Governing.VERTICAL_PRISM: 0.0}

OF_IMBALANCE = (find_standard(ANSI).designation, "ISO 21987:2009")
"""The columns of an imbalance table: what is remembered of ISO is its 2009 edition."""

VERTICAL = (Quantity.VERTICAL_IMBALANCE, Quantity.PRP_HEIGHT_DIFFERENCE)
HORIZONTAL = (Quantity.HORIZONTAL_IMBALANCE, Quantity.PRP_SEPARATION, Quantity.PRP_DISTANCE)

_OF_ONE_JOB: Mapping[str, tuple[Quantity, ...]] = {
    "Power": (Quantity.MERIDIAN_POWER,),
    "Cylinder": (Quantity.CYLINDER,),
    "Axis": (Quantity.AXIS,),
    "Addition": (Quantity.ADDITION,),
    "Vertical imbalance, ISO of 2009": VERTICAL,
    "Horizontal imbalance, ISO of 2009": HORIZONTAL,
    "Segment height": (Quantity.SEGMENT_HEIGHT,),
    "Segment heights, right less left": (Quantity.SEGMENT_HEIGHT_DIFFERENCE,),
    "Distance between the segments": (Quantity.SEGMENT_SEPARATION,),
    "Segment tilt": (Quantity.SEGMENT_TILT,),
    "Centre thickness": (Quantity.CENTRE_THICKNESS,),
    "Base curve, if ordered": (Quantity.BASE_CURVE,),
    "Warpage": (Quantity.WARPAGE,),
}
_SEGMENTS = (
    Quantity.SEGMENT_HEIGHT,
    Quantity.SEGMENT_HEIGHT_DIFFERENCE,
    Quantity.SEGMENT_SEPARATION,
    Quantity.SEGMENT_TILT,
    Quantity.SEGMENT_WIDTH,
    Quantity.SEGMENT_WIDTH_DIFFERENCE,
)
_FITTING_POINTS = (
    Quantity.FITTING_POINT_HEIGHT,
    Quantity.FITTING_POINT_HEIGHT_DIFFERENCE,
    Quantity.FITTING_POINT_DISTANCE,
    Quantity.MARKS_TILT,
)
_STATED: Mapping[str, tuple[Quantity, ...]] = {
    "Power": (Quantity.MERIDIAN_POWER,),
    "Cylinder": (Quantity.CYLINDER,),
    "Axis": (Quantity.AXIS,),
    "Addition": (Quantity.ADDITION,),
    "Prism, one lens": (Quantity.PRISM_ERROR, Quantity.PRP_DISPLACEMENT),
    "Prism, pair": (*VERTICAL, *HORIZONTAL),
    "Segments": _SEGMENTS,
    "Fitting points": _FITTING_POINTS,
    "Thickness": (Quantity.CENTRE_THICKNESS,),
    "Curve and warp": (Quantity.BASE_CURVE, Quantity.WARPAGE),
}


def one_job(ordered: LensPower, addition: float) -> Table:
    """All limits of a mounted multifocal pair with this lens before both eyes, in both standards.

    Units   `addition` in dioptres.
    """
    powers = order_of(OrderedLens(ordered, addition=addition))
    return limits_table(
        f"A mounted pair of {write_lens(ordered)} add {write_power(addition)}, with segments",
        ("Checked", *_names(_BOTH)),
        (
            (
                name,
                *(
                    amount_words(column.row(powers), powers)
                    for column in _columns(_BOTH, quantities, _MULTIFOCAL)
                ),
            )
            for name, quantities in _OF_ONE_JOB.items()
        ),
    )


def meridian_powers(lens_type: str) -> Table:
    """The limit of the power along a meridian, by the ordered power; `lens_type` in words."""
    columns = _columns(_BOTH, (Quantity.MERIDIAN_POWER,), LensType(lens_type))
    return limits_table(
        f"Power along a meridian, {lens_type}: limit in dioptres by the ordered power",
        ("Ordered power", *_names(_BOTH)),
        _by_band(stretches(columns, _EITHER_MERIDIAN)),
    )


def cylinders(lens_type: str, strongest: float = 12.0) -> Table:
    """The limit of the cylinder by the cylinder; in ISO the stronger meridian counts too.

    Units   Lenses are covered up to the power `strongest`, in dioptres.
    """
    ansi, iso = _columns(_BOTH, (Quantity.CYLINDER,), LensType(lens_type))
    uppers = [edge for edge in sorted(iso.edges(_EITHER_MERIDIAN)) if edge <= strongest]
    split = [iso._replace(fixed={Governing.STRONGER_MERIDIAN: upper}) for upper in uppers]
    return limits_table(
        f"Cylinder, {lens_type}: limit in dioptres by the ordered cylinder, and in "
        f"{find_standard(MOUNTED).designation} by the stronger meridian",
        ("Cylinder", "ANSI", *(f"ISO, lens to {shown(upper)}" for upper in uppers)),
        _by_band(stretches((ansi, *split), (Governing.CYLINDER,))),
    )


def axes(*keys: str) -> Table:
    """The axis limit by the cylinder as it is written in eighths, so that no band has an "over"."""
    columns = _columns(keys or (ANSI, MOUNTED, UNCUT), (Quantity.AXIS,), _SINGLE)
    eighths = [count / 8 for count in range(1, 25)]
    limits = {
        cylinder: tuple(
            limit_words(column.row({Governing.CYLINDER: cylinder})) for column in columns
        )
        for cylinder in eighths
    }
    groups = [(words, list(group)) for words, group in groupby(eighths, key=limits.__getitem__)]
    return limits_table(
        "Axis limit, by the ordered cylinder",
        ("Cylinder", *_names(column.standard.key for column in columns)),
        (
            (_eighths_in_words(group, open_ended=group[-1] == eighths[-1]), *words)
            for words, group in groups
        ),
    )


def additions() -> Table:
    """The limit of the addition, by the ordered addition."""
    columns = _columns(_BOTH, (Quantity.ADDITION,), _MULTIFOCAL)
    return limits_table(
        "Addition: limit in dioptres by the ordered addition",
        ("Addition", *_names(_BOTH)),
        _by_band(stretches(columns, (Governing.ADDITION,))),
    )


def imbalances(lens_type: str) -> Table:
    """The limits of a mounted pair without ordered prism, by the power in the meridian."""
    ways = (
        ("Vertical", VERTICAL, Governing.VERTICAL_MERIDIAN),
        ("Horizontal", HORIZONTAL, Governing.HORIZONTAL_MERIDIAN),
    )
    rows: list[tuple[str, ...]] = []
    for name, quantities, meridian in ways:
        found = stretches(_columns(_BOTH, quantities, LensType(lens_type)), (meridian,))
        rows += [(f"{name}, {each.words}", *map(pair_words, each.rows)) for each in found]
    return limits_table(
        f"A pair, {lens_type}, no prism ordered: by the power in that meridian, in dioptres",
        ("Power", *OF_IMBALANCE),
        rows,
    )


def prism_of_one_lens() -> Table:
    """The prism limits of an uncut lens in ISO, by the ordered prism, each part by itself."""
    parts = (Quantity.HORIZONTAL_PRISM, Quantity.VERTICAL_PRISM)
    columns = [Column(find_standard(UNCUT), (part,), _SINGLE) for part in parts]
    by = (Governing.HORIZONTAL_PRISM, Governing.VERTICAL_PRISM)
    return limits_table(
        f"One uncut lens by {find_standard(UNCUT).designation}: the prism at its reference point",
        ("Ordered prism, Δ", "Horizontal", "Vertical"),
        _by_band(stretches(columns, by), unit=True),
    )


def segments() -> Table:
    """The limits of the place and size of segments."""
    return _constant("Segments", _SEGMENTS, _MULTIFOCAL)


def fitting_points() -> Table:
    """The limits of the place of the fitting point of progressive lenses."""
    return _constant("Progressive lenses", _FITTING_POINTS, _PROGRESSIVE)


def forms() -> Table:
    """The limits of thickness, base curve and warpage."""
    form = (Quantity.CENTRE_THICKNESS, Quantity.BASE_CURVE, Quantity.WARPAGE)
    return _constant("The form of a lens", form, _SINGLE)


def scopes() -> Table:
    """Which standard holds the limits of which lens in which state."""
    rows = []
    for state in (LensState.UNCUT, LensState.MOUNTED):
        held = {kind: (_held(kind, state, "ANSI"), _held(kind, state, "ISO")) for kind in LensType}
        for names, group in groupby(LensType, key=held.__getitem__):
            kinds = [kind.value for kind in group]
            which = "any kind" if len(kinds) == len(LensType) else " or ".join(kinds)
            rows.append((f"{state.value}, {which}", *names))
    return limits_table("Which list a lens is held to", ("Lens", "Under ANSI", "Under ISO"), rows)


def where_it_stands(key: str) -> Table:
    """The clause of each limit in one standard, and how far its figure was seen."""
    standard = find_standard(key)

    def found(quantities: Iterable[Quantity]) -> list[Row]:
        return [row for row in standard.rows if row.quantity in quantities]

    return limits_table(
        f"{standard.designation}: where a limit stands, and how it is known",
        ("Limit", "Place", "Seen"),
        (
            (
                name,
                "; ".join(dict.fromkeys(row.clause for row in found(quantities))),
                "; ".join(dict.fromkeys(_seen(row) for row in found(quantities))),
            )
            for name, quantities in _STATED.items()
            if found(quantities)
        ),
    )


def _seen(row: Row) -> str:
    """How a figure was seen; memory is named, so its own mark is left out."""
    return f"{row.confidence.value}{'' if row.confidence.remembered else mark_of(row)}"


def _held(kind: LensType, state: LensState, body: str) -> str:
    found = (
        standard.designation
        for standard in STANDARDS.values()
        if standard.designation.startswith(body)
        and kind in standard.lens_types
        and state in standard.lens_states
    )
    return ", ".join(found) or NONE


def _columns(keys: Iterable[str], quantities: tuple[Quantity, ...], kind: LensType) -> list[Column]:
    return [Column(find_standard(key), quantities, kind, _NO_PRISM) for key in keys]


def _names(keys: Iterable[str]) -> tuple[str, ...]:
    return tuple(find_standard(key).designation for key in keys)


def _by_band(found: Iterable[Stretch], *, unit: bool = False) -> Iterable[tuple[str, ...]]:
    for stretch in found:
        yield stretch.words, *(limit_words(row, unit=unit) for row in stretch.rows)


def _constant(name: str, quantities: Iterable[Quantity], kind: LensType) -> Table:
    """Limits that hang on nothing; a quantity that no standard has is left out."""
    rows = (
        (capital(quantity), *(limit_words(column.row({})) for column in columns))
        for quantity in quantities
        for columns in [_columns(_BOTH, (quantity,), kind)]
    )
    return limits_table(name, ("Checked", *_names(_BOTH)), rows)


def capital(quantity: Quantity) -> str:
    """The name of a quantity as the first words of a row."""
    return quantity.value[0].upper() + quantity.value[1:]


def _eighths_in_words(group: Sequence[float], *, open_ended: bool) -> str:
    first, last = (write_power(group[end]).lstrip("+") for end in (0, -1))
    if open_ended:
        return f"{first} and more"
    return first if first == last else f"{first} to {last}"
