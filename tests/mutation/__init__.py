"""Mutation testing: `python -m tests.mutation`. What it does is told in DEVELOPERS.md."""
