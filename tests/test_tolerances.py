"""The tolerance tables against the figures in the texts where they were seen.

No standard was read in the original. tests/published/tolerances_cells.csv and
tolerances_iso_power.csv hold the tables a second time, written out from the texts that each row
names, and the look-up is asked at both edges of each cell. A cell there begins `from` a power or
`over` it, ends `to` a power or `below` it, and may have a second power beside it (`also_`). Its
limit is `printed_limit` with, if there is one, `printed_percent` of a power added.
"""

import itertools
import math

import pytest

from lensmath.errors import LensError
from lensmath.tolerances import STANDARDS, find_standard, standards_for
from lensmath.tolerances.model import (
    EVERY_TYPE,
    Band,
    Confidence,
    Governing,
    LensState,
    LensType,
    Linear,
    MeridianRule,
    PairRule,
    Quantity,
    Unit,
)
from tests.printed import published, rows

ANSI = find_standard("ansi-z80-1-2015")
ISO_MOUNTED = find_standard("iso-21987-2017")
ISO_UNCUT = find_standard("iso-8980-1-2017")
ISO_UNCUT_PROGRESSIVE = find_standard("iso-8980-2-2017")

JUST = 1e-6  # well above the 1e-9 that counts as the same power, well below any scale
BEYOND = 30.0  # inside a cell without an upper edge
ELSEWHERE = dict.fromkeys(Governing, 1.0)

SINGLE_VISION, PROGRESSIVE = LensType.SINGLE_VISION, LensType.PROGRESSIVE


def limit(standard, quantity, lens_type=SINGLE_VISION, **powers):
    """The limit for ordered values such as cylinder=1.25; the others are 0."""
    ordered = dict.fromkeys(Governing, 0.0)
    ordered |= {Governing[name.upper()]: value for name, value in powers.items()}
    return standard.row_for(quantity, ordered, lens_type).limit_at(ordered)


# Every cell at its edges --------------------------------------------------------------------------


def edges(row, prefix=""):
    """The first and the last value of a cell, to be looked up."""
    if not row[f"{prefix}by"]:
        return [{}]
    begins = row[f"{prefix}from"]
    first = float(begins) if begins else float(row[f"{prefix}over"]) + JUST
    last = float(row[f"{prefix}to"]) if row[f"{prefix}to"] else BEYOND
    if row.get(f"{prefix}below"):
        last = float(row[f"{prefix}below"]) - JUST
    return [{Governing(row[f"{prefix}by"]): value} for value in (first, last)]


def cases(row):
    """The ordered values at the corners of a cell, and what the print gives as the limit there."""
    for one, other in itertools.product(edges(row), edges(row, "also_")):
        ordered = ELSEWHERE | one | other
        grown = 0.0
        if row["printed_percent"]:
            grown = float(row["printed_percent"]) / 100 * ordered[Governing(row["percent_of"])]
        undefined = row["printed_limit"] == "not defined"
        yield ordered, None if undefined else float(row["printed_limit"] or 0) + grown


def types(row):
    return [each for each in LensType if row[each.value.replace(" ", "_")]]


STANDINGS = {
    Confidence.TWO_SOURCES: "two sources",
    Confidence.READ: "read",
    Confidence.SPOT_CHECKED: "memory",
    Confidence.MEMORY: "memory",
}


@published("tolerances_cells")
def test_a_cell_at_its_edges_as_printed(row):
    """The limit, where it was seen, and how well it is known."""
    standard, quantity = find_standard(row["standard"]), Quantity(row["quantity"])
    for lens_type in types(row):
        for ordered, expected in cases(row):
            found = standard.row_for(quantity, ordered, lens_type)
            answer = found.limit_at(ordered)
            if expected is None:
                assert answer is None
            else:
                assert answer == pytest.approx(expected, abs=1e-9)
            assert STANDINGS[found.confidence] == row["standing"]
            assert row["source"] in found.sources


