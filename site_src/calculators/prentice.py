"""Prentice's rule on a page: the entries of a decentred lens, and its sums.

Ways are those of the optical centre from where the eye looks, seen facing the wearer: to the right
and up are plus, in centimetres in the sums, so that power times way is prism.
"""

from __future__ import annotations

import math

from lensmath.centration import Decentration, Point
from lensmath.decentration import prism_by_decentration
from lensmath.eye import Eye
from lensmath.notation import TIMES, Decimals, Prescription
from lensmath.power import LensPower
from lensmath.prism import Base
from site_src.calculators.answer import Datum, Line, Step, cut_eighths, say
from site_src.calculators.fields import ChoiceField, Field, NumberField
from site_src.calculators.prism_parts import IN_OR_OUT, UP_OR_DOWN, signed
from site_src.calculators.sums import summed

LONGEST_WAY = 50.0  # mm; farther than any lens reaches

# Entries ------------------------------------------------------------------------------------------


def way_fields(stem: str, group: str) -> tuple[Field, ...]:
    """How far something is moved: `<stem>across`, `<stem>in_out`, `<stem>height`, `<stem>up_down`.

    An empty way is none.
    """
    return (
        NumberField(
            f"{stem}across", "Horizontal", optional=True, group=group, unit="mm", high=LONGEST_WAY
        ),
        ChoiceField(f"{stem}in_out", "In or out", group=group, choices=IN_OR_OUT),
        NumberField(
            f"{stem}height", "Vertical", optional=True, group=group, unit="mm",
            high=LONGEST_WAY,
        ),
        ChoiceField(f"{stem}up_down", "Up or down", group=group, choices=UP_OR_DOWN),
    )  # fmt: skip


def way_of(across: float | None, in_out: Base, height: float | None, up_down: Base) -> Decentration:
    """The way that `way_fields` ask for."""
    return Decentration(
        (across or 0.0) * (1 if in_out is Base.IN else -1),
        (height or 0.0) * (1 if up_down is Base.UP else -1),
    )


def exact_words(way: Decentration) -> str:
    """A way as it was entered: 2.25 mm in and 11 mm down."""
    directions = (way.inward, "in", "out"), (way.up, "up", "down")
    said = [f"{abs(mm):g} mm {plus if mm > 0 else minus}" for mm, plus, minus in directions if mm]
    return " and ".join(said) or "no way"


def understood(decimals: Decimals, *lenses: Prescription) -> tuple[Line, ...]:
    """How each lens was read where an entry may mean more than one."""
    powers = [part for lens in lenses for part in (lens.power.sphere, lens.power.cylinder)]
    return cut_eighths(decimals, *powers)


def left_out(*lenses: Prescription) -> tuple[str, ...]:
    """A caution where an order has more than its power."""
    if not any(lens.addition is not None or lens.prism for lens in lenses):
        return ()
    return ("Only the distance power is counted here, not the addition and prism of the order.",)


# Sums ---------------------------------------------------------------------------------------------


def is_straight(lens: LensPower) -> bool:
    """Whether a horizontal way gives horizontal prism alone: a sphere, or an axis of 90 or 180."""
    return lens.axis is None or lens.axis % 90 == 0


def letters(lens: LensPower) -> tuple[str, str]:
    """What the horizontal and the vertical power are called: S where that is what they are."""
    if lens.axis is None:
        return "S", "S"
    return "S" if lens.axis == 180 else "FH", "S" if lens.axis == 90 else "FV"


def numbers_of(lens: LensPower) -> tuple[float, float, float]:
    """FH, FX and FV: the power matrix by the names that the sums use, in dioptres."""
    (horizontal, cross), (_, vertical) = lens.matrix
    return horizontal, cross, vertical


def power_steps(
    lens: LensPower, stem: str = "", who: str = "", *, across: bool = True
) -> tuple[Step, ...]:
    """The powers that the sums take: FH and FV, and FX for the cross term of an oblique axis.

    `across` False leaves out what only the horizontal part needs.
    """
    if lens.axis is None:
        return ()
    horizontal, cross, vertical = numbers_of(lens)
    if is_straight(lens):
        power = (
            ("vertical", "fv", vertical) if lens.axis == 180 else ("horizontal", "fh", horizontal)
        )
        wanted = across or lens.axis == 180
        return (_straight_power(lens, *power, stem, who),) if wanted else ()
    upright = _squared(lens, "FV, what a vertical way gives vertically", "cos", vertical, stem, who)
    if not across:
        return (upright,)
    return (
        _squared(
            lens, "FH, what a horizontal way gives horizontally", "sin", horizontal, stem, who
        ),
        summed(
            f"{who}FX, what each way gives crosswise, because the axis is oblique.",
            f"−C {TIMES} sin A {TIMES} cos A",
            f"−{{c}} {TIMES} sin {{a}} {TIMES} cos {{a}}",
            lambda c, a: -c * math.sin(math.radians(a)) * math.cos(math.radians(a)),
            say("{power} D", power=signed(cross, f"{stem}fx", 4)),
            c=lens.cylinder,
            a=lens.axis,
        ),
        upright,
    )


