"""``wattwright serve`` as it is started: its words, its end, two at once, killed at any time."""

from __future__ import annotations

import http.client
import re
import shutil
import signal
import socket
import sys
import threading
from pathlib import Path

import pytest

from edits_at_once import kept_by, left_by_a_killed_server
from serving import PATIENCE, free_port, program, serving
from wattwright.build.reader import open_build
from wattwright.journal.keeper import Keeper
from wattwright.journal.starting import start

BUILD = "bare-start"

pytestmark = [
    pytest.mark.skipif(sys.platform == "win32", reason="POSIX signals"),
    pytest.mark.xdist_group("serve"),
]


@pytest.fixture
def build(tmp_path: Path) -> Path:
    folder = tmp_path / "builds" / BUILD
    folder.parent.mkdir()
    start(folder, BUILD)
    return folder


def refused(state: Path, *words: str) -> str:
    process = program(state, "serve", *words)
    said, trouble = process.communicate(timeout=PATIENCE)
    assert process.returncode == 64, said + trouble
    assert "Traceback" not in trouble
    return trouble


def test_it_says_where_it_is_and_answers_there(build: Path, tmp_path: Path) -> None:
    port = free_port()
    with serving(tmp_path, str(build), "--port", str(port)) as served:
        assert served.at == f"http://127.0.0.1:{port}"
        answer = served.client.get("/", follow_redirects=True)
        assert answer.status_code == 200
        assert "Tonight" in answer.text
        assert served.edit(BUILD, "donor.description", "a pickup").status_code == 200
    assert 'description = "a pickup"' in (build / "build.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_it_stops_when_told_also_while_a_page_is_open(
    build: Path, tmp_path: Path, number: int
) -> None:
    with serving(tmp_path, str(build)) as served:
        with served.client.stream("GET", f"/b/{BUILD}/events") as stream:
            lines = stream.iter_lines()
            assert next(lines).startswith("retry:")
            code, said = served.stopped_by(number)
            # The page hears a proper end, not a connection that breaks off.
            assert any(line.startswith("data:") for line in lines)
        assert code == 0
        assert said == ""
    assert open_build(build).digest


def test_a_page_is_told_of_changes(build: Path, tmp_path: Path) -> None:
    with (
        serving(tmp_path, str(build)) as served,
        served.client.stream("GET", f"/b/{BUILD}/events") as stream,
    ):
        lines = (line for line in stream.iter_lines() if line.startswith("data:"))
        assert '"number": 1' in next(lines)
        assert served.edit(BUILD, "donor.description", "a pickup").status_code == 200
        assert '"number": 2' in next(lines)


