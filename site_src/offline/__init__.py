"""A copy of the handbook on the reader's device."""
