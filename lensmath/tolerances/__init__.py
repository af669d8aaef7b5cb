"""The tolerance standards held, one data module an edition.

Pick one standard at a time: its tables belong together.
"""

from collections.abc import Mapping

from lensmath.errors import LensError
from lensmath.tolerances import (
    ansi_z80_1_2015,
    iso_8980_1_2017,
    iso_8980_2_2017,
    iso_21987_2017,
)
from lensmath.tolerances.model import LensType, Standard

__all__ = ["STANDARDS", "find_standard", "standards_for"]

STANDARDS: Mapping[str, Standard] = {
    edition.STANDARD.key: edition.STANDARD
    for edition in (ansi_z80_1_2015, iso_21987_2017, iso_8980_1_2017, iso_8980_2_2017)
}


def find_standard(key: str) -> Standard:
    """The standard with this key.

    Errors  LensError for a key that is not held; it lists those that are.

    >>> find_standard("iso-21987-2017").designation
    'ISO 21987:2017'
    """
    if key not in STANDARDS:
        known = ", ".join(STANDARDS)
        raise LensError(f"No tolerance standard {key!r} is held; choose one of {known}.")
    return STANDARDS[key]


def standards_for(lens_type: LensType) -> Mapping[str, Standard]:
    """The standards whose tables are for such a lens, by their keys.

    >>> [held.designation for held in standards_for(LensType.PROGRESSIVE).values()]
    ['ANSI Z80.1-2015', 'ISO 21987:2017', 'ISO 8980-2:2017']
    """
    return {key: held for key, held in STANDARDS.items() if lens_type in held.lens_types}
