"""What a disagreement between the scales and the ledger means.

One missing thing would explain it: its mass is what both axles miss, its place is where that mass
gives each axle its part.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Length, Mass, MomentOfMass, Position

STATICS = Source("Static equilibrium of a rigid body", "moments about the front axle", "computed")
DEFINITION = Source("Definition", "", "computed")

ASKED = {
    "unexplained.weighed": ("load that the scales show", "654 kg"),
    "unexplained.ledger": ("load by the ledger", "640 kg"),
    "unexplained_moment.weighed": ("moment to the right that the scales show", "14 kg·m"),
    "unexplained_moment.ledger": ("moment to the right by the ledger", "12 kg·m"),
    "bands": ("band of each input", "1.5 kg; 2 kg; 0.8 kg"),
    "front": ("load missing on the front axle", "9 kg"),
    "rear": ("load missing on the rear axle", "5 kg"),
    "wheelbase": ("wheelbase", "2540 mm"),
    "front_moment": ("moment to the right missing on the front axle", "1.5 kg·m"),
    "rear_moment": ("moment to the right missing on the rear axle", "0.5 kg·m"),
}


@formula("Δm", DEFINITION)
def unexplained(weighed: Mass, ledger: Mass) -> Mass:
    """Load that the scales show beyond the ledger."""
    return weighed - ledger


@formula("ΔS", DEFINITION)
def unexplained_moment(weighed: MomentOfMass, ledger: MomentOfMass) -> MomentOfMass:
    """Side moment that the scales show beyond the ledger."""
    return weighed - ledger


@formula("u", Source("Root sum of squares of independent bands", "", "computed"))
def joint_accuracy(bands: Sequence[Mass]) -> Mass:
    """Accuracy of a difference whose inputs were all weighed or measured."""
    return sqrt(sum(band * band for band in bands))


@formula("m", DEFINITION)
def missing_mass(front: Mass, rear: Mass) -> Mass:
    """Mass of the single thing that would explain both axles; below zero if counted too much."""
    return front + rear


@formula("x", STATICS)
def missing_distance(front: Mass, rear: Mass, wheelbase: Length) -> Position:
    """Distance behind the front axle at which one missing thing would explain both axles."""
    if front + rear == 0:
        raise FormulaError("nothing is missing in total, so no single place explains it")
    return wheelbase * rear / (front + rear)


@formula("y", STATICS)
def missing_offset(
    front_moment: MomentOfMass, rear_moment: MomentOfMass, front: Mass, rear: Mass
) -> Position:
    """Offset to the right at which one missing thing would explain the sides."""
    if front + rear == 0:
        raise FormulaError("nothing is missing in total, so no single place explains it")
    return (front_moment + rear_moment) / (front + rear)
