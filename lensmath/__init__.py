"""Spectacle-lens optics for reading lenses by hand: powers, readings, prescriptions, tolerances.

Standard library only. Powers in dioptres, angles in degrees, lengths in millimetres; every value
is immutable, and every refusal is a `LensError` with a sentence that a person can act on.

    power       LensPower: one lens, its forms, matrix and power vector, sums and differences
    notation    prescriptions as people write them, in and out
    scale       graduated scales: marks, and the count between two readings
    readings    what the instrument shows, turned into a power
    tolerances  standards as tables, one module an edition
    inspection  ordered against measured: pass windows and verdicts
"""

from lensmath.errors import LensError
from lensmath.notation import Prescription, read_prescription, write_lens
from lensmath.power import LensPower

__all__ = ["LensError", "LensPower", "Prescription", "read_prescription", "write_lens"]
__version__ = "0.1.0"
