"""Static loads on axles and wheels on level ground, and the centre of gravity in plan.

Loads are masses as scales and plates state them (kg), not forces. Distances are measured back
from the front axle, offsets to the right of the middle of the vehicle.

    ledger   total, group_mass, front_axle_load, rear_axle_load, front_side_moment,
             rear_side_moment, load_after, side_moment_after
    scales   axle_load, both_axles, axle_side_moment
    wheels   left_wheel_load, right_wheel_load, with_unexplained,
             with_unexplained_moment
    results  cg_distance, cg_offset, rear_share, side_imbalance, diagonal_imbalance,
             change_of_share, relative_change, payload

Sideways, each thing is shared between the axles as its weight is, and within an axle between
left and right by its offset. This neglects how chassis twist and roll stiffness move load from
one diagonal to the other: common practice for a weight book, exact for axle and side totals.
"""

from __future__ import annotations

from collections.abc import Sequence

from wattwright.formula import Source, formula
from wattwright.kinds import Count, Fraction, Length, Mass, MomentOfMass, Position

STATICS = Source("Static equilibrium of a rigid body", "moments about an axle", "computed")
SHARING = Source("Static equilibrium; side load shared between axles as weight is", "", "practice")
DEFINITION = Source("Definition", "", "computed")

ASKED = {
    "count": ("number of things", "4"),
    "group_mass.mass": ("mass of one of them", "22 kg"),
    "masses": ("masses", "420 kg; 310 kg; 95 kg"),
    "distances": ("distance of each mass behind the front axle", "300 mm; 1900 mm; 2700 mm"),
    "offsets": ("offset of each mass to the right of the middle", "-100 mm; 0 mm; 250 mm"),
    "wheelbase": ("wheelbase", "2540 mm"),
    "load_after.before": ("load before", "640 kg"),
    "load_after.taken_out": ("load taken out", "180 kg"),
    "load_after.put_in": ("load put in", "230 kg"),
    "side_moment_after.before": ("moment to the right before", "12 kg·m"),
    "side_moment_after.taken_out": ("moment to the right of what was taken out", "4 kg·m"),
    "side_moment_after.put_in": ("moment to the right of what was put in", "9 kg·m"),
    "load": ("load by the ledger", "640 kg"),
    "moment": ("moment to the right by the ledger", "12 kg·m"),
    "with_unexplained.gap": ("load that the scales show beyond the ledger", "14 kg"),
    "with_unexplained_moment.gap": ("moment that the scales show beyond the ledger", "2 kg·m"),
    "doubt": ("share of the gap to add or take away", "0 %"),
    "left": ("load under the left wheel", "310 kg"),
    "right": ("load under the right wheel", "330 kg"),
    "track": ("track of the axle", "1320 mm"),
    "axle": ("load on the axle", "640 kg"),
    "side_moment": ("moment to the right on the axle", "13 kg·m"),
    "front": ("load on the front axle", "640 kg"),
    "rear": ("load on the rear axle", "600 kg"),
    "front_moment": ("moment to the right on the front axle", "13 kg·m"),
    "rear_moment": ("moment to the right on the rear axle", "-5 kg·m"),
    "track_front": ("track of the front axle", "1320 mm"),
    "track_rear": ("track of the rear axle", "1300 mm"),
    "front_left": ("load under the front left wheel", "310 kg"),
    "front_right": ("load under the front right wheel", "330 kg"),
    "rear_left": ("load under the rear left wheel", "304 kg"),
    "rear_right": ("load under the rear right wheel", "296 kg"),
    "change_of_share.before": ("share before", "48 %"),
    "change_of_share.after": ("share after", "51 %"),
    "relative_change.before": ("mass before", "1180 kg"),
    "relative_change.after": ("mass after", "1240 kg"),
    "gross_limit": ("permitted gross mass", "1550 kg"),
    "payload.mass": ("mass of the vehicle", "1240 kg"),
}


def _sum_slopes(*_: float) -> tuple[float, float]:
    return 1.0, 1.0


def _difference_slopes(*_: float) -> tuple[float, float]:
    return -1.0, 1.0


def _payload_slopes(*_: float) -> tuple[float, float]:
    return 1.0, -1.0


def _change_slopes(*_: float) -> tuple[float, float, float]:
    return 1.0, -1.0, 1.0


def _gap_slopes(_: float, gap: float, doubt: float) -> tuple[float, float, float]:
    return 1.0, 1.0 + doubt, gap


