"""``serve``: the workbench, on this machine or on the local network."""

from __future__ import annotations

import argparse
import asyncio
import errno
import socket
from pathlib import Path

from wattwright.build.reader import FILE
from wattwright.errors import UsageError
from wattwright.system import local_addresses
from wattwright.web.app import made
from wattwright.web.limits import LIMITS, STREAMS
from wattwright.web.safety import Devices, Settings, guarded, pairing_url
from wattwright.web.safety.serving import Server
from wattwright.web.shelf import Shelf
from wattwright.web.static_files import versioned

_LAST_PORT = 65_535
_BACKLOG = 64


def run(asked: argparse.Namespace) -> int:
    """Serve builds until stopped."""
    shelf = _shelf([Path(each) for each in asked.builds] or [Path()])
    host = "0.0.0.0" if asked.lan else "127.0.0.1"  # noqa: S104 - asked for
    listening = _listening(host, asked.port)
    port = listening.getsockname()[1]
    settings = Settings(
        devices=Devices(),
        port=port,
        lan=asked.lan,
        addresses=tuple(local_addresses()) if asked.lan else (),
        hostname=socket.gethostname().partition(".")[0] if asked.lan else "",
        streams=STREAMS,
        limits=LIMITS,
        stylesheet=versioned("workbench.css"),
        dark=versioned("dark.css"),
    )
    server = Server(guarded(made(shelf), settings), host=host, port=port)
    print(f"The workbench is at http://127.0.0.1:{port}/ (stop it with Ctrl+C)", flush=True)
    if settings.devices.notice:
        print(settings.devices.notice, flush=True)
    if asked.lan:
        code = settings.devices.codes.offer()
        address = pairing_url(settings, code.text)
        print("Other devices on this network pair with a code that is good for five minutes.")
        print(f"Open {address.partition('?')[0]} there and type {code.text}, or see", flush=True)
        print(f"http://127.0.0.1:{port}/devices for the square code and another one.", flush=True)
    asyncio.run(server.serve(sockets=[listening]))
    return 0


def _shelf(folders: list[Path]) -> Shelf:
    """Take builds as they are, and every build in a folder of builds, be there none yet."""
    found: list[Path] = []
    home: Path | None = None
    for folder in folders:
        if (folder / FILE).is_file():
            found.append(folder)
            continue
        if not folder.is_dir():
            raise UsageError(f"there is no folder {folder}")
        home = home or folder
        inside = sorted(
            each.parent for each in folder.glob(f"*/{FILE}") if each.parent.name[0] != "."
        )
        found += inside
    return Shelf(found, home)


def _listening(host: str, wanted: int) -> socket.socket:
    """Listen on the port wanted, or where none is wanted on the next one that nobody uses.

    It is held from here on: no other server can take the address that is told to the person.
    """
    if not 0 <= wanted <= _LAST_PORT:
        raise UsageError(f"{wanted} is no port; name one from 1 to {_LAST_PORT}")
    for port in [wanted] if wanted else range(8437, 8457):
        listening = socket.socket()
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((host, port))
            listening.listen(_BACKLOG)
        except OSError as error:
            listening.close()
            if wanted:
                raise UsageError(f"port {port} cannot be used: {error.strerror}") from None
            if error.errno != errno.EADDRINUSE:
                raise UsageError(f"{host} cannot be used: {error.strerror}") from None
            continue
        return listening
    raise UsageError("ports 8437 to 8456 are all in use; name another one with --port")
