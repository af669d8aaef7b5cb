"""The door: whatever text comes in, one JSON object comes out, an answer or a refusal."""

from __future__ import annotations

import itertools
import json
import re

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from site_src.calculators import CALCULATORS
from site_src.calculators.answer import plain
from site_src.calculators.declaration import Calculator
from site_src.calculators.door import reply
from site_src.calculators.fields import ChoiceField
from site_src.calculators.render import answer_as_text, answer_html

MALFORMED = "The request could not be read: an id, a calculator and its fields are needed."
LENS = {"id": 7, "calculator": "transposition", "root": "../", "fields": {"lens": "-2.00 DS"}}

Reply = dict[str, object]


def no_constant(name: str) -> object:
    raise AssertionError(f"{name} is not JSON")


def said(request: str) -> Reply:
    """The reply, read as strictly as a browser reads it, and checked for its shape."""
    answer = json.loads(reply(request), parse_constant=no_constant)
    assert isinstance(answer, dict)
    if answer["ok"] is True:
        assert set(answer) == {"id", "ok", "html", "says", "text", "values"}
    else:
        assert answer["ok"] is False
        assert set(answer) == {"id", "ok", "field", "message", "problems"}
        assert answer["problems"][0] == {key: answer[key] for key in ("field", "message")}
        for problem in answer["problems"]:
            assert set(problem) == {"field", "message"}
            is_a_sentence(problem["message"])
    return answer


def is_a_sentence(message: str) -> None:
    assert message[0].isupper() or message[0] in "“0123456789"
    assert message.endswith(".")
    assert not re.search(r"Error|Exception|<class|\bNone\b|Traceback|lensmath|site_src", message)


def asked(calculator: str, **fields: str) -> Reply:
    return said(json.dumps({"id": 1, "calculator": calculator, "root": "", "fields": fields}))


def fields_of(answer: Reply) -> list[str]:
    problems = answer["problems"]
    assert isinstance(problems, list)
    return [problem["field"] for problem in problems]


# Answers ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("calculator", CALCULATORS.values(), ids=CALCULATORS)
def test_every_example_is_answered(calculator: Calculator) -> None:
    for case in calculator.examples:
        fields = dict(case.given)
        request = {"id": 3, "calculator": calculator.slug, "root": "../../", "fields": fields}
        answer = calculator.answer(fields)
        assert said(json.dumps(request)) == {
            "id": 3,
            "ok": True,
            "html": answer_html(answer, "../../"),
            "says": plain(answer.headline),
            "text": answer_as_text(calculator, fields, answer),
            "values": {name: datum.value for name, datum in answer.values().items()},
        }


@pytest.mark.parametrize("calculator", CALCULATORS.values(), ids=CALCULATORS)
def test_for_one_column_the_drawings_for_the_other_are_left_out(calculator: Calculator) -> None:
    for case in calculator.examples:
        request = {"id": 3, "calculator": calculator.slug, "fields": dict(case.given)}
        both = said(json.dumps(request))
        for column, other in itertools.permutations(("narrow", "wide")):
            drawing = rf'<svg [^>]*class="{other}".*?</svg>'
            html = re.sub(drawing, "", str(both["html"]), flags=re.DOTALL)
            html = html.replace('"drawn fitting"', '"drawn"')
            assert said(json.dumps({**request, "column": column})) == {**both, "html": html}


def test_the_id_comes_back_and_the_root_leads_to_the_sources() -> None:
    for number, root in ((0, ""), (-1, "../"), (10**12, "../../")):
        answer = said(json.dumps({**LENS, "id": number, "root": root}))
        assert answer["id"] == number
        assert f'href="{root}look-up/sources.html#' in str(answer["html"])


def test_without_a_root_the_page_lies_at_the_top() -> None:
    answer = said(json.dumps({key: LENS[key] for key in ("id", "calculator", "fields")}))
    assert 'href="look-up/sources.html#' in str(answer["html"])


def test_decimals_reach_the_answer() -> None:
    def sphere(**decimals: str) -> object:
        values = asked("transposition", lens="-0.12 -1.00 x 90", **decimals)["values"]
        assert isinstance(values, dict)
        return values["minus.sphere"]

    assert (sphere(), sphere(decimals="literal")) == (-0.125, -0.12)


# Refusals ---------------------------------------------------------------------------------------


def test_one_wrong_entry() -> None:
    message = "Lens as written: “2” has no sign. Write +2 or −2: a power always has its sign."
    assert asked("transposition", lens="2") == {
        "id": 1,
        "ok": False,
        "field": "lens",
        "message": message,
        "problems": [{"field": "lens", "message": message}],
    }


def test_several_wrong_entries_come_in_the_order_of_the_form() -> None:
    wrong = {
        "zzz": "1",
        "decimals": "x",
        "standard": "x",
        "measured_axis": "200",
        "cylinder": "3",
        "sphere": "1",
        "ordered": "2",
    }
    answer = asked("verification", **wrong)
    assert fields_of(answer) == [
        "ordered",
        "sphere",
        "cylinder",
        "measured_axis",
        "standard",
        "decimals",
        "",
    ]
    assert (answer["id"], answer["field"]) == (1, "ordered")


def test_entries_that_do_not_go_together() -> None:
    answer = asked("cylinder-from-two-readings", first="-1.00", second="-2.00")
    assert fields_of(answer) == ["wheel"]
    assert str(answer["message"]).startswith("Axis wheel: ")


