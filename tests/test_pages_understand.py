"""The pages that explain: every sum in them comes out on a pocket calculator."""

from __future__ import annotations

import re
from functools import cache
from html import unescape

import numpy as np
import pytest

from site_src.handbook import load_pages, write_body
from site_src.setup.steps import ROOT
from tests.pocket import half_a_unit, shown, worked_out

_SUM = re.compile(
    r"([−√(]*[0-9][0-9.²()+−×÷√ ]*[0-9)²]) = ([+−]?[0-9]+(?:\.[0-9]+)?)(?![0-9.² ]*[×÷+−])"
)
SUMS = {
    "vergence": 2,
    "two-line-sets": 1,
    "cylinder-is-travel": 1,
    "power-cross-and-matrix": 3,
    "power-vectors": 3,
    "oblique-cylinders": 3,
    "axis-tolerance": 1,
    "prentice-rule": 3,
    "vertex-distance": 4,
}


@cache
def text_of(name: str) -> str:
    """The text of a page as it is read, without its calculators, formulae and figures."""
    pages = {page.address: page for page in load_pages(ROOT / "site_src" / "pages")}
    page = pages[f"understand/{name}.html"]
    write_body(page, pages)
    body = re.sub(r"(?s)<section.*?</section>|<math.*?</math>|<figure.*?</figure>", " ", page.body)
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", body)).split())


@pytest.mark.parametrize("name", SUMS)
def test_sums_come_out(name: str) -> None:
    found = _SUM.findall(text_of(name))
    assert len(found) == SUMS[name], found
    for sums, result in found:
        printed = shown(result)
        assert abs(worked_out(sums) - printed) <= half_a_unit(printed), f"{sums} = {result}"


def lens_matrix(sphere: float, cylinder: float, axis: float) -> np.ndarray:
    """The power matrix from its definition: the sphere, and the cylinder across its axis."""
    turn = np.radians(axis + 90)
    across = np.array([np.cos(turn), np.sin(turn)])
    return sphere * np.eye(2) + cylinder * np.outer(across, across)


def test_crossed_cylinders_of_the_page() -> None:
    low, high = np.linalg.eigvalsh(lens_matrix(0, -2, 180) + lens_matrix(-2, 2, 135))
    assert f"cylinder is −{high - low:.3f}" in text_of("oblique-cylinders")
    assert f"= −{-high:.3f}" in text_of("oblique-cylinders")


def test_matrix_of_the_page() -> None:
    matrix = lens_matrix(3, -1, 30)
    text = text_of("power-cross-and-matrix")
    for entry in (matrix[0, 0], matrix[1, 1]):
        assert f"= +{entry:.2f}" in text
    assert f"= +{matrix[0, 1]:.3f}" in text
    assert f"is {np.trace(matrix):.2f} and" in text
    assert f"is {np.linalg.det(matrix):.2f}, so" in text


def test_slip_of_the_page() -> None:
    low, high = np.linalg.eigvalsh(lens_matrix(0, -2, 180) - lens_matrix(0, -2, 10))
    assert f"= {high - low:.2f} D" in text_of("axis-tolerance")


def test_prism_of_the_page() -> None:
    """Minus the matrix times the way, in centimetres; in is to the right of a right eye."""
    x, y = -lens_matrix(6, -3, 140) @ np.array([0.25, -1.1])
    text = text_of("prentice-rule")
    assert f"so {-x:.2f} Δ base out" in text
    assert f"so {y:.2f} Δ base up" in text


def test_minus_nine_moved() -> None:
    text = text_of("vertex-distance")
    for further in (-12, 2):
        needed = 1000 / (1000 / -9 + further)
        assert f"= −{-needed:.2f} D" in text
