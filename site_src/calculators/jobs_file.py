"""The file of many jobs: records and the first line in, records out, as CSV (RFC 4180).

Commas between the cells go with decimal points, semicolons with decimal commas, as spreadsheets
have it. What is written can be read again.

A spreadsheet takes a cell that begins with = + - or @ for a formula, and a formula in a file from
somebody else can do harm. So a power is written as a bare number, which stays a number, and any
other text gets an apostrophe before such a sign, at its beginning and after whatever a spreadsheet
might take for the end of a cell. The apostrophe is taken off when the file is read again.
Source  cwe-1236
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from lensmath.power import snapped
from site_src.calculators.fields import FieldError
from site_src.calculators.jobs_columns import NAMES

MOST_LINES = 8  # of one record: a quotation mark that stays open must not swallow the file
LONGEST = 10_000  # characters of a line; a row of the template has about 100
_SEPARATORS = (",", ";")
_SIGNS = "=+\\-@\uff1d\uff0b\uff0d\uff20"  # the full-width ones too
_RISKY = re.compile(rf"((?:^|[,;])[\s\"']*)(?=[{_SIGNS}])")
_GUARDED = re.compile(rf"((?:^|[,;])[\s\"']*)'(?=[{_SIGNS}])")
_SHORT = {"sph": "sphere", "cyl": "cylinder", "ax": "axis", "add": "addition"}
_CONTROLS = dict.fromkeys((*range(0x20), *range(0x7F, 0xA0)), " ")
_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?")


class Mistake(NamedTuple):
    """What is wrong in a line; `column` is empty when it is the line itself."""

    column: str
    message: str


class Record(NamedTuple):
    """The cells that begin in a line of the file, or why they cannot be told apart."""

    line: int
    cells: tuple[str, ...]
    mistake: Mistake | None
    lines: int  # that it takes


@dataclass(frozen=True)
class Head:
    """The first line understood: the separator, and a column's name, or "", for each cell."""

    separator: str
    columns: tuple[str, ...]


# In -----------------------------------------------------------------------------------------------


def records(
    lines: Sequence[str], first: int, separator: str, *, more: bool = False
) -> Iterator[Record]:
    """The records of these lines, of which `first` is the number of the first one.

    With `more` lines to come, a record that may go on in them is left for later; one always comes.
    """
    at = 0
    while at < len(lines) and (at == 0 or not more or len(lines) - at >= MOST_LINES):
        record = _record(lines[at : at + MOST_LINES], first + at, separator)
        yield record
        at += record.lines


def _record(lines: Sequence[str], line: int, separator: str) -> Record:
    if len(lines[0]) > LONGEST:
        message = f"{len(lines[0])} characters or more; up to {LONGEST} are allowed."
        return Record(line, (), Mistake("", message), 1)
    reader = csv.reader((f"{each[:LONGEST]}\n" for each in lines), delimiter=separator, strict=True)
    try:
        cells = next(reader)
    except csv.Error:
        message = (
            "a quotation mark is not closed, or text follows a closed one. Inside a quoted cell "
            "a quotation mark is written twice."
        )
        return Record(line, (), Mistake("", message), 1)
    return Record(line, tuple(_read(cell) for cell in cells), None, reader.line_num)


def _read(cell: str) -> str:
    """A cell as text on one line, without control characters and without our apostrophes."""
    return _GUARDED.sub(r"\1", " ".join(cell.translate(_CONTROLS).split()))


def is_empty(cells: Iterable[str]) -> bool:
    """Whether nothing stands in a record; spreadsheets save rows of separators alone."""
    return not any(cells)


def read_head(
    lines: Sequence[str], first: int, results: Iterable[str]
) -> tuple[Head, int, tuple[str, ...]]:
    """The first record understood, the lines that it takes, and what to tell about it.

    Columns may come in any order and in capitals. `results` are the names of columns that an
    earlier check wrote; they are passed over.

    Errors  FieldError when it names no column, the same one twice, or not enough of them, and when
            a name looks like a column of the template, but is none.
    """
    found = [next(records(lines, first, separator)) for separator in _SEPARATORS]
    known = [len(set(NAMES) & set(map(_plain_name, record.cells))) for record in found]
    record = found[known.index(max(known))]
    if not max(known):
        seen = f": {_quoted(record.cells)}" if record.cells else ""
        raise FieldError(
            "",
            f"Line {first} names no column of the template{seen}. The first line has to name the "
            "columns, with commas or semicolons between them, such as job, eye, ordered, measured "
            "sphere.",
        )
    names = [_plain_name(cell) for cell in record.cells]
    ours = {*NAMES, *results}
    strange = [
        cell for cell, name in zip(record.cells, names, strict=True) if cell and name not in ours
    ]
    _refuse_misnamed(strange, names, first)
    notes: tuple[str, ...] = ()
    if strange:
        notes = (
            f"These columns are not used, and are left out of the result: {_quoted(strange)}.",
        )
    columns = tuple(name if name in NAMES else "" for name in names)
    return Head(_SEPARATORS[found.index(record)], columns), record.lines, notes


