"""Prescriptions as people write them, in and out.

Where the conventions come from: a sign always, two decimals, DS or sph for a sphere, DC for the
cylinder, plano, pl, PLN and ∞ for zero, x before an axis without a sign, three-digit axes, base
words or degrees, and the decimal comma were seen in texts collected for this handbook (most of
them in two). Eighths cut to two decimals: nj-virginia-rules, which prints 0.12, 0.37, 0.87, 1.62.
"""

from __future__ import annotations

import re
from dataclasses import astuple

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.notation import (
    LONGEST,
    Decimals,
    Form,
    Part,
    Prescription,
    WrittenPrism,
    is_cut,
    lens_alone,
    read_axis,
    read_power,
    read_prescription,
    write_axis,
    write_crossed,
    write_exact,
    write_lens,
    write_power,
    write_prescription,
)
from lensmath.power import LensPower
from tests.strategies import CORNER_AXES

MINUS, PLUS, CROSSED, SPHERE = (
    Form.MINUS_CYLINDER,
    Form.PLUS_CYLINDER,
    Form.CROSSED,
    Form.SPHERE,
)
Spelling = tuple[float, float, float | None]


def wide(text: str) -> str:
    """Text as an East Asian keyboard may give it: full-width signs, digits and letters."""
    return "".join(chr(ord(letter) + 0xFEE0) if letter > " " else letter for letter in text)


def spelling(lens: LensPower) -> Spelling:
    """Sphere, cylinder and axis as they are held, since two spellings of one lens are equal."""
    return lens.sphere, lens.cylinder, lens.axis


# What people write ------------------------------------------------------------------------------

WRITTEN: list[tuple[str, Spelling, Form]] = [
    # The three forms.
    ("+2.25 -0.75 x 105", (2.25, -0.75, 105), MINUS),
    ("+1.00 +0.50 × 10", (1.00, 0.50, 10), PLUS),
    ("-0.75 DC x 022 / -3.25 DC x 112", (-0.75, -2.50, 112), CROSSED),
    ("-3.25 DC x 112 / -0.75 DC x 022", (-0.75, -2.50, 112), CROSSED),
    ("-0.75 x 022 / -3.25 x 112", (-0.75, -2.50, 112), CROSSED),
    ("-0.75DCx022/-3.25DCx112", (-0.75, -2.50, 112), CROSSED),
    ("-0.75x22/-3.25x112", (-0.75, -2.50, 112), CROSSED),
    ("0.00 DC x 90 / -1.00 DC x 180", (0, -1.00, 180), CROSSED),
    # As it is scribbled.
    ("-1.37/-0.62x5", (-1.375, -0.625, 5), MINUS),
    ("-2.00-1.00x90", (-2, -1, 90), MINUS),
    ("-2.00,-1.00x90", (-2, -1, 90), MINUS),
    ("-2.00; -1.00; x 90", (-2, -1, 90), MINUS),
    ("-2.00 (-1.00) x 90", (-2, -1, 90), MINUS),
    ("- 2.00 - 1.00 x 90", (-2, -1, 90), MINUS),
    ("-2 -.5 x90", (-2, -0.5, 90), MINUS),
    ("-3.00DS/-1.00DC x 90", (-3, -1, 90), MINUS),
    ("-2.00 sph -1.00 cyl axis 90", (-2, -1, 90), MINUS),
    ("-2.00 SPH, -1.00 CYL, AX 90", (-2, -1, 90), MINUS),
    ("-2.00 sphere -1.00 cylinder ax. 90", (-2, -1, 90), MINUS),
    # The word before its figure.
    ("sph -2.00 cyl -1.00 axis 90", (-2, -1, 90), MINUS),
    ("Sph: -2.00 Cyl: -1.00 Axis: 90", (-2, -1, 90), MINUS),
    ("S-2.00 C-1.00 A90", (-2, -1, 90), MINUS),
    ("S: -2.00 C: -1.00 A: 90", (-2, -1, 90), MINUS),
    ("DS -2.00", (-2, 0, None), SPHERE),
    ("sph plano cyl -1.00 ax 90", (0, -1, 90), MINUS),
    ("-2.00 sph cyl -1.00 x 90", (-2, -1, 90), MINUS),
    # Three figures after a cylinder can be nothing but its axis.
    ("-2.00 -1.00 090", (-2, -1, 90), MINUS),
    ("-2.00 / -1.00 / 005", (-2, -1, 5), MINUS),
    ("-2.00 (-1.00)180", (-2, -1, 180), MINUS),
    ("-2.00 -1.00 000", (-2, -1, 180), MINUS),
    ("-3.00 0.00 179", (-3, 0, None), SPHERE),
    ("-0.75 x 022 / -3.25 112", (-0.75, -2.50, 112), CROSSED),
    ("-2.00 D -1.00 D x 90°", (-2, -1, 90), MINUS),
    ("-2.00 -1.00 * 90 °", (-2, -1, 90), MINUS),
    # Zero, and no cylinder.
    ("plano", (0, 0, None), SPHERE),
    ("Plano DS", (0, 0, None), SPHERE),
    ("∞", (0, 0, None), SPHERE),
    ("0", (0, 0, None), SPHERE),
    ("0.00", (0, 0, None), SPHERE),
    ("pl -0.50 X 090", (0, -0.50, 90), MINUS),
    ("PLN -0.50 X 090", (0, -0.50, 90), MINUS),
    ("pl. +0.50 x 090", (0, 0.50, 90), PLUS),
    ("∞ -0.50 x 090", (0, -0.50, 90), MINUS),
    ("0.00 -0.50 x 090", (0, -0.50, 90), MINUS),
    ("-0.50 DC x 090", (0, -0.50, 90), MINUS),
    ("-3.00 DS", (-3, 0, None), SPHERE),
    ("-3.00ds", (-3, 0, None), SPHERE),
    ("-3.00 D.S.", (-3, 0, None), SPHERE),
    ("-3.00 sph", (-3, 0, None), SPHERE),
    ("-3.00", (-3, 0, None), SPHERE),
    ("-3.00 0.00", (-3, 0, None), SPHERE),
    ("-3.00 0.00 x 90", (-3, 0, None), SPHERE),
    ("-20 x 90 / -20 x 180", (-20, 0, None), CROSSED),
    # The signs and spaces that keyboards, phones and word processors give.
    ("−2,25 −0,50 × 90", (-2.25, -0.50, 90), MINUS),
    ("−,25 −0,50 × 90", (-0.25, -0.50, 90), MINUS),
    ("–2.25 –0.50 x 90", (-2.25, -0.50, 90), MINUS),
    ("\N{EM DASH}2.25 \N{HYPHEN}0.50 x 90", (-2.25, -0.50, 90), MINUS),
    ("\N{FIGURE DASH}2.25 \N{SMALL HYPHEN-MINUS}0.50 ✕ 90", (-2.25, -0.50, 90), MINUS),
    ("\N{FULLWIDTH HYPHEN-MINUS}2.25 \N{FULLWIDTH PLUS SIGN}0.50 × 90", (-2.25, 0.50, 90), PLUS),
    (wide("-2.25 +0,50 x 90"), (-2.25, 0.50, 90), PLUS),
    ("-2.25\u00a0-0.50\u00a0x\u00a090", (-2.25, -0.50, 90), MINUS),
    ("-2.25\u202f-0.50\tx\t90\n", (-2.25, -0.50, 90), MINUS),
    # The axis.
    ("-2.00 -1.00 x 002", (-2, -1, 2), MINUS),
    ("-2.00 -1.00 x 0", (-2, -1, 180), MINUS),
    ("-2.00 -1.00 x 180", (-2, -1, 180), MINUS),
    ("-2.00 -1.00 x 77.5", (-2, -1, 77.5), MINUS),
    ("-2.00 -1.00 x 000.5", (-2, -1, 0.5), MINUS),  # as answers write it
    ("-2,00 -1,00 x 77,5", (-2, -1, 77.5), MINUS),
    # The ends of the range.
    ("-30.00 DS", (-30, 0, None), SPHERE),
    ("+30 -30 x 90", (30, -30, 90), MINUS),
]


