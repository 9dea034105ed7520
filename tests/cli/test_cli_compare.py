"""``compare``: only what is said differently."""

from __future__ import annotations


def test_a_build_compared_with_itself_is_silent(run, cart):
    answer = run("compare", cart, cart)
    assert answer.code == 0
    assert answer.out == "nothing that is shown has changed\n"


def test_turned_verdicts_come_first_and_say_before_and_after(run, make):
    old = make("old")
    new = make("new", mass=("120 kg ± 0.5", "1000 kg ± 0.5"))
    answer = run("compare", old, new)
    assert answer.code == 0
    turned, moved = answer.out.split("Numbers that moved\n")
    assert turned.startswith("Verdicts that turned\n")
    # The pack: 1000 kg * (1 - 500/2000) = 750 kg on the front axle, beside 400 - 90 = 310 kg.
    block = turned.split("vehicle.axle_load@front/kerb\n")[1].splitlines()[:2]
    assert block[0].strip().startswith("sound: 400.0 kg")
    assert block[1].strip().startswith("-> failing: 1060.0 kg")
    assert "vehicle.axle_load@front/kerb" not in moved
    assert "donor" not in moved


def test_noise_in_the_last_digit_is_silent(run, make):
    new = make("new", mass=("120 kg ± 0.5", "120.0000001 kg ± 0.5"))
    answer = run("compare", make("old"), new)
    assert answer.out == "nothing that is shown has changed\n"


def test_the_faulty_build_of_the_two_is_named(run, make, cart):
    new = make("new", key=("wheelbase =", "wheelbse ="))
    answer = run("compare", cart, new)
    assert answer.code == 2
    assert "donor.wheelbse" in answer.err
