"""Uncertainty of a reading: published examples, identities, and a simulated reader.

The guide's worked examples are in tests/published/uncertainty_*.csv. The simulations draw readings
with numpy and know nothing of the formulae.
"""

from __future__ import annotations

import math
from statistics import fmean

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.instrument import VERTEX_POWER
from lensmath.scale import HAND_SCALE
from lensmath.student_t import cumulative, quantile
from lensmath.uncertainty import (
    COVERAGE,
    Budget,
    Cause,
    Component,
    ReadTo,
    Spread,
    difference,
    from_instrument,
    from_reader,
    from_scale,
    from_zero,
    rectangular,
    spread,
)
from tests.printed import Row, as_printed, published

WORKED = Budget((from_scale(0.125), from_instrument(0.06)))
FULL = Budget((from_scale(0.125), from_reader(Spread(0.08, 9)), from_instrument(0.06)))

sizes = st.floats(1e-3, 10)
freedoms = st.one_of(st.integers(1, 200).map(float), st.just(math.inf))
components = st.builds(Component, st.sampled_from(Cause), sizes, freedoms)
budgets = st.lists(components, min_size=1, max_size=5).map(lambda parts: Budget(tuple(parts)))


# Published examples -------------------------------------------------------------------------------


@published("uncertainty_t_factor")
def test_t_factor_as_printed(row: Row) -> None:
    """Student's t for a central probability, from 1 degree of freedom to infinitely many."""
    central = float(row["coverage"])
    factor = quantile((1 + central) / 2, float(row["degrees_of_freedom"]))
    assert factor == as_printed(row["printed"])


@published("uncertainty_rectangular")
def test_rectangular_as_printed(row: Row) -> None:
    """A bound on either side is worth its half-width over the root of three."""
    assert rectangular(float(row["half_width"])) == as_printed(row["printed"])


@published("uncertainty_of_readings")
def test_spread_of_readings_as_printed(row: Row) -> None:
    """The spread of one reading, and what is left of it in the mean of all."""
    readings = [float(reading) for reading in row["readings"].split()]
    scatter = spread(readings)
    assert fmean(readings) == as_printed(row["printed_mean"])
    assert scatter.standard_deviation == as_printed(row["printed_spread"])
    assert scatter.degrees_of_freedom == len(readings) - 1

    mean = Budget((from_reader(scatter),)).of_mean(len(readings))
    assert mean.combined == as_printed(row["printed_of_mean"])


@published("uncertainty_budget")
def test_budget_as_printed(row: Row) -> None:
    """Root of the sum of squares, and the degrees of freedom of the whole."""
    parts = zip(row["standard"].split(), row["degrees_of_freedom"].split(), strict=True)
    budget = Budget(tuple(Component(Cause.INSTRUMENT, float(u), float(nu)) for u, nu in parts))
    assert budget.combined == as_printed(row["printed_combined"])
    if row["printed_degrees_of_freedom"]:
        assert budget.degrees_of_freedom == as_printed(row["printed_degrees_of_freedom"])
    if row["printed_whole"]:
        assert math.floor(budget.degrees_of_freedom) == int(row["printed_whole"])


def test_a_spread_of_the_mean_of_five_from_a_pooled_estimate():
    # GUM H.1.3.2 (gum-2008, seen in another text): 13 nm, 24 degrees of freedom, mean of five.
    pooled = Budget((from_reader(Spread(13, 24)),))
    assert pooled.of_mean(5).combined == as_printed("5.8")
    assert pooled.of_mean(5).degrees_of_freedom == 24


def test_the_coverage_factor_cuts_the_degrees_of_freedom():
    # gum-2008, Table G.2 for 95.45 %: 16 gives 2.17, 17 gives 2.16. H.1 cuts to 16 before k.
    end_gauge = Budget(
        tuple(
            Component(Cause.INSTRUMENT, *part)
            for part in ((25, 18), (9.7, 25.6), (2.9, 50), (16.6, 2))
        )
    )
    assert 16.5 < end_gauge.degrees_of_freedom < 17
    assert end_gauge.coverage_factor == pytest.approx(quantile((1 + COVERAGE) / 2, 16), abs=1e-9)
    assert end_gauge.coverage_factor == as_printed("2.17")


# A hand reading -----------------------------------------------------------------------------------


