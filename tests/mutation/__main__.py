"""Sets up and starts mutation testing: python -m tests.mutation [--jobs N] [path ...]."""

from __future__ import annotations

import sys

from site_src.setup import environment
from site_src.setup.steps import hand_over

if __name__ == "__main__":
    environment.run_inside("mutation")
    hand_over([sys.executable, "-m", "tests.mutation.run", *sys.argv[1:]])
