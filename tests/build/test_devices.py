"""Parts of a kind: which record ``kind`` chooses, what it may hold, and how it is set."""

from __future__ import annotations

from pathlib import Path

import pytest

from builders import ELECTRIC, SMALL, build_text, line_of, opened, problems_of
from wattwright.build.catalogue import Entry, entries, find
from wattwright.build.devices import PART_KINDS, Charger, Device, Fuse, Inverter, OnThePack
from wattwright.build.fields import Quantity
from wattwright.build.motor import Motor
from wattwright.build.parts import Part
from wattwright.build.reader import open_build
from wattwright.build.shape import slots
from wattwright.cli import main
from wattwright.errors import Problem
from wattwright.units import read
from wattwright.values import State, Value

HEAD = 'format = 1\nbuild.name = "B"\n'
DEVICES = ("charger", "dcdc", "heater", "compressor", "contactor", "fuse", "link_capacitor", "bms")
ON_THE_PACK = {"inverter", *DEVICES}


def only(text: str) -> Problem:
    (problem,) = problems_of(HEAD + text)
    return problem


def test_the_kind_chooses_the_record() -> None:
    build = opened(None, {**SMALL, **ELECTRIC}).build
    assert type(build.part["motor"]) is Motor
    assert type(build.part["inverter"]) is Inverter
    assert type(build.part["charger"]) is Charger
    assert type(build.part["module"]) is Part
    assert build.part["charger"].kind == "charger"
    assert build.part["module"].kind == ""


@pytest.mark.parametrize("kind", ["", "motor", "inverter", *DEVICES])
def test_every_kind_is_read_and_keeps_what_every_part_has(kind: str) -> None:
    own = {"": Part, "motor": Motor, "inverter": Inverter, "charger": Charger, "fuse": Fuse}
    record = own.get(kind, Device)
    part = opened({"part.one.kind": f'"{kind}"', "part.one.mass": '"5 kg"'}).build.part["one"]
    assert type(part) is record
    assert (part.kind, part.mass.number, part.state) == (kind, 5.0, "wanted")
    assert {slot.name for slot in slots(Part)} <= {slot.name for slot in slots(record)}


def test_no_other_kind_is_known() -> None:
    assert set(PART_KINDS) == {"", "motor", "cable", *ON_THE_PACK}


@pytest.mark.parametrize(
    ("typed", "near"),
    [
        ("moter", "motor"),
        ("Motor", "motor"),
        ("invertor", "inverter"),
        ("chargr", "charger"),
        ("dc-dc", "dcdc"),
        ("link capacitor", "link_capacitor"),
    ],
)
def test_a_kind_misspelt_is_located_and_names_the_nearest(typed: str, near: str) -> None:
    written = build_text({"part.motor.kind": f'"{typed}"'})
    (problem,) = problems_of(written)
    assert (problem.path, problem.what) == ("part.motor.kind", "is no kind of part")
    assert (problem.line, problem.column) == (line_of(written, "part.motor.kind"), 1)
    assert problem.do == f"did you mean {near}?"
    assert problem.got == repr(typed)


def test_a_kind_near_none_lists_those_known() -> None:
    first, *others = DEVICES
    known = ", ".join(("motor", "inverter", first, "cable", *others))
    assert only('part.x.kind = "zzzzz"\n').do == f"known: {known}"


@pytest.mark.parametrize("typed", ["5", "true", "[1]", '{ a = "1" }', "2026-03-14", "0.5"])
def test_a_kind_that_is_no_word_is_refused_at_its_place(typed: str) -> None:
    problems = problems_of(f"{HEAD}part.x.kind = {typed}\n")
    assert {(each.path, each.line) for each in problems} == {("part.x.kind", 3)}
    assert "is no kind of part" in {each.what for each in problems}


