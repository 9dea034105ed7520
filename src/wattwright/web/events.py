"""Telling open pages that something changed, however it was changed."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from contextlib import suppress

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from wattwright.errors import WattwrightError
from wattwright.web.answers import desk_of, shelf_of
from wattwright.web.desk import Desk
from wattwright.web.shelf import Shelf

# A page that hears nothing for longer takes the connection for lost.
BEAT = 10.0
# How often the files of builds that are looked at are looked at.
GLANCE = 1.0


async def events(request: Request) -> Response:
    """Send the number of the revision now, and every new one."""
    desk = await run_in_threadpool(desk_of, request)
    started = shelf_of(request).started
    return StreamingResponse(
        _told(desk, started), media_type="text/event-stream", headers={"x-accel-buffering": "no"}
    )


async def _told(desk: Desk, started: str) -> AsyncIterator[str]:
    loop = asyncio.get_running_loop()
    numbers: asyncio.Queue[int] = asyncio.Queue(maxsize=64)

    def hand_over(number: int) -> None:
        with suppress(asyncio.QueueFull):
            numbers.put_nowait(number)

    def heard(number: int) -> None:
        # Changes are made on other threads; a loop that has ended has nobody to tell.
        with suppress(RuntimeError):
            loop.call_soon_threadsafe(hand_over, number)

    stop = desk.watch(heard)
    try:
        number = (await run_in_threadpool(desk.view)).revision.number
        desk.told = max(desk.told, number)
        yield "retry: 1000\n\n"
        yield _event(started, number)
        while True:
            try:
                number = await asyncio.wait_for(numbers.get(), BEAT)
            except TimeoutError:
                yield "event: beat\ndata: {}\n\n"
                continue
            yield _event(started, number)
    finally:
        stop()


def _event(started: str, number: int) -> str:
    return f"event: revision\ndata: {json.dumps({'started': started, 'number': number})}\n\n"


async def glance(shelf: Shelf) -> None:
    """Look for changes made by editors and other programs, as long as the server runs."""
    while True:
        await asyncio.sleep(GLANCE)
        for desk in shelf.open_desks:
            if not desk.watched:
                continue
            # A file that cannot be read just now is looked at again a second later.
            with suppress(WattwrightError, OSError):
                number = (await run_in_threadpool(desk.keeper.head)).number
                if number != desk.told:
                    desk.tell(number)
