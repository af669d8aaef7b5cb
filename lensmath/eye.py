"""Which eye, and which way is in: seen facing the wearer, as axes and prism bases are."""

from enum import Enum


class Eye(Enum):
    """An eye of the wearer.

    `inward` is the sign of x, which points to the observer's right, on the way to the nose: the
    observer faces the wearer, so a right eye's nose lies to the observer's right.

    Source  iso-8429-1986
    """

    RIGHT = "right"
    LEFT = "left"

    @property
    def inward(self) -> int:
        """+1 for a right eye, -1 for a left one."""
        return 1 if self is Eye.RIGHT else -1
