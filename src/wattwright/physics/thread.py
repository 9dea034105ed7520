"""Screw threads with flanks of 60°: the core that is left under them.

core_diameter    diameter at the root of the thread
"""

from __future__ import annotations

from math import sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Length

PROFILE = Source("ISO 68-1, basic profile of metric and unified threads", "d_3, root", "memory")

ASKED = {
    "diameter": ("nominal diameter of the thread", "10 mm"),
    "pitch": ("pitch of the thread", "1.5 mm"),
}


@formula("d_3", PROFILE)
def core_diameter(diameter: Length, pitch: Length) -> Length:
    """Diameter at the root of a screw thread.

    d_3 = d - (17/12)·H with the height of its triangle H = P·√3/2: ``diameter`` d and ``pitch`` P
    in m, d above what the thread takes off.
    """
    if not 0 < pitch < diameter / 2:
        raise FormulaError("the pitch is above zero and less than half of the diameter")
    return diameter - 17 / 12 * sqrt(3) / 2 * pitch
