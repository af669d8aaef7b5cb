"""A calculator worked through an engine by keys alone, and read by the names of its data."""

from __future__ import annotations

from collections.abc import Mapping

from lensmath.notation import MINUS
from site_src.calculators.answer import plain
from site_src.calculators.declaration import Calculator
from site_src.calculators.fields import ChoiceField, Field
from tests.browser.calculator_page import hash_of, shown_by
from tests.engines.engine import Engine

_HAS_FOCUS = "(selector) => document.activeElement.matches(selector)"

# The answer by name, or nothing when it is a previous one. Of two data alike the first counts.
_SHOWN = """(slug) => {
    const section = document.getElementById(slug);
    if (!section.querySelector(".stale").hidden) return null;
    const data = [...section.querySelectorAll(".answer data")].reverse();
    return Object.fromEntries(data.map((datum) => [datum.dataset.name, datum.textContent]));
}"""

_SAID = "(slug) => document.querySelector(`#${slug} [role=status]`).textContent"

_IS_OPEN = "(slug) => document.querySelector(`#${slug} .more`).open"

_IS_STALE = "(slug) => !document.querySelector(`#${slug} .stale`).hidden"

# What stands in the fields that are not empty, as it is typed; a sign not chosen is none.
_ENTRIES = """(slug) => {
    const form = document.querySelector(`#${slug} form`);
    const filled = [...form.querySelectorAll("[name]")].filter((input) => input.value);
    const typed = (text) => text.replaceAll("\u00b1", "").replaceAll("\u2212", "-")
        .replaceAll("\u00d7", "x");
    return Object.fromEntries(filled.map((input) => {
        const key = form.querySelector(`.sign[data-for="${input.id}"]`);
        return [input.name, typed((key?.textContent ?? "") + input.value)];
    }));
}"""

# The sentence about a field, if it can be seen and belongs to the field.
_PROBLEM = """(slug, name) => {
    const input = document.querySelector(`#${slug} [name=${name}]`);
    const sentence = document.getElementById(`${slug}-${name}-problem`);
    const said = sentence.checkVisibility() && input.getAttribute("aria-invalid") === "true"
        && input.getAttribute("aria-describedby").includes(sentence.id);
    return said ? sentence.textContent : null;
}"""


class Bench:
    """One calculator on the page that is open in an engine."""

    def __init__(self, engine: Engine, calculator: Calculator, page: str) -> None:
        self.engine = engine
        self.calculator = calculator
        self._page = page

    # Its keys ----------------------------------------------------------------------------------

    def open(self, entries: Mapping[str, str] | None = None) -> None:
        """Opens its page, at the address that holds the entries if there are any."""
        self.engine.open(self._page + (hash_of(self.calculator, entries) if entries else ""))

    def tab_to(self, part: str) -> None:
        """Presses Tab until a part of the calculator has the focus."""
        tab_to(self.engine, f"#{self.calculator.slug} {part}")

    def clear(self) -> None:
        """Empties the form; the first field has the focus afterwards."""
        self.tab_to(".clear")
        self.engine.press("Enter")
        self.engine.expect(True, _IS_STALE, self.calculator.slug)

    def enter(self, entries: Mapping[str, str]) -> None:
        """Fills fields in their order on the page, then presses Enter."""
        for field in sorted(self.calculator.fields, key=lambda field: field.aside):
            if text := entries.get(field.name):
                if field.aside:
                    self._open_more()
                self.tab_to(f"[name={field.name}]")
                self._enter(field, text)
        self.engine.press("Enter")

    def _open_more(self) -> None:
        if not self.engine.evaluate(_IS_OPEN, self.calculator.slug):
            self.tab_to(".more summary")
            self.engine.press("Enter")

    def _enter(self, field: Field, text: str) -> None:
        """What Tab came to is marked as a whole, so that typing replaces it."""
        if isinstance(field, ChoiceField):
            self.engine.press("Home")
            for _ in range([choice.text for choice in field.choices].index(text)):
                self.engine.press("ArrowDown")
        else:
            self.engine.type(on_keys(text))

    # What it shows -----------------------------------------------------------------------------

    def shown(self, entries: Mapping[str, str]) -> dict[str, str]:
        """What Python answers to these entries, as the page has to show it."""
        return shown_by(self.calculator.answer(entries))

    def expect_answer(self, entries: Mapping[str, str]) -> None:
        """Waits until all of the answer to these entries is shown."""
        self.engine.expect(self.shown(entries), _SHOWN, self.calculator.slug)

    def expect_said(self, entries: Mapping[str, str]) -> None:
        """Waits until the answer's headline has been told to those who do not see it."""
        headline = plain(self.calculator.answer(entries).headline)
        self.engine.expect(headline, _SAID, self.calculator.slug)

    def expect_problem(self, name: str, sentence: str) -> None:
        """Waits until a field has this sentence, and the answer is marked as a previous one."""
        self.engine.expect(sentence, _PROBLEM, self.calculator.slug, name)
        self.engine.expect(True, _IS_STALE, self.calculator.slug)

    def expect_entries(self, entries: Mapping[str, str]) -> None:
        """Waits until the fields hold these entries, and the others none or the usual choice."""
        usual = {
            field.name: field.choices[0].text
            for field in self.calculator.fields
            if isinstance(field, ChoiceField)
        }
        typed = {name: on_keys(text) for name, text in entries.items() if text}
        self.engine.expect({**usual, **typed}, _ENTRIES, self.calculator.slug)


def on_keys(text: str) -> str:
    """An entry in characters that a keyboard has."""
    return text.translate({ord(MINUS): "-", ord("×"): "x"})


def tab_to(engine: Engine, selector: str) -> None:
    """Presses Tab until something that the selector names has the focus."""
    for _ in range(100):
        if engine.evaluate(_HAS_FOCUS, selector):
            return
        engine.press("Tab")
    raise AssertionError(f"{engine.name}: Tab does not reach {selector}")
