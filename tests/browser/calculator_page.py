"""A page with a calculator on it, as a person sees and works it.

Answers are read from their data elements by name, so that no test depends on prose.
"""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import urlencode

from playwright.sync_api import Locator, Page, expect
from playwright.sync_api import TimeoutError as TookTooLong

from site_src.calculators.answer import Answer
from site_src.calculators.declaration import Calculator
from site_src.calculators.fields import ChoiceField, Field, FieldError, PowerField

_SHOWN = """(answer) => Object.fromEntries([...answer.querySelectorAll("data")].reverse().map(
    (datum) => [datum.dataset.name, {value: datum.value, shown: datum.textContent}]))"""

_SHOWS = """([slug, wanted]) => {
    const section = document.getElementById(slug);
    const shown = (name) => section.querySelector(`.answer data[data-name="${name}"]`)?.textContent;
    return section.querySelector(".stale").hidden
        && Object.entries(wanted).every(([name, text]) => shown(name) === text);
}"""

# The page is told of a change of its address some time after the change.
_GO_TO = """async (hash) => {
    for (const next of ["#content", hash]) {
        if (location.hash === next) continue;
        const arrived = new Promise(
            (done) => addEventListener("hashchange", done, {once: true}));
        location.hash = next;
        await arrived;
    }
}"""

# Without its answer: the next one that shows is then the one asked for.
_CLOSE = """(section) => {
    section.querySelector(".answer").replaceChildren();
    for (const more of section.querySelectorAll("details.more")) more.open = false;
    for (const size of section.querySelectorAll(".nudge-size")) {
        size.selectedIndex = 0;
        size.dispatchEvent(new Event("input", {bubbles: true}));
    }
}"""


def shown_by(answer: Answer) -> dict[str, str]:
    """What an answer of Python shows, by name."""
    return {name: datum.shown for name, datum in answer.values().items()}


def hash_of(calculator: Calculator, entries: Mapping[str, str]) -> str:
    """The end of an address that holds these entries."""
    return f"#{calculator.slug}?{urlencode(entries)}"


