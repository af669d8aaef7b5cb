"""Prescriptions as people write them, in and out.

Reading accepts what stands on order forms and what a phone keyboard gives: a comma or a point, any
kind of minus, `x`, `X` or `×`, plus, minus or crossed form, an addition and prism. It never guesses
a sign; only an addition, which is always plus, may lack it. Writing keeps one set of conventions:
signs always, two decimals, three-digit axis, DS for a sphere, plano for zero.

Eighths of a dioptre are written cut to two decimals: 0.12, 0.37, 0.62 and 0.87 stand for 0.125,
0.375, 0.625 and 0.875 (Source  nj-virginia-rules). A read-out in steps of 0.01 D means its digits
literally. `Decimals` says which of the two a text is.
"""

from __future__ import annotations

from lensmath.notation.forms import (
    MINUS,
    STRONGEST,
    TIMES,
    Decimals,
    Form,
    Prescription,
    WrittenPrism,
)
from lensmath.notation.line import LONGEST
from lensmath.notation.reading import (
    Part,
    lens_alone,
    read_axis,
    read_power,
    read_prescription,
)
from lensmath.notation.writing import (
    is_cut,
    write_axis,
    write_crossed,
    write_exact,
    write_lens,
    write_power,
    write_prescription,
)

__all__ = [
    "LONGEST",
    "MINUS",
    "STRONGEST",
    "TIMES",
    "Decimals",
    "Form",
    "Part",
    "Prescription",
    "WrittenPrism",
    "is_cut",
    "lens_alone",
    "read_axis",
    "read_power",
    "read_prescription",
    "write_axis",
    "write_crossed",
    "write_exact",
    "write_lens",
    "write_power",
    "write_prescription",
]
