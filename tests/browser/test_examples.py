"""Every example of every calculator gives in the page what it gives in Python."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, plain
from site_src.calculators.declaration import Example
from tests.browser.calculator_page import CalculatorPage, shown_by
from tests.browser.conftest import Opening, Warm

every_calculator = pytest.mark.parametrize("slug", CALCULATORS)
every_example = pytest.mark.parametrize(
    ("slug", "example"),
    [
        pytest.param(slug, example, id=f"{slug}-{number}")
        for slug, calculator in CALCULATORS.items()
        for number, example in enumerate(calculator.examples, 1)
    ],
)


def check_shown(bench: CalculatorPage, example: Example, answer: Answer) -> None:
    """The page shows what the example prints, and every other datum, with its full value."""
    bench.expect_answer(example.prints)
    bench.expect_answer(shown_by(answer))
    assert {name: datum["value"] for name, datum in bench.data().items()} == {
        name: str(datum.value) for name, datum in answer.values().items()
    }


@every_calculator
def test_an_example_is_worked_by_keyboard_alone(warm: Warm, slug: str) -> None:
    bench = warm(slug)
    example = bench.calculator.examples[-1]
    answer = bench.calculator.answer(example.given)
    bench.clear()
    bench.enter_by_keys(example.given)
    check_shown(bench, example, answer)
    expect(bench.status).to_have_text(plain(answer.headline))


@every_example
def test_an_example_is_worked_from_its_address(warm: Warm, slug: str, example: Example) -> None:
    bench = warm(slug)
    bench.clear()
    bench.go_to(**example.given)
    check_shown(bench, example, bench.calculator.answer(example.given))


@every_calculator
def test_the_worked_example_stands_before_any_script_runs(
    opening: Opening, home: str, places: dict[str, str], slug: str
) -> None:
    page = opening(java_script_enabled=False).context.new_page()
    page.goto(home + places[slug])
    bench = CalculatorPage(page, CALCULATORS[slug])
    example = bench.calculator.examples[0]
    assert bench.shown() == shown_by(bench.calculator.answer(example.given))
    assert example.prints.items() <= bench.shown().items()
    for field in bench.calculator.fields:
        expect(bench.field(field.name)).to_be_disabled()
    expect(bench.section.locator("noscript")).to_be_visible()
