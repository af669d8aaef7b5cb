"""What is built: the same bytes each time, for a bare Python, and from pages without mistakes."""

from __future__ import annotations

import ast
import gzip
import json
import os
import re
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import build
from site_src.calculators import CALCULATORS
from site_src.handbook import BuildError
from site_src.runtime import bundle
from site_src.runtime.pyodide_package import fetch
from site_src.runtime.sources import source_members, write_sources
from site_src.setup.steps import CACHE, ROOT

OURS = {"lensmath", "site_src"}
LIBRARIES = {"jinja2", "markupsafe"}
STDLIB = sys.stdlib_module_names


# The same bytes ----------------------------------------------------------------------------------


def test_the_archive_is_the_same_each_time(tmp_path: Path) -> None:
    one, other = tmp_path / "one.zip", tmp_path / "other.zip"
    write_sources(one)
    write_sources(other)
    assert one.read_bytes() == other.read_bytes()
    with zipfile.ZipFile(one) as archive:
        assert archive.namelist() == sorted(archive.namelist())
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}


def test_the_archives_are_the_same_each_time(site: Path, tmp_path: Path) -> None:
    """The build keeps them; here they are made anew."""
    again = bundle.make_runtime(fetch(CACHE), tmp_path)
    assert again.files.keys() == contents(site / "runtime").keys()


def test_the_site_is_the_same_each_time(site: Path, tmp_path: Path) -> None:
    """Also in another process, where sets have another order and the clock another zone."""
    again = tmp_path / "again"
    build_again = "import build, pathlib, sys; build.build_site(pathlib.Path(sys.argv[1]))"
    subprocess.run(
        [sys.executable, "-c", build_again, again],
        cwd=ROOT,
        env={**os.environ, "PYTHONHASHSEED": "1", "TZ": "Pacific/Auckland"},
        check=True,
    )
    assert contents(again) == contents(site)


def contents(folder: Path) -> dict[str, int]:
    """Every file below a folder, by a hash of its bytes."""
    return {
        file.relative_to(folder).as_posix(): hash(file.read_bytes())
        for file in folder.rglob("*")
        if file.is_file()
    }


FIRST_CALCULATOR = 7_500_000  # bytes, the scripts as gzip


def test_a_first_calculator_is_not_too_much_to_fetch(site: Path) -> None:
    runtime = site / "runtime"
    archives = [*runtime.glob("engine-*.zip"), *runtime.glob("image-*.zip")]
    scripts = [*runtime.glob("worker-*.js"), *(site / "static").glob("*.js")]
    fetched = sum(file.stat().st_size for file in archives)
    fetched += sum(len(gzip.compress(file.read_bytes())) for file in scripts)
    assert len(archives) == 2
    assert fetched <= FIRST_CALCULATOR


# Nothing that the browser lacks -------------------------------------------------------------------

_ANSWER = """
import json, sys
sys.path.insert(0, sys.argv[1])
from site_src.calculators.door import reply
replies = [json.loads(reply(request)) for request in json.load(sys.stdin)]
json.dump({"replies": replies, "modules": sorted(sys.modules)}, sys.stdout)
"""

_IMPORT_ALL = """
import importlib, json, pkgutil, sys
sys.path.insert(0, sys.argv[1])
import lensmath
for module in pkgutil.walk_packages(lensmath.__path__, "lensmath."):
    importlib.import_module(module.name)
json.dump({"modules": sorted(sys.modules)}, sys.stdout)
"""


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What the browser gets compiled, as it is written."""
    folder = tmp_path_factory.mktemp("archive")
    write_sources(folder / "sources.zip")
    with zipfile.ZipFile(folder / "sources.zip") as archive:
        archive.extractall(folder / "unpacked")
    return folder / "unpacked"


def run_bare(code: str, folder: Path, stdin: str = "") -> dict[str, list[Any]]:
    """What a program prints in a Python that has its standard library and `folder` alone."""
    ran = subprocess.run(
        [sys.executable, "-I", "-S", "-c", code, folder],
        input=stdin,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    printed: dict[str, list[Any]] = json.loads(ran.stdout)
    return printed


def strangers(modules: list[str], known: set[str]) -> list[str]:
    """The modules that are neither of the standard library nor of the packages known."""
    known = {*known, *STDLIB, "__main__"}
    return [module for module in modules if module.partition(".")[0] not in known]


def test_the_archive_answers_on_the_standard_library_alone(unpacked: Path) -> None:
    examples = [(slug, example) for slug in CALCULATORS for example in CALCULATORS[slug].examples]
    requests = [
        json.dumps({"id": number, "calculator": slug, "fields": dict(example.given)})
        for number, (slug, example) in enumerate(examples)
    ]
    ran = run_bare(_ANSWER, unpacked, json.dumps(requests))
    assert strangers(ran["modules"], OURS | LIBRARIES) == []
    for (slug, example), answer in zip(examples, ran["replies"], strict=True):
        wanted = CALCULATORS[slug].answer(example.given).values()
        assert answer["values"] == {name: datum.value for name, datum in wanted.items()}


def test_the_optics_need_the_standard_library_alone(unpacked: Path) -> None:
    assert strangers(run_bare(_IMPORT_ALL, unpacked)["modules"], {"lensmath"}) == []


def imported(file: Path) -> Iterator[str]:
    """The packages that a file imports anywhere in it, as far as they are named in full."""
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name.partition(".")[0] for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            yield str(node.module).partition(".")[0]


@pytest.mark.parametrize("name", [name for name in source_members() if name.endswith(".py")])
def test_a_module_of_the_archive_imports_only_what_the_archive_holds(name: str) -> None:
    """What the libraries import as an option is not asked for; what runs is checked above."""
    found = set(imported(source_members()[name]))
    package = name.partition("/")[0]
    if package == "lensmath":
        assert found <= {"lensmath", *STDLIB}
    elif package == "site_src":
        assert found <= {*OURS, *LIBRARIES, *STDLIB}
    assert not found & {"numpy", "markdown"}


# Mistakes in a page -------------------------------------------------------------------------------

HEAD = '+++\ntitle = "A page"\nrule = "A rule."\n+++\n'


@pytest.fixture
def sources(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the site's sources to make mistakes in, built without the runtime."""
    copy = tmp_path / "site_src"
    for part in "pages", "static", "licences", "offline":
        shutil.copytree(build.SITE_SRC / part, copy / part)
    monkeypatch.setattr(build, "SITE_SRC", copy)
    monkeypatch.setattr(bundle, "make_runtime", lambda *_: bundle.Runtime("worker.js", {}))
    return copy


