"""The Python that runs in the browser: one archive, the same bytes for the same sources."""

from __future__ import annotations

import hashlib
import importlib.util
import json
import shutil
import tempfile
import zipfile
from collections.abc import Iterator
from pathlib import Path

from site_src.setup import node
from site_src.setup.steps import run

ROOT = Path(__file__).parents[2]
PYTHON = "python.zip"
WASM = "pyodide/pyodide.asm.wasm"
SHIPPED = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")
_OURS = ("lensmath/**/*.py", "site_src/calculators/*.py", "site_src/figures/*.py")
_SHARED = (
    "site_src/__init__.py",
    "site_src/sources.py",
    "site_src/sources.toml",
    "site_src/templates/answer.html",
    "site_src/templates/figure.html",
    "site_src/templates/line.html",
    "site_src/templates/table.html",
)
_LIBRARIES = ("jinja2", "markupsafe")  # their pure-Python files only
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest date a zip can hold


def bundle_members() -> dict[str, Path]:
    """Every file of the archive by its name in it."""
    members = {name: ROOT / name for name in _SHARED}
    for pattern in _OURS:
        members.update({file.relative_to(ROOT).as_posix(): file for file in ROOT.glob(pattern)})
    for library in _LIBRARIES:
        members.update(_library_files(library))
    return dict(sorted(members.items()))


def write_bundle(target: Path) -> None:
    """Writes the archive."""
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, file in bundle_members().items():
            entry = zipfile.ZipInfo(name, _FIRST_DAY)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3  # Unix, wherever it is made
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, file.read_bytes())


def _library_files(library: str) -> Iterator[tuple[str, Path]]:
    spec = importlib.util.find_spec(library)
    if spec is None or spec.origin is None:
        raise FileNotFoundError(f"{library} is not installed")
    folder = Path(spec.origin).parent
    for file in folder.glob("*.py"):
        yield f"{library}/{file.name}", file


def write_runtime(folder: Path, pyodide: Path, cache: Path) -> None:
    """Everything that a page with a calculator loads: the worker, Pyodide, the compiled Python.

    `total` in the manifest is what the worker fetches, for its progress bar. The lock file of
    Pyodide lists packages; none is used, so an empty one saves a request.

    Errors  SetupError when the Python cannot be compiled.
    """
    folder.mkdir(parents=True)
    here = Path(__file__).parent
    shutil.copyfile(here / "worker.js", folder / "worker.js")
    (folder / "pyodide").mkdir()
    for name in SHIPPED:
        shutil.copyfile(pyodide / name, folder / "pyodide" / name)
    shutil.copyfile(compiled_python(pyodide, cache), folder / PYTHON)
    lock = json.loads((pyodide / "pyodide-lock.json").read_text("utf-8"))
    manifest = {
        "python": PYTHON,
        "lock": json.dumps({"info": lock["info"], "packages": {}}),
        "total": sum((folder / name).stat().st_size for name in (PYTHON, WASM)),
    }
    lines = [f"export const {name} = {json.dumps(value)};\n" for name, value in manifest.items()]
    (folder / "manifest.js").write_text("".join(lines), encoding="utf-8", newline="\n")


def compiled_python(pyodide: Path, cache: Path) -> Path:
    """The archive of byte code that the browser loads, made by Pyodide itself.

    It is made anew only when a file in it, or what makes it, has changed.
    """
    here = Path(__file__).parent
    made_by = (here / "compile.mjs", here / "compiled.py")
    with tempfile.TemporaryDirectory(dir=cache) as temporary:
        sources = Path(temporary) / "sources.zip"
        write_bundle(sources)
        digest = hashlib.sha256(pyodide.name.encode())
        for file in (sources, *made_by):
            digest.update(file.read_bytes())
        kept = cache / f"python-{digest.hexdigest()[:16]}.zip"
        if not kept.exists():
            fresh = Path(temporary) / "python.zip"
            command = [*node.commands().node, made_by[0], pyodide, sources, made_by[1], fresh]
            run(
                [str(word) for word in command],
                "The handbook's Python could not be compiled for the browser:",
            )
            for stale in cache.glob("python-*.zip"):
                stale.unlink()
            fresh.replace(kept)
    return kept
