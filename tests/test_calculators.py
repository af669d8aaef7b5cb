"""Every calculator, from the one registry: its examples, sums, marked numbers and words."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from html.parser import HTMLParser

import pytest
from hypothesis import example, given, reject, settings
from hypothesis import strategies as st

from lensmath.notation import write_crossed, write_exact, write_lens
from lensmath.power import LensPower
from site_src.calculators import CALCULATORS
from site_src.calculators.answer import (
    Answer,
    Datum,
    Step,
    amount,
    axis,
    degrees,
    plain,
    power,
    say,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import ChoiceField, Field, FieldError, NumberField
from site_src.calculators.render import answer_as_text, answer_html, bibliography
from tests import pocket
from tests.printed import Row, as_printed, published

SOURCES = bibliography()
EXAMPLES = [
    pytest.param(calculator, example, id=f"{calculator.slug}-{number}")
    for calculator in CALCULATORS.values()
    for number, example in enumerate(calculator.examples, 1)
]
each_example = pytest.mark.parametrize(("calculator", "example"), EXAMPLES)
each_calculator = pytest.mark.parametrize("calculator", CALCULATORS.values(), ids=CALCULATORS)

TRANSPOSITION = CALCULATORS["transposition"]
READINGS = CALCULATORS["cylinder-from-two-readings"]
VERIFICATION = CALCULATORS["verification"]


# What is typed ------------------------------------------------------------------------------------


def typed(power: float, *, minus: str, comma: bool) -> str:
    """A power as somebody types it: an eighth with all three decimals, the rest with two."""
    text = write_exact(power).replace("−", minus)
    return text.replace(".", ",") if comma else text


TYPED_POWERS = st.builds(
    typed,
    st.integers(-1800, 1800).map(lambda n: n / 100) | st.integers(-144, 144).map(lambda n: n / 8),
    minus=st.sampled_from("-−"),
    comma=st.booleans(),
)
POWERS = st.integers(-800, 800).map(lambda n: n / 100) | st.integers(-64, 64).map(lambda n: n / 8)
AXES = st.one_of(
    st.sampled_from(["1", "90", "91", "179", "180"]),
    st.integers(1, 180).map(str),
    st.integers(2, 360).map(lambda n: f"{n / 2:g}"),
)
LENSES = st.builds(LensPower, POWERS, POWERS, AXES.map(float))
EXTRAS = st.sampled_from(["", "", "", " add +2.25", " 2 BU 1.5 BI"])
PRESCRIPTIONS = st.builds(
    lambda written, extras: written + extras,
    LENSES.map(write_lens) | LENSES.map(write_crossed),
    EXTRAS,
)
# Answers to drills, of every kind that there is.
ANSWERS = st.one_of(
    TYPED_POWERS,
    AXES,
    PRESCRIPTIONS,
    st.sampled_from(["2.00 BD", "BU&I @ 045", "three quarters", "3.5 mm in", "inside", "217"]),
)


def numbers(field: NumberField) -> st.SearchStrategy[str]:
    """Numbers as somebody types them: whole, with a decimal or two, and both ends."""
    low, high = math.ceil(100 * field.low), math.floor(100 * field.high)
    coarse, fine = st.integers(low // 100, high // 100), st.integers(low, high)
    ends = st.sampled_from([field.low, field.high])
    if field.whole:
        return coarse.map(str)
    texts = st.one_of(ends, coarse, fine.map(lambda n: n // 10 / 10), fine.map(lambda n: n / 100))
    return texts.filter(lambda n: field.low <= n <= field.high).map(lambda n: f"{n:g}")


def entry(field: Field) -> st.SearchStrategy[str]:
    """Texts for a field that it may well take; an optional one is sometimes left empty."""
    if isinstance(field, ChoiceField):
        choices = [choice.text for choice in field.choices]
        return st.sampled_from(["", choices[0], choices[0], *choices])
    if isinstance(field, NumberField):
        texts = numbers(field)
    else:
        kinds = {"power": TYPED_POWERS, "axis": AXES, "prescription": PRESCRIPTIONS}
        texts = {**kinds, "text": ANSWERS}[field.kind]
    return st.one_of(texts, texts, texts, st.just("")) if field.optional else texts


def entries(calculator: Calculator) -> st.SearchStrategy[dict[str, str]]:
    """Any entries; or those of an example, a few of them changed, which more often go together."""
    anything = st.fixed_dictionaries({field.name: entry(field) for field in calculator.fields})
    few = st.sets(st.sampled_from([field.name for field in calculator.fields]), max_size=3)
    examples = st.sampled_from([dict(example.given) for example in calculator.examples])
    changed = st.builds(
        lambda given, other, names: {**given, **{name: other[name] for name in names}},
        examples,
        anything,
        few,
    )
    return st.one_of(anything, changed, changed)


def answered(calculator: Calculator, entered: Mapping[str, str]) -> Answer:
    """The answer; entries that do not go together are not looked at further."""
    try:
        return calculator.answer(entered)
    except FieldError:
        reject()


# The answer as HTML -------------------------------------------------------------------------------


@dataclass
class Marked:
    """A `<data>` element."""

    name: str
    value: str
    shown: str = ""


class Page(HTMLParser):
    """The text of a piece of HTML, and the numbers marked in it."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.marked: list[Marked] = []
        self.classes: list[str] = []
        self._texts: list[str] = []
        self._inside = False
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.classes += (found.get("class") or "").split()
        if tag == "data":
            self.marked.append(Marked(found["data-name"] or "", found["value"] or ""))
            self._inside = True

    def handle_endtag(self, tag: str) -> None:
        if tag == "data":
            self._inside = False

    def handle_data(self, data: str) -> None:
        self._texts.append(data)
        if self._inside:
            self.marked[-1].shown += data

    @cached_property
    def text(self) -> str:
        return " ".join("".join(self._texts).split())


