"""Row of the table that sets the march beside plain numpy."""

from tests.benchmarks.found import Found, Options


def plain(options: Options) -> Found:
    """Stand-in."""
    raise NotImplementedError