CYLINDER_EDGES = {
    "printed_b_to_0_75": (0.0, 0.75),
    "printed_b_to_4_00": (0.75 + JUST, 4.00),
    "printed_b_to_6_00": (4.00 + JUST, 6.00),
    "printed_b_beyond": (6.00 + JUST, BEYOND),
}


@published("tolerances_iso_power")
def test_iso_power_at_every_corner_of_each_cell(row):
    """A and B, in the standard for mounted lenses and in that for uncut ones alike."""
    lens_type = LensType(row["lens_type"])
    strong = [next(iter(edge.values())) for edge in edges(row | {"by": "cylinder"})]
    for key, stronger in itertools.product((row["standard"], row["uncut_standard"]), strong):
        standard = find_standard(key)
        assert limit(
            standard, Quantity.MERIDIAN_POWER, lens_type, stronger_meridian=stronger
        ) == float(row["printed_a"])
        for column, cylinders in CYLINDER_EDGES.items():
            for cylinder in cylinders:
                found = limit(
                    standard,
                    Quantity.CYLINDER,
                    lens_type,
                    stronger_meridian=stronger,
                    cylinder=cylinder,
                )
                assert found == float(row[column]), (key, stronger, cylinder)


def test_the_printed_cells_are_all_there_are():
    """Each row of each standard is one of the cells above, for the same kinds of lens."""
    seen = {}
    for row in rows("tolerances_cells"):
        standard = find_standard(row["standard"])
        for lens_type in types(row):
            for ordered, _ in cases(row):
                found = standard.row_for(Quantity(row["quantity"]), ordered, lens_type)
                seen.setdefault((standard.key, found), set()).add(lens_type)
    by_iso_power = {Quantity.MERIDIAN_POWER, Quantity.CYLINDER}
    held = {
        (key, row): set(row.lens_types)
        for key, standard in STANDARDS.items()
        for row in standard.rows
        if standard is ANSI or row.quantity not in by_iso_power
    }

    assert seen == held
    # A and four B for each band of power: six bands in Table 1, five in Table 2.
    counts = [
        sum(row.quantity in by_iso_power for row in standard.rows)
        for standard in (ISO_MOUNTED, ISO_UNCUT, ISO_UNCUT_PROGRESSIVE)
    ]
    assert counts == [11 * 5, 6 * 5, 5 * 5]


# The mounted axis table as the deck prints it, in eighths of a dioptre.
# Source: uk-trainee-deck-verification.
@pytest.mark.parametrize(
    ("first", "last", "expected"),
    [
        (0.125, 0.25, 16),
        (0.375, 0.50, 9),
        (0.625, 0.75, 6),
        (0.875, 1.50, 4),
        (1.625, 2.50, 3),
    ],
)
def test_mounted_axis_in_eighths(first, last, expected):
    assert limit(ISO_MOUNTED, Quantity.AXIS, cylinder=first) == expected
    assert limit(ISO_MOUNTED, Quantity.AXIS, cylinder=last) == expected


