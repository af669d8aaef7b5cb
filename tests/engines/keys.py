"""Key presses as WebDriver and WebDriver BiDi take them.

The characters that stand for keys: https://www.w3.org/TR/webdriver2/#keyboard-actions
"""

from __future__ import annotations

from collections.abc import Iterable

NAMED = {
    "Backspace": "\ue003",
    "Tab": "\ue004",
    "Enter": "\ue006",
    "Space": " ",
    "End": "\ue010",
    "Home": "\ue011",
    "ArrowDown": "\ue015",
}


def strokes(characters: Iterable[str]) -> list[dict[str, object]]:
    """The `actions` of a command that presses and releases each key."""
    presses = [
        {"type": kind, "value": character}
        for character in characters
        for kind in ("keyDown", "keyUp")
    ]
    return [{"type": "key", "id": "keyboard", "actions": presses}]
