"""The form of a pair: its fields, eye by eye, and what was ordered and measured, from its entries.

Every lens has the same entries, with the eye before the name: right_ordered, left_height.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from lensmath.eye import Eye
from lensmath.job import MeasuredLens, OrderedLens, Spectacles
from lensmath.notation import Prescription
from lensmath.pair_inspection import Misfit, prism_misfits
from lensmath.power import snapped
from lensmath.prism import Base, Prism, compounded
from lensmath.tolerances.model import LensState, LensType
from site_src.calculators import ordered_prism
from site_src.calculators.answer import Line, say
from site_src.calculators.fields import (
    Choice,
    ChoiceField,
    Field,
    FieldError,
    NumberField,
    PowerField,
    PrescriptionField,
    on_field,
)

# What is entered once as ordered and once as measured: in words, and as `lensmath.job` calls it.
# What a height is of goes by the type of the lens.
DETAILS = {
    "distance": ("monocular PD", "prp_distance"),
    "height": ("height", ""),
    "prp_height": ("height of the PRP", "prp_height"),
    "thickness": ("centre thickness", "centre_thickness"),
    "base_curve": ("base curve", "base_curve"),
}
_APART = 1.0  # mm; two monocular PDs may be off by half of that each (common practice)
_BY_EYE = "of a progressive it counts eye by eye; enter both monocular PDs, ordered and measured"
IN_A_FRAME = ("distance", "height", "prp_height")
_HEIGHTS = {
    LensType.SINGLE_VISION: "prp_height",
    LensType.MULTIFOCAL: "segment_height",
    LensType.PROGRESSIVE: "fitting_point_height",
}


def fields() -> tuple[Field, ...]:
    """All entries that belong to an eye or to both; the seldom ones come last, aside."""
    in_sight = (field for eye in Eye for field in (*_ordered(eye), *_measured(eye)))
    aside = (field for eye in Eye for field in _aside(eye))
    return (*in_sight, *_BOTH, *aside)


def _ordered(eye: Eye) -> tuple[Field, ...]:
    side, group = eye.value, _group(eye, "ordered")
    return (
        PrescriptionField(
            f"{side}_ordered",
            "Prescription",
            "with its addition and prism: −2.00 −0.75 × 005 add +2.00 1 BU",
            group=group,
        ),
        _length(f"{side}_ordered_distance", "Monocular PD", group, 10, 60),
        _length(f"{side}_ordered_height", "Height", group, 0, 60),
    )


def _measured(eye: Eye) -> tuple[Field, ...]:
    side, group = eye.value, _group(eye, "measured")
    return (
        PrescriptionField(f"{side}_measured", "Power", optional=True, group=group),
        PowerField(f"{side}_addition", "Addition", optional=True, group=group),
        *_prism(f"{side}_horizontal", "Horizontal", group, Base.IN, Base.OUT),
        *_prism(f"{side}_vertical", "Vertical", group, Base.UP, Base.DOWN),
        _length(f"{side}_distance", "Monocular PD", group, 10, 60),
        _length(f"{side}_height", "Height", group, 0, 60),
    )


def _aside(eye: Eye) -> tuple[Field, ...]:
    side = eye.value
    return (
        *_form_of_lens(f"{side}_ordered", _group(eye, "ordered")),
        *_form_of_lens(side, _group(eye, "measured")),
        NumberField(
            f"{side}_displacement",
            "Displacement (uncut)",
            "from the PRP to where the ordered prism is found",
            unit="mm",
            high=30,
            optional=True,
            aside=True,
            group=_group(eye, "measured"),
        ),
    )


def _form_of_lens(stem: str, group: str) -> tuple[Field, ...]:
    seldom: dict[str, Any] = {"optional": True, "aside": True, "group": group}
    return (
        NumberField(f"{stem}_prp_height", "Height of the PRP", unit="mm", high=60, **seldom),
        NumberField(f"{stem}_thickness", "Centre thickness", unit="mm", high=40, **seldom),
        PowerField(f"{stem}_base_curve", "Base curve", **seldom),
    )


def _prism(name: str, way: str, group: str, *bases: Base) -> tuple[Field, ...]:
    return (
        NumberField(
            name,
            f"{way} prism",
            "at the ordered PD and height",
            unit="Δ",
            high=30,
            optional=True,
            group=group,
        ),
        ChoiceField(
            f"{name}_base",
            f"{way} base",
            group=group,
            choices=tuple(Choice(base.value, base.value, base) for base in bases),
        ),
    )


def _length(name: str, label: str, group: str, low: float, high: float) -> NumberField:
    return NumberField(name, label, unit="mm", low=low, high=high, optional=True, group=group)


def _group(eye: Eye, what: str) -> str:
    return f"{eye.value.capitalize()} eye: {what}"


_BOTH = (
    _length("pd_ordered", "PD, ordered", "Both eyes", 20, 120),
    _length("pd", "PD, measured", "Both eyes", 20, 120),
    _length("near_pd_ordered", "Near PD, ordered", "Both eyes", 20, 120),
    _length("near_pd", "Near PD, measured", "Both eyes", 20, 120),
)


@dataclass(frozen=True)
class Entries:
    """The entries of a form, read as a job. Uncut lenses are in no frame: no PD and no height."""

    entered: Mapping[str, Any]
    lens_type: LensType
    state: LensState

    def __getitem__(self, name: str) -> Any:
        return self.entered[name]

    @cached_property
    def ordered(self) -> Spectacles[OrderedLens]:
        """The pair as ordered."""
        right, left = (self._ordered(eye) for eye in Eye)
        return Spectacles(right, left, self["pd_ordered"], self["near_pd_ordered"])

    @cached_property
    def measured(self) -> Spectacles[MeasuredLens]:
        """The pair as measured, as far as it was."""
        right, left = (self._measured(eye) for eye in Eye)
        return Spectacles(right, left, self["pd"], self["near_pd"])

    def _ordered(self, eye: Eye) -> OrderedLens:
        written: Prescription = self[f"{eye.value}_ordered"]
        with on_field(f"{eye.value}_ordered"):
            return OrderedLens(
                power=written.power,
                prism=ordered_prism.written(written.prism, eye),
                addition=written.addition,
                **self._details(f"{eye.value}_ordered"),
            )

    def _measured(self, eye: Eye) -> MeasuredLens:
        written: Prescription | None = self[f"{eye.value}_measured"]
        displacement = self[f"{eye.value}_displacement"]
        with on_field(f"{eye.value}_measured"):
            return MeasuredLens(
                power=written.power if written else None,
                prism=self._prism(eye, written),
                addition=self._addition(eye, written),
                prp_displacement=displacement if self.state is LensState.UNCUT else None,
                **self._details(eye.value),
            )

    def _details(self, stem: str) -> dict[str, float | None]:
        found: dict[str, float | None] = {}
        for name, (_, known_as) in DETAILS.items():
            value = self[f"{stem}_{name}"]
            if value is None or self._frameless(name):
                continue
            detail = known_as or _HEIGHTS[self.lens_type]
            if detail in found:
                raise FieldError(
                    f"{stem}_{name}",
                    "of a single vision lens, Height is this one already. Enter it once.",
                )
            found[detail] = value
        if self.lens_type is LensType.PROGRESSIVE and "prp_distance" in found:
            # The PRP stands below the fitting point (common practice).
            found["fitting_point_distance"] = found["prp_distance"]
        return found

    def _addition(self, eye: Eye, written: Prescription | None) -> float | None:
        entered: float | None = self[f"{eye.value}_addition"]
        on_line = written.addition if written else None
        if entered is not None and on_line is not None:
            raise FieldError(
                f"{eye.value}_addition",
                "an addition was entered here and after the power. Enter it once.",
            )
        return on_line if entered is None else entered

    def _prism(self, eye: Eye, written: Prescription | None) -> Prism | None:
        parts = [
            Prism.from_word(amount, self[f"{eye.value}_{way}_base"], eye)
            for way in ("horizontal", "vertical")
            if (amount := self[f"{eye.value}_{way}"]) is not None
        ]
        on_line = written.prism if written else ()
        if parts and on_line:
            raise FieldError(
                f"{eye.value}_horizontal",
                "prism was entered here and after the power. Enter it once.",
            )
        if on_line:
            return ordered_prism.written(on_line, eye)
        return compounded(parts) if parts else None

    def misfits(self) -> tuple[Misfit, ...]:
        """Prism that contradicts a PD or a height.

        A progressive is read at the PRP that it is marked with, wherever that stands (common
        practice), so there the two say nothing of each other.
        """
        if self.state is LensState.UNCUT or self.lens_type is LensType.PROGRESSIVE:
            return ()
        return prism_misfits(self.ordered, self.measured)

    def understood(self) -> tuple[Line, ...]:
        """What an entry that was left out is taken for."""
        said = []
        for eye in Eye:
            given = {way: self[f"{eye.value}_{way}"] for way in ("horizontal", "vertical")}
            for way, value in given.items():
                if value is None and any(each is not None for each in given.values()):
                    said.append(
                        say(
                            f"{eye.value.capitalize()} eye: no {way} prism was entered; "
                            "it is taken as none."
                        )
                    )
        if self["pd"] is None and self.state is LensState.MOUNTED:
            total = self.measured.prp_separation
            if total is not None:
                said.append(say(f"PD: both measured monocular PDs together, {total:g} mm."))
        return tuple(said)

    def contradictions(self) -> Iterator[str]:
        """Monocular PDs that do not make the PD that was entered with them."""
        for what, advice, pair in (
            ("ordered", "Ask which is meant.", self.ordered),
            ("measured", "Measure again.", self.measured),
        ):
            right, left, both = pair.right.prp_distance, pair.left.prp_distance, pair.pd
            if right is None or left is None or both is None:
                continue
            if snapped(abs(right + left - both)) <= _APART:
                continue
            yield (
                f"PD, {what}: {right:g} and {left:g} mm make {right + left:g} mm, but {both:g} mm "
                f"was entered for both eyes. {advice}"
            )

    def not_checked(self) -> list[str]:
        """What was ordered, or belongs to any lens, and was not measured; what needs a frame."""
        missing = [f"{name} (not measured)" for name in self._not_measured()]
        if self._pd_counts_by_eye():
            missing.append(f"PD ({_BY_EYE})")
        if self.state is LensState.UNCUT:
            in_a_frame = (f"{eye.value}_{name}" for eye in Eye for name in IN_A_FRAME)
            if any(self[name] is not None for name in (*in_a_frame, "pd", "near_pd")):
                missing.append("PDs and heights (uncut lenses are in no frame)")
        elif any(self[f"{eye.value}_displacement"] is not None for eye in Eye):
            missing.append("displacement of the PRP (of uncut lenses only)")
        return missing

    def nothing_measured(self) -> bool:
        """Whether every entry for a measured value is empty."""
        return all(
            self[field.name] is None
            for field in fields()
            if field.optional and "ordered" not in field.name
        )

    def details_ordered(self) -> Iterator[str]:
        """The names of what was ordered besides power, addition and prism."""
        for name, (words, _) in DETAILS.items():
            if any(self[f"{eye.value}_ordered_{name}"] is not None for eye in Eye):
                yield words
        if self.ordered.prp_separation is not None:
            yield "PD"
        if self["near_pd_ordered"] is not None:
            yield "near PD"

    def not_measured_in_short(self) -> list[str]:
        """What was ordered, or belongs to any lens, and was not measured, in as few names as do.

        A lens of which nothing was measured is one thing, and so is what both lenses lack.
        """
        names = [*self._not_measured(), *(["PD"] if self._pd_counts_by_eye() else [])]
        for eye in Eye:
            if self.measured.of(eye) == MeasuredLens():
                names = [name for name in names if not name.startswith(f"{eye.value} ")]
                names.append(f"{eye.value} lens")
        lenses = [name for name in names if name.endswith(" lens")]
        others = [name for name in names if name not in lenses]
        short = [self._of_both(name, others, alone=bool(lenses)) for name in others]
        return list(dict.fromkeys((*lenses, *short)))

    def _of_both(self, name: str, names: list[str], *, alone: bool) -> str:
        """The name without its eye where no other can be meant: both lack it, or one is left."""
        eye, _, what = name.partition(" ")
        sides = {each.value for each in Eye}
        if eye in sides and (alone or {f"{side} {what}" for side in sides} <= set(names)):
            return what
        return name

    def _not_measured(self) -> Iterator[str]:
        for eye in Eye:
            side, ordered, measured = eye.value, self.ordered.of(eye), self.measured.of(eye)
            if measured.power is None:
                yield f"{side} power"
            if ordered.addition is not None and measured.addition is None:
                yield f"{side} addition"
            if measured.prism is None:
                yield f"{side} prism"
            for name, (words, _) in DETAILS.items():
                wanted, got = self[f"{side}_ordered_{name}"], self[f"{side}_{name}"]
                if wanted is not None and got is None:
                    yield f"{side} {words}"
        if self.ordered.prp_separation is not None and self.measured.prp_separation is None:
            yield "PD"
        if self["near_pd_ordered"] is not None and self["near_pd"] is None:
            yield "near PD"

    def _pd_counts_by_eye(self) -> bool:
        """Whether a PD of both eyes was entered for fitting points, which are judged eye by eye."""
        entered = self["pd_ordered"] is not None or self["pd"] is not None
        if not entered or self.measured.prp_separation is None or self._frameless("distance"):
            return False
        if self.lens_type is not LensType.PROGRESSIVE:
            return False
        pairs = self.ordered, self.measured
        return any(pair.of(eye).fitting_point_distance is None for pair in pairs for eye in Eye)

    def _frameless(self, name: str) -> bool:
        return self.state is LensState.UNCUT and name in IN_A_FRAME
