"""What people do with the workbench, done in a real browser."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from browser_builders import LAPTOP, PHONE, WAS, Bench, People, script

pytestmark = pytest.mark.xdist_group("browser-flows")

COPIES = 18
MASS = "part.charger.mass"
DCDC = '"3.1 kg ± 0.1, measured, kitchen scale, 2026-04-04"'
REFUSED = r"status of 4(09|22)"


def field(page: Page, path: str = MASS) -> Locator:
    return page.locator(f'[data-field="{path}"]')


def box(page: Page, path: str = MASS) -> Locator:
    return field(page, path).locator('[name="quantity"]')


def save(page: Page, path: str = MASS) -> None:
    field(page, path).get_by_role("button", name="Save").click()


def other(bench: Bench, build: str, quantity: str, was: str = WAS, path: str = MASS) -> None:
    """Somebody else saves a value meanwhile."""
    fields = {"path": path, "quantity": quantity, "origin": "datasheet", "was": was}
    bench.send(f"/b/{build}/set", **fields)


@pytest.mark.parametrize("device", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_an_edit_shows_its_ripple_on_the_page_and_undo_takes_it_back(
    people: People, bench: Bench, build: str, device: dict[str, Any]
) -> None:
    page = people.page(f"/b/{build}/in/part.charger", device)
    before = bench.text(build)
    page.evaluate("window.stayed = true")
    box(page).fill("60 kg")
    save(page)
    ripple = page.locator("#ripple")
    expect(ripple).to_contain_text(f"Saved: {MASS}")
    expect(ripple).to_contain_text("moved")
    assert '"60 kg, datasheet"' in bench.text(build)
    expect(field(page).locator(".shown")).to_contain_text("60")
    expect(field(page)).not_to_have_class(re.compile("changed"))
    ripple.get_by_role("button", name="Undo this").click()
    expect(box(page)).to_have_value("6.9 kg")
    assert bench.text(build) == before
    ripple.get_by_role("button", name="Make it again").click()
    expect(box(page)).to_have_value("60 kg")
    assert page.evaluate("window.stayed")


def test_enter_saves_and_one_may_go_on_typing_in_the_same_box(
    people: People, bench: Bench, build: str
) -> None:
    """The own save is not somebody else's change."""
    page = people.page(f"/b/{build}/in/part.charger")
    for mass in ("7 kg", "8 kg"):
        box(page).fill(mass)
        box(page).press("Enter")
        expect(page.locator("#ripple")).to_contain_text(f"→ {mass}, datasheet")
        expect(field(page)).to_have_class(re.compile("saved"))
        expect(box(page)).to_be_focused()
        expect(field(page).locator(".problem")).to_be_hidden()
    assert '"8 kg, datasheet"' in bench.text(build)


