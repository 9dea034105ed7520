"""Limits and answers that the builder's authority or engineer set.

A rule counts as confirmed when it says who answered and when. Until then findings use the default
stated here, if there is one, and are provisional. No default is law anywhere: each says where it
comes from, and the authority's answer replaces it.
"""

from __future__ import annotations

from typing import Annotated

from wattwright.build.fields import Plain, Quantity, Record
from wattwright.kinds import (
    ACCELERATION,
    FRACTION,
    MASS,
    RESISTANCE_PER_VOLT,
    Kind,
)
from wattwright.values import Value

_ASK = "ask the authority or engineer who will sign; note the answer, the date and the name or role"


class LimitRule(Record):
    """A limit somebody entitled to it has set."""

    value: Value
    text: Annotated[str, Plain("wording", "the rule or the answer in its own words")] = ""
    date: Annotated[str, Plain("date of the answer", "year-month-day, such as 2026-03-14")] = ""
    answered_by: Annotated[str, Plain("who answered", "a role is enough")] = ""


class TextRule(Record):
    """An answer in words, for conditions that are not numbers."""

    value: Annotated[str, Plain("answer")] = ""
    text: Annotated[str, Plain("wording", "the rule or the answer in its own words")] = ""
    date: Annotated[str, Plain("date of the answer", "year-month-day, such as 2026-03-14")] = ""
    answered_by: Annotated[str, Plain("who answered", "a role is enough")] = ""


def _limit(
    kind: Kind,
    label: str,
    allowed: tuple[str, str],
    default: str = "",
    basis: str = "",
    may_be_none: bool = True,
) -> Quantity:
    return Quantity(
        kind,
        label,
        _ASK,
        minutes=20,
        allowed=allowed,
        may_be_none=may_be_none,
        default=default,
        basis=basis,
    )


class Rules(Record):
    """What the one who signs has answered."""

    gross_mass: Annotated[
        LimitRule, _limit(MASS, "highest gross mass after conversion", ("300 kg", "12000 kg"))
    ]
    axle_front: Annotated[
        LimitRule, _limit(MASS, "highest front axle load after conversion", ("100 kg", "6000 kg"))
    ]
    axle_rear: Annotated[
        LimitRule, _limit(MASS, "highest rear axle load after conversion", ("100 kg", "6000 kg"))
    ]
    mass_change: Annotated[
        LimitRule,
        _limit(
            FRACTION,
            "highest change of kerb mass",
            ("1 %", "100 %"),
            "20 %",
            "one country's decree as reported in the press; others differ",
        ),
    ]
    split_change: Annotated[
        LimitRule,
        _limit(
            FRACTION,
            "highest change of the rear axle's share, in points",
            ("1 %", "50 %"),
            "10 %",
            "one country's decree as reported in the press; others differ",
        ),
    ]
    side_imbalance: Annotated[
        LimitRule,
        _limit(
            FRACTION,
            "highest difference between left and right, as a share of the mass",
            ("1 %", "50 %"),
            "10 %",
            "our own figure for asking questions; no rule is known",
        ),
    ]
    occupant_mass: Annotated[
        LimitRule,
        _limit(
            MASS,
            "mass that counts for one person",
            ("50 kg", "120 kg"),
            "75 kg",
            "UN consolidated resolution R.E.3: driver 75 kg",
            may_be_none=False,
        ),
    ]
    power_low: Annotated[
        LimitRule,
        _limit(FRACTION, "lowest power as a share of the original engine's", ("1 %", "200 %")),
    ]
    power_high: Annotated[
        LimitRule,
        _limit(FRACTION, "highest power as a share of the original engine's", ("1 %", "500 %")),
    ]
    isolation: Annotated[
        LimitRule,
        _limit(
            RESISTANCE_PER_VOLT, "lowest isolation resistance per volt", ("10 Ω/V", "100000 Ω/V")
        ),
    ]
    restraint_forward: Annotated[
        LimitRule,
        _limit(
            ACCELERATION, "acceleration the battery restraint must hold forward", ("1 g", "60 g")
        ),
    ]
    restraint_rearward: Annotated[
        LimitRule,
        _limit(
            ACCELERATION, "acceleration the battery restraint must hold rearward", ("1 g", "60 g")
        ),
    ]
    restraint_sideways: Annotated[
        LimitRule,
        _limit(
            ACCELERATION, "acceleration the battery restraint must hold sideways", ("1 g", "60 g")
        ),
    ]
    restraint_upward: Annotated[
        LimitRule,
        _limit(
            ACCELERATION, "acceleration the battery restraint must hold upward", ("1 g", "60 g")
        ),
    ]
    stop_lamp_from: Annotated[
        LimitRule,
        Quantity(
            ACCELERATION,
            "deceleration by the motor from which the stop lamps must light",
            f"{_ASK}; UN Regulation No. 13-H says may from 0.7 and must above 1.3 m/s², from "
            "memory: have it confirmed",
            minutes=20,
            allowed=("0.2 m/s²", "5 m/s²"),
            may_be_none=True,
        ),
    ]
    drilling: Annotated[TextRule, Plain("may the body be drilled, cut or welded", _ASK)]
    brake_standard: Annotated[TextRule, Plain("brake standard that applies", _ASK)]
    stop_lamp: Annotated[
        TextRule, Plain("when regenerative braking must light the stop lamps", _ASK)
    ]
