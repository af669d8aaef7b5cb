"""A file of many lenses on its page: chosen, checked in slices, stopped, saved; and how fast."""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from site_src.calculators.jobs_file import template
from site_src.calculators.verification import CALCULATOR
from tests.browser.calculator_page import CalculatorPage, hash_of, shown_by
from tests.browser.conftest import Opening, watched
from tests.test_jobs import Run

PLACE = "check/many-jobs.html"
MANY = 10_000
LONG_TASK = 50  # ms; what a browser calls a long task, and none is wanted
BLOCKED = 1000  # ms; far above, so that only a fault fails and not a busy machine
SIDES = ("sphere", "cylinder", "axis")
HEAD = ",".join(("job", "eye", *(f"{s} {part}" for s in ("ordered", "measured") for part in SIDES)))

_WATCH_TASKS = """() => {
    window.longTasks = [];
    new PerformanceObserver((list) => {
        longTasks.push(...list.getEntries().map((entry) => entry.duration));
    }).observe({type: "longtask"});
}"""


def lenses(count: int) -> str:
    """A file of so many random lenses, of which some are outside and every 500th is a mistake."""
    draw = random.Random(count)
    lines = [HEAD]
    for n in range(count):
        sphere, cylinder = draw.randrange(-48, 49) / 8, draw.randrange(-16, 1) / 8
        axis = draw.randrange(1, 181)
        off = draw.choice((0, 0, 0, 0.125, -0.25))
        eye = "X" if n % 500 == 250 else "RL"[n % 2]
        ordered, measured = (f"{s:.3f},{cylinder:.3f},{axis}" for s in (sphere, sphere + off))
        lines.append(f"J{n},{eye},{ordered},{measured}")
    return "\r\n".join(lines)


class JobsPage:
    """The page as a person works it."""

    def __init__(self, page: Page, place: str) -> None:
        self.page = page
        page.goto(place)
        self.section = page.locator("#jobs")
        self.file = page.locator("#jobs-file")
        self.problem = page.locator("#jobs-problem")
        self.submit = self.section.get_by_role("button", name="Check the file")
        self.bench = CalculatorPage(page, CALCULATOR)

    def part(self, name: str) -> Locator:
        return self.section.locator(f"[data-part={name}]")

    def choose(self, text: str, name: str = "lenses.csv", encoding: str = "utf-8") -> None:
        content = text.encode(encoding)
        self.file.set_input_files({"name": name, "mimeType": "text/csv", "buffer": content})

    def check(self, text: str) -> None:
        self.choose(text)
        self.submit.click()

    def count(self, name: str) -> int:
        return int(self.section.locator(f"[data-count={name}]").inner_text().replace(",", ""))

    def saved(self, button: str = "Save the result as a CSV file") -> tuple[str, str]:
        """The name and the text of the file that a button saves."""
        with self.page.expect_download() as download:
            self.section.get_by_role("button", name=button).click()
        return download.value.suggested_filename, Path(download.value.path()).read_bytes().decode()

    def expect_done(self, says: str = "The file is checked") -> None:
        expect(self.part("done")).to_contain_text(says)
        expect(self.part("run")).to_be_hidden()


@pytest.fixture
def jobs(opening: Opening, home: str) -> JobsPage:
    return JobsPage(opening().context.new_page(), home + PLACE)


def tab_to(page: Page, control: Locator) -> None:
    for _ in range(40):
        page.keyboard.press("Tab")
        if control.evaluate("(control) => control === document.activeElement"):
            return
    raise AssertionError(f"Tab does not reach {control}")


# A file -------------------------------------------------------------------------------------------


def test_a_file_by_keyboard_on_a_phone(jobs: JobsPage) -> None:
    text, page = lenses(60), jobs.page
    page.on("filechooser", lambda _: None)  # early: the browser is told to listen, not waited for
    page.locator("#content").focus()
    tab_to(page, jobs.file)
    with page.expect_file_chooser() as chooser:
        page.keyboard.press("Enter")
    content = text.encode()
    chooser.value.set_files({"name": "july.csv", "mimeType": "text/csv", "buffer": content})
    tab_to(page, jobs.submit)
    page.keyboard.press("Enter")
    jobs.expect_done()
    expect(jobs.part("done")).to_be_focused()
    expect(jobs.section.get_by_role("status")).to_contain_text("The file is checked")
    with page.expect_download() as download:
        tab_to(page, jobs.part("save"))
        page.keyboard.press("Enter")
    assert download.value.suggested_filename == "july-checked.csv"
    saved = Path(download.value.path()).read_bytes().decode()
    assert saved == "\ufeff" + Run(text).text