def _plain_name(cell: str) -> str:
    return " ".join(re.split(r"[\s_-]+", cell.casefold()))


def _refuse_misnamed(strange: Sequence[str], names: Sequence[str], line: int) -> None:
    """A column left out by mistake would turn good lenses into bad ones, so nothing is checked."""
    near = {cell: meant for cell in strange if (meant := _meant(cell))}
    if near:
        columns = "columns" if len(near) > 1 else "column"
        are = "are" if len(near) > 1 else "is"
        guesses = "; ".join(
            f"“{cell[:40]}” could be {' or '.join(meant)}"
            for cell, meant in list(near.items())[:12]
        )
        raise FieldError(
            "",
            f"Line {line}: the {columns} {_quoted(near)} {are} not known here, and nothing was "
            f"checked. {guesses}. Name it so. The columns are {', '.join(NAMES)}. A column that "
            "is not to be used needs another name.",
        )
    twice = [name for name in NAMES if names.count(name) > 1]
    if twice:
        raise FieldError("", f"Line {line}: the column {_quoted(twice)} stands there twice.")
    for side in ("ordered", "measured"):
        if not {side, f"{side} sphere"} & set(names):
            raise FieldError(
                "",
                f"Line {line}: the {side} lens is missing. It needs a column “{side}”, or "
                f"“{side} sphere”, “{side} cylinder” and “{side} axis”.",
            )


def _meant(cell: str) -> list[str]:
    """The columns that share the most words with this name; none when no word is shared."""
    words = {_SHORT.get(word, word) for word in _plain_name(cell).split()}
    shared = {name: len(words & set(name.split())) for name in NAMES}
    most = max(shared.values())
    return [name for name, many in shared.items() if many == most] if most else []


def _quoted(names: Iterable[str]) -> str:
    return ", ".join(f"“{name[:40]}”" for name in list(names)[:12])


# The template. Its jobs and lenses are invented.
_TEMPLATE = (
    {
        "job": "1001",
        "eye": "right",
        "ordered sphere": "-2.00",
        "ordered cylinder": "-0.75",
        "ordered axis": "5",
        "measured sphere": "-2.00",
        "measured cylinder": "-0.75",
        "measured axis": "3",
    },
    {"job": "1001", "eye": "left", "ordered sphere": "-1.75", "measured sphere": "-2.00"},
    {
        "job": "1002",
        "eye": "right",
        "ordered sphere": "+1.25",
        "ordered addition": "+2.00",
        "ordered prism": "2 BI",
        "measured sphere": "+1.25",
        "measured addition": "+2.00",
        "measured prism": "1.75 BI",
        "standard": "ansi-z80-1-2015",
    },
)


# Out ----------------------------------------------------------------------------------------------


def written(rows: Iterable[Iterable[str]], separator: str) -> str:
    """Records as CSV."""
    file = io.StringIO()
    csv.writer(file, delimiter=separator, lineterminator="\r\n").writerows(rows)
    return file.getvalue()


def template(separator: str) -> str:
    """A file to fill: every column but the lens on one line, which a spreadsheet would change."""
    names = [name for name in NAMES if name not in ("ordered", "measured")]
    mark = "," if separator == ";" else "."
    rows = [[row.get(name, "").replace(".", mark) for name in names] for row in _TEMPLATE]
    return written([names, *rows], separator)


def harmless(text: str) -> str:
    """A text that no spreadsheet takes for a formula.

    >>> harmless("=1+1"), harmless("A-17"), harmless("-17"), harmless("a;@b")
    ("'=1+1", 'A-17', '-17', "a;'@b")
    """
    return text if _NUMBER.fullmatch(text) else _RISKY.sub(r"\1'", text)


def signed(value: float, separator: str) -> str:
    """A power as a spreadsheet reads it: sign, two decimals or as many as it needs.

    >>> signed(-1.375, ","), signed(2, ";"), signed(0, ",")
    ('-1.375', '+2,00', '0.00')
    """
    sign = "-" if snapped(value) < 0 else "+" if snapped(value) > 0 else ""
    return sign + unsigned(value, separator)


def unsigned(value: float, separator: str, decimals: int = 2) -> str:
    """The size of a number, with at least so many decimals."""
    whole, _, part = f"{snapped(abs(value)):.9f}".partition(".")
    part = part.rstrip("0").ljust(decimals, "0")
    mark = "," if separator == ";" else "."
    return f"{whole}{mark}{part}" if part else whole
