"""Makes the one archive that the browser loads: runs inside Pyodide, by compile.mjs.

It holds the byte code of the handbook's Python and of its templates, of those modules of its
libraries and of the standard library that it can import, and the bibliography. Which modules these
are is found out here: what the handbook's own files name in an import, wherever it stands; what a
library that is named there imports when it is imported itself; and all that has been imported
after every example of every calculator and every kind of failure.

Byte code is kept without docstrings, places in the source and the types of arguments: half of the
archive's size, and nothing here asks for them.
"""

import ast
import contextlib
import importlib.util
import io
import json
import marshal
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path
from types import CodeType

SOURCES = Path("/sources")
FIRST_DAY = (1980, 1, 1, 0, 0, 0)
OURS = ("lensmath", "site_src")
BIBLIOGRAPHY = "site_src/sources.toml"
TEMPLATES = "site_src/compiled_templates"


def main() -> bytes:
    """The archive."""
    sys.path.insert(0, str(SOURCES))
    answer_everything()
    files = reachable() | {file for name in sys.modules for file in files_of(name)}
    named = {name for file in files for name in imported(file)}
    compile_templates()
    members = {}
    with zipfile.ZipFile(next(path for path in sys.path if path.endswith(".zip"))) as library:
        for name in sorted(library_members(library, named)):
            members[f"{name[:-3]}.pyc"] = compiled(library.read(name), name, optimize=2)
    for file in sorted({*files, *(SOURCES / TEMPLATES).glob("*.py")}):
        name = file.relative_to(SOURCES).as_posix()
        optimize = 0 if name.startswith(OURS) else 2  # our own asserts stay
        members[f"{name[:-3]}.pyc"] = compiled(file.read_bytes(), name, optimize)
    members[BIBLIOGRAPHY] = (SOURCES / BIBLIOGRAPHY).read_bytes()
    return zipped(members)


def reachable() -> set[Path]:
    """The handbook's own files, and those of its libraries that can be imported from them."""
    found = {file for file in SOURCES.rglob("*.py") if file.relative_to(SOURCES).parts[0] in OURS}
    fresh = found
    while fresh:
        named = {name for file in fresh for name in imported(file)}
        fresh = {file for name in named for file in files_of(name)} - found
        found |= fresh
    return found


def files_of(name: str) -> set[Path]:
    """The files that an import of `name` runs, its packages' too, as far as they are here."""
    parts = name.split(".")
    places = [SOURCES.joinpath(*parts[: count + 1]) for count in range(len(parts))]
    files = {file for place in places for file in (place / "__init__.py", place.with_suffix(".py"))}
    return {file for file in files if file.exists()}


def imported(file: Path) -> set[str]:
    """Every name that a file imports, in full: a library's file at once, our own also later."""
    names: set[str] = set()
    package = file.relative_to(SOURCES).parent.parts
    at_once = package[0] not in OURS
    for node in nodes(ast.parse(file.read_bytes()), at_once=at_once):
        if isinstance(node, ast.Import):
            names.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package[: len(package) - node.level + 1] if node.level else ()
            module = ".".join((*above, *filter(None, [node.module])))
            names.add(module)
            names.update(f"{module}.{alias.name}" for alias in node.names)
    return names


def nodes(tree: ast.AST, *, at_once: bool) -> Iterator[ast.AST]:
    """All of a module, or what runs when it is imported."""
    for node in ast.iter_child_nodes(tree):
        if not (at_once and isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))):
            yield node
            yield from nodes(node, at_once=at_once)


def answer_everything() -> None:
    """Answers every example, and fails in every way, so that all is imported."""
    from jinja2 import UndefinedError  # noqa: PLC0415 - on the path only now

    from site_src.calculators import CALCULATORS  # noqa: PLC0415
    from site_src.calculators.door import reply  # noqa: PLC0415
    from site_src.calculators.render import environment  # noqa: PLC0415

    for calculator in CALCULATORS.values():
        for fields in (*(dict(example.given) for example in calculator.examples), {"none": "?"}):
            request = {"id": 1, "calculator": calculator.slug, "root": "", "fields": fields}
            answered = json.loads(reply(json.dumps(request)))
            if answered["ok"] != ("none" not in fields):
                raise ValueError(f"{calculator.slug} answers {fields} with {answered}")
    reply("not JSON")
    with contextlib.suppress(UndefinedError):  # a mistake in a template is told with its place
        environment().from_string("{{ missing }}").render()


def compile_templates() -> None:
    """Writes every template as Python, where `render.environment` looks for it first."""
    from site_src.calculators.render import environment  # noqa: PLC0415 - on the path only now

    environment().compile_templates(SOURCES / TEMPLATES, zip=None, ignore_errors=False)


def library_members(library: zipfile.ZipFile, named: set[str]) -> set[str]:
    """The files of the standard library to keep."""
    for name in named & set(sys.stdlib_module_names | {each for each in named if "." in each}):
        if spec := found(name):
            importlib.import_module(spec)
    files = set(library.namelist())
    loaded = {name.replace(".", "/") for name in sys.modules}
    return {
        file for name in loaded for file in (f"{name}.py", f"{name}/__init__.py") if file in files
    }


def found(name: str) -> str | None:
    """The name, if a module of the standard library has it and it can be imported here."""
    if name.split(".", maxsplit=1)[0] not in sys.stdlib_module_names:
        return None
    try:
        return name if importlib.util.find_spec(name) else None
    except ImportError:
        return None


def compiled(source: bytes, name: str, optimize: int) -> bytes:
    """A module as byte code that is never checked against its source, which is not there."""
    tree = ast.parse(source, name)
    for node in ast.walk(tree):
        drop_docstring(node)
        if b"singledispatch" not in source:  # which asks for the type of an argument
            drop_types(node)
    code = without_places(compile(tree, name, "exec", dont_inherit=True, optimize=optimize))
    flags = 1  # found by a hash of the source, which is not checked (PEP 552)
    digest = importlib.util.source_hash(source)
    return importlib.util.MAGIC_NUMBER + flags.to_bytes(4, "little") + digest + marshal.dumps(code)


def drop_docstring(node: ast.AST) -> None:
    """Drops a module's, class's or function's own."""
    if not isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)):
        return
    if ast.get_docstring(node, clean=False) is not None:
        node.body = node.body[1:] or [ast.copy_location(ast.Pass(), node.body[0])]


def drop_types(node: ast.AST) -> None:
    """Drops the types of a function's arguments and result; those of a class's fields are used."""
    if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
        node.returns = None
    elif isinstance(node, ast.arg):
        node.annotation = None


def without_places(code: CodeType) -> CodeType:
    """The code with a table of places in the source that says "nowhere" throughout.

    An entry of code 15 has no location and covers up to eight instructions, as CPython's
    InternalDocs/code_objects.md has it.
    """
    inner = (
        without_places(each) if isinstance(each, CodeType) else each for each in code.co_consts
    )
    whole, rest = divmod(len(code.co_code) // 2, 8)
    nowhere = b"\xff" * whole + (bytes([0xF8 | rest - 1]) if rest else b"")
    return code.replace(co_linetable=nowhere, co_consts=tuple(inner))


def zipped(members: dict[str, bytes]) -> bytes:
    """The members in one archive, not compressed: that is done to the whole of it."""
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w") as into:
        for name, content in sorted(members.items()):
            into.writestr(zipfile.ZipInfo(name, FIRST_DAY), content)
    return archive.getvalue()


main()
