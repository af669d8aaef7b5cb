"""A file of many jobs: read, judged and written; mistakes by line and column; no formulas."""

from __future__ import annotations

import csv
import io
import json
import random
from collections import Counter
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from lensmath.notation import MINUS
from site_src.calculators.answer import Datum
from site_src.calculators.door import reply
from site_src.calculators.jobs_columns import NAMES, STANDARDS
from site_src.calculators.jobs_file import LONGEST, MOST_LINES, harmless, records, template
from site_src.calculators.jobs_verdict import RESULTS
from site_src.calculators.verification import CALCULATOR
from site_src.jobs_page import COUNTS, results
from tests.hostile import HOSTILE

ANSI = "ansi-z80-1-2015"
HEAD = "job,eye,ordered,measured sphere,measured cylinder,measured axis"
GOOD = "A1,R,-2.00 -0.75 x 5,-2.00,-0.75,5"
SLICE = 64  # lines, as jobs.js sends them


class Run:
    """A whole file through the door, in slices, and what came of it."""

    def __init__(
        self, text: str, size: int = SLICE, standard: str = ANSI, decimals: str = "eighths"
    ) -> None:
        lines = text.removeprefix("\ufeff").splitlines()
        self.text, self.problem = "", ""
        self.notes: list[str] = []
        self.unchecked: list[str] = []  # the numbers of lines
        self.page: list[dict[str, Any]] = []
        self.counts: Counter[str] = Counter()
        at, head = 0, None
        while True:
            part = lines[at : at + size]
            choices = {"standard": standard, "decimals": decimals}
            more = at + size < len(lines)
            jobs = {**choices, "head": head, "lines": part, "first": at + 1, "more": more}
            answer = json.loads(reply(json.dumps({"id": 1, "jobs": jobs})))
            if not answer["ok"]:
                self.problem = answer["message"]
                return
            assert 0 < answer["used"] <= len(part)
            at, head = at + answer["used"], answer["head"]
            self.text += answer["csv"]
            self.notes += answer["notes"]
            self.unchecked += answer["unchecked"]
            self.page += answer["rows"]
            self.counts.update(answer["counts"])
            if at == len(lines):
                return

    @property
    def rows(self) -> list[dict[str, str]]:
        """The result as another program reads it."""
        separator = max(",;", key=self.text.partition("\n")[0].count)
        return list(csv.DictReader(io.StringIO(self.text, newline=""), delimiter=separator))

    @property
    def verdicts(self) -> list[str]:
        return [row["verdict"] for row in self.rows]

    @property
    def mistakes(self) -> list[str]:
        return [row["mistakes"] for row in self.rows if row["verdict"] == "mistake"]


def file(*lines: str, head: str = HEAD) -> str:
    return "\r\n".join((head, *lines))


# Reading ------------------------------------------------------------------------------------------


def test_a_file_and_its_verdicts() -> None:
    run = Run(file(GOOD, "A2,left,-2.00 -0.75 x 5,-2.00,-0.75,178", "A3,OS,+1.25 DS,+1.25,,"))
    assert run.verdicts == ["inside", "outside", "inside"]
    assert [row["line"] for row in run.rows] == ["2", "3", "4"]
    assert [row["eye"] for row in run.rows] == ["right", "left", "left"]
    second = run.rows[1]
    assert (second["worst"], second["% of limit"]) == ("Axis", "140")
    assert (second["axis difference"], second["axis limit"]) == ("7", "5")
    assert run.counts["lenses"] == 3
    assert (run.counts["inside"], run.counts["outside"]) == (2, 1)
    assert [row["urgent"] for row in run.page] == [False, True, False]
    assert run.page[1]["cells"] == ["3", "A2", "left", "outside", "Axis 7°, limit ±5°"]


def test_the_head_in_any_order_and_case_with_a_mark_before_it() -> None:
    text = "\ufeff MEASURED_Axis ;measured-cylinder;Measured  Sphere;ORDERED;Job;\r\n"
    text += "178;-0,75;-2,00;-2,00 -0,75 x 5;A2;"
    assert Run(text).verdicts == ["outside"]


def test_the_lens_in_cells_of_its_own_is_the_lens_on_one_line() -> None:
    head = "ordered sphere,ordered cylinder,ordered axis,measured"
    (row,) = Run(file("-2.00,-0.75,5,-2.00 -0.75 x 178", head=head)).rows
    (same,) = Run(file("A2,,-2.00 -0.75 x 5,-2.00,-0.75,178")).rows
    assert row == {**same, "job": ""}


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends_and_empty_lines(end: str) -> None:
    run = Run(end.join(("", " ", HEAD, "", GOOD, ",,,,,", GOOD, "")))
    assert [row["line"] for row in run.rows] == ["5", "7"]