# The cells that a retrieved text confirms: gb-10810-1-articles at 0 D and 10 D; the trainee deck
# (uk-trainee-deck-verification) from 12.12 D, which is 12.125, for cylinders over 6.00, and for
# progressive lenses above 12 D, where it prints 12.25.
@pytest.mark.parametrize(
    ("quantity", "lens_type", "stronger", "cylinder", "expected", "source"),
    [
        (Quantity.MERIDIAN_POWER, SINGLE_VISION, 0.00, 0.00, 0.12, "gb-10810-1-articles"),
        (Quantity.CYLINDER, SINGLE_VISION, 0.00, 0.00, 0.09, "gb-10810-1-articles"),
        (Quantity.MERIDIAN_POWER, SINGLE_VISION, 10.00, 0.00, 0.18, "gb-10810-1-articles"),
        (Quantity.CYLINDER, SINGLE_VISION, 10.00, 0.00, 0.12, "gb-10810-1-articles"),
        (Quantity.MERIDIAN_POWER, SINGLE_VISION, 12.125, 0, 0.25, "uk-trainee-deck-verification"),
        (Quantity.CYLINDER, SINGLE_VISION, 8.00, 6.125, 0.25, "uk-trainee-deck-verification"),
        (Quantity.MERIDIAN_POWER, PROGRESSIVE, 12.25, 0.00, 0.25, "uk-trainee-deck-verification"),
    ],
)
def test_iso_cells_that_were_seen_say_so(quantity, lens_type, stronger, cylinder, expected, source):
    powers = {Governing.STRONGER_MERIDIAN: stronger, Governing.CYLINDER: cylinder}
    row = ISO_MOUNTED.row_for(quantity, powers, lens_type)

    assert row.limit_at(powers) == expected
    assert row.confidence is Confidence.SPOT_CHECKED
    assert row.sources == ("iso-21987-2017", source)


def test_iso_power_cells_that_were_not_seen_are_marked_as_memory():
    def seen(standard):
        return sum(
            row.confidence is Confidence.SPOT_CHECKED
            for row in standard.rows
            if row.quantity in (Quantity.MERIDIAN_POWER, Quantity.CYLINDER)
        )

    # A at 0, 10 and above 12; B at 0 and 10; B above 6.00, to 20 D. Of Table 2, A above 12.
    assert seen(ISO_UNCUT) == 3 + 2 + 5
    assert seen(ISO_UNCUT_PROGRESSIVE) == 1
    assert seen(ISO_MOUNTED) == 10 + 1


# Sums on the figures ------------------------------------------------------------------------------


@pytest.mark.parametrize("cylinder", [0.25, 0.50, 0.75, 1.00, 1.50])
def test_ansi_axis_bands_follow_from_the_residual_cylinder(cylinder):
    """The axis error that leaves a cylinder of 0.12 D: alpha = arcsin(0.12 / 2F).

    Source  torgersen-2006, the formula; the degrees are arithmetic on it.
    """
    printed = {0.25: 13.9, 0.50: 6.9, 0.75: 4.6, 1.00: 3.4, 1.50: 2.3}
    alpha = math.degrees(math.asin(0.12 / (2 * cylinder)))

    assert alpha == pytest.approx(printed[cylinder], abs=0.05)
    assert abs(limit(ANSI, Quantity.AXIS, cylinder=cylinder) - alpha) < 1


def test_ansi_percentages_join_the_fixed_limits_without_a_jump():
    """Arithmetic on the printed tables: 2 % of 6.50 D is 0.13 D, 2 % of 8.00 D is 0.16 D."""
    for lens_type, edge, at_edge in ((SINGLE_VISION, 6.50, 0.13), (PROGRESSIVE, 8.00, 0.16)):
        for power in (edge, edge + JUST):
            found = limit(ANSI, Quantity.MERIDIAN_POWER, lens_type, sphere_meridian=power)
            assert found == pytest.approx(at_edge, abs=1e-7)


def test_ansi_millimetres_take_over_where_they_make_the_same_prism():
    """Arithmetic by Prentice's rule: 3.375 D at 1.0 mm is 0.34, 2.75 D at 2.5 mm is 0.69.

    Source  ansi-z80-1-2015, the figures are those of the quick reference.
    """
    for prism, millimetres, power in (
        (Quantity.VERTICAL_IMBALANCE, Quantity.PRP_HEIGHT_DIFFERENCE, "vertical_meridian"),
        (Quantity.HORIZONTAL_IMBALANCE, Quantity.PRP_SEPARATION, "horizontal_meridian"),
    ):
        edge = {"vertical_meridian": 3.375, "horizontal_meridian": 2.75}[power]
        weak = limit(ANSI, prism, **{power: edge})
        strong = limit(ANSI, millimetres, **{power: edge + JUST})
        assert strong / 10 * edge == pytest.approx(weak, abs=0.02)


