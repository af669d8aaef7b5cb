"""Mathematics in markdown becomes MathML, and nothing else does."""

from __future__ import annotations

import markdown
import pytest

from site_src.mathematics import Mathematics


def rendered(text: str) -> str:
    return markdown.markdown(text, extensions=[Mathematics()])


def test_a_formula_in_a_line() -> None:
    html = rendered(r"The power is $F = \frac{1}{f}$ here.")
    assert html == (
        "<p>The power is <math><mrow><mi>F</mi><mo>&#x0003D;</mo><mfrac><mrow><mn>1</mn></mrow>"
        "<mrow><mi>f</mi></mrow></mfrac></mrow></math> here.</p>"
    )


def test_a_formula_on_a_line_of_its_own() -> None:
    assert '<math display="block">' in rendered(r"$$R = 2 C \sin \theta$$")


def test_markdown_inside_a_formula_is_no_markdown() -> None:
    html = rendered(r"$a_1 * b_1 * c$ and $x < y$")
    assert "<em>" not in html
    assert html.count("<msub>") == 2
    assert "&#x0003C;" in html


@pytest.mark.parametrize("text", ["5 $ and 6 $", r"\$a\$", "$ a $", "a$"])
def test_a_lone_sign_is_text(text: str) -> None:
    assert "<math" not in rendered(text)
