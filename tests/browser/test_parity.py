"""The browser's Python and this one give the same text for the same request."""

from __future__ import annotations

import json
from itertools import cycle

import pytest

from site_src.calculators import CALCULATORS
from site_src.calculators.door import reply
from tests.browser.conftest import Opening
from tests.browser.texts import requests

SEED, AT_ONCE = 20260101, 200
WAYS = {"image": 2000, "plain": 400}  # ways to start, and how many requests to each

_START = """([address, name]) => new Promise((started, failed) => {
    window.worker = new Worker(address, {name});
    worker.onerror = (event) => failed(new Error(event.message));
    worker.onmessage = (event) => {
        const message = JSON.parse(event.data);
        if (message.ready) started();
        if (message.failed) failed(new Error(message.failed));
    };
})"""

# Replies come back as JSON strings in ASCII, as json.dumps writes them: nothing is lost on the way.
_ASK = """(requests) => new Promise((answered, failed) => {
    const replies = [];
    worker.onerror = (event) => failed(new Error(event.message));
    worker.onmessage = (event) => {
        replies.push(JSON.stringify(event.data).replace(/[\\u007f-\\uffff]/g,
            (unit) => "\\\\u" + unit.charCodeAt(0).toString(16).padStart(4, "0")));
        if (replies.length === requests.length) answered(replies);
    };
    requests.forEach((request) => worker.postMessage(request));
})"""


def difference(request: str, here: str, there: str) -> str:
    """Where two replies part, for the message of the failure."""
    parted = next((at for at, (a, b) in enumerate(zip(here, there, strict=False)) if a != b), 0)
    around = slice(max(parted - 60, 0), parted + 100)
    return f"{request}\nCPython: …{here[around]}\nbrowser: …{there[around]}"


def every_example() -> list[str]:
    """Each example of each calculator, and each with nothing entered, for each column in turn."""
    columns = cycle(({}, {"column": "narrow"}, {"column": "wide"}))
    return [
        json.dumps({"id": number, "calculator": slug, "fields": dict(given), **next(columns)})
        for slug, calculator in CALCULATORS.items()
        for number, given in enumerate([*(each.given for each in calculator.examples), {}])
    ]


@pytest.mark.parametrize("way", WAYS)
def test_the_browser_answers_as_python_does(
    opening: Opening, home: str, places: dict[str, str], worker: str, way: str
) -> None:
    asked = [*every_example(), *requests(WAYS[way], SEED)]
    here = [json.dumps(reply(request)) for request in asked]
    understood = sum('\\"ok\\": true' in text for text in here) / len(asked)
    assert 1 / 3 < understood < 0.95, "the requests are too wild or too tame"

    page = opening().context.new_page()
    page.goto(home + next(iter(places.values())))  # others may start no worker
    page.evaluate(_START, [home + worker, way])
    for first in range(0, len(asked), AT_ONCE):
        batch = slice(first, first + AT_ONCE)
        there = page.evaluate(_ASK, asked[batch])
        for request, ours, theirs in zip(asked[batch], here[batch], there, strict=True):
            assert ours == theirs, difference(request, ours, theirs)
