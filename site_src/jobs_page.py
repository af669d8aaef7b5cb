"""What the page for a file of lenses shows before a file comes: form, templates, columns."""

from __future__ import annotations

from markupsafe import Markup

from site_src.calculators import verification
from site_src.calculators.answer import Table
from site_src.calculators.jobs_columns import COLUMNS
from site_src.calculators.jobs_file import template
from site_src.calculators.render import environment

SHOWN = 50  # rows of the table at most
HEADS = ("Line", "Job", "Eye", "Verdict", "Why")
# The name in the replies of jobs.py, what the page calls it, and whether zero is left out.
COUNTS = (
    ("lenses", "Lenses in the file", False),
    ("inside", "Inside", False),
    ("outside", "Outside", False),
    ("undecided", "Undecided", True),
    ("mistake", "Not judged, with mistakes", False),
    ("near", "Within 0.01 D of a limit", True),
    ("remembered", "Judged by a limit from memory", True),
    ("unchecked", "With something that was not compared", True),
    ("unsigned", "Powers without a sign, taken as plus", True),
)
_HEADS = ("Column", "What stands in it")
_TEMPLATES = ((",", "commas and decimal points"), (";", "semicolons and decimal commas"))
_RESULTS = (
    ("line", "the line of your file in which the row begins"),
    ("job, eye", "as you gave them"),
    ("verdict", "inside, outside, undecided, or mistake"),
    ("worst, % of limit", "what uses the largest share of its limit, and that share"),
    ("ordered …, measured …, standard", "what was read, as numbers"),
    ("power 1 …, power 2 …", "along which meridian, measured less ordered, and the limit"),
    ("cylinder …, axis …, addition …, prism …", "measured less ordered, and the limit"),
    ("not checked", "what was ordered or measured, but could not be compared"),
    ("near a limit", "where the difference lies within 0.01 D of the limit"),
    ("limits from memory", "where the limit is quoted from memory"),
    ("mistakes", "what is wrong with the row, by line and column"),
)


def jobs_html() -> Markup:
    """The form with its templates, and the empty places for what comes of a file."""
    fields = {field.name: field for field in verification.CALCULATOR.fields}
    html = (
        environment()
        .get_template("jobs.html")
        .render(
            choices=[
                (fields["standard"], "for every lens that does not name its own"),
                (fields["decimals"], fields["decimals"].hint),
            ],
            counts=COUNTS,
            heads=HEADS,
            shown=SHOWN,
            templates=[
                (f"many-jobs-{words.split()[0]}", words, template(separator))
                for separator, words in _TEMPLATES
            ],
        )
    )
    return Markup(html)


def columns() -> Table:
    """The columns that a file may have."""
    rows = tuple(((field.label,), (field.hint,)) for field in COLUMNS)
    return Table("Columns of your file, in any order", _HEADS, rows, kind="grid")


def results() -> Table:
    """The columns of the result."""
    rows = tuple(((name,), (words,)) for name, words in _RESULTS)
    return Table("Columns of the result", _HEADS, rows, kind="grid")
