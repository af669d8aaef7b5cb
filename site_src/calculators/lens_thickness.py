"""Lens thickness: base curve, back surface, centre and edge of a round lens for an order."""

from __future__ import annotations

import math

from lensmath.errors import LensError
from lensmath.notation import MINUS, Decimals, Prescription, write_axis, write_power
from lensmath.power import LensPower, snapped
from lensmath.surfaces import (
    ThickLens,
    back_surface,
    base_and_cross_curve,
    radius_of_curvature,
    surface_power,
)
from lensmath.thickness import approximate_sagitta, sagitta, thickness_at, thinnest_lens
from site_src.calculators.answer import (
    Answer,
    Datum,
    Line,
    Step,
    Table,
    amount,
    axis,
    cut_eighths,
    power,
    say,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    DECIMALS,
    AxisField,
    NumberField,
    PowerField,
    PrescriptionField,
    on_field,
)
from site_src.calculators.materials import (
    INDEX,
    MATERIAL,
    Material,
    entered_index,
    index_of,
)
from site_src.calculators.working import curve, digits, noted, number, signed, unsigned
from site_src.figures.lens_profile import edge_profiles

_SOURCES = ("meister-1997", "harris-sagitta", "durham-tech-11", "common-practice")
_KNIFE_EDGE = 1e-6  # mm; far above the noise of the search, far below what is shown
_BETWEEN = (
    "Between the principal meridians the edge of a toric lens depends on how it was ground: take "
    "the thickness along {meridian} as good to about 0.05 mm for usual curves."
)


def solve(
    lens: Prescription,
    base: float,
    diameter: float,
    centre: float,
    edge: float,
    material: Material,
    index: float | None,
    meridian: float | None,
    decimals: Decimals,
) -> Answer:
    """Centre and edge of the thinnest lens that keeps to both minima, with its curves."""
    order = lens.power
    with on_field("diameter"):
        made = _thinnest(order, base, index_of(material, index), diameter, centre, edge)
    directions = _directions(order, meridian)
    edges = {each: thickness_at(made, diameter / 2, each) for each in directions}
    return Answer(
        headline=_headline(order, made, edges),
        also=(
            *_where(order, edges),
            *_back_curves(order, made),
            _depths(base, diameter, made.index),
        ),
        understood=(
            *cut_eighths(decimals, order.sphere, order.cylinder, base),
            *entered_index(index),
        ),
        tables=(_edge_table(order, made, edges, diameter / 2),),
        steps=_steps(order, made, diameter / 2, centre),
        figures=(edge_profiles("lens-thickness", made, diameter, list(edges)),),
        cautions=_cautions(lens, meridian),
        sources=_SOURCES,
    )


def _thinnest(
    order: LensPower, base: float, index: float, diameter: float, centre: float, edge: float
) -> ThickLens:
    """The thinnest lens. It is round and centred, so its thickness does not depend on the axis.

    Worked with the axis at 180, where the principal meridians are whole degrees.
    """
    front, upright = LensPower(base), LensPower(order.sphere, order.cylinder, 180.0)
    _check_diameter(front, back_surface(upright, front, centre, index), index, diameter)
    try:
        thickness = thinnest_lens(
            upright,
            front,
            index,
            diameter,
            minimum_centre=centre,
            minimum_edge=max(edge, _KNIFE_EDGE),
        ).lens.centre_thickness
    except LensError as error:
        raise LensError(
            f"{unsigned(diameter)} mm was entered; to have its edge there the lens would get so "
            "thick that its back surface is too steep. Take a smaller diameter or another base "
            "curve."
        ) from error
    return ThickLens(front, back_surface(order, front, thickness, index), thickness, index)


def _check_diameter(front: LensPower, back: LensPower, index: float, diameter: float) -> None:
    """No surface is wider than twice its radius.

    Errors  LensError with the largest diameter that the surfaces have.
    """
    powers = [arm.power for surface in (front, back) for arm in surface.principal_meridians]
    steepest = max(powers, key=abs)
    largest = 2 * abs(radius_of_curvature(steepest, index))
    if diameter > snapped(largest):
        raise LensError(
            f"{unsigned(diameter)} mm was entered; the largest possible diameter with these "
            f"surfaces is {math.floor(largest * 10) / 10:.1f} mm, twice the radius of the one of "
            f"{write_power(steepest)} D. Take a smaller diameter or another base curve."
        )


def _directions(order: LensPower, meridian: float | None) -> list[float]:
    """The meridians to show: one of a sphere, else the principal ones and the one asked for."""
    if order.axis is None:
        return [180.0]
    shown = [arm.direction for arm in order.principal_meridians]
    return shown if meridian is None or meridian in shown else [*shown, meridian]