@pytest.mark.parametrize(("text", "meant", "form"), WRITTEN, ids=[text for text, *_ in WRITTEN])
def test_what_people_write(text: str, meant: Spelling, form: Form) -> None:
    read = read_prescription(text)
    assert spelling(read.power) == meant
    assert read.form is form
    assert (read.addition, read.prism) == (None, ())


FOLLOWING: list[tuple[str, float | None, list[tuple[float, str | float]]]] = [
    ("add +2.25", 2.25, []),
    ("add 2.25", 2.25, []),  # it can only be plus
    ("Add: 2,12", 2.125, []),
    ("add 2.00 1 BU", 2.0, [(1, "up")]),
    ("ADD+2,25", 2.25, []),
    ("Add. +2.12", 2.125, []),
    ("(addition +2.25)", 2.25, []),
    ("2 BU", None, [(2, "up")]),
    ("2BD", None, [(2, "down")]),
    ("1.5 base in", None, [(1.5, "in")]),
    ("1,5 Base Out", None, [(1.5, "out")]),
    ("2Δ up", None, [(2, "up")]),
    ("2 down, 1.5Δ In", None, [(2, "down"), (1.5, "in")]),
    ("1 out.", None, [(1, "out")]),
    ("2 D BU", None, [(2, "up")]),
    ("2 b.u.", None, [(2, "up")]),
    ("3Δ BO", None, [(3, "out")]),
    ("3 pd BI", None, [(3, "in")]),
    ("prism 3 BI", None, [(3, "in")]),
    ("2.5 @ 37", None, [(2.5, 37)]),
    ("2.5Δ base 37.5°", None, [(2.5, 37.5)]),
    ("2.5Δ @ 37 degrees", None, [(2.5, 37)]),
    ("1 @ 0", None, [(1, 0)]),
    ("1 @ 360", None, [(1, 360)]),
    # A point or a comma before a digit is its decimal mark; after a word, a comma divides.
    ("prism.5 BU", None, [(0.5, "up")]),
    (",5 BU", None, [(0.5, "up")]),
    (",12 BU", None, [(0.12, "up")]),
    ("prism,12 BU", None, [(12, "up")]),
    ("2 BU,1.5 BI", None, [(2, "up"), (1.5, "in")]),
    # An eighth is a matter of powers: prism means its digits.
    ("0.12 BU", None, [(0.12, "up")]),
    ("2 BU 1.5 BI", None, [(2, "up"), (1.5, "in")]),
    ("2BU1.5BI", None, [(2, "up"), (1.5, "in")]),
    ("add +2.00, 2 BU and 1.5 BI", 2.0, [(2, "up"), (1.5, "in")]),
    ("2 BU & 1.5 BI, add +2.00", 2.0, [(2, "up"), (1.5, "in")]),
]


