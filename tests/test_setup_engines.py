"""How the tests come by Firefox and WebKitGTK, and what they do without them."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

from site_src.setup import debian, engines
from site_src.setup.steps import ROOT
from tests.engines.conftest import programs_of

NAMES = ["firefox-esr", "WebKitWebDriver", "Xvfb"]


@pytest.fixture
def installed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The packages that were asked for, on a machine where they can be had."""
    asked: list[str] = []
    monkeypatch.delenv(engines.FIREFOX_OVERRIDE, raising=False)
    monkeypatch.setattr(debian, "can_install", lambda: True)
    monkeypatch.setattr(debian, "install", lambda *packages: asked.extend(packages))
    return asked


def with_programs(monkeypatch: pytest.MonkeyPatch, *names: str) -> None:
    """A machine with these programs and no others."""
    monkeypatch.setattr(shutil, "which", {name: f"bin/{name}" for name in names}.get)


@pytest.mark.parametrize(
    ("here", "wanted"),
    [
        ([], ["firefox-esr", "webkit2gtk-driver", "xvfb"]),
        (["firefox-esr"], ["webkit2gtk-driver", "xvfb"]),
        (["firefox-esr", "WebKitWebDriver"], ["webkit2gtk-driver", "xvfb"]),
        (["WebKitWebDriver", "Xvfb"], ["firefox-esr"]),
        (NAMES, []),
    ],
    ids=lambda names: "+".join(names) or "none",
)
def test_the_engines_that_are_missing_are_installed(
    installed: list[str], monkeypatch: pytest.MonkeyPatch, here: list[str], wanted: list[str]
) -> None:
    with_programs(monkeypatch, *here)
    engines.ensure()
    assert installed == wanted


def test_where_nothing_can_be_installed_nothing_is(
    installed: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    with_programs(monkeypatch)
    monkeypatch.setattr(debian, "can_install", lambda: False)
    engines.ensure()
    assert installed == []


def test_a_firefox_that_is_named_is_used(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(engines.FIREFOX_OVERRIDE, sys.executable)
    assert engines.firefox().on_machine() == [Path(sys.executable)]


@pytest.mark.parametrize(
    ("everywhere", "outcome"), [("", pytest.skip.Exception), ("1", pytest.fail.Exception)]
)
def test_a_missing_engine_is_said_and_fails_only_where_all_are_needed(
    monkeypatch: pytest.MonkeyPatch, everywhere: str, outcome: type[BaseException]
) -> None:
    with_programs(monkeypatch, "WebKitWebDriver")
    monkeypatch.setenv(engines.ALL_NEEDED, everywhere)
    with pytest.raises(outcome, match="sudo apt-get install webkit2gtk-driver xvfb"):
        programs_of(engines.webkit())


def test_all_are_needed_before_a_change_is_taken() -> None:
    assert f"export {engines.ALL_NEEDED}=1\n" in (ROOT / ".ci/run").read_text("utf-8")
