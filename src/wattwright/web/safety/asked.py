"""What must hold for any request, whoever sends it: its size, its host and where it comes from."""

from __future__ import annotations

from starlette.types import Scope

from wattwright.web.safety.refusal import RefusedError
from wattwright.web.safety.settings import Limits, Settings

READS = frozenset({"GET", "HEAD"})
# These change nothing; of any other method a token is demanded.
SAFE = READS | {"OPTIONS"}
_METHODS = SAFE | {"POST", "PUT", "PATCH", "DELETE"}


def only(scope: Scope, name: str) -> str:
    """Return a header that may come once; empty where it does not come."""
    wanted = name.encode("ascii")
    found = [value for key, value in scope["headers"] if key == wanted]
    if len(found) > 1:
        raise RefusedError(400, f"the header {name} came {len(found)} times; once is allowed")
    return found[0].decode("latin-1") if found else ""


def check_size(scope: Scope, limits: Limits) -> None:
    """Refuse a request whose first line or headers are too long or hold what they may not."""
    line = len(scope.get("raw_path", b"")) + len(scope["query_string"])
    if line > limits.url:
        raise RefusedError(414, f"the address has {line} characters; {limits.url} are allowed")
    if scope["method"] not in _METHODS:
        raise RefusedError(405, "this way of asking is not known here")
    if not _plain_path(scope["path"]):
        raise RefusedError(400, "the address is not one of a page here")
    headers = scope["headers"]
    size = sum(len(name) + len(value) + 4 for name, value in headers)
    if size > limits.headers or len(headers) > limits.header_lines:
        raise RefusedError(
            431, "the browser sent more headers than are taken; delete its cookies here"
        )
    if any(_breaks_line(name + value) for name, value in headers):
        raise RefusedError(400, "a header holds a line break")


def _plain_path(path: str) -> bool:
    """Tell whether the path says the same to everyone who reads it, here and further in."""
    if not path.startswith("/") or "\\" in path or not path.isprintable():
        return False
    return not {"", ".", ".."} & {*path.removesuffix("/").split("/")[1:]}


def _breaks_line(header: bytes) -> bool:
    return any(sign in header for sign in (b"\r", b"\n", b"\0"))


def check_host(scope: Scope, settings: Settings) -> str:
    """Return the Host header, after refusing one that is not a name of this server.

    A page from elsewhere can have its own name point here; its requests then come with that name.
    """
    host = only(scope, "host").lower()
    if not host:
        raise RefusedError(400, "the request does not say which host it is for")
    if host not in settings.hosts:
        raise RefusedError(
            421,
            "this address is not one of the workbench; open it by the address that is shown "
            "where it was started",
        )
    return host


def check_origin(scope: Scope, host: str) -> None:
    """Refuse what a page from elsewhere makes the browser ask, as far as the browser says so.

    Following a link from elsewhere is allowed; loading a picture, a script or a frame is not, and
    changing something is not.
    """
    site, origin = only(scope, "sec-fetch-site"), only(scope, "origin")
    if scope["method"] not in SAFE:
        ours = site in ("", "same-origin") and origin in ("", f"{scope['scheme']}://{host}")
    else:
        followed = (only(scope, "sec-fetch-mode"), only(scope, "sec-fetch-dest"))
        ours = site in ("", "same-origin", "none") or followed == ("navigate", "document")
    if not ours:
        raise RefusedError(
            403, "this was asked by a page of another site; open the workbench itself to do it"
        )