def check_stops(sources: Path, text: str, line: int, words: str) -> None:
    """The page stops the build, at its line and in these words, and the old site stays."""
    old = sources.parent / "dist" / "index.html"
    old.parent.mkdir()
    old.write_text("old", "utf-8")
    page = sources / "pages" / "read" / "mistaken.md"
    page.write_text(text, "utf-8")
    with pytest.raises(BuildError, match=rf"read.mistaken\.md:{line}: .*{re.escape(words)}"):
        build.build_site(old.parent)
    assert old.read_text("utf-8") == "old"


def test_pages_without_a_mistake_are_built(sources: Path) -> None:
    head = HEAD.replace("A page", "Less < more & so on")
    page = sources / "pages" / "read" / "sound.md"
    page.write_text(f"{head}[A link](number-line.html)", "utf-8")
    build.build_site(sources.parent / "dist")
    built = (sources.parent / "dist" / "read" / "sound.html").read_text("utf-8")
    assert "<h1>Less &lt; more &amp; so on</h1>" in built
    assert '<a href="number-line.html">A link</a>' in built


@pytest.mark.parametrize(
    ("mistake", "words"),
    [
        ("{{ nonsense }}", "'nonsense' is undefined"),
        ("{{ unfinished }", "unexpected '}'"),
        ("{% if %}", "Expected an expression"),
        ('{{ page("no/such") }}', "unknown page no/such.html"),
        ("[A link](no-such.html)", "unknown link no-such.html"),
        ("[A link](number-line.html#no-such)", "number-line.html has no anchor no-such"),
        ("![A picture](no-such.svg)", "unknown link no-such.svg"),
        ('{{ source("no-such") }}', "unknown source no-such"),
        ('{{ calculator("no-such") }}', "unknown calculator no-such"),
        ('{{ worked("transposition", "no.such") }}', "unknown value of transposition no.such"),
        ('{{ written(lens("2.25 DS")) }}', "has no sign"),
        ("a slip of 0.25 D", "“0.25 D” is typed"),
        ("the color", "“color”: colour"),
    ],
)
def test_a_mistake_in_a_page_stops_the_build_at_its_line(
    sources: Path, mistake: str, words: str
) -> None:
    text = f"{HEAD}\nCommon practice\nof two lines.\n\n* An item with {mistake} in it.\n\nEnd.\n"
    check_stops(sources, text, text[: text.index(mistake)].count("\n") + 1, words)


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("# A page\n", 1, "front matter is missing"),
        ('+++\ntitle = "A page"\n', 1, "front matter is missing"),
        ('+++\ntitle = "A page"\n+++\n', 1, "rule is missing"),
        ('+++\nrule = "A rule."\n+++\n', 1, "title is missing"),
        (HEAD.replace("rule", "Rule"), 1, "Rule is unknown"),
        (HEAD.replace('"A rule."', "5"), 1, "rule is unknown or has the wrong type"),
        (HEAD.replace('"A rule."', "A rule."), 1, "front matter: "),
        (HEAD.replace("\n+++\n", '\nsources = ["no-such"]\n+++\n'), 4, "unknown source no-such"),
    ],
)
def test_wrong_front_matter_stops_the_build(
    sources: Path, text: str, line: int, words: str
) -> None:
    check_stops(sources, text, line, words)


def test_a_folder_that_is_no_stage_stops_the_build(sources: Path) -> None:
    (sources / "pages" / "no-stage").mkdir()
    (sources / "pages" / "no-stage" / "page.md").write_text(HEAD, "utf-8")
    with pytest.raises(BuildError, match="no-stage is not a stage of the job"):
        build.build_site(sources.parent / "dist")
