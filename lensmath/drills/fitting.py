"""Problems before the eye: prism and its base, Prentice's rule, vertex distance, decentration."""

from __future__ import annotations

from lensmath.centration import Decentration, Frame, write_length
from lensmath.decentration import prism_at
from lensmath.drills import choices
from lensmath.drills.answers import POWER_ROUNDING, BaseDirectionAnswer, LensAnswer, PowerAnswer
from lensmath.drills.generator import SplitMix64
from lensmath.drills.problem import Asked, Skill, Value
from lensmath.drills.worded import BaseAnswer, DecentrationAnswer, PrismAnswer
from lensmath.notation import Decimals, write_lens
from lensmath.power import LensPower, standard_axis
from lensmath.prism import Base, Prism
from lensmath.vertex import compensated

_LEAST_A, _LARGEST_A = 46.0, 58.0  # mm; most adult frames (common practice)
_LEAST_PRISM = 0.25  # prism dioptres; less is not read by hand (common practice)


def _prism_base(draws: SplitMix64, level: int) -> Asked:
    eye, amount = choices.eye(draws), draws.between(2, 24) / 4
    to_degrees = level == 1 or draws.between(0, 1) == 1
    degrees = float(draws.between(0, 71) * 5) if level == 3 else 90.0 * draws.between(0, 3)
    written = Prism.from_base(amount, degrees).half_circle(eye)
    words = BaseAnswer(written._replace(amount=amount, degrees=standard_axis(degrees)))
    shown = f"{amount:.2f} prism dioptres before the {eye.value} eye"
    given: dict[str, Value] = {"amount": amount, "eye": eye}
    if to_degrees:
        question = (
            f"A prism of {shown} has its base {words.text}. Which direction is that in degrees on "
            "the full circle, 0 to 360?"
        )
        return Asked(question, given | {"base": words.written}, BaseDirectionAnswer(degrees))
    line = ", with the line for an oblique base," if level == 3 else ""
    question = (
        f"A prism of {shown} has its base at {degrees:.0f} degrees on the full circle. Write the "
        f"base in words{line} such as BU{' or BU&I @ 045' if level == 3 else ''}."
    )
    return Asked(question, given | {"base": degrees}, words)


def _prentice(draws: SplitMix64, level: int) -> Asked:
    while True:
        eye, lens = choices.eye(draws), _lens_in_main_meridians(draws, level)
        vertical = level == 1 or draws.between(0, 1) == 1
        ways = (Base.UP, Base.DOWN) if vertical else (Base.IN, Base.OUT)
        way, millimetres = draws.one_of(ways), float(draws.between(2, 12))
        signed = millimetres if way in (Base.UP, Base.IN) else -millimetres
        point = (Decentration(0, signed) if vertical else Decentration(signed)).before(eye)
        prism = prism_at(lens, point)
        part = prism.vertical if vertical else prism.horizontal(eye)
        if part.base is not None and part.amount >= _LEAST_PRISM:
            break
    where = {Base.UP: "above", Base.DOWN: "below", Base.IN: "in from", Base.OUT: "out from"}[way]
    question = (
        f"A {eye.value} lens is {write_lens(lens)}. How much prism is there {millimetres:.0f} mm "
        f"{where} its optical centre, and where is its base?"
    )
    given: dict[str, Value] = {"lens": lens, "eye": eye, "distance": millimetres, "way": way}
    return Asked(question, given, PrismAnswer(part.amount, part.base))


def _lens_in_main_meridians(draws: SplitMix64, level: int) -> LensPower:
    if level < 3:
        return LensPower(choices.reading(draws, level))
    first, second = choices.readings(draws, level)
    return LensPower(first, second - first, draws.one_of((90.0, 180.0)))


def _vertex(draws: SplitMix64, level: int) -> Asked:
    sphere = draws.one_of((-1, 1)) * draws.between(20, 60) / 4
    lens = LensPower(sphere)
    if level == 3:
        lens = LensPower(sphere, -draws.between(2, 12) / 4, choices.axis(draws, level))
    old, new = float(draws.between(10, 16)), 0.0
    if level > 1:
        new = draws.one_of([float(mm) for mm in (0, *range(8, 19)) if mm != old])
    moved = "as a contact lens, at 0 mm" if new == 0 else f"at {new:.0f} mm from the eye"
    question = (
        f"A lens of {write_lens(lens)} is worn {old:.0f} mm from the eye. Which power replaces it "
        f"{moved}, to 0.01 D?"
    )
    answer = compensated(lens, new - old)
    given: dict[str, Value] = {"lens": lens, "old_distance": old, "new_distance": new}
    if lens.axis is None:
        power = PowerAnswer(answer.sphere, Decimals.LITERAL, POWER_ROUNDING, "sphere")
        return Asked(question, given, power)
    return Asked(question, given, LensAnswer(answer, Decimals.LITERAL, POWER_ROUNDING))


def _decentration(draws: SplitMix64, level: int) -> Asked:
    eye, b = choices.eye(draws), float(draws.between(28, 42))
    pd, a, dbl = _pd_and_frame(draws, level)
    frame = Frame(a, dbl, b) if level == 3 else Frame(a, dbl)
    height = b / 2 + draws.one_of((-1, 1)) * draws.between(1, 8) / 2 if level == 3 else None
    depth = "" if height is None else f", B {b:.0f} mm"
    fitted = "" if height is None else f" and the height is {write_length(height)} mm"
    question = (
        f"A frame has A {a:.0f} mm{depth} and DBL {dbl:.0f} mm. The monocular PD of the "
        f"{eye.value} eye is {write_length(pd)} mm{fitted}. How far is the {eye.value} lens "
        "decentred, and which way?"
    )
    given: dict[str, Value] = {"frame": frame, "eye": eye, "pd": pd}
    if height is not None:
        given |= {"height": height}
    return Asked(question, given, DecentrationAnswer(frame.decentration(pd, height)))


def _pd_and_frame(draws: SplitMix64, level: int) -> tuple[float, float, float]:
    """A monocular PD, A and DBL, in usual sizes: whole PDs at level 1, and out only at level 3."""
    parts = 1 if level == 1 else 2
    while True:
        pd = draws.between(28 * parts, 35 * parts) / parts
        inward = draws.between((-3 if level == 3 else 0) * parts, 7 * parts) / parts
        dbl = float(draws.between(14, 22))
        a = 2 * (pd + inward) - dbl
        if inward and _LEAST_A <= a <= _LARGEST_A:
            return pd, a, dbl


SKILLS = (
    Skill(
        "prism-base",
        "Bases in words and in degrees",
        (
            "From up, down, in or out to degrees.",
            "Up, down, in or out, from words to degrees and back.",
            "Oblique bases in half-circle notation too, either way.",
        ),
        _prism_base,
    ),
    Skill(
        "prentice",
        "Prism from decentration, in one meridian",
        (
            "A sphere in quarters, above or below the centre.",
            "A sphere in eighths, in any of the four ways.",
            "A lens with its axis at 90 or 180, in any of the four ways.",
        ),
        _prentice,
    ),
    Skill(
        "vertex",
        "Change of vertex distance",
        (
            "A sphere, to a contact lens.",
            "A sphere, to any distance.",
            "A lens with cylinder, to any distance.",
        ),
        _vertex,
    ),
    Skill(
        "decentration",
        "Decentration of one lens",
        (
            "Whole millimetres, in.",
            "Half millimetres, in.",
            "Half millimetres, in or out, and up or down.",
        ),
        _decentration,
    ),
)
