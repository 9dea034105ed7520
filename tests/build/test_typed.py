"""One leaf as typed: number, origin, details, and every way in which it is refused."""

from __future__ import annotations

import pytest

from wattwright.build.fields import Quantity
from wattwright.build.typed import Credit, Field, not_given, read_credit, read_leaf, rule_value
from wattwright.errors import UnitsError
from wattwright.kinds import COUNT, FRACTION, MASS, POSITION, SPEED
from wattwright.values import Given, Origin, State, Value

PLAIN = Quantity(MASS, "mass of one", "scale", minutes=6, allowed=("0 kg", "3000 kg"))
NONE_ALLOWED = Quantity(MASS, "highest load", "plate", may_be_none=True)
PLACE = Quantity(POSITION, "distance", "tape")
CODED = Quantity(SPEED, "speed symbol", "sidewall", codes="tyre_speed_symbol")
DECIDED = Quantity(SPEED, "fastest driving", "decide it", decided=True)
DEFAULT = Quantity(MASS, "person", "ask", default="75 kg", basis="a resolution")
BARE_DEFAULT = Quantity(COUNT, "how many", "count", default="1")


def field(declared: Quantity = PLAIN) -> Field:
    return Field("part.motor.mass", f"motor: {declared.label}", 7, declared)


def leaf(typed: str | float, declared: Quantity = PLAIN, inherited: Credit | None = None) -> Value:
    return read_leaf(typed, field(declared), inherited)


def origin(value: Value) -> Given:
    assert value.given is not None
    return value.given


def refusal(typed: str | float, declared: Quantity = PLAIN) -> str:
    with pytest.raises(UnitsError) as caught:
        leaf(typed, declared)
    return str(caught.value)


def test_a_leaf_with_everything() -> None:
    value = leaf("6.2 kg ± 0.1, measured, hanging scale, in the shed, 2026-03-14")
    assert (value.number, value.band, value.kind) == (6.2, 0.1, MASS)
    given = origin(value)
    assert (given.path, given.label, given.line) == ("part.motor.mass", "motor: mass of one", 7)
    assert given.origin is Origin.MEASURED
    assert (given.detail, given.date) == ("hanging scale, in the shed", "2026-03-14")
    assert given.text == "6.2 kg ± 0.1, measured, hanging scale, in the shed, 2026-03-14"
    assert (given.how, given.minutes, given.band_note) == ("scale", 6, "")
    assert not given.soft


@pytest.mark.parametrize(
    ("text", "which"),
    [
        ("6 kg", Origin.ASSUMED),
        ("6 kg, assumed", Origin.ASSUMED),
        ("6 kg, typical", Origin.TYPICAL),
        ("6 kg, datasheet", Origin.DATASHEET),
        ("6 kg, Measured", Origin.MEASURED),
        ("6 kg, computed", Origin.COMPUTED),
    ],
)
def test_origins(text: str, which: Origin) -> None:
    assert origin(leaf(text)).origin is which


@pytest.mark.parametrize(
    ("text", "declared", "band"),
    [
        # common practice of the kind, noted: a share where zero is nothing, an amount elsewhere
        ("200 kg", PLAIN, 20.0),
        ("200 kg, typical", PLAIN, 20.0),
        ("200 kg, measured", PLAIN, 2.0),
        ("-2 m, measured", PLACE, 0.01),
        ("0 m", PLACE, 0.05),
        ("200 kg, datasheet", PLAIN, 0.0),
        ("200 kg, computed", PLAIN, 0.0),
        # what was typed counts
        ("200 kg ± 5, measured", PLAIN, 5.0),
        ("200 kg ± 5", PLAIN, 5.0),
        ("200 kg ± 0, measured", PLAIN, 0.0),
        ("200 kg ± 3, datasheet", PLAIN, 3.0),
        # but nothing is assumed exactly
        ("200 kg ± 0", PLAIN, 20.0),
        ("200 kg ± 0, typical", PLAIN, 20.0),
    ],
)
def test_bands(text: str, declared: Quantity, band: float) -> None:
    value = leaf(text, declared)
    assert value.band == pytest.approx(band)
    own = "±" in text and "± 0" not in text
    assert bool(origin(value).band_note) == (band > 0 and not own)


def test_what_reading_decided_is_noted() -> None:
    assert "one thousand and forty" in origin(leaf("1,040 kg, measured")).band_note


def test_an_inherited_credit_speaks_where_the_leaf_says_nothing() -> None:
    tape = Credit(Origin.MEASURED, "tape", "2026-03-14")
    value = origin(leaf("6 kg", inherited=tape))
    assert (value.origin, value.detail, value.date) == (Origin.MEASURED, "tape", "2026-03-14")
    own = origin(leaf("6 kg, datasheet", inherited=tape))
    assert (own.origin, own.detail, own.date) == (Origin.DATASHEET, "", "")


def test_what_the_builder_decides_is_firm_and_exact() -> None:
    value = leaf("90 km/h", DECIDED)
    assert value.number == pytest.approx(25.0)
    assert value.band == 0.0
    assert not origin(value).soft
    assert origin(leaf("90 km/h, assumed", DECIDED)).soft


@pytest.mark.parametrize("text", ["unknown", "Unknown", " unknown "])
def test_unknown_is_on_the_list_of_things_to_find_out(text: str) -> None:
    value = leaf(text)
    assert value.state is State.UNKNOWN
    (lack,) = value.lacks
    assert (lack.path, lack.label) == ("part.motor.mass", "motor: mass of one")
    assert (lack.why, lack.how, lack.minutes) == ("unknown", "scale", 6)