# Examples -----------------------------------------------------------------------------------------


@each_example
def test_an_example_comes_out_as_printed(calculator: Calculator, example: Example) -> None:
    values = calculator.answer(example.given).values()
    assert {name: values[name].shown for name in example.prints} == example.prints
    assert example.prints, "an example without a figure proves nothing"


@pytest.mark.parametrize("example", [each.values[1] for each in EXAMPLES])
def test_an_example_names_its_source_or_says_that_it_is_invented(example: Example) -> None:
    if example.source:
        assert SOURCES[example.source].seen not in ("no text", "not seen")
    else:
        assert "invented" in example.note


@each_calculator
def test_a_calculator_has_a_published_example(calculator: Calculator) -> None:
    assert any(example.source for example in calculator.examples)


@each_calculator
def test_the_example_on_the_page_fills_every_field_that_it_needs(calculator: Calculator) -> None:
    texts = calculator.example_texts()
    assert list(texts) == [field.name for field in calculator.fields]
    assert (
        calculator.answer(texts).values()
        == calculator.answer(calculator.examples[0].given).values()
    )


@each_calculator
def test_labels_and_hints_are_there_and_labels_differ(calculator: Calculator) -> None:
    labels = [field.full_label for field in calculator.fields]
    assert len(set(labels)) == len(labels)
    assert all(field.label and (field.hint or field.group) for field in calculator.fields)


EACH_EYE = ("addition", "cylinder", "fitting_point_distance", "fitting_point_height")
OF_A_ROW = ("difference", "limit", "measured", "ordered", "share", "verdict")


def names_of_rows(*stems: str, others: str) -> str:
    """The names of the values of an inspection, sorted."""
    rows = [f"{stem}.{each}" for stem in stems for each in OF_A_ROW]
    return " ".join(sorted([*rows, *others.split()]))


