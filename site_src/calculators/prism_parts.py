"""What the calculators of prism share: their fields, how prism is said, and its usual sums.

Signed parts are those of `lensmath.prism`: seen facing the wearer, to the right and up are plus.
"""

from __future__ import annotations

import math

from lensmath.eye import Eye
from lensmath.notation import MINUS, TIMES
from lensmath.power import rounded_to, snapped
from lensmath.prism import Base, Component, Prism
from site_src.calculators.answer import Datum, Line, Step, say
from site_src.calculators.fields import Choice, ChoiceField, Field, NumberField
from site_src.calculators.sums import summed

MOST_PRISM = 40.0  # Δ; far beyond what is ground on a lens
_SHOWN = 0.01  # Δ; a part that would be shown as 0.00 is none

UP_OR_DOWN = (Choice("up", "up", Base.UP), Choice("down", "down", Base.DOWN))
IN_OR_OUT = (Choice("in", "in", Base.IN), Choice("out", "out", Base.OUT))
EYE = ChoiceField(
    "eye",
    "Eye",
    "in is toward the nose",
    choices=(Choice("right", "right", Eye.RIGHT), Choice("left", "left", Eye.LEFT)),
)

# Entries ------------------------------------------------------------------------------------------


def prism_fields(stem: str = "", group: str = "Prism") -> tuple[Field, ...]:
    """The four entries of a prism in two parts: `<stem>vertical`, `<stem>up_down` and so on.

    An empty amount is none.
    """

    def amount(name: str, label: str) -> NumberField:
        return NumberField(
            f"{stem}{name}", label, optional=True, group=group, unit="Δ", high=MOST_PRISM
        )

    return (
        amount("vertical", "Vertical"),
        ChoiceField(f"{stem}up_down", "Up or down", group=group, choices=UP_OR_DOWN),
        amount("horizontal", "Horizontal"),
        ChoiceField(f"{stem}in_out", "In or out", group=group, choices=IN_OR_OUT),
    )


def prism_of(
    eye: Eye, vertical: float | None, up_down: Base, horizontal: float | None, in_out: Base
) -> Prism:
    """The prism that `prism_fields` ask for."""
    upright = Prism.from_word(vertical or 0.0, up_down, eye)
    return upright + Prism.from_word(horizontal or 0.0, in_out, eye)


def shown_prism(prism: Prism) -> Prism:
    """The prism without parts that would be shown as 0.00."""
    return Prism(*(0.0 if rounded_to(part, _SHOWN) == 0 else part for part in (prism.x, prism.y)))


# How prism is said --------------------------------------------------------------------------------


def delta(value: float, name: str) -> Datum:
    """An amount of prism, without a sign."""
    return Datum(name, snapped(abs(value)), f"{rounded_to(abs(value), _SHOWN):.2f}")


def signed(value: float, name: str, decimals: int = 2) -> Datum:
    """A part of a prism or of a way with its sign: plus is to the observer's right, and up."""
    rounded = rounded_to(value, 10.0**-decimals)
    sign = "" if rounded == 0 else MINUS if rounded < 0 else "+"
    return Datum(name, snapped(value), f"{sign}{abs(rounded):.{decimals}f}")


def direction(value: float, name: str) -> Datum:
    """A base on the full circle, with three digits."""
    rounded = rounded_to(value, 0.1)
    whole = rounded == int(rounded)
    return Datum(name, snapped(value), f"{rounded:03.0f}" if whole else f"{rounded:05.1f}")


def part(component: Component, name: str) -> Line:
    """The vertical or the horizontal part: 1.50 Δ base up; or none."""
    if component.base is None:
        return ("none",)
    return say(
        "{amount} Δ base {base}",
        amount=delta(component.amount, name),
        base=Datum(f"{name}.base", component.base.value, component.base.value),
    )


