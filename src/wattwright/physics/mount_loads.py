"""Loads at the mounts of a power unit: weight, torque reaction, and what the road does.

    inertia_force    force of a mass under an acceleration
    signed_torque    torque with its direction
    axle_reaction    torque that the driven axle puts on the unit
    component        what one mount carries along one axis, of all forces and torques
    load             size of the load at one mount

The unit is taken as rigid and each mount as a spring that is as stiff in every direction; how a
load is shared follows from where the mounts stand and how stiff they are to each other
(``elastic_support``). Rubber is stiffer pressed than sheared, and a mount that meets its stop takes
more: the shares are a first look, the sums are exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from wattwright.formula import Source, formula
from wattwright.kinds import Acceleration, Anything, Force, Mass, Ratio, SpringRate, Torque

NEWTON = Source("Newton's second law", "", "computed")
EQUILIBRIUM = Source("Equilibrium of a rigid body on springs", "", "computed")

ASKED = {
    "mass": ("mass of the unit", "71 kg"),
    "acceleration": ("acceleration", "4 g"),
    "motor_torque": ("torque of the motor", "120 N·m"),
    "gear_ratio": ("ratio of the gear", "1"),
    "final_ratio": ("final ratio", "8.45"),
    "sign": ("direction along the axis, 1 or -1", "-1"),
    "torque": ("torque", "1000 N·m"),
    "x": ("load along the vehicle", "-120 N"),
    "y": ("load across the vehicle", "30 N"),
    "z": ("load up and down", "-1400 N"),
}


@formula("F", NEWTON)
def inertia_force(mass: Mass, acceleration: Acceleration, sign: Ratio) -> Force:
    """Force of a mass that feels an acceleration along one axis.

    m a s: ``mass`` kg, ``acceleration`` m/s², ``sign`` 1 or -1 by its direction; result N.
    """
    return mass * acceleration * sign


@formula("T", EQUILIBRIUM)
def signed_torque(torque: Torque, sign: Ratio) -> Torque:
    """Torque about one axis with its direction. ``torque`` N·m, ``sign`` 1 or -1; N·m."""
    return torque * sign


@formula("T", EQUILIBRIUM)
def axle_reaction(motor_torque: Torque, gear_ratio: Ratio, final_ratio: Ratio) -> Torque:
    """Torque that the driven axle puts on the unit. T_m i_g i_f, no loss counted; N·m."""
    return motor_torque * gear_ratio * final_ratio


def _component_gradient(
    by_force: Sequence[float],
    forces: Sequence[float],
    by_torque: Sequence[float],
    torques: Sequence[float],
    by_stiffness: Sequence[float],
    stiffness: Sequence[float],
    stiff_as: Sequence[float],
) -> tuple[Sequence[float], ...]:
    apart = [k - as_taken for k, as_taken in zip(stiffness, stiff_as, strict=True)]
    return (
        forces,
        by_force,
        torques,
        by_torque,
        apart,
        by_stiffness,
        [-slope for slope in by_stiffness],
    )


@formula("F", EQUILIBRIUM, gradient=_component_gradient)
def component(
    by_force: Sequence[Ratio],
    forces: Sequence[Force],
    by_torque: Sequence[Anything],
    torques: Sequence[Torque],
    by_stiffness: Sequence[Anything],
    stiffness: Sequence[SpringRate],
    stiff_as: Sequence[SpringRate],
) -> Force:
    """What one mount carries along one axis.

    Σ c_j F_j + Σ d_j T_j + Σ e_i (k_i - k_i0): ``forces`` N at the centre of gravity along x, y, z
    and ``torques`` N·m about them; ``by_force`` c (1) and ``by_torque`` d (1/m) from where the
    mounts stand and how stiff they are; ``by_stiffness`` e (m) what another ``stiffness`` k N/m of
    a mount than the one taken, ``stiff_as``, would change; result N.
    """
    return (
        sum(c * force for c, force in zip(by_force, forces, strict=True))
        + sum(d * torque for d, torque in zip(by_torque, torques, strict=True))
        + sum(
            e * (k - taken) for e, k, taken in zip(by_stiffness, stiffness, stiff_as, strict=True)
        )
    )


@formula("F", EQUILIBRIUM)
def load(x: Force, y: Force, z: Force) -> Force:
    """Size of the load at one mount. ``x``, ``y``, ``z`` N; result N."""
    return sqrt(x**2 + y**2 + z**2)
