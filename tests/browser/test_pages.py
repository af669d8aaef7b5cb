"""Every page reads without scripts."""

from __future__ import annotations

from tests.browser.conftest import Opening

# The heading, the rule and the ways to the stages: those that cannot be seen or hold no text.
_MISSING = """() => {
    const all = (selector) => [...document.querySelectorAll(selector)];
    const parts = ["h1", "main > .rule", "nav a"].map(all);
    const unseen = (part) => !part.checkVisibility() || !part.textContent.trim();
    return [parts.map((found) => found.length > 0),
        parts.flat().filter(unseen).map((part) => part.outerHTML)];
}"""


def test_every_page_reads_without_scripts(
    opening: Opening, home: str, addresses: list[str]
) -> None:
    page = opening(java_script_enabled=False).context.new_page()
    for address in addresses:
        page.goto(home + address)
        assert page.evaluate(_MISSING) == [[True, True, True], []], address
        assert page.locator("h1").count() == 1