def test_semicolons_go_with_decimal_commas() -> None:
    head = HEAD.replace(",", ";")
    (row,) = Run(file("A1;R;-2,12 DS;-2,25;;", head=head)).rows
    assert (row["ordered sphere"], row["power 1 difference"]) == ("-2,125", "-0,125")
    assert (row["power 1 limit"], row["measured cylinder"]) == ("0,13", "0,00")


def test_semicolons_may_have_decimal_points_and_commas_quoted_decimal_commas() -> None:
    head = HEAD.replace(",", ";")
    assert Run(file("A1;R;-2.00 DS;-2.25;;", head=head)).verdicts == ["outside"]
    assert Run(file('A1,R,"-2,00 DS","-2,25",,')).verdicts == ["outside"]


def test_quoted_cells_may_hold_separators_quotation_marks_and_line_ends() -> None:
    run = Run(file('"Smith, ""Jo""\r\nnext",R,-2.00 DS,-2.00,,', GOOD))
    assert [row["job"] for row in run.rows] == ['Smith, "Jo" next', "A1"]
    assert [row["line"] for row in run.rows] == ["2", "4"]


@pytest.mark.parametrize("size", [1, 2, 5, MOST_LINES, 64])
def test_slices_of_any_size_give_the_same_result(size: int) -> None:
    jobs = [f'"J{n}\n{n}",L,-2.00 DS,-2.{n % 4}0,,' if n % 3 else GOOD for n in range(40)]
    text = file(*jobs, '"open,R,-2.00 DS,-2.00,,', GOOD, GOOD)
    whole = Run(text, size=1000)
    if size >= MOST_LINES:
        assert Run(text, size=size).text == whole.text
    else:  # too short for a record of several lines, and still it goes on to the end
        assert Run(text, size=size).rows[-1] == whole.rows[-1]
    assert whole.counts["mistake"] == 1


def test_a_decimal_is_read_as_the_choice_says() -> None:
    text = file("A1,R,-2.12 DS,-2.12,,")
    assert Run(text).rows[0]["ordered sphere"] == "-2.125"
    literal = Run(text, decimals="literal")
    assert literal.rows[0]["ordered sphere"] == "-2.12"
    link = CALCULATOR.answer(literal.page[0]["fields"]).values()
    assert link["meridian.180.ordered"].value == -2.12


def test_a_row_may_name_its_standard() -> None:
    jobs = ("-6.00,-6.12,ISO 21987:2017", f"-6.00,-6.12,{ANSI.upper()}", "-6.00,-6.12,")
    run = Run(
        file(*jobs, head="ordered sphere,measured sphere,standard"), standard="iso-8980-1-2017"
    )
    assert [row["standard"] for row in run.rows] == ["iso-21987-2017", ANSI, "iso-8980-1-2017"]


def test_a_spreadsheet_drops_the_plus_of_a_number_but_nobody_guesses_on_one_line() -> None:
    jobs = ("1.25,1.25,", "+1.25,0,", "0.00,1,")
    run = Run(file(*jobs, head="ordered sphere,measured sphere,job"))
    assert [row["ordered sphere"] for row in run.rows] == ["+1.25", "+1.25", "0.00"]
    assert run.counts["unsigned"] == 3
    assert "“1.25” has no sign" in Run(file("A1,R,1.25 DS,1.25,,")).mistakes[0]


# Addition and prism -------------------------------------------------------------------------------

WITH_PRISM = "eye,ordered,measured sphere,measured addition,measured prism"


def test_addition_and_prism_are_judged_when_they_were_measured() -> None:
    jobs = (
        "R,-2.00 DS add +2.00 2 BI,-2.00,+2.00,2 BI",
        "R,-2.00 DS add +2.00 2 BI,-2.00,+2.25,2 BI",
        "L,-2.00 DS add +2.00 2 BI,-2.00,,",
    )
    run = Run(file(*jobs, head=WITH_PRISM))
    assert run.verdicts == ["inside", "outside", "inside"]
    assert run.rows[1]["worst"] == "Addition"
    assert run.rows[1]["addition limit"] == "0.12"
    assert [row["not checked"] for row in run.rows] == ["", "", "addition, prism"]
    assert run.counts["unchecked"] == 1
    assert run.unchecked == ["4"]


