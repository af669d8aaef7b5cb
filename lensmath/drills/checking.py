"""Problems of the final check: the verdict by a standard, and how far an axis may be off."""

from __future__ import annotations

from lensmath.drills import choices
from lensmath.drills.answers import AxisAnswer
from lensmath.drills.generator import SplitMix64
from lensmath.drills.problem import Asked, Skill, Value
from lensmath.drills.worded import VerdictAnswer
from lensmath.inspection import Verdict, inspect_lens, pass_window
from lensmath.notation import write_lens
from lensmath.power import LensPower, snapped, standard_axis
from lensmath.tolerances import find_standard
from lensmath.tolerances.model import Quantity, Standard

_KEYS = ("ansi-z80-1-2015", "iso-21987-2017")
_LEAST_CYLINDER = 0.5  # dioptres; a weaker one turns too far to be drilled


def _verdict(draws: SplitMix64, level: int) -> Asked:
    standard = _standard(draws, level)
    while True:
        ordered = _ordered(draws, level)
        measured = _remade(draws, level, ordered)
        report = inspect_lens(ordered, measured, standard)
        outside = [row for row in report.rows if row.verdict is Verdict.OUTSIDE]
        # Whether 0.125 D is inside a limit printed 0.12 hangs on the printing, not on the reader.
        if not any(row.near_limit for row in outside):
            break
    question = (
        f"Ordered: {write_lens(ordered)}. Measured: {write_lens(measured)}. Is it inside by the "
        f"tables of {standard.designation} for single vision? If not, which rows are outside: "
        "meridian power, cylinder, axis?"
    )
    given: dict[str, Value] = {"ordered": ordered, "measured": measured, "standard": standard}
    return Asked(question, given, VerdictAnswer(frozenset(row.quantity for row in outside)))


def _axis_window(draws: SplitMix64, level: int) -> Asked:
    standard = _standard(draws, level)
    end = draws.one_of(("first", "last"))
    degrees = None
    while degrees is None:
        ordered = _ordered(draws, level)
        axis = next(
            row for row in pass_window(ordered, standard).rows if row.quantity is Quantity.AXIS
        )
        degrees = axis.lowest if end == "first" else axis.highest
    question = (
        f"Ordered: {write_lens(ordered)}. By {standard.designation} for single vision a range of "
        f"axes passes. Counted upward and written for minus cylinder, which axis is the {end}?"
    )
    given: dict[str, Value] = {"ordered": ordered, "standard": standard, "end": end}
    return Asked(question, given, AxisAnswer(degrees))


def _standard(draws: SplitMix64, level: int) -> Standard:
    return find_standard(_KEYS[0] if level == 1 else draws.one_of(_KEYS))


def _ordered(draws: SplitMix64, level: int) -> LensPower:
    while True:
        lens = choices.lens(draws, level)
        if abs(lens.cylinder) >= _LEAST_CYLINDER:
            return lens


def _remade(draws: SplitMix64, level: int, ordered: LensPower) -> LensPower:
    """The lens as it might have been made: up to a quarter off in power, and some degrees."""
    off = (0, 0, 0, -2, 2) if level == 1 else (0, 0, 0, -2, -1, 1, 2)
    axis = ordered.principal_meridians[0].direction
    sphere, cylinder = (draws.one_of(off) / 8 for _ in range(2))
    made = LensPower(
        snapped(ordered.sphere + sphere),
        # Never to nothing: a cylinder without power has no axis to compare.
        snapped(ordered.cylinder + (cylinder if abs(ordered.cylinder) > _LEAST_CYLINDER else 0)),
        standard_axis(axis + draws.between(-8, 8) * draws.between(0, 1)),
    )
    return made.transposed() if level == 3 and draws.between(0, 1) else made


SKILLS = (
    Skill(
        "verdict",
        "Inside or outside",
        (
            "Quarters, minus form, the American standard.",
            "With eighths, minus form, either standard.",
            "Everything: either form, each lens in its own; axes near 180.",
        ),
        _verdict,
    ),
    Skill(
        "axis-window",
        "How far the axis may be off",
        (
            "Axes in fives, minus form, the American standard.",
            "Any axis away from 180, minus form, either standard.",
            "Either form, axes near 180.",
        ),
        _axis_window,
    ),
)
