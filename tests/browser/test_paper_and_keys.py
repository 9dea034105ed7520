"""The pages on paper, and with a keyboard alone."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from browser_builders import LAPTOP, PHONE, PICKUP, People, script

pytestmark = pytest.mark.xdist_group("browser-pages")

COPIES = 0
# The width of A4 less margins of 10 mm, in CSS pixels.
PAPER: dict[str, Any] = {"viewport": {"width": 718, "height": 1000}}
PRINTED = {
    "tonight": "/",
    "area": "/area/vehicle",
    "finding": "/said/vehicle.axle_load@rear/full",
    "record": "/in/part.motor",
    "table": "/table/part?only=label,mass,at.x",
    "placement": "/placement",
    "file": "/file",
}


@pytest.mark.parametrize("name", PRINTED)
def test_paper_shows_the_content_whole_and_nothing_to_press(people: People, name: str) -> None:
    page = people.page(f"/b/{PICKUP}{PRINTED[name]}", PAPER)
    page.emulate_media(media="print")
    pressed = "nav, button, .button, .told, .line"
    shown = page.locator(pressed).filter(visible=True)
    assert shown.all_inner_texts() == []
    assert page.evaluate(script("cut_off")) == []
    paper = page.pdf(format="A4", print_background=False)
    assert paper.startswith(b"%PDF-")
    assert len(re.findall(rb"/Type\s*/Page\b", paper)) >= 1


@pytest.mark.parametrize(
    ("path", "most"),
    [
        # Its first drawing is tall: it has to fit below the title.
        ("/use/market_run", 6),
        # Some hundred columns, of which most are empty for most parts.
        ("/table/part?all=1", 12),
    ],
)
def test_paper_is_not_wasted(people: People, path: str, most: int) -> None:
    page = people.page(f"/b/{PICKUP}{path}", PAPER)
    paper = page.pdf(format="A4", print_background=False)
    assert len(re.findall(rb"/Type\s*/Page\b", paper)) <= most


def test_what_is_folded_for_a_screen_is_whole_on_paper(people: People) -> None:
    page = people.page(f"/b/{PICKUP}/area/vehicle", PAPER)
    row = page.locator(".folded .finding").first
    expect(row).to_be_hidden()
    page.emulate_media(media="print")
    expect(row).to_be_visible()
    page.goto(f"/b/{PICKUP}/file")
    expect(page.locator("textarea")).to_be_hidden()
    expect(page.locator("pre.paper")).to_contain_text("[build]")


@pytest.mark.parametrize("path", [f"/b/{PICKUP}/field/donor.wheelbase", f"/b/{PICKUP}/", "/look"])
def test_the_keyboard_reaches_everything_and_shows_where_it_is(people: People, path: str) -> None:
    page = people.page(path, LAPTOP)
    wanted = page.evaluate(script("reachable"))
    reached = []
    for _ in range(len(wanted) + 5):
        page.keyboard.press("Tab")
        at = page.evaluate(script("focused"))
        if at is None or at["at"] in reached:
            break
        assert at["ring"], at["says"]
        reached.append(at["at"])
    # In the order of the page, and all of it.
    missed = "missed => [...document.querySelectorAll('*')].filter((_, n) => missed.includes(n))"
    short = ".map((each) => each.outerHTML.slice(0, 120))"
    assert page.evaluate(missed + short, sorted(set(wanted) ^ set(reached))) == []
    assert reached == wanted


def test_the_first_key_leads_past_the_head(people: People) -> None:
    page = people.page(f"/b/{PICKUP}/", PHONE)
    page.keyboard.press("Tab")
    skip = page.locator(".skip")
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport()
    page.keyboard.press("Enter")
    expect(page.locator("#main")).to_be_focused()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('main') !== null")


def test_choosing_a_look_is_what_the_device_would_have_chosen(people: People) -> None:
    """One choice leads to one set of colours, whoever made it: the device or the person."""
    page = people.page("/look", LAPTOP)
    found: dict[str, list[list[str]]] = {"light": [], "dark": []}
    for look, scheme in (
        ("auto", "light"),
        ("auto", "dark"),
        ("bright", "dark"),
        ("dark", "light"),
    ):
        page.locator(f'[value="{look}"]').check()
        page.get_by_role("button", name="Use these").click()
        page.goto("/look")
        page.emulate_media(color_scheme=scheme)
        became = {"auto": scheme, "bright": "light", "dark": "dark"}[look]
        found[became].append(page.evaluate(script("colours")))
    assert found["light"][0] == found["light"][1]
    assert found["dark"][0] == found["dark"][1]
    assert found["light"][0] != found["dark"][0]


def test_a_request_to_elsewhere_would_be_noticed(people: People) -> None:
    """The watch over all pages can fail: this page asks elsewhere, which the policy forbids."""
    page = people.page("/look")
    page.evaluate("fetch('http://outside.invalid/').catch(() => {})")
    page.evaluate("document.body.insertAdjacentHTML('beforeend', '<p style=\"color: red\">x</p>')")
    page.wait_for_function("true")
    assert any("outside.invalid" in each for each in people.watch.unexpected)
    assert any("style" in each for each in people.watch.unexpected)
    people.watch.expected = ["outside.invalid", "style"]


def test_the_head_takes_two_rows_of_a_phone_and_no_number_breaks(people: People) -> None:
    page = people.page(f"/b/{PICKUP}/", PHONE)
    boxes = page.locator("#tally .count, .head .undo button")
    found = boxes.evaluate_all(
        "all => all.map((each) => each.getBoundingClientRect()).map(({ y, height }) => [y, height])"
    )
    assert len(found) == 6
    assert max(y for y, _ in found) - min(y for y, _ in found) < 6
    assert all(44 <= height < 52 for _, height in found)