def test_a_drum_read_to_its_marks_within_the_permitted_error():
    # Independent computation: 0.0625/√3 = 0.0361, 0.06/√3 = 0.0346; together 0.0500.
    step = HAND_SCALE.step_at(-2.25)
    reading = Budget((from_scale(step), from_instrument(VERTEX_POWER.at(-2.25).limit)))

    assert [each.standard for each in reading.components] == [
        as_printed("0.0361"),
        as_printed("0.0346"),
    ]
    assert reading.combined == as_printed("0.050")
    assert reading.coverage_factor == 2.0
    assert reading.expanded == as_printed("0.10")
    assert reading == WORKED


def test_half_marks_halve_the_part_of_the_scale():
    assert from_scale(0.125, ReadTo.HALF_MARK).standard == pytest.approx(
        from_scale(0.125).standard / 2, abs=1e-9
    )
    assert from_scale(0.25, ReadTo.HALF_MARK) == from_scale(0.125, ReadTo.MARK)


def test_an_axis_wheel_is_a_scale_too():
    # Divisions of 5 degrees read to the mark: 2.5/√3, independent computation.
    assert from_scale(5).standard == as_printed("1.4434")


def test_shares_tell_what_dominates():
    budget = Budget((Component(Cause.SCALE, 3), Component(Cause.READER, 4)))

    assert budget.combined == 5.0
    assert [budget.share(cause) for cause in (Cause.SCALE, Cause.READER, Cause.ZERO)] == [
        0.36,
        0.64,
        0.0,
    ]


def test_averaging_removes_only_the_reader():
    means = [FULL.of_mean(n).combined for n in (1, 2, 4, 100)]

    assert means[0] == FULL.combined
    assert means == sorted(means, reverse=True)
    assert FULL.lasting == WORKED.combined
    assert [mean**2 - FULL.lasting**2 for mean in means] == [
        pytest.approx(0.08**2 / n, abs=1e-9) for n in (1, 2, 4, 100)
    ]
    assert WORKED.of_mean(100) == WORKED


def test_two_like_readings_make_a_difference_root_two_times_as_uncertain():
    assert difference(FULL, FULL).combined == pytest.approx(math.sqrt(2) * FULL.combined, abs=1e-9)


def test_a_zero_error_cancels_in_a_difference_and_stays_in_a_mean():
    with_zero = Budget((*FULL.components, from_zero(0.03)))

    assert with_zero.combined > FULL.combined
    assert difference(with_zero, with_zero) == difference(FULL, FULL)
    assert with_zero.lasting == pytest.approx(math.hypot(FULL.lasting, rectangular(0.03)), abs=1e-9)


def test_a_difference_may_cross_into_wider_marks():
    fine, coarse = Budget((from_scale(0.125),)), Budget((from_scale(0.25),))

    assert difference(fine, coarse).combined == as_printed("0.0807")  # √(0.0361² + 0.0722²)
    assert difference(fine, FULL).share(Cause.INSTRUMENT) > 0


def test_one_spread_used_twice_is_no_better_known():
    reader = Budget((from_reader(Spread(0.05, 4)),))
    better_known = Budget((from_reader(Spread(0.05, 20)),))

    assert difference(reader, reader).degrees_of_freedom == 4
    assert difference(reader, better_known).degrees_of_freedom == 4


def test_pooling_weighs_series_by_their_degrees_of_freedom():
    # By hand: variances 2 (two readings) and 1 (three): (1 × 2 + 2 × 1) / 3.
    assert spread([0, 2], [-1, 0, 1]) == (pytest.approx(math.sqrt(4 / 3), abs=1e-9), 3)
    assert spread([5.0, 5.0, 5.0]) == (0.0, 2)


# Identities ---------------------------------------------------------------------------------------


@given(st.floats(-50, 50), freedoms)
def test_t_is_symmetric_and_its_quantile_undoes_it(t, nu):
    assert cumulative(t, nu) + cumulative(-t, nu) == pytest.approx(1, abs=1e-14)
    below = cumulative(t, nu)
    if 1e-6 < below < 1 - 1e-6:
        assert quantile(below, nu) == pytest.approx(t, rel=1e-6, abs=1e-9)


