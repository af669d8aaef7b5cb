"""A package of npm, without a network: what is refused, and what is fetched only once."""

from __future__ import annotations

import io
import shutil
import tarfile
from dataclasses import replace
from pathlib import Path

import pytest

from site_src.setup import npm_package
from site_src.setup.npm_package import Manifest, PinnedFile
from site_src.setup.steps import SetupError


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    """A package as npm makes them, with one file more than the manifest wants."""
    archive = tmp_path / "a-1.0.tgz"
    with tarfile.open(archive, "w:gz") as packed:
        for name, content in {"a.mjs": b"export {}", "a.wasm": b"\0asm", "../b": b"b"}.items():
            entry = tarfile.TarInfo(f"package/{name}")
            entry.size = len(content)
            packed.addfile(entry, io.BytesIO(content))
    return archive


@pytest.fixture
def manifest(archive: Path) -> Manifest:
    """What the package must be; the sums of the files come from the program sha256sum."""
    mjs = "f4c5cf9bb78e85f15dc27180260637cf24b2a24bc39e0788783a3accc4dde614"
    wasm = "cd5d4935a48c0672cb06407bb443bc0087aff947c6b864bac886982c73b3027f"
    files = {"a.mjs": PinnedFile(9, mjs), "a.wasm": PinnedFile(4, wasm)}
    integrity = npm_package.integrity(archive.read_bytes())
    return Manifest("a test", "a", "1.0", integrity, "none", "nowhere", files)


def test_the_integrity_of_abc() -> None:
    """FIPS 180-4, the example of its one-block message: ddaf35a1 93617aba ... 2a9ac94f a54ca49f."""
    assert npm_package.integrity(b"abc") == (
        "sha512-3a81oZNherrMQXNJriBBMRLm+k6JqX6iCp7u5ktV05ohkpkqJ0/BqDa6PCOj/uu9RU1EI2Q86A4qmslPpUyknw=="
    )


def test_the_files_of_the_manifest_are_unpacked_and_no_others(
    archive: Path, manifest: Manifest, tmp_path: Path
) -> None:
    npm_package.unpack(archive, manifest, tmp_path / "unpacked")
    assert sorted(path.name for path in (tmp_path / "unpacked").iterdir()) == ["a.mjs", "a.wasm"]
    assert npm_package.is_complete(tmp_path / "unpacked", manifest)


def test_an_archive_with_one_byte_changed_is_refused_before_it_is_opened(
    archive: Path, manifest: Manifest, tmp_path: Path
) -> None:
    content = bytearray(archive.read_bytes())
    content[-1] ^= 1
    archive.write_bytes(content)
    with pytest.raises(SetupError, match=r"a@1\.0 is not the pinned one: its SHA-512 differs"):
        npm_package.unpack(archive, manifest, tmp_path / "unpacked")
    assert not (tmp_path / "unpacked").exists()


@pytest.mark.parametrize(
    "files",
    [{"a.mjs": PinnedFile(9, "0" * 64)}, {"missing.mjs": PinnedFile(9, "0" * 64)}],
    ids=["other content", "not there"],
)
def test_a_file_that_is_not_what_it_must_be_is_refused(
    files: dict[str, PinnedFile], archive: Path, manifest: Manifest, tmp_path: Path
) -> None:
    with pytest.raises(SetupError, match=f"{next(iter(files))} in a@1.0 is missing, or is not"):
        npm_package.unpack(archive, replace(manifest, files=files), tmp_path / "unpacked")


@pytest.fixture
def fetched(archive: Path, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Which releases npm was asked for; it lays the archive down."""
    asked: list[str] = []

    def pack(manifest: Manifest, folder: Path) -> Path:
        asked.append(manifest.release)
        return Path(shutil.copy(archive, folder))

    monkeypatch.setattr(npm_package, "_packed_by_npm", pack)
    return asked


def test_a_package_is_fetched_once_and_again_when_a_file_was_spoilt(
    fetched: list[str], manifest: Manifest, tmp_path: Path
) -> None:
    folder = npm_package.fetch(tmp_path / "cache", manifest)
    assert npm_package.fetch(tmp_path / "cache", manifest) == folder
    assert fetched == ["a@1.0"]
    (folder / "a.wasm").write_bytes(b"\0asn")
    npm_package.fetch(tmp_path / "cache", manifest)
    assert fetched == ["a@1.0", "a@1.0"]
    assert (folder / "a.wasm").read_bytes() == b"\0asm"
    assert [path.name for path in (tmp_path / "cache").iterdir()] == ["a-1.0"]


def test_a_package_that_was_refused_leaves_nothing(
    fetched: list[str], archive: Path, manifest: Manifest, tmp_path: Path
) -> None:
    archive.write_bytes(b"something else")
    with pytest.raises(SetupError, match="not the pinned one"):
        npm_package.fetch(tmp_path / "cache", manifest)
    assert fetched == ["a@1.0"]
    assert list((tmp_path / "cache").iterdir()) == []
