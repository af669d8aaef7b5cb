"""The mutants of one file: mutmut writes them, each as the whole file with one small change."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import ndiff
from functools import cached_property
from pathlib import Path

import libcst
from mutmut.mutation.file_mutation import Mutation, create_mutations

from site_src.setup.steps import ROOT

# mutmut passes over every decorated function but a static or class method. A property is handed
# to it as a static method, of which the package has none of its own.
PROPERTY, STAND_IN = "@property", "@staticmethod"


@dataclass(frozen=True)
class Mutant:
    """One changed copy of a file; `function` is the changed function, as `Class.method`."""

    path: Path
    function: str
    before: str
    after: str

    @property
    def module(self) -> str:
        """The name by which the file is imported."""
        return module_of(self.path)

    @property
    def where(self) -> str:
        """The changed function with its module."""
        return f"{self.module}:{self.function}"

    @cached_property
    def change(self) -> str:
        """The lines that differ, `-` as they were and `+` as they are, without indentation.

        Together with `where` this names a mutant for as long as the line stays as it is.
        """
        lines = ndiff(self.before.splitlines(), self.after.splitlines())
        return "\n".join(f"{line[0]}{line[1:].strip()}" for line in lines if line[0] in "+-")

    def __str__(self) -> str:
        return f"{self.where}\n{self.change}"


def module_of(path: Path) -> str:
    """The name by which a file of the package is imported."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(part for part in parts if part != "__init__")


def mutants_of(path: Path) -> tuple[list[Mutant], int]:
    """The mutants of a file, and how many more were left out because they change only text."""
    source = path.read_text("utf-8")
    if STAND_IN in source:
        raise ValueError(f"{path}: a static method would be taken for a property.")
    module, mutations, *_ = create_mutations(str(path), source.replace(PROPERTY, STAND_IN))
    names = dict(_functions(module.body))
    kept, left_out = [], 0
    for mutation in mutations:
        function = mutation.contained_by_top_level_function
        if not isinstance(function, libcst.FunctionDef):
            continue  # what stands outside functions is data
        if _changes_text_only(mutation):
            left_out += 1
            continue
        changed = module.deep_replace(mutation.original_node, mutation.mutated_node)
        after = changed.code.replace(STAND_IN, PROPERTY)
        kept.append(Mutant(path, names[function], source, after))
    return kept, left_out


def _functions(
    body: libcst.CSTNode | tuple[libcst.CSTNode, ...], within: str = ""
) -> Iterator[tuple[libcst.FunctionDef, str]]:
    for statement in body:
        if isinstance(statement, libcst.FunctionDef):
            yield statement, within + statement.name.value
        elif isinstance(statement, libcst.ClassDef):
            yield from _functions(statement.body.body, f"{within}{statement.name.value}.")


def _changes_text_only(mutation: Mutation) -> bool:
    """Whether all that a mutant changes, or takes away, is a string with a blank in it.

    That is text for people. The tests check most of it, but a sentence in capitals or with XX
    around it tells nothing about the optics.
    """
    old, new = mutation.original_node, mutation.mutated_node
    if isinstance(old, libcst.Call) and isinstance(new, libcst.Call):
        kept = {id(argument) for argument in new.args}
        changed = [argument.value for argument in old.args if id(argument) not in kept]
        return old.func is new.func and all(map(_is_text, changed))
    if isinstance(old, libcst.Assign):
        return _is_text(old.value)
    return _is_text(old)


def _is_text(node: libcst.CSTNode) -> bool:
    if not isinstance(node, libcst.BaseString):
        return False
    tree = ast.parse(f"({libcst.Module([]).code_for_node(node)})", mode="eval")
    return any(
        isinstance(part, ast.Constant) and isinstance(part.value, str) and " " in part.value
        for part in ast.walk(tree)
    )
