"""``explain``: the working behind one line, and help with addresses."""

from __future__ import annotations


def test_the_working_shows_formula_numbers_result_and_source(run, cart):
    answer = run("explain", cart, "vehicle.axle_load@rear/driver")
    assert answer.code == 0
    assert answer.out.startswith("axle load, rear, driver: sound\n")
    # The pack: 120 kg, 500 mm behind the front axle, over a wheelbase of 2000 mm: 30 kg.
    assert "m_r = sum of mass · distance / wheelbase" in answer.out
    assert "= 120 kg · 500 mm / 2000 mm\n         = 30.00 kg ± " in answer.out
    assert "source: Static equilibrium of a rigid body, moments about an axle" in answer.out
    assert "at most 700 kg (the rule for this axle, otherwise the maker's plate)" in answer.out


def test_inputs_say_text_origin_and_line(run, cart):
    lines = (cart / "build.toml").read_text(encoding="utf-8").splitlines()
    line = 1 + next(at for at, text in enumerate(lines) if text.startswith("wheelbase"))
    said = run("explain", cart, "vehicle.axle_load@rear/driver").words
    assert f"donor.wheelbase = 2000 mm ± 2, measured, tape, 2026-03-01; line {line}" in said


def test_a_figure_is_explained_too(run, cart):
    answer = run("explain", cart, "vehicle.cg_x@kerb")
    assert answer.code == 0
    # 420 kg of 820 kg stand on the rear axle: 2000 mm * 420 / 820 = 1024.4 mm.
    assert "x_cg = wheelbase · rear / (front + rear)" in answer.out
    assert "1024.4 mm" in answer.out


def test_what_is_missing_is_said_with_how_to_get_it(run, make):
    folder = make(base=('"2000 mm ± 2, measured, tape, 2026-03-01"    # both', '"unknown"  # both'))
    answer = run("explain", folder, "vehicle.axle_load@rear/driver")
    assert answer.code == 0
    assert answer.out.startswith("axle load, rear, driver: unknown\n")
    assert "donor.wheelbase: unknown; tape from hub centre to hub centre" in answer.words


def test_units_are_the_reader_s(run, cart):
    said = run("explain", cart, "vehicle.axle_load@rear/driver", "--units", "inch").out
    # 700 kg are 1543.2 lb.
    assert "at most 1543 lb" in said
    assert " kg" not in said.partition("Inputs")[0]


def test_an_unknown_address_suggests_near_ones(run, cart):
    answer = run("explain", cart, "vehicle.axle_lod@rear/driver")
    assert answer.code == 64
    assert answer.out == ""
    assert "'vehicle.axle_lod@rear/driver'" in answer.err
    assert "vehicle.axle_load@rear/driver" in answer.err


def test_every_address_that_check_gives_can_be_explained(run, cart):
    said = run("check", "--json", cart).json
    addresses = [each["address"] for each in said["findings"] + said["figures"]]
    assert len(addresses) == len(set(addresses)) > 50
    for address in addresses[::7]:
        answer = run("explain", cart, address)
        assert answer.code == 0
        assert f"\n  {address}\n" in answer.out
