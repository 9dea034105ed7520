"""What was typed survives a lost network, a stopped server and a closed page."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from browser_builders import PHONE, WAS, Bench, People

pytestmark = pytest.mark.xdist_group("browser-flows")

COPIES = 9
MASS, PRICE = "part.charger.mass", "part.charger.price"
# A server that stops may still answer a stream that was just asked for with a 500.
LOST = (
    r"ERR_INTERNET_DISCONNECTED|ERR_CONNECTION_REFUSED|ERR_INCOMPLETE|ERR_EMPTY|ERR_FAILED"
    r"|status of 500"
)
CLASHED = "status of 409"


def field(page: Page, path: str) -> Locator:
    return page.locator(f'[data-field="{path}"]')


def enter(page: Page, path: str, quantity: str) -> None:
    field(page, path).locator('[name="quantity"]').fill(quantity)
    field(page, path).get_by_role("button", name="Save").click()


def value(page: Page, path: str) -> Locator:
    return field(page, path).locator('[name="quantity"]')


def changes(page: Page, build: str) -> list[str]:
    """List what changed the build, newest first."""
    page.goto(f"/b/{build}/history")
    return page.locator(".revisions b").all_inner_texts()


def test_without_a_network_entries_wait_and_go_out_in_their_order(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [LOST]
    page = people.page(f"/b/{build}/in/part.charger", PHONE)
    before = bench.text(build)
    page.context.set_offline(True)
    expect(page.locator("#lost")).to_contain_text("No connection")
    enter(page, MASS, "7 kg")
    waiting = page.locator("#waiting")
    expect(waiting).to_contain_text("1 entry waits")
    enter(page, PRICE, "300")
    expect(waiting).to_contain_text("2 entries wait")
    # The same field once more: the last word counts, and does not meet the first as a stranger's.
    enter(page, MASS, "8 kg")
    expect(field(page, MASS)).to_have_class(re.compile("waits"))
    expect(waiting).to_contain_text("2 entries wait")
    assert bench.text(build) == before
    page.context.set_offline(False)
    expect(waiting).to_be_hidden()
    expect(page.locator("#lost")).to_be_empty()
    assert '"8 kg, datasheet"' in bench.text(build)
    said = changes(page, build)
    assert len(said) == 3
    assert said[0].startswith(f"3. {MASS}")
    assert said[1].startswith(f"2. {PRICE}")


def test_undo_does_not_wait(people: People, build: str) -> None:
    """Later it might take back what somebody else did meanwhile."""
    people.watch.expected = [LOST]
    page = people.page(f"/b/{build}/in/part.charger")
    page.context.set_offline(True)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#line")).to_contain_text("not done")
    expect(page.locator("#waiting")).to_be_hidden()


def test_a_server_that_stops_and_starts_again_gets_what_was_typed_meanwhile(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [LOST]
    page = people.page(f"/b/{build}/in/part.charger")
    other = people.page(f"/b/{build}/table/part?only=mass,price")
    bench.stop()
    expect(page.locator("#lost")).to_contain_text("No connection")
    enter(page, MASS, "7 kg")
    expect(page.locator("#waiting")).to_contain_text("1 entry waits")
    other.locator('[name="cell:part.dcdc.mass"]').fill("3 kg, datasheet")
    other.get_by_role("button", name="Save the table").click()
    expect(other.locator("#waiting")).to_contain_text("1 entry waits")
    # The page is closed before the server is back, and another one opened afterwards.
    context = page.context
    page.close()
    bench.start()
    expect(other.locator("#waiting")).to_be_hidden()
    assert '"3 kg, datasheet"' in bench.text(build)
    assert WAS in bench.text(build)
    page = context.new_page()
    page.goto(f"/b/{build}/")
    expect(page.locator("#line")).to_contain_text("saved")
    expect(page.locator("#waiting")).to_be_hidden()
    assert '"7 kg, datasheet"' in bench.text(build)


def test_a_conflict_found_late_is_shown_and_the_entry_kept(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [LOST, CLASHED]
    page = people.page(f"/b/{build}/in/part.charger", PHONE)
    page.context.set_offline(True)
    enter(page, MASS, "8 kg")
    enter(page, PRICE, "300")
    waiting = page.locator("#waiting")
    expect(waiting).to_contain_text("2 entries wait")
    fields = {"path": MASS, "quantity": "7 kg", "origin": "datasheet", "was": WAS}
    bench.send(f"/b/{build}/set", **fields)
    page.context.set_offline(False)
    # What did not clash went out; what did is shown with both values, on any page, reloaded or not.
    expect(waiting).to_contain_text("There now: 7 kg, datasheet. Yours: 8 kg, datasheet")
    page.goto(f"/b/{build}/areas")
    expect(waiting).to_contain_text("Yours")
    assert '"7 kg, datasheet"' in bench.text(build)
    assert "price = 300" in bench.text(build)
    waiting.get_by_role("link", name="Look at it").click()
    expect(value(page, MASS)).to_have_value("8 kg")
    expect(field(page, MASS).locator(".problem")).to_contain_text("Yours")
    field(page, MASS).get_by_role("button", name="Save").click()
    expect(waiting).to_be_hidden()
    assert '"8 kg, datasheet"' in bench.text(build)


def test_an_entry_that_was_refused_late_can_be_dropped(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [LOST, "status of 422"]
    page = people.page(f"/b/{build}/in/part.charger")
    before = bench.text(build)
    page.context.set_offline(True)
    enter(page, MASS, "heavy")
    page.context.set_offline(False)
    waiting = page.locator("#waiting")
    expect(waiting).to_contain_text("heavy")
    waiting.get_by_role("button", name="Drop it").click()
    expect(waiting).to_be_hidden()
    expect(value(page, MASS)).to_have_value("6.9 kg")
    assert bench.text(build) == before


def add(page: Page, name: str) -> None:
    form = page.locator('[data-later="add"]')
    form.locator('[name="name"]').fill(name)
    form.get_by_role("button", name="Add").click()


def renamed(page: Page, name: str) -> None:
    form = page.locator('[data-later="rename"]')
    if not form.is_visible():
        page.get_by_text("Rename or delete").click()
    form.locator('[name="name"]').fill(name)
    form.get_by_role("button", name="Rename").click()


def test_what_is_added_without_a_network_comes_into_being_later(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [LOST]
    page = people.page(f"/b/{build}/table/part?only=mass", PHONE)
    page.context.set_offline(True)
    expect(page.locator("#lost")).to_contain_text("photos and other files are not")
    add(page, "shelf_left")
    waiting = page.locator("#waiting")
    expect(waiting).to_contain_text("shelf_left")
    # The box is free for the next one, and the same once more is no second one.
    expect(page.locator('[data-later="add"] [name="name"]')).to_have_value("")
    add(page, "shelf_right")
    add(page, "shelf_right")
    expect(waiting).to_contain_text("2 entries wait")
    # Another page of the same browser sends nothing twice.
    other = page.context.new_page()
    page.context.set_offline(False)
    other.goto(f"/b/{build}/")
    expect(waiting).to_be_hidden()
    assert bench.text(build).count("[part.shelf_left]") == 1
    assert bench.text(build).count("[part.shelf_right]") == 1
    said = changes(other, build)
    assert [each.partition(". ")[2] for each in said[:2]] == [
        "part.shelf_right added",
        "part.shelf_left added",
    ]


def test_a_name_that_somebody_else_took_meanwhile_is_refused_and_kept(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [LOST, "status of 422"]
    page = people.page(f"/b/{build}/table/part?only=mass")
    page.context.set_offline(True)
    add(page, "shelf")
    waiting = page.locator("#waiting")
    expect(waiting).to_contain_text("1 entry waits")
    bench.send(f"/b/{build}/rename", path="part.dcdc", name="shelf")
    before = bench.text(build)
    page.context.set_offline(False)
    expect(waiting).to_contain_text("there is something called part.shelf already")
    assert bench.text(build) == before
    page.goto(f"/b/{build}/areas")
    waiting.get_by_role("link", name="Look at it").click()
    form = page.locator('[data-later="add"]')
    expect(form.locator('[name="name"]')).to_have_value("shelf")
    expect(form.locator(".problem")).to_contain_text("already")
    add(page, "shelf_above")
    expect(page).to_have_url(re.compile(r"/in/part\.shelf_above"))
    expect(page.locator("#waiting")).to_be_hidden()


def test_a_rename_waits_for_what_was_typed_under_the_old_name(
    people: People, bench: Bench, build: str
) -> None:
    people.watch.expected = [LOST]
    page = people.page(f"/b/{build}/in/part.charger")
    page.context.set_offline(True)
    renamed(page, "wall_charger")
    expect(page.locator("#waiting")).to_contain_text("charger renamed to wall_charger")
    enter(page, MASS, "8 kg")
    expect(page.locator("#waiting")).to_contain_text("2 entries wait")
    page.context.set_offline(False)
    expect(page).to_have_url(re.compile(r"/in/part\.wall_charger"))
    expect(page.locator("#waiting")).to_be_hidden()
    text = bench.text(build)
    assert "[part.charger]" not in text
    assert '"8 kg, datasheet"' in text.partition("[part.wall_charger]")[2][:600]


def test_what_is_sent_by_the_browser_itself_is_not_lost_in_a_page_of_errors(
    people: People, build: str
) -> None:
    people.watch.expected = [LOST]
    page = people.page(f"/b/{build}/history/1")
    page.context.set_offline(True)
    expect(page.locator("#lost")).to_contain_text("No connection")
    page.get_by_text("Sign this revision").click()
    page.get_by_label("What you state").fill("seen")
    page.get_by_label("Your name").fill("Ada")
    page.get_by_role("button", name="Sign").click()
    expect(page.locator("#line")).to_contain_text("not kept for later")
    expect(page.get_by_label("What you state")).to_have_value("seen")
