"""`LensPower` against published figures; sources and standing are in the test ids.

The rows are in tests/published/, their columns are explained in its README.
"""

from __future__ import annotations

import math

from lensmath.power import LensPower, axis_difference
from tests.printed import Row, as_printed, lens, published


def assert_prints(result: LensPower, row: Row) -> None:
    """`result`, in the cylinder form of the print, has the printed sphere, cylinder and axis."""
    in_plus = float(row["printed_cylinder"]) > 0
    written = result.in_plus_cylinder() if in_plus else result.in_minus_cylinder()
    assert written.sphere == as_printed(row["printed_sphere"])
    assert written.cylinder == as_printed(row["printed_cylinder"])
    if row["printed_axis"]:
        assert written.axis == as_printed(row["printed_axis"])
    else:
        assert written.axis is None


@published("transposition")
def test_transposition_as_printed(row: Row) -> None:
    """The other form of a lens has the printed figures and is the same lens."""
    given = lens(row)
    assert_prints(given.transposed(), row)
    assert given == lens(row, "printed_")


@published("mean_sphere")
def test_mean_sphere_as_printed(row: Row) -> None:
    """The mean sphere is S + C/2."""
    assert lens(row).mean_sphere == as_printed(row["printed"], row["rounded_to"])


@published("principal_meridians")
def test_principal_meridians_as_printed(row: Row) -> None:
    """The optical cross: the two principal powers stand in the printed meridians."""
    cross = {meridian.direction: meridian.power for meridian in lens(row).principal_meridians}
    assert cross[float(row["meridian"])] == as_printed(row["printed"])


@published("crossed_cylinders")
def test_crossed_cylinders_as_printed(row: Row) -> None:
    """Each cylinder of the crossed form has its axis across the meridian of its power."""
    for name, part in zip(("first", "second"), lens(row).crossed_cylinders(), strict=True):
        assert part.sphere == 0
        assert part.cylinder == as_printed(row[f"printed_{name}_cylinder"])
        assert part.axis == as_printed(row[f"printed_{name}_axis"])


@published("power_along")
def test_power_along_a_meridian_as_printed(row: Row) -> None:
    """The power along a meridian follows the sine-squared rule."""
    assert lens(row).power_along(float(row["meridian"])) == as_printed(row["printed"])


@published("power_vector")
def test_power_vector_as_printed(row: Row) -> None:
    """M, J0 and J45, and their length, the blur strength."""
    vector = lens(row).power_vector
    if row["printed_m"]:
        assert vector.m == as_printed(row["printed_m"])
        assert vector.j0 == as_printed(row["printed_j0"])
        assert vector.j45 == as_printed(row["printed_j45"])
    assert math.hypot(*vector) == as_printed(row["printed_length"])


@published("from_power_vector")
def test_lens_of_a_power_vector_as_printed(row: Row) -> None:
    """A power vector in the third quadrant gives the axis of that quadrant."""
    vector = (float(row[name]) for name in ("m", "j0", "j45"))
    assert_prints(LensPower.from_power_vector(*vector), row)


@published("sum")
def test_sum_of_two_lenses_as_printed(row: Row) -> None:
    """Two thin lenses in contact, their axes at any angle."""
    total = lens(row, "first_") + lens(row, "second_")
    if row["printed_mean_sphere"]:
        assert total.mean_sphere == as_printed(row["printed_mean_sphere"])
    else:
        assert_prints(total, row)


@published("difference")
def test_difference_of_two_lenses_as_printed(row: Row) -> None:
    """What makes the first lens of the second: an addition, a zero error, a change."""
    difference = lens(row, "first_") - lens(row, "second_")
    assert_prints(difference, row)
    if row["printed_m"]:
        assert difference.power_vector.m == as_printed(row["printed_m"])
        assert difference.power_vector.j0 == as_printed(row["printed_j0"])
        assert difference.power_vector.j45 == as_printed(row["printed_j45"])


@published("misaligned_cylinder")
def test_misaligned_cylinder_as_printed(row: Row) -> None:
    """A cylinder ordered at 180 stands turned: the lens that puts it right, and its angle."""
    cylinder = float(row["cylinder"])
    missing = LensPower(0, cylinder, 180) - LensPower(0, cylinder, float(row["turned"]))
    assert missing.sphere == as_printed(row["printed_sphere"])
    assert missing.cylinder == as_printed(row["printed_cylinder"])
    assert missing.axis is not None
    assert axis_difference(missing.axis, 180) == as_printed(row["printed_angle"])


@published("toric_transposition")
def test_toric_form_adds_up_to_its_lens(row: Row) -> None:
    """The printed sphere, base cylinder and cross cylinder make the given lens."""
    base_curve = LensPower(0, float(row["printed_base_cylinder"]), float(row["printed_base_axis"]))
    cross_curve = LensPower(
        0, float(row["printed_cross_cylinder"]), float(row["printed_cross_axis"])
    )
    assert base_curve.cylinder == float(row["base_curve"])
    assert LensPower(float(row["printed_sphere"])) + base_curve + cross_curve == lens(row)


@published("lensmeter_readings")
def test_readings_are_the_principal_powers(row: Row) -> None:
    """The sphere lines read the power along the axis, the cylinder lines the power across it."""
    along, across = lens(row, "printed_").principal_meridians
    assert along.direction == float(row["axis_wheel"])
    assert along.power == as_printed(row["sphere_lines"])
    assert across.power == as_printed(row["cylinder_lines"])


@published("turned_round")
def test_axis_of_a_lens_turned_round_as_printed(row: Row) -> None:
    """A lens seen from its other side is mirrored left to right: J45 changes its sign."""
    m, j0, j45 = LensPower(0, -1, float(row["axis"])).power_vector
    assert LensPower.from_power_vector(m, j0, -j45).axis == as_printed(row["printed_axis"])
