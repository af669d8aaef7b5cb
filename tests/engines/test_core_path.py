"""What everybody needs of the handbook works in every engine, by keys alone."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping

import pytest

from site_src.calculators import CALCULATORS
from site_src.calculators.declaration import Calculator
from site_src.calculators.fields import ChoiceField, FieldError
from site_src.handbook import Page, load_pages
from site_src.setup.steps import ROOT
from site_src.words import TITLE
from tests.browser.test_addresses import FIRST_ENTRIES
from tests.browser.test_bad_input import UNREADABLE
from tests.engines.bench import Bench, on_keys, tab_to
from tests.engines.engine import PATIENCE, Engine

HOME, *PAGES = load_pages(ROOT / "site_src/pages")
STAGES = [page for page in PAGES if page.is_index]
READING_PAGES = [page for page in PAGES if page.name in ("read/number-line", "set-up/eyepiece")]

SLUG = next(iter(CALCULATORS))
# One of each stage; tests/browser goes through all of them in one engine.
CORE = ("cylinder-from-two-readings", "transposition", "verification")
every_calculator = pytest.mark.parametrize("slug", CORE)

_LINKS = """(where) => Object.fromEntries(
    [...document.querySelectorAll(`${where} a`)].map((link) => [link.textContent, link.href]))"""

_HEADING = "() => [document.title, document.querySelector('h1').textContent]"

# Of the two drawings of each figure those that are shown: their names and how they are stretched.
_DRAWINGS = """() => [...document.querySelectorAll(".drawn")].map((figure) =>
    [...figure.querySelectorAll("svg")].filter((svg) => svg.checkVisibility()).map((svg) => {
        const box = svg.getBoundingClientRect();
        const drawn = svg.viewBox.baseVal;
        const stretch = (box.width / drawn.width) / (box.height / drawn.height);
        return [svg.querySelector("title").textContent, Math.round(100 * stretch)];
    }))"""


def test_the_home_page_leads_to_every_stage_and_a_stage_to_its_pages(
    engine: Engine, home: str
) -> None:
    engine.open(home + HOME.address)
    assert engine.evaluate(_HEADING) == [f"{TITLE}: {HOME.title}", HOME.title]
    links = engine.evaluate(_LINKS, ".job")
    assert links == {page.title: home + page.address for page in STAGES}
    tab_to(engine, ".job a")
    engine.press("Enter")
    engine.expect(next(iter(links.values())), "() => location.href")
    pages = [page for page in PAGES if page.stage == STAGES[0].stage and not page.is_index]
    wanted = {page.title: home + page.address for page in pages}
    engine.expect(wanted, _LINKS, ".contents")


def test_a_search_from_any_page_by_keys_alone(engine: Engine, home: str) -> None:
    engine.open(home + READING_PAGES[0].address)
    tab_to(engine, "#find")
    engine.type("bu")
    engine.press("Enter")
    found = "() => document.querySelector('#found a')?.href"
    engine.expect(f"{home}look-up/glossary.html#base-up", found)
    assert engine.evaluate("() => new URL(location.href).searchParams.get('q')") == "bu"
    tab_to(engine, "#find")
    engine.evaluate("() => { find.value = ''; }")
    engine.type("astigmatizm")
    engine.expect(f"{home}look-up/glossary.html#astigmatism", found)


@pytest.mark.parametrize("page", READING_PAGES, ids=lambda page: page.address)
def test_a_reading_page_shows_its_figures(engine: Engine, home: str, page: Page) -> None:
    engine.open(home + page.address)
    assert engine.evaluate(_HEADING) == [f"{page.title} · {TITLE}", page.title]
    figures = engine.evaluate(_DRAWINGS)
    assert figures, "a reading page without a figure"
    for shown in figures:
        ((name, stretch),) = shown
        assert name
        assert stretch == pytest.approx(100, abs=1)


# Calculators -----------------------------------------------------------------------------------


@pytest.fixture
def bench(engine: Engine, home: str, places: dict[str, str]) -> Callable[[str], Bench]:
    """The bench of a calculator, its page not opened yet."""
    return lambda slug: Bench(engine, CALCULATORS[slug], home + places[slug])


Benches = Callable[[str], Bench]


@every_calculator
def test_an_example_is_worked_by_keys_alone(bench: Benches, slug: str) -> None:
    worked = bench(slug)
    given = worked.calculator.examples[-1].given
    worked.open()
    worked.clear()
    worked.enter(given)
    worked.expect_answer(given)
    worked.expect_said(given)
    worked.expect_entries(given)


def test_a_choice_is_made_by_keys_alone(bench: Benches) -> None:
    chosen = bench(SLUG)
    field = chosen.calculator.fields[-1]
    assert isinstance(field, ChoiceField)
    usual = {**chosen.calculator.example_texts(), chosen.calculator.fields[0].name: "-0.12"}
    other = {**usual, field.name: field.choices[-1].text}
    assert chosen.shown(usual) != chosen.shown(other)
    chosen.open(usual)
    chosen.expect_answer(usual)
    chosen.enter({field.name: other[field.name]})
    chosen.expect_answer(other)
    chosen.expect_entries(other)


@every_calculator
def test_an_address_opens_to_its_answer(bench: Benches, slug: str) -> None:
    opened = bench(slug)
    given = unlike_the_page(opened.calculator)
    opened.open(given)
    opened.expect_answer(given)
    opened.expect_entries(given)


def unlike_the_page(calculator: Calculator) -> dict[str, str]:
    """Entries that the page does not come with."""
    first = calculator.fields[0]
    return {**calculator.example_texts(), first.name: FIRST_ENTRIES[first.kind][0]}


def test_a_bad_entry_is_said_kept_and_mended(bench: Benches) -> None:
    mended = bench(SLUG)
    example = mended.calculator.example_texts()
    field = mended.calculator.fields[0]
    bad = {**example, field.name: UNREADABLE[field.kind]}
    mended.open()
    mended.enter({field.name: bad[field.name]})
    mended.expect_problem(field.name, sentence_about(mended.calculator, bad, field.name))
    mended.expect_entries(bad)

    mended.tab_to(".summary a")
    mended.engine.press("Enter")
    mended.engine.press("End")
    for _ in bad[field.name]:  # the link of the sentence has led to the field
        mended.engine.press("Backspace")
    mended.engine.type(on_keys(example[field.name]))
    mended.expect_answer(example)


def sentence_about(calculator: Calculator, texts: Mapping[str, str], name: str) -> str:
    """What Python says about the entry of a field."""
    with pytest.raises(ExceptionGroup) as refused:
        calculator.answer(texts)
    (error,) = refused.value.exceptions
    assert isinstance(error, FieldError)
    assert error.field == name
    return error.message


# WebKit allows a page some hundred changes of its address in half a minute.
_IN_A_HURRY = """(slug, name, texts) => {
    const input = document.querySelector(`#${slug} [name=${name}]`);
    for (const text of texts) {
        input.value = text;
        input.dispatchEvent(new Event("input", {bubbles: true}));
    }
}"""


def test_hundreds_of_entries_in_a_hurry_reach_the_answer_and_the_address(bench: Benches) -> None:
    hurried = bench(SLUG)
    last = {**hurried.calculator.example_texts(), "wheel": "179"}
    hurried.open()
    texts = [str(number) for number in range(1, 180)]
    hurried.engine.evaluate(_IN_A_HURRY, SLUG, "wheel", 3 * texts)
    hurried.expect_answer(last)
    hurried.engine.expect(True, "() => location.hash.includes('wheel=179')")
    hurried.engine.evaluate("() => history.back()")
    hurried.expect_answer(hurried.calculator.example_texts())


# Going back ------------------------------------------------------------------------------------


def test_going_back_brings_the_entries_before(bench: Benches) -> None:
    changed = bench(SLUG)
    field = changed.calculator.fields[0]
    before, after = changed.calculator.example_texts(), unlike_the_page(changed.calculator)
    changed.open()
    changed.enter({field.name: after[field.name]})
    changed.expect_answer(after)
    changed.engine.evaluate("() => history.back()")
    changed.expect_answer(before)
    changed.expect_entries(before)


# A moment later: WebKit's driver cannot answer for a page that is left.
_LEAVE = "(address) => { setTimeout(() => { location.href = address; }, 100); }"
_GO_BACK = "() => { setTimeout(() => history.back(), 100); }"

_ENTER_AND_LEAVE = """(slug, name, text, address) => setTimeout(() => {
    const input = document.querySelector(`#${slug} [name=${name}]`);
    input.value = text;
    input.dispatchEvent(new Event("input", {bubbles: true}));
    location.href = address;
}, 100)"""


def test_an_entry_is_not_lost_when_the_page_is_left_at_once(bench: Benches, home: str) -> None:
    left = bench(SLUG)
    given = {**left.calculator.example_texts(), "wheel": "77"}
    left.open()
    left.expect_answer(left.calculator.example_texts())
    left.engine.evaluate(_ENTER_AND_LEAVE, SLUG, "wheel", "77", home + HOME.address)
    left.engine.expect(HOME.title, "() => document.querySelector('h1')?.textContent")
    left.engine.evaluate(_GO_BACK)
    left.engine.expect(True, "(slug) => document.getElementById(slug) !== null", SLUG)
    left.expect_answer(given)
    left.expect_entries(given)


def test_going_back_to_the_page_brings_its_entries_and_it_still_answers(
    bench: Benches, home: str
) -> None:
    left = bench(SLUG)
    example, given = left.calculator.example_texts(), unlike_the_page(left.calculator)
    left.open(given)
    left.expect_answer(given)
    left.engine.evaluate(_LEAVE, home + HOME.address)
    left.engine.expect(HOME.title, "() => document.querySelector('h1')?.textContent")
    left.engine.evaluate(_GO_BACK)
    left.engine.expect(True, "(slug) => document.getElementById(slug) !== null", SLUG)
    left.expect_answer(given)
    left.expect_entries(given)
    left.clear()
    left.enter(example)
    left.expect_answer(example)


# What the tests themselves hear ------------------------------------------------------------------


def test_what_a_page_complains_of_is_heard(running: Engine, home: str) -> None:
    running.open(home + HOME.address)
    assert running.complaints() == []
    running.evaluate("""() => {
        console.error("said on the console");
        setTimeout(() => { document.title = "thrown"; throw new Error("thrown by nobody"); });
    }""")
    running.expect("thrown", "() => document.title")
    deadline = time.monotonic() + PATIENCE
    while len(running.complaints()) < 2 and time.monotonic() < deadline:
        time.sleep(0.05)  # an engine may tell of an error after the page has gone on
    console, uncaught = running.complaints()
    assert "said on the console" in console
    # Of a file's script WebKit tells no more than that it failed.
    assert "thrown by nobody" in uncaught or "Script error" in uncaught
