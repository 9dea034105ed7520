"""Print how fast the program is, as ratios taken in one run, each beside its target.

Times of a shared machine wander, so runs are interleaved, medians are shown, and nothing fails.
"""

from __future__ import annotations

import importlib
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

# As the program's own entry has it; it counts from before numpy is imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from wattwright.areas import AREAS, Area
from wattwright.areas.mounts import Mounts, sweep
from wattwright.areas.mounts.clearance import describe_clearance, described_anew, judge_clearance
from wattwright.areas.vehicle import Vehicle
from wattwright.assessment import assess
from wattwright.build.reader import Opened, open_build, parse_build
from wattwright.findings import Finding
from wattwright.kinds import LENGTH, MASS, TORQUE, Kind
from wattwright.next_readings import next_readings
from wattwright.physics import pmsm
from wattwright.units import read
from wattwright.values import Lack

ROOT = Path(__file__).resolve().parents[1]
# The tests have the made-up vehicle, with its maps and its trace.
sys.path.insert(0, str(ROOT / "tests"))
sys.path.insert(0, str(ROOT / "tools"))
import bench_mounts  # noqa: E402
import bench_workbench  # noqa: E402
import crowded  # noqa: E402

PICKUP = ROOT / "examples" / "orchard-pickup"
COLD_RUNS = 7
WARM_RUNS = 30
DESIGNS = 200
BODIES = 40
_NOT_SAID = Lack("pack.capacity", "capacity", "not given")

TEXTS: tuple[tuple[str, Kind], ...] = (
    ("2540 mm ± 3", LENGTH),
    ("2 3/4 in", LENGTH),
    ("7' 4\"", LENGTH),
    ("1,040 kg", MASS),
    ("45 lb·ft", TORQUE),
)


def main() -> None:
    """Measure and print."""
    started = time.perf_counter()
    command = str(Path(sys.executable).with_name("wattwright"))
    cold = _cold(
        {
            "pass": [sys.executable, "-c", "pass"],
            "numpy": [sys.executable, "-c", "import numpy"],
            "numba": [sys.executable, "-c", "import numba"],
            "help": [command, "--help"],
            "check": [command, "check", str(PICKUP)],
            "explain": [command, "explain", str(PICKUP), "vehicle.axle_load@rear/full"],
            **_printing(command),
        }
    )
    raw = (PICKUP / "build.toml").read_bytes()
    opened = open_build(PICKUP)
    assessment = assess(opened)
    reads = 200

    def read_units() -> None:
        for _ in range(reads):
            for text, kind in TEXTS:
                read(text, kind)

    book = _warm(lambda: _judged(opened, (Vehicle(),)))
    # Without uses, and without what the pack holds, nothing is driven.
    bare = _without_uses(opened)
    standing = _warm(lambda: _judged(bare, AREAS))
    whole = _warm(lambda: _judged(opened, AREAS))
    rows = [
        ("check with all uses, cold", f"{cold['check']:.2f} s", "at most 1.5 s"),
        ("check, cold / import numpy", _ratio(cold, "check", "numpy"), "at most 6, uses apart"),
        ("explain, cold / import numpy", _ratio(cold, "explain", "numpy"), "none set"),
        ("register as PDF, cold", f"{cold['print register']:.2f} s", "at most 2 s"),
        ("setting the register, cold", _apart(cold, "print register"), "at most 0.8 s"),
        ("setting one sheet, cold", _apart(cold, "print template@check"), "at most 0.8 s"),
        ("a template as DXF, cold", _apart(cold, "print dxf"), "none set"),
        ("--help / bare Python", _ratio(cold, "help", "pass"), "at most 6"),
        ("weight book, warm", f"{1e3 * book:.2f} ms", "at most 5 ms"),
        ("pack and drive on top, warm", f"{1e3 * (standing - book):.2f} ms", "at most 15 ms"),
        ("drive / weight book, warm", f"{(standing - book) / book:.2f}", "none set"),
        ("uses on top, runs kept, warm", f"{1e3 * (whole - standing):.1f} ms", "none set"),
        ("envelope of 200 speeds", f"{1e3 * _warm(envelope_of_200):.2f} ms", "at most 2 ms"),
        ("reading the build, warm", f"{1e3 * _warm(lambda: parse_build(raw)):.2f} ms", "none set"),
        (
            "what to find out next, warm",
            f"{1e3 * _warm(lambda: next_readings(assessment)):.2f} ms",
            "none set",
        ),
        (
            "reading a quantity",
            f"{1e6 * _warm(read_units) / reads / len(TEXTS):.1f} µs",
            "none set",
        ),
    ]
    rows += driving()
    rows += bench_mounts.rows()
    rows += clearing()
    rows += bench_workbench.rows()
    print(f"{'what':32} {'median':>10}   target")
    for what, figure, target in rows:
        print(f"{what:32} {figure:>10}   {target}")
    for name, seconds in cold.items():
        print(f"  cold start, {name:16} {1e3 * seconds:8.0f} ms")
    print(f"measured in {time.perf_counter() - started:.0f} s; medians of {COLD_RUNS} cold runs")


