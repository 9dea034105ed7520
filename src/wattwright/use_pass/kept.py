"""Runs kept from one assessment to the next: what was driven before is not driven again."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Any, TypeVar

# Enough for every run of three or four builds; the runs themselves are what takes room.
_MOST = 128
_KEPT: OrderedDict[Hashable, Any] = OrderedDict()
_LOCK = threading.Lock()
Result = TypeVar("Result")


def kept(key: Hashable, work: Callable[[], Result]) -> Result:
    """Give what came of ``key`` before, or work it out; ``key`` holds every number that counts."""
    with _LOCK:
        if key in _KEPT:
            _KEPT.move_to_end(key)
            found: Result = _KEPT[key]
            return found
    result = work()
    with _LOCK:
        _KEPT[key] = result
        if len(_KEPT) > _MOST:
            _KEPT.popitem(last=False)
    return result