def test_none_only_where_the_field_allows_it() -> None:
    assert leaf("none", NONE_ALLOWED).state is State.NONE
    assert leaf("None", NONE_ALLOWED).absent
    assert 'cannot be "none"' in refusal("none")
    assert "unknown" in refusal("none")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("6.2 m", "a length"),
        ("6.2", "the unit is missing"),
        (6.2, "the unit is missing"),
        ("heavy", "no number"),
        ("", "no number"),
        ("3001 kg", "allowed is 0 kg to 3000 kg"),
        ("-1 kg", "allowed is 0 kg to 3000 kg"),
        ("6 kg, guessed", "'guessed' is no origin"),
        ("6 kg, measurd", "did you mean measured?"),
        ("6 kg, rule", "'rule' is no origin"),
        ("6 kg, , tape", "'' is no origin"),
        ("6 kg,", "unknown unit"),
        ("6 kg, measured, 2026-02-30", "2026-02-30 is no date"),
        ("6 kg, measured, 2026-13-01", "2026-13-01 is no date"),
    ],
)
def test_refusals_say_what_is_wrong(typed: str | float, words: str) -> None:
    assert words in refusal(typed)


def test_the_ends_of_the_range_are_allowed() -> None:
    assert leaf("0 kg").number == 0.0
    assert leaf("3000 kg").number == 3000.0


def test_codes_stand_for_their_number() -> None:
    value = leaf("s, measured, sidewall", CODED)
    assert value.number == pytest.approx(50.0)
    assert value.band == 0.0
    assert origin(value).text == "s, measured, sidewall (180 km/h)"
    message = refusal("180 km/h, measured", CODED)
    assert "is no speed symbol; known are J, K" in message


def test_a_code_read_off_the_part_is_exact_whatever_is_said_of_its_origin() -> None:
    assert leaf("S", CODED).band == 0.0


def test_credits() -> None:
    assert read_credit("measured") == Credit(Origin.MEASURED)
    assert read_credit("measured, tape, 2026-03-14, cold") == Credit(
        Origin.MEASURED, "tape, cold", "2026-03-14"
    )
    with pytest.raises(UnitsError, match="for example: 412 kg, measured"):
        read_credit("tape")


def test_what_nobody_wrote_is_a_lack_or_a_default_that_says_so() -> None:
    missing = not_given(field())
    assert missing.state is State.NOT_GIVEN
    assert missing.lacks[0].how == "scale"
    default = not_given(field(DEFAULT))
    assert default.number == 75.0
    given = origin(default)
    assert (given.origin, given.detail, given.text) == (
        Origin.TYPICAL,
        "a resolution",
        "75 kg (default)",
    )
    assert default.band == pytest.approx(7.5)
    bare = not_given(field(BARE_DEFAULT))
    assert (bare.number, bare.given, bare.band) == (1.0, None, 0.0)


@pytest.mark.parametrize(
    ("answered_by", "date", "confirmed"),
    [
        ("engineer", "2026-03-14", True),
        ("engineer", "", False),
        ("", "2026-03-14", False),
        ("", "", False),
    ],
)
def test_a_rule_counts_as_answered_with_who_and_when(
    answered_by: str, date: str, confirmed: bool
) -> None:
    value = rule_value(leaf("80 kg", DEFAULT), field(DEFAULT), answered_by, date)
    given = origin(value)
    assert (value.number, value.band, given.origin) == (80.0, 0.0, Origin.RULE)
    assert given.confirmed is confirmed
    assert given.soft is not confirmed
    assert (given.detail, given.date) == (answered_by, date)


def test_a_default_rule_is_never_answered() -> None:
    value = rule_value(not_given(field(DEFAULT)), field(DEFAULT), "engineer", "2026-03-14")
    given = origin(value)
    assert (value.number, given.confirmed, given.detail) == (75.0, False, "a resolution")
    missing = not_given(field())
    assert rule_value(missing, field(), "engineer", "2026-03-14") is missing


# ------------------------------------------------------ the usual band and what is allowed at all

SHARE = Quantity(FRACTION, "efficiency", "sheet", allowed=("30 %", "99 %"))


@pytest.mark.parametrize(
    ("text", "band"),
    [
        # A tenth of 70 % either way is inside.
        ("70 %", 0.07),
        # A tenth of 95 % would be 104.5 %: up to 99 % it is.
        ("95 %", 0.04),
        # A tenth of 31 % would be 27.9 %: down to 30 % it is.
        ("31 %, typical", 0.01),
        # What is typed stands as it is typed, and a sheet is a sheet.
        ("95 % ± 6", 0.06),
        ("95 %, datasheet", 0.0),
    ],
)
def test_the_usual_band_of_a_guess_never_reaches_beyond_what_is_allowed(
    text: str, band: float
) -> None:
    value = leaf(text, SHARE)
    assert value.band == pytest.approx(band)
    if "±" not in text and value.number is not None:
        assert value.number - value.band >= 0.3 - 1e-12
        assert value.number + value.band <= 0.99 + 1e-12


def test_a_default_without_a_band_keeps_inside_as_well() -> None:
    declared = Quantity(
        FRACTION, "share", "ask", allowed=("0 %", "100 %"), default="96 %", basis="practice"
    )
    assert not_given(field(declared)).band == pytest.approx(0.04)
