"""How the test command comes by a browser, and what it does when there is none."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import NoReturn
from unittest.mock import Mock

import pytest

from site_src.setup import browser, debian, engines, environment, npm_package
from site_src.setup.steps import SetupError
from tests import __main__ as command

Started = list[tuple[list[str], dict[str, str]]]


@pytest.fixture
def bare_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    """No browser, no way to get one."""
    monkeypatch.delenv(browser.OVERRIDE, raising=False)
    monkeypatch.setattr(browser, "_places", list)
    monkeypatch.setattr(browser, "_downloaded", lambda: None)
    monkeypatch.setattr(debian, "can_install", lambda: False)


@pytest.mark.usefixtures("bare_machine")
def test_no_browser_at_all_is_said_with_the_ways_out() -> None:
    with pytest.raises(SetupError, match=r"name one in HANDBOOK_CHROMIUM, .* --no-browser"):
        browser.ensure()


@pytest.mark.usefixtures("bare_machine")
def test_the_first_browser_that_starts_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(browser, "_places", lambda: [Path("broken"), Path("good"), Path("late")])
    monkeypatch.setattr(browser, "starts", lambda program: program.name != "broken")
    assert browser.ensure() == Path("good")


@pytest.mark.usefixtures("bare_machine")
def test_debians_browser_is_the_last_resort(monkeypatch: pytest.MonkeyPatch) -> None:
    installed: list[str] = []
    monkeypatch.setattr(debian, "can_install", lambda: True)
    monkeypatch.setattr(debian, "install", lambda *packages: installed.extend(packages))
    monkeypatch.setattr(browser, "starts", lambda _: bool(installed))
    assert browser.ensure() == Path("/usr/bin/chromium")
    assert installed[0] == "chromium"


def test_the_browser_that_is_named_is_used(monkeypatch: pytest.MonkeyPatch) -> None:
    # Python, too, answers --version.
    monkeypatch.setenv(browser.OVERRIDE, sys.executable)
    assert browser.ensure() == Path(sys.executable)
    monkeypatch.setenv(browser.OVERRIDE, "no-such-browser")
    with pytest.raises(SetupError, match="HANDBOOK_CHROMIUM names no-such-browser"):
        browser.ensure()


@pytest.mark.skipif(os.name != "posix", reason="only there is a root")
@pytest.mark.parametrize(("user", "sandboxed"), [(0, False), (1000, True)])
def test_only_root_goes_without_the_sandbox(
    user: int, sandboxed: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: user)
    assert ("--no-sandbox" not in browser.launch_arguments()) is sandboxed


# python -m tests -------------------------------------------------------------------------


@pytest.fixture
def handed_over(monkeypatch: pytest.MonkeyPatch) -> Started:
    """The arguments of pytest and what was put in the environment, as the command started it."""
    started: Started = []

    def hand_over(words: list[str], environ: dict[str, str]) -> NoReturn:
        started.append((words[3:], environ))
        raise SystemExit

    monkeypatch.setattr(environment, "run_inside", lambda _: None)
    monkeypatch.setattr(npm_package, "fetch", lambda *_: None)
    monkeypatch.setattr(engines, "ensure", lambda: None)
    monkeypatch.setattr(command, "hand_over", hand_over)
    return started


def _start_tests(*arguments: str) -> None:
    with pytest.raises(SystemExit):
        command.main(list(arguments))


def test_the_command_hands_its_arguments_and_the_browser_to_pytest(
    handed_over: Started, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(browser, "ensure", lambda: Path("here"))
    _start_tests("-k", "two words")
    assert handed_over == [(["-k", "two words"], {"HANDBOOK_CHROMIUM": "here"})]


def test_without_a_browser_its_tests_still_run(
    handed_over: Started,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr(browser, "ensure", Mock(side_effect=SetupError("No browser.")))
    _start_tests()
    assert handed_over == [(command.IN_WORKERS, {})]
    assert capsys.readouterr().out == "No browser.\n"


def test_without_the_other_engines_the_tests_still_run(
    handed_over: Started,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr(browser, "ensure", lambda: Path("here"))
    monkeypatch.setattr(engines, "ensure", Mock(side_effect=SetupError("No such package.")))
    _start_tests()
    assert handed_over == [(command.IN_WORKERS, {"HANDBOOK_CHROMIUM": "here"})]
    assert capsys.readouterr().out == "No such package.\n"


def test_only_the_option_leaves_the_browser_tests_out(
    handed_over: Started, monkeypatch: pytest.MonkeyPatch
) -> None:
    for wanted in browser, engines:
        refusal = Mock(side_effect=AssertionError("no browser is wanted"))
        monkeypatch.setattr(wanted, "ensure", refusal)
    _start_tests("--no-browser", "-x")
    assert handed_over == [(["-m", "not browser", "-x"], {})]
