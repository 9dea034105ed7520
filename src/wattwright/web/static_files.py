"""Stylesheets and scripts of the pages, under addresses that change when one of them does."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.resources import files

from starlette.requests import Request
from starlette.responses import Response

from wattwright.errors import UsageError
from wattwright.paper.svg import page_style

KINDS = {
    "css": "text/css; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "svg": "image/svg+xml",
    "webmanifest": "application/manifest+json",
}
_FOREVER = {"cache-control": "public, max-age=31536000, immutable"}
_DRAWINGS = "drawings.css"


@cache
def _content(name: str) -> bytes:
    if name == _DRAWINGS:
        return page_style().encode()
    found = files("wattwright.web").joinpath("static", name)
    if "/" in name or "\\" in name or name.startswith(".") or not found.is_file():
        raise UsageError(f"there is no file {name!r}")
    return found.read_bytes()


@cache
def _digest() -> str:
    """Return one digest over all files: scripts name each other without one."""
    names = sorted(each.name for each in files("wattwright.web").joinpath("static").iterdir())
    whole = hashlib.sha256()
    for name in (*names, _DRAWINGS):
        whole.update(f"{name}\0{len(_content(name))}\0".encode())
        whole.update(_content(name))
    return whole.hexdigest()[:12]


def versioned(name: str) -> str:
    """Return the address of a file, with a digest of what is in all of them."""
    _content(name)
    return f"/static/{_digest()}/{name}"


def serve(request: Request) -> Response:
    """Answer with a file. An old digest gets the file as it is, not to be kept."""
    name = request.path_params["name"]
    content = _content(name)
    kept = request.path_params["digest"] == _digest()
    kind = KINDS.get(name.rpartition(".")[2], "application/octet-stream")
    return Response(content, media_type=kind, headers=_FOREVER if kept else None)
