"""What a section of a page rests on, and the count of it on the About page."""

from __future__ import annotations

from pathlib import Path

import pytest

from site_src.claims import claims_table, sections
from site_src.handbook import Page

PROSE = (
    "The sphere lines are sharp when the drum shows the power of the meridian that crosses them."
)
CITED = '<a href="../look-up/sources.html#long-1976">A matrix</a>'
COMPUTED = "computed for this page"
PRACTICE = '<a href="../look-up/sources.html#common-practice">Common practice</a>'


@pytest.mark.parametrize(
    ("body", "rests_on"),
    [
        (f"<p>{PROSE}</p>", "nothing named"),
        (f"<p>{PROSE} {CITED}</p>", "a published source"),
        (f'<p>{PROSE} <span data-source="long-1976">0.06 D</span></p>', "a published source"),
        (f"<p>{PROSE} (common practice; from memory)</p>", "common practice"),
        (f"<p>{PROSE} {PRACTICE}</p>", "common practice"),
        (f"<p>{PROSE} From\n memory.</p>", "from memory"),
        (f'<p>{PROSE}</p><p class="basis">Computed for this page.</p>', COMPUTED),
        (f"<p>Below.</p><figure><figcaption>{PROSE}</figcaption></figure>", COMPUTED),
        (f"<section><p>{PROSE} {CITED}</p></section><p>{PROSE}</p>", "nothing named"),
    ],
)  # fmt: skip
def test_what_a_section_rests_on(body: str, rests_on: str) -> None:
    assert [section.rests_on for section in sections(body)] == [rests_on]


def test_a_heading_of_the_second_level_begins_a_section() -> None:
    found = sections(f"<p>{PROSE}</p><h2>Why</h2><p>{CITED}</p><h3>More</h3><p>{PROSE}</p>")
    assert [section.title for section in found] == ["", "Why"]
    assert found[1].rests_on == "a published source"


def test_the_table_counts_the_sections_of_pages_about_the_work() -> None:
    def page(address: str, body: str) -> Page:
        return Page(Path(__file__), address, "read", "T", "R.", "", body=body)

    table = claims_table(
        [
            page("read/a.html", f"<p>{PROSE}{CITED}</p><h2>B</h2><p>{PROSE} from memory</p>"),
            page("read/index.html", f"<p>{PROSE}{CITED}</p>"),
            page("look-up/about.html", f"<p>{PROSE}{CITED}</p>"),
        ]
    )
    assert "2 sections" in table.caption
    counted = {str(row[0][0]): str(row[1][0]) for row in table.rows}
    assert counted == {
        "a published source": "1",
        "common practice": "0",
        "from memory": "1",
        "computed for this page": "0",
        "nothing named": "0",
    }
