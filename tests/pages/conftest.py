from __future__ import annotations

import pytest

from printed_pages import example
from wattwright.assessment import Assessment
from wattwright.build.reader import Opened


@pytest.fixture(scope="session")
def pickup() -> tuple[Opened, Assessment]:
    return example("orchard-pickup")
