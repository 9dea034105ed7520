"""How the server runs around the guard: small limits, short patience, a quick end."""

from __future__ import annotations

import asyncio
import signal
import socket
from types import FrameType
from typing import Any

import h11
import uvicorn
from uvicorn.protocols.http.h11_impl import H11Protocol

from wattwright.web.safety.guard import Guard

# How long the first lines of a request may take; a browser sends them at once.
HEAD_SECONDS = 10.0


class PatientProtocol(H11Protocol):
    """Closes a connection whose request does not get past its headers.

    The library waits for them without end, and counts such connections among those it serves.
    """

    _given_up: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait for the first request."""
        super().connection_made(transport)
        self._watch()

    def data_received(self, data: bytes) -> None:
        """Take what came, and wait on only while a request is incomplete."""
        super().data_received(data)
        self._watch()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait no longer."""
        self._stop_watching()
        super().connection_lost(exc)

    def _watch(self) -> None:
        if self.conn.their_state is not h11.IDLE:
            self._stop_watching()
        elif self._given_up is None:
            self._given_up = self.loop.call_later(HEAD_SECONDS, self._give_up)

    def _stop_watching(self) -> None:
        if self._given_up is not None:
            self._given_up.cancel()
            self._given_up = None

    def _give_up(self) -> None:
        self._given_up = None
        if self.conn.their_state is h11.IDLE:
            self.transport.close()


def options() -> dict[str, Any]:
    """Return what the server is told besides the application, the address and the port."""
    return {
        "http": PatientProtocol,
        "ws": "none",
        "loop": "asyncio",
        # Nobody stands between: an address that a header claims is never believed.
        "proxy_headers": False,
        "server_header": False,
        # Addresses in the log would hold codes and links.
        "access_log": False,
        "log_config": None,
        "h11_max_incomplete_event_size": 32_768,
        "limit_concurrency": 100,
        "backlog": 64,
        "timeout_keep_alive": 5,
        "timeout_graceful_shutdown": 1,
    }


class Server(uvicorn.Server):
    """Ends open event streams before it waits for the rest, so that stopping takes no time."""

    def __init__(self, guard: Guard, *, host: str, port: int) -> None:
        super().__init__(uvicorn.Config(guard, host=host, port=port, **options()))
        self._guard = guard

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Stop as asked; who asks again does not want to wait.

        The library would raise the signal once more at the end, as if something had gone wrong.
        """
        del frame
        self.force_exit = self.should_exit and sig == signal.SIGINT
        self.should_exit = True

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Stop serving."""
        self._guard.end_streams()
        await super().shutdown(sockets)
