"""Each exit code, provoked."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

import wattwright
from wattwright.cli import check


def test_0_when_all_is_sound_and_nothing_is_provisional(run, whole):
    answer = run("check", whole)
    assert answer.code == 0
    assert answer.err == ""
    assert "marginal" not in answer.out
    assert "failing" not in answer.out
    assert "unknown" not in answer.out
    assert "provisional" not in answer.out


def test_1_when_something_is_marginal(run, make):
    # 457.5 kg stand on the rear axle with the driver; 480 kg leave less than a tenth.
    folder = make(limit=(REAR, REAR.replace("700 kg", "480 kg")))
    answer = run("check", folder)
    assert answer.code == 1
    assert "marginal" in answer.out
    assert "failing" not in answer.out


def test_1_when_something_is_failing_though_something_else_is_unknown(run, make):
    folder = make(
        limit=(REAR, REAR.replace("700 kg", "450 kg")), top=(TOP, 'top_speed = "unknown"')
    )
    answer = run("check", folder)
    assert answer.code == 1
    assert "failing" in answer.out
    assert "unknown" in answer.out


def test_2_when_the_build_cannot_be_read(run, make):
    folder = make(key=("wheelbase =", "wheelbse ="))
    answer = run("check", folder)
    assert answer.code == 2
    assert answer.out == ""


def test_2_when_there_is_no_build(run, tmp_path):
    answer = run("check", tmp_path / "nowhere")
    assert answer.code == 2
    assert "wattwright new" in answer.err


def test_3_when_only_an_unknown_is_left(run, make):
    answer = run("check", make(top=(TOP, 'top_speed = "unknown"')))
    assert answer.code == 3
    assert "provisional" not in answer.out


def test_3_when_only_something_provisional_is_left(run, make):
    answer = run("check", make(top=(TOP, 'top_speed = "60 km/h, assumed"')))
    assert answer.code == 3
    assert "sound, provisional" in answer.out
    assert "unknown" not in answer.out


def test_3_when_nobody_has_begun(run, tmp_path):
    (tmp_path / "build.toml").write_text('format = 1\n[build]\nname = "Nothing yet"\n')
    answer = run("check", tmp_path)
    assert answer.code == 3
    assert "donor.wheelbase" in answer.out


@pytest.mark.parametrize(
    "argv",
    [
        ["assess", "here"],
        ["check"],
        ["check", "--loudly", "here"],
        ["check", "--units", "furlongs", "here"],
        ["explain", "{cart}", "vehicle.nothing"],
        ["fields", "nothing"],
        ["new", "{tmp}/x", "--like", "nothing"],
        ["set", "{cart}", "donor.wheelbse=2 m"],
    ],
    ids=lambda argv: " ".join(argv),
)
def test_64_for_wrong_usage(run, cart, tmp_path, argv):
    answer = run(*(word.format(cart=cart, tmp=tmp_path) for word in argv))
    assert answer.code == 64
    assert answer.out == ""
    assert answer.err.startswith(("wattwright", "usage: wattwright"))
    assert "Traceback" not in answer.err


def test_70_for_a_fault_of_our_own(run, cart, monkeypatch, caplog):
    def break_down(asked):
        raise RuntimeError(f"a spanner in the works of {asked.command}")

    monkeypatch.setattr(check, "run", break_down)
    answer = run("check", cart)
    assert answer.code == 70
    assert answer.out == ""
    assert "a fault of this program" in caplog.text
    assert "a spanner in the works of check" in caplog.text


def test_70_is_logged_on_stderr_of_a_program_of_its_own(cart):
    script = (
        "import sys, wattwright.cli.check as check\n"
        "from wattwright.cli import main\n"
        "check.run = lambda asked: 1 / 0\n"
        "sys.exit(main(sys.argv[1:]))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, "check", str(cart)], capture_output=True, text=True
    )
    assert done.returncode == 70
    assert "a fault of this program" in done.stderr
    assert "ZeroDivisionError" in done.stderr
    assert done.stdout == ""


def test_help_and_version_are_no_errors(run):
    assert run("--help").code == 0
    version = run("--version")
    assert version.code == 0
    assert version.out == f"wattwright {wattwright.__version__}\n"


def test_python_can_run_the_package(whole):
    done = subprocess.run(
        [sys.executable, "-m", "wattwright", "check", str(whole)], capture_output=True, text=True
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("Yard cart\n")


@pytest.mark.parametrize("more", [[], ["--json"]], ids=["less than a buffer", "more than a pipe"])
def test_a_reader_that_goes_away_is_no_error(cart, more):
    reading, writing = os.pipe()
    os.close(reading)
    with open(writing, "wb") as nobody:
        done = subprocess.run(
            [sys.executable, "-m", "wattwright", "check", *more, str(cart)],
            stdout=nobody,
            stderr=subprocess.PIPE,
        )
    assert (done.returncode, done.stderr) == (0, b"")


REAR = """\
[donor.rear]
track = "1200 mm ± 2, measured, tape, 2026-03-01"
limit = "700 kg, datasheet, plate"
"""
TOP = 'top_speed = "60 km/h ± 0, datasheet, registration paper"'
