"""Front and back vertex power: what two surfaces and the thickness between them make."""

from __future__ import annotations

from lensmath.notation import MINUS, Decimals
from lensmath.power import LensPower
from lensmath.surfaces import ThickLens
from lensmath.thickness import knife_edge_distance
from site_src.calculators.answer import Answer, Line, Step, cut_eighths, power, say
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, NumberField, PowerField
from site_src.calculators.materials import (
    INDEX,
    MATERIAL,
    Material,
    entered_index,
    index_of,
)
from site_src.calculators.working import digits, number, signed, unsigned
from site_src.figures.lens_profile import surfaces_profile

_SMALLEST_HALF = 10.0  # mm; half of a small lens (common practice)
_SOURCES = ("durham-tech-11", "meister-thick-lens", "common-practice")


def solve(
    front: float,
    back: float,
    thickness: float,
    material: Material,
    index: float | None,
    decimals: Decimals,
) -> Answer:
    """The vertex powers, the equivalent power, and how far the short rule falls short."""
    lens = ThickLens(LensPower(front), LensPower(back), thickness, index_of(material, index))
    back_vertex, front_vertex = lens.back_vertex_power.sphere, lens.front_vertex_power.sphere
    return Answer(
        headline=say("Back vertex power {power} D", power=power(back_vertex, "back_vertex")),
        also=(
            say("Front vertex power: {power} D", power=power(front_vertex, "front_vertex")),
            say(
                "Equivalent power: {power} D",
                power=power(lens.equivalent_power.sphere, "equivalent"),
            ),
            say("Surfaces added up: {power} D", power=power(lens.nominal_power.sphere, "nominal")),
            say(
                "Back vertex power by the short rule F1 + F2 + t ÷ n × F1²: {power} D",
                power=power(lens.approximate_back_vertex_power.sphere, "short_rule"),
            ),
        ),
        understood=(*cut_eighths(decimals, front, back), *entered_index(index)),
        steps=_steps(lens),
        figures=(surfaces_profile("vertex-powers", lens),),
        cautions=_cautions(lens),
        sources=_SOURCES,
    )


def _cautions(lens: ThickLens) -> tuple[str, ...]:
    meet = knife_edge_distance(lens)
    if lens.centre_thickness == 0 or meet is None or meet >= _SMALLEST_HALF:
        return ()
    said = (
        f"These surfaces meet {meet:.1f} mm from the middle: no lens of a useful size is so thin."
    )
    return (f"{said} The powers hold for its middle.",)


def _steps(lens: ThickLens) -> tuple[Step, ...]:
    front, back = digits(lens.front.sphere), digits(lens.back.sphere)
    reduced = f"{unsigned(lens.centre_thickness / 1000)} ÷ {unsigned(lens.index)}"
    return (
        Step(
            "Without the thickness, the two surfaces simply add up.",
            "F1 + F2",
            f"{front} + ({back})",
            say("{power} D", power=power(lens.nominal_power.sphere, "nominal", exact=True)),
        ),
        Step(
            "Back vertex power: the light of the front surface crosses the thickness first.",
            f"F1 ÷ (1 {MINUS} t ÷ n × F1) + F2, t in metres",
            f"{front} ÷ (1 {MINUS} {reduced} × ({front})) + ({back})",
            _to_four(lens.back_vertex_power.sphere, "back_vertex"),
        ),
        Step(
            "Front vertex power: the same from the other side.",
            f"F2 ÷ (1 {MINUS} t ÷ n × F2) + F1",
            f"{back} ÷ (1 {MINUS} {reduced} × ({back})) + ({front})",
            _to_four(lens.front_vertex_power.sphere, "front_vertex"),
        ),
        Step(
            "Equivalent power: the power of the thin lens that makes an image of the same size.",
            f"F1 + F2 {MINUS} t ÷ n × F1 × F2",
            f"{front} + ({back}) {MINUS} {reduced} × ({front}) × ({back})",
            _to_four(lens.equivalent_power.sphere, "equivalent"),
        ),
    )


def _to_four(value: float, name: str) -> Line:
    return say("{power} D", power=number(name, value, signed(value, 4)))


CALCULATOR = Calculator(
    slug="front-and-back-vertex",
    title="Front and back vertex power",
    purpose="Enter the two surface powers and the thickness; get the powers a lensmeter shows.",
    fields=(
        PowerField("front", "Front surface", "its true power; convex is plus"),
        PowerField("back", "Back surface", "its true power; concave is minus"),
        NumberField("thickness", "Centre thickness", "0 is a thin lens", unit="mm", high=30),
        MATERIAL,
        INDEX,
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"front": "+10.25", "back": "-3.00", "thickness": "4", "material": "1.586"},
            prints={"back_vertex": "+7.52"},
            source="mccardle-2009",
        ),
        Example(
            given={"front": "+9.50", "back": "-3.25", "thickness": "3.3", "index": "1.66"},
            prints={"nominal": "+6.25", "front_vertex": "+6.27", "back_vertex": "+6.43"},
            source="durham-tech-11",
        ),
        Example(
            given={"front": "+16.00", "back": "-1.75", "thickness": "8", "index": "1.5"},
            prints={"back_vertex": "+15.74", "short_rule": "+15.62"},
            source="meister-thick-lens",
        ),
    ),
)