def _straight_power(
    lens: LensPower, meridian: str, name: str, value: float, stem: str, who: str
) -> Step:
    return summed(
        f"{who}The cylinder acts across its axis, so in the {meridian} meridian it adds to the "
        f"sphere: {name.upper()}.",
        "S + C",
        "{s} + {c}",
        lambda s, c: s + c,
        say("{power} D", power=signed(value, f"{stem}{name}", 3)),
        s=lens.sphere,
        c=lens.cylinder,
    )


def _squared(lens: LensPower, what: str, key: str, value: float, stem: str, who: str) -> Step:
    function = getattr(math, key)
    return summed(
        f"{who}{what}.",
        f"S + C {TIMES} ({key} A)²",
        f"{{s}} + {{c}} {TIMES} ({key} {{a}})²",
        lambda s, c, a: s + c * function(math.radians(a)) ** 2,
        say("{power} D", power=signed(value, f"{stem}{what[:2].lower()}", 4)),
        s=lens.sphere,
        c=lens.cylinder,
        a=lens.axis or 0.0,
    )


def prism_steps(
    lens: LensPower, moved: Point, stem: str = "", who: str = "", *, across: bool = True
) -> tuple[Step, ...]:
    """H and V of a lens whose optical centre lies at `moved` (mm) from where the eye looks.

    `across` False leaves the horizontal part out.
    """
    prism = prism_by_decentration(lens, moved)
    horizontal, cross, vertical = numbers_of(lens)
    crosswise = 0.0 if is_straight(lens) else cross
    own = letters(lens)
    x, y = ("x", moved.x), ("y", moved.y)
    parts = (
        ("Horizontal", "x", prism.x, ((own[0], horizontal, *x), ("FX", crosswise, *y))),
        ("Vertical", "y", prism.y, ((own[1], vertical, *y), ("FX", crosswise, *x))),
    )
    return tuple(
        step
        for name, letter, value, terms in parts[0 if across else 1 :]
        for step in _part_steps(f"{who}{name}", terms, signed(value, f"{stem}{letter}"))
    )


def _part_steps(
    name: str, terms: tuple[tuple[str, float, str, float], ...], result: Datum
) -> tuple[Step, ...]:
    """One part of a prism: what its own way gives, and what the other way gives crosswise."""
    kept = [term for term in terms if term[1] and term[3]]
    if not kept:
        return ()
    operands: dict[str, float] = {}
    for index, (_, strength, _, way) in enumerate(kept):
        operands |= {f"f{index}": strength, f"w{index}": way / 10}
    return (
        summed(
            f"{name} part: power times way.",
            " + ".join(f"{power} {TIMES} {way}" for power, _, way, _ in kept),
            " + ".join(f"{{f{index}}} {TIMES} {{w{index}}}" for index in range(len(kept))),
            lambda f0, w0, f1=0.0, w1=0.0: f0 * w0 + f1 * w1,
            say("{part} Δ", part=result),
            **operands,
        ),
    )


def way_step(moved: Point, stem: str = "", who: str = "") -> Step:
    """Where the optical centre lies, in the signs of the sums."""
    x = signed(moved.x / 10, f"{stem}way.x", 3)
    y = signed(moved.y / 10, f"{stem}way.y", 3)
    if moved.x == 0 and moved.y > 0:
        what = f"{who}The optical centre lies above where the eye looks, in centimetres."
        return Step(what, result=say("y = {y} cm", y=y))
    return Step(
        f"{who}Where the optical centre lies from where the eye looks, in centimetres. Facing the "
        "wearer, to the right (x) and up (y) are plus.",
        result=say("x = {x} cm, y = {y} cm", x=x, y=y),
    )


def eye_steps(lens: LensPower, moved: Point, eye: Eye, *, across: bool = True) -> tuple[Step, ...]:
    """The sums of one eye of a pair, each step under the name of the eye."""
    if moved == Point(0.0, 0.0) or lens == LensPower(0.0):
        return ()
    stem, who = f"{eye.value}.", f"{eye.value.capitalize()} eye. "
    return (
        way_step(moved, stem, who),
        *power_steps(lens, stem, who, across=across),
        *prism_steps(lens, moved, stem, who, across=across),
    )
