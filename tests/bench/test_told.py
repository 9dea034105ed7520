"""What a reading tells on its instrument, and what makes it look like a slip."""

from __future__ import annotations

import pytest

from wattwright.bench.instruments import Meter, meters, named, that_would_do
from wattwright.bench.sheet import Line
from wattwright.bench.told import Told, kind_of, told
from wattwright.errors import UnitsError
from wattwright.kinds import LENGTH, MASS, RESISTANCE, VOLTAGE, Kind
from wattwright.units import read
from wattwright.values import Given, Origin, Value, constant, given

USUAL = meters({})


def limited(limit: str, sense: str = "at most") -> Line:
    number = read(limit, RESISTANCE).number
    return Line(
        "bond",
        "bonding",
        kind=RESISTANCE,
        limit=constant(RESISTANCE, number),
        sense="at least" if sense == "at least" else "at most",
    )


def expecting(text: str, kind: Kind = MASS) -> Line:
    reading = read(text, kind)
    origin = Given("x", "x", Origin.MEASURED, text, reading.band or 0.0)
    value: Value = given(kind, reading.number, origin)
    return Line("fl", "read it", kind=kind, expected=value)


def on(text: str, line: Line, instrument: str) -> Told:
    assert line.kind is not None
    return told(text, line.kind, line, named(USUAL, instrument), USUAL)


def test_a_meter_that_is_off_by_more_than_the_limit_tells_nothing() -> None:
    # The example of the work order: 0.2 Ω on a meter of ± 0.3 Ω against 0.1 Ω.
    said = on("0.2 Ω", limited("0.1 Ω"), "multimeter ohms")
    assert said.verdict == "unknown"
    assert "four-wire milliohm meter" in said.better
    assert on("0.05 Ω", limited("0.1 Ω"), "multimeter ohms").verdict == "unknown"


@pytest.mark.parametrize(
    ("text", "instrument", "verdict"),
    [
        ("0.05 Ω", "four-wire milliohm meter", "sound"),
        ("0.2 Ω", "four-wire milliohm meter", "failing"),
        ("0.0995 Ω", "four-wire milliohm meter", "marginal"),
        # Far beyond the limit even a poor meter says enough.
        ("5 Ω", "multimeter ohms", "failing"),
    ],
)
def test_one_that_can_tell_does(text: str, instrument: str, verdict: str) -> None:
    said = on(text, limited("0.1 Ω"), instrument)
    assert said.verdict == verdict
    assert not said.better


def test_a_limit_that_must_be_reached_is_judged_the_other_way_round() -> None:
    line = limited("500 kΩ", "at least")
    assert on("2 MΩ", line, "insulation tester").verdict == "sound"
    assert on("100 kΩ", line, "insulation tester").verdict == "failing"


def test_the_coarsest_instrument_that_is_off_by_a_quarter_of_the_limit_would_do() -> None:
    found = that_would_do(USUAL, MASS, 80.0)
    assert found is not None
    assert found.name == "weighbridge"
    found = that_would_do(USUAL, MASS, 10.0)
    assert found is not None
    assert found.name == "wheel scales"
    assert that_would_do(USUAL, RESISTANCE, 1e-6) is None


def test_an_instrument_adds_its_share_of_what_it_shows() -> None:
    meter = Meter("m", "m", VOLTAGE, 0.5, 0.01, own=True)
    assert meter.band(-400.0, VOLTAGE) == pytest.approx(4.5)
    assert meter.accuracy == "± 500 mV and 1 % of what it shows"


@pytest.mark.parametrize(
    ("text", "verdict"),
    [("313 kg", "as expected"), ("315.7 kg", "as expected"), ("316.5 kg", "not as expected")],
)
def test_as_expected_is_within_both_bands_together(text: str, verdict: str) -> None:
    # Scales ± 1.5 kg and 0.1 %, expected ± 1.5 kg: together some 2.4 kg.
    assert on(text, expecting("313.5 kg ± 1.5"), "wheel scales").verdict == verdict


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("3135 kg", "ten times as much as"),
        ("31.35 kg", "a tenth of"),
        ("691 lb", ""),
        ("691 kg", "was it read in lb?"),
        ("313.5 lb", "was it read in kg?"),
        ("320 kg", ""),
        ("800 kg", "far from"),
    ],
)
def test_slips_are_asked_for(text: str, question: str) -> None:
    said = on(text, expecting("313.5 kg ± 1.5"), "wheel scales")
    assert question in " ".join(said.questions)
    assert bool(question) is bool(said.questions)


def test_what_a_field_cannot_be_is_asked_for() -> None:
    said = told("60 m", LENGTH, None, None, USUAL, "donor.wheelbase")
    assert "outside what this can be" in said.questions[0]
    assert told("2547 mm", LENGTH, None, None, USUAL, "donor.wheelbase").questions == ()


def test_a_band_that_was_typed_counts_and_none_is_usual() -> None:
    assert told("2547 mm ± 1", LENGTH, None, named(USUAL, "tape"), USUAL).band == 0.001
    assert told("2547 mm", LENGTH, None, named(USUAL, "tape"), USUAL).band == pytest.approx(
        0.002 + 0.0003 * 2.547
    )
    assert told("100 kg", MASS, None, None, USUAL).band == pytest.approx(MASS.measured * 100.0)


def test_a_wrong_unit_is_refused() -> None:
    with pytest.raises(UnitsError, match="mass"):
        told("313 mm", MASS, None, None, USUAL)


def test_kinds_of_fields() -> None:
    assert kind_of("donor.wheelbase") == LENGTH
    assert kind_of("donor.note") is None
    assert kind_of("words") is None


def test_every_usual_instrument_can_be_read_and_is_common_practice() -> None:
    names = [meter.name for meter in USUAL]
    assert len(names) == len(set(names)) >= 15
    assert all(meter.within or meter.share for meter in USUAL)
    assert not any(meter.own for meter in USUAL)
