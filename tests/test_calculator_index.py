"""The list of all calculators follows the registry and leads to each of them."""

from __future__ import annotations

import re
from pathlib import Path

from site_src.calculators import CALCULATORS

INDEX = "look-up/calculators.html"


def test_every_calculator_is_listed_once_and_stands_where_the_list_says(site: Path) -> None:
    html = (site / INDEX).read_text("utf-8")
    found = re.findall(r'<dt><a href="\.\./([^"#]+)#([a-z0-9-]+)">([^<]+)</a></dt>', html)
    assert [slug for _, slug, _ in found] == list(CALCULATORS)
    for address, slug, title in found:
        assert title == CALCULATORS[slug].title
        assert f'data-calculator="{slug}"' in (site / address).read_text("utf-8")


def test_every_page_leads_to_the_list(site: Path) -> None:
    for page in site.rglob("*.html"):
        assert f'{INDEX}">All calculators</a>' in page.read_text("utf-8"), page.name
