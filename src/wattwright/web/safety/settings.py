"""What the guard around the pages has to be told, and the limits it holds."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from wattwright.web.safety.devices import Devices

HERE = ("127.0.0.1", "localhost", "[::1]")
_HTTP_PORT = 80


def under(path: str, prefix: str) -> bool:
    """Tell whether a path is a prefix or below it: ``/pair`` and ``/pair/x``, not ``/pairs``.

    In a prefix ``*`` stands for any one piece: below ``/b/*/photos`` lies ``/b/truck/photos/7``.
    """
    pieces, wanted = path.split("/"), prefix.rstrip("/").split("/")
    return len(pieces) >= len(wanted) and all(
        want in ("*", piece) for want, piece in zip(wanted, pieces, strict=False)
    )


def _of_longest(limits: Mapping[str, int], path: str, otherwise: int) -> int:
    fitting = [prefix for prefix in limits if under(path, prefix)]
    return limits[max(fitting, key=len)] if fitting else otherwise


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How much one request may be. Sizes are in bytes and times in seconds."""

    url: int = 4_096
    headers: int = 16_384
    header_lines: int = 80
    form_fields: int = 1_000
    body: int = 1_000_000
    # By the first part of the path, the longest that fits, in which * is any one piece; for all
    # others hold "form_fields" and "body".
    fields: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    bodies: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    # Longest silence within a body, and the rate a body may not fall below after that long.
    silence: float = 30.0
    slowest: float = 500.0
    streams: int = 8

    def body_for(self, path: str) -> int:
        """Return how large the body of a request to this path may be."""
        return _of_longest(self.bodies, path, self.body)

    def fields_for(self, path: str) -> int:
        """Return how many fields a form sent to this path may have."""
        return _of_longest(self.fields, path, self.form_fields)


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What is served where, and to whom.

    ``addresses`` are this machine's own, as given at the start; with ``hostname`` they count only
    when devices on the local network may come. What lies below ``pairing``, ``guests`` and
    ``static`` is open to devices that are not paired; ``leaving`` forgets a device;
    below ``streams`` are event streams.
    """

    devices: Devices
    port: int
    lan: bool = False
    addresses: tuple[str, ...] = ()
    hostname: str = ""
    pairing: str = "/pair"
    guests: str = "/guest"
    static: str = "/static"
    api: str = "/api"
    leaving: str = "/leave"
    streams: tuple[str, ...] = ("/events",)
    # Addresses of the style of a refusal, and of what it adds where a device likes it dark.
    stylesheet: str = ""
    dark: str = ""
    limits: Limits = field(default_factory=Limits)
    ticks: Callable[[], float] = time.monotonic

    @property
    def here(self) -> frozenset[str]:
        """Host headers that only a browser on this machine has reason to send."""
        return self._with_port(HERE)

    @property
    def hosts(self) -> frozenset[str]:
        """All Host headers that are answered."""
        if not self.lan:
            return self.here
        names = [f"[{address}]" if ":" in address else address for address in self.addresses]
        if self.hostname:
            names.append(f"{self.hostname.removesuffix('.local')}.local")
        return self.here | self._with_port(names)

    def _with_port(self, names: tuple[str, ...] | list[str]) -> frozenset[str]:
        full = {f"{name}:{self.port}".lower() for name in names}
        return frozenset(full | ({*names} if self.port == _HTTP_PORT else set()))

    def is_open(self, path: str) -> bool:
        """Tell whether a device that is not paired may ask for a path."""
        return any(under(path, prefix) for prefix in (self.pairing, self.guests, self.static))

    def under_api(self, path: str) -> bool:
        """Tell whether programs ask here rather than people."""
        return under(path, self.api)
