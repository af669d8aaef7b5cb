"""Reference wavelength: what a reading on the d line is on the e line, and the other way."""

from __future__ import annotations

from lensmath.notation import MINUS, TIMES, Decimals, Prescription, write_lens
from lensmath.power import LensPower, snapped
from lensmath.wavelength import (
    SHARE_OF_DISPERSION,
    ReferenceLine,
    ratio_from_abbe,
    ratio_from_indices,
    referred_to,
)
from site_src.calculators.answer import (
    Answer,
    Line,
    Step,
    amount,
    cut_eighths,
    power,
    say,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    DECIMALS,
    Choice,
    ChoiceField,
    FieldError,
    NumberField,
    PrescriptionField,
    on_field,
)
from site_src.calculators.materials import MATERIAL, Material
from site_src.calculators.working import digits, noted, number, signed, unsigned
from site_src.figures.reference_lines import reference_lines

_SOURCES = (
    "iso-7944",
    "meister-wavelengths-2010",
    "jalie-lens-materials",
    "abbe-number-table",
    "lens-materials-page",
)
_ON_D, _ON_E = ReferenceLine.HELIUM_D, ReferenceLine.MERCURY_E
_LETTER = {_ON_D: "d", _ON_E: "e"}
_FURTHEST_APART = 0.02  # well beyond any spectacle material: 0.24 (n - 1) / V is below 0.01
_SHARE = noted(SHARE_OF_DISPERSION)


def solve(
    lens: Prescription,
    line: ReferenceLine,
    material: Material,
    abbe: float | None,
    n_d: float | None,
    n_e: float | None,
    decimals: Decimals,
) -> Answer:
    """The lens on the other line, how much that is, and where the ratio comes from."""
    given, other = lens.power, _ON_E if line is _ON_D else _ON_D
    _check_indices(n_d, n_e)
    v_d, on_d = abbe or material.abbe, n_d or material.index
    with on_field("n_e"):
        ratio = ratio_from_abbe(v_d) if n_e is None else ratio_from_indices(on_d, n_e)
    new = referred_to(other, given, ratio)
    on_lines = {line: write_lens(given), other: write_lens(new)}
    return Answer(
        headline=say(f"On the {_LETTER[other]} line: {{lens}}", lens=written_lens(new)),
        also=(_change(given, new), _share(ratio), *_index_on_e(v_d, on_d, n_e)),
        understood=(*cut_eighths(decimals, given.sphere, given.cylinder), _taken(v_d, on_d, n_e)),
        steps=(*_ratio_steps(v_d, on_d, n_e, ratio), *_power_steps(given, other, ratio)),
        figures=(reference_lines("reference-lines", on_lines[_ON_D], on_lines[_ON_E]),),
        cautions=_left_out(lens),
        sources=_SOURCES,
    )


def _check_indices(n_d: float | None, n_e: float | None) -> None:
    if n_e is None:
        return
    if n_d is None:
        raise FieldError("n_d", "an index on the e line needs the one on the d line beside it.")
    if snapped(n_e - n_d) > _FURTHEST_APART:
        raise FieldError(
            "n_e",
            f"{unsigned(n_e)} was entered, and {unsigned(n_d)} for the d line. The two indices of "
            f"a lens material differ by {_FURTHEST_APART:g} at the most.",
        )


def _change(given: LensPower, new: LensPower) -> Line:
    changes = [
        new_arm.power - arm.power
        for arm, new_arm in zip(given.principal_meridians, new.principal_meridians, strict=True)
    ]
    return say(
        "Most change in a meridian: {change} D",
        change=power(max(changes, key=abs), "change"),
    )


def _share(ratio: float) -> Line:
    return say(
        "A lens is {share} % stronger on the e line.", share=amount(100 * (ratio - 1), "share", 2)
    )


def _index_on_e(v_d: float, n_d: float, n_e: float | None) -> tuple[Line, ...]:
    if n_e is not None:
        return ()
    on_e = _estimated_index(v_d, n_d)
    return (
        say(
            f"Index {unsigned(n_d, 3)} on the d line, {{on_e}} on the e line",
            on_e=number("index.e", on_e, f"{on_e:.4f}"),
        ),
    )


def _estimated_index(v_d: float, n_d: float) -> float:
    return noted(1 + _ratio_by_hand(v_d) * (n_d - 1))


def _ratio_by_hand(v_d: float) -> float:
    return _noted_ratio(1 + _SHARE / v_d)


def _noted_ratio(ratio: float) -> float:
    return noted(ratio, 5)


