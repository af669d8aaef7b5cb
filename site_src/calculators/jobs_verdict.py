"""The verdict on one job of a file: as a record of the result, and as a row of the page's table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lensmath.eye import Eye
from lensmath.inspection import Check, Report, Verdict, inspect_lens
from lensmath.job import MeasuredLens, OrderedLens
from lensmath.lens_inspection import inspect_unmounted
from lensmath.notation import Decimals
from lensmath.power import LensPower
from lensmath.prism import NO_PRISM, Prism
from lensmath.tolerances.model import LensType, Quantity
from site_src.calculators import rows
from site_src.calculators.answer import amount, plain
from site_src.calculators.fields import on_field
from site_src.calculators.jobs_columns import Job
from site_src.calculators.jobs_file import Mistake, harmless, signed, unsigned

_STEMS = {
    Quantity.CYLINDER: "cylinder",
    Quantity.AXIS: "axis",
    Quantity.ADDITION: "addition",
    Quantity.PRISM_ERROR: "prism",
    Quantity.HORIZONTAL_PRISM: "horizontal prism",
    Quantity.VERTICAL_PRISM: "vertical prism",
}
_MERIDIANS = ("power 1", "power 2")
_LENS = ("sphere", "cylinder", "axis", "addition", "prism")
RESULTS = (
    *("line", "job", "eye", "verdict", "worst", "% of limit"),
    *(f"{side} {part}" for side in ("ordered", "measured") for part in _LENS),
    "standard",
    *(f"{stem} along" for stem in _MERIDIANS),
    *(
        f"{stem} {what}"
        for stem in (*_MERIDIANS, *_STEMS.values())
        for what in ("difference", "limit")
    ),
    *("not checked", "near a limit", "limits from memory", "mistakes"),
)
_SHORT = 60  # characters of a job's name that the page shows


@dataclass(frozen=True)
class Row:
    """What is said of one row of the file.

    Shape   `record` has a cell for each of RESULTS; `cells` are line, job, eye, verdict and why,
            for the page; `fields` are the entries that work the lens out in the calculator
            `verification`, none for a row with mistakes. What is `urgent` is shown first.
    """

    record: tuple[str, ...]
    cells: tuple[str, ...]
    fields: Mapping[str, str] | None
    counts: dict[str, int]

    @property
    def urgent(self) -> bool:
        return Verdict.INSIDE.value not in self.counts


def judged(line: int, job: Job, decimals: Decimals, separator: str) -> Row:
    """The verdict on a job that was read.

    Errors  FieldError when its standard is not for such a lens.
    """
    report = _report(job)
    eye = job.eye.value if job.eye else ""
    verdict, worst = report.verdict.value, report.worst
    unchecked = _unchecked(job, report)
    near = [rows.label(row) for row in report.rows if row.near_limit]
    remembered = [rows.label(row) for row in report.remembered]
    values = {
        "line": str(line),
        "job": harmless(job.name),
        "eye": eye,
        "verdict": verdict,
        "worst": rows.label(worst),
        "% of limit": _percent(worst),
        **_lens_cells("ordered", job.ordered, job, separator),
        **_lens_cells("measured", job.measured, job, separator),
        "standard": job.standard.key,
        **_check_cells(report, separator),
        "not checked": _listed(unchecked),
        "near a limit": _listed(near),
        "limits from memory": _listed(remembered),
    }
    flags = {"unchecked": unchecked, "near": near, "remembered": remembered}
    return Row(
        _record(values),
        (str(line), job.name[:_SHORT], eye, verdict, _why(report, worst)),
        _entries(job, decimals),
        {"lenses": 1, verdict: 1, **{name: int(bool(said)) for name, said in flags.items()}},
    )


def refused(line: int, cells: Mapping[str, str], mistakes: Sequence[Mistake]) -> Row:
    """A row that cannot be judged, with a sentence about every mistake."""
    said = " ".join(_sentence(line, mistake) for mistake in mistakes)
    job, eye = cells.get("job", ""), cells.get("eye", "")
    values = {
        "line": str(line),
        "job": harmless(job),
        "eye": harmless(eye),
        "verdict": "mistake",
        "mistakes": harmless(said),
    }
    shown = (str(line), job[:_SHORT], eye[:_SHORT], "mistake", said)
    return Row(_record(values), shown, None, {"lenses": 1, "mistake": 1})


def _report(job: Job) -> Report:
    assert job.measured.power is not None
    if job.measured.addition is None and job.measured.prism is None:
        return inspect_lens(job.ordered.power, job.measured.power, job.standard)
    kind = LensType.SINGLE_VISION if job.ordered.addition is None else LensType.MULTIFOCAL
    with on_field("standard"):
        return inspect_unmounted(job.ordered, job.measured, job.standard, kind)


def _unchecked(job: Job, report: Report) -> list[str]:
    found = [quantity.value for quantity in report.unchecked]
    if job.ordered.addition is not None and job.measured.addition is None:
        found.append("addition")
    if job.ordered.prism.amount and job.measured.prism is None:
        found.append("prism")
    return found + [rows.label(row) for row in report.rows if row.verdict is Verdict.NOT_COMPARABLE]


def _percent(row: Check) -> str:
    return "" if row.share is None else amount(100 * row.share, "share", 0).shown


def _why(report: Report, worst: Check) -> str:
    """The rows that are not inside, or how much of a limit an inside lens uses."""
    bad = [row for row in report.rows if row.verdict in (Verdict.OUTSIDE, Verdict.UNDECIDED)]
    if bad:
        return "; ".join(_against_limit(row) for row in bad)
    percent = _percent(worst)
    return f"{percent} % of a limit: {rows.label(worst)}" if percent else ""


def _against_limit(row: Check) -> str:
    unit = row.tolerance.unit.value
    unit = unit if unit == "°" else f" {unit}"
    difference, limit = (plain((each,)) for each in (rows.difference(row), rows.limit(row)))
    return f"{rows.label(row)} {difference}{unit}, limit {limit}{unit}"


# Cells --------------------------------------------------------------------------------------------


def _record(values: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(values.get(name, "") for name in RESULTS)


def _lens_cells(
    side: str, lens: OrderedLens | MeasuredLens, job: Job, separator: str
) -> dict[str, str]:
    """A lens in bare numbers; its prism as text, which begins with a digit."""
    power = lens.power or LensPower(0.0)
    addition, prism = lens.addition, lens.prism
    if side == "ordered" and prism == NO_PRISM:
        prism = None
    return {
        f"{side} sphere": signed(power.sphere, separator),
        f"{side} cylinder": signed(power.cylinder, separator),
        f"{side} axis": "" if power.axis is None else unsigned(power.axis, separator, 0),
        f"{side} addition": "" if addition is None else signed(addition, separator),
        f"{side} prism": "" if prism is None else _written_prism(prism, job.eye, separator),
    }


def _written_prism(prism: Prism, eye: Eye | None, separator: str) -> str:
    """Its parts by the eye's own words, or without an eye its amount and direction."""
    if prism.base is None:
        return "0"
    if eye is None:
        size = unsigned(prism.amount, separator)
        return f"{size} @ {unsigned(round(prism.base, 6), separator, 0)}"
    parts = (prism.horizontal(eye), prism.vertical)
    return " ".join(
        f"{unsigned(part.amount, separator)} {part.base.letters}" for part in parts if part.base
    )


