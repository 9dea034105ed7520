"""What was found of the coupling and of retaining rings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class LimitsFound:
    """Upper and lower deviation of one class at one size.

    ``upper`` and ``lower`` may make a limit; ``shown_upper`` and ``shown_lower`` stand in their
    place where the row is known from memory alone.
    """

    name: str
    upper: Value
    lower: Value
    shown_upper: Value
    shown_lower: Value


@dataclass(frozen=True, slots=True, eq=False)
class FitFound:
    """A fit: limits of both parts, play that they allow, play as measured.

    ``slack`` is what is as good as known of the play: measured, or else the loosest.
    """

    label: str
    nominal: Value
    hole: LimitsFound
    shaft: LimitsFound
    loosest: Value
    tightest: Value
    play: Value
    slack: Value


@dataclass(frozen=True, slots=True, eq=False)
class StackFound:
    """Run-out of a coupling: what each feature brings, all together, and without each in turn.

    ``recut`` names the feature without which least is left; empty while one is not known.
    """

    parts: Mapping[str, Value]
    likely: Value
    worst: Value
    without: Mapping[str, Value]
    recut: str


@dataclass(frozen=True, slots=True, eq=False)
class CouplingFound:
    """The coupling: run-out, fits, end float ``cold`` and ``hot``, and a kept flywheel's face."""

    fits: Mapping[str, FitFound]
    stack: StackFound
    cold: Value
    hot: Value
    face: Value


@dataclass(frozen=True, slots=True, eq=False)
class RowFound:
    """A row of DIN 471 or DIN 472: what may make a limit, and what may only be shown."""

    thickness: Value
    free: Value
    groove: Value
    groove_upper: Value
    groove_lower: Value
    width: Value
    edge: Value


@dataclass(frozen=True, slots=True, eq=False)
class RingFound:
    """A ring and its groove: the row of its diameter, and what its groove carries.

    ``size`` is the nominal diameter that belongs to the shaft or bore; ``limits`` the row as far as
    it may make limits, ``shown`` all of it; ``half_step`` half of what the free diameter differs by
    from that of the nearest neighbour.
    """

    label: str
    size: Value
    limits: RowFound
    shown: RowFound
    half_step: Value
    capacity: Value