@pytest.mark.parametrize(
    ("kind", "field", "text"),
    [
        ("charger", "pole_pairs", "3"),
        ("charger", "phase_current", "300 A"),
        ("motor", "voltage_high", "450 V"),
        ("inverter", "flux", "66 mWb"),
        ("contactor", "max_speed", "8000 rpm"),
        ("", "voltage_high", "450 V"),
        ("", "flux", "66 mWb"),
    ],
)
def test_a_field_of_another_kind_is_refused_with_the_kinds_that_have_it(
    kind: str, field: str, text: str
) -> None:
    problem = only(f'part.x.kind = "{kind}"\npart.x.{field} = "{text}"\n')
    assert problem.what == "belongs to another kind of part"
    assert (problem.path, problem.line, problem.column) == (f"part.x.{field}", 4, 1)
    entry = find(f"part.x.{field}")
    assert entry is not None
    assert problem.do == f"write kind = {' or '.join(entry.kinds)} for such a part"


def test_without_a_kind_a_field_of_one_asks_for_it() -> None:
    problem = only('part.x.flux = "66 mWb"\n')
    assert (problem.line, problem.do) == (3, "write kind = motor for such a part")


def test_a_field_of_no_kind_is_no_key() -> None:
    problem = only('part.x.kind = "motor"\npart.x.zzz = "1"\n')
    assert problem.what == "is not a key this section knows"
    assert "pole_pairs" in problem.do


def test_limits_that_changed_places_are_refused() -> None:
    high, low = 'part.x.voltage_high = "250 V"\n', 'part.x.voltage_low = "420 V"\n'
    for kind in ("charger", "inverter"):
        problem = only(f'part.x.kind = "{kind}"\n{high}{low}')
        assert (problem.path, problem.line) == ("part.x.voltage_low", 5)
        assert "above the limit" in problem.what
    problem = only('pack.charge_limit = "3 V"\npack.discharge_limit = "3.5 V"\n')
    assert (problem.path, problem.line) == ("pack.discharge_limit", 4)
    same = {"part.x.kind": '"bms"', "part.x.voltage_low": '"9 V"', "part.x.voltage_high": '"9 V"'}
    assert type(opened(same).build.part["x"]) is Device


def test_a_mistyped_field_names_the_nearest_of_its_own_kind() -> None:
    near = {"motor": ("flx", "flux"), "charger": ("voltage_hi", "voltage_high")}
    for kind, (typed, meant) in near.items():
        problem = only(f'part.x.kind = "{kind}"\npart.x.{typed} = "1"\n')
        assert problem.do == f"did you mean {meant}?"


@pytest.mark.parametrize(
    ("field", "text", "words"),
    [
        ("state", '"bought"', "should be 'wanted'"),
        ("price", '"cheap"', "should be a valid number"),
        ("flux", '"66 V"', "flux"),
        ("pole_pairs", '"2.5"', "whole number"),
        ("max_speed", '"50000 rpm"', "allowed is 100 rpm to 30000 rpm"),
        ("max_speed", '"none"', 'cannot be "none"'),
    ],
)
def test_what_is_wrong_with_one_value_of_a_motor(field: str, text: str, words: str) -> None:
    problem = only(f'part.x.kind = "motor"\npart.x.{field} = {text}\n')
    assert words in problem.what
    assert (problem.path, problem.line) == (f"part.x.{field}", 4)


@pytest.mark.parametrize("kind", sorted(ON_THE_PACK))
def test_the_lowest_voltage_may_be_none_and_the_highest_may_not(kind: str) -> None:
    head = f'part.x.kind = "{kind}"\n'
    part = opened({"part.x.kind": f'"{kind}"', "part.x.voltage_low": '"none"'}).build.part["x"]
    assert isinstance(part, OnThePack)
    assert part.voltage_low.state is State.NONE
    assert part.voltage_high.state is State.NOT_GIVEN
    assert 'cannot be "none"' in only(f'{head}part.x.voltage_high = "none"\n').what


