"""What was typed survives a lost network, a stopped server and a closed page."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from browser_builders import PHONE, WAS, Bench, People

pytestmark = pytest.mark.xdist_group("browser-flows")

COPIES = 5
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
