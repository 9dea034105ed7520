"""Event streams: how many one device holds open, and ending them from this side."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from starlette.types import Message, Receive, Send

from wattwright.web.safety.refusal import RefusedError


class Stream:
    """One open stream, which ends when its device is revoked or the server stops."""

    def __init__(self, receive: Receive, send: Send, still_let_in: Callable[[], bool]) -> None:
        self.ended = asyncio.Event()
        self._receive = receive
        self._send = send
        self._still_let_in = still_let_in

    async def send(self, message: Message) -> None:
        """Send an event; to those further in, an ended stream looks like a lost connection."""
        if not self._still_let_in():
            self.ended.set()
        if self.ended.is_set():
            raise OSError("the stream was ended")
        await self._send(message)

    async def receive(self) -> Message:
        """Return the next message, or the end of the connection when the stream ends."""
        message = asyncio.ensure_future(self._receive())
        ended = asyncio.ensure_future(self.ended.wait())
        try:
            await asyncio.wait({message, ended}, return_when=asyncio.FIRST_COMPLETED)
            return {"type": "http.disconnect"} if ended.done() else message.result()
        finally:
            message.cancel()
            ended.cancel()


class Streams:
    """All open streams."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._open: dict[Stream, str] = {}

    @contextmanager
    def held(self, stream: Stream, device: str) -> Iterator[None]:
        """Count a stream while it is open; refuse one more than a device may have."""
        if sum(holder == device for holder in self._open.values()) >= self._most:
            raise RefusedError(
                429, f"{self._most} pages are open here on this device; close some", wait=5
            )
        self._open[stream] = device
        try:
            yield
        finally:
            del self._open[stream]

    def end(self) -> None:
        """End all streams, as the server is about to stop."""
        for stream in self._open:
            stream.ended.set()
