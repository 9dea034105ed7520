"""How far each use goes, what it warms, and what currents everything in its way carries."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattwright.areas.drive import use_checks as checks
from wattwright.areas.drive import use_figures as figures
from wattwright.areas.drive.own import Own
from wattwright.areas.traction import carries, pack_currents, worst
from wattwright.build.presence import said
from wattwright.descriptions.duty import Duties, Duty, HillDuty, Windowed
from wattwright.descriptions.pack import PackDescription
from wattwright.findings import Figure, FigureKind, Finding
from wattwright.values import Value, doubted

Said = Iterator[Finding | Figure]


def judge_uses(own: Own, duties: Duties, pack: PackDescription) -> Said:
    """Compare every use with targets, temperatures and ratings."""
    for name, duty in duties.uses.items():
        yield from _reached(own, name, duty, pack)
        yield from _figures(name, duty)
        if not duty.demand.season:
            yield from _borne(name, duty)
    for use in own.use:
        yield from _warmed(use, [duty for duty in duties.uses.values() if duty.demand.use == use])
    yield from _carried(own, duties, pack)
    for word, steady in duties.steady.items():
        yield figures.STEADY_RANGE.of(steady.range, word)
        yield figures.STEADY_PACK.of(steady.pack, word)
        yield figures.STEADY_WALL.of(steady.wall, word)
    for word, held in duties.held.items():
        yield figures.HELD_GRADE.of(held.grade, word)
        if said(own.targets.hill_grade):
            yield figures.HELD_TIME.of(held.time, word)
        if held.time_ended_by not in ("", "nothing"):
            yield figures.ENDED_BY.of(held.time, f"{word}/{held.time_ended_by}")
    if duties.hill is not None:
        yield from _hill(own, duties.hill)


def _reached(own: Own, name: str, duty: Duty, pack: PackDescription) -> Said:
    wanted = own.use[duty.demand.use].range
    if said(wanted):
        yield checks.RANGE.at_least(duty.range, wanted, name)
    yield checks.CHARGE.at_least(duty.charge_left, pack.cells.low_charge, name)
    yield checks.FOLLOWED.at_most(duty.behind.speed, own.targets.speed_missing, name)


def _warmed(use: str, seasons: list[Duty]) -> Said:
    """Every body in the season that warms it most."""
    for body in seasons[0].hottest:
        warmest = worst(duty.hottest[body] for duty in seasons)
        yield checks.HEAT.at_most(warmest, seasons[0].taken_back[body], f"{use}/{body}")


def _carried(own: Own, duties: Duties, pack: PackDescription) -> Said:
    currents = pack_currents(duties)
    if not currents:
        return
    hardest = worst(currents)
    wanted = own.targets
    if duties.hill is None and said(wanted.hill_grade) and said(wanted.hill_speed):
        # What is drawn on it may be more.
        hardest = doubted(
            hardest, "the hill wanted is not counted: targets.hill_length is not given"
        )
    for name, device in own.high_voltage.items():
        if carries(name, own.part):
            yield checks.CURRENT_CARRIED.at_most(hardest, device.current, name)
    yield checks.CELLS.at_most(hardest, pack.cells.continuous_current)


def _hill(own: Own, duty: HillDuty) -> Said:
    for body, warmest in duty.hottest.items():
        yield checks.HILL_HEAT.at_most(warmest, duty.taken_back[body], body)
        yield figures.HILL_WARMEST[body].of(warmest)
    yield checks.HILL_KEPT.at_most(duty.behind, own.targets.speed_missing)


def _figures(name: str, duty: Duty) -> Iterator[Figure]:
    energy = duty.energy
    yield figures.RANGE.of(duty.range, name)
    yield figures.WHEEL.of(energy.wheel, name)
    yield figures.PACK.of(energy.pack, name)
    yield figures.WALL.of(energy.wall, name)
    yield figures.RECOVERED.of(energy.recovered, name)
    yield figures.CHARGE.of(duty.charge_left, name)
    yield from _each(figures.PART, energy.split, name)
    yield from _windowed(figures.PACK_RMS, duty.pack_current, name)
    yield figures.PEAK.of(duty.peak_current, name)
    yield figures.CHARGING.of(duty.charge_current, name)
    yield figures.LOWEST.of(duty.lowest_voltage, name)
    yield from _each(figures.HOTTEST, duty.hottest, name)
    yield figures.BEHIND.of(duty.behind.speed, name)
    if duty.behind.speed.number:
        yield figures.BEHIND_AT.of(duty.behind.where, name)
    for why, time in duty.behind.time_by.items():
        yield figures.HELD_BACK.of(time, f"{name}/{why.replace(' ', '_')}")


def _borne(name: str, duty: Duty) -> Iterator[Figure]:
    """What motor and driveline bear; seasons change little of it."""
    for motor, current in duty.phase_current.items():
        yield from _windowed(figures.PHASE_RMS, current, f"{name}/{motor}")
    yield from _each(figures.HEAT, duty.heat, name)
    for link, turning in duty.links.items():
        yield figures.LARGEST.of(turning.largest, f"{name}/{link}")
        yield figures.SMALLEST.of(turning.smallest, f"{name}/{link}")
        yield figures.REVERSALS.of(turning.reversals, f"{name}/{link}")
    yield from _each(figures.IF, duty.range_if, name)


def _each(
    kinds: Mapping[str, FigureKind], values: Mapping[str, Value], name: str
) -> Iterator[Figure]:
    for key, value in values.items():
        yield kinds[key].of(value, name)


def _windowed(kinds: Mapping[float, FigureKind], current: Windowed, name: str) -> Iterator[Figure]:
    for seconds, value in {**current.by_window, 0.0: current.whole}.items():
        yield kinds[seconds].of(value, name)
