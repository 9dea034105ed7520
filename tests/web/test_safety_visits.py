"""Who may do what: the host, paired devices, guests, programs and strangers."""

from __future__ import annotations

import asyncio
import hashlib
from http.cookies import SimpleCookie
from pathlib import Path

import pytest
from small_server import EVENING, HERE, ON_LAN, PORT, Bench, Browser, ask, token_at

from wattwright.web.safety import visit

READ = ("/", "/api/state", "/plain")


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path)


def cookie(browser: Browser) -> str:
    return browser.cookies["paired"]


def change(browser: Browser, **headers: str) -> int:
    """Change something with the token of a page."""
    return browser.post("/change", data={"token": token_at(browser)}, headers=headers).status_code


@pytest.mark.parametrize("address", ["127.0.0.1", "::1", "127.8.8.8", "::ffff:127.0.0.1"])
def test_the_person_at_the_machine_needs_no_pairing(bench: Bench, address: str) -> None:
    browser = Browser(bench.guard, f"http://{HERE}", (address, 50_001))
    assert browser.get("/").text == "<p>host</p>"
    assert browser.get("/devices").status_code == 200
    assert change(browser) == 200
    assert not browser.cookies


@pytest.mark.parametrize("address", ["192.168.7.20", "", "testclient", "0.0.0.0"])
def test_started_for_this_machine_alone_nobody_else_is_answered(
    tmp_path: Path, address: str
) -> None:
    bench = Bench(tmp_path, lan=False)
    answer = Browser(bench.guard, client=(address, 50_000)).get("/pair")
    assert answer.status_code == 403
    assert "this machine alone" in answer.text


def test_the_host_is_known_by_address_and_name_together(bench: Bench) -> None:
    """A name on the local network can be made to point here by whoever is on it."""
    for name in (f"garage.local:{PORT}", f"{ON_LAN}:{PORT}"):
        assert bench.host().get("/", headers={"host": name}).status_code == 401
    assert Browser(bench.guard, client=("192.168.7.20", 50_000)).get("/").status_code == 401


@pytest.mark.parametrize("name", ["X-Forwarded-For", "Forwarded", "Via", "X-Real-IP"])
def test_what_another_program_passes_on_does_not_come_from_the_host(
    bench: Bench, name: str
) -> None:
    assert bench.host().get("/", headers={name: "127.0.0.1"}).status_code == 401


