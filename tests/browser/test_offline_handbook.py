"""The whole handbook, kept once: every page, every calculator and the search, the host gone."""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

import pytest
from playwright.sync_api import Browser, expect

from site_src.calculators import CALCULATORS
from site_src.offline.offline import kept_files
from tests.browser.calculator_page import CalculatorPage, hash_of
from tests.browser.conftest import served, watched


def test_the_kept_handbook_opens_and_calculates_without_a_host(
    browser: Browser, site: Path, addresses: list[str], places: dict[str, str]
) -> None:
    with served(site) as home:
        watch = watched(browser, home)
        page = watch.context.new_page()
        page.goto(f"{home}look-up/keep.html")
        page.get_by_role("button", name="Keep on this device").click()
        checked = page.locator("[data-part=checked]")
        expect(checked).to_have_text("verified by reading every entry back")
    with pytest.raises(URLError):
        urlopen(home)

    for address in addresses:
        answer = page.goto(home + address)
        assert answer is not None
        assert answer.ok
        assert answer.body() == (site / address).read_bytes(), address
    for path, _, _ in kept_files(site):
        bytes_got = page.evaluate(
            "async (url) => (await (await fetch(url)).arrayBuffer()).byteLength", home + path
        )
        assert bytes_got == (site / path).stat().st_size, path

    page.goto(f"{home}read/sphere.html")
    page.get_by_role("searchbox").fill("astigmatizm")
    page.keyboard.press("Enter")
    expect(page.locator("#found a").first).to_have_text("astigmatism")

    on_page = defaultdict(list)
    for slug, place in places.items():
        on_page[place].append(CALCULATORS[slug])
    for place, calculators in on_page.items():
        last = [calculator.examples[-1] for calculator in calculators]
        page.goto(home + place + hash_of(calculators[0], last[0].given))
        for calculator, example in zip(calculators, last, strict=True):
            bench = CalculatorPage(page, calculator)
            bench.go_to(**example.given)
            bench.expect_answer(example.prints)

    watch.context.close()
    watch.check()
