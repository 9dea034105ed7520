"""How values combine: what is lacking, what does not exist, and how bands travel."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.formula import Source, declaration, formula
from wattwright.kinds import LENGTH, MASS, POSITION, Length, Mass
from wattwright.values import (
    Given,
    Lack,
    Origin,
    State,
    Value,
    band_of,
    constant,
    doubt,
    doubted,
    either,
    exceeds,
    given,
    hard_bands,
    lacking,
    largest,
    nonexistent,
    smallest,
    without_band,
    worked,
)

BOOK = Source("A book")
LACK = Lack("donor.mass", "mass", "not given", "scale", 5)
OTHER = Lack("donor.length", "length", "unknown", "tape", 3)


@formula("d", BOOK)
def difference(left: Mass, right: Mass) -> Mass:
    """Difference of two masses."""
    return left - right


@formula("s", BOOK)
def summed(masses: Sequence[Mass]) -> Mass:
    """Sum of masses."""
    return sum(masses)


@formula("s", BOOK, gradient=lambda masses: ([1.0] * len(masses),))
def summed_exactly(masses: Sequence[Mass]) -> Mass:
    """Sum of masses with its gradient."""
    return sum(masses)


@formula("p", BOOK)
def product(mass: Mass, length: Length) -> Mass:
    """Product."""
    return mass * length


@formula("q", BOOK)
def quotient(mass: Mass, length: Length) -> Mass:
    """Quotient."""
    return mass / length


@formula("b", BOOK)
def bend(mass: Mass) -> Mass:
    """Line that is three times as steep above ten."""
    return max(mass, 3 * mass - 20)


@formula("b", BOOK)
def capped(mass: Mass) -> Mass:
    """Mass up to ten."""
    return min(mass, 10.0)


@formula("b", BOOK)
def size(mass: Mass) -> Mass:
    """Size of a mass."""
    return abs(mass)


@formula("b", BOOK)
def only_there(mass: Mass) -> Mass:
    """Defined at one place only."""
    if mass != 10:
        raise FormulaError("only at ten")
    return mass


@formula("r", BOOK)
def root(mass: Mass) -> Mass:
    """Square root."""
    return math.sqrt(mass)


@formula("w", BOOK, valid={"mass": (1.0, 20.0)})
def vouched(mass: Mass) -> Mass:
    """Vouched for between one and twenty."""
    return mass


@formula("f", BOOK)
def far_too_large(mass: Mass) -> Mass:
    """Beyond every number."""
    return mass * 1e308 * 1e308


def origin(
    band: float = 0.0, which: Origin = Origin.MEASURED, path: str = "x", confirmed: bool = True
) -> Given:
    return Given(path, "label", which, "text", band, confirmed=confirmed)


def mass(number: float, band: float = 0.0, **more: object) -> Value:
    return given(MASS, number, origin(band, **more))  # type: ignore[arg-type]


def test_states() -> None:
    assert mass(3.0).state is State.KNOWN
    assert mass(0.0).state is State.KNOWN
    assert mass(0.0).known
    assert lacking(MASS, LACK).state is State.NOT_GIVEN
    assert lacking(MASS, OTHER).state is State.UNKNOWN
    assert nonexistent(MASS).state is State.NONE
    assert not nonexistent(MASS).known


@pytest.mark.parametrize(
    ("which", "confirmed", "soft"),
    [
        (Origin.MEASURED, True, False),
        (Origin.DATASHEET, True, False),
        (Origin.COMPUTED, True, False),
        (Origin.TYPICAL, True, True),
        (Origin.ASSUMED, True, True),
        (Origin.RULE, True, False),
        (Origin.RULE, False, True),
        (Origin.MEASURED, False, False),
    ],
)
def test_which_origins_are_soft(which: Origin, confirmed: bool, soft: bool) -> None:
    assert origin(0.0, which, confirmed=confirmed).soft is soft


def test_a_given_value_carries_its_own_band() -> None:
    from_scale = origin(0.5)
    value = given(MASS, 12.0, from_scale)
    assert (value.number, value.band, value.effects) == (12.0, 0.5, {from_scale: 0.5})
    assert constant(MASS, 12.0, "exact").band == 0.0
    assert constant(MASS, 12.0, "exact").label == "exact"


def test_worked_calls_the_function_and_keeps_the_step() -> None:
    left, right = mass(5.0), mass(3.0)
    value = worked(difference, left, right)
    assert (value.number, value.kind) == (2.0, MASS)
    assert value.step is not None
    assert value.step.fn is difference
    assert value.step.arguments == (left, right)
    many = worked(summed, [left, right])
    assert many.number == 8.0
    assert many.step is not None
    assert many.step.arguments == ((left, right),)
    assert tuple(many.step.flat) == (left, right)


def test_worked_refuses_a_function_that_is_not_declared() -> None:
    with pytest.raises(FormulaError, match="not a declared formula"):
        worked(lambda mass: mass, mass(1.0))


def test_what_is_lacking_travels_and_is_named_once() -> None:
    value = worked(product, lacking(MASS, LACK), lacking(LENGTH, OTHER))
    assert value.number is None
    assert value.lacks == (LACK, OTHER)
    again = worked(difference, value, lacking(MASS, LACK))
    assert again.lacks == (LACK, OTHER)
    assert worked(summed, [mass(1.0), lacking(MASS, OTHER)]).lacks == (OTHER,)
    assert again.band == 0.0


def test_what_does_not_exist_wins_over_what_is_lacking() -> None:
    value = worked(product, nonexistent(MASS), lacking(LENGTH, OTHER))
    assert value.absent
    assert value.state is State.NONE
    assert value.lacks == ()


@pytest.mark.parametrize(
    ("value", "reason"),
    [
        (worked(quotient, mass(1.0), given(LENGTH, 0.0, origin())), "division by zero"),
        (worked(only_there, mass(3.0)), "only at ten"),
        (worked(root, mass(-1.0)), "expected a nonnegative input|math domain error"),
        (worked(far_too_large, mass(1.0)), "not a finite number"),
    ],
)
def test_a_result_that_cannot_be_had_is_a_lack_with_its_reason(value: Value, reason: str) -> None:
    (lack,) = value.lacks
    assert value.number is None
    assert lack.path == ""
    assert lack.why.startswith("cannot be worked out: ")
    assert any(word in lack.why for word in reason.split("|"))
    assert value.state is State.UNKNOWN
    assert worked(difference, value, mass(1.0)).lacks == (lack,)


def length(number: float) -> Value:
    return given(LENGTH, number, origin())


def test_a_formula_names_the_unit_of_each_argument() -> None:
    assert declaration(product).units == ("kg", "m")
    assert declaration(summed).units == ("kg",), "of a sequence that of its members"


@pytest.mark.parametrize(
    ("fn", "arguments", "words"),
    [
        (product, (length(2.0), mass(3.0)), r"\.product was given length for kg"),
        (product, (mass(3.0), mass(2.0)), r"\.product was given mass for m"),
        (summed, ([mass(1.0), length(2.0)],), r"\.summed was given another kind for kg"),
        (product, (lacking(LENGTH, OTHER), length(2.0)), "was given length for kg"),
        (product, (nonexistent(LENGTH), length(2.0)), "was given length for kg"),
        (summed, ([lacking(LENGTH, OTHER)],), "was given another kind for kg"),
    ],
)
def test_a_value_of_another_unit_is_refused_even_where_it_is_lacking(
    fn: object, arguments: tuple[object, ...], words: str
) -> None:
    with pytest.raises(FormulaError, match=words):
        worked(fn, *arguments)  # type: ignore[arg-type]


def test_another_meaning_of_the_same_unit_is_taken() -> None:
    """A place less a place is a length: only the unit is held against the formula."""
    place = given(POSITION, 2.0, origin())
    assert worked(product, mass(3.0), place).number == 6.0
    assert worked(product, mass(3.0), length(2.0)).number == 6.0


def test_an_argument_too_few_or_too_many_is_refused() -> None:
    for arguments in ((mass(3.0),), (mass(3.0), length(2.0), length(2.0))):
        with pytest.raises(ValueError, match="zip"):
            worked(product, *arguments)


def test_bands_of_different_inputs_add_as_root_of_squares() -> None:
    assert worked(difference, mass(10.0, 3.0), mass(4.0, 4.0)).band == pytest.approx(5.0)
    assert worked(summed, [mass(1.0, 1.0), mass(1.0, 2.0), mass(1.0, 2.0)]).band == pytest.approx(3)


@pytest.mark.parametrize("fn", [summed, summed_exactly])
def test_an_input_shared_by_two_branches_counts_once(fn: object) -> None:
    shared = mass(10.0, 3.0)
    cancelled = worked(difference, shared, shared)
    assert cancelled.number == 0.0
    assert cancelled.band == pytest.approx(0.0, abs=1e-12)
    other = mass(1.0, 4.0)
    branches = worked(fn, [shared, worked(difference, shared, other), other])  # type: ignore[arg-type]
    assert branches.number == 20.0
    assert branches.band == pytest.approx(6.0)
    assert branches.effects[shared.given] == pytest.approx(6.0)  # type: ignore[index]
    assert branches.effects[other.given] == pytest.approx(0.0, abs=1e-9)  # type: ignore[index]


def test_the_gradient_is_used_where_one_is_declared() -> None:
    values = [mass(1.0, 0.5), mass(2.0, 0.25)]
    plain, exact = worked(summed, values), worked(summed_exactly, values)
    assert list(exact.effects.values()) == [0.5, 0.25]
    assert list(plain.effects.values()) == pytest.approx([0.5, 0.25])


@pytest.mark.parametrize(
    ("fn", "number", "band", "slope"),
    [
        # The bend of ``bend`` is at 10; the steeper side counts while the band reaches it.
        (bend, 10.0, 1.0, 3.0),
        (bend, 9.5, 1.0, 2.0),
        (bend, 8.0, 1.0, 1.0),
        (bend, 12.0, 1.0, 3.0),
        (capped, 10.0, 1.0, 1.0),
        (capped, 12.0, 1.0, 0.0),
        (capped, 12.0, 4.0, 0.5),
        (size, 0.0, 1.0, 1.0),
        (size, -5.0, 1.0, 1.0),
    ],
)
def test_at_a_bend_the_steeper_side_counts(
    fn: object, number: float, band: float, slope: float
) -> None:
    value = worked(fn, mass(number, band))  # type: ignore[arg-type]
    assert value.band == pytest.approx(slope * band)
    assert value.doubts == ()


def test_a_formula_that_ends_inside_the_band_is_followed_where_it_is_steepest_and_doubted() -> None:
    """The root of 1 ± 4 ends at 0: narrower steps are steeper than the side that is left."""
    value = worked(root, mass(1.0, 4.0))
    assert value.band >= math.sqrt(5.0) - 1.0
    # at a tenth of the band, downwards: (1 - sqrt(0.6)) / 0.4 for each unit of the band
    assert value.band == pytest.approx(4.0 * (1.0 - math.sqrt(0.6)) / 0.4)
    assert value.doubts == ("Square root: the band is too wide to follow",)


def test_a_band_that_cannot_be_followed_is_a_doubt() -> None:
    value = worked(only_there, mass(10.0, 1.0))
    assert value.number == 10.0
    assert value.doubts == ("Defined at one place only: the band is too wide to follow",)
    assert worked(difference, value, mass(1.0)).doubts == value.doubts


def test_an_input_without_a_band_raises_no_doubt() -> None:
    assert worked(only_there, mass(10.0, 0.0)).doubts == ()


def test_a_number_outside_the_vouched_range_is_a_doubt_that_travels_once() -> None:
    beyond = worked(vouched, mass(30.0))
    assert beyond.number == 30.0
    (doubt,) = beyond.doubts
    assert doubt == "Vouched for between one and twenty: mass is outside 1 to 20 kg"
    assert worked(difference, beyond, beyond).doubts == (doubt,)
    assert worked(vouched, mass(10.0)).doubts == ()


def test_doubted_adds_to_the_doubts_and_changes_nothing_else() -> None:
    value = doubted(doubted(mass(3.0, 0.5), "first"), "second")
    assert (value.number, value.band, value.doubts) == (3.0, 0.5, ("first", "second"))
    assert worked(difference, value, mass(1.0)).doubts == ("first", "second")


def test_either_takes_the_first_that_is_known() -> None:
    first, second = mass(1.0), mass(2.0)
    assert either(first, second) is first
    assert either(lacking(MASS, LACK), second) is second
    assert either(nonexistent(MASS), second) is second
    assert either(mass(0.0), second).number == 0.0


def test_either_asks_for_the_one_at_its_place() -> None:
    one, two, gone = lacking(MASS, LACK), lacking(MASS, OTHER), nonexistent(MASS)
    assert either(one, two) is one
    assert either(one, two, asking=1) is two
    assert either(gone, two) is two
    assert either(one, gone, asking=1) is one
    assert either(gone, gone).absent


def test_either_lets_go_of_what_no_measurement_would_help() -> None:
    hopeless = worked(root, mass(-1.0))
    open_question = lacking(MASS, LACK)
    assert either(open_question, hopeless, asking=1) is open_question
    assert either(hopeless, nonexistent(MASS)) is hopeless
    assert either(nonexistent(MASS), hopeless, asking=0) is hopeless


def test_largest_picks_the_largest_and_asks_first() -> None:
    small, large = mass(1.0), mass(2.0)
    assert largest(small, large) is large
    assert largest(large, small) is large
    assert largest(mass(-3.0), mass(-2.0)).number == -2.0
    missing = lacking(MASS, LACK)
    assert largest(large, missing) is missing


def test_smallest_picks_the_smallest_and_asks_first() -> None:
    small, large = mass(1.0), mass(2.0)
    assert smallest(small, large) is small
    assert smallest(large, small) is small
    assert smallest(mass(-3.0), mass(0.0)).number == -3.0
    missing = lacking(MASS, LACK)
    assert smallest(small, missing) is missing


@pytest.mark.parametrize(
    ("value", "limit", "wanted"),
    [
        (mass(3.0), mass(2.0), True),
        (mass(-3.0), mass(2.0), True),
        (mass(2.0), mass(2.0), False),
        (mass(0.0), mass(0.0), False),
        (lacking(MASS, LACK), mass(2.0), False),
        (mass(3.0), lacking(MASS, LACK), False),
        (nonexistent(MASS), mass(2.0), False),
    ],
)
def test_exceeds_looks_both_ways_and_needs_both(value: Value, limit: Value, wanted: bool) -> None:
    assert exceeds(value, limit) is wanted


def test_without_band_keeps_number_and_origin() -> None:
    value = mass(3.0, 0.5)
    bare = without_band(value)
    assert (bare.number, bare.band, bare.given) == (3.0, 0.0, value.given)
    assert worked(difference, bare, mass(1.0, 0.25)).band == pytest.approx(0.25)
    step = worked(difference, value, mass(1.0, 0.25))
    assert without_band(step).step is step.step
    assert without_band(step).band == 0.0


def test_band_of_is_an_exact_number() -> None:
    value = worked(difference, mass(10.0, 3.0), mass(4.0, 4.0))
    band = band_of(value, "± of the difference")
    assert band.number == pytest.approx(5.0)
    assert (band.kind, band.band, band.label) == (MASS, 0.0, "± of the difference")
    missing = lacking(MASS, LACK)
    assert band_of(missing, "± of it") is missing


def test_hard_bands_leave_out_what_is_soft_and_what_does_not_move() -> None:
    value = worked(
        summed,
        [
            mass(1.0, 0.5, path="weighed"),
            mass(1.0, 0.25, which=Origin.DATASHEET, path="printed"),
            mass(1.0, 0.75, which=Origin.ASSUMED, path="guessed"),
            mass(1.0, 0.0, path="exact"),
        ],
    )
    bands = hard_bands(worked(difference, mass(0.0), value))
    # The guess counts for nothing in them, yet what is worked out from them rests on it too.
    assert [band.number for band in bands] == pytest.approx([0.5, 0.25, 0.0])
    assert [band.given.path for band in bands if band.given] == ["weighed", "printed", "guessed"]
    assert [band.given.soft for band in bands if band.given] == [False, False, True]
    assert all(band.band == 0.0 for band in bands)


def test_a_doubt_is_a_soft_share_of_nought_as_wide_as_the_whole() -> None:
    share = doubt("gap", "what is left", "look for it")
    assert (share.number, share.band) == (0.0, 1.0)
    assert share.given is not None
    assert share.given.soft
    assert share.given.how == "look for it"


@formula("f", BOOK)
def smooth(mass: Mass, length: Length) -> Mass:
    """Smooth in both."""
    return mass**2 / length + math.sin(length) * mass


@settings(max_examples=200, deadline=None)
@over(st.floats(0.5, 50.0), st.floats(0.5, 50.0), st.floats(1e-6, 1e-5), st.floats(1e-6, 1e-5))
def test_effects_of_a_smooth_formula_are_its_derivatives(
    m: float, x: float, m_share: float, x_share: float
) -> None:
    first, second = origin(m * m_share, path="m"), origin(x * x_share, path="x")
    value = worked(smooth, given(MASS, m, first), given(LENGTH, x, second))
    by_mass = 2 * m / x + math.sin(x)
    by_length = -(m**2) / x**2 + math.cos(x) * m
    # One-sided slopes differ from the derivative by half the second derivative times the band.
    curve = (2 / x) * first.band, (2 * m**2 / x**3 + m) * second.band
    rounding = 1e-15 * (m**2 / x + m)
    assert value.effects[first] == pytest.approx(
        by_mass * first.band, abs=curve[0] * first.band + 4 * rounding
    )
    assert value.effects[second] == pytest.approx(
        by_length * second.band, abs=curve[1] * second.band + 4 * rounding
    )


@settings(max_examples=100, deadline=None)
@over(
    st.lists(st.tuples(st.floats(-1e3, 1e3), st.floats(0.0, 1e2)), min_size=1, max_size=8),
    st.lists(st.booleans(), min_size=8, max_size=8),
)
def test_effects_of_a_linear_formula_are_exact(
    rows: list[tuple[float, float]], twice: list[bool]
) -> None:
    values = [mass(number, band) for number, band in rows]
    doubled = [v for v, again in zip(values, twice, strict=False) if again]
    value = worked(summed, values + doubled)
    want = math.hypot(*(band * (1 + again) for (_, band), again in zip(rows, twice, strict=False)))
    assert value.band == pytest.approx(want, rel=1e-6, abs=1e-9)
