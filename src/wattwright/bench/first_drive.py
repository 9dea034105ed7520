"""Sheet of the first drives: what to listen for, at what frequency it comes, what it comes from."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import Assessment
from wattwright.bench.sheet import Line, Sheet
from wattwright.build.model import Build
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.felt import Felt
from wattwright.kinds import FREQUENCY
from wattwright.units import Taste
from wattwright.values import Value

_CAUTIONS = (
    (
        "Private ground first, then an empty road, where law and insurance allow it. One drives, "
        "another one listens and writes."
    ),
    (
        "Brakes, steering and wheel bolts are proven before, and the emergency stop with the "
        "wheels in the air. Extinguisher and phone on board, doors unlocked."
    ),
    (
        "A smell, smoke, an isolation warning, a knock that grows: stop, switch off, out. Nobody "
        "reaches under it before high voltage is proven dead."
    ),
)
_TOOLS = (
    "phone with a program that shows the spectrum of its accelerometer, taped to the floor",
    "paint marker, torque wrench",
    "a second person",
)
# The first ones are slow; what is felt at 100 km/h stands on the page of the mounts.
_ROAD = ("50 km/h", "80 km/h")
_PHONE = "spectrum of the phone's accelerometer"
_EAR = "ear and seat"
_OF_WHEEL = "It is balance, or run-out of rim, hub, drum or disc."
_OF_TRIPOD = (
    "It is three-armed joints at too large an angle, worst pulling hard, common practice: read the "
    "angle again at this load."
)
_OF_SHAFT = "It is balance of the shaft, or run-out of its flanges and their spigots."
_OF_JOINTS = "It is angles of the joints, or forks out of line: do their sheets again."
_OF_MOTOR = "It is the coupling: read its run-out again, then run the motor alone, unjoined."
_BEFORE = (
    Line(
        "first",
        "1 km at walking pace to 30 km/h, then round it: hubs, motor and lugs felt with the back "
        "of a hand for heat, nuts by their paint marks.",
        "before anything is listened to",
        "hand, eye",
        stop_if="a hub or brake is too hot to touch, a mark has moved, anything drips",
    ),
    Line(
        "second",
        "5 km, then 20 km, never farther from home than somebody will tow; the same round each "
        "time. 100 km before anything is trusted.",
        "before anything is listened to",
        "hand, eye",
        stop_if="one wheel is 20 K warmer than its fellow, common practice: free the brake, or "
        "look at the bearing",
    ),
)
_AFTER = (
    Line(
        "torque",
        "At the speed where it is worst: pulling, slowing down by the motor, and at no torque at "
        "all. Where torque changes it, it is joint angles as unit or axle wind up, or a mount; "
        "where it does not, wheel or shaft.",
        "vibration",
        _EAR,
    ),
    Line(
        "neutral",
        "The same speed rolling in neutral, if there is one. What stays is wheel or shaft; what "
        "goes is motor, coupling or mount.",
        "vibration",
        _EAR,
    ),
    Line(
        "gear",
        "The same road speed in another gear, if there is one. What moves with the motor's turns "
        "is the coupling: its run-out and end float are read again.",
        "vibration",
        _EAR,
    ),
    Line(
        "whine",
        "A whine, at no torque at all. What goes is electrical and follows the inverter's "
        "switching; what stays is gears or a bearing, which the engine used to drown.",
        "noise",
        _EAR,
    ),
    Line(
        "knock",
        "A soft push forwards and one backwards, as for parking. More than one soft knock each "
        "way: motor held, wheels chocked, rock the wheel by hand and follow the play from wheel to "
        "coupling. A slower change of torque hides it only.",
        "torque turning round",
        _EAR,
        stop_if="it is hard, or harder than the last time: a key or spline on its way out",
    ),
    Line(
        "lock",
        "Walking pace at full lock, left and right. Clicks that come faster with the wheel are the "
        "outer joint; straight on and under load, the inner one, or its way is used up: look at "
        "the grease marks.",
        "clicking",
        _EAR,
        stop_if="anything binds, or a boot is torn",
    ),
)


def first_drive_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """List what to listen for on the first drives, with the frequencies of this build."""
    del taste
    lines = list(_BEFORE)
    drive = assessment.descriptions.get(DriveDescription)
    if drive is not None:
        lines += [line for road in _ROAD for line in _at(road, drive.felt[road], build)]
    return Sheet(
        "first_drive",
        "First drives",
        "What a vibration or noise comes from, by how often it comes. Steady speed on a smooth "
        "road; the highest peak of the spectrum is written beside the frequency it stands nearest. "
        "Where there is no peak, nothing is written.",
        _CAUTIONS,
        _TOOLS,
        (*lines, *_AFTER),
    )


def _at(road: str, felt: Felt, build: Build) -> Iterator[Line]:
    name = road.partition(" ")[0]
    yield _peak(f"{name}_wheel", road, "once a turn of a wheel", felt.wheel, _OF_WHEEL)
    if build.half_shaft:
        yield _peak(
            f"{name}_tripod", road, "three times a turn of a wheel", felt.tripod, _OF_TRIPOD
        )
    if build.propshaft:
        yield _peak(f"{name}_shaft", road, "once a turn of the propshaft", felt.shaft, _OF_SHAFT)
        twice = "twice a turn of the propshaft"
        yield _peak(f"{name}_joints", road, twice, felt.shaft_twice, _OF_JOINTS)
    forwards = [gear for gear in felt.motor if not build.drive.gear[gear].backwards]
    for gear in forwards:
        when = f"once a turn of the motor in {gear.replace('_', ' ')}"
        yield _peak(f"{name}_motor_{gear}", road, when, felt.motor[gear], _OF_MOTOR)


def _peak(name: str, road: str, when: str, turns: Value, then: str) -> Line:
    return Line(
        name,
        f"At a steady {road}, {when}: is there a peak? {then}",
        "floor between the seats",
        _PHONE,
        kind=FREQUENCY,
        expected=turns,
        stop_if="it blurs the mirrors or shakes the seat",
    )
