"""The guard around the pages: it lets requests in, refuses them, and looks after the answers."""

from __future__ import annotations

import logging
import re
import secrets

from starlette.requests import ClientDisconnect
from starlette.types import ASGIApp, Receive, Scope, Send

from wattwright.web.safety.answer import Answer
from wattwright.web.safety.asked import check_host, check_origin, check_size, only
from wattwright.web.safety.body import Body
from wattwright.web.safety.codes import PairingError
from wattwright.web.safety.forms import PassingForm
from wattwright.web.safety.refusal import RefusedError, answer
from wattwright.web.safety.settings import Settings, under
from wattwright.web.safety.streams import Stream, Streams
from wattwright.web.safety.visit import Visit, check_role, check_token, identify

_LOG = logging.getLogger("wattwright.web")
_TOKEN = re.compile(r"[\w-]{32,}", re.ASCII)


class Guard:
    """An ASGI application around another."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self._app = app
        self._settings = settings
        self._streams = Streams(settings.limits.streams)

    def end_streams(self) -> None:
        """End all event streams; call it in the server's loop when the server is to stop."""
        self._streams.end()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request, whatever happens."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        out = Answer(send, scope["path"], self._settings)
        try:
            await self._serve(scope, receive, out)
            await out.finish()
        except ClientDisconnect:
            _LOG.debug("a browser went away")
        except Exception as error:
            await out.instead(*answer(_to_say(error, scope), scope, self._settings))

    async def _serve(self, scope: Scope, receive: Receive, out: Answer) -> None:
        """Check everything that is known before the pages are asked, then ask them."""
        limits, method, path = self._settings.limits, scope["method"], scope["path"]
        check_size(scope, limits)
        host = check_host(scope, self._settings)
        visit = identify(scope, host, self._settings)
        out.visit = visit
        check_origin(scope, host)
        check_role(visit, method, path)
        body = Body(
            receive,
            most=limits.body_for(path),
            silence=limits.silence,
            slowest=limits.slowest,
            form=PassingForm(only(scope, "content-type"), limits.fields_for(path)),
            ticks=self._settings.ticks,
        )
        try:
            body.announced(only(scope, "content-length"))
            check_token(visit, method, only(scope, "x-token") or await body.token())
            await self._ask(scope, body, out, visit)
        except Exception:
            if body.refusal is None:
                raise
        # Whatever the pages made of a body that broke off, this is why it did.
        if body.refusal:
            await body.let_finish()
            raise body.refusal

    async def _ask(self, scope: Scope, body: Body, out: Answer, visit: Visit) -> None:
        if not any(under(scope["path"], prefix) for prefix in self._settings.streams):
            await self._app(scope, body.receive, out.send)
            return
        stream = Stream(body.receive, out.send, visit.still_let_in)
        with self._streams.held(stream, visit.key):
            try:
                await self._app(scope, stream.receive, stream.send)
            except (OSError, ClientDisconnect):
                if not stream.ended.is_set():
                    raise
        if stream.ended.is_set():
            await out.end()


def _to_say(error: Exception, scope: Scope) -> RefusedError:
    """Return what the browser is told; of what nobody meant to happen, only a number."""
    if isinstance(error, RefusedError):
        return error
    if isinstance(error, PairingError):
        return RefusedError(403, str(error), wait=error.wait)
    number = f"{secrets.randbelow(10**8):08d}"
    asked = _TOKEN.sub("(token)", ascii(scope["path"]))
    _LOG.error("failure %s at %s %s", number, scope["method"], asked, exc_info=error)
    said = f"This is a fault of the program. The log of the server tells more at {number}."
    return RefusedError(500, said, number=number)


def guarded(app: ASGIApp, settings: Settings) -> Guard:
    """Put the guard around an application."""
    return Guard(app, settings)
