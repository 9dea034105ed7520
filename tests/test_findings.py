"""How a verdict follows from value, limit and bands, branch by branch."""

from __future__ import annotations

import pytest
from hypothesis import assume, settings
from hypothesis import given as over
from hypothesis import strategies as st

from wattwright.findings import Check, FigureKind, Finding, Sense, Verdict, address
from wattwright.formula import Source, formula
from wattwright.kinds import FRACTION, LENGTH, MASS, POSITION, TEMPERATURE, Kind, Mass
from wattwright.units import read
from wattwright.values import (
    Given,
    Lack,
    Origin,
    Value,
    constant,
    doubted,
    given,
    lacking,
    nonexistent,
    worked,
)

BOOK = Source("A book")
SOUND, MARGINAL = Verdict.SOUND, Verdict.MARGINAL
FAILING, UNKNOWN = Verdict.FAILING, Verdict.UNKNOWN
MISSING = lacking(MASS, Lack("donor.mass", "mass", "not given"))


@formula("s", BOOK)
def plus(left: Mass, right: Mass) -> Mass:
    """Sum of two."""
    return left + right


def check(
    kind: Kind = MASS, near: float = 0.10, strict: bool = False, warning: bool = False
) -> Check:
    return Check("area.check", "check", "meaning", "limit", kind, BOOK, near, strict, warning)


def value(
    number: float,
    band: float = 0.0,
    which: Origin = Origin.MEASURED,
    path: str = "x",
    confirmed: bool = True,
    kind: Kind = MASS,
) -> Value:
    return given(kind, number, Given(path, path, which, "text", band, confirmed=confirmed))


def said(sense: Sense, left: Value, right: Value, declared: Check | None = None) -> Finding:
    declared = declared or check()
    state = {
        "at most": declared.at_most,
        "at least": declared.at_least,
        "within": declared.within,
    }[sense]
    return state(left, right, "rear")


def test_addresses() -> None:
    assert address("vehicle.axle_load", "rear/full") == "vehicle.axle_load@rear/full"
    assert address("vehicle.axle_load", "") == "vehicle.axle_load"
    assert said("at most", value(1), value(2)).address == "area.check@rear"
    figure = FigureKind("area.figure", "figure", "meaning", MASS).of(value(1), "kerb")
    assert figure.address == "area.figure@kerb"
    assert figure.value.number == 1


@pytest.mark.parametrize(
    ("sense", "number", "limit", "margin"),
    [
        ("at most", 80.0, 100.0, 20.0),
        ("at most", 120.0, 100.0, -20.0),
        ("at most", 0.0, 0.0, 0.0),
        ("at most", -5.0, 0.0, 5.0),
        ("at most", 5.0, -10.0, -15.0),
        ("at least", 80.0, 100.0, -20.0),
        ("at least", 120.0, 100.0, 20.0),
        ("at least", 0.0, 0.0, 0.0),
        ("at least", -5.0, 0.0, -5.0),
        ("within", 80.0, 100.0, 20.0),
        ("within", -80.0, 100.0, 20.0),
        ("within", 120.0, 100.0, -20.0),
        ("within", -120.0, 100.0, -20.0),
        ("within", 0.0, 100.0, 100.0),
        ("within", 0.0, 0.0, 0.0),
        ("within", -0.5, 0.0, -0.5),
    ],
)
def test_the_margin_is_the_distance_to_the_limit(
    sense: Sense, number: float, limit: float, margin: float
) -> None:
    finding = said(sense, value(number), value(limit))
    assert finding.margin == pytest.approx(margin)
    assert (finding.verdict is FAILING) == (margin < 0)


@pytest.mark.parametrize(
    ("number", "band", "limit", "limit_band", "verdict"),
    [
        # past the limit: failing, however wide the band and whatever else is doubtful
        (100.5, 0.0, 100.0, 0.0, FAILING),
        (100.5, 1e6, 100.0, 0.0, FAILING),
        (100.5, 0.0, 100.0, 1e6, FAILING),
        # the band is wider than the limit itself
        (10.0, 100.5, 100.0, 0.0, UNKNOWN),
        (10.0, 0.0, 100.0, 100.5, UNKNOWN),
        (10.0, 60.0, 100.0, 81.0, UNKNOWN),
        (0.0, 0.1, 0.0, 0.0, UNKNOWN),
        (10.0, 60.0, 100.0, 80.0, MARGINAL),
        # the band reaches the limit
        (10.0, 100.0, 100.0, 0.0, MARGINAL),
        (50.0, 50.0, 100.0, 0.0, MARGINAL),
        (50.0, 49.9, 100.0, 0.0, SOUND),
        (50.0, 30.0, 100.0, 40.0, MARGINAL),
        (50.0, 29.0, 100.0, 40.0, SOUND),
        (100.0, 0.0, 100.0, 0.0, MARGINAL),
        # the margin is under the threshold
        (90.1, 0.0, 100.0, 0.0, MARGINAL),
        (90.0, 0.0, 100.0, 0.0, SOUND),
        (89.0, 0.0, 100.0, 0.0, SOUND),
        # what is exact reaches nothing beyond itself, and at the limit is within it
        (0.0, 0.0, 0.0, 0.0, SOUND),
    ],
)
def test_verdicts_of_at_most(
    number: float, band: float, limit: float, limit_band: float, verdict: Verdict
) -> None:
    finding = said("at most", value(number, band), value(limit, limit_band, path="limit"))
    assert finding.verdict is verdict


