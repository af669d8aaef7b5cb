"""A power is typed with a sign key of its own and moved with step keys, on a phone's keypad."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from lensmath.notation import MINUS
from site_src.calculators import CALCULATORS
from site_src.calculators.fields import AxisField, ChoiceField, NumberField, PowerField
from tests.browser.calculator_page import CalculatorPage
from tests.browser.conftest import MODELS, Warm

FULLWIDTH_PLUS = "\N{FULLWIDTH PLUS SIGN}"
SLUG = "cylinder-from-two-readings"


@pytest.fixture
def bench(warm: Warm) -> CalculatorPage:
    return warm(SLUG)


def read_as(bench: CalculatorPage) -> float:
    """What Python takes the first reading for, once it has."""
    return float(bench.data()["sphere"]["value"])


def number(entry: str) -> float:
    return float(entry.replace(MINUS, "-").strip("±").replace(",", "."))


def test_the_sign_key_goes_from_unset_to_minus_to_plus_and_back(bench: CalculatorPage) -> None:
    key = bench.sign_key("first")
    bench.go_to(first="0.75", second="-3.25", wheel="112")
    assert bench.entry("first") == "±0.75"
    for sign, word, sphere in (
        (MINUS, "minus", "−0.75"),
        ("+", "plus", "+0.75"),
        (MINUS, "minus", "−0.75"),
    ):
        key.click()
        assert bench.entry("first") == f"{sign}0.75"
        expect(key).to_have_accessible_name(f"Sign of First sharp reading: {word}")
        bench.expect_answer({"sphere": sphere})


@pytest.mark.parametrize("sign", ["-", MINUS, "–", "+", FULLWIDTH_PLUS])
def test_a_typed_sign_moves_to_the_key(bench: CalculatorPage, sign: str) -> None:
    bench.go_to(first="0.75", second="-3.25", wheel="112")
    bench.enter("first", f"{sign}0.50")
    kept = "+" if sign in ("+", FULLWIDTH_PLUS) else MINUS
    assert bench.entry("first") == f"{kept}0.50"
    assert bench.field("first").input_value() == "0.50"
    bench.expect_answer({"sphere": f"{kept}0.50"})


@pytest.mark.parametrize("slug", MODELS)
def test_the_key_stands_for_the_sign_that_python_is_given(warm: Warm, slug: str) -> None:
    """The address holds what Python is asked."""
    bench = warm(slug)
    for field in bench.calculator.fields:
        if isinstance(field, PowerField):
            bench.enter(field.name, "-1.25")
            bench.expect_address(f"{field.name}=-1.25")
            bench.sign_key(field.name).click()
            bench.expect_address(f"{field.name}=%2B1.25")


def test_a_tap_on_an_entry_of_the_example_takes_it_whole(bench: CalculatorPage) -> None:
    """Else the digits of the one are typed into the other: 0.751.50."""
    bench.field("first").click()
    bench.page.keyboard.type("1.50")
    assert bench.entry("first") == "±1.50", "the sign of the example is nobody's choice"
    assert "1.50" in bench.expect_problem("first")
    bench.sign_key("first").click()
    bench.expect_answer({"sphere": "−1.50"})
    bench.field("wheel").click()
    bench.page.keyboard.type("67")
    bench.expect_answer({"axis": "067"})


def test_a_tap_on_an_entry_of_ones_own_does_not(bench: CalculatorPage) -> None:
    bench.enter("wheel", "6")
    bench.field("second").focus()
    bench.field("wheel").click()
    bench.page.keyboard.press("End")
    bench.page.keyboard.type("7")
    assert bench.entry("wheel") == "67"


@pytest.mark.parametrize(
    "keys", [["Backspace"] * 4, ["ControlOrMeta+A", "Delete"], ["ControlOrMeta+A"]]
)
def test_another_power_brings_its_own_sign(bench: CalculatorPage, keys: list[str]) -> None:
    bench.field("first").focus()
    bench.page.keyboard.press("End")
    for key in keys:
        bench.page.keyboard.press(key)
    bench.page.keyboard.type("1.5")
    assert bench.entry("first") == "±1.5"
    bench.expect_problem("first")  # its sentence moves the key
    bench.sign_key("first").click()
    bench.field("first").focus()
    bench.page.keyboard.press("End")
    bench.page.keyboard.press("Backspace")
    assert bench.entry("first") == f"{MINUS}1.", "a part that is changed leaves the sign"


@pytest.mark.parametrize("key", ["sign", "clear"])
def test_a_key_that_is_held_for_a_while_is_pressed(bench: CalculatorPage, key: str) -> None:
    """Leaving the field would show what is wrong in a box above, and so move the key away."""
    bench.enter("first", "1.5")
    bench.expect_problem("first")
    bench.section.locator(f".{key}").first.click(delay=500)
    assert bench.entry("first") == {"sign": f"{MINUS}1.5", "clear": "±"}[key]


def test_a_comma_is_a_decimal_point(bench: CalculatorPage) -> None:
    bench.enter("first", "-1,25")
    bench.expect_answer({"sphere": "−1.25"})
    assert bench.entry("first") == "−1,25"


# The step keys go to the next multiple of their step; a cut eighth counts as the true one.
@pytest.mark.parametrize(
    ("before", "size", "direction", "after", "value"),
    [
        ("-0.75", "0.25", +1, "−0.50", -0.5),
        ("-0.75", "0.25", -1, "−1.00", -1),
        ("+0.30", "0.25", +1, "+0.50", 0.5),
        ("+0.30", "0.25", -1, "+0.25", 0.25),
        ("-0.37", "0.25", -1, "−0.50", -0.5),
        ("-0.37", "0.25", +1, "−0.25", -0.25),
        ("+0.12", "0.25", +1, "+0.25", 0.25),
        ("-0,37", "0.25", +1, "−0,25", -0.25),
        ("+0.12", "0.125", +1, "+0.25", 0.25),
        ("+0.25", "0.125", -1, "+0.12", 0.125),
        ("+0.37", "0.125", +1, "+0.50", 0.5),
        ("-0.37", "0.125", -1, "−0.50", -0.5),
        ("-0.50", "0.125", +1, "−0.37", -0.375),
        ("-0,50", "0.125", +1, "−0,37", -0.375),
        ("+0.87", "0.125", -1, "+0.75", 0.75),
        ("+1", "0.125", -1, "+0.87", 0.875),
    ],
)
def test_a_step_key_goes_to_the_next_step(
    bench: CalculatorPage, before: str, size: str, direction: int, after: str, value: float
) -> None:
    bench.enter("first", before)
    set_step(bench, size)
    bench.step_key("first", direction).click()
    assert bench.entry("first") == after
    bench.expect_answer({"sphere": after.replace(",", ".")})
    assert read_as(bench) == value


def set_step(bench: CalculatorPage, size: str) -> None:
    """Chooses what the step keys change by."""
    bench.more.evaluate("(more) => { more.open = true; }")
    bench.section.locator(".nudge-size").select_option(size)


@pytest.mark.parametrize(("size", "step", "said"), [("0.25", 0.25, "¼"), ("0.125", 0.125, "⅛")])
def test_steps_cross_zero_and_come_back(
    bench: CalculatorPage, size: str, step: float, said: str
) -> None:
    set_step(bench, size)
    for direction, sign in ((-1, MINUS), (1, "+")):
        name = f"{sign}{said} D for {bench.calculator.fields[0].full_label}"
        expect(bench.step_key("first", direction)).to_have_accessible_name(name)
    bench.enter("first", "-0.25")
    values = []
    for direction in (1, 1, 1, -1, -1, -1):
        bench.step_key("first", direction).click()
        values.append(read_eighth(bench.entry("first")))
    start = -0.25
    assert values == [start + step * n for n in (1, 2, 3, 2, 1, 0)]


def read_eighth(entry: str) -> float:
    """The nearest eighth: 0.12 is written for 0.125."""
    return round(number(entry) * 8) / 8


def test_a_display_is_stepped_through_its_own_decimals(bench: CalculatorPage) -> None:
    set_step(bench, "0.125")
    bench.enter("decimals", "literal")
    bench.enter("first", "+0.37")
    bench.step_key("first", 1).click()
    assert bench.entry("first") == "+0.375"


def test_a_step_chooses_no_sign(bench: CalculatorPage) -> None:
    """A size without a sign is not a power yet; an empty entry is zero."""
    bench.go_to(first="0.75", second="-3.25", wheel="112")
    bench.step_key("first", 1).click()
    assert bench.entry("first") == "±0.75"
    bench.enter("first", "")
    bench.step_key("first", -1).click()
    assert bench.entry("first") == "−0.25"


def test_the_keys_of_a_wheel_go_round(warm: Warm) -> None:
    bench = warm("unseen-lens")
    back, on = (bench.step_key("wheel", degrees) for degrees in (-5, 5))
    for start, key, reached in (
        ("174", on, ("175", "180", "5", "10")),
        ("7,5", back, ("5", "180", "175")),
        ("", back, ("175",)),
    ):
        bench.enter("wheel", start)
        for wheel in reached:
            key.click()
            assert bench.entry("wheel") == wheel
        drawn = bench.section.locator(".drawn text").get_by_text(f"{wheel:0>3}", exact=True)
        expect(drawn).to_have_count(1)


@pytest.mark.parametrize("wheel", ["200", "north"])
def test_a_wheel_that_stands_nowhere_is_not_turned(warm: Warm, wheel: str) -> None:
    bench = warm("unseen-lens")
    bench.enter("wheel", wheel)
    bench.step_key("wheel", 5).click()
    assert bench.entry("wheel") == wheel


@pytest.mark.parametrize("slug", MODELS)
def test_clear_empties_every_entry(warm: Warm, slug: str) -> None:
    bench = warm(slug)
    bench.button("Clear entries").click()
    fields = bench.calculator.fields
    assert bench.entries() == {
        field.name: field.choices[0].text
        if isinstance(field, ChoiceField)
        else "±" * isinstance(field, PowerField)
        for field in fields
    }
    expect(bench.field(fields[0].name)).to_be_focused()
    bench.page.go_back()
    bench.expect_answer(bench.calculator.examples[0].prints)


def test_a_cleared_form_has_no_answer_and_no_complaint(warm: Warm) -> None:
    bench = warm("pair-inspection")
    bench.button("Clear entries").click()
    expect(bench.stale).to_be_visible()
    expect(bench.section.locator(".strip")).to_have_text("No answer to these entries")
    expect(bench.summary).to_be_hidden()
    expect(bench.section.locator(".problem:visible")).to_have_count(0)
    bench.enter("right_ordered", "-2.00 DS")
    bench.leave()
    expect(bench.summary).to_be_visible()


def test_a_sum_is_printed_alone(bench: CalculatorPage) -> None:
    page = bench.page
    page.evaluate("window.print = () => {}")
    bench.button("Print this sum").click()
    page.emulate_media(media="print")
    shown = page.locator("main > :visible").evaluate_all(
        "(all) => all.map((one) => one.id || one.localName)"
    )
    assert shown == ["h1", bench.calculator.slug]
    page.evaluate("() => { dispatchEvent(new Event('afterprint')); }")
    assert page.locator("main > :visible").count() > 5
    page.emulate_media(media="screen")


def test_numbers_are_typed_on_the_decimal_keypad(site: Path, places: dict[str, str]) -> None:
    for slug, calculator in CALCULATORS.items():
        html = (site / places[slug]).read_text("utf-8")
        for field in calculator.fields:
            if isinstance(field, PowerField | AxisField | NumberField):
                (tag,) = re.findall(rf'<input id="{slug}-{field.name}"[^>]*>', html)
                assert 'inputmode="decimal"' in tag
                assert 'type="text"' in tag


def test_no_page_has_an_input_of_type_number(site: Path) -> None:
    """It drops a comma, loses what it cannot read, and has no minus on some keypads."""
    assert [
        page.name for page in site.rglob("*.html") if 'type="number"' in page.read_text("utf-8")
    ] == []