def test_iso_imbalance_nearly_joins_at_its_edges():
    """Arithmetic on the remembered table: 0.67 / 0.2 is 3.35 D and 0.50 / 0.1 is 5.00 D."""
    for quantity, power, prism, edge, jump in (
        (Quantity.HORIZONTAL_IMBALANCE, "horizontal_meridian", "horizontal_prism", 3.25, 0.021),
        (Quantity.VERTICAL_IMBALANCE, "vertical_meridian", "vertical_prism", 5.00, 0.001),
    ):
        for ordered in (1.0, 5.0, 12.0):
            weak = limit(ISO_MOUNTED, quantity, **{power: edge, prism: ordered})
            strong = limit(ISO_MOUNTED, quantity, **{power: edge + JUST, prism: ordered})
            assert weak - strong == pytest.approx(0, abs=jump)


def test_the_mounted_axis_table_is_never_tighter_than_the_uncut_one():
    """The mounted table adds the glazing error to that of the lens (common practice)."""
    for cylinder in (step / 8 for step in range(1, 65)):
        mounted = limit(ISO_MOUNTED, Quantity.AXIS, cylinder=cylinder)
        assert mounted >= limit(ISO_UNCUT, Quantity.AXIS, cylinder=cylinder)


# What a standard is for ---------------------------------------------------------------------------


def test_what_each_standard_applies_to():
    # Scope of ANSI Z80.1-2015: edged or assembled lenses, and uncut ones where relevant. ISO has a
    # standard for each. Which meridian: z80-1-2015-quick-reference; iso-8980-1-2004-extract.
    both = (LensState.UNCUT, LensState.MOUNTED)
    sphere, each = MeridianRule.SPHERE_MERIDIAN, MeridianRule.EACH_MERIDIAN

    assert (ANSI.lens_states, ANSI.meridian_rule, ANSI.edition) == (both, sphere, 2015)
    assert (ISO_MOUNTED.lens_states, ISO_MOUNTED.meridian_rule) == ((LensState.MOUNTED,), each)
    for uncut in (ISO_UNCUT, ISO_UNCUT_PROGRESSIVE):
        assert (uncut.lens_states, uncut.meridian_rule) == ((LensState.UNCUT,), each)


def test_which_lenses_each_standard_is_for():
    assert ANSI.lens_types == ISO_MOUNTED.lens_types == EVERY_TYPE
    assert ISO_UNCUT.lens_types == (LensType.SINGLE_VISION, LensType.MULTIFOCAL)
    assert ISO_UNCUT_PROGRESSIVE.lens_types == (LensType.PROGRESSIVE,)

    assert list(standards_for(SINGLE_VISION)) == [ANSI.key, ISO_MOUNTED.key, ISO_UNCUT.key]
    assert list(standards_for(PROGRESSIVE)) == [
        ANSI.key,
        ISO_MOUNTED.key,
        ISO_UNCUT_PROGRESSIVE.key,
    ]


def test_whose_power_picks_the_limit_of_a_pair():
    # ANSI: each lens for itself (memory). ISO: the stronger lens, as in gb-13511-articles.
    assert ANSI.pair_rule is PairRule.EACH_LENS
    assert ISO_MOUNTED.pair_rule is PairRule.STRONGER_LENS


def test_where_one_of_two_limits_is_enough():
    # Source: z80-1-2015-quick-reference prints "or" for one lens, and prism or mm for a pair.
    one_lens = (Quantity.PRISM_ERROR, Quantity.PRP_DISPLACEMENT)
    assert ANSI.either_of(Quantity.PRISM_ERROR) == one_lens
    assert ANSI.either_of(Quantity.PRP_DISPLACEMENT) == one_lens
    assert Quantity.PRP_HEIGHT_DIFFERENCE in ANSI.either_of(Quantity.VERTICAL_IMBALANCE)
    assert ANSI.either_of(Quantity.ADDITION) == (Quantity.ADDITION,)
    assert ISO_MOUNTED.either == ()


