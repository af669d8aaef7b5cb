"""The exact power and prism of a tilted lens of real thickness, traced through its two surfaces.

The wearer looks along the line of sight through the back vertex. From there the ray is followed
outward, by Snell's law, until it leaves the front surface; the light of a distant object comes in
along the same way. Its neighbours are not traced one by one: Coddington's equations carry the
power of the narrow pencil around the ray through both surfaces, without approximation.

The front surface is spherical and the cylinder is on the back, as lenses are now made (common
practice).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lensmath.errors import LensError
from lensmath.power import LensPower, snapped
from lensmath.prism import Prism
from lensmath.scale import shown
from lensmath.surfaces import (
    ThickLens,
    back_surface,
    checked_index,
    checked_length,
    checked_power,
    surface_power,
)
from lensmath.tilt import Tilt, coddington, compensated, in_form_of, refracted, tilted


@dataclass(frozen=True)
class LensForm:
    """The form of a lens: all that shapes it besides its power.

    Units   `front_curve` in dioptres, the true power of the front surface; `centre_thickness` in
            mm, where 0 is a thin lens.
    Errors  LensError for an index or a thickness that no lens has, or a front surface whose centre
            of curvature would lie inside the lens.

    >>> LensForm(front_curve=8, centre_thickness=2, index=1.586).tilted(LensPower(-4.00), Tilt(15))
    LensPower(sphere=-4.0944, cylinder=-0.3046, axis=180.0)
    """

    front_curve: float
    centre_thickness: float
    index: float

    def __post_init__(self) -> None:
        checked_power("front curve", self.front_curve)
        checked_length("centre thickness", self.centre_thickness)
        checked_index(self.index)
        if snapped(self._towards_centre) <= 0:
            steepest = surface_power(self.centre_thickness, self.index)
            raise LensError(
                f"A lens {self.centre_thickness:g} mm thick, of index {self.index:g}, has a front "
                f"curve below {shown(steepest, '+')} D; {shown(self.front_curve, '+')} D was given."
            )

    def tilted(self, power: LensPower, tilt: Tilt) -> LensPower:
        """What this lens does before the eye, at its back vertex and along the line of sight.

        `power` is its back vertex power, as a lensmeter shows it.

        Shape   in plus or minus cylinder as `power` is; a sphere's cylinder takes its sign.
        Errors  LensError when the front surface reflects all light back at this tilt.
        Source  kingslake-1994; independent-computation
        """
        back = back_surface(power, self._front, self.centre_thickness, self.index)
        seen = tilted(back, tilt, self.index) + self._front_light(tilt)
        return in_form_of(power, seen)

    def compensated(self, wanted: LensPower, tilt: Tilt) -> LensPower:
        """The back vertex power to order in this form, for what is wanted when it is tilted.

        Shape and errors as for `tilted`, which this undoes.

        >>> LensForm(8, 2, 1.586).compensated(LensPower(-4.00), Tilt(15))
        LensPower(sphere=-3.6357, cylinder=-0.2719, axis=90.0)
        """
        back = compensated(wanted - self._front_light(tilt), tilt, self.index)
        lens = ThickLens(self._front, back, self.centre_thickness, self.index)
        return in_form_of(wanted, lens.back_vertex_power)

    def prism(self, tilt: Tilt) -> Prism:
        """The prism that the tilt makes at the back vertex, whatever the power of the lens.

        In a first approximation 100 (t/n) F₁ sinθ, with t in metres, and its base to the side to
        which a convex front is turned: down for a pantoscopic tilt, out for a face form.

        Errors  as for `tilted`.
        Source  dukes-wrap, the approximation; independent-computation

        >>> LensForm(8, 2, 1.586).prism(Tilt(15)).vertical
        Component(amount=0.2794, base=<Base.DOWN: 'down'>)
        """
        inside = refracted(tilt.angle, self.index)
        front, front_inside = self._front_angles(tilt)
        bent_back = (tilt.angle - inside) - (front - front_inside)
        amount, faces = 100 * math.tan(math.radians(bent_back)), math.radians(tilt.faces)
        return Prism(amount * math.cos(faces), amount * math.sin(faces))

    @property
    def _front(self) -> LensPower:
        return LensPower(self.front_curve)

    @property
    def _towards_centre(self) -> float:
        """How far the back vertex is from the centre of the front surface, per radius: 1 - t/r."""
        return 1 - self.centre_thickness * self.front_curve / (1000 * (self.index - 1))

    def _front_angles(self, tilt: Tilt) -> tuple[float, float]:
        """The angles of the ray to the normal of the front surface, outside and inside, degrees."""
        sine = self._towards_centre * math.sin(math.radians(tilt.angle))
        if sine >= 1:
            raise LensError(
                f"No light comes through this lens at a tilt of {tilt.angle:g} degrees; "
                "give a smaller tilt, a thinner lens or a flatter front."
            )
        return math.degrees(math.asin(sine)), math.degrees(math.asin(sine / self.index))

    def _front_light(self, tilt: Tilt) -> LensPower:
        """What the front surface alone adds to the light behind the back surface.

        Along the tilt axis a pencil is refracted as the sphere says; across it, every refraction
        at an angle counts with cos² of that angle, on either side of the surface.
        """
        front, front_inside = self._front_angles(tilt)
        cosine, cosine_inside, cosine_front = (
            math.cos(math.radians(at))
            for at in (tilt.angle, refracted(tilt.angle, self.index), front_inside)
        )
        # From the back vertex to the front surface, along the ray, in metres.
        towards = self._towards_centre
        chord = (1 + towards) / (towards * cosine_inside + cosine_front)
        path = chord * self.centre_thickness / 1000

        def at_back(power: float) -> float:
            return power / (1 - path / self.index * power)

        along = self.front_curve * coddington(front, self.index)
        across = at_back(along / cosine_front**2) * (cosine_inside / cosine) ** 2
        return LensPower(at_back(along), across - at_back(along), tilt.axis)
