"""A property that is worked out once.

Python 3.11's own takes a lock at every first access, which was measured to cost a quarter of an
assessment; nothing here is shared between threads while it is being worked out.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Generic, TypeVar, overload

Result = TypeVar("Result")


class once(Generic[Result]):  # noqa: N801 - reads as the decorator it is
    """Work out a property at first access and keep it in the object."""

    def __init__(self, work: Callable[[Any], Result]) -> None:
        self.work = work
        self.__doc__ = work.__doc__

    def __set_name__(self, owner: type, name: str) -> None:
        self.name = name

    @overload
    def __get__(self, thing: None, owner: type) -> once[Result]: ...

    @overload
    def __get__(self, thing: object, owner: type) -> Result: ...

    def __get__(self, thing: object | None, owner: type) -> once[Result] | Result:
        if thing is None:
            return self
        result = self.work(thing)
        thing.__dict__[self.name] = result
        return result
