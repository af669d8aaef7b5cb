"""Three spots: where they go on a lens in its frame, and where the optical centre then stands."""

from __future__ import annotations

from lensmath.centration import Decentration, Frame, Point, spots
from lensmath.decentration import AtPoint, Nowhere, OnLine, Place, decentration_for
from lensmath.eye import Eye
from lensmath.notation import Decimals, Prescription, write_axis
from lensmath.power import rounded_to
from lensmath.prism import NO_PRISM, Base, Prism
from site_src.calculators import frames, prism_parts
from site_src.calculators.answer import Answer, Line, Step, Table, cut_eighths, plain, say, word
from site_src.calculators.declaration import Calculator, Example
from site_src.calculators.fields import DECIMALS, NumberField, PrescriptionField, on_field
from site_src.calculators.frames import COMMON_BLANKS, exactly, length, shift
from site_src.calculators.sums import summed
from site_src.figures.frame_layout import LaidOut, frame_layout
from site_src.figures.svg import Figure

_SPACING = 17.0  # mm from dot to dot; from memory, instruments differ
_REACH = COMMON_BLANKS[-1] / 2
_UP = ("up", "down")


def solve(
    eye: Eye,
    a: float,
    dbl: float,
    b: float | None,
    pd: float,
    height: float | None,
    lens: Prescription | None,
    vertical: float | None,
    up_down: Base,
    horizontal: float | None,
    in_out: Base,
    spacing: float | None,
    decimals: Decimals,
) -> Answer:
    """The places of the spots, what the lens reads there, and where its optical centre lies."""
    frame = Frame(a, dbl, b)
    with on_field("height"):
        middle = frame.decentration(pd, height)
    prism = prism_parts.shown_prism(
        prism_parts.prism_of(eye, vertical, up_down, horizontal, in_out)
    )
    apart = spacing or _SPACING
    place = _optical_centre(lens, prism)
    offset = _offset(place, eye)
    return Answer(
        headline=("Middle spot ", *frames.placed(middle, "middle")),
        also=(
            _others(apart),
            _reads(prism, eye),
            *_centre_lines(lens, place, prism, offset),
            *_outside(frame, middle, apart),
        ),
        understood=(*_spacing_taken(spacing), *_eighths(lens, decimals), *_lens_left_out(lens)),
        tables=(_table(middle, apart),),
        steps=(
            frames.frame_pd_step(frame),
            frames.across_step(
                "Middle spot", frame.frame_pd, pd, middle.inward, "middle.decentration"
            ),
            *_height_steps(frame, height, middle),
            *_outer_steps(middle, apart),
            *_centre_steps(lens, prism, offset),
        ),
        figures=(_figure(frame, eye, middle, apart, offset),),
        cautions=_cautions(place, prism, middle, offset),
        sources=("iso-8624", "long-1976", "prism-reading-lesson", "common-practice"),
    )


def _optical_centre(lens: Prescription | None, prism: Prism) -> Place | None:
    """Seen from the middle spot; None where no lens was entered."""
    return None if lens is None else decentration_for(lens.power, prism)


def _offset(place: Place | None, eye: Eye) -> Decentration:
    """From the middle spot to the optical centre; none where there is no such point."""
    if isinstance(place, AtPoint):
        point = place.point
    elif isinstance(place, OnLine):
        point = place.nearest
    else:
        point = Point(0, 0)
    return Decentration(eye.inward * point.x, point.y)


def _together(middle: Decentration, offset: Decentration) -> Decentration:
    """From the boxed centre to the optical centre."""
    return Decentration(middle.inward + offset.inward, middle.up + offset.up)


def _is_none(mm: float) -> bool:
    """Whether a length would be shown as 0."""
    return rounded_to(mm, 0.1) == 0


# The spots ----------------------------------------------------------------------------------------


def _others(apart: float) -> Line:
    return say(
        "The others {apart} mm to either side of it, on the 180 line through it.",
        apart=length(apart, "spacing", exact=True),
    )


def _reads(prism: Prism, eye: Eye) -> Line:
    """What the instrument shows when the spots are made."""
    if prism == NO_PRISM:
        return say("Dot where the target is centred: no prism there, so it is the optical centre.")
    sides = (prism.x, "ring.across", ("to the right", "to the left")), (prism.y, "ring.up", _UP)
    said = [
        say(
            "{rings} rings {way}",
            rings=prism_parts.delta(part, name),
            way=word(ways[0] if part > 0 else ways[1], f"{name}.way"),
        )
        for part, name, ways in sides
        if part
    ]
    rings = said[0] if len(said) == 1 else (*said[0], " and ", *said[1])
    return say(
        "Dot where the lens reads {prism}: the middle of the target stands {rings}.",
        prism=prism_parts.parts(prism, eye),
        rings=rings,
    )


