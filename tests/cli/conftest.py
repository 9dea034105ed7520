"""A small build of which everything is known, and a way to run one command in this process."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from hung import adjusted
from wattwright.cli import main

# Measured or printed throughout, far from every limit, and every rule it meets answered.
SOUND = """\
# A cart for the yard. This comment has to survive every edit.
format = 1

[build]
name = "Yard cart"

[rules.mass_change]
value = "20 %"
date = "2026-03-14"
answered_by = "inspecting engineer"

[rules.split_change]
value = "10 %"
date = "2026-03-14"
answered_by = "inspecting engineer"

[rules.side_imbalance]
value = "10 %"
date = "2026-03-14"
answered_by = "inspecting engineer"

[rules.occupant_mass]
value = "75 kg"
date = "2026-03-14"
answered_by = "inspecting engineer"

[donor]
wheelbase = "2000 mm ± 2, measured, tape, 2026-03-01"    # both sides alike
gross_limit = "1200 kg, datasheet, plate"

[donor.front]
track = "1200 mm ± 2, measured, tape, 2026-03-01"
limit = "700 kg, datasheet, plate"

[donor.rear]
track = "1200 mm ± 2, measured, tape, 2026-03-01"
limit = "700 kg, datasheet, plate"

[donor.weighed]
origin = "measured, wheel scales, 2026-03-01"
fl = "200 kg ± 0.5"
fr = "200 kg ± 0.5"
rl = "200 kg ± 0.5"
rr = "200 kg ± 0.5"
aboard = {}

[pack]
series = "16"
charge_limit = "3.6 V"
discharge_limit = "2.8 V"
cell_resistance = "1 mΩ ± 0.1, measured, step of 50 A, 2026-03-08"
joints = "5 mΩ ± 1, measured, 2026-03-08"
cold_factor = "3, datasheet"
age_factor = "2, datasheet"
regen_current_full = "0 A"

[place.tank]
role = "tank"
full = "0 kg ± 0, measured, there is none, 2026-03-01"

[place.tank.at]
origin = "measured, tape, 2026-03-01"
x = "1500 mm ± 20"
y = "0 mm ± 20"
z = "500 mm ± 20"

[place.bed]
role = "load"
full = "0 kg ± 0, measured, there is none, 2026-03-01"

[place.bed.at]
origin = "measured, tape, 2026-03-01"
x = "1500 mm ± 20"
y = "0 mm ± 20"
z = "500 mm ± 20"

[place.driver]
role = "driver"

[place.driver.at]
origin = "measured, tape, 2026-03-01"
x = "1000 mm ± 20"
y = "-300 mm ± 20"
z = "700 mm ± 20"

[targets]
top_speed = "60 km/h ± 0, datasheet, registration paper"

[tyre.front]
origin = "datasheet, sidewall"
load_index = "84"
speed_symbol = "S"
pressure = "2.5 bar ± 0.05, measured, gauge, 2026-03-01"
rated_pressure = "2.5 bar"

[tyre.rear]
origin = "datasheet, sidewall"
load_index = "84"
speed_symbol = "S"
pressure = "2.5 bar ± 0.05, measured, gauge, 2026-03-01"
rated_pressure = "2.5 bar"

[donor.removed.engine]
mass = "100 kg ± 0.5, measured, hanging scale, 2026-03-02"

[donor.removed.engine.at]
origin = "measured, tape, 2026-03-02"
x = "200 mm ± 10"
y = "0 mm ± 10"
z = "600 mm ± 10"

[part.pack]
kind = "contactor"
voltage_low = "none"
voltage_high = "100 V, datasheet"
mass = "120 kg ± 0.5, measured, hanging scale, 2026-03-08"
state = "here"

[part.pack.at]
origin = "measured, tape, 2026-03-08"
x = "500 mm ± 10"
y = "0 mm ± 10"
z = "600 mm ± 10"
"""


@dataclass(frozen=True)
class Answer:
    """What a command printed and its exit code."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out)

    @property
    def words(self) -> str:
        """What was printed, as running text."""
        return " ".join(self.out.split())


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Callable[..., Answer]:
    def run_one(*argv: object) -> Answer:
        capsys.readouterr()
        try:
            code = main([str(word) for word in argv])
        except SystemExit as end:
            code = int(str(end.code))
        return Answer(code, *capsys.readouterr())

    return run_one


@pytest.fixture
def make(tmp_path: Path) -> Callable[..., Path]:
    """Make a build folder, with pieces of the sound build replaced."""

    def make_one(name: str = "cart", **changed: tuple[str, str]) -> Path:
        text = SOUND
        for old, new in changed.values():
            assert text.count(old) == 1
            text = text.replace(old, new)
        folder = tmp_path / name
        folder.mkdir()
        (folder / "build.toml").write_text(text, encoding="utf-8")
        return folder

    return make_one


@pytest.fixture
def cart(make: Callable[..., Path]) -> Path:
    return make()


@pytest.fixture
def whole(make: Callable[..., Path]) -> Path:
    """The cart with points adjusted, no cable and no outlet yet: nothing is left to tell."""
    folder = make("whole")
    taped = [line for line in adjusted().source.text.splitlines() if line.startswith("survey.")]
    path = folder / "build.toml"
    text = path.read_text(encoding="utf-8")
    given_up = ['part.loom.kind = "cable"', 'part.loom.state = "removed"']
    given_up.append('charging.start = "20 %"')
    said = "\n".join(["format = 1", *given_up, *taped, ""])
    path.write_text(text.replace("format = 1\n", said, 1), encoding="utf-8")
    return folder


@pytest.fixture(scope="session")
def examples() -> Path:
    return Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="session")
def schemas() -> Path:
    return Path(__file__).parents[2] / "docs" / "schemas"
