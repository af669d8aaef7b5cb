"""Permitted errors of the instrument, written out a second time from the texts named beside them.

ISO 8598-1 was not read: these check that the table says what is remembered, not that memory is
right.
"""

import math

import pytest

from lensmath.errors import LensError
from lensmath.instrument import AXIS_MARKER, PRISM, VERTEX_POWER, ZERO
from lensmath.tolerances.model import Confidence

JUST = 1e-6
TABLES = (VERTEX_POWER, PRISM, AXIS_MARKER, ZERO)

# From memory of ISO 8598-1 (iso-8598-1-2014); up to 5 D also in whitney-focimetry.
REMEMBERED = [
    (VERTEX_POWER, (0, 5, 10, 15, 20), (0.06, 0.09, 0.12, 0.18, 0.25)),
    (PRISM, (0, 5, 10, 15, 20), (0.1, 0.2, 0.3, 0.4, 0.5)),
    (AXIS_MARKER, (0,), (1,)),
    # Read in a summary of a Chinese verification rule (focimeter-verification-summary).
    (ZERO, (0,), (0.03,)),
]


@pytest.mark.parametrize(("table", "lowers", "limits"), REMEMBERED)
@pytest.mark.parametrize("sign", [1, -1])
def test_each_band_reaches_from_above_its_edge_to_the_next(table, lowers, limits, sign):
    uppers = (*lowers[1:], 1000)
    for lower, upper, limit in zip(lowers, uppers, limits, strict=True):
        assert table.at(sign * (lower + JUST)).limit == limit
        assert table.at(sign * upper).limit == limit
        assert table.at(sign * (upper + 1e-12)).limit == limit


@pytest.mark.parametrize("table", TABLES)
def test_nothing_is_shown_as_read_that_was_not(table):
    for band in table.bands:
        from_iso = "iso-8598-1-2014" in band.sources
        assert band.confidence.remembered is from_iso
        spot_checked = band.confidence is Confidence.SPOT_CHECKED
        assert spot_checked is (len(band.sources) > 1)


def test_tables_cannot_be_changed():
    assert len({*TABLES, *(band for table in TABLES for band in table.bands)}) == 13 + 3


def test_every_figure_is_covered_but_nonsense():
    for table in TABLES:
        assert table.at(math.inf) is table.bands[-1]
    with pytest.raises(LensError, match=r"The vertex power must be a number in D; nan was given"):
        VERTEX_POWER.at(math.nan)
    with pytest.raises(LensError, match=r"The prism must be a number in Δ; nan was given"):
        PRISM.at(math.nan)