NAMES = {
    TRANSPOSITION.slug: (
        "crossed.first.axis crossed.first.power crossed.second.axis crossed.second.power form "
        "mean_sphere minus.axis minus.cylinder minus.sphere new.axis new.cylinder new.sphere "
        "plus.axis plus.cylinder plus.sphere"
    ),
    READINGS.slug: (
        "axis crossed.first.axis crossed.first.power crossed.second.axis crossed.second.power "
        "cylinder form plus.axis plus.cylinder plus.sphere sphere travel"
    ),
    "pair-from-readings": (
        "left.axis left.first.corrected left.form left.minus.axis left.minus.cylinder "
        "left.minus.sphere left.plus.axis left.plus.cylinder left.plus.sphere "
        "left.second.corrected left.sphere left.travel right.axis right.first.corrected "
        "right.form right.minus.axis right.minus.cylinder right.minus.sphere right.plus.axis "
        "right.plus.cylinder right.plus.sphere right.second.corrected right.sphere right.travel"
    ),
    "axis-from-other-side": "axis read",
    "addition-from-readings": (
        "addition intermediate.addition intermediate.reading measured_as stop"
    ),
    "prism-from-rings": (
        "amount base eye horizontal horizontal.base target.x target.y vertical vertical.base"
    ),
    "what-to-write": (
        "axis comma cylinder cylinder.count lost.mean_sphere lost.most plus.axis plus.cylinder "
        "plus.sphere sphere sphere.count"
    ),
    "mean-sphere": (
        "across along form half left_out.axis left_out.cylinder left_out.sphere mean_sphere"
    ),
    "near-and-intermediate": (
        "addition intermediate.axis intermediate.cylinder intermediate.sphere "
        "intermediate_addition near.axis near.cylinder near.sphere"
    ),
    "power-in-a-meridian": "across across.meridian angle cross form meridian power",
    "adding-powers": (
        "axis cylinder first.axis first.cylinder first.j0 first.j45 first.m first.sphere "
        "half_cylinder mean_sphere plus.axis plus.cylinder plus.sphere result.j0 result.j45 "
        "result.m second.axis second.cylinder second.j0 second.j45 second.m second.sphere sphere "
        "worked.axis worked.cylinder worked.sphere"
    ),
    VERIFICATION.slug: (
        "axis.difference axis.limit axis.measured axis.ordered axis.share axis.verdict "
        "cylinder.difference cylinder.limit cylinder.measured cylinder.ordered cylinder.share "
        "cylinder.verdict meridian.5.difference meridian.5.limit meridian.5.measured "
        "meridian.5.ordered meridian.5.share meridian.5.verdict verdict worst.share"
    ),
    "pass-window": (
        "addition.highest addition.limit addition.lowest addition.marks addition.ordered "
        "axis.highest axis.limit axis.lowest axis.ordered cylinder.highest cylinder.limit "
        "cylinder.lowest cylinder.marks cylinder.ordered meridian.178.highest "
        "meridian.178.limit meridian.178.lowest meridian.178.marks meridian.178.ordered "
        "ordered.axis ordered.cylinder ordered.sphere"
    ),
    "pair-inspection": names_of_rows(
        "fitting_point_height_difference",
        "horizontal_imbalance",
        *(f"left.{each}" for each in (*EACH_EYE, "meridian.180")),
        *(f"right.{each}" for each in (*EACH_EYE, "axis", "meridian.5")),
        "vertical_imbalance",
        others="verdict worst.row worst.share",
    ),
    "close-call": (
        "away clear.inside clear.outside expanded instrument.u k lasting mean.1.u mean.1.verdict "
        "mean.10.inside mean.10.u mean.10.verdict mean.2.u mean.2.verdict mean.20.inside "
        "mean.20.u mean.20.verdict mean.3.inside mean.3.u mean.3.verdict mean.4.inside mean.4.u "
        "mean.4.verdict mean.5.inside mean.5.u mean.5.verdict permitted probability reader.u "
        "scale.u u verdict"
    ),
    "decentration-and-blank": (
        "blank blank.bare common frame_pd left.blank left.blank.bare left.decentration "
        "left.decentration.way right.blank right.blank.bare right.decentration "
        "right.decentration.way"
    ),
    "segment-inset-and-drop": (
        "frame_pd left.decentration left.decentration.way left.drop left.drop.way "
        "left.height left.inset left.inset.way left.total_inset left.total_inset.way "
        "near_pd right.decentration right.decentration.way right.drop right.drop.way "
        "right.height right.inset right.inset.way right.total_inset right.total_inset.way"
    ),
    "three-spots": (
        "centre.distance centre.inward centre.inward.way frame_pd horizontal "
        "horizontal.base middle.decentration middle.decentration.way middle.up "
        "middle.up.way nose.decentration nose.decentration.way nose.up nose.up.way "
        "ring.across ring.across.way spacing temple.decentration temple.decentration.way "
        "temple.up temple.up.way"
    ),
    "vertex-distance": (
        "across along at.11.axis at.11.cylinder at.11.sphere at.13.axis at.13.cylinder "
        "at.13.sphere at.15.axis at.15.cylinder at.15.sphere at.17.axis at.17.cylinder "
        "at.17.sphere at.19.axis at.19.cylinder at.19.sphere axis change.across change.along "
        "cylinder further least.0.125 least.0.125.minus least.0.125.plus least.0.25 "
        "least.0.25.minus least.0.25.plus new.cylinder old.across quarter.axis quarter.cylinder "
        "quarter.sphere sphere"
    ),
    "tilt-and-face-form": (
        "by_hand.across by_hand.along factor martin.axis martin.cylinder martin.order.axis "
        "martin.order.cylinder martin.order.sphere martin.sphere order.axis order.cylinder "
        "order.sphere prism.vertical thin.axis thin.cylinder thin.order.axis "
        "thin.order.cylinder thin.order.sphere thin.sphere tilt.angle tilt.axis traced.axis "
        "traced.cylinder traced.order.axis traced.order.cylinder traced.order.sphere "
        "traced.sphere worn.axis worn.cylinder worn.sphere"
    ),
    "front-and-back-vertex": "back_vertex equivalent front_vertex nominal short_rule",
    "lens-clock": (
        "axis base.along base.power cross.along cross.power cylinder first.radius first.true "
        "noted.cylinder second.radius second.true sphere"
    ),
    "lens-thickness": (
        "at.120.back at.120.depth at.120.edge at.30.back at.30.depth at.30.edge back.120.radius "
        "back.30.radius base.along base.power centre cross.along cross.power edge.thickest "
        "edge.thickest.along edge.thinnest edge.thinnest.along front.depth front.radius "
        "front.short_rule noted.back.120 noted.back.120.depth noted.back.30 noted.back.30.depth "
        "noted.centre noted.edge.back.120 noted.edge.back.30 noted.front.depth"
    ),
    "reference-wavelength": ("axis change cylinder index.e noted.c noted.s ratio share sphere"),
    "unseen-lens": "sphere_lines",
    "slab-off": (
        "left.way.y left.y reverse.amount reverse.base reverse.eye right.fv right.way.y "
        "right.y slab.amount slab.base slab.eye vertical"
    ),
    "image-jump": "jump",
    "base-notation": (
        "amount base horizontal horizontal.base letters line neutralised.amount "
        "neutralised.base vertical vertical.base x y"
    ),
    "splitting-prism": (
        "horizontal horizontal.base left.horizontal left.horizontal.base left.vertical "
        "left.vertical.base right.horizontal right.horizontal.base right.vertical "
        "right.vertical.base vertical vertical.base"
    ),
    "prism-imbalance": (
        "left.vertical left.vertical.base right.vertical right.vertical.base vertical "
        "vertical.base vertical.left vertical.left.base"
    ),
    "centration-prism": (
        "horizontal horizontal.base left.horizontal left.horizontal.base left.way.x "
        "left.way.y left.x right.horizontal right.horizontal.base right.way.x right.way.y "
        "right.x"
    ),
    "near-imbalance": (
        "left.vertical left.vertical.base left.way.y left.y right.vertical "
        "right.vertical.base right.way.y right.y vertical vertical.base vertical.left "
        "vertical.left.base"
    ),
    "prism-by-decentration": (
        "amount base fh fv fx horizontal horizontal.base vertical vertical.base way.x way.y x y"
    ),
    "decentration-for-prism": "found.inward inward way.x x y",
    "resolving-prism": (
        "horizontal horizontal.base other.horizontal other.horizontal.base other.vertical "
        "other.vertical.base vertical vertical.base x y"
    ),
    "drill": "question",
    "which-slip": (
        "axis explanation.1 explanation.1.axis explanation.1.cylinder explanation.1.sphere form "
        "other_form.axis other_form.cylinder other_form.sphere right.axis right.cylinder "
        "right.sphere sphere travel verdict"
    ),
    "compounding-prisms": (
        "amount base first.x first.y horizontal horizontal.base second.x second.y vertical "
        "vertical.base x y"
    ),
}


