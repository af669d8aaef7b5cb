"""Vertex distance: the lens that does the same work when it sits nearer to the eye or further."""

from __future__ import annotations

from lensmath.errors import LensError
from lensmath.notation import (
    MINUS,
    Decimals,
    Prescription,
    write_axis,
    write_lens,
    write_power,
)
from lensmath.power import LensPower, snapped
from lensmath.vertex import STANDARD_VERTEX_DISTANCE, compensated, least_powers
from site_src.calculators.answer import (
    Answer,
    Line,
    Step,
    Table,
    cut_eighths,
    power,
    say,
    written_lens,
)
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, NumberField, PrescriptionField, on_field
from site_src.calculators.working import digits, noted, number, signed, unsigned
from site_src.figures.vertex_distance import vertex_distance

_SOURCES = ("optometry-cards-magnification", "ocular-refraction-question", "common-practice")
_NEIGHBOURS = (-4.0, -2.0, 0.0, 2.0, 4.0)  # mm about the new distance, for the table
_FURTHEST = 40.0  # mm; no lens is worn further from the eye
_LEAST = 1.0  # mm; no lens but a contact lens, at 0, is worn nearer to the eye (common practice)
_STRONGEST_MADE = 60.0  # D, common practice
_CHANGES = (0.125, 0.25)  # D; one and two eighths
_QUARTER = 0.25  # D; the step that lenses are ordered in


def solve(lens: Prescription, found: float, worn: float, decimals: Decimals) -> Answer:
    """The compensated lens, how much changes, and what neighbouring distances would need."""
    given = lens.power
    with on_field("worn"):
        new = _replaced(given, snapped(worn - found))
    return Answer(
        headline=written_lens(new),
        also=(
            say(
                "To the nearest quarter: {lens}",
                lens=written_lens(new.to_step(_QUARTER), "quarter."),
            ),
            *_changes(given, new),
            *_when_it_matters(snapped(worn - found)),
        ),
        understood=cut_eighths(decimals, given.sphere, given.cylinder),
        tables=(_neighbours(given, found, worn),),
        steps=_steps(given, new, found, worn),
        figures=(
            vertex_distance("vertex-distance", found, write_lens(given), worn, write_lens(new)),
        ),
        cautions=(*_metres(found, worn), *_left_out(lens)),
        sources=_SOURCES,
    )


def _replaced(given: LensPower, further: float) -> LensPower:
    """The compensated lens; near its focus a lens would need a power that nobody makes."""
    new = compensated(given, further)
    strongest = max((arm.power for arm in new.principal_meridians), key=abs)
    if abs(strongest) > _STRONGEST_MADE:
        raise LensError(
            f"{write_lens(given)} moved by {unsigned(abs(further))} mm would need "
            f"{write_power(strongest)} D, and lenses end at about {_STRONGEST_MADE:g} D; "
            "a smaller move is allowed."
        )
    return new


def _changes(given: LensPower, new: LensPower) -> tuple[Line, ...]:
    along, across = (
        new_arm.power - arm.power
        for arm, new_arm in zip(given.principal_meridians, new.principal_meridians, strict=True)
    )
    if given.axis is None:
        return (say("Change: {change} D", change=power(along, "change")),)
    return (
        say(
            f"Change: {{along}} D along {write_axis(given.axis)}, {{across}} D across it",
            along=power(along, "change.along"),
            across=power(across, "change.across"),
        ),
    )


def _when_it_matters(further: float) -> tuple[Line, ...]:
    if further == 0:
        return (say("The lens stays where it was, so its power stays too."),)
    lines = []
    for change in _CHANGES:
        least = least_powers(change, further)
        lines.append(
            say(
                f"Moved by {unsigned(abs(further))} mm, a lens changes by {{change}} D at "
                "{plus} D and at {minus} D; a stronger one changes more.",
                change=number(f"least.{change:g}", change, unsigned(change, 2)),
                plus=power(least.plus, f"least.{change:g}.plus"),
                minus=power(least.minus, f"least.{change:g}.minus"),
            )
        )
    return tuple(lines)


def _neighbours(given: LensPower, found: float, worn: float) -> Table:
    places = [snapped(worn + away) for away in _NEIGHBOURS if snapped(worn + away) >= 0]
    return Table(
        "The same lens at neighbouring vertex distances",
        ("Worn at", "Lens needed"),
        tuple(
            (say(f"{unsigned(place)} mm"), _needed(given, snapped(place - found), place))
            for place in places
        ),
        kind="grid",
    )


