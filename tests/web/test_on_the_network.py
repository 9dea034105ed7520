"""The whole workbench as devices on the local network meet it: strangers, paired ones, guests."""

from __future__ import annotations

import html
import io
import re
import zipfile
from collections.abc import Callable, Iterator

import pytest
from starlette.testclient import TestClient

from form_posts import filled_in, get_routes, post_routes
from wattwright.build.sampled_files import LARGEST_ROUTE
from wattwright.journal.belonging import LARGEST_IN_ALL
from wattwright.web.app import made
from wattwright.web.limits import LIMITS
from wattwright.web.shelf import Shelf
from web_builders import PORT, Workbench

PICKUP = "orchard-pickup"
THERE = f"http://192.0.2.7:{PORT}"
HOST_ONLY = ("/devices",)
OPEN_TO_ALL = ("/pair", "/guest", "/static")
Open = Callable[..., Workbench]

_ROUTES = made(Shelf([])).routes
FORMS = sorted(filled_in(each, PICKUP) for each in post_routes(_ROUTES))
PAGES = sorted(
    filled_in(each, PICKUP) for each in get_routes(_ROUTES) if not each.endswith("/events")
)


def device(bench: Workbench, address: str = "192.0.2.50") -> TestClient:
    """Another machine, which asks by the address that was shown to it."""
    return TestClient(bench.client.app, base_url=THERE, client=(address, 50_000))


def token_on(page: str) -> str:
    found = re.search(r'name="token" (?:content|value)="([0-9a-f]+)"', page)
    assert found, page[:500]
    return found[1]


def paired(bench: Workbench, name: str) -> TestClient:
    phone = device(bench)
    code = bench.settings.devices.codes.offer().text
    page = phone.get("/pair", params={"code": code})
    assert f'value="{code}"' in page.text
    answer = phone.post("/pair", data={"token": token_on(page.text), "code": code, "name": name})
    assert answer.status_code == 200, answer.text
    assert "Tonight" in answer.text
    return phone


def guest(bench: Workbench) -> TestClient:
    _, page = bench.send("/devices/guest", name="the engineer")
    found = re.search(rf"{THERE}(/guest/[\w-]+)", page)
    assert found, page
    visitor = device(bench, "192.0.2.51")
    asked = visitor.get(found[1])
    assert "Come in" in asked.text
    # The address alone uses nothing up: whoever previews a link does not spend it.
    answer = visitor.post(found[1], data={"token": token_on(asked.text)})
    assert answer.status_code == 200, answer.text
    again = device(bench, "192.0.2.52")
    token = token_on(again.get(found[1]).text)
    assert again.post(found[1], data={"token": token}).status_code == 403
    return visitor


def test_a_stranger_sees_the_pairing_page_and_nothing_else(workbench: Open) -> None:
    bench = workbench(PICKUP, lan=True)
    stranger = device(bench)
    for path in PAGES:
        answer = stranger.get(path, follow_redirects=False)
        if path.startswith(OPEN_TO_ALL):
            assert answer.status_code in (200, 404), path
            assert "orchard" not in answer.text.lower(), path
        else:
            assert answer.status_code in (401, 403), path
            assert "orchard" not in answer.text.replace(path, ""), path
    for path in FORMS:
        assert stranger.post(path).status_code in (401, 403), path
    assert device(bench, "127.0.0.1").get(f"/b/{PICKUP}/").status_code == 401


def test_without_the_network_nobody_else_is_answered(workbench: Open) -> None:
    bench = workbench(PICKUP)
    for path in ("/pair", "/", f"/b/{PICKUP}/", "/static/x/workbench.css"):
        assert device(bench).get(path).status_code in (403, 421), path


def test_a_paired_device_changes_values_under_its_name_until_it_is_revoked(
    workbench: Open,
) -> None:
    bench = workbench(PICKUP, lan=True)
    phone = paired(bench, "  Ada\x1b[2J at the bench ")
    page = phone.get(f"/b/{PICKUP}/field/donor.description").text
    answer = phone.post(
        f"/b/{PICKUP}/set",
        data={
            "token": token_on(page),
            "path": "donor.description",
            "quantity": "a small pickup",
            "was": bench.written(PICKUP, "donor.description") or "",
        },
    )
    assert answer.status_code == 200, answer.text[:2000]
    who = bench.shelf.desk(PICKUP).keeper.head().who
    assert who == "Ada?[2J at the bench"
    assert "Ada" in bench.page(f"/b/{PICKUP}/history")
    for path in (*PAGES, *FORMS):
        if path.startswith(HOST_ONLY):
            headers = {"x-token": token_on(phone.get("/look").text)}
            assert phone.get(path).status_code in (403, 405), path
            assert phone.post(path, headers=headers).status_code in (403, 405), path
    (listed,) = bench.settings.devices.all()
    assert bench.send("/devices/revoke", id=listed.id)[0] == 200
    assert phone.get(f"/b/{PICKUP}/").status_code == 401
    assert phone.post(f"/b/{PICKUP}/undo").status_code == 401


