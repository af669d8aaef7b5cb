"""Reference wavelengths: one lens has two powers, on the yellow d and on the green e line.

ISO 7944 lets both lines stand. The index of a lens, and with it the power, is a little higher on
the e line, so a reading must be compared with an order for the same line. Continental Europe and
Japan use e, the United Kingdom and the USA mostly d. Powers in dioptres, wavelengths in nanometres.

Source  iso-7944
Source  jalie-lens-materials, which line is used where
"""

from __future__ import annotations

from enum import Enum

from lensmath.errors import LensError
from lensmath.power import LensPower, snapped
from lensmath.scale import shown
from lensmath.surfaces import checked_index


class ReferenceLine(Enum):
    """A spectral line that lens powers refer to; its value is the wavelength in nm.

    Source  iso-7944
    """

    HELIUM_D = 587.56
    MERCURY_E = 546.07


_HYDROGEN_F, _HYDROGEN_C = 486.13, 656.27
"""The blue and the red line of the Abbe number V = (n_d - 1) / (n_F - n_C), in nm.

Source  weber-optical-materials
"""


def _dispersion(shorter: float, longer: float) -> float:
    # Where the index falls as A + B / wavelength² (Cauchy), this is the difference of the index
    # between two wavelengths, but for the factor B.
    return shorter**-2 - longer**-2


SHARE_OF_DISPERSION = _dispersion(
    ReferenceLine.MERCURY_E.value, ReferenceLine.HELIUM_D.value
) / _dispersion(_HYDROGEN_F, _HYDROGEN_C)
"""(n_e - n_d) / (n_F - n_C), about 0.239, for a material that follows Cauchy's short formula."""


def ratio_from_indices(n_d: float, n_e: float) -> float:
    """Power on the e line over power on the d line: (n_e - 1) / (n_d - 1).

    Each surface power has this ratio, so it is exact for a thin lens. A thick lens differs by a
    small part of that: a +16.00 D front 8 mm thick by 0.007 D.

    Errors  LensError for an index that no lens has, or one on the e line below that on the d line.
    Source  meister-wavelengths-2010

    >>> ratio_from_indices(n_d=1.732, n_e=1.738)
    1.0082
    """
    if checked_index(n_e) < checked_index(n_d):
        raise LensError(
            "The index on the e line is not below the index on the d line; "
            f"e {n_e:g} and d {n_d:g} were given."
        )
    return (n_e - 1) / (n_d - 1)


def ratio_from_abbe(v_d: float) -> float:
    """The same when only the Abbe number is known: about 1 + 0.24 / V.

    An approximation, from Cauchy's formula for the index.

    Errors  LensError for an Abbe number outside 10-100.
    Source  independent-computation

    >>> ratio_from_abbe(30)
    1.0080
    """
    if not 10 <= v_d <= 100:
        raise LensError(f"An Abbe number lies from 10 to 100; {shown(v_d)} was given.")
    return 1 + SHARE_OF_DISPERSION / v_d


def referred_to(line: ReferenceLine, lens: LensPower, ratio: float) -> LensPower:
    """The lens as it reads on `line`, from its power on the other line; the axis stays.

    `ratio` is power on the e line over power on the d line, from one of the two functions above.

    Errors  LensError for a ratio outside 1-2.

    >>> referred_to(ReferenceLine.MERCURY_E, LensPower(-10.00, -2.00, 5), ratio=1.008)
    LensPower(sphere=-10.08, cylinder=-2.016, axis=5.0)
    """
    if not 1 <= ratio < 2:
        raise LensError(
            "The power on the e line is a little above that on the d line, a ratio from 1 to 2; "
            f"{shown(ratio)} was given."
        )
    factor = ratio if line is ReferenceLine.MERCURY_E else 1 / ratio
    return LensPower(snapped(lens.sphere * factor), snapped(lens.cylinder * factor), lens.axis)
