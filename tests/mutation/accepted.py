"""The survivors that are known, each with its reason: accepted.toml."""

from __future__ import annotations

import tomllib
from pathlib import Path

PATH = Path(__file__).with_name("accepted.toml")


def read_accepted() -> set[str]:
    """The mutants in the file, each written as a `Mutant` is shown."""
    groups = tomllib.loads(PATH.read_text("utf-8")).get("accepted", [])
    return {mutant for group in groups for mutant in _split(group["mutants"])}


def _split(text: str) -> list[str]:
    """A mutant is the line that says where and the lines, with - and +, of its change."""
    mutants: list[str] = []
    for line in text.strip().splitlines():
        if line.startswith(("-", "+")):
            mutants[-1] += f"\n{line}"
        elif line:
            mutants.append(line)
    return mutants