@pytest.mark.parametrize("calculator", CALCULATORS)
def test_an_unknown_field_or_choice(calculator: str) -> None:
    entered = dict(CALCULATORS[calculator].examples[0].given)
    assert fields_of(asked(calculator, **entered, colour="red")) == [""]
    for field in CALCULATORS[calculator].fields:
        if isinstance(field, ChoiceField):
            wrong = {**entered, field.name: "sixteenths"}
            assert fields_of(asked(calculator, **wrong)) == [field.name]


def test_a_calculator_that_is_not_there() -> None:
    known = ", ".join(CALCULATORS)
    answer = asked("horoscope", lens="-2.00 DS")
    assert answer["message"] == f"There is no calculator “horoscope”; there are {known}."
    answer = asked("x" * 100_000)
    assert answer["message"] == f"There is no calculator “{'x' * 60}”; there are {known}."


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "{",
        "hello",
        "null",
        "true",
        "7",
        "NaN",
        '"transposition"',
        "[]",
        '[{"id": 7}]',
        "{}",
        '{"id": 7',
        "[" * 100_000,
        '{"id": ' + "9" * 5000 + "}",
        *(
            json.dumps({**LENS, **wrong})
            for wrong in (
                {"id": None},
                {"id": "7"},
                {"id": 7.5},
                {"id": True},
                {"id": [7]},
                {"id": float("nan")},
            )
        ),
        json.dumps({key: LENS[key] for key in ("calculator", "root", "fields")}),
    ],
    ids=lambda text: text[:40] or "empty",
)
def test_a_request_that_cannot_be_read_is_told_so(text: str) -> None:
    answer = said(text)
    assert (answer["id"], answer["field"], answer["message"]) == (None, "", MALFORMED)


@pytest.mark.parametrize(
    "wrong",
    [
        {"calculator": None},
        {"calculator": 3},
        {"calculator": ["transposition"]},
        {"calculator": {"slug": "transposition"}},
        {"fields": None},
        {"fields": []},
        {"fields": "lens=-2.00"},
        {"fields": 3},
        {"fields": {"lens": None}},
        {"fields": {"lens": -2}},
        {"fields": {"lens": ["-2.00 DS"]}},
        {"fields": {"lens": {"text": "-2.00 DS"}}},
        {"fields": {"lens": "-2.00 DS", "decimals": False}},
        {"root": None},
        {"root": 2},
        {"root": "/"},
        {"root": ".."},
        {"root": "../x/"},
        {"root": "../\n"},
        {"root": "https://example.invalid/"},
        {"root": '../"><script>'},
        {"column": None},
        {"column": "middle"},
        {"column": ["narrow"]},
        {"column": True},
    ],
    ids=str,
)
def test_a_part_of_the_wrong_kind(wrong: dict[str, object]) -> None:
    answer = said(json.dumps({**LENS, **wrong}))
    assert (answer["id"], answer["field"], answer["message"]) == (7, "", MALFORMED)


@pytest.mark.parametrize("text", ["9" * 100_000, "-" * 100_000, "x " * 50_000, "-1," * 50_000])
def test_huge_text_is_refused_at_once(text: str) -> None:
    for calculator, field in (("transposition", "lens"), ("verification", "ordered")):
        answer = asked(calculator, **{field: text})
        assert fields_of(answer) == [field]
        assert "More than 200 characters were written." in str(answer["message"])


def test_a_lone_surrogate_does_no_harm() -> None:
    answer = said('{"id": 1, "calculator": "transposition", "fields": {"lens": "\\ud800"}}')
    assert fields_of(answer) == ["lens"]


# Anything whatever ------------------------------------------------------------------------------

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner),
    max_leaves=8,
)
SLUGS = st.sampled_from(list(CALCULATORS))
FIELD_NAMES = st.sampled_from(
    sorted({field.name for calculator in CALCULATORS.values() for field in calculator.fields})
)
ENTRIES = st.text(max_size=8) | st.sampled_from(
    ["-2.00", "+1.25", "-0.75 -2.50 x 112", "pl -0.12 x 5", "90", "both", "cylinder", "literal"]
)
LIKELY = st.fixed_dictionaries(
    {
        "id": st.integers(),
        "calculator": SLUGS | JSON,
        "fields": st.dictionaries(FIELD_NAMES, ENTRIES | JSON) | JSON,
    },
    optional={"root": st.sampled_from(["", "../", "../../"]) | JSON, "more": JSON},
)
OF_ONE_FORM = SLUGS.flatmap(
    lambda slug: st.fixed_dictionaries(
        {
            "id": st.integers(),
            "calculator": st.just(slug),
            "fields": st.fixed_dictionaries(
                {}, optional={field.name: ENTRIES for field in CALCULATORS[slug].fields}
            ),
        }
    )
)


@settings(max_examples=300, deadline=None)
@given(JSON | LIKELY | OF_ONE_FORM)
@example({**LENS, "calculator": []})
def test_any_json_has_a_reply(request: object) -> None:
    answer = said(json.dumps(request))
    number = request.get("id") if isinstance(request, dict) else None
    assert answer["id"] == (number if type(number) is int else None)


@given(st.text())
def test_any_text_has_a_reply(request: str) -> None:
    assert said(request)["ok"] is False
