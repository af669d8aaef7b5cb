"""Adding powers: the sum or difference of two spherocylinders with their axes at any angle."""

from __future__ import annotations

from dataclasses import dataclass

from lensmath.notation import MINUS, TIMES, Decimals, Prescription, write_power
from lensmath.power import LensPower, PowerVector, rounded_to, snapped
from site_src.calculators.answer import (
    Answer,
    Line,
    Step,
    Table,
    cut_eighths,
    power,
    say,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, Choice, ChoiceField, PrescriptionField
from site_src.calculators.working import digits, number, signed, unsigned
from site_src.figures.power_cross import power_cross
from site_src.figures.power_vectors import Arrow, power_vectors
from site_src.figures.svg import Figure

_SOURCES = ("long-1976", "thibos-1997", "oblique-cylinders-slides")
_DECIMALS = 4  # of the parts on the way; the answer has two


@dataclass(frozen=True)
class _Parts:
    """M, J0 and J45 with the decimals that the working shows, so that its sums come out."""

    name: str
    vector: PowerVector

    @classmethod
    def of(cls, name: str, lens: LensPower) -> _Parts:
        return cls(name, PowerVector(*(rounded_to(p, 10.0**-_DECIMALS) for p in lens.power_vector)))

    def joined(self, other: _Parts, sign: int) -> _Parts:
        pairs = zip(self.vector, other.vector, strict=True)
        return _Parts("result", PowerVector(*(snapped(a + sign * b) for a, b in pairs)))

    def shown(self, part: str) -> str:
        return signed(getattr(self.vector, part), _DECIMALS)

    def line(self, part: str) -> Line:
        value = getattr(self.vector, part)
        return (number(f"{self.name}.{part}", value, self.shown(part)),)


def solve(first: Prescription, second: Prescription, operation: int, decimals: Decimals) -> Answer:
    """First and second put together, or the second taken off the first."""
    one, two = first.power, second.power
    result = _as_shown(one + two if operation > 0 else one - two)
    parts = _Parts.of("first", one), _Parts.of("second", two)
    total = parts[0].joined(parts[1], operation)
    return Answer(
        headline=written_lens(result),
        also=_also(one, two, result, operation),
        understood=cut_eighths(decimals, one.sphere, one.cylinder, two.sphere, two.cylinder),
        tables=(_table(parts, total, operation),),
        steps=(
            *_vector_steps("first", one, parts[0]),
            *_vector_steps("second", two, parts[1]),
            *_joining_steps(parts, total, operation),
            *_lens_steps(result, total),
        ),
        figures=(
            _arrows(one, two, result, operation),
            power_cross("adding-powers-cross", result),
        ),
        cautions=_left_out(first, second),
        sources=_SOURCES,
    )


def _as_shown(lens: LensPower) -> LensPower:
    """A cylinder that two decimals show as nothing is no cylinder."""
    return LensPower(lens.mean_sphere) if write_power(lens.cylinder) == "0.00" else lens


def _also(one: LensPower, two: LensPower, result: LensPower, operation: int) -> tuple[Line, ...]:
    joined = "{one} and {two} together" if operation > 0 else "{one} less {two}"
    said = [
        say(joined, one=written_lens(one, "first."), two=written_lens(two, "second.")),
        say("Mean sphere: {power} D", power=power(result.mean_sphere, "mean_sphere")),
    ]
    if result.axis is not None:
        plus = written_lens(result.in_plus_cylinder(), "plus.")
        said.insert(1, say("Plus form: {lens}", lens=plus))
    return tuple(said)


def _table(parts: tuple[_Parts, _Parts], total: _Parts, operation: int) -> Table:
    names = "First", "Second", "Sum" if operation > 0 else "Difference"
    return Table(
        "Mean sphere and the two cylinder parts, in dioptres",
        ("Lens", "M", "J0", "J45"),
        tuple(
            ((name,), each.line("m"), each.line("j0"), each.line("j45"))
            for name, each in zip(names, (*parts, total), strict=True)
        ),
        kind="grid",
    )


def _vector_steps(which: str, lens: LensPower, parts: _Parts) -> tuple[Step, ...]:
    if lens.axis is None:
        what = f"The {which} lens is a sphere: M is its power, J0 and J45 are nothing."
        return (Step(what, result=say("{m} D", m=parts.line("m"))),)
    half = f"{MINUS}({digits(lens.cylinder)}) ÷ 2"
    doubled = f"(2 {TIMES} {unsigned(lens.axis)})"
    return (
        Step(
            f"M of the {which} lens, its mean sphere.",
            "S + C ÷ 2",
            f"{digits(lens.sphere)} + ({digits(lens.cylinder)}) ÷ 2",
            say("{m} D", m=parts.line("m")),
        ),
        Step(
            f"J0 of the {which} lens.",
            f"{MINUS}C ÷ 2 {TIMES} cos 2A",
            f"{half} {TIMES} cos{doubled}",
            say("{j0} D", j0=parts.line("j0")),
        ),
        Step(
            f"J45 of the {which} lens.",
            f"{MINUS}C ÷ 2 {TIMES} sin 2A",
            f"{half} {TIMES} sin{doubled}",
            say("{j45} D", j45=parts.line("j45")),
        ),
    )


def _joining_steps(parts: tuple[_Parts, _Parts], total: _Parts, operation: int) -> tuple[Step, ...]:
    sign, what = ("+", "Add") if operation > 0 else (MINUS, "Subtract")
    return tuple(
        Step(
            f"{what} {part.upper()}.",
            numbers=f"{parts[0].shown(part)} {sign} ({parts[1].shown(part)})",
            result=say("{part} D", part=total.line(part)),
        )
        for part in ("m", "j0", "j45")
    )


def _lens_steps(result: LensPower, total: _Parts) -> tuple[Step, ...]:
    """From M, J0 and J45 back to sphere, cylinder and axis."""
    if result.axis is None:
        return (Step("J0 and J45 come to nothing: a sphere is left, and M is its power."),)
    from_parts = LensPower.from_power_vector(*total.vector)
    half = rounded_to(-from_parts.cylinder / 2, 10.0**-_DECIMALS)
    j = signed(half, _DECIMALS).lstrip("+")
    sphere = snapped(total.vector.m + half)
    return (
        Step(
            "Half the cylinder, J, from the two parts.",
            "√(J0² + J45²)",
            f"√(({total.shown('j0')})² + ({total.shown('j45')})²)",
            say("{j} D", j=number("half_cylinder", half, j)),
        ),
        Step(
            "The cylinder, in minus form.",
            f"{MINUS}2 {TIMES} J",
            f"{MINUS}2 {TIMES} {j}",
            say("{c} D", c=number("worked.cylinder", -2 * half, signed(-2 * half, _DECIMALS))),
        ),
        Step(
            "The sphere.",
            "M + J",
            f"{total.shown('m')} + {j}",
            say("{s} D", s=number("worked.sphere", sphere, signed(sphere, _DECIMALS))),
        ),
        _axis_step(total, from_parts.axis or 0.0),
    )


def _axis_step(total: _Parts, found: float) -> Step:
    """The arc tangent, with the turn that the signs of J0 and J45 ask for."""
    j0, j45 = total.vector.j0, total.vector.j45
    shown = rounded_to(found, 0.01)
    result = (number("worked.axis", shown, unsigned(shown)), "°")
    if j0 == 0 or j45 == 0:
        where = "J45 alone" if j0 == 0 else "J0 alone"
        sign = "plus" if j0 + j45 > 0 else "minus"
        return Step(f"The axis: {where} is left, and it is {sign}.", result=result)
    turn, why = (90, "J0 is minus") if j0 < 0 else (180, "J45 is minus") if j45 < 0 else (0, "")
    and_turn = f", and {turn}: {why}" if turn else ""
    atan = f"atan(({total.shown('j45')}) ÷ ({total.shown('j0')})) ÷ 2"
    return Step(
        f"The axis: half the angle whose tangent is J45 ÷ J0{and_turn}.",
        f"atan(J45 ÷ J0) ÷ 2{f' + {turn}' if turn else ''}",
        f"{turn} + {atan}" if turn else atan,
        result,
    )


def _arrows(one: LensPower, two: LensPower, result: LensPower, operation: int) -> Figure:
    sign = "+" if operation > 0 else MINUS
    return power_vectors(
        "adding-powers-arrows",
        Arrow("1", one),
        Arrow("2", two, taken_off=operation < 0),
        Arrow(f"1 {sign} 2", result),
    )


def _left_out(*lenses: Prescription) -> tuple[str, ...]:
    if not any(lens.addition is not None or lens.prism for lens in lenses):
        return ()
    return ("Additions and prism are left out: only the powers for distance are put together.",)


CALCULATOR = Calculator(
    slug="adding-powers",
    title="Adding powers",
    purpose="Write two lenses, with axes at any angle; get their sum or difference as one lens.",
    fields=(
        PrescriptionField("first", "First lens", "minus, plus or crossed form"),
        PrescriptionField("second", "Second lens", "in any form of its own"),
        ChoiceField(
            "operation",
            "Wanted",
            "thin lenses that touch",
            choices=(
                Choice("sum", "the sum: both together", 1),
                Choice("difference", "the difference: first less second", -1),
            ),
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"first": "plano -2.00 x 180", "second": "-2.00 +2.00 x 135"},
            prints={"mean_sphere": "−2.00"},
            source="oblique-cylinders-slides",
            note="The slides print both lenses and the mean sphere of their sum.",
        ),
        Example(
            given={"first": "+1.75 +0.50 x 045", "second": "-2.25 -1.00 x 135"},
            prints={"sphere": "plano", "cylinder": "−1.50", "axis": "135"},
            source="jalie-2022",
        ),
        Example(
            given={
                "first": "plano -2.00 x 180",
                "second": "plano -2.00 x 010",
                "operation": "difference",
            },
            prints={"sphere": "+0.35", "cylinder": "−0.69"},
            source="iacle-module-3",
            note="A cylinder 10 degrees out of place, and the lens that puts it right.",
        ),
    ),
)
