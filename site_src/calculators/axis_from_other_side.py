"""The axis of a lens that was read from its front: mirrored, as it stands before the wearer."""

from __future__ import annotations

from lensmath.additions import Surface
from lensmath.notation import MINUS, write_axis
from lensmath.power import standard_axis
from site_src.calculators.answer import Answer, Line, Step, axis, say
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import AxisField, Choice, ChoiceField
from site_src.figures.axis_dial import axis_dial


def solve(measured_axis: float, side: Surface) -> Answer:
    """The axis before the wearer, and what else changes when a lens is read from its front."""
    front = side is Surface.FRONT
    worn = standard_axis(180 - measured_axis) if front else measured_axis
    return Answer(
        headline=say("Axis {axis}", axis=axis(worn)),
        also=(_also(measured_axis, worn, side),),
        steps=(_step(measured_axis, worn, side),),
        figures=(axis_dial("axis-from-other-side", measured_axis, worn),),
        cautions=(_POWER_TOO,) if front else (),
        sources=("optometry-cards-lens-power", "iso-8429-1986"),
    )


_POWER_TOO = (
    "Only the axis can be put right like this. From its front a lens shows its front vertex power, "
    "which differs from the ordered back vertex power where a lens is thick and its front is "
    "steep. Read the power with the back surface on the stop."
)


def _also(read: float, worn: float, side: Surface) -> Line:
    if side is Surface.BACK:
        why = "With the back surface on the stop it is the axis before the wearer."
    elif worn == read:
        why = "This axis is its own mirror image, so it does not change."
    else:
        why = "From the front the axis is seen mirrored, left to right."
    return say(f"Read as {{read}}. {why}", read=axis(read, "read"))


def _step(read: float, worn: float, side: Surface) -> Step:
    result = say("{axis}", axis=axis(worn))
    if side is Surface.BACK:
        return Step(
            "The back was on the stop, so you looked at the lens as it is looked at when worn.",
            result=result,
        )
    if read == 180:
        return Step("A horizontal axis stays horizontal in a mirror.", result=result)
    return Step(
        "Take the axis from 180.", f"180 {MINUS} A", f"180 {MINUS} {write_axis(read)}", result
    )


CALCULATOR = Calculator(
    slug="axis-from-other-side",
    title="Axis from the other side",
    purpose="Enter the axis as you read it from the front of the lens; get the axis as worn.",
    fields=(
        AxisField("measured_axis", "Axis read", "1 to 180, as the wheel shows it"),
        ChoiceField(
            "side",
            "Surface on the stop",
            "the back belongs there",
            choices=(
                Choice("front", "the front", Surface.FRONT),
                Choice("back", "the back", Surface.BACK),
            ),
        ),
    ),
    solve=solve,
    examples=(
        Example(
            given={"measured_axis": "60", "side": "front"},
            prints={"axis": "120", "read": "060"},
            source="optometry-cards-lens-power",
            note="The cards turn the lens the other way, from its back to its front.",
        ),
        Example(
            given={"measured_axis": "175", "side": "front"},
            prints={"axis": "005"},
            note="An invented lens.",
        ),
        Example(
            given={"measured_axis": "175", "side": "back"},
            prints={"axis": "175"},
            note="An invented lens.",
        ),
    ),
)