@pytest.mark.parametrize(
    ("sense", "number", "band", "verdict"),
    [
        ("at least", 99.0, 500.0, FAILING),
        ("at least", 100.0, 0.0, MARGINAL),
        ("at least", 109.0, 0.0, MARGINAL),
        ("at least", 111.0, 0.0, SOUND),
        ("at least", 150.0, 50.0, MARGINAL),
        ("at least", 150.0, 49.0, SOUND),
        # Wider than the limit, yet nowhere near it: enough is enough.
        ("at least", 900.0, 101.0, SOUND),
        ("at least", 150.0, 101.0, UNKNOWN),
        ("within", -101.0, 500.0, FAILING),
        ("within", -91.0, 0.0, MARGINAL),
        ("within", -89.0, 0.0, SOUND),
        ("within", -50.0, 50.0, MARGINAL),
        ("within", -50.0, 49.0, SOUND),
        ("within", 0.0, 101.0, UNKNOWN),
        ("within", 0.0, 99.0, SOUND),
    ],
)
def test_verdicts_of_the_other_senses(
    sense: Sense, number: float, band: float, verdict: Verdict
) -> None:
    assert said(sense, value(number, band), value(100.0, path="limit")).verdict is verdict


@pytest.mark.parametrize(
    ("sense", "left", "verdict"),
    [
        # past the limit: something to know, however far, wide or doubtful
        ("at most", value(100.5), MARGINAL),
        ("at most", value(1e6), MARGINAL),
        ("at most", value(100.5, 1e6), MARGINAL),
        ("at most", doubted(value(100.5), "outside its range"), MARGINAL),
        ("at least", value(99.5), MARGINAL),
        ("within", value(-100.5), MARGINAL),
        # inside it as everywhere else
        ("at most", value(100.0), MARGINAL),
        ("at most", value(95.0), MARGINAL),
        ("at most", value(50.0, 50.0), MARGINAL),
        ("at most", value(50.0), SOUND),
        ("at most", value(10.0, 100.5), UNKNOWN),
        ("at most", doubted(value(50.0), "outside its range"), UNKNOWN),
        ("at most", MISSING, UNKNOWN),
    ],
)
def test_past_its_limit_a_warning_is_marginal(sense: Sense, left: Value, verdict: Verdict) -> None:
    limit = value(100.0, path="limit")
    assert said(sense, left, limit, check(warning=True)).verdict is verdict
    assert check().warning is False


def test_a_warning_past_its_limit_keeps_its_margin_and_what_it_rests_on() -> None:
    guess = value(120.0, 5.0, Origin.ASSUMED)
    warned, failed = (
        said("at most", guess, value(100.0, path="limit"), check(warning=warning))
        for warning in (True, False)
    )
    assert (warned.verdict, failed.verdict) == (MARGINAL, FAILING)
    assert warned.margin == failed.margin == -20.0
    assert warned.provisional
    assert [g.path for g, _ in warned.rests_on] == ["x"]


@pytest.mark.parametrize(("left", "right"), [(MISSING, value(1.0)), (value(1.0), MISSING)])
def test_a_missing_side_is_unknown_and_says_what_is_missing(left: Value, right: Value) -> None:
    finding = said("at most", left, right)
    assert finding.verdict is UNKNOWN
    assert finding.margin is None
    assert finding.lacks == MISSING.lacks
    assert not finding.provisional
    assert finding.applies


def test_what_is_missing_on_both_sides_is_named_once() -> None:
    assert said("at most", MISSING, MISSING).lacks == MISSING.lacks


