"""Tables of the look-up stage on surfaces and materials: sag, curves in other indices, materials.

Every figure comes from the functions and the list of materials that the calculators use. Surface
powers in dioptres, lengths in millimetres, density in grams per cubic centimetre.
"""

from __future__ import annotations

from lensmath.surfaces import TOOL_INDEX, true_power
from lensmath.thickness import sagitta
from lensmath.wavelength import ratio_from_abbe
from site_src.calculators.answer import Table
from site_src.calculators.materials import MATERIALS, Material

DENSITIES = {1.498: 1.31, 1.53: 1.11, 1.586: 1.20, 1.6: 1.30, 1.67: 1.37, 1.74: 1.47}
"""The density of each resin by its index, in g/cm³.

Source  lens-materials-laboratory-page
"""

REMEMBERED_DENSITIES = {1.523: 2.54}
"""The density of crown glass, in g/cm³ (from memory)."""

REMEMBERED = "*"
"""Stands after a figure that is from memory."""

_CURVES = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14)
_DIAMETERS = (40, 50, 60, 70)  # mm
_MARKED = 6.0  # D; a curve to show what the index does
_STRONG = 10.0  # D; a power to show what the reference wavelength does


def sags(index: float = TOOL_INDEX) -> Table:
    """The depth of a surface by its power in this index and the width it is measured across."""
    return Table(
        f"Sag in mm, for index {index:.3f}, across",
        ("Curve", *(f"{diameter} mm" for diameter in _DIAMETERS)),
        tuple(
            (
                (f"{curve:.2f}",),
                *((f"{sagitta(curve, diameter / 2, index):.2f}",) for diameter in _DIAMETERS),
            )
            for curve in _CURVES
        ),
        kind="grid",
    )


def curves_of_materials() -> Table:
    """What to multiply a true surface power by to get the same curve in the tool index."""
    return Table(
        f"From true power to the curve in {TOOL_INDEX:.3f}",
        ("Index", "Multiply by", f"+{_MARKED:.2f} becomes"),
        tuple(
            (
                (_digits(index),),
                (f"{_in_tool_index(1.0, index):.3f}",),
                (f"+{_in_tool_index(_MARKED, index):.2f}",),
            )
            for index in dict.fromkeys(each.index for each in MATERIALS)
            if index != TOOL_INDEX
        ),
        kind="grid",
    )


def materials() -> Table:
    """The generic materials: nominal index, Abbe number, density."""
    return Table(
        f"Materials ({REMEMBERED} from memory)",
        ("Material", "n", "V", "g/cm³"),
        tuple(
            ((each.name,), (_digits(each.index),), (f"{each.abbe:g}",), (_density(each),))
            for each in MATERIALS
        ),
        kind="grid",
    )


def follows_from_index() -> Table:
    """What index and Abbe number do: curve needed, light lost, and the other reference line."""
    return Table(
        f"True power of a curve marked +{_MARKED:.2f}, light lost at a bare surface, and what a "
        f"lens of +{_STRONG:.2f}\N{NO-BREAK SPACE}D gains on the e line",
        ("Index", "Curve", "Lost", "Gained"),
        tuple(
            (
                (_digits(each.index),),
                (f"+{true_power(_MARKED, each.index, clock_index=TOOL_INDEX):.2f}",),
                (f"{100 * reflected(each.index):.1f} %",),
                (f"+{_STRONG * (ratio_from_abbe(each.abbe) - 1):.2f} D",),
            )
            for each in MATERIALS
        ),
        kind="grid",
    )


def reflected(index: float) -> float:
    """The share of light that an uncoated surface reflects, straight on: ((n - 1) / (n + 1))².

    Source  common-practice

    >>> round(reflected(1.5), 3)
    0.04
    """
    return ((index - 1) / (index + 1)) ** 2


def _in_tool_index(power: float, index: float) -> float:
    """The power that a surface of `power` in `index` would have in the tool index."""
    return true_power(power, TOOL_INDEX, clock_index=index)


def _digits(index: float) -> str:
    return f"{index:.3f}".removesuffix("0")


def _density(material: Material) -> str:
    if material.index in DENSITIES:
        return f"{DENSITIES[material.index]:.2f}"
    return f"{REMEMBERED_DENSITIES[material.index]:.2f}{REMEMBERED}"
