"""Whether anybody has written anything in a record yet."""

from __future__ import annotations

from wattwright.build.fields import Record
from wattwright.sampled import Curve, Grid, Route
from wattwright.values import State, Value


def said(thing: object) -> bool:
    """True where the builder typed something here, if only ``unknown``; defaults do not count."""
    if isinstance(thing, Value):
        typed = thing.given is not None and thing.given.line is not None
        return typed or thing.absent or any(x.why == State.UNKNOWN.value for x in thing.lacks)
    if isinstance(thing, Curve | Grid | Route):
        return said(thing.share)
    if isinstance(thing, Record):
        return any(said(getattr(thing, name)) for name in type(thing).model_fields)
    if isinstance(thing, dict):
        return any(said(inner) for inner in thing.values())
    return False
