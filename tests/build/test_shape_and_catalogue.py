"""Every field is declared once and completely, and can be found by its path."""

from __future__ import annotations

from collections import Counter
from typing import Annotated

import pytest

from wattwright.build.catalogue import Entry, entries, find
from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.build.model import Build
from wattwright.build.presence import said
from wattwright.build.rules import LimitRule, Rules
from wattwright.build.shape import slots
from wattwright.build.uses import Use
from wattwright.build.vehicle import Case, Weighing
from wattwright.kinds import KINDS, MASS
from wattwright.units import examples, read
from wattwright.values import Value

ENTRIES = list(entries())
QUANTITIES = [each for each in ENTRIES if isinstance(each.slot.declared, Quantity)]


def test_shapes_follow_from_annotations() -> None:
    shapes = {slot.name: slot.shape for slot in slots(Build)}
    assert shapes == {
        "format": "plain",
        "build": "record",
        "rules": "record",
        "targets": "record",
        "donor": "record",
        "tyre": "record",
        "place": "records",
        "case": "records",
        "part": "records",
        "pack": "record",
        "drive": "record",
        "road": "record",
        "charging": "record",
        "outlet": "records",
        "cord": "records",
        "supply_box": "records",
        "cooling": "record",
        "cabin": "record",
        "use": "records",
        "season": "records",
        "survey": "record",
        "mounts": "record",
        "half_shaft": "records",
        "coupling": "record",
        "ring": "records",
        "propshaft": "records",
        "body": "records",
        "clearance": "record",
        "pattern": "records",
        "weigh_in": "record",
        "instrument": "records",
    }
    assert {slot.name: slot.shape for slot in slots(Use)} == {
        "says": "plain",
        "cycle": "plain",
        "route": "route",
        "speed": "quantity",
        "stretch": "records",
        "acceleration": "quantity",
        "braking": "quantity",
        "gear": "plain",
        "case": "plain",
        "range": "quantity",
        "repeat": "quantity",
        "outside_temperature": "quantity",
        "heater_power": "quantity",
        "start_charge": "quantity",
        "headwind": "quantity",
    }
    assert {slot.name: slot.shape for slot in slots(Case)} == {
        "says": "plain",
        "aboard": "quantities",
    }
    assert {slot.shape for slot in slots(Weighing)} == {"quantity", "quantities", "record", "plain"}
    assert [slot.name for slot in slots(LimitRule)] == ["text", "date", "answered_by"]
    by_name = {slot.name: slot for slot in slots(Rules)}
    assert (by_name["gross_mass"].shape, by_name["gross_mass"].record) == ("rule", LimitRule)
    assert by_name["drilling"].shape == "record"


def test_which_plain_fields_are_required() -> None:
    required = [each.path for each in ENTRIES if each.slot.required]
    named = [
        "format",
        "build.name",
        "place.NAME.role",
        "drive.link.NAME.turns_with",
        "ring.NAME.on",
    ]
    assert required == named


def test_a_field_without_one_declaration_is_refused() -> None:
    class Undeclared(Record):
        mass: Value

    class Twice(Record):
        mass: Annotated[Value, Plain("a"), Plain("b")]

    for model in (Undeclared, Twice):
        with pytest.raises(TypeError, match=rf"{model.__name__}\.mass needs exactly one"):
            slots(model)


def test_a_slot_that_is_no_quantity_says_so() -> None:
    with pytest.raises(TypeError, match="format is no quantity"):
        _ = slots(Build)[0].quantity


def test_paths_stand_once_and_lead_back_to_their_entry() -> None:
    assert [
        path for path, count in Counter(each.path for each in ENTRIES).items() if count > 1
    ] == []
    for each in ENTRIES:
        found = find(each.path.replace("NAME", "some-name"))
        assert found is not None
        assert found.path == each.path
    assert len(ENTRIES) > 100


@pytest.mark.parametrize(
    ("path", "found"),
    [
        ("part.charger.mass", "part.NAME.mass"),
        ("part.charger.at.x", "part.NAME.at.x"),
        ("donor.removed.engine.mass", "donor.removed.NAME.mass"),
        ("donor.weighed.aboard.driver", "donor.weighed.aboard.NAME"),
        ("rules.gross_mass.value", "rules.gross_mass.value"),
        ("rules.gross_mass.answered_by", "rules.gross_mass.answered_by"),
        ("part.charger", None),
        ("part.charger.mas", None),
        ("part.charger.mass.more", None),
        ("donor", None),
        ("", None),
    ],
)
def test_find(path: str, found: str | None) -> None:
    entry = find(path)
    assert (entry.path if entry else None) == found


@pytest.mark.parametrize("entry", QUANTITIES, ids=lambda each: each.path)
def test_every_quantity_says_how_to_measure_it_and_its_range_can_be_read(entry: Entry) -> None:
    declared = entry.slot.quantity
    assert declared.label
    assert len(declared.how) > 10
    assert declared.minutes > 0
    assert declared.kind.name in KINDS
    assert examples(declared.kind)
    if declared.codes:
        assert declared.range is None
        return
    assert declared.range is not None
    low, high = declared.range
    assert low < high
    assert entry.allowed == declared.allowed
    if declared.default:
        assert low <= read(declared.default, declared.kind).number <= high
    if declared.basis:
        assert declared.default


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda each: each.path)
def test_every_field_has_a_label(entry: Entry) -> None:
    assert entry.slot.declared.label
    assert not isinstance(entry.slot.declared, Section)


def test_choices_are_listed() -> None:
    def allowed(path: str) -> tuple[str, ...]:
        entry = find(path)
        assert entry is not None
        return entry.allowed

    assert allowed("place.x.role") == ("driver", "seat", "load", "tank")
    assert allowed("part.x.state") == ("wanted", "ordered", "here", "fitted", "removed")
    assert allowed("donor.weighed.lift.suspension_locked") == ("true", "false")
    assert allowed("donor.weighed.lift.lifted") == ("front", "rear")
    assert allowed("part.x.label") == ()


def test_a_range_is_read_in_si() -> None:
    declared = Quantity(MASS, "mass", "scale", allowed=("1 lb", "1 t"))
    assert declared.range == pytest.approx((0.45359237, 1000.0))
    assert Quantity(MASS, "mass", "scale").range is None


def test_nothing_else_counts_as_said() -> None:
    assert not said("words")
    assert not said(None)
    assert not said({})
