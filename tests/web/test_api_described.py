"""The API against its own description, by schemathesis: what it allows and what it does not."""

from __future__ import annotations

import random
from collections.abc import Callable

import pytest

from api_asked import OPERATIONS, asked_of, kept_in_order
from wattwright.web.safety import TroubleOut
from web_builders import Workbench

PICKUP = "orchard-pickup"
Open = Callable[..., Workbench]


@pytest.mark.parametrize("name", OPERATIONS)
def test_every_answer_is_one_that_the_description_allows(workbench: Open, name: str) -> None:
    asked_of(workbench(PICKUP), name, PICKUP, 8)


ODD_TEXTS = (
    "",
    " ",
    "\0",
    "\u202e2540 mm",
    '2540 mm\r\n"""',
    "9" * 5_000,
    "1e9999 kg",
    "-1e308 mm",
    "nan kg",
    "inf",
    "2540 mm ± 1e400",
    "'" * 3 + "\\",
    "x" * 20_000,
    "\U0001f69c",
    "unknown",
    "none",
    "true",
    "1",
)
ODD_PATHS = (
    "donor.wheelbase",
    "build.name",
    "format",
    "origin",
    "donor.origin",
    "donor",
    "part",
    "part.motor.kind",
    "part.nobody.mass",
    "part..mass",
    ".",
    "..",
    "donor.",
    '.donor."wheelbase"',
    "part.a b.mass",
    "part.\0.mass",
    "part.__proto__.mass",
    f"part.{'x' * 300}.mass",
    "donor." * 60 + "x",
    "part.motor.curve",
    "use.market_run.route",
    "case.full.aboard",
)


def test_odd_edits_are_made_or_refused_in_words(workbench: Open) -> None:
    bench = workbench(PICKUP)
    dice = random.Random(3)
    desk, token = bench.shelf.desk(PICKUP), bench.token()
    made = 0
    for path in ODD_PATHS:
        for text in (None, *dice.sample(ODD_TEXTS, 3)):
            was = dice.choice([None, None, None, None, "", '"x"', "[[", "\0"])
            edit = {"path": path, "text": text, **({} if was is None else {"was": was})}
            before = desk.keeper.head()
            answer = bench.client.post(
                f"/api/builds/{PICKUP}/edits",
                json={"edits": [edit], "why": dice.choice(["", "\0\n\u202e"])},
                headers={"x-token": token},
            )
            assert answer.status_code in (200, 409, 422), (edit, answer.text[:500])
            if answer.status_code == 200:
                made += 1
                desk.restore(before.number, "the test")
            else:
                assert desk.keeper.head() == before
                said = TroubleOut.model_validate_json(answer.content)
                assert said.message, edit
                assert len(said.message) < 2_000, edit
            kept_in_order(bench, PICKUP)
    assert made > 2


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"null",
        b"[]",
        b"{",
        b"\xff\xfe{}",
        b"[" * 100_000,
        b'{"edits": ' * 5_000,
        b'{"edits": [{"path": "donor.wheelbase", "text": "\\ud800"}]}',
        b'{"edits": [{"path": "donor.wheelbase", "text": 1e999}]}',
        b'{"edits": [{"path": "donor.wheelbase", "text": ' + b"9" * 10_000 + b"}]}",
        b'{"edits": [{"path": "donor.wheelbase", "text": "1 m"}], "edits": []}',
        b'{"edits": [{"path": "donor.wheelbase", "text": "1 m", "more": 1}]}',
        b'{"edits": [{"path": "donor.wheelbase"}]}',
        b'{"edits": [' + b'{"path": "build.name", "text": "a"},' * 3_000 + b"0]}",
        b'{"edits": [' + b"1," * 3_000 + b"0]}",
    ],
    ids=lambda body: body[:40].decode("latin-1"),
)
def test_a_body_that_is_no_list_of_changes_is_refused_in_words(
    workbench: Open, body: bytes
) -> None:
    bench = workbench(PICKUP)
    answer = bench.client.post(
        f"/api/builds/{PICKUP}/edits",
        content=body,
        headers={"x-token": bench.token(), "content-type": "application/json"},
    )
    assert answer.status_code in (400, 422), answer.text[:300]
    said = TroubleOut.model_validate_json(answer.content)
    assert said.message
    assert len(answer.content) < 20_000
    assert bench.shelf.desk(PICKUP).view().revision.number == 1


def test_two_edits_of_one_value_are_refused(workbench: Open) -> None:
    bench = workbench(PICKUP)
    edits = [{"path": "build.name", "text": name} for name in ("one", "other")]
    answer = bench.client.post(
        f"/api/builds/{PICKUP}/edits", json={"edits": edits}, headers={"x-token": bench.token()}
    )
    assert answer.status_code == 422
    assert "two edits of the same value" in answer.json()["message"]


def test_other_methods_are_refused_and_those_that_are_taken_are_named(workbench: Open) -> None:
    """RFC 9110, 15.5.6: a 405 names the methods that are taken in Allow."""
    bench = workbench(PICKUP)
    token = {"x-token": bench.token()}
    for name in OPERATIONS:
        taken, path = name.split(" ")
        for method in {"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"} - {taken}:
            if (taken, method) == ("GET", "HEAD"):
                continue
            answer = bench.client.request(method, path.format(build=PICKUP), headers=token)
            assert answer.status_code == 405, (method, path)
            assert taken in answer.headers["allow"], (method, path)
            if method != "HEAD":
                assert TroubleOut.model_validate_json(answer.content).message
    assert bench.client.request("TRACE", "/api/builds").status_code == 405
    assert bench.shelf.desk(PICKUP).view().revision.number == 1


def test_guard_and_pages_refuse_in_one_form(workbench: Open) -> None:
    bench = workbench(PICKUP)
    token = {"x-token": bench.token()}
    for status, answer in (
        (400, bench.client.get("/api//builds")),
        (403, bench.client.post(f"/api/builds/{PICKUP}/undo")),
        (404, bench.client.get("/api/nowhere")),
        (404, bench.client.get("/api/builds/none/check")),
        (404, bench.client.post("/api/builds/none/undo", headers=token)),
        (404, bench.client.get(f"/api/builds/{PICKUP}/explain?address=none")),
        (421, bench.client.get("/api/builds", headers={"host": "elsewhere"})),
        (422, bench.client.get(f"/api/builds/{PICKUP}/check?units=furlongs")),
        (422, bench.client.post(f"/api/builds/{PICKUP}/redo", headers=token)),
    ):
        assert answer.status_code == status, answer.text
        assert answer.headers["content-type"] == "application/json"
        assert TroubleOut.model_validate_json(answer.content).message


def test_a_build_that_cannot_be_read_tells_programs_what_is_wrong_with_it(workbench: Open) -> None:
    bench = workbench(PICKUP)
    file = bench.folder / PICKUP / "build.toml"
    text = file.read_text(encoding="utf-8").replace('"100 1/4 in ±', '"100 1/4 kg ±')
    file.write_text(text, encoding="utf-8")
    answer = bench.client.get(f"/api/builds/{PICKUP}/check")
    assert answer.status_code == 422
    assert "donor.wheelbase" in answer.json()["problems"]
