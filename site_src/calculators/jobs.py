"""Many jobs at once: a slice of the lines of a file in, verdicts out. Nothing is remembered.

    {"id": 7, "jobs": {"head": null, "lines": ["job;eye;...", "..."], "first": 1, "more": true,
                       "standard": "ansi-z80-1-2015", "decimals": "eighths"}}
    {"id": 7, "ok": true, "head": {...}, "used": 57, "csv": "...", "counts": {...},
     "rows": [{"urgent", "cells", "fields"}], "unchecked": ["3", ...], "notes": [...]}

`unchecked` are the numbers of the lines with something that was not compared.
The next slice begins after the lines that were `used`, and gives back the `head`, which is null
until the line with the names of the columns has come.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass

from lensmath.errors import LensError
from lensmath.notation import Decimals
from lensmath.tolerances.model import Standard
from site_src.calculators import jobs_verdict
from site_src.calculators.fields import FieldError
from site_src.calculators.jobs_columns import NAMES, STANDARDS, UNSIGNED, is_unsigned, read_job
from site_src.calculators.jobs_file import (
    Head,
    Mistake,
    Record,
    is_empty,
    read_head,
    records,
    written,
)
from site_src.calculators.jobs_verdict import RESULTS, Row

# What is left of a power such as −2,25 when its comma ends the cell. Not 12: a lens may be +12.
_DECIMALS_ALONE = ("00", "25", "37", "50", "62", "75", "87")
_COMMAS = "A decimal comma needs quotation marks, or semicolons between the cells."


@dataclass(frozen=True)
class Slice:
    """Lines of a file, of which the first has the number `first`; `more` come after them."""

    lines: tuple[str, ...]
    first: int
    more: bool
    head: Head | None
    standard: Standard
    decimals: Decimals


def answer_slice(given: object) -> dict[str, object]:
    """The reply to a slice.

    Errors  FieldError when the file cannot be checked at all; LensError for an unknown standard;
            ValueError for what is no slice.
    """
    asked = _slice_of(given)
    used, head, csv = 0, asked.head, ""
    notes: tuple[str, ...] = ()
    if head is None:
        used = next((at for at, line in enumerate(asked.lines) if line.strip()), len(asked.lines))
        if used == len(asked.lines):
            if not asked.more:
                raise FieldError("", "The file is empty.")
            return _reply(None, used, "", (), ())
        head, lines, notes = read_head(asked.lines[used:], asked.first + used, RESULTS)
        used += lines
        csv = written([RESULTS], head.separator)
    found = list(records(asked.lines[used:], asked.first + used, head.separator, more=asked.more))
    rows = [
        _row(record, head, asked)
        for record in found
        if record.mistake or not is_empty(record.cells)
    ]
    csv += written((row.record for row in rows), head.separator)
    return _reply(head, used + sum(record.lines for record in found), csv, rows, notes)


def _reply(
    head: Head | None, used: int, csv: str, rows: Iterable[Row], notes: Iterable[str]
) -> dict[str, object]:
    counts: Counter[str] = Counter()
    for row in rows:
        counts.update(row.counts)
    return {
        "ok": True,
        "head": head and asdict(head),
        "used": used,
        "csv": csv,
        "counts": counts,
        "unchecked": [row.cells[0] for row in rows if row.counts.get("unchecked")],
        "rows": [{"urgent": row.urgent, "cells": row.cells, "fields": row.fields} for row in rows],
        "notes": list(notes),
    }


def _row(record: Record, head: Head, asked: Slice) -> Row:
    """The verdict on one record, or its mistakes."""
    cells = {
        name: cell for name, cell in zip(head.columns, record.cells, strict=False) if name and cell
    }
    mistakes = [record.mistake] if record.mistake else _torn(record, cells, head)
    if not mistakes:
        try:
            job = read_job(cells, asked.decimals, asked.standard)
            row = jobs_verdict.judged(record.line, job, asked.decimals, head.separator)
        except ExceptionGroup as group:
            errors = (error for error in group.exceptions if isinstance(error, FieldError))
            mistakes = [
                Mistake(error.field, error.message.removeprefix(f"{error.field}: "))
                for error in errors
            ]
        except FieldError as error:
            mistakes = [Mistake(error.field, error.message)]
        else:
            row.counts["unsigned"] = sum(is_unsigned(cells.get(name, "")) for name in UNSIGNED)
            return row
    return jobs_verdict.refused(record.line, cells, mistakes)


def _torn(record: Record, cells: Mapping[str, str], head: Head) -> list[Mistake]:
    """Whether decimal commas were taken for ends of cells: a lens read so is another lens."""
    for name in UNSIGNED:
        if head.separator == "," and cells.get(name) in _DECIMALS_ALONE:
            message = f"“{cells[name]}” is all that stands there. {_COMMAS}"
            return [Mistake(name, message)]
    if len(record.cells) <= len(head.columns):
        return []
    message = f"{len(record.cells)} cells; the first line names {len(head.columns)} columns."
    return [Mistake("", message + (f" {_COMMAS}" if head.separator == "," else ""))]


def _slice_of(given: object) -> Slice:
    match given:
        case {
            "head": head,
            "lines": [*lines],
            "first": int(first),
            "more": bool(more),
            "standard": str(standard),
            "decimals": str(decimals),
        } if all(isinstance(line, str) for line in lines):
            if standard not in STANDARDS:
                raise LensError(f"There is no standard “{standard[:60]}” here.")
            return Slice(
                tuple(lines), first, more, _head_of(head), STANDARDS[standard], Decimals(decimals)
            )
    raise ValueError("no slice")


def _head_of(given: object) -> Head | None:
    match given:
        case None:
            return None
        case {"separator": "," | ";" as separator, "columns": [*columns]} if all(
            name == "" or name in NAMES for name in columns
        ):
            return Head(separator, tuple(columns))
    raise ValueError("no head")
