"""Too close to call: a difference against its limit, when the reading itself is uncertain."""

from __future__ import annotations

from collections.abc import Iterator

from lensmath.conformity import CLEAR, Judgement, readings_to_settle, zone_edges
from lensmath.instrument import AXIS_MARKER, PRISM, VERTEX_POWER, ErrorBand
from lensmath.notation import Decimals, is_cut, read_power
from lensmath.power import snapped
from lensmath.uncertainty import Budget, Cause, ReadTo, Spread
from lensmath.uncertainty import spread as spread_of
from site_src.calculators.answer import (
    Answer,
    Datum,
    Line,
    Step,
    Table,
    amount,
    cut_eighths,
    say,
    word,
)
from site_src.calculators.budgets import VERY_MANY, Doubt, Kind
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import (
    DECIMALS,
    Choice,
    ChoiceField,
    NumberField,
    PowerField,
    on_field,
)
from site_src.calculators.sums import enough_decimals
from site_src.calculators.working import signed, unsigned
from site_src.figures.close_call import CloseCall, close_call

_METHOD = ("gum-2008", "jcgm-106-2012", "ilac-g8-2019")
_BOUGHT = (1, 2, 3, 4, 5, 10, 20)
_REPEATED = ("reading_1", "reading_2", "reading_3", "reading_4", "reading_5")


def solve(
    quantity: Kind,
    difference: float,
    limit: float,
    step: float,
    spread: float | None,
    spread_from: int,
    readings: int,
    indicated: float | None,
    permitted: float | None,
    read_to: ReadTo,
    decimals: Decimals,
    **repeated: float | None,
) -> Answer:
    """The verdict with its probability, the uncertainty behind it, and what a mean buys."""
    in_dioptres = quantity.unit == "D"
    if in_dioptres:
        difference = read_power(f"+{unsigned(difference)}", decimals)
    powers = tuple(power for power in repeated.values() if power is not None)
    used = powers if in_dioptres and len(powers) > 1 else ()
    scatter = None if spread is None else Spread(spread, spread_from - 1)
    band = quantity.permitted.at(indicated or 0.0)
    doubt = Doubt(
        quantity,
        step,
        read_to,
        spread_of(used) if used else scatter,
        readings,
        band.limit if permitted is None else permitted,
        used,
    )
    with on_field("step"):
        judged = Judgement(
            difference, limit, doubt.budget.combined, doubt.budget.degrees_of_freedom
        )
    remembered = band if permitted is None else None
    return Answer(
        headline=say(
            "{zone}: {chance} % to be inside",
            zone=Datum("verdict", judged.zone.value, judged.zone.value.capitalize()),
            chance=_chance(judged),
        ),
        also=tuple(_also(judged, doubt)),
        understood=(
            *_understood(doubt, remembered, indicated),
            *(_as_typed(limit, step) if in_dioptres and decimals is Decimals.EIGHTHS else ()),
            *cut_eighths(decimals, *((difference, *powers) if in_dioptres else ())),
        ),
        tables=_bought(judged, doubt),
        steps=(*doubt.steps(), *_judging_steps(judged, doubt)),
        figures=(close_call("close-call", _drawn(judged, doubt)),),
        cautions=tuple(_cautions(doubt, remembered, powers, spread)),
        sources=tuple(dict.fromkeys((*_METHOD, *(remembered.sources if remembered else ())))),
    )


def _chance(judged: Judgement) -> Datum:
    """The probability of being inside in per cent; never shown as certain."""
    percent = 100 * judged.probability
    shown = "under 0.1" if percent < 0.05 else "over 99.9" if percent >= 99.95 else f"{percent:.1f}"
    return Datum("probability", judged.probability, shown)


def _also(judged: Judgement, doubt: Doubt) -> Iterator[Line]:
    unit = doubt.kind.after
    budget = doubt.budget
    yield say(
        f"Uncertainty: u = {{u}}{unit}; U = {{expanded}}{unit} with k = {{k}}.",
        u=amount(budget.combined, "u", 3),
        expanded=amount(budget.expanded, "expanded", 3),
        k=amount(budget.coverage_factor, "k"),
    )
    edges = zone_edges(judged.limit, judged.u, judged.degrees_of_freedom)
    outside = amount(edges.outside, "clear.outside", 3)
    if edges.inside is None:
        yield say(
            "Nothing is clearly inside: the reading is too uncertain for this limit. Clearly "
            f"outside is from {{outside}}{unit}.",
            outside=outside,
        )
    else:
        yield say(
            f"Clearly inside is up to {{inside}}{unit}, clearly outside from {{outside}}{unit}.",
            inside=amount(edges.inside, "clear.inside", 3),
            outside=outside,
        )
    if judged.zone.close:
        yield _settled(judged, doubt)


