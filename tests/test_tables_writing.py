"""The tables of the pages on writing, ordering and edging."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from site_src.calculators.answer import Table, plain
from site_src.tables import edging, order, rules, writing

PUBLISHED = Path(__file__).parent / "published" / "misaligned_cylinder.csv"


def cells(table: Table) -> list[list[str]]:
    return [[plain(cell) for cell in row] for row in table.rows]


def row(table: Table, name: str) -> list[str]:
    return next(found[1:] for found in cells(table) if found[0] == name)


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("−2.25", "−2.25 D"),
        ("−2,25", "−2.25 D"),
        ("−0,5", "−0.50 D"),
        ("−.25", "−0.25 D"),
        ("2.25", "refused"),
        ("−225", "refused"),
        ("−1.000,25", "refused"),
    ],
)
def test_what_the_calculators_read(typed: str, read: str) -> None:
    assert row(writing.decimal_marks(), typed)[0] == read


def test_axes_have_three_digits_and_nought_is_180() -> None:
    assert cells(writing.written_axes()) == [
        ["5", "005"],
        ["77.5", "077.5"],
        ["90", "090"],
        ["0", "180"],
    ]


def test_an_older_scale_is_the_standard_one_on_one_side_and_its_mirror_on_the_other() -> None:
    """The standard scale begins at the observer's right: the nose of a right eye."""
    table = writing.two_scales()
    assert row(table, "at the nose") == ["020", "160"]
    assert row(table, "at the temple") == ["160", "020"]


def test_every_entry_of_the_order_says_when_it_is_needed() -> None:
    table = order.example_order()
    assert table.head == ("Entry", "Right", "Left", "Needed")
    assert all(cell for found in cells(table) for cell in found)
    assert row(table, "Power")[:2] == ["+5.25 −1.00 × 095", "+4.75 −0.50 × 080"]
    assert row(table, "Distance PD")[:2] == ["31.5 mm", "32 mm"]


def test_what_follows_from_the_order() -> None:
    """By hand: half of 52 and 18 is 35; 35 less the PD; less the near PD; half of 38 less 16."""
    table = order.worked_out()
    assert row(table, "Decentration") == ["3.5 mm in", "3 mm in"]
    assert row(table, "Total inset") == ["5.5 mm", "5 mm"]
    assert row(table, "Segment drop") == ["3 mm", "3 mm"]
    assert table.caption.endswith("35 mm")


def published() -> list[tuple[float, float, float]]:
    """Cylinder, slip and what is left, from the published table of mislocated toric lenses."""
    rows = csv.reader(PUBLISHED.read_text("utf-8").splitlines()[1:])
    return [(float(c[1]), float(c[2]), float(c[4])) for c in rows]


@pytest.mark.parametrize(("cylinder", "slip", "left"), published())
def test_what_a_slip_leaves_over(cylinder: float, slip: float, left: float) -> None:
    assert edging.left_over(abs(cylinder), slip) == pytest.approx(abs(left), abs=0.006)


def test_a_slip_against_the_limit() -> None:
    """A slip as large as the limit is inside."""
    table = edging.slip_left_over(3, "ansi-z80-1-2015")
    assert row(table, "0.50 D") == ["0.05 D", "±7°", "inside"]
    assert row(table, "1.00 D") == ["0.10 D", "±3°", "inside"]
    assert row(table, "2.00 D") == ["0.21 D", "±2°", "outside"]
    assert row(table, "4.00 D") == ["0.42 D", "±2°", "outside"]


def test_limits_of_heights() -> None:
    assert (
        rules.limit("ansi-z80-1-2015", "segment height", "multifocal") == "±1.0\N{NO-BREAK SPACE}mm"
    )
    assert rules.limit("iso-21987-2017", "fitting point height", "progressive").startswith("±1.0")
