"""Cardan joints: the angle between two shafts in space, unevenness, and joints one after another.

    joint_angle                        angle between two shafts, each seen from the side and above
    turned_out, speed_ratio            what the second shaft does while the first turns evenly
    fastest, slowest, unevenness,      extremes of that, and how far the second shaft leads or lags
    lead
    acceleration_out, steepest_at      its angular acceleration, and where in a turn that is largest
    yoke_after                         where the yoke behind a joint and its shaft stands
    swing_along, swing_across,         what each joint adds, and the one angle that all of them
    residual_angle                     together are as uneven as
    excitation                         angular acceleration that an angle makes at a speed

Rise is seen from the side, rear end up above nought; turn is seen from above, rear end to the right
above nought. A shaft at rise r and turn t points along (cos r cos t, cos r sin t, sin r): back, to
the right, up. For small angles the joint angle is √(Δr² + Δt²).

**One joint.** θ is how far the fork of the driving shaft is turned from where its arms lie in the
plane of both shafts. The driven shaft is then turned by tan θ₂ = tan θ/cos β, counted from there,
and runs at ω₂/ω₁ = cos β/(1 - sin²β cos²θ). Arms in the plane of both shafts (θ = 0) make it run
fastest, 1/cos β; a quarter turn on it runs slowest, cos β. To first order in β²

    θ₂ - θ = (β²/4) sin 2θ

**Joints one after another.** The next joint sees an even turn with a small swing on it, and adds a
swing of its own. To first order in β² the swings add up; each is counted from the plane of its own
joint, at p, and from where its own driving fork stands, at q. So all together swing as

    Σ (β²/4) sin 2(θ + q - p) = Im[ e^{2iθ} Σ (β²/4) e^{2i(q - p)} ]

which is the swing of one joint of angle β_res with β_res⁴ = (Σ β² cos 2(q-p))² + (Σ β² sin 2(q-p))²
and with β e^{ip} = Δr + i Δt cos r̄. Behind a joint the fork of the driven shaft stands a quarter
turn from that of the driving one; at the far end of the shaft the next driving fork stands in line
with it, or crossed. Forks in line therefore make q grow by 90° from joint to joint, and signs
change: two joints in one plane leave √|β₁² - β₂²|, three √|β₁² - β₂² + β₃²|. Crossed ones add up.
Left out are terms of β⁴, and the twist of the frame, Δt sin r̄: together a few hundredths
of the largest β² at 10° of rise and turn, under two hundredths at 6°.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from math import acos, asin, atan, atan2, cos, hypot, sin, sqrt, tan

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Angle,
    AngularAcceleration,
    Fraction,
    Ratio,
    RotationalSpeed,
)

GEOMETRY = Source("Angle between two directions, by half angles", "", "computed")
KINEMATICS = Source("Kinematics of the Cardan joint, closed form", "", "computed")
SERIES = Source("Kinematics of the Cardan joint to first order in β², added up", "", "computed")

# Up to where joints are built, and first order still holds for several of them.
_BENT = {"angle": (0.0, 0.61)}
_LINE = dict.fromkeys(("rise", "turn", "next_rise", "next_turn"), (-0.35, 0.35))

ASKED = {
    "rise": ("rise of the first shaft, rear end up above nought", "-3°"),
    "turn": ("turn of the first shaft, rear end to the right above nought", "0°"),
    "next_rise": ("rise of the second shaft", "-6°"),
    "next_turn": ("turn of the second shaft", "1°"),
    "angle": ("angle of the joint", "10°"),
    "turned": ("turned on from where the driving fork lies in the plane of both shafts", "45°"),
    "speed": ("speed of the driving shaft", "3000 rpm"),
    "before": ("where the driving fork of the joint before stands", "0°"),
    "between": ("from one fork of the shaft to the other: 0° in line, 90° crossed", "0°"),
    "error": ("how far the forks are off that", "1°"),
    "yoke": ("where the driving fork stands", "90°"),
    "alongs": ("along, of each joint", "0.0027; -0.0011"),
    "acrosses": ("across, of each joint", "0.0003; 0.0001"),
    "excitation.angle": ("angle of the joint, or of all joints together", "3°"),
    "excitation.speed": ("speed of the shaft", "3300 rpm"),
}


@formula("β", GEOMETRY)
def joint_angle(rise: Angle, turn: Angle, next_rise: Angle, next_turn: Angle) -> Angle:
    """Angle of a joint between two shafts in space.

    sin²(β/2) = sin²(Δr/2) + cos r₁ cos r₂ sin²(Δt/2): the angle between both directions, well
    conditioned where it is small; √(Δr² + Δt²) to first order. ``rise`` and ``turn`` rad of the
    first shaft, ``next_rise`` and ``next_turn`` rad of the second; result rad. Any angles.
    """
    return 2 * asin(
        sqrt(
            sin((next_rise - rise) / 2) ** 2
            + cos(rise) * cos(next_rise) * sin((next_turn - turn) / 2) ** 2
        )
    )


@formula("θ₂", KINEMATICS, valid=_BENT)
def turned_out(angle: Angle, turned: Angle) -> Angle:
    """How far the driven shaft has turned.

    tan θ₂ = tan θ/cos β: ``angle`` β rad of the joint, ``turned`` θ rad of the driving shaft, from
    where its fork lies in the plane of both shafts; result rad, in the same turn as θ. β up to 35°.
    """
    if not abs(angle) < math.pi / 2:
        raise FormulaError("a joint bent by a right angle does not turn")
    return turned + atan2(
        (1 - cos(angle)) * sin(turned) * cos(turned),
        cos(angle) * cos(turned) ** 2 + sin(turned) ** 2,
    )


@formula("ω₂/ω₁", KINEMATICS, valid=_BENT)
def speed_ratio(angle: Angle, turned: Angle) -> Ratio:
    """Speed of the driven shaft over that of the driving one, at one place of a turn.

    cos β/(1 - sin²β cos²θ): ``angle`` β rad of the joint, ``turned`` θ rad of the driving shaft,
    from where its fork lies in the plane of both shafts. β up to 35°.
    """
    if not abs(angle) < math.pi / 2:
        raise FormulaError("a joint bent by a right angle does not turn")
    return cos(angle) / (1 - sin(angle) ** 2 * cos(turned) ** 2)


@formula("ω₂/ω₁", KINEMATICS, valid=_BENT)
def fastest(angle: Angle) -> Ratio:
    """Highest speed of the driven shaft over that of the driving one.

    1/cos β, twice a turn: ``angle`` β rad of the joint, up to 35°.
    """
    if not abs(angle) < math.pi / 2:
        raise FormulaError("a joint bent by a right angle does not turn")
    return 1 / cos(angle)


@formula("ω₂/ω₁", KINEMATICS, valid=_BENT)
def slowest(angle: Angle) -> Ratio:
    """Lowest speed of the driven shaft over that of the driving one.

    cos β, twice a turn: ``angle`` β rad of the joint, up to 35°.
    """
    return cos(angle)


@formula("U", KINEMATICS, valid=_BENT)
def unevenness(angle: Angle) -> Fraction:
    """Degree of non-uniformity: highest less lowest speed of the driven shaft, over the mean.

    U = 1/cos β - cos β = sin β tan β: ``angle`` β rad of the joint, up to 35°.
    """
    return sin(angle) * tan(angle)


@formula("δ", KINEMATICS, valid=_BENT)
def lead(angle: Angle) -> Angle:
    """How far the driven shaft leads at most, and lags a quarter turn on.

    tan δ = (1 - cos β)/(2·√(cos β)): ``angle`` β rad of the joint, up to 35°; result rad.
    """
    if not abs(angle) < math.pi / 2:
        raise FormulaError("a joint bent by a right angle does not turn")
    return atan((1 - cos(angle)) / (2 * sqrt(cos(angle))))


@formula("α₂", KINEMATICS, valid=_BENT)
def acceleration_out(speed: RotationalSpeed, angle: Angle, turned: Angle) -> AngularAcceleration:
    """Angular acceleration of the driven shaft while the driving one turns evenly.

    -ω² cos β sin²β sin 2θ/(1 - sin²β cos²θ)²: ``speed`` ω rad/s of the driving shaft, ``angle`` β
    rad of the joint, ``turned`` θ rad as for the speed; result rad/s². β up to 35°.
    """
    if not abs(angle) < math.pi / 2:
        raise FormulaError("a joint bent by a right angle does not turn")
    return (
        -(speed**2)
        * cos(angle)
        * sin(angle) ** 2
        * sin(2 * turned)
        / (1 - sin(angle) ** 2 * cos(turned) ** 2) ** 2
    )


@formula("θ", KINEMATICS, valid=_BENT)
def steepest_at(angle: Angle) -> Angle:
    """Where in a turn the driven shaft is slowed hardest.

    cos 2θ = 4b/(a + √(a² + 8b²)) with a = 1 - sin²β/2 and b = sin²β/2: where the derivative of the
    acceleration is nought. ``angle`` β rad of the joint, up to 35°; result rad, 45° for a small β.
    """
    return (
        acos(
            2
            * sin(angle) ** 2
            / (1 - sin(angle) ** 2 / 2 + sqrt((1 - sin(angle) ** 2 / 2) ** 2 + 2 * sin(angle) ** 4))
        )
        / 2
    )


@formula("q", SERIES)
def yoke_after(before: Angle, between: Angle, error: Angle) -> Angle:
    """Where the driving fork of the next joint stands.

    q + 90° + ψ + ε: ``before`` q rad of the joint before; the driven fork stands a quarter turn on;
    ``between`` ψ rad from one fork of the shaft to the other as meant, ``error`` ε rad off it.
    """
    return before + math.pi / 2 + between + error


@formula("A", SERIES, valid=_LINE)
def swing_along(rise: Angle, turn: Angle, next_rise: Angle, next_turn: Angle, yoke: Angle) -> Ratio:
    """What a joint adds to the swing of the line, in time with the first driving fork.

    β² cos 2(q - p) with β e^{ip} = Δr + i Δt cos r̄: ``rise``, ``turn`` rad of the shaft before the
    joint, ``next_rise``, ``next_turn`` rad of the one behind, ``yoke`` q rad of the driving fork;
    result rad². Rise and turn up to 20°.
    """
    return (
        (next_rise - rise) ** 2 - ((next_turn - turn) * cos((rise + next_rise) / 2)) ** 2
    ) * cos(2 * yoke) + 2 * (next_rise - rise) * (next_turn - turn) * cos(
        (rise + next_rise) / 2
    ) * sin(2 * yoke)


@formula("B", SERIES, valid=_LINE)
def swing_across(
    rise: Angle, turn: Angle, next_rise: Angle, next_turn: Angle, yoke: Angle
) -> Ratio:
    """What a joint adds to the swing of the line, an eighth of a turn on.

    β² sin 2(q - p) with β e^{ip} = Δr + i Δt cos r̄: arguments as for the swing in time with the
    fork, rad; result rad². Rise and turn up to 20°.
    """
    return (
        (next_rise - rise) ** 2 - ((next_turn - turn) * cos((rise + next_rise) / 2)) ** 2
    ) * sin(2 * yoke) - 2 * (next_rise - rise) * (next_turn - turn) * cos(
        (rise + next_rise) / 2
    ) * cos(2 * yoke)


@formula("β_res", SERIES)
def residual_angle(alongs: Sequence[Ratio], acrosses: Sequence[Ratio]) -> Angle:
    """Angle of the one joint that is as uneven as all joints together.

    ((Σ A)² + (Σ B)²)^¼: ``alongs`` A and ``acrosses`` B rad² of each joint; result rad. Two joints
    in one plane, forks in line: √|β₁² - β₂²|.
    """
    return sqrt(hypot(sum(alongs), sum(acrosses)))


@formula("α", SERIES, valid=_BENT)
def excitation(speed: RotationalSpeed, angle: Angle) -> AngularAcceleration:
    """Angular acceleration that a joint angle makes at a speed.

    α = ω²·β²: ``speed`` ω rad/s, ``angle`` β rad of one joint, or the residual angle of several;
    result rad/s², twice a turn. To first order: the exact peak is 0.7 % more at 11.5°.
    """
    return speed**2 * angle**2
