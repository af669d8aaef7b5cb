"""These modules need mutmut, which the tests themselves do not."""

collect_ignore_glob = ["*.py"]
