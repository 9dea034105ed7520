"""The answer on its way out: the headers all have, and no failure shown in detail."""

from __future__ import annotations

from starlette.types import Message, Send

from wattwright.web.safety.settings import Settings, under
from wattwright.web.safety.visit import Visit

_FAILED = 500

# Referrer-Policy is not no-referrer: with that, browsers send "Origin: null" with our own forms,
# and where they come from could not be checked. Nothing goes to other sites either way.
_ALWAYS = {
    # Nothing inline: a style element, a style attribute and a script in a page do nothing.
    b"content-security-policy": (
        b"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; "
        b"connect-src 'self'; font-src 'self'; manifest-src 'self'; worker-src 'self'; "
        b"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    b"x-content-type-options": b"nosniff",
    b"referrer-policy": b"same-origin",
    b"cross-origin-opener-policy": b"same-origin",
    b"cross-origin-resource-policy": b"same-origin",
    b"permissions-policy": (
        b"camera=(self), accelerometer=(), display-capture=(), geolocation=(), "
        b"gyroscope=(), hid=(), microphone=(), midi=(), payment=(), serial=(), usb=()"
    ),
}


class Answer:
    """Passes an answer on with the headers that all have.

    An answer that reports a failure is held back until it is known whether an exception comes with
    it; if so, something plainer is said instead.
    """

    def __init__(self, send: Send, path: str, settings: Settings) -> None:
        self.started = False
        self.complete = False
        # Whose cookie may have to go with the answer, which is known only when it begins.
        self.visit: Visit | None = None
        self._send = send
        self._held: list[Message] = []
        self._cached = under(path, settings.static)

    async def send(self, message: Message) -> None:
        """Pass one message on, or hold it back."""
        if self._held or message.get("status") == _FAILED:
            self._held.append(message)
        else:
            await self._pass_on(message)

    async def finish(self) -> None:
        """Pass on what was held back: nothing was raised with it."""
        held, self._held = self._held, []
        for message in held:
            await self._pass_on(message)

    async def instead(self, *messages: Message) -> None:
        """Say something else than what was held back, if nothing was said yet."""
        self._held.clear()
        if not self.started:
            for message in messages:
                await self._pass_on(message)

    async def end(self) -> None:
        """End what was begun."""
        if self.started and not self.complete:
            await self._pass_on({"type": "http.response.body", "body": b""})

    async def _pass_on(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            message = {**message, "headers": self._headers(message.get("headers", ()))}
            self.started = True
        elif message["type"] == "http.response.body":
            self.complete = not message.get("more_body", False)
        await self._send(message)

    def _headers(self, given: list[tuple[bytes, bytes]]) -> list[tuple[bytes, bytes]]:
        set_here = {**_ALWAYS}
        if not self._cached:
            set_here[b"cache-control"] = b"no-store"
        elif not any(name.lower() == b"cache-control" for name, _ in given):
            set_here[b"cache-control"] = b"no-cache"
        kept = [(name, value) for name, value in given if name.lower() not in set_here]
        for name, value in kept:
            if any(sign in name + value for sign in (b"\r", b"\n", b"\0")):
                raise ValueError(f"a header of the answer holds a line break: {name!r}")
        if self.visit and self.visit.cookie:
            kept.append((b"set-cookie", self.visit.cookie.encode("ascii")))
        return [*kept, *set_here.items()]
