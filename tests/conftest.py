"""What tests of the built handbook share."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import settings

from build import build_site

# Machines are shared: a slow example is not a wrong one.
settings.register_profile("handbook", deadline=None)
settings.load_profile("handbook")


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The whole site, built once. Nobody writes into it."""
    folder = tmp_path_factory.mktemp("host") / "handbook"
    build_site(folder)
    return folder
