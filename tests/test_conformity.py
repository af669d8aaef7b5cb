"""Inside or outside, and how surely: published probabilities, the four zones, simulated lenses."""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.conformity import (
    CLEAR,
    MOST_READINGS,
    Judgement,
    Zone,
    acceptance_limit,
    conformance_probability,
    readings_to_settle,
    zone_edges,
)
from lensmath.errors import LensError
from lensmath.inspection import Verdict, inspect_lens
from lensmath.power import LensPower
from lensmath.student_t import quantile
from lensmath.tolerances import find_standard
from lensmath.uncertainty import Budget, Spread, from_instrument, from_reader, from_scale
from tests.printed import Row, as_printed, published

# One reading to the nearest eighth within a permitted error of 0.06 D, against 0.13 D.
WORKED = Budget((from_scale(0.125), from_instrument(0.06)))
LIMIT = 0.13
ONE_READING = Budget((*WORKED.components, from_reader(Spread(0.06, 9))))

differences = st.floats(-1, 1)
limits = st.floats(0.05, 1)
doubts = st.floats(0.005, 0.5)


# Published examples -------------------------------------------------------------------------------


@published("uncertainty_conformance")
def test_conformance_probability_as_printed(row: Row) -> None:
    """One-sided and two-sided, normal."""
    value, lower, upper, u = (float(row[name]) for name in ("value", "lower", "upper", "u"))
    assert conformance_probability(value, lower, upper, u) == as_printed(row["printed"])


@published("uncertainty_one_sided")
def test_distance_from_a_one_sided_limit_as_printed(row: Row) -> None:
    """How many standard uncertainties inside a limit the value must lie, and back again."""
    probability = float(row["probability"])
    z = quantile(probability)
    assert z == as_printed(row["printed"])
    assert conformance_probability(-z, -math.inf, 0, 1) == pytest.approx(probability, abs=1e-9)


@published("uncertainty_guard_band")
def test_risk_at_the_edge_of_a_guard_band_is_below_the_print(row: Row) -> None:
    """A reading just accepted behind the guard band is outside more rarely than is printed."""
    accepted = acceptance_limit(10.0, 2.0, float(row["r"]))
    assert 0 < Judgement(accepted, 10.0, 1.0).risk < float(row["printed_below"])


def test_the_worked_size_of_a_hand_reading():
    # Independent computation: U = 0.10 leaves 0.13 - 0.10 = 0.03; 0.26 / (2 × 0.10) = 1.3.
    assert acceptance_limit(LIMIT, WORKED.expanded) == as_printed("0.03")
    assert Judgement(0, LIMIT, WORKED.combined).capability == as_printed("1.3")


def test_a_guard_band_of_the_whole_uncertainty_would_pass_almost_nothing():
    # An eighth off is not accepted with w = U; with a coarser reading nothing at all is.
    assert acceptance_limit(LIMIT, WORKED.expanded) < 0.0625
    assert acceptance_limit(0.09, WORKED.expanded) < 0


# Probability --------------------------------------------------------------------------------------


@given(differences, limits, doubts)
def test_probability_by_two_other_ways(difference, limit, u):
    """By the error function and by the standard library's normal distribution."""
    probability = Judgement(difference, limit, u).probability
    upper, lower = (limit - difference) / u, (-limit - difference) / u
    by_erf = (math.erf(upper / math.sqrt(2)) - math.erf(lower / math.sqrt(2))) / 2
    normal = NormalDist(difference, u)

    assert probability == pytest.approx(by_erf, abs=1e-9)
    assert probability == pytest.approx(normal.cdf(limit) - normal.cdf(-limit), abs=1e-9)


@given(differences, limits, doubts)
def test_the_sign_of_the_difference_does_not_matter(difference, limit, u):
    one, other = Judgement(difference, limit, u, 5), Judgement(-difference, limit, u, 5)
    assert one.probability == pytest.approx(other.probability, abs=2e-9)
    assert (one.passes, one._excess) == (other.passes, other._excess)


@given(differences, limits, doubts)
def test_one_sided_probabilities_leave_out_the_other_limit(value, limit, u):
    below = conformance_probability(value, -math.inf, limit, u)
    above = conformance_probability(value, limit, math.inf, u)
    assert below + above == pytest.approx(1, abs=2e-9)
    assert below >= conformance_probability(value, -limit, limit, u) - 1e-9


def test_few_degrees_of_freedom_make_it_less_sure():
    known, guessed = Judgement(0.04, LIMIT, 0.05), Judgement(0.04, LIMIT, 0.05, 2)

    assert guessed.probability < known.probability
    assert (known.zone, guessed.zone) == (Zone.INSIDE, Zone.INSIDE_BUT_CLOSE)
    # By the closed form of two degrees of freedom: 1/2 + t / (2 √(2 + t²)) at 1.8 and -3.4.
    assert guessed.probability == pytest.approx(
        1.8 / (2 * math.sqrt(2 + 1.8**2)) + 3.4 / (2 * math.sqrt(2 + 3.4**2)), abs=1e-9
    )


