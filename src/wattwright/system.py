"""What differs between operating systems: locks, folders and files on disk, users, the console."""

from __future__ import annotations

import errno
import io
import ipaddress
import os
import socket
import sys
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from wattwright.errors import WattwrightError

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

_SHOWN = "±Ω²·"
_NOBODY = "someone"


class BusyError(WattwrightError):
    """Another program holds the lock."""


@contextmanager
def lock(path: Path, wait: float = 2.0) -> Iterator[None]:
    """Hold the lock file ``path``; raise BusyError if it is not free within ``wait`` seconds."""
    give_up = time.monotonic() + wait
    while (handle := _try_lock(path)) is None:
        if time.monotonic() >= give_up:
            raise BusyError(
                f"{path.parent}: another program is saving here just now; try again in a moment"
            )
        time.sleep(0.02)
    try:
        yield
    finally:
        if sys.platform != "win32":
            # Only the holder deletes the file, and _try_lock refuses a deleted one, so two
            # writers can never hold two files of the same name.
            path.unlink(missing_ok=True)
        os.close(handle)


def _try_lock(path: Path) -> int | None:
    handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        if sys.platform == "win32":
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if os.path.samestat(os.fstat(handle), os.stat(path)):
            return handle
    except (BlockingIOError, PermissionError, FileNotFoundError):
        pass
    except BaseException:
        os.close(handle)
        raise
    os.close(handle)
    return None


def sync_directory(path: Path) -> None:
    """Bring a rename in the folder to disk, where the system knows how to."""
    if sys.platform != "win32":
        handle = os.open(path, os.O_RDONLY)
        try:
            os.fsync(handle)
        except OSError as error:
            # Some network file systems do not sync folders; the file itself is on disk by then.
            if error.errno not in (errno.EINVAL, errno.ENOTSUP):
                raise
        finally:
            os.close(handle)


def login_name() -> str:
    """Name of the person at this computer, or a plain word where the system knows none."""
    import getpass

    try:
        return getpass.getuser().strip() or _NOBODY
    except (ImportError, KeyError, OSError):
        return _NOBODY


def local_addresses() -> list[str]:
    """Addresses of this machine on its networks, the one that others most likely reach first.

    Nothing is sent: a socket that is only pointed somewhere tells which address it would use.
    """
    found: dict[str, None] = {}
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as pointed:
        # An address of TEST-NET-1 (RFC 5737), which belongs to nobody.
        pointed.connect(("192.0.2.1", 9))
        found[pointed.getsockname()[0]] = None
    with suppress(OSError):
        for *_, address in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET):
            found[str(address[0])] = None
    return [each for each in found if not each.startswith("127.")]


def state_folder() -> Path:
    """Return the folder for what the program remembers on this machine, there or not."""
    chosen = Path(os.environ.get("XDG_STATE_HOME", ""))
    if chosen.is_absolute():
        return chosen / "wattwright"
    if sys.platform == "win32":
        local = os.environ.get("LOCALAPPDATA")
        return (Path(local) if local else Path.home() / "AppData" / "Local") / "wattwright"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "wattwright"
    return Path.home() / ".local" / "state" / "wattwright"


def write_private(path: Path, content: bytes) -> None:
    """Write a file whole or not at all, to be read by this user alone, in a folder made if need be.

    On Windows the folder of the user already keeps other users out.
    """
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    replace_whole(path, content, 0o600)


def replace_whole(target: Path, content: bytes, mode: int) -> None:
    """Write a file so that a crash at any moment leaves it there whole or as before."""
    temporary = target.with_name(f".{target.name}.{os.urandom(8).hex()}.tmp")
    try:
        handle = os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with open(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if temporary.read_bytes() != content:
            raise OSError(errno.EIO, "the disk gave back other bytes than were written")
        temporary.chmod(mode)
        temporary.replace(target)
    except BaseException:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)
        raise
    sync_directory(target.parent)


def let_in_by_system(peer: tuple[str, int], port: int) -> bool:
    """Tell whether a connection from inside this machine comes from this user or from root.

    Linux says who holds the far end of a connection to our ``port``. Where the system does not
    say, the answer is yes: then every user of the machine counts as the person at it.
    """
    if sys.platform != "linux":
        return True
    for table in ("/proc/net/tcp", "/proc/net/tcp6"):
        with suppress(OSError), open(table, encoding="ascii") as rows:
            owner = owner_in(rows, peer, port)
            if owner is not None:
                return owner in (0, os.getuid())
    return True


def owner_in(rows: Iterable[str], peer: tuple[str, int], port: int) -> int | None:
    """Return the user of the socket at ``peer`` that is connected to ``port``, by proc(5)."""
    ends = {f"{address}:{peer[1]:04X}" for address in _as_in_proc(peer[0])}
    for row in rows:
        fields = row.split()
        if len(fields) > 7 and fields[1] in ends and fields[2].endswith(f":{port:04X}"):
            return int(fields[7])
    return None


def _as_in_proc(address: str) -> Iterator[str]:
    """Write an address as Linux lists it: 32-bit words in the byte order of the machine."""
    packed = [ipaddress.ip_address(address).packed]
    if len(packed[0]) == 4:
        # A program can speak IPv4 through a socket made for IPv6.
        packed.append(bytes(10) + b"\xff\xff" + packed[0])
    for whole in packed:
        words = (whole[place : place + 4] for place in range(0, len(whole), 4))
        yield "".join(f"{int.from_bytes(word, sys.byteorder):08X}" for word in words)


def configure_console() -> None:
    """Show a question mark instead of failing where the console cannot show a sign."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            try:
                _SHOWN.encode(stream.encoding)
            except UnicodeEncodeError:
                stream.reconfigure(errors="replace")