@pytest.mark.parametrize(
    ("text", "path", "words"),
    [
        ('drive.driven = "both"\n', "drive.driven", "should be 'front', 'rear' or 'all'"),
        ("drive.gear = 5\n", "drive.gear", "holds named entries"),
        ('drive.gear.first = "2"\n', "drive.gear.first", "is a section"),
        ('drive.gear.first.ratio = "2 m"\n', "drive.gear.first.ratio", "ratio"),
        ('drive.gear.first.kind = "motor"\n', "drive.gear.first.kind", "is not a key"),
        ('pack.series = "96.5"\n', "pack.series", "whole number"),
        ('pack.charge_limit = "42 V"\n', "pack.charge_limit", "allowed is 1.5 V to 5 V"),
        ('pack.chemistry = "none"\npack.cels = "3"\n', "pack.cels", "is not a key"),
    ],
)
def test_what_is_wrong_in_pack_and_drive(text: str, path: str, words: str) -> None:
    problem = only(text)
    assert (problem.path, problem.line) == (path, 3 + text.count("\n") - 1)
    assert words in problem.what


# ---------------------------------------------------------------------------- the catalogue


@pytest.mark.parametrize(
    ("field", "kinds"),
    [
        ("mass", set()),
        ("kind", set()),
        ("at.x", set()),
        ("flux", {"motor"}),
        ("pole_pairs", {"motor"}),
        ("phase_current", {"inverter"}),
        ("fed_by", {"motor"}),
        ("voltage_low", ON_THE_PACK),
        ("voltage_high", ON_THE_PACK),
    ],
)
def test_the_catalogue_says_which_kinds_have_a_field(field: str, kinds: set[str]) -> None:
    entry = find(f"part.some.{field}")
    assert entry is not None
    assert entry.path == f"part.NAME.{field}"
    assert set(entry.kinds) == kinds
    assert len(entry.kinds) == len(kinds)


def test_only_parts_have_kinds() -> None:
    assert {each.section for each in entries() if each.kinds} == {"part"}


