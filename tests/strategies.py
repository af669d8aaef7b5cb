"""The lenses and angles that property tests draw from."""

from __future__ import annotations

from hypothesis import strategies as st

from lensmath.power import LensPower

Strategy = st.SearchStrategy

# Where rules change: the ends of the scale, the two main meridians and the two diagonals.
CORNER_AXES = (0.0, 1.0, 45.0, 90.0, 135.0, 179.0, 180.0)


def powers(limit: float = 25.0) -> Strategy[float]:
    """A power in dioptres, as finely graded as floats are."""
    return st.floats(-limit, limit, allow_nan=False)


def eighths(limit: int = 25) -> Strategy[float]:
    """A power in dioptres in steps of 0.125, exact in a float."""
    return st.integers(-8 * limit, 8 * limit).map(lambda steps: steps / 8)


def axes() -> Strategy[float]:
    """An axis from 0 to 180 degrees: the corners often, whole degrees, and between them."""
    return st.one_of(
        st.sampled_from(CORNER_AXES), st.integers(0, 180).map(float), st.floats(0, 180)
    )


def meridians() -> Strategy[float]:
    """Any direction in degrees, also outside the scale and also negative."""
    return st.one_of(st.sampled_from(CORNER_AXES), st.floats(-720, 720))


def written_lenses() -> Strategy[LensPower]:
    """A lens as people write it: powers in eighths up to 25 D, the axis in whole degrees."""
    return st.builds(LensPower, eighths(), eighths(), st.integers(0, 180).map(float))


def lens_powers() -> Strategy[LensPower]:
    """Any lens up to 25 D of sphere and of cylinder: as written, spheres, and floats."""
    return st.one_of(
        written_lenses(),
        st.builds(LensPower, eighths()),
        st.builds(LensPower, powers(), powers(), axes()),
    )


def astigmatic_lenses() -> Strategy[LensPower]:
    """A lens with a cylinder of at least 0.125 D, so that its axis means something."""
    return lens_powers().filter(lambda lens: abs(lens.cylinder) >= 0.125)
