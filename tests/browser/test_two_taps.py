"""Six questions of the bench: two taps, or one search, lead from the home page to the answer."""

from __future__ import annotations

import re
from typing import NamedTuple

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Opening


class Question(NamedTuple):
    """What is asked, the way there, and what of the answer stands on the page.

    `taps` are the links from the home page; `row` is a row of a table, or a sentence, as a pattern.
    """

    asked: str
    taps: tuple[str, ...]
    page: str
    row: str


QUESTIONS = (
    # ANSI Z80.1-2015 ±5°, ISO 21987:2017 ±6°: tests/published/tolerances_cells.csv
    Question(
        "axis tolerance of a 0.75 cylinder",
        ("Check", "Tolerance rules"),
        "check/tolerance-rules.html",
        r"0\.62 to 0\.75\s*±5°\s*±6°",
    ),
    Question(
        "how to write one eighth",
        ("How an eighth is written",),
        "write/steps-and-eighths.html",
        r"0\.125\s*0\.12\b",
    ),
    # The nose of a left lens lies on the left of who faces the wearer: iso-8429-1986.
    Question(
        "prism base at 180 on a left lens",
        ("Prism base as a direction, by eye",),
        "look-up/base-table.html",
        r"180\s*out\s*in\b",
    ),
    Question(
        "second line set never sharpens",
        ("Read", "The second lines never get sharp"),
        "read/second-lines.html",
        r"both sets broken .*the wheel",
    ),
    # -9.00 / (1 + 0.012 × 9.00) = -8.12; the pocket calculator's.
    Question(
        "vertex change for a -9",
        ("Understand", "Vertex distance"),
        "understand/vertex-distance.html",
        r"−8\.12",
    ),
    Question(
        "minimum blank for a given frame",
        ("The smallest blank for a frame",),
        "mark-up/decentration-and-blank.html",
        r"minimum blank",
    ),
)
every_question = pytest.mark.parametrize("question", QUESTIONS, ids=lambda each: each.asked)


@every_question
def test_two_taps_lead_to_the_answer(opening: Opening, home: str, question: Question) -> None:
    page = opening().context.new_page()
    page.goto(f"{home}index.html")
    assert len(question.taps) <= 2
    for name in question.taps:
        page.locator("main").get_by_role("link", name=name, exact=True).click()
    assert_answered(page, home, question)


@every_question
def test_one_search_leads_to_the_answer(opening: Opening, home: str, question: Question) -> None:
    page = opening().context.new_page()
    page.goto(f"{home}index.html")
    page.get_by_role("searchbox").fill(question.asked)
    page.keyboard.press("Enter")
    results = page.locator("#found a")
    expect(results.first).to_be_visible()
    found = results.evaluate_all("(links) => links.slice(0, 3).map((link) => link.href)")
    page.goto(next(link for link in found if link.startswith(home + question.page)))
    assert_answered(page, home, question)


def assert_answered(page: Page, home: str, question: Question) -> None:
    expect(page).to_have_url(re.compile(rf"^{re.escape(home + question.page)}"))
    text = page.locator("main").inner_text()
    assert re.search(question.row, text, re.DOTALL), text