def test_at_the_limit_it_is_even():
    at_limit = Judgement(1.0, 1.0, 0.01)
    assert (at_limit.passes, at_limit.zone) == (True, Zone.INSIDE_BUT_CLOSE)
    assert at_limit.probability == at_limit.risk == 0.5


def test_the_risk_is_that_of_the_answer_given():
    inside, outside = Judgement(0.10, LIMIT, 0.05), Judgement(0.16, LIMIT, 0.05)

    assert inside.risk == pytest.approx(1 - inside.probability, abs=1e-9)
    assert outside.risk == outside.probability
    assert inside.risk == pytest.approx(1 - NormalDist().cdf(0.6), abs=1e-4)
    assert outside.risk == pytest.approx(NormalDist().cdf(-0.6), abs=1e-4)


# The four zones -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("difference", "zone"),
    [
        (0.00, Zone.INSIDE),
        (-0.04, Zone.INSIDE),
        (0.05, Zone.INSIDE_BUT_CLOSE),
        (-0.13, Zone.INSIDE_BUT_CLOSE),
        (0.1 + 0.03, Zone.INSIDE_BUT_CLOSE),
        (0.14, Zone.OUTSIDE_BUT_CLOSE),
        (-0.21, Zone.OUTSIDE_BUT_CLOSE),
        (0.22, Zone.OUTSIDE),
        (-5.00, Zone.OUTSIDE),
    ],
)
def test_the_zones_of_the_worked_size(difference, zone):
    # Independent computation: 1.645 × 0.05 = 0.082 on either side of 0.13.
    judged = Judgement(difference, LIMIT, WORKED.combined)

    assert judged.zone is zone
    assert judged.zone.close is ("but close" in zone.value)


def test_the_border_of_close_lies_0_82_u_from_the_limit():
    edges = zone_edges(1.0, 0.05)

    assert edges.inside == pytest.approx(1 - 1.6449 * 0.05, abs=1e-5)
    assert edges.outside == pytest.approx(1 + 1.6449 * 0.05, abs=1e-5)
    assert (1 - edges.inside) / (2 * 0.05) == as_printed("0.82")


@given(limits, doubts, st.sampled_from([2.0, 9.0, math.inf]))
def test_the_answer_changes_at_the_edges(limit, u, nu):
    inside, outside = zone_edges(limit, u, nu)

    assert Judgement(outside + 1e-6, limit, u, nu).zone is Zone.OUTSIDE
    assert Judgement(outside - 1e-6, limit, u, nu).zone is Zone.OUTSIDE_BUT_CLOSE
    if inside is None:
        assert Judgement(0, limit, u, nu).zone is Zone.INSIDE_BUT_CLOSE
    else:
        assert Judgement(max(0, inside - 1e-6), limit, u, nu).zone is Zone.INSIDE
        assert Judgement(inside + 1e-6, limit, u, nu).zone is Zone.INSIDE_BUT_CLOSE


def test_a_probability_of_exactly_95_per_cent_is_clear():
    z = NormalDist().inv_cdf(0.95)

    assert Judgement(10 - z, 10.0, 1.0).probability == CLEAR == 0.95
    assert Judgement(10 - z, 10.0, 1.0).zone is Zone.INSIDE
    assert Judgement(10 + z, 10.0, 1.0).zone is Zone.OUTSIDE


@given(differences, limits, doubts)
def test_results_are_free_of_float_noise_and_cannot_be_changed(difference, limit, u):
    judged = Judgement(difference, limit, u)
    results = [judged.probability, judged.risk, judged.capability, acceptance_limit(limit, u, 0.83)]
    results += [edge for edge in zone_edges(limit, u) if edge is not None]

    assert [value for value in results if value != round(value, 9)] == []
    assert len({judged, Judgement(difference, limit, u)}) == 1


def test_a_reading_may_be_too_uncertain_for_its_limit():
    # Both tails count: 2 × (1 - 0.975) = 5 % beyond when the limit is 1.96 u.
    assert zone_edges(1.97, 1.0).inside is not None
    assert zone_edges(1.95, 1.0).inside is None


def test_a_hopeless_reading_is_not_called_outside():
    """With u far above the limit almost every true value is outside, but none was shown to be."""
    assert Judgement(0.0, 0.1, 10.0).zone is Zone.INSIDE_BUT_CLOSE
    assert Judgement(0.2, 0.1, 10.0).probability < 0.05
    assert Judgement(0.2, 0.1, 10.0).zone is Zone.OUTSIDE_BUT_CLOSE


# With an inspection -------------------------------------------------------------------------------


def test_the_rows_of_an_inspection_can_be_judged():
    ordered, measured = LensPower(-3.00, -1.25, 90), LensPower(-3.12, -1.25, 97)
    rows = inspect_lens(ordered, measured, find_standard("ansi-z80-1-2015")).rows
    doubts = (WORKED.combined, 0.055, 1.0)

    judged = [Judgement(row.difference, row.limit, u) for row, u in zip(rows, doubts, strict=True)]
    assert [each.zone for each in judged] == [Zone.INSIDE_BUT_CLOSE, Zone.INSIDE, Zone.OUTSIDE]
    assert [each.passes for each in judged] == [row.verdict is Verdict.INSIDE for row in rows]