@pytest.mark.parametrize(
    "lens", ["+2.25 -0.75 x 105", "-3.00 DS", "-3.00", "plano", "-1 DC x 180/-2 DC x 90"]
)
@pytest.mark.parametrize(
    ("text", "addition", "prism"), FOLLOWING, ids=[text for text, *_ in FOLLOWING]
)
def test_addition_and_prism_follow_any_power(
    lens: str, text: str, addition: float | None, prism: list[tuple[float, str | float]]
) -> None:
    read = read_prescription(f"{lens} {text}")
    assert spelling(read.power) == spelling(read_prescription(lens).power)
    assert read.addition == addition
    assert [(each.amount, each.base) for each in read.prism] == prism


@pytest.mark.parametrize(
    ("text", "eighths", "literal"),
    [
        # nj-virginia-rules prints 0.12, 0.37, 0.87 and 1.62 for steps of an eighth.
        ("+0.12", 0.125, 0.12),
        ("-0.37", -0.375, -0.37),
        ("+1.62", 1.625, 1.62),
        ("-12.87", -12.875, -12.87),
        ("-0,12", -0.125, -0.12),
        ("-.12", -0.125, -0.12),
        (wide("-0.12"), -0.125, -0.12),
        # 0.13 is a limit in tables, not an eighth; one or three decimals are nobody's short form.
        ("+0.13", 0.13, 0.13),
        ("-0.1", -0.1, -0.1),
        ("-0.120", -0.12, -0.12),
        ("-0.125", -0.125, -0.125),
        ("-0.38", -0.38, -0.38),
        ("+0.63", 0.63, 0.63),
        ("+0.88", 0.88, 0.88),
        ("+12.00", 12.0, 12.0),
        ("-0.25", -0.25, -0.25),
    ],
)
def test_two_decimals_are_a_cut_eighth_or_the_digits(
    text: str, eighths: float, literal: float
) -> None:
    assert read_power(text) == eighths
    assert read_power(text, Decimals.LITERAL) == literal
    assert read_prescription(f"{text} {text} x 12.12").power.cylinder == eighths
    assert read_prescription(f"{text} {text} x 12.12", Decimals.LITERAL).power.sphere == literal
    assert read_prescription(f"{text} {text} x 12.12").power.axis == 12.12


@pytest.mark.parametrize(
    ("text", "power"),
    [
        *[("+2.25", 2.25), ("−2,25", -2.25), ("0", 0), ("-0.00", 0)],
        *[("-2.00 D", -2), ("-2d.", -2), ("-2 DS", -2), ("-2 D.S.", -2), ("-2 s", -2)],
        *[("-2.25.", -2.25), ("-2 dioptres", -2), ("-2 diopters.", -2)],
        *[("plano", 0), ("PL", 0), ("pln DS", 0), ("∞", 0)],
    ],
)
def test_one_power(text: str, power: float) -> None:
    assert read_power(text) == power
    assert str(read_power(text)) == str(float(power))  # and no negative zero


@pytest.mark.parametrize(
    ("text", "axis"),
    [
        *[("5", 5), ("005", 5), ("x 90", 90), ("90°", 90), ("0", 180), ("77,5", 77.5)],
        *[("1", 1), ("000", 180), ("0.0", 180), ("000.5", 0.5), ("A 90", 90)],
        *[("90 degrees", 90), ("90 deg.", 90), ("77.5.", 77.5)],
    ],
)
def test_one_axis(text: str, axis: float) -> None:
    assert read_axis(text) == axis


@pytest.mark.parametrize(
    ("text", "part", "power"),
    [
        *[("-2 DS", "sphere", -2), ("pl", "sphere", 0), ("-0.25 DC", "cylinder", -0.25)],
        *[("-0.25 cyl", "cylinder", -0.25), ("-0.25", "cylinder", -0.25)],
        *[("3", "addition", 3), ("Add +3.00", "addition", 3), ("3.00 add.", "addition", 3)],
    ],
)
def test_one_power_of_a_kind(text: str, part: Part, power: float) -> None:
    assert read_power(text, part=part) == power


@pytest.mark.parametrize(
    ("text", "part", "says"),
    [
        ("-0.25 DS", "cylinder", "“DS” in “−0.25 DS” says sphere, and no sphere"),
        ("-2.25 cyl", "sphere", "“CYL” in “−2.25 cyl” says cylinder, and no cylinder"),
        ("+1 DC", "addition", "“DC” in “+1 DC” says cylinder, and no cylinder"),
    ],
)
def test_a_power_of_another_kind_is_refused(text: str, part: Part, says: str) -> None:
    with pytest.raises(LensError) as refused:
        read_power(text, part=part)
    told = f"{says} is asked for. A sphere is written DS, a cylinder DC."
    assert str(refused.value) == told


def test_an_empty_addition_is_asked_for_with_its_plus() -> None:
    with pytest.raises(LensError, match=r"^Nothing was written. Write a power such as \+2.25.$"):
        read_power("", part="addition")


