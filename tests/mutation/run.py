"""Tries all mutants of the files that are named, or of all, and reports what survived."""

from __future__ import annotations

import argparse
import multiprocessing
import os
import sys
from dataclasses import dataclass
from pathlib import Path

from site_src.setup.steps import ROOT, say
from tests.mutation.accepted import PATH, read_accepted
from tests.mutation.mutants import Mutant, module_of, mutants_of
from tests.mutation.trial import survivors

PACKAGE = ROOT / "lensmath"
# The tests of a module are tests/test_<module>*.py, but for these.
TESTED_IN = {
    "comparison": ["inspection*"],
    "errors": [],
    "eye": ["centration"],
    "inspection": ["inspection*", "tolerances_editions"],
    "job": ["inspection_lens", "inspection_pair"],
    "lens_inspection": ["inspection_lens", "inspection_pair"],
    "pair_inspection": ["inspection_pair"],
    "raytrace": ["tilt", "thickness"],
    "student_t": ["uncertainty"],
    "tolerances": ["tolerances*", "inspection*"],
}
ROW = "{:34}{:>9}{:>9}{:>9}{:>9}{:>9}{:>8}"


@dataclass(frozen=True)
class Result:
    """What became of the mutants of one file."""

    path: Path
    counted: int
    left_out: int
    alive: list[Mutant]

    @property
    def name(self) -> str:
        return self.path.relative_to(PACKAGE).as_posix()


def main(arguments: list[str]) -> bool:
    """Return whether every survivor has its reason and every reason its survivor."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("--jobs", type=int, default=os.cpu_count(), help="files tried at once")
    parser.add_argument("path", type=Path, nargs="*", default=[PACKAGE], help="files or folders")
    chosen = parser.parse_args(arguments)
    found = {file.resolve() for path in chosen.path for file in [path, *path.rglob("*.py")]}
    # The longest first, so that no job is left alone with it at the end.
    files = sorted((file for file in found if file.is_file()), key=lambda file: -_size(file))
    results = []
    with multiprocessing.get_context("fork").Pool(chosen.jobs, maxtasksperchild=1) as pool:
        for result in pool.imap_unordered(try_file, files, chunksize=1):
            say(f"{result.name}: {len(result.alive)} of {result.counted} survived")
            results.append(result)
    return report(sorted(results, key=lambda result: result.name))


def _size(file: Path) -> int:
    return file.stat().st_size


def try_file(path: Path) -> Result:
    """Write and try the mutants of one file."""
    os.chdir(ROOT)
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    mutants, left_out = mutants_of(path)
    alive = survivors(path, mutants, tests_of(path)) if mutants else []
    return Result(path, len(mutants), left_out, alive)


def tests_of(path: Path) -> list[Path]:
    """The test files of a file of the package; its docstring examples come on top."""
    name = path.relative_to(PACKAGE).with_suffix("").parts[0]
    patterns = TESTED_IN.get(name, [f"{name}*"])
    return sorted({test for p in patterns for test in (ROOT / "tests").glob(f"test_{p}.py")})


def report(results: list[Result]) -> bool:
    """Print the scores and what is left to do; return whether nothing is."""
    accepted = read_accepted()
    alive = {str(mutant) for result in results for mutant in result.alive}
    modules = {module_of(result.path) for result in results}
    stale = [known for known in accepted - alive if known.partition(":")[0] in modules]
    say(ROW.format("", "counted", "killed", "accepted", "open", "text", "score"))
    for result in results:
        say(_row(result.name, [result], accepted))
    say(_row("all", results, accepted))
    for mutant in sorted(alive - accepted):
        say(f"\nSurvived without a reason in {PATH.name}:\n{mutant}")
    for mutant in sorted(stale):
        say(f"\nDoes not survive and can go from {PATH.name}:\n{mutant}")
    return not (stale or alive - accepted)


def _row(name: str, results: list[Result], accepted: set[str]) -> str:
    counted = sum(result.counted for result in results)
    alive = [str(mutant) for result in results for mutant in result.alive]
    explained = sum(mutant in accepted for mutant in alive)
    killed = counted - len(alive)
    score = f"{killed / counted:.1%}" if counted else ""
    left_out = sum(result.left_out for result in results)
    return ROW.format(name, counted, killed, explained, len(alive) - explained, left_out, score)


if __name__ == "__main__":
    sys.exit(not main(sys.argv[1:]))
