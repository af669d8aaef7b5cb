"""The Python that runs in the browser: one archive, the same bytes for the same sources."""

from __future__ import annotations

import importlib.util
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
BUNDLE = "handbook.zip"
FETCHED = ("pyodide.asm.wasm", "python_stdlib.zip", "pyodide-lock.json")
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
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, file.read_bytes())


def _library_files(library: str) -> Iterator[tuple[str, Path]]:
    spec = importlib.util.find_spec(library)
    if spec is None or spec.origin is None:
        raise FileNotFoundError(f"{library} is not installed")
    folder = Path(spec.origin).parent
    for file in folder.glob("*.py"):
        yield f"{library}/{file.name}", file


def write_runtime(folder: Path, pyodide: Path) -> None:
    """Everything that a page with a calculator loads: the worker, Pyodide, the archive.

    `total` in the manifest is what the worker fetches, for its progress bar.
    """
    folder.mkdir(parents=True)
    shutil.copyfile(Path(__file__).with_name("worker.js"), folder / "worker.js")
    shutil.copytree(pyodide, folder / "pyodide")
    write_bundle(folder / BUNDLE)
    fetched = (folder / BUNDLE, *(folder / "pyodide" / name for name in FETCHED))
    total = sum(file.stat().st_size for file in fetched)
    (folder / "manifest.js").write_text(
        f'export const bundle = "{BUNDLE}";\nexport const total = {total};\n',
        encoding="utf-8",
        newline="\n",
    )
