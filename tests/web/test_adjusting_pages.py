"""The survey adjusted on the workbench: looked at, kept, undone, refused where there is none."""

from __future__ import annotations

import re
from collections.abc import Callable

from web_builders import Workbench

Open = Callable[..., Workbench]
ISLAND = "island-runabout"
SET_ASIDE = 'set_aside = "distance.unit_rear_left-hub_right"\n'


def taken_back(bench: Workbench) -> str:
    """Write the build as it was before anything was adjusted."""
    path = bench.folder / ISLAND / "build.toml"
    text = path.read_text(encoding="utf-8").replace(SET_ASIDE, "")
    text = re.sub(r"\[survey\.adjusted\]\n.*?\n\n", "", text, flags=re.DOTALL)
    text = re.sub(r"\[survey\.adjusted\.point\]\n.*?\n\n", "", text, flags=re.DOTALL)
    path.write_text(text, encoding="utf-8")
    return text


def test_all_readings_are_adjusted_and_the_wrong_one_is_named_and_kept_aside(
    workbench: Open,
) -> None:
    bench = workbench(ISLAND)
    before = taken_back(bench)
    assert "Adjust all readings" in bench.page(f"/b/{ISLAND}/area/mounts")
    page = bench.page(f"/b/{ISLAND}/adjust")
    assert "distance.unit_rear_left-hub_right: reads 832 mm" in page
    assert "and set aside what does not fit" in page
    assert bench.text(ISLAND) == before
    status, page = bench.send(f"/b/{ISLAND}/adjust")
    assert status == 200
    text = bench.text(ISLAND)
    assert SET_ASIDE in text
    assert "nose mount" in text
    assert "survey adjusted" in bench.page(f"/b/{ISLAND}/history")
    area = bench.page(f"/b/{ISLAND}/area/mounts")
    assert "brackets, from the vehicle's point to the unit's as wanted" in area
    assert "Set aside before" in bench.page(f"/b/{ISLAND}/adjust")
    status, _ = bench.send(f"/b/{ISLAND}/undo", step="undo")
    assert status == 200
    assert bench.text(ISLAND) == before


def test_without_a_survey_there_is_nothing_to_adjust(workbench: Open) -> None:
    bench = workbench("orchard-pickup")
    assert "Adjust all readings" not in bench.page("/b/orchard-pickup/area/mounts")
    assert "[survey.point.NAME]" in bench.page("/b/orchard-pickup/adjust", 404)
    status, page = bench.send("/b/orchard-pickup/adjust")
    assert status == 422
    assert "[survey.point.NAME]" in page