def test_a_guest_reads_every_page_and_changes_nothing(workbench: Open) -> None:
    bench = workbench(PICKUP, lan=True)
    visitor = guest(bench)
    for path in PAGES:
        answer = visitor.get(path, follow_redirects=False)
        if path.startswith(HOST_ONLY):
            assert answer.status_code == 403, path
        else:
            assert answer.status_code in (200, 303, 404), (path, answer.text[:300])
            assert 'class="main save"' not in answer.text, path
    token = token_on(visitor.get("/look").text)
    desk = bench.shelf.desk(PICKUP)
    for path in FORMS:
        # Going away again is all that a guest may do.
        if not path.startswith((*OPEN_TO_ALL, "/leave")):
            answer = visitor.post(path, headers={"x-token": token}, follow_redirects=False)
            assert answer.status_code == 403, path
    assert desk.keeper.head().number == 1
    assert list(bench.shelf.names) == [PICKUP]


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"x-token": "0" * 64},
        {"x-token": "TOKEN", "origin": "http://elsewhere.example"},
        {"x-token": "TOKEN", "origin": "null"},
        {"x-token": "TOKEN", "sec-fetch-site": "cross-site"},
        {"x-token": "TOKEN", "sec-fetch-site": "same-site"},
    ],
    ids=str,
)
def test_no_page_from_elsewhere_posts_anything(workbench: Open, headers: dict[str, str]) -> None:
    bench = workbench(PICKUP)
    token = bench.token()
    asked = {name: token if each == "TOKEN" else each for name, each in headers.items()}
    for path in FORMS:
        assert bench.client.post(path, headers=asked).status_code == 403, path
    assert bench.shelf.desk(PICKUP).keeper.head().number == 1
    assert list(bench.shelf.names) == [PICKUP]


def forms_on(page: str) -> Iterator[tuple[str, str]]:
    yield from re.findall(r"<form\b([^>]*)>(.*?)</form>", page, re.DOTALL)


def test_the_token_stands_first_in_every_form(workbench: Open) -> None:
    """The guard looks for it at the head of what is sent, before a file comes."""
    bench = workbench(PICKUP, lan=True)
    bench.shelf.begin_try(PICKUP)
    more = [
        f"/b/{PICKUP}/field/part.motor.curve",
        f"/b/{PICKUP}~try/",
        f"/b/{PICKUP}/in/part.motor",
    ]
    more += [f"/b/{PICKUP}/field/donor.wheelbase", f"/b/{PICKUP}/table/case.full.aboard"]
    seen = uploads = 0
    for path in (*PAGES, *more):
        answer = bench.client.get(path)
        for head, inside in forms_on(answer.text):
            if 'method="post"' not in head:
                continue
            first = re.search(r'\bname="([^"]*)"', inside)
            assert first, (path, head)
            assert first[1] == "token", (path, head)
            seen += 1
            uploads += "multipart/form-data" in head
            assert ('type="file"' in inside) == ("multipart/form-data" in head), (path, head)
    assert seen > 30
    assert uploads >= 4


# ---------------------------------------------------------------------------------------- uploads


def upload(bench: Workbench, to: str, field: str, name: str, raw: bytes, /, **fields: str) -> int:
    answer = bench.client.post(
        to,
        data={"token": bench.token(), **fields},
        files={field: (name, raw, "image/png")},
        follow_redirects=False,
    )
    assert "Traceback" not in answer.text
    return answer.status_code


@pytest.mark.parametrize(
    "raw",
    [
        b"<!doctype html><script>alert(1)</script>",
        b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        b"MZ\x90\x00" + b"\0" * 200,
        b"GIF89a" + b"\0" * 50,
        b"\x89PNG\r\n\x1a\n<html>",
        b"",
    ],
)
def test_what_is_no_picture_is_no_photo(workbench: Open, raw: bytes) -> None:
    bench = workbench(PICKUP)
    assert upload(bench, f"/b/{PICKUP}/photos", "photo", "x.png", raw) == 422
    assert bench.shelf.desk(PICKUP).keeper.photos() == ()


