"""The drawings a build has, by name. Each is a view of the assessment, for screen and paper."""

from __future__ import annotations

from collections.abc import Callable

from wattwright.assessment import Assessment
from wattwright.build.reader import Opened
from wattwright.drawings.drive import envelope, force
from wattwright.drawings.side import side
from wattwright.drawings.windows import windows
from wattwright.paper.svg import Drawing
from wattwright.units import Taste

Make = Callable[[Opened, Assessment, Taste], Drawing]

DRAWINGS: dict[str, Make] = {
    "windows": windows,
    "force": force,
    "envelope": envelope,
    "side": side,
}
