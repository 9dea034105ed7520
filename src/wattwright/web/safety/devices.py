"""The devices that were let in, remembered in one file of this user.

Of a token only the digest is kept. A token has one role for as long as it lives: a device whose
role changes pairs again and gets another token, so that none outlives the role it was made for.
"""

from __future__ import annotations

import hashlib
import logging
import secrets
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError

from wattwright.errors import WattwrightError, visible
from wattwright.system import BusyError, lock, state_folder, write_private
from wattwright.web.safety.codes import Codes, PairingError

# A device that nobody used for this long has to pair again; so long its cookie is kept, too.
UNUSED_DAYS = 90
FILE = "devices.json"

_LONGEST_NAME = 60
_LOG = logging.getLogger("wattwright.web")


class DevicesError(WattwrightError):
    """The devices cannot be remembered."""


class _Stored(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Device(_Stored):
    """One device, one program with a key, or one link for a guest that still waits to be opened."""

    id: str = Field(pattern="^[0-9a-f]{16}$")
    name: str = Field(max_length=_LONGEST_NAME)
    role: Literal["full", "guest"]
    digest: str = Field(pattern="^[0-9a-f]{64}$")
    created: date
    seen: date | None = None
    expires: AwareDatetime | None = None
    waiting: bool = False
    revoked: date | None = None
    # A key opens what programs ask, and no page: it is no cookie of a browser.
    program: bool = False

    def valid(self, now: datetime) -> bool:
        """Tell whether its token, or its link, still opens anything."""
        if self.revoked or (self.expires and now >= self.expires):
            return False
        return self.waiting or self.last_used > now.date() - timedelta(days=UNUSED_DAYS)

    def worth_keeping(self, today: date) -> bool:
        """Tell whether it still belongs on the list, where a revoked one stays for a while."""
        ends = self.expires and not self.revoked and self.expires.date()
        return max(self.last_used, ends or date.min) > today - timedelta(days=UNUSED_DAYS)

    @property
    def last_used(self) -> date:
        """The last day anything was heard of it."""
        return max(day for day in (self.created, self.seen, self.revoked) if day)


class _File(_Stored):
    format: Literal[1] = 1
    secret: str = Field(pattern="^[0-9a-f]{64}$")
    devices: tuple[Device, ...] = ()


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


class Devices:
    """The file of devices. Several servers of one user share it."""

    def __init__(
        self,
        folder: Path | None = None,
        *,
        clock: Callable[[], float] = time.time,
        ticks: Callable[[], float] = time.monotonic,
    ) -> None:
        self.file = (folder or state_folder()) / FILE
        self.codes = Codes(ticks)
        # What the person at the machine should be told about the file, if anything.
        self.notice = ""
        self._clock = clock
        self._lock = threading.RLock()
        self._read_from: tuple[int, int, int] | None = None
        self._held = _File(secret=secrets.token_hex(32))
        if not self.file.exists():
            try:
                self._change(lambda devices: devices)
            except (DevicesError, BusyError) as error:
                # The person at the machine can work; only other devices cannot be paired.
                self._say(str(error))

    @property
    def secret(self) -> bytes:
        """What form tokens are made with, the same after a restart."""
        return bytes.fromhex(self._now().secret)

    def all(self) -> tuple[Device, ...]:
        """Return all devices and waiting links, also revoked ones."""
        return self._now().devices

    def device_of(self, token: str) -> Device | None:
        """Return the device that holds a token, if it is still let in."""
        digest, now = _digest(token), self._time()
        for device in self.all():
            if device.digest == digest and not device.waiting and device.valid(now):
                return device
        return None

    def role_of(self, token: str) -> Literal["full", "guest"] | None:
        """Return what the holder of a token may do."""
        device = self.device_of(token)
        return device.role if device else None

    def pair(self, code: str, name: str, address: str = "") -> str:
        """Let a device in that shows the code, and return its token; else raise PairingError."""
        self.codes.spend(code, address)
        return self.add(name, "full")

    def add(self, name: str, role: Literal["full", "guest"]) -> str:
        """Let in what the person at the machine says; return its token."""
        return self._add(name, role)

    def add_program(self, name: str, role: Literal["full", "guest"]) -> str:
        """Make a key for a program, and return it."""
        return self._add(name, role, program=True)

    def invite(self, name: str, days: float) -> str:
        """Make a link for a guest, and return what stands in it; both end after some days."""
        ends = self._time() + timedelta(days=days)
        return self._add(name, "guest", expires=ends, waiting=True)

    def accept(self, link: str) -> str:
        """Open a guest's link, which works once, and return the token of the guest's device."""
        token, digest = secrets.token_urlsafe(32), _digest(link)

        def opened(devices: tuple[Device, ...]) -> tuple[Device, ...]:
            now = self._time()
            for device in devices:
                if device.digest == digest and device.waiting and device.valid(now):
                    change = {"digest": _digest(token), "waiting": False, "seen": now.date()}
                    return _updated(devices, device.id, change)
            raise PairingError("this link was used, has ended or was withdrawn: ask for a new one")

        self._change(opened)
        return token

    def revoke(self, device_id: str) -> None:
        """Let a device, or whoever opens a waiting link, in no longer."""
        today = self._time().date()
        self._change(lambda devices: _updated(devices, device_id, {"revoked": today}))

    def mark_seen(self, device: Device) -> bool:
        """Note that a device was used today; tell whether that is the first time today."""
        today = self._time().date()
        if device.seen == today:
            return False
        try:
            self._change(lambda devices: _updated(devices, device.id, {"seen": today}))
        except (DevicesError, BusyError) as error:
            # Nobody is kept out because a day could not be noted.
            _LOG.warning("%s", error)
        return True

    def _add(
        self,
        name: str,
        role: Literal["full", "guest"],
        *,
        expires: datetime | None = None,
        waiting: bool = False,
        program: bool = False,
    ) -> str:
        token = secrets.token_urlsafe(32)
        device = Device(
            id=secrets.token_hex(8),
            name=" ".join(visible(name).split())[:_LONGEST_NAME] or "no name given",
            role=role,
            digest=_digest(token),
            created=self._time().date(),
            expires=expires,
            waiting=waiting,
            program=program,
        )
        self._change(lambda devices: (*devices, device))
        return token

    def _time(self) -> datetime:
        return datetime.fromtimestamp(self._clock(), UTC)

    def _now(self, *, to_change: bool = False) -> _File:
        """Return the file as it stands, read again only when it was written since."""
        with self._lock:
            try:
                status = self.file.stat()
                stamp = (status.st_mtime_ns, status.st_size, status.st_ino)
                if stamp != self._read_from:
                    self._held = _File.model_validate_json(self.file.read_bytes())
                    self._read_from = stamp
            except FileNotFoundError:
                self._start_empty()
            except ValidationError:
                self._put_aside()
                self._start_empty()
            except OSError as error:
                # Nobody is let in by a file that cannot be read, and nothing is written over it.
                if to_change:
                    raise
                self._start_empty()
                self._say(f"{self.file}: cannot be read: {error.strerror}; no device is let in")
            return self._held

    def _start_empty(self) -> None:
        self._held = _File(secret=self._held.secret)
        self._read_from = None

    def _put_aside(self) -> None:
        """Keep a file that makes no sense under another name, and say so."""
        number = 1
        while (aside := self.file.with_name(f"devices.damaged-{number}.json")).exists():
            number += 1
        with suppress(OSError):
            self.file.replace(aside)
        self._say(
            f"{self.file}: the list of paired devices cannot be read; it is kept as {aside.name} "
            "and a new list is begun: pair the devices again"
        )

    def _say(self, notice: str) -> None:
        if notice != self.notice:
            self.notice = notice
            _LOG.warning("%s", notice)

    def _change(self, change: Callable[[tuple[Device, ...]], tuple[Device, ...]]) -> None:
        """Write the file with other devices, as nobody else writes it."""
        try:
            self.file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            with self._lock, lock(self.file.with_name(f".{FILE}.lock")):
                now, today = self._now(to_change=True), self._time().date()
                kept = tuple(
                    device for device in change(now.devices) if device.worth_keeping(today)
                )
                new = now.model_copy(update={"devices": kept})
                write_private(self.file, new.model_dump_json(indent=2).encode())
                self._now()
        except OSError as error:
            raise DevicesError(
                f"{self.file}: the paired devices cannot be written: {error.strerror or error}; "
                "see whether the folder can be written and the disk has room"
            ) from error


def _updated(
    devices: tuple[Device, ...], device_id: str, change: dict[str, object]
) -> tuple[Device, ...]:
    return tuple(
        device.model_copy(update=change) if device.id == device_id else device for device in devices
    )
