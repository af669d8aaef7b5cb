"""What the calculators of a pair share: the prism before each eye, and what it amounts to."""

from __future__ import annotations

from lensmath.eye import Eye
from lensmath.imbalance import Pair
from lensmath.notation import MINUS
from lensmath.prism import NO_PRISM, Base, Component, Prism
from site_src.calculators import prism_parts
from site_src.calculators.answer import Line, Step, Table, say
from site_src.calculators.sums import summed
from site_src.figures.prism_arrows import by_parts, prism_arrows
from site_src.figures.svg import Figure

EYES = (Eye.RIGHT, Eye.LEFT)
_OPPOSITE = {Base.UP: Base.DOWN, Base.DOWN: Base.UP}


def of(pair: Pair, eye: Eye) -> Prism:
    """The prism before one eye."""
    return pair.right if eye is Eye.RIGHT else pair.left


def imbalance_of(pair: Pair) -> Prism:
    """What the pair amounts to before the right eye, as it is shown."""
    return prism_parts.shown_prism(pair.imbalance(Eye.RIGHT))


def headline(pair: Pair) -> Line:
    """Vertical first, for it is the one that is borne least."""
    total = imbalance_of(pair)
    if total == NO_PRISM:
        return ("No imbalance",)
    said = []
    if total.vertical.base is not None:
        said.append((*_vertical(total.vertical), " before the right eye"))
    if total.horizontal(Eye.RIGHT).base is not None:
        said.append(prism_parts.part(total.horizontal(Eye.RIGHT), "horizontal"))
    return (*said[0], "; ", *said[1]) if len(said) == 2 else said[0]


def _vertical(part: Component) -> Line:
    return prism_parts.part(part, "vertical")


def also(pair: Pair) -> tuple[Line, ...]:
    """The same imbalance before the other eye, and what each kind asks of the eyes."""
    total = imbalance_of(pair)
    said: list[Line] = []
    vertical = total.vertical
    if vertical.base is not None:
        other = Component(vertical.amount, _OPPOSITE[vertical.base])
        same = prism_parts.part(other, "vertical.left")
        said.append(("Vertically the same as ", *same, " before the left eye."))
    if total.horizontal(Eye.RIGHT).base is not None:
        said.append(say("Horizontally it is the same base before either eye."))
    return tuple(said)


def table(pair: Pair, caption: str = "Prism before each eye") -> Table:
    """A row for each eye, and one for what they amount to."""
    total = imbalance_of(pair)
    return Table(
        caption,
        ("Eye", "Vertical", "Horizontal"),
        (
            *(_row(prism_parts.shown_prism(of(pair, eye)), eye) for eye in EYES),
            (
                ("Together",),
                _before_right(total),
                prism_parts.part(total.horizontal(Eye.RIGHT), "horizontal"),
            ),
        ),
    )


def _before_right(total: Prism) -> Line:
    if total.vertical.base is None:
        return ("none",)
    return (*_vertical(total.vertical), ", right eye")


def _row(prism: Prism, eye: Eye) -> tuple[Line, ...]:
    return (
        (eye.value.capitalize(),),
        prism_parts.part(prism.vertical, f"{eye.value}.vertical"),
        prism_parts.part(prism.horizontal(eye), f"{eye.value}.horizontal"),
    )


def steps(pair: Pair) -> tuple[Step, ...]:
    """Opposite vertical bases do not cancel between two eyes, they add; the same ones differ."""
    total = pair.imbalance(Eye.RIGHT)
    upright = pair.right.vertical, pair.left.vertical
    level = pair.right.horizontal(Eye.RIGHT), pair.left.horizontal(Eye.LEFT)
    return (
        *_part_steps("vertical", *upright, abs(total.y)),
        *_part_steps("horizontal", *level, abs(total.x)),
    )


def _part_steps(kind: str, right: Component, left: Component, total: float) -> tuple[Step, ...]:
    result = say("{total} Δ", total=prism_parts.delta(total, kind))
    if right.base is None and left.base is None:
        return ()
    if right.base is None or left.base is None:
        what = f"{kind.capitalize()}: only one eye has any, so that is all of it."
        return (Step(what, result=result),)
    adds = (right.base == left.base) != (kind == "vertical")
    sign = "+" if adds else MINUS
    return (
        summed(
            f"{kind.capitalize()}: {_WHY[kind, adds]}.",
            f"larger {sign} smaller",
            f"{{a}} {sign} {{b}}",
            lambda a, b: a + b if adds else a - b,
            result,
            a=max(right.amount, left.amount),
            b=min(right.amount, left.amount),
        ),
    )


_WHY = {
    ("vertical", True): "up before one and down before the other add",
    ("vertical", False): "with the same base, only the difference is left",
    ("horizontal", True): "with the same base, in and in or out and out, they add",
    ("horizontal", False): "in before one and out before the other, only the difference is left",
}


def arrows(name: str, pair: Pair) -> Figure:
    """Both eyes side by side, as they are seen from the front."""
    shown = [prism_parts.shown_prism(of(pair, eye)) for eye in EYES]
    said = " ".join(
        f"{eye.value.capitalize()} eye: {prism_parts.in_words(prism, eye)}."
        for eye, prism in zip(EYES, shown, strict=True)
    )
    views = [by_parts(eye, prism) for eye, prism in zip(EYES, shown, strict=True)]
    return prism_arrows(name, "Prism before each eye, seen from the front", views, said)
