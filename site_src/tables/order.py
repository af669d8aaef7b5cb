"""An invented order with all that it must say, and what a laboratory works out from it."""

from __future__ import annotations

from dataclasses import dataclass

from lensmath.centration import Frame, SegmentLayout, segment_layout, write_length
from lensmath.eye import Eye
from lensmath.notation import write_power
from lensmath.power import LensPower
from site_src.calculators.answer import Line, Table, written_lens

FRAME = Frame(a=52, dbl=18, b=38, effective_diameter=55)
"""The invented frame, in mm."""

ADDITION = 2.25  # D


@dataclass(frozen=True)
class EyeOrder:
    """What is ordered for one eye: power and prism in dioptres, lengths in mm."""

    eye: Eye
    power: LensPower
    prism: str
    distance_pd: float
    near_pd: float
    height: float
    vertex_distance: float

    @property
    def layout(self) -> SegmentLayout:
        """Where the distance centre and the segment stand in the frame."""
        return segment_layout(FRAME, self.distance_pd, self.near_pd, self.height)


RIGHT = EyeOrder(Eye.RIGHT, LensPower(5.25, -1.0, 95), "1.00 Δ base down", 31.5, 29.5, 16, 13)
LEFT = EyeOrder(Eye.LEFT, LensPower(4.75, -0.5, 80), "1.00 Δ base up", 32, 30, 16, 13)


def example_order() -> Table:
    """The entries of an order, filled in for both eyes, and when each is needed."""
    rows = (
        _row("Power", written_lens(RIGHT.power), written_lens(LEFT.power), "always"),
        _row("Prism", RIGHT.prism, LEFT.prism, "when there is any: amount and base, by eye"),
        _row("Addition", *_both(f"{write_power(ADDITION)} D"), "segments and progressives"),
        _row("Distance PD", *_mm("distance_pd"), "always, each eye by itself"),
        _row("Near PD", *_mm("near_pd"), "segments; lenses for near alone"),
        _row("Height", *_mm("height"), "segments, progressives, centres off the datum line"),
        _row("Vertex distance", *_mm("vertex_distance"), "strong powers: as tested and as worn"),
        _row("Tilt, face form", *_both("not asked for"), "when the power is worked out as worn"),
        _row("Lens", *_both("bifocal, flat top 28"), "always: kind, and name of the design"),
        _row("Material", *_both("index 1.60"), "always"),
        _row("Treatment", *_both("anti-reflection, no tint"), "always, also when there is none"),
        _row("Frame", *_both(_frame()), "always; the frame itself, or a traced shape"),
    )
    return Table(
        "An order, filled in (invented)",
        ("Entry", "Right", "Left", "Needed"),
        tuple(rows),
    )


def worked_out() -> Table:
    """What follows from the order; it cannot be worked out with an entry missing."""
    layouts = (RIGHT.layout, LEFT.layout)
    rows = (
        ("Decentration", *(layout.distance.in_words() for layout in layouts)),
        ("Total inset", *(f"{write_length(layout.total_inset)} mm" for layout in layouts)),
        ("Segment drop", *(f"{write_length(layout.drop)} mm" for layout in layouts)),
    )
    return Table(
        f"What follows from it: half the frame PD is {write_length(FRAME.frame_pd / 2)} mm",
        ("Result", "Right", "Left"),
        tuple(tuple((cell,) for cell in row) for row in rows),
        kind="grid",
    )


def _row(entry: str, right: Line | str, left: Line | str, needed: str) -> tuple[Line, ...]:
    return tuple(
        (cell,) if isinstance(cell, str) else cell for cell in (entry, right, left, needed)
    )


def _both(text: str) -> tuple[str, str]:
    return text, text


def _mm(name: str) -> tuple[str, str]:
    right, left = (f"{write_length(getattr(each, name))} mm" for each in (RIGHT, LEFT))
    return right, left


def _frame() -> str:
    sizes = (FRAME.a, FRAME.b or 0, FRAME.dbl, FRAME.effective_diameter or 0)
    a, b, dbl, ed = (write_length(size) for size in sizes)
    return f"A {a}, B {b}, DBL {dbl}, ED {ed} mm"