def _headline(order: LensPower, made: ThickLens, edges: dict[float, float]) -> Line:
    centre = amount(made.centre_thickness, "centre")
    if order.axis is None:
        return say(
            "Centre {centre} mm, edge {edge} mm",
            centre=centre,
            edge=amount(edges[180.0], "edge"),
        )
    thin, thick = _extremes(order, edges)
    return say(
        "Centre {centre} mm, edge {thin} to {thick} mm",
        centre=centre,
        thin=amount(edges[thin], "edge.thinnest"),
        thick=amount(edges[thick], "edge.thickest"),
    )


def _where(order: LensPower, edges: dict[float, float]) -> tuple[Line, ...]:
    if order.axis is None:
        return ()
    thin, thick = _extremes(order, edges)
    return (
        say(
            "The edge is thinnest along {thin}, thickest along {thick}",
            thin=axis(thin, "edge.thinnest.along"),
            thick=axis(thick, "edge.thickest.along"),
        ),
    )


def _extremes(order: LensPower, edges: dict[float, float]) -> list[float]:
    """The principal meridians, the one with the thinner edge first."""
    principal = [arm.direction for arm in order.principal_meridians]
    return sorted(principal, key=lambda direction: edges[direction])


def _back_curves(order: LensPower, made: ThickLens) -> tuple[Line, ...]:
    if order.axis is None:
        return (say("Back surface: {power} D", power=power(made.back.sphere, "back")),)
    base, cross = base_and_cross_curve(made.back)
    return (
        say(
            "Back surface: base curve {base}, cross curve {cross}",
            base=curve(base, "base"),
            cross=curve(cross, "cross"),
        ),
    )


def _depths(base: float, diameter: float, index: float) -> Line:
    return say(
        "Front depth: {exact} mm exactly, {short} mm by the short rule",
        exact=_depth(sagitta(base, diameter / 2, index), "front.depth"),
        short=_depth(approximate_sagitta(base, diameter / 2, index), "front.short_rule"),
    )


def _depth(value: float, name: str, decimals: int = 2) -> Datum:
    return number(name, value, signed(value, decimals).lstrip("+"))


def _edge_table(
    order: LensPower, made: ThickLens, edges: dict[float, float], height: float
) -> Table:
    return Table(
        f"Along the meridians, {unsigned(height)} mm from the middle",
        ("Meridian", "Back, D", "Depth, mm", "Edge, mm"),
        tuple(
            (
                say("every one" if order.axis is None else write_axis(along)),
                (power(curve, f"at.{along:g}.back"),),
                (_depth(sagitta(curve, height, made.index), f"at.{along:g}.depth"),),
                (amount(edge, f"at.{along:g}.edge"),),
            )
            for along, edge in edges.items()
            for curve in (snapped(made.back.power_along(along)),)
        ),
        kind="grid",
    )


def _cautions(lens: Prescription, meridian: float | None) -> tuple[str, ...]:
    cautions = ["The lens is taken as round, its optical centre in the middle, without prism."]
    between = meridian is not None and meridian not in _directions(lens.power, None)
    if between and lens.power.axis is not None:
        cautions.append(_BETWEEN.format(meridian=write_axis(meridian)))
    if lens.addition is not None:
        cautions.append("The addition of the order is left out.")
    return tuple(cautions)


# The working --------------------------------------------------------------------------------------


