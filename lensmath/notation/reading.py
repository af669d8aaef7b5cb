"""Reads what people write for one eye."""

from __future__ import annotations

from typing import Literal

from lensmath.errors import LensError
from lensmath.notation.forms import MINUS, TIMES, Decimals, Form, Prescription, WrittenPrism
from lensmath.notation.line import Line
from lensmath.notation.writing import write_axis, write_lens, write_power, write_prescription
from lensmath.power import LensPower, axis_difference

Part = Literal["sphere", "cylinder", "addition"]
"""What one power may be of a prescription."""


def read_prescription(text: str, decimals: Decimals = Decimals.EIGHTHS) -> Prescription:
    """What a person wrote for one eye, understood.

    Errors  LensError with what was read and what is allowed: empty text, a power without its
            sign, two signs, a cylinder without an axis, an axis outside 0-180, crossed cylinders
            that are not at right angles, anything unknown.

    >>> read_prescription("-1.37/-0.62x5").power
    LensPower(sphere=-1.375, cylinder=-0.625, axis=5.0)
    >>> read_prescription("pl -0,50 X 090, add +2.25").addition
    2.25
    """
    line = Line(text, decimals)
    power, form = _read_lens(line)
    addition, prism = _read_extras(line)
    return Prescription(power, form, addition, prism)


def lens_alone(read: Prescription) -> LensPower:
    """The power, where nothing but the power of a lens is wanted.

    Errors  LensError for an addition or prism.
    """
    has = {"addition": read.addition is not None, "prism": bool(read.prism)}
    if any(has.values()):
        more = write_prescription(read).removeprefix(write_lens(read.power)).strip()
        wanted = " and no ".join(name for name in has if has[name])
        raise LensError(f"“{more}” was written, but the lens has no {wanted} here; leave it out.")
    return read.power


def read_power(text: str, decimals: Decimals = Decimals.EIGHTHS, part: Part | None = None) -> float:
    """One signed power, in dioptres; an addition, which is never minus, may lack its sign.

    Errors  LensError for empty text, a missing or doubled sign, more than one number, more than
            30 D, and for DS or DC after what is none.

    >>> read_power("−0,37"), read_power("-0.37", Decimals.LITERAL)
    (-0.375, -0.37)
    >>> read_power("pl"), read_power("-0.25 DC", part="cylinder"), read_power("3", part="addition")
    (0.0, -0.25, 3.0)
    """
    adds = part == "addition"
    line = Line(text, decimals, f"a power such as {'+' if adds else MINUS}2.25")
    if adds:
        line.take("add")
    power = 0.0 if line.take("plano") else line.power("The addition" if adds else "A power")
    line.take("dc" if part == "cylinder" else "ds")
    if adds:
        line.take("add")
    if part and (other := line.take("ds") or line.take("dc")):
        name = "sphere" if other.kind == "ds" else "cylinder"
        raise LensError(
            f"“{other.text.upper()}” in {line.given} says {name}, and no {name} is asked for. "
            "A sphere is written DS, a cylinder DC."
        )
    line.end()
    return power


def read_axis(text: str) -> float:
    """An axis in degrees, 1-180; 0 comes back as 180.

    >>> read_axis("005"), read_axis("0")
    (5.0, 180.0)
    """
    line = Line(text, Decimals.LITERAL, "an axis such as 105")
    line.take("x")
    axis = line.axis()
    line.end()
    return axis


def _read_lens(line: Line) -> tuple[LensPower, Form]:
    says_sphere = line.take("ds")  # a word may stand before its figure, or after it
    plano = line.take("plano")
    first = 0.0 if plano else line.power("The sphere")
    unnamed = not (plano or says_sphere)
    says_cylinder = unnamed and line.take("dc") is not None
    if unnamed and line.take("x"):
        return _read_crossed(line, first, says_cylinder)
    if not says_cylinder:
        line.take("ds")
    if not line.take("dc") and not line.at_power():
        if says_cylinder:
            raise _without_axis(line, first)
        return LensPower(first), Form.SPHERE
    cylinder = line.power("The cylinder")
    line.take("dc")
    if line.take("at"):
        raise LensError(
            f"In {line.given} “@” was read, which gives a meridian. An axis is written after "
            f"{TIMES}, for example {write_power(cylinder)} {TIMES} 090."
        )
    if not line.take_times():
        if cylinder == 0:
            return LensPower(first), Form.SPHERE
        if line.take("ds"):
            raise LensError(f"Two spheres were read in {line.given}; one lens is allowed.")
        raise _without_axis(line, cylinder)
    power = LensPower(first, cylinder, line.axis())
    return power, _form_of(power)


def _read_crossed(line: Line, power: float, says_cylinder: bool) -> tuple[LensPower, Form]:
    axis = line.axis()
    first = LensPower(0.0, power, axis)
    if not line.at_power():
        if says_cylinder:
            return first, _form_of(first)
        raise LensError(
            f"One power with an axis was read: {line.given}. For a cylinder alone write "
            f"plano {write_power(power)} {TIMES} {write_axis(axis)}; for crossed form write "
            "both cylinders, each with its axis."
        )
    second = line.power("The second cylinder")
    line.take("dc")
    if not line.take_times():
        raise _without_axis(line, second)
    second_axis = line.axis()
    if axis_difference(axis, second_axis) != 90:
        raise LensError(
            f"The axes {write_axis(axis)} and {write_axis(second_axis)} in {line.given} are "
            f"{axis_difference(axis, second_axis):g} apart. In crossed form they are 90 apart."
        )
    return first + LensPower(0.0, second, second_axis), Form.CROSSED


def _without_axis(line: Line, cylinder: float) -> LensError:
    """What is said of a cylinder without an axis, or with one that lacks its ×."""
    found, written = line.unsigned(), write_power(cylinder)
    wrong, where = f"The cylinder {written} has no axis", "it"
    if found:
        wrong, where = f"In {line.given} no {TIMES} stands between {written} and {found}", TIMES
    return LensError(f"{wrong}. Write the axis after {where}, for example {written} {TIMES} 090.")


def _form_of(power: LensPower) -> Form:
    if power.axis is None:
        return Form.SPHERE
    return Form.MINUS_CYLINDER if power.cylinder < 0 else Form.PLUS_CYLINDER


def _read_extras(line: Line) -> tuple[float | None, tuple[WrittenPrism, ...]]:
    addition, prism = None, []
    while not line.done():
        if line.take("add"):
            if addition is not None:
                raise LensError(f"Two additions were read in {line.given}; one is allowed.")
            addition = line.power("The addition")
        else:
            prism.append(line.prism())
    return addition, tuple(prism)