def _front_gradient(
    masses: Sequence[float], distances: Sequence[float], wheelbase: float
) -> tuple[list[float], list[float], float]:
    return (
        [1 - x / wheelbase for x in distances],
        [-m / wheelbase for m in masses],
        sum(m * x for m, x in zip(masses, distances, strict=True)) / wheelbase**2,
    )


def _rear_gradient(
    masses: Sequence[float], distances: Sequence[float], wheelbase: float
) -> tuple[list[float], list[float], float]:
    by_mass, by_distance, by_wheelbase = _front_gradient(masses, distances, wheelbase)
    return [1 - part for part in by_mass], [-part for part in by_distance], -by_wheelbase


def _front_side_gradient(
    masses: Sequence[float],
    distances: Sequence[float],
    offsets: Sequence[float],
    wheelbase: float,
) -> tuple[list[float], list[float], list[float], float]:
    rows = list(zip(masses, distances, offsets, strict=True))
    return (
        [(1 - x / wheelbase) * y for _, x, y in rows],
        [-m * y / wheelbase for m, _, y in rows],
        [m * (1 - x / wheelbase) for m, x, _ in rows],
        sum(m * x * y for m, x, y in rows) / wheelbase**2,
    )


def _rear_side_gradient(
    masses: Sequence[float],
    distances: Sequence[float],
    offsets: Sequence[float],
    wheelbase: float,
) -> tuple[list[float], list[float], list[float], float]:
    rows = list(zip(masses, distances, offsets, strict=True))
    return (
        [x / wheelbase * y for _, x, y in rows],
        [m * y / wheelbase for m, _, y in rows],
        [m * x / wheelbase for m, x, _ in rows],
        -sum(m * x * y for m, x, y in rows) / wheelbase**2,
    )


def _side_imbalance_gradient(
    front_moment: float,
    rear_moment: float,
    front: float,
    rear: float,
    track_front: float,
    track_rear: float,
) -> tuple[float, ...]:
    by_front = 2 / (track_front * (front + rear))
    by_rear = 2 / (track_rear * (front + rear))
    by_load = -(by_front * front_moment + by_rear * rear_moment) / (front + rear)
    by_track = (-by_front * front_moment / track_front, -by_rear * rear_moment / track_rear)
    return by_front, by_rear, by_load, by_load, *by_track


@formula("m", DEFINITION)
def group_mass(count: Count, mass: Mass) -> Mass:
    """Mass of several like things."""
    return count * mass


@formula("Σm", DEFINITION, gradient=lambda masses: ([1.0] * len(masses),))
def total(masses: Sequence[Mass]) -> Mass:
    """Sum of masses."""
    return sum(masses)


@formula("m_f", STATICS, gradient=_front_gradient)
def front_axle_load(
    masses: Sequence[Mass], distances: Sequence[Position], wheelbase: Length
) -> Mass:
    """Share of several masses that stands on the front axle."""
    return sum(m * (1 - x / wheelbase) for m, x in zip(masses, distances, strict=True))


@formula("m_r", STATICS, gradient=_rear_gradient)
def rear_axle_load(
    masses: Sequence[Mass], distances: Sequence[Position], wheelbase: Length
) -> Mass:
    """Share of several masses that stands on the rear axle."""
    return sum(m * x / wheelbase for m, x in zip(masses, distances, strict=True))


@formula("S_f", SHARING, gradient=_front_side_gradient)
def front_side_moment(
    masses: Sequence[Mass],
    distances: Sequence[Position],
    offsets: Sequence[Position],
    wheelbase: Length,
) -> MomentOfMass:
    """Moment to the right that several masses bring to the front axle."""
    return sum(
        m * (1 - x / wheelbase) * y for m, x, y in zip(masses, distances, offsets, strict=True)
    )


@formula("S_r", SHARING, gradient=_rear_side_gradient)
def rear_side_moment(
    masses: Sequence[Mass],
    distances: Sequence[Position],
    offsets: Sequence[Position],
    wheelbase: Length,
) -> MomentOfMass:
    """Moment to the right that several masses bring to the rear axle."""
    return sum(m * x / wheelbase * y for m, x, y in zip(masses, distances, offsets, strict=True))


@formula("m", DEFINITION, gradient=_change_slopes)
def load_after(before: Mass, taken_out: Mass, put_in: Mass) -> Mass:
    """Load after things were taken out and put in."""
    return before - taken_out + put_in