def test_a_missing_side_is_not_provisional_even_over_soft_inputs() -> None:
    soft = value(1.0, 0.5, Origin.ASSUMED)
    assert not said("at most", soft, MISSING).provisional


def test_doubts_make_it_unknown_but_never_hide_a_failure() -> None:
    doubtful = doubted(value(10.0), "outside its range")
    finding = said("at most", doubtful, value(100.0))
    assert (finding.verdict, finding.doubts) == (UNKNOWN, ("outside its range",))
    assert said("at most", value(10.0), doubted(value(100.0), "printed")).verdict is UNKNOWN
    assert said("at most", doubted(value(101.0), "outside"), value(100.0)).verdict is FAILING
    both = said("at most", doubtful, doubted(value(100.0), "outside its range"))
    assert both.doubts == ("outside its range",)


@pytest.mark.parametrize(
    ("kind", "near", "limit", "threshold"),
    [
        (MASS, 0.10, 250.0, 25.0),
        (MASS, 0.02, 250.0, 5.0),
        (MASS, 0.0, 250.0, 0.0),
        (FRACTION, 0.10, 0.2, 0.02),
        (MASS, 0.10, -250.0, 25.0),
        (POSITION, 0.05, 2.0, 0.05),
        (TEMPERATURE, 5.0, 350.0, 5.0),
        (POSITION, 0.05, 0.0, 0.05),
    ],
)
def test_the_threshold_is_a_share_only_where_zero_means_nothing(
    kind: Kind, near: float, limit: float, threshold: float
) -> None:
    left = value(limit - threshold - 0.01 * abs(limit) - 0.001, kind=kind)
    finding = said("at most", left, value(limit, kind=kind), check(kind, near))
    assert finding.threshold == pytest.approx(threshold)
    assert finding.verdict is SOUND
    if threshold:
        closer = value(limit - 0.99 * threshold, kind=kind)
        assert said("at most", closer, value(limit, kind=kind), check(kind, near)).verdict is (
            MARGINAL
        )


def test_near_zero_is_sound_up_to_the_band() -> None:
    exact = check(near=0.0)
    assert said("at most", value(99.999), value(100.0), exact).verdict is SOUND
    assert said("at most", value(99.0, 0.5), value(100.0), exact).verdict is SOUND
    assert said("at most", value(99.0, 1.5), value(100.0), exact).verdict is MARGINAL


@pytest.mark.parametrize("sense", ["at most", "at least", "within"])
def test_an_input_common_to_both_sides_counts_once(sense: Sense) -> None:
    shared = value(50.0, 30.0, path="shared")
    more = worked(plus, shared, value(40.0, 3.0, path="more"))
    low, high = shared, more
    finding = said(sense, *((high, low) if sense == "at least" else (low, high)))
    assert finding.margin == pytest.approx(40.0)
    # The shared input moves both sides alike, so only the other one is left in the margin.
    assert finding.margin_band == pytest.approx(3.0)
    assert [g.path for g, _ in finding.rests_on] == ["more"]


def test_within_below_nought_adds_up_where_at_most_would_cancel() -> None:
    shared = value(50.0, 3.0, path="shared")
    negative = worked(minus_twice, shared)
    finding = said("within", negative, worked(plus, shared, value(100.0)))
    # margin = (shared + 100) - 2 * shared = 100 - shared
    assert finding.margin == pytest.approx(50.0)
    assert finding.margin_band == pytest.approx(3.0)


@formula("n", BOOK)
def minus_twice(mass: Mass) -> Mass:
    """Turn the sign and double."""
    return -2 * mass


def test_effects_carry_the_sign_of_the_margin() -> None:
    finding = said("at most", value(50.0, 2.0, path="value"), value(100.0, 3.0, path="limit"))
    assert {g.path: shift for g, shift in finding.rests_on} == {"value": -2.0, "limit": 3.0}
    assert [g.path for g, _ in finding.rests_on] == ["limit", "value"]
    finding = said("at least", value(50.0, 2.0, path="value"), value(10.0, 3.0, path="limit"))
    assert {g.path: shift for g, shift in finding.rests_on} == {"value": 2.0, "limit": -3.0}
    finding = said("within", value(-50.0, 2.0, path="value"), value(100.0, path="limit"))
    assert {g.path: shift for g, shift in finding.rests_on} == {"value": 2.0}


