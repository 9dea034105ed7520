"""The file of paired devices."""

from __future__ import annotations

import base64
import hashlib
import json
import os
import stat
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small_server import Watch

from wattwright import system
from wattwright.web.safety import Devices, DevicesError, PairingError


@pytest.fixture
def watch() -> Watch:
    return Watch()


@pytest.fixture
def devices(tmp_path: Path, watch: Watch) -> Devices:
    return Devices(tmp_path / "state", clock=watch, ticks=watch)


def paired(devices: Devices, name: str = "phone") -> str:
    return devices.pair(devices.codes.offer().text, name, "10.0.0.1")


def again(devices: Devices, watch: Watch) -> Devices:
    """Open the same file as after a restart."""
    return Devices(devices.file.parent, clock=watch, ticks=watch)


def test_a_device_and_the_secret_survive_a_restart(devices: Devices, watch: Watch) -> None:
    token = paired(devices)
    later = again(devices, watch)
    assert later.role_of(token) == "full"
    assert later.all() == devices.all()
    assert later.secret == devices.secret
    assert [device.name for device in later.all()] == ["phone"]


def test_the_file_holds_no_token_and_is_for_this_user_alone(devices: Devices) -> None:
    token = paired(devices)
    text = devices.file.read_text()
    assert token not in text
    assert json.loads(text)["devices"][0]["digest"] == hashlib.sha256(token.encode()).hexdigest()
    if sys.platform != "win32":
        assert stat.S_IMODE(devices.file.stat().st_mode) == 0o600
        assert stat.S_IMODE(devices.file.parent.stat().st_mode) == 0o700


def test_a_token_has_256_random_bits(devices: Devices) -> None:
    tokens = {paired(devices), paired(devices)}
    assert len(tokens) == 2
    assert {len(base64.urlsafe_b64decode(token + "=")) for token in tokens} == {32}


def test_a_revoked_device_stays_out_and_on_the_list(devices: Devices, watch: Watch) -> None:
    token = paired(devices)
    devices.revoke(devices.all()[0].id)
    assert devices.role_of(token) is None
    assert again(devices, watch).role_of(token) is None
    assert str(devices.all()[0].revoked) == "2023-11-14"
    watch.after(days=91)
    paired(devices, "tablet")
    assert [device.name for device in devices.all()] == ["tablet"]


def test_two_servers_of_one_user_share_the_file(devices: Devices, watch: Watch) -> None:
    other = again(devices, watch)
    one, two = paired(devices), paired(other, "tablet")
    assert devices.role_of(two) == other.role_of(one) == "full"
    other.revoke(devices.all()[0].id)
    assert devices.role_of(one) is None


def test_the_day_of_the_last_visit_is_kept_and_no_more(devices: Devices, watch: Watch) -> None:
    paired(devices)
    watch.after(days=2)
    assert devices.mark_seen(devices.all()[0])
    assert not devices.mark_seen(devices.all()[0])
    assert json.loads(devices.file.read_text())["devices"][0]["seen"] == "2023-11-16"


def test_a_device_that_nobody_uses_has_to_pair_again(devices: Devices, watch: Watch) -> None:
    token = paired(devices)
    watch.after(days=89)
    assert devices.role_of(token) == "full"
    devices.mark_seen(devices.all()[0])
    watch.after(days=89)
    assert devices.role_of(token) == "full"
    watch.after(days=2)
    assert devices.role_of(token) is None


def test_a_guest_link_opens_once(devices: Devices) -> None:
    link = devices.invite("inspector", days=7)
    assert devices.role_of(link) is None
    token = devices.accept(link)
    assert (devices.role_of(token), devices.role_of(link)) == ("guest", None)
    with pytest.raises(PairingError, match="this link was used"):
        devices.accept(link)


def test_a_token_is_not_a_link(devices: Devices) -> None:
    for token in (paired(devices), devices.add("script", "full")):
        with pytest.raises(PairingError, match="this link was used"):
            devices.accept(token)
        assert devices.role_of(token) == "full"


def test_a_guest_is_let_in_until_the_day_given(devices: Devices, watch: Watch) -> None:
    waiting, token = devices.invite("late", 7), devices.accept(devices.invite("inspector", 7))
    watch.after(days=6.9)
    assert devices.role_of(token) == "guest"
    watch.after(days=0.1)
    assert devices.role_of(token) is None
    with pytest.raises(PairingError):
        devices.accept(waiting)