def _spacing_taken(spacing: float | None) -> tuple[Line, ...]:
    if spacing is not None:
        return ()
    return (
        say(
            f"No spacing was entered: {_SPACING:g} mm was taken, from memory. Instruments differ; "
            "measure the dots of yours once."
        ),
    )


def _outside(frame: Frame, middle: Decentration, apart: float) -> tuple[Line, ...]:
    sides = (("nose", middle.inward + apart), ("temple", apart - middle.inward))
    return tuple(
        say(f"The spot on the {side} side falls outside the finished lens; it serves for blocking.")
        for side, reach in sides
        if reach > frame.a / 2
    )


def _table(middle: Decentration, apart: float) -> Table:
    rows = (
        ("Nose side", "nose", middle.inward + apart),
        ("Middle", "middle", middle.inward),
        ("Temple side", "temple", middle.inward - apart),
    )
    return Table(
        "The spots, from the boxed centre",
        ("Spot", "Across", "Up or down"),
        tuple(
            (
                (name,),
                shift(across, f"{key}.decentration"),
                shift(middle.up, f"{key}.up", _UP),
            )
            for name, key, across in rows
        ),
    )


def _height_steps(frame: Frame, height: float | None, middle: Decentration) -> tuple[Step, ...]:
    if height is None or frame.b is None:
        return ()
    off = length(middle.up, "middle.up", exact=True)
    return (frames.height_step("Middle spot", frame.b, height, off),)


def _outer_steps(middle: Decentration, apart: float) -> tuple[Step, ...]:
    """In is plus and out is minus, in both sums."""
    return (
        summed(
            "Spot on the nose side; in is plus, out is minus.",
            "middle + spacing",
            "{middle} + {apart}",
            lambda middle, apart: middle + apart,
            say("{size} mm", size=frames.signed(middle.inward + apart, "nose.decentration")),
            middle=middle.inward,
            apart=apart,
        ),
        summed(
            "Spot on the temple side.",
            "middle − spacing",
            "{middle} − {apart}",
            lambda middle, apart: middle - apart,
            say("{size} mm", size=frames.signed(middle.inward - apart, "temple.decentration")),
            middle=middle.inward,
            apart=apart,
        ),
    )


# The optical centre -------------------------------------------------------------------------------


def _centre_lines(
    lens: Prescription | None, place: Place | None, prism: Prism, offset: Decentration
) -> tuple[Line, ...]:
    if lens is None:
        if prism == NO_PRISM:
            return ()
        return (say("Enter the lens to see where its optical centre lies."),)
    if isinstance(place, AtPoint):
        return () if prism == NO_PRISM else (_centre(offset, "The optical centre lies {way}."),)
    if isinstance(place, OnLine):
        return (_line_of_centres(place, offset),)
    if isinstance(place, Nowhere):
        return (_ground(place),)
    return (say("A plano lens reads the same at every point: mark the middle by measuring."),)


def _centre(offset: Decentration, pattern: str) -> Line:
    if _is_none(offset.inward) and _is_none(offset.up):
        return say(pattern, way="at the middle spot")
    sides = (offset.inward, "inward", ("in", "out")), (offset.up, "up", ("above", "below"))
    parts = [shift(mm, f"centre.{name}", ways) for mm, name, ways in sides if not _is_none(mm)]
    both = parts[0] if len(parts) == 1 else (*parts[0], " and ", *parts[1])
    spot = " from the middle spot" if _is_none(offset.up) else " the middle spot"
    return say(pattern, way=(*both, spot))


def _line_of_centres(place: OnLine, offset: Decentration) -> Line:
    axis = word(write_axis(place.direction), "centre.line")
    nearest = _centre(offset, "the nearest point of it lies {way}")
    return say(
        "This lens has no power along {axis}, so it has a line of optical centres: {nearest}. "
        "Set the middle spot along that line by measuring.",
        axis=axis,
        nearest=nearest,
    )


def _ground(place: Nowhere) -> Line:
    if place.only_along is None:
        return say(
            "A plano lens gives no prism by decentring. The prism has to be ground, and then the "
            "lens reads it at every point: mark the middle by measuring."
        )
    return say(
        f"This lens has power along {write_axis(place.only_along)} alone, so decentring gives "
        "prism along that meridian only. The rest has to be ground."
    )