def _check_cells(report: Report, separator: str) -> dict[str, str]:
    """The difference and the limit of every row, empty where there is none."""
    cells = {}
    meridians = iter(_MERIDIANS)
    for row in report.rows:
        stem = _STEMS.get(row.quantity) or next(meridians)
        degrees = row.quantity is Quantity.AXIS
        if row.meridian is not None:
            cells[f"{stem} along"] = unsigned(row.meridian, separator, 0)
        if row.difference is not None:
            cells[f"{stem} difference"] = (
                unsigned(row.difference, separator, 0)
                if degrees
                else signed(row.difference, separator)
            )
        if row.limit is not None:
            cells[f"{stem} limit"] = unsigned(row.limit, separator, 0 if degrees else 2)
    return cells


def _entries(job: Job, decimals: Decimals) -> dict[str, str]:
    """The entries of the calculator that works out the power of this lens."""
    ordered, measured = job.ordered.power, job.measured.power or LensPower(0.0)
    lens = f"{signed(ordered.sphere, ',')} {signed(ordered.cylinder, ',')} x {_axis(ordered)}"
    if ordered.axis is None:
        lens = f"{signed(ordered.sphere, ',')} DS"
    if job.ordered.addition is not None:
        lens += f" add {signed(job.ordered.addition, ',')}"
    if job.ordered.prism != NO_PRISM:
        lens += f" {_written_prism(job.ordered.prism, job.eye, ',')}"
    entries = {
        "ordered": lens,
        "sphere": signed(measured.sphere, ","),
        "standard": job.standard.key,
    }
    if measured.axis is not None:
        entries["cylinder"] = signed(measured.cylinder, ",")
        entries["measured_axis"] = _axis(measured)
    if decimals is Decimals.LITERAL:
        entries["decimals"] = decimals.value
    return entries


def _axis(power: LensPower) -> str:
    return "" if power.axis is None else unsigned(power.axis, ",", 0)


def _listed(said: Sequence[str]) -> str:
    return ", ".join(said)


def _sentence(line: int, mistake: Mistake) -> str:
    place = f"Line {line}, {mistake.column}" if mistake.column else f"Line {line}"
    return f"{place}: {mistake.message}"