@given(st.floats(-1e3, 1e3))
def test_t_with_one_and_two_degrees_of_freedom_in_closed_form(t):
    assert cumulative(t, 1) == pytest.approx(0.5 + math.atan(t) / math.pi, abs=1e-14)
    assert cumulative(t, 2) == pytest.approx(0.5 + t / (2 * math.sqrt(2 + t * t)), abs=1e-14)


@given(st.floats(-8, 8))
def test_t_without_end_is_the_normal_distribution(t):
    normal = math.erfc(-t / math.sqrt(2)) / 2
    assert cumulative(t) == pytest.approx(normal, abs=1e-14)
    for nearly in (999_999, 1_000_000):
        assert cumulative(t, nearly) == pytest.approx(normal, abs=1e-6)


@pytest.mark.parametrize(
    ("t", "expected"), [(0, 0.5), (1e-200, 0.5), (1e200, 1), (math.inf, 1), (-math.inf, 0)]
)
@pytest.mark.parametrize("nu", [1, 7.5, 1e5, math.inf])
def test_t_at_its_ends(t, expected, nu):
    assert cumulative(t, nu) == expected


@given(budgets)
def test_the_whole_lies_between_its_largest_part_and_their_sum(budget):
    parts = [each.standard for each in budget.components]
    assert max(parts) - 1e-9 <= budget.combined <= sum(parts) + 1e-9
    assert sum(budget.share(cause) for cause in Cause) == pytest.approx(1, abs=1e-6)


@given(budgets)
def test_degrees_of_freedom_lie_between_the_fewest_and_their_sum(budget):
    each = [part.degrees_of_freedom for part in budget.components]
    assert min(each) <= budget.degrees_of_freedom * (1 + 1e-9)
    assert budget.degrees_of_freedom <= sum(each) * (1 + 1e-9)
    assert budget.coverage_factor >= 2 - 1e-9


def test_a_budget_without_any_doubt_is_known_without_end():
    exact = Budget((Component(Cause.READER, 0.0, 2), Component(Cause.SCALE, 0.0)))

    assert (exact.combined, exact.degrees_of_freedom, exact.expanded) == (0.0, math.inf, 0.0)
    assert exact.share(Cause.READER) == 0.0


@given(budgets)
def test_results_are_free_of_float_noise_and_cannot_be_changed(budget):
    mean, travel = budget.of_mean(3), difference(budget, Budget((from_scale(0.125),)))
    pooled = spread([0.1, 0.2, 0.4]).standard_deviation
    results = [each.standard for part in (mean, travel) for each in part.components]
    results += [budget.combined, budget.expanded, budget.lasting, budget.coverage_factor]
    results += [budget.degrees_of_freedom, budget.share(Cause.READER), rectangular(0.06), pooled]

    drawn = {each.standard for each in budget.components}
    assert [value for value in results if value != round(value, 9) and value not in drawn] == []
    assert len({budget, Budget(budget.components)}) == 1


# A simulated reader (independent computation, numpy) ----------------------------------------------

DRAWS = 200_000


def simulated_errors(
    rng: np.random.Generator, readings: int, s: float, instrument: float, step: float
) -> np.ndarray:
    """Errors of the mean of so many readings of lenses of any power, one lens a row."""
    true = rng.uniform(-3, 3, (DRAWS, 1))
    own_error = rng.uniform(-instrument, instrument, (DRAWS, 1))
    seen = true + own_error + rng.normal(0, s, (DRAWS, readings))
    return (np.round(seen / step) * step).mean(axis=1) - true[:, 0]


def test_simulated_readings_scatter_as_much_as_the_budget_says():
    rng = np.random.default_rng(1)
    errors = simulated_errors(rng, 1, 0.08, 0.06, 0.125)
    known = Budget((from_scale(0.125), from_reader(Spread(0.08, 999)), from_instrument(0.06)))

    assert errors.std() == pytest.approx(known.combined, rel=0.01)
    assert np.mean(np.abs(errors) <= known.expanded) == pytest.approx(COVERAGE, abs=0.005)


@pytest.mark.parametrize("s", [0.0001, 0.02, 0.08])
def test_simulated_means_never_scatter_more_than_the_budget_says(s):
    """A steady reader stops at the same mark each time; an unsteady one averages the marks too."""
    rng = np.random.default_rng(2)
    errors = simulated_errors(rng, 9, s, 0.06, 0.125)
    mean = Budget((from_scale(0.125), from_reader(Spread(s, 99)), from_instrument(0.06))).of_mean(9)

    assert errors.std() <= mean.combined * 1.01
    if s == 0.0001:
        assert errors.std() == pytest.approx(mean.combined, rel=0.01)
    assert np.mean(np.abs(errors) <= mean.expanded) >= COVERAGE