def test_a_waiting_link_can_be_withdrawn(devices: Devices) -> None:
    link = devices.invite("inspector", days=7)
    devices.revoke(devices.all()[0].id)
    with pytest.raises(PairingError):
        devices.accept(link)


def test_a_link_for_long_stays_on_the_list(devices: Devices, watch: Watch) -> None:
    link = devices.invite("inspector", days=200)
    watch.after(days=150)
    paired(devices)
    assert devices.role_of(devices.accept(link)) == "guest"


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"[]",
        b"\xff\xfe",
        b'{"format": 2, "secret": "", "devices": []}',
        b'{"format": 1, "secret": "abc", "devices": []}',
    ],
)
def test_a_damaged_file_is_kept_aside_and_a_new_list_begun(
    devices: Devices, watch: Watch, content: bytes
) -> None:
    token = paired(devices)
    for number in (1, 2):
        devices.file.write_bytes(content)
        later = again(devices, watch)
        assert later.role_of(token) is None
        assert f"kept as devices.damaged-{number}.json" in later.notice
        aside = devices.file.with_name(f"devices.damaged-{number}.json")
        assert aside.read_bytes() == content
        assert later.role_of(paired(later)) == "full"


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_a_file_with_any_part_missing_lets_nobody_else_in(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    watch = Watch()
    devices = Devices(tmp_path_factory.mktemp("state"), clock=watch, ticks=watch)
    token = paired(devices)
    whole = devices.file.read_bytes()
    start = data.draw(st.integers(0, len(whole)))
    end = data.draw(st.integers(start, len(whole)))
    devices.file.write_bytes(whole[:start] + whole[end:])
    later = again(devices, watch)
    assert later.role_of(token) in (None, "full")
    assert {device.role for device in later.all()} <= {"full"}
    assert later.role_of("") is None


def test_a_crash_while_writing_leaves_the_list_as_it_was(
    devices: Devices, monkeypatch: pytest.MonkeyPatch
) -> None:
    token = paired(devices)

    def fail(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises(DevicesError, match="No space left"):
        paired(devices, "tablet")
    assert devices.role_of(token) == "full"
    assert [path.name for path in devices.file.parent.iterdir()] == ["devices.json"]


def test_a_folder_that_cannot_be_written_is_said_and_stops_nothing(
    tmp_path: Path, watch: Watch
) -> None:
    (tmp_path / "state").write_text("a file where the folder should be")
    devices = Devices(tmp_path / "state", clock=watch, ticks=watch)
    assert "cannot be written" in devices.notice
    assert devices.secret == devices.secret
    with pytest.raises(DevicesError):
        paired(devices)


def test_a_file_that_cannot_be_read_lets_nobody_in_and_is_not_written_over(
    devices: Devices, watch: Watch, monkeypatch: pytest.MonkeyPatch
) -> None:
    token = paired(devices)
    before = devices.file.read_bytes()

    def fail(_: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    later = again(devices, watch)
    with monkeypatch.context() as patched:
        patched.setattr(Path, "read_bytes", fail)
        assert later.role_of(token) is None
        assert "cannot be read: Permission denied" in later.notice
        with pytest.raises(DevicesError, match="Permission denied"):
            paired(later)
    assert devices.file.read_bytes() == before
    assert later.role_of(token) == "full"


@pytest.mark.parametrize(
    ("given_name", "kept"),
    [
        ("  my   phone ", "my phone"),
        ("a\r\nset-cookie: b", "a? set-cookie: b"),
        ("\x1b[31mred\u202e", "?[31mred?"),
        ("", "no name given"),
        ("x" * 500, "x" * 60),
    ],
)
def test_names_are_kept_as_plain_words(devices: Devices, given_name: str, kept: str) -> None:
    paired(devices, given_name)
    assert devices.all()[0].name == kept


def test_the_folder_is_where_the_base_directory_specification_puts_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """XDG Base Directory Specification 0.8: absolute paths count, relative ones are ignored."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(Path, "home", lambda: Path("/houses/anyone"))
    monkeypatch.setenv("XDG_STATE_HOME", "/elsewhere")
    assert system.state_folder() == Path("/elsewhere/wattwright")
    for value in ("", "relative/place"):
        monkeypatch.setenv("XDG_STATE_HOME", value)
        assert system.state_folder() == Path("/houses/anyone/.local/state/wattwright")
    monkeypatch.setattr(sys, "platform", "darwin")
    assert "Application Support" in str(system.state_folder())
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setenv("LOCALAPPDATA", "/local")
    assert system.state_folder() == Path("/local/wattwright")