def test_what_it_shows(jobs: JobsPage) -> None:
    text = lenses(300)
    run = Run(text)
    jobs.check(text)
    jobs.expect_done()
    for name in ("lenses", "inside", "outside", "mistake", "unsigned"):
        assert jobs.count(name) == run.counts[name], name
    urgent = [row["cells"] for row in run.page if row["urgent"]]
    others = [row["cells"] for row in run.page if not row["urgent"]]
    rows = jobs.part("rows").locator("tr")
    shown = [row.locator("th, td").all_text_contents() for row in rows.all()]
    assert len(urgent) > 50
    assert shown == [*urgent, *others][:50]


def test_a_line_leads_to_its_lens_in_the_calculator(jobs: JobsPage) -> None:
    text = lenses(40)
    row = next(row for row in Run(text).page if row["urgent"] and row["fields"])
    jobs.check(text)
    jobs.expect_done()
    jobs.part("rows").get_by_role("link", name=row["cells"][0], exact=True).click()
    jobs.bench.expect_answer(shown_by(CALCULATOR.answer(row["fields"])))
    assert jobs.bench.shown()["verdict"] == "Outside"


def test_another_encoding_and_other_choices(jobs: JobsPage) -> None:
    text = "job;ordered;measured\r\nMüller;-6,12 DS;-6,37 DS"
    jobs.section.locator("[name=standard]").select_option("iso-21987-2017")
    jobs.section.locator("[name=decimals]").select_option("literal")
    jobs.choose(text, encoding="windows-1252")
    jobs.submit.click()
    jobs.expect_done()
    run = Run(text, standard="iso-21987-2017", decimals="literal")
    assert jobs.saved()[1] == "\ufeff" + run.text
    assert "Müller" in run.text


def test_the_templates(jobs: JobsPage) -> None:
    for separator, words in ((",", "commas"), (";", "semicolons")):
        expected = "\ufeff" + template(separator).strip()
        name, text = jobs.saved(f"With {words} and")
        assert name == f"many-jobs-{words}.csv"
        assert text.replace("\r\n", "\n").strip() == expected.replace("\r\n", "\n")
        jobs.check(text)
        jobs.expect_done()
        assert (jobs.count("lenses"), jobs.count("mistake")) == (3, 0)


def test_what_cannot_be_checked_is_said_and_can_be_mended(jobs: JobsPage) -> None:
    jobs.submit.click()
    expect(jobs.problem).to_have_text("Choose a CSV file first.")
    for text, said in (
        ("", "The file is empty."),
        ("\r\n" * 200, "The file is empty."),
        ("PK\x03\x04\x00", "Line 1 names no column of the template"),
        (f"{HEAD},measured cyl\r\n", "the column “measured cyl” is not known here"),
        ("x" * 3_000_000, "Line 1 names no column of the template"),
    ):
        jobs.check(text)
        expect(jobs.problem).to_contain_text(said)
        expect(jobs.part("run")).to_be_hidden()
        expect(jobs.part("outcome")).to_be_hidden()
    jobs.check(lenses(3))
    jobs.expect_done()
    expect(jobs.problem).to_be_hidden()


def test_cells_stay_text(jobs: JobsPage) -> None:
    cells = ("<img src=x onerror=alert(1)>", "<b class=injected>", '"=1+1"', "{{ 7 * 7 }}")
    lines = [f"{cell},{cell},-2.00 DS,-2.00" for cell in cells]
    jobs.check("\n".join(("job,eye,ordered,measured sphere", *lines)))
    jobs.expect_done()
    assert jobs.section.locator("img, .injected").count() == 0
    expect(jobs.part("rows")).to_contain_text("<img src=x onerror=alert(1)>")


# A long run ---------------------------------------------------------------------------------------