def test_undo_from_a_ripple_takes_back_nothing_else(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [REFUSED]
    page = people.page(f"/b/{build}/in/part.charger")
    box(page).fill("7 kg")
    save(page)
    undo = page.locator("#ripple").get_by_role("button", name="Undo this")
    expect(undo).to_be_visible()
    other(bench, build, "3 kg", DCDC, "part.dcdc.mass")
    undo.click()
    expect(page.locator("#line")).to_contain_text("changed")
    assert '"3 kg, datasheet"' in bench.text(build)
    assert '"7 kg, datasheet"' in bench.text(build)


def test_unknown_is_one_tap(people: People, bench: Bench, build: str) -> None:
    page = people.page(f"/b/{build}/in/part.charger", PHONE)
    count = page.locator("#tally .unknown")
    before = count.inner_text()
    field(page).get_by_role("button", name="Unknown").tap()
    expect(page.locator("#ripple")).to_contain_text("turned")
    expect(field(page).locator(".shown")).to_contain_text("unknown")
    expect(count).not_to_have_text(before)
    assert re.search(r'\[part\.charger\][^\[]*mass = "unknown"', bench.text(build))


def test_a_bad_entry_keeps_its_text_and_is_told_beside_its_field(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [REFUSED]
    page = people.page(f"/b/{build}/in/part.charger", PHONE)
    before = bench.text(build)
    box(page, "part.charger.price").fill("300")
    box(page).fill("heavy")
    save(page)
    problem = field(page).locator(".problem")
    expect(problem).to_contain_text("heavy")
    expect(box(page)).to_have_value("heavy")
    told_by = box(page).get_attribute("aria-describedby")
    assert told_by == problem.get_attribute("id")
    expect(box(page)).to_have_attribute("aria-invalid", "true")
    assert bench.text(build) == before
    # What was typed into another box is there still, and saving the mended one leaves it there.
    box(page).fill("9 kg")
    save(page)
    expect(page.locator("#ripple")).to_contain_text("Saved")
    expect(problem).to_be_hidden()
    expect(box(page, "part.charger.price")).to_have_value("300")


def test_what_one_saves_the_other_sees_without_asking(people: People, build: str) -> None:
    one = people.page(f"/b/{build}/in/part.charger")
    two = people.page(f"/b/{build}/in/part.charger", PHONE)
    two.evaluate("window.stayed = true")
    count = two.locator("#tally .unknown")
    before = count.inner_text()
    field(one).get_by_role("button", name="Unknown").click()
    expect(box(two)).to_have_value("unknown")
    expect(count).not_to_have_text(before)
    assert two.evaluate("window.stayed")


def test_two_who_write_one_value_see_both_and_neither_is_overwritten(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [REFUSED]
    one = people.page(f"/b/{build}/in/part.charger")
    two = people.page(f"/b/{build}/in/part.charger")
    box(two).fill("8 kg")
    box(one).fill("7 kg")
    save(one)
    problem = field(two).locator(".problem")
    # The one who types is told at once, and nothing is put into the box.
    expect(problem).to_contain_text("7 kg, datasheet")
    expect(box(two)).to_have_value("8 kg")
    save(two)
    expect(problem).to_contain_text("There now: 7 kg, datasheet. Yours: 8 kg, datasheet")
    assert '"7 kg, datasheet"' in bench.text(build)
    save(two)
    expect(problem).to_be_hidden()
    expect(box(one)).to_have_value("8 kg")
    assert '"8 kg, datasheet"' in bench.text(build)


def test_a_live_update_leaves_alone_where_somebody_is(
    people: People, bench: Bench, build: str
) -> None:
    page = people.page(f"/b/{build}/in/part.charger")
    box(page, "part.charger.label").fill("half typed")
    box(page, "part.charger.price").focus()
    other(bench, build, "7 kg")
    expect(box(page)).to_have_value("7 kg")
    expect(box(page, "part.charger.label")).to_have_value("half typed")
    expect(box(page, "part.charger.price")).to_be_focused()


def test_what_an_editor_writes_on_disk_comes_onto_the_page(
    people: People, bench: Bench, build: str
) -> None:
    page = people.page(f"/b/{build}/in/part.charger")
    bench.file(build).write_text(bench.text(build).replace(WAS, '"11 kg, measured"'), "utf-8")
    expect(box(page)).to_have_value("11 kg")
    expect(field(page).locator('[name="origin"]')).to_have_value("measured")


def test_a_side_copy_is_tried_compared_and_kept(people: People, bench: Bench, build: str) -> None:
    page = people.page(f"/b/{build}/")
    before = bench.text(build)
    page.get_by_role("button", name="Try something").click()
    expect(page.locator(".trying")).to_be_visible()
    page.goto(f"/b/{build}~try/in/part.charger")
    box(page).fill("30 kg")
    save(page)
    expect(page.locator("#ripple")).to_contain_text("Saved")
    assert bench.text(build) == before
    page.get_by_role("link", name="Compare").click()
    expect(page.locator("#compared")).to_contain_text("30 kg, datasheet")
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator("#ripple")).to_contain_text("kept what was tried")
    assert bench.text(build) == before.replace(WAS, '"30 kg, datasheet"')
    expect(page.locator(".trying")).to_have_count(0)


def cell(page: Page, path: str) -> Locator:
    return page.locator(f'[name="cell:{path}"]')


def test_a_table_is_typed_into_with_the_keyboard_and_saved_as_one(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [REFUSED]
    page = people.page(f"/b/{build}/table/part?only=label,mass,price")
    first = cell(page, "part.motor.mass")
    first.focus()
    page.keyboard.press("Enter")
    expect(cell(page, "part.adaptor.mass")).to_be_focused()
    page.keyboard.press("Shift+Enter")
    expect(first).to_be_focused()
    had = first.input_value()
    first.fill("nonsense")
    page.keyboard.press("Escape")
    expect(first).to_have_value(had)
    first.evaluate(script("paste"), "50 kg, datasheet\t400\r\nheavy\t60\r\n")
    second = cell(page, "part.adaptor.mass")
    expect(second).to_have_value("heavy")
    expect(cell(page, "part.motor.price")).to_have_value("400")
    before = bench.text(build)
    page.get_by_role("button", name="Save the table").click()
    said = second.locator("xpath=ancestor::td").locator(".problem")
    expect(said).to_contain_text("heavy")
    assert second.get_attribute("aria-describedby") == said.get_attribute("id")
    expect(first).to_have_value("50 kg, datasheet")
    assert bench.text(build) == before
    second.fill("5 kg, datasheet")
    page.get_by_role("button", name="Save the table").click()
    expect(page.locator("#ripple")).to_contain_text("moved")
    expect(page.locator(".problem:visible, .changed")).to_have_count(0)
    text = bench.text(build)
    assert '"50 kg, datasheet"' in text
    assert '"5 kg, datasheet"' in text


def test_two_in_one_table_meet_only_in_the_same_cell(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [REFUSED]
    page = people.page(f"/b/{build}/table/part?only=mass")
    cell(page, "part.charger.mass").fill("8 kg, datasheet")
    other(bench, build, "7 kg")
    other(bench, build, "3 kg", DCDC, "part.dcdc.mass")
    # A cell that nobody touched takes the new value, also while another one is typed into.
    expect(cell(page, "part.dcdc.mass")).to_have_value("3 kg, datasheet")
    expect(cell(page, "part.charger.mass")).to_have_value("8 kg, datasheet")
    button = page.get_by_role("button", name="Save the table")
    button.click()
    expect(page.locator("td .problem")).to_contain_text("7 kg, datasheet")
    button.click()
    expect(page.locator("#ripple")).to_contain_text("moved")
    assert '"8 kg, datasheet"' in bench.text(build)
    assert '"3 kg, datasheet"' in bench.text(build)


def test_a_part_in_a_drawing_opens_its_record(people: People, build: str) -> None:
    page = people.page(f"/b/{build}/placement", PHONE)
    # Parts overlap in a view: tap where one lies on top.
    part = page.evaluate(
        """() => {
          for (const each of document.querySelectorAll('.drawing [data-part]')) {
            const box = each.getBoundingClientRect();
            const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
            const top = document.elementFromPoint(x, y)?.closest('[data-part]');
            if (top) return { name: top.dataset.part, x, y };
          }
          return null;
        }"""
    )
    page.touchscreen.tap(part["x"], part["y"])
    page.wait_for_url(f"**/in/part.{part['name']}")


def test_a_form_works_without_scripts(people: People, bench: Bench, build: str) -> None:
    page = people.page(f"/b/{build}/in/part.charger", java_script_enabled=False)
    box(page).fill("7 kg")
    save(page)
    expect(page.locator("#ripple")).to_contain_text("Saved")
    assert '"7 kg, datasheet"' in bench.text(build)
    page.get_by_role("button", name="Undo this").click()
    assert WAS in bench.text(build)


def test_four_corners_are_read_on_a_phone_and_accepted(
    people: People, bench: Bench, build: str
) -> None:
    """The donor sheet from one line to the next, a slip on the way, then into the build."""
    people.watch.expected = [REFUSED]
    page = people.page(f"/b/{build}/sheet/weigh_donor/fl", PHONE)
    for corner, text in {"fl": "318 kg", "fr": "3050 kg", "rl": "240 kg", "rr": "236 kg"}.items():
        expect(page).to_have_url(re.compile(f"/weigh_donor/{corner}$"))
        page.get_by_label("What it shows").fill(text)
        page.get_by_label("Instrument").fill("wheel scales")
        page.get_by_label("Initials").fill("AB")
        page.get_by_role("button", name="Keep and go on").click()
        if corner == "fr":
            expect(page.get_by_role("alert")).to_contain_text("ten times as much as")
            expect(page.get_by_label("What it shows")).to_have_value(text)
            page.get_by_label("What it shows").fill("305 kg")
            page.get_by_role("button", name="Keep and go on").click()
    before = bench.text(build)
    for number in range(1, 5):
        page.goto(f"/b/{build}/reading/{number}")
        expect(page.get_by_role("heading", name="If it is accepted")).to_be_visible()
        page.get_by_role("button", name="Accept it").click()
        expect(page.locator("#ripple")).to_contain_text(f"reading {number} accepted into")
    now = bench.text(build)
    assert now != before
    assert 'rl = "240 kg ± 1.7 kg, measured, wheel scales, reading 3' in now
    page.goto(f"/b/{build}/sheets")
    expect(page.get_by_text("stands in the build")).to_have_count(4)