def _needed(given: LensPower, further: float, place: float) -> Line:
    try:
        return written_lens(_replaced(given, further), f"at.{unsigned(place)}.")
    except LensError:
        return say("no lens does it there")


def _steps(given: LensPower, new: LensPower, found: float, worn: float) -> tuple[Step, ...]:
    further = snapped(worn - found)
    moved = Step(
        "How much further from the eye the lens comes to sit.",
        f"new distance {MINUS} old",
        f"{unsigned(worn)} {MINUS} {unsigned(found)}",
        say("{further} mm", further=number("further", further, digits(further, 0).lstrip("+"))),
    )
    if given.axis is None:
        return (moved, _meridian("The new power.", given.sphere, new.sphere, further, "along"))
    (along, direction), (across, _) = given.principal_meridians
    new_along, new_across = (noted(arm.power) for arm in new.principal_meridians)
    return (
        moved,
        _meridian(
            f"Along {write_axis(direction)}, the axis, the power is the sphere.",
            along,
            new.sphere,
            further,
            "along",
        ),
        Step(
            "Across the axis it is sphere and cylinder together.",
            "S + C",
            f"{digits(given.sphere)} + ({digits(given.cylinder)})",
            say("{power} D", power=number("old.across", across, digits(across))),
        ),
        _meridian(
            "That power, moved the same way.",
            across,
            snapped(new.sphere + new.cylinder),
            further,
            "across",
        ),
        Step(
            "The new cylinder is the difference. The axis stays.",
            f"across {MINUS} along",
            f"{signed(new_across, 4)} {MINUS} ({signed(new_along, 4)})",
            _to_four(snapped(new_across - new_along), "new.cylinder"),
        ),
    )


def _meridian(what: str, old: float, new: float, further: float, name: str) -> Step:
    return Step(
        what,
        "F ÷ (1 + d × F), d in metres",
        f"{digits(old)} ÷ (1 + ({digits(further / 1000, 0).lstrip('+')}) × ({digits(old)}))",
        _to_four(new, name),
    )


def _to_four(value: float, name: str) -> Line:
    return say("{power} D", power=number(name, value, signed(value, 4)))


def _metres(*distances: float) -> tuple[str, ...]:
    """A caution for each distance that looks like metres; 0 is the cornea."""
    return tuple(
        f"{unsigned(distance)} mm was entered, less than {_LEAST:g} mm. Were metres meant? "
        "Distances are entered in millimetres: 12 for 0.012 m."
        for distance in dict.fromkeys(distances)
        if 0 < distance < _LEAST
    )


def _left_out(lens: Prescription) -> tuple[str, ...]:
    if lens.addition is None and not lens.prism:
        return ()
    return ("The addition and the prism of the order are not changed here.",)


CALCULATOR = Calculator(
    slug="vertex-distance",
    title="Vertex distance",
    purpose="Enter a lens and two vertex distances; get the lens that does the same at the second.",
    fields=(
        PrescriptionField("lens", "Lens as found", "at the first distance"),
        NumberField(
            "found",
            "Found at",
            f"lens to eye at the test; {STANDARD_VERTEX_DISTANCE:g} mm when nothing is said",
            unit="mm",
            high=_FURTHEST,
        ),
        NumberField(
            "worn", "Worn at", "lens to eye in use; 0 mm at the cornea", unit="mm", high=_FURTHEST
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={"lens": "-10.00 -2.50 x 20", "found": "12", "worn": "15"},
            prints={"sphere": "−10.31", "cylinder": "−2.68", "axis": "020"},
            note="An invented lens.",
        ),
        Example(
            given={"lens": "-4.69 -4.16 x 30", "found": "0", "worn": "13"},
            prints={
                "quarter.sphere": "−5.00",
                "quarter.cylinder": "−5.00",
                "quarter.axis": "030",
            },
            source="ocular-refraction-question",
        ),
        Example(
            given={"lens": "-12.00 DS", "found": "10", "worn": "14"},
            prints={"sphere": "−12.61"},
            source="optometry-cards-magnification",
        ),
        Example(
            given={"lens": "+4.00 DS", "found": "0", "worn": "14"},
            prints={"sphere": "+3.79"},
            source="giarre-hypermetropia",
        ),
        Example(
            given={"lens": "-8.00 -5.25 x 85", "found": "12", "worn": "0"},
            prints={"sphere": "−7.30", "cylinder": "−4.13", "axis": "085"},
            source="encyclopaedia-vertex-distance",
            note="The formula was read there; the figures are from memory.",
        ),
    ),
)
