"""The hunt for a charge that will not start, against the levels that IEC 61851-1 states.

Annex A, from memory: +12 V with nothing plugged in, +9 V with a vehicle (2.74 kΩ behind 1 kΩ),
+6 V when it asks (882 Ω), -12 V below where the diode is whole; a duty of 16 A / 0.6 A per cent.
A plain voltmeter shows the average: 26.7 % · 9 V - 73.3 % · 12 V = -6.4 V, and -7.2 V when it asks.

What is expected has to come from the assessment: with another circuit in the build the sheet has to
expect something else.
"""

from __future__ import annotations

import re

import pytest

from builders import assessed, opened
from hunted import CHARGED
from wattwright.bench.sheet import Sheet
from wattwright.bench.sheets import sheet
from wattwright.hunts import hunt

# Of the standard: level by state, and the average that a plain voltmeter shows at 16 A.
LEVELS = {
    "pilot_alone": 12.0,
    "pilot_plugged": 9.0,
    "pilot_asking": 6.0,
    "pilot_low": -12.0,
    "imitated_plugged": 9.0,
    "imitated_low": -12.0,
    "meter_plugged": -6.4,
    "meter_asking": -7.2,
}


NOMINAL: dict[str, str] = {
    **CHARGED,
    "supply_box.handy.pilot": '"16 A ± 0, datasheet"',
    "charging.inlet.kind": '"type_2"',
    "charging.inlet.pilot_plugged": '"2740 Ω ± 0, measured"',
    "charging.inlet.pilot_asking": '"1300 Ω ± 0, measured"',
}
OTHER = {
    **NOMINAL,
    "charging.inlet.pilot_plugged": '"1500 Ω ± 0, measured"',
    "charging.inlet.pilot_asking": '"800 Ω ± 0, measured"',
}


def made(texts: dict[str, str]) -> Sheet:
    return sheet("hunt_charge_will_not_start", opened(texts).build, assessed(texts))


def expected(name: str, found: Sheet) -> float:
    line = found.line(name)
    assert line is not None
    assert line.expected is not None
    assert line.expected.number is not None
    return line.expected.number


@pytest.mark.parametrize(("name", "level"), LEVELS.items())
def test_the_nominal_circuit_reads_as_the_standard_says(name: str, level: float) -> None:
    # The standard's levels are nominal, and take the drop of the diode into their tolerance of 1 V.
    assert expected(name, made(NOMINAL)) == pytest.approx(level, abs=0.4)


@pytest.mark.parametrize("name", ["pilot_plugged", "pilot_asking", "meter_plugged", "meter_asking"])
def test_another_circuit_is_expected_to_read_otherwise(name: str) -> None:
    assert abs(expected(name, made(OTHER)) - expected(name, made(NOMINAL))) > 0.2


def test_the_box_is_set_to_16_amperes() -> None:
    assert expected("pilot_duty", made(NOMINAL)) == pytest.approx(0.267, abs=5e-4)


def test_without_the_diode_it_sinks_to_less_than_half() -> None:
    """-12 V · 882/(882 + 1000): a divider."""
    line = made(NOMINAL).line("pilot_low")
    assert line is not None
    assert re.match(r"about -5\.6\d* V: points to pilot diode", line.tells[0])


@pytest.mark.parametrize(("name", "level"), LEVELS.items())
def test_what_is_called_usual_is_what_the_standard_says(name: str, level: float) -> None:
    """Where nobody has worked it out, the words of the hunt stand there."""
    found = next(each for each in hunt("charge_will_not_start").tests if each.name == name)
    assert float(found.usual.partition(" V")[0]) == level
