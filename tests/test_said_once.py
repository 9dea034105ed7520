"""What is said of a build is said once: an address names one finding or figure."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from wattwright.assessment import assess
from wattwright.build.reader import open_build

EXAMPLES = Path(__file__).parents[1] / "examples"


@pytest.mark.parametrize("name", ["orchard-pickup", "island-runabout", "bare-start"])
def test_nothing_is_said_twice(name: str) -> None:
    said = assess(open_build(EXAMPLES / name))
    counted = Counter(each.address for each in (*said.findings, *said.figures))
    assert not [address for address, times in counted.items() if times > 1]