def test_what_a_lens_alone_has_not_is_to_be_left_out() -> None:
    assert lens_alone(read_prescription("-2.00 -1.00 x 90")) == LensPower(-2, -1, 90)
    for more, wanted in (
        ("add +2.00", "addition"),
        ("1.50 BU", "prism"),
        ("add +2.00 1.50 BU", "addition and no prism"),
    ):
        with pytest.raises(LensError) as refused:
            lens_alone(read_prescription(f"-2.00 -1.00 x 90 {more}"))
        told = f"“{more}” was written, but the lens has no {wanted} here; leave it out."
        assert str(refused.value) == told


# The words of a refusal -------------------------------------------------------------------------

GENERAL = (
    " could not be read. Write one lens such as −2.25 −0.75 × 105; after it, add +2.25 and prism "
    "as 2 BU are allowed."
)
OFF_SCALE = (
    " is not on the scale. An axis is a number from 1 to 180 without a sign (0 is written 180)."
)
IN_ITS_PLACE = "was read in its place. Write −2.25, 0.00 or +2.25."
REFUSED = {
    # Nothing, or nothing like a power.
    "": "Nothing was written. Write a power such as −2.25 −0.75 × 105.",
    " \u00a0\t": "Nothing was written. Write a power such as −2.25 −0.75 × 105.",
    "hello": "The sphere is missing in “hello”: “hello” was read in its place. Write −2.25, "
    "0.00 or +2.25.",
    "-": f"The sphere is missing in “−”: “−” {IN_ITS_PLACE}",
    "±2.00": "The sphere is missing in “±2.00”: “±2.00” was read in its place. Write −2.25, "
    "0.00 or +2.25.",
    "add +2.25": "The sphere is missing in “add +2.25”: “add” was read in its place. Write −2.25, "
    "0.00 or +2.25.",
    "NaN": "The sphere is missing in “NaN”: “nan” was read in its place. Write −2.25, "
    "0.00 or +2.25.",
    "-\u0662": "The sphere is missing in “−\u0662”: “−\u0662” was read in its place. Write −2.25, "
    "0.00 or +2.25.",
    # The sign.
    "2.25": "“2.25” has no sign. Write +2.25 or −2.25: a power always has its sign.",
    "2,25": "“2.25” has no sign. Write +2.25 or −2.25: a power always has its sign.",
    "-2.00 0.75 x 90": "“0.75” has no sign. Write +0.75 or −0.75: a power always has its sign.",
    "pl 0.75 x 90": "“0.75” has no sign. Write +0.75 or −0.75: a power always has its sign.",
    "-1 DC x 90 / 2 DC x 180": "“2” has no sign. Write +2 or −2: a power always has its sign.",
    "-1.00 -1.00 @ 90": "In “−1.00 −1.00 @ 90” “@” was read, which gives a meridian. An axis is "
    "written after ×, for example −1.00 × 090.",
    "+-2.25": "Two signs together, “+−”, were read in “+−2.25”. Write + or −, one only.",
    "-2.00 − –1 x 90": "Two signs together, “− −”, were read in “−2.00 − –1 x 90”. Write + or −, "
    "one only.",
    # The number.
    "-2.2.5": "“2.2.5” has two decimal marks. Write one comma or one point, such as 2.25 or 2,25.",
    "-2.2,5": "“2.2,5” has two decimal marks. Write one comma or one point, such as 2.25 or 2,25.",
    "-325": "“−325” was read in “−325”; powers up to 30 D are allowed. Write the decimal point: "
    "−3.25, not −325.",
    "+325": "“+325” was read in “+325”; powers up to 30 D are allowed. Write the decimal point: "
    "+3.25, not +325.",
    "-2.00 add 225": "“225” was read in “−2.00 add 225”; powers up to 30 D are allowed. Write the "
    "decimal point: +3.25, not +325.",
    "+30.001": "“+30.001” was read in “+30.001”; powers up to 30 D are allowed.",
    "-31": "“−31” was read in “−31”; powers up to 30 D are allowed.",
    "-1e5": f"The sphere is missing in “−1e5”: “−1e5” {IN_ITS_PLACE}",
    "1e9": f"The sphere is missing in “1e9”: “1e9” {IN_ITS_PLACE}",
    "-2.00 1e9": f"“1e9” in “−2.00 1e9”{GENERAL}",
    "1/0": f"The sphere is missing in “1/0”: “1/0” {IN_ITS_PLACE}",
    "-1/4": f"The sphere is missing in “−1/4”: “−1/4” {IN_ITS_PLACE}",
    "-2²": f"“²” in “−2²”{GENERAL}",
    # The axis.
    "-2.00 -0.75": "The cylinder −0.75 has no axis. Write the axis after it, for example "
    "−0.75 × 090.",
    "-2.00 DC": "The cylinder −2.00 has no axis. Write the axis after it, for example −2.00 × 090.",
    "-2.00 -0.75 45": "In “−2.00 −0.75 45” no × stands between −0.75 and 45. Write the axis after "
    "×, for example −0.75 × 090.",
    "-2.00 (-0.75)90": "In “−2.00 (−0.75)90” no × stands between −0.75 and 90. Write the axis "
    "after ×, for example −0.75 × 090.",
    "-2.00 -0.75 181": "In “−2.00 −0.75 181” no × stands between −0.75 and 181. Write the axis "
    "after ×, for example −0.75 × 090.",
    "-2.00 -0.75 090 BU": "The cylinder −0.75 has no axis. Write the axis after it, for example "
    "−0.75 × 090.",
    "-2.00 -0.75 A 1.75": "The cylinder −0.75 has no axis. Write the axis after it, for example "
    "−0.75 × 090.",
    "-2.00 -0.75 -1.00 x 90": "The cylinder −0.75 has no axis. Write the axis after it, for "
    "example −0.75 × 090.",
    "-2.00 -0.75 x": "The axis is missing in “−2.00 −0.75 x”: the text ends. Write a number from "
    "1 to 180.",
    "-2.00 -0.75 x BU": "The axis is missing in “−2.00 −0.75 x BU”: “bu” was read in its place. "
    "Write a number from 1 to 180.",
    "-2.00 -0.75 x 181": f"The axis “181”{OFF_SCALE}",
    "-2.00 -0.75 x 180.5": f"The axis “180.5”{OFF_SCALE}",
    "-2.00 -0.75 x .5": f"The axis “.5”{OFF_SCALE}",
    "-2.00 -0.75 x 00.99": f"The axis “00.99”{OFF_SCALE}",
    "-2.00 -0.75 x 5 D": "“5” in “−2.00 −0.75 x 5 D” is in dioptres; the axis is not. Write a "
    "number from 1 to 180.",
    "-2.00 -0.75 x -5": f"The axis “−5”{OFF_SCALE}",
    "-2.00 -0.75 x +5": f"The axis “+5”{OFF_SCALE}",
    # Crossed cylinders.
    "-2.25 x 90": "One power with an axis was read: “−2.25 x 90”. For a cylinder alone write "
    "plano −2.25 × 090; for crossed form write both cylinders, each with its axis.",
    "0.00 x 90": "One power with an axis was read: “0.00 x 90”. For a cylinder alone write "
    "plano 0.00 × 090; for crossed form write both cylinders, each with its axis.",
    "-2.00 x 90 / -1.00": "The cylinder −1.00 has no axis. Write the axis after it, for example "
    "−1.00 × 090.",
    "-0.75 DC x 22 / -3.25 DC x 122": "The axes 022 and 122 in “−0.75 DC x 22 / −3.25 DC x 122” "
    "are 80 apart. In crossed form they are 90 apart.",
    # What stands after a power.
    "-2.00 -0.75 x 90 -1.00": "“−1.00” in “−2.00 −0.75 x 90 −1.00” stands after a complete power. "
    "One lens is allowed; prism is written without a sign and with its base, as 2 BU.",
    "-2.00 -2 BU": "“−2” in “−2.00 −2 BU” stands after a complete power. One lens is allowed; "
    "prism is written without a sign and with its base, as 2 BU.",
    "-2.00 DS -3.00 DS": "Two spheres were read in “−2.00 DS −3.00 DS”; one lens is allowed.",
    "-5° -0.75 x 90": "“−5” in “−5° −0.75 x 90” is in degrees; the sphere is not. Write "
    "−2.25, 0.00 or +2.25.",
    "-2.00 2° BU": "“2” in “−2.00 2° BU” is in degrees; the prism is not. Write 2 BU.",
    "-2.00 2 @ 37 D": "“37” in “−2.00 2 @ 37 D” is in dioptres; the base direction is not. Write "
    "an angle from 0 to 360.",
    # Words before their figures, in an order that would be a guess.
    "cyl -1.00 sph -2.00 x 90": "The sphere is missing in “cyl −1.00 sph −2.00 x 90”: “cyl” was "
    "read in its place. Write −2.25, 0.00 or +2.25.",
    "-1.00 cyl sph -2.00 x 90": "The cylinder −1.00 has no axis. Write the axis after it, for "
    "example −1.00 × 090.",
    "sph -1 x 90 / -2 x 180": f"“x” in “sph −1 x 90 / −2 x 180”{GENERAL}",
    "sph -2.00 cyl x 90": "The cylinder is missing in “sph −2.00 cyl x 90”: “x” was read in its "
    "place. Write −2.25, 0.00 or +2.25.",
    "-2.00 -0.75 x 90 2": "The prism 2 in “−2.00 −0.75 x 90 2” has no base. Write BU, BD, BI or "
    "BO after it, or @ and an angle.",
    "-2.00 2 Δ": "The prism 2 in “−2.00 2 Δ” has no base. Write BU, BD, BI or BO after it, or @ "
    "and an angle.",
    "-2.00 2 @": "The base direction is missing in “−2.00 2 @”: the text ends. Write an angle "
    "from 0 to 360.",
    "-2.00 2 @ 361": "The base direction “361” is not on the circle. It is a number from 0 to 360 "
    "without a sign.",
    "-2.00 2 @ -5": "The base direction “−5” is not on the circle. It is a number from 0 to 360 "
    "without a sign.",
    "-2.00 prism": f"“prism” in “−2.00 prism”{GENERAL}",
    "-2.00 BU": f"“bu” in “−2.00 BU”{GENERAL}",
    "plano x 90": f"“x” in “plano x 90”{GENERAL}",
    "-2.00 ds ds": f"“ds” in “−2.00 ds ds”{GENERAL}",
    "-2.00 -": f"“−” in “−2.00 −”{GENERAL}",
    "-2.00 up": f"“up” in “−2.00 up”{GENERAL}",
    "-2.00 add 2 BU": f"“bu” in “−2.00 add 2 BU”{GENERAL}",
    "-2.00 add": "The addition is missing in “−2.00 add”: the text ends. Write +2.25.",
    "-2.00 add +1 add +2": "Two additions were read in “−2.00 add +1 add +2”; one is allowed.",
    "-2.00 " + "9" * 200: "More than 200 characters were written. Write a power such as "
    "−2.25 −0.75 × 105.",
}