def test_another_user_of_the_machine_is_not_the_host(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[object] = []
    monkeypatch.setattr(visit, "let_in_by_system", lambda *ends: asked.append(ends))
    assert bench.host().get("/").status_code == 401
    assert asked == [(("127.0.0.1", 50_001), PORT)]


def test_a_stranger_sees_the_pairing_page_and_nothing_else(bench: Bench) -> None:
    stranger = bench.near()
    for path in (*READ, "/devices", "/events", "/nowhere", "/pairs", "/staticx"):
        answer = stranger.get(path)
        assert answer.status_code == 401, path
    assert stranger.get("/pair").status_code == 200
    assert stranger.get("/static/plain.css").status_code == 200
    assert stranger.post("/change").status_code == 401
    assert bench.changes == []


def test_the_page_for_strangers_leads_to_pairing_and_back(bench: Bench) -> None:
    """A paired device that follows a link from elsewhere comes without its cookie."""
    answer = bench.near().get("/plain?a=%3Cscript%3E&b=2")
    assert '<a class="button" href="/plain?a=%3Cscript%3E&amp;b=2">' in answer.text
    assert '<a class="button" href="/pair">' in answer.text
    assert "<script" not in answer.text


def test_a_paired_device_may_do_all_but_what_the_host_keeps(bench: Bench) -> None:
    phone = bench.phone()
    assert phone.get("/").text == "<p>full</p>"
    assert change(phone) == 200
    answer = phone.get("/devices")
    assert answer.status_code == 403
    assert "at the machine that the workbench runs on" in answer.text


def test_a_guest_may_look_and_change_nothing(bench: Bench) -> None:
    guest = bench.guest()
    for path in READ:
        assert guest.get(path).status_code == 200, path
    answer = guest.post("/change", data={"token": token_at(guest)})
    assert answer.status_code == 403
    assert "a guest can look" in answer.text
    for method in ("POST", "PUT", "PATCH", "DELETE", "OPTIONS"):
        assert guest.request(method, "/api/state").status_code == 403, method
    assert guest.get("/devices").status_code == 403
    assert bench.changes == []


def test_a_paired_browser_survives_a_restart(bench: Bench) -> None:
    phone = bench.phone()
    token = token_at(phone)
    later = bench.restarted().near()
    later.cookies = phone.cookies
    assert later.post("/change", data={"token": token}).status_code == 200


def test_the_cookie_is_kept_from_scripts_and_other_sites(bench: Bench) -> None:
    browser = bench.near()
    data = {"token": token_at(browser, "/pair"), "code": bench.devices.codes.offer().text}
    answer = browser.post("/pair", data={**data, "name": "phone"})
    [morsel] = SimpleCookie(answer.headers["set-cookie"]).values()
    assert morsel.key == "paired"
    assert (morsel["httponly"], morsel["samesite"], morsel["path"]) == (True, "Strict", "/")
    assert (morsel["secure"], morsel["domain"]) == ("", "")
    assert morsel["max-age"] == str(90 * 86_400)


def test_the_cookie_is_another_after_pairing_and_the_old_one_opens_nothing(bench: Bench) -> None:
    browser = bench.near()
    token_at(browser, "/pair")
    before = cookie(browser)
    browser = bench.phone()
    first = cookie(browser)
    assert before != first
    data = {"token": token_at(browser), "code": bench.devices.codes.offer().text, "name": "again"}
    assert browser.post("/pair", data=data).status_code == 200
    assert cookie(browser) != first
    assert bench.devices.role_of(first) is None
    assert bench.devices.role_of(cookie(browser)) == "full"


def test_a_cookie_given_by_somebody_else_is_not_kept_when_pairing(bench: Bench) -> None:
    browser = bench.near()
    browser.cookies.set("paired", "known-to-another", domain=ON_LAN, path="/")
    token = token_at(browser, "/pair")
    code = bench.devices.codes.offer().text
    browser.post("/pair", data={"token": token, "code": code, "name": "phone"})
    assert bench.devices.role_of("known-to-another") is None


def test_the_cookie_is_renewed_once_a_day(bench: Bench) -> None:
    phone = bench.phone()
    assert "set-cookie" in phone.get("/").headers
    assert "set-cookie" not in phone.get("/").headers
    bench.watch.after(days=1)
    assert f"paired={cookie(phone)}" in phone.get("/").headers["set-cookie"]


def test_a_revoked_device_is_a_stranger_at_once(bench: Bench) -> None:
    phone = bench.phone()
    token = token_at(phone)
    bench.devices.revoke(bench.devices.all()[0].id)
    assert phone.get("/").status_code == 401
    assert phone.post("/change", data={"token": token}).status_code == 401
    assert bench.changes == []


def test_a_device_can_leave(bench: Bench) -> None:
    phone = bench.phone()
    held = cookie(phone)
    assert phone.post("/leave", data={"token": token_at(phone)}).status_code == 200
    assert not phone.cookies
    assert bench.devices.role_of(held) is None


def test_a_change_needs_the_token_of_the_visitors_own_page(bench: Bench) -> None:
    phone, host, guest = bench.phone(), bench.host(), bench.guest()
    for token in ("", "x", token_at(host), token_at(guest), "é"):
        answer = phone.post("/change", data={"token": token})
        assert answer.status_code == 403, token
        assert "open the page again" in answer.text
    assert phone.post("/change").status_code == 403
    assert phone.request("DELETE", "/change").status_code == 403
    assert phone.post("/change?token=" + token_at(phone)).status_code == 403
    assert bench.changes == []
    assert phone.post("/change", headers={"x-token": token_at(phone)}).status_code == 200


def test_two_token_headers_are_refused(bench: Bench) -> None:
    token = token_at(bench.host())
    headers = [("host", HERE), ("x-token", "x"), ("x-token", token)]
    status, _, said = asyncio.run(ask(bench, method="POST", path="/change", headers=headers))
    assert (status, "came 2 times" in said) == (400, True)


def test_the_token_is_an_hmac_by_rfc_2104_of_whom_it_is_for(bench: Bench) -> None:
    """Worked out from the definition, not with the library that the guard uses."""
    key = bench.devices.secret.ljust(64, b"\0")
    inner = hashlib.sha256(bytes(b ^ 0x36 for b in key) + b"form host").digest()
    outer = hashlib.sha256(bytes(b ^ 0x5C for b in key) + inner).hexdigest()
    assert token_at(bench.host()) == outer


def test_a_program_comes_with_its_token_alone(bench: Bench) -> None:
    token = cookie(bench.phone())
    script = bench.near("192.168.7.40")
    own = {"authorization": f"Bearer {token}"}
    answer = script.post("/api/state", headers=own)
    assert (answer.status_code, answer.json()) == (200, {"role": "full"})
    assert bench.changes == ["api"]
    # Elsewhere the header counts for nothing.
    assert script.get("/", headers=own).status_code == 401
    assert script.post("/change", headers=own).status_code == 401


@pytest.mark.parametrize("shown", ["Bearer nonsense", "Bearer", "Basic aG9zdDo=", "Bearer "])
def test_a_wrong_program_token_is_refused_even_from_the_host(bench: Bench, shown: str) -> None:
    answer = bench.host().get("/api/state", headers={"authorization": shown})
    assert answer.status_code == 401
    assert "opens nothing here" in answer.json()["message"]


def test_a_program_of_a_guest_may_only_look(bench: Bench) -> None:
    own = {"authorization": f"Bearer {cookie(bench.guest())}"}
    assert bench.near().get("/api/state", headers=own).json() == {"role": "guest"}
    assert bench.near().post("/api/state", headers=own).status_code == 403


def test_a_page_elsewhere_cannot_use_a_program_token_either(bench: Bench) -> None:
    own = {"authorization": f"Bearer {cookie(bench.phone())}", "origin": "http://evil.example"}
    assert bench.near().post("/api/state", headers=own).status_code == 403


def test_the_api_takes_cookie_and_header_like_the_pages(bench: Bench) -> None:
    phone = bench.phone()
    assert phone.post("/api/state").status_code == 403
    answer = phone.post("/api/state", headers={"x-token": token_at(phone)})
    assert answer.json() == {"role": "full"}


def test_a_code_cannot_be_used_again(bench: Bench) -> None:
    code = bench.devices.codes.offer().text

    def paired(address: str) -> tuple[int, str]:
        browser = bench.near(address)
        data = {"token": token_at(browser, "/pair"), "code": code, "name": "x"}
        answer = browser.post("/pair", data=data)
        return answer.status_code, answer.text

    assert paired("192.168.7.20")[0] == 200
    status, said = paired("192.168.7.21")
    assert (status, "no code is valid now" in said) == (403, True)


def test_guessing_is_slowed_and_ends_the_code(bench: Bench) -> None:
    code = bench.devices.codes.offer().text
    browser = bench.near("192.168.7.66")
    data = {"token": token_at(browser, "/pair"), "code": "22222222", "name": "x"}
    waits = []
    for _ in range(5):
        answer = browser.post("/pair", data=data)
        assert answer.status_code == 403
        waits.append(int(answer.headers["retry-after"]))
        again = browser.post("/pair", data={**data, "code": code})
        assert "too many wrong codes" in again.text
        bench.watch.after(waits[-1])
    assert waits == [1, 2, 4, 8, 16]
    assert "no code is valid now" in browser.post("/pair", data={**data, "code": code}).text
    assert bench.devices.all() == ()


def test_an_expired_code_is_refused(bench: Bench) -> None:
    code = bench.devices.codes.offer().text
    browser = bench.near()
    data = {"token": token_at(browser, "/pair"), "code": code, "name": "x"}
    bench.watch.after(300)
    assert "no code is valid now" in browser.post("/pair", data=data).text


def test_opening_a_guest_link_uses_it_only_when_the_form_is_sent(bench: Bench) -> None:
    """Programs that show previews of links open them too."""
    link = f"/guest/{bench.devices.invite('inspector', 7)}"
    for _ in range(3):
        assert bench.near().get(link).status_code == 200
    guest = bench.near()
    token = token_at(guest, link)
    assert guest.post(link, data={"token": token}).status_code == 200
    assert guest.get("/").text == "<p>guest</p>"
    other = bench.near()
    assert "this link was used" in other.post(link, data={"token": token_at(other, link)}).text


def test_a_guest_ends_on_the_day_given(bench: Bench) -> None:
    guest = bench.guest(days=2)
    bench.watch.after(days=1.9)
    assert guest.get("/").status_code == 200
    bench.watch.after(days=0.2)
    assert guest.get("/").status_code == 401
    assert bench.watch.now > EVENING


def test_pages_for_strangers_give_no_cookie_unless_they_hold_a_form(bench: Bench) -> None:
    assert "set-cookie" not in bench.near().get("/static/plain.css").headers
    given = bench.near().get("/pair").headers["set-cookie"]
    assert "Max-Age" not in given
