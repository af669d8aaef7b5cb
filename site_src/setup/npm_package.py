"""Fetches a pinned npm package and hands out only files that are what its manifest says."""

from __future__ import annotations

import base64
import hashlib
import shutil
import tarfile
import tempfile
import tomllib
from dataclasses import dataclass
from pathlib import Path

from site_src.setup import node
from site_src.setup.steps import SetupError, run, say

# Without the last two, npm tries for minutes before it says that there is no network.
_NPM_OPTIONS = (
    "--ignore-scripts",
    "--prefer-offline",
    "--fetch-retry-mintimeout=1000",
    "--fetch-retry-maxtimeout=5000",
)


@dataclass(frozen=True)
class PinnedFile:
    """What a file of the package must be: its size in bytes and its SHA-256 in hexadecimal."""

    size: int
    sha256: str

    def matches(self, content: bytes) -> bool:
        """Whether `content` is that file, to the last byte."""
        return len(content) == self.size and hashlib.sha256(content).hexdigest() == self.sha256


@dataclass(frozen=True)
class Manifest:
    """A release of an npm package: its integrity as npm writes it, and the files used of it.

    `use` says in a few words what it is for.
    """

    use: str
    name: str
    version: str
    integrity: str
    licence: str
    source: str
    files: dict[str, PinnedFile]

    @classmethod
    def read(cls, path: Path) -> Manifest:
        """The manifest that stands in a TOML file."""
        table = tomllib.loads(path.read_text("utf-8"))
        files = {name: PinnedFile(**pinned) for name, pinned in table.pop("files").items()}
        return cls(**table, files=files)

    @property
    def release(self) -> str:
        """Name and version, as npm takes them."""
        return f"{self.name}@{self.version}"


def fetch(cache_dir: Path, manifest: Manifest) -> Path:
    """The folder with the package's files, in `cache_dir`; fetched if it is not there yet.

    The files are checked each time. Errors  SetupError when the package cannot be fetched, or is
    not what the manifest says.
    """
    folder = cache_dir / f"{manifest.name}-{manifest.version}"
    if is_complete(folder, manifest):
        return folder
    say(f"Fetching {manifest.release}, {manifest.use}, with npm.")
    cache_dir.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=cache_dir) as temporary:
        archive = _packed_by_npm(manifest, Path(temporary))
        unpacked = Path(temporary) / "unpacked"
        unpack(archive, manifest, unpacked)
        shutil.rmtree(folder, ignore_errors=True)
        unpacked.rename(folder)
    say(f"Checked it against its SHA-512, and the {len(manifest.files)} files used by SHA-256.")
    return folder


def is_complete(folder: Path, manifest: Manifest) -> bool:
    """Whether every file of the manifest is in `folder` and is what it must be."""
    return all(
        (folder / name).is_file() and pinned.matches((folder / name).read_bytes())
        for name, pinned in manifest.files.items()
    )


def unpack(archive: Path, manifest: Manifest, folder: Path) -> None:
    """Write the files of the manifest, and no others, from the npm `archive` to a new `folder`.

    Errors  SetupError when the archive or a file in it is not what the manifest says.
    """
    if integrity(archive.read_bytes()) != manifest.integrity:
        raise SetupError(
            f"The package fetched as {manifest.release} is not the pinned one: its SHA-512 differs "
            "from the manifest's. It was not used."
        )
    folder.mkdir()
    with tarfile.open(archive) as packed:
        for name, pinned in manifest.files.items():
            content = _member(packed, f"package/{name}")
            if content is None or not pinned.matches(content):
                raise SetupError(
                    f"{name} in {manifest.release} is missing, or is not what the manifest says. "
                    "It was not used."
                )
            place = folder / name
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(content)


def integrity(content: bytes) -> str:
    """The SHA-512 of an archive as npm writes it."""
    return "sha512-" + base64.b64encode(hashlib.sha512(content).digest()).decode("ascii")


def _packed_by_npm(manifest: Manifest, folder: Path) -> Path:
    command = [*node.commands().npm, "pack", manifest.release, "--pack-destination", str(folder)]
    run([*command, *_NPM_OPTIONS], f"npm could not fetch {manifest.release}:")
    return folder / f"{manifest.name}-{manifest.version}.tgz"


def _member(packed: tarfile.TarFile, name: str) -> bytes | None:
    try:
        file = packed.extractfile(name)
    except KeyError:
        return None
    return file.read() if file else None
