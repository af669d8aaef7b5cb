"""The classical slips in reading a lens by hand, and which of them explain a wrong answer.

`CATALOGUE` holds the slips in the order in which a person works: reading the drum and the wheel,
counting between the readings, writing the power. `explain` finds the fewest of them that give
exactly what was written, all ties included, or says that none do. `agreement` says which parts are
right.

>>> from lensmath.power import LensPower
>>> from lensmath.readings import Form, Readings
>>> seen = Situation(Readings(-0.75, -3.25, wheel=112))
>>> finding = explain(seen, LensPower(-0.75, -3.25, 112))
>>> [slip.sentence for explanation in finding.explanations for slip in explanation.slips]
['One reading was written as the cylinder; the cylinder is the travel between the two readings.']
>>> explain(seen, LensPower(-3.25, 2.50, 22), form=Form.MINUS).verdict
<Verdict.OTHER_FORM: 'right lens, other form'>
"""

from __future__ import annotations

from lensmath.slips.catalogue import CATALOGUE
from lensmath.slips.search import (
    NEAR_AXIS,
    Explanation,
    Finding,
    Verdict,
    agreement,
    explain,
    has_form,
    written_with,
)
from lensmath.slips.work import Situation, Slip, Stage

__all__ = [
    "CATALOGUE",
    "NEAR_AXIS",
    "Explanation",
    "Finding",
    "Situation",
    "Slip",
    "Stage",
    "Verdict",
    "agreement",
    "explain",
    "has_form",
    "written_with",
]
