"""Posts as no page of ours sends them: wrong fields, wrong encodings, files where none belong."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote_from_bytes

from hypothesis import given
from hypothesis import strategies as st
from starlette.routing import BaseRoute, Mount, Route

from api_asked import bounded, kept_in_order
from wattwright.web.app import made
from wattwright.web.shelf import Shelf
from web_builders import Workbench

FIELDS = (
    *("path", "name", "text", "quantity", "origin", "detail", "was", "word", "back", "step"),
    *("number", "statement", "who", "about", "instrument", "date", "initials", "note", "caption"),
    *("digest", "why", "like", "look", "units", "code", "id", "choice", "file", "photo", "token"),
    *(
        "cell:part.charger.mass",
        "was:part.charger.mass",
        "cell:",
        "cell:..",
        "cell:donor.wheelbase",
    ),
    *("", "\0", "cell:part.a\0b.mass", "path[]"),
)
VALUES = (
    *("", " ", ".", "..", "../x", "part", "part.charger", "part.charger.mass", "donor.wheelbase"),
    *("build.name", "format", "origin", "part.motor.curve", "part.new.mass", "undo", "redo"),
    *("unknown", "none", "12 kg, measured", "2540 mm ± 3, measured, tape", "1", "2", "0", "-1"),
    *("9" * 400, "1e999", "²", "٣", "nan", "charger", "new_one", "example:orchard-pickup"),
    *(
        "build:orchard-pickup",
        "build:none",
        "example:../..",
        "auto",
        "metric",
        "/",
        "//evil",
        "/\\e",
    ),
    *("/b/orchard-pickup/?ripple=1#x", "/\r\nx: y", "javascript:1", "x" * 2_000, "\0", "\x1b[2J"),
    *("\u202eabc", "\ufeff", "\U0001f69c", "<script>alert(1)</script>", "'\"><b>", "{{ 7 * 7 }}"),
    *("[", '"""', "= 1", "a\r\nb", "2026-02-30", "=cmd()"),
)
FILES = (
    b"",
    b"name,mass\r\ncharger,8 kg\r\n",
    b"name\r\n" + b"\0\r\n" * 3,
    b"name,mass\n" + b'"' * 5_000,
    b"\xff\xfe\x00",
    b"<svg xmlns='http://www.w3.org/2000/svg'/>",
    b"\x89PNG\r\n\x1a\n" + b"\0" * 40,
    b"PK\x03\x04" + b"\0" * 40,
    b"speed (rpm), torque (N\xc2\xb7m)\n0, 220\n9000, 60\n",
    b"<?xml version='1.0'?><!DOCTYPE a [<!ENTITY b 'c'>]><gpx>&b;</gpx>",
)
FILE_NAMES = (
    *(
        "parts.csv",
        "",
        "../../x.csv",
        "a\0.csv",
        ".csv",
        "x" * 400 + ".gpx",
        "CON.csv",
        "photo.jpg",
    ),
    *("x.zip", "con\r\nx.csv", "\u202e.csv", "x.svg", '".csv'),
)
CHARSETS = (
    *("", "; charset=utf-8", "; charset=utf-16", "; charset=undefined", "; charset=idna"),
    *("; charset=unicode_escape", "; charset=zip", "; charset=\xff", "; charset=utf-7"),
)
BODIES = (b"", b"&&&===", b"token=%", b"{}", b"\xff" * 100, b"--x\r\n", b"--x--", b"a" * 5_000)
KINDS = (
    *("application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "text/plain", ""),
    *(
        "multipart/form-data",
        "application/json",
        "multipart/form-data; boundary=",
        "multipart/mixed",
    ),
)
BOUNDARY = "a-line-that-nobody-types"


@dataclass(frozen=True)
class Post:
    """A body with its kind; the token of the page goes into a header."""

    kind: str
    body: bytes


def post_routes(routes: list[BaseRoute], before: str = "") -> Iterator[str]:
    """Every address that takes a POST, from the route table of the application."""
    return _routes(routes, "POST", before)


def get_routes(routes: list[BaseRoute], before: str = "") -> Iterator[str]:
    """Every address that is read."""
    return _routes(routes, "GET", before)


def _routes(routes: list[BaseRoute], method: str, before: str) -> Iterator[str]:
    for route in routes:
        if isinstance(route, Mount):
            yield from _routes(route.routes, method, before + route.path)
        elif isinstance(route, Route) and method in (route.methods or ()):
            yield before + route.path


def filled_in(address: str, build: str, **more: str) -> str:
    """Put something that is there into the places of an address."""
    there = {
        "{build}": build,
        "{path}": "part",
        "{link}": "x" * 43,
        "{number}": "1",
        "{id}": "1",
        "{use}": "market_run",
        "{sheet}": "weigh_donor",
        "{line}": "fl",
        "{area}": "vehicle",
        "{which}": "fields",
        "{digest}": "x",
        "{address:path}": "vehicle.mass",
        "{name:path}": "side.svg",
        "{name}": "workbench.css",
    }
    for place, text in there.items():
        address = address.replace(place, more.get(place.strip("{}").partition(":")[0], text))
    assert "{" not in address, f"say in filled_in what stands in {address}"
    return address


_texts = st.one_of(st.sampled_from(VALUES), st.text(max_size=30))
_names = st.one_of(st.sampled_from(FIELDS), st.text(max_size=8))
_pairs = st.lists(st.tuples(_names, _texts), max_size=8)
_files = st.lists(
    st.tuples(
        st.sampled_from(("file", "photo", "path", "name", "text", "cell:part.charger.mass")),
        st.sampled_from(FILE_NAMES),
        st.sampled_from(FILES),
    ),
    max_size=2,
)


def _signs(text: str) -> bytes:
    return text.encode("utf-8", "surrogatepass")


def urlencoded(pairs: list[tuple[str, str]], charset: str) -> Post:
    body = "&".join(
        "=".join(quote_from_bytes(_signs(each)) for each in pair) for pair in pairs
    ).encode()
    return Post(f"application/x-www-form-urlencoded{charset}", body)


def _multipart(
    pairs: list[tuple[str, str]], files: list[tuple[str, str, bytes]], charset: str
) -> Post:
    parts = [(f'name="{_quoted(name)}"', _signs(text)) for name, text in pairs]
    parts += [
        (f'name="{_quoted(name)}"; filename="{_quoted(sent)}"', raw) for name, sent, raw in files
    ]
    body = b"".join(
        f"--{BOUNDARY}\r\nContent-Disposition: form-data; ".encode()
        + _signs(head)
        + b"\r\n\r\n"
        + raw
        + b"\r\n"
        for head, raw in parts
    )
    return Post(
        f"multipart/form-data; boundary={BOUNDARY}{charset}", body + f"--{BOUNDARY}--\r\n".encode()
    )


def _quoted(text: str) -> str:
    """As the HTML standard has browsers write names in a multipart form."""
    return text.replace("\n", "%0A").replace("\r", "%0D").replace('"', "%22")


POSTS: st.SearchStrategy[Post] = st.one_of(
    st.builds(urlencoded, _pairs, st.sampled_from(CHARSETS)),
    st.builds(_multipart, _pairs, _files, st.sampled_from(CHARSETS)),
    st.builds(
        Post,
        st.sampled_from(KINDS),
        st.one_of(st.sampled_from(BODIES), st.binary(max_size=60)),
    ),
)


def posted(bench: Workbench, to: str, post: Post, token: str) -> Any:
    """Send it, and see that the program did not fail over it and the builds are in order."""
    headers = {"x-token": token, "content-type": post.kind}
    answer = bench.client.post(
        to,
        content=post.body,
        headers={name: each.encode("latin-1") for name, each in headers.items()},
        follow_redirects=False,
    )
    assert answer.status_code < 500, (to, post, answer.text[:500])
    assert "Traceback" not in answer.text
    for name in bench.shelf.names:
        kept_in_order(bench, name)
    return answer


FORMS = sorted(each for each in post_routes(made(Shelf([])).routes) if not each.startswith("/api"))


def fuzzed(bench: Workbench, address: str, build: str, examples: int) -> None:
    """Post many things to one address, to the build and to its side copy."""
    token, side = bench.token(), f"{build}~try"

    @bounded(examples)
    @given(POSTS, st.sampled_from((build, side)), st.sampled_from(("part", "donor.removed", "x")))
    def send(post: Post, to: str, path: str) -> None:
        if to == side:
            bench.shelf.begin_try(build)
        posted(bench, filled_in(address, to, path=path), post, token)

    send()
