"""Hostile text in a page: every field and every part of the address shows it as text, and no more.

All cases of a calculator are run inside its one page, which tells afterwards what it showed.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest

from site_src.calculators import CALCULATORS
from site_src.calculators.declaration import Calculator
from site_src.calculators.door import reply
from site_src.calculators.fields import ChoiceField
from tests.browser.conftest import PHONE, Warm
from tests.hostile import HOSTILE
from tests.test_hostile import Structure

_RUN = """async ([slug, cases]) => {
    const section = document.getElementById(slug);
    const inputs = [...section.querySelectorAll("form [name]")];
    const names = new Set(inputs.map((input) => input.name));
    const summary = section.querySelector(".summary"), answer = section.querySelector(".answer");
    const SIGNS = {"−": "-", "+": "+"};

    const entered = (input) => {
        const key = section.querySelector(`.sign[data-for="${input.id}"]`);
        const text = input.value.trim();
        return text && (SIGNS[key?.textContent] ?? "") + text;
    };
    const shownAnew = () => new Promise((done, never) => {
        const watching = new MutationObserver(() => { watching.disconnect(); done(); });
        for (const place of [summary, answer]) watching.observe(place, {childList: true});
        setTimeout(() => never(new Error("nothing was shown")), 20000);
    });
    const enter = (entries) => {
        for (const [name, text] of entries) inputs.find((each) => each.name === name).value = text;
        const first = inputs.find((input) => input.tagName === "INPUT");
        first.dispatchEvent(new Event("input", {bubbles: true}));
        first.dispatchEvent(new KeyboardEvent("keydown", {key: "Enter", bubbles: true}));
    };
    const visit = (entries) => {
        history.replaceState(null, "", `#${slug}?${new URLSearchParams(entries)}`);
        dispatchEvent(new HashChangeEvent("hashchange"));
    };

    // Every element that comes into the document, with its attributes, and every attribute set.
    const arisen = new Set(), violations = [];
    const note = (element) => {
        const place = element.closest(".answer, .strip") ? "answer"
            : element.closest(".summary") ? "summary" : "elsewhere";
        const name = `${place} ${element.localName}`;
        arisen.add(name);
        for (const each of element.getAttributeNames()) arisen.add(`${name}[${each}]`);
    };
    new MutationObserver((records) => records.forEach(({target, addedNodes, attributeName}) => {
        if (attributeName) arisen.add(`${target.localName}[${attributeName}] set`);
        for (const node of addedNodes) {
            if (node.nodeType === 1) [node, ...node.querySelectorAll("*")].forEach(note);
        }
    })).observe(document, {subtree: true, childList: true, attributes: true});
    document.addEventListener("securitypolicyviolation",
        (event) => violations.push(`${event.violatedDirective} ${event.blockedURI}`));

    const shown = [];
    for (const {way, entries} of cases) {
        const showing = shownAnew();
        ({typed: enter, address: visit})[way](entries);
        await showing;
        shown.push({
            entries: [...inputs.map((input) => [input.name, entered(input)]),
                ...entries.filter(([name]) => !names.has(name))],
            values: inputs.map((input) => [input.name, input.value]),
            problems: [...section.querySelectorAll(".problem:not([hidden])")]
                .map((problem) => [problem.id, problem.textContent]),
            summary: [...summary.querySelectorAll("li")].map((item) => item.textContent),
            isRefused: !summary.hidden,
            answer: answer.innerHTML,
            links: [...summary.querySelectorAll("[href]")].map((link) => link.getAttribute("href")),
            width: document.documentElement.scrollWidth,
        });
    }
    return {shown, violations, arisen: [...arisen]};
}"""

_GO = """async (texts) => {
    const count = () => document.querySelectorAll("*").length;
    const before = count();
    const counts = [];
    for (const text of texts) {
        const arrived = new Promise((done) => addEventListener("hashchange", done, {once: true}));
        location.hash = "#" + text;
        await arrived;
        counts.push(count() - before);
    }
    return counts;
}"""


@dataclass(frozen=True)
class Case:
    """Entries that are typed, or come in the address."""

    way: str
    entries: tuple[tuple[str, str], ...]


def cases_of(calculator: Calculator) -> Iterator[Case]:
    """Every text in all fields at once; alone beside good entries where Python would take it.

    From the field on, typed text takes the same way as text of an address: every fifth will do.
    """
    good = calculator.example_texts()
    names = [field.name for field in calculator.fields]
    typed = [field.name for field in calculator.fields if not isinstance(field, ChoiceField)]
    for number, text in enumerate(HOSTILE):
        yield Case("address", (*((name, text) for name in names), (text, text)))
        if typed and number % 5 == 0:
            yield Case("typed", tuple((name, text) for name in typed))
        for name in names:
            if answered(calculator, fields := {**good, name: text})["ok"]:
                yield Case("address", tuple(fields.items()))


def answered(calculator: Calculator, fields: dict[str, str]) -> dict[str, Any]:
    request = {"id": 1, "calculator": calculator.slug, "root": "../", "fields": fields}
    answer: dict[str, Any] = json.loads(reply(json.dumps(request)))
    return answer


@pytest.mark.parametrize("slug", CALCULATORS)
def test_hostile_text_is_shown_as_text(warm: Warm, slug: str) -> None:
    """The page and Python agree on every entry and every sentence; `warm` hears complaints."""
    bench = warm(slug)
    cases = list(cases_of(bench.calculator))
    sent = [{"way": case.way, "entries": case.entries} for case in cases]
    page = bench.page.evaluate(_RUN, [slug, sent])
    assert page["violations"] == []
    answers = [answered(bench.calculator, dict(shown["entries"])) for shown in page["shown"]]
    check_arisen(page["arisen"], answers)
    for case, shown, answer in zip(cases, page["shown"], answers, strict=True):
        check_entries(case, dict(shown["values"]))
        check_said(bench.calculator, answer, shown)
        assert all(link.startswith("#") for link in shown["links"])
        assert shown["width"] <= PHONE["width"]
    bench.reset()


def check_entries(case: Case, values: dict[str, str]) -> None:
    """A field holds what was entered, its sign perhaps on its key; a line cannot hold breaks."""
    for name, text in case.entries:
        if name in values:
            assert values[name] in (text, text[1:].strip()), name


def check_said(calculator: Calculator, answer: dict[str, Any], shown: dict[str, Any]) -> None:
    """The sentences of Python stand in the page to the letter; an answer has its elements only."""
    assert shown["isRefused"] is not answer["ok"]
    if answer["ok"]:
        assert Structure(shown["answer"]).found == Structure(answer["html"]).found
        return
    problems = [(problem["field"], problem["message"]) for problem in answer["problems"]]
    assert shown["summary"] == [message for _, message in problems]
    assert shown["problems"] == [
        [f"{calculator.slug}-{field}-problem", message] for field, message in problems if field
    ]


# All that a refusal makes: its summary, an option for a choice that does not exist, its marks.
REFUSAL = {
    *(f"summary {name}" for name in ("h3", "ul", "li", "a", "a[href]", "span")),
    *(f"elsewhere option{name}" for name in ("", "[value]", "[data-foreign]")),
}
MARKS = {
    "input[aria-invalid]",
    "select[aria-invalid]",
    "details[open]",
    "p[hidden]",
    "div[hidden]",
    "button[disabled]",
    "button[hidden]",  # the one to try again, while the calculator loads
    "button[class]",  # a sign key, and what it says
    "button[aria-label]",
    "section[class]",
    "progress[value]",
    "progress[hidden]",
}


def check_arisen(arisen: list[str], answers: list[dict[str, Any]]) -> None:
    """Nothing arose but what a refusal or an answer of Python is made of."""
    found = {each for answer in answers if answer["ok"] for each in Structure(answer["html"]).found}
    answered = {f"answer {tag}" + f"[{name}]" * (name != "") for tag, name in found}
    assert set(arisen) <= REFUSAL | answered | {f"{name} set" for name in MARKS}


def test_hostile_ends_of_an_address_change_nothing(warm: Warm) -> None:
    bench = warm(next(iter(CALCULATORS)))
    ends = [*HOSTILE, *(f"{text}?{text}={text}" for text in HOSTILE), "%", "?", "%E0%A4%A?a=%zz"]
    assert bench.page.evaluate(_GO, ends) == [0] * len(ends)
    bench.reset()
