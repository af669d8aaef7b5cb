"""Makes the one archive that the browser loads: runs inside Pyodide, by compile.mjs.

It holds the byte code of the handbook's Python, of its libraries, and of those modules of the
standard library that they can import, with the templates and the bibliography. Which modules these
are is found out here: all that Pyodide and the handbook have imported after every example of every
calculator, and all that these import anywhere, late imports included, as far as the handbook's
own files and its libraries name them.
"""

import ast
import importlib.util
import io
import json
import marshal
import sys
import zipfile
from pathlib import Path

SOURCES = Path("/sources")
FIRST_DAY = (1980, 1, 1, 0, 0, 0)
LIBRARIES = ("jinja2", "markupsafe")


def main() -> bytes:
    """The archive."""
    sys.path.insert(0, str(SOURCES))
    named = late_imports()
    answer_everything()
    members = {}
    with zipfile.ZipFile(next(path for path in sys.path if path.endswith(".zip"))) as library:
        for name in sorted(library_members(library, named)):
            members[f"{name[:-3]}.pyc"] = compiled(library.read(name), name, optimize=2)
    for file in sorted(path for path in SOURCES.rglob("*") if path.is_file()):
        name = file.relative_to(SOURCES).as_posix()
        if file.suffix == ".py":
            # Our own asserts stay; a library's, and all docstrings of libraries, go.
            optimize = 2 if name.startswith(LIBRARIES) else 0
            members[f"{name[:-3]}.pyc"] = compiled(file.read_bytes(), name, optimize)
        elif file.suffix != ".pyc":
            members[name] = file.read_bytes()
    return zipped(members)


def late_imports() -> set[str]:
    """Every module that a file of ours or of our libraries names in an import, wherever it is."""
    names: set[str] = set()
    for file in SOURCES.rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_bytes())):
            if isinstance(node, ast.Import):
                names.update(alias.name for alias in node.names)
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                names.add(node.module)
                names.update(f"{node.module}.{alias.name}" for alias in node.names)
    return names


def answer_everything() -> None:
    """Answers every example, and a wrong entry in every calculator, so that all is imported."""
    from site_src.calculators import CALCULATORS  # noqa: PLC0415 - on the path only now
    from site_src.calculators.door import reply  # noqa: PLC0415

    for calculator in CALCULATORS.values():
        for fields in (*(dict(example.given) for example in calculator.examples), {"none": "?"}):
            request = {"id": 1, "calculator": calculator.slug, "root": "", "fields": fields}
            answered = json.loads(reply(json.dumps(request)))
            if answered["ok"] != ("none" not in fields):
                raise ValueError(f"{calculator.slug} answers {fields} with {answered}")
    reply("not JSON")


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
    code = compile(source, name, "exec", dont_inherit=True, optimize=optimize)
    flags = 1  # found by a hash of the source, which is not checked (PEP 552)
    digest = importlib.util.source_hash(source)
    return importlib.util.MAGIC_NUMBER + flags.to_bytes(4, "little") + digest + marshal.dumps(code)


def zipped(members: dict[str, bytes]) -> bytes:
    """The members in one archive, compressed; the same bytes for the same members."""
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as into:
        for name, content in sorted(members.items()):
            entry = zipfile.ZipInfo(name, FIRST_DAY)
            entry.compress_type = zipfile.ZIP_DEFLATED
            into.writestr(entry, content)
    return archive.getvalue()


main()