class CalculatorPage:
    """One calculator on the page that holds it."""

    def __init__(self, page: Page, calculator: Calculator) -> None:
        self.page = page
        self.calculator = calculator
        self.section = page.locator(f"#{calculator.slug}")
        self.status = self.section.get_by_role("status")
        self.summary = self.section.locator(".summary")
        self.stale = self.section.locator(".stale")
        self.more = self.section.locator("details.more")

    # Its parts ---------------------------------------------------------------------------------

    def field(self, name: str) -> Locator:
        """The input or select of a field."""
        return self.section.locator(f"[name={name}]")

    def address(self) -> str:
        """The address as the page has it now; the driver's own copy of it may lag behind."""
        return str(self.page.evaluate("location.href"))

    def expect_address(self, part: str) -> None:
        """Waits until the address has this in it: it follows the entries at a distance."""
        self.page.wait_for_function("(part) => location.href.includes(part)", arg=part)

    def sign_key(self, name: str) -> Locator:
        return self.section.locator(f".sign[data-for={self.calculator.slug}-{name}]")

    def step_key(self, name: str, direction: int) -> Locator:
        return self.section.locator(
            f'[data-for={self.calculator.slug}-{name}][data-steps="{direction}"]'
        )

    def problem(self, name: str) -> Locator:
        """The sentence about what is wrong with a field."""
        return self.section.locator(f"#{self.calculator.slug}-{name}-problem")

    def button(self, name: str) -> Locator:
        return self.section.get_by_role("button", name=name, exact=True)

    def entry(self, name: str) -> str:
        """What stands in a field, the sign on its key before it."""
        value = self.field(name).input_value()
        key = self.sign_key(name)
        return key.inner_text() + value if key.count() else value

    def entries(self) -> dict[str, str]:
        return {field.name: self.entry(field.name) for field in self.calculator.fields}

    # Working it --------------------------------------------------------------------------------

    def go_to(self, **entries: str) -> None:
        """Changes the address of the open page, as a link does."""
        self.page.evaluate(_GO_TO, hash_of(self.calculator, entries) if entries else "")

    def open_more(self) -> None:
        """Opens what stands under "More entries"."""
        self.more.evaluate_all("(all) => all.forEach((more) => { more.open = true; })")

    def reset(self) -> None:
        """As the page came: the worked example, and nothing opened."""
        self.section.evaluate(_CLOSE)
        self.go_to()
        self.expect_answer(shown_by(self.calculator.answer(self.calculator.example_texts())))

    def clear(self) -> None:
        """Empties the form, which most calculators refuse to answer."""
        self.button("Clear entries").click()
        try:
            nothing = self.calculator.answer({})
        except (ExceptionGroup, FieldError):
            expect(self.stale).to_be_visible()
        else:
            self.expect_answer(shown_by(nothing))

    def enter(self, name: str, text: str) -> None:
        """Replaces what stands in a field by typing, or chooses."""
        field = self.field(name)
        if field.evaluate("(field) => field.tagName") == "SELECT":
            field.select_option(text)
            return
        field.focus()
        self.page.keyboard.press("ControlOrMeta+A")
        self.page.keyboard.press("Delete")
        self.page.keyboard.type(text)

    def leave(self) -> None:
        """Leaves a field, which ends its entry."""
        self.page.keyboard.press("Tab")

    def tab_to(self, control: Locator) -> None:
        """Presses Tab until the control has the focus."""
        for _ in range(100):
            if control.evaluate("(control) => control === document.activeElement"):
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(f"Tab does not reach {control}")

    def enter_by_keys(self, entries: Mapping[str, str]) -> None:
        """Fills an empty form from its start with nothing but the keyboard, then presses Enter."""
        self.page.locator("#content").focus()
        for field in sorted(self.calculator.fields, key=lambda field: field.aside):
            if text := entries.get(field.name):
                self._enter_by_keys(field, text)
        self.page.keyboard.press("Enter")

    def _enter_by_keys(self, field: Field, text: str) -> None:
        if field.aside and self.more.get_attribute("open") is None:
            self.tab_to(self.more.locator("summary"))
            self.page.keyboard.press("Enter")
        if isinstance(field, PowerField) and text[0] in "+-":
            self.tab_to(self.sign_key(field.name))
            for _ in range(1 if text[0] == "-" else 2):  # from not chosen to minus, then to plus
                self.page.keyboard.press("Space")
            text = text[1:]
        self.tab_to(self.field(field.name))
        if isinstance(field, ChoiceField):
            self.page.keyboard.press("Home")
            for _ in range([choice.text for choice in field.choices].index(text)):
                self.page.keyboard.press("ArrowDown")
        else:
            self.page.keyboard.type(text)

    # What it shows -----------------------------------------------------------------------------

    def data(self) -> dict[str, dict[str, str]]:
        """Value and shown text of every datum of the answer, by name."""
        found: dict[str, dict[str, str]] = self.section.locator(".answer").evaluate(_SHOWN)
        return found

    def shown(self) -> dict[str, str]:
        return {name: datum["shown"] for name, datum in self.data().items()}

    def expect_answer(self, wanted: Mapping[str, str]) -> None:
        """Waits until the answer shows these texts and is not an older one."""
        try:
            self.page.wait_for_function(_SHOWS, arg=[self.calculator.slug, dict(wanted)])
        except TookTooLong:
            shown = self.shown()
            assert {name: shown.get(name) for name in wanted} == wanted, "never shown"
            raise

    def expect_problem(self, name: str) -> str:
        """Waits for the sentence about a field, which is then returned."""
        expect(self.problem(name)).to_be_visible()
        expect(self.field(name)).to_have_attribute("aria-invalid", "true")
        return self.problem(name).inner_text()
