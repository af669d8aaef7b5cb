"""The drill as a learner works it: by keys alone, an answer at a time, nothing given away."""

from __future__ import annotations

from playwright.sync_api import expect

from lensmath.drills import sheet
from tests.browser.calculator_page import CalculatorPage, shown_by
from tests.browser.conftest import Warm

SKILL = {"skill": "cylinder", "level": "1"}


def question(number: int) -> str:
    return sheet(number, "cylinder", 1, 1)[0].question


def right(number: int) -> str:
    return sheet(number, "cylinder", 1, 1)[0].text


def begun(warm: Warm, number: int, **more: str) -> CalculatorPage:
    """A drill of cylinders at its problem, the answer's field ready."""
    bench = warm("drill")
    given = {**SKILL, "number": f"{number}", **more}
    bench.go_to(**given)
    bench.expect_answer(shown_by(bench.calculator.answer(given)))
    bench.field("answer").focus()
    return bench


def test_problem_after_problem_takes_three_keys_besides_the_answers(warm: Warm) -> None:
    bench = begun(warm, 7)
    for number in (7, 8, 9):
        bench.expect_answer({"question": question(number)})
        expect(bench.field("answer")).to_be_focused()
        expect(bench.field("answer")).to_have_value("")
        bench.page.keyboard.type(right(number).replace("−", "-"))
        bench.page.keyboard.press("Enter")
        bench.expect_answer({"outcome": "Right", "answer": right(number)})
        bench.page.keyboard.press("Tab")
        expect(bench.section.locator(".onward a").first).to_be_focused()
        bench.page.keyboard.press("Enter")
    bench.expect_answer({"question": question(10)})
    expect(bench.field("number")).to_have_value("10")
    bench.page.go_back()
    bench.expect_answer({"outcome": "Right", "question": question(9)})


def test_half_an_answer_is_not_marked(warm: Warm) -> None:
    bench = begun(warm, 7)
    bench.page.keyboard.type("-1")
    bench.expect_address("answer=-1")  # written after the pause in which it would have been asked
    assert "outcome" not in bench.shown()
    bench.page.keyboard.type(".75")
    assert "outcome" not in bench.shown()
    bench.leave()
    bench.expect_answer({"outcome": "Right"})


def test_a_sign_key_begins_an_answer_and_marks_nothing(warm: Warm) -> None:
    bench = begun(warm, 7)
    bench.button("Insert minus").click()
    expect(bench.field("answer")).to_be_focused()
    bench.page.keyboard.type("1.75")
    bench.expect_address("1.75")
    assert "outcome" not in bench.shown()
    bench.page.keyboard.press("Enter")
    bench.expect_answer({"outcome": "Right", "answer": "−1.75"})


def test_the_answer_is_nowhere_on_the_page_until_it_is_asked_for(warm: Warm) -> None:
    bench = begun(warm, 7)
    bench.page.keyboard.type("-4.00")
    bench.page.keyboard.press("Enter")
    bench.expect_answer({"outcome": "Not right"})
    assert right(7) not in bench.section.evaluate("(section) => section.outerHTML")
    for _ in range(2):  # past the link to the next problem
        bench.page.keyboard.press("Tab")
    bench.page.keyboard.press("Enter")
    bench.expect_answer({"answer": right(7)})
    expect(bench.field("show")).to_have_value("yes")
    expect(bench.field("answer")).to_have_value("-4.00")


def test_what_cannot_be_read_is_said_at_the_answer_and_the_question_stays(warm: Warm) -> None:
    bench = begun(warm, 7)
    bench.page.keyboard.type("1.75")
    bench.page.keyboard.press("Enter")
    assert "“1.75” has no sign" in bench.expect_problem("answer")
    assert bench.shown()["question"] == question(7)


def test_an_answer_with_the_wrong_letters_is_told_which_are_right(warm: Warm) -> None:
    bench = begun(warm, 7)
    bench.page.keyboard.type("-1.75 DS")
    bench.page.keyboard.press("Enter")
    assert "“DS” in “−1.75 DS” says sphere" in bench.expect_problem("answer")
    bench.field("answer").focus()
    bench.page.keyboard.press("End")
    bench.page.keyboard.press("Backspace")
    bench.page.keyboard.type("C.")
    bench.page.keyboard.press("Enter")
    bench.expect_answer({"outcome": "Right", "answer": "−1.75"})