@pytest.mark.parametrize("text", REFUSED)
def test_a_refusal_says_what_was_read_and_what_is_allowed(text: str) -> None:
    with pytest.raises(LensError) as refused:
        read_prescription(text)
    assert str(refused.value) == REFUSED[text]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("2.25", "“2.25” has no sign. Write +2.25 or −2.25: a power always has its sign."),
        ("-325", REFUSED["-325"]),
        ("-2.25 -0.75", "“−0.75” in “−2.25 −0.75” was not expected: one value is allowed."),
        ("-2.25 x 90", "“x” in “−2.25 x 90” was not expected: one value is allowed."),
        ("-31", REFUSED["-31"]),
        ("-50%", "“−50” was read in “−50%”; powers up to 30 D are allowed."),
        ("plano -1", "“−1” in “plano −1” was not expected: one value is allowed."),
        ("-5°", "“−5” in “−5°” is in degrees; a power is not. Write −2.25, 0.00 or +2.25."),
        ("1e9", f"A power is missing in “1e9”: “1e9” {IN_ITS_PLACE}"),
        ("1/0", f"A power is missing in “1/0”: “1/0” {IN_ITS_PLACE}"),
        ("zero", f"A power is missing in “zero”: “zero” {IN_ITS_PLACE}"),
        ("", "Nothing was written. Write a power such as −2.25."),
        ("-" + "9" * 300, "More than 200 characters were written. Write a power such as −2.25."),
        ("-2.25 DC", "“dc” in “−2.25 DC” was not expected: one value is allowed."),
        ("-2.25..", "“..” in “−2.25..” was not expected: one value is allowed."),
        ("--1", "Two signs together, “−−”, were read in “−−1”. Write + or −, one only."),
    ],
)
def test_a_refused_power(text: str, says: str) -> None:
    with pytest.raises(LensError) as refused:
        read_power(text)
    assert str(refused.value) == says


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("181", f"The axis “181”{OFF_SCALE}"),
        ("-5", f"The axis “−5”{OFF_SCALE}"),
        ("+90", f"The axis “+90”{OFF_SCALE}"),
        (".5", f"The axis “.5”{OFF_SCALE}"),
        ("0.99", f"The axis “0.99”{OFF_SCALE}"),
        ("5 D", "“5” in “5 D” is in dioptres; the axis is not. Write a number from 1 to 180."),
        ("9" * 201, "More than 200 characters were written. Write an axis such as 105."),
        ("90 180", "“180” in “90 180” was not expected: one value is allowed."),
        ("x", "The axis is missing in “x”: the text ends. Write a number from 1 to 180."),
    ],
)
def test_a_refused_axis(text: str, says: str) -> None:
    with pytest.raises(LensError) as refused:
        read_axis(text)
    assert str(refused.value) == says