@pytest.mark.parametrize(
    ("job", "ordered"),
    [
        ("R,-2.00 -0.75 x 5 add +2.00 2 BI 1 BD", "-2.00 -0.75 x 5 add +2.00 2.00 BI 1.00 BD"),
        ("L,+1.25 DS 1.5 BO", "+1.25 DS 1.50 BO"),
        (",-2.12 DS add +1.12 2 @ 30", "-2.125 DS add +1.125 2.00 @ 30"),
    ],
)
def test_the_link_keeps_the_addition_and_the_prism_that_were_ordered(
    job: str, ordered: str
) -> None:
    fields = Run(file(f"{job},-2.00,,", head=WITH_PRISM)).page[0]["fields"]
    assert fields["ordered"] == ordered
    caution = "The addition and the prism of the order are not checked here."
    assert caution in CALCULATOR.answer(fields).cautions


def test_base_in_is_another_way_before_the_other_eye() -> None:
    jobs = (
        "R,-2.00 DS 2 @ 180,-2.00,,2 BO",
        "L,-2.00 DS 2 @ 180,-2.00,,2 BI",
        ",-2.00 DS 2 @ 180,-2.00,,2 @ 180",
        "R,-2.00 DS 2 @ 180,-2.00,,0",
    )
    run = Run(file(*jobs, head=WITH_PRISM))
    assert run.verdicts == ["inside", "inside", "inside", "undecided"]
    assert [row["measured prism"] for row in run.rows] == ["2.00 BO", "2.00 BI", "2.00 @ 180", "0"]


# Mistakes -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("A1,X,-2.00 DS,-2.00,,", "Line 2, eye: “X” is not an eye."),
        ("A1,R,2.00 DS,-2.00,,", "Line 2, ordered: “2.00” has no sign."),
        ("A1,R,,-2.00,,", "Line 2, ordered sphere: nothing was entered. Fill it, or “ordered”."),
        ("A1,R,-2.00 DS,,,", "Line 2, measured sphere: nothing was entered."),
        ("A1,R,-2.00 DS,,-0.75,5", "Line 2, measured sphere: nothing was entered, but"),
        ("A1,R,-2.00 DS,-2.00,,5", "Line 2, measured cylinder: nothing was entered, but"),
        ("A1,R,-2.00 DS,-2.00,-0.75,", "Line 2, measured axis: A cylinder of −0.75 D"),
        ("A1,R,-2.00 DS,-2.00,-0.75,200", "Line 2, measured axis: The axis “200” is not"),
        ("A1,R,-2.00 DS,-2 00,,", "Line 2, measured sphere: “"),
        ("A1,R,-2.00 DS,-200,,", "Line 2, measured sphere: “−200” was read"),
        ("A1,R,-2.00 DS,#VALUE!,,", "Line 2, measured sphere: "),
        ("A1,R,-2,00,-2,00,,,", "Line 2, measured sphere: “00” is all"),
        ("A1,R,-2,00,-2,00", "Line 2, measured sphere: “00” is all that stands there. A decimal"),
        ("A1,R,-2.00 DS,-2.00,,,", "Line 2: 7 cells; the first line names 6 columns."),
        ('A1,R,"-2.00 DS,-2.00,,', "Line 2: a quotation mark is not closed"),
        ('A1,R,"-2.00" DS,-2.00,,', "Line 2: a quotation mark is not closed"),
        ("A1," + "x" * LONGEST, "Line 2: 10003 characters or more; up to 10000 are allowed."),
    ],
)
def test_a_mistake_is_named_by_line_and_column_and_the_rest_is_done(row: str, said: str) -> None:
    run = Run(file(row, GOOD))
    assert run.verdicts == ["mistake", "inside"]
    assert run.mistakes[0].startswith(said)
    assert run.page[0]["cells"][4] == run.mistakes[0]
    assert run.counts["mistake"] == 1
    assert [(row["urgent"], bool(row["fields"])) for row in run.page] == [
        (True, False),
        (False, True),
    ]


