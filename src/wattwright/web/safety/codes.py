"""The code that is shown at the machine to let one more device in, and patience with wrong tries.

A code of eight signs is one of 31 to the power of 8, about 2 to the power of 39.6. Five wrong tries
from anywhere end it, so that a guesser's chance against one code is below 1 in 10 to the power
of 11; the waits keep the log short and the person at the machine in charge.
"""

from __future__ import annotations

import hmac
import ipaddress
import secrets
import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, replace

from wattwright.errors import WattwrightError

# Without the signs that are taken for each other: 0 and O; 1, I and L.
ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
LENGTH = 8
VALID = 300.0
TRIES = 5

_LONGEST_WAIT = 300.0
# Everybody waits for what one guesser does, so this one stays short.
_LONGEST_WAIT_FOR_ALL = 8.0
_FORGOTTEN = 900.0
_ADDRESSES = 256


class PairingError(WattwrightError):
    """A device is not let in. ``wait`` says for how many seconds another try is pointless."""

    def __init__(self, message: str, *, wait: float = 0.0) -> None:
        super().__init__(message)
        self.wait = wait


class TooSoonError(PairingError):
    """The try was not looked at, right or wrong."""


@dataclass(frozen=True, slots=True)
class Wrong:
    """Wrong tries so far, and the time before which no other is looked at."""

    count: int = 0
    until: float = 0.0

    def once_more(self, now: float, first: float, longest: float) -> Wrong:
        """Return this with one more wrong try, and with it a wait twice as long."""
        count = 1 if now - self.until > _FORGOTTEN else self.count + 1
        # Beyond 30 doublings the longest wait has long been reached.
        return Wrong(count, now + min(first * 2.0 ** min(count - 1, 30), longest))


class Patience:
    """Waits that grow with every wrong try, for each address and, shorter, for all together.

    A fixed number of addresses is remembered; those that tried longest ago are forgotten first,
    and for a guesser with many addresses there is the wait for all.
    """

    def __init__(self, ticks: Callable[[], float]) -> None:
        self._ticks = ticks
        self._all = Wrong()
        self._each: OrderedDict[str, Wrong] = OrderedDict()

    def wait(self, address: str) -> float:
        """Return for how many seconds no try from an address is looked at."""
        mine = self._each.get(_neighbours(address), Wrong())
        return max(mine.until, self._all.until, now := self._ticks()) - now

    def wrong(self, address: str) -> None:
        """Remember a wrong try."""
        now, key = self._ticks(), _neighbours(address)
        self._all = self._all.once_more(now, 0.5, _LONGEST_WAIT_FOR_ALL)
        self._each[key] = self._each.pop(key, Wrong()).once_more(now, 1.0, _LONGEST_WAIT)
        if len(self._each) > _ADDRESSES:
            self._each.popitem(last=False)

    def right(self, address: str) -> None:
        """Forget the wrong tries from an address, and those of all."""
        self._each.pop(_neighbours(address), None)
        self._all = Wrong()


def _neighbours(address: str) -> str:
    """Return what tries are counted by: an address, or the network where one device has many."""
    try:
        read = ipaddress.ip_address(address)
    except ValueError:
        return ""
    return str(ipaddress.ip_network((read, 64), strict=False) if read.version == 6 else read)


@dataclass(frozen=True, slots=True)
class Code:
    """A code as shown at the machine, until when it is valid, and the wrong tries at it."""

    text: str
    until: float
    wrong: int = 0


class Codes:
    """At most one code at a time."""

    def __init__(
        self,
        ticks: Callable[[], float],
        choose: Callable[[str], str] = secrets.choice,
    ) -> None:
        self._ticks = ticks
        self._choose = choose
        self._code: Code | None = None
        self._patience = Patience(ticks)
        self._lock = threading.Lock()
        self.ended_by_tries = False

    def offer(self) -> Code:
        """Make a new code, which ends the one before, and return it."""
        text = "".join(self._choose(ALPHABET) for _ in range(LENGTH))
        with self._lock:
            self._code = Code(text, self._ticks() + VALID)
            self.ended_by_tries = False
            return self._code

    def shown(self) -> Code | None:
        """Return the code to show at the machine, if there is one now."""
        code = self._code
        return code if code and self._ticks() < code.until else None

    def withdraw(self) -> None:
        """End the code."""
        with self._lock:
            self._code = None

    def spend(self, typed: str, address: str) -> None:
        """Use the code up; raise PairingError if this is not it, or if it is too soon to say."""
        with self._lock:
            wait = self._patience.wait(address)
            if wait > 0:
                raise TooSoonError(
                    f"too many wrong codes: wait {wait:.0f} seconds and try again"
                    if wait >= 1
                    else "too many wrong codes: try again in a moment",
                    wait=wait,
                )
            code = self.shown()
            if code and hmac.compare_digest(_plain(typed), code.text.encode()):
                self._code = None
                self._patience.right(address)
                return
            self._patience.wrong(address)
            raise PairingError(self._count(code), wait=self._patience.wait(address))

    def _count(self, code: Code | None) -> str:
        """Count a wrong try, and return what to say about it."""
        if code is None:
            return "no code is valid now: ask for a new one at the machine"
        self._code = replace(code, wrong=code.wrong + 1)
        if self._code.wrong < TRIES:
            return "this is not the code: look at the machine and type it again"
        self._code = None
        self.ended_by_tries = True
        return f"{TRIES} wrong tries ended this code: ask for a new one at the machine"


def _plain(typed: str) -> bytes:
    """Return what was typed without the gaps that people put in, in capitals."""
    return "".join(typed[: 4 * LENGTH].split()).replace("-", "").upper().encode()
