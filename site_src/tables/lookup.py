"""Tables of the look-up stage that go by power: marks, forms, vertex distance, prism, bases.

Every figure comes from the function that the calculators use. Powers in dioptres, lengths in
millimetres, prism in prism dioptres.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from lensmath.centration import Point
from lensmath.decentration import AtPoint, decentration_for, prism_by_decentration
from lensmath.eye import Eye
from lensmath.notation import (
    MINUS,
    is_cut,
    read_prescription,
    write_axis,
    write_exact,
    write_lens,
    write_power,
)
from lensmath.power import LensPower, rounded_to, standard_axis
from lensmath.prism import Base, Prism
from lensmath.scale import HAND_SCALE
from lensmath.vertex import vertex_table
from site_src.calculators.answer import Table
from site_src.figures.number_line import FRACTIONS

PUBLISHED_LENSES = (
    "+2.50 -1.50 x 170",
    "+1.75 -3.25 x 40",
    "+1.50 -0.50 x 125",
    "+0.25 -1.00 x 2",
    "plano -0.50 x 58",
    "plano -1.00 x 170",
    "plano -2.00 x 70",
    "+0.50 -2.00 x 30",
    "+2.00 -1.00 x 180",
    "+3.00 -2.00 x 25",
    "-1.00 -0.50 x 37",
    "-1.75 -1.25 x 60",
    "-14.75 -2.00 x 95",
)
"""Lenses whose two forms are printed in courses and revision texts.