def test_a_port_that_is_in_use_is_refused_in_words(build: Path, tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert f"port {port} cannot be used" in refused(tmp_path, str(build), "--port", str(port))
    for port in (-1, 65_536, 10**20):
        assert "port" in refused(tmp_path, str(build), "--port", str(port))


def test_a_folder_without_builds_is_served_and_takes_the_first_one(tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    with serving(tmp_path, str(empty)) as served:
        answer = served.client.get("/", follow_redirects=True)
        assert answer.status_code == 200
        assert "Make the first one" in answer.text
        told = {"name": "van", "like": ""}
        made = served.client.post(
            "/builds/new", data=told, headers=served.token, follow_redirects=True
        )
        assert made.status_code == 200
    assert (empty / "van" / "build.toml").is_file()


def test_a_folder_of_builds_is_served_whole_and_one_that_is_not_there_is_refused(
    build: Path, tmp_path: Path
) -> None:
    start(build.parent / "second", "orchard-pickup")
    with serving(tmp_path, str(build.parent)) as served:
        assert served.client.get("/api/builds").json() == {"builds": [BUILD, "second"]}
        answer = served.client.post(
            "/builds/new", data={"name": "third"}, headers=served.token, follow_redirects=True
        )
        assert answer.status_code == 200
        assert (build.parent / "third" / "build.toml").is_file()
    assert "there is no folder" in refused(tmp_path, str(tmp_path / "nowhere"))


def test_on_the_network_it_shows_a_code(build: Path, tmp_path: Path) -> None:
    with serving(tmp_path, str(build), "--lan") as served:
        assert served.client.get("/devices").status_code == 200
        assert served.process.stdout is not None
        lines = [served.process.stdout.readline() for _ in range(3)]
        assert "five minutes" in lines[0]
        assert re.search(r"/pair there and type [A-Z0-9]+, or see$", lines[1].strip())
        assert f"{served.at}/devices" in lines[2]
        # What it refuses looks like the rest of it, bright or dark.
        refused = served.client.get("/", headers={"sec-fetch-site": "cross-site"})
        assert refused.status_code == 403
        for style in re.findall(r'href="(/static/[^"]*)"', refused.text):
            assert served.client.get(style).status_code == 200
        assert re.search(r"workbench\.css.*dark\.css", refused.text)


def test_two_servers_on_one_build_keep_what_both_were_told(build: Path, tmp_path: Path) -> None:
    with serving(tmp_path, str(build)) as one, serving(tmp_path, str(build)) as other:
        servers, paths = (one, other), ("build.name", "donor.description")
        told: list[tuple[int, str, str]] = []

        def work(place: int) -> None:
            for number in range(20):
                text = f"words {number} of {place}"
                answer = servers[place].edit(BUILD, paths[place], text)
                assert answer.status_code in (200, 409, 422), answer.text
                if answer.status_code == 200:
                    told.append((answer.json()["revision"]["number"], paths[place], text))

        threads = [threading.Thread(target=work, args=(place,)) for place in (0, 1)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join(PATIENCE)
        assert len({path for _, path, _ in told}) == 2
        kept_by(build, told)


def test_six_who_edit_at_once_lose_nothing(build: Path, tmp_path: Path) -> None:
    """Three on fields of their own, three on one field: what was acknowledged is in the journal."""
    told: list[tuple[int, str, str]] = []
    statuses: list[int] = []
    own = ("build.name", "donor.wheelbase", "donor.front.track")
    together = threading.Barrier(6)

    with serving(tmp_path, str(build)) as served:

        def work(place: int) -> None:
            path = own[place] if place < 3 else "donor.description"
            was: str | None = None
            together.wait(PATIENCE)
            for number in range(12):
                text = f"{2000 + number} mm" if place < 3 else f"words {number} of {place}"
                answer = served.edit(BUILD, path, text, was)
                statuses.append(answer.status_code)
                if answer.status_code == 200:
                    told.append((answer.json()["revision"]["number"], path, text))
                    was = f'"{text}"'
                else:
                    # Each says what it saw last, so that those on one field meet one another.
                    was = answer.json()["problems"][path].removeprefix("there now: ")

        threads = [threading.Thread(target=work, args=(place,)) for place in range(6)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join(PATIENCE)
    assert len(statuses) == 6 * 12
    assert set(statuses) == {200, 409}
    assert {path for _, path, _ in told} == {*own, "donor.description"}
    kept_by(build, told)


def test_what_was_acknowledged_outlives_kills_of_the_server(build: Path, tmp_path: Path) -> None:
    left_by_a_killed_server(build, tmp_path, kills=8)


def test_a_client_that_breaks_off_hurts_nobody(build: Path, tmp_path: Path) -> None:
    with serving(tmp_path, str(build)) as served:
        host, port = served.at.removeprefix("http://").split(":")
        for sent in (
            b"",
            b"GET / HTTP/1.1\r\n",
            b"POST /b/x/set HTTP/1.1\r\nHost: " + f"{host}:{port}".encode() + b"\r\n\r\n",
            b"\x16\x03\x01" + b"\0" * 50,
            b"GET / HTTP/9.9\r\n\r\n",
        ):
            with socket.create_connection((host, int(port))) as raw:
                raw.sendall(sent)
        broken = http.client.HTTPConnection(host, int(port))
        broken.putrequest("POST", f"/b/{BUILD}/set")
        broken.putheader("Content-Length", "500000")
        broken.putheader("X-Token", served.token["x-token"])
        broken.putheader("Content-Type", "application/x-www-form-urlencoded")
        broken.endheaders()
        broken.send(b"path=donor.description&quantity=x")
        broken.close()
        assert served.client.get(f"/b/{BUILD}/").status_code == 200
    with Keeper(build) as keeper:
        assert keeper.head().number == 1


def test_a_build_whose_folder_goes_away_is_said_in_words(build: Path, tmp_path: Path) -> None:
    with serving(tmp_path, str(build)) as served:
        shutil.rmtree(build)
        answer = served.client.get(f"/b/{BUILD}/")
        assert answer.status_code in (404, 422, 503), answer.text
        assert "fault of the program" not in answer.text
        code, said = served.stopped_by(signal.SIGTERM)
        assert code == 0
        assert "Traceback" not in said
