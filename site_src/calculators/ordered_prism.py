"""Prism as it stands on an order, as one arrow."""

from __future__ import annotations

from collections.abc import Iterable

from lensmath.eye import Eye
from lensmath.notation.forms import WrittenPrism
from lensmath.prism import Base, Prism, compounded


def written(parts: Iterable[WrittenPrism], eye: Eye) -> Prism:
    """Prism as an order writes it: any number of parts, each with a base in words or degrees."""
    return compounded(_one(part, eye) for part in parts)


def _one(part: WrittenPrism, eye: Eye) -> Prism:
    if isinstance(part.base, str):
        return Prism.from_word(part.amount, Base(part.base), eye)
    return Prism.from_base(part.amount, part.base)