def _centre_steps(
    lens: Prescription | None, prism: Prism, offset: Decentration
) -> tuple[Step, ...]:
    if lens is None or prism == NO_PRISM or _is_none(offset.distance):
        return ()
    if lens.power.axis is not None:
        return (
            Step(
                "A cylinder turns the way to the optical centre: it was worked out along both "
                "principal meridians.",
                result=say("{way} mm", way=length(offset.distance, "centre.distance", exact=True)),
            ),
        )
    sphere = lens.power.sphere
    toward = (
        "toward the base, for a plus lens" if sphere > 0 else "away from the base, for a minus lens"
    )
    return (
        summed(
            f"From the middle spot to the optical centre, {toward}.",
            "10 × prism ÷ power",
            "10 × {prism} ÷ {power}",
            lambda prism, power: 10 * prism / power,
            say("{way} mm", way=length(offset.distance, "centre.distance", exact=True)),
            prism=prism.amount,
            power=abs(sphere),
        ),
    )


def _cautions(
    place: Place | None, prism: Prism, middle: Decentration, offset: Decentration
) -> tuple[str, ...]:
    if not isinstance(place, AtPoint | OnLine):
        return ()
    if prism == NO_PRISM or offset.distance <= _REACH:
        return frames.far_centre(_together(middle, offset).distance, "the boxed centre")
    caution = (
        f"The optical centre lies {exactly(rounded_to(offset.distance, 0.1))} mm from the spots, "
        f"and half of a common blank is at most {_REACH:g} mm (common practice). Decentring does "
        "not reach: the prism has to be ground."
    )
    return (caution,)


def _eighths(lens: Prescription | None, decimals: Decimals) -> tuple[Line, ...]:
    return () if lens is None else cut_eighths(decimals, lens.power.sphere, lens.power.cylinder)


def _lens_left_out(lens: Prescription | None) -> tuple[Line, ...]:
    if lens is None or not lens.prism:
        return ()
    return (say("The prism written with the lens was left out: enter it as ordered prism."),)


# The picture --------------------------------------------------------------------------------------


def _figure(
    frame: Frame, eye: Eye, middle: Decentration, apart: float, offset: Decentration
) -> Figure:
    centre = None
    if not _is_none(offset.distance) and offset.distance <= _REACH:
        centre = _together(middle, offset)
    drawn = LaidOut(
        eye, middle, _note(middle), spots=spots(middle, eye, apart), optical_centre=centre
    )
    return frame_layout("three-spots-frame", frame, [drawn])


def _note(middle: Decentration) -> tuple[str, ...]:
    return ("middle spot", plain(frames.placed(middle, "middle")))


CALCULATOR = Calculator(
    slug="three-spots",
    title="Three spots",
    purpose="Enter one lens in its frame, and its prism if there is any; get where the spots go.",
    fields=(
        prism_parts.EYE,
        frames.width_field(),
        frames.bridge_field(),
        frames.depth_field("needed for a height", optional=True),
        NumberField(
            "pd",
            "Monocular PD",
            "from the middle of the bridge",
            group="Wearer",
            unit="mm",
            low=15,
            high=50,
        ),
        NumberField(
            "height",
            "Height",
            "of the pupil above the bottom of the lens; empty: centre line",
            optional=True,
            group="Wearer",
            unit="mm",
            low=1,
            high=80,
        ),
        *prism_parts.prism_fields(group="Ordered prism"),
        PrescriptionField(
            "lens",
            "Lens",
            "with ordered prism: shows where the optical centre lies",
            optional=True,
        ),
        NumberField(
            "spacing",
            "Spacing of the spots",
            f"from dot to dot; {_SPACING:g} if empty",
            optional=True,
            aside=True,
            unit="mm",
            low=5,
            high=30,
        ),
        DECIMALS,
    ),
    solve=solve,
    examples=(
        Example(
            given={
                "eye": "right",
                "a": "52",
                "dbl": "18",
                "b": "40",
                "pd": "32",
                "height": "22",
                "horizontal": "2",
                "in_out": "out",
                "lens": "+4.00 DS",
            },
            prints={"centre.inward": "5", "centre.inward.way": "out"},
            source="mrcophth-mock-13",
            note="The source gives lens and prism; the frame, the PD and the height are invented.",
        ),
        Example(
            given={"eye": "left", "a": "50", "dbl": "20", "pd": "36", "lens": "−2.50 −1.00 × 180"},
            prints={"middle.decentration": "1", "middle.decentration.way": "out"},
            note="An invented lens without prism.",
        ),
    ),
)
