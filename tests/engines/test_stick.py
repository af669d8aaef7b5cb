"""Opened by double-click, from wherever the folder happens to be."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from site_src.calculators import CALCULATORS
from tests.engines.bench import Bench
from tests.engines.engine import Engine

SLUG = "transposition"

_PAYLOADS = """() => [...document.scripts].map((script) => script.src)
    .filter((address) => address.includes("/stick/"))
    .map((address) => address.replace(/.*\\/([a-z]+)-.*/, "$1"))"""


@pytest.fixture(scope="module")
def stick(site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy in a folder that nobody may write to, with a name full of trouble."""
    folder = tmp_path_factory.mktemp("stick") / "Übung #1 (50 % neu) & mehr?"
    shutil.copytree(site, folder)
    for place in (folder, *folder.rglob("*")):
        place.chmod(0o555 if place.is_dir() else 0o444)
    return folder


def test_it_answers_from_a_folder_with_an_odd_name(
    engine: Engine, stick: Path, places: dict[str, str]
) -> None:
    check_answers(engine, stick, places)
    assert engine.evaluate(_PAYLOADS) == ["engine", "image"]


def test_it_answers_from_a_folder_that_lost_its_image(
    engine: Engine, stick: Path, places: dict[str, str], tmp_path: Path
) -> None:
    folder = tmp_path / "lost"
    shutil.copytree(stick, folder)
    (folder / "runtime" / "stick").chmod(0o755)
    (image,) = (folder / "runtime" / "stick").glob("image-*.js")
    image.unlink()
    check_answers(engine, folder, places)
    assert engine.evaluate(_PAYLOADS) == ["engine", "image", "engine", "python"]
    engine.open("about:blank")  # that a file was missing, it has said


def check_answers(engine: Engine, folder: Path, places: dict[str, str]) -> None:
    calculator = CALCULATORS[SLUG]
    bench = Bench(engine, calculator, f"{folder.as_uri()}/{places[SLUG]}")
    entries = calculator.examples[-1].given
    bench.open(entries)
    bench.expect_answer(entries)
    bench.expect_entries(entries)