@each_calculator
def test_the_names_of_the_values_stay(calculator: Calculator) -> None:
    """Addresses, scripts and tests ask for values by these names."""
    values = calculator.answer(calculator.examples[0].given).values()
    assert " ".join(sorted(values)) == NAMES[calculator.slug]


# What every answer keeps to -----------------------------------------------------------------------


def every_sum_works_out(answer: Answer) -> None:
    """A pocket calculator gives, from the shown digits, each shown result."""
    for step in answer.steps:
        assert step.what.endswith(".")
        assert bool(step.formula) <= bool(step.numbers) <= bool(step.result), step
        if step.numbers:
            result = pocket.shown(plain(step.result))
            off = abs(pocket.worked_out(step.numbers) - result)
            assert off <= pocket.half_a_unit(result), (step.numbers, plain(step.result))


def every_number_is_marked(answer: Answer, page: Page) -> None:
    """Each datum stands in a <data> with its name, its full value and its shown text."""
    values = answer.values()
    pieces = [piece for line in answer.lines() for piece in line if isinstance(piece, Datum)]
    assert sorted((mark.name, mark.value, mark.shown) for mark in page.marked) == sorted(
        (piece.name, str(piece.value), piece.shown) for piece in pieces
    )
    assert {mark.name for mark in page.marked} == set(values)
    for mark in page.marked:
        assert re.fullmatch(r"[a-z0-9_.]+", mark.name)
        value = values[mark.name].value
        assert (mark.value if isinstance(value, str) else float(mark.value)) == value


# A designation such as Z80.1-2015 has a hyphen; a minus stands before a number of its own.
UGLY = re.compile(
    r"(?<![\w])-\s?[.,\d]|[-−+±]0[.,]00(?!\d)|\b(nan|None|inf|True|False)\b|[{}]|\be-?\d"
)


def every_word_is_for_people(answer: Answer, page: Page, text: str) -> None:
    for shown in (page.text, text, *(figure.description for figure in answer.figures)):
        assert UGLY.search(shown) is None, UGLY.search(shown)


def the_working_is_on_the_page(answer: Answer, page: Page) -> None:
    for step in answer.steps:
        for part in (step.what, step.formula, step.numbers, plain(step.result)):
            assert " ".join(part.split()) in page.text
    assert page.classes.count("formula") == sum(bool(step.formula) for step in answer.steps)
    for caution in answer.cautions:
        assert caution in page.text


def the_figures_say_what_they_show(answer: Answer, page: Page) -> None:
    # A picture of a problem would be its answer, and not every skill has one.
    assert answer.figures or "question" in answer.values()
    for figure in answer.figures:
        assert figure.title
        assert figure.description.endswith(".")
        assert " ".join(figure.description.split()) in page.text  # as its caption


def the_copy_is_whole(
    calculator: Calculator, entered: Mapping[str, str], answer: Answer, text: str
) -> None:
    assert text.startswith(f"{calculator.title}\n")
    assert f"\n{plain(answer.headline)}\n" in text
    for field in calculator.fields:
        typed = entered.get(field.name, "").replace("-", "−")
        if isinstance(field, ChoiceField):
            assert f"  {field.full_label}: {field.words(typed.replace('−', '-'))}\n" in text
        elif typed:
            assert f"  {field.full_label}: {typed}\n" in text
    for step in answer.steps:
        assert step.what in text
        assert plain(step.result) in text
    for caution in answer.cautions:
        assert f"Caution: {caution}\n" in text


def keeps_to_the_rules(calculator: Calculator, entered: Mapping[str, str], answer: Answer) -> None:
    page, text = Page(answer_html(answer, "../")), answer_as_text(calculator, entered, answer)
    every_sum_works_out(answer)
    every_number_is_marked(answer, page)
    every_word_is_for_people(answer, page, text)
    the_working_is_on_the_page(answer, page)
    the_figures_say_what_they_show(answer, page)
    the_copy_is_whole(calculator, entered, answer, text)
    assert set(answer.sources) <= set(SOURCES)
    assert answer.sources


