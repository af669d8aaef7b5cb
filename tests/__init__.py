"""The tests of the handbook and of its calculations."""
