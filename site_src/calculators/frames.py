"""A frame and its PDs in a form: the entries, what they mean, and lengths as they are shown.

Shared by the calculators that lay lenses out in a frame. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Mapping

from lensmath.centration import Decentration, EyePair, Frame, write_length
from lensmath.eye import Eye
from lensmath.notation import MINUS
from lensmath.power import rounded_to, snapped
from site_src.calculators.answer import Datum, Line, Step, plain, say, word
from site_src.calculators.fields import FieldError, NumberField
from site_src.calculators.sums import summed

EYES = (Eye.RIGHT, Eye.LEFT)
COMMON_BLANKS = (55, 60, 65, 70, 75, 80)  # mm; common practice
_FAR = 10.0  # mm from the optical centre; common practice
_BINOCULAR, _ONE_EYE = (30.0, 90.0), (15.0, 50.0)  # mm; PDs that are taken


# Entries ------------------------------------------------------------------------------------------


def width_field() -> NumberField:
    """The boxed width A."""
    return NumberField("a", "Width A", "the eye size", group="Frame", unit="mm", low=20, high=80)


def depth_field(hint: str, *, optional: bool) -> NumberField:
    """The boxed depth B."""
    return NumberField(
        "b", "Depth B", hint, optional=optional, group="Frame", unit="mm", low=10, high=80
    )


def bridge_field() -> NumberField:
    """The distance between lenses."""
    return NumberField("dbl", "Bridge DBL", "", group="Frame", unit="mm", low=5, high=40)


def pd_fields(name: str, group: str, hint: str) -> tuple[NumberField, ...]:
    """A PD of each eye, or a binocular one: `right_<name>`, `left_<name>` and `name`."""
    low, high = _BINOCULAR
    return (
        *(_one_eye_field(name, eye, group) for eye in EYES),
        NumberField(name, "Binocular", hint, True, group=group, unit="mm", low=low, high=high),
    )


def _one_eye_field(name: str, eye: Eye, group: str) -> NumberField:
    low, high = _ONE_EYE
    label = f"{eye.value.capitalize()} eye"
    return NumberField(
        f"{eye.value}_{name}", label, "", True, group=group, unit="mm", low=low, high=high
    )


def paired(name: str, both: float | None, right: float | None, left: float | None) -> EyePair:
    """The PD of each eye from the fields that `pd_fields` made.

    Errors  FieldError when nothing was entered, when one eye's PD stands alone, and when it leaves
            too much or too little of the binocular PD for the other eye.
    """
    if right is not None and left is not None:
        return EyePair(right, left)
    if both is None and right is None and left is None:
        raise FieldError(
            name, "nothing was entered. Enter the binocular PD, or the PD of each eye."
        )
    if both is None:
        missing = "left" if left is None else "right"
        raise FieldError(
            f"{missing}_{name}",
            "nothing was entered, but the other eye's PD was. Enter it too, or the binocular PD.",
        )
    if right is not None:
        return EyePair(right, _rest(f"right_{name}", both, right))
    if left is not None:
        return EyePair(_rest(f"left_{name}", both, left), left)
    return EyePair.halves(both)


def _rest(field: str, both: float, one: float) -> float:
    other = snapped(both - one)
    least, most = _ONE_EYE
    if not least <= other <= most:
        raise FieldError(
            field,
            f"{exactly(one)} mm of a binocular PD of {exactly(both)} mm leaves {exactly(other)} mm "
            f"for the other eye; it has to be from {least:g} to {most:g} mm.",
        )
    return other


def shared(
    what: str, both: float | None, right: float | None, left: float | None, pds: EyePair
) -> tuple[Line, ...]:
    """Says how PDs were taken from a binocular one; no line when both were entered."""
    if both is None or (right is not None and left is not None):
        return ()
    if right is None and left is None:
        half = exactly(pds.right)
        return (say(f"{what} {exactly(both)} mm: {half} mm for each eye, shared equally."),)
    missing, rest = ("left", pds.left) if left is None else ("right", pds.right)
    given = exactly(both)
    return (say(f"{what} {given} mm: {exactly(rest)} mm of it are left for the {missing} eye."),)


def contradicted(what: str, both: float | None, pds: EyePair) -> tuple[str, ...]:
    """A caution when the PDs of the eyes do not add up to the binocular one entered with them."""
    if both is None or snapped(both - pds.total) == 0:
        return ()
    caution = (
        f"{what}: {exactly(pds.right)} and {exactly(pds.left)} mm make {exactly(pds.total)} mm, "
        f"but {exactly(both)} mm was entered for both eyes. The single eyes were used. "
        "Measure again."
    )
    return (caution,)


def far_centre(away: float, start: str) -> tuple[str, ...]:
    """A caution when the optical centre lies so far from `start` that the blank may not reach."""
    if snapped(away) <= _FAR:
        return ()
    shown = rounded_to(away, 0.1)
    caution = (
        f"The optical centre lies {exactly(shown)} mm from {start}. The blank has to reach that "
        f"far beyond the frame on one side: it is twice that, {exactly(2 * shown)} mm, more across "
        "than the lens. Check it with Decentration and blank."
    )
    return (caution,)


# Lengths ------------------------------------------------------------------------------------------


def exactly(value: float) -> str:
    """A length as it was entered, without its unit.

    >>> exactly(31.25), exactly(70.0)
    ('31.25', '70')
    """
    return f"{snapped(value):.10g}".replace("-", MINUS)


def length(value: float, name: str, *, exact: bool = False) -> Datum:
    """A length without its sign; `exact` shows hundredths, where there are any."""
    size = abs(value)
    shown = exactly(rounded_to(size, 0.01)) if exact else write_length(size)
    return Datum(name, snapped(value), shown)


def signed(value: float, name: str) -> Datum:
    """A length in hundredths with its minus, for a sum that may come out below zero."""
    rounded = rounded_to(value, 0.01)
    return Datum(name, snapped(value), exactly(rounded) if rounded else "0")


def shift(value: float, name: str, ways: tuple[str, str] = ("in", "out")) -> Line:
    """A length and its way, such as 3 mm in; the way is a datum of its own, `<name>.way`."""
    size = say("{size} mm", size=length(value, name))
    if rounded_to(value, 0.1) == 0:
        return size
    return (*size, " ", word(ways[0] if value > 0 else ways[1], f"{name}.way"))


def placed(value: Decentration, name: str) -> Line:
    """A decentration as a line: across, and up or down where there is any."""
    across = shift(value.inward, f"{name}.decentration")
    if value.up == 0:
        return across
    return (*across, ", ", *shift(value.up, f"{name}.up", ("up", "down")))


def both_eyes(values: Mapping[Eye, Line]) -> Line:
    """What is said of the right and of the left lens; once for both where it is the same."""
    right, left = values[Eye.RIGHT], values[Eye.LEFT]
    if plain(right) == plain(left):
        return ("Each lens ", *right)
    return ("Right ", *right, "; left ", *left)


# Sums ---------------------------------------------------------------------------------------------


def frame_pd_step(frame: Frame) -> Step:
    """The frame PD, from boxed centre to boxed centre."""
    return summed(
        "Frame PD: lens width and bridge, from boxed centre to boxed centre.",
        "A + DBL",
        "{a} + {dbl}",
        lambda a, dbl: a + dbl,
        say("{size} mm", size=length(frame.frame_pd, "frame_pd", exact=True)),
        a=frame.a,
        dbl=frame.dbl,
    )


def across_step(whose: str, frame_pd: float, pd: float, inward: float, name: str) -> Step:
    """The decentration of one lens, as a sum without a sign."""
    result = say("{size} mm", size=length(inward, name, exact=True))
    if inward < 0:
        return summed(
            f"{whose}: the PD is wider than half the frame PD, so out by the difference.",
            "PD − frame PD ÷ 2",
            "{pd} − {frame_pd} ÷ 2",
            lambda frame_pd, pd: pd - frame_pd / 2,
            result,
            frame_pd=frame_pd,
            pd=pd,
        )
    return summed(
        f"{whose}: half the frame PD less the PD, toward the nose.",
        "frame PD ÷ 2 − PD",
        "{frame_pd} ÷ 2 − {pd}",
        lambda frame_pd, pd: frame_pd / 2 - pd,
        result,
        frame_pd=frame_pd,
        pd=pd,
    )


def height_step(what: str, b: float, height: float, off: Datum) -> Step:
    """How far a height stands `off` the horizontal centre line, as a sum without a sign."""
    result = say("{size} mm", size=off)
    if height < b / 2:
        return summed(
            f"{what} below the centre line: half the depth less the height.",
            "B ÷ 2 − height",
            "{b} ÷ 2 − {height}",
            lambda b, height: b / 2 - height,
            result,
            b=b,
            height=height,
        )
    return summed(
        f"{what} above the centre line: the height less half the depth.",
        "height − B ÷ 2",
        "{height} − {b} ÷ 2",
        lambda b, height: height - b / 2,
        result,
        b=b,
        height=height,
    )
