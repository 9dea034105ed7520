"""What kinds of socket bear for hours, by the published table."""

from __future__ import annotations

import difflib

from wattwright.kinds import CURRENT
from wattwright.tables import Row, load
from wattwright.units import read
from wattwright.values import Given, Lack, Origin, Value, given, lacking

_TABLE = "outlets"


def socket_current(kind: str, outlet: str) -> Value:
    """Find what a kind of socket bears for hours; typical, as sockets wear."""
    row = _row(kind)
    if row is None:
        return lacking(CURRENT, _unknown(kind, outlet))
    text = row.cells["continuous"]
    origin = Given(
        f"outlet.{outlet}.socket",
        f"current that {row.cells['socket']} bears for hours",
        Origin.TYPICAL,
        text,
        detail=str(row.source),
        how="look for brown plastic, loose grip, a plug that gets hot: such a socket bears less",
        minutes=5.0,
    )
    return given(CURRENT, read(text, CURRENT).number, origin)


def _row(kind: str) -> Row | None:
    known = {name.casefold(): row for name, row in load(_TABLE).rows.items()}
    return known.get(kind.strip().casefold())


def _unknown(kind: str, outlet: str) -> Lack:
    names = list(load(_TABLE).rows)
    near = difflib.get_close_matches(kind, names, n=1) if kind else []
    why = f"no table knows {kind!r}" if kind else "not given"
    hint = f"did you mean {near[0]}? " if near else ""
    how = f"{hint}socket = one of {', '.join(names)}; or socket_current as printed on it"
    path = f"outlet.{outlet}.socket_current"
    return Lack(path, f"outlet {outlet}: current the socket bears for hours", why, how, 3.0)
