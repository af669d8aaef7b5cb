"""Powers on the d and on the e line."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lensmath.errors import LensError
from lensmath.power import LensPower
from lensmath.wavelength import (
    SHARE_OF_DISPERSION,
    ReferenceLine,
    ratio_from_abbe,
    ratio_from_indices,
    referred_to,
)
from tests.printed import Row, as_printed, lens, published
from tests.strategies import lens_powers

D, E = ReferenceLine.HELIUM_D, ReferenceLine.MERCURY_E

# Measured dispersion as n² - 1 = sum of B w² / (w² - C), w in micrometres: pairs of B and C.
# The polymers: the fit that a public-domain database of indices gives for sultanova-2009.
MATERIALS = {
    "polycarbonate, sultanova-2009": ((1.4182, 0.021304),),
    "acrylic, sultanova-2009": ((1.1819, 0.011313),),
    "fused silica, malitson-1965": (
        (0.6961663, 0.0684043**2),
        (0.4079426, 0.1162414**2),
        (0.8974794, 9.896161**2),
    ),
}
Terms = tuple[tuple[float, float], ...]


def index(terms: Terms, wavelength: float) -> float:
    square = (wavelength / 1000) ** 2
    return math.sqrt(1 + sum(b * square / (square - c) for b, c in terms))


# Published figures -------------------------------------------------------------------------------


@published("wavelength_ratio")
def test_ratio_as_printed(row: Row) -> None:
    ratio = (
        ratio_from_abbe(float(row["v_d"]))
        if row["v_d"]
        else ratio_from_indices(float(row["n_d"]), float(row["n_e"]))
    )
    assert 100 * (ratio - 1) == as_printed(row["printed_percent"])


@published("wavelength_readings")
def test_reading_on_the_other_line_as_printed(row: Row) -> None:
    ratio = ratio_from_indices(float(row["n_d"]), float(row["n_e"]))
    on_e = referred_to(E, lens(row), ratio)
    assert on_e.sphere == as_printed(row["printed_sphere"])
    assert on_e.cylinder == as_printed(row["printed_cylinder"])
    assert on_e.axis == (float(row["printed_axis"]) if row["printed_axis"] else None)
    assert referred_to(D, on_e, ratio) == lens(row)


def test_the_lines_of_the_standard() -> None:
    # ISO 7944, in two texts (JIS B 7183:1995, the foreword of GB 13511.1-2011).
    assert (D.value, E.value) == (587.56, 546.07)


# From the Abbe number ----------------------------------------------------------------------------


def test_share_of_the_dispersion_is_the_one_of_cauchys_formula() -> None:
    # Independent computation: any index A + B/w² gives the same share.
    d, e, f, c = (1.6 + 8000 / w**2 for w in (587.56, 546.07, 486.13, 656.27))
    assert pytest.approx((e - d) / (f - c)) == SHARE_OF_DISPERSION
    assert as_printed("0.24") == SHARE_OF_DISPERSION


@pytest.mark.parametrize("name", MATERIALS)
def test_abbe_number_comes_close_to_measured_indices(name: str) -> None:
    terms: Terms = MATERIALS[name]
    d, e, f, c = (index(terms, w) for w in (587.56, 546.07, 486.13, 656.27))
    abbe = (d - 1) / (f - c)
    # At 20 D the two ways differ by less than a hundredth.
    assert abs(ratio_from_abbe(abbe) - ratio_from_indices(d, e)) * 20 < 0.01
    assert 0.003 < ratio_from_indices(d, e) - 1 < 0.009


def test_measured_polycarbonate_has_the_printed_indices() -> None:
    # sultanova-2009 prints 1.599 at 486.1 nm and 1.585 at 587.6 nm; so the fit above is theirs.
    terms: Terms = MATERIALS["polycarbonate, sultanova-2009"]
    assert index(terms, 587.6) == as_printed("1.585")
    assert index(terms, 486.1) == pytest.approx(1.599, abs=0.001)


def test_a_thick_lens_keeps_the_ratio_nearly() -> None:
    # The figure in the docstring: +16.00 D front, -1.75 D back, 8 mm, and the 1.74 material.
    n_d, n_e = 1.732, 1.738
    ratio = ratio_from_indices(n_d, n_e)

    def back_vertex_power(front: float, back: float, n: float) -> float:
        return front / (1 - 0.008 / n * front) + back

    on_d = back_vertex_power(16, -1.75, n_d)
    on_e = back_vertex_power(16 * ratio, -1.75 * ratio, n_e)
    by_ratio = referred_to(E, LensPower(on_d), ratio).sphere
    assert on_e - by_ratio == as_printed("0.007")


# Both ways ---------------------------------------------------------------------------------------


@given(lens_powers(), st.floats(1.0, 1.02))
def test_there_and_back_is_the_same_lens(power: LensPower, ratio: float) -> None:
    on_e = referred_to(E, power, ratio)
    assert referred_to(D, on_e, ratio) == power
    assert on_e.axis == power.axis
    assert abs(on_e.sphere) >= abs(power.sphere) - 1e-9


@given(lens_powers(), st.floats(1.0, 1.02))
def test_every_meridian_has_the_ratio(power: LensPower, ratio: float) -> None:
    on_e = referred_to(E, power, ratio)
    for meridian in (0, 37, 90, 121):
        expected = power.power_along(meridian) * ratio
        assert on_e.power_along(meridian) == pytest.approx(expected, abs=1e-6)


def test_results_carry_no_float_noise() -> None:
    assert referred_to(E, LensPower(0.1), 1.1).sphere == 0.11
    on_d = referred_to(D, LensPower(1, -2, 5), 1.1)
    assert (on_d.sphere, on_d.cylinder) == (0.909090909, -1.818181818)


# Refusals ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("bad", [1.0, 0, -1.6, 2.1, math.nan, math.inf])
def test_an_index_that_no_lens_has_is_refused(bad: float) -> None:
    for pair in ((bad, 1.6), (1.6, bad)):
        with pytest.raises(LensError, match="refractive index lies above 1"):
            ratio_from_indices(*pair)


def test_exchanged_indices_are_refused() -> None:
    with pytest.raises(LensError, match=r"not below .* e 1\.732 and d 1\.738 were given"):
        ratio_from_indices(n_d=1.738, n_e=1.732)


@pytest.mark.parametrize("abbe", [9.9, 100.1, 0, -30, math.nan])
def test_an_abbe_number_that_cannot_be_is_refused(abbe: float) -> None:
    with pytest.raises(LensError, match=r"Abbe number lies from 10 to 100; .* was given"):
        ratio_from_abbe(abbe)


@pytest.mark.parametrize("ratio", [0.99, 2, 0, -1, math.nan, math.inf])
def test_a_ratio_that_cannot_be_is_refused(ratio: float) -> None:
    with pytest.raises(LensError, match=r"a ratio from 1 to 2; .* was given"):
        referred_to(E, LensPower(1), ratio)


def test_limits_themselves_are_allowed() -> None:
    assert ratio_from_indices(1.001, 1.001) == 1
    assert ratio_from_abbe(10) > ratio_from_abbe(100) > 1
    assert referred_to(E, LensPower(1), 1.0) == LensPower(1)
