"""The body of a request as it arrives: how much, how fast, and the token of a form in it."""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Callable
from contextlib import suppress

from starlette.types import Message, Receive

from wattwright.web.safety.forms import PassingForm
from wattwright.web.safety.refusal import RefusedError

_TOO_LARGE = 413
# The token stands at the head of a form; so much is held in memory while it is looked for.
_HEAD = 65_536
# A browser that is still sending does not read; so much more is taken to let it hear a refusal.
_PATIENTLY = 4_000_000


class Body:
    """Passes on what arrives, and counts it whatever the headers said."""

    def __init__(
        self,
        receive: Receive,
        *,
        most: int,
        silence: float,
        slowest: float,
        form: PassingForm,
        ticks: Callable[[], float],
    ) -> None:
        self.refusal: RefusedError | None = None
        self._receive = receive
        self._most = most
        self._silence = silence
        self._slowest = slowest
        self._form = form
        self._ticks = ticks
        self._ahead: deque[Message] = deque()
        self._size = 0
        self._waited = 0.0
        self._ended = False

    def announced(self, content_length: str) -> None:
        """Refuse at once what is announced to be too large."""
        if content_length and not (content_length.isascii() and content_length.isdigit()):
            raise RefusedError(400, "the request does not say in figures how long it is")
        if content_length and int(content_length) > self._most:
            self.refusal = self._too_large()
            raise self.refusal

    async def token(self) -> str | None:
        """Read ahead until the token of the form is found, and return it."""
        held = 0
        while self._form.may_hold_token and held <= _HEAD and not self._ended:
            message = await self._next()
            held += len(message.get("body", b""))
            self._ahead.append(message)
        return self._form.token

    async def receive(self) -> Message:
        """Return the next message for those further in."""
        return self._ahead.popleft() if self._ahead else await self._next()

    async def _next(self) -> Message:
        if self._ended:
            # From here on only the end of the connection is waited for, which may take its time.
            return await self._receive()
        try:
            message = await self._in_time()
            self._count(message)
        except RefusedError as refusal:
            self.refusal = refusal
            raise
        return message

    async def _in_time(self) -> Message:
        began = self._ticks()
        try:
            async with asyncio.timeout(self._silence):
                message = await self._receive()
        except TimeoutError:
            raise RefusedError(408, "the rest of the request did not come; try again") from None
        self._waited += self._ticks() - began
        return message

    def _count(self, message: Message) -> None:
        chunk = message.get("body", b"")
        self._ended = not message.get("more_body", False)
        self._size += len(chunk)
        if self._size > self._most:
            raise self._too_large()
        if self._waited > self._silence and self._size < self._slowest * self._waited:
            raise RefusedError(408, "the request comes too slowly; try again nearer to the machine")
        if message["type"] == "http.request":
            self._form.feed(chunk, last=self._ended)

    def _too_large(self) -> RefusedError:
        return RefusedError(
            _TOO_LARGE, f"this is too large: at most {_written(self._most)} are taken here"
        )

    async def let_finish(self) -> None:
        """Take a little more of a body that is too large, so that its sender comes to listen."""
        more = 0 if self.refusal and self.refusal.status == _TOO_LARGE else _PATIENTLY
        with suppress(TimeoutError):
            async with asyncio.timeout(self._silence):
                while not self._ended and more < _PATIENTLY:
                    message = await self._receive()
                    more += len(message.get("body", b""))
                    self._ended = not message.get("more_body", False)


def _written(size: int) -> str:
    for unit, name in ((10**9, "GB"), (10**6, "MB"), (10**3, "kB")):
        if size >= unit:
            return f"{size / unit:g} {name}"
    return f"{size} bytes"
