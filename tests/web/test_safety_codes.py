"""Codes for pairing: once, for five minutes, with five wrong tries and growing waits."""

from __future__ import annotations

import hmac
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from small_server import Watch

from wattwright.web.safety import Codes, PairingError, TooSoonError
from wattwright.web.safety.codes import ALPHABET, LENGTH, Patience


@pytest.fixture
def watch() -> Watch:
    return Watch()


@pytest.fixture
def codes(watch: Watch) -> Codes:
    return Codes(watch)


def wrong(codes: Codes, watch: Watch, address: str = "10.0.0.1") -> PairingError:
    """Try a wrong code as soon as one is looked at, and return what was said."""
    while True:
        try:
            codes.spend("22222222", address)
        except TooSoonError as soon:
            watch.after(soon.wait)
        except PairingError as error:
            return error


def test_a_code_has_about_forty_bits_and_no_signs_that_look_alike() -> None:
    assert LENGTH * math.log2(len(ALPHABET)) == pytest.approx(40, abs=0.5)
    assert len({*ALPHABET}) == len(ALPHABET)
    assert not {*ALPHABET} & {*"0O1IL"}


def test_a_code_works_once(codes: Codes) -> None:
    code = codes.offer().text
    codes.spend(code, "10.0.0.1")
    assert codes.shown() is None
    with pytest.raises(PairingError, match="no code is valid now"):
        codes.spend(code, "10.0.0.2")


@pytest.mark.parametrize("typed", ["{}", " {} ", "{}\n"])
def test_a_code_may_be_typed_in_groups_and_small_letters(codes: Codes, typed: str) -> None:
    code = codes.offer().text
    codes.spend(typed.format(f"{code[:4]}-{code[4:]}".lower()), "10.0.0.1")


def test_a_code_ends_after_five_minutes(codes: Codes, watch: Watch) -> None:
    code = codes.offer().text
    watch.after(299)
    assert codes.shown()
    watch.after(1)
    assert codes.shown() is None
    with pytest.raises(PairingError, match="no code is valid now"):
        codes.spend(code, "10.0.0.1")


def test_a_new_code_and_the_host_end_the_one_before(codes: Codes) -> None:
    first = codes.offer().text
    codes.offer()
    with pytest.raises(PairingError):
        codes.spend(first, "10.0.0.1")
    codes.withdraw()
    assert codes.shown() is None


def test_five_wrong_tries_from_anywhere_end_a_code(codes: Codes, watch: Watch) -> None:
    code = codes.offer().text
    said = [str(wrong(codes, watch, f"10.0.0.{n}")) for n in range(5)]
    assert all("this is not the code" in words for words in said[:4])
    assert "5 wrong tries ended this code" in said[4]
    assert codes.ended_by_tries
    assert codes.shown() is None
    watch.after(20)
    with pytest.raises(PairingError, match="no code is valid now"):
        codes.spend(code, "10.0.0.9")
    codes.offer()
    assert not codes.ended_by_tries


def test_four_wrong_tries_do_not(codes: Codes, watch: Watch) -> None:
    code = codes.offer().text
    for n in range(4):
        wrong(codes, watch, f"10.0.0.{n}")
    watch.after(20)
    codes.spend(code, "10.0.0.9")


def test_waits_grow_for_an_address_and_for_all(codes: Codes, watch: Watch) -> None:
    waits = [wrong(codes, watch).wait for _ in range(12)]
    assert waits == [min(2.0**n, 300.0) for n in range(12)]
    with pytest.raises(TooSoonError) as soon:
        codes.spend("22222222", "10.0.0.2")
    assert soon.value.wait == 8


def test_the_right_code_is_not_looked_at_too_soon(codes: Codes, watch: Watch) -> None:
    code = codes.offer().text
    wrong(codes, watch)
    with pytest.raises(TooSoonError):
        codes.spend(code, "10.0.0.1")
    assert codes.shown()
    watch.after(1)
    codes.spend(code, "10.0.0.1")


def test_tries_that_come_too_soon_do_not_make_the_wait_longer(codes: Codes, watch: Watch) -> None:
    wait = wrong(codes, watch).wait
    for _ in range(100):
        with pytest.raises(TooSoonError) as soon:
            codes.spend("22222222", "10.0.0.1")
        assert soon.value.wait == wait


def test_many_addresses_take_no_more_memory_and_still_wait(watch: Watch) -> None:
    patience = Patience(watch)
    for n in range(10_000):
        patience.wrong(f"10.{n // 250}.{n % 250}.1")
    assert len(patience._each) == 256
    assert patience.wait("10.200.0.1") == 8


def test_addresses_of_one_network_of_ipv6_count_as_one(watch: Watch) -> None:
    """A device chooses any of the 2^64 addresses of its network (RFC 4291, 2.5.1)."""
    patience = Patience(watch)
    for n in range(1, 7):
        patience.wrong(f"fd00::1:{n:x}")
    assert patience.wait("fd00::ffff") == 32
    assert patience.wait("fd00:0:0:1::1") == 8


def test_wrong_tries_are_forgotten_after_a_quiet_while(watch: Watch) -> None:
    patience = Patience(watch)
    for _ in range(6):
        patience.wrong("10.0.0.1")
    watch.after(1_000)
    patience.wrong("10.0.0.1")
    assert patience.wait("10.0.0.1") == 1


def test_codes_are_compared_in_constant_time(codes: Codes, monkeypatch: pytest.MonkeyPatch) -> None:
    compared: list[bytes] = []

    def compare(one: bytes, other: bytes) -> bool:
        compared.append(one)
        return one == other

    monkeypatch.setattr(hmac, "compare_digest", compare)
    code = codes.offer().text
    codes.spend(code, "10.0.0.1")
    assert compared == [code.encode()]


@given(st.text(max_size=100), st.text(max_size=20))
def test_nothing_else_that_is_typed_opens_or_breaks_anything(typed: str, address: str) -> None:
    codes = Codes(Watch(), choose=lambda signs: signs[-1])
    codes.offer()
    plain = "".join(typed.split()).replace("-", "").upper()
    try:
        codes.spend(typed, address)
        assert plain == "Z" * 8
    except PairingError:
        assert plain != "Z" * 8 or len(typed) > 32