@pytest.mark.parametrize(
    ("which", "confirmed", "provisional"),
    [
        (Origin.MEASURED, True, False),
        (Origin.DATASHEET, True, False),
        (Origin.COMPUTED, True, False),
        (Origin.ASSUMED, True, True),
        (Origin.TYPICAL, True, True),
        (Origin.RULE, True, False),
        (Origin.RULE, False, True),
    ],
)
def test_provisional_where_it_rests_on_something_soft(
    which: Origin, confirmed: bool, provisional: bool
) -> None:
    band = 0.0 if which is Origin.RULE else 5.0
    soft = value(50.0, band, which, confirmed=confirmed)
    assert said("at most", soft, value(100.0, path="limit")).provisional is provisional
    assert said("at least", value(100.0, path="limit"), soft).provisional is provisional


def ledger(*bands: tuple[float, Origin]) -> Value:
    """A sum of inputs with the given bands, 50 in all."""
    total = constant(MASS, 50.0)
    for place, (band, which) in enumerate(bands):
        total = worked(plus, total, value(0.0, band, which, path=f"p{place}"))
    return total


def rests(*bands: float, strict: bool = False, limit: float = 150.0) -> list[str]:
    total = ledger(*((band, Origin.ASSUMED) for band in bands))
    finding = said("at most", total, value(limit, path="limit"), check(strict=strict))
    assert finding.margin == pytest.approx(limit - 50.0)
    assert finding.provisional is bool(finding.rests_on)
    return [g.path for g, _ in finding.rests_on]


def test_inputs_that_together_move_it_less_than_a_hundredth_of_the_margin_are_left_out() -> None:
    # The margin is 100, so 1 is the amount that those left out must stay under together.
    assert rests(0.5) == []
    assert rests(0.99) == []
    assert rests(1.01) == ["p0"]
    assert rests(5.0, 0.5) == ["p0"]
    assert rests(5.0, 0.6, 0.3) == ["p0"]
    assert rests(5.0, 0.7, 0.4) == ["p0", "p1"]


def test_inputs_of_equal_size_are_not_all_left_out() -> None:
    """Two of 0.6 move a margin of 100 by 1.2 together: leaving out both would be too much."""
    assert len(rests(0.6, 0.6)) >= 1
    assert len(rests(0.3, 0.3, 0.3, 0.3)) >= 1
    assert len(rests(0.5, 0.5)) >= 1


@settings(max_examples=200, deadline=None)
@over(st.lists(st.sampled_from([0.001, 0.1, 0.3, 0.34, 0.5, 0.6, 0.9, 2.0, 30.0]), max_size=8))
def test_what_is_left_out_moves_the_margin_less_than_a_hundredth(bands: list[float]) -> None:
    kept = rests(*bands)
    left_out = sum(band for place, band in enumerate(bands) if f"p{place}" not in kept)
    assert left_out < 1.0 + 1e-9
    smallest_kept = min((bands[int(path[1:])] for path in kept), default=None)
    if smallest_kept is not None:
        # Keeping the smallest was needed: with all of its size left out it would be too much.
        size = sum(band for band in bands if band <= smallest_kept)
        assert size >= 1.0 - 1e-9


def test_a_failing_margin_counts_by_its_size() -> None:
    total = ledger((0.5, Origin.ASSUMED))
    assert not said("at least", total, value(150.0, path="limit")).provisional
    total = ledger((1.5, Origin.ASSUMED))
    assert said("at least", total, value(150.0, path="limit")).provisional


def test_a_margin_of_nought_rests_on_everything_that_moves_it() -> None:
    finding = said("at most", ledger((1e-6, Origin.ASSUMED)), value(50.0, path="limit"))
    assert finding.margin == 0.0
    assert finding.provisional


def test_strict_checks_leave_nothing_out() -> None:
    assert rests(5.0, 0.001, strict=True) == ["p0", "p1", "limit"]
    assert rests(1e-4, strict=True) == ["p0", "limit"]


def test_an_unconfirmed_rule_counts_however_little_it_moves() -> None:
    rule = value(0.0, 0.0, Origin.RULE, path="rule", confirmed=False)
    finding = said("at most", worked(plus, value(50.0, 0.1), rule), value(1000.0, path="limit"))
    assert [g.path for g, _ in finding.rests_on] == ["rule"]
    assert finding.provisional
    answered = value(0.0, 0.0, Origin.RULE, path="rule", confirmed=True)
    firm = said("at most", worked(plus, value(50.0, 0.1), answered), value(1000.0, path="limit"))
    assert firm.rests_on == ()
    assert not firm.provisional


