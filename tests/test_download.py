"""The folder as one file: the same bytes each time, and a whole handbook when unpacked."""

from __future__ import annotations

import os
import shutil
import zipfile
from pathlib import Path
from posixpath import dirname, join, normpath

import pytest

from build import build_site
from site_src.download import NAME, PLACE, write_download
from site_src.linkcheck import broken_links


@pytest.fixture(scope="module")
def unpacked(site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What a person has after unpacking."""
    folder = tmp_path_factory.mktemp("stick")
    with zipfile.ZipFile(site / PLACE) as archive:
        archive.extractall(folder)
    return folder


def files(folder: Path) -> dict[str, bytes]:
    return {
        file.relative_to(folder).as_posix(): file.read_bytes()
        for file in folder.rglob("*")
        if file.is_file()
    }


def test_it_is_the_same_for_another_build(site: Path, tmp_path: Path) -> None:
    build_site(tmp_path / "again")
    assert (tmp_path / "again" / PLACE).read_bytes() == (site / PLACE).read_bytes()


def test_it_is_the_same_whenever_and_by_whomever_the_files_were_written(
    site: Path, tmp_path: Path
) -> None:
    """Dates, rights and the order of a folder are not in it."""
    copy = tmp_path / "copy"
    for name, content in sorted(files(site).items(), reverse=True):
        place = copy / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(content)
        place.chmod(0o600)
        os.utime(place, (10**9, 10**9))
    write_download(copy)
    assert (copy / PLACE).read_bytes() == (site / PLACE).read_bytes()


def test_it_is_one_folder_with_everything_but_itself(site: Path, unpacked: Path) -> None:
    everything = files(site)
    del everything[PLACE]
    assert [place.name for place in unpacked.iterdir()] == [NAME]
    assert files(unpacked / NAME) == everything


def test_every_link_of_the_unpacked_folder_leads_somewhere_but_to_the_file_itself(
    unpacked: Path,
) -> None:
    broken = {
        normpath(join(dirname(page), target)) for page, target, _ in broken_links(unpacked / NAME)
    }
    assert broken == {PLACE}


def test_a_page_offers_it(site: Path) -> None:
    for page in "look-up/hosting.html", "look-up/keep.html":
        assert f'href="../{PLACE}"' in (site / page).read_text("utf-8"), page


def test_a_second_writing_leaves_the_first_out(site: Path, tmp_path: Path) -> None:
    shutil.copytree(site / "licences", tmp_path / "licences")
    write_download(tmp_path)
    first = (tmp_path / PLACE).read_bytes()
    write_download(tmp_path)
    assert (tmp_path / PLACE).read_bytes() == first
