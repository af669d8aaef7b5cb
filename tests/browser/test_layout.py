"""Nothing is too wide, too small to touch, or out of the keyboard's reach."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from site_src.calculators import CALCULATORS
from tests.browser.calculator_page import CalculatorPage, shown_by
from tests.browser.conftest import NARROW, Cold, Warm

ROOMY = {"width": 700, "height": 740}
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
_FOCUS = f"""(section) => {{
    const controls = ({_CONTROLS})(section);
    const focused = document.activeElement, style = getComputedStyle(focused);
    const box = focused.getClientRects()[0];
    const seen = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    return {{
        index: controls.indexOf(focused),
        outlined: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2,
        uncovered: focused.contains(seen),
    }};
}}"""


# The drawings of each figure that show, and whether a figure is as wide as the answer: the script
# measures the one, the stylesheet the other.
_DRAWINGS = """(section) => [...section.querySelectorAll(".answer .drawn")].map((drawn) => [
    [...drawn.children].filter((each) => each.checkVisibility()).map((each) => each.classList[0]),
    drawn.children.length,
    drawn.clientWidth === drawn.closest(".answer").clientWidth,
])"""

_HAS_ONLY = """([slug, drawing]) =>
    document.querySelector(`#${slug} .answer .drawn > .${drawing}:only-child`) !== null"""

# An entry changes, and the column with it before the answer comes; every axis that is then shown.
_TURN = """async (section) => {
    const axes = [], answer = section.querySelector(".answer");
    const look = () => axes.push(answer.querySelector("[data-name=axis]").textContent);
    const observer = new MutationObserver(look);
    observer.observe(answer, {childList: true});
    const until = async (drawing) => {
        for (let tries = 0; !answer.querySelector(drawing); tries++) {
            if (tries === 1000) throw new Error(`${drawing} is never there`);
            await new Promise((done) => setTimeout(done, 10));
        }
    };
    const wheel = section.querySelector("[name=wheel]");
    wheel.value = "101";
    wheel.dispatchEvent(new Event("input", {bubbles: true}));
    section.style.inlineSize = "700px";
    await until(".wide");
    section.style.inlineSize = "";
    await until(".narrow");
    observer.disconnect();
    return axes;
}"""

# Paper may be wider than the screen that the answer was drawn for.
_ON_PAPER = """(section) => {
    section.style.inlineSize = "700px";
    const shows = section.querySelector(".answer .narrow").checkVisibility();
    section.style.inlineSize = "";
    return shows;
}"""


def check_width(page: Page) -> None:
    width = page.evaluate("document.documentElement.scrollWidth")
    assert width <= NARROW["width"], page.evaluate(_TOO_WIDE)


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
    bench.page.locator("#content").focus()
    visited: list[int] = []
    for _ in range(200):
        bench.page.keyboard.press("Tab")
        focus = bench.section.evaluate(_FOCUS)
        if visited and focus["index"] == -1:
            break
        if focus["index"] >= 0:
            visited.append(focus["index"])
            assert focus["outlined"], f"control {focus['index']} does not show its focus"
            assert focus["uncovered"], f"control {focus['index']} is covered when it has the focus"
    count = bench.section.evaluate(f"(section) => ({_CONTROLS})(section).length")
    assert visited == list(range(count))


# Drawings -----------------------------------------------------------------------------------------


def check_drawings(bench: CalculatorPage, shown: str, count: int) -> None:
    """One drawing of each figure shows, of so many that are there, on paper too."""
    for media in "print", "screen":
        bench.page.emulate_media(media=media)
        drawings = bench.section.evaluate(_DRAWINGS)
        assert drawings
        assert drawings == [[[shown], count, True]] * len(drawings)


def wait_for(bench: CalculatorPage, drawing: str) -> None:
    bench.page.wait_for_function(_HAS_ONLY, arg=[bench.calculator.slug, drawing])


def test_a_page_comes_with_both_drawings_and_shows_the_one_that_fits(cold: Cold) -> None:
    bench = cold("transposition")
    check_drawings(bench, "narrow", 2)
    bench.page.set_viewport_size(ROOMY)  # type: ignore[arg-type]
    check_drawings(bench, "wide", 2)


def test_an_answer_has_the_drawing_that_fits_and_gets_another_with_the_width(warm: Warm) -> None:
    bench = warm("transposition")
    bench.go_to(lens="-1.00 -2.00 x 5")
    bench.expect_answer({"plus.axis": "095"})
    check_drawings(bench, "narrow", 1)
    assert bench.section.evaluate(_ON_PAPER)
    bench.page.set_viewport_size(ROOMY)  # type: ignore[arg-type]
    wait_for(bench, "wide")
    check_drawings(bench, "wide", 1)
    bench.expect_answer({"plus.axis": "095"})
    bench.page.set_viewport_size(NARROW)  # type: ignore[arg-type]
    wait_for(bench, "narrow")
    check_drawings(bench, "narrow", 1)


def test_beside_wrong_entries_the_last_answer_is_drawn_anew(warm: Warm) -> None:
    bench = warm("transposition")
    bench.go_to(lens="-1.00 -2.00 x 5")
    bench.expect_answer({"plus.axis": "095"})
    bench.enter("lens", "2")
    bench.leave()
    problem = bench.expect_problem("lens")
    expect(bench.summary).to_be_visible()
    bench.page.set_viewport_size(ROOMY)  # type: ignore[arg-type]
    wait_for(bench, "wide")
    assert bench.expect_problem("lens") == problem
    expect(bench.summary).to_be_visible()
    expect(bench.stale).to_be_visible()


def test_an_answer_drawn_anew_keeps_the_focus_on_its_link(warm: Warm) -> None:
    bench = warm("transposition")
    bench.go_to(lens="-1.00 -2.00 x 5")
    bench.expect_answer({"plus.axis": "095"})
    bench.tab_to(bench.section.locator(".answer a").last)
    before = bench.section.evaluate(_FOCUS)
    bench.page.set_viewport_size(ROOMY)  # type: ignore[arg-type]
    wait_for(bench, "wide")
    assert bench.section.evaluate(_FOCUS) == before


def test_a_width_that_changes_before_the_answer_brings_no_older_one_back(warm: Warm) -> None:
    bench = warm("cylinder-from-two-readings")
    bench.enter("wheel", "100")
    bench.expect_answer({"axis": "100"})
    axes = bench.section.evaluate(_TURN)
    assert set(axes) == {"101"}