def _taken(v_d: float, n_d: float, n_e: float | None) -> Line:
    if n_e is None:
        return say(f"Worked from the Abbe number {unsigned(v_d)}.")
    return say(f"Worked from the indices {unsigned(n_d, 3)} and {unsigned(n_e, 3)}.")


def _ratio_steps(v_d: float, n_d: float, n_e: float | None, ratio: float) -> tuple[Step, ...]:
    if n_e is not None:
        return (
            Step(
                "Power on the e line over power on the d line, from the two indices.",
                f"(n on e {MINUS} 1) ÷ (n on d {MINUS} 1)",
                f"({unsigned(n_e)} {MINUS} 1) ÷ ({unsigned(n_d)} {MINUS} 1)",
                say("{ratio}", ratio=number("ratio", ratio, f"{_noted_ratio(ratio):.5f}")),
            ),
        )
    by_abbe = _ratio_by_hand(v_d)
    on_e = _estimated_index(v_d, n_d)
    return (
        Step(
            "Power on the e line over power on the d line, about, from the Abbe number.",
            f"1 + {_SHARE:.4f} ÷ V",
            f"1 + {_SHARE:.4f} ÷ {unsigned(v_d)}",
            say("{ratio}", ratio=number("ratio", by_abbe, f"{by_abbe:.5f}")),
        ),
        Step(
            "So the index on the e line is about this.",
            f"1 + ratio × (n on d {MINUS} 1)",
            f"1 + {by_abbe:.5f} × ({unsigned(n_d)} {MINUS} 1)",
            say("{on_e}", on_e=number("index.e", on_e, f"{on_e:.4f}")),
        ),
    )


def _power_steps(given: LensPower, other: ReferenceLine, ratio: float) -> tuple[Step, ...]:
    sign, noted_ratio = (TIMES if other is _ON_E else "÷"), _noted_ratio(ratio)
    parts = [("Sphere", given.sphere)]
    if given.axis is not None:
        parts.append(("Cylinder; the axis stays", given.cylinder))
    return tuple(
        Step(
            f"{what}.",
            f"{what[0]} {sign} ratio",
            f"{digits(value)} {sign} {noted_ratio:.5f}",
            _to_three(referred_to(other, LensPower(value), noted_ratio).sphere, f"noted.{what[0]}"),
        )
        for what, value in parts
    )


def _to_three(value: float, name: str) -> Line:
    return say("{power} D", power=number(name.lower(), value, signed(value, 3)))


def _left_out(lens: Prescription) -> tuple[str, ...]:
    if not lens.prism and lens.addition is None:
        return ()
    return ("The addition and the prism change by the same share; they are not worked here.",)


CALCULATOR = Calculator(
    slug="reference-wavelength",
    title="Reference wavelength",
    purpose="Enter a reading and the line it refers to; get the reading on the other line.",
    fields=(
        PrescriptionField("lens", "Reading or order", "on the line named below"),
        ChoiceField(
            "line",
            "It refers to",
            "see the instrument or the order",
            choices=(
                Choice("d", "the d line, 588 nm (yellow)", _ON_D),
                Choice("e", "the e line, 546 nm (green)", _ON_E),
            ),
        ),
        MATERIAL,
        NumberField(
            "abbe",
            "Abbe number",
            "counts instead of the material’s, 15 to 95",
            optional=True,
            low=15,
            high=95,
        ),
        NumberField(
            "n_d",
            "Index on the d line",
            "if the maker gives it",
            optional=True,
            aside=True,
            low=1.4,
            high=2,
        ),
        NumberField(
            "n_e",
            "Index on the e line",
            "with the other, takes the place of the Abbe number",
            optional=True,
            aside=True,
            low=1.4,
            high=2,
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"lens": "-10.00 -2.00 x 5", "line": "d", "material": "1.586"},
            prints={"sphere": "−10.08", "cylinder": "−2.02", "axis": "005"},
            note="An invented lens.",
        ),
        Example(
            given={"lens": "+10.00 DS", "line": "d", "abbe": "67.8", "n_d": "1.4585"},
            prints={"index.e": "1.4601"},
            source="malitson-1965",
            note="Fused silica, measured to many places: it checks the rule, no spectacle lens.",
        ),
        Example(
            given={"lens": "-12.00 -4.00 x 30", "line": "d", "n_d": "1.732", "n_e": "1.738"},
            prints={"sphere": "−12.10", "cylinder": "−4.03", "axis": "030"},
            note="The lens is invented; meister-wavelengths-2010 gives the two indices.",
        ),
    ),
)
