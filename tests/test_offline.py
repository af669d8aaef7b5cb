"""The list of a copy holds what a reader needs, byte for byte, and names its build."""

from __future__ import annotations

import hashlib
import json
import re
import struct
from pathlib import Path

import pytest

import lensmath
from site_src.assets import asset
from site_src.offline import offline
from site_src.offline.offline import WORKER, kept_files, write_offline
from site_src.setup.steps import ROOT
from site_src.words import TITLE

STATIC = ROOT / "site_src" / "static"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for place in "index.html", "read/page.html", "download/all.zip", "runtime/stick/engine.js":
        (tmp_path / place).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / place).write_text(place, "utf-8")
    return tmp_path


def build(folder: Path) -> dict[str, object]:
    """What the worker of a folder is told of its build."""
    write_offline(folder)
    text = (folder / WORKER).read_text("utf-8")
    line = next(line for line in text.splitlines() if line.startswith("const BUILD = "))
    told: dict[str, object] = json.JSONDecoder().raw_decode(line.removeprefix("const BUILD = "))[0]
    return told


def test_the_list_holds_every_file_with_its_size_and_hash(folder: Path) -> None:
    expected = [
        [place, len(place), hashlib.sha256(place.encode()).hexdigest()]
        for place in ("index.html", "read/page.html")
    ]
    assert build(folder)["files"] == expected
    assert build(folder)["files"] == expected, "the worker itself came into the list"
    assert build(folder)["edition"] == lensmath.__version__


def test_what_is_left_out_can_be_named(folder: Path) -> None:
    assert [path for path, _, _ in kept_files(folder, ("read/*",))] == [
        "download/all.zip",
        "index.html",
        "runtime/stick/engine.js",
    ]


def test_a_build_has_the_same_bytes_again_and_another_name_when_anything_changes(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    name = build(folder)["name"]
    first = (folder / WORKER).read_bytes()
    assert build(folder)["name"] == name
    assert (folder / WORKER).read_bytes() == first
    (folder / "index.html").write_text("INDEX.html", "utf-8")  # the same size
    changed = build(folder)["name"]
    assert changed != name
    other_worker = tmp_path / "download" / "worker"
    other_worker.write_text(offline._SOURCE.read_text("utf-8") + "//", "utf-8")
    monkeypatch.setattr(offline, "_SOURCE", other_worker)
    assert build(folder)["name"] not in (name, changed)


def test_the_worker_is_as_written_but_for_one_line(folder: Path) -> None:
    write_offline(folder)
    written = (folder / WORKER).read_text("utf-8").splitlines()
    source = offline._SOURCE.read_text("utf-8").splitlines()
    different = [new for new, old in zip(written, source, strict=True) if new != old]
    assert [line[:14] for line in different] == ["const BUILD = "]


def test_the_built_handbook_lists_all_that_it_needs(site: Path) -> None:
    files = {path: size for path, size, _ in kept_files(site)}
    there = {file.relative_to(site).as_posix() for file in site.rglob("*") if file.is_file()}
    for path in there - set(files):
        assert path.startswith((WORKER, "retire.js", "download/", "runtime/stick/")), path
    assert "index.html" in files
    page = (site / "look-up" / "keep.html").read_text("utf-8")
    low, high = map(int, re.search(r"takes (\d+) to (\d+) MB", page).groups())  # type: ignore[union-attr]
    assert low <= sum(files.values()) / 1e6 <= high


# On the Home Screen ----------------------------------------------------------------------------


def test_the_manifest_starts_at_the_first_page_under_the_handbooks_own_name() -> None:
    manifest = json.loads((STATIC / "manifest.json").read_text("utf-8"))
    assert manifest["name"] == TITLE
    assert (manifest["start_url"], manifest["scope"]) == ("../index.html", "../")
    assert Path(asset("manifest.json")).parent == Path("static"), "its paths go up one folder"
    for icon in manifest["icons"]:
        if icon["type"] == "image/png":
            assert icon["sizes"] == "{}x{}".format(*png_size(STATIC / icon["src"]))
    assert {(icon["sizes"], icon.get("purpose")) for icon in manifest["icons"]} >= {
        ("192x192", None),
        ("512x512", None),
        ("512x512", "maskable"),
    }


def test_the_icon_of_the_home_screen_has_the_size_that_iphones_ask_for() -> None:
    """180 × 180: common practice."""
    assert png_size(STATIC / "icon-180.png") == (180, 180)


def png_size(file: Path) -> tuple[int, int]:
    """Width and height from the header of a PNG file."""
    content = file.read_bytes()
    assert content[:8] == b"\x89PNG\r\n\x1a\n"
    width, height = struct.unpack(">II", content[16:24])
    return width, height


def test_the_theme_colours_are_those_of_the_style() -> None:
    panels = re.findall(r"--panel: (#\w{6});", (STATIC / "style.css").read_text("utf-8"))
    base = (ROOT / "site_src" / "templates" / "base.html").read_text("utf-8")
    assert re.findall(r'name="theme-color".*content="(#\w+)"', base) == panels
    manifest = json.loads((STATIC / "manifest.json").read_text("utf-8"))
    assert manifest["theme_color"] == panels[0]