def test_fields_lists_them_with_their_kinds(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fields", "part"]) == 0
    blocks = capsys.readouterr().out.split("\npart.NAME.")
    words = {block.partition(":")[0]: " ".join(block.split()) for block in blocks}
    assert "only for kind = motor how" in words["flux"]
    assert "only for kind = inverter how" in words["phase_current"]
    high = f"only for kind = inverter, {', '.join(DEVICES)} how"
    assert high in words["voltage_high"]
    assert "only for" not in words["mass"]


# ----------------------------------------------------------------------- setting and reading back


def folder_with(tmp_path: Path, text: str = "") -> Path:
    (tmp_path / "build.toml").write_text(HEAD + text, encoding="utf-8")
    return tmp_path


def value_at(folder: Path, path: str) -> Value:
    thing: object = open_build(folder).build
    for piece in path.split("."):
        thing = thing[piece] if isinstance(thing, dict) else getattr(thing, piece)
    assert isinstance(thing, Value)
    return thing


def set_and_read_back(folder: Path, chosen: list[Entry], kind: str, end: int) -> None:
    """Set every quantity to one end of its allowed range, all in one go."""
    wanted = {
        entry.path.replace("NAME", "one"): (entry.slot.quantity.allowed or ())[end]
        for entry in chosen
    }
    changes = [f"{path}={text}, datasheet" for path, text in wanted.items()]
    first = [f"part.one.kind={kind}"] if kind else ["drive.link.one.turns_with=wheel"]
    assert main(["set", str(folder), *first, *changes]) == 0
    for entry, (path, text) in zip(chosen, wanted.items(), strict=True):
        value = value_at(folder, path)
        assert value.number == read(text, entry.slot.quantity.kind).number, path
        assert value.given is not None
        assert (value.given.path, value.given.origin.value) == (path, "datasheet")


@pytest.mark.parametrize("end", [0, 1])
@pytest.mark.parametrize("kind", [each for each in PART_KINDS if each])
def test_every_field_of_a_kind_can_be_set_and_read_back(
    tmp_path: Path, kind: str, end: int
) -> None:
    chosen = [each for each in entries() if kind in each.kinds]
    assert {each.path.removeprefix("part.NAME.").partition(".")[0] for each in chosen} == {
        slot.name for slot in slots(PART_KINDS[kind])
    } - {slot.name for slot in slots(Part)}
    numbers = [each for each in chosen if isinstance(each.slot.declared, Quantity)]
    others = {each.path for each in chosen if each not in numbers and each.slot.shape != "curve"}
    words = ("begins", "ends", "fuse", "kept_by", "lug", "shield")
    of_wire = ("wire.metal", "wire.insulation", "wire.laid")
    named = ("fed_by", "isolated", *words, *of_wire)
    assert others <= {f"part.NAME.{each}" for each in named}
    set_and_read_back(folder_with(tmp_path), numbers, kind, end)


@pytest.mark.parametrize("end", [0, 1])
@pytest.mark.parametrize("section", ["pack", "drive"])
def test_every_quantity_of_pack_and_drive_can_be_set_and_read_back(
    tmp_path: Path, section: str, end: int
) -> None:
    chosen = [
        each
        for each in entries()
        if each.section == section and isinstance(each.slot.declared, Quantity)
    ]
    set_and_read_back(folder_with(tmp_path), chosen, "", end)


def test_set_changes_one_line_of_a_motor(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = folder_with(tmp_path, '\n[part.motor]\nkind = "motor"  # bench tested\n')
    assert main(["set", str(folder), "part.motor.flux=66 mWb, measured, drill and meter"]) == 0
    assert "saved" in capsys.readouterr().out
    text = (folder / "build.toml").read_text(encoding="utf-8")
    assert text == (
        f'{HEAD}\n[part.motor]\nkind = "motor"  # bench tested\n'
        'flux = "66 mWb, measured, drill and meter"\n'
    )
    assert value_at(folder, "part.motor.flux").number == pytest.approx(0.066)
    assert main(["set", str(folder), "part.motor.flux="]) == 0
    assert value_at(folder, "part.motor.flux").state is State.NOT_GIVEN


def test_set_takes_words_too(tmp_path: Path) -> None:
    folder = folder_with(tmp_path, 'part.a.kind = "inverter"\npart.m.kind = "motor"\n')
    words = ["drive.driven=front", "pack.chemistry=LFP", "part.m.fed_by=a"]
    assert main(["set", str(folder), *words]) == 0
    build = open_build(folder).build
    assert (build.drive.driven, build.pack.chemistry) == ("front", "LFP")
    motor = build.part["m"]
    assert isinstance(motor, Motor)
    assert motor.fed_by == "a"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ("part.one.pole_pairs=3", "part.one.pole_pairs: belongs to another kind of part"),
        ("part.one.kind=chargr", "did you mean charger?"),
        ("part.one.voltage_hi=420 V", "did you mean part.one.voltage_high?"),
        ("part.one.voltage_high=420 A", "voltage"),
    ],
)
def test_set_refuses_what_the_kind_does_not_have_and_leaves_the_file_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], change: str, words: str
) -> None:
    folder = folder_with(tmp_path, '\n[part.one]\nkind = "charger"\n')
    before = (folder / "build.toml").read_bytes()
    assert main(["set", str(folder), change]) != 0
    assert words in " ".join(capsys.readouterr().err.split())
    assert (folder / "build.toml").read_bytes() == before


@pytest.mark.parametrize("name", ["invertr", "charger"])
def test_a_motor_fed_by_no_inverter_is_refused_at_its_place(name: str) -> None:
    problems = problems_of(build_text({**ELECTRIC, "part.motor.fed_by": f'"{name}"'}))
    assert [(each.path, each.what) for each in problems] == [
        ("part.motor.fed_by", "there is no such inverter")
    ]
