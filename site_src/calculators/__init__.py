"""Every calculator of the handbook, by its slug, in the order of the job."""

from site_src.calculators import cylinder_from_readings, transposition, verification

CALCULATORS = {
    calculator.slug: calculator
    for calculator in (
        cylinder_from_readings.CALCULATOR,
        transposition.CALCULATOR,
        verification.CALCULATOR,
    )
}
