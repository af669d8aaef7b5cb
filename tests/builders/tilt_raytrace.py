"""Makes tests/published/tilt_raytrace.csv with a ray tracer that shares nothing with `lensmath`.

Run by hand, from the root of the project, in an environment of its own; the tests read its output:

    pip install optiland==0.6.3
    python tests/builders/tilt_raytrace.py

The lens is two surfaces of that library, a sphere and a toroid, in a frame turned by the face form
within a frame turned by the pantoscopic tilt. The ray that leaves the back vertex along the line of
sight is found by trial. Four rays beside it, parallel before the lens, give the vergence behind it.

Light goes along +z and y is up, so x goes to the observer's left there; it is mirrored at the end.
"""

from __future__ import annotations

import csv
import math
from importlib.metadata import version
from pathlib import Path

import numpy as np
from optiland.coordinate_system import CoordinateSystem
from optiland.materials import IdealMaterial
from optiland.optic import Optic
from optiland.rays import RealRays
from scipy.optimize import root

OUTPUT = Path(__file__).parent.parent / "published" / "tilt_raytrace.csv"
GIVEN = (
    *("id", "sphere", "cylinder", "axis", "front_curve", "thickness", "index"),
    *("pantoscopic", "face_form", "eye"),
)
PRINTED = ("printed_xx", "printed_xy", "printed_yy", "printed_prism_x", "printed_prism_y")
CASES = (
    ("square", -4.00, -1.25, 20, 6.00, 2.0, 1.5, 0, 0, "right"),
    ("pantoscopic-minus", -8.00, 0, None, 2.00, 2.0, 1.586, 15, 0, "right"),
    ("pantoscopic-plus", 14.00, 0, None, 17.00, 9.0, 1.5, 10, 0, "left"),
    ("retroscopic", 5.00, -1.00, 45, 8.00, 4.5, 1.5, -12, 0, "left"),
    ("face-form-right", -4.00, 0, None, 8.50, 2.0, 1.53, 0, 25, "right"),
    ("face-form-left", -4.00, -2.00, 180, 8.50, 2.0, 1.53, 0, 25, "left"),
    ("plano", 0, 0, None, 8.00, 2.2, 1.586, 8, 20, "right"),
    ("both-right", 3.00, -2.00, 90, 8.00, 4.0, 1.6, 10, 15, "right"),
    ("both-left", 3.00, -2.00, 90, 8.00, 4.0, 1.6, 10, 15, "left"),
    ("both-oblique", -6.50, -3.50, 135, 6.00, 1.5, 1.67, 12, 20, "right"),
    ("both-retroscopic", 2.25, 1.75, 33, 7.00, 3.5, 1.498, -8, 18, "left"),
    ("steep", -3.00, 4.00, 65, 5.00, 3.0, 1.74, 30, 30, "left"),
    ("strong-minus", -25.00, -4.00, 10, -3.00, 1.0, 1.9, 20, 10, "right"),
    ("strong-plus", 25.00, 3.00, 170, 20.00, 12.0, 1.6, 15, 5, "left"),
    ("thick", 6.00, -1.50, 120, 9.00, 20.0, 1.5, 25, 12, "right"),
)
HALF_STEP = 2e-3  # mm from the chief ray to its neighbours


def surfaces(lens, front_curve, thickness, index, tilts):
    """The front and the back of the lens, its back vertex in the origin."""
    glass, air = IdealMaterial(n=index), IdealMaterial(n=1)
    sphere, cylinder, axis = lens
    vergence = front_curve / (1 - thickness / 1000 / index * front_curve)
    along, across = (
        1000 * (1 - index) / (sphere - vergence),
        1000 * (1 - index) / (sphere + cylinder - vergence),
    )
    optic = Optic()
    optic.surfaces.add(index=0, thickness=math.inf)
    optic.surfaces.add(
        index=1, radius=1000 * (index - 1) / front_curve, thickness=thickness, material=glass,
        is_stop=True,
    )  # fmt: skip
    optic.surfaces.add(
        index=2, surface_type="toroidal", radius_x=along, radius_y=across, thickness=100,
        material=air,
    )  # fmt: skip
    optic.surfaces.add(index=3)
    pantoscopic, face_form = (math.radians(angle) for angle in tilts)
    frame = CoordinateSystem(rx=-pantoscopic)
    mounted = CoordinateSystem(ry=face_form, reference_cs=frame)
    front, back = optic.surfaces[1], optic.surfaces[2]
    front.geometry.cs = CoordinateSystem(z=-thickness, reference_cs=mounted)
    back.geometry.cs = CoordinateSystem(rz=math.radians(180 - (axis or 0)), reference_cs=mounted)
    return front, back


def behind(lens, x, y, slope_x, slope_y):
    """Where rays that start 60 mm before the lens cross z = 0 behind it, and their slopes there."""
    x, y, slope_x, slope_y = np.broadcast_arrays(*map(np.atleast_1d, (x, y, slope_x, slope_y)))
    forward = 1 / np.sqrt(1 + slope_x**2 + slope_y**2)
    rays = RealRays(
        x.astype(float), y.astype(float), np.full(x.shape, -60.0),
        slope_x * forward, slope_y * forward, forward, np.ones(x.shape), np.full(x.shape, 0.55),
    )  # fmt: skip
    for surface in lens:
        surface.trace(rays)
    slopes = np.array([rays.L / rays.N, rays.M / rays.N])
    return np.array([rays.x, rays.y]) - rays.z * slopes, slopes


def traced(case):
    """The matrix entries xx, xy, yy and the prism x, y of one case, x to the observer's right."""
    _, *power, front_curve, thickness, index, pantoscopic, face_form, eye = case
    turned = -face_form if eye == "right" else face_form
    lens = surfaces(power, front_curve, thickness, index, (pantoscopic, turned))

    def misses(start):
        crossing, slopes = behind(lens, *start)
        return np.concatenate([crossing[:, 0], 60 * slopes[:, 0]])

    chief = root(misses, np.zeros(4), tol=1e-15).x
    assert np.abs(misses(chief)).max() < 1e-10, case[0]
    x, y, slope_x, slope_y = chief
    beside = HALF_STEP * np.array([1, -1, 0, 0]), HALF_STEP * np.array([0, 0, 1, -1])
    crossings, slopes = behind(lens, x + beside[0], y + beside[1], slope_x, slope_y)
    moved, bent = (pairs[:, ::2] - pairs[:, 1::2] for pairs in (crossings, slopes))
    matrix = -1000 * bent @ np.linalg.inv(moved)
    assert abs(matrix[0, 1] - matrix[1, 0]) < 2e-6, case[0]
    return matrix[0, 0], -matrix[0, 1], matrix[1, 1], 100 * slope_x, -100 * slope_y


def main():
    note = f"optiland {version('optiland')}; chief ray and four neighbours {HALF_STEP} mm beside it"
    with OUTPUT.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow((*GIVEN, *PRINTED, "source", "standing", "note"))
        for case in CASES:
            given = ("" if value is None else value for value in case)
            printed = (f"{round(value, 5) + 0.0:.5f}" for value in traced(case))
            table.writerow((*given, *printed, "independent-computation", "computed", note))


if __name__ == "__main__":
    main()