def _steps(
    order: LensPower, made: ThickLens, height: float, least_centre: float
) -> tuple[Step, ...]:
    thickness = noted(made.centre_thickness)
    front = made.front.sphere
    arms = order.principal_meridians if order.axis is not None else order.principal_meridians[:1]
    front_depth = _noted_depth(front, height, made.index)
    steps = [
        Step(
            "The centre is held to its minimum; the edge is thicker than its own."
            if snapped(made.centre_thickness - least_centre) == 0
            else "The thinnest centre that leaves the edge asked for, and the back surface with "
            "which it gives the order, were found by turns.",
            result=say("{centre} mm", centre=number("noted.centre", thickness, f"{thickness:.4f}")),
        ),
        *_depth_steps("Front", "front", front, height, made.index),
        Step(
            "The short rule for the front: quick, and a little too shallow.",
            f"y² × F ÷ (2000 × (n {MINUS} 1))",
            f"{unsigned(height)}² × ({digits(front)}) ÷ "
            f"(2000 × ({unsigned(made.index)} {MINUS} 1))",
            say(
                "{depth} mm",
                depth=_depth(approximate_sagitta(front, height, made.index), "front.short_rule", 4),
            ),
        ),
    ]
    for arm in arms:
        where = "" if order.axis is None else f" along {write_axis(arm.direction)}"
        name = "back" if order.axis is None else f"back.{arm.direction:g}"
        curve = noted(back_surface(LensPower(arm.power), made.front, thickness, made.index).sphere)
        back_depth = _noted_depth(curve, height, made.index)
        steps += [
            Step(
                f"Back surface{where}: the order less the front as its light arrives there.",
                f"F {MINUS} F1 ÷ (1 {MINUS} t ÷ n × F1), t in metres",
                f"{digits(arm.power)} {MINUS} ({digits(front)}) ÷ (1 {MINUS} "
                f"{unsigned(thickness / 1000)} ÷ {unsigned(made.index)} × ({digits(front)}))",
                say("{power} D", power=number(f"noted.{name}", curve, signed(curve, 4))),
            ),
            *_depth_steps(f"Back{where}", name, curve, height, made.index),
            Step(
                f"Edge{where}: the centre less both depths.",
                f"t {MINUS} front {MINUS} back",
                f"{thickness:.4f} {MINUS} ({_four(front_depth)}) {MINUS} ({_four(back_depth)})",
                say(
                    "{edge} mm",
                    edge=_depth(
                        snapped(thickness - front_depth - back_depth), f"noted.edge.{name}", 4
                    ),
                ),
            ),
        ]
    return tuple(steps)


def _depth_steps(
    side: str, name: str, curve: float, height: float, index: float
) -> tuple[Step, ...]:
    if curve == 0:
        return (Step(f"{side}: a flat surface has no depth."),)
    radius = _noted_radius(curve, index)
    squares = f"√({unsigned(radius, 4)}² {MINUS} {unsigned(height)}²)"
    depth = f"{unsigned(radius, 4)} {MINUS} {squares}"
    sign = "" if curve > 0 else MINUS
    return (
        Step(
            f"{side}: the radius of the curve.",
            f"1000 × (n {MINUS} 1) ÷ F",
            f"1000 × ({unsigned(index)} {MINUS} 1) ÷ {digits(abs(curve)).lstrip('+')}",
            say("{radius} mm", radius=number(f"{name}.radius", radius, f"{radius:.4f}")),
        ),
        Step(
            f"{side}: its depth, {'plus, for convex' if curve > 0 else 'minus, for concave'}.",
            f"r {MINUS} √(r² {MINUS} y²)",
            depth if curve > 0 else f"{sign}({depth})",
            say(
                "{depth} mm",
                depth=_depth(_noted_depth(curve, height, index), f"noted.{name}.depth", 4),
            ),
        ),
    )


def _noted_radius(curve: float, index: float) -> float:
    return noted(radius_of_curvature(abs(curve), index))


def _noted_depth(curve: float, height: float, index: float) -> float:
    """The depth from the radius as it is noted down, itself noted down."""
    if curve == 0:
        return 0.0
    again = surface_power(_noted_radius(curve, index), index)
    return noted(sagitta(again if curve > 0 else -again, height, index))


def _four(value: float) -> str:
    return signed(value, 4).lstrip("+")


CALCULATOR = Calculator(
    slug="lens-thickness",
    title="Lens thickness",
    purpose="Enter the order, the base curve and the diameter; get the curves and the thickness.",
    fields=(
        PrescriptionField("lens", "Lens", "the ordered back vertex power"),
        PowerField("base", "Base curve", "front surface, its true power"),
        NumberField("diameter", "Diameter", "of the round lens", unit="mm", low=10, high=90),
        NumberField(
            "centre", "Centre at least", "what a minus lens is held to", unit="mm", high=20
        ),
        NumberField("edge", "Edge at least", "what a plus lens is held to", unit="mm", high=20),
        MATERIAL,
        INDEX,
        AxisField(
            "meridian", "Edge also along", "a meridian of a toric lens", optional=True, aside=True
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "lens": "-4.00 -2.00 x 30",
                "base": "+4.00",
                "diameter": "60",
                "centre": "2",
                "edge": "1",
                "material": "1.60",
            },
            prints={"centre": "2.00", "edge.thinnest": "5.25", "edge.thickest": "7.03"},
            note="An invented order.",
        ),
        Example(
            given={
                "lens": "+25.61 DS",
                "base": "+5.21",
                "diameter": "18",
                "centre": "3.0486",
                "edge": "0",
                "index": "1.5",
            },
            prints={"edge": "0.92"},
            source="loomis-sags",
            note="The text gives curvatures; they are written as powers in index 1.5 here.",
        ),
    ),
)