@formula("S", DEFINITION, gradient=_change_slopes)
def side_moment_after(
    before: MomentOfMass, taken_out: MomentOfMass, put_in: MomentOfMass
) -> MomentOfMass:
    """Moment to the right after things were taken out and put in."""
    return before - taken_out + put_in


@formula("m", DEFINITION, gradient=_gap_slopes)
def with_unexplained(load: Mass, gap: Mass, doubt: Fraction) -> Mass:
    """Load with what the weigh-in showed beyond the ledger."""
    return load + gap * (1 + doubt)


@formula("S", DEFINITION, gradient=_gap_slopes)
def with_unexplained_moment(
    moment: MomentOfMass, gap: MomentOfMass, doubt: Fraction
) -> MomentOfMass:
    """Moment to the right with what the weigh-in showed beyond the ledger."""
    return moment + gap * (1 + doubt)


@formula("m_axle", DEFINITION, gradient=_sum_slopes)
def axle_load(left: Mass, right: Mass) -> Mass:
    """Load on an axle from its two wheels on scales."""
    return left + right


@formula("m", DEFINITION, gradient=_sum_slopes)
def both_axles(front: Mass, rear: Mass) -> Mass:
    """Mass of the vehicle from its two axles on scales."""
    return front + rear


@formula(
    "S", STATICS, gradient=lambda left, right, track: (-track / 2, track / 2, (right - left) / 2)
)
def axle_side_moment(left: Mass, right: Mass, track: Length) -> MomentOfMass:
    """Moment to the right on an axle from its two wheels on scales."""
    return (right - left) * track / 2


@formula("m_left", STATICS, gradient=lambda _, side, track: (0.5, -1 / track, side / track**2))
def left_wheel_load(axle: Mass, side_moment: MomentOfMass, track: Length) -> Mass:
    """Load on the left wheel of an axle."""
    return axle / 2 - side_moment / track


@formula("m_right", STATICS, gradient=lambda _, side, track: (0.5, 1 / track, -side / track**2))
def right_wheel_load(axle: Mass, side_moment: MomentOfMass, track: Length) -> Mass:
    """Load on the right wheel of an axle."""
    return axle / 2 + side_moment / track


@formula("x_cg", STATICS)
def cg_distance(front: Mass, rear: Mass, wheelbase: Length) -> Position:
    """Centre of gravity behind the front axle."""
    return wheelbase * rear / (front + rear)


@formula("y_cg", STATICS)
def cg_offset(
    front_moment: MomentOfMass, rear_moment: MomentOfMass, front: Mass, rear: Mass
) -> Position:
    """Centre of gravity to the right of the middle."""
    return (front_moment + rear_moment) / (front + rear)


@formula(
    "s_r",
    DEFINITION,
    gradient=lambda front, rear: (-rear / (front + rear) ** 2, front / (front + rear) ** 2),
)
def rear_share(front: Mass, rear: Mass) -> Fraction:
    """Share of the mass that stands on the rear axle."""
    return rear / (front + rear)


@formula("i", DEFINITION, gradient=_side_imbalance_gradient)
def side_imbalance(
    front_moment: MomentOfMass,
    rear_moment: MomentOfMass,
    front: Mass,
    rear: Mass,
    track_front: Length,
    track_rear: Length,
) -> Fraction:
    """Right side less left side as a share of the whole."""
    return (2 * front_moment / track_front + 2 * rear_moment / track_rear) / (front + rear)


@formula("d", DEFINITION)
def diagonal_imbalance(
    front_left: Mass, front_right: Mass, rear_left: Mass, rear_right: Mass
) -> Fraction:
    """Diagonal front left to rear right less the other, as a share of the whole."""
    return (front_left + rear_right - front_right - rear_left) / (
        front_left + front_right + rear_left + rear_right
    )


@formula("Δs", DEFINITION, gradient=_difference_slopes)
def change_of_share(before: Fraction, after: Fraction) -> Fraction:
    """Change of a share, in points."""
    return after - before


@formula("Δm/m", DEFINITION, gradient=lambda before, after: (-after / before**2, 1 / before))
def relative_change(before: Mass, after: Mass) -> Fraction:
    """Change of mass as a share of the mass before."""
    return (after - before) / before


@formula("m_pay", DEFINITION, gradient=_payload_slopes)
def payload(gross_limit: Mass, mass: Mass) -> Mass:
    """Mass that may still come aboard."""
    return gross_limit - mass
