"""Figures: SVG drawn from `lensmath` values, the same in the build and in the browser."""