# Any text whatever ------------------------------------------------------------------------------

PIECES = st.sampled_from(
    [
        *"0123456789",
        *"+-−–.,x×/@°Δ ()",
        *["0.00", "0.12", "2.25", "-0.75", "+1.50", "90", "180", "∞", wide("1")],
        *["plano", "pl", "DS", "DC", "sph", "cyl", "axis", "add", "prism", "base", "BU", "base in"],
    ]
)
# Prescriptions, and what a slip makes of them.
NEARLY = st.tuples(
    st.sampled_from(["-2.00", "+1,25", "- 3 DS", "plano", "0", "2.25", "-1 DC x 180", "-.5 x 90"]),
    st.sampled_from(["", "", "-0.75", "/+0.50 cyl", "0.75", ".5", "0.00", "-2 DC x 90", "2 x 180"]),
    st.sampled_from(["", "x 90", "x5", "axis 007", "90", "x 200"]),
    st.lists(
        st.sampled_from(
            [
                "add +2",
                "add 2",
                "2 BU",
                "1.5 in",
                "1.5 base in",
                "2 @ 37",
                "3Δ BO",
                "2",
                "-2 BU",
                ",5 BI",
                "x",
            ]
        ),
        max_size=2,
    ).map(" ".join),
).map(" ".join)
ANYTHING = st.one_of(
    NEARLY,
    st.text(max_size=LONGEST + 20),
    st.lists(PIECES, max_size=14).map("".join),
    st.lists(PIECES, max_size=14).map(" ".join),
)


def test_a_refusal_quotes_the_first_60_characters() -> None:
    with pytest.raises(LensError, match=rf"in “\+1\.00 {'q' * 54}” could not be read"):
        read_prescription("+1.00   " + "q" * 90)


@given(ANYTHING, st.sampled_from(Decimals))
@example("9" * 5000, Decimals.EIGHTHS)
@example("-" + "9" * 199, Decimals.EIGHTHS)
@example("x" * 100_000, Decimals.EIGHTHS)
def test_any_text_is_read_or_refused_in_a_sentence(text: str, decimals: Decimals) -> None:
    try:
        read = read_prescription(text, decimals)
    except LensError as refusal:
        said = str(refusal)
        assert said.endswith(".")
        assert "-" not in said  # every minus is a real one
        assert len(said) < 800
    else:
        assert isinstance(read, Prescription)
        assert abs(read.power.sphere) <= 30
        write_prescription(read)