def test_an_uncertain_edge_is_said_to_be():
    """Between 3.375 and 3.75 D the editions of ANSI Z80.1 differ for progressive pairs."""
    powers = {Governing.HORIZONTAL_MERIDIAN: 3.50}
    row = ANSI.row_for(Quantity.PRP_DISTANCE, powers, PROGRESSIVE)

    assert row.confidence is Confidence.MEMORY
    assert "3.375 D or from 3.75 D" in row.note


def test_a_figure_of_another_edition_says_which():
    other_editions = {"z80-1-1999-laboratory-page": "1999", "iso-21987-2009": "2009"}
    for standard in STANDARDS.values():
        for row in standard.rows:
            for source, edition in other_editions.items():
                if row.sources == (source,):
                    assert edition in row.note, row


# Look-up -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("cylinder", [0.1 + 0.02, 0.12 - 1e-12, 0.12 + 1e-12])
def test_float_noise_does_not_move_a_power_below_a_band(cylinder):
    assert limit(ANSI, Quantity.AXIS, cylinder=cylinder) == 14


@pytest.mark.parametrize("noise", [-1e-10, 0.0, 1e-10])
def test_float_noise_does_not_move_a_power_above_a_band(noise):
    assert limit(ANSI, Quantity.AXIS, cylinder=0.75 + noise) == 5
    assert limit(ANSI, Quantity.CYLINDER, cylinder=2.00 + noise) == 0.13
    assert limit(ISO_MOUNTED, Quantity.MERIDIAN_POWER, stronger_meridian=9.00 + noise) == 0.12
    assert limit(ISO_UNCUT, Quantity.VERTICAL_PRISM, vertical_prism=2.00 + noise) == 0.25


def test_no_limit_is_an_answer_that_has_a_row():
    row = ANSI.row_for(Quantity.AXIS, {Governing.CYLINDER: 0.0})

    assert row.limit is None
    assert row.clause == "Table 3"


def test_a_limit_may_have_a_fixed_part_and_grow():
    rising = Linear(0.25, 0.1, Governing.STRONGER_MERIDIAN)
    row = ISO_UNCUT.row_for(Quantity.HORIZONTAL_PRISM, ELSEWHERE)

    assert row.limit == rising
    assert row.limit_at(ELSEWHERE | {Governing.STRONGER_MERIDIAN: 3.0}) == 0.55


def test_an_unknown_standard_is_answered_with_the_known_ones():
    with pytest.raises(
        LensError,
        match="'ansi-z80-1-1887' is held; choose one of "
        "ansi-z80-1-2015, iso-21987-2017, iso-8980-1-2017, iso-8980-2-2017",
    ):
        find_standard("ansi-z80-1-1887")


@pytest.mark.parametrize("power", [-1.00, math.nan])
def test_a_power_that_no_band_holds_is_refused(power):
    said = r"have no cylinder limit .*, cylinder (-1\.00|nan), .* absolute"
    with pytest.raises(LensError, match=said):
        limit(ANSI, Quantity.CYLINDER, cylinder=power)


def test_a_quantity_that_no_row_is_for_is_refused():
    with pytest.raises(LensError, match=r"have no segment height limit for a progressive lens"):
        limit(ANSI, Quantity.SEGMENT_HEIGHT, PROGRESSIVE)
    assert not ANSI.checks(Quantity.SEGMENT_HEIGHT, PROGRESSIVE)
    assert ANSI.checks(Quantity.SEGMENT_HEIGHT, LensType.MULTIFOCAL)


