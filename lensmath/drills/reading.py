"""Problems at the instrument: counting, cylinder, writing the power, zero error, addition, axis."""

from __future__ import annotations

from lensmath.additions import addition_of_readings
from lensmath.drills import choices
from lensmath.drills.answers import AxisAnswer, LensAnswer, PowerAnswer
from lensmath.drills.generator import SplitMix64
from lensmath.drills.problem import Asked, Skill
from lensmath.drills.worded import CountAnswer
from lensmath.notation import write_axis, write_power
from lensmath.power import snapped, standard_axis
from lensmath.readings import Lines, Readings
from lensmath.scale import HAND_SCALE

_ADDITIONS = (0.75, 3.5)  # dioptres, weakest and strongest (common practice)

_LEVEL_1 = "Quarters, on one side of zero and of the change of step; travel toward minus."
_LEVEL_2 = "With an eighth, or across zero or the change of step; travel toward minus."
_LEVEL_3 = "Everything, travel toward plus too."


def _count(draws: SplitMix64, level: int) -> Asked:
    while True:
        first, second = choices.readings(draws, level)
        count = HAND_SCALE.count(first, second)
        if level == 3 or not count.rest:
            break
    question = (
        f"The drum goes from {write_power(first)} D to {write_power(second)} D. Its marks are "
        "0.125 D apart up to 3 D and 0.25 D beyond. Count whole dioptres first, then marks. What "
        "is the count?"
    )
    return Asked(question, {"first": first, "second": second}, CountAnswer(count))


def _cylinder(draws: SplitMix64, level: int) -> Asked:
    first, second = choices.readings(draws, level)
    question = (
        f"The first reading is {write_power(first)} D and the second is {write_power(second)} D. "
        "What is the cylinder?"
    )
    taken = Readings(first, second, wheel=180)
    return Asked(
        question, {"first": first, "second": second}, PowerAnswer(taken.travel, part="cylinder")
    )


def _power(draws: SplitMix64, level: int) -> Asked:
    taken = _readings(draws, level)
    form = draws.one_of(("minus", "plus")) if level == 3 else "minus"
    question = f"{_told(taken)} Write the power in {form} cylinder."
    answer = taken.minus_form if form == "minus" else taken.plus_form
    return Asked(question, {"readings": taken, "form": form}, LensAnswer(answer))


def _zero_error(draws: SplitMix64, level: int) -> Asked:
    if level == 3:
        taken = _readings(draws, level, error=choices.zero_error(draws, level))
        question = f"{_told(taken)} Write the power in the form that the readings give."
        return Asked(question, {"readings": taken}, LensAnswer(taken.power))
    taken = _of_sphere(draws, level)
    question = (
        f"With no lens the drum reads {write_power(taken.zero_error)} D. With a lens both sets of "
        f"lines are sharp at {write_power(taken.first)} D. What is the power of the lens?"
    )
    return Asked(question, {"readings": taken}, PowerAnswer(taken.power.sphere, part="sphere"))


def _addition(draws: SplitMix64, level: int) -> Asked:
    while True:
        near, distance = sorted(choices.readings(draws, level), reverse=True)
        addition = addition_of_readings(distance, near)
        if _ADDITIONS[0] <= addition <= _ADDITIONS[1]:
            break
    error = choices.zero_error(draws, level) if level == 3 else 0.0
    question = (
        f"{_no_lens(error)}The same lines are sharp at {write_power(distance)} D through the "
        f"distance portion and at {write_power(near)} D through the segment. What is the addition?"
    )
    given = {"distance": distance, "near": near, "zero_error": error}
    return Asked(question, given, PowerAnswer(addition, part="addition"))


def _axis_turned_round(draws: SplitMix64, level: int) -> Asked:
    """A lens turned round shows its axis mirrored, at 180 - A.

    Source  optometry-cards-lens-power
    """
    axis = choices.axis(draws, level)
    question = (
        f"With the back of a lens on the stop the axis reads {write_axis(axis)}. The lens is "
        "turned round, left to right, so that its front is on the stop. Which axis does it show?"
    )
    return Asked(question, {"axis": axis}, AxisAnswer(standard_axis(180 - axis)))


def _readings(draws: SplitMix64, level: int, error: float | None = None) -> Readings:
    """Two readings and the wheel; at level 3 either lines first, and often a zero error."""
    first, second = choices.readings(draws, level)
    wheel = choices.axis(draws, level)
    if level < 3:
        return Readings(first, second, wheel=wheel)
    lines = draws.one_of((Lines.SPHERE, Lines.CYLINDER))
    if error is None:
        error = draws.one_of((0.0, choices.zero_error(draws, level)))
    return Readings(first, second, sharp_first=lines, wheel=wheel, zero_error=error)


def _of_sphere(draws: SplitMix64, level: int) -> Readings:
    """One reading of a sphere with a zero error, which at level 1 does not carry it across zero."""
    while True:
        shown, error = choices.reading(draws, level), choices.zero_error(draws, level)
        if level > 1 or shown * (shown - error) > 0:
            return Readings(shown, sharp_first=Lines.BOTH, zero_error=error)


def _told(taken: Readings) -> str:
    order = ("sphere", "cylinder") if taken.sharp_first is Lines.SPHERE else ("cylinder", "sphere")
    second = snapped(taken.first + taken.travel)
    return (
        f"{_no_lens(taken.zero_error)}With a lens the {order[0]} lines are sharp first, at "
        f"{write_power(taken.first)} D, then the {order[1]} lines at {write_power(second)} D. The "
        f"wheel reads {write_axis(taken.wheel)}."
    )


def _no_lens(error: float) -> str:
    return f"With no lens the drum reads {write_power(error)} D. " if error else ""


SKILLS = (
    Skill(
        "count",
        "Count between two readings",
        (_LEVEL_1, _LEVEL_2, f"{_LEVEL_3} Some hops land between the marks."),
        _count,
    ),
    Skill("cylinder", "The cylinder from two readings", (_LEVEL_1, _LEVEL_2, _LEVEL_3), _cylinder),
    Skill(
        "write-power",
        "Write the power of a lens",
        (
            f"{_LEVEL_1} Minus form.",
            f"{_LEVEL_2} Minus form.",
            f"{_LEVEL_3} Either form, either lines first, zero error, axes near 180.",
        ),
        _power,
    ),
    Skill(
        "zero-error",
        "Take off the zero error",
        (
            "A sphere in quarters that stays on one side of zero.",
            "A sphere in eighths.",
            "A lens with cylinder, read either way.",
        ),
        _zero_error,
    ),
    Skill(
        "addition",
        "The addition from two readings",
        (
            "Quarters, on one side of zero and of the change of step.",
            "With an eighth, or across zero or the change of step.",
            "Everything, with a zero error.",
        ),
        _addition,
    ),
    Skill(
        "axis-turned-round",
        "The axis read from the other side",
        ("Axes in fives.", "Any axis away from 180.", "Any axis, often near 180."),
        _axis_turned_round,
    ),
)
