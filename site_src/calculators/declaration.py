"""What a calculator is: a declaration of fields, a solver and examples."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import groupby

from site_src.calculators.answer import Answer
from site_src.calculators.fields import Field, FieldError, read_form


@dataclass(frozen=True)
class Example:
    """Entries as typed, and the shown text of some data of the answer, by name.

    `source` is a key of the bibliography when `prints` was published there, and "" when the
    example is only a self-test. `note` says anything a reader of the source should know.
    """

    given: Mapping[str, str]
    prints: Mapping[str, str]
    source: str = ""
    note: str = ""


@dataclass(frozen=True)
class Calculator:
    """One calculator. The first example is the one worked on its page.

    `solve` takes the values of the fields by their names and returns an `Answer`; it does no
    optics of its own. One with `**` takes there what it does not name.
    """

    slug: str
    title: str
    purpose: str
    fields: tuple[Field, ...]
    solve: Callable[..., Answer]
    examples: tuple[Example, ...]

    def __post_init__(self) -> None:
        takes = inspect.signature(self.solve).parameters.values()
        wanted = {each.name for each in takes if each.kind is not each.VAR_KEYWORD}
        declared = {field.name for field in self.fields}
        if not wanted <= declared or (wanted != declared and len(wanted) == len(takes)):
            raise TypeError(f"{self.slug}: solve takes {wanted}, the fields are {declared}")
        if not self.examples:
            raise TypeError(f"{self.slug}: a calculator needs a worked example")

    def groups(self, *, aside: bool) -> list[tuple[str, tuple[Field, ...]]]:
        """The fields that are always in sight, or those aside, by the group that they stand in."""
        shown = (field for field in self.fields if field.aside is aside)
        return [(group, tuple(fields)) for group, fields in groupby(shown, lambda f: f.group)]

    def answer(self, texts: Mapping[str, str]) -> Answer:
        """The answer to entries as typed.

        Errors  ExceptionGroup of FieldError for wrong entries; FieldError when the entries do not
                go together.
        """
        values = read_form(self.fields, texts)
        try:
            return self.solve(**values)
        except FieldError as error:
            label = next(field.full_label for field in self.fields if field.name == error.field)
            raise FieldError(error.field, f"{label}: {error.message}") from error

    def wrong_examples(self) -> list[str]:
        """What the examples do not print as they say; empty when all is well."""
        wrong = []
        for number, example in enumerate(self.examples, 1):
            values = self.answer(example.given).values()
            for name, printed in example.prints.items():
                shown = values[name].shown if name in values else "nothing"
                if shown != printed:
                    wrong.append(
                        f"example {number} of {self.slug}: {name} is {shown}, not {printed}"
                    )
        return wrong

    def example_texts(self) -> dict[str, str]:
        """What stands in each field on the page: the first example."""
        given = self.examples[0].given
        return {field.name: given.get(field.name, "") for field in self.fields}