@each_example
def test_an_example_keeps_to_the_rules(calculator: Calculator, example: Example) -> None:
    keeps_to_the_rules(calculator, example.given, calculator.answer(example.given))


@each_calculator
@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_any_answer_keeps_to_the_rules(calculator: Calculator, data: st.DataObject) -> None:
    entered = data.draw(entries(calculator))
    keeps_to_the_rules(calculator, entered, answered(calculator, entered))


# The pieces of an answer --------------------------------------------------------------------------


def test_a_sentence_takes_data_lines_and_text() -> None:
    line = say(
        "{lens} by {who}, {share} %", lens=("A ", axis(5)), who="ANSI", share=amount(7, "s", 0)
    )
    assert plain(line) == "A 005 by ANSI, 7 %"
    with pytest.raises(KeyError):
        say("{missing}")


def test_data_are_shown_as_people_write_them() -> None:
    assert (power(-1.375).shown, power(-1.375, exact=True).shown) == ("−1.37", "−1.375")
    assert [power(value).sign for value in (-1, 0, 1)] == ["minus", "", "plus"]
    assert (degrees(7.04, "d").shown, degrees(7.05, "d").shown) == ("7", "7")
    assert (amount(-0.135, "a").shown, amount(0.5, "a", 0).shown) == ("0.14", "0")


def test_one_name_for_two_values_is_refused() -> None:
    answer = Answer(headline=say("{a} {b}", a=axis(5), b=axis(6)))
    with pytest.raises(ValueError, match="two values are named axis"):
        answer.values()


def test_a_sum_that_does_not_work_out_is_found() -> None:
    step = Step("Add.", "S + C", "+1.00 + (−1.50)", say("{power} D", power=power(-0.25)))
    with pytest.raises(AssertionError):
        every_sum_works_out(Answer(headline=("",), steps=(step,)))


# Transposition ------------------------------------------------------------------------------------


def typed_lens(row: Row, prefix: str = "") -> str:
    return f"{row[f'{prefix}sphere']} {row[f'{prefix}cylinder']} x {row[f'{prefix}axis']}"


def shown_as(printed: str, *, sphere: bool = False) -> str:
    """A printed power as the calculator shows it."""
    if sphere and float(printed) == 0:
        return "plano"
    return printed.replace("-", "−")


@published("transposition")
def test_transposition_as_printed(row: Row) -> None:
    answer = TRANSPOSITION.answer({"lens": typed_lens(row)})
    values = answer.values()
    form = "plus" if float(row["printed_cylinder"]) > 0 else "minus"
    for part in ("sphere", "cylinder", "axis"):
        assert values[f"{form}.{part}"].value == as_printed(row[f"printed_{part}"])
    printed = (
        shown_as(row["printed_sphere"], sphere=True),
        shown_as(row["printed_cylinder"]),
        row["printed_axis"],
    )
    assert plain(answer.headline) == f"{printed[0]} {printed[1]} × {printed[2]}"


@published("transposition")
def test_transposition_back_again(row: Row) -> None:
    answer = TRANSPOSITION.answer({"lens": typed_lens(row, "printed_")})
    form = "plus" if float(row["cylinder"]) > 0 else "minus"
    values = answer.values()
    assert values[f"{form}.sphere"].value == as_printed(row["sphere"])
    assert values[f"{form}.cylinder"].value == as_printed(row["cylinder"])
    assert values[f"{form}.axis"].value == as_printed(row["axis"])


@published("mean_sphere")
def test_mean_sphere_as_printed(row: Row) -> None:
    values = TRANSPOSITION.answer({"lens": typed_lens(row)}).values()
    assert values["mean_sphere"].value == as_printed(row["printed"], row["rounded_to"])


@published("crossed_cylinders")
def test_crossed_form_as_printed(row: Row) -> None:
    """The pair is printed in the form that was given; the calculator crosses the minus form."""
    values = TRANSPOSITION.answer({"lens": typed_lens(row)}).values()
    found = {
        (values[f"crossed.{which}.power"].shown, values[f"crossed.{which}.axis"].shown)
        for which in ("first", "second")
    }
    assert found == {
        (shown_as(row[f"printed_{which}_cylinder"]), row[f"printed_{which}_axis"])
        for which in ("first", "second")
    }


@pytest.mark.parametrize(
    "lens",
    [
        "-0.75 -2.50 x 112",
        "-3.25 +2.50 x 022",
        "-0.75 DC x 022 / -3.25 DC x 112",
        "-3.25 DC x 112 / -0.75 DC x 022",
    ],
)
def test_every_spelling_of_a_lens_has_the_same_forms(lens: str) -> None:
    lines = {plain(line) for line in TRANSPOSITION.answer({"lens": lens}).also}
    assert lines == {
        "Minus form: −0.75 −2.50 × 112",
        "Plus form: −3.25 +2.50 × 022",
        "Crossed form: −0.75 DC × 022 / −3.25 DC × 112",
        "Mean sphere: −2.00 D",
    }


