"""A small builder of SVG text, and the `Figure` that every drawing ends as.

A figure can be drawn for a narrow column (a phone) and for a wide one. Where a page has both,
`figures.css` shows the drawing that fits. User units are CSS pixels at the drawn width; y points
down, as in SVG.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache

from markupsafe import escape

from lensmath.power import snapped

TEXT = 13.0  # px; at the smallest width figures.css allows, text is still 12 px
LINE_HEIGHT = 16.0
LABEL_GAP = 8.0  # px between two labels side by side
EM_PER_CHARACTER = 0.64  # of a wide system sans with tabular figures; narrower ones leave room

_REMEMBERED = 2000  # texts and numbers of late drawings: most come again with the next key
_NOT_IN_XML = re.compile(r"[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True)
class Column:
    """A column width that figures are drawn for, in px."""

    name: str
    width: float


NARROW = Column("narrow", 264)
WIDE = Column("wide", 600)


COLUMNS = {column.name: column for column in (NARROW, WIDE)}


class Element(str):
    """An SVG element as it is written, with its text and attribute values escaped."""

    __slots__ = ()


Drawing = tuple[float, Sequence[Element]]
"""The height of a drawing in px, and what is in it."""


@dataclass(frozen=True, eq=False)
class Figure:
    """A drawing for each of `columns`, with the sentence that says the same: its caption.

    Nothing is drawn before it is asked for: an answer in a page needs one column only.
    """

    name: str
    title: str
    description: str
    draw: Callable[[Column], Drawing]
    columns: tuple[Column, ...] = (NARROW, WIDE)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Figure) and self.markup == other.markup

    def __hash__(self) -> int:
        return hash(self.name)

    @cached_property
    def narrow(self) -> str:
        """The drawing for a narrow column."""
        return self._drawn(NARROW)

    @cached_property
    def wide(self) -> str:
        """The drawing for a wide column."""
        return self._drawn(WIDE)

    @property
    def markup(self) -> str:
        """The drawings; where there are several, in a container that shows the one that fits."""
        kind = "drawn" if len(self.columns) == 1 else "drawn fitting"
        return f'<div class="{kind}">{"".join(map(self._drawn, self.columns))}</div>'

    def _drawn(self, column: Column) -> str:
        height, parts = self.draw(column)
        title_id = f"{self.name}-{column.name}-title"
        return str(
            element(
                "svg",
                element("title", self.title, id=title_id),
                *parts,
                xmlns="http://www.w3.org/2000/svg",
                class_=column.name,
                viewBox=f"0 0 {coordinate(column.width)} {coordinate(height)}",
                font_size=TEXT,
                role="img",
                aria_labelledby=title_id,
            )
        )


def figure(name: str, title: str, description: str, draw: Callable[[Column], Drawing]) -> Figure:
    """The figure that `draw` draws for each column width, now or later.

    `name` must be its own on the page: the ids in the drawing come from it.

    Errors  ValueError for a name that cannot be part of an id.
    """
    if not re.fullmatch(r"[a-z][a-z0-9-]*", name):
        raise ValueError(f"{name!r} is no figure name: write small letters, digits and hyphens.")
    return Figure(name, title, description, draw)


def element(tag: str, *children: Element | str, **attributes: str | float) -> Element:
    """An element. Attribute names are written with underscores for hyphens, `class_` for class.

    >>> print(element("text", "a < b", x=1.005, y=-0.001, text_anchor="end"))
    <text x="1" y="0" text-anchor="end">a &lt; b</text>
    """
    opening = tag
    for name, value in attributes.items():
        written = _escaped(value) if isinstance(value, str) else coordinate(value)
        opening += f' {_attribute(name)}="{written}"'
    if not children:
        return Element(f"<{opening}/>")
    inside = "".join(
        [child if isinstance(child, Element) else _escaped(child) for child in children]
    )
    return Element(f"<{opening}>{inside}</{tag}>")


@cache
def _attribute(name: str) -> str:
    return name.rstrip("_").replace("_", "-")


def line(x1: float, y1: float, x2: float, y2: float, class_: str) -> Element:
    """A straight line between two points."""
    ends = (
        f'x1="{coordinate(x1)}" y1="{coordinate(y1)}" x2="{coordinate(x2)}" y2="{coordinate(y2)}"'
    )
    return Element(f'<line {ends} class="{_escaped(class_)}"/>')


def path(class_: str, *steps: str | float) -> Element:
    """A path from letters and numbers: `path("ink", "M", 0, 0, "L", 4, 3)`."""
    data = " ".join([step if isinstance(step, str) else coordinate(step) for step in steps])
    return Element(f'<path d="{data}" class="{_escaped(class_)}"/>')


def label(x: float, y: float, text: str, class_: str = "", anchor: str = "middle") -> Element:
    """One line of text on the baseline `y`."""
    place = f'x="{coordinate(x)}" y="{coordinate(y)}" text-anchor="{anchor}"'
    return Element(f'<text {place} class="{_escaped(class_ or "label")}">{_escaped(text)}</text>')


def named_value(x: float, y: float, name: str, value: str, anchor: str = "middle") -> Element:
    """One line of text: a name in small ink and what it stands for in bold."""
    return element(
        "text",
        *([element("tspan", f"{name} ", class_="faint")] if name else []),
        element("tspan", value, class_="strong"),
        x=x,
        y=y,
        text_anchor=anchor,
        class_="label",
    )


def text_width(text: str) -> float:
    """The room that a line of text needs, in px; an estimate on the safe side."""
    return EM_PER_CHARACTER * TEXT * len(text)


@lru_cache(_REMEMBERED)
def coordinate(value: float) -> str:
    """A number in an SVG: two decimals at most, the same text on every machine.

    >>> coordinate(12.0), coordinate(1 / 3), coordinate(-1e-12)
    ('12', '0.33', '0')
    """
    digits = f"{snapped(value):.2f}".rstrip("0").rstrip(".")
    return "0" if digits == "-0" else digits


@lru_cache(_REMEMBERED)
def _escaped(text: str) -> str:
    return str(escape(_NOT_IN_XML.sub("\N{REPLACEMENT CHARACTER}", text)))