@pytest.mark.parametrize(
    ("head", "row", "said"),
    [
        (
            "ordered,ordered axis,measured",
            "-2.00 DS,5,-2.00 DS",
            "Line 2, ordered axis: “ordered” says it too. Fill one of the two.",
        ),
        (
            "ordered,measured,measured addition",
            "-2.00 DS,-2.00 DS add +2.00,2.00",
            "Line 2, measured addition: “measured” says it too.",
        ),
        (WITH_PRISM, ",-2.00 DS,-2.00,,2 BI", "Line 2, eye: nothing was entered, and base in"),
        (WITH_PRISM, "R,-2.00 DS,-2.00,,2", "Line 2, measured prism: The prism 2 in “2” has no"),
        (
            f"standard,{WITH_PRISM}",
            "iso-21987-2017,R,-2.00 DS,-2.00,,2 BI",
            "Line 2, standard: ISO 21987:2017 is for mounted lenses",
        ),
        ("ordered,measured,standard", "-2.00 DS,-2.00 DS,DIN", "Line 2, standard: “DIN” is not"),
        (
            "ordered,ordered addition,measured",
            "-2.00 DS,-1.00,-2.00 DS",
            "Line 2, ordered addition: An ordered addition is zero or more",
        ),
    ],
)
def test_cells_that_do_not_go_together(head: str, row: str, said: str) -> None:
    assert Run(file(row, head=head)).mistakes[0].startswith(said)


def test_every_mistake_of_a_row_is_named() -> None:
    (said,) = Run(file("A1,X,2,3-,?,400")).mistakes
    for column in ("eye", "ordered", "measured sphere", "measured cylinder", "measured axis"):
        assert f"Line 2, {column}: " in said


def test_a_quotation_mark_that_stays_open_costs_one_line() -> None:
    many = [GOOD] * (3 * SLICE)
    many[SLICE // 2] = f'"{GOOD}'
    many[-1] = f'"{GOOD}'
    run = Run(file(*many))
    assert run.counts["mistake"] == 2
    assert run.counts["inside"] == len(many) - 2


@pytest.mark.parametrize(
    ("head", "said"),
    [
        ("", "The file is empty."),
        ("\n\n  \n", "The file is empty."),
        ("A1,R,-2.00 DS", "Line 1 names no column of the template: “A1”, “R”, “-2.00 DS”."),
        ("PK\x03\x04\x00junk", "Line 1 names no column of the template"),
        (f"{HEAD},eye", "Line 1: the column “eye” stands there twice."),
        ("job,measured sphere", "Line 1: the ordered lens is missing."),
        ("job,ordered", "Line 1: the measured lens is missing."),
        (f"\n{HEAD},measured cyl", "Line 2: the column “measured cyl” is not known here, and"),
        (f"{HEAD},mesured axis", "Line 1: the column “mesured axis” is not known here, and"),
        (f"{HEAD},Add", "Line 1: the column “Add” is not known here, and nothing was"),
    ],
)
def test_a_file_that_cannot_be_checked_is_told_why(head: str, said: str) -> None:
    run = Run(f"{head}\n{GOOD}" if head.strip() else head)
    assert run.problem.startswith(said)
    assert run.text == ""


def test_a_column_that_could_be_one_of_ours_is_told_which() -> None:
    problem = Run("job,ordered,sph,measured cyl\n1,-2.00 DS,-2.00,0").problem
    assert "the columns “sph”, “measured cyl” are not known here" in problem
    assert (
        "“sph” could be ordered sphere or measured sphere; “measured cyl” could be measured "
        in (problem)
    )
    assert "measured cylinder. Name it so." in problem


def test_a_column_of_another_name_is_named_and_left_out() -> None:
    run = Run(file(f"{GOOD},red,,z", head=f"{HEAD},Colour,,Tray no"))
    assert run.verdicts == ["inside"]
    assert run.notes == [
        "These columns are not used, and are left out of the result: “Colour”, “Tray no”."
    ]


# Hostile cells ------------------------------------------------------------------------------------

FORMULAS = (
    "=1+1",
    "=cmd|' /C calc'!A0",
    "+1+cmd|' /C calc'!A0",
    "-1+1",
    "@SUM(1+1)*cmd|' /C calc'!A0",
    " =1+1",
    "\t=1+1",
    '"=1+1',
    "'=1+1",
    "\uff1d1+1",
    "x;=1+1",
    "x, =1+1",
    'x;"=1+1',
    "x\n=1+1",
)


def looks_like_a_formula(text: str) -> bool:
    """In a cell, or in a part that another separator makes a cell; a bare number is none."""
    begun = [part.strip().lstrip("\"' ") if "'" not in part else part for part in split(text)]
    return any(part[:1] in "=+-@\uff1d" and not is_number(part) for part in begun if part)


def split(text: str) -> list[str]:
    return text.replace(";", ",").split(",")


def is_number(text: str) -> bool:
    return text.replace(",", ".", 1).lstrip("+-").replace(".", "", 1).isdigit()


@pytest.mark.parametrize("text", FORMULAS)
@pytest.mark.parametrize("column", ["job", "eye", "ordered", "measured sphere", "standard"])
def test_no_cell_of_the_result_is_a_formula(text: str, column: str) -> None:
    cells = {"job": "1", "ordered": "-2.00 -0.75 x 5", "measured sphere": "-2.00", column: text}
    for separator in ",;":
        whole = io.StringIO()
        csv.writer(whole, delimiter=separator).writerows([cells.keys(), cells.values()])
        run = Run(whole.getvalue())
        assert len(run.rows) == 1
        for cell in run.rows[0].values():
            assert not looks_like_a_formula(cell), cell


def test_formulas_are_found() -> None:
    """The search itself."""
    assert all(looks_like_a_formula(text) for text in ("=1", "-1+1", "@a", "a;=1", "-2.00 DS"))
    assert not any(looks_like_a_formula(text) for text in ("'=1", "-2.00", "+1,25", "a-1", "x;'=1"))


@pytest.mark.parametrize("text", ["A-17", "-17", "+1.25", "a=b", "1001", f"{MINUS}2.00", ""])
def test_harmless_text_is_written_as_it_came(text: str) -> None:
    assert harmless(text) == text


@pytest.mark.parametrize("text", [*HOSTILE, *FORMULAS])
def test_hostile_cells_are_text(text: str) -> None:
    for column in ("job", "eye", "ordered", "measured sphere", "standard", "measured prism"):
        cells = {"job": "1", "ordered": "-2.00 DS", "measured sphere": "-2.00", column: text}
        whole = io.StringIO()
        csv.writer(whole).writerows([cells.keys(), cells.values()])
        run = Run(whole.getvalue())
        assert run.counts["lenses"] >= 1
        assert set(run.verdicts) <= {"inside", "mistake"}


@given(st.lists(st.text(max_size=30), max_size=6))
@example(['"'])
@example(["\ud800,R,-2.00 DS,-2.00"])
def test_any_lines_get_a_result_of_whole_records(lines: list[str]) -> None:
    run = Run("\n".join((HEAD, *lines)))
    for row in run.rows:
        assert list(row) == list(RESULTS)


JOB = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=20)


