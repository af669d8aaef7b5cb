"""How many lenses are verified in a second; runs in CPython and, by compile.mjs, in Pyodide."""

import random
import sys
import time

if "/sources" not in sys.path:
    sys.path.insert(0, "/sources")  # where the handbook's Python lies inside Pyodide

from lensmath.inspection import Verdict, inspect_lens
from lensmath.power import LensPower
from lensmath.tolerances import find_standard

LENSES = 4000
SEED = 20261125


def pairs(count: int) -> list[tuple[tuple[float, float, float], tuple[float, float, float]]]:
    """Ordered and measured lenses as sphere, cylinder and axis, in minus cylinder."""
    chance = random.Random(SEED)
    found = []
    for _ in range(count):
        sphere, cylinder = chance.randrange(-80, 65) / 8, -chance.randrange(2, 40) / 8
        axis = float(chance.randrange(1, 181))
        off = [chance.choice((-0.25, -0.125, 0.0, 0.125)) for _ in range(2)]
        turned = (axis + chance.randrange(-4, 5) - 1) % 180 + 1
        found.append(
            ((sphere, cylinder, axis), (sphere + off[0], min(cylinder + off[1], -0.125), turned))
        )
    return found


def measure() -> tuple[int, float]:
    """How many of the lenses are inside, and lenses per second, LensPower made from numbers."""
    standard = find_standard("ansi-z80-1-2015")
    lenses = pairs(LENSES)
    inspect_lens(LensPower(-1, -1, 90), LensPower(-1, -1, 90), standard)
    start = time.perf_counter()
    inside = sum(
        inspect_lens(LensPower(*ordered), LensPower(*measured), standard).verdict is Verdict.INSIDE
        for ordered, measured in lenses
    )
    return inside, LENSES / (time.perf_counter() - start)


repr(measure()).encode()
