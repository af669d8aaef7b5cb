"""How uncertain a reading is: from the entries of a form to a budget, and its sums."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from statistics import mean
from typing import NamedTuple

from lensmath.instrument import PermittedErrors
from lensmath.notation import MINUS, write_exact
from lensmath.uncertainty import (
    Budget,
    ReadTo,
    Spread,
    difference,
    from_instrument,
    from_reader,
    from_scale,
)
from site_src.calculators.answer import Datum, Step, amount, say
from site_src.calculators.sums import enough_decimals
from site_src.calculators.working import signed, unsigned

VERY_MANY = 10**6
"""Readings, or degrees of freedom, from which a spread is as good as known."""


class Kind(NamedTuple):
    """What was read: its unit, its instrument table, and whether it is a travel of two readings."""

    unit: str
    permitted: PermittedErrors
    travel: bool = False

    @property
    def after(self) -> str:
        """The unit as it stands after a number."""
        return self.unit if self.unit == "°" else f" {self.unit}"


@dataclass(frozen=True)
class Doubt:
    """The causes of doubt about a reading, or about the mean of several `readings`.

    `repeated` are the readings that the scatter was worked out from, if it was.
    """

    kind: Kind
    step: float
    read_to: ReadTo
    scatter: Spread | None
    readings: int
    permitted: float
    repeated: tuple[float, ...] = ()

    @property
    def one_reading(self) -> Budget:
        """The budget of a single reading, or of a single travel."""
        reader = () if self.scatter is None else (from_reader(self.scatter),)
        scale = from_scale(self.step, self.read_to)
        budget = Budget((scale, *reader, from_instrument(self.permitted)))
        return difference(budget, budget) if self.kind.travel else budget

    @property
    def budget(self) -> Budget:
        """The budget of the mean that was compared."""
        return self.one_reading.of_mean(self.readings)

    @property
    def _half(self) -> int:
        return 2 if self.read_to is ReadTo.MARK else 4

    def steps(self) -> Iterator[Step]:
        """From the causes to the expanded uncertainty."""
        budget, unit = self.budget, self.kind.after
        if self.step:
            yield Step(
                f"The scale, read to {self.read_to.value}: up to half of that off, all as likely.",
                "step ÷ 2 ÷ √3" if self._half == 2 else "step ÷ 4 ÷ √3",
                f"{unsigned(self.step)} ÷ {self._half} ÷ √3",
                (_u("scale.u", from_scale(self.step, self.read_to).standard), unit),
            )
        yield from self._reader_steps()
        if self.permitted:
            yield Step(
                "The instrument: anywhere within its permitted error.",
                "permitted error ÷ √3",
                f"{unsigned(self.permitted)} ÷ √3",
                (_u("instrument.u", from_instrument(self.permitted).standard), unit),
            )
        yield Step(
            "Together: the root of the sum of squares"
            + (", twice, for a travel has two readings." if self.kind.travel else "."),
            numbers=self._together(),
            result=(_u("u", budget.combined), unit),
        )
        yield Step(
            f"The factor for 95.45 %, by {self.freedom}.",
            result=say("{k}", k=amount(budget.coverage_factor, "k")),
        )
        k, u = enough_decimals(
            lambda k, u: k * u, budget.coverage_factor, budget.combined, decimals=3, least=2
        )
        yield Step(
            "Expanded uncertainty.",
            "k × u",
            f"{k} × {u}",
            (_u("expanded", budget.expanded), unit),
        )

    @property
    def freedom(self) -> str:
        """The distribution that goes with the budget, in words."""
        freedom = self.budget.degrees_of_freedom
        if freedom >= VERY_MANY:
            return "the normal distribution"
        return f"Student's t with {math.floor(freedom)} degrees of freedom"

    def _reader_steps(self) -> Iterator[Step]:
        if self.scatter is None:
            return
        unit, s = self.kind.after, self.scatter.standard_deviation
        if self.repeated:
            yield self._spread_step()
        (shown,) = enough_decimals(
            lambda s: s / math.sqrt(self.readings), s, decimals=3, least=self._least
        )
        of = "the spread of one reading" if self.readings == 1 else "the spread of a mean"
        yield Step(
            f"The reader: {of}.",
            "s ÷ √n",
            f"{shown} ÷ √{self.readings}",
            (_u("reader.u", s / math.sqrt(self.readings)), unit),
        )

    @property
    def _least(self) -> int:
        """Decimals of an entered spread, all of them, so that it is recognised."""
        spread = self.scatter.standard_deviation if self.scatter else 0.0
        return 3 if self.repeated else len(unsigned(spread, 2).partition(".")[2])

    def _spread_step(self) -> Step:
        n = len(self.repeated)

        def worked(middle: float) -> float:
            return math.sqrt(sum((each - middle) ** 2 for each in self.repeated) / (n - 1))

        middle = mean(self.repeated)
        (digits,) = (
            enough_decimals(worked, abs(middle), decimals=4, least=3)
            if middle > 0
            else (enough_decimals(lambda size: worked(-size), abs(middle), decimals=4, least=3))
        )
        shown = signed(middle, len(digits.partition(".")[2]))
        squares = " + ".join(f"({write_exact(each)} {MINUS} ({shown}))²" for each in self.repeated)
        return Step(
            f"The spread of the {n} readings about their mean, {shown}{self.kind.after}.",
            numbers=f"√(({squares}) ÷ {n - 1})",
            result=(amount(worked(middle), "spread", 4), self.kind.after),
        )

    def _together(self) -> str:
        parts = []
        if self.step:
            parts.append(f"({unsigned(self.step)} ÷ {self._half})² ÷ 3")
        if self.scatter is not None:
            (s,) = enough_decimals(
                self._combined, self.scatter.standard_deviation, decimals=3, least=self._least
            )
            parts.append(f"{s}² ÷ {self.readings}")
        if self.permitted:
            parts.append(f"{unsigned(self.permitted)}² ÷ 3")
        inner = " + ".join(parts)
        return f"√(2 × ({inner}))" if self.kind.travel else f"√({inner})"

    def _combined(self, s: float) -> float:
        """The combined uncertainty, if this were the spread."""
        squares = (self.step / self._half) ** 2 / 3 + s**2 / self.readings + self.permitted**2 / 3
        return math.sqrt(squares * (2 if self.kind.travel else 1))


def _u(name: str, value: float) -> Datum:
    return amount(value, name, 3)
