"""What each mount carries in each case: weight, torque, road, and what the rules name."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from wattwright.areas.mounts import load_checks
from wattwright.areas.mounts.driven import Driven
from wattwright.build.mounts import Mounts
from wattwright.build.parts import Part
from wattwright.build.rules import Rules
from wattwright.descriptions.mount_loads import Loaded, MountLoad
from wattwright.descriptions.mounts import Place, Posed
from wattwright.errors import FormulaError
from wattwright.findings import Figure, Finding
from wattwright.kinds import ACCELERATION, FORCE, MASS, POSITION, RATIO, SPRING_RATE, TORQUE
from wattwright.physics import mount_loads
from wattwright.units import read
from wattwright.values import Lack, Value, constant, lacking, worked

_NOUGHT = constant(ACCELERATION, 0.0, "none")
_GRAVITY = constant(ACCELERATION, read("1 g", ACCELERATION).number, "gravity")
_NO_TORQUE = constant(TORQUE, 0.0, "none")
_ONE = constant(RATIO, 1.0, "the torque of the gearbox's output")
_AXES = ("x", "y", "z")
Vector = tuple[float, float, float]
Shares = tuple[tuple[tuple[float, ...], ...], ...]
_NO_MOUNTS = Lack("mounts.mount", "mounts", "none is given", "write [mounts.mount.NAME]", 5.0)
_NO_PART = Lack(
    "mounts.unit",
    "mass and centre of the unit",
    "no part is named",
    "name the part that hangs on the mounts",
    2.0,
)


@dataclass(frozen=True, eq=False)
class Case:
    """Accelerations that the unit feels, back, right and up, and torque on it with its sign."""

    says: str
    felt: tuple[tuple[Value, float], tuple[Value, float], tuple[Value, float]]
    torque: tuple[Value, float] = (_NO_TORQUE, 0.0)
    crash: bool = False


def loaded(own: Mounts, part: Part | None, posed: Posed, drive: Driven, rules: Rules) -> Loaded:
    """Share every case among the mounts."""
    mass = part.mass if part is not None else lacking(MASS, _NO_PART)
    missing = lacking(POSITION, _NO_PART)
    middle = Place(part.at.x, part.at.y, part.at.z) if part else Place(missing, missing, missing)
    places = [mount.wanted for mount in posed.mounts]
    stiffness = [mount.stiffness for mount in own.mount.values()]
    frame, lacks = _frame(places, stiffness, middle)
    found: dict[str, dict[str, MountLoad]] = {name: {} for name in own.mount}
    for case in _cases(own, drive, rules):
        acting = _acting(own, case, mass)
        for place, name in enumerate(own.mount):
            found[name][case.says] = (
                _one(frame, place, acting, case) if frame else _missing(lacks, case)
            )
    return Loaded(
        found,
        {name: mount.rated for name, mount in own.mount.items()},
        {name: mount.holds for name, mount in own.mount.items()},
    )


def _cases(own: Mounts, drive: Driven, rules: Rules) -> list[Case]:
    still = (_NOUGHT, 1.0)
    down = (_GRAVITY, -1.0)
    jolts = own.jolts
    launch, fault = (_axle(own, drive, each) for each in (drive.launch_torque, drive.fault_torque))
    standing = (still, still, down)
    road = [
        Case("standing", standing),
        Case("driving off", standing, (launch, 1.0)),
        Case("driving off backwards", standing, (launch, -1.0)),
        Case("inverter fault", standing, (fault, 1.0)),
        Case("inverter fault, the other way", standing, (fault, -1.0)),
        Case("braking", ((jolts.braking, -1.0), still, down)),
        Case("cornering left", (still, (jolts.cornering, 1.0), down)),
        Case("cornering right", (still, (jolts.cornering, -1.0), down)),
        Case("bump", (still, still, (jolts.bump, -1.0))),
    ]
    hard = {
        "crash, from the front": (rules.restraint_forward.value, 0, -1.0),
        "crash, from behind": (rules.restraint_rearward.value, 0, 1.0),
        "crash, from the left": (rules.restraint_sideways.value, 1, 1.0),
        "crash, from the right": (rules.restraint_sideways.value, 1, -1.0),
        "crash, upwards": (rules.restraint_upward.value, 2, 1.0),
    }
    crash = []
    for says, (limit, axis, sign) in hard.items():
        felt = [still, still, down]
        felt[axis] = (limit, sign)
        crash.append(Case(says, (felt[0], felt[1], felt[2]), crash=True))
    return road + crash


def _axle(own: Mounts, drive: Driven, torque: Value) -> Value:
    """Torque that the mounts hold, in the gear that multiplies it most."""
    ratios = list(drive.gear_ratios.values())
    unknown = [ratio for ratio in ratios if not ratio.known]
    if not ratios:
        lack = Lack("drive.gear", "gears", "none is given", "write [drive.gear.NAME]", 5.0)
        return lacking(TORQUE, lack)
    lowest = unknown[0] if unknown else max(ratios, key=lambda ratio: ratio.number or 0.0)
    final = drive.final_ratio if own.reacts == "axle" else _ONE
    return worked(mount_loads.axle_reaction, torque, lowest, final)


def _acting(own: Mounts, case: Case, mass: Value) -> list[tuple[int, Value]]:
    """Forces and moments on the unit that are there, by their columns: three of each.

    The torque of an axle acts across, that of a propshaft along the vehicle. Driving forwards the
    axle turns its top forwards, and what holds it lifts the nose.
    """
    acting = [
        (axis, worked(mount_loads.inertia_force, mass, felt, _sign(sign)))
        for axis, (felt, sign) in enumerate(case.felt)
        if felt is not _NOUGHT
    ]
    torque, sign = case.torque
    if torque is not _NO_TORQUE:
        about = len(_AXES) + (1 if own.reacts == "axle" else 0)
        acting.append((about, worked(mount_loads.signed_torque, torque, _sign(sign))))
    return acting


def _sign(number: float) -> Value:
    return constant(RATIO, number, "its direction")


@dataclass(frozen=True, eq=False)
class _Frame:
    """Where the mounts and the middle of the unit are in plain numbers, and how stiff each is."""

    springs: tuple[Vector, ...]
    stiffness: tuple[Value, ...]
    at: Vector

    @cached_property
    def numbers(self) -> tuple[float, ...]:
        """Stiffness of each mount in SI."""
        return tuple(k.number or 0.0 for k in self.stiffness)

    @cached_property
    def shares(self) -> Shares:
        """What each mount carries of a unit of each force and moment."""
        from wattwright.elastic_support import carried

        return carried(self.springs, self.numbers, self.at)

    @cached_property
    def loose(self) -> tuple[tuple[Value, Value, Shares], ...]:
        """Stiffnesses that are not exact, each with the one taken and what another would change."""
        from wattwright.elastic_support import by_stiffness

        return tuple(
            (
                k,
                constant(SPRING_RATE, self.numbers[moved]),
                by_stiffness(self.springs, self.numbers, self.at, moved, k.band),
            )
            for moved, k in enumerate(self.stiffness)
            if k.band
        )


def _frame(
    places: Sequence[Place], stiffness: Sequence[Value], middle: Place
) -> tuple[_Frame | None, tuple[Lack, ...]]:
    """Lay out the mounts, or say what is missing for that."""
    values = [value for place in (*places, middle) for value in place.all] + list(stiffness)
    lacks = tuple({lack: None for value in values for lack in value.lacks})
    if lacks or not places:
        return None, lacks or (_NO_MOUNTS,)
    frame = _Frame(tuple(_point(place) for place in places), tuple(stiffness), _point(middle))
    try:
        frame.shares  # noqa: B018 - asked for here, so that it fails here
    except FormulaError as error:
        return None, (Lack("mounts.mount", "where the mounts stand", str(error)),)
    return frame, ()


def _point(place: Place) -> Vector:
    x, y, z = (value.number or 0.0 for value in place.all)
    return x, y, z


def _missing(lacks: tuple[Lack, ...], case: Case) -> MountLoad:
    missing = Value(FORCE, None, lacks=lacks)
    return MountLoad(missing, missing, missing, missing, case.crash)


def _one(frame: _Frame, place: int, acting: Sequence[tuple[int, Value]], case: Case) -> MountLoad:
    """Load at one mount in one case; ``acting`` are forces and moments by their columns."""
    forces = [(column, value) for column, value in acting if column < len(_AXES)]
    torques = [(column, value) for column, value in acting if column >= len(_AXES)]
    parts = [
        worked(
            mount_loads.component,
            [constant(RATIO, row[column]) for column, _ in forces],
            [value for _, value in forces],
            [constant(RATIO, row[column]) for column, _ in torques],
            [value for _, value in torques],
            [constant(RATIO, _by(slopes[place][axis], acting)) for _, _, slopes in frame.loose],
            [k for k, _, _ in frame.loose],
            [taken for _, taken, _ in frame.loose],
        )
        for axis, row in enumerate(frame.shares[place])
    ]
    return MountLoad(parts[0], parts[1], parts[2], worked(mount_loads.load, *parts), case.crash)


def _by(slopes: Sequence[float], acting: Sequence[tuple[int, Value]]) -> float:
    """How much more is carried for one more of a stiffness, under what acts."""
    return sum(slopes[column] * (value.number or 0.0) for column, value in acting)


def judge_loads(loaded: Loaded) -> Iterator[Finding | Figure]:
    """State the worst case of each mount, and all of them."""
    for name, cases in loaded.loads.items():
        for check, limits, crash in (
            (load_checks.LOAD, loaded.rated, False),
            (load_checks.CRASH, loaded.holds, True),
        ):
            worst = loaded.worst(name, crash=crash)
            if worst is not None:
                yield check.at_most(worst[1].size, limits[name], f"{name}/{worst[0]}")
        for says, each in cases.items():
            about = f"{name}/{says}"
            yield load_checks.SIZE.of(each.size, about)
            for declared, value in (
                (load_checks.BACK, each.x),
                (load_checks.RIGHT, each.y),
                (load_checks.UP, each.z),
            ):
                yield declared.of(value, about)
