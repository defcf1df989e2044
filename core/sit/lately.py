"""The last few things worked out, for what is soon asked for again and too large to keep all."""

from collections import OrderedDict
from collections.abc import Callable
from typing import Any


class Lately:
    """Keeps so many things as were asked for last. Args: how many."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[Any, Any] = OrderedDict()

    def get(self, key: Any, make: Callable[[], Any]) -> Any:
        """Something worked out, if it was not asked for lately. Args: its key; what makes it."""
        if key in self._kept:
            self._kept.move_to_end(key)
        else:
            self._kept[key] = make()
            if len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return self._kept[key]
