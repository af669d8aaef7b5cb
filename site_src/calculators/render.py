"""An answer as HTML, through the templates that the build and the browser share, and as text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache, lru_cache
from importlib.resources import files

from jinja2 import BaseLoader, Environment, ModuleLoader, PackageLoader, StrictUndefined
from markupsafe import Markup, escape

from lensmath.notation import MINUS
from site_src.calculators.answer import Answer, Datum, Line, plain
from site_src.calculators.declaration import Calculator
from site_src.calculators.fields import ChoiceField
from site_src.figures.svg import Column
from site_src.sources import Source, cite, load_sources

TEMPLATES = ("answer.html", "figure.html", "line.html", "table.html")
"""All that an answer is rendered through."""


@cache
def environment() -> Environment:
    """The template environment of pages and answers: escaped, and strict about names."""
    found = Environment(
        loader=_loader(),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    found.globals["bibliography"] = bibliography()
    found.globals["cite"] = cite
    found.filters["line"] = line_html
    found.filters["citation"] = _citation
    return found


def _loader() -> BaseLoader:
    """The templates, or what runtime/compiled.py made of them for the browser."""
    compiled = files("site_src") / "compiled_templates"
    return ModuleLoader(str(compiled)) if compiled.is_dir() else PackageLoader("site_src")


@cache
def bibliography() -> Mapping[str, Source]:
    """Every source by its key."""
    return load_sources(files("site_src") / "sources.toml")


def line_html(line: Line) -> Markup:
    """A line of an answer: text with every number in a data element."""
    return Markup("".join([_piece_html(piece) for piece in line]))


def _piece_html(piece: str | Datum) -> str:
    if isinstance(piece, str):
        return _escaped(piece)
    sign = f' class="{_escaped(piece.sign)}"' if piece.sign else ""
    named = f'value="{_escaped(str(piece.value))}" data-name="{_escaped(piece.name)}"'
    return f"<data {named}{sign}>{_escaped(piece.shown)}</data>"


@lru_cache(1000)  # most texts come again with the next key
def _escaped(text: str) -> str:
    return str(escape(text))


@lru_cache
def _citation(key: str, root: str) -> Markup:
    """The macro's, remembered: the answers of a calculator have the same sources."""
    return macro_html("citation", key, root)


def macro_html(name: str, *given: object) -> Markup:
    """What a macro of line.html makes of `given`: a line or a citation on its own."""
    macro = getattr(environment().get_template("line.html").module, name)
    return Markup(macro(*given))


def answer_html(answer: Answer, root: str, column: Column | None = None) -> str:
    """The answer for a page whose way up to the site's first folder is `root`, such as "../".

    Its figures are drawn for one column, or for each that there is.
    """
    if column:
        figures = tuple(replace(figure, columns=(column,)) for figure in answer.figures)
        answer = replace(answer, figures=figures)
    return environment().get_template("answer.html").render(answer=answer, root=root)


def answer_as_text(calculator: Calculator, texts: Mapping[str, str], answer: Answer) -> str:
    """The entries, the answer and its working as plain text, for the clipboard."""
    lines = [calculator.title]
    lines += [f"  {label}: {entry}" for label, entry in _entries(calculator, texts)]
    lines.append(plain(answer.headline))
    lines += [f"  {plain(line)}" for line in (*answer.also, *answer.understood)]
    for table in answer.tables:
        lines += [table.caption, " | ".join(table.head)]
        lines += [" | ".join(plain(cell) for cell in row) for row in table.rows]
    for number, step in enumerate(answer.steps, 1):
        working = " = ".join(
            part for part in (step.formula, step.numbers, plain(step.result)) if part
        )
        lines.append(f"{number}. {step.what} {working}".rstrip())
    lines += [f"Caution: {caution}" for caution in answer.cautions]
    return "\n".join(lines) + "\n"


def _entries(calculator: Calculator, texts: Mapping[str, str]) -> list[tuple[str, str]]:
    entries = []
    for field in calculator.fields:
        text = texts.get(field.name, "").strip()
        said = field.words(text) if isinstance(field, ChoiceField) else text.replace("-", MINUS)
        if said.strip(f"+{MINUS}"):
            entries.append((field.full_label, said))
    return entries
