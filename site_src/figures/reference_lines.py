"""The two reference wavelengths on a line of wavelengths, with what a lens is on each."""

from __future__ import annotations

from lensmath.wavelength import ReferenceLine

from .ruler import POINTER, Ruler
from .svg import Column, Drawing, Element, Figure, figure
from .two_places import Graduation, Place, two_places

_SCALE = Graduation(530.0, 600.0, 5.0, 10.0)  # nm


def reference_lines(name: str, on_d: str, on_e: str) -> Figure:
    """The e and the d line at their wavelengths; `on_d` and `on_e` are the lens as written."""
    d, e = ReferenceLine.HELIUM_D.value, ReferenceLine.MERCURY_E.value
    green = Place(e, f"e line, {e:.0f} nm", on_e)
    yellow = Place(d, f"d line, {d:.0f} nm", on_d)
    says = (
        f"On a line of wavelengths, {on_e} stands at the e line, {e:.0f} nm. The same lens stands "
        f"as {on_d} at the d line, {d:.0f} nm."
    )

    def draw(column: Column) -> Drawing:
        return two_places(
            column.width, _SCALE, green, yellow, _pointer, POINTER + 4, ("solid", "solid")
        )

    return figure(name, "One lens on two lines", says, draw)


def _pointer(ruler: Ruler, value: float, class_: str) -> list[Element]:
    return [ruler.pointer(value, class_)]
