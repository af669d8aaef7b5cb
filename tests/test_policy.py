"""What the built pages may load, and that any host can serve what they are made of."""

from __future__ import annotations

import re
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from site_src.assets import DIGITS
from site_src.policy import policy
from tests.dumb_host import KINDS

# A host may not serve these: the picture in the tab, and what a phone's home screen asks for.
DECORATION = (".svg", ".json")

# Whatever can hold an address, in HTML and in SVG.
ADDRESSES = {"action", "cite", "data", "formaction", "href", "ping", "poster", "src", "srcset"}
ADDRESSES |= {"background", "manifest", "xlink:href"}


class Document(HTMLParser):
    """What of a page a policy is about."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.metas: list[dict[str, str | None]] = []
        self.before_policy: list[str] = []  # what asks for a file before the policy stands
        self.inline: list[str] = []
        self.links: list[tuple[str, str]] = []  # (element, address)
        self._in = ""
        self.feed(html)
        self.close()

    @property
    def policies(self) -> list[str | None]:
        wanted = "content-security-policy"
        return [m["content"] for m in self.metas if (m.get("http-equiv") or "").lower() == wanted]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        if tag == "meta":
            self.metas.append(named)
        if tag in ("link", "script", "style", "img") and not self.policies:
            self.before_policy.append(tag)
        if tag == "style":
            self.inline.append("a style element")
        self.inline += [f"{tag}[{n}]" for n in named if n == "style" or n.startswith("on")]
        self.inline += [
            f"{tag}[{n}] {v}" for n, v in attrs if re.match(r"(?i)\s*javascript:", v or "")
        ]
        self.links += [(tag, value or "") for name, value in attrs if name in ADDRESSES]
        self._in = tag

    def handle_data(self, data: str) -> None:
        if self._in == "script" and data.strip():
            self.inline.append(f"a script: {data[:40]}")

    def handle_endtag(self, tag: str) -> None:
        self._in = ""


@pytest.fixture(scope="module")
def pages(site: Path) -> dict[str, Document]:
    """Every page of the built site by its address."""
    return {
        file.relative_to(site).as_posix(): Document(file.read_text("utf-8"))
        for file in sorted(site.rglob("*.html"))
    }


# The policy ---------------------------------------------------------------------------------------


def test_the_policy_of_a_page_without_a_calculator() -> None:
    assert policy() == (
        "default-src 'none'; base-uri 'none'; form-action 'self' file:; script-src 'self'; "
        "style-src 'self'; img-src 'self'; manifest-src 'self'; connect-src 'self'"
    )


def test_the_policy_of_a_page_that_keeps_a_copy() -> None:
    assert policy(keeps=True) == f"{policy()}; worker-src 'self'"


def test_the_policy_of_a_page_with_a_calculator() -> None:
    wider = policy(calculates=True).replace(" 'wasm-unsafe-eval'", "").replace(" blob:", "")
    assert wider == policy(keeps=True)
    assert "script-src 'self' 'wasm-unsafe-eval';" in policy(calculates=True)
    assert policy(calculates=True).endswith("worker-src 'self' blob:")


def test_every_page_has_the_narrowest_policy_that_it_can_work_under(
    site: Path, pages: dict[str, Document]
) -> None:
    for address, page in pages.items():
        text = (site / address).read_text("utf-8")
        wanted = policy(calculates="data-calculator" in text, keeps='id="keep"' in text)
        assert page.policies == [wanted], address
        assert page.before_policy == [], address


def test_no_policy_allows_what_is_unsafe(pages: dict[str, Document]) -> None:
    for page in pages.values():
        assert not re.search(r"unsafe-(?!eval)|'unsafe-eval|\*|https?:|data:", str(page.policies))


def test_no_page_has_a_script_a_style_or_a_handler_in_it(pages: dict[str, Document]) -> None:
    assert {address: page.inline for address, page in pages.items() if page.inline} == {}


def test_no_page_asks_another_host(pages: dict[str, Document]) -> None:
    """Only the sources may be linked to where they stand, for a reader to follow."""
    for address, page in pages.items():
        for tag, target in page.links:
            if urlsplit(target).scheme or urlsplit(target).netloc:
                assert (address, tag) == ("look-up/sources.html", "a"), target
                assert urlsplit(target).scheme in ("http", "https"), target


def test_no_stylesheet_asks_another_host_or_hides_a_file_in_itself(site: Path) -> None:
    for sheet in site.rglob("*.css"):
        assert not re.search(r"(?i)https?:|//[a-z]|data:|@import", sheet.read_text("utf-8"))


# The files ----------------------------------------------------------------------------------------


def names(site: Path) -> list[str]:
    return sorted(file.relative_to(site).as_posix() for file in site.rglob("*") if file.is_file())


def test_any_host_knows_every_kind_of_file(site: Path) -> None:
    """.mjs is known to some hosts, as text, and browsers run no text."""
    known = {*KINDS, *DECORATION} - {".mjs"}
    assert [name for name in names(site) if Path(name).suffix not in known] == []


def test_no_two_names_differ_in_capitals_alone(site: Path) -> None:
    """Folders too: on a stick, or a host that makes nothing of capitals, they are one."""
    places = {part.as_posix() for name in names(site) for part in (Path(name), *Path(name).parents)}
    assert {
        name for name, count in Counter(p.lower() for p in places).items() if count > 1
    } == set()


def test_every_name_is_plain(site: Path) -> None:
    """Small ASCII letters, digits, hyphens: no host, stick or address has to rewrite it."""
    plain = re.compile(r"[a-z0-9]+([-.][a-z0-9]+)*")
    assert [
        name for name in names(site) for part in name.split("/") if not plain.fullmatch(part)
    ] == []


def test_the_name_of_every_static_file_carries_its_hash(site: Path) -> None:
    for name in names(site):
        if name.startswith("static/"):
            assert re.search(rf"-[0-9a-f]{{{DIGITS}}}\.\w+$", name), name
