"""Builders are run by hand: they need libraries that the tests do without."""

collect_ignore_glob = ["*.py"]
