"""Trying mutants: the tests of the file are run on each, in a forked child of a warm process.

The warm process has imported and collected all tests. A child swaps in the mutant's function, runs
the tests that call it until one fails, and is gone. What survives is tried once more by a child
that imports the package anew, if the function has also run during the import.
"""

from __future__ import annotations

import importlib
import importlib.machinery
import inspect
import os
import pickle
import resource
import sys
import time
from collections.abc import Callable, Sequence
from itertools import zip_longest
from pathlib import Path
from types import CodeType, FrameType, FunctionType
from typing import Any

import hypothesis
import pytest

from tests.mutation.mutants import Mutant

EXAMPLES = 15
MEMORY = 4 * 2**30  # bytes
PYTEST = ("-q", "--tb=no", "--assert=plain", "-p", "no:cacheprovider")

SURVIVED, KILLED, BROKEN = 0, 1, 2


def survivors(path: Path, mutants: Sequence[Mutant], tests: Sequence[Path]) -> list[Mutant]:
    """The mutants of one file that no test of it notices."""
    arguments = [*PYTEST, str(path), *map(str, tests)]
    warm = _Warm(path, mutants)
    alive, seconds = _from_child(lambda: warm.try_all(arguments))
    return [
        mutant
        for mutant, imported in alive
        if not imported or _survives(lambda m=mutant: _run_anew(m, arguments), seconds)
    ]


class _FewExamples:
    """A plugin of pytest."""

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        """Come after the tests' conftest, which sets a profile too, and before the tests."""
        hypothesis.settings.register_profile(
            "mutation",
            max_examples=EXAMPLES,
            derandomize=True,
            database=None,
            deadline=None,
            phases=[hypothesis.Phase.explicit, hypothesis.Phase.generate],
            suppress_health_check=list(hypothesis.HealthCheck),
        )
        hypothesis.settings.load_profile("mutation")


class _Warm(_FewExamples):
    """Takes the place of pytest's own loop over the tests."""

    def __init__(self, path: Path, mutants: Sequence[Mutant]) -> None:
        self._path = path
        self._mutants = mutants
        self._imported: set[str] = set()
        # Stays away when pytest stops before the end.
        self._result: tuple[list[tuple[Mutant, bool]], float]

    def try_all(self, arguments: list[str]) -> tuple[list[tuple[Mutant, bool]], float]:
        """The mutants that survive, whether the import ran them too, and the tests' seconds."""
        pytest.main(arguments, [self])
        return self._result

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        super().pytest_collection()
        sys.setprofile(_note_calls(self._path, self._imported))

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        sys.setprofile(None)
        seconds, called = _from_child(lambda: _unchanged(session, self._path))
        items = sorted(session.items, key=lambda item: seconds[item.nodeid])
        alive = []
        for mutant in self._mutants:
            callers = [item for item in items if mutant.function in called[item.nodeid]]
            limit = sum(seconds[item.nodeid] for item in callers)
            old, new = _code_of(mutant, mutant.before), _code_of(mutant, mutant.after)
            if _survives(lambda m=mutant, c=new, i=callers: _run_swapped(m, c, session, i), limit):
                # A default value is no part of the code; only the import shows it.
                imported = old == new or mutant.function in self._imported
                alive.append((mutant, imported))
        self._result = alive, sum(seconds.values())
        return True


def _unchanged(session: pytest.Session, path: Path) -> tuple[dict[str, float], dict[str, set[str]]]:
    """How long each test takes on the code as it is, and the functions of the file it calls."""
    seconds: dict[str, float] = {}
    called: dict[str, set[str]] = {}
    for item in session.items:
        called[item.nodeid] = set()
        start = time.process_time()
        sys.setprofile(_note_calls(path, called[item.nodeid]))
        passed = _pass(session, [item])
        sys.setprofile(None)
        seconds[item.nodeid] = time.process_time() - start
        if not passed:
            raise RuntimeError(f"{item.nodeid} fails on the code as it is.")
    return seconds, called


def _note_calls(path: Path, seen: set[str]) -> Callable[[FrameType, str, object], None]:
    """A profile function that notes which functions of a file are called."""

    def note(frame: FrameType, event: str, _: object) -> None:
        if event == "call" and frame.f_code.co_filename == str(path):
            seen.add(frame.f_code.co_qualname)

    return note


def _run_swapped(
    mutant: Mutant, code: CodeType, session: pytest.Session, callers: list[pytest.Item]
) -> int:
    _function_at(mutant).__code__ = code
    return SURVIVED if _pass(session, callers) else KILLED


def _run_anew(mutant: Mutant, arguments: list[str]) -> int:
    as_written = importlib.machinery.SourceFileLoader.get_code

    def changed(self: importlib.machinery.SourceFileLoader, name: str) -> CodeType | None:
        if name == mutant.module:
            return compile(mutant.after, mutant.path, "exec")
        return as_written(self, name)

    importlib.machinery.SourceFileLoader.get_code = changed
    passed = pytest.main(["-x", *arguments], [_FewExamples()]) == pytest.ExitCode.OK
    return SURVIVED if passed else KILLED


def _pass(session: pytest.Session, items: Sequence[pytest.Item]) -> bool:
    for item, following in zip_longest(items, items[1:]):
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        if session.testsfailed:
            return False
    return True


def _function_at(mutant: Mutant) -> FunctionType:
    found: Any = importlib.import_module(mutant.module)
    for name in mutant.function.split("."):
        found = vars(found)[name]
    if isinstance(found, property):
        found = found.fget
    return inspect.unwrap(getattr(found, "__func__", found))


def _code_of(mutant: Mutant, text: str) -> CodeType:
    code = compile(text, mutant.path, "exec")
    for name in mutant.function.split("."):
        code = next(c for c in code.co_consts if isinstance(c, CodeType) and c.co_name == name)
    return code


# Children ----------------------------------------------------------------------------------------


def _survives(trial: Callable[[], int], seconds: float) -> bool:
    """Run a trial in a child with twice the processor time of its tests, and some."""
    child = os.fork()
    if child == 0:
        limit = int(2 * seconds) + 3
        resource.setrlimit(resource.RLIMIT_CPU, (limit, limit))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        _leave(trial)
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    if status == BROKEN:
        raise RuntimeError("A mutant could not be tried; what went wrong stands above.")
    return status == SURVIVED


def _from_child(work: Callable[[], Any]) -> Any:
    """What `work` returns when a child does it, so that nothing of it stays in this process."""
    here, there = os.pipe()
    child = os.fork()
    if child == 0:
        _leave(lambda: _send(there, work()))
    os.close(there)
    with os.fdopen(here, "rb") as pipe:
        answer = pipe.read()
    if os.waitpid(child, 0)[1] != 0:
        raise RuntimeError("The tests could not be run; what went wrong stands above.")
    return pickle.loads(answer)


def _send(pipe: int, answer: Any) -> int:
    with os.fdopen(pipe, "wb") as there:
        pickle.dump(answer, there)
    return SURVIVED


def _leave(work: Callable[[], int]) -> None:
    """End this child with the exit code that `work` gives."""
    code = BROKEN
    try:
        code = work()
    except BaseException:  # noqa: BLE001 - no child goes on with its parent's work
        sys.excepthook(*sys.exc_info())
    finally:
        os._exit(code)