def _settled(judged: Judgement, doubt: Doubt) -> Line:
    needed = readings_to_settle(judged.difference, judged.limit, doubt.one_reading)
    lasting = amount(doubt.one_reading.lasting, "lasting", 3)
    if needed is None:
        return say(
            "Reading again does not settle it, if the mean stays here: "
            f"u stays at {{lasting}}{doubt.kind.after} or more.",
            lasting=lasting,
        )
    return say(
        "The mean of {needed} readings settles it, if it stays here.",
        needed=amount(needed, "needed", 0),
    )


def _understood(doubt: Doubt, band: ErrorBand | None, indicated: float | None) -> Iterator[Line]:
    if doubt.repeated:
        yield say(f"The spread is that of the {len(doubt.repeated)} readings entered.")
    if band is not None:
        near = "near zero" if indicated is None else f"at {unsigned(indicated)}{doubt.kind.after}"
        yield say(
            f"Permitted error of the instrument {near}: ±{{permitted}}{doubt.kind.after} by "
            f"ISO 8598-1 ({band.confidence.value}).",
            permitted=amount(band.limit, "permitted"),
        )


def _as_typed(limit: float, step: float) -> Iterator[Line]:
    """A limit and a step are taken as printed, also where they end like a cut eighth."""
    for name, value in (("limit", limit), ("step of the scale", step)):
        if is_cut(snapped(value + 0.005)):
            yield say(
                f"The {name} is taken as typed, {unsigned(value)} D. If it is an eighth, enter "
                f"{unsigned(value + 0.005)}."
            )


def _bought(judged: Judgement, doubt: Doubt) -> tuple[Table, ...]:
    """What means of several readings make of it; nothing without a spread that they lessen."""
    if not doubt.one_reading.share(Cause.READER):
        return ()
    return (
        Table(
            "What a mean buys, if it stays at this difference",
            ("Readings", "u", "Clear up to", "Answer"),
            tuple(_mean_row(judged, doubt.one_reading.of_mean(n), n) for n in _BOUGHT),
            kind="grid",
        ),
    )


def _mean_row(judged: Judgement, mean: Budget, readings: int) -> tuple[Line, ...]:
    of_mean = Judgement(judged.difference, judged.limit, mean.combined, mean.degrees_of_freedom)
    inside = zone_edges(judged.limit, mean.combined, mean.degrees_of_freedom).inside
    name = f"mean.{readings}"
    return (
        (f"{readings}",),
        (amount(mean.combined, f"{name}.u", 3),),
        ("nothing",) if inside is None else (amount(inside, f"{name}.inside", 3),),
        (word(of_mean.zone.value, f"{name}.verdict"),),
    )


def _judging_steps(judged: Judgement, doubt: Doubt) -> Iterator[Step]:
    def worked(u: float) -> float:
        return (judged.limit - judged.difference) / u

    (u,) = enough_decimals(worked, judged.u, decimals=2, least=3)
    away = worked(judged.u)
    yield Step(
        "How many standard uncertainties the limit is away; negative for a difference beyond it.",
        "(limit − difference) ÷ u",
        f"({unsigned(judged.limit, 2)} − {unsigned(judged.difference, 2)}) ÷ {u}",
        (Datum("away", away, signed(away, 2)),),
    )
    yield Step(
        f"The probability of that, by {doubt.freedom}, less the chance beyond the other limit.",
        result=say("{chance} %", chance=_chance(judged)),
    )
    yield Step(
        f"An answer is clear when the probability of being on its side is {100 * CLEAR:.0f} % or "
        "more, else close.",
        result=(word(judged.zone.value, "verdict"),),
    )


def _drawn(judged: Judgement, doubt: Doubt) -> CloseCall:
    return CloseCall(
        judged,
        doubt.budget.expanded,
        difference=unsigned(round(judged.difference, 3), 2),
        limit=unsigned(round(judged.limit, 3), 2),
        uncertainty=amount(doubt.budget.expanded, "", 3).shown,
        chance=_chance(judged).shown,
        unit=doubt.kind.after,
    )