def test_the_way_out_of_crossed_form_is_told_only_there() -> None:
    def told(lens: str) -> bool:
        steps = TRANSPOSITION.answer({"lens": lens}).steps
        return any("crossed form" in step.what for step in steps)

    assert told("-0.75 DC x 022 / -3.25 DC x 112")
    assert not told("-0.75 -2.50 x 112")


def test_a_sphere_has_nothing_to_transpose() -> None:
    answer = TRANSPOSITION.answer({"lens": "-3.00 DS"})
    assert plain(answer.headline) == "−3.00 DS"
    assert "no cylinder to transpose" in plain(answer.also[0])
    assert answer.steps == ()


def test_addition_and_prism_are_said_to_stay() -> None:
    stays = "The addition and the prism stay as they are: only sphere, cylinder and axis change."
    for lens in ("-2.00 -1.00 x 90 add +2.00", "-2.00 2 BU"):
        assert TRANSPOSITION.answer({"lens": lens}).cautions == (stays,)
    assert TRANSPOSITION.answer({"lens": "-2.00 -1.00 x 90"}).cautions == ()


# Cut eighths are said to be read as eighths, in every calculator ----------------------------------


TRUE_EIGHTHS = {"+0.12 DS": "+0.125 DS", "-0.12": "-0.125", "-2.12 DS": "-2.125 DS"}


@pytest.mark.parametrize(
    ("calculator", "entered", "said"),
    [
        (TRANSPOSITION, {"lens": "-1.37 -0.62 x 5"}, "−1.375, −0.625"),
        (TRANSPOSITION, {"lens": "+0.12 DS"}, "+0.125"),
        (READINGS, {"first": "-0.12", "second": "-1.00", "wheel": "90"}, "−0.125"),
        (READINGS, {"first": "-2.00", "lines": "both", "zero": "+0.12"}, "+0.125"),
        (VERIFICATION, {"ordered": "-2.12 DS"}, "−2.125"),
        (
            VERIFICATION,
            {"ordered": "-2.00 DS", "sphere": "-2", "cylinder": "-.12", "measured_axis": "9"},
            "−0.125",
        ),
    ],
)
def test_cut_eighths_are_pointed_out(
    calculator: Calculator, entered: dict[str, str], said: str
) -> None:
    note = f"Cut eighths were read as true eighths: {said} D."
    assert note in [plain(line) for line in calculator.answer(entered).understood]
    true = {name: TRUE_EIGHTHS.get(text, text) for name, text in entered.items()}
    for texts in (entered, true):
        literal = calculator.answer({**texts, "decimals": "literal"})
        assert not any("eighths" in plain(line) for line in literal.understood)


@pytest.mark.parametrize(
    ("calculator", "entered"),
    [
        (TRANSPOSITION, {"lens": "-12.00 -10.25 x 90"}),
        (READINGS, {"first": "-12.00", "second": "-10.00", "wheel": "90"}),
        (VERIFICATION, {"ordered": "-12.00 -1.25 x 90"}),
    ],
)
def test_whole_quarters_need_no_such_note(calculator: Calculator, entered: dict[str, str]) -> None:
    """Also where there are five characters to a number."""
    said = [plain(line) for line in calculator.answer(entered).understood]
    assert not any("eighth" in line for line in said)


def test_literal_decimals_change_the_sums() -> None:
    entered = {"lens": "+0.12 -0.50 x 90"}
    eighths = TRANSPOSITION.answer({**entered, "decimals": "eighths"}).values()
    literal = TRANSPOSITION.answer({**entered, "decimals": "literal"}).values()
    assert (eighths["new.sphere"].value, eighths["new.sphere"].shown) == (-0.375, "−0.375")
    assert (literal["new.sphere"].value, literal["new.sphere"].shown) == (-0.38, "−0.38")
    assert TRANSPOSITION.answer(entered).values() == eighths


# Cylinder from two readings -----------------------------------------------------------------------


@published("lensmeter_readings")
def test_readings_as_printed(row: Row) -> None:
    entered = {
        "first": row["sphere_lines"],
        "second": row["cylinder_lines"],
        "wheel": row["axis_wheel"],
    }
    answer = READINGS.answer(entered)
    values = answer.values()
    for part in ("sphere", "cylinder", "axis"):
        assert values[part].value == as_printed(row[f"printed_{part}"])
    printed = [row[f"printed_{part}"].replace("-", "−") for part in ("sphere", "cylinder", "axis")]
    assert plain(answer.headline) == f"{printed[0]} {printed[1]} × {printed[2]}"


def test_the_same_lens_read_both_ways() -> None:
    """cylinder-form-slides: −1.00 −1.00 × 067 and −2.00 +1.00 × 157 are the same lens."""
    toward_minus = READINGS.answer({"first": "-1.00", "second": "-2.00", "wheel": "67"}).values()
    toward_plus = READINGS.answer({"first": "-2.00", "second": "-1.00", "wheel": "157"}).values()
    for part in ("sphere", "cylinder", "axis"):
        assert toward_plus[f"minus.{part}"].value == toward_minus[part].value
        assert toward_minus[f"plus.{part}"].value == toward_plus[part].value


