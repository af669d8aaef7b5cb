"""Names of static files carry the hash of their bytes, and of the files that they name."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

import pytest

from site_src import assets
from site_src.linkcheck import broken_links


@pytest.fixture
def sources(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """An empty folder of static files."""
    folder = tmp_path / "sources"
    folder.mkdir()
    monkeypatch.setattr(assets, "_SOURCES", folder)
    assets.asset.cache_clear()
    yield folder
    assets.asset.cache_clear()


def write(file: Path, text: str) -> None:
    file.parent.mkdir(exist_ok=True)
    file.write_text(text, "utf-8")
    assets.asset.cache_clear()


def digest(text: str) -> str:
    return sha256(text.encode()).hexdigest()[:10]


def test_a_name_carries_the_hash_of_the_bytes(sources: Path, tmp_path: Path) -> None:
    write(sources / "icon.svg", "<svg/>")
    assert assets.asset("icon.svg") == f"static/icon-{digest('<svg/>')}.svg"
    assets.write_assets(tmp_path)
    assert (tmp_path / assets.asset("icon.svg")).read_text("utf-8") == "<svg/>"


def test_a_file_that_names_another_gets_its_name_and_a_new_one_with_it(
    sources: Path, tmp_path: Path
) -> None:
    write(sources / "fonts" / "a.css", "a { background: url(../icon.svg) }")
    write(sources / "m.json", '{"src": "icon.svg", "start_url": "../index.html", "n": "no.svg"}')
    write(sources / "icon.svg", "one")
    before = {name: assets.asset(name) for name in ("fonts/a.css", "m.json")}
    write(sources / "icon.svg", "two")
    after = {name: assets.asset(name) for name in before}
    assert all(before[name] != after[name] for name in before)
    assets.write_assets(tmp_path)
    icon = f"icon-{digest('two')}.svg"
    sheet = f"a {{ background: url(../{icon}) }}"
    assert after["fonts/a.css"] == f"static/fonts/a-{digest(sheet)}.css"
    assert (tmp_path / after["fonts/a.css"]).read_text("utf-8") == sheet
    assert (tmp_path / after["m.json"]).read_text("utf-8") == (
        f'{{"src": "{icon}", "start_url": "../index.html", "n": "no.svg"}}'
    )


def test_pictures_are_written_as_they_are(sources: Path, tmp_path: Path) -> None:
    (sources / "icon.png").write_bytes(b'\x89PNG "icon.png" \xff')
    assets.write_assets(tmp_path)
    assert (tmp_path / assets.asset("icon.png")).read_bytes() == b'\x89PNG "icon.png" \xff'


@pytest.mark.usefixtures("sources")
def test_a_file_that_is_not_there_is_an_error() -> None:
    with pytest.raises(FileNotFoundError, match="no-such"):
        assets.asset("no-such.css")


def test_files_that_name_each_other_are_an_error(sources: Path) -> None:
    write(sources / "a.js", 'load("b.js")')
    write(sources / "b.js", 'load("a.js")')
    with pytest.raises(ValueError, match=r"in a ring: a\.js > b\.js > a\.js"):
        assets.asset("a.js")


@pytest.mark.parametrize(
    ("name", "text", "fault"),
    [
        ("a.css", "a { background: url( 'no.svg' ) }", "there is no static/no.svg"),
        ("m.json", '{"icons": [{"src": "no.png"}]}', "there is no static/no.png"),
        ("m.json", '{"start_url": "../no.html"}', "there is no no.html"),
    ],
)
def test_a_file_that_a_stylesheet_or_a_manifest_names_is_missed(
    tmp_path: Path, name: str, text: str, fault: str
) -> None:
    (tmp_path / "static").mkdir()
    (tmp_path / "static" / name).write_text(text, "utf-8")
    [(place, _, said)] = broken_links(tmp_path)
    assert place == f"static/{name}"
    assert said.endswith(fault)
