"""The shape of a record class: which of its fields is what, read from the declarations."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal, TypeAlias, get_args, get_origin

from wattwright.build.fields import Plain, Quantity, Record, Sampled, Section, Track
from wattwright.build.rules import LimitRule
from wattwright.sampled import Curve, Grid, Route
from wattwright.values import Value

FieldShape = Literal[
    "quantity", "quantities", "rule", "curve", "route", "record", "records", "plain"
]
Declared: TypeAlias = Quantity | Sampled | Track | Plain | Section

_LEAVES: Mapping[object, FieldShape] = {
    Value: "quantity",
    Curve: "curve",
    Grid: "curve",
    Route: "route",
}


@dataclass(frozen=True, slots=True)
class Slot:
    """One field of a record: its name, what shape it has, and what was declared about it."""

    name: str
    shape: FieldShape
    declared: Declared
    record: type[Record] | None = None
    annotation: object = None
    required: bool = False

    @property
    def variants(self) -> Mapping[str, type[Record]]:
        """Records that ``kind`` chooses from; empty where all are alike."""
        return self.declared.variants if isinstance(self.declared, Section) else {}

    @property
    def quantity(self) -> Quantity:
        """The declaration of a quantity or of a rule's limit."""
        if not isinstance(self.declared, Quantity):
            raise TypeError(f"{self.name} is no quantity")
        return self.declared

    @property
    def sampled(self) -> Sampled:
        """The declaration of a curve or grid."""
        if not isinstance(self.declared, Sampled):
            raise TypeError(f"{self.name} is no curve or grid")
        return self.declared

    @property
    def track(self) -> Track:
        """The declaration of a route."""
        if not isinstance(self.declared, Track):
            raise TypeError(f"{self.name} is no route")
        return self.declared


@cache
def slots(model: type[Record]) -> tuple[Slot, ...]:
    """List the fields of a record in the order of declaration."""
    return tuple(_slots(model))


def _slots(model: type[Record]) -> Iterator[Slot]:
    for name, info in model.model_fields.items():
        found = [m for m in info.metadata if isinstance(m, Declared)]
        if len(found) != 1:
            if model is LimitRule and name == "value":
                continue
            raise TypeError(f"{model.__name__}.{name} needs exactly one declaration")
        declared, annotation = found[0], info.annotation
        inner = get_args(annotation)[1] if get_origin(annotation) is dict else None
        if annotation in _LEAVES:
            yield _fitting(model, Slot(name, _LEAVES[annotation], declared, None, annotation))
        elif inner is Value:
            yield Slot(name, "quantities", declared)
        elif annotation is LimitRule:
            yield Slot(name, "rule", declared, LimitRule)
        elif isinstance(annotation, type) and issubclass(annotation, Record):
            yield Slot(name, "record", declared, annotation)
        elif isinstance(declared, Section) and declared.variants:
            yield Slot(name, "records", declared, declared.variants[""])
        elif isinstance(inner, type) and issubclass(inner, Record):
            yield Slot(name, "records", declared, inner)
        else:
            yield Slot(name, "plain", declared, None, annotation, info.is_required())


def _fitting(model: type[Record], slot: Slot) -> Slot:
    """Refuse a curve declared with the columns of a grid, and the reverse."""
    columns = 2 if slot.annotation is Curve else 3
    if slot.shape == "curve" and len(slot.sampled.columns) != columns:
        raise TypeError(f"{model.__name__}.{slot.name} needs {columns} columns")
    return slot
