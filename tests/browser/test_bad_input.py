"""What cannot be read is said where it stands. Hostile text has tests of its own."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from site_src.calculators import CALCULATORS
from site_src.calculators.fields import ChoiceField
from tests.browser.calculator_page import CalculatorPage, shown_by
from tests.browser.conftest import MODELS, Warm

UNREADABLE = {
    "power": "-325",
    "axis": "181",
    "number": "1.2.3",
    "prescription": "-1.00 -1.00",
    "text": "so " * 70 + "on",
}


@pytest.mark.parametrize(
    ("slug", "name"),
    [
        (slug, field.name)
        for slug, calculator in MODELS.items()
        for field in calculator.fields
        if not isinstance(field, ChoiceField)
    ],
)
def test_a_bad_entry_is_said_at_its_field_and_can_be_mended(
    warm: Warm, slug: str, name: str
) -> None:
    bench = warm(slug)
    bench.open_more()
    kinds = {field.name: field.kind for field in bench.calculator.fields}
    good, before = bench.entry(name), bench.shown()

    bench.field(name).fill(UNREADABLE[kinds[name]])
    bad = bench.entry(name)
    bench.page.keyboard.press("Enter")
    sentence = bench.expect_problem(name)
    check_summary(bench, name, sentence)
    assert bench.entry(name) == bad
    expect(bench.stale).to_be_visible()
    assert bench.shown() == before

    bench.enter(name, good.strip("±"))
    bench.leave()
    bench.expect_answer(before)
    expect(bench.summary).to_be_hidden()
    expect(bench.problem(name)).to_be_hidden()
    expect(bench.field(name)).not_to_have_attribute("aria-invalid", "true")


def check_summary(bench: CalculatorPage, name: str, sentence: str) -> None:
    """The sentence is part of the field, and leads to it from the summary, which has the focus."""
    expect(bench.field(name)).to_have_accessible_description(re.compile(re.escape(sentence)))
    expect(bench.summary).to_have_role("alert")
    expect(bench.summary).to_be_focused()
    bench.page.keyboard.press("Tab")
    expect(bench.summary.get_by_role("link", name=sentence)).to_be_focused()
    bench.page.keyboard.press("Enter")
    expect(bench.field(name)).to_be_focused()


@pytest.mark.parametrize("slug", CALCULATORS)
def test_all_bad_entries_are_said_at_once(warm: Warm, slug: str) -> None:
    bench = warm(slug)
    fields = [field for field in bench.calculator.fields if not isinstance(field, ChoiceField)]
    bench.go_to(**{field.name: UNREADABLE[field.kind] for field in fields})
    for field in fields:
        bench.expect_problem(field.name)
    expect(bench.summary.get_by_role("link")).to_have_count(len(fields))


def test_the_sign_key_says_nothing_of_a_word(warm: Warm) -> None:
    """The key of the example stands at minus; nobody typed it before hello or plano."""
    bench = warm("verification")
    wanted = bench.calculator.answer({**bench.calculator.examples[0].given, "sphere": "0"})
    bench.field("sphere").fill("hello")
    bench.page.keyboard.press("Enter")
    assert "in “hello”: “hello” was read" in bench.expect_problem("sphere")
    bench.field("sphere").fill("plano")
    bench.page.keyboard.press("Enter")
    bench.expect_answer(shown_by(wanted))
    expect(bench.problem("sphere")).to_be_hidden()