LONE_NUMBER = re.compile(r"([+-]?) ?([0-9]+(?:\.[0-9]*)?|\.[0-9]+)")
# What is written without a sign, in the plain text that reading works on: an axis, an addition,
# prism, a base.
UNSIGNED = re.compile(
    r"(?:x|axis|ax\.?|add) ?[\s/,;&()]*[0-9.]+"
    r"|[0-9.]+ ?°?[\s/,;&()d]*(?:(?:prism|pd|[Δδ])\.?[\s/,;&()]*)?"
    r"(?:(?:base )?(?:up|down|in|out)|b\.?[udio]|(?:@|base\.?)[\s/,;&()]*[0-9.]+)"
)


@given(
    st.tuples(
        st.sampled_from(["-", "+", "", "−", "- "]),
        st.sampled_from(["0.50", "2", "1,25", ".5", "12.75", "0.12", "0"]),
        st.sampled_from(["", " DS", "/", " "]),
        st.sampled_from(["-", "+", "", "–", "+ "]),
        st.sampled_from(["0.50", "2", "1,25", ".5", "0.00"]),
        st.sampled_from([" x 90", "x5", " DC × 180", " axis 7"]),
        st.sampled_from(["", " add ", ", add"]),
        st.sampled_from(["+", "-", ""]),
        st.sampled_from(["2.25", "1", "0"]),
    )
)
def test_no_power_is_read_without_its_sign(parts: tuple[str, ...]) -> None:
    """A lens is read when sphere and cylinder have their signs, unless they are zero."""
    sign, sphere, between, cylinder_sign, cylinder, axis, add, add_sign, addition = parts
    if between == "" and cylinder_sign == "":
        between = " "  # else the two numbers are one
    text = sign + sphere + between + cylinder_sign + cylinder + axis
    signed = [(sign, sphere), (cylinder_sign, cylinder)]
    if add:
        text += add + add_sign + addition
    lacking = [number for its_sign, number in signed if not its_sign and float_of(number) != 0]
    if lacking:
        with pytest.raises(LensError, match=f"“{lacking[0].replace(',', '.')}” has no sign"):
            read_prescription(text)
    else:
        read = read_prescription(text)
        expected = read_power("+" + sphere)
        assert read.power.sphere == (expected if sign == "+" else -expected)
        if add and add_sign != "-":
            assert read.addition == float_of(addition)


def float_of(number: str) -> float:
    return float(number.replace(",", "."))


@settings(max_examples=500)
@given(NEARLY)
@example("-2.00 2 @ 90")
@example("plano 3 Δ BU 2 base 37")
def test_whatever_is_read_had_its_signs(text: str) -> None:
    """In what is read, an unsigned number is zero, an axis, an addition, or prism with a base."""
    try:
        read_prescription(text)
    except LensError:
        return
    plain = re.sub("[−–]", "-", text.lower().replace("×", "x").replace(wide("1"), "1"))
    plain = re.sub(r"(?<=[0-9]),(?=[0-9])|(?<![^\s+-]),(?=[0-9])", ".", " ".join(plain.split()))
    for sign, digits in LONE_NUMBER.findall(UNSIGNED.sub(" ", plain)):
        assert sign or float(digits) == 0, (text, digits)


# Writing ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (2.25, "+2.25"),
        (-0.5, "−0.50"),
        (3, "+3.00"),
        # Cut, not rounded: nj-virginia-rules.
        (0.125, "+0.12"),
        (-0.375, "−0.37"),
        (1.625, "+1.62"),
        (-0.875, "−0.87"),
        (0.1 + 0.025, "+0.12"),
        (-7.875 - 1e-12, "−7.87"),
        # Anything else is rounded, half-way away from zero.
        (0.13, "+0.13"),
        (0.126, "+0.13"),
        (0.005, "+0.01"),
        (-0.005, "−0.01"),
        (0.0049, "0.00"),
        (29.995, "+30.00"),
        (-1.005, "−1.01"),
        # Zero has no sign, however it comes about.
        (0, "0.00"),
        (-0.0, "0.00"),
        (-0.001, "0.00"),
        (0.1 + 0.2 - 0.3, "0.00"),
    ],
)
def test_a_power_is_written_with_sign_and_two_decimals(value: float, written: str) -> None:
    assert write_power(value) == written
    assert write_power(value, comma=True) == written.replace(".", ",")


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (-1.375, "−1.375"),
        (0.125, "+0.125"),
        (2.5, "+2.50"),
        (-12, "−12.00"),
        (0.1, "+0.10"),
        (0.13, "+0.13"),
        (0.0625, "+0.063"),
        (-0.001, "−0.001"),
        (0.005, "+0.005"),
        (29.995, "+29.995"),
        (0, "0.00"),
        (-0.0004, "0.00"),
        (0.1 + 0.2, "+0.30"),
    ],
)
def test_a_power_in_a_sum_shows_the_true_eighth(value: float, written: str) -> None:
    assert write_exact(value) == written


@pytest.mark.parametrize(
    ("axis", "written"),
    [
        (None, ""),
        (1, "001"),
        (5, "005"),
        (90, "090"),
        (180, "180"),
        (0, "180"),
        (77.5, "077.5"),
        (5.25, "005.3"),
        (0.04, "180"),
        (0.05, "000.1"),
        (179.94, "179.9"),
        (179.97, "180"),
    ],
)
def test_an_axis_is_written_with_three_digits(axis: float | None, written: str) -> None:
    assert write_axis(axis) == written
    assert write_axis(axis, comma=True) == written.replace(".", ",")


