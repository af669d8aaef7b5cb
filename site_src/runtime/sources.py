"""The Python that runs in the browser, as it is written: one archive of sources for compiled.py."""

from __future__ import annotations

import importlib.util
import zipfile
from collections.abc import Iterator
from pathlib import Path

from site_src.calculators.render import TEMPLATES

ROOT = Path(__file__).parents[2]
_OURS = ("lensmath/**/*.py", "site_src/calculators/*.py", "site_src/figures/*.py")
_SHARED = (
    "site_src/__init__.py",
    "site_src/sources.py",
    "site_src/sources.toml",
    *(f"site_src/templates/{name}" for name in TEMPLATES),
)
_LIBRARIES = ("jinja2", "markupsafe")  # their pure-Python files only
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest date a zip can hold


def source_members() -> dict[str, Path]:
    """Every file of the archive by its name in it."""
    members = {name: ROOT / name for name in _SHARED}
    for pattern in _OURS:
        members.update({file.relative_to(ROOT).as_posix(): file for file in ROOT.glob(pattern)})
    for library in _LIBRARIES:
        members.update(_library_files(library))
    return dict(sorted(members.items()))


def write_sources(target: Path) -> None:
    """Writes the archive."""
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, file in source_members().items():
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
