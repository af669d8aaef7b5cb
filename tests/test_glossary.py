"""The glossary: it loads or says what is wrong, and it fits the pages and the bibliography."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from importlib.resources import files
from pathlib import Path

import pytest

from lensmath.eye import Eye
from lensmath.prism import Base
from lensmath.vertex import STANDARD_VERTEX_DISTANCE
from lensmath.wavelength import ReferenceLine
from site_src.calculators.render import environment
from site_src.glossary import GlossaryError, Synonym, Term, load_glossary, terms_sorted
from site_src.sources import load_sources

SITE = files("site_src")
PAGES = SITE / "pages"
TERMS = load_glossary()
LONG = 22  # words in a sentence


# The handbook's own glossary ----------------------------------------------------------------------


def test_it_is_as_long_as_a_page_can_carry() -> None:
    """Enough for the whole job, and no dictionary."""
    assert 90 <= len(TERMS) <= 140


@pytest.mark.parametrize("term", TERMS.values(), ids=list(TERMS))
def test_a_meaning_is_one_or_two_short_sentences(term: Term) -> None:
    """It begins with a capital and ends with a full stop."""
    sentences = re.split(r"(?<=\.) ", term.means)
    assert 1 <= len(sentences) <= 2
    assert all(re.fullmatch(r"[A-Z].*[^.]\.", sentence) for sentence in sentences)
    assert max(len(sentence.split()) for sentence in sentences) <= LONG


@pytest.mark.parametrize("term", TERMS.values(), ids=list(TERMS))
def test_a_term_is_not_explained_by_its_own_name_alone(term: Term) -> None:
    """Its meaning has words that its name has not, and more than three of them."""
    own = set(term.term.lower().split())
    assert len(set(term.means.lower().strip(".").split()) - own) > 3


def test_the_page_of_a_term_exists() -> None:
    """The name is such as read/number-line."""
    named = {term.page for term in TERMS.values()} - {""}
    assert [page for page in sorted(named) if not (PAGES / f"{page}.md").is_file()] == []


def test_every_source_of_a_term_exists() -> None:
    """And none is named twice for one term."""
    known = load_sources(SITE / "sources.toml")
    unknown = {key for term in TERMS.values() for key in term.sources} - set(known)
    assert not unknown
    assert all(len(set(term.sources)) == len(term.sources) for term in TERMS.values())


def test_a_key_is_its_term_without_blanks() -> None:
    """So that an anchor can be guessed; only what a key cannot hold is left out."""
    shorter = {"uncut lens": "uncut", "single vision lens": "single-vision"}
    shorter["multifocal lens"] = "multifocal"
    for key, term in TERMS.items():
        plain = shorter.get(term.term, term.term).lower().replace("'", "")
        assert key == re.sub(r"[^a-z0-9]+", "-", plain), term.term


def test_the_figures_in_it_are_those_of_the_package() -> None:
    """Typed in the file, because it is a list of words; equal to what the calculators use."""
    assert f"{STANDARD_VERTEX_DISTANCE:.0f} mm" in TERMS["vertex-distance"].means
    assert f"{ReferenceLine.HELIUM_D.value} nm" in TERMS["d-line"].means
    assert f"{ReferenceLine.MERCURY_E.value} nm" in TERMS["e-line"].means


@pytest.mark.parametrize("base", Base)
def test_the_bases_lie_where_the_package_has_them(base: Base) -> None:
    """Alike for both eyes, or first the right eye and then the left one."""
    term = TERMS[f"base-{base.value}"]
    assert term.abbreviations == (base.letters,)
    said = [int(number) for number in re.findall(r"\d+", term.means)]
    directions = [int(base.direction(eye)) for eye in (Eye.RIGHT, Eye.LEFT)]
    assert said == list(dict.fromkeys(directions))


def test_terms_stand_in_the_order_of_their_letters() -> None:
    """Capitals do not count: Abbe number comes before addition."""
    names = [term.term for term in terms_sorted(TERMS)]
    assert names[:2] == ["Abbe number", "addition"]
    assert names == sorted(names, key=str.casefold)
    assert len(names) == len(TERMS)


# The page -----------------------------------------------------------------------------------------


class _Page(HTMLParser):
    """The anchors and the links of a rendered list."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.anchors: list[str] = []
        self.links: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        if anchor := named.get("id"):
            self.anchors.append(anchor)
        if tag == "a":
            self.links.append(named["href"] or "")


def rendered(*terms: Term) -> str:
    """The list of these terms; a link to a page is written as [page|its words]."""
    template = environment().get_template("glossary.html")
    return template.render(terms=terms, page=lambda place, shown="": f"[{place}|{shown}]")


def test_each_term_is_an_anchor_and_each_letter_leads_to_its_first_term() -> None:
    """The letters in one row, every one of them once."""
    page = _Page(rendered(*terms_sorted(TERMS)))
    assert sorted(page.anchors) == sorted(TERMS)
    letters = [TERMS[link.removeprefix("#")].term[0].upper() for link in page.links]
    assert letters == sorted({term.term[0].upper() for term in TERMS.values()})
    assert page.links[0] == "#abbe-number"


