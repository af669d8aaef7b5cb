"""The checks of the text of a page: what each finds, and what it must leave alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from site_src.calculators import CALCULATORS
from site_src.handbook import Page
from site_src.lint import faults, text_faults, warnings


def page(source: str, body: str = "", **more: object) -> Page:
    """A page about the work, written as `source` and rendered as `body`."""
    made = Page(Path(__file__), "read/a-page.html", "read", "A title", "A rule.", source)
    made.body = body
    for name, value in more.items():
        setattr(made, name, value)
    return made


@pytest.mark.parametrize(
    "text",
    [
        "A slip of 0.25 D.",
        "It is 3 mm off.",
        "turned by 90°",
        "turned by 90 degrees",
        "A prism of 2 Δ",
        "at 589 nm",
        "2.00 DS",
        "12%",
    ],
)
def test_a_typed_number_with_a_unit_is_found(text: str) -> None:
    assert [line for line, _ in text_faults(f"First line.\n{text}\n")] == [2]


@pytest.mark.parametrize(
    "text",
    [
        '{{ power(0.25) }} D and {{ literal("0.06 D", "whitney-focimetry") }}',
        "Two lenses, 3 Days, item 4 Dated",
        "$R = 2 C$ and `0.25 D`",
        '[a link](../read/10D.html "x")',
        "{% set x = 2 %} mm",
    ],
)
def test_calls_formulae_code_and_words_are_no_typed_numbers(text: str) -> None:
    assert list(text_faults(text)) == []


@pytest.mark.parametrize(
    "text",
    ["The color of it.", "Center it.", "Simply turn it.", "In order to read", "TO BE WRITTEN"],
)
def test_words_that_the_pages_do_not_use_are_found(text: str) -> None:
    assert len(list(text_faults(text))) == 1


def test_words_that_only_look_like_them_are_left_alone() -> None:
    assert list(text_faults("A parameter, the centre, discoloured, adjust it, lensmeter.")) == []


def test_an_image_needs_words() -> None:
    assert len(list(text_faults("![](a.png) ![a lens](b.png)"))) == 1


def test_headings_go_down_one_level_at_a_time() -> None:
    good, bad = "## A\n### B\n## C\n", "## A\n\n#### B\n\n# C\n"
    assert [line for line, _ in faults(page(good)) if line > 1] == []
    assert [line for line, _ in faults(page(bad)) if line > 1] == [3, 5]


def test_a_section_says_where_it_comes_from() -> None:
    claim = "<p>" + "A lens that is tilted on the stop reads too strong in one meridian. " * 2
    body = f"<h2>One</h2>{claim}(common practice)</p><h2>Two</h2>{claim}</p>"
    found = faults(page("## One\n\n## Two\n", body))
    assert [text.partition(":")[0] for _, text in found if "basis" in text] == ["Two"]


def test_what_is_cited_is_listed_and_what_is_listed_is_cited() -> None:
    one = page("", cited={"long-1976"})
    other = page("", sources=("long-1976", "common-practice"))
    assert [text for _, text in faults(one)] == [
        "long-1976 is cited, but not among the page's sources"
    ]
    assert [text for _, text in faults(other)] == [
        "long-1976 is among the page's sources, but nothing cites it"
    ]


def test_the_sources_of_a_calculator_on_the_page_count_as_cited() -> None:
    calculator = CALCULATORS["tilt-and-face-form"]
    key = calculator.answer(calculator.example_texts()).sources[0]
    assert faults(page("", sources=(key,), calculators=[calculator.slug])) == []
    assert len(faults(page("", sources=(key,)))) == 1


def test_long_sentences_are_told() -> None:
    long = " ".join(["word"] * 31)
    assert len(warnings(page(f"{long}.\n\nShort one. {long}\n- {' '.join(['w'] * 30)}"))) == 2
    assert warnings(page("One. " * 40)) == []
