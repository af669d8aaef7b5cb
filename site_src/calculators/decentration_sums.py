"""The sums of decentration for a prism: Prentice's rule turned round."""

from __future__ import annotations

import math

from lensmath.centration import Point
from lensmath.decentration import AtPoint, Nowhere, OnLine, Place
from lensmath.eye import Eye
from lensmath.notation import TIMES, write_axis, write_power
from lensmath.power import SAME_LENS, LensPower, Meridian
from lensmath.prism import NO_PRISM, Prism
from site_src.calculators import prentice, prism_parts
from site_src.calculators.answer import Datum, Line, Step, say
from site_src.calculators.prism_parts import signed
from site_src.calculators.sums import summed


def nowhere_steps(lens: LensPower, place: Place, wanted: Prism) -> tuple[Step, ...]:
    """Why a lens with power along one meridian alone cannot give the prism wanted."""
    if not isinstance(place, Nowhere) or place.only_along is None:
        return ()
    without = next(m.direction for m in lens.principal_meridians if abs(m.power) <= SAME_LENS)
    return (
        _wanted_step(wanted),
        _along_step(
            wanted, without, f"The part along {write_axis(without)}, where the lens has no power."
        ),
        Step("Power times way is zero along that meridian, so nothing can give that part."),
    )


def place_steps(
    lens: LensPower, eye: Eye, wanted: Prism, place: AtPoint | OnLine, said: Line
) -> tuple[Step, ...]:
    """From the prism wanted to the way of the optical centre, which `said` puts into words."""
    if wanted == NO_PRISM:
        return ()
    point = place.point if isinstance(place, AtPoint) else place.nearest
    if isinstance(place, OnLine):
        sums = _line_steps(lens, wanted, point)
    elif prentice.is_straight(lens):
        sums = _straight_steps(lens, wanted, point)
    else:
        sums = _oblique_steps(lens, wanted, point)
    words = Step(f"Put the signs into words. {prism_parts.side(eye)}", result=said)
    return (_wanted_step(wanted), *sums, words)


def _wanted_step(wanted: Prism) -> Step:
    what = "The prism wanted. Facing the wearer, to the right (H) and up (V) are plus."
    return prism_parts.signed_step(wanted, what)


def _straight_steps(lens: LensPower, wanted: Prism, point: Point) -> tuple[Step, ...]:
    horizontal, _, vertical = prentice.numbers_of(lens)
    own = prentice.letters(lens)
    parts = (
        ("Horizontal", "H", own[0], wanted.x, horizontal, point.x, "way.x"),
        ("Vertical", "V", own[1], wanted.y, vertical, point.y, "way.y"),
    )
    return (
        *prentice.power_steps(lens),
        *(
            summed(
                f"{name} way of the optical centre: prism by power, times 10 for millimetres.",
                f"10 {TIMES} {letter} ÷ {power}",
                f"10 {TIMES} {{p}} ÷ {{f}}",
                lambda p, f: 10 * p / f,
                say("{way} mm", way=signed(way, datum, 1)),
                p=prism,
                f=strength,
            )
            for name, letter, power, prism, strength, way, datum in parts
            if prism
        ),
    )


def _oblique_steps(lens: LensPower, wanted: Prism, point: Point) -> tuple[Step, ...]:
    """The inverse of the power matrix, entry by entry."""
    horizontal, cross, vertical = prentice.numbers_of(lens)
    product = lens.sphere * (lens.sphere + lens.cylinder)
    inverse = f"10 {TIMES} ({{f}} {TIMES} {{p}} − {{x}} {TIMES} {{q}}) ÷ {{d}}"

    def way(what: str, formula: str, result: Datum, f: float, p: float, q: float) -> Step:
        return summed(
            what,
            formula,
            inverse,
            lambda f, p, x, q, d: 10 * (f * p - x * q) / d,
            say("{way} mm", way=result),
            f=f,
            p=p,
            x=cross,
            q=q,
            d=product,
        )

    return (
        *prentice.power_steps(lens),
        summed(
            "D, the two principal powers multiplied.",
            f"S {TIMES} (S + C)",
            f"{{s}} {TIMES} ({{s}} + {{c}})",
            lambda s, c: s * (s + c),
            say("{product}", product=signed(product, "product", 4)),
            s=lens.sphere,
            c=lens.cylinder,
        ),
        way(
            "Horizontal way of the optical centre.",
            f"10 {TIMES} (FV {TIMES} H − FX {TIMES} V) ÷ D",
            signed(point.x, "way.x", 1),
            vertical,
            wanted.x,
            wanted.y,
        ),
        way(
            "Vertical way of the optical centre.",
            f"10 {TIMES} (FH {TIMES} V − FX {TIMES} H) ÷ D",
            signed(point.y, "way.y", 1),
            horizontal,
            wanted.y,
            wanted.x,
        ),
    )


def _line_steps(lens: LensPower, wanted: Prism, nearest: Point) -> tuple[Step, ...]:
    """A lens with power along one meridian alone: the way along it."""
    only = powered(lens)
    turn = math.radians(only.direction)
    way = nearest.x * math.cos(turn) + nearest.y * math.sin(turn)
    part_along = along(wanted, only.direction)
    where = write_axis(only.direction)

    def part(name: str, key: str, value: float, datum: str) -> Step:
        function = getattr(math, key)
        return summed(
            f"{name} part of that way.",
            f"d {TIMES} {key} M",
            f"{{d}} {TIMES} {key} {{m}}",
            lambda d, m: d * function(math.radians(m)),
            say("{way} mm", way=signed(value, datum, 1)),
            d=way,
            m=only.direction,
        )

    return (
        _along_step(
            wanted,
            only.direction,
            f"The part along {where}, the meridian M in which the lens has "
            f"{write_power(only.power)} D.",
        ),
        summed(
            "Way along that meridian: prism by power, times 10 for millimetres.",
            f"10 {TIMES} P ÷ F",
            f"10 {TIMES} {{p}} ÷ {{f}}",
            lambda p, f: 10 * p / f,
            say("{way} mm", way=signed(way, "way.along", 1)),
            p=part_along,
            f=only.power,
        ),
        part("Horizontal", "cos", nearest.x, "way.x"),
        part("Vertical", "sin", nearest.y, "way.y"),
    )


def _along_step(wanted: Prism, direction: float, what: str) -> Step:
    part = along(wanted, direction)
    return summed(
        what,
        f"H {TIMES} cos M + V {TIMES} sin M",
        f"{{h}} {TIMES} cos {{m}} + {{v}} {TIMES} sin {{m}}",
        lambda h, v, m: h * math.cos(math.radians(m)) + v * math.sin(math.radians(m)),
        say("{part} Δ", part=signed(part, "along", 3)),
        h=wanted.x,
        v=wanted.y,
        m=direction,
    )


def powered(lens: LensPower) -> Meridian:
    """The meridian with power of a lens that has power along one alone."""
    return next(m for m in lens.principal_meridians if abs(m.power) > SAME_LENS)


def along(prism: Prism, direction: float) -> float:
    """The part of a prism along a direction in degrees, signed."""
    turn = math.radians(direction)
    return prism.x * math.cos(turn) + prism.y * math.sin(turn)
