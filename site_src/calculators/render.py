"""An answer as HTML, through the templates that the build and the browser share, and as text."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files

from jinja2 import BaseLoader, Environment, ModuleLoader, PackageLoader, StrictUndefined
from markupsafe import Markup

from lensmath.notation import MINUS
from site_src.calculators.answer import Answer, plain
from site_src.calculators.declaration import Calculator
from site_src.calculators.fields import ChoiceField
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
    found.tests["text"] = lambda piece: isinstance(piece, str)
    return found


def _loader() -> BaseLoader:
    """The templates, or what runtime/compiled.py made of them for the browser."""
    compiled = files("site_src") / "compiled_templates"
    return ModuleLoader(str(compiled)) if compiled.is_dir() else PackageLoader("site_src")


@cache
def bibliography() -> Mapping[str, Source]:
    """Every source by its key."""
    return load_sources(files("site_src") / "sources.toml")


def macro_html(name: str, *given: object) -> Markup:
    """What a macro of line.html makes of `given`: a line or a citation on its own."""
    macro = getattr(environment().get_template("line.html").module, name)
    return Markup(macro(*given))


def answer_html(answer: Answer, root: str) -> str:
    """The answer for a page whose way up to the site's first folder is `root`, such as "../"."""
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