def test_the_zero_error_is_taken_off_a_sphere() -> None:
    """lensmeter-zero-question: +0.50 with no lens, +2.00 with it; the answer is computed."""
    answer = READINGS.answer({"first": "+2.00", "lines": "both", "zero": "+0.50"})
    assert plain(answer.headline) == "+1.50 DS"
    assert answer.values()["first.corrected"].shown == "+1.50"
    assert answer.steps[0].numbers == "+2.00 − (+0.50)"


def test_the_zero_error_leaves_the_cylinder_alone() -> None:
    entered = {"first": "-0.75", "second": "-3.25", "wheel": "112"}
    plainly, with_zero = READINGS.answer(entered), READINGS.answer({**entered, "zero": "-0.25"})
    assert with_zero.values()["cylinder"].value == plainly.values()["cylinder"].value == -2.5
    assert with_zero.values()["sphere"].value == -0.5


def test_cylinder_lines_first_turn_the_axis_and_say_so() -> None:
    answer = READINGS.answer(
        {"first": "-3.25", "second": "-0.75", "wheel": "112", "lines": "cylinder"}
    )
    assert plain(answer.headline) == "−3.25 +2.50 × 022"
    assert answer.steps[-1].numbers == "112 − 90"


def test_one_reading_is_a_sphere_when_both_sets_are_sharp() -> None:
    answer = READINGS.answer({"first": "-2.25", "lines": "both"})
    assert plain(answer.headline) == "−2.25 DS"
    assert set(answer.values()) == {"sphere"}


# Verification -------------------------------------------------------------------------------------

ANSI, ISO_MOUNTED, ISO_UNCUT = "ansi-z80-1-2015", "iso-21987-2017", "iso-8980-1-2017"


def verified(ordered: str, measured: str = "", standard: str = ANSI, decimals: str = "") -> Answer:
    sphere, cylinder, axis, *_ = [*measured.split(), "", "", ""]
    return VERIFICATION.answer(
        {
            "ordered": ordered,
            "sphere": sphere,
            "cylinder": cylinder,
            "measured_axis": axis,
            "standard": standard,
            "decimals": decimals,
        }
    )


def verdict(*entered: str) -> str:
    return str(verified(*entered).values()["verdict"].value)


@pytest.mark.parametrize(
    ("measured", "says"),
    [("-2.87", "inside"), ("-3.13", "inside"), ("-2.86", "outside"), ("-3.14", "outside")],
)
def test_a_power_at_its_limit_passes(measured: str, says: str) -> None:
    """z80-1-2015-study-page: −3.00 D passes from −2.87 to −3.13."""
    assert verdict("-3.00 DS", measured, ANSI, "literal") == says


@pytest.mark.parametrize(("axis", "says"), [("93", "inside"), ("87", "inside"), ("94", "outside")])
def test_an_axis_at_its_limit_passes(axis: str, says: str) -> None:
    """z80-1-2015-study-page: 3 degrees off on a 1.25 D cylinder is at the limit, and so in."""
    assert verdict("-2.00 -1.25 x 90", f"-2.00 -1.25 {axis}") == says


def test_the_sphere_meridian_is_the_one_of_the_minus_form() -> None:
    """z80-1-2015-quick-reference: ±0.13 D up to 6.50 D in the sphere meridian.

    The lens is derived: it has 8.00 D in its other meridian.
    """
    assert verified("-6.00 -2.00 x 180").values()["meridian.180.limit"].shown == "±0.13"
    assert verified("-8.00 +2.00 x 90").values()["meridian.180.limit"].shown == "±0.13"


def test_plus_form_is_verified_as_the_same_lens() -> None:
    both = [verified("-2.00 -0.75 x 5", entered) for entered in ("-2 -0.75 178", "-2.75 +0.75 88")]
    assert both[0].values() == {
        name: datum for name, datum in both[1].values().items() if name in both[0].values()
    }
    assert any("minus cylinder first" in step.what for step in both[1].steps)
    assert not any("minus cylinder first" in step.what for step in both[0].steps)


def test_without_a_measured_lens_the_window_stands_alone() -> None:
    answer = verified("-3.00 -1.25 x 001")
    assert plain(answer.headline) == "Passes: power along 001 −3.130 to −2.870"
    values = answer.values()
    assert (values["axis.lowest"].shown, values["axis.highest"].shown) == ("178", "004")
    assert "verdict" not in values


def test_figures_from_memory_are_said_to_be() -> None:
    warning = "are quoted from memory (see the table). Check them in your own copy before you"
    for standard in (ANSI, ISO_MOUNTED, ISO_UNCUT):
        for measured in ("", "-2.00 -0.75 5"):
            cautions = verified("-2.00 -0.75 x 5", measured, standard).cautions
            assert any(warning in caution for caution in cautions) == (standard != ANSI)


@pytest.mark.parametrize("standard", [ANSI, ISO_MOUNTED, ISO_UNCUT])
def test_an_eighth_near_a_limit_is_flagged(standard: str) -> None:
    """The limit is 0.12 D or 0.13 D as printed, the difference 0.125 D."""
    cautions = verified("-2.00 DS", "-2.12", standard).cautions
    assert any("within 0.01 D of the limit" in caution for caution in cautions)
    assert verdict("-2.00 DS", "-2.12", standard) == ("inside" if standard == ANSI else "outside")
    far = verified("-2.00 DS", "-2.25", standard).cautions
    assert not any("within 0.01 D" in caution for caution in far)