@pytest.mark.parametrize(
    ("lens", "written", "crossed"),
    [
        (LensPower(-0.75, -2.50, 112), "−0.75 −2.50 × 112", "−0.75 DC × 022 / −3.25 DC × 112"),
        (LensPower(1, 0.5, 10), "+1.00 +0.50 × 010", "+1.00 DC × 100 / +1.50 DC × 010"),
        (LensPower(0, -0.125, 0), "plano −0.12 × 180", "0.00 DC × 090 / −0.12 DC × 180"),
        (LensPower(-1, -2, 77.5), "−1.00 −2.00 × 077.5", "−1.00 DC × 167.5 / −3.00 DC × 077.5"),
        (LensPower(-3), "−3.00 DS", "−3.00 DC × 090 / −3.00 DC × 180"),
        (LensPower(0), "plano", "0.00 DC × 090 / 0.00 DC × 180"),
        (LensPower(0.004, -1, 90), "0.00 −1.00 × 090", "0.00 DC × 180 / −1.00 DC × 090"),
    ],
)
def test_a_lens_in_its_own_form_and_crossed(lens: LensPower, written: str, crossed: str) -> None:
    assert write_lens(lens) == written
    assert write_crossed(lens) == crossed
    assert write_lens(lens, comma=True) == written.replace(".", ",")
    assert write_crossed(lens, comma=True) == crossed.replace(".", ",")


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("+1 +0.50 x 10 add +2 1.5 BI", "+1.00 +0.50 × 010 add +2.00 1.50 BI"),
        ("-2.00 2 @ 37 1 BU", "−2.00 DS 2.00 @ 037 1.00 BU"),
        ("-2.00 2 @ 37.5", "−2.00 DS 2.00 @ 037.5"),
        ("-2.00 0.125 @ 0", "−2.00 DS 0.13 @ 000"),
        ("pl 3Δ base down, add +1.12", "plano add +1.12 3.00 BD"),
    ],
)
def test_a_whole_prescription_is_written_and_read_again(text: str, written: str) -> None:
    read = read_prescription(text)
    assert write_prescription(read) == written
    assert write_prescription(read_prescription(written)) == written
    assert write_prescription(read, comma=True) == written.replace(".", ",")


# There and back ---------------------------------------------------------------------------------

AXES = st.one_of(
    st.sampled_from(CORNER_AXES),
    st.integers(1, 180).map(float),
    st.integers(1, 1800).map(lambda tenths: tenths / 10),
)


def in_steps(per_dioptre: int) -> st.SearchStrategy[LensPower]:
    """Lenses up to 15 D of sphere and of cylinder, so that no meridian is beyond 30 D."""
    powers = st.integers(-15 * per_dioptre, 15 * per_dioptre).map(lambda n: n / per_dioptre)
    return st.builds(LensPower, powers, powers, AXES)


def there_and_back(lens: LensPower, decimals: Decimals, *, comma: bool) -> None:
    for form in (lens.in_minus_cylinder(), lens.in_plus_cylinder()):
        again = read_prescription(write_lens(form, comma=comma), decimals)
        assert spelling(again.power) == spelling(form)
        crossed = read_prescription(write_crossed(form, comma=comma), decimals)
        assert crossed.form is Form.CROSSED
        assert crossed.power == lens
        assert crossed.power.cylinder <= 0


@given(in_steps(8), st.booleans())
def test_a_lens_in_eighths_is_written_and_read_again(lens: LensPower, comma: bool) -> None:
    there_and_back(lens, Decimals.EIGHTHS, comma=comma)


@given(in_steps(100), st.booleans())
def test_a_lens_in_hundredths_is_written_and_read_again(lens: LensPower, comma: bool) -> None:
    there_and_back(lens, Decimals.LITERAL, comma=comma)


@given(
    in_steps(8),
    st.none() | st.integers(1, 32).map(lambda n: n / 8),
    st.lists(
        st.builds(
            WrittenPrism,
            st.integers(1, 2000).map(lambda n: n / 100),
            st.sampled_from(["up", "down", "in", "out"]) | st.integers(0, 360).map(float),
        ),
        max_size=2,
    ),
    st.booleans(),
)
def test_a_prescription_is_written_and_read_again(
    lens: LensPower, addition: float | None, prism: list[WrittenPrism], comma: bool
) -> None:
    form = SPHERE if lens.axis is None else MINUS if lens.cylinder < 0 else PLUS
    whole = Prescription(lens, form, addition, tuple(prism))
    again = read_prescription(write_prescription(whole, comma=comma))
    assert astuple(again) == astuple(whole)


@given(st.integers(-240, 240))
def test_only_odd_eighths_are_cut(eighths: int) -> None:
    assert is_cut(eighths / 8) == (eighths % 2 == 1)
    assert (len(write_exact(eighths / 8).lstrip("+−").partition(".")[2]) == 3) == (eighths % 2 == 1)


@pytest.mark.parametrize("eye", ["R ", "L ", "OD: ", "os ", "RE "])
def test_the_eye_before_a_lens_is_passed_over(eye: str) -> None:
    """An order names the eye; one field holds one lens."""
    assert read_prescription(f"{eye}-2.00 -0.75 x 5") == read_prescription("-2.00 -0.75 x 5")


def test_as_much_as_is_allowed_is_read():
    assert read_prescription("-2.25".ljust(LONGEST)).power.sphere == -2.25
