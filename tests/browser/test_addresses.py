"""The address of a page holds the entries: a link, a bookmark and the history bring them back."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from lensmath.notation import MINUS
from site_src.calculators import CALCULATORS
from site_src.calculators.fields import ChoiceField, PowerField
from tests.browser.calculator_page import CalculatorPage, hash_of, shown_by
from tests.browser.conftest import MODELS, Cold, Warm

every_model = pytest.mark.parametrize("slug", MODELS)
FIRST_ENTRIES = {
    "power": ("-1.00", "-1.25"),
    "prescription": ("+1.00 -0.50 x 10", "+1.00 -0.50 x 11"),
}


def fields_of(kind: type) -> pytest.MarkDecorator:
    """One case for each field of a kind in a model."""
    return pytest.mark.parametrize(
        ("slug", "name"),
        [
            (slug, field.name)
            for slug, calculator in MODELS.items()
            for field in calculator.fields
            if isinstance(field, kind)
        ],
    )


def with_hyphens(entry: str) -> str:
    """The minus of a field's key is printed, the one in an address is typed."""
    return entry.replace(MINUS, "-")


def copied(bench: CalculatorPage, button: str) -> str:
    """What a button of the page puts on the clipboard."""
    bench.button(button).click()
    expect(bench.status).to_have_text("Copied.")
    return clipboard(bench)


def clipboard(bench: CalculatorPage) -> str:
    bench.page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    text: str = bench.page.evaluate("navigator.clipboard.readText()")
    return text


@every_model
def test_a_copied_link_opens_the_same_answer(warm: Warm, slug: str) -> None:
    bench = warm(slug)
    given = bench.calculator.examples[-1].given
    bench.go_to(**given)
    bench.expect_answer(shown_by(bench.calculator.answer(given)))
    shown, entries = bench.shown(), bench.entries()
    link = copied(bench, "Copy link to this answer")
    bench.reset()
    bench.page.evaluate("(link) => location.assign(link)", link)
    bench.expect_answer(shown)
    assert bench.entries() == entries


def test_an_address_is_answered_when_the_page_is_opened_at_it(cold: Cold) -> None:
    calculator = CALCULATORS["verification"]
    given = {**calculator.example_texts(), "measured_axis": "001", "decimals": "literal"}
    bench = cold(calculator.slug, end=hash_of(calculator, given))
    bench.expect_answer(shown_by(calculator.answer(given)))
    assert {name: with_hyphens(entry) for name, entry in bench.entries().items()} == {
        name: with_hyphens(entry) for name, entry in given.items()
    }
    expect(bench.field("decimals")).to_be_visible()


def test_the_answer_is_copied_as_text(warm: Warm) -> None:
    bench = warm("transposition")
    bench.go_to(lens="-1.00 -2.00 x 5")
    bench.expect_answer({"plus.axis": "095"})
    text = copied(bench, "Copy as text")
    for shown in ("Transposition", *bench.shown().values()):
        assert shown in text


def test_copying_needs_no_clipboard_interface(warm: Warm) -> None:
    """Pages from plain http and from a stick have none."""
    bench = warm("transposition")
    bench.go_to(lens="-1.00 -2.00 x 5")
    bench.page.evaluate("Object.defineProperty(navigator, 'clipboard', {configurable: true})")
    button = bench.button("Copy link to this answer")
    button.click()
    expect(bench.status).to_have_text("Copied.")
    bench.page.evaluate("delete navigator.clipboard")
    expect(button).to_be_focused()
    assert clipboard(bench) == bench.address()


@pytest.mark.parametrize(
    "slug", [s for s, c in MODELS.items() if c.fields[0].kind in FIRST_ENTRIES]
)
def test_back_and_forward_walk_through_the_entries(warm: Warm, slug: str) -> None:
    bench = warm(slug)
    example = bench.calculator.example_texts()
    field = bench.calculator.fields[0]
    states = [example] + [{**example, field.name: text} for text in FIRST_ENTRIES[field.kind]]
    answers = [shown_by(bench.calculator.answer(state)) for state in states]
    for state, answer in zip(states[1:], answers[1:], strict=True):
        bench.enter(field.name, state[field.name])
        bench.leave()
        bench.expect_answer(answer)
    for step, reached in ("go_back", 1), ("go_back", 0), ("go_forward", 1), ("go_forward", 2):
        getattr(bench.page, step)()
        bench.expect_answer(answers[reached])
        assert with_hyphens(bench.entry(field.name)) == with_hyphens(states[reached][field.name])


@fields_of(PowerField)
def test_an_address_without_a_sign_gets_none(warm: Warm, slug: str, name: str) -> None:
    bench = warm(slug)
    bench.go_to(**{**bench.calculator.example_texts(), name: "0.75"})
    assert "0.75" in bench.expect_problem(name)
    assert bench.entry(name) == "±0.75"
    expect(bench.summary).to_be_visible()


@fields_of(ChoiceField)
def test_a_choice_that_is_unknown_is_named(warm: Warm, slug: str, name: str) -> None:
    bench = warm(slug)
    bench.go_to(**{**bench.calculator.example_texts(), name: "no-such"})
    assert "“no-such”" in bench.expect_problem(name)
    expect(bench.field(name)).to_be_visible()


@every_model
def test_a_field_that_is_unknown_is_named(warm: Warm, slug: str) -> None:
    bench = warm(slug)
    bench.go_to(**bench.calculator.example_texts(), colour="red")
    expect(bench.summary).to_contain_text("“colour”")
    expect(bench.stale).to_be_visible()