def parts(prism: Prism, eye: Eye, stem: str = "") -> Line:
    """Both parts: 1.50 Δ base up and 2.00 Δ base in; one where the other is none; or no prism."""
    both = (prism.vertical, f"{stem}vertical"), (prism.horizontal(eye), f"{stem}horizontal")
    said = [part(component, name) for component, name in both if component.base is not None]
    if not said:
        return ("no prism",)
    return said[0] if len(said) == 1 else (*said[0], " and ", *said[1])


def round_the_circle(prism: Prism, stem: str = "") -> Line:
    """The prism as amount and base on the full circle: 2.50 Δ base 037; or no prism."""
    if prism.base is None:
        return ("no prism",)
    return say(
        "{amount} Δ base {base}",
        amount=delta(prism.amount, f"{stem}amount"),
        base=direction(prism.base, f"{stem}base"),
    )


def in_words(prism: Prism, eye: Eye) -> str:
    """Both parts as text, for a description; numbers keep their unit beside them."""
    return "".join(str(getattr(piece, "shown", piece)) for piece in parts(prism, eye))


def side(eye: Eye) -> str:
    """What the signs mean before this eye."""
    right, left = ("in", "out") if eye.inward > 0 else ("out", "in")
    return f"Before a {eye.value} eye, to the right is {right} and to the left is {left}."


# Usual sums ---------------------------------------------------------------------------------------


def signed_step(prism: Prism, what: str, stem: str = "") -> Step:
    """Both parts of a prism with their signs, as the sums take them."""
    return Step(
        what,
        result=say(
            "H = {x} Δ, V = {y} Δ", x=signed(prism.x, f"{stem}x"), y=signed(prism.y, f"{stem}y")
        ),
    )


# To the right, up: where the base lies, the sum of its direction, and where that starts and turns.
_QUADRANTS = {
    (True, True): ("to the right and up", "{angle}", 0, 1),
    (False, True): ("to the left and up", f"180 {MINUS} {{angle}}", 180, -1),
    (False, False): ("to the left and down", "180 + {angle}", 180, 1),
    (True, False): ("to the right and down", f"360 {MINUS} {{angle}}", 360, -1),
}


def resultant_steps(prism: Prism, stem: str = "") -> tuple[Step, ...]:
    """From two parts at right angles to amount and base on the full circle."""
    if prism.base is None:
        return ()
    across, up = abs(prism.x), abs(prism.y)
    if across == 0 or up == 0:
        return (
            Step(
                "One part is zero, so the prism is the other part, with its base on that line.",
                result=round_the_circle(prism, stem),
            ),
        )
    way, pattern, start, turn = _QUADRANTS[prism.x > 0, prism.y > 0]
    return (
        summed(
            "Size: two arrows at right angles, by Pythagoras.",
            "√(H² + V²)",
            "√({h}² + {v}²)",
            lambda h, v: math.sqrt(h * h + v * v),
            say("{amount} Δ", amount=delta(prism.amount, f"{stem}amount")),
            h=across,
            v=up,
        ),
        summed(
            f"Direction: the base lies {way}, seen from the front. H and V without their signs.",
            pattern.format(angle="atan(V ÷ H)"),
            pattern.format(angle="atan({v} ÷ {h})"),
            lambda h, v: start + turn * math.degrees(math.atan(v / h)),
            say("{base}", base=direction(prism.base, f"{stem}base")),
            h=across,
            v=up,
        ),
    )


def resolving_steps(prism: Prism, stem: str = "") -> tuple[Step, ...]:
    """From amount and base on the full circle to the two parts with their signs."""
    if prism.base is None:
        return ()

    def resolved(name: str, sides: str, key: str, result: Datum) -> Step:
        function = getattr(math, key)
        return summed(
            f"{name} part; plus is {sides}, seen from the front.",
            f"P {TIMES} {key} B",
            f"{{p}} {TIMES} {key} {{b}}",
            lambda p, b: p * function(math.radians(b)),
            say("{part} Δ", part=result),
            p=prism.amount,
            b=prism.base or 0.0,
        )

    return (
        resolved("Horizontal", "to the right", "cos", signed(prism.x, f"{stem}x")),
        resolved("Vertical", "up", "sin", signed(prism.y, f"{stem}y")),
    )
