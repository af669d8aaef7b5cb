"""Spectacle-lens optics for reading lenses by hand: powers, readings, prescriptions, tolerances.

Standard library only. Powers in dioptres, angles in degrees, lengths in millimetres; every value
is immutable, and every refusal is a `LensError` with a sentence that a person can act on.

    power            LensPower: one lens, its forms, matrix and power vector, sums and differences
    notation         prescriptions as people write them, in and out
    eye              right and left, and which way is in

    scale            graduated scales: marks, and the count between two readings
    readings         what the instrument shows, turned into a power
    focimeter        the instrument as an optical bench; the pencil of an astigmatic lens
    target           what the eyepiece shows at a setting of drum and wheel
    slips            which mistakes explain a wrong answer
    drills           seeded problems and their marking

    prism            Prism: one arrow to the base, its notations, resolving and compounding
    decentration     Prentice's rule for any lens, and where a wanted prism is found
    imbalance        pairs: imbalance, splitting, reading level, slab-off, image jump
    centration       frames, PDs, heights, segments, where the spots go
    blanks           minimum blank size, lens shapes

    vertex           effectivity: lenses moved nearer and further
    surfaces         thick lenses, lens clocks, toric surfaces
    thickness        sagitta, centre and edge thickness
    additions        additions by front or back vertex measurement, near and intermediate
    tilt, raytrace   pantoscopic tilt and face form: Martin, Coddington, a traced thick lens
    wavelength       readings at the d and e lines

    tolerances       standards as tables, one module an edition
    inspection       ordered against measured: pass windows and verdicts of one lens
    job, lens_inspection, pair_inspection, comparison   a whole job: unmounted lens, mounted pair
    instrument       the permitted error of the instrument
    uncertainty, student_t   what a reading is worth (GUM)
    conformity       the verdict under uncertainty (JCGM 106)
"""

from lensmath.errors import LensError
from lensmath.notation import Prescription, read_prescription, write_lens
from lensmath.power import LensPower

__all__ = ["LensError", "LensPower", "Prescription", "read_prescription", "write_lens"]
__version__ = "0.1.0"
