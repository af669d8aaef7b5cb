"""The readings of one lens in a form: which entry is at fault, and the sums from drum to power.

Shared by the calculators that read the drum; `prefix` begins the names of fields or data when a
form has more than one lens, and `whose` says whose lens a step is about, such as "Right lens. ".
"""

from __future__ import annotations

from lensmath.notation import MINUS, write_axis, write_exact
from lensmath.readings import Form, Lines, Readings
from lensmath.scale import HAND_SCALE, Count, Direction
from site_src.calculators.answer import Datum, Step, axis, power, say
from site_src.calculators.fields import AxisField, Choice, ChoiceField, PowerField, on_field

LINES = (
    Choice("sphere", "the sphere lines", Lines.SPHERE),
    Choice("cylinder", "the cylinder lines", Lines.CYLINDER),
    Choice("both", "both sets at once (a sphere)", Lines.BOTH),
)

ENTRIES = (
    PowerField("first", "First sharp reading", "where the first set of lines closes up"),
    PowerField(
        "second",
        "Second sharp reading",
        "where the other set closes up; for a sphere, the same reading again",
        optional=True,
    ),
    AxisField("wheel", "Axis wheel", "1 to 180; a sphere needs none", optional=True),
    PowerField(
        "zero",
        "Scale reads with no lens",
        "the zero error; 0.00 if the scale is right",
        optional=True,
    ),
)
"""What was read of one lens."""

ENTRIES_ASIDE = (
    ChoiceField(
        "lines",
        "Sharp at the first reading",
        "the sphere lines, when the lens is read in the usual order",
        aside=True,
        choices=LINES,
    ),
    ChoiceField(
        "turned",
        "Drum turned, as you noted it",
        "checks the signs of the two readings",
        aside=True,
        choices=(
            Choice("unnoted", "not noted", None),
            Choice("minus", "toward minus", Direction.MINUS),
            Choice("plus", "toward plus", Direction.PLUS),
        ),
    ),
)
"""How it was read. With `ENTRIES` these are what `taken` wants."""


def taken(
    first: float,
    second: float | None,
    wheel: float | None,
    zero: float | None,
    lines: Lines,
    turned: Direction | None = None,
    *,
    prefix: str = "",
) -> Readings:
    """The readings as entered; a refusal is put down to the entry that it is about."""
    with on_field(prefix + _at_fault(first, second, wheel, lines, turned)):
        return Readings(first, second, lines, wheel, turned, zero or 0.0)


def _at_fault(
    first: float,
    second: float | None,
    wheel: float | None,
    lines: Lines,
    turned: Direction | None,
) -> str:
    if second is None and lines is not Lines.BOTH:
        return "second"
    if lines is Lines.BOTH and second is not None and second != first:
        return "lines"
    if wheel is None and second is not None and second != first:
        return "wheel"
    return "turned" if turned else "first"


def counted(readings: Readings) -> Count:
    """The count from the first reading to the second, on the drum as it is read."""
    second = readings.first if readings.second is None else readings.second
    return HAND_SCALE.count(readings.first, second)


def steps(readings: Readings, *, prefix: str = "", whose: str = "") -> tuple[Step, ...]:
    """How the sphere, the cylinder and the axis come out of the readings."""
    first, second = readings.corrected
    sphere = Step(
        f"{whose}The sphere is the first reading.",
        result=say("{power} D", power=power(first, f"{prefix}sphere")),
    )
    zero = _zero_steps(readings, prefix, whose)
    if readings.form is Form.SPHERE:
        return (*zero, sphere)
    form = readings.form.value
    return (
        *zero,
        sphere,
        Step(
            f"{whose}The cylinder is the travel, never the second reading itself.",
            f"second {MINUS} first",
            f"{write_exact(second)} {MINUS} ({write_exact(first)})",
            say("{power} D", power=power(readings.travel, f"{prefix}travel", exact=True)),
        ),
        Step(
            f"{whose}Counted on the scale: {counted(readings).in_words()}, "
            f"{readings.direction.value}."
            + (" The zero error moves both readings alike." if readings.zero_error else ""),
            result=say("{form} form", form=Datum(f"{prefix}form", form, form.capitalize())),
        ),
        _axis_step(readings, prefix, whose),
    )


def _zero_steps(readings: Readings, prefix: str, whose: str) -> tuple[Step, ...]:
    if readings.zero_error == 0:
        return ()
    raw = [("First", readings.first, readings.corrected[0])]
    if readings.second is not None:
        raw.append(("Second", readings.second, readings.corrected[1]))
    return tuple(
        Step(
            f"{whose}{name} reading, less what the scale reads with no lens.",
            f"{name.lower()} {MINUS} zero error",
            f"{write_exact(read)} {MINUS} ({write_exact(readings.zero_error)})",
            say(
                "{power} D",
                power=power(corrected, f"{prefix}{name.lower()}.corrected", exact=True),
            ),
        )
        for name, read, corrected in raw
    )


def _axis_step(readings: Readings, prefix: str, whose: str) -> Step:
    assert readings.wheel is not None
    assert readings.power.axis is not None
    found = say("{axis}", axis=axis(readings.power.axis, f"{prefix}axis"))
    if not readings.axis_turned:
        return Step(
            f"{whose}The sphere lines were sharp first, so the wheel gives the axis.", result=found
        )
    turn = "+ 90" if readings.wheel <= 90 else f"{MINUS} 90"
    return Step(
        f"{whose}The cylinder lines were sharp first, so the axis is the wheel turned by 90.",
        f"wheel {turn}",
        f"{write_axis(readings.wheel)} {turn}",
        found,
    )
