"""Every page loads without a complaint, reads without scripts, and leads only to pages."""

from __future__ import annotations

from urllib.parse import urldefrag
from urllib.request import urlopen

from playwright.sync_api import Locator, expect

from tests.browser.conftest import Opening


def test_every_page_loads_quietly_and_every_link_leads_to_a_page(
    opening: Opening, home: str, addresses: list[str]
) -> None:
    page = opening().context.new_page()
    targets: set[str] = set()
    for address in addresses:
        answer = page.goto(home + address)
        assert answer is not None
        assert answer.ok, address
        links = page.locator("a[href]").evaluate_all("(links) => links.map((link) => link.href)")
        assert links, f"{address} leads nowhere"
        targets.update(urldefrag(link).url for link in links)
    assert {home + address for address in addresses} <= targets, "a page that no page leads to"
    for target in sorted(targets):
        assert target.startswith(home)
        with urlopen(target) as found:
            assert found.status == 200, target


def test_every_page_reads_without_scripts(
    opening: Opening, home: str, addresses: list[str]
) -> None:
    page = opening(java_script_enabled=False).context.new_page()
    for address in addresses:
        page.goto(home + address)
        expect(page.locator("h1")).to_have_count(1)
        for part in (
            page.locator("h1"),
            page.locator("main > .rule"),
            *shown_links(page.locator("nav")),
        ):
            expect(part).to_be_visible()
            expect(part).not_to_be_empty()


def shown_links(nav: Locator) -> list[Locator]:
    """The ways to the stages of the job."""
    links = nav.get_by_role("link").all()
    assert links
    return links
