"""Lenses verified in a second, one core: CPython, Pyodide, and numpy arrays beside them.

python -m tests.benchmarks.verification
"""

from __future__ import annotations

import ast
import subprocess
import tempfile
import time
from pathlib import Path

import numpy as np

from site_src.runtime.pyodide_package import fetch
from site_src.runtime.sources import write_sources
from site_src.setup import node
from site_src.setup.steps import CACHE, ROOT
from tests.benchmarks import lenses


def main() -> None:
    """Measures all three in turn, three times, and prints the best of each and their ratios."""
    best: dict[str, float] = {}
    for _ in range(3):
        for name, measured in (
            ("CPython", lenses.measure),
            ("Pyodide", pyodide),
            ("numpy", arrays),
        ):
            inside, rate = measured()
            assert inside == lenses.measure()[0], f"{name} finds {inside} lenses inside"
            best[name] = max(rate, best.get(name, 0.0))
    for name, rate in best.items():
        print(f"{name:8} {rate:12,.0f} lenses/s   {rate / best['CPython']:8.2f} of CPython")


def pyodide() -> tuple[int, float]:
    """The same measurement inside Pyodide, run by Node."""
    with tempfile.TemporaryDirectory() as folder:
        sources, result = Path(folder) / "sources.zip", Path(folder) / "result"
        write_sources(sources)
        here = Path(__file__).parent
        script = ROOT / "site_src" / "runtime" / "compile.mjs"
        words = [*node.commands().node, script, fetch(CACHE), sources, here / "lenses.py", result]
        subprocess.run([str(word) for word in words], check=True)
        inside, rate = ast.literal_eval(result.read_text())
    return int(inside), float(rate)


def arrays() -> tuple[int, float]:
    """The sums of ANSI Z80.1-2015 done on whole arrays, with the limits written out once more."""
    ordered, measured = (np.array(side) for side in zip(*lenses.pairs(lenses.LENSES), strict=True))
    start = time.perf_counter()
    sphere, cylinder = np.abs(ordered[:, 0]), np.abs(ordered[:, 1])
    sphere_limit = np.where(sphere <= 6.5, 0.13, 0.02 * sphere)
    cylinder_limit = np.select([cylinder <= 2, cylinder <= 4.5], [0.13, 0.15], 0.04 * cylinder)
    bands = [cylinder < 0.12, cylinder <= 0.25, cylinder <= 0.5, cylinder <= 0.75, cylinder <= 1.5]
    axis_limit = np.select(bands, [90.0, 14.0, 7.0, 5.0, 3.0], 2.0)
    apart = np.abs(ordered[:, 2] - measured[:, 2]) % 180
    difference = np.abs(measured - ordered)
    inside = (
        (difference[:, 0] <= sphere_limit + 1e-9)
        & (difference[:, 1] <= cylinder_limit + 1e-9)
        & (np.minimum(apart, 180 - apart) <= axis_limit)
    )
    return int(inside.sum()), len(inside) / (time.perf_counter() - start)


if __name__ == "__main__":
    main()
