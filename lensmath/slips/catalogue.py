"""The catalogue: every slip as a named object, in the order of the work.

The slips are common practice in teaching (Source  common-practice). That the cylinder lines are
taken first and that lenses are mixed up is told in print (Source  cook-2005), and so are the
incomplete changes of form (Source  study-page-optics-traps).

Where two slips would always end in the same power, the situation decides between them: a plus
cylinder written as minus is an unfinished change of form, a minus cylinder written as plus has lost
its sign; an axis 90 off is a matter of the lines where the cylinder lines were sharp first. Of the
digits of an axis the last two may be exchanged: the first two would give an axis 90 off, or none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import pairwise
from math import ceil, copysign, floor

from lensmath.power import snapped, standard_axis
from lensmath.readings import Lines, Readings
from lensmath.slips.work import Slip, Stage, Work, on_drum

_EIGHTH, _QUARTER = 0.125, 0.25
_WHEEL_MARKS = (10, 5)  # degrees from number to number, and from longer mark to longer mark

_Misread = Callable[[Readings], Iterable[Readings]]
_Wrong = Callable[[Work], Iterable[Work]]


def _reading(name: str, sentence: str, misread: _Misread) -> Slip:
    def made(work: Work) -> Iterator[Work]:
        for readings in misread(work.readings):
            yield Work.on(readings, work.situation)

    return Slip(name, Stage.READING, sentence, made)


def _counting(name: str, sentence: str, made: _Wrong) -> Slip:
    return Slip(name, Stage.COUNTING, sentence, made)


def _writing(name: str, sentence: str, made: _Wrong) -> Slip:
    return Slip(name, Stage.WRITING, sentence, made)


# Reading ------------------------------------------------------------------------------------------


def _other_eye(work: Work) -> Iterator[Work]:
    if work.situation.other_eye is not None:
        yield Work.on(work.situation.other_eye, work.situation)


def _zero_error_left(readings: Readings) -> Iterator[Readings]:
    yield replace(readings, zero_error=0.0)


def _zero_error_added(readings: Readings) -> Iterator[Readings]:
    yield replace(readings, zero_error=-readings.zero_error)


def _first_across_zero(readings: Readings) -> Iterator[Readings]:
    one_reading = readings.travel == 0 and readings.second is not None
    second = -readings.first if one_reading else readings.second
    yield replace(readings, first=-readings.first, second=second, turned=None)


def _second_across_zero(readings: Readings) -> Iterator[Readings]:
    if readings.second is not None and readings.travel != 0:
        yield replace(readings, second=-readings.second, turned=None)


def _from_the_front(readings: Readings) -> Iterator[Readings]:
    if readings.wheel is not None:
        yield replace(readings, wheel=standard_axis(180 - readings.wheel))


def _wheel_backwards(readings: Readings) -> Iterator[Readings]:
    wheel = readings.wheel
    if wheel is not None:
        for apart in _WHEEL_MARKS:
            for mark in (floor(wheel / apart) * apart, ceil(wheel / apart) * apart):
                yield replace(readings, wheel=standard_axis(2 * mark - wheel))


def _turned_by_90(readings: Readings) -> Iterator[Readings]:
    if readings.wheel is not None and readings.sharp_first is not Lines.CYLINDER:
        yield replace(readings, wheel=standard_axis(readings.wheel + 90))


def _lines_confused(readings: Readings) -> Iterator[Readings]:
    if readings.sharp_first is Lines.CYLINDER:
        yield replace(readings, sharp_first=Lines.SPHERE)


OTHER_EYE = Slip(
    "other eye",
    Stage.READING,
    "The lens of the other eye was written.",
    _other_eye,
)
ZERO_ERROR_LEFT = _reading(
    "zero error left in",
    "The zero error was left in; it is taken from every reading.",
    _zero_error_left,
)
ZERO_ERROR_ADDED = _reading(
    "zero error added",
    "The zero error was added to the readings; it is taken from them, with its sign.",
    _zero_error_added,
)
FIRST_ACROSS_ZERO = _reading(
    "first reading across zero",
    "The first reading was taken on the wrong side of zero.",
    _first_across_zero,
)
SECOND_ACROSS_ZERO = _reading(
    "second reading across zero",
    "The second reading was taken on the wrong side of zero.",
    _second_across_zero,
)
FROM_THE_FRONT = _reading(
    "read from the front",
    "The lens was read from its front, where the wheel shows 180 less the axis.",
    _from_the_front,
)
WHEEL_BACKWARDS = _reading(
    "wheel read backwards",
    "The degrees on the wheel were counted from a mark in the wrong direction.",
    _wheel_backwards,
)
AXIS_90_OFF = _reading(
    "axis 90 off",
    "The axis is 90 degrees off: it was turned without need, or not turned with the form.",
    _turned_by_90,
)
LINES_CONFUSED = _reading(
    "lines confused",
    "The cylinder lines were sharp first and were taken for the sphere lines, so the axis is 90 "
    "degrees off.",
    _lines_confused,
)


# Counting -----------------------------------------------------------------------------------------


def _still_right(work: Work) -> bool:
    """The travel is counted once, so it goes wrong in one way only."""
    return work.axis is not None and work.cylinder == work.readings.travel


def _reading_for_cylinder(work: Work) -> Iterator[Work]:
    second = work.readings.corrected[1]
    if work.readings.second is not None and second != 0 and _still_right(work):
        yield work.rewritten(work.sphere, second)


def _zero_error_from_one(work: Work) -> Iterator[Work]:
    zero = work.readings.zero_error
    if _still_right(work):
        yield work.rewritten(work.sphere, work.cylinder + zero)
        yield work.rewritten(work.sphere + zero, work.cylinder - zero)


def _sizes_subtracted(work: Work) -> Iterator[Work]:
    if _still_right(work):
        first, second = on_drum(work.readings)
        yield work.rewritten(work.sphere, copysign(abs(second) - abs(first), work.cylinder))


def _step_sizes(work: Work) -> Iterator[list[float]]:
    """The steps between the marks of the travel: all of them, then those after whole dioptres."""
    first, second = on_drum(work.readings)
    scale = work.situation.scale
    count = scale.count(first, second)
    marks = (first, *count.passed) if scale.is_mark(first) else count.passed
    yield [snapped(abs(end - start)) for start, end in pairwise(marks)]
    yield [leg.size for leg in count.legs if leg.kind == "step"]


def _counted_as(wrong_step: Callable[[set[float]], float | None]) -> _Wrong:
    """Every mark of the travel counted as `wrong_step` of the steps that are really there."""

    def made(work: Work) -> Iterator[Work]:
        if not _still_right(work):
            return
        for sizes in _step_sizes(work):
            step = wrong_step(set(sizes))
            if step is not None:
                size = abs(work.cylinder) - sum(sizes) + step * len(sizes)
                yield work.rewritten(work.sphere, copysign(size, work.cylinder))

    return made


def _sphere_a_dioptre_off(work: Work) -> Iterator[Work]:
    for whole in (1, -1):
        yield work.rewritten(work.sphere + whole, work.cylinder)


def _cylinder_a_dioptre_off(work: Work) -> Iterator[Work]:
    if work.cylinder != 0 and _still_right(work):
        for size in (abs(work.cylinder) + 1, abs(work.cylinder) - 1):
            if size > 0:
                yield work.rewritten(work.sphere, copysign(size, work.cylinder))


def _cylinder_left_off(work: Work) -> Iterator[Work]:
    if _still_right(work):
        yield work.rewritten(work.sphere, 0)


READING_FOR_CYLINDER = _counting(
    "reading for cylinder",
    "One reading was written as the cylinder; the cylinder is the travel between the two readings.",
    _reading_for_cylinder,
)
ZERO_ERROR_FROM_ONE = _counting(
    "zero error from one reading",
    "The zero error was taken from one of the readings only; it is taken from both.",
    _zero_error_from_one,
)
SIZES_SUBTRACTED = _counting(
    "sizes subtracted",
    "The readings lie on either side of zero and were subtracted without their signs; across zero "
    "the two sizes add up to the travel.",
    _sizes_subtracted,
)
EIGHTHS_AS_QUARTERS = _counting(
    "eighths as quarters",
    "The marks are eighths of a dioptre and were counted as quarters.",
    _counted_as(lambda sizes: _QUARTER if sizes == {_EIGHTH} else None),
)
QUARTERS_AS_EIGHTHS = _counting(
    "quarters as eighths",
    "The marks are quarters of a dioptre and were counted as eighths.",
    _counted_as(lambda sizes: _EIGHTH if sizes == {_QUARTER} else None),
)
FINE_STEP_KEPT = _counting(
    "fine step kept",
    "The step of the scale changes on the way, and all marks were counted as the finer step.",
    _counted_as(lambda sizes: min(sizes) if len(sizes) > 1 else None),
)
COARSE_STEP_TOO_SOON = _counting(
    "coarse step too soon",
    "The step of the scale changes on the way, and all marks were counted as the coarser step.",
    _counted_as(lambda sizes: max(sizes) if len(sizes) > 1 else None),
)
SPHERE_A_DIOPTRE_OFF = _counting(
    "sphere a dioptre off",
    "The sphere is one whole dioptre off.",
    _sphere_a_dioptre_off,
)
CYLINDER_A_DIOPTRE_OFF = _counting(
    "cylinder a dioptre off",
    "One whole dioptre was miscounted between the two readings.",
    _cylinder_a_dioptre_off,
)
CYLINDER_LEFT_OFF = _counting(
    "cylinder left off",
    "Only one of the two readings was written, as a sphere; the cylinder and its axis were left "
    "off.",
    _cylinder_left_off,
)


# Writing ------------------------------------------------------------------------------------------


def _sizes_added(work: Work) -> Iterator[Work]:
    if work.cylinder != 0 and abs(work.cylinder) == abs(work.readings.travel):
        first, second = work.readings.corrected
        yield work.rewritten(work.sphere, copysign(abs(first) + abs(second), work.cylinder))


def _exchanged(work: Work) -> Iterator[Work]:
    if work.cylinder != 0:
        yield work.rewritten(work.cylinder, work.sphere)


def _sphere_kept(work: Work) -> Iterator[Work]:
    if work.cylinder != 0:
        yield work.rewritten(work.sphere, -work.cylinder).turned_by_90()


def _plus_form_as_minus(work: Work) -> Iterator[Work]:
    if work.cylinder > 0:
        yield work.rewritten(work.sphere, -work.cylinder)


def _cylinder_sign_dropped(work: Work) -> Iterator[Work]:
    if work.cylinder < 0:
        yield work.rewritten(work.sphere, -work.cylinder)


def _sphere_sign_dropped(work: Work) -> Iterator[Work]:
    if work.sphere < 0:
        yield work.rewritten(-work.sphere, work.cylinder)


def _sphere_as_minus(work: Work) -> Iterator[Work]:
    if work.sphere > 0:
        yield work.rewritten(-work.sphere, work.cylinder)


def _both_signs_wrong(work: Work) -> Iterator[Work]:
    if work.sphere != 0 and work.cylinder != 0:
        yield work.rewritten(-work.sphere, -work.cylinder)


def _axis_as(miswritten: Callable[[float], float]) -> _Wrong:
    """A whole axis with its digits wrong, where what is written is an axis too."""

    def made(work: Work) -> Iterator[Work]:
        if work.axis is not None and work.axis.is_integer():
            axis = miswritten(work.axis)
            if 0 < axis <= 180:
                yield work._replace(axis=axis)

    return made


def _digits_exchanged(axis: float) -> float:
    tens, ones = divmod(axis % 100, 10)
    return axis + 9 * (ones - tens)


SIZES_ADDED = _writing(
    "sizes added",
    "The readings lie on one side of zero and their sizes were added; there the travel is the "
    "larger size less the smaller.",
    _sizes_added,
)
EXCHANGED = _writing(
    "sphere and cylinder exchanged",
    "Sphere and cylinder were exchanged.",
    _exchanged,
)
SPHERE_KEPT = _writing(
    "sphere kept",
    "The form was changed but the sphere kept; the new sphere is the old sphere plus the cylinder.",
    _sphere_kept,
)
PLUS_FORM_AS_MINUS = _writing(
    "plus form as minus",
    "A plus cylinder was written as minus and nothing else changed; the other form also needs "
    "another sphere and the axis turned by 90.",
    _plus_form_as_minus,
)
CYLINDER_SIGN_DROPPED = _writing(
    "cylinder sign dropped",
    "The minus sign of the cylinder was dropped.",
    _cylinder_sign_dropped,
)
SPHERE_SIGN_DROPPED = _writing(
    "sphere sign dropped",
    "The minus sign of the sphere was dropped.",
    _sphere_sign_dropped,
)
SPHERE_AS_MINUS = _writing(
    "sphere as minus",
    "The sphere is plus and was written as minus.",
    _sphere_as_minus,
)
BOTH_SIGNS_WRONG = _writing(
    "both signs wrong",
    "Sphere and cylinder both have the wrong sign, as if both signs were dropped or the lens that "
    "neutralises this one were written.",
    _both_signs_wrong,
)
DIGITS_EXCHANGED = _writing(
    "digits of the axis exchanged",
    "The last two digits of the axis were exchanged.",
    _axis_as(_digits_exchanged),
)
DIGIT_LOST = _writing(
    "digit of the axis lost",
    "The first of the three digits of the axis was lost.",
    _axis_as(lambda axis: axis % 100),
)


CATALOGUE = (
    OTHER_EYE,
    ZERO_ERROR_LEFT,
    ZERO_ERROR_ADDED,
    FIRST_ACROSS_ZERO,
    SECOND_ACROSS_ZERO,
    FROM_THE_FRONT,
    WHEEL_BACKWARDS,
    AXIS_90_OFF,
    LINES_CONFUSED,
    READING_FOR_CYLINDER,
    ZERO_ERROR_FROM_ONE,
    SIZES_SUBTRACTED,
    EIGHTHS_AS_QUARTERS,
    QUARTERS_AS_EIGHTHS,
    FINE_STEP_KEPT,
    COARSE_STEP_TOO_SOON,
    SPHERE_A_DIOPTRE_OFF,
    CYLINDER_A_DIOPTRE_OFF,
    CYLINDER_LEFT_OFF,
    SIZES_ADDED,
    EXCHANGED,
    SPHERE_KEPT,
    PLUS_FORM_AS_MINUS,
    CYLINDER_SIGN_DROPPED,
    SPHERE_SIGN_DROPPED,
    SPHERE_AS_MINUS,
    BOTH_SIGNS_WRONG,
    DIGITS_EXCHANGED,
    DIGIT_LOST,
)
"""Every slip, in the order of the work."""