@given(JOB, st.sampled_from(",;"))
@example("=1+1", ";")
@example("a;=1+1", ",")
@example("'=1", ",")
def test_what_is_written_is_read_again(job: str, separator: str) -> None:
    whole = io.StringIO()
    head = ["job", "ordered", "measured"]
    row = [job, "+1.00 +0.62 x 7.5 add +2.12 1.3 BU", "+1.13 +0.5 x 10"]
    csv.writer(whole, delimiter=separator).writerows([head, row])
    once = Run(whole.getvalue())
    again = Run(once.text)
    assert again.text == once.text
    assert again.notes == []


# The verdicts are those of the calculator ---------------------------------------------------------


def random_lens(draw: random.Random) -> tuple[float, float, int]:
    return draw.randrange(-96, 97) / 8, draw.randrange(-32, 33) / 8, draw.randrange(1, 181)


def read_off(draw: random.Random, lens: tuple[float, float, int]) -> tuple[float, float, int]:
    """The lens as somebody measures it: off by up to an eighth or two, or a few degrees."""
    sphere, cylinder, axis = lens
    off = (-0.25, -0.125, -0.06, 0.0, 0.0, 0.01, 0.125)
    return sphere + draw.choice(off), cylinder + draw.choice(off), (axis + draw.randrange(9)) % 181


