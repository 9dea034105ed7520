"""What a request that is not served is told, in plain words, as a page or as JSON."""

from __future__ import annotations

import math
from html import escape
from http import HTTPStatus
from urllib.parse import urlsplit

from pydantic import Field
from starlette.types import Message, Scope

from wattwright.errors import WattwrightError
from wattwright.output import Out
from wattwright.web.safety.settings import Settings


class RefusedError(WattwrightError):
    """A request is not served. Raised anywhere below the guard, it becomes a plain answer."""

    def __init__(self, status: int, message: str, *, wait: float = 0.0, number: str = "") -> None:
        super().__init__(message)
        self.status = status
        self.wait = wait
        self.number = number


class TroubleOut(Out):
    """Why nothing was done, as programs are told; the same from the guard and from the pages."""

    message: str
    problems: dict[str, str] = Field(
        default_factory=dict, description="by the path of a value, or by what was sent"
    )
    number: str = Field(default="", description="where the log of the server tells more")


def answer(refusal: RefusedError, scope: Scope, settings: Settings) -> tuple[Message, Message]:
    """Return the messages that tell the browser or program of a refusal."""
    if _wants_json(scope, settings):
        kind, body = "application/json", _as_json(refusal)
    else:
        kind, body = "text/html; charset=utf-8", _as_page(refusal, scope, settings)
    content = body.encode("utf-8")
    headers = [
        (b"content-type", kind.encode("ascii")),
        (b"content-length", str(len(content)).encode("ascii")),
    ]
    if refusal.wait:
        headers.append((b"retry-after", str(math.ceil(refusal.wait)).encode("ascii")))
    if refusal.status in (HTTPStatus.REQUEST_TIMEOUT, HTTPStatus.REQUEST_ENTITY_TOO_LARGE):
        # What is still under way is not read, so nothing else can come on this connection.
        headers.append((b"connection", b"close"))
    return (
        {"type": "http.response.start", "status": refusal.status, "headers": headers},
        {"type": "http.response.body", "body": b"" if scope["method"] == "HEAD" else content},
    )


def _wants_json(scope: Scope, settings: Settings) -> bool:
    if settings.under_api(scope["path"]):
        return True
    accepts = b",".join(value for name, value in scope["headers"] if name == b"accept")
    return b"application/json" in accepts and b"text/html" not in accepts


def _as_json(refusal: RefusedError) -> str:
    return TroubleOut(message=str(refusal), number=refusal.number).model_dump_json()


def _as_page(refusal: RefusedError, scope: Scope, settings: Settings) -> str:
    title = "Something went wrong here" if refusal.number else "Not possible this way"
    ways = f'<p><a class="button" href="{escape(_before(scope))}">Back</a></p>'
    if refusal.status == HTTPStatus.UNAUTHORIZED:
        title = "This device is not paired"
        # The cookie is not sent with a link followed from elsewhere, and is with one from here.
        again = escape(_own_address(scope))
        ways = (
            f'<p><a class="button" href="{again}">It is paired: open the page again</a></p>'
            f'<p><a class="button" href="{escape(settings.pairing)}">Pair this device</a></p>'
        )
    style = settings.stylesheet and f'<link rel="stylesheet" href="{escape(settings.stylesheet)}">'
    if settings.dark:
        where = 'media="(prefers-color-scheme: dark)"'
        style += f'<link rel="stylesheet" href="{escape(settings.dark)}" {where}>'
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{title}</title>{style}</head>"
        f"<body><main><h1>{title}</h1><p>{escape(str(refusal))}</p>{ways}</main></body></html>"
    )


def _before(scope: Scope) -> str:
    """Return the page of ours that the request came from, else the first one."""
    heads = {key: value.decode("latin-1") for key, value in scope["headers"]}
    try:
        came = urlsplit(heads.get(b"referer", ""))
    except ValueError:
        return "/"
    ours = came.netloc == heads.get(b"host", "") and came.path.startswith("/")
    if not ours or came.path.startswith("//"):
        return "/"
    return f"{came.path}?{came.query}" if came.query else came.path


def _own_address(scope: Scope) -> str:
    """Return path and query of the request as they came; never the address of another site."""
    path = scope.get("raw_path", b"").decode("latin-1") or "/"
    query = scope["query_string"].decode("latin-1")
    return f"{path}?{query}" if query else path
