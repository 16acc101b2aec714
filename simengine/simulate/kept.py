"""Keeps the last few things that were worked out, so that what many members share is worked out once."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Any


class Kept:
    """The last few values by what they hang on; what is asked for longest ago is dropped first.

    >>> kept = Kept(2)
    >>> [kept.once(number, lambda: number * 10) for number in (1, 2, 3)]
    [10, 20, 30]
    >>> kept.once(3, lambda: 0), kept.once(1, lambda: 0)
    (30, 0)
    """

    def __init__(self, most: int) -> None:
        self.most = most
        self.values: OrderedDict[Hashable, Any] = OrderedDict()

    def once(self, key: Hashable, make: Callable[[], Any]) -> Any:
        """Return what is kept under a key; made now where it is not there.

        Parameters
        ----------
        key : everything that the value hangs on, by value
        make : makes it; nobody may change afterwards what it returned
        """
        if key in self.values:
            self.values.move_to_end(key)
            return self.values[key]
        made = make()
        self.values[key] = made
        if len(self.values) > self.most:
            self.values.popitem(last=False)
        return made