Source  transposition-blog, durham-tech-8, opticianry-review-vol-3, simple-transposition-blog
Source  optometry-cards-ol-4
"""

_SPHERES = tuple(half / 2 for half in range(6, -13, -1))
_CYLINDERS = (-0.50, -1.00, -1.50, -2.00)
_VERTEX_POWERS = tuple(float(power) for power in range(3, 21))
_SHIFTS = (-4.0, -2.0, 2.0, 4.0)  # mm further from the eye
_WORN_AT = (10.0, 12.0, 13.0, 14.0)  # mm from the cornea
_DECENTRED = (1.0, 2.0, 3.0, 5.0)  # mm
_DECENTRED_POWERS = (0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 20)
_PRISMS = (0.5, 1.0, 2.0, 3.0)  # prism dioptres
_EIGHTH_TURN = 45  # degrees


# The forms of a lens -----------------------------------------------------------------------------


def both_forms(lenses: Iterable[str] = PUBLISHED_LENSES) -> Table:
    """Lenses in minus and in plus cylinder."""
    return Table(
        "The same lens in both forms",
        ("Minus cylinder", "Plus cylinder"),
        tuple(
            ((write_lens(lens.in_minus_cylinder()),), (write_lens(lens.in_plus_cylinder()),))
            for lens in (read_prescription(text).power for text in lenses)
        ),
        kind="grid",
    )


def new_spheres() -> Table:
    """The sphere of the plus form, for each sphere and cylinder of the minus form."""
    return Table(
        "The new sphere: sphere down the side, cylinder along the top",
        ("Sphere", *(f"{write_power(cylinder)}" for cylinder in _CYLINDERS)),
        tuple(
            (
                (write_power(sphere),),
                *(
                    (write_power(LensPower(sphere, cylinder, 90).transposed().sphere),)
                    for cylinder in _CYLINDERS
                ),
            )
            for sphere in _SPHERES
        ),
        kind="grid",
    )


def turned_axes() -> Table:
    """Axes in fives and what each becomes, in two pairs of columns."""
    axes = range(5, 95, 5)
    pairs = [(write_axis(axis), write_axis(standard_axis(axis + 90))) for axis in axes]
    half = len(pairs) // 2
    return Table(
        "The new axis, either way",
        ("Axis", "Axis", "Axis", "Axis"),
        tuple(
            ((one,), (other,), (third,), (fourth,))
            for (one, other), (third, fourth) in zip(pairs[:half], pairs[half:], strict=True)
        ),
        kind="grid",
    )


# Vertex distance ---------------------------------------------------------------------------------


def moved_lens(sign: int) -> Table:
    """What a plus or a minus sphere becomes when it is worn nearer to the eye or further away."""
    heads = (f"{abs(move):.0f} {'further' if move > 0 else 'closer'}" for move in _SHIFTS)
    return _vertex_rows(f"{_named(sign)} lens moved, in millimetres", sign, _SHIFTS, heads)


def at_the_cornea(sign: int) -> Table:
    """What a plus or a minus sphere worn at a distance is at the cornea, as a contact lens."""
    moves = tuple(-distance for distance in _WORN_AT)
    heads = (f"{distance:.0f} mm" for distance in _WORN_AT)
    caption = f"{_named(sign)} lens worn at this distance: its power at the cornea"
    return _vertex_rows(caption, sign, moves, heads)


def _vertex_rows(caption: str, sign: int, moves: Sequence[float], heads: Iterable[str]) -> Table:
    rows = vertex_table((sign * power for power in _VERTEX_POWERS), moves)
    return Table(
        caption,
        ("Power", *heads),
        tuple(
            ((write_power(row.power),), *((hundredths(power),) for power in row.replaced_by))
            for row in rows
        ),
        kind="grid",
    )


def _named(sign: int) -> str:
    return "Plus" if sign > 0 else "Minus"


# Prism by decentration ---------------------------------------------------------------------------


def prism_by_millimetres() -> Table:
    """The prism of a sphere that is decentred, by its power, plus or minus."""
    return Table(
        "Prism in Δ, by the power and the decentration",
        ("Power", *(f"{way:.0f} mm" for way in _DECENTRED)),
        tuple(
            ((f"{power:.2f}",), *((f"{_prism(power, way):.2f}",) for way in _DECENTRED))
            for power in _DECENTRED_POWERS
        ),
        kind="grid",
    )


def millimetres_for_prism() -> Table:
    """How far a sphere must be decentred for a prism, by its power, plus or minus."""
    return Table(
        "Decentration in mm, by the power and the prism",
        ("Power", *(f"{prism:g} Δ" for prism in _PRISMS)),
        tuple(
            (
                (f"{power:.2f}",),
                *((f"{rounded_to(_way(power, prism), 0.1):.1f}",) for prism in _PRISMS),
            )
            for power in _DECENTRED_POWERS
        ),
        kind="grid",
    )


def base_of_shift() -> Table:
    """Where the base lies when the optical centre of a sphere is moved, by the way it goes."""
    rows = []
    for way in Base:
        along = _unit(way.direction(Eye.RIGHT))
        plus, minus = (
            prism_by_decentration(LensPower(power), along).half_circle(Eye.RIGHT).bases[0]
            for power in (+1, -1)
        )
        rows.append(((f"{way.value}",), (f"base {plus.value}",), (f"base {minus.value}",)))
    return Table(
        "The base, by the way the optical centre is moved",
        ("Moved", "Plus lens", "Minus lens"),
        tuple(rows),
        kind="grid",
    )


def _prism(power: float, millimetres: float) -> float:
    return prism_by_decentration(LensPower(power), Point(millimetres, 0)).amount


def _way(power: float, prism: float) -> float:
    place = decentration_for(LensPower(power), Prism(prism, 0))
    assert isinstance(place, AtPoint)  # a sphere with power has every prism at one point
    return place.point.x


def _unit(degrees: float) -> Point:
    prism = Prism.from_base(1, degrees)
    return Point(prism.x, prism.y)


# The base by eye ---------------------------------------------------------------------------------


def bases_by_degrees() -> Table:
    """A direction on the full circle, and where that is before each eye."""
    rows = []
    for degrees in range(0, 360, _EIGHTH_TURN):
        prism = Prism.from_base(1, degrees)
        words = [_words(prism, eye) for eye in (Eye.RIGHT, Eye.LEFT)]
        shown = "0 or 360" if degrees == 0 else f"{degrees}"
        rows.append(((shown,), *((each,) for each in words)))
    return Table(
        "A base in degrees, by eye",
        ("Base at", "Right lens", "Left lens"),
        tuple(rows),
        kind="grid",
    )


def degrees_by_bases() -> Table:
    """Base up, down, in and out, and its direction before each eye."""
    return Table(
        "A base in words, by eye",
        ("Base", "Right lens", "Left lens"),
        tuple(
            (
                (f"{base.letters}, base {base.value}",),
                *((f"{base.direction(eye):.0f}",) for eye in (Eye.RIGHT, Eye.LEFT)),
            )
            for base in (Base.IN, Base.OUT, Base.UP, Base.DOWN)
        ),
        kind="grid",
    )


def base_words(degrees: float, eye: str) -> str:
    """A base direction before the "right" or "left" eye in words, such as "up and out"."""
    return _words(Prism.from_base(1, degrees), Eye(eye))


def _words(prism: Prism, eye: Eye) -> str:
    return " and ".join(base.value for base in prism.half_circle(eye).bases)


# The marks of the scale ---------------------------------------------------------------------------


def written_marks() -> Table:
    """The marks of the hand scale up to the change of step: written, true, and counted."""
    last = HAND_SCALE.bands[0].up_to
    marks = HAND_SCALE.marks(0, last)[1:]
    return Table(
        f"The marks from zero to {last:.2f}\N{NO-BREAK SPACE}D; plus and minus alike",
        ("Written", "True", "Fraction", "Marks from zero"),
        tuple(
            ((unsigned_power(mark),), (write_exact(mark)[1:],), (fraction(mark),), (f"{count}",))
            for count, mark in enumerate(marks, 1)
        ),
        kind="grid",
    )


def sixteenths() -> Table:
    """The sixteenths of a dioptre, half a finest mark each, as they are and as they are written."""
    steps = [count / 16 for count in range(1, 16)]
    return Table(
        "Sixteenths of a dioptre",
        ("Sixteenths", "True", "Written", "How"),
        tuple(
            ((f"{count}",), (f"{step:.4f}",), (unsigned_power(step),), (_shortened(step),))
            for count, step in enumerate(steps, 1)
        ),
        kind="grid",
    )


def unsigned_power(value: float) -> str:
    """A power as it is written with two decimals, without its sign."""
    return write_power(value).lstrip(f"+{MINUS}")


def fraction(mark: float) -> str:
    """A mark in whole dioptres and eighths.

    >>> fraction(1.375), fraction(0.5), fraction(2)
    ('1 ⅜', '½', '2')
    """
    whole, part = divmod(mark, 1)
    return " ".join([*([f"{whole:.0f}"] if whole else []), *([FRACTIONS[part]] if part else [])])


def _shortened(step: float) -> str:
    written = float(unsigned_power(step))
    if written == step:
        return "as it is"
    return "cut" if is_cut(step) else "rounded"


# How numbers are shown ---------------------------------------------------------------------------


def hundredths(value: float) -> str:
    """A power rounded to 0.01 D with its sign: a computed one, of which nothing is cut.

    >>> hundredths(-9.125), hundredths(8.1159)
    ('−9.13', '+8.12')
    """
    shown = f"{rounded_to(abs(value), 0.01):.2f}"
    return f"{MINUS if value < 0 else '+'}{shown}"