def test_a_simulated_travel_scatters_as_the_difference_says():
    rng = np.random.default_rng(3)
    zero = rng.uniform(-0.03, 0.03, DRAWS)
    sphere, cylinder = rng.uniform(-2, 2, DRAWS), rng.uniform(-1, 1, DRAWS)

    def read(true: np.ndarray) -> np.ndarray:
        return np.round((true + zero + rng.normal(0, 0.05, DRAWS)) / 0.125) * 0.125

    errors = read(sphere + cylinder) - read(sphere) - cylinder
    reading = Budget((from_scale(0.125), from_reader(Spread(0.05, 99)), from_zero(0.03)))
    assert errors.std() == pytest.approx(difference(reading, reading).combined, rel=0.01)


@pytest.mark.parametrize("readings", [2, 3, 5])
def test_k_for_few_readings_covers_as_often_as_it_should(readings):
    """Each simulated reader knows the own spread only from these few readings."""
    rng = np.random.default_rng(4)
    seen = rng.normal(0, 0.1, (DRAWS, readings))
    u = seen.std(axis=1, ddof=1) / math.sqrt(readings)
    k = Budget((from_reader(Spread(0.1, readings - 1)),)).of_mean(readings).coverage_factor

    assert np.mean(np.abs(seen.mean(axis=1)) <= k * u) == pytest.approx(COVERAGE, abs=0.002)


def test_pooled_spread_of_many_short_series_finds_the_true_one():
    rng = np.random.default_rng(5)
    short = rng.normal(0, 0.1, (2000, 2)) + rng.uniform(-3, 3, (2000, 1))
    pooled = spread(*short.tolist())

    assert pooled.standard_deviation == pytest.approx(0.1, rel=0.03)
    assert pooled.degrees_of_freedom == 2000


# Refusals -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("attempt", "words"),
    [
        (spread, r"at least two readings of the same lens; none was given"),
        (lambda: spread([1.0, 2.0], []), r"at least two readings of the same lens; none was given"),
        (lambda: spread([1.0]), r"at least two readings of the same lens; one was given"),
        (lambda: rectangular(-1), r"half-width is a number of 0 or more; −1\.00 was given"),
        (lambda: rectangular(math.inf), r"half-width is a number of 0 or more; inf was given"),
        (lambda: from_scale(-0.125), r"step of the scale is a number of 0 or more; −0\.125 was"),
        (lambda: from_instrument(math.nan), r"permitted error is a number of 0 or more; nan was"),
        (lambda: from_zero(-0.03), r"zero error is a number of 0 or more; −0\.03 was given"),
        (
            lambda: Component(Cause.READER, -0.1),
            r"uncertainty from the spread of the reader is a number of 0 or more; −0\.10 was given",
        ),
        (lambda: Component(Cause.READER, 1, 0.5), r"at least 1 degree of freedom; 0\.50 was"),
        (lambda: Component(Cause.READER, 1, math.nan), r"at least 1 degree of freedom; nan was"),
        (lambda: Budget(()), r"at least one cause; none was given"),
        (
            lambda: difference(Budget((from_zero(1),)), Budget((from_zero(1),))),
            r"at least one cause; none was given",
        ),
        (lambda: FULL.of_mean(0), r"one reading or more; 0 was given"),
        (lambda: FULL.of_mean(-2), r"one reading or more; −2 was given"),
        (lambda: quantile(1.0), r"between 0 and 1; 1 was given"),
        (lambda: quantile(0.0), r"between 0 and 1; 0 was given"),
        (lambda: quantile(0.9, -1), r"more than 0 degrees of freedom; 1 with −1 degrees"),
        (lambda: cumulative(1, 0), r"more than 0 degrees of freedom; 1 with 0 degrees"),
        (lambda: cumulative(1, math.nan), r"more than 0 degrees of freedom; 1 with nan degrees"),
        (lambda: cumulative(math.nan), r"t is a number, .*; nan with inf degrees of freedom was"),
    ],
)
def test_impossible_figures_are_refused_in_words(attempt, words):
    with pytest.raises(LensError, match=words):
        attempt()