def test_a_row_does_not_apply_when_what_governs_it_was_not_ordered():
    with pytest.raises(LensError, match="no addition limit"):
        ANSI.row_for(Quantity.ADDITION, {Governing.CYLINDER: 1.0}, PROGRESSIVE)


# Integrity of the data ---------------------------------------------------------------------------

every_standard = pytest.mark.parametrize("standard", STANDARDS.values(), ids=STANDARDS.keys())

UNITS = {
    Unit.DEGREE: {Quantity.AXIS, Quantity.SEGMENT_TILT, Quantity.MARKS_TILT},
    Unit.PRISM_DIOPTRE: {
        Quantity.PRISM_ERROR,
        Quantity.HORIZONTAL_PRISM,
        Quantity.VERTICAL_PRISM,
        Quantity.HORIZONTAL_IMBALANCE,
        Quantity.VERTICAL_IMBALANCE,
    },
    Unit.DIOPTRE: {
        Quantity.MERIDIAN_POWER,
        Quantity.CYLINDER,
        Quantity.ADDITION,
        Quantity.BASE_CURVE,
        Quantity.WARPAGE,
    },
}


def groups(standard, lens_type):
    """The rows for such a lens, those together of which one is enough; one lens alone aside."""
    found = {}
    for row in standard.rows:
        if lens_type in row.lens_types:
            found.setdefault(standard.either_of(row.quantity), []).append(row)
    found.pop((Quantity.PRISM_ERROR, Quantity.PRP_DISPLACEMENT), None)
    return found.values()


def bands_of(rows_of_group):
    """The different bands of each governing power in these rows."""
    found = {}
    for row in rows_of_group:
        for band in row.bands:
            found.setdefault(band.of, {})[band] = None
    return {of: sorted(bands, key=lambda band: band.lower) for of, bands in found.items()}


@every_standard
@pytest.mark.parametrize("lens_type", EVERY_TYPE)
def test_bands_run_from_zero_to_infinity_without_gap_or_overlap(standard, lens_type):
    for group in groups(standard, lens_type):
        for bands in bands_of(group).values():
            assert (bands[0].lower, bands[0].has_lower) == (0.0, True)
            assert bands[-1].upper == math.inf
            for one, following in itertools.pairwise(bands):
                assert one.upper == following.lower
                assert one.has_upper != following.has_lower


@every_standard
@pytest.mark.parametrize("lens_type", EVERY_TYPE)
def test_exactly_one_row_answers_for_each_combination_of_bands(standard, lens_type):
    def inside(band: Band) -> float:
        return band.lower + JUST if band.upper == math.inf else (band.lower + band.upper) / 2

    for group in groups(standard, lens_type):
        by_power = bands_of(group)
        for combination in itertools.product(*by_power.values()):
            powers = {band.of: inside(band) for band in combination}
            assert len([row for row in group if row.applies(powers)]) == 1, (group, powers)


@every_standard
def test_each_row_says_where_it_is_from(standard):
    for row in standard.rows:
        assert row.clause
        assert row.sources
        assert all(key == key.lower() and " " not in key for key in row.sources)
        units = [unit for unit, quantities in UNITS.items() if row.quantity in quantities]
        assert [row.unit] == (units or [Unit.MILLIMETRE])


@every_standard
def test_only_memory_may_name_the_standard_itself_as_its_source(standard):
    """The texts of the standards were not read, so a figure that was seen was seen elsewhere."""
    for row in standard.rows:
        assert row.confidence.remembered == (standard.key in row.sources)
        if row.confidence is Confidence.TWO_SOURCES:
            assert len(row.sources) >= 2


@every_standard
def test_a_sphere_has_no_axis_limit(standard):
    for lens_type in standard.lens_types:
        assert limit(standard, Quantity.AXIS, lens_type, cylinder=0.0) is None


def test_the_keys_of_the_registry_are_the_keys_of_the_standards():
    assert {key: standard.key for key, standard in STANDARDS.items()} == {
        key: key for key in STANDARDS
    }
