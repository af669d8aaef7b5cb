"""What a calculator answers: text with its numbers marked, never HTML.

A `Line` is a sentence in pieces; each number in it is a `Datum` that keeps its full value and a
stable name beside the text that is shown. The templates put every datum into a `<data>` element,
so tests, scripts and the copied text all read the same answer.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple
from urllib.parse import urlencode

from lensmath.notation import (
    MINUS,
    TIMES,
    Decimals,
    is_cut,
    write_axis,
    write_exact,
    write_power,
)
from lensmath.power import LensPower, snapped
from site_src.figures.svg import Figure


@dataclass(frozen=True)
class Datum:
    """A number or word of the answer: its name, its full value and what is shown.

    `sign` is "minus" or "plus" when the shown text is a signed power, for its ink.
    """

    name: str
    value: float | str
    shown: str
    sign: str = ""


Line = tuple[str | Datum, ...]


def say(pattern: str, **data: Datum | Line | str) -> Line:
    """A line from a sentence with {names}, each filled by a datum, a line or plain text.

    >>> say("Axis {axis}.", axis=axis(5))
    ('Axis ', Datum(name='axis', value=5.0, shown='005', sign=''), '.')
    """
    pieces: list[str | Datum] = []
    for position, part in enumerate(_parted(pattern)):
        filling: Datum | Line | str = data[part] if position % 2 else part
        pieces.extend(filling if isinstance(filling, tuple) else (filling,))
    return tuple(piece for piece in pieces if piece != "")


@lru_cache(1000)  # most sentences come again with the next key
def _parted(pattern: str) -> list[str]:
    """Text and names in turn."""
    pattern = re.sub(r"\} (?=(?:D|DS|DC|mm|cm)\b|[%Δ])|(?<=×) (?=\{)", _kept_together, pattern)
    return re.split(r"\{(\w+)\}", pattern)


def _kept_together(gap: re.Match[str]) -> str:
    """A number and its unit, or × and the axis, must not part at the end of a line."""
    return gap[0].replace(" ", "\N{NO-BREAK SPACE}")


def plain(line: Line) -> str:
    """The line as text."""
    text = "".join(piece if isinstance(piece, str) else piece.shown for piece in line)
    return text.replace("\N{NO-BREAK SPACE}", " ")


def power(value: float, name: str = "power", *, exact: bool = False) -> Datum:
    """A power in dioptres; `exact` shows the third decimal of an eighth."""
    shown = write_exact(value) if exact else write_power(value)
    sign = "minus" if shown.startswith(MINUS) else "plus" if shown.startswith("+") else ""
    return Datum(name, snapped(value), shown, sign)


def axis(value: float, name: str = "axis") -> Datum:
    """An axis or meridian in degrees."""
    return Datum(name, snapped(value), write_axis(value))


def degrees(value: float, name: str) -> Datum:
    """An angle between two directions, in degrees."""
    return Datum(name, snapped(value), f"{snapped(round(value, 1)):g}")


def amount(value: float, name: str, decimals: int = 2) -> Datum:
    """A size without a sign."""
    return Datum(name, snapped(value), f"{snapped(abs(value)):.{decimals}f}")


def word(value: str, name: str) -> Datum:
    """A word that is part of the answer, such as a verdict."""
    return Datum(name, value, value)


def written_lens(value: LensPower, name: str = "") -> Line:
    """A lens as written: sphere, cylinder, axis, named `<name>sphere` and so on."""
    sphere = power(value.sphere, f"{name}sphere")
    if snapped(value.sphere) == 0:
        sphere = Datum(sphere.name, sphere.value, "plano")
    if value.axis is None:
        return say("{sphere}" if sphere.shown == "plano" else "{sphere} DS", sphere=sphere)
    return say(
        f"{{sphere}} {{cylinder}} {TIMES} {{axis}}",
        sphere=sphere,
        cylinder=power(value.cylinder, f"{name}cylinder"),
        axis=axis(value.axis, f"{name}axis"),
    )


def written_crossed(value: LensPower, name: str = "crossed.") -> Line:
    """A lens in crossed-cylinder form, named `<name>first.power` and so on."""
    along, across = value.principal_meridians
    return say(
        f"{{p1}} DC {TIMES} {{a1}} / {{p2}} DC {TIMES} {{a2}}",
        p1=power(along.power, f"{name}first.power"),
        a1=axis(across.direction, f"{name}first.axis"),
        p2=power(across.power, f"{name}second.power"),
        a2=axis(along.direction, f"{name}second.axis"),
    )


def cut_eighths(decimals: Decimals, *entries: float | None) -> tuple[Line, ...]:
    """Says which entries were read as true eighths; no line when none was."""
    cut = [write_exact(entry) for entry in entries if entry is not None and is_cut(entry)]
    if decimals is Decimals.LITERAL or not cut:
        return ()
    return (say(f"Cut eighths were read as true eighths: {', '.join(cut)} D."),)


_ROUNDED = re.compile(r"\d*[.,](?:13|38|63|88)(?!\d)")


def rounded_eighths(text: str) -> tuple[Line, ...]:
    """Says which numbers look like eighths rounded up, and how they count."""
    found = _ROUNDED.findall(text)
    if not found:
        return ()
    told = f"Taken as it stands: {', '.join(found)}."
    return (say(f"{told} Eighths are written cut, as .62, or in full, as .625."),)


@dataclass(frozen=True)
class Step:
    """One step of the working: what is done, the formula, the numbers put in, the result.

    `numbers` is plain arithmetic that a pocket calculator turns into the shown result; a test
    works every one of them out. A step that only states a fact has neither formula nor numbers.
    """

    what: str
    formula: str = ""
    numbers: str = ""
    result: Line = ()


@dataclass(frozen=True)
class Table:
    """Rows of lines under column heads; the first cell of a row is its heading.

    `kind` is "rows" when each row stands for itself and may become a card on a narrow screen,
    "grid" when the columns must stay side by side.
    """

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[Line, ...], ...]
    kind: str = "rows"


class Onward(NamedTuple):
    """A link to other entries of a calculator, and the field to go on with once they are there."""

    words: str
    calculator: str
    entries: Mapping[str, str]
    field: str

    @property
    def address(self) -> str:
        """The entries as an address, as the page writes it."""
        return f"#{self.calculator}?{urlencode(self.entries)}"

    @property
    def entry(self) -> str:
        """The id of the field on the page."""
        return f"{self.calculator}-{self.field}"


@dataclass(frozen=True)
class Answer:
    """All that a calculator has to say about one set of entries.

    `understood` says what the entries were taken to mean wherever that could be in doubt. `onward`
    leads on from here.
    """

    headline: Line
    also: tuple[Line, ...] = ()
    onward: tuple[Onward, ...] = ()
    understood: tuple[Line, ...] = ()
    tables: tuple[Table, ...] = ()
    steps: tuple[Step, ...] = ()
    figures: tuple[Figure, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()

    def lines(self) -> Iterator[Line]:
        """Every line, in the order shown."""
        yield self.headline
        yield from self.also
        yield from self.understood
        for table in self.tables:
            for row in table.rows:
                yield from row
        for step in self.steps:
            yield step.result

    def values(self) -> dict[str, Datum]:
        """Every datum by its name.

        Errors  ValueError when one name stands for two values: the declaration is wrong.
        """
        found: dict[str, Datum] = {}
        for line in self.lines():
            for datum in (piece for piece in line if isinstance(piece, Datum)):
                earlier = found.setdefault(datum.name, datum)
                if earlier.value != datum.value:
                    raise ValueError(f"two values are named {datum.name}: {earlier} and {datum}")
        return found
