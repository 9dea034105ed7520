"""The server around the guard, and which user of the machine is at the other end."""

from __future__ import annotations

import asyncio
import os
import socket
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from small_server import PORT, Bench
from uvicorn.server import ServerState

from wattwright import system
from wattwright.web.safety.serving import HEAD_SECONDS, PatientProtocol, Server, options


class Timer:
    def __init__(self, seconds: float, do: Callable[[], None]) -> None:
        self.seconds = seconds
        self.do = do
        self.cancelled = False

    def cancel(self) -> None:
        self.cancelled = True


class Loop:
    """Keeps what is to be done later, and does it when told to."""

    def __init__(self) -> None:
        self.timers: list[Timer] = []

    def call_later(self, seconds: float, do: Callable[[], None]) -> Timer:
        self.timers.append(Timer(seconds, do))
        return self.timers[-1]

    def create_task(self, work: Any) -> asyncio.Future[None]:
        work.close()
        return asyncio.get_running_loop().create_future()

    @property
    def waiting(self) -> list[Timer]:
        return [
            timer for timer in self.timers if not timer.cancelled and timer.seconds == HEAD_SECONDS
        ]


class Line:
    """The server's end of a connection."""

    def __init__(self) -> None:
        self.closed = False

    def get_extra_info(self, name: str) -> Any:
        return ("127.0.0.1", PORT) if name in ("peername", "sockname") else None

    def close(self) -> None:
        self.closed = True

    def is_closing(self) -> bool:
        return self.closed


def connected(bench: Bench) -> tuple[PatientProtocol, Loop, Line]:
    config = uvicorn.Config(bench.guard, **options())
    loop, line = Loop(), Line()
    protocol = PatientProtocol(config, ServerState(), {}, _loop=loop)  # type: ignore[arg-type]
    protocol.connection_made(line)  # type: ignore[arg-type]
    return protocol, loop, line


def test_a_request_that_does_not_get_past_its_headers_is_given_up(tmp_path: Path) -> None:
    async def scenario() -> None:
        protocol, loop, line = connected(Bench(tmp_path))
        for piece in (b"GET / HTTP/1.1\r\n", b"x-a: 1\r\n", b"x-b: 2\r\n"):
            protocol.data_received(piece)
        [timer] = loop.waiting
        timer.do()
        assert line.closed

    asyncio.run(scenario())


def test_a_request_that_came_is_not_given_up(tmp_path: Path) -> None:
    async def scenario() -> None:
        protocol, loop, line = connected(Bench(tmp_path))
        protocol.data_received(b"GET / HTTP/1.1\r\nhost: 127.0.0.1\r\n\r\n")
        assert loop.waiting == []
        assert not line.closed

    asyncio.run(scenario())


def test_a_lost_connection_is_not_waited_for(tmp_path: Path) -> None:
    async def scenario() -> None:
        protocol, loop, _ = connected(Bench(tmp_path))
        assert len(loop.waiting) == 1
        protocol.connection_lost(ConnectionResetError())
        assert loop.waiting == []

    asyncio.run(scenario())


def test_a_real_server_is_guarded_and_stops_with_a_stream_open(tmp_path: Path) -> None:
    """Over a real connection, where the parser of the protocol has its say too."""
    bench = Bench(tmp_path)

    async def said_to(port: int, *lines: str, until: bytes) -> tuple[bytes, asyncio.StreamReader]:
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        writer.write("\r\n".join((*lines, "", "")).encode())
        answer = await reader.readuntil(until)
        open_lines.append(writer)
        return answer, reader

    open_lines: list[asyncio.StreamWriter] = []

    async def scenario() -> None:
        bench.app.state.more = asyncio.Event()
        listening = socket.create_server(("127.0.0.1", 0))
        port = listening.getsockname()[1]
        server = Server(bench.guard, host="127.0.0.1", port=port)
        running = asyncio.create_task(server.serve(sockets=[listening]))
        ours = f"Host: 127.0.0.1:{PORT}"
        head = b"\r\n\r\n"
        wrong, _ = await said_to(port, "GET / HTTP/1.1", "Host: evil.example", until=head)
        assert wrong.startswith(b"HTTP/1.1 421 ")
        assert b"\r\nserver:" not in wrong.lower()
        twice, _ = await said_to(port, "GET / HTTP/1.1", ours, "Host: evil.example", until=head)
        assert twice.startswith(b"HTTP/1.1 400 ")
        _, stream = await said_to(port, "GET /events HTTP/1.1", ours, until=b"data: first\n\n\r\n")
        server.should_exit = True
        await running
        assert await stream.read() == b"0\r\n\r\n"
        for writer in open_lines:
            writer.close()

    asyncio.run(scenario())


TABLE = """\
  sl  local_address rem_address   st tx_queue rx_queue tr tm->when retrnsmt   uid  timeout inode
   0: {near}:20F5 00000000:0000 0A 00000000:00000000 00:00000000 00000000     0        0 11
   1: {near}:20F5 {near}:C351 01 00000000:00000000 00:00000000 00000000     0        0 12
   2: {near}:C351 {near}:20F5 01 00000000:00000000 00:00000000 00000000  1001        0 13
"""


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("127.0.0.1", ["7F000001"]),
        ("127.0.0.1", ["00000000", "00000000", "0000FFFF", "7F000001"]),
        ("::1", ["00000000", "00000000", "00000000", "00000001"]),
    ],
)
def test_the_user_at_the_other_end_is_read_as_proc_5_lists_it(
    address: str, words: list[str]
) -> None:
    swap = sys.byteorder == "little"
    near = "".join(bytes.fromhex(word)[:: -1 if swap else 1].hex().upper() for word in words)
    rows = TABLE.format(near=near).splitlines()
    assert system.owner_in(rows, (address, 0xC351), 0x20F5) == 1001
    assert system.owner_in(rows, (address, 0xC352), 0x20F5) is None


def test_the_system_knows_who_is_at_the_other_end(monkeypatch: pytest.MonkeyPatch) -> None:
    if sys.platform != "linux":
        assert system.let_in_by_system(("127.0.0.1", 1), 2)
        return
    with socket.create_server(("127.0.0.1", 0)) as server:
        port = server.getsockname()[1]
        with socket.create_connection(("127.0.0.1", port)) as client:
            peer = client.getsockname()
            with open("/proc/net/tcp", encoding="ascii") as rows:
                assert system.owner_in(rows, peer, port) == os.getuid()
            assert system.let_in_by_system(peer, port)
            monkeypatch.setattr(system, "owner_in", lambda *_: 4_000_000)
            assert not system.let_in_by_system(peer, port)