def test_an_entry_shows_all_that_is_known_of_it() -> None:
    """Abbreviations, meaning, other words with their use, page and sources."""
    term = Term(
        "lens-clock",
        "lens clock",
        "A gauge.",
        (Synonym("lens measure", "UK"), Synonym("watch", "old")),
        ("LC", "L"),
        "read/lens-clock",
        ("long-1976",),
    )
    assert '<dt id="lens-clock">lens clock (LC, L)</dt>' in rendered(term)
    assert (
        '<dd>A gauge. <span class="seen">Also lens measure (UK); watch (old).</span> '
        "[read/lens-clock|]. [look-up/sources#long-1976|Source]</dd>"
    ) in rendered(term)
    assert "<dd>A gauge.</dd>" in rendered(Term("lens-clock", "lens clock", "A gauge."))


# Loading ------------------------------------------------------------------------------------------

WHOLE = """
[lens-clock]
term = "lens clock"
synonyms = [{ word = "lens measure", use = "UK" }]
abbreviations = ["LC"]
means = "A gauge with three feet."
page = "read/lens-clock"
sources = ["long-1976"]
"""


def glossary(folder: Path, text: str) -> Path:
    """A file with this text."""
    path = folder / "some.toml"
    path.write_text(text, "utf-8")
    return path


def test_a_term_is_loaded_by_its_key(tmp_path: Path) -> None:
    """With everything, and with the least."""
    least = '[drum]\nterm = "drum"\nmeans = "A wheel."\n'
    terms = load_glossary(glossary(tmp_path, WHOLE + least))
    assert terms == {
        "lens-clock": Term(
            "lens-clock",
            "lens clock",
            "A gauge with three feet.",
            (Synonym("lens measure", "UK"),),
            ("LC",),
            "read/lens-clock",
            ("long-1976",),
        ),
        "drum": Term("drum", "drum", "A wheel."),
    }
    assert terms["lens-clock"].names == ("lens clock", "lens measure", "LC")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("[lens-clock]", "[Lens_clock]", r"\[Lens_clock\]: a key is written in kebab-case"),
        ('term = "lens clock"\n', "", r"\[lens-clock\]: 'term' is missing or is not text"),
        ('term = "lens clock"', "term = 3", r"'term' is missing or is not text"),
        ('"A gauge with three feet."', '" "', r"'means' is missing or is not text"),
        ('page = "read/lens-clock"', 'page = ""', r"'page' is not text; leave it out"),
        ('page = "read/lens-clock"', 'key = "a"', r"unknown field key\."),
        ("abbreviations", "short", r"unknown field short\."),
        ('["LC"]', '"LC"', r"'abbreviations' is not a list of texts"),
        ('["LC"]', '["LC", ""]', r"'abbreviations' is not a list of texts"),
        ('["long-1976"]', "[1976]", r"'sources' is not a list of texts"),
        ('[{ word = "lens measure", use = "UK" }]', '"UK"', r"'synonyms' is not a list"),
        (', use = "UK"', "", r"a synonym has a word and a use; \{'word': 'lens measure'\} was"),
        ('use = "UK"', 'use = ""', r"a synonym has a word and a use; "),
        ('use = "UK"', 'use = "UK", year = "1"', r"a synonym has a word and a use; "),
        (
            '[{ word = "lens measure", use = "UK" }]',
            '["a"]',
            r"a synonym has a word and a use; 'a'",
        ),
        ("[lens-clock]", "[lens-clock", r": Expected "),
    ],
)
def test_a_wrong_entry_is_refused(tmp_path: Path, old: str, new: str, words: str) -> None:
    assert old in WHOLE
    with pytest.raises(GlossaryError, match=r"some\.toml.*" + words):
        load_glossary(glossary(tmp_path, WHOLE.replace(old, new)))


def test_an_entry_that_is_no_table_is_refused(tmp_path: Path) -> None:
    with pytest.raises(GlossaryError, match=r"\[loose\]: an entry is a table"):
        load_glossary(glossary(tmp_path, 'loose = "text"\n'))


@pytest.mark.parametrize(
    ("more", "name"),
    [
        ('[watch]\nterm = "Lens clock"\nmeans = "A."\n', "lens clock"),
        ('[watch]\nterm = "lens measure"\nmeans = "A."\n', "lens measure"),
        (
            '[watch]\nterm = "W"\nmeans = "A."\nsynonyms = [{word = "LENS MEASURE", use = "US"}]\n',
            "lens measure",
        ),
        ('[watch]\nterm = "watch"\nabbreviations = ["LC"]\nmeans = "A."\n', "LC"),
    ],
)
def test_a_name_that_two_terms_have_is_refused(tmp_path: Path, more: str, name: str) -> None:
    """A reader who looks for it must be led to one place."""
    words = rf"\[watch\]: “{name}” is also a name of \[lens-clock\]"
    with pytest.raises(GlossaryError, match=words):
        load_glossary(glossary(tmp_path, WHOLE + more))


def test_abbreviations_that_differ_in_capitals_are_two(tmp_path: Path) -> None:
    """V is the Abbe number, v may be another."""
    more = '[watch]\nterm = "watch"\nabbreviations = ["lc"]\nmeans = "A."\n'
    assert len(load_glossary(glossary(tmp_path, WHOLE + more))) == 2
