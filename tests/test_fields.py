"""Fields: typed text becomes a value, or a sentence that names the field and what it allows."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.notation import Decimals, read_prescription
from lensmath.readings import Lines
from lensmath.scale import Direction
from lensmath.tolerances import find_standard
from site_src.calculators import CALCULATORS
from site_src.calculators.answer import plain
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    DECIMALS,
    AxisField,
    Choice,
    ChoiceField,
    FieldError,
    NumberField,
    PowerField,
    PrescriptionField,
    TextField,
    on_field,
    read_form,
)

TRANSPOSITION = CALCULATORS["transposition"]
READINGS = CALCULATORS["cylinder-from-two-readings"]
VERIFICATION = CALCULATORS["verification"]

FORM = (
    PowerField("power", "Power read"),
    PowerField("zero", "Scale zero", optional=True),
    AxisField("wheel", "Wheel"),
    AxisField("second_axis", "Second axis", optional=True),
    PrescriptionField("lens", "Lens ordered"),
    ChoiceField(
        "side", "Side", choices=(Choice("front", "the front", 1), Choice("back", "the back", 2))
    ),
    DECIMALS,
)
GOOD = {"power": "-2.25", "wheel": "90", "lens": "-1.00 DS"}


def faults(texts: dict[str, str]) -> list[FieldError]:
    """What is wrong with a form, if anything is."""
    try:
        read_form(FORM, texts)
    except ExceptionGroup as group:
        return [error for error in group.exceptions if isinstance(error, FieldError)]
    return []


def problems(texts: dict[str, str]) -> list[tuple[str, str]]:
    """Field and sentence of each wrong entry."""
    return [(error.field, error.message) for error in faults(texts)]


def refusal(calculator: Calculator, texts: dict[str, str]) -> tuple[str, str]:
    """Field and sentence of the refusal of entries that do not go together."""
    with pytest.raises(FieldError) as refused:
        calculator.answer(texts)
    assert str(refused.value) == refused.value.message
    return refused.value.field, refused.value.message


def power(text: str) -> list[str]:
    """What is said of the entry of a power, sign key and all."""
    return [message for _, message in problems({**GOOD, "power": text})]


# Values -------------------------------------------------------------------------------------------


def test_every_entry_becomes_a_value() -> None:
    texts = {
        "power": "−2,25",
        "zero": "+0.12",
        "wheel": "005",
        "second_axis": "0",
        "lens": "-1.37/-0.62x5",
        "side": "back",
        "decimals": "eighths",
    }
    assert read_form(FORM, texts) == {
        "power": -2.25,
        "zero": 0.125,
        "wheel": 5.0,
        "second_axis": 180.0,
        "lens": read_prescription("-1.37/-0.62x5"),
        "side": 2,
        "decimals": Decimals.EIGHTHS,
    }


def test_an_optional_entry_may_be_empty_and_a_choice_has_its_usual_value() -> None:
    values = read_form(FORM, GOOD)
    assert (values["zero"], values["second_axis"]) == (None, None)
    assert (values["side"], values["decimals"]) == (1, Decimals.EIGHTHS)


@pytest.mark.parametrize("nothing", ["", "  ", "\t\u00a0", "+", "-", "−", " − "])
def test_the_sign_key_alone_is_no_entry(nothing: str) -> None:
    assert read_form(FORM, {**GOOD, "zero": nothing})["zero"] is None
    assert problems({**GOOD, "power": nothing}) == [
        ("power", "Power read: nothing was entered. Enter a power from −30 to +30 D.")
    ]


@pytest.mark.parametrize(
    ("decimals", "power"), [("", -0.125), ("eighths", -0.125), ("literal", -0.12)]
)
def test_the_choice_of_decimals_counts_for_every_entry(decimals: str, power: float) -> None:
    texts = {**GOOD, "power": "-0.12", "zero": "-0,12", "lens": "-0.12 DS", "decimals": decimals}
    values = read_form(FORM, texts)
    lens = values["lens"]
    assert values["power"] == values["zero"] == power
    assert lens == read_prescription("-0.12 DS", Decimals(decimals or "eighths"))


def test_a_choice_says_its_words() -> None:
    side = FORM[5]
    assert isinstance(side, ChoiceField)
    assert [side.words(text) for text in ("", "front", "back", "up")] == [
        "the front",
        "the front",
        "the back",
        "up",
    ]


# Refusals -----------------------------------------------------------------------------------------


def test_every_wrong_entry_is_named_in_the_order_of_the_form() -> None:
    texts = {
        "bogus": "1",
        "decimals": "thirds",
        "side": "top",
        "lens": "-2.00 -1.00",
        "second_axis": "181",
        "wheel": "",
        "zero": "0.50",
        "power": "+-1",
    }
    assert problems(texts) == [
        (
            "power",
            "Power read: Two signs together, “+−”, were read in “+−1”. Write + or −, one only.",
        ),
        (
            "zero",
            "Scale zero: “0.50” has no sign. Write +0.50 or −0.50: a power always has its sign.",
        ),
        ("wheel", "Wheel: nothing was entered. Enter an axis from 1 to 180."),
        (
            "second_axis",
            (
                "Second axis: The axis “181” is not on the scale. An axis is a number from 1 to "
                "180 without a sign (0 is written 180)."
            ),
        ),
        (
            "lens",
            (
                "Lens ordered: The cylinder −1.00 has no axis. Write the axis after it, for "
                "example −1.00 × 090."
            ),
        ),
        ("side", "Side: “top” is not one of the choices: front, back."),
        (
            "decimals",
            "An entry of 0.12 means: “thirds” is not one of the choices: eighths, literal.",
        ),
        (
            "",
            (
                "There is no field “bogus” here; the fields are decimals, lens, power, "
                "second_axis, side, wheel, zero."
            ),
        ),
    ]


def test_an_empty_form_asks_for_what_it_needs() -> None:
    assert problems({}) == [
        ("power", "Power read: nothing was entered. Enter a power from −30 to +30 D."),
        ("wheel", "Wheel: nothing was entered. Enter an axis from 1 to 180."),
        ("lens", "Lens ordered: nothing was entered. Enter a lens such as −2.25 −0.75 × 105."),
    ]


@pytest.mark.parametrize("text", ["+", "-", "Front", "the front", "front;", "1", "x" * 500])
def test_a_choice_is_taken_word_for_word(text: str) -> None:
    ((field, message),) = problems({**GOOD, "side": text})
    assert field == "side"
    assert message == f"Side: “{text[:60]}” is not one of the choices: front, back."


def test_a_long_name_or_text_is_not_repeated_in_full() -> None:
    ((field, message),) = problems({**GOOD, "n" * 10_000: "1"})
    assert (field, "“" + "n" * 40 + "”" in message) == ("", True)
    ((field, message),) = problems({**GOOD, "lens": "9" * 100_000})
    assert field == "lens"
    assert message.startswith("Lens ordered: More than 200 characters were written. Write a power")


@pytest.mark.parametrize("text", ["plano", "-plano", "+PL", "−pl.", "-plano DS", "+∞"])
def test_plano_is_a_power_of_0_whatever_the_sign_key_shows(text: str) -> None:
    assert read_form(FORM, {**GOOD, "power": text})["power"] == 0.0


def test_the_sign_of_the_key_is_not_quoted_before_a_word() -> None:
    for text in ("hello", "-hello", "+hello", "−hello"):
        (said,) = power(text)
        assert said == (
            "Power read: A power is missing in “hello”: “hello” was read in its place. "
            "Write −2.25, 0.00 or +2.25."
        )
    assert "Two signs together, “−−”" in power("--2")[0]
    assert "“−−”" in power("--")[0]
    assert "A power is missing in “+D−2.00”" in power("+D-2.00")[0]  # which sign is meant?


@given(
    st.dictionaries(
        st.sampled_from([field.name for field in FORM]) | st.text(max_size=5), st.text(max_size=12)
    )
)
def test_any_form_is_read_or_every_fault_named(texts: dict[str, str]) -> None:
    found = faults(texts)
    if not found:
        assert list(read_form(FORM, texts)) == [field.name for field in FORM]
        assert set(texts) <= {field.name for field in FORM}
    labels = {field.name: f"{field.full_label}: " for field in FORM}
    places = [[*labels, ""].index(error.field) for error in found]
    assert places == sorted(places)
    for error in found:
        assert error.message.startswith(labels.get(error.field, "There is no field “"))
        assert error.message.endswith(".")


def test_a_refusal_of_the_optics_is_put_down_to_a_field() -> None:
    with pytest.raises(FieldError) as refused, on_field("zero"):
        raise LensError("No.")
    assert (refused.value.field, refused.value.message) == ("zero", "No.")
    with pytest.raises(ValueError, match="a slip of ours"), on_field("zero"):
        raise ValueError("a slip of ours")


# Entries that do not go together, in each calculator ----------------------------------------------


@pytest.mark.parametrize(
    ("texts", "field", "message"),
    [
        (
            {"first": "-2.00"},
            "second",
            (
                "Second sharp reading: Only the sphere lines were sharp at −2.00 D; give the "
                "second reading, where the other set is sharp."
            ),
        ),
        (
            {"first": "-2.00", "lines": "cylinder", "wheel": "90"},
            "second",
            (
                "Second sharp reading: Only the cylinder lines were sharp at −2.00 D; give the "
                "second reading, where the other set is sharp."
            ),
        ),
        (
            {"first": "-2.00", "second": "-3.00", "lines": "both"},
            "lines",
            (
                "Sharp at the first reading: Both sets of lines were noted as sharp at once, which "
                "is one reading, but the readings go from −2.00 D to −3.00 D; leave the second "
                "out, or say which lines were sharp first."
            ),
        ),
        (
            {"first": "-2.00", "second": "-3.00"},
            "wheel",
            (
                "Axis wheel: The readings differ, so the lens has a cylinder of −1.00 D; give the "
                "axis wheel, from 1 to 180 degrees."
            ),
        ),
        (
            {"first": "-2.00", "second": "-3.00", "wheel": "90", "turned": "plus"},
            "turned",
            (
                "Drum turned, as you noted it: The drum was noted as turned toward plus, but from "
                "−2.00 D to −3.00 D it goes toward minus; check the sign of both readings."
            ),
        ),
        (
            {"first": "-2.00", "second": "-2.00", "turned": "minus"},
            "turned",
            (
                "Drum turned, as you noted it: The drum was noted as turned toward minus, but from "
                "−2.00 D to −2.00 D it goes neither way; check the sign of both readings."
            ),
        ),
    ],
)
def test_readings_that_do_not_go_together(texts: dict[str, str], field: str, message: str) -> None:
    assert refusal(READINGS, texts) == (field, message)


@pytest.mark.parametrize(
    ("texts", "field", "says"),
    [
        (
            {"cylinder": "-0.75", "measured_axis": "5"},
            "sphere",
            (
                "Measured sphere: nothing was entered, but the cylinder or the axis was. Enter all "
                "that was measured, or leave all of it empty to see the pass window."
            ),
        ),
        (
            {"measured_axis": "5"},
            "sphere",
            (
                "Measured sphere: nothing was entered, but the cylinder or the axis was. Enter all "
                "that was measured, or leave all of it empty to see the pass window."
            ),
        ),
        (
            {"sphere": "-2.00", "measured_axis": "5"},
            "cylinder",
            (
                "Measured cylinder: nothing was entered, but the axis was. Enter the cylinder, or "
                "for a sphere no axis."
            ),
        ),
        (
            {"sphere": "-2.00", "cylinder": "-0.75"},
            "measured_axis",
            (
                "Measured axis: A cylinder of −0.75 D was given without an axis; a cylinder needs "
                "an axis from 1 to 180."
            ),
        ),
    ],
)
def test_a_lens_measured_in_part(texts: dict[str, str], field: str, says: str) -> None:
    assert refusal(VERIFICATION, {"ordered": "-2.00 -0.75 x 5", **texts}) == (field, says)


@pytest.mark.parametrize("calculator", CALCULATORS.values(), ids=CALCULATORS)
def test_a_calculator_names_each_of_its_own_fields(calculator: Calculator) -> None:
    """Each field in turn refuses nonsense, by its label and under its name.

    A text is nonsense to a field only when it is too long to be an answer.
    """
    entered = calculator.examples[0].given
    for field in calculator.fields:
        text = "nonsense" * (30 if isinstance(field, TextField) else 1)
        with pytest.raises(ExceptionGroup) as group:
            calculator.answer({**entered, field.name: text})
        (error,) = group.value.exceptions
        assert isinstance(error, FieldError)
        assert error.field == field.name
        assert error.message.startswith(f"{field.full_label}: ")
        assert error.message.endswith(".")
        assert f"“{text[:40]}" in error.message


# Numbers ------------------------------------------------------------------------------------------

PD = NumberField("pd", "PD", unit="mm", low=20, high=45)


@pytest.mark.parametrize(
    ("text", "value"),
    [("31", 31), ("31.5", 31.5), ("31,5", 31.5), ("31.5 mm", 31.5), ("31mm", 31), ("20", 20)],
)
def test_a_number_as_people_type_it(text: str, value: float) -> None:
    assert PD.parse(text, Decimals.EIGHTHS) == value


def test_halves_quarters_and_eighths_may_be_fractions_and_per_cent_has_its_sign() -> None:
    part = NumberField("part", "Part", unit="%")
    texts = ("1/8", "3/8", "1/4 %", "1/2", "50%", "50 %", "50")
    assert [part.parse(text, Decimals.LITERAL) for text in texts] == [
        *(0.125, 0.375, 0.25, 0.5),
        *(50, 50, 50),
    ]
    for text in ("1/0", "1/3", "1/16", "31/2", "0/8", "1/8.5", "1e9", "5°"):
        with pytest.raises(LensError) as refused:
            part.parse(text, Decimals.LITERAL)
        assert str(refused.value) == f"“{text}” is not a number. Enter a number from 0 to 100 %."


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("31.5.2", "“31.5.2” is not a number. Enter a number from 20 to 45 mm."),
        ("-31", "“-31” has a sign, and none is wanted here. Enter a number from 20 to 45 mm."),
        ("−31", "“−31” has a sign, and none is wanted here. Enter a number from 20 to 45 mm."),
        ("1e1", "“1e1” is not a number. Enter a number from 20 to 45 mm."),
        ("٣١", "“٣١” is not a number. Enter a number from 20 to 45 mm."),
        ("19.9", "19.9 was entered; it has to be from 20 to 45 mm."),
        ("3150", "3150 was entered; it has to be from 20 to 45 mm."),
    ],
)
def test_what_is_no_number_or_out_of_range_is_said(text: str, says: str) -> None:
    with pytest.raises(LensError) as refused:
        PD.parse(text, Decimals.EIGHTHS)
    assert str(refused.value) == says


@pytest.mark.parametrize(
    ("slug", "name"),
    [
        ("addition-from-readings", "percent"),
        ("near-and-intermediate", "percent"),
        ("splitting-prism", "share"),
    ],
)
def test_a_share_may_have_its_sign(slug: str, name: str) -> None:
    entered = CALCULATORS[slug].examples[0].given
    shared, signed = (CALCULATORS[slug].answer({**entered, name: text}) for text in ("40", "40 %"))
    assert shared == signed


def test_a_number_that_names_something_is_whole() -> None:
    number = NumberField("number", "Number", low=1, high=9, whole=True)
    assert [number.parse(text, Decimals.EIGHTHS) for text in ("7", "7.0", "7,0")] == [7, 7, 7]
    with pytest.raises(LensError) as refused:
        number.parse("7,5", Decimals.EIGHTHS)
    assert str(refused.value) == "7,5 is not whole. Enter a whole number from 1 to 9."


def test_an_error_in_a_group_names_the_group() -> None:
    with pytest.raises(ExceptionGroup) as group:
        read_form((replace(PD, group="Right eye"),), {"pd": "7"})
    (error,) = group.value.exceptions
    assert isinstance(error, FieldError)
    assert error.message == "Right eye: PD: 7 was entered; it has to be from 20 to 45 mm."


# What the fields of the calculators mean ----------------------------------------------------------


def test_a_sphere_with_a_zero_error() -> None:
    """A sphere read at once, or read twice alike, loses the zero error once."""
    once = READINGS.answer({"first": "-2.00", "lines": "both", "zero": "-0.25"})
    twice = READINGS.answer({"first": "-2.00", "second": "-2.00", "zero": "-0.25"})
    assert plain(once.headline) == plain(twice.headline) == "−1.75 DS"
    assert [step.numbers for step in once.steps] == ["−2.00 − (−0.25)", ""]


def test_the_choices_mean_what_they_say() -> None:
    values = read_form(READINGS.fields, {"first": "-1", "lines": "cylinder", "turned": "minus"})
    assert (values["lines"], values["turned"]) == (Lines.CYLINDER, Direction.MINUS)
    values = read_form(READINGS.fields, {"first": "-1"})
    assert (values["lines"], values["turned"]) == (Lines.SPHERE, None)
    standard = read_form(VERIFICATION.fields, {"ordered": "-1", "standard": "iso-21987-2017"})
    assert standard["standard"] == find_standard("iso-21987-2017")


def test_the_table_of_each_standard_can_be_chosen() -> None:
    """One name: the text in the address, the key of the standard, the key of its source."""
    (standards,) = (field for field in VERIFICATION.fields if field.name == "standard")
    assert isinstance(standards, ChoiceField)
    for choice in standards.choices:
        assert find_standard(choice.text) is choice.value
        answer = VERIFICATION.answer({"ordered": "-2 -1 x 90", "standard": choice.text})
        assert answer.sources[0] == choice.text


# Declarations that cannot work --------------------------------------------------------------------


def test_a_calculator_is_refused_when_solve_and_fields_differ() -> None:
    with pytest.raises(TypeError, match="solve takes"):
        Calculator(
            slug="wrong",
            title="Wrong",
            purpose="None.",
            fields=(DECIMALS,),
            solve=TRANSPOSITION.solve,
            examples=(Example({}, {}),),
        )


def test_a_calculator_is_refused_without_an_example() -> None:
    with pytest.raises(TypeError, match="needs a worked example"):
        Calculator(
            slug="wrong",
            title="Wrong",
            purpose="None.",
            fields=TRANSPOSITION.fields,
            solve=TRANSPOSITION.solve,
            examples=(),
        )
