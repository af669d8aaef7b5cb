"""Inspection of a pair: all that was measured of both lenses against the order, and one verdict."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from lensmath.errors import LensError
from lensmath.eye import Eye
from lensmath.inspection import Check, Report, Verdict
from lensmath.job import MeasuredLens
from lensmath.lens_inspection import inspect_unmounted
from lensmath.notation import Decimals
from lensmath.pair_inspection import Misfit, inspect_pair
from lensmath.power import snapped
from lensmath.tolerances.model import LensState, LensType, Quantity, Standard
from site_src.calculators import pair_entries, rows
from site_src.calculators.answer import Answer, Datum, Line, Step, amount, cut_eighths, say, word
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, FieldError, on_field
from site_src.calculators.pair_entries import Entries
from site_src.calculators.scope import LENS_TYPE, STANDARD, Scope
from site_src.figures.svg import Figure

_NAMED = 3  # things not checked that the headline names; more are counted
_ENTRIES = {
    Quantity.HORIZONTAL_IMBALANCE: "the horizontal prism of both lenses",
    Quantity.VERTICAL_IMBALANCE: "the vertical prism of both lenses",
    Quantity.PRISM_ERROR: "the horizontal and the vertical prism",
    Quantity.PRP_DISPLACEMENT: "the displacement",
    Quantity.PRP_SEPARATION: "the PD",
    Quantity.PRP_DISTANCE: "both monocular PDs",
}
_PLACE = {Quantity.HORIZONTAL_IMBALANCE: "PD", Quantity.VERTICAL_IMBALANCE: "height"}
# What the form calls the things that an order may ask for where the standard sets no limit.
_WITHOUT_LIMIT = {
    Quantity.PRP_SEPARATION: "PD",
    Quantity.SEGMENT_SEPARATION: "near PD",
    Quantity.PRP_DISTANCE: "monocular PD",
    Quantity.FITTING_POINT_DISTANCE: "monocular PD",
    Quantity.PRP_HEIGHT_DIFFERENCE: "height",
    Quantity.SEGMENT_HEIGHT: "height",
    Quantity.FITTING_POINT_HEIGHT: "height",
    Quantity.CENTRE_THICKNESS: "centre thickness",
    Quantity.BASE_CURVE: "base curve",
}


def solve(lens_type: LensType, standard: Scope, decimals: Decimals, **entered: object) -> Answer:
    """A row for each thing that was measured, one verdict, and what was not checked."""
    held = standard.checked(lens_type)
    entries = Entries(entered, lens_type, standard.state)
    report = _judged(entries, held)
    misfits = entries.misfits()
    parts = _parts(report)
    return Answer(
        headline=_headline(report, entries, misfits),
        also=tuple(_also(report, entries)),
        understood=(*entries.understood(), *cut_eighths(decimals, *_powers(entries))),
        tables=tuple(rows.verdict_table(checks, held, whose) for whose, checks in parts.items()),
        steps=tuple(step for row in report.rows for step in _steps(row)),
        figures=tuple(_figures(parts)),
        cautions=(
            *entries.contradictions(),
            *map(_misfit, misfits),
            *_cautions(report, entries),
        ),
        sources=rows.sources(held, report.rows),
    )


# Judging ------------------------------------------------------------------------------------------


def _judged(entries: Entries, standard: Standard) -> Report:
    """The report, without rows for which nothing that counts was measured."""
    if entries.nothing_measured():
        raise FieldError("right_measured", "enter at least one measured value, here or below.")
    if entries.state is LensState.MOUNTED:
        ordered, measured = entries.ordered, entries.measured
        with on_field("right_measured"):
            found = inspect_pair(ordered, measured, standard, entries.lens_type)
    else:
        found = _uncut(entries, standard)
    kept = tuple(row for row in found.rows if _compares(row))
    if not kept:
        raise FieldError(
            "right_measured",
            f"nothing was entered that {standard.designation} has a limit for. Enter the power, "
            "or what else was measured, of one lens at least.",
        )
    dropped = (row.quantity for row in found.rows if not _compares(row) and not _no_axis(row))
    unchecked = dict.fromkeys((*found.unchecked, *dropped))
    return Report(standard, kept, unchecked=tuple(unchecked))


def _uncut(entries: Entries, standard: Standard) -> Report:
    """Each lens on its own."""
    checks: list[Check] = []
    unchecked: list[Quantity] = []
    for eye in Eye:
        ordered, measured = entries.ordered.of(eye), entries.measured.of(eye)
        if measured == MeasuredLens():
            continue
        try:
            found = inspect_unmounted(ordered, measured, standard, entries.lens_type)
        except LensError:  # nothing of this lens has a limit; the other may have
            continue
        checks += (_before(eye, row) for row in found.rows)
        unchecked += found.unchecked
    return Report(standard, tuple(checks), unchecked=tuple(dict.fromkeys(unchecked)))


def _before(eye: Eye, row: Check) -> Check:
    """The row of a lens before this eye: horizontally, in counts as plus."""
    if row.quantity is not Quantity.HORIZONTAL_PRISM or row.ordered is None:
        return replace(row, eye=eye)
    ordered, measured = row.ordered, row.measured
    return replace(
        row,
        eye=eye,
        ordered=snapped(ordered * eye.inward),
        measured=None if measured is None else snapped(measured * eye.inward),
    )


def _compares(row: Check) -> bool:
    """Whether anything was measured that counts in this row."""
    if row.verdict is Verdict.NOT_COMPARABLE:
        return not _no_axis(row)
    return any(each.difference is not None for each in (row, *row.others))


def _no_axis(row: Check) -> bool:
    """Whether the row is about the axis of a sphere."""
    return row.quantity is Quantity.AXIS and row.ordered is None


def _parts(report: Report) -> dict[str, list[Check]]:
    """The rows of the right eye, of the left eye, of the pair; none that is empty."""
    names: dict[Eye | None, str] = {
        **{eye: f"{eye.value.capitalize()} eye" for eye in Eye},
        None: "Both eyes",
    }
    parts = {name: [row for row in report.rows if row.eye is eye] for eye, name in names.items()}
    return {name: checks for name, checks in parts.items() if checks}


# What is said -------------------------------------------------------------------------------------


def _headline(report: Report, entries: Entries, misfits: Sequence[Misfit]) -> Line:
    if misfits and report.verdict is Verdict.INSIDE:
        undecided = Datum("verdict", Verdict.UNDECIDED.value, "Undecided")
        places = " and the ".join(_PLACE[each.quantity] for each in misfits)
        return say(f"{{verdict}}: the prism entered does not fit the {places}", verdict=undecided)
    said = word(report.verdict.value, "verdict")
    verdict = replace(said, shown=said.shown.capitalize())
    seen = ", from memory" if _from_memory(report) else ""
    if report.verdict is Verdict.INSIDE:
        missing = _missing_in_short(report, entries)
        if not missing:
            return say(f"{{verdict}}{seen}", verdict=verdict)
        return say(f"{{verdict}} so far{seen}: {missing} not checked", verdict=verdict)
    outside = [row for row in report.rows if row.verdict is Verdict.OUTSIDE]
    more = f", and {len(outside) - 1} more" if len(outside) > 1 else ""
    return say(
        f"{{verdict}}{rows.but_near(outside)}{seen}: {{worst}}{more}",
        verdict=verdict,
        worst=_worst(report),
    )


def _misfit(misfit: Misfit) -> str:
    """The caution for prism that contradicts a place, with what follows from the place."""
    return (
        f"From the measured {_PLACE[misfit.quantity]}, a prism error of "
        f"{_error(misfit.quantity, misfit.follows)} follows by Prentice’s rule, but the prism "
        f"entered has {_error(misfit.quantity, misfit.measured)}. Read the prism at the ordered PD "
        "and height, before the pupil, not where the target stands in the middle."
    )


def _error(quantity: Quantity, error: float) -> str:
    bases = ("in", "out")
    if quantity is Quantity.VERTICAL_IMBALANCE:
        bases = ("up before the right eye", "down before the right eye")
    shown = f"{abs(error):.2f}"
    return "none" if shown == "0.00" else f"{shown} Δ base {bases[error < 0]}"


def _missing_in_short(report: Report, entries: Entries) -> str:
    """What was not checked, in a few words; the whole of it stands below the headline."""
    unlimited = {_WITHOUT_LIMIT.get(quantity) for quantity in report.unchecked}
    ordered = (name for name in entries.details_ordered() if name in unlimited)
    names = tuple(dict.fromkeys((*entries.not_measured_in_short(), *ordered)))
    return ", ".join(names) if len(names) <= _NAMED else f"{len(names)} things"


def _worst(report: Report) -> Datum:
    row = report.worst
    return word(rows.in_sentence(row, rows.full_label(row)), "worst.row")


def _from_memory(report: Report) -> bool:
    """Whether the verdict on the job rests on a figure from memory.

    One row outside is enough, so then it rests on the surest of those.
    """
    outside = [row for row in report.rows if row.verdict is Verdict.OUTSIDE]
    if outside:
        return all(map(rows.marked, outside))
    return any(map(rows.marked, report.rows))


def _also(report: Report, entries: Entries) -> Iterator[Line]:
    worst = report.worst
    if worst.share is not None:
        yield say(
            "Worst row: {row}, {share} % of its limit.",
            row=_worst(report),
            share=amount(100 * worst.share, "worst.share", 0),
        )
    counts = {
        verdict.value: sum(row.verdict is verdict for row in report.rows) for verdict in Verdict
    }
    said = ", ".join(f"{count} {verdict}" for verdict, count in counts.items() if count)
    yield say(f"By {report.standard.designation}, {entries.lens_type.value}: {said}.")
    if missing := _not_checked(report, entries):
        yield say(f"Not checked: {', '.join(missing)}.")
    kind = entries.lens_type
    for row in report.rows:
        if row.verdict is Verdict.UNDECIDED:
            yield say(f"{rows.full_label(row)} is undecided: {_still_to_measure(row, kind)}.")


def _still_to_measure(row: Check, lens_type: LensType) -> str:
    missing = [_entry(each, lens_type) for each in row.others if each.difference is None]
    return f"it is outside, but another limit may still pass it; enter {' and '.join(missing)}"


def _entry(row: Check, lens_type: LensType) -> str:
    """The entries that a row is worked out from, as the form calls them."""
    if row.quantity is Quantity.PRP_HEIGHT_DIFFERENCE:
        single = lens_type is LensType.SINGLE_VISION
        return f"the height{'' if single else ' of the PRP'} of both lenses"
    return _ENTRIES.get(row.quantity) or f"the {rows.in_sentence(row)}"


def _not_checked(report: Report, entries: Entries) -> list[str]:
    unlimited = [
        f"{quantity.value} (no limit, or nothing measured that counts)"
        for quantity in report.unchecked
    ]
    heights = [entries.measured.of(eye).prp_height for eye in Eye]
    if heights.count(None) == 1:  # nothing else is compared with them
        unlimited.append("height of the PRP (measured of one lens only)")
    return [*entries.not_checked(), *unlimited]


def _steps(row: Check) -> Iterator[Step]:
    yield from rows.difference_steps(row)
    yield from rows.limit_steps(row)
    yield from rows.either_steps(row)
    if row.tolerance.note:
        yield Step(f"{rows.full_label(row)}, a note on the limit: {row.tolerance.note}")


def _figures(parts: dict[str, list[Check]]) -> Iterator[Figure]:
    for whose, checks in parts.items():
        gauged = [row for row in checks if row.ordered is not None]
        if gauged:
            yield rows.gauges(gauged, f"pair-{whose.split()[0].lower()}", mark=True)


def _cautions(report: Report, entries: Entries) -> Iterator[str]:
    yield from (rows.near_limit(row) for row in report.rows if row.near_limit)
    for row in report.rows:
        if row.verdict is Verdict.NOT_COMPARABLE:
            yield (
                f"{rows.full_label(row)}: an axis was ordered, but the measured lens has no "
                "cylinder to compare."
            )
    if report.remembered:
        yield rows.from_memory(report.standard)
    ordered = entries.ordered
    if entries.lens_type is LensType.SINGLE_VISION and any(
        ordered.of(eye).addition is not None for eye in Eye
    ):
        yield "An addition was ordered, but single vision was chosen. Choose the lens type."


def _powers(entries: Entries) -> Iterator[float | None]:
    for pair in (entries.ordered, entries.measured):
        for lens in (pair.right, pair.left):
            if lens.power is not None:
                yield from (lens.power.sphere, lens.power.cylinder)
            yield from (lens.addition, lens.base_curve)


_ORDER = {
    "right_ordered": "−2.00 −0.75 × 005 add +2.00",
    "right_ordered_distance": "31.5",
    "right_ordered_height": "20",
    "left_ordered": "−1.50 DS add +2.00",
    "left_ordered_distance": "32",
    "left_ordered_height": "20",
}

CALCULATOR = Calculator(
    slug="pair-inspection",
    title="Inspection of a pair",
    purpose="Enter the order and what you measured, as much as you have; get one verdict.",
    fields=(
        replace(
            LENS_TYPE,
            hint="Height is of the optical centre, of the segment top, or of the fitting point",
        ),
        STANDARD,
        *pair_entries.fields(),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "lens_type": "progressive",
                "standard": "ansi-z80-1-2015-mounted",
                **_ORDER,
                "right_measured": "−2.00 −0.75 × 178",
                "right_addition": "+2.12",
                "right_horizontal": "0",
                "right_vertical": "0",
                "right_distance": "31.5",
                "right_height": "20.5",
                "left_measured": "−1.62 DS",
                "left_addition": "+2.00",
                "left_horizontal": "0",
                "left_vertical": "0.25",
                "left_distance": "32.5",
                "left_height": "20",
            },
            prints={
                "verdict": "Outside",
                "worst.row": "right eye, axis",
                "right.axis.difference": "7",
                "vertical_imbalance.difference": "−0.25",
            },
            note="An invented pair.",
        ),
        Example(
            given={
                "standard": "ansi-z80-1-2015-mounted",
                "right_ordered": "−7.00 DS",
                "left_ordered": "−5.00 DS",
                "right_height": "22",
                "left_height": "20",
            },
            prints={
                "verdict": "Outside",
                "prp_height_difference.difference": "+2.00",
                "prp_height_difference.limit": "±1.00",
            },
            source="spectacle-verification-quiz",
            note="The heights are 2 mm apart; which of the two stands higher is not said.",
        ),
    ),
)