@given(st.integers(-60, 60), st.sampled_from([0.09, 0.12, 0.13, 0.18, 0.25]))
def test_simple_acceptance_agrees_with_the_inspection(hundredths, limit):
    difference = -2.20 + hundredths / 100 - -2.20  # with the noise of a subtraction
    assert Judgement(difference, limit, 0.05).passes is (abs(hundredths) <= round(limit * 100))


# Reading again ------------------------------------------------------------------------------------


def zone_of_mean(difference: float, readings: int) -> Zone:
    mean = ONE_READING.of_mean(readings)
    return Judgement(difference, LIMIT, mean.combined, mean.degrees_of_freedom).zone


@pytest.mark.parametrize("difference", [0.0, 0.01, 0.02, -0.03, 0.04, 0.22, 0.225, -0.25, 0.4])
def test_the_number_of_readings_is_the_first_that_settles_it(difference):
    needed = readings_to_settle(difference, LIMIT, ONE_READING)

    assert needed is not None
    assert not zone_of_mean(difference, needed).close
    assert all(zone_of_mean(difference, fewer).close for fewer in range(1, needed))


def test_more_readings_are_needed_nearer_to_the_limit():
    needed = [readings_to_settle(each, LIMIT, ONE_READING) for each in (0.0, 0.02, 0.04)]

    assert None not in needed
    assert needed == sorted(needed)
    assert needed[-1] > needed[0] > 1
    assert readings_to_settle(0.0, LIMIT, WORKED) == 1


@pytest.mark.parametrize("difference", [0.06, 0.13, 0.14, -0.20])
def test_some_differences_no_number_of_readings_settles(difference):
    """What averaging leaves, u = 0.05, is still too much so near the limit."""
    assert Judgement(difference, LIMIT, ONE_READING.lasting).zone.close
    assert readings_to_settle(difference, LIMIT, ONE_READING) is None


def test_the_last_number_of_readings_counts_too():
    """Of readings that scatter alone, MOST_READINGS are needed when z s / √n just fits."""
    assert MOST_READINGS == 100
    just = Budget((from_reader(Spread(1.0, 10**9)),))
    z = quantile(CLEAR)
    assert readings_to_settle(10 - z / math.sqrt(MOST_READINGS - 0.5), 10, just) == MOST_READINGS
    assert readings_to_settle(10 - z / math.sqrt(MOST_READINGS + 0.5), 10, just) is None


# Simulated lenses (independent computation, numpy) ------------------------------------------------


@pytest.mark.parametrize("read", [0.0, 0.06, 0.12, 0.18])
def test_simulated_lenses_that_read_so_are_inside_as_often_as_is_said(read):
    """Of lenses of every size, those that read alike are inside with the probability given."""
    rng = np.random.default_rng(6)
    true = rng.uniform(-0.6, 0.6, 2_000_000)
    readings = true + rng.normal(0, 0.05, true.size)
    alike = true[np.abs(readings - read) < 0.005]

    expected = Judgement(read, LIMIT, 0.05).probability
    assert np.mean(np.abs(alike) <= LIMIT) == pytest.approx(expected, abs=0.01)


# Refusals -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("attempt", "words"),
    [
        (lambda: Judgement(0, 0.13, 0), r"standard uncertainty is a number above 0; 0\.00 was"),
        (lambda: Judgement(0, 0.13, math.nan), r"standard uncertainty is a number above 0; nan"),
        (lambda: Judgement(0, 0.13, math.inf), r"standard uncertainty is a number above 0; inf"),
        (lambda: Judgement(0, 0, 0.05), r"limit is a number above 0; 0\.00 was given"),
        (lambda: Judgement(0, -0.13, 0.05), r"limit is a number above 0; −0\.13 was given"),
        (lambda: Judgement(0, math.inf, 0.05), r"limit is a number above 0; inf was given"),
        (lambda: Judgement(math.nan, 0.13, 0.05), r"measured value is a number; nan was given"),
        (
            lambda: conformance_probability(math.inf, 0, math.inf, 1),
            r"measured value is a number; inf was given",
        ),
        (
            lambda: conformance_probability(0, 1, 1, 0.1),
            r"lower limit lies below the upper; 1\.00 and 1\.00 were given",
        ),
        (
            lambda: conformance_probability(0, 0, 1, -0.1),
            r"standard uncertainty is a number above 0; −0\.10 was given",
        ),
        (lambda: zone_edges(0.13, -1), r"standard uncertainty is a number above 0; −1\.00 was"),
        (lambda: zone_edges(-0.13, 1), r"limit is a number above 0; −0\.13 was given"),
    ],
)
def test_impossible_figures_are_refused_in_words(attempt, words):
    with pytest.raises(LensError, match=words):
        attempt()
