"""Sheets, which are made to be printed, come out on one side of A4 and of Letter."""

from __future__ import annotations

import re

import pytest

from site_src.handbook import load_pages
from site_src.setup.steps import ROOT
from tests.browser.conftest import Opening

PAPERS = ("A4", "Letter")
SHEETS = {page.name: page for page in load_pages(ROOT / "site_src/pages") if page.sheet}
SIDES = {"check/inspection-record": 1, "check/tolerance-card": 1, "look-up/number-line-chart": 1}


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", SIDES)
def test_a_sheet_is_printed_on_one_side(opening: Opening, home: str, name: str, paper: str) -> None:
    page = opening().context.new_page()
    page.goto(f"{home}{SHEETS[name].address}")
    printed = page.pdf(format=paper, prefer_css_page_size=False, print_background=False)
    assert len(re.findall(rb"/Type\s*/Page\b", printed)) == SIDES[name]