def test_an_axis_that_cannot_be_compared_is_said_so() -> None:
    answer = verified("-2.00 -0.25 x 90", "-2.00")
    assert answer.values()["axis.verdict"].value == "not comparable"
    assert any("no cylinder to compare" in caution for caution in answer.cautions)


def test_what_is_not_checked_is_said() -> None:
    said = "The addition and the prism of the order are not checked here."
    assert said in verified("-2.00 DS add +2.00").cautions
    assert said not in verified("-2.00 DS").cautions


def test_below_the_last_band_there_is_no_axis_limit() -> None:
    """z80-1-2015-quick-reference: below 0.12 D not defined."""
    answer = verified("-2.00 -0.10 x 90", "-2.00 -0.10 20", ANSI, "literal")
    assert answer.values()["axis.verdict"].value == "no limit set"
    assert answer.values()["verdict"].value == "inside"


def nearby(value: float) -> st.SearchStrategy[float]:
    """A measured power, mostly about as far off as limits are."""
    return st.integers(-25, 25).map(lambda n: round(value + n / 100, 3))


@st.composite
def measured_lenses(draw: st.DrawFn) -> dict[str, str]:
    """An order and what was measured, in eighths or hundredths, close to the limits."""
    per_dioptre = draw(st.sampled_from([8, 100]))
    sphere = draw(st.integers(-12 * per_dioptre, 12 * per_dioptre)) / per_dioptre
    cylinder = draw(st.integers(-7 * per_dioptre, -per_dioptre // 8)) / per_dioptre
    axis = draw(st.integers(1, 180))
    return {
        "ordered": f"{write_exact(sphere)} {write_exact(cylinder)} x {axis}",
        "sphere": write_exact(draw(nearby(sphere))),
        "cylinder": write_exact(draw(nearby(cylinder))),
        "measured_axis": str((axis + draw(st.integers(-20, 20)) - 1) % 180 + 1),
        "standard": draw(st.sampled_from([ANSI, ISO_MOUNTED, ISO_UNCUT])),
        "decimals": "literal",
    }


# 2 % of 6.75 D is 0.135 D: to two decimals it would look like the difference, 0.14 D.
AT_A_LIMIT_OF_THREE_DECIMALS = {
    "ordered": "-6.75 DS",
    "sphere": "-6.89",
    "standard": ANSI,
    "decimals": "literal",
}


@settings(max_examples=300, deadline=None)
@given(measured_lenses())
@example(AT_A_LIMIT_OF_THREE_DECIMALS)
def test_no_verdict_contradicts_the_numbers_beside_it(entered: dict[str, str]) -> None:
    """Row by row, the shown difference is above the shown limit exactly when it is outside."""
    answer = VERIFICATION.answer(entered)
    every_sum_works_out(answer)
    values = answer.values()
    rows = [name.removesuffix(".verdict") for name in values if name.endswith(".verdict")]
    for row in rows:
        if values[f"{row}.verdict"].value not in ("inside", "outside"):
            continue
        difference = abs(shown_number(values[f"{row}.difference"]))
        limit = shown_number(values[f"{row}.limit"])
        assert (difference > limit) == (values[f"{row}.verdict"].value == "outside"), row
    outside = any(values[f"{row}.verdict"].value == "outside" for row in rows)
    assert values["verdict"].value == ("outside" if outside else "inside")


def shown_number(datum: Datum) -> Decimal:
    return pocket.shown(datum.shown)


@settings(max_examples=200, deadline=None)
@given(measured_lenses())
def test_the_window_and_the_verdict_agree(entered: dict[str, str]) -> None:
    """What lies in the shown window of a power is inside, what lies beyond it is outside."""
    judged = VERIFICATION.answer(entered).values()
    window = VERIFICATION.answer(
        {**entered, "sphere": "", "cylinder": "", "measured_axis": ""}
    ).values()
    for name in judged:
        row = name.removesuffix(".verdict")
        if row in (name, "axis"):
            continue
        measured = judged[f"{row}.measured"].value
        assert isinstance(measured, float)
        low, high = (shown_number(window[f"{row}.{end}"]) for end in ("lowest", "highest"))
        inside = low <= Decimal(str(measured)) <= high
        assert inside == (judged[name].value == "inside"), (row, low, measured, high)


def test_an_order_in_plus_form_is_shown_in_minus_form() -> None:
    assert "+3.00 −0.75 × 015" in plain(verified("+2.25 +0.75 x 105").also[0])


def test_the_count_is_taken_on_the_drum_whatever_the_zero_error() -> None:
    """From −2.75 to −3.25 the drum passes two eighths and one quarter, and so the reader counts."""
    given = {"first": "-2.75", "second": "-3.25", "wheel": "90", "zero": "-0.25"}
    answer = READINGS.answer(given)
    assert any("two eighths and one quarter" in step.what for step in answer.steps)
    assert answer.figures[0].description.endswith("two eighths and one quarter.")
    assert plain(answer.headline) == "−2.50 −0.50 × 090"
