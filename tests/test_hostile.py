"""Hostile text at the door: whatever is entered, the answer's HTML is the template's alone."""

from __future__ import annotations

import json
from html.parser import HTMLParser

import pytest

from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, Datum, Onward, Step, Table
from site_src.calculators.declaration import Calculator
from site_src.calculators.door import reply
from site_src.calculators.render import answer_html
from site_src.figures.svg import NARROW, figure, label
from tests.hostile import HOSTILE

every_calculator = pytest.mark.parametrize("calculator", CALCULATORS.values(), ids=CALCULATORS)


class Structure(HTMLParser):
    """The elements of a piece of HTML with the names of their attributes, and where links lead."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: set[tuple[str, str]] = set()
        self.links: set[str] = set()
        self.text = ""
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found |= {(tag, ""), *((tag, name) for name, _ in attrs)}
        self.links |= {value or "" for name, value in attrs if name in ("href", "src")}

    def handle_data(self, data: str) -> None:
        self.text += data


# What answer.html and the templates and figures that it includes are made of.
TEXT = ("a", "br", "caption", "data", "figcaption", "figure", "li", "ol", "p", "span", "strong")
TABLE = ("table", "tbody", "td", "th", "thead", "tr")
DRAWING = ("div", "svg", "title", "g", "circle", "line", "path", "rect", "text", "tspan")
ELEMENTS = {*TEXT, *TABLE, *DRAWING, "clippath", "ellipse", "polygon", "polyline"}


def asked(calculator: Calculator, fields: dict[str, str]) -> dict[str, object]:
    request = {"id": 1, "calculator": calculator.slug, "root": "../", "fields": fields}
    answer: dict[str, object] = json.loads(reply(json.dumps(request)))
    return answer


def check_harmless(answer: dict[str, object]) -> None:
    """A refusal is text and goes into the page as text; an answer has known elements only."""
    if answer["ok"]:
        check_known(Structure(str(answer["html"])))


def check_known(html: Structure) -> None:
    assert {tag for tag, _ in html.found} <= ELEMENTS
    assert not [name for _, name in html.found if name.startswith("on") or name == "style"]
    assert all(link.startswith(("../look-up/sources", "#")) for link in html.links)


@every_calculator
def test_hostile_entries_get_a_refusal_or_an_answer_of_known_elements(
    calculator: Calculator,
) -> None:
    good = dict(calculator.examples[0].given)
    check_harmless(asked(calculator, good))
    for text in HOSTILE:
        for field in calculator.fields:
            check_harmless(asked(calculator, {**good, field.name: text}))
        everywhere = dict.fromkeys((field.name for field in calculator.fields), text)
        check_harmless(asked(calculator, everywhere))


def said_everywhere(text: str) -> Answer:
    """An answer that holds the text wherever an answer can hold one."""
    line = (text, Datum(text, text, text, text))
    drawing = figure("hostile", text, text, lambda _: (NARROW.width, [label(0, 0, text, text)]))
    return Answer(
        headline=line,
        also=(line,),
        onward=(Onward(text, text, {text: text}, text),),
        understood=(line,),
        tables=(Table(text, (text, text), ((line, line),), text),),
        steps=(Step(text, text, text, line),),
        figures=(drawing,),
        cautions=(text,),
    )


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_whatever_an_answer_says_stays_text(text: str) -> None:
    """No calculator repeats an entry in the text of its answer; one that does is covered."""
    found = Structure(answer_html(said_everywhere(text), "../"))
    assert found.found == Structure(answer_html(said_everywhere("text"), "../")).found
    check_known(found)
    assert found.text.count(text) >= 19


@every_calculator
def test_hostile_names_are_refused(calculator: Calculator) -> None:
    for text in HOSTILE:
        answer = asked(calculator, {**calculator.examples[0].given, text: text})
        assert answer["ok"] is False
        assert answer["field"] == ""
        assert f"“{text[:40]}”" in str(answer["message"])


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_a_hostile_name_of_a_calculator_is_refused(text: str) -> None:
    answer = json.loads(reply(json.dumps({"id": 1, "calculator": text, "fields": {}})))
    assert answer["ok"] is False
    assert str(answer["message"]).startswith(f"There is no calculator “{text[:60]}”")


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_a_hostile_root_is_refused(text: str) -> None:
    """It would stand in the links to the sources."""
    first = next(iter(CALCULATORS.values()))
    request = {"id": 1, "calculator": first.slug, "root": text}
    answer = json.loads(reply(json.dumps({**request, "fields": dict(first.examples[0].given)})))
    assert answer["ok"] is False
