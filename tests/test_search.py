"""The search: what is put into its index, and that the index answers what people ask."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from site_src.handbook import Page, load_pages, write_bodies
from site_src.search import library, scripts
from site_src.search.documents import documents
from site_src.setup import node
from site_src.setup.steps import CACHE, run

ROOT = Path(__file__).parent.parent
ASK = """
const [library, options, index, ...questions] = process.argv.slice(1);
const MiniSearch = require(library);
const wanted = require(options);
const text = require("fs").readFileSync(index, "utf-8");
const read = new Function(`${text}; return searchIndex;`)();
const found = MiniSearch.loadJSON(read, { ...wanted.index });
const ask = (question) => found.search(question, wanted.search).map(({ place }) => place);
console.log(JSON.stringify(questions.map(ask)));
"""


@pytest.fixture(scope="module")
def pages() -> list[Page]:
    """Every page with its body."""
    pages = load_pages(ROOT / "site_src" / "pages")
    write_bodies(pages)
    return pages


def test_a_page_is_found_whole_and_by_its_headings() -> None:
    body = (
        '<p>Turn the drum.</p><h2 id="why">Why it <b>is</b> so</h2><p>Light.</p><p>Lines.</p>'
        '<section class="calculator"><h2 id="c">Not this</h2><p>nor this</p></section>'
        "<figure><svg><desc>not this</desc></svg><figcaption>Shown.</figcaption></figure>"
    )
    page = Page(
        Path(__file__), "read/a.html", "read", "Title", "Rule.", "", asks=("how",), body=body
    )
    whole, part = (each for each in documents([page]) if str(each["place"]).startswith("read/a"))
    assert whole["text"] == "Rule. Turn the drum."
    assert (whole["title"], whole["asks"], whole["stage"]) == ("Title", "how", "Read")
    assert (part["place"], part["heading"]) == ("read/a.html#why", "Why it is so")
    assert part["text"] == "Light. Lines. Shown."


def test_calculators_and_words_of_the_glossary_are_found(pages: list[Page]) -> None:
    found = {str(each["place"]): each for each in documents(pages)}
    assert found["write/cylinder-forms.html#transposition"]["heading"] == "calculator"
    assert "focimeter" in str(found["look-up/glossary.html#lensmeter"]["asks"])
    assert "index.html" not in found
    assert "look-up/search.html" not in found


QUESTIONS = {
    "1.37": "look-up/eighths-table.html",
    "1,37": "look-up/eighths-table.html",
    "BU": "look-up/glossary.html#base-up",
    "toric": "look-up/glossary.html#toric-surface",
    "seg": "look-up/glossary.html#segment",
    "tolerence": "look-up/glossary.html#tolerance",
    "decenter": "mark-up/decentration-and-blank.html",
    "vertical prism tolerence": "check/standards.html",
    "monocular pd": "write/what-to-order.html",
    "impact test": "look-up/cautions.html",
    "ring of dots": "read/dot-target.html",
    "foccimeter reads plus with no lens": "set-up/zero.html",
    "astigmatizm": "look-up/glossary.html#astigmatism",
    "transpositon": "write/cylinder-forms.html#transposition",
    "focimeter": "look-up/glossary.html#lensmeter",
    "axis tolerance of a 0.75 cylinder": "check/tolerance-rules.html#axis",
    "how to write one eighth": "write/steps-and-eighths.html",
    "prism base at 180 on a left lens": "look-up/base-table.html",
    "what to do if the second line set never sharpens": "read/second-lines.html",
    "vertex change for a -9": "look-up/vertex-table.html",
    "practise without a lensmeter": "practise/unseen-lens.html",
    "minimum blank for a given frame": "mark-up/decentration-and-blank.html",
    "exercises that are marked": "practise/drills.html",
    "why is my answer wrong": "practise/which-slip.html",
}
FIRST = 5  # results that a reader sees without scrolling far


def test_what_people_ask_is_among_the_first_answers(pages: list[Page], tmp_path: Path) -> None:
    folder = library.fetch(CACHE)
    files = scripts.search_files(folder, pages)
    index = tmp_path / "index.js"
    index.write_bytes(next(text for name, text in files.items() if "/index-" in name))
    given = [folder / library.SCRIPT, scripts.OPTIONS, index]
    command = [*node.commands().node, "-e", ASK, *map(str, given), *QUESTIONS]
    answers = json.loads(run(command, "Node could not ask the index:"))
    missed = {
        question: places[:FIRST]
        for (question, wanted), places in zip(QUESTIONS.items(), answers, strict=True)
        if wanted not in places[:FIRST]
    }
    assert not missed, json.dumps(missed, indent=1)