def test_stop_keeps_what_was_checked_and_the_next_file_is_whole(jobs: JobsPage) -> None:
    text = lenses(MANY)
    jobs.check(text)
    progress = jobs.part("progress")
    jobs.page.wait_for_function("(bar) => bar.value > 0.02", arg=progress.element_handle())
    expect(jobs.part("says")).to_contain_text("Line ")
    jobs.part("stop").click()
    jobs.expect_done("Stopped before line ")
    count = jobs.count("lenses")
    assert 0 < count < MANY
    expect(jobs.part("done")).to_contain_text(f"Stopped before line {count + 2:,}.")
    assert jobs.saved()[1] == "\ufeff" + Run("\n".join(text.splitlines()[: count + 1])).text
    jobs.check(lenses(70))
    jobs.expect_done()
    assert jobs.count("lenses") == 70


def test_a_second_file_takes_the_place_of_the_first(jobs: JobsPage) -> None:
    jobs.check(lenses(MANY))
    jobs.page.wait_for_function(
        "(bar) => bar.value > 0.01", arg=jobs.part("progress").element_handle()
    )
    text = lenses(70)
    jobs.check(text)
    jobs.expect_done()
    assert jobs.saved()[1] == "\ufeff" + Run(text).text
    jobs.page.wait_for_timeout(1000)  # the first one, if it went on, would say its lines here
    assert jobs.part("says").text_content() == ""


def test_the_calculator_answers_between_the_slices(jobs: JobsPage) -> None:
    jobs.check(lenses(MANY))
    progress = jobs.part("progress")
    jobs.page.wait_for_function("(bar) => bar.value > 0.01", arg=progress.element_handle())
    entries = CALCULATOR.examples[-1].given
    jobs.page.evaluate("(hash) => { location.hash = hash; }", hash_of(CALCULATOR, entries))
    jobs.bench.expect_answer(shown_by(CALCULATOR.answer(entries)))
    assert float(progress.evaluate("(bar) => bar.value")) < 1
    expect(jobs.part("run")).to_be_visible()
    jobs.part("stop").click()


def test_ten_thousand_lenses_their_time_and_the_longest_task_are_reported(
    jobs: JobsPage,
    record_property: Callable[[str, object], None],
    capsys: pytest.CaptureFixture[str],
) -> None:
    text = lenses(MANY)
    jobs.check(lenses(64))  # it is loaded after this
    jobs.expect_done()
    jobs.page.evaluate(_WATCH_TASKS)
    jobs.choose(text)
    began = time.perf_counter()
    jobs.submit.click()
    expect(jobs.part("run")).to_be_visible()
    jobs.expect_done()
    rate = MANY / (time.perf_counter() - began)
    long = jobs.page.evaluate("longTasks")
    began = time.perf_counter()
    run = Run(text)
    beside = MANY / (time.perf_counter() - began)
    record_property("rows_per_second", rate)
    record_property("long_tasks_ms", long)
    with capsys.disabled():
        print(
            f" [{rate:,.0f} rows/s in the browser, {beside:,.0f} in CPython beside it; "
            f"tasks over {LONG_TASK} ms: {[round(task) for task in long]}] ",
            end="",
        )
    assert jobs.count("lenses") == MANY
    assert jobs.saved()[1] == "\ufeff" + run.text
    assert max(long, default=0) < BLOCKED


# Where it runs ------------------------------------------------------------------------------------


def test_nothing_is_asked_of_the_host_for_a_file(opening: Opening, home: str) -> None:
    watch = opening()
    jobs = JobsPage(watch.context.new_page(), home + PLACE)
    jobs.check(lenses(3))
    jobs.expect_done()
    watch.forget()
    jobs.check(lenses(200))
    jobs.expect_done()
    jobs.saved()
    assert [url for url in watch.asked_for() if not url.startswith("blob:")] == []
    watch.forget()


def test_it_works_from_a_file(browser: Browser, site: Path) -> None:
    watch = watched(browser, site.as_uri())
    jobs = JobsPage(watch.context.new_page(), (site / PLACE).as_uri())
    text = lenses(70)
    jobs.check(text)
    jobs.expect_done()
    assert jobs.saved() == ("lenses-checked.csv", "\ufeff" + Run(text).text)
    watch.context.close()
    assert watch.complaints == []


def test_without_scripts_it_says_so(opening: Opening, home: str) -> None:
    page = opening(java_script_enabled=False).context.new_page()
    page.goto(home + PLACE)
    expect(page.locator("#jobs .notice")).to_be_visible()
    expect(page.locator("#jobs-file")).to_be_disabled()
