"""Nothing is too wide, too small to touch, or out of the keyboard's reach."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from site_src.calculators import CALCULATORS
from tests.browser.calculator_page import shown_by
from tests.browser.conftest import Opening, Warm

NARROW = {"width": 320, "height": 568}
TARGET = 44  # CSS px, the least side of a target (WCAG 2.2, 2.5.5)

every_calculator = pytest.mark.parametrize("slug", CALCULATORS)

_TOO_WIDE = """() => [...document.querySelectorAll("main *")]
    .filter((element) => element.getBoundingClientRect().right > innerWidth + 0.5)
    .map((element) => element.outerHTML.slice(0, 120))"""

_CONTROLS = """(section) => [...section.querySelectorAll("a[href], button, input, select, summary")]
    .filter((control) => control.checkVisibility())"""

_TOO_SMALL = f"""(section) => ({_CONTROLS})(section)
    .filter((control) => control.localName !== "a")
    .map((control) => [control.outerHTML.slice(0, 120), control.getBoundingClientRect()])
    .filter(([, box]) => box.width < {TARGET} || box.height < {TARGET})
    .map(([html, box]) => `${{box.width}} × ${{box.height}}: ${{html}}`)"""

# Which control has the focus, whether its outline shows, and whether something covers it.
_FOCUS = """(controls) => {
    const focused = document.activeElement, style = getComputedStyle(focused);
    const box = focused.getClientRects()[0];
    const seen = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    return {
        index: controls.indexOf(focused),
        outlined: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2,
        uncovered: focused.contains(seen),
    };
}"""


def check_width(page: Page) -> None:
    width = page.evaluate("document.documentElement.scrollWidth")
    assert width <= NARROW["width"], page.evaluate(_TOO_WIDE)


def test_no_page_is_wider_than_a_narrow_screen(
    opening: Opening, home: str, addresses: list[str]
) -> None:
    page = opening(viewport=NARROW).context.new_page()
    for address in addresses:
        page.goto(home + address)
        check_width(page)


@every_calculator
def test_no_answer_is_wider_than_a_narrow_screen(warm: Warm, slug: str) -> None:
    bench = warm(slug)
    bench.page.set_viewport_size(NARROW)  # type: ignore[arg-type]
    bench.open_more()
    for example in bench.calculator.examples:
        bench.go_to(**example.given)
        bench.expect_answer(shown_by(bench.calculator.answer(example.given)))
        check_width(bench.page)


@every_calculator
def test_every_target_is_large_enough(warm: Warm, slug: str) -> None:
    bench = warm(slug)
    bench.open_more()
    assert bench.section.evaluate(_TOO_SMALL) == []


@every_calculator
def test_tab_reaches_every_control_in_order_and_shows_where(warm: Warm, slug: str) -> None:
    bench = warm(slug)
    bench.open_more()
    controls = bench.section.evaluate_handle(_CONTROLS)
    bench.page.locator("#content").focus()
    visited: list[int] = []
    for _ in range(200):
        bench.page.keyboard.press("Tab")
        focus = controls.evaluate(_FOCUS)
        if visited and focus["index"] == -1:
            break
        if focus["index"] >= 0:
            visited.append(focus["index"])
            assert focus["outlined"], f"control {focus['index']} does not show its focus"
            assert focus["uncovered"], f"control {focus['index']} is covered when it has the focus"
    assert visited == list(range(controls.evaluate("(controls) => controls.length")))
