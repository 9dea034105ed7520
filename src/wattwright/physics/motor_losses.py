"""Losses of an electric drive, motor and inverter together, from a few numbers.

    model   losses, efficiency, dc_power
    fit     fitted_losses, from points of known efficiency
    map     efficiency_on_grid; efficiency_in_cell shows the working

The model has one term for each way in which a drive loses power:

    P = k_c T² + k_i ω + k_w ω³ + C

copper by torque squared, iron by speed, windage by its cube, and a constant for electronics and
fan. It takes current as proportional to torque, so it says too little where a motor's field is
weakened: there current flows that makes no torque.

Source: Larminie and Lowry, Electric Vehicle Technology Explained, on the efficiency of motors.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    CopperLoss,
    Fraction,
    IronLoss,
    Power,
    RotationalSpeed,
    Torque,
    WindageLoss,
)

MODEL = Source(
    "Larminie and Lowry, Electric Vehicle Technology Explained",
    "section on the efficiency of electric motors",
    "memory",
)
DEFINITION = Source("Definition", "", "computed")
STRAIGHT = Source(
    "Straight lines between the points of a map, one way and the other", "", "practice"
)

# The order in which terms are taken up while there are points enough to tell them apart.
ORDER = ("copper", "constant", "iron", "windage")
# How much of a term must be new beside the terms before it to be told apart from them.
TOLD_APART = 1e-6
# A fit with more terms must be better than one with fewer by more than rounding.
BETTER = 1e-9

ASKED = {
    "torque": ("torque at the shaft", "61 N·m"),
    "speed": ("speed of the shaft", "2600 rpm"),
    "copper": ("copper loss for each torque squared", "0.3 W/(N·m)²"),
    "iron": ("iron loss for each speed", "1.2 W·s/rad"),
    "windage": ("windage loss for each speed cubed", "0.000005 W·s³/rad³"),
    "constant": ("constant loss", "150 W"),
    "shaft_power": ("power at the shaft", "30 kW"),
    "losses": ("losses of the drive", "2400 W"),
    "slow": ("speed of the points below", "2000 rpm"),
    "fast": ("speed of the points above", "3000 rpm"),
    "weak": ("torque of the points below", "40 N·m"),
    "strong": ("torque of the points above", "80 N·m"),
    "slow_weak": ("efficiency at the lower speed and the lower torque", "88 %"),
    "fast_weak": ("efficiency at the higher speed and the lower torque", "90 %"),
    "slow_strong": ("efficiency at the lower speed and the higher torque", "86 %"),
    "fast_strong": ("efficiency at the higher speed and the higher torque", "91 %"),
    "efficiency": ("efficiency as read or fitted", "90 %"),
    "share": ("share more, or less where below zero", "0 %"),
}


@dataclass(frozen=True, slots=True)
class LossFit:
    """Coefficients that come closest to some points, each at or above zero, in SI.

    ``left_out`` are the terms that the points cannot tell from the others; they are nought here
    because nothing is known, not because nothing is lost. ``largest_miss`` is the largest error
    at a point, as a share of the loss there.
    """

    copper: float
    iron: float
    windage: float
    constant: float
    left_out: tuple[str, ...]
    largest_miss: float


@formula("P_loss", MODEL)
def losses(
    torque: Torque,
    speed: RotationalSpeed,
    copper: CopperLoss,
    iron: IronLoss,
    windage: WindageLoss,
    constant: Power,
) -> Power:
    """Power that a drive loses at a torque and a speed.

    k_c T² + k_i ω + k_w ω³ + C. ``torque`` N·m at the shaft, driving or braking, ``speed`` rad/s
    of the shaft, ``copper`` k_c W/(N·m)², ``iron`` k_i W/(rad/s), ``windage`` k_w W/(rad/s)³,
    ``constant`` C W; result W. Holds where the field is not weakened.
    """
    if min(speed, copper, iron, windage, constant) < 0:
        raise FormulaError("the speed and the coefficients of losses must not be below zero")
    return copper * torque**2 + iron * speed + windage * speed**3 + constant


@formula("η", DEFINITION)
def efficiency(shaft_power: Power, losses: Power) -> Fraction:
    """Share of the electric power that reaches the shaft while driving.

    P/(P + P_loss), both W. Braking has no part in it: there ``dc_power`` says what comes back.
    """
    if shaft_power < 0 or losses < 0 or shaft_power + losses == 0:
        raise FormulaError("efficiency needs power at the shaft or losses, neither below zero")
    return shaft_power / (shaft_power + losses)


@formula("P_dc", DEFINITION)
def dc_power(shaft_power: Power, losses: Power) -> Power:
    """Power that a drive takes from its DC side.

    P + P_loss, both W. With ``shaft_power`` below zero the drive brakes, and the result below
    zero is what comes back; above zero, braking costs more than it brings.
    """
    if losses < 0:
        raise FormulaError("losses must not be below zero")
    return shaft_power + losses


@formula("η", STRAIGHT)
def efficiency_in_cell(
    speed: RotationalSpeed,
    torque: Torque,
    slow: RotationalSpeed,
    fast: RotationalSpeed,
    weak: Torque,
    strong: Torque,
    slow_weak: Fraction,
    fast_weak: Fraction,
    slow_strong: Fraction,
    fast_strong: Fraction,
) -> Fraction:
    """Efficiency between four points of a map.

    With x = (ω - ω_a)/(ω_b - ω_a) and y = (T - T_a)/(T_b - T_a),
    (1 - y)((1 - x) η_aa + x η_ba) + y ((1 - x) η_ab + x η_bb), written over one denominator.

    ``speed`` rad/s between ``slow`` and ``fast``, ``torque`` N·m between ``weak`` and ``strong``,
    the four efficiencies plain. Outside the four points nothing is known.
    """
    if not (slow <= speed <= fast and slow < fast and weak <= torque <= strong and weak < strong):
        raise FormulaError("speed or torque lies outside the four points of the map")
    if not all(0 < each <= 1 for each in (slow_weak, fast_weak, slow_strong, fast_strong)):
        raise FormulaError("an efficiency around this point is unknown, or not above 0 up to 100 %")
    return (
        (strong - torque) * ((fast - speed) * slow_weak + (speed - slow) * fast_weak)
        + (torque - weak) * ((fast - speed) * slow_strong + (speed - slow) * fast_strong)
    ) / ((fast - slow) * (strong - weak))


@formula("η", Source("A share more or less of what was read or fitted", "", "computed"))
def efficiency_within(efficiency: Fraction, share: Fraction) -> Fraction:
    """Efficiency, a share more or less.

    η (1 + s), never above 1: ``share`` s is nought, and its band is how well η is known.
    """
    return min(1, efficiency * (1 + share))


def efficiency_on_grid(
    speed: float,
    torque: float,
    speeds: Sequence[float],
    torques: Sequence[float],
    grid: Sequence[Sequence[float]],
) -> float:
    """Efficiency at a speed and a torque on a map.

    ``grid`` has one row for each of ``torques`` N·m and in it one number for each of ``speeds``
    rad/s, as maps are printed; where a map is empty it holds not-a-number. Between the points
    ``efficiency_in_cell`` holds; outside them nothing is known.
    """
    if len(grid) != len(torques) or any(len(row) != len(speeds) for row in grid):
        raise FormulaError("a map needs one row for each torque, and in it one number a speed")
    column, row = _place(speed, speeds, "speed", "rad/s"), _place(torque, torques, "torque", "N·m")
    return efficiency_in_cell(
        speed,
        torque,
        *speeds[column : column + 2],
        *torques[row : row + 2],
        *grid[row][column : column + 2],
        *grid[row + 1][column : column + 2],
    )


def _place(number: float, edges: Sequence[float], word: str, unit: str) -> int:
    if len(edges) < 2 or any(not before < after for before, after in pairwise(edges)):
        raise FormulaError(f"a map needs two {word}s or more, growing from one to the next")
    if not edges[0] <= number <= edges[-1]:
        raise FormulaError(
            f"the map knows a {word} of {edges[0]:g} to {edges[-1]:g} {unit}, not {number:g}"
        )
    return min(bisect_right(edges, number), len(edges) - 1) - 1


def fitted_losses(points: Sequence[tuple[float, float, float]]) -> LossFit:
    """Fit the model to points of speed rad/s, torque N·m and efficiency while driving.

    The sum of the squared errors, each as a share of the loss at its point, is made as small as
    it can be with no coefficient below zero. Terms come in the order of ``ORDER``, as far as the
    points tell them apart: three points, at most three terms.

    The least sum has some terms above zero and the others nought, and is then also the least sum
    of those terms alone. So trying every set of terms, and keeping the best without a coefficient
    below zero, finds it exactly; for four terms that is fifteen sets.
    """
    import numpy as np

    _check(points)
    speed, torque, share = np.array(points, dtype=float).T
    known = torque * speed * (1 / share - 1)
    column = {
        "copper": torque**2 / known,
        "constant": 1 / known,
        "iron": speed / known,
        "windage": speed**3 / known,
    }
    # Columns of one length: their own sizes differ by many decades.
    length = {name: float(np.linalg.norm(column[name])) for name in ORDER}
    unit = {name: column[name] / length[name] for name in ORDER}
    terms: list[str] = []
    for name in ORDER:
        tried = np.array([unit[each] for each in (*terms, name)])
        if np.linalg.matrix_rank(tried, tol=TOLD_APART) > len(terms):
            terms.append(name)
    best, least, miss = dict.fromkeys(ORDER, 0.0), float(len(points)), 1.0
    for size in range(1, len(terms) + 1):
        for chosen in combinations(terms, size):
            matrix = np.array([unit[name] for name in chosen]).T
            found = np.linalg.lstsq(matrix, np.ones(len(points)), rcond=None)[0]
            error = matrix @ found - 1
            if found.min() >= 0 and error @ error < least - BETTER:
                least, miss = float(error @ error), float(abs(error).max())
                best = dict.fromkeys(ORDER, 0.0)
                best |= {
                    name: float(number) / length[name]
                    for name, number in zip(chosen, found, strict=True)
                }
    return LossFit(
        **best, left_out=tuple(name for name in ORDER if name not in terms), largest_miss=miss
    )


def _check(points: Sequence[tuple[float, float, float]]) -> None:
    if not points:
        raise FormulaError("losses need at least one point of known efficiency")
    for speed, torque, share in points:
        if not (speed > 0 and torque > 0 and 0 < share < 1):
            raise FormulaError(
                "a point of known efficiency needs speed and torque above zero, and an efficiency "
                f"above 0 and below 100 %; found {speed:g} rad/s, {torque:g} N·m, {share:g}"
            )