def test_an_input_that_cancels_is_no_reason_to_be_provisional() -> None:
    # Slopes from differences leave a rest in the last digits, which must not count.
    guess = value(0.1, 0.05, Origin.ASSUMED, path="guess")
    odd = value(1234.567, 0.01, path="odd")
    before, after = worked(plus, odd, guess), worked(plus, guess, value(87654.3, path="other"))
    finding = said("at most", before, after, check(strict=True))
    rest = before.effects[guess.given] - after.effects[guess.given]  # type: ignore[index]
    assert 0 < abs(rest) < 1e-9
    assert "guess" not in [g.path for g, _ in finding.rests_on]
    assert not finding.provisional


@pytest.mark.parametrize(
    ("left", "right", "applies"),
    [
        (value(1.0), value(2.0), True),
        (nonexistent(MASS), value(2.0), False),
        (value(1.0), nonexistent(MASS), False),
        (MISSING, nonexistent(MASS), False),
        (MISSING, MISSING, True),
    ],
)
def test_it_applies_unless_a_side_is_known_not_to_exist(
    left: Value, right: Value, applies: bool
) -> None:
    assert said("at most", left, right).applies is applies


numbers = st.floats(0.01, 1e4)
shares = st.floats(0.0, 1.5)
senses = st.sampled_from(["at most", "at least", "within"])


@settings(max_examples=300, deadline=None)
@over(senses, numbers, shares, numbers, shares, st.sampled_from([0.0, 0.02, 0.1]))
def test_the_verdict_does_not_depend_on_the_unit_typed(
    sense: Sense, number: float, band: float, limit: float, limit_band: float, near: float
) -> None:
    """The same masses typed in kilograms and in pounds, the verdict worked out from the text."""

    def typed(unit: str, per_kg: float) -> Finding:
        sides = []
        for path, amount, share in (("value", number, band), ("limit", limit, limit_band)):
            text = f"{amount * per_kg:.15g} {unit} ± {amount * share * per_kg:.15g}"
            found = read(text, MASS)
            assert found.band is not None
            sides.append(value(found.number, found.band, path=path))
        return said(sense, sides[0], sides[1], check(near=near))

    metric = typed("kg", 1.0)
    # Right on an edge the last digit decides, and it may differ between units.
    edges = (
        metric.margin,
        metric.margin_band - (metric.margin or 0.0),
        metric.margin_band - limit,
        (metric.margin or 0.0) - metric.threshold,
    )
    assume(all(abs(edge or 0.0) > 1e-9 * limit for edge in edges))
    for unit, per_kg in (("lb", 1 / 0.45359237), ("g", 1000.0), ("t", 0.001)):
        assert typed(unit, per_kg).verdict is metric.verdict


@settings(max_examples=200, deadline=None)
@over(senses, numbers, shares, numbers, shares, st.sampled_from([-8, -3, 3, 10]))
def test_the_verdict_does_not_depend_on_the_size_of_the_unit(
    sense: Sense, number: float, band: float, limit: float, limit_band: float, power: int
) -> None:
    """Scaling by a power of two is exact, so nothing at all may change."""
    scale = 2.0**power

    def scaled(by: float) -> Finding:
        left = value(number * by, number * band * by, path="value")
        right = value(limit * by, limit * limit_band * by, path="limit")
        return said(sense, left, right)

    plain, other = scaled(1.0), scaled(scale)
    assert other.verdict is plain.verdict
    assert [g.path for g, _ in other.rests_on] == [g.path for g, _ in plain.rests_on]


@settings(max_examples=200, deadline=None)
@over(senses, numbers, shares, numbers, st.floats(1.0, 3.0))
def test_a_wider_band_never_turns_a_verdict_for_the_better(
    sense: Sense, number: float, band: float, limit: float, wider: float
) -> None:
    narrow = said(sense, value(number, number * band), value(limit, path="limit"))
    wide = said(sense, value(number, number * band * wider), value(limit, path="limit"))
    order = [SOUND, MARGINAL, UNKNOWN]
    if narrow.verdict is FAILING:
        assert wide.verdict is FAILING
    else:
        assert order.index(wide.verdict) >= order.index(narrow.verdict)


@settings(max_examples=200, deadline=None)
@over(senses, numbers, shares, numbers)
def test_a_warning_differs_from_another_check_in_failing_alone(
    sense: Sense, number: float, band: float, limit: float
) -> None:
    plain, warned = (
        said(
            sense, value(number, number * band), value(limit, path="limit"), check(warning=warning)
        ).verdict
        for warning in (False, True)
    )
    assert warned is (MARGINAL if plain is FAILING else plain)


def test_a_length_is_judged_like_any_other_amount() -> None:
    finding = said("at most", value(0.95, kind=LENGTH), value(1.0, kind=LENGTH), check(LENGTH))
    assert finding.verdict is MARGINAL