def _cautions(
    doubt: Doubt, band: ErrorBand | None, powers: tuple[float, ...], spread: float | None
) -> Iterator[str]:
    if doubt.scatter is None:
        yield (
            "No spread of the reader was entered, so the real uncertainty is larger. Read one lens "
            "five times, set anew each time, and enter the readings."
        )
    if doubt.repeated and spread is not None:
        yield "The spread that was entered is not used: the repeated readings go before it."
    if powers and not doubt.repeated:
        yield (
            "The repeated readings are left out: they have to be two powers or more, and the "
            "difference one of a power or a cylinder."
        )
    if band is not None and band.confidence.remembered:
        yield (
            "The verdict rests on a permitted error that is quoted from memory. Enter that of your "
            "instrument's own certificate, under More entries."
        )


_COUNTS = (2, 3, 4, 5, 6, 7, 8, 9, 10, 15, 20, 30)

CALCULATOR = Calculator(
    slug="close-call",
    title="Too close to call?",
    purpose="Enter a difference and its limit; see how sure the verdict is.",
    fields=(
        ChoiceField(
            "quantity",
            "What was read",
            "a cylinder is a travel: it has the doubt of two readings",
            choices=(
                Choice("power", "a power, in D", Kind("D", VERTEX_POWER)),
                Choice("cylinder", "a cylinder, in D", Kind("D", VERTEX_POWER, travel=True)),
                Choice("prism", "prism, in Δ", Kind("Δ", PRISM)),
                Choice("axis", "an axis, in degrees", Kind("°", AXIS_MARKER)),
            ),
        ),
        NumberField(
            "difference",
            "Difference",
            "measured against ordered, without a sign; an eighth as 0.125 or 1/8",
            high=30,
        ),
        NumberField("limit", "Limit", "plus or minus, as the table prints it", low=0.01, high=30),
        NumberField(
            "step", "Marks of the scale are apart by", "0.125 on most hand scales near 0", high=10
        ),
        NumberField(
            "spread",
            "Spread of the reader",
            "standard deviation; or enter repeated readings under More entries",
            optional=True,
            high=10,
        ),
        ChoiceField(
            "readings",
            "The difference is from",
            "a mean lessens the reader's part only",
            choices=tuple(
                Choice(f"{n}", f"a mean of {n} readings" if n > 1 else "one reading", n)
                for n in _BOUGHT
            ),
        ),
        NumberField(
            "indicated",
            "The drum stands at about",
            "without a sign; it picks the permitted error of the instrument",
            optional=True,
            high=40,
        ),
        *(
            PowerField(
                name,
                f"Reading {number}",
                optional=True,
                aside=True,
                group="One lens, read again and again",
            )
            for number, name in enumerate(_REPEATED, 1)
        ),
        ChoiceField(
            "spread_from",
            "The spread was found from",
            "a spread from few readings is itself a guess",
            aside=True,
            choices=(
                Choice("many", "very many readings", 1000 * VERY_MANY),
                *(Choice(f"{n}", f"{n} readings", n) for n in _COUNTS),
            ),
        ),
        NumberField(
            "permitted",
            "Permitted error of the instrument",
            "from its certificate; empty for that of ISO 8598-1",
            optional=True,
            aside=True,
            high=10,
        ),
        ChoiceField(
            "read_to",
            "The scale is read to",
            "between the marks only where they are wide enough apart",
            aside=True,
            choices=(
                Choice("mark", ReadTo.MARK.value, ReadTo.MARK),
                Choice("half-mark", ReadTo.HALF_MARK.value, ReadTo.HALF_MARK),
            ),
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "quantity": "power",
                "difference": "0.10",
                "limit": "0.13",
                "step": "0.125",
                "spread": "0.06",
                "spread_from": "10",
                "readings": "3",
                "indicated": "3",
                "decimals": "literal",
            },
            prints={
                "verdict": "Inside but close",
                "scale.u": "0.036",
                "instrument.u": "0.035",
                "u": "0.061",
            },
            note="An invented reading.",
        ),
        Example(
            given={
                "difference": "0",
                "limit": "1",
                "step": "0",
                "spread": "1.489",
                "spread_from": "20",
                "readings": "20",
                "permitted": "0",
            },
            prints={"reader.u": "0.333"},
            source="gum-2008",
            note="Twenty temperatures of the GUM in place of powers: the spread of their mean.",
        ),
        Example(
            given={
                "difference": "0",
                "limit": "2",
                "step": "0",
                "spread": "0.5",
                "spread_from": "10",
                "permitted": "0",
            },
            prints={"k": "2.32"},
            source="gum-2008",
            note="The factor of Table G.2 for nine degrees of freedom; the reading is invented.",
        ),
    ),
)