def _printing(command: str) -> dict[str, list[str]]:
    """Commands that print pages, none of which leaves a file."""
    words = [command, "print", str(PICKUP)]
    nowhere = ["-o", os.devnull]
    return {
        "print register": [*words, "register", *nowhere],
        "print template@check": [*words, "template@check", *nowhere],
        "print dxf": [*words, "template@charger", "--format", "dxf", *nowhere],
    }


def _apart(cold: Mapping[str, float], name: str) -> str:
    """Say what a page takes beyond the check that comes before it."""
    return f"{cold[name] - cold['check']:.2f} s"


def _without_uses(opened: Opened) -> Opened:
    """Leave out what the vehicle is put through."""
    build = opened.build
    capacity = replace(build.pack.capacity, number=None, given=None, lacks=(_NOT_SAID,))
    pack = build.pack.model_copy(update={"capacity": capacity})
    return replace(opened, build=build.model_copy(update={"use": {}, "pack": pack}))


def _judged(opened: Opened, areas: Sequence[Area]) -> None:
    """Describe, judge and reach every verdict."""
    for finding in assess(opened, areas).findings:
        _ = finding.verdict


def envelope_of_200() -> None:
    """Work out the torque of a machine at 200 speeds and one voltage."""
    import numpy as np

    speeds = np.linspace(0.0, 1000.0, 200)
    pmsm.envelope(speeds, 300.0, 424.0, 4.0, 57.2e-3, 0.18e-3, 0.42e-3, 11e-3)


def driving() -> list[tuple[str, str, str]]:
    """Drive one vehicle, and many, over 1,800 steps: plain, compiled, and on every core."""
    import numpy as np

    from wattwright.uses import compiled, runs

    made_up = importlib.import_module("vehicles")
    trace, vehicle, known = made_up.mixed(1800), made_up.parameters(), made_up.maps()
    many = np.repeat(vehicle.vector[None], DESIGNS, axis=0)
    before = time.perf_counter()
    compiled.load()
    runs.run(trace, vehicle, known, compiled=True)
    runs.run_rows(trace, many[:1], known, compiled=True)
    first = time.perf_counter() - before
    plain = _warm(lambda: runs.run(trace, vehicle, known, compiled=False))
    one = _warm(lambda: runs.run_rows(trace, many, known, compiled=True, workers=1)) / DESIGNS
    every = _warm(lambda: runs.run_rows(trace, many, known, compiled=True)) / DESIGNS
    return [
        ("one run of 1,800 steps, plain", f"{1e3 * plain:.1f} ms", "none set"),
        ("one run, compiled, one core", f"{1e6 * one:.0f} µs", "at most 150 µs"),
        ("plain / compiled", f"{plain / one:.0f}", "none set"),
        (f"designs a second, {os.cpu_count()} cores", f"{1 / every:,.0f}", "at least 10,000"),
        ("first calls of the compiled form", f"{first:.2f} s", "none set"),
    ]


def clearing() -> list[tuple[str, str, str]]:
    """Find the gaps of forty bodies over nine positions of the suspension, anew and kept."""
    own = Mounts().own(parse_build(crowded.build_of(BODIES)).build).bodies

    def anew() -> None:
        sweep.tightest.cache_clear()
        described_anew(own)

    def said() -> None:
        for each in judge_clearance(describe_clearance(own)):
            if isinstance(each, Finding):
                _ = each.verdict

    found, moved, kept = _warm(anew), _warm(lambda: described_anew(own)), _warm(said)
    return [
        (f"clearance of {BODIES} bodies", f"{found:.2f} s", "at most 0.5 s"),
        ("the same, gaps kept", f"{1e3 * moved:.1f} ms", "none set"),
        ("the same, unchanged, judged", f"{1e3 * kept:.1f} ms", "none set"),
    ]


def _cold(commands: Mapping[str, list[str]]) -> dict[str, float]:
    """Start each command several times, taking turns, and take the median of each."""
    # Where Python is told not to keep what it compiled, every start would compile all of it anew:
    # nobody's machine does that, and a third of the time measured was once that.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    for words in commands.values():
        subprocess.run(words, capture_output=True, check=False)
    seconds: dict[str, list[float]] = {name: [] for name in commands}
    for _ in range(COLD_RUNS):
        for name, words in commands.items():
            before = time.perf_counter()
            done = subprocess.run(words, capture_output=True, check=False)
            seconds[name].append(time.perf_counter() - before)
            # 1 and 3 are answers of `check`; anything above means that nothing was measured.
            if done.returncode not in (0, 1, 3):
                sys.exit(f"{name} answered {done.returncode}\n{done.stderr.decode()}")
    return {name: statistics.median(runs) for name, runs in seconds.items()}


def _ratio(cold: Mapping[str, float], name: str, yardstick: str) -> str:
    return f"{cold[name] / cold[yardstick]:.2f}"


def _warm(work: Callable[[], object]) -> float:
    runs = []
    for _ in range(WARM_RUNS):
        before = time.perf_counter()
        work()
        runs.append(time.perf_counter() - before)
    return statistics.median(runs)


if __name__ == "__main__":
    main()