def zipped(bench: Workbench, **more: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made_zip:
        for file in sorted((bench.folder / PICKUP).iterdir()):
            if file.is_file() and file.name[0] != "." and file.suffix in (".toml", ".csv", ".gpx"):
                made_zip.write(file, file.name)
        for name, raw in more.items():
            made_zip.writestr(name, raw)
    return out.getvalue()


@pytest.mark.parametrize(
    "name", ["../outside.txt", "/outside.txt", "a/../../outside.txt", "..\\outside.txt", "C:/x.txt"]
)
def test_no_zip_writes_outside_its_folder(workbench: Open, name: str) -> None:
    bench = workbench(PICKUP)
    raw = zipped(bench, **{name: b"x"})
    assert upload(bench, "/builds/import", "file", "b.zip", raw, name="taken") == 422
    assert not (bench.folder / "taken").exists()
    assert not list(bench.folder.parent.rglob("outside.txt"))
    assert list(bench.shelf.names) == [PICKUP]


def test_a_large_zip_is_taken(workbench: Open) -> None:
    bench = workbench(PICKUP)
    raw = zipped(bench, **{"manual.csv": bytes(range(256)) * 12_000})
    assert len(raw) > 3_000_000
    assert upload(bench, "/builds/import", "file", "b.zip", raw, name="taken") == 303
    assert (bench.folder / "taken" / "manual.csv").is_file()
    assert LIMITS.body_for("/builds/import") > LARGEST_IN_ALL
    assert LIMITS.body_for("/builds/new") == 1_000_000


def test_a_route_a_file_and_a_table_may_be_as_large_as_they_say(workbench: Open) -> None:
    bench = workbench(PICKUP)
    head = b"speed (rpm), torque (N\xc2\xb7m)\n0, 220\n9000, 60\n"
    raw = head + b"\n" * (LARGEST_ROUTE - 5_000)
    to = f"/b/{PICKUP}/files"
    # Too large for a curve, not for the address: a route may be as long.
    assert upload(bench, to, "file", "x.csv", raw, path="part.motor.curve") == 422
    text = bench.text(PICKUP) + "# ä\n" * 350_000
    digest = bench.shelf.desk(PICKUP).view().revision.digest
    status, page = bench.send(f"/b/{PICKUP}/file", text=text, digest=digest)
    assert status == 200, page[:500]
    assert bench.text(PICKUP) == text
    page = bench.client.get(f"/b/{PICKUP}/table/part?all=1").text
    found = re.findall(r'name="((?:cell|was):[^"]+)" value="([^"]*)"', page)
    assert len(found) > 1_000
    fields = {name: html.unescape(each) for name, each in found}
    assert bench.send(f"/b/{PICKUP}/table/part", **fields)[0] == 200


@pytest.mark.parametrize(
    ("to", "field"), [("photos", "photo"), ("files", "file"), ("csv/part", "file"), ("set", "x")]
)
def test_a_body_that_is_too_large_is_refused_in_words(workbench: Open, to: str, field: str) -> None:
    bench = workbench(PICKUP)
    token = bench.token()
    most = LIMITS.body_for(f"/b/{PICKUP}/{to}")
    kind = {"x-token": token, "content-type": "multipart/form-data; boundary=x"}
    head = f'--x\r\nContent-Disposition: form-data; name="{field}"; filename="x.csv"\r\n\r\n'

    def pieces() -> Iterator[bytes]:
        yield head.encode()
        for _ in range(most // 500_000 + 1):
            yield b"\0" * 500_000

    announced = bench.client.post(
        f"/b/{PICKUP}/{to}", content=head.encode() + b"\0" * most, headers=kind
    )
    # Without a length it is noticed only while it comes.
    coming = bench.client.post(f"/b/{PICKUP}/{to}", content=pieces(), headers=kind)
    for answer in (announced, coming):
        assert answer.status_code == 413
        assert "too large: at most" in answer.text
    assert bench.shelf.desk(PICKUP).keeper.head().number == 1


# -------------------------------------------------------------------------------------- downloads


def test_downloads_say_what_they_are_and_nothing_is_guessed(workbench: Open) -> None:
    bench = workbench(PICKUP)
    from PIL import Image

    picture = io.BytesIO()
    Image.new("RGB", (8, 8), "red").save(picture, "PNG")
    assert upload(bench, f"/b/{PICKUP}/photos", "photo", "a.png", picture.getvalue()) == 303
    number = bench.shelf.desk(PICKUP).keeper.photos()[0].id
    for path, kind in (
        (f"/b/{PICKUP}/drawing/side.svg", "image/svg+xml"),
        (f"/b/{PICKUP}/photos/{number}", "image/jpeg"),
        (f"/b/{PICKUP}/csv/part.csv", "text/csv; charset=utf-8"),
        (f"/b/{PICKUP}/export.zip", "application/zip"),
    ):
        answer = bench.client.get(path)
        assert answer.status_code == 200, path
        assert answer.headers["content-type"] == kind
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert "default-src 'none'" in answer.headers["content-security-policy"]
    for path in (f"/b/{PICKUP}/csv/part.csv", f"/b/{PICKUP}/export.zip"):
        head = bench.client.get(path).headers["content-disposition"]
        assert re.fullmatch(r'attachment; filename="[A-Za-z0-9._~-]+"', head), head


@pytest.mark.parametrize("name", ["ä", "日本", 'a"b', "a;b", "a\\\\b", "a b"])
def test_a_name_that_only_a_broken_file_has_makes_no_odd_file_name(
    workbench: Open, name: str
) -> None:
    bench = workbench(PICKUP)
    file = bench.folder / PICKUP / "build.toml"
    quoted = name.replace('"', '\\"')
    text = file.read_text(encoding="utf-8") + f'\n[case."{quoted}".aboard]\ndriver = "80 kg"\n'
    file.write_text(text, encoding="utf-8")
    path = f"case.{name}.aboard.csv".replace("\\\\", "\\")
    answer = bench.client.get(f"/b/{PICKUP}/csv/{path}")
    assert answer.status_code in (200, 400, 404), answer.text
    if answer.status_code == 200:
        head = answer.headers["content-disposition"]
        assert re.fullmatch(r'attachment; filename="[A-Za-z0-9._~-]+"', head), head


@pytest.mark.parametrize("who", ["device", "guest"])
def test_a_device_shows_what_it_is_and_can_be_forgotten(workbench: Open, who: str) -> None:
    bench = workbench(PICKUP, lan=True)
    phone = paired(bench, "A phone") if who == "device" else guest(bench)
    own = phone.get("/device")
    assert own.status_code == 200
    assert 'action="/leave"' in own.text
    assert ("look at everything and change nothing" in own.text) == (who == "guest")
    assert 'href="/device"' in phone.get(f"/b/{PICKUP}/").text
    answer = phone.post("/leave", data={"token": token_on(own.text)})
    assert answer.status_code == 200
    assert phone.get(f"/b/{PICKUP}/").status_code == 401
    assert all(each.revoked for each in bench.settings.devices.all())
    # The machine itself is no device, and is told so.
    assert bench.client.get("/device").status_code == 404
    assert 'href="/device"' not in bench.page(f"/b/{PICKUP}/")


def test_a_guest_link_is_offered_only_where_a_guest_can_come(workbench: Open) -> None:
    bench = workbench(PICKUP)
    page = bench.page("/devices")
    assert 'action="/devices/guest"' not in page
    assert "A link can be made once it is started with" in page
    status, page = bench.send("/devices/guest", name="the engineer")
    assert status == 422
    assert "--lan" in page
    assert not bench.settings.devices.all()


def test_a_page_of_the_guard_leads_back(workbench: Open) -> None:
    bench = workbench(PICKUP, lan=True)
    visitor = guest(bench)
    token = token_on(visitor.get("/look").text)
    came = f"{THERE}/b/{PICKUP}/in/donor?x=1"
    head = {"x-token": token, "referer": came}
    answer = visitor.post(f"/b/{PICKUP}/undo", headers=head)
    assert answer.status_code == 403
    assert f'<a class="button" href="/b/{PICKUP}/in/donor?x=1">Back</a>' in answer.text
    for elsewhere in ("http://elsewhere.example/x", f"{THERE}//elsewhere.example", "http://[", ""):
        answer = visitor.post(f"/b/{PICKUP}/undo", headers={**head, "referer": elsewhere})
        assert '<a class="button" href="/">Back</a>' in answer.text, elsewhere
