"""What people and others put into a form: valid, extreme, wrong and hostile, from a seed."""

from __future__ import annotations

import json
from random import Random

from site_src.calculators import CALCULATORS
from site_src.calculators.fields import ChoiceField, Field, NumberField
from tests.hostile import HOSTILE

_MALFORMED = (
    "",
    "null",
    "[]",
    '"text"',
    "{",
    '{"id": 1}',
    '{"id": 2, "calculator": "no-such-calculator", "fields": {}}',
    '{"id": 3, "calculator": ["transposition"], "fields": {}}',
    '{"id": 4, "calculator": "transposition", "fields": {"lens": 1}}',
    '{"id": 5, "calculator": "transposition", "fields": ["lens"]}',
    '{"id": 6, "calculator": "transposition", "fields": {"lens": "pl"}, "root": "//elsewhere/"}',
    '{"id": 7, "calculator": "transposition", "fields": {"lens": "pl", "colour": "red"}}',
)

_MINUSES = ("-", "-", "\N{MINUS SIGN}", "\N{EN DASH}", "- ", "\N{FULLWIDTH HYPHEN-MINUS}")
_ODD_POWERS = ("", "+", "0", "-0.00", "pl", "+30", "-30.00", "30.01", "+-1", "1,2,5", "-.5", "+1 2")
_ODD_NUMBERS = ("", "0", "-1", "+1", "1e3", ".5", "5.", "1.2.3", "999999", "12 mm mm")
_ODD_AXES = ("", "0", "0.04", "179.96", "180", "180.04", "181", "-5", "x 90", "90 95", "7.5")


def requests(count: int, seed: int) -> list[str]:
    """Requests as a page puts them to Python, one in twenty not even that."""
    random = Random(seed)
    return [_request(random, number) for number in range(count)]


def _request(random: Random, number: int) -> str:
    if random.random() < 0.05:
        return random.choice(_MALFORMED)
    calculator = random.choice(list(CALCULATORS.values()))
    fields = {
        field.name: _entry(random, field)
        for field in calculator.fields
        if not field.aside or random.random() < 0.3
    }
    root = random.choice(("", "../", "../../"))
    return json.dumps({"id": number, "calculator": calculator.slug, "root": root, "fields": fields})


def _entry(random: Random, field: Field) -> str:
    if random.random() < 0.02:
        return random.choice(HOSTILE)
    if field.optional and random.random() < 0.15:
        return ""
    if isinstance(field, ChoiceField):
        return random.choice([*(choice.text for choice in field.choices), ""])
    if isinstance(field, NumberField):
        return _number(random, field)
    kinds = {"power": _power, "axis": _axis, "prescription": _prescription, "text": _text}
    return kinds[field.kind](random)


def _power(random: Random, strongest: int = 10) -> str:
    chance = random.random()
    if chance < 0.05:
        return random.choice(_ODD_POWERS)
    size = random.uniform(0, strongest) if chance < 0.2 else random.randrange(8 * strongest) / 8
    digits = (
        f"{size:.{random.choice((0, 3, 4))}f}" if chance < 0.2 else f"{int(size * 100) / 100:.2f}"
    )
    sign = "+" if random.random() < 0.4 else random.choice(_MINUSES)
    return sign + (digits.replace(".", ",") if random.random() < 0.1 else digits)


def _axis(random: Random) -> str:
    if random.random() < 0.08:
        return random.choice(_ODD_AXES)
    return f"{random.randint(1, 180):{random.choice(('', '03'))}d}"


def _number(random: Random, field: NumberField) -> str:
    if random.random() < 0.05:
        return random.choice(_ODD_NUMBERS)
    value = random.uniform(field.low, field.high)
    digits = f"{value:.{random.choice((0, 1, 2, 3))}f}" + random.choice(("", "", f" {field.unit}"))
    return digits.replace(".", ",") if random.random() < 0.1 else digits


def _text(random: Random) -> str:
    words = ("2.00 BD", "bu&i @45", "three quarters", "3,5 mm in", "outside: axis", "217", "?")
    return random.choice((_power(random), _axis(random), _prescription(random), *words))


def _prescription(random: Random) -> str:
    cylinder = (
        f"{_power(random, 4)}{random.choice((' x ', 'x', ' × ', ' axis ', ' X'))}{_axis(random)}"
    )
    written = random.choices(
        (
            f"{_power(random)} {cylinder}",
            f"{_power(random)}/{cylinder}",
            f"plano {cylinder}",
            f"{_power(random)} DS",
            f"{_power(random)} DC x {_axis(random)} / {cylinder}",
            f"{_power(random)} {_power(random)}",
            "",
        ),
        (50, 15, 10, 10, 10, 4, 1),
    )[0]
    more = random.choices(("", " add +2.25", " 2 BU", " 1.5 BI @ 5", " ?"), (80, 8, 8, 2, 2))[0]
    return written + more
