"""The one door between a form and its answer: JSON text in, JSON text out.

    {"id": 7, "calculator": "transposition", "root": "../", "fields": {"lens": "-2.00 DS"}}
    {"id": 7, "ok": true, "html": "...", "says": "...", "text": "...", "values": {...}}
    {"id": 7, "ok": false, "field": "lens", "message": "...", "problems": [{"field", "message"}]}

A request may have a "column", "narrow" or "wide": the figures are then drawn for that one, else for
both. One with "jobs" in the place of a calculator is about a slice of a file; see jobs.py.
The build, the tests and the browser's worker all come in here.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping

from lensmath.errors import LensError
from site_src.calculators import CALCULATORS
from site_src.calculators.answer import Answer, plain
from site_src.calculators.declaration import Calculator
from site_src.calculators.fields import FieldError
from site_src.calculators.jobs import answer_slice
from site_src.calculators.render import answer_as_text, answer_html
from site_src.figures.svg import COLUMNS, Column

_MALFORMED = "The request could not be read: an id, a calculator and its fields are needed."


def reply(request: str) -> str:
    """The answer to one request, always as JSON text, whatever comes in."""
    number: int | None = None
    try:
        asked = json.loads(request)
        number = _number(asked)
        body = answer_slice(asked["jobs"]) if "jobs" in asked else _answer_body(*_checked(asked))
    except ExceptionGroup as group:
        body = _refusal([error for error in group.exceptions if isinstance(error, FieldError)])
    except FieldError as error:
        body = _refusal([error])
    except LensError as error:
        body = _refusal([FieldError("", str(error))])
    except (ValueError, RecursionError):
        body = _refusal([FieldError("", _MALFORMED)])
    return json.dumps({"id": number, **body}, sort_keys=True)


def _number(asked: object) -> int:
    number = asked.get("id") if isinstance(asked, dict) else None
    if not isinstance(number, int) or isinstance(number, bool):
        raise FieldError("", _MALFORMED)
    return number


def _checked(
    asked: Mapping[str, object],
) -> tuple[Calculator, dict[str, str], str, Column | None]:
    slug, fields, root = asked.get("calculator"), asked.get("fields"), asked.get("root", "")
    column = asked.get("column", "")
    if not isinstance(slug, str):
        raise FieldError("", _MALFORMED)
    if slug not in CALCULATORS:
        known = ", ".join(CALCULATORS)
        raise FieldError("", f"There is no calculator “{slug[:60]}”; there are {known}.")
    texts_only = isinstance(fields, dict) and all(isinstance(v, str) for v in fields.values())
    if not isinstance(fields, dict) or not texts_only:
        raise FieldError("", _MALFORMED)
    if not isinstance(root, str) or not re.fullmatch(r"(\.\./)*", root):
        raise FieldError("", _MALFORMED)
    if column not in ("", *COLUMNS):
        raise FieldError("", _MALFORMED)
    return CALCULATORS[slug], fields, root, COLUMNS.get(str(column))


def _answer_body(
    calculator: Calculator, texts: dict[str, str], root: str, column: Column | None
) -> dict[str, object]:
    answer = calculator.answer(texts)
    return {
        "ok": True,
        "html": answer_html(answer, root, column),
        "says": plain(answer.headline),
        "text": answer_as_text(calculator, texts, answer),
        "values": _values(answer),
    }


def _values(answer: Answer) -> dict[str, float | str]:
    return {name: datum.value for name, datum in sorted(answer.values().items())}


def _refusal(errors: list[FieldError]) -> dict[str, object]:
    problems = [{"field": error.field, "message": error.message} for error in errors]
    return {"ok": False, **problems[0], "problems": problems}