def test_five_hundred_verdicts_are_those_of_the_calculator() -> None:
    draw = random.Random(6)
    pairs = []
    for _ in range(500):
        ordered = random_lens(draw)
        pairs.append((ordered, read_off(draw, ordered), draw.choice(list(STANDARDS))))
    lines = [
        f"{n},{o[0]:+},{o[1]:+},{o[2]},{m[0]:+},{m[1]:+},{m[2]},{standard}"
        for n, (o, m, standard) in enumerate(pairs)
    ]
    sides = [
        f"{side} {part}"
        for side in ("ordered", "measured")
        for part in ("sphere", "cylinder", "axis")
    ]
    run = Run(file(*lines, head=",".join(("job", *sides, "standard"))))
    assert len(run.rows) == len(pairs)
    for row, page, (ordered, measured, standard) in zip(run.rows, run.page, pairs, strict=True):
        values = verified(ordered, measured, standard)
        assert row["verdict"] == values["verdict"].value
        assert row["% of limit"] == getattr(values.get("worst.share"), "shown", "")
        for stem in ("cylinder", "axis"):
            if f"{stem}.limit" in values:
                assert float(row[f"{stem} limit"]) == values[f"{stem}.limit"].value
            if f"{stem}.difference" in values:
                assert float(row[f"{stem} difference"]) == values[f"{stem}.difference"].value
        for number in (1, 2):
            if along := row[f"power {number} along"]:
                stem = f"meridian.{float(along):g}"
                for what in ("difference", "limit"):
                    assert float(row[f"power {number} {what}"]) == values[f"{stem}.{what}"].value
        again = CALCULATOR.answer(page["fields"]).values()
        assert again["verdict"] == values["verdict"], "the link leads to another lens"
        assert again.get("worst.share") == values.get("worst.share")
    assert min(run.counts["inside"], run.counts["outside"]) > 50


def verified(
    ordered: tuple[float, float, int], measured: tuple[float, float, int], standard: str
) -> dict[str, Datum]:
    """What the calculator says of the same entries."""
    sphere, cylinder, axis = measured
    entries = {
        "ordered": f"{ordered[0]:+} {ordered[1]:+} x {ordered[2]}",
        "sphere": f"{sphere:+}",
        "cylinder": f"{cylinder:+}",
        "measured_axis": f"{axis}",
        "standard": standard,
    }
    return CALCULATOR.answer(entries).values()


# The parts agree ----------------------------------------------------------------------------------


@pytest.mark.parametrize("separator", [",", ";"])
def test_the_template_is_judged_without_a_mistake(separator: str) -> None:
    run = Run(template(separator))
    assert run.verdicts == ["inside", "outside", "inside"]
    assert run.notes == []
    names = template(separator).partition("\r\n")[0].split(separator)
    assert set(NAMES) - set(names) == {"ordered", "measured"}


def test_every_count_has_a_place_on_the_page_and_every_column_its_words() -> None:
    run = Run(file(GOOD, "A1,X,,,,", "R,R,-2.00 DS,-2.13,,"))
    assert set(run.counts) <= {name for name, *_ in COUNTS}
    told = " ".join(str(name) for ((name,), _) in results().rows)
    for column in RESULTS:
        words = column.removesuffix(" difference").removesuffix(" limit").removesuffix(" along")
        assert words.split()[-1].strip(",") in told or words.split()[0] in told, column


def test_a_record_never_reaches_over_more_lines_than_are_looked_at() -> None:
    lines = ['"a', *["b"] * (MOST_LINES - 2), 'c"', "d"]
    assert [record.lines for record in records(lines, 1, ",")] == [MOST_LINES, 1]
    lines.insert(1, "b")
    assert next(records(lines, 1, ",")).lines == 1


# The door -----------------------------------------------------------------------------------------

ASKED = {
    "head": None,
    "lines": [HEAD, GOOD],
    "first": 1,
    "more": False,
    "standard": ANSI,
    "decimals": "eighths",
}


@pytest.mark.parametrize(
    "wrong",
    [
        None,
        [],
        {},
        {**ASKED, "lines": [1]},
        {**ASKED, "lines": "x"},
        {**ASKED, "first": "1"},
        {**ASKED, "more": 1},
        {**ASKED, "standard": None},
        {**ASKED, "decimals": "sixteenths"},
        {**ASKED, "head": {"separator": "|", "columns": []}},
        {**ASKED, "head": {"separator": ",", "columns": ["colour"]}},
        {**ASKED, "head": "job"},
    ],
    ids=str,
)
def test_a_slice_of_the_wrong_kind_is_refused(wrong: object) -> None:
    answer = json.loads(reply(json.dumps({"id": 4, "jobs": wrong})))
    assert (answer["id"], answer["ok"]) == (4, False)
    assert answer["message"].startswith("The request could not be read")


def test_a_standard_that_is_not_held() -> None:
    answer = json.loads(reply(json.dumps({"id": 4, "jobs": {**ASKED, "standard": "x"}})))
    assert answer["message"] == "There is no standard “x” here."
