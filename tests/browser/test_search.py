"""The search page shows a question as text, whatever stands in it, and its address follows."""

from __future__ import annotations

from urllib.parse import quote

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Opening
from tests.hostile import HOSTILE

_NEW = """(found) => [...document.querySelectorAll("main *, title *")]
    .filter((element) => !element.matches("h1, p, ol, li, a, span, noscript"))
    .map((element) => element.outerHTML.slice(0, 80))"""


@pytest.mark.parametrize("entered", [False, True], ids=["address", "field"])
def test_a_hostile_question_is_shown_as_text(opening: Opening, home: str, entered: bool) -> None:
    page = opening().context.new_page()
    page.goto(f"{home}look-up/search.html")
    title = page.title()
    for text in (*HOSTILE, "$& · $1 $`"):
        question = " ".join(text.split())
        if not question or len(question) > 2000:
            continue
        if entered:
            page.locator("#find").fill(question)
        else:
            page.goto(f"{home}look-up/search.html?q={quote(question)}")
        shown = page.locator("#find").input_value().strip()
        expect(page.locator("#found-says")).to_contain_text(f"“{shown}”")
        assert close(page.title()) == close(f"“{shown}” · {title}")
        assert page.evaluate(_NEW) == []


def close(title: str) -> str:
    """Without blanks and control characters, of which a browser leaves out some in a title."""
    return "".join(sign for sign in title if sign.isprintable() and not sign.isspace())


def test_an_empty_question_leaves_the_page_as_it_came(opening: Opening, home: str) -> None:
    page = opening().context.new_page()
    page.goto(f"{home}look-up/search.html")
    title, said = page.title(), page.locator("#found-says").inner_text()
    page.locator("#find").fill("prism")
    expect(page.locator("#found a").first).to_be_visible()
    page.locator("#find").fill("")
    expect(page.locator("#found-says")).to_have_text(said)
    expect(page.locator("#found a")).to_have_count(0)
    assert (page.title(), page.url) == (title, f"{home}look-up/search.html")
