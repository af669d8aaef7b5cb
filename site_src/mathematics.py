r"""Mathematics in the markdown of a page: $F = 1/f$ in a line, $$...$$ for a line of its own.

latex2mathml turns it into MathML when the site is built, so a page needs no script to show it.
"""

from __future__ import annotations

from re import Match
from xml.etree.ElementTree import Element

from latex2mathml.converter import convert_to_element
from markdown import Markdown
from markdown.extensions import Extension
from markdown.inlinepatterns import InlineProcessor

_FORMULA = r"(?<!\\)(\$\$?)(?=\S)(.+?)(?<=\S)\1"


class _Formula(InlineProcessor):
    def handleMatch(  # type: ignore[override]  # noqa: N802  its name in the library
        self, m: Match[str], data: str
    ) -> tuple[Element, int, int]:
        display = "block" if m[1] == "$$" else "inline"
        element = convert_to_element(m[2], display=display)
        element.attrib.pop("xmlns", None)  # needed outside of HTML only
        if display == "inline":
            del element.attrib["display"]
        return element, m.start(0), m.end(0)


class Mathematics(Extension):
    """The extension for Python-Markdown."""

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802  its name in the library
        """Registers the pattern, ahead of the one for a backslash."""
        md.inlinePatterns.register(_Formula(_FORMULA, md), "formula", 185)
