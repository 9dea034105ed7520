"""Bodies of requests: how large, how fast, how many fields, and the token of a form."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from itertools import pairwise
from pathlib import Path
from types import MappingProxyType
from urllib.parse import parse_qsl, urlencode

import httpx2 as httpx
import pytest
from hypothesis import given
from hypothesis import strategies as st
from small_server import HERE, Bench, ask, token_at
from starlette.types import Message

from wattwright.web.safety import Limits, RefusedError
from wattwright.web.safety.body import Body
from wattwright.web.safety.forms import PassingForm

SMALL = Limits(
    body=1_000, bodies=MappingProxyType({"/photos": 2_000, "/photos/raw": 3_000}), form_fields=20
)


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path, limits=SMALL)


async def pieces(count: int, size: int = 100) -> AsyncIterator[bytes]:
    for _ in range(count):
        yield b"x" * size


def part(body: bytes, *, more: bool = True) -> Message:
    return {"type": "http.request", "body": body, "more_body": more}


def with_token(bench: Bench, *more: tuple[str, str]) -> list[tuple[str, str]]:
    return [("host", HERE), ("x-token", token_at(bench.host())), *more]


def test_a_body_is_counted_as_it_arrives(bench: Bench) -> None:
    host = bench.host()
    own = {"x-token": token_at(host)}
    answer = host.post("/upload", content=pieces(10), headers=own)
    assert "content-length" not in answer.request.headers
    assert (answer.status_code, answer.text) == (200, "1000")
    answer = host.post("/upload", content=pieces(11), headers=own)
    assert answer.status_code == 413
    assert "at most 1 kB" in answer.text
    assert answer.headers["connection"] == "close"
    assert bench.changes == [1000]


def test_each_place_has_its_own_limit(bench: Bench) -> None:
    host = bench.host()
    own = {"x-token": token_at(host)}
    assert host.post("/photos/new", content=pieces(20), headers=own).status_code == 200
    assert host.post("/photos/new", content=pieces(21), headers=own).status_code == 413
    assert SMALL.body_for("/photos/raw/7") == 3_000
    assert SMALL.body_for("/photosynthesis") == 1_000


def test_a_body_that_is_announced_too_large_is_refused_before_it_comes(bench: Bench) -> None:
    headers = {"x-token": token_at(bench.host()), "content-length": "1001"}
    assert bench.host().post("/upload", content=b"", headers=headers).status_code == 413
    assert bench.changes == []


@pytest.mark.parametrize("length", ["-1", "1e3", "²", "0x10", "10, 10"])
def test_a_length_that_is_no_number_is_refused(bench: Bench, length: str) -> None:
    headers = [("host", HERE), ("x-token", token_at(bench.host()))]
    headers.append(("content-length", length))
    status, _, _ = asyncio.run(ask(bench, method="POST", path="/upload", headers=headers))
    assert status == 400


def test_a_length_that_is_a_lie_changes_nothing(bench: Bench) -> None:
    headers = with_token(bench, ("content-length", "10"))
    big = [part(b"x" * 600), part(b"x" * 600, more=False)]
    status, _, _ = asyncio.run(ask(bench, *big, method="POST", path="/upload", headers=headers))
    assert status == 413


def test_pages_cannot_hide_that_a_body_broke_off(bench: Bench) -> None:
    answer = bench.host().post(
        "/stubborn", content=pieces(20), headers={"x-token": token_at(bench.host())}
    )
    assert answer.status_code == 413


def test_a_sender_of_a_little_too_much_comes_to_hear_it(bench: Bench) -> None:
    """A browser does not read an answer before it has sent everything."""

    def taken(size: int, length: dict[str, str]) -> int:
        count = 0

        async def counted() -> AsyncIterator[bytes]:
            nonlocal count
            for _ in range(100):
                count += 1
                yield b"x" * size

        own = {"x-token": token_at(bench.host()), **length}
        answer = bench.host().post("/upload", content=counted(), headers=own)
        assert answer.status_code == 413
        return count

    assert taken(100, {}) == 100
    assert taken(100, {"content-length": "10000"}) == 100
    assert taken(100_000, {}) < 50


def test_a_body_that_stops_coming_is_given_up(tmp_path: Path) -> None:
    bench = Bench(tmp_path, limits=Limits(silence=0.0))
    headers = [("host", HERE), ("x-token", token_at(Bench(tmp_path).host()))]
    status, given_back, said = asyncio.run(
        ask(bench, part(b"begin"), method="POST", path="/upload", headers=headers)
    )
    assert (status, given_back["connection"]) == (408, "close")
    assert "did not come" in said
    assert bench.changes == []


def test_a_body_that_trickles_is_given_up_at_once(bench: Bench) -> None:
    """One byte a second never is silent for long, and still holds a connection for days."""

    def arriving(speed: int) -> Body:
        async def receive() -> Message:
            bench.watch.after(1)
            return part(b"x" * speed)

        return Body(
            receive,
            most=100_000,
            silence=30,
            slowest=500,
            form=PassingForm("", 1),
            ticks=bench.watch,
        )

    async def read(body: Body) -> int:
        size = 0
        while size < 50_000:
            size += len((await body.receive())["body"])
        return size

    assert asyncio.run(read(arriving(500))) == 50_000
    began = bench.watch.now
    slow = arriving(499)
    with pytest.raises(RefusedError, match="too slowly"):
        asyncio.run(read(slow))
    asyncio.run(slow.let_finish())
    assert bench.watch.now == began + 31


def test_a_form_with_too_many_fields_is_refused(tmp_path: Path) -> None:
    bench = Bench(tmp_path, limits=Limits(form_fields=20))
    host = bench.host()
    token = token_at(host)
    few = {"token": token, **{f"f{n}": "" for n in range(19)}}
    many = {**few, "one_more": ""}
    assert host.post("/change", data=few).status_code == 200
    answer = host.post("/change", data=many)
    assert (answer.status_code, "more than 20 fields" in answer.text) == (413, True)
    assert host.post("/change", data=many, headers={"x-token": token}).status_code == 413
    parts = [(name, (None, value)) for name, value in few.items()]
    assert host.post("/change", files=parts).status_code == 200
    assert host.post("/change", files=[*parts, ("one_more", (None, ""))]).status_code == 413


def test_a_form_with_files_carries_its_token_at_the_head(tmp_path: Path) -> None:
    bench = Bench(tmp_path, limits=Limits(body=300_000))
    host = bench.host()
    token = token_at(host)
    file = ("photo", ("a.jpg", b"x" * 200_000))
    answer = host.post("/change", files=[("token", (None, token)), file])
    assert answer.status_code == 200
    assert bench.changes == [["photo", "token"]]
    answer = host.post("/change", files=[file, ("token", (None, token))])
    assert answer.status_code == 403


def test_a_file_is_not_taken_for_the_token(bench: Bench) -> None:
    host = bench.host()
    answer = host.post("/change", files=[("token", ("token", token_at(host).encode()))])
    assert answer.status_code == 403


def test_headers_of_a_part_come_in_any_order() -> None:
    head = b'Content-Type: text/plain\r\nContent-Disposition: form-data; name="token"'
    body = b"--x\r\n" + head + b"\r\n\r\nabc\r\n--x--\r\n"
    assert looked_at("multipart/form-data; boundary=x", body, []).token == "abc"


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("multipart/form-data", b"--x\r\n"),
        ("multipart/form-data; boundary=x", b"nothing of the kind"),
        ("multipart/form-data; boundary=x", b"--x\r\nbroken\x00header\r\n\r\n"),
    ],
)
def test_a_broken_form_is_refused(bench: Bench, kind: str, body: bytes) -> None:
    answer = bench.host().post("/change", content=body, headers={"content-type": kind})
    assert answer.status_code == 400


def test_other_kinds_of_body_need_the_header(bench: Bench) -> None:
    host = bench.host()
    for kind in ("application/json", "text/plain", ""):
        body = f"token={token_at(host)}".encode()
        answer = host.post("/change", content=body, headers={"content-type": kind})
        assert answer.status_code == 403, kind
    assert bench.changes == []


def looked_at(kind: str, body: bytes, cuts: list[int]) -> PassingForm:
    """Let a form pass in pieces."""
    form = PassingForm(kind, 1_000)
    ends = [0, *sorted(cut % (len(body) + 1) for cut in cuts), len(body)]
    for start, end in pairwise(ends):
        form.feed(body[start:end], last=False)
    form.feed(b"", last=True)
    return form


FIELDS = st.lists(
    st.tuples(st.one_of(st.just("token"), st.text(min_size=1, max_size=8)), st.text(max_size=16)),
    max_size=6,
)
CUTS = st.lists(st.integers(0, 1_000), max_size=6)


@given(FIELDS, CUTS)
def test_the_token_of_a_typed_form_is_what_the_standard_library_reads(
    fields: list[tuple[str, str]], cuts: list[int]
) -> None:
    body = urlencode(fields).encode()
    read = parse_qsl(body.decode(), keep_blank_values=True)
    first = next((value for name, value in read if name == "token"), None)
    kind = "application/x-www-form-urlencoded; charset=utf-8"
    assert looked_at(kind, body, cuts).token == first


@given(
    st.lists(
        st.tuples(
            st.one_of(st.just("token"), st.from_regex("[a-z]{1,8}", fullmatch=True)),
            st.from_regex("[0-9a-f]{0,64}", fullmatch=True),
        ),
        min_size=1,
        max_size=6,
    ),
    CUTS,
)
def test_the_token_of_a_form_in_parts_is_what_another_library_wrote(
    fields: list[tuple[str, str]], cuts: list[int]
) -> None:
    """The form is written by a library for the other end of the line."""
    request = httpx.Request("POST", "http://x", files=[(name, (None, v)) for name, v in fields])
    first = next((value for name, value in fields if name == "token"), None)
    assert looked_at(request.headers["content-type"], request.read(), cuts).token == first
