"""Every kind of page, looked at on a phone and on a laptop, bright and dark.

The rules of WCAG 2.2 A and AA are checked by axe-core, a general library for that; sizes of targets
and text are our own, stricter than the standard's.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from browser_builders import LAPTOP, PHONE, PICKUP, Bench, People, script

pytestmark = pytest.mark.xdist_group("browser-pages")

COPIES = 1
IN_A_BUILD = {
    "tonight": "/",
    "areas": "/areas",
    "area": "/area/vehicle",
    "findings": "/said?verdict=failing",
    "finding": "/said/vehicle.axle_load@rear/full",
    "use": "/use/market_run",
    "placement": "/placement",
    "field": "/field/donor.wheelbase",
    "field-curve": "/field/part.motor.curve",
    "record": "/in/part.motor",
    "table": "/table/part?only=label,mass,at.x",
    "new-use": "/table/use",
    "sums": "/sums?q=load",
    "sheets": "/sheets",
    "sheet": "/sheet/weigh_donor",
    "sheet-line": "/sheet/weigh_donor/fl",
    "history": "/history",
    "revision": "/history/1",
    "file": "/file",
    "nothing-here": "/nothing",
}
BESIDE = {
    "bare-tonight": "/b/bare-start/",
    "bare-area": "/b/bare-start/area/pack",
    "broken": "/b/broken/",
    "broken-record": "/b/broken/in/donor",
    "broken-file": "/b/broken/file",
    "builds": "/builds",
    "sum": "/sums/acceleration.time_over_points?example=1",
    "reference": "/reference/fields?q=mass",
    "look": "/look",
    "devices": "/devices",
    "pair": "/pair",
}
PAGES = {**{name: f"/b/{PICKUP}{path}" for name, path in IN_A_BUILD.items()}, **BESIDE}
# What comes of one template time and again is looked at a few times; drawings have tests of theirs.
ALIKE = [["svg *"], [".rows > li:nth-child(n + 4)"], ["tbody tr:nth-child(n + 4)"]]
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}


@pytest.fixture(scope="module")
def tried(bench: Bench) -> str:
    """Name a side copy in which a value was changed."""
    own = bench.left.pop()
    bench.send(f"/b/{own}/try")
    fields = {"path": "part.charger.mass", "quantity": "30 kg", "origin": "datasheet"}
    was = '"6.9 kg, datasheet"'
    bench.send(f"/b/{own}~try/set", **fields, was=was)
    return f"{own}~try"


def violations(page: Page, rules: dict[str, object]) -> list[str]:
    """List what axe finds, a few places for each rule."""
    asked = "([without, rules]) => axe.run({ exclude: without }, rules)"
    found = page.evaluate(asked, [ALIKE, {**rules, "resultTypes": ["violations"]}])
    return [
        f"{each['id']}: {node['html'][:200]} {node['failureSummary'][:200]}"
        for each in found["violations"]
        for node in each["nodes"][:3]
    ]


def pictures(page: Page, folder: Path, name: str) -> None:
    """Leave pictures of a page for a person to look at."""
    for device, size in (("phone", PHONE["viewport"]), ("laptop", LAPTOP["viewport"])):
        page.set_viewport_size(size)
        for look in ("light", "dark"):
            page.emulate_media(color_scheme=look)
            page.screenshot(path=folder / f"{name}-{device}-{look}.png", full_page=True)
    page.set_viewport_size(PHONE["viewport"])
    page.emulate_media(color_scheme="light")


@pytest.mark.parametrize("name", [*PAGES, "tried", "compare", "ripple"])
def test_a_page_fits_the_thumb_and_the_eye(
    people: People, tried: str, shots: Path | None, name: str
) -> None:
    more = {
        "tried": f"/b/{tried}/",
        "compare": f"/b/{tried}/compare",
        "ripple": f"/b/{tried}/in/part.charger?ripple=2",
    }
    if name == "nothing-here":
        people.watch.expected = ["status of 404"]
    page = people.page({**PAGES, **more}[name], PHONE)
    found = {}
    if shots:
        pictures(page, shots, name)
    page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true; })")
    page.evaluate(Axe().axe_script)
    found["sideways on a phone"] = page.evaluate(script("sideways"))
    found["targets"] = page.evaluate(script("too_small"))
    found["text"] = page.evaluate(script("too_fine"))
    found["phone, bright"] = violations(page, RULES)
    page.emulate_media(color_scheme="dark")
    page.set_viewport_size(LAPTOP["viewport"])
    found["sideways on a laptop"] = page.evaluate(script("sideways"))
    found["laptop, dark"] = violations(page, RULES)
    assert {where: what for where, what in found.items() if what} == {}
